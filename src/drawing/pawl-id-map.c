#include "drawing/pawl-id-map.h"

#include <math.h>

#include "drawing/pawl-figure-private.h"

/* Depth is counted in thirds of a cell: a step along costs 3, across the corner 4 (chamfer distance; from memory). */
#define DEPTH_OF_CELL 3
#define SHARE_OF_DEEPEST 0.6

typedef struct _PawlIdMapEntry {
  guint   n_cells;
  int     x0, y0, x1, y1; /* of the visible cells, x1 and y1 past the last */
  double *hatch_deg;
  guint   n_hatch;
} Entry;

PawlIdMap *
pawl_id_map_new (double width, double height, guint n_cells, guint n_who)
{
  PawlIdMap *self = g_new0 (PawlIdMap, 1);
  int n;

  g_return_val_if_fail (width > 0 && height > 0 && n_cells > 0 && n_who < PAWL_ID_MAP_NOBODY, NULL);
  self->width = width;
  self->height = height;
  self->scale = n_cells / MAX (width, height);
  self->n_columns = MAX (1, (int) ceil (width * self->scale - 1e-9));
  self->n_rows = MAX (1, (int) ceil (height * self->scale - 1e-9));
  self->n_who = n_who;
  n = self->n_columns * self->n_rows;
  self->who = g_new (guint16, n);
  for (int i = 0; i < n; i++)
    self->who[i] = PAWL_ID_MAP_NOBODY;
  self->has_guide = g_new0 (guint8, n);
  self->depth = g_new0 (guint16, n);
  self->taken = g_new0 (guint32, (self->n_columns + 1) * (self->n_rows + 1));
  self->guided = g_new0 (guint32, (self->n_columns + 1) * (self->n_rows + 1));
  self->entries = g_new0 (Entry, n_who + 1);
  return self;
}

void
pawl_id_map_free (PawlIdMap *self)
{
  if (!self)
    return;
  for (guint i = 0; i < self->n_who; i++)
    g_free (self->entries[i].hatch_deg);
  g_free (self->entries);
  g_free (self->guided);
  g_free (self->taken);
  g_free (self->depth);
  g_free (self->has_guide);
  g_free (self->who);
  g_free (self);
}

/* First cell whose middle is not before @at. */
static int
get_cell (double at, double scale, int n)
{
  return (int) CLAMP (ceil (at * scale - 0.5), 0, n);
}

void
pawl_id_map_cover (PawlIdMap *self, guint16 who, PawlBox box)
{
  int x0 = get_cell (box.x, self->scale, self->n_columns), x1 = get_cell (box.x + box.width, self->scale, self->n_columns);
  int y0 = get_cell (box.y, self->scale, self->n_rows), y1 = get_cell (box.y + box.height, self->scale, self->n_rows);

  g_return_if_fail (who < self->n_who);
  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      self->who[y * self->n_columns + x] = who;
}

void
pawl_id_map_set_hatch (PawlIdMap *self, guint16 who, const double *angles_deg, guint n_angles)
{
  g_return_if_fail (who < self->n_who);
  g_free (self->entries[who].hatch_deg);
  self->entries[who].hatch_deg = g_memdup2 (angles_deg, n_angles * sizeof (double));
  self->entries[who].n_hatch = n_angles;
}

/* ---- finishing ---- */

static guint16
get_who (const PawlIdMap *self, int x, int y)
{
  return x < 0 || y < 0 || x >= self->n_columns || y >= self->n_rows ? PAWL_ID_MAP_NOBODY : self->who[y * self->n_columns + x];
}

/* One sweep of the distance transform: @sign 1 from the upper left, -1 back. Another part beside counts as the edge. */
static void
sweep (PawlIdMap *self, int sign)
{
  static const struct { int dx, dy, step; } near[4] = { { -1, 0, 3 }, { 0, -1, 3 }, { -1, -1, 4 }, { 1, -1, 4 } };
  int n = self->n_columns * self->n_rows;

  for (int i = 0; i < n; i++)
    {
      int at = sign > 0 ? i : n - 1 - i;
      int x = at % self->n_columns, y = at / self->n_columns;
      guint16 who = self->who[at];

      if (who == PAWL_ID_MAP_NOBODY)
        continue;
      for (int k = 0; k < 4; k++)
        {
          int nx = x + sign * near[k].dx, ny = y + sign * near[k].dy;
          int beside = get_who (self, nx, ny) == who ? self->depth[ny * self->n_columns + nx] : 0;

          self->depth[at] = (guint16) MIN ((int) self->depth[at], beside + near[k].step);
        }
    }
}

static void
measure_depths (PawlIdMap *self)
{
  for (int i = 0; i < self->n_columns * self->n_rows; i++)
    self->depth[i] = G_MAXUINT16;
  sweep (self, 1);
  sweep (self, -1);
}

static void
note_entries (PawlIdMap *self)
{
  for (int y = 0; y < self->n_rows; y++)
    for (int x = 0; x < self->n_columns; x++)
      {
        guint16 who = get_who (self, x, y);
        Entry *entry;

        if (who == PAWL_ID_MAP_NOBODY)
          continue;
        entry = &self->entries[who];
        entry->x0 = entry->n_cells ? MIN (entry->x0, x) : x;
        entry->y0 = entry->n_cells ? MIN (entry->y0, y) : y;
        entry->x1 = MAX (entry->x1, x + 1);
        entry->y1 = MAX (entry->y1, y + 1);
        entry->n_cells++;
      }
}

/* Paper that can be reached from the edge of the drawing without crossing ink. */
static guint8 *
flood_paper (const PawlIdMap *self)
{
  int n = self->n_columns * self->n_rows;
  guint8 *is_open = g_new0 (guint8, n);
  g_autofree int *stack = g_new (int, n + 1);
  int n_stack = 0;

#define VISIT(at) G_STMT_START { int visited = (at); \
    if (!is_open[visited] && self->who[visited] == PAWL_ID_MAP_NOBODY) { is_open[visited] = 1; stack[n_stack++] = visited; } } G_STMT_END
  for (int x = 0; x < self->n_columns; x++)
    {
      VISIT (x);
      VISIT (n - 1 - x);
    }
  for (int y = 0; y < self->n_rows; y++)
    {
      VISIT (y * self->n_columns);
      VISIT (y * self->n_columns + self->n_columns - 1);
    }
  while (n_stack > 0)
    {
      int at = stack[--n_stack], x = at % self->n_columns;

      if (x > 0)
        VISIT (at - 1);
      if (x < self->n_columns - 1)
        VISIT (at + 1);
      if (at >= self->n_columns)
        VISIT (at - self->n_columns);
      if (at < n - self->n_columns)
        VISIT (at + self->n_columns);
    }
#undef VISIT
  return is_open;
}

static void
sum_up (const PawlIdMap *self, const guint8 *cells, gboolean counts_zero, guint32 *sums)
{
  int stride = self->n_columns + 1;

  for (int y = 0; y < self->n_rows; y++)
    {
      guint32 row = 0;

      for (int x = 0; x < self->n_columns; x++)
        {
          row += (cells[y * self->n_columns + x] == 0) == counts_zero;
          sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1] + row;
        }
    }
}

void
pawl_id_map_finish (PawlIdMap *self)
{
  g_autofree guint8 *is_open = NULL;

  g_return_if_fail (self != NULL);
  measure_depths (self);
  note_entries (self);
  is_open = flood_paper (self);
  sum_up (self, is_open, TRUE, self->taken);
  sum_up (self, self->has_guide, FALSE, self->guided);
}

/* ---- asking ---- */

/* Cells that @box touches and that are counted in @sums. */
static guint32
count_in (const PawlIdMap *self, const guint32 *sums, PawlBox box)
{
  int stride = self->n_columns + 1;
  int x0 = (int) CLAMP (floor (box.x * self->scale), 0, self->n_columns), x1 = (int) CLAMP (ceil ((box.x + box.width) * self->scale), 0, self->n_columns);
  int y0 = (int) CLAMP (floor (box.y * self->scale), 0, self->n_rows), y1 = (int) CLAMP (ceil ((box.y + box.height) * self->scale), 0, self->n_rows);

  return sums[y1 * stride + x1] - sums[y0 * stride + x1] - sums[y1 * stride + x0] + sums[y0 * stride + x0];
}

gboolean
pawl_id_map_is_free (const PawlIdMap *self, PawlBox box)
{
  if (box.x < 0 || box.y < 0 || box.x + box.width > self->width || box.y + box.height > self->height)
    return FALSE;
  return count_in (self, self->taken, box) == 0;
}

gboolean
pawl_id_map_has_guide (const PawlIdMap *self, PawlBox box)
{
  return count_in (self, self->guided, box) > 0;
}

double
pawl_id_map_get_area (const PawlIdMap *self, guint16 who)
{
  return who < self->n_who ? self->entries[who].n_cells / (self->scale * self->scale) : 0;
}

static double
get_least_square (const PawlSpot *spots, guint n, PawlPoint at)
{
  double least = INFINITY;

  for (guint i = 0; i < n; i++)
    {
      double x = spots[i].at.x - at.x, y = spots[i].at.y - at.y;

      least = MIN (least, x * x + y * y);
    }
  return least;
}

/* @least_depth: thirds of a cell. With no spots yet, the deepest; else the one furthest from those there are. */
static gboolean
find_next_spot (const PawlIdMap *self, guint16 who, int least_depth, PawlSpot *spots, guint n)
{
  const Entry *entry = &self->entries[who];
  double best = 0;

  for (int y = entry->y0; y < entry->y1; y++)
    for (int x = entry->x0; x < entry->x1; x++)
      {
        int at = y * self->n_columns + x;
        PawlPoint middle = { (x + 0.5) / self->scale, (y + 0.5) / self->scale };
        double value;

        if (self->who[at] != who || self->depth[at] < least_depth)
          continue;
        value = n ? get_least_square (spots, n, middle) : self->depth[at];
        if (value <= best)
          continue;
        best = value;
        spots[n] = (PawlSpot) { middle, self->depth[at] / (DEPTH_OF_CELL * self->scale) };
      }
  return best > 0;
}

guint
pawl_id_map_find_spots (const PawlIdMap *self, guint16 who, double enough, PawlSpot *spots, guint max_spots)
{
  double apart = MAX (enough, 2 / self->scale);
  int least_depth;
  guint n = 1;

  g_return_val_if_fail (who < self->n_who && max_spots > 0, 0);
  if (!find_next_spot (self, who, 0, spots, 0))
    return 0;
  least_depth = (int) ceil (MIN (SHARE_OF_DEEPEST * spots[0].depth, enough) * DEPTH_OF_CELL * self->scale);
  /* Spots closer together than this make no difference to a leader. */
  while (n < max_spots && find_next_spot (self, who, least_depth, spots, n) && get_least_square (spots, n, spots[n].at) >= apart * apart)
    n++;
  return n;
}

static gboolean
is_parallel (const Entry *entry, double angle_deg, double least_deg)
{
  for (guint i = 0; i < entry->n_hatch; i++)
    if (fabs (remainder (angle_deg - entry->hatch_deg[i], 180)) < least_deg)
      return TRUE;
  return FALSE;
}

PawlWalk
pawl_id_map_walk (const PawlIdMap *self, guint16 own, PawlPoint from, PawlPoint to, double small_area, double least_angle_deg)
{
  PawlWalk walk = { 0 };
  double length = hypot (to.x - from.x, to.y - from.y), angle_deg = atan2 (to.y - from.y, to.x - from.x) * 180 / G_PI;
  int n_steps = MAX (1, (int) ceil (length * self->scale));
  double small_cells = small_area * self->scale * self->scale;
  guint16 last = PAWL_ID_MAP_NOBODY;

  for (int i = 0; i <= n_steps; i++)
    {
      double share = (double) i / n_steps;
      int x = (int) floor ((from.x + share * (to.x - from.x)) * self->scale), y = (int) floor ((from.y + share * (to.y - from.y)) * self->scale);
      guint16 who = get_who (self, x, y);

      if (who == PAWL_ID_MAP_NOBODY)
        {
          last = who;
          continue;
        }
      if (who != last)
        walk.is_parallel |= is_parallel (&self->entries[who], angle_deg, least_angle_deg);
      if (who != own)
        {
          walk.over += length / n_steps;
          walk.n_others += who != last;
          walk.n_small += who != last && self->entries[who].n_cells < small_cells;
        }
      last = who;
    }
  return walk;
}
