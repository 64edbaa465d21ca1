/* A part with a shape, drawn where it is: from outside or cut, with its features, and what it goes into. */
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

/* A hole wider than the part is thick: the part is seen on its edge, and the hole goes through from face to face. */
static void
draw_edge_on_hole (GPtrArray *pose, const PawlFeature *feature, PawlBounds bounds, gboolean is_ghost)
{
  gboolean is_upright = bounds.x1 - bounds.x0 < bounds.y1 - bounds.y0;
  double half = feature->size / 2;
  PawlStrokeKind kind = is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL;

  pawl_pose_box (pose, kind, is_upright ? bounds.x0 : feature->x - half, is_upright ? feature->y - half : bounds.y0,
                 is_upright ? bounds.x1 : feature->x + half, is_upright ? feature->y + half : bounds.y1, !is_ghost, is_ghost ? NULL : feature->label);
}

static gboolean
is_on_outline (const PawlShape *shape, PawlPoint p)
{
  PawlPoint q = pawl_outline_find_nearest (shape->points, shape->n_points, p);

  return hypot (q.x - p.x, q.y - p.y) < 1e-3;
}

/* A mark on a face that is seen from its edge would be a mere point: a triangle stands on it, outside, so that its side is seen. */
static void
draw_flag (GPtrArray *pose, PawlPoint at, PawlPoint middle, double size, gboolean is_ghost, const char *label)
{
  double side = at.x < middle.x ? -1 : 1;
  PawlStroke *flag = pawl_pose_begin (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_BLOCKED, label);

  pawl_stroke_line_to (flag, at.x, at.y);
  pawl_stroke_line_to (flag, at.x + side * size, at.y - size / 2);
  pawl_stroke_line_to (flag, at.x + side * size, at.y + size / 2);
  flag->is_closed = flag->is_filled = TRUE;
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
      else if (!shape->is_turned && feature->size > MIN (bounds.x1 - bounds.x0, bounds.y1 - bounds.y0))
        draw_edge_on_hole (pose, feature, bounds, is_ghost);
      else
        pawl_pose_circle (pose, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, at.x, at.y, half, !is_ghost, label);
      break;
    case PAWL_FEATURE_NOTCH:
      at.y = shape->is_turned ? -feature->y : at.y;
      draw_notch (pose, at, middle, feature->size, is_ghost ? PAWL_STROKE_GHOST : PAWL_STROKE_DETAIL, label);
      break;
    case PAWL_FEATURE_MARK:
      if (!shape->is_turned && is_on_outline (shape, at))
        draw_flag (pose, at, middle, MAX (feature->size, 0.05 * MAX (bounds.x1 - bounds.x0, bounds.y1 - bounds.y0)), is_ghost, label);
      else
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

/* The shaft is as thick as the narrowest place of the part's bore, and stands out at both ends. */
static void
draw_shaft (GPtrArray *pose, const PawlShape *shape)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double radius = bounds.y0, more = MAX (0.35 * (bounds.x1 - bounds.x0), 0.8 * radius);

  pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, bounds.x0 - more, -radius, bounds.x1 + more, radius, FALSE, NULL);
}

void
pawl_pose_walls (GPtrArray *pose, const PawlShape *shape, double channel_x, double channel, double extra)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double from = pawl_shape_has_shoulder (shape) ? shape->seat : bounds.x0;
  double to = bounds.x1 + extra;
  double bore = 0, thick;

  if (shape->is_on_shaft)
    {
      draw_shaft (pose, shape);
      return;
    }
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
