/* Poses of the kind index: a hole over its passage, a mark against a mark, a depth. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* ---- index: a hole of a part over a passage of what it sits in ---- */

static const PawlFeature *
find_hole (const PawlShape *shape)
{
  for (guint i = 0; shape && i < shape->features->len; i++)
    if (g_array_index (shape->features, PawlFeature, i).kind == PAWL_FEATURE_HOLE)
      return &g_array_index (shape->features, PawlFeature, i);
  return NULL;
}

/* The share of the passage that is left open, written at the stroke. */
static void
say_open (PawlStroke *stroke, const PawlRule *rule, gboolean is_wrong)
{
  stroke->says = PAWL_SAYS_OPEN;
  stroke->value = is_wrong ? pawl_hole_overlap (rule->diameter, rule->wrong) : 1;
}

/* The area that two equal circles have in common, one at (x, y), the other @offset to the right of it. */
static PawlStroke *
draw_lens (GPtrArray *pose, double x, double y, double radius, double offset)
{
  double half_angle = acos (CLAMP (fabs (offset) / 2 / radius, 0, 1)) * 180 / G_PI, to = offset > 0 ? 0 : 180;
  PawlStroke *lens = pawl_pose_begin (pose, PAWL_STROKE_OPEN, NULL);

  pawl_stroke_arc (lens, x, y, radius, to - half_angle, to + half_angle);
  pawl_stroke_arc (lens, x + offset, y, radius, to + 180 - half_angle, to + 180 + half_angle);
  lens->is_closed = lens->is_filled = TRUE;
  return lens;
}

/* What the fitter sees who looks down the passage: how much of it is open, and the wall of the part that stands in the way. The hole in the part,
 * as far as the part's wall lies behind the face, is dashed. */
static void
draw_look_through (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  double radius = rule->diameter / 2, offset = rule->wrong, side = 1.15 * rule->diameter;
  double left = MIN (-side, offset - 0.75 * rule->diameter), right = MAX (side, offset + 0.75 * rule->diameter);
  PawlStroke *passage;

  pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, left, -0.72 * side, right, 0.72 * side, FALSE, NULL);
  passage = pawl_pose_circle (pose, is_wrong ? PAWL_STROKE_BLOCKED : PAWL_STROKE_OPEN, 0, 0, radius, TRUE, NULL);
  if (is_wrong && fabs (offset) < rule->diameter)
    passage = draw_lens (pose, 0, 0, radius, offset);
  say_open (passage, rule, is_wrong);
  pawl_pose_circle (pose, PAWL_STROKE_OUTLINE, 0, 0, radius, FALSE, NULL);
  if (!is_wrong)
    return;
  pawl_pose_circle (pose, PAWL_STROKE_HIDDEN, offset, 0, radius, FALSE, NULL);
  pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, 0, 0, offset, 0, NULL);
}

/* A flat part on its face: through its hole the passage is seen, or, at a wrong place, metal; the passage then lies dashed under the part. */
static void
draw_overlay (GPtrArray *pose, const PawlRule *rule, const PawlShape *wrong, const PawlFeature *hole, gboolean is_wrong)
{
  const PawlFeature *is = is_wrong ? find_hole (wrong) : hole;
  double radius = MIN (rule->diameter, hole->size) / 2, offset = is->x - hole->x;
  PawlStroke *open;

  pawl_pose_shape (pose, is_wrong ? wrong : rule->shape, PAWL_STROKE_OUTLINE, FALSE);
  if (!is_wrong)
    {
      open = pawl_pose_circle (pose, PAWL_STROKE_OPEN, hole->x, hole->y, radius, TRUE, NULL);
      say_open (open, rule, FALSE);
      return;
    }
  pawl_pose_shape (pose, rule->shape, PAWL_STROKE_GHOST, FALSE);
  open = pawl_pose_circle (pose, PAWL_STROKE_BLOCKED, is->x, is->y, radius, TRUE, NULL);
  if (fabs (offset) > 1e-9 && fabs (offset) < 2 * radius && fabs (is->y - hole->y) < 1e-6)
    open = draw_lens (pose, hole->x, hole->y, radius, offset);
  say_open (open, rule, TRUE);
  pawl_pose_circle (pose, PAWL_STROKE_HIDDEN, hole->x, hole->y, rule->diameter / 2, FALSE, NULL);
  pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, hole->x, hole->y, is->x, is->y, NULL);
}

/* A bush in its bore, cut: the passage in the wall goes on through the bush, or ends at it. What flows is the arrow. */
static void
draw_cross_hole (GPtrArray *pose, const PawlRule *rule, const PawlShape *wrong, const PawlFeature *hole, gboolean is_wrong)
{
  PawlBounds bounds = pawl_shape_get_bounds (rule->shape);
  double inner, outer, top = 1.85 * bounds.y1;
  PawlStroke *passage;

  pawl_shape_get_radii (rule->shape, hole->x, &inner, &outer);
  pawl_pose_walls (pose, rule->shape, hole->x, rule->diameter, 0);
  pawl_pose_shape (pose, is_wrong ? wrong : rule->shape, PAWL_STROKE_OUTLINE, TRUE);
  passage = pawl_pose_line (pose, PAWL_STROKE_ARROW, hole->x, -top, hole->x, is_wrong ? -1.04 * outer : -0.3 * inner, rule->datum);
  passage = pawl_pose_line (pose, PAWL_STROKE_DETAIL, hole->x, inner, hole->x, inner, NULL);
  say_open (passage, rule, is_wrong);
  if (is_wrong)
    {
      const PawlFeature *moved = find_hole (wrong);

      for (int side = -1; side <= 1; side += 2)
        pawl_pose_box (pose, PAWL_STROKE_GHOST, hole->x - hole->size / 2, side * inner, hole->x + hole->size / 2, side * outer, FALSE, NULL);
      pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, hole->x, outer, moved->x, outer, NULL);
    }
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

/* The difference, from where the mark ought to be: an arc, said in degrees as well. */
static void
draw_turn (GPtrArray *pose, double radius, double turn_deg)
{
  double there = (90 + turn_deg) * G_PI / 180;
  PawlStroke *turn = pawl_pose_begin (pose, PAWL_STROKE_DIFFERENCE, NULL);

  pawl_stroke_line_to (turn, 0, -radius);
  pawl_stroke_line_to (turn, radius * cos (there), -radius * sin (there));
  pawl_stroke_line_to (turn, 0, 0);
  turn->says = PAWL_SAYS_ANGLE;
  turn->value = fabs (turn_deg);
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
  draw_radial (pose, PAWL_STROKE_OUTLINE, 0.6 * radius, 0.84 * radius, 90 + turn, NULL);
  pawl_pose_circle (pose, PAWL_STROKE_OUTLINE, 0.6 * radius * cos (there), -0.6 * radius * sin (there), 0.045 * radius, TRUE, NULL);
  if (is_wrong)
    {
      draw_radial (pose, PAWL_STROKE_GHOST, 0.3 * radius, 0.84 * radius, 90, NULL);
      draw_turn (pose, radius, turn);
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
