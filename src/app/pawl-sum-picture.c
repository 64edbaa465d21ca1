#include "app/pawl-sum-picture.h"

#include <glib/gi18n.h>
#include <math.h>
#include <pango/pangocairo.h>

#define DEGREE (G_PI / 180)
#define WIDE 2.5
#define NARROW 1.0
#define MARGIN 10.0
/* A lever that turns by less would look as if it stood still; by more it would leave the picture. */
#define LEAST_TURN (5 * DEGREE)
#define MOST_TURN (25 * DEGREE)

/* ---- values ---- */

static const PawlSumInput *
find_input (const PawlSumPicture *self, const char *name)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (self->sum, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (inputs[i].name, name))
      return &inputs[i];
  g_return_val_if_reached (NULL);
}

static gboolean
read_value (const PawlSumInput *input, const char *text, const PawlTyping *typing, const PawlUnit *unit, double *value)
{
  PawlTyping own = typing != NULL ? *typing : (PawlTyping) { 0 };
  g_autoptr(PawlQuantity) quantity = NULL;

  if (own.default_unit != NULL && pawl_unit_get_dimension (own.default_unit) != input->dimension)
    own.default_unit = NULL;
  if (text == NULL || *text == '\0' || (quantity = pawl_quantity_parse (text, &own, NULL)) == NULL
      || pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)) != input->dimension)
    return FALSE;
  *value = pawl_quantity_get_double (quantity, unit);
  return isfinite (*value);
}

/* What was typed; else what it is when nothing is said; else the example. */
static double
get_value (const PawlSumPicture *self, const char *name, const char *unit_name)
{
  const PawlSumInput *input = find_input (self, name);
  const PawlUnit *unit = pawl_unit_lookup (unit_name);
  double value = 0;

  if (!read_value (input, g_hash_table_lookup (self->typed, name), self->typing, unit, &value)
      && !read_value (input, input->fallback, NULL, unit, &value))
    read_value (input, input->example, NULL, unit, &value);
  return value;
}

static double
get_mm (const PawlSumPicture *self, const char *name, double least, double most)
{
  return CLAMP (get_value (self, name, "mm"), least, most);
}

static double
get_angle (const PawlSumPicture *self, const char *name, double least, double most)
{
  return CLAMP (get_value (self, name, "deg") * DEGREE, least, most);
}

/* ---- strokes ---- */

static void
set_pen (const PawlSumPicture *self, cairo_t *cr, double width, gboolean is_dashed)
{
  const double dashes[] = { 6, 4 };

  pawl_ink_set_source (is_dashed ? &self->inks.faint : &self->inks.ink, cr, 1);
  cairo_set_line_width (cr, width);
  cairo_set_dash (cr, dashes, is_dashed ? 2 : 0, 0);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
}

static void
line (cairo_t *cr, double x0, double y0, double x1, double y1)
{
  cairo_move_to (cr, x0, y0);
  cairo_line_to (cr, x1, y1);
  cairo_stroke (cr);
}

static void
circle (cairo_t *cr, double x, double y, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, MAX (radius, 0), 0, 2 * G_PI);
}

static void
stroke_circle (cairo_t *cr, double x, double y, double radius)
{
  circle (cr, x, y, radius);
  cairo_stroke (cr);
}

/* The path, filled with the colour of the part in hand. */
static void
fill_accent (const PawlSumPicture *self, cairo_t *cr, double alpha)
{
  pawl_ink_set_source (&self->inks.highlight, cr, alpha);
  cairo_fill (cr);
}

static PangoLayout *
lay_out (const PawlSumPicture *self, cairo_t *cr, const char *text, double *width, double *height)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  g_autoptr(PangoFontDescription) font = pango_font_description_from_string ("Sans");
  int w, h;

  pango_font_description_set_absolute_size (font, self->text_size * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, text, -1);
  pango_layout_get_pixel_size (layout, &w, &h);
  *width = w;
  *height = h;
  return layout;
}

/* @align: 0: begins at @x, 0.5: has its middle there, 1: ends there. @y: its middle */
static void
label (const PawlSumPicture *self, cairo_t *cr, double x, double y, double align, const char *text)
{
  double width, height;
  g_autoptr(PangoLayout) layout = lay_out (self, cr, text, &width, &height);

  pawl_ink_set_source (&self->inks.ink, cr, 1);
  cairo_move_to (cr, x - align * width, y - height / 2);
  pango_cairo_show_layout (cr, layout);
  cairo_new_path (cr);
}

static double
get_line_height (const PawlSumPicture *self)
{
  return self->text_size * 1.5;
}

static void
arrow_head (cairo_t *cr, double x, double y, double direction)
{
  double size = 6;

  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x - direction * size, y - size / 3);
  cairo_line_to (cr, x - direction * size, y + size / 3);
  cairo_close_path (cr);
  cairo_fill (cr);
}

/* A dimension from @x0 to @x1, with its word below; kept within the picture by @width. */
static void
dimension (const PawlSumPicture *self, cairo_t *cr, double x0, double x1, double y, double width, const char *word)
{
  double text_width, text_height, middle = (x0 + x1) / 2;
  g_autoptr(PangoLayout) layout = lay_out (self, cr, word, &text_width, &text_height);

  set_pen (self, cr, NARROW, FALSE);
  line (cr, x0, y - 5, x0, y + 5);
  line (cr, x1, y - 5, x1, y + 5);
  line (cr, x0, y, x1, y);
  if (x1 - x0 > 16)
    {
      arrow_head (cr, x0, y, -1);
      arrow_head (cr, x1, y, 1);
    }
  middle = CLAMP (middle, text_width / 2 + 2, MAX (width - text_width / 2 - 2, text_width / 2 + 2));
  label (self, cr, middle, y + get_line_height (self) * 0.75, 0.5, word);
}

/* Strokes across the clip, as cut material is marked (ISO 128, from memory). */
static void
hatch (const PawlSumPicture *self, cairo_t *cr, double x, double y, double width, double height, double slope)
{
  set_pen (self, cr, NARROW * 0.8, FALSE);
  pawl_ink_set_source (&self->inks.faint, cr, 1);
  for (double at = x - height; at < x + width + height; at += 8)
    line (cr, at, slope > 0 ? y + height : y, at + height, slope > 0 ? y : y + height);
}

/* ---- pictures ---- */

static void
draw_lever (const PawlSumPicture *self, cairo_t *cr, double width, double height, double tang, double point, double turn)
{
  double scale = (width - 6 * MARGIN) / (tang + point), x = 3 * MARGIN + tang * scale, y = (height - 2 * get_line_height (self)) / 2;

  for (int i = 0; i < 2; i++)
    {
      double angle = i == 0 ? turn : 0;

      set_pen (self, cr, WIDE, i == 0);
      line (cr, x - tang * scale * cos (angle), y + tang * scale * sin (angle), x + point * scale * cos (angle), y - point * scale * sin (angle));
      circle (cr, x + point * scale * cos (angle), y - point * scale * sin (angle), 4);
      cairo_fill (cr);
    }
  circle (cr, x, y, 6);
  fill_accent (self, cr, 1);
  set_pen (self, cr, NARROW, FALSE);
  stroke_circle (cr, x, y, 6);
  label (self, cr, x + point * scale, y + (turn < 0 ? -1 : 1) * get_line_height (self) * 0.8, 0.8, _("now"));
  label (self, cr, x + point * scale * cos (turn), y - point * scale * sin (turn) - (turn < 0 ? -1 : 1) * get_line_height (self) * 0.8, 0.8, _("wanted"));
  y = height - 1.6 * get_line_height (self);
  dimension (self, cr, x - tang * scale, x, y, width, _("to tang"));
  dimension (self, cr, x, x + point * scale, y, width, _("to the reading"));
}

static void
draw_bend (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double point = get_mm (self, "pivot-to-point", 0.01, 1e5), tang = get_mm (self, "pivot-to-tang", 0.001, 1e5);
  double change = get_value (self, "wanted", "mm") - get_value (self, "reading", "mm");
  double turn = asin (CLAMP (change / point, -0.9, 0.9));
  double most = atan2 (height / 3 - get_line_height (self), width);

  turn = (turn < 0 ? -1 : 1) * (change == 0 ? 0 : CLAMP (fabs (turn), LEAST_TURN, MIN (MOST_TURN, MAX (most, LEAST_TURN))));
  draw_lever (self, cr, width, height, CLAMP (tang, point / 8, point * 2), point, turn);
}

static void
draw_torque (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double wrench = get_mm (self, "wrench", 1, 1e5), adapter = get_mm (self, "adapter", 0, 1e5), angle = get_angle (self, "angle", -G_PI, G_PI);
  double shown = adapter == 0 ? 0 : CLAMP (adapter, wrench / 6, wrench), scale, x, y, end_x, end_y;

  scale = (width - 6 * MARGIN) / (wrench + MAX (shown * cos (angle), 0.1 * wrench));
  scale = MIN (scale, (height - 3 * get_line_height (self)) / MAX (fabs (shown * sin (angle)), 1e-9));
  x = 3 * MARGIN + wrench * scale;
  y = angle >= 0 ? height - 3 * get_line_height (self) : get_line_height (self);
  if (shown == 0 || fabs (sin (angle)) < 0.1)
    y = (height - 2 * get_line_height (self)) / 2;
  end_x = x + shown * scale * cos (angle);
  end_y = y - shown * scale * sin (angle);
  set_pen (self, cr, 2 * WIDE, FALSE);
  line (cr, 3 * MARGIN, y, x, y);
  set_pen (self, cr, WIDE, FALSE);
  line (cr, x, y, end_x, end_y);
  circle (cr, end_x, end_y, 8);
  fill_accent (self, cr, 1);
  set_pen (self, cr, NARROW, FALSE);
  stroke_circle (cr, end_x, end_y, 8);
  label (self, cr, 3 * MARGIN, y - get_line_height (self), 0.2, _("hand"));
  label (self, cr, CLAMP (end_x, 0, width - 4 * MARGIN), end_y - get_line_height (self) * 1.1, 0.5, _("fastener"));
  y = height - 1.6 * get_line_height (self);
  dimension (self, cr, 3 * MARGIN, x, y, width, _("grip to drive"));
}

/* A plate across a bore, seen along its shaft: length D / cos (shut), from square across the bore. */
static void
draw_plate_at (const PawlSumPicture *self, cairo_t *cr, double x, double y, double radius, double shut, double angle, gboolean is_dashed)
{
  double half = radius / cos (shut);

  set_pen (self, cr, is_dashed ? NARROW : 2 * WIDE, is_dashed);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  line (cr, x - half * cos (angle), y + half * sin (angle), x + half * cos (angle), y - half * sin (angle));
}

static void
draw_plate (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double shut = get_angle (self, "shut-angle", 0, 60 * DEGREE), angle = get_angle (self, "angle", shut, G_PI / 2);
  double bore = get_mm (self, "bore", 0.1, 1e5), shaft = CLAMP (get_mm (self, "shaft", 0, 1e5) / bore, 0, 0.9);
  double radius = MIN (width / 2 - 5 * MARGIN, (height - 2 * get_line_height (self)) * 0.55), x = width / 2, top = height - 2 * get_line_height (self);
  double wall = 2 * MARGIN, y = top / 2;

  for (int side = -1; side <= 1; side += 2)
    {
      double inner = x + side * radius, outer = inner + side * wall;

      cairo_save (cr);
      cairo_rectangle (cr, MIN (inner, outer), 2, wall, top - 2);
      cairo_clip (cr);
      hatch (self, cr, MIN (inner, outer), 2, wall, top, 1);
      cairo_restore (cr);
      set_pen (self, cr, WIDE, FALSE);
      line (cr, inner, 2, inner, top);
    }
  cairo_save (cr);
  cairo_rectangle (cr, x - radius, 2, 2 * radius, top - 2);
  cairo_clip (cr);
  draw_plate_at (self, cr, x, y, radius, shut, shut, TRUE);
  draw_plate_at (self, cr, x, y, radius, shut, angle, FALSE);
  cairo_restore (cr);
  circle (cr, x, y, MAX (shaft * radius, 3));
  fill_accent (self, cr, 1);
  set_pen (self, cr, NARROW, FALSE);
  stroke_circle (cr, x, y, MAX (shaft * radius, 3));
  dimension (self, cr, x - radius, x + radius, height - 1.6 * get_line_height (self), width, _("bore; broken line: shut"));
}

static void
draw_overlap (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double port = get_mm (self, "port", 0.01, 1e5) / 2, hole = get_mm (self, "hole", 0.01, 1e5) / 2;
  double apart = 2 * get_mm (self, "pitch-radius", 0, 1e5) * fabs (sin (get_angle (self, "turned", -G_PI, G_PI) / 2));
  double span = MAX (port, apart + hole) + port, room = height - get_line_height (self) * 1.8, scale, x, y, wire, wire_x;

  apart = MIN (apart, 1.6 * (port + hole)); /* farther apart there is only more nothing between them */
  span = MAX (MAX (port, apart + hole) - MIN (-port, apart - hole), 1e-9);
  scale = MIN ((width - 4 * MARGIN) / span, (room - 2 * MARGIN) / (2 * MAX (port, hole)));
  x = width / 2 - (MAX (port, apart + hole) + MIN (-port, apart - hole)) / 2 * scale;
  y = room / 2;
  cairo_save (cr);
  circle (cr, x, y, port * scale);
  cairo_clip (cr);
  circle (cr, x + apart * scale, y, hole * scale);
  fill_accent (self, cr, 0.45);
  cairo_restore (cr);
  set_pen (self, cr, WIDE, FALSE);
  stroke_circle (cr, x, y, port * scale);
  set_pen (self, cr, WIDE, FALSE);
  stroke_circle (cr, x + apart * scale, y, hole * scale);
  wire = CLAMP (port + hole - apart, 0, 2 * MIN (port, hole)) / 2;
  wire_x = (MAX (-port, apart - hole) + MIN (port, apart + hole)) / 2;
  set_pen (self, cr, NARROW, TRUE);
  pawl_ink_set_source (&self->inks.ink, cr, 1);
  stroke_circle (cr, x + wire_x * scale, y, wire * scale);
  label (self, cr, width / 2, height - get_line_height (self), 0.5, wire > 0 ? _("shaded: open; broken line: largest wire") : _("nothing is open"));
}

static void
draw_press (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double diameter = get_mm (self, "diameter", 0.1, 1e5), outside = MAX (get_mm (self, "outside", 0.1, 1e6), diameter * 1.02);
  double inside = MIN (get_mm (self, "inside", 0, 1e5), diameter * 0.98), room = height - 1.8 * get_line_height (self);
  double scale = (MIN (width, room) - 2 * MARGIN) / outside, x = width / 2, y = room / 2;

  for (int i = 0; i < 2; i++)
    {
      double outer = (i == 0 ? outside : diameter) / 2 * scale, inner = (i == 0 ? diameter : inside) / 2 * scale;

      cairo_save (cr);
      circle (cr, x, y, outer);
      circle (cr, x, y, inner);
      cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
      cairo_clip (cr);
      hatch (self, cr, x - outer, y - outer, 2 * outer, 2 * outer, i == 0 ? 1 : -1);
      cairo_restore (cr);
      set_pen (self, cr, WIDE, FALSE);
      stroke_circle (cr, x, y, outer);
    }
  if (inside > 0)
    stroke_circle (cr, x, y, inside / 2 * scale);
  pawl_ink_set_source (&self->inks.highlight, cr, 1);
  cairo_set_line_width (cr, 2 * WIDE);
  stroke_circle (cr, x, y, diameter / 2 * scale);
  label (self, cr, width / 2, height - get_line_height (self), 0.5, _("hub and shaft; thick: where they press"));
}

static void
draw_arc (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  double angle = get_angle (self, "angle", -2 * G_PI, 2 * G_PI), room = height - 1.8 * get_line_height (self);
  double radius = MIN (width, room) / 2 - MARGIN, x = width / 2, y = room / 2, from = -G_PI / 2, to = from + angle;

  set_pen (self, cr, NARROW, FALSE);
  stroke_circle (cr, x, y, radius);
  line (cr, x, y, x + radius * cos (from), y + radius * sin (from));
  line (cr, x, y, x + radius * cos (to), y + radius * sin (to));
  pawl_ink_set_source (&self->inks.highlight, cr, 1);
  cairo_set_line_width (cr, 2 * WIDE);
  cairo_arc (cr, x, y, radius, MIN (from, to), MAX (from, to));
  cairo_stroke (cr);
  label (self, cr, width / 2, height - get_line_height (self), 0.5, _("thick: along the rim"));
}

/* ---- the table ---- */

typedef struct {
  const char *id;
  void      (*draw) (const PawlSumPicture *self, cairo_t *cr, double width, double height);
  const char *words;
} Row;

static const Row rows[] = {
  { "bend", draw_bend, N_("A lever on its pivot: on one side the tang, on the other the point that is measured, now and as wanted") },
  { "torque", draw_torque, N_("A wrench from the hand to its drive, and an adapter from the drive to the fastener, at its angle") },
  { "plate", draw_plate, N_("A bore cut along, its shaft in the middle, the plate shut and at the angle asked about") },
  { "overlap", draw_overlap, N_("Two round holes that overlap, what is open between them, and the largest wire in it") },
  { "press", draw_press, N_("A hub round a shaft, cut across") },
  { "arc", draw_arc, N_("A rim with an angle, and the way along the rim between its sides") },
};

static const Row *
find_row (const PawlSum *sum)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_str_equal (rows[i].id, pawl_sum_get_id (sum)))
      return &rows[i];
  return NULL;
}

gboolean
pawl_sum_picture_has (const PawlSum *sum)
{
  return find_row (sum) != NULL;
}

const char *
pawl_sum_picture_describe (const PawlSum *sum)
{
  const Row *row = find_row (sum);

  return row != NULL ? _(row->words) : NULL;
}

void
pawl_sum_picture_draw (const PawlSumPicture *self, cairo_t *cr, double width, double height)
{
  const Row *row = find_row (self->sum);

  if (row == NULL || width < 8 * MARGIN || height < 4 * get_line_height (self))
    return;
  cairo_save (cr);
  row->draw (self, cr, width, height);
  cairo_restore (cr);
}
