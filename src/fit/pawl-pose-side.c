/* Poses of the kind side: the part on the one or the other side of a line, and of the pin that stands on it. */
#include "fit/pawl-pose-private.h"

#include <math.h>

static PawlPoint
reflect (PawlPoint p, PawlPoint on_line, double angle_deg)
{
  double angle = angle_deg * G_PI / 180;
  double dx = p.x - on_line.x, dy = p.y - on_line.y;
  double along = dx * cos (angle) + dy * sin (angle), across = -dx * sin (angle) + dy * cos (angle);

  return (PawlPoint) { on_line.x + along * cos (angle) + across * sin (angle), on_line.y + along * sin (angle) - across * cos (angle) };
}

static PawlPoint
get_foot (const PawlRule *rule)
{
  PawlPoint mirrored = reflect (rule->feature_point, rule->line_point, rule->line_angle);

  return (PawlPoint) { (rule->feature_point.x + mirrored.x) / 2, (rule->feature_point.y + mirrored.y) / 2 };
}

/* Distance of the feature from the line. */
static double
get_reach (const PawlRule *rule)
{
  PawlPoint foot = get_foot (rule);

  return hypot (rule->feature_point.x - foot.x, rule->feature_point.y - foot.y);
}

/* ---- the part ---- */

static void
trace_shape (PawlStroke *outline, const PawlRule *rule, gboolean is_reflected)
{
  const PawlShape *shape = rule->shape;

  for (int side = -1; side <= (shape->is_turned ? 1 : -1); side += 2)
    for (guint i = 0; i < shape->n_points; i++)
      {
        PawlPoint p = shape->points[side > 0 ? shape->n_points - 1 - i : i];

        p.y = side > 0 || !shape->is_turned ? p.y : -p.y;
        p = is_reflected ? reflect (p, rule->line_point, rule->line_angle) : p;
        pawl_stroke_line_to (outline, p.x, p.y);
      }
}

/* A plain lug round the feature, long along the line, for a part without an outline. */
static void
trace_lug (PawlStroke *outline, const PawlRule *rule, gboolean is_reflected)
{
  double angle = rule->line_angle * G_PI / 180, reach = get_reach (rule) / 2, half = 0.45 * reach, length = 0.9 * reach;
  PawlPoint at = is_reflected ? reflect (rule->feature_point, rule->line_point, rule->line_angle) : rule->feature_point;

  for (int end = -1; end <= 1; end += 2)
    for (int i = 0; i <= 8; i++)
      {
        double turn = angle + G_PI / 2 * (end < 0 ? 1 : -1) + i * G_PI / 8;

        pawl_stroke_line_to (outline, at.x + end * length * cos (angle) + half * cos (turn), at.y + end * length * sin (angle) + half * sin (turn));
      }
}

static void
draw_part (GPtrArray *pose, const PawlRule *rule, PawlStrokeKind kind, gboolean is_reflected)
{
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);

  if (rule->shape)
    trace_shape (outline, rule, is_reflected);
  else
    trace_lug (outline, rule, is_reflected);
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
}

/* ---- the line and its pin ---- */

/* From where to where the part reaches along the line, measured from line_point. */
static void
get_span (const PawlRule *rule, double *from, double *to)
{
  double angle = rule->line_angle * G_PI / 180, c = cos (angle), s = sin (angle);

  *from = *to = (rule->feature_point.x - rule->line_point.x) * c + (rule->feature_point.y - rule->line_point.y) * s;
  for (guint i = 0; rule->shape && i < rule->shape->n_points; i++)
    for (int side = -1; side <= (rule->shape->is_turned ? 1 : -1); side += 2)
      {
        double along = (rule->shape->points[i].x - rule->line_point.x) * c + (-side * rule->shape->points[i].y - rule->line_point.y) * s;

        *from = MIN (*from, along);
        *to = MAX (*to, along);
      }
}

static double
get_pin (const PawlRule *rule)
{
  return rule->pin > 0 ? rule->pin : rule->shape ? 0 : 0.34 * get_reach (rule);
}

/* The pin as the section that it is; and the side of the line where the part belongs, in both poses, as it holds for both. */
static void
draw_line (GPtrArray *pose, const PawlRule *rule)
{
  double angle = rule->line_angle * G_PI / 180, c = cos (angle), s = sin (angle), reach = get_reach (rule), pin = get_pin (rule), from, to, end;
  PawlPoint at = rule->line_point, foot = get_foot (rule), out;

  get_span (rule, &from, &to);
  from = MIN (from, -pin) - 0.25 * reach;
  to = MAX (to, pin) + 0.25 * reach;
  pawl_pose_line (pose, PAWL_STROKE_AXIS, at.x + from * c, at.y + from * s, at.x + to * c, at.y + to * s, NULL);
  if (pin > 0)
    pawl_pose_circle (pose, PAWL_STROKE_NEIGHBOUR, at.x, at.y, pin / 2, TRUE, rule->datum);
  if (rule->sweep != 0) /* how far it turns says it */
    return;
  /* Beyond the end of the part that lies farther out, clear of it. */
  end = fabs (to) >= fabs (from) ? to + 0.05 * reach : from - 0.05 * reach;
  out = (PawlPoint) { at.x + end * c, at.y + end * s };
  pawl_pose_line (pose, PAWL_STROKE_ARROW, out.x, out.y, out.x + 0.8 * (rule->feature_point.x - foot.x), out.y + 0.8 * (rule->feature_point.y - foot.y),
                  pin > 0 ? NULL : rule->datum);
}

/* ---- how far it can turn ---- */

static double
get_direction (PawlPoint from, PawlPoint to)
{
  return atan2 (from.y - to.y, to.x - from.x) * 180 / G_PI;
}

/* By how much the wrong part turns before it meets the pin, in the same direction as the right one, degrees. */
static double
get_blocked_sweep (const PawlRule *rule, PawlPoint feature, double radius)
{
  PawlPoint pin = rule->line_point;
  double distance = hypot (pin.x - rule->pivot.x, pin.y - rule->pivot.y);
  double between = get_direction (rule->pivot, pin) - get_direction (rule->pivot, feature), free;

  between = fmod (fmod (rule->sweep < 0 ? -between : between, 360) + 360, 360);
  free = between - asin (MIN (1, rule->pin / 2 / MAX (MAX (distance, radius), 1e-9))) * 180 / G_PI;
  return CLAMP (free, 0, fabs (rule->sweep));
}

static void
draw_travel (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  PawlPoint feature = is_wrong ? reflect (rule->feature_point, rule->line_point, rule->line_angle) : rule->feature_point;
  double radius = hypot (feature.x - rule->pivot.x, feature.y - rule->pivot.y), from = get_direction (rule->pivot, feature), sweep;
  PawlStroke *travel;

  if (rule->sweep == 0 || radius <= 0)
    return;
  sweep = is_wrong ? get_blocked_sweep (rule, feature, radius) : fabs (rule->sweep);
  travel = pawl_pose_begin (pose, PAWL_STROKE_TRAVEL, NULL);
  pawl_stroke_arc (travel, rule->pivot.x, rule->pivot.y, radius, from, from + copysign (sweep, rule->sweep));
  travel->says = PAWL_SAYS_ANGLE;
  travel->value = sweep;
  pawl_pose_cross (pose, rule->pivot, 0.3 * radius);
}

void
pawl_pose_side (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  PawlPoint feature = rule->feature_point, mirrored = reflect (feature, rule->line_point, rule->line_angle);

  draw_part (pose, rule, PAWL_STROKE_OUTLINE, is_wrong);
  if (is_wrong)
    draw_part (pose, rule, PAWL_STROKE_GHOST, FALSE);
  draw_line (pose, rule);
  draw_travel (pose, rule, is_wrong);
  if (is_wrong)
    pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, feature.x, feature.y, mirrored.x, mirrored.y, NULL);
}
