/* Painting what is planned: line kinds of ISO 128 (from memory), hatching, arrows, signs. */
#include <math.h>

#include "drawing/pawl-sketch-private.h"

/* Widths as shares of the text's size; wide to narrow is 2 : 1. */
#define WIDE 0.14
#define NARROW 0.07
#define HATCH_STEP 0.42
#define BLOCKED_STEP 0.26

typedef struct {
  cairo_t *cr;
  PawlInks inks;
  double   text;
} Pen;

static void
trace (const Pen *pen, const PawlSketchItem *item)
{
  cairo_new_path (pen->cr);
  for (guint i = 0; i < item->n_points; i++)
    cairo_line_to (pen->cr, item->points[i].x, item->points[i].y);
  if (item->is_closed)
    cairo_close_path (pen->cr);
}

/* In phase over the whole sheet, so that the two halves of a wall read as one piece. */
static void
add_hatching (const Pen *pen, double step, int slope)
{
  double x0, y0, x1, y1, low, high;

  cairo_clip_extents (pen->cr, &x0, &y0, &x1, &y1);
  low = slope > 0 ? x0 + y0 : x0 - y1;
  high = slope > 0 ? x1 + y1 : x1 - y0;
  for (double c = floor (low / step) * step; c < high; c += step)
    {
      cairo_move_to (pen->cr, c - slope * y0, y0);
      cairo_line_to (pen->cr, c - slope * y1, y1);
    }
}

static void
hatch (const Pen *pen, const PawlSketchItem *item)
{
  gboolean is_blocked = item->kind == PAWL_STROKE_BLOCKED;

  cairo_save (pen->cr);
  trace (pen, item);
  cairo_clip (pen->cr);
  cairo_new_path (pen->cr);
  add_hatching (pen, (is_blocked ? BLOCKED_STEP : HATCH_STEP) * pen->text, 1);
  if (is_blocked)
    add_hatching (pen, BLOCKED_STEP * pen->text, -1);
  pawl_ink_set_source (is_blocked ? &pen->inks.ink : &pen->inks.faint, pen->cr, is_blocked ? 0.9 : 0.75);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, (is_blocked ? 1.0 : 0.6) * NARROW * pen->text);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}

static void
set_dashes (const Pen *pen, PawlStrokeKind kind)
{
  static const double axis[] = { 1.1, 0.24, 0.16, 0.24 }, ghost[] = { 0.85, 0.22, 0.14, 0.22, 0.14, 0.22 }, hidden[] = { 0.36, 0.22 };
  const double *pattern = kind == PAWL_STROKE_AXIS ? axis : kind == PAWL_STROKE_GHOST ? ghost : hidden;
  int n = kind == PAWL_STROKE_AXIS ? G_N_ELEMENTS (axis) : kind == PAWL_STROKE_GHOST ? G_N_ELEMENTS (ghost) : G_N_ELEMENTS (hidden);
  double scaled[6];

  for (int i = 0; i < n; i++)
    scaled[i] = pattern[i] * pen->text;
  cairo_set_dash (pen->cr, scaled, n, 0);
}

static void
set_line (const Pen *pen, double width, const PawlInk *ink, double alpha)
{
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, width * pen->text);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  pawl_ink_set_source (ink, pen->cr, alpha);
}

static void
paint_stroke (const Pen *pen, const PawlSketchItem *item)
{
  if (item->is_filled)
    {
      trace (pen, item);
      pawl_ink_set_source (item->kind == PAWL_STROKE_OUTLINE ? &pen->inks.fill : &pen->inks.paper, pen->cr, 1);
      cairo_fill (pen->cr);
    }
  if ((item->kind == PAWL_STROKE_NEIGHBOUR && item->is_closed) || item->kind == PAWL_STROKE_BLOCKED)
    hatch (pen, item);
  trace (pen, item);
  set_line (pen, NARROW, &pen->inks.ink, 1);
  switch (item->kind)
    {
    case PAWL_STROKE_OUTLINE:
      set_line (pen, WIDE, &pen->inks.ink, 1);
      cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
      break;
    case PAWL_STROKE_ARROW:
      set_line (pen, 1.4 * WIDE, &pen->inks.highlight, 1);
      break;
    case PAWL_STROKE_AXIS:
      set_line (pen, NARROW, &pen->inks.faint, 1);
      set_dashes (pen, item->kind);
      break;
    case PAWL_STROKE_GHOST:
    case PAWL_STROKE_HIDDEN:
      set_dashes (pen, item->kind);
      break;
    default:
      break;
    }
  cairo_stroke (pen->cr);
}

static void
paint_sign (const Pen *pen, const PawlSketchItem *item)
{
  double x = item->points[0].x, y = item->points[0].y, size = item->points[1].x - x;
  cairo_t *cr = pen->cr;

  cairo_new_path (cr);
  if (item->look == PAWL_LOOK_TICK)
    {
      cairo_move_to (cr, x + 0.08 * size, y + 0.55 * size);
      cairo_line_to (cr, x + 0.38 * size, y + 0.85 * size);
      cairo_line_to (cr, x + 0.95 * size, y + 0.12 * size);
    }
  else
    {
      cairo_move_to (cr, x + 0.12 * size, y + 0.12 * size);
      cairo_line_to (cr, x + 0.88 * size, y + 0.88 * size);
      cairo_move_to (cr, x + 0.88 * size, y + 0.12 * size);
      cairo_line_to (cr, x + 0.12 * size, y + 0.88 * size);
    }
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, 0.19 * size);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  pawl_ink_set_source (item->look == PAWL_LOOK_TICK ? &pen->inks.good : &pen->inks.bad, cr, 1);
  cairo_stroke (cr);
}

static void
paint_text (const Pen *pen, const PawlSketchItem *item)
{
  cairo_move_to (pen->cr, item->box.x, item->box.y);
  pawl_ink_set_source (item->tone == PAWL_TONE_GOOD ? &pen->inks.good : item->tone == PAWL_TONE_BAD ? &pen->inks.bad : &pen->inks.ink, pen->cr, 1);
  pango_cairo_show_layout (pen->cr, item->layout);
}

static void
paint_item (const Pen *pen, const PawlSketchItem *item)
{
  switch (item->look)
    {
    case PAWL_LOOK_STROKE:
      paint_stroke (pen, item);
      break;
    case PAWL_LOOK_LENS:
      trace (pen, item);
      pawl_ink_set_source (&pen->inks.paper, pen->cr, 1);
      cairo_fill (pen->cr);
      break;
    case PAWL_LOOK_THIN:
    case PAWL_LOOK_DIVIDER:
      trace (pen, item);
      set_line (pen, NARROW, item->look == PAWL_LOOK_THIN ? &pen->inks.ink : &pen->inks.faint, item->look == PAWL_LOOK_THIN ? 1 : 0.4);
      cairo_stroke (pen->cr);
      break;
    case PAWL_LOOK_HEAD:
    case PAWL_LOOK_STRONG_HEAD:
      trace (pen, item);
      pawl_ink_set_source (item->look == PAWL_LOOK_HEAD ? &pen->inks.ink : &pen->inks.highlight, pen->cr, 1);
      cairo_fill (pen->cr);
      break;
    case PAWL_LOOK_TICK:
    case PAWL_LOOK_CROSS:
      paint_sign (pen, item);
      break;
    case PAWL_LOOK_TEXT:
      paint_text (pen, item);
      break;
    default:
      g_return_if_reached ();
    }
}

void
pawl_sketch_pane_paint (const PawlSketchPane *self, cairo_t *cr, PawlPalette palette, gboolean is_text)
{
  Pen pen = { cr, pawl_palette_get_inks (palette), self->text };

  for (guint i = 0; i < self->items->len; i++)
    {
      const PawlSketchItem *item = g_ptr_array_index (self->items, i);

      if ((item->look == PAWL_LOOK_TEXT) != is_text)
        continue;
      cairo_save (cr);
      if (item->is_in_lens)
        {
          cairo_new_path (cr);
          cairo_arc (cr, self->lens.x, self->lens.y, self->lens_radius, 0, 2 * G_PI);
          cairo_clip (cr);
        }
      paint_item (&pen, item);
      cairo_restore (cr);
    }
}
