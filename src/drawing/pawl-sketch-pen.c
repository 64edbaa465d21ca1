/* The sketch's pen: line kinds of ISO 128 (from memory), hatching, arrows, dimensions, signs. */
#include <math.h>

#include "drawing/pawl-sketch-private.h"

/* Widths as shares of the text's size; wide to narrow is 2 : 1. */
#define WIDE 0.14
#define NARROW 0.07
#define HATCH_STEP 0.42
#define HEAD_LENGTH 0.75

PawlPoint
pawl_sketch_pen_place (const PawlSketchPen *pen, PawlPoint mm)
{
  return (PawlPoint) { pen->x + pen->scale * mm.x, pen->y + pen->scale * mm.y };
}

static void
trace (const PawlSketchPen *pen, const PawlStroke *stroke)
{
  for (guint i = 0; i < stroke->n_points; i++)
    {
      PawlPoint p = pawl_sketch_pen_place (pen, stroke->points[i]);

      cairo_line_to (pen->cr, p.x, p.y);
    }
  if (stroke->is_closed)
    cairo_close_path (pen->cr);
}

static void
hatch (const PawlSketchPen *pen, const PawlStroke *stroke)
{
  double x0, y0, x1, y1, step = HATCH_STEP * pen->text;

  cairo_save (pen->cr);
  trace (pen, stroke);
  cairo_path_extents (pen->cr, &x0, &y0, &x1, &y1);
  cairo_clip (pen->cr);
  /* In phase over the whole sheet, so that the two halves of a wall read as one piece. */
  for (double c = floor ((x0 + y0) / step) * step; c < x1 + y1; c += step)
    {
      cairo_move_to (pen->cr, c - y0, y0);
      cairo_line_to (pen->cr, c - y1, y1);
    }
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 0.75);
  cairo_set_line_width (pen->cr, 0.6 * NARROW * pen->text);
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}

static void
set_dashes (const PawlSketchPen *pen, PawlStrokeKind kind)
{
  static const double axis[] = { 1.1, 0.24, 0.16, 0.24 }, ghost[] = { 0.85, 0.22, 0.14, 0.22, 0.14, 0.22 }, hidden[] = { 0.36, 0.22 };
  const double *pattern = kind == PAWL_STROKE_AXIS ? axis : kind == PAWL_STROKE_GHOST ? ghost : hidden;
  int n = kind == PAWL_STROKE_AXIS ? G_N_ELEMENTS (axis) : kind == PAWL_STROKE_GHOST ? G_N_ELEMENTS (ghost) : G_N_ELEMENTS (hidden);
  double scaled[6];

  for (int i = 0; i < n; i++)
    scaled[i] = pattern[i] * pen->text;
  cairo_set_dash (pen->cr, scaled, n, 0);
}

void
pawl_sketch_pen_narrow (const PawlSketchPen *pen, double alpha)
{
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, NARROW * pen->text);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, alpha);
}

void
pawl_sketch_pen_head (const PawlSketchPen *pen, PawlPoint from, PawlPoint tip)
{
  double dx = tip.x - from.x, dy = tip.y - from.y, length = MAX (hypot (dx, dy), 1e-9), size = HEAD_LENGTH * pen->text;

  dx *= size / length;
  dy *= size / length;
  cairo_move_to (pen->cr, tip.x, tip.y);
  cairo_line_to (pen->cr, tip.x - dx - 0.28 * dy, tip.y - dy + 0.28 * dx);
  cairo_line_to (pen->cr, tip.x - dx + 0.28 * dy, tip.y - dy - 0.28 * dx);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
}

static void
fill_stroke (const PawlSketchPen *pen, const PawlStroke *stroke)
{
  trace (pen, stroke);
  pawl_ink_set_source (stroke->kind == PAWL_STROKE_OUTLINE ? &pen->inks.fill : &pen->inks.paper, pen->cr, 1);
  cairo_fill (pen->cr);
}

static void
draw_arrow (const PawlSketchPen *pen, const PawlStroke *stroke)
{
  PawlPoint tip = pawl_sketch_pen_place (pen, stroke->points[stroke->n_points - 1]);
  PawlPoint from = pawl_sketch_pen_place (pen, stroke->points[stroke->n_points - 2]);

  trace (pen, stroke);
  cairo_set_line_width (pen->cr, WIDE * pen->text);
  pawl_ink_set_source (&pen->inks.highlight, pen->cr, 1);
  cairo_stroke (pen->cr);
  pawl_sketch_pen_head (pen, from, tip);
}

void
pawl_sketch_pen_stroke (const PawlSketchPen *pen, const PawlStroke *stroke)
{
  if (stroke->n_points < 2 || stroke->kind == PAWL_STROKE_DIFFERENCE)
    return;
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_BUTT);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_new_path (pen->cr);
  if (stroke->kind == PAWL_STROKE_ARROW)
    {
      draw_arrow (pen, stroke);
      return;
    }
  if (stroke->is_filled)
    fill_stroke (pen, stroke);
  if (stroke->kind == PAWL_STROKE_NEIGHBOUR && stroke->is_closed)
    hatch (pen, stroke);
  trace (pen, stroke);
  pawl_sketch_pen_narrow (pen, 1);
  if (stroke->kind == PAWL_STROKE_OUTLINE)
    {
      cairo_set_line_width (pen->cr, WIDE * pen->text);
      cairo_set_line_cap (pen->cr, CAIRO_LINE_CAP_ROUND);
    }
  else if (stroke->kind == PAWL_STROKE_AXIS || stroke->kind == PAWL_STROKE_GHOST || stroke->kind == PAWL_STROKE_HIDDEN)
    set_dashes (pen, stroke->kind);
  if (stroke->kind == PAWL_STROKE_AXIS)
    pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
}

/* ---- text and signs ---- */

PangoLayout *
pawl_sketch_new_text (cairo_t *cr, const char *text, double size, gboolean is_bold)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_absolute_size (font, size * PANGO_SCALE);
  pango_font_description_set_weight (font, is_bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

void
pawl_sketch_get_text_size (PangoLayout *layout, double *width, double *height)
{
  PangoRectangle box;

  pango_layout_get_extents (layout, NULL, &box);
  if (width)
    *width = (double) box.width / PANGO_SCALE;
  if (height)
    *height = (double) box.height / PANGO_SCALE;
}

void
pawl_sketch_draw_sign (const PawlSketchPen *pen, double x, double y, double size, gboolean is_right)
{
  cairo_t *cr = pen->cr;

  if (is_right)
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
  pawl_ink_set_source (is_right ? &pen->inks.good : &pen->inks.bad, cr, 1);
  cairo_stroke (cr);
}

/* ---- dimensions ---- */

static double
keep_in (const PawlSketchPen *pen, double x, double width)
{
  double edge = 0.25 * pen->text;

  return CLAMP (x, edge, MAX (edge, pen->width - width - edge));
}

/* Neither level nor upright, nearly: then it is dimensioned where it is. */
static gboolean
is_slanted (PawlPoint p, PawlPoint q)
{
  double dx = fabs (q.x - p.x), dy = fabs (q.y - p.y);

  return MIN (dx, dy) > 0.12 * MAX (dx, dy);
}

gboolean
pawl_sketch_lies_flat (PawlPoint p, PawlPoint q)
{
  return fabs (q.x - p.x) >= fabs (q.y - p.y) || is_slanted (p, q);
}

/* The two ends of the dimension line: p and q moved along the normal of pq until they are clear of @outline. */
static void
move_clear (const PawlSketchPen *pen, PawlPoint *p, PawlPoint *q, PawlBox outline, int sign)
{
  gboolean is_flat = pawl_sketch_lies_flat (*p, *q);
  double dx = q->x - p->x, dy = q->y - p->y, length = hypot (dx, dy);
  double nx = -dy / length, ny = dx / length, away = 0, gap = 1.1 * pen->text;

  if ((is_flat ? ny : nx) * sign < 0)
    {
      nx = -nx;
      ny = -ny;
    }
  for (int i = 0; i < 2; i++)
    {
      PawlPoint at = i ? *q : *p;

      if (is_flat)
        away = MAX (away, (sign > 0 ? outline.y + outline.height + gap - at.y : at.y - outline.y + gap) / fabs (ny));
      else
        away = MAX (away, (sign > 0 ? outline.x + outline.width + gap - at.x : at.x - outline.x + gap) / fabs (nx));
    }
  *p = (PawlPoint) { p->x + away * nx, p->y + away * ny };
  *q = (PawlPoint) { q->x + away * nx, q->y + away * ny };
  /* All but level or upright is drawn level or upright, at the end that is farther out. */
  if (is_flat && fabs (dy) < 0.12 * fabs (dx))
    p->y = q->y = sign > 0 ? MAX (p->y, q->y) : MIN (p->y, q->y);
  if (!is_flat && fabs (dx) < 0.12 * fabs (dy))
    p->x = q->x = sign > 0 ? MAX (p->x, q->x) : MIN (p->x, q->x);
}

static void
extend (const PawlSketchPen *pen, PawlPoint from, PawlPoint to)
{
  double length = MAX (hypot (to.x - from.x, to.y - from.y), 1e-9), more = 0.3 * pen->text;

  cairo_move_to (pen->cr, from.x, from.y);
  cairo_line_to (pen->cr, to.x + more * (to.x - from.x) / length, to.y + more * (to.y - from.y) / length);
}

static void
draw_dimension_line (const PawlSketchPen *pen, PawlPoint a, PawlPoint b)
{
  double length = MAX (hypot (b.x - a.x, b.y - a.y), 1e-9), dx = (b.x - a.x) / length, dy = (b.y - a.y) / length;
  double tail = 1.6 * HEAD_LENGTH * pen->text;
  gboolean is_tight = length < 2.4 * HEAD_LENGTH * pen->text;

  /* Where it is tight the arrows stand outside and point at each other. */
  PawlPoint from = is_tight ? (PawlPoint) { a.x - tail * dx, a.y - tail * dy } : b, to = is_tight ? (PawlPoint) { b.x + tail * dx, b.y + tail * dy } : a;

  cairo_move_to (pen->cr, is_tight ? from.x : a.x, is_tight ? from.y : a.y);
  cairo_line_to (pen->cr, is_tight ? to.x : b.x, is_tight ? to.y : b.y);
  cairo_stroke (pen->cr);
  pawl_sketch_pen_head (pen, from, a);
  pawl_sketch_pen_head (pen, to, b);
}

/* In its place, with the number outside at the end of a leader. */
static void
draw_slanted (const PawlSketchPen *pen, PawlPoint p, PawlPoint q, PawlBox outline, int sign, PangoLayout *layout)
{
  PawlPoint middle = { (p.x + q.x) / 2, (p.y + q.y) / 2 };
  double width, height, end = sign < 0 ? outline.y - 0.5 * pen->text : outline.y + outline.height + 0.5 * pen->text;

  pawl_sketch_get_text_size (layout, &width, &height);
  draw_dimension_line (pen, p, q);
  if (width <= 0)
    return;
  cairo_move_to (pen->cr, middle.x, middle.y);
  cairo_line_to (pen->cr, middle.x, end);
  cairo_stroke (pen->cr);
  cairo_move_to (pen->cr, keep_in (pen, middle.x - width / 2, width), sign < 0 ? end - height : end);
  pango_cairo_show_layout (pen->cr, layout);
}

void
pawl_sketch_pen_dimension (const PawlSketchPen *pen, PawlPoint p, PawlPoint q, PawlBox outline, int sign, const char *text)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (pen->cr, text, pen->text, TRUE);
  PawlPoint a = p, b = q;
  double width, height, length = hypot (q.x - p.x, q.y - p.y), dx, dy, x, y;

  if (length < 1e-6)
    return;
  cairo_new_path (pen->cr);
  if (is_slanted (p, q))
    {
      pawl_sketch_pen_narrow (pen, 1);
      draw_slanted (pen, p, q, outline, sign, layout);
      return;
    }
  move_clear (pen, &a, &b, outline, sign);
  length = hypot (b.x - a.x, b.y - a.y);
  pawl_sketch_get_text_size (layout, &width, &height);
  dx = (b.x - a.x) / length;
  dy = (b.y - a.y) / length;
  pawl_sketch_pen_narrow (pen, 1);
  extend (pen, p, a);
  extend (pen, q, b);
  cairo_stroke (pen->cr);
  draw_dimension_line (pen, a, b);
  x = (a.x + b.x) / 2 - width / 2;
  y = (a.y + b.y) / 2 - height / 2;
  if (pawl_sketch_lies_flat (p, q))
    y += sign * (height / 2 + 0.25 * pen->text + fabs (dy) * width / 2);
  else
    x += sign * (width / 2 + 0.4 * pen->text + fabs (dx) * height / 2);
  cairo_move_to (pen->cr, keep_in (pen, x, width), y);
  pango_cairo_show_layout (pen->cr, layout);
}

void
pawl_sketch_pen_arc_dimension (const PawlSketchPen *pen, PawlPoint middle, double radius, PawlPoint p, PawlPoint q, const char *text)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (pen->cr, text, pen->text, TRUE);
  double from = atan2 (p.y - middle.y, p.x - middle.x), to = atan2 (q.y - middle.y, q.x - middle.x);
  double at = radius + 0.9 * pen->text, turn = HEAD_LENGTH * pen->text / at, width, height, half;

  /* The short way round, always drawn clockwise. */
  if (remainder (to - from, 2 * G_PI) < 0)
    {
      double swap = from;

      from = to;
      to = swap;
    }
  to = from + fabs (remainder (to - from, 2 * G_PI));
  pawl_sketch_pen_narrow (pen, 1);
  for (int i = 0; i < 2; i++)
    {
      double angle = i ? to : from, near = hypot (p.x - middle.x, p.y - middle.y);

      cairo_new_path (pen->cr);
      cairo_move_to (pen->cr, middle.x + near * cos (angle), middle.y + near * sin (angle));
      cairo_line_to (pen->cr, middle.x + (at + 0.3 * pen->text) * cos (angle), middle.y + (at + 0.3 * pen->text) * sin (angle));
      cairo_stroke (pen->cr);
    }
  cairo_arc (pen->cr, middle.x, middle.y, at, from, to);
  cairo_stroke (pen->cr);
  pawl_sketch_pen_head (pen, (PawlPoint) { middle.x + at * cos (from + turn), middle.y + at * sin (from + turn) },
                        (PawlPoint) { middle.x + at * cos (from), middle.y + at * sin (from) });
  pawl_sketch_pen_head (pen, (PawlPoint) { middle.x + at * cos (to - turn), middle.y + at * sin (to - turn) },
                        (PawlPoint) { middle.x + at * cos (to), middle.y + at * sin (to) });
  pawl_sketch_get_text_size (layout, &width, &height);
  /* As far out as the text's half size in that direction. */
  half = 0.4 * pen->text + fabs (cos ((from + to) / 2)) * width / 2 + fabs (sin ((from + to) / 2)) * height / 2;
  cairo_move_to (pen->cr, keep_in (pen, middle.x + (at + half) * cos ((from + to) / 2) - width / 2, width), middle.y + (at + half) * sin ((from + to) / 2) - height / 2);
  pango_cairo_show_layout (pen->cr, layout);
}
