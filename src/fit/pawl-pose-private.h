/* Shared by the files that draw poses: a pen for strokes, and one function per family of kinds. */
#pragma once

#include "fit/pawl-pose.h"
#include "fit/pawl-shape.h"

G_BEGIN_DECLS

/* Appends an empty stroke; @label (nullable) is copied. Returns: (transfer none). */
PawlStroke *pawl_pose_begin     (GPtrArray *pose, PawlStrokeKind kind, const char *label);
void        pawl_stroke_line_to (PawlStroke *stroke, double x, double y);
void        pawl_stroke_arc     (PawlStroke *stroke, double x, double y, double radius, double from_deg, double to_deg); /* as seen: counter-clockwise when @to_deg is the larger */
PawlStroke *pawl_pose_line      (GPtrArray *pose, PawlStrokeKind kind, double x0, double y0, double x1, double y1, const char *label);
PawlStroke *pawl_pose_circle    (GPtrArray *pose, PawlStrokeKind kind, double x, double y, double radius, gboolean is_filled, const char *label);
PawlStroke *pawl_pose_box       (GPtrArray *pose, PawlStrokeKind kind, double x0, double y0, double x1, double y1, gboolean is_filled, const char *label);
/* Words at a point. */
void        pawl_pose_name      (GPtrArray *pose, double x, double y, const char *name);
/* Two short axes that cross: what something turns about. */
void        pawl_pose_cross     (GPtrArray *pose, PawlPoint at, double half);

/* A part where it is: with its details and features (OUTLINE), or as an empty ghost (GHOST). */
void        pawl_pose_shape     (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind, gboolean as_section);
/* Where a feature of a shape is drawn. */
PawlPoint   pawl_pose_place     (const PawlShape *shape, PawlPoint feature, gboolean as_section);
/* Walls of the bore that a turned part goes into, as if it were in right; a channel of @channel mm is left open at @channel_x (0: none). */
void        pawl_pose_walls     (GPtrArray *pose, const PawlShape *shape, double channel_x, double channel, double extra);

void        pawl_pose_sense     (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_side      (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_index     (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_spread    (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_which     (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_order     (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_mate      (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);
void        pawl_pose_either    (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong);

G_END_DECLS
