#include "solids/pawl-solid-outline.h"

/* Largest distance between an arc and the chords it is chopped into, millimetres: well under the nudge that takes a sample
   off its surface, so that a curved face never hides its own edge. */
#define CHORD_ERROR_MM 0.004
#define MIN_STEPS_PER_TURN 32
#define MAX_STEPS_PER_TURN 240

/* Into how many chords an arc of @radius mm and @angle radians is chopped. */
guint
pawl_solid_arc_steps (double radius, double angle)
{
  double per_turn = MIN_STEPS_PER_TURN;

  if (radius > 10.0 * CHORD_ERROR_MM)
    per_turn = CLAMP (G_PI / acos (1.0 - CHORD_ERROR_MM / radius), MIN_STEPS_PER_TURN, MAX_STEPS_PER_TURN);
  return (guint) MAX (1.0, ceil (per_turn * fabs (angle) / (2.0 * G_PI)));
}

static void
add_point (GArray *points, double x, double y)
{
  PawlFlat p = { x, y };

  if (points->len > 0)
    {
      const PawlFlat *last = &g_array_index (points, PawlFlat, points->len - 1);

      if (hypot (last->x - x, last->y - y) < 1e-7)
        return;
    }
  g_array_append_val (points, p);
}

/* Rounds corner @b between its neighbours @a and @c with an arc that touches both sides. */
static void
add_corner (GArray *points, const PawlSolidCorner *a, const PawlSolidCorner *b, const PawlSolidCorner *c)
{
  double ux = a->x - b->x, uy = a->y - b->y, vx = c->x - b->x, vy = c->y - b->y;
  double u = hypot (ux, uy), v = hypot (vx, vy);
  double cosine, half, reach, centre, turn, first;
  double bx, by;
  guint steps;

  if (b->radius <= 0.0 || u <= 0.0 || v <= 0.0)
    {
      add_point (points, b->x, b->y);
      return;
    }
  ux /= u; uy /= u; vx /= v; vy /= v;
  cosine = CLAMP (ux * vx + uy * vy, -1.0, 1.0);
  half = acos (cosine) / 2.0;
  if (half < 1e-6 || half > G_PI / 2.0 - 1e-6)
    {
      add_point (points, b->x, b->y);
      return;
    }
  reach = b->radius / tan (half);
  centre = b->radius / sin (half);
  bx = ux + vx; by = uy + vy;
  bx = b->x + bx / hypot (ux + vx, uy + vy) * centre;
  by = b->y + by / hypot (ux + vx, uy + vy) * centre;
  first = atan2 (b->y + uy * reach - by, b->x + ux * reach - bx);
  turn = atan2 (b->y + vy * reach - by, b->x + vx * reach - bx) - first;
  turn = remainder (turn, 2.0 * G_PI);
  steps = pawl_solid_arc_steps (b->radius, turn);
  for (guint i = 0; i <= steps; i++)
    add_point (points, bx + b->radius * cos (first + turn * i / steps), by + b->radius * sin (first + turn * i / steps));
}

static double
signed_area (const PawlFlat *at, guint n)
{
  double sum = 0.0;

  for (guint i = 0; i < n; i++)
    sum += at[i].x * at[(i + 1) % n].y - at[(i + 1) % n].x * at[i].y;
  return sum / 2.0;
}

static double
side_length (const PawlSolidOutline *o, guint side)
{
  PawlFlat a = o->at[side], b = o->at[(side + 1) % o->n];

  return hypot (b.x - a.x, b.y - a.y);
}

/* Where the outline is smooth, neighbours share a normal, weighted by their lengths: it hardly turns where a straight side
   runs into the short chords of a rounding. */
static void
set_normals (PawlSolidOutline *o)
{
  for (guint i = 0; i < o->n; i++)
    {
      PawlFlat a = o->at[i], b = o->at[(i + 1) % o->n];
      double length = hypot (b.x - a.x, b.y - a.y);

      o->normal[i] = (PawlFlat) { (b.y - a.y) / length, -(b.x - a.x) / length };
    }
  for (guint i = 0; i < o->n; i++)
    {
      guint before = (i + o->n - 1) % o->n;
      PawlFlat p = o->normal[before], q = o->normal[i];
      double p_weight = side_length (o, before), q_weight = side_length (o, i);
      PawlFlat sum = { p.x * p_weight + q.x * q_weight, p.y * p_weight + q.y * q_weight };
      double length = hypot (sum.x, sum.y);

      o->smooth[i] = p.x * q.x + p.y * q.y > cos (PAWL_SOLID_SMOOTH_DEG * G_PI / 180.0);
      o->end[before] = o->smooth[i] ? (PawlFlat) { sum.x / length, sum.y / length } : p;
      o->start[i] = o->smooth[i] ? o->end[before] : q;
    }
}

/* Takes the points; outer outlines run anticlockwise and holes clockwise, so that the material is always on the left. */
static PawlSolidOutline *
outline_take (GArray *points, gboolean is_hole)
{
  PawlSolidOutline *o = g_new0 (PawlSolidOutline, 1);
  const PawlFlat *last = &g_array_index (points, PawlFlat, points->len - 1), *first = &g_array_index (points, PawlFlat, 0);

  if (points->len > 1 && hypot (last->x - first->x, last->y - first->y) < 1e-7)
    g_array_set_size (points, points->len - 1);
  o->n = points->len;
  o->at = (PawlFlat *) g_array_free (points, FALSE);
  if ((signed_area (o->at, o->n) < 0.0) != is_hole)
    for (guint i = 0; i < o->n / 2; i++)
      {
        PawlFlat swap = o->at[i];

        o->at[i] = o->at[o->n - 1 - i];
        o->at[o->n - 1 - i] = swap;
      }
  o->normal = g_new0 (PawlFlat, o->n);
  o->start = g_new0 (PawlFlat, o->n);
  o->end = g_new0 (PawlFlat, o->n);
  o->smooth = g_new0 (gboolean, o->n);
  set_normals (o);
  return o;
}

/**
 * pawl_solid_outline_new:
 * @corners: (array length=n_corners): in order, either way round; at least three that enclose an area
 * @is_hole: whether the material lies outside
 *
 * Returns: (transfer full): free with pawl_solid_outline_free().
 */
PawlSolidOutline *
pawl_solid_outline_new (const PawlSolidCorner *corners, guint n_corners, gboolean is_hole)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (PawlFlat));

  for (guint i = 0; i < n_corners; i++)
    add_corner (points, &corners[(i + n_corners - 1) % n_corners], &corners[i], &corners[(i + 1) % n_corners]);
  return outline_take (points, is_hole);
}

/* A circle, or an ellipse with half-axes @rx and @ry. */
PawlSolidOutline *
pawl_solid_outline_circle (double x, double y, double rx, double ry, gboolean is_hole)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (PawlFlat));
  guint steps = pawl_solid_arc_steps (MAX (rx, ry), 2.0 * G_PI);

  for (guint i = 0; i < steps; i++)
    add_point (points, x + rx * cos (2.0 * G_PI * i / steps), y + ry * sin (2.0 * G_PI * i / steps));
  return outline_take (points, is_hole);
}

void
pawl_solid_outline_free (PawlSolidOutline *outline)
{
  if (outline == NULL)
    return;
  g_free (outline->at);
  g_free (outline->normal);
  g_free (outline->start);
  g_free (outline->end);
  g_free (outline->smooth);
  g_free (outline);
}

/* Whether the closed line goes round (@x, @y) an odd number of times. */
gboolean
pawl_solid_outline_holds (const PawlSolidOutline *outline, double x, double y)
{
  gboolean inside = FALSE;

  for (guint i = 0, j = outline->n - 1; i < outline->n; j = i++)
    {
      PawlFlat a = outline->at[i], b = outline->at[j];

      if ((a.y > y) != (b.y > y) && x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x)
        inside = !inside;
    }
  return inside;
}

/* Distance from (@x, @y) to the line, and the (smoothed) @normal of the side that is nearest. */
double
pawl_solid_outline_nearest (const PawlSolidOutline *outline, double x, double y, PawlFlat *normal)
{
  double best = INFINITY;

  for (guint i = 0; i < outline->n; i++)
    {
      PawlFlat a = outline->at[i], b = outline->at[(i + 1) % outline->n], m = outline->start[i], n = outline->end[i];
      double dx = b.x - a.x, dy = b.y - a.y;
      double s = CLAMP (((x - a.x) * dx + (y - a.y) * dy) / (dx * dx + dy * dy), 0.0, 1.0);
      double distance = hypot (a.x + s * dx - x, a.y + s * dy - y);

      if (distance < best)
        {
          best = distance;
          *normal = (PawlFlat) { m.x + s * (n.x - m.x), m.y + s * (n.y - m.y) };
        }
    }
  return best;
}
