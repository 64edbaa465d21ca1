/* Poses: the strokes of a rule drawn right and wrong, in millimetres, for any pen. */
#pragma once

#include "fit/pawl-difference.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_STROKE_OUTLINE,   /* the part itself: continuous wide */
  PAWL_STROKE_DETAIL,    /* features on it: continuous narrow */
  PAWL_STROKE_GHOST,     /* the pose it must not have, or the one it should: long-dash double-dot narrow */
  PAWL_STROKE_NEIGHBOUR, /* what it fits into: continuous narrow, hatched when closed */
  PAWL_STROKE_AXIS,      /* long-dash dot narrow */
  PAWL_STROKE_HIDDEN,    /* dashed narrow */
  PAWL_STROKE_ARROW,     /* the datum direction: insertion, pressure, light */
  PAWL_STROKE_DIFFERENCE, /* the two ends of the dimension that tells: two points; a third one is the middle of the arc along which it is measured */
  PAWL_STROKE_DIMENSION, /* the same of a dimension that is as it should be */
  PAWL_STROKE_OPEN,      /* an area that light or fluid passes: plain paper */
  PAWL_STROKE_BLOCKED,   /* an area where it ought to pass and does not: filled */
  PAWL_STROKE_TRAVEL,    /* how far it moves: narrow, an arrowhead at its end */
  PAWL_STROKE_SWAP,      /* the two that have changed places: narrow, arrowheads at both ends */
  PAWL_STROKE_ROW,       /* a line of a list: one point, at what it speaks of; of which: the upper left corner of its row */
  PAWL_STROKE_SPOT,      /* a circle round what is to be looked at: narrow */
  PAWL_STROKE_NAME,      /* words at one point: on the part, where they fit */
} PawlStrokeKind;

/* What the number of a stroke is; it is written in the reader's unit, after the label if there is one. */
typedef enum {
  PAWL_SAYS_NOTHING,
  PAWL_SAYS_LENGTH, /* mm */
  PAWL_SAYS_ANGLE,  /* degrees; of a difference: beside its length */
  PAWL_SAYS_OPEN,   /* share that is open, 0..1 */
} PawlStrokeSays;

typedef struct {
  PawlStrokeKind kind;
  PawlPoint     *points; /* (array length=n_points): millimetres, x right, y down */
  guint          n_points;
  gboolean       is_closed;
  gboolean       is_filled; /* paper-filled, so that it covers what was drawn before */
  char          *label;     /* (nullable) */
  PawlStrokeSays says;
  double         value;
  int            verdict;   /* row: 1 right, -1 wrong, 0 not judged */
  guint          row;       /* which: the row it belongs to, 0 the first; rows may be moved apart to write between them */
} PawlStroke;

void       pawl_stroke_free    (PawlStroke *self);
/* (transfer full) (element-type PawlStroke), in drawing order. A wrong pose carries the right one as ghost. For EITHER both poses are right. */
GPtrArray *pawl_rule_draw_pose (const PawlRule *rule, gboolean is_wrong);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStroke, pawl_stroke_free)

G_END_DECLS
