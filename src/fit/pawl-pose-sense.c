/* Poses of the kind sense: the part in its bore or by its shoulder, turned end for end or to the other hand, and the arrow that says which way. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-outline.h"

/* A difference is as good as the largest when it is no more than this share smaller. */
#define AS_LARGE_SHARE 0.98
/* Half the angle that a spin arrow goes round. */
#define SPIN_HALF_DEG 42.0

static PawlBounds
get_bounds_of (const GPtrArray *pose)
{
  PawlBounds whole = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);

      for (guint j = 0; j < stroke->n_points; j++)
        whole = (PawlBounds) { MIN (whole.x0, stroke->points[j].x), MIN (whole.y0, stroke->points[j].y),
                               MAX (whole.x1, stroke->points[j].x), MAX (whole.y1, stroke->points[j].y) };
    }
  return whole;
}

/* Polar: a straight arrow from tail to tip along +x. Spin: a curved one, below the cross that it turns round, from its tail to its tip. */
static void
draw_datum (GPtrArray *pose, const PawlRule *rule, PawlBounds whole)
{
  double width = whole.x1 - whole.x0, height = whole.y1 - whole.y0, gap = 0.12 * MAX (width, height);
  double middle = (whole.x0 + whole.x1) / 2, half;

  if (rule->is_spin)
    {
      PawlPoint centre = { middle, (whole.y0 + whole.y1) / 2 };
      PawlStroke *arrow = pawl_pose_begin (pose, PAWL_STROKE_ARROW, rule->datum);
      double turn = rule->is_clockwise ? -SPIN_HALF_DEG : SPIN_HALF_DEG;

      pawl_stroke_arc (arrow, centre.x, centre.y, hypot (width, height) / 2 + 0.5 * gap, 270 - turn, 270 + turn);
      pawl_pose_cross (pose, centre, 0.12 * MAX (width, height));
      return;
    }
  half = MAX (0.3 * width, 0.15 * height);
  pawl_pose_line (pose, PAWL_STROKE_ARROW, middle - half, whole.y1 + gap, middle + half, whole.y1 + gap, rule->datum);
}

/* ---- what tells ---- */

typedef struct {
  PawlPoint from, to;
  double    length;
} Telling;

static double
get_slant (PawlPoint p, PawlPoint q)
{
  double dx = fabs (q.x - p.x), dy = fabs (q.y - p.y);

  return MIN (dx, dy) / MAX (MAX (dx, dy), 1e-12);
}

static double
get_away (const PawlShape *shape, PawlPoint p)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);

  return hypot (p.x - (bounds.x0 + bounds.x1) / 2, p.y - (bounds.y0 + bounds.y1) / 2);
}

/* TRUE when a place as level as the best so far tells more: along two parallel edges of an outline that is its end, not just anywhere between. */
static gboolean
is_farther_out (const PawlShape *shape, PawlPoint p, PawlPoint q, const Telling *best)
{
  return !shape->is_turned && get_slant (p, q) <= get_slant (best->from, best->to) + 1e-6
         && MAX (get_away (shape, p), get_away (shape, q)) > MAX (get_away (shape, best->from), get_away (shape, best->to)) + 1e-6;
}

static void
look_at_corners (const PawlShape *one, const PawlShape *other, gboolean is_swapped, Telling *best)
{
  for (guint i = 0; i < one->n_points; i++)
    {
      PawlPoint p = one->points[i], q = pawl_outline_find_nearest (other->points, other->n_points, p);
      double length = hypot (q.x - p.x, q.y - p.y);

      if (length >= AS_LARGE_SHARE * best->length && (get_slant (p, q) < get_slant (best->from, best->to) - 1e-6 || is_farther_out (one, p, q, best)))
        {
          best->from = is_swapped ? q : p;
          best->to = is_swapped ? p : q;
        }
    }
}

/* Where the outlines are farthest apart; of places that are as far, the one where it lies level or upright, as it then reads best. */
static Telling
find_outline_telling (const PawlShape *right, const PawlShape *wrong)
{
  Telling best = { .length = 0 };

  best.length = pawl_outline_find_distance (right->points, right->n_points, wrong->points, wrong->n_points, &best.from, &best.to);
  look_at_corners (right, wrong, FALSE, &best);
  look_at_corners (wrong, right, TRUE, &best);
  if (right->is_turned)
    {
      best.from.y = -best.from.y;
      best.to.y = -best.to.y;
    }
  return best;
}

static void
draw_difference (GPtrArray *pose, const PawlRule *rule, const PawlShape *flipped, gboolean as_section)
{
  const PawlShape *shape = rule->shape;
  Telling telling = find_outline_telling (shape, flipped);
  PawlPoint from = { 0 }, to = { 0 };
  double shift = pawl_shape_feature_shift (shape, flipped, &from, &to), collar = 0;

  if (shift > 0 && shift >= telling.length)
    telling = (Telling) { pawl_pose_place (shape, from, as_section), pawl_pose_place (flipped, to, as_section), shift };
  if (!rule->is_spin)
    collar = pawl_shape_collar_shift (shape, pawl_difference_get_least_mm (PAWL_BENCH_DISTANCE_MM), &from, &to);
  if (collar > telling.length)
    telling = (Telling) { { from.x, -from.y }, { to.x, -to.y }, collar };
  if (telling.length > 0)
    pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, telling.from.x, telling.from.y, telling.to.x, telling.to.y, NULL);
}

/* ---- the pose ---- */

void
pawl_pose_sense (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) flipped = pawl_shape_flip (rule->shape, rule->is_spin);
  gboolean as_section = pawl_shape_needs_section (rule->shape);
  PawlBounds bounds = pawl_shape_get_bounds (rule->shape);
  double more = 0.05 * (bounds.y1 - bounds.y0);

  if (rule->shape->is_turned)
    pawl_pose_walls (pose, rule->shape, 0, 0, 0.08 * (bounds.x1 - bounds.x0));
  else if (!rule->is_spin && pawl_shape_has_shoulder (rule->shape))
    pawl_pose_line (pose, PAWL_STROKE_AXIS, rule->shape->seat, bounds.y0 - more, rule->shape->seat, bounds.y1 + more, NULL);
  pawl_pose_shape (pose, is_wrong ? flipped : rule->shape, PAWL_STROKE_OUTLINE, as_section);
  if (is_wrong)
    {
      pawl_pose_shape (pose, rule->shape, PAWL_STROKE_GHOST, as_section);
      draw_difference (pose, rule, flipped, as_section);
    }
  draw_datum (pose, rule, get_bounds_of (pose));
}
