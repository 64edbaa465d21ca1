/*
 * Labels: words round a small drawing. They stand outside its outline, in rows above and below and columns beside it, with straight leaders that
 * don't cross. Pure geometry: the same input gives the same places, in any unit.
 */
#pragma once

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

typedef struct {
  char      *text;
  PawlPoint  anchor;    /* what it points at */
  double     width, height; /* of the text */
  /* set by pawl_labels_place */
  PawlPoint  place;     /* middle of the text */
  PawlPoint  elbow;     /* where the leader leaves the text */
} PawlLabel;

typedef enum {
  PAWL_LABELS_LEFT = 1 << 0,
  PAWL_LABELS_RIGHT = 1 << 1,
  PAWL_LABELS_TOP = 1 << 2,
  PAWL_LABELS_BOTTOM = 1 << 3,
  PAWL_LABELS_ALL = 0xf,
} PawlLabelsSides;

typedef struct {
  GPtrArray *items;     /* (element-type PawlLabel) in the order given */
  PawlLabelsSides sides; /* where labels may stand: all, unless set before placing */
  double     cost;      /* as below */
  guint      n_crossings; /* pairs of leaders that cross */
} PawlLabels;

PawlLabels *pawl_labels_new   (void);
void        pawl_labels_free  (PawlLabels *self);
/* @text is copied; @width and @height are its size as drawn. Returns: (transfer none). */
PawlLabel  *pawl_labels_add   (PawlLabels *self, const char *text, PawlPoint anchor, double width, double height);
/**
 * pawl_labels_place:
 * @outline: what the labels must stay out of: the box round all parts in view
 * @sheet: what they must stay inside of; wider than @outline by the room for a row or column on each side
 *
 * Puts each label in the row above or below or the column left or right of @outline, each as near its anchor as its neighbours let it.
 * Cost: sum of leader lengths, + 10 sheet diagonals for each crossing of two leaders. Sides are given by nearness under the room that each side
 * has; on a side labels stand in the order of their anchors; then labels are moved to another side, and pairs swapped, as long as the cost
 * falls. Two crossing leaders are shorter when swapped, so none are left in the end (but where leaders of labels that share an anchor touch).
 * More labels than all four sides have room for stand closer than they should: sized by the caller. Meant for up to 60.
 */
void        pawl_labels_place (PawlLabels *self, PawlBox outline, PawlBox sheet);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLabels, pawl_labels_free)

G_END_DECLS
