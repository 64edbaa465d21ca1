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
  PAWL_STROKE_DIFFERENCE, /* the two ends of the dimension that tells: two points */
} PawlStrokeKind;

typedef struct {
  PawlStrokeKind kind;
  PawlPoint     *points; /* (array length=n_points): millimetres, x right, y down */
  guint          n_points;
  gboolean       is_closed;
  gboolean       is_filled; /* paper-filled, so that it covers what was drawn before */
  char          *label;     /* (nullable) */
} PawlStroke;

void       pawl_stroke_free    (PawlStroke *self);
/* (transfer full) (element-type PawlStroke), in drawing order. A wrong pose carries the right one as ghost. For EITHER both poses are right. */
GPtrArray *pawl_rule_draw_pose (const PawlRule *rule, gboolean is_wrong);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStroke, pawl_stroke_free)

G_END_DECLS
