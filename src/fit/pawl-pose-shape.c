/* Poses of one part with a shape: sense, and what the other kinds need of it. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-outline.h"

/* ---- a turned part seen from outside ---- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* The outside of a turned part: outer radius along x, with steps kept. (element-type PawlPoint). */
static GArray *
dup_envelope (const PawlShape *shape)
{
  GArray *envelope = g_array_new (FALSE, FALSE, sizeof (PawlPoint));
  g_autoptr(GArray) xs = g_array_new (FALSE, FALSE, sizeof (double));
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double tiny = 1e-6 * (bounds.x1 - bounds.x0);

  for (guint i = 0; i < shape->n_points; i++)
    g_array_append_val (xs, shape->points[i].x);
  g_array_sort (xs, compare_doubles);
  for (guint i = 0; i < xs->len; i++)
    {
      double x = g_array_index (xs, double, i);

      if (i > 0 && x - g_array_index (xs, double, i - 1) < tiny)
        continue;
      for (int side = -1; side <= 1; side += 2)
        {
          PawlPoint p = { x, 0 };
          double inner;

          if (x + side * tiny < bounds.x0 || x + side * tiny > bounds.x1)
            continue;
          pawl_shape_get_radii (shape, x + side * tiny, &inner, &p.y);
          g_array_append_val (envelope, p);
        }
    }
  return envelope;
}

static void
draw_outside (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind)
{
  g_autoptr(GArray) envelope = dup_envelope (shape);
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double inner, outer, middle = (bounds.x0 + bounds.x1) / 2;

  for (guint i = 0; i < envelope->len; i++)
    {
      PawlPoint p = g_array_index (envelope, PawlPoint, i);

      pawl_stroke_line_to (outline, p.x, -p.y);
    }
  for (guint i = envelope->len; i > 0; i--)
    {
      PawlPoint p = g_array_index (envelope, PawlPoint, i - 1);

      pawl_stroke_line_to (outline, p.x, p.y);
    }
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
  if (kind != PAWL_STROKE_OUTLINE)
    return;
  for (guint i = 1; i + 1 < envelope->len; i++)
    {
      PawlPoint p = g_array_index (envelope, PawlPoint, i);

      pawl_pose_line (pose, PAWL_STROKE_DETAIL, p.x, -p.y, p.x, p.y, NULL);
    }
  pawl_shape_get_radii (shape, middle, &inner, &outer);
  if (inner > 0)
    for (int side = -1; side <= 1; side += 2)
      pawl_pose_line (pose, PAWL_STROKE_HIDDEN, bounds.x0, side * inner, bounds.x1, side * inner, NULL);
}

/* Both halves of a turned part cut along its axis, and the edges of the bore behind the cut. */
static void
draw_section (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind)
{
  if (kind == PAWL_STROKE_OUTLINE)
    for (guint i = 0; i < shape->n_points; i++)
      {
        double inner, outer;
        PawlPoint p = shape->points[i];

        pawl_shape_get_radii (shape, p.x, &inner, &outer);
        if (p.y <= inner + 1e-6 && p.y > 0)
          pawl_pose_line (pose, PAWL_STROKE_DETAIL, p.x, -p.y, p.x, p.y, NULL);
      }
  for (int side = -1; side <= 1; side += 2)
    {
      PawlStroke *half = pawl_pose_begin (pose, kind, NULL);

      for (guint i = 0; i < shape->n_points; i++)
        pawl_stroke_line_to (half, shape->points[i].x, side * shape->points[i].y);
      half->is_closed = TRUE;
      half->is_filled = kind == PAWL_STROKE_OUTLINE;
    }
}

static void
draw_plain (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind)
{
  PawlStroke *outline = pawl_pose_begin (pose, kind, NULL);

  for (guint i = 0; i < shape->n_points; i++)
    pawl_stroke_line_to (outline, shape->points[i].x, shape->points[i].y);
  outline->is_closed = TRUE;
  outline->is_filled = kind == PAWL_STROKE_OUTLINE;
}

/* ---- features ---- */

PawlPoint
pawl_pose_place (const PawlShape *shape, PawlPoint feature, gboolean as_section)
{
  if (!shape->is_turned)
    return feature;
  /* Seen from outside, a hole or a mark of a turned part faces the viewer; cut, it lies in the upper wall. */
  return (PawlPoint) { feature.x, as_section ? -feature.y : 0 };
}

static void
draw_cut_hole (GPtrArray *pose, const PawlShape *shape, const PawlFeature *feature, gboolean is_ghost)
{
  double inner, outer, half = feature->size / 2;

  pawl_shape_get_radii (shape, feature->x, &inner, &outer);
  for (int side = -1; side <= 1; side += 2)
    {
      double overlap = is_ghost ? 0 : 0.02 * outer; /* so that the wall's own lines are covered where the hole is */

      pawl_pose_box (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, feature->x - half, side * (inner - overlap),
                     feature->x + half, side * (outer + overlap), !is_ghost, side < 0 ? feature->label : NULL);
    }
}

static void
draw_notch (GPtrArray *pose, PawlPoint at, PawlPoint middle, double size, PawlStrokeKind kind, const char *label)
{
  double dx = middle.x - at.x, dy = middle.y - at.y;
  double length = MAX (hypot (dx, dy), 1e-9);
  PawlStroke *notch = pawl_pose_begin (pose, kind, label);

  dx /= length;
  dy /= length;
  pawl_stroke_line_to (notch, at.x - dy * size / 2, at.y + dx * size / 2);
  pawl_stroke_line_to (notch, at.x + dx * size, at.y + dy * size);
  pawl_stroke_line_to (notch, at.x + dy * size / 2, at.y - dx * size / 2);
  notch->is_filled = kind == PAWL_STROKE_DETAIL;
}

static void
draw_feature (GPtrArray *pose, const PawlShape *shape, const PawlFeature *feature, PawlStrokeKind kind, gboolean as_section)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  PawlPoint at = pawl_pose_place (shape, (PawlPoint) { feature->x, feature->y }, as_section);
  PawlPoint middle = { (bounds.x0 + bounds.x1) / 2, shape->is_turned ? 0 : (bounds.y0 + bounds.y1) / 2 };
  gboolean is_ghost = kind == PAWL_STROKE_GHOST;
  const char *label = is_ghost ? NULL : feature->label;
  double half = feature->size / 2;

  switch (feature->kind)
    {
    case PAWL_FEATURE_HOLE:
      if (shape->is_turned && as_section)
        draw_cut_hole (pose, shape, feature, is_ghost);
      else
        pawl_pose_circle (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, at.x, at.y, half, !is_ghost, label);
      break;
    case PAWL_FEATURE_NOTCH:
      at.y = shape->is_turned ? -feature->y : at.y;
      draw_notch (pose, at, middle, feature->size, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, label);
      break;
    case PAWL_FEATURE_MARK:
      pawl_pose_line (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_OUTLINE, at.x, at.y - half, at.x, at.y + half, label);
      break;
    case PAWL_FEATURE_BEVEL:
      /* The profile has the slope; the lead line only says what it is. */
      at.y = shape->is_turned ? -feature->y : at.y;
      pawl_pose_line (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, at.x, at.y, at.x + (at.x < middle.x ? feature->size : -feature->size),
                      at.y + (at.y < middle.y ? feature->size : -feature->size), label);
      break;
    default:
      g_return_if_reached ();
    }
}

void
pawl_pose_shape (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind, gboolean as_section)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double more = 0.08 * (bounds.x1 - bounds.x0);

  if (!shape->is_turned)
    draw_plain (pose, shape, kind);
  else if (as_section)
    draw_section (pose, shape, kind);
  else
    draw_outside (pose, shape, kind);
  for (guint i = 0; i < shape->features->len; i++)
    draw_feature (pose, shape, &g_array_index (shape->features, PawlFeature, i), kind, as_section);
  if (shape->is_turned && kind == PAWL_STROKE_OUTLINE)
    pawl_pose_line (pose, PAWL_STROKE_AXIS, bounds.x0 - more, 0, bounds.x1 + more, 0, NULL);
}

/* ---- what a turned part goes into ---- */

/* The part is thicker before its seat than behind it, so that something stops it there. */
static gboolean
has_shoulder (const PawlShape *shape)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double tiny = 1e-3 * (bounds.x1 - bounds.x0), inner, before, behind;

  if (shape->seat <= bounds.x0 + tiny || shape->seat >= bounds.x1 - tiny)
    return FALSE;
  pawl_shape_get_radii (shape, shape->seat - tiny, &inner, &before);
  pawl_shape_get_radii (shape, shape->seat + tiny, &inner, &behind);
  return before > behind + tiny;
}

void
pawl_pose_walls (GPtrArray *pose, const PawlShape *shape, double channel_x, double channel, double extra)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double from = has_shoulder (shape) ? shape->seat : bounds.x0;
  double to = bounds.x1 + extra;
  double bore = 0, thick;

  /* The bore takes what is beyond the shoulder. */
  for (guint i = 0; i < shape->n_points; i++)
    if (shape->points[i].x > from + 1e-6)
      bore = MAX (bore, shape->points[i].y);
  thick = MAX (0.3 * bore, 1.5 * (bounds.y1 - bore));
  for (int side = -1; side <= 1; side += 2)
    {
      if (channel > 0)
        {
          pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, from, side * bore, channel_x - channel / 2, side * (bore + thick), FALSE, NULL);
          pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, channel_x + channel / 2, side * bore, to, side * (bore + thick), FALSE, NULL);
        }
      else
        pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, from, side * bore, to, side * (bore + thick), FALSE, NULL);
    }
}

/* ---- sense ---- */

static void
draw_datum (GPtrArray *pose, const PawlRule *rule, PawlBounds whole)
{
  double width = whole.x1 - whole.x0, gap = 0.12 * MAX (width, whole.y1 - whole.y0);
  double middle = (whole.x0 + whole.x1) / 2, half;

  if (rule->is_spin)
    {
      double radius = MAX (width, whole.y1 - whole.y0) / 2 + gap;
      PawlStroke *arrow = pawl_pose_begin (pose, PAWL_STROKE_ARROW, rule->datum);

      pawl_stroke_arc (arrow, (whole.x0 + whole.x1) / 2, (whole.y0 + whole.y1) / 2, radius, 240, 300);
      return;
    }
  half = MAX (0.3 * width, 0.15 * (whole.y1 - whole.y0));
  pawl_pose_line (pose, PAWL_STROKE_ARROW, middle - half, whole.y1 + gap, middle + half, whole.y1 + gap, rule->datum);
}

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

static void
draw_sense_difference (GPtrArray *pose, const PawlRule *rule, const PawlShape *flipped, gboolean as_section)
{
  const PawlShape *shape = rule->shape;
  PawlPoint from = { 0 }, to = { 0 }, feature_from = { 0 }, feature_to = { 0 };
  double outline = pawl_outline_find_distance (shape->points, shape->n_points, flipped->points, flipped->n_points, &from, &to);
  double shift = pawl_shape_feature_shift (shape, flipped, &feature_from, &feature_to);

  if (MAX (outline, shift) <= 0)
    return;
  if (shift >= outline)
    {
      from = pawl_pose_place (shape, feature_from, as_section);
      to = pawl_pose_place (flipped, feature_to, as_section);
    }
  else if (shape->is_turned)
    {
      from.y = -from.y;
      to.y = -to.y;
    }
  pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, from.x, from.y, to.x, to.y, NULL);
}

void
pawl_pose_sense (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) flipped = pawl_shape_flip (rule->shape, rule->is_spin);
  gboolean as_section = pawl_shape_needs_section (rule->shape);
  PawlBounds bounds = pawl_shape_get_bounds (rule->shape);
  double axis = bounds.y1 + 0.05 * (bounds.y1 - bounds.y0);

  if (rule->shape->is_turned)
    pawl_pose_walls (pose, rule->shape, 0, 0, 0.08 * (bounds.x1 - bounds.x0));
  else if (!rule->is_spin && has_shoulder (rule->shape))
    pawl_pose_line (pose, PAWL_STROKE_AXIS, rule->shape->seat, bounds.y0 - 0.05 * (bounds.y1 - bounds.y0), rule->shape->seat, axis, NULL);
  pawl_pose_shape (pose, is_wrong ? flipped : rule->shape, PAWL_STROKE_OUTLINE, as_section);
  if (is_wrong)
    {
      pawl_pose_shape (pose, rule->shape, PAWL_STROKE_GHOST, as_section);
      draw_sense_difference (pose, rule, flipped, as_section);
    }
  draw_datum (pose, rule, get_bounds_of (pose));
}
