/* A pane of the sketch: its items, and which cells of it they take, so that words find room. */
#include <math.h>
#include <string.h>

#include "drawing/pawl-sketch-private.h"

/* Size of a cell, and the margin round words, as shares of the text's size. */
#define CELL_SHARE 0.2
#define MARGIN_SHARE 0.22
#define HEAD_LENGTH 0.75
#define ARC_STEP 0.06

enum {
  INK = 1 << 0,   /* a line */
  AREA = 1 << 1,  /* the filled area of a part */
  WORDS = 1 << 2, /* a text, a leader, a dimension */
  TEXT = 1 << 3,  /* a text */
};

static void
free_item (gpointer data)
{
  PawlSketchItem *item = data;

  g_clear_object (&item->layout);
  g_free (item->points);
  g_free (item);
}

PawlSketchPane *
pawl_sketch_pane_new (PawlBox room, double text)
{
  PawlSketchPane *self = g_new0 (PawlSketchPane, 1);

  self->room = room;
  self->text = text;
  self->items = g_ptr_array_new_with_free_func (free_item);
  self->cell = CELL_SHARE * text;
  self->columns = MAX (1, (int) floor (room.width / self->cell));
  self->rows = MAX (1, (int) floor (room.height / self->cell));
  self->cells = g_new0 (guint8, (gsize) self->columns * self->rows);
  return self;
}

void
pawl_sketch_pane_free (PawlSketchPane *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->items);
  g_free (self->cells);
  g_free (self);
}

/* ---- cells ---- */

static guint8 *
find_cell (const PawlSketchPane *self, double x, double y)
{
  int column = (int) floor ((x - self->room.x) / self->cell), row = (int) floor ((y - self->room.y) / self->cell);

  if (column < 0 || row < 0 || column >= self->columns || row >= self->rows)
    return NULL;
  return self->cells + (gsize) row * self->columns + column;
}

static void
mark_line (PawlSketchPane *self, PawlPoint p, PawlPoint q, guint8 bit)
{
  int n = MAX (1, (int) MIN (2 * hypot (q.x - p.x, q.y - p.y) / self->cell, 4000));

  for (int i = 0; i <= n; i++)
    {
      guint8 *cell = find_cell (self, p.x + (q.x - p.x) * i / n, p.y + (q.y - p.y) * i / n);

      if (cell)
        *cell |= bit;
    }
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Where the polygon crosses the level @y, from left to right. */
static void
find_crossings (const PawlPoint *points, guint n, double y, GArray *crossings)
{
  g_array_set_size (crossings, 0);
  for (guint i = 0; i < n; i++)
    {
      PawlPoint a = points[i], b = points[(i + 1) % n];

      if ((a.y <= y) != (b.y <= y))
        {
          double x = a.x + (y - a.y) / (b.y - a.y) * (b.x - a.x);

          g_array_append_val (crossings, x);
        }
    }
  g_array_sort (crossings, compare_doubles);
}

/* Clears @clear and sets @set in the cells whose middle is in the polygon, by the even-odd rule. */
static void
fill_cells (PawlSketchPane *self, const PawlPoint *points, guint n, guint8 clear, guint8 set)
{
  g_autoptr(GArray) crossings = g_array_new (FALSE, FALSE, sizeof (double));
  double top = INFINITY, bottom = -INFINITY;

  for (guint i = 0; i < n; i++)
    {
      top = MIN (top, points[i].y);
      bottom = MAX (bottom, points[i].y);
    }
  for (int row = MAX (0, (int) floor ((top - self->room.y) / self->cell)); row < self->rows && self->room.y + row * self->cell <= bottom; row++)
    {
      find_crossings (points, n, self->room.y + (row + 0.5) * self->cell, crossings);
      for (guint i = 0; i + 1 < crossings->len; i += 2)
        {
          int from = (int) ceil ((g_array_index (crossings, double, i) - self->room.x) / self->cell - 0.5);
          int to = (int) floor ((g_array_index (crossings, double, i + 1) - self->room.x) / self->cell - 0.5);

          for (int column = MAX (0, from); column <= MIN (to, self->columns - 1); column++)
            {
              guint8 *cell = self->cells + (gsize) row * self->columns + column;

              *cell = (*cell & ~clear) | set;
            }
        }
    }
}

/* With a margin, so that a line between the middles of cells stays clear. */
static void
mark_box (PawlSketchPane *self, PawlBox box, guint8 bit)
{
  double x0 = box.x - self->cell, y0 = box.y - self->cell / 2, x1 = box.x + box.width + self->cell, y1 = box.y + box.height + self->cell / 2;
  PawlPoint corners[] = { { x0, y0 }, { x1, y0 }, { x1, y1 }, { x0, y1 } };

  fill_cells (self, corners, G_N_ELEMENTS (corners), 0, bit);
}

static void
get_range (const PawlSketchPane *self, PawlBox box, int *c0, int *r0, int *c1, int *r1)
{
  *c0 = CLAMP ((int) floor ((box.x - self->room.x) / self->cell), 0, self->columns - 1);
  *r0 = CLAMP ((int) floor ((box.y - self->room.y) / self->cell), 0, self->rows - 1);
  *c1 = CLAMP ((int) floor ((box.x + box.width - self->room.x) / self->cell), 0, self->columns - 1);
  *r1 = CLAMP ((int) floor ((box.y + box.height - self->room.y) / self->cell), 0, self->rows - 1);
}

static guint
count_cells (const PawlSketchPane *self, PawlBox box, guint8 bits, guint most)
{
  int c0, r0, c1, r1;
  guint n = 0;

  get_range (self, box, &c0, &r0, &c1, &r1);
  for (int row = r0; row <= r1 && n < most; row++)
    for (int column = c0; column <= c1; column++)
      n += (self->cells[(gsize) row * self->columns + column] & bits) != 0;
  return n;
}

gboolean
pawl_sketch_pane_is_free (const PawlSketchPane *self, PawlBox box)
{
  double margin = MARGIN_SHARE * self->text;
  PawlBox wide = { box.x - margin, box.y - margin / 2, box.width + 2 * margin, box.height + margin };

  if (wide.x < self->room.x || wide.y < self->room.y || wide.x + wide.width > self->room.x + self->room.width
      || wide.y + wide.height > self->room.y + self->room.height)
    return FALSE;
  return count_cells (self, wide, INK | WORDS, 1) == 0;
}

gboolean
pawl_sketch_pane_line_is_free (const PawlSketchPane *self, PawlPoint from, PawlPoint to, PawlSketchClear clear)
{
  static const guint8 masks[] = { INK | WORDS, WORDS, TEXT };
  int n = MAX (1, (int) (2 * hypot (to.x - from.x, to.y - from.y) / self->cell));

  for (int i = 0; i <= n; i++)
    {
      const guint8 *cell = find_cell (self, from.x + (to.x - from.x) * i / n, from.y + (to.y - from.y) * i / n);

      if (!cell || (*cell & masks[clear]))
        return FALSE;
    }
  return TRUE;
}

double
pawl_sketch_pane_get_cover (const PawlSketchPane *self, PawlBox box)
{
  int c0, r0, c1, r1;

  get_range (self, box, &c0, &r0, &c1, &r1);
  return (double) count_cells (self, box, AREA, G_MAXUINT) / ((c1 - c0 + 1) * (r1 - r0 + 1));
}

/* ---- items ---- */

static PawlSketchItem *
add_item (PawlSketchPane *self, PawlSketchLook look, const PawlPoint *points, guint n_points)
{
  PawlSketchItem *item = g_new0 (PawlSketchItem, 1);

  item->look = look;
  item->points = g_memdup2 (points, n_points * sizeof (PawlPoint));
  item->n_points = n_points;
  g_ptr_array_add (self->items, item);
  return item;
}

static void
mark_outline (PawlSketchPane *self, const PawlSketchItem *item, guint8 bit)
{
  for (guint i = 0; i + 1 < item->n_points; i++)
    mark_line (self, item->points[i], item->points[i + 1], bit);
  if (item->is_closed && item->n_points > 1)
    mark_line (self, item->points[item->n_points - 1], item->points[0], bit);
}

/* What is filled covers what was there; what is hatched takes all its room. */
static void
mark_stroke (PawlSketchPane *self, const PawlSketchItem *item)
{
  if (item->is_filled)
    fill_cells (self, item->points, item->n_points, INK | AREA, item->kind == PAWL_STROKE_OUTLINE ? AREA : 0);
  if ((item->kind == PAWL_STROKE_NEIGHBOUR && item->is_closed) || item->kind == PAWL_STROKE_BLOCKED)
    fill_cells (self, item->points, item->n_points, 0, INK);
  mark_outline (self, item, INK);
}

void
pawl_sketch_pane_add_stroke (PawlSketchPane *self, const PawlStroke *stroke, double scale, PawlPoint origin, gboolean is_in_lens)
{
  PawlSketchItem *item;

  if (stroke->n_points < 2 || stroke->kind == PAWL_STROKE_DIFFERENCE || stroke->kind == PAWL_STROKE_DIMENSION || stroke->kind == PAWL_STROKE_ROW || stroke->kind == PAWL_STROKE_NAME)
    return;
  item = add_item (self, PAWL_LOOK_STROKE, stroke->points, stroke->n_points);
  item->kind = stroke->kind;
  item->is_closed = stroke->is_closed;
  item->is_filled = stroke->is_filled;
  item->is_in_lens = is_in_lens;
  for (guint i = 0; i < item->n_points; i++)
    item->points[i] = (PawlPoint) { origin.x + scale * item->points[i].x, origin.y + scale * item->points[i].y };
  if (!is_in_lens)
    mark_stroke (self, item);
}

PawlSketchItem *
pawl_sketch_pane_add_line (PawlSketchPane *self, PawlSketchLook look, const PawlPoint *points, guint n_points, gboolean is_closed)
{
  PawlSketchItem *item = add_item (self, look, points, n_points);

  item->is_closed = is_closed;
  mark_outline (self, item, WORDS);
  return item;
}

void
pawl_sketch_pane_add_arc (PawlSketchPane *self, PawlSketchLook look, PawlPoint middle, double radius, double from, double to)
{
  guint n = MAX (2, (guint) ceil (fabs (to - from) / ARC_STEP));
  g_autofree PawlPoint *points = g_new (PawlPoint, n + 1);

  for (guint i = 0; i <= n; i++)
    {
      double angle = from + (to - from) * i / n;

      points[i] = (PawlPoint) { middle.x + radius * cos (angle), middle.y + radius * sin (angle) };
    }
  pawl_sketch_pane_add_line (self, look, points, n + 1, FALSE);
}

void
pawl_sketch_pane_add_circle (PawlSketchPane *self, PawlSketchLook look, PawlPoint middle, double radius)
{
  PawlPoint points[72];
  PawlSketchItem *item;

  for (guint i = 0; i < G_N_ELEMENTS (points); i++)
    {
      double angle = 2 * G_PI * i / G_N_ELEMENTS (points);

      points[i] = (PawlPoint) { middle.x + radius * cos (angle), middle.y + radius * sin (angle) };
    }
  item = pawl_sketch_pane_add_line (self, look, points, G_N_ELEMENTS (points), TRUE);
  if (look == PAWL_LOOK_LENS || look == PAWL_LOOK_HEAD)
    fill_cells (self, item->points, item->n_points, AREA, WORDS);
}

void
pawl_sketch_pane_add_head (PawlSketchPane *self, PawlSketchLook look, PawlPoint from, PawlPoint tip)
{
  double dx = tip.x - from.x, dy = tip.y - from.y, length = MAX (hypot (dx, dy), 1e-9), size = HEAD_LENGTH * self->text;
  PawlPoint points[3] = { tip };

  if (look == PAWL_LOOK_STRONG_HEAD)
    size *= 1.25;
  dx *= size / length;
  dy *= size / length;
  points[1] = (PawlPoint) { tip.x - dx - 0.28 * dy, tip.y - dy + 0.28 * dx };
  points[2] = (PawlPoint) { tip.x - dx + 0.28 * dy, tip.y - dy - 0.28 * dx };
  pawl_sketch_pane_add_line (self, look, points, 3, TRUE);
}

void
pawl_sketch_pane_add_text (PawlSketchPane *self, PangoLayout *layout, PawlPoint corner, PawlSketchTone tone)
{
  PawlSketchItem *item = add_item (self, PAWL_LOOK_TEXT, &corner, 1);

  item->layout = g_object_ref (layout);
  item->tone = tone;
  item->box = (PawlBox) { corner.x, corner.y, 0, 0 };
  pawl_sketch_get_text_size (layout, &item->box.width, &item->box.height);
  mark_box (self, item->box, WORDS | TEXT);
}

void
pawl_sketch_pane_move (PawlSketchPane *self, double dx, double dy)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      PawlSketchItem *item = g_ptr_array_index (self->items, i);

      for (guint j = 0; j < item->n_points; j++)
        {
          item->points[j].x += dx;
          item->points[j].y += dy;
        }
      item->box.x += dx;
      item->box.y += dy;
    }
  self->lens.x += dx;
  self->lens.y += dy;
}
