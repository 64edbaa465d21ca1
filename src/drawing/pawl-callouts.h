/*
 * Callouts: item numbers round a figure. Rules of ISO 6433 (from memory): numbers outside the outline, in rows and columns, all of one
 * height, leaders that cross neither each other nor more of the drawing than they must, ending in a dot inside the part's area.
 * Pure geometry: the same input gives the same places, in any unit.
 */
#pragma once

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

typedef struct {
  char      *number;    /* text to show */
  char      *region;    /* what it points at */
  PawlPoint  anchor;    /* the dot: inside the part's visible area */
  gboolean   is_hidden; /* nothing of the part can be seen: the leader is dashed, the anchor its middle */
  gboolean   is_strong; /* the part in hand: bold */
  double     width, height; /* of the text */
  /* set by pawl_callouts_place */
  PawlPoint  place;     /* middle of the text */
  PawlPoint  elbow;     /* where the leader leaves the text */
} PawlCallout;

typedef enum {
  PAWL_CALLOUTS_LEFT = 1 << 0,
  PAWL_CALLOUTS_RIGHT = 1 << 1,
  PAWL_CALLOUTS_TOP = 1 << 2,
  PAWL_CALLOUTS_BOTTOM = 1 << 3,
  PAWL_CALLOUTS_ALL = 0xf,
} PawlCalloutsSides;

typedef struct {
  GPtrArray *items;     /* (element-type PawlCallout) in the order given */
  PawlCalloutsSides sides; /* where numbers may stand: all, unless set before placing */
  double     cost;      /* as below */
  guint      n_crossings; /* pairs of leaders that cross */
} PawlCallouts;

PawlCallouts *pawl_callouts_new   (void);
void          pawl_callouts_free  (PawlCallouts *self);
/* @number and @region are copied; @width and @height of the number's text. Returns: (transfer none). */
PawlCallout  *pawl_callouts_add   (PawlCallouts *self, const char *number, const char *region, PawlPoint anchor, double width, double height);
/**
 * pawl_callouts_place:
 * @outline: what the numbers must stay out of: the box round all parts in view
 * @sheet: what they must stay inside of; wider than @outline by the room for a row or column on each side
 *
 * Puts each number in the row above or below or the column left or right of @outline, each as near its anchor as its neighbours let it.
 * Cost: sum of leader lengths, + 10 sheet diagonals for each crossing of two leaders. Sides are given by nearness under the room that each side
 * has; on a side numbers stand in the order of their anchors; then numbers are moved to another side, and pairs swapped, as long as the cost
 * falls. Two crossing leaders are shorter when swapped, so none are left in the end (but where leaders of numbers that share an anchor touch).
 * More numbers than all four sides have room for stand closer than they should: sized by the caller. Meant for up to 60.
 */
void          pawl_callouts_place (PawlCallouts *self, PawlBox outline, PawlBox sheet);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCallouts, pawl_callouts_free)

G_END_DECLS
