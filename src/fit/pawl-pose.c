#include "fit/pawl-pose-private.h"

#include <math.h>

#define ARC_STEP_DEG 5.0

void
pawl_stroke_free (PawlStroke *self)
{
  if (!self)
    return;
  g_free (self->points);
  g_free (self->label);
  g_free (self);
}

PawlStroke *
pawl_pose_begin (GPtrArray *pose, PawlStrokeKind kind, const char *label)
{
  PawlStroke *stroke = g_new0 (PawlStroke, 1);

  stroke->kind = kind;
  stroke->label = label && *label ? g_strdup (label) : NULL;
  g_ptr_array_add (pose, stroke);
  return stroke;
}

void
pawl_stroke_line_to (PawlStroke *stroke, double x, double y)
{
  stroke->points = g_renew (PawlPoint, stroke->points, stroke->n_points + 1);
  stroke->points[stroke->n_points++] = (PawlPoint) { x, y };
}

void
pawl_stroke_arc (PawlStroke *stroke, double x, double y, double radius, double from_deg, double to_deg)
{
  guint n = MAX (1, (guint) ceil (fabs (to_deg - from_deg) / ARC_STEP_DEG));

  for (guint i = 0; i <= n; i++)
    {
      double angle = (from_deg + (to_deg - from_deg) * i / n) * G_PI / 180;

      pawl_stroke_line_to (stroke, x + radius * cos (angle), y - radius * sin (angle));
    }
}

PawlStroke *
pawl_pose_line (GPtrArray *pose, PawlStrokeKind kind, double x0, double y0, double x1, double y1, const char *label)
{
  PawlStroke *stroke = pawl_pose_begin (pose, kind, label);

  pawl_stroke_line_to (stroke, x0, y0);
  pawl_stroke_line_to (stroke, x1, y1);
  return stroke;
}

PawlStroke *
pawl_pose_circle (GPtrArray *pose, PawlStrokeKind kind, double x, double y, double radius, gboolean is_filled, const char *label)
{
  PawlStroke *stroke = pawl_pose_begin (pose, kind, label);

  pawl_stroke_arc (stroke, x, y, radius, 0, 360 - ARC_STEP_DEG);
  stroke->is_closed = TRUE;
  stroke->is_filled = is_filled;
  return stroke;
}

PawlStroke *
pawl_pose_box (GPtrArray *pose, PawlStrokeKind kind, double x0, double y0, double x1, double y1, gboolean is_filled, const char *label)
{
  PawlStroke *stroke = pawl_pose_begin (pose, kind, label);

  pawl_stroke_line_to (stroke, x0, y0);
  pawl_stroke_line_to (stroke, x1, y0);
  pawl_stroke_line_to (stroke, x1, y1);
  pawl_stroke_line_to (stroke, x0, y1);
  stroke->is_closed = TRUE;
  stroke->is_filled = is_filled;
  return stroke;
}

void
pawl_pose_name (GPtrArray *pose, double x, double y, const char *name)
{
  pawl_stroke_line_to (pawl_pose_begin (pose, PAWL_STROKE_NAME, name), x, y);
}

void
pawl_pose_cross (GPtrArray *pose, PawlPoint at, double half)
{
  pawl_pose_line (pose, PAWL_STROKE_AXIS, at.x - half, at.y, at.x + half, at.y, NULL);
  pawl_pose_line (pose, PAWL_STROKE_AXIS, at.x, at.y - half, at.x, at.y + half, NULL);
}

GPtrArray *
pawl_rule_draw_pose (const PawlRule *rule, gboolean is_wrong)
{
  static void (* const draw[]) (GPtrArray *, const PawlRule *, gboolean) = {
    pawl_pose_sense, pawl_pose_side, pawl_pose_index, pawl_pose_spread, pawl_pose_which, pawl_pose_order, pawl_pose_mate, pawl_pose_either,
  };
  GPtrArray *pose = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_stroke_free);
  g_autofree char *missing = NULL;

  g_return_val_if_fail (rule != NULL && rule->kind < G_N_ELEMENTS (draw), pose);
  if (!(missing = pawl_rule_find_missing (rule)))
    draw[rule->kind] (pose, rule, is_wrong);
  return pose;
}
