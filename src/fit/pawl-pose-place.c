/* Poses of one part at a place: side of a line, and index by hole, angle or depth. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* ---- side ---- */

static PawlPoint
reflect (PawlPoint p, PawlPoint on_line, double angle_deg)
{
  double angle = angle_deg * G_PI / 180;
  double dx = p.x - on_line.x, dy = p.y - on_line.y;
  double along = dx * cos (angle) + dy * sin (angle), across = -dx * sin (angle) + dy * cos (angle);

  return (PawlPoint) { on_line.x + along * cos (angle) + across * sin (angle), on_line.y + along * sin (angle) - across * cos (angle) };
}

/* The part, or where it has no outline a plain lug round the feature, long along the line. */
static void
draw_side_part (GPtrArray *pose, const PawlRule *rule, PawlStrokeKind kind, gboolean is_reflected)
{
  PawlPoint feature = rule->feature_point;
  PawlPoint foot = reflect (feature, rule->line_point, rule->line_angle);
  double reach = hypot (feature.x - foot.x, feature.y - foot.y) / 2;
  double angle = rule->line_angle * G_PI / 180, half = 0.28 * reach, length = 0.75 * reach;
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);

  if (rule->shape)
    for (int side = -1; side <= (rule->shape->is_turned ? 1 : -1); side += 2)
      for (guint i = 0; i < rule->shape->n_points; i++)
        {
          PawlPoint p = rule->shape->points[side > 0 ? rule->shape->n_points - 1 - i : i];

          p.y = side > 0 || !rule->shape->is_turned ? p.y : -p.y;
          p = is_reflected ? reflect (p, rule->line_point, rule->line_angle) : p;
          pawl_stroke_line_to (outline, p.x, p.y);
        }
  else
    {
      PawlPoint at = is_reflected ? foot : feature;

      for (int end = -1; end <= 1; end += 2)
        for (int i = 0; i <= 8; i++)
          {
            double turn = angle + G_PI / 2 * (end < 0 ? 1 : -1) + i * G_PI / 8;

            pawl_stroke_line_to (outline, at.x + end * length * cos (angle) + half * cos (turn), at.y + end * length * sin (angle) + half * sin (turn));
          }
    }
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
}

/* How far the part reaches along the line from its point, to the side where the line's angle points (y down). */
static double
get_reach_along (const PawlRule *rule)
{
  double angle = rule->line_angle * G_PI / 180;
  double reach = (rule->feature_point.x - rule->line_point.x) * cos (angle) + (rule->feature_point.y - rule->line_point.y) * sin (angle);

  for (guint i = 0; rule->shape && i < rule->shape->n_points; i++)
    {
      double dx = rule->shape->points[i].x - rule->line_point.x, y = rule->shape->points[i].y;
      double along = dx * cos (angle) + (y - rule->line_point.y) * sin (angle);
      double other = rule->shape->is_turned ? dx * cos (angle) + (-y - rule->line_point.y) * sin (angle) : along;

      reach = MAX (reach, MAX (along, other));
    }
  return reach;
}

void
pawl_pose_side (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  PawlPoint feature = rule->feature_point, pin = rule->line_point;
  PawlPoint mirrored = reflect (feature, pin, rule->line_angle);
  double angle = rule->line_angle * G_PI / 180, c = cos (angle), s = sin (angle);
  double reach = hypot (mirrored.x - feature.x, mirrored.y - feature.y) / 2;
  PawlPoint foot = { (feature.x + mirrored.x) / 2, (feature.y + mirrored.y) / 2 };
  double beyond = get_reach_along (rule) + (rule->shape ? 0.2 : 1.15) * reach;
  PawlPoint out = { pin.x + beyond * c, pin.y + beyond * s };

  draw_side_part (pose, rule, PAWL_STROKE_OUTLINE, is_wrong);
  if (is_wrong)
    draw_side_part (pose, rule, PAWL_STROKE_GHOST, FALSE);
  pawl_pose_line (pose, PAWL_STROKE_AXIS, 2 * pin.x - out.x, 2 * pin.y - out.y, out.x + 0.1 * reach * c, out.y + 0.1 * reach * s, NULL);
  if (!rule->shape)
    pawl_pose_circle (pose, PAWL_STROKE_NEIGHBOUR, pin.x, pin.y, 0.17 * reach, TRUE, NULL);
  if (is_wrong)
    pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, feature.x, feature.y, mirrored.x, mirrored.y, NULL);
  /* Past the end of the part, from the line to the side where the feature belongs; in both poses, as it holds for both. */
  pawl_pose_line (pose, PAWL_STROKE_ARROW, out.x, out.y, out.x + 0.65 * (feature.x - foot.x), out.y + 0.65 * (feature.y - foot.y), rule->datum);
}

/* ---- index: a hole of a part over a passage of what it sits in ---- */

static const PawlFeature *
find_hole (const PawlShape *shape)
{
  for (guint i = 0; shape && i < shape->features->len; i++)
    if (g_array_index (shape->features, PawlFeature, i).kind == PAWL_FEATURE_HOLE)
      return &g_array_index (shape->features, PawlFeature, i);
  return NULL;
}

static char *
format_open (const PawlRule *rule)
{
  return g_strdup_printf ("%.0f %%", 100 * pawl_hole_overlap (rule->diameter, rule->wrong));
}

/* What the fitter sees who looks down the passage: what is open, and the wall of the part that stands in the way. */
static void
draw_look_through (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  double radius = rule->diameter / 2, offset = rule->wrong;
  double half_angle = acos (CLAMP (fabs (offset) / rule->diameter, 0, 1)) * 180 / G_PI;
  double right = offset > 0 ? 0 : 180;
  g_autofree char *open = format_open (rule);
  double side = 1.5 * rule->diameter, left = MIN (-side, offset - rule->diameter), right_end = MAX (side, offset + rule->diameter);
  PawlStroke *lens;

  pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, left, -0.7 * side, right_end, 0.7 * side, FALSE, NULL);
  pawl_pose_circle (pose, is_wrong ? PAWL_STROKE_OUTLINE : PAWL_STROKE_DETAIL, 0, 0, radius, TRUE, is_wrong ? NULL : "100 %");
  pawl_pose_circle (pose, PAWL_STROKE_OUTLINE, 0, 0, radius, FALSE, NULL);
  if (!is_wrong)
    return;
  if (fabs (offset) < rule->diameter)
    {
      lens = pawl_pose_begin (pose, PAWL_STROKE_DETAIL, open);
      pawl_stroke_arc (lens, 0, 0, radius, right - half_angle, right + half_angle);
      pawl_stroke_arc (lens, offset, 0, radius, right + 180 - half_angle, right + 180 + half_angle);
      lens->is_closed = lens->is_filled = TRUE;
    }
  pawl_pose_circle (pose, PAWL_STROKE_HIDDEN, offset, 0, radius, FALSE, fabs (offset) < rule->diameter ? NULL : open);
  pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, 0, 0, offset, 0, NULL);
}

/* A flat part on its face: through a hole at the wrong place metal is seen, and the passage lies dashed under the part. */
static void
draw_overlay (GPtrArray *pose, const PawlRule *rule, const PawlShape *wrong, const PawlFeature *hole, gboolean is_wrong)
{
  double radius = rule->diameter / 2;

  pawl_pose_shape (pose, is_wrong ? wrong : rule->shape, PAWL_STROKE_OUTLINE, FALSE);
  if (is_wrong)
    {
      const PawlFeature *moved = find_hole (wrong);

      pawl_pose_shape (pose, rule->shape, PAWL_STROKE_GHOST, FALSE);
      pawl_pose_circle (pose, PAWL_STROKE_NEIGHBOUR, moved->x, moved->y, MIN (radius, moved->size / 2), FALSE, NULL);
      pawl_pose_circle (pose, PAWL_STROKE_HIDDEN, hole->x, hole->y, radius, FALSE, NULL);
      pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, hole->x, hole->y, moved->x, moved->y, NULL);
    }
  else
    pawl_pose_circle (pose, PAWL_STROKE_DETAIL, hole->x, hole->y, 0.7 * radius, TRUE, NULL);
}

/* A bush in its bore, cut: the passage in the wall goes on through the bush, or ends at it. */
static void
draw_cross_hole (GPtrArray *pose, const PawlRule *rule, const PawlShape *wrong, const PawlFeature *hole, gboolean is_wrong)
{
  const PawlShape *shape = is_wrong ? wrong : rule->shape;
  PawlBounds bounds = pawl_shape_get_bounds (rule->shape);
  double inner, outer, top;

  pawl_shape_get_radii (rule->shape, hole->x, &inner, &outer);
  top = 1.75 * bounds.y1;
  pawl_pose_walls (pose, rule->shape, hole->x, rule->diameter, 0);
  pawl_pose_shape (pose, shape, PAWL_STROKE_OUTLINE, TRUE);
  if (is_wrong)
    {
      const PawlFeature *moved = find_hole (wrong);

      pawl_pose_line (pose, PAWL_STROKE_ARROW, hole->x, -top, hole->x, -1.04 * outer, rule->datum);
      pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, hole->x, outer, moved->x, outer, NULL);
    }
  else
    pawl_pose_line (pose, PAWL_STROKE_ARROW, hole->x, -top, hole->x, -0.4 * inner, rule->datum);
}

static void
draw_hole (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) wrong = pawl_mistake_dup_index_shape (rule);
  const PawlFeature *hole = find_hole (rule->shape);

  if (!hole)
    draw_look_through (pose, rule, is_wrong);
  else if (rule->shape->is_turned)
    draw_cross_hole (pose, rule, wrong, hole, is_wrong);
  else
    draw_overlay (pose, rule, wrong, hole, is_wrong);
}

/* ---- index: by angle ---- */

static void
draw_gear (GPtrArray *pose, PawlStrokeKind kind, double radius, double turn_deg, guint n_teeth)
{
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);
  double step = 360.0 / n_teeth, depth = MIN (0.14, 3.0 / n_teeth) * radius;

  for (guint i = 0; i < n_teeth; i++)
    {
      double at = 90 + turn_deg + i * step;

      pawl_stroke_arc (outline, 0, 0, radius - depth, at - 0.5 * step, at - 0.28 * step);
      pawl_stroke_arc (outline, 0, 0, radius, at - 0.16 * step, at + 0.16 * step);
      pawl_stroke_arc (outline, 0, 0, radius - depth, at + 0.28 * step, at + 0.5 * step);
    }
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
}

static void
draw_turned_outline (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind, double turn_deg)
{
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);
  double c = cos (turn_deg * G_PI / 180), s = sin (turn_deg * G_PI / 180);

  for (guint i = 0; i < shape->n_points; i++)
    pawl_stroke_line_to (outline, shape->points[i].x * c + shape->points[i].y * s, -shape->points[i].x * s + shape->points[i].y * c);
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
}

static void
draw_angle_part (GPtrArray *pose, const PawlRule *rule, PawlStrokeKind kind, double turn_deg)
{
  guint n_teeth = rule->period > 0 ? (guint) lround (360 / rule->period) : 0;

  if (rule->shape && !rule->shape->is_turned)
    draw_turned_outline (pose, rule->shape, kind, turn_deg);
  else if (n_teeth >= 5 && n_teeth <= 90)
    draw_gear (pose, kind, rule->radius, turn_deg, n_teeth);
  else
    pawl_pose_circle (pose, kind, 0, 0, rule->radius, kind == PAWL_STROKE_OUTLINE, NULL);
}

static void
draw_radial (GPtrArray *pose, PawlStrokeKind kind, double from, double to, double angle_deg, const char *label)
{
  double c = cos (angle_deg * G_PI / 180), s = sin (angle_deg * G_PI / 180);

  pawl_pose_line (pose, kind, from * c, -from * s, to * c, -to * s, label);
}

static void
draw_angle (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  double radius = rule->radius, turn = is_wrong ? copysign (pawl_mistake_get_angle_deg (rule), rule->wrong) : 0;
  double there = (90 + turn) * G_PI / 180;

  /* The fixed mark is at the top, on what the part sits in; the part's own mark is a line with a dot. */
  pawl_pose_circle (pose, PAWL_STROKE_NEIGHBOUR, 0, 0, 1.32 * radius, FALSE, NULL);
  pawl_pose_circle (pose, PAWL_STROKE_DETAIL, 0, 0, 1.06 * radius, TRUE, NULL);
  draw_angle_part (pose, rule, PAWL_STROKE_OUTLINE, turn);
  pawl_pose_circle (pose, PAWL_STROKE_DETAIL, 0, 0, 0.2 * radius, TRUE, NULL);
  draw_radial (pose, PAWL_STROKE_OUTLINE, 1.06 * radius, 1.42 * radius, 90, rule->datum);
  draw_radial (pose, PAWL_STROKE_OUTLINE, 0.55 * radius, 0.96 * radius, 90 + turn, NULL);
  pawl_pose_circle (pose, PAWL_STROKE_OUTLINE, 0.55 * radius * cos (there), -0.55 * radius * sin (there), 0.045 * radius, TRUE, NULL);
  if (is_wrong)
    {
      draw_radial (pose, PAWL_STROKE_GHOST, 0.2 * radius, radius, 90, NULL);
      pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, 0, -radius, radius * cos (there), -radius * sin (there), NULL);
    }
}

/* ---- index: by depth ---- */

static PawlShape *
dup_depth_shape (const PawlRule *rule)
{
  PawlShape *plain;
  double length = 5 * fabs (rule->wrong), radius = 0.45 * length;

  if (rule->shape)
    return pawl_shape_dup (rule->shape);
  plain = pawl_shape_new ();
  plain->is_turned = TRUE;
  plain->n_points = 4;
  plain->points = g_new0 (PawlPoint, 4);
  plain->points[1] = (PawlPoint) { 0, radius };
  plain->points[2] = (PawlPoint) { length, radius };
  plain->points[3] = (PawlPoint) { length, 0 };
  return plain;
}

static void
draw_depth (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) right = dup_depth_shape (rule);
  g_autoptr(PawlShape) wrong = pawl_shape_dup (right);
  gboolean as_section = pawl_shape_needs_section (right);
  PawlBounds bounds = pawl_shape_get_bounds (right);
  double gap = 0.2 * (bounds.x1 - bounds.x0);

  for (guint i = 0; i < wrong->n_points; i++)
    wrong->points[i].x += rule->wrong;
  for (guint i = 0; i < wrong->features->len; i++)
    g_array_index (wrong->features, PawlFeature, i).x += rule->wrong;
  if (right->is_turned)
    pawl_pose_walls (pose, right, 0, 0, MAX (0, rule->wrong) + gap);
  pawl_pose_shape (pose, is_wrong ? wrong : right, PAWL_STROKE_OUTLINE, as_section);
  if (is_wrong)
    {
      pawl_pose_shape (pose, right, PAWL_STROKE_GHOST, as_section);
      pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, bounds.x0, 0, bounds.x0 + rule->wrong, 0, NULL);
    }
  pawl_pose_line (pose, PAWL_STROKE_ARROW, bounds.x0 - 1.5 * gap - MAX (0, -rule->wrong), 0, bounds.x0 - 0.3 * gap - MAX (0, -rule->wrong), 0, rule->datum);
}

void
pawl_pose_index (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  switch (rule->index_kind)
    {
    case PAWL_INDEX_HOLE:
      draw_hole (pose, rule, is_wrong);
      break;
    case PAWL_INDEX_ANGLE:
      draw_angle (pose, rule, is_wrong);
      break;
    case PAWL_INDEX_DEPTH:
      draw_depth (pose, rule, is_wrong);
      break;
    default:
      g_return_if_reached ();
    }
}
