/* Outlines of an image: marching squares, each loop followed once, then thinned out. */
#include <math.h>

#include "drawing/pawl-figure-private.h"

typedef struct {
  const guint8 *data;
  int           stride, width, height;
  int           step, offset; /* bytes per pixel, and where its alpha is */
  double        threshold;
  guint8       *seen; /* one for each cell: the loop through its left edge has been followed */
} Grid;

static double
get_alpha (const Grid *grid, int x, int y)
{
  if (x < 0 || y < 0 || x >= grid->width || y >= grid->height)
    return 0;
  return grid->data[y * grid->stride + x * grid->step + grid->offset];
}

static gboolean
is_inside (const Grid *grid, int x, int y)
{
  return get_alpha (grid, x, y) >= grid->threshold;
}

/* Where between the middles of two pixels the threshold is crossed. */
static PawlPoint
cross (const Grid *grid, int x0, int y0, int x1, int y1)
{
  double a = get_alpha (grid, x0, y0), b = get_alpha (grid, x1, y1);
  double t = a == b ? 0.5 : CLAMP ((grid->threshold - a) / (b - a), 0, 1);

  return (PawlPoint) { x0 + 0.5 + t * (x1 - x0), y0 + 0.5 + t * (y1 - y0) };
}

enum { LEFT, TOP, RIGHT, BOTTOM };

/* The edge by which a loop that came in by @in leaves the cell whose upper left corner is (x, y), with the inside always on the same hand. */
static int
find_way_out (const Grid *grid, int x, int y, int in)
{
  gboolean corner[4] = { is_inside (grid, x, y), is_inside (grid, x + 1, y), is_inside (grid, x + 1, y + 1), is_inside (grid, x, y + 1) };
  /* Edges in clockwise order have these corners at their ends: LEFT 3-0, TOP 0-1, RIGHT 1-2, BOTTOM 2-3. */
  static const int first[4] = { 3, 0, 1, 2 }, second[4] = { 0, 1, 2, 3 };

  /* Clockwise or counter-clockwise, whichever keeps to the inside corner that we came in beside. */
  for (int k = 1; k <= 3; k++)
    {
      int out = corner[second[in]] ? (in + k) % 4 : (in + 4 - k) % 4;

      if (corner[first[out]] != corner[second[out]])
        return out;
    }
  return -1;
}

static GArray *
follow (Grid *grid, int x, int y)
{
  static const int dx[4] = { -1, 0, 1, 0 }, dy[4] = { 0, -1, 0, 1 };
  GArray *loop = g_array_new (FALSE, FALSE, sizeof (PawlPoint));
  int start_x = x, start_y = y, in = LEFT;
  int limit = 8 * (grid->width + 2) * (grid->height + 2);

  do
    {
      int out = find_way_out (grid, x, y, in);
      PawlPoint p;

      if (out < 0 || limit-- < 0)
        break;
      p = out == LEFT ? cross (grid, x, y, x, y + 1) : out == TOP ? cross (grid, x, y, x + 1, y)
          : out == RIGHT ? cross (grid, x + 1, y, x + 1, y + 1) : cross (grid, x, y + 1, x + 1, y + 1);
      g_array_append_val (loop, p);
      if (out == LEFT)
        grid->seen[(y + 1) * (grid->width + 2) + x + 1] = 1;
      x += dx[out];
      y += dy[out];
      in = (out + 2) % 4;
      if (in == LEFT)
        grid->seen[(y + 1) * (grid->width + 2) + x + 1] = 1;
    }
  while (x != start_x || y != start_y || in != LEFT);
  return loop;
}

/* Twice the signed area. */
static double
turn (const GArray *loop)
{
  double sum = 0;

  for (guint i = 0; i < loop->len; i++)
    {
      PawlPoint p = g_array_index (loop, PawlPoint, i), q = g_array_index (loop, PawlPoint, (i + 1) % loop->len);

      sum += p.x * q.y - q.x * p.y;
    }
  return sum;
}

/* Keeps what lies farther than @tolerance from the line between its kept neighbours (Douglas and Peucker's rule). */
static void
thin (const GArray *loop, guint from, guint to, double tolerance, GArray *kept)
{
  PawlPoint a = g_array_index (loop, PawlPoint, from), b = g_array_index (loop, PawlPoint, to);
  double length = hypot (b.x - a.x, b.y - a.y), farthest = tolerance;
  guint at = 0;

  for (guint i = from + 1; i < to; i++)
    {
      PawlPoint p = g_array_index (loop, PawlPoint, i);
      double distance = length > 0 ? fabs ((b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x)) / length : hypot (p.x - a.x, p.y - a.y);

      if (distance > farthest)
        {
          farthest = distance;
          at = i;
        }
    }
  if (at)
    {
      thin (loop, from, at, tolerance, kept);
      g_array_append_vals (kept, &g_array_index (loop, PawlPoint, at), 1);
      thin (loop, at, to, tolerance, kept);
    }
}

static GArray *
thin_loop (const GArray *loop, double tolerance)
{
  GArray *kept = g_array_new (FALSE, FALSE, sizeof (PawlPoint));
  guint half = loop->len / 2;

  g_array_append_vals (kept, &g_array_index (loop, PawlPoint, 0), 1);
  thin (loop, 0, half, tolerance, kept);
  g_array_append_vals (kept, &g_array_index (loop, PawlPoint, half), 1);
  thin (loop, half, loop->len - 1, tolerance, kept);
  return kept;
}

GPtrArray *
pawl_trace_outlines (cairo_surface_t *image, guint threshold, double tolerance)
{
  GPtrArray *outlines = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  gboolean is_a8 = cairo_image_surface_get_format (image) == CAIRO_FORMAT_A8;
  Grid grid = { 0 };

  cairo_surface_flush (image);
  grid.data = cairo_image_surface_get_data (image);
  grid.stride = cairo_image_surface_get_stride (image);
  grid.width = cairo_image_surface_get_width (image);
  grid.height = cairo_image_surface_get_height (image);
  grid.step = is_a8 ? 1 : 4;
  grid.offset = is_a8 || G_BYTE_ORDER == G_BIG_ENDIAN ? 0 : 3;
  grid.threshold = threshold;
  grid.seen = g_new0 (guint8, (gsize) (grid.width + 2) * (grid.height + 2));
  for (int y = -1; y < grid.height; y++)
    for (int x = -1; x < grid.width; x++)
      if (is_inside (&grid, x, y + 1) != is_inside (&grid, x, y) && !grid.seen[(y + 1) * (grid.width + 2) + x + 1])
        {
          g_autoptr(GArray) loop = follow (&grid, x, y);

          /* The first meeting with a loop is at its top: an outer one has the inside below. Holes are followed too, to be passed over. */
          if (is_inside (&grid, x, y + 1) && loop->len > 3 && fabs (turn (loop)) > 2)
            g_ptr_array_add (outlines, thin_loop (loop, tolerance));
        }
  g_free (grid.seen);
  return outlines;
}
