#include "solids/pawl-solid-shape.h"

#include <string.h>

/* Leaves the room for a few unset: this runs for every solid on every line of sight. */
void
pawl_solid_spans_init (PawlSolidSpans *spans)
{
  spans->at = spans->few;
  spans->n = 0;
  spans->room = G_N_ELEMENTS (spans->few);
}

void
pawl_solid_spans_add (PawlSolidSpans *spans, PawlSolidSpan span)
{
  if (spans->n == spans->room)
    {
      PawlSolidSpan *more = g_new (PawlSolidSpan, spans->room * 2);

      memcpy (more, spans->at, spans->n * sizeof *more);
      if (spans->at != spans->few)
        g_free (spans->at);
      spans->at = more;
      spans->room *= 2;
    }
  spans->at[spans->n++] = span;
}

void
pawl_solid_spans_clear (PawlSolidSpans *spans)
{
  if (spans->at != spans->few)
    g_free (spans->at);
  pawl_solid_spans_init (spans);
}

PawlSolidShape *
pawl_solid_shape_new (PawlSolidShapeKind kind)
{
  PawlSolidShape *shape = g_new0 (PawlSolidShape, 1);

  shape->kind = kind;
  shape->outlines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_solid_outline_free);
  shape->strokes = g_array_new (FALSE, FALSE, sizeof (PawlSolidStroke));
  return shape;
}

void
pawl_solid_shape_free (PawlSolidShape *shape)
{
  if (shape == NULL)
    return;
  g_ptr_array_unref (shape->outlines);
  g_array_unref (shape->strokes);
  g_free (shape->along);
  g_free (shape);
}

static void
widen (PawlSolidShape *shape, PawlVec p, double by)
{
  PawlFlat s = pawl_solid_view_point (&shape->view, p);
  double sheet_by = by * shape->view.scale;

  shape->low = vec (MIN (shape->low.x, p.x - by), MIN (shape->low.y, p.y - by), MIN (shape->low.z, p.z - by));
  shape->high = vec (MAX (shape->high.x, p.x + by), MAX (shape->high.y, p.y + by), MAX (shape->high.z, p.z + by));
  shape->sheet_low = (PawlFlat) { MIN (shape->sheet_low.x, s.x - sheet_by), MIN (shape->sheet_low.y, s.y - sheet_by) };
  shape->sheet_high = (PawlFlat) { MAX (shape->sheet_high.x, s.x + sheet_by), MAX (shape->sheet_high.y, s.y + sheet_by) };
}

static void
widen_turned (PawlSolidShape *shape)
{
  const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);

  for (guint i = 0; i < o->n; i++)
    for (guint k = 0; k < 64; k++)
      {
        double angle = 2.0 * G_PI * k / 64.0, r = o->at[i].y * 1.0013; /* 1 / cos (π / 64): the polygon round the circle */

        widen (shape, frame_place (&shape->frame, vec (r * cos (angle), r * sin (angle), o->at[i].x)), 0.01);
      }
}

/* Fixes the view and works out the boxes that let most questions be answered at once. Call again when the view changes. */
void
pawl_solid_shape_prepare (PawlSolidShape *shape, const PawlSolidView *view)
{
  shape->view = *view;
  shape->local_toward = frame_turn_back (&shape->frame, view->toward);
  shape->low = vec (INFINITY, INFINITY, INFINITY);
  shape->high = vec (-INFINITY, -INFINITY, -INFINITY);
  shape->sheet_low = (PawlFlat) { INFINITY, INFINITY };
  shape->sheet_high = (PawlFlat) { -INFINITY, -INFINITY };
  switch (shape->kind)
    {
    case PAWL_SHAPE_TURNED:
      widen_turned (shape);
      break;
    case PAWL_SHAPE_PLATE:
      {
        const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);

        for (guint i = 0; i < o->n; i++)
          {
            widen (shape, frame_place (&shape->frame, vec (o->at[i].x, o->at[i].y, shape->z0)), 0.01);
            widen (shape, frame_place (&shape->frame, vec (o->at[i].x, o->at[i].y, shape->z1)), 0.01);
          }
        break;
      }
    case PAWL_SHAPE_WIRE:
      for (guint i = 0; i < shape->n_along; i++)
        widen (shape, shape->along[i], shape->radius);
      break;
    default:
      g_assert_not_reached ();
    }
}

static double
wire_distance (const PawlSolidShape *shape, PawlVec p, PawlVec *nearest)
{
  double best = INFINITY;

  for (guint i = 0; i + 1 < shape->n_along; i++)
    {
      PawlVec d = vec_sub (shape->along[i + 1], shape->along[i]);
      double s = CLAMP (vec_dot (vec_sub (p, shape->along[i]), d) / vec_dot (d, d), 0.0, 1.0);
      PawlVec q = vec_step (shape->along[i], s, d);
      double distance = vec_length (vec_sub (p, q));

      if (distance < best)
        {
          best = distance;
          *nearest = q;
        }
    }
  return best;
}

/* Inside, with a point in the shape's own frame. */
static gboolean
holds_local (const PawlSolidShape *shape, PawlVec p)
{
  gboolean inside = FALSE;

  if (shape->kind == PAWL_SHAPE_TURNED)
    return pawl_solid_outline_holds (g_ptr_array_index (shape->outlines, 0), p.z, hypot (p.x, p.y));
  if (p.z <= shape->z0 || p.z >= shape->z1)
    return FALSE;
  for (guint i = 0; i < shape->outlines->len; i++)
    if (pawl_solid_outline_holds (g_ptr_array_index (shape->outlines, i), p.x, p.y))
      inside = !inside;
  return inside;
}

/* Whether @p, in the part's frame, lies inside the shape. */
gboolean
pawl_solid_shape_holds (const PawlSolidShape *shape, PawlVec p)
{
  PawlVec nearest;

  if (p.x < shape->low.x || p.y < shape->low.y || p.z < shape->low.z
      || p.x > shape->high.x || p.y > shape->high.y || p.z > shape->high.z)
    return FALSE;
  if (shape->kind == PAWL_SHAPE_WIRE)
    return wire_distance (shape, p, &nearest) < shape->radius;
  return holds_local (shape, frame_place_back (&shape->frame, p));
}

static PawlVec
turned_normal (const PawlSolidShape *shape, PawlVec local)
{
  double r = hypot (local.x, local.y);
  PawlFlat n;

  pawl_solid_outline_nearest (g_ptr_array_index (shape->outlines, 0), local.z, r, &n);
  if (r < 1e-9)
    return vec (0, 0, n.x);
  return vec (n.y * local.x / r, n.y * local.y / r, n.x);
}

static PawlVec
plate_normal (const PawlSolidShape *shape, PawlVec local)
{
  double below = fabs (local.z - shape->z0), above = fabs (shape->z1 - local.z), best = MIN (below, above);
  PawlVec normal = vec (0, 0, above < below ? 1 : -1);

  for (guint i = 0; i < shape->outlines->len; i++)
    {
      PawlFlat n;
      double distance = pawl_solid_outline_nearest (g_ptr_array_index (shape->outlines, i), local.x, local.y, &n);

      if (distance < best)
        {
          best = distance;
          normal = vec (n.x, n.y, 0);
        }
    }
  return normal;
}

/* The unit normal, out of the shape, of its surface where that is nearest to @p. */
PawlVec
pawl_solid_shape_normal (const PawlSolidShape *shape, PawlVec p)
{
  PawlVec local;

  if (shape->kind == PAWL_SHAPE_WIRE)
    {
      PawlVec q = p;

      wire_distance (shape, p, &q);
      return vec_unit (vec_sub (p, q));
    }
  local = frame_place_back (&shape->frame, p);
  local = shape->kind == PAWL_SHAPE_TURNED ? turned_normal (shape, local) : plate_normal (shape, local);
  return vec_unit (frame_turn (&shape->frame, local));
}

/* Where a line of sight crosses a surface, in no order yet. */
typedef struct {
  double at[512];
  guint  n;
} Crossings;

static void
cross (Crossings *crossings, double t)
{
  if (crossings->n < G_N_ELEMENTS (crossings->at))
    crossings->at[crossings->n++] = t;
}

/* The side of a turned outline sweeps a cone; a line meets it where its distance from the axis equals the cone's. */
static void
cross_cone (Crossings *crossings, PawlFlat a, PawlFlat b, PawlVec o, PawlVec d)
{
  double k = (b.y - a.y) / (b.x - a.x), q = a.y + k * (o.z - a.x);
  double qa = d.x * d.x + d.y * d.y - k * k * d.z * d.z;
  double qb = o.x * d.x + o.y * d.y - k * d.z * q;
  double qc = o.x * o.x + o.y * o.y - q * q;
  double root[2];
  guint n = 0;

  if (fabs (qa) < 1e-12)
    {
      if (fabs (qb) > 1e-12)
        root[n++] = -qc / (2.0 * qb);
    }
  else if (qb * qb - qa * qc >= 0.0)
    {
      double s = sqrt (qb * qb - qa * qc);

      root[n++] = (-qb - s) / qa;
      root[n++] = (-qb + s) / qa;
    }
  for (guint i = 0; i < n; i++)
    {
      double z = o.z + root[i] * d.z;

      if (z >= MIN (a.x, b.x) && z <= MAX (a.x, b.x) && a.y + k * (z - a.x) >= -1e-9)
        cross (crossings, root[i]);
    }
}

static void
cross_turned (const PawlSolidShape *shape, PawlVec o, PawlVec d, Crossings *crossings)
{
  const PawlSolidOutline *outline = g_ptr_array_index (shape->outlines, 0);

  for (guint i = 0; i < outline->n; i++)
    {
      PawlFlat a = outline->at[i], b = outline->at[(i + 1) % outline->n];

      if (a.y < 1e-9 && b.y < 1e-9)
        continue; /* on the axis: no surface */
      if (fabs (a.x - b.x) < 1e-9)
        {
          double t = (a.x - o.z) / d.z, r = hypot (o.x + t * d.x, o.y + t * d.y);

          if (fabs (d.z) > 1e-12 && r >= MIN (a.y, b.y) && r <= MAX (a.y, b.y))
            cross (crossings, t);
        }
      else
        cross_cone (crossings, a, b, o, d);
    }
}

static void
cross_plate (const PawlSolidShape *shape, PawlVec o, PawlVec d, Crossings *crossings)
{
  if (fabs (d.z) > 1e-12)
    {
      cross (crossings, (shape->z0 - o.z) / d.z);
      cross (crossings, (shape->z1 - o.z) / d.z);
    }
  for (guint k = 0; k < shape->outlines->len; k++)
    {
      const PawlSolidOutline *outline = g_ptr_array_index (shape->outlines, k);

      for (guint i = 0; i < outline->n; i++)
        {
          PawlFlat a = outline->at[i], b = outline->at[(i + 1) % outline->n];
          double ex = b.x - a.x, ey = b.y - a.y, det = d.x * ey - d.y * ex;
          double t, s;

          if (fabs (det) < 1e-12)
            continue;
          t = ((a.x - o.x) * ey - (a.y - o.y) * ex) / det;
          s = ((a.x - o.x) * d.y - (a.y - o.y) * d.x) / det;
          if (s >= 0.0 && s <= 1.0 && o.z + t * d.z >= shape->z0 && o.z + t * d.z <= shape->z1)
            cross (crossings, t);
        }
    }
}

static int
compare_doubles (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* A crossing counted twice at a corner does no harm: each stretch is asked at its middle whether it is inside. */
static void
spans_from_crossings (const PawlSolidShape *shape, PawlVec o, PawlVec d, Crossings *crossings, PawlSolidSpans *spans)
{
  qsort (crossings->at, crossings->n, sizeof (double), compare_doubles);
  for (guint i = 0; i + 1 < crossings->n; i++)
    {
      double from = crossings->at[i], to = crossings->at[i + 1];

      if (to - from < 1e-7 || !holds_local (shape, vec_step (o, (from + to) / 2.0, d)))
        continue;
      if (spans->n > 0 && from - spans->at[spans->n - 1].to < 1e-6)
        spans->at[spans->n - 1].to = to;
      else
        pawl_solid_spans_add (spans, (PawlSolidSpan) { from, to, shape, shape });
    }
}

/* Where the line @o + t @d is inside the wire between two of its points, ends round. @d is a unit vector. */
static gboolean
wire_piece (PawlVec a, PawlVec b, double radius, PawlVec o, PawlVec d, double *from, double *to)
{
  PawlVec axis = vec_sub (b, a), rel = vec_sub (o, a);
  double length = vec_length (axis), along_d, along_o, qa, qb, qc;
  gboolean met = FALSE;

  axis = vec_scale (axis, 1.0 / length);
  along_d = vec_dot (d, axis);
  along_o = vec_dot (rel, axis);
  *from = INFINITY;
  *to = -INFINITY;
  qa = 1.0 - along_d * along_d;
  qb = vec_dot (rel, d) - along_o * along_d;
  qc = vec_dot (rel, rel) - along_o * along_o - radius * radius;
  if (qa > 1e-9 && qb * qb - qa * qc > 0.0)
    for (int sign = -1; sign <= 1; sign += 2)
      {
        double t = (-qb + sign * sqrt (qb * qb - qa * qc)) / qa, z = along_o + t * along_d;

        if (z >= 0.0 && z <= length)
          {
            *from = MIN (*from, t);
            *to = MAX (*to, t);
            met = TRUE;
          }
      }
  for (guint end = 0; end < 2; end++)
    {
      PawlVec r = vec_sub (o, end ? b : a);
      double half = vec_dot (r, d), rest = half * half - vec_dot (r, r) + radius * radius;

      if (rest > 0.0)
        {
          *from = MIN (*from, -half - sqrt (rest));
          *to = MAX (*to, -half + sqrt (rest));
          met = TRUE;
        }
    }
  return met;
}

static int
compare_spans (const void *a, const void *b)
{
  return compare_doubles (&((const PawlSolidSpan *) a)->from, &((const PawlSolidSpan *) b)->from);
}

static void
sight_wire (const PawlSolidShape *shape, PawlVec origin, PawlSolidSpans *spans)
{
  PawlSolidSpans pieces;

  pawl_solid_spans_init (&pieces);
  for (guint i = 0; i + 1 < shape->n_along; i++)
    {
      double from, to;

      if (wire_piece (shape->along[i], shape->along[i + 1], shape->radius, origin, shape->view.toward, &from, &to))
        pawl_solid_spans_add (&pieces, (PawlSolidSpan) { from, to, shape, shape });
    }
  if (pieces.n > 1)
    qsort (pieces.at, pieces.n, sizeof (PawlSolidSpan), compare_spans);
  for (guint i = 0; i < pieces.n; i++)
    if (spans->n > 0 && pieces.at[i].from <= spans->at[spans->n - 1].to + 1e-6)
      spans->at[spans->n - 1].to = MAX (spans->at[spans->n - 1].to, pieces.at[i].to);
    else
      pawl_solid_spans_add (spans, pieces.at[i]);
  pawl_solid_spans_clear (&pieces);
}

/**
 * pawl_solid_shape_sight:
 * @origin: a point on the line of sight, part's frame
 * @spans: empty; filled with the stretches of the line inside the shape, farthest from the viewer first
 */
void
pawl_solid_shape_sight (const PawlSolidShape *shape, PawlVec origin, PawlSolidSpans *spans)
{
  PawlFlat s = pawl_solid_view_point (&shape->view, origin);
  Crossings crossings;
  PawlVec o;

  if (s.x < shape->sheet_low.x || s.y < shape->sheet_low.y || s.x > shape->sheet_high.x || s.y > shape->sheet_high.y)
    return;
  if (shape->kind == PAWL_SHAPE_WIRE)
    {
      sight_wire (shape, origin, spans);
      return;
    }
  crossings.n = 0;
  o = frame_place_back (&shape->frame, origin);
  if (shape->kind == PAWL_SHAPE_TURNED)
    cross_turned (shape, o, shape->local_toward, &crossings);
  else
    cross_plate (shape, o, shape->local_toward, &crossings);
  spans_from_crossings (shape, o, shape->local_toward, &crossings, spans);
}
