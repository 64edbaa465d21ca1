#include "fit/pawl-outline.h"

#include <math.h>

#include "fit/pawl-difference.h"

/* Distances are found to this share of the outline's size. */
#define DISTANCE_PRECISION 1e-7

/* ---- area: exact, by horizontal bands between which no two edges cross ---- */

typedef struct {
  PawlPoint top, bottom; /* top.y < bottom.y */
} Edge;

static void
add_edges (GArray *edges, const PawlPoint *points, guint n_points)
{
  for (guint i = 0; i < n_points; i++)
    {
      PawlPoint p = points[i], q = points[(i + 1) % n_points];
      Edge edge = p.y < q.y ? (Edge) { p, q } : (Edge) { q, p };

      if (p.y != q.y)
        g_array_append_val (edges, edge);
    }
}

static double
edge_x_at (const Edge *edge, double y)
{
  return edge->top.x + (edge->bottom.x - edge->top.x) * (y - edge->top.y) / (edge->bottom.y - edge->top.y);
}

static void
add_crossings (GArray *ys, const GArray *edges)
{
  for (guint i = 0; i < edges->len; i++)
    for (guint j = i + 1; j < edges->len; j++)
      {
        const Edge *e = &g_array_index (edges, Edge, i), *f = &g_array_index (edges, Edge, j);
        double y0 = MAX (e->top.y, f->top.y), y1 = MIN (e->bottom.y, f->bottom.y);
        double d0, d1;

        if (y0 >= y1)
          continue;
        d0 = edge_x_at (e, y0) - edge_x_at (f, y0);
        d1 = edge_x_at (e, y1) - edge_x_at (f, y1);
        if ((d0 < 0) != (d1 < 0) && d0 != d1)
          {
            double y = y0 + (y1 - y0) * d0 / (d0 - d1);

            g_array_append_val (ys, y);
          }
      }
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Even-odd area under all @edges: between two neighbouring ys every edge is straight and none cross, so the middle width is exact. */
static double
sum_bands (const GArray *edges)
{
  g_autoptr(GArray) ys = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr(GArray) xs = g_array_new (FALSE, FALSE, sizeof (double));
  double area = 0;

  for (guint i = 0; i < edges->len; i++)
    {
      const Edge *edge = &g_array_index (edges, Edge, i);

      g_array_append_val (ys, edge->top.y);
      g_array_append_val (ys, edge->bottom.y);
    }
  add_crossings (ys, edges);
  g_array_sort (ys, compare_doubles);
  for (guint band = 0; band + 1 < ys->len; band++)
    {
      double y0 = g_array_index (ys, double, band), y1 = g_array_index (ys, double, band + 1);
      double middle = (y0 + y1) / 2;

      if (y1 <= y0)
        continue;
      g_array_set_size (xs, 0);
      for (guint i = 0; i < edges->len; i++)
        {
          const Edge *edge = &g_array_index (edges, Edge, i);

          if (edge->top.y < middle && middle < edge->bottom.y)
            {
              double x = edge_x_at (edge, middle);

              g_array_append_val (xs, x);
            }
        }
      g_array_sort (xs, compare_doubles);
      for (guint i = 0; i + 1 < xs->len; i += 2)
        area += (g_array_index (xs, double, i + 1) - g_array_index (xs, double, i)) * (y1 - y0);
    }
  return area;
}

double
pawl_outline_area (const PawlPoint *points, guint n_points)
{
  g_autoptr(GArray) edges = g_array_new (FALSE, FALSE, sizeof (Edge));

  add_edges (edges, points, n_points);
  return sum_bands (edges);
}

double
pawl_outline_xor_area (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b)
{
  g_autoptr(GArray) edges = g_array_new (FALSE, FALSE, sizeof (Edge));

  add_edges (edges, a, n_a);
  add_edges (edges, b, n_b);
  return sum_bands (edges);
}

double
pawl_outline_area_difference (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b)
{
  double area = pawl_outline_area (a, n_a);

  return area > 0 ? pawl_outline_xor_area (a, n_a, b, n_b) / area : 0;
}

/* ---- distance ---- */

static PawlPoint
nearest_on_segment (PawlPoint p, PawlPoint a, PawlPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y;
  double square = dx * dx + dy * dy;
  double t = square > 0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;

  return (PawlPoint) { a.x + t * dx, a.y + t * dy };
}

typedef struct {
  PawlPoint at;       /* on one outline */
  double    distance; /* to the other one */
  guint     segment;  /* of the other one, the nearest */
  PawlPoint nearest;  /* on it */
} Probe;

typedef struct {
  const PawlPoint *points;
  guint            n_points;
  double           precision;
  double           largest;
  PawlPoint        from, to;
} Search;

static double
distance_to_segment (const Search *search, PawlPoint p, guint segment, PawlPoint *nearest)
{
  PawlPoint q = nearest_on_segment (p, search->points[segment], search->points[(segment + 1) % search->n_points]);

  if (nearest)
    *nearest = q;
  return hypot (p.x - q.x, p.y - q.y);
}

static Probe
look_at (Search *search, PawlPoint p)
{
  Probe probe = { p, INFINITY, 0, p };

  for (guint i = 0; i < search->n_points; i++)
    {
      PawlPoint nearest;
      double distance = distance_to_segment (search, p, i, &nearest);

      if (distance < probe.distance)
        probe = (Probe) { p, distance, i, nearest };
    }
  if (probe.distance > search->largest)
    {
      search->largest = probe.distance;
      search->from = p;
      search->to = probe.nearest;
    }
  return probe;
}

/* The distance to one segment is largest at an end of the piece from p to q, as it is convex, and the distance to the outline is no more than that: a
 * piece that can't beat the largest yet is passed over, the others are halved. */
static void
look_along (Search *search, const Probe *p, const Probe *q)
{
  double by_p = MAX (p->distance, distance_to_segment (search, q->at, p->segment, NULL));
  double by_q = MAX (q->distance, distance_to_segment (search, p->at, q->segment, NULL));
  Probe middle;

  if (MIN (by_p, by_q) <= search->largest + search->precision)
    return;
  middle = look_at (search, (PawlPoint) { (p->at.x + q->at.x) / 2, (p->at.y + q->at.y) / 2 });
  look_along (search, p, &middle);
  look_along (search, &middle, q);
}

static void
look_from (Search *search, const PawlPoint *points, guint n_points)
{
  g_autofree Probe *probes = g_new (Probe, n_points);

  for (guint i = 0; i < n_points; i++)
    probes[i] = look_at (search, points[i]);
  for (guint i = 0; i < n_points; i++)
    look_along (search, &probes[i], &probes[(i + 1) % n_points]);
}

/* NAN when a point is not finite. */
static double
get_size (const PawlPoint *points, guint n_points)
{
  double size = 0;

  for (guint i = 0; i < n_points; i++)
    {
      double distance = hypot (points[i].x - points[0].x, points[i].y - points[0].y);

      if (!isfinite (distance))
        return NAN;
      size = MAX (size, distance);
    }
  return size;
}

double
pawl_outline_find_distance (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b, PawlPoint *on_a, PawlPoint *on_b)
{
  double precision = DISTANCE_PRECISION * (get_size (a, n_a) + get_size (b, n_b));
  Search to_b = { .points = b, .n_points = n_b, .precision = precision };
  Search to_a = { .points = a, .n_points = n_a, .precision = precision };

  g_return_val_if_fail (n_a > 0 && n_b > 0 && isfinite (precision), NAN);
  look_from (&to_b, a, n_a);
  to_a.largest = to_b.largest; /* only what is farther off is of interest */
  look_from (&to_a, b, n_b);
  if (to_a.largest > to_b.largest)
    {
      if (on_a)
        *on_a = to_a.to;
      if (on_b)
        *on_b = to_a.from;
      return to_a.largest;
    }
  if (on_a)
    *on_a = to_b.from;
  if (on_b)
    *on_b = to_b.to;
  return to_b.largest;
}

double
pawl_outline_distance (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b)
{
  return pawl_outline_find_distance (a, n_a, b, n_b, NULL, NULL);
}

PawlPoint
pawl_outline_find_nearest (const PawlPoint *points, guint n_points, PawlPoint p)
{
  PawlPoint nearest = p;
  double least = INFINITY;

  g_return_val_if_fail (n_points > 0, p);
  for (guint i = 0; i < n_points; i++)
    {
      PawlPoint q = nearest_on_segment (p, points[i], points[(i + 1) % n_points]);

      if (hypot (q.x - p.x, q.y - p.y) < least)
        {
          least = hypot (q.x - p.x, q.y - p.y);
          nearest = q;
        }
    }
  return nearest;
}
