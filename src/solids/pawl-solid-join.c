/* Few long lines out of many short ones. */
#include "solids/pawl-solid-drawing.h"

#include <stdlib.h>

/* Ends of lines by place: cell of the sheet -> list of end numbers (line * 2 + 1 for its last point). */
typedef struct {
  GPtrArray  *lines;
  GHashTable *cells;
  gboolean   *used;
  double      reach;
} Ends;

static gint64
cell_key (double x, double y, double reach)
{
  return (gint64) floor (x / reach) * 4194304 + (gint64) floor (y / reach);
}

static PawlFlat
end_point (const GPtrArray *lines, guint end)
{
  const GArray *line = g_ptr_array_index (lines, end / 2);

  return g_array_index (line, PawlFlat, end % 2 ? line->len - 1 : 0);
}

/* Unit direction of travel out of the line at this end. */
static PawlFlat
end_direction (const GPtrArray *lines, guint end)
{
  const GArray *line = g_ptr_array_index (lines, end / 2);
  PawlFlat a = end_point (lines, end), b = g_array_index (line, PawlFlat, end % 2 ? line->len - 2 : 1);
  double length = hypot (a.x - b.x, a.y - b.y);

  return length > 0.0 ? (PawlFlat) { (a.x - b.x) / length, (a.y - b.y) / length } : (PawlFlat) { 0, 0 };
}

static void
note_end (Ends *ends, guint end)
{
  PawlFlat p = end_point (ends->lines, end);
  gint64 key = cell_key (p.x, p.y, ends->reach);
  GArray *list = g_hash_table_lookup (ends->cells, &key);

  if (list == NULL)
    {
      list = g_array_new (FALSE, FALSE, sizeof (guint));
      g_hash_table_insert (ends->cells, g_memdup2 (&key, sizeof key), list);
    }
  g_array_append_val (list, end);
}

/* The free end within reach of @p that goes on most nearly in @direction. */
static gboolean
find_next (const Ends *ends, PawlFlat p, PawlFlat direction, guint *found)
{
  double best = -2.0;

  for (int dx = -1; dx <= 1; dx++)
    for (int dy = -1; dy <= 1; dy++)
      {
        gint64 key = cell_key (p.x + dx * ends->reach, p.y + dy * ends->reach, ends->reach);
        const GArray *list = g_hash_table_lookup (ends->cells, &key);

        for (guint i = 0; list != NULL && i < list->len; i++)
          {
            guint end = g_array_index (list, guint, i);
            PawlFlat q = end_point (ends->lines, end), d = end_direction (ends->lines, end);
            double along = -(d.x * direction.x + d.y * direction.y);

            if (!ends->used[end / 2] && hypot (p.x - q.x, p.y - q.y) <= ends->reach && along > best + 1e-9)
              {
                best = along;
                *found = end;
              }
          }
      }
  return best > -1.5;
}

/* Appends the points of the line of @end, beginning at that end, without its first point. */
static void
append_from (GArray *chain, const GPtrArray *lines, guint end)
{
  const GArray *line = g_ptr_array_index (lines, end / 2);

  for (guint k = 1; k < line->len; k++)
    {
      PawlFlat p = g_array_index (line, PawlFlat, end % 2 ? line->len - 1 - k : k);

      g_array_append_val (chain, p);
    }
}

static void
grow (GArray *chain, Ends *ends)
{
  guint next;

  while (chain->len > 1)
    {
      PawlFlat p = g_array_index (chain, PawlFlat, chain->len - 1), q = g_array_index (chain, PawlFlat, chain->len - 2);
      PawlFlat first = g_array_index (chain, PawlFlat, 0);
      double length = hypot (p.x - q.x, p.y - q.y);
      PawlFlat direction = { (p.x - q.x) / MAX (length, 1e-9), (p.y - q.y) / MAX (length, 1e-9) };

      if (chain->len > 3 && hypot (p.x - first.x, p.y - first.y) < 1e-3)
        return; /* a ring */
      if (!find_next (ends, p, direction, &next))
        return;
      ends->used[next / 2] = TRUE;
      append_from (chain, ends->lines, next);
    }
}

static void
reverse (GArray *line)
{
  for (guint i = 0; i < line->len / 2; i++)
    {
      PawlFlat *a = &g_array_index (line, PawlFlat, i), *b = &g_array_index (line, PawlFlat, line->len - 1 - i), swap = *a;

      *a = *b;
      *b = swap;
    }
}

/**
 * pawl_solid_lines_join:
 * @take_lines: (transfer full): lines of two points or more
 * @reach: ends that are this near are the same point
 *
 * Returns: (transfer full): the same lines, chained end to end where they go on.
 */
GPtrArray *
pawl_solid_lines_join (GPtrArray *take_lines, double reach)
{
  GPtrArray *joined = pawl_solid_lines_new ();
  Ends ends = { .lines = take_lines, .reach = reach };

  ends.cells = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) g_array_unref);
  ends.used = g_new0 (gboolean, take_lines->len + 1);
  for (guint i = 0; i < take_lines->len; i++)
    {
      const GArray *line = g_ptr_array_index (take_lines, i);

      if (line->len < 2)
        {
          ends.used[i] = TRUE;
          continue;
        }
      note_end (&ends, 2 * i);
      note_end (&ends, 2 * i + 1);
    }
  for (guint i = 0; i < take_lines->len; i++)
    if (!ends.used[i])
      {
        const GArray *line = g_ptr_array_index (take_lines, i);
        GArray *chain = g_array_new (FALSE, FALSE, sizeof (PawlFlat));

        ends.used[i] = TRUE;
        g_array_append_vals (chain, line->data, line->len);
        grow (chain, &ends);
        reverse (chain);
        grow (chain, &ends);
        g_ptr_array_add (joined, chain);
      }
  g_hash_table_unref (ends.cells);
  g_free (ends.used);
  g_ptr_array_unref (take_lines);
  return joined;
}

static double
distance_to_chord (PawlFlat p, PawlFlat a, PawlFlat b)
{
  double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
  double s = length > 0.0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0.0, 1.0) : 0.0;

  return hypot (a.x + s * dx - p.x, a.y + s * dy - p.y);
}

static void
mark_kept (const GArray *line, guint first, guint last, double tolerance, gboolean *keep)
{
  double worst = 0.0;
  guint at = first;

  for (guint i = first + 1; i < last; i++)
    {
      double d = distance_to_chord (g_array_index (line, PawlFlat, i), g_array_index (line, PawlFlat, first),
                                    g_array_index (line, PawlFlat, last));

      if (d > worst)
        {
          worst = d;
          at = i;
        }
    }
  if (worst <= tolerance)
    return;
  keep[at] = TRUE;
  mark_kept (line, first, at, tolerance, keep);
  mark_kept (line, at, last, tolerance, keep);
}

/* Drops the points that lie within @tolerance of the line through the points that stay (Ramer; Douglas and Peucker). */
void
pawl_solid_line_thin (GArray *line, double tolerance)
{
  g_autofree gboolean *keep = g_new0 (gboolean, line->len + 1);
  guint n = 0;

  if (line->len < 3)
    return;
  keep[0] = keep[line->len - 1] = TRUE;
  mark_kept (line, 0, line->len - 1, tolerance, keep);
  for (guint i = 0; i < line->len; i++)
    if (keep[i])
      g_array_index (line, PawlFlat, n++) = g_array_index (line, PawlFlat, i);
  g_array_set_size (line, n);
}
