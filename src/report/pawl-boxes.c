#include "report/pawl-boxes.h"

#include "report/pawl-flow-private.h"

#define SQUARE_PT      12.0 /* beside a word: a broad pen hits it */
#define LARGE_PT       17.0 /* of a step */
#define LINE_PT        17.0
#define WORD_GAP_PT     4.0
#define NEXT_GAP_PT    12.0
#define PEN_GREY        0.35
#define PEN_PT          0.8

typedef struct {
  double x, y;
} Place;

typedef struct {
  PangoContext *context;
  GPtrArray    *words; /* (element-type utf8) */
  GArray       *places; /* (element-type Place): of each square */
} Ticks;

static void
ticks_free (gpointer data)
{
  Ticks *ticks = data;

  g_object_unref (ticks->context);
  g_ptr_array_unref (ticks->words);
  g_array_unref (ticks->places);
  g_free (ticks);
}

static void
stroke_square (cairo_t *cr, double x, double y, double side)
{
  cairo_set_source_rgb (cr, PEN_GREY, PEN_GREY, PEN_GREY);
  cairo_set_line_width (cr, PEN_PT);
  cairo_rectangle (cr, x + PEN_PT / 2, y + PEN_PT / 2, side - PEN_PT, side - PEN_PT);
  cairo_stroke (cr);
}

static void
draw_word (PangoContext *context, cairo_t *cr, PawlLetter letter, const char *text, double x, double middle, double max_width)
{
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (context, letter, text, max_width);
  double grey = pawl_lettering_get_grey (letter);
  int height;

  pango_layout_set_height (layout, -1);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_size (layout, NULL, &height);
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_move_to (cr, x, middle - (double) height / PANGO_SCALE / 2);
  pango_cairo_show_layout (cr, layout);
}

static void
draw_ticks (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const Ticks *ticks = data;

  for (guint i = 0; i < ticks->words->len; i++)
    {
      const Place *place = &g_array_index (ticks->places, Place, i);
      double left = x + place->x + SQUARE_PT + WORD_GAP_PT;

      stroke_square (cr, x + place->x, y + place->y, SQUARE_PT);
      draw_word (ticks->context, cr, PAWL_LETTER_CELL, g_ptr_array_index (ticks->words, i), left, y + place->y + SQUARE_PT / 2, x + width - left);
    }
}

void
pawl_cell_add_ticks (PawlCell *self, const char * const *words)
{
  Ticks *ticks = g_new0 (Ticks, 1);
  Place place = { 0, 0 };

  ticks->context = g_object_ref (self->context);
  ticks->words = g_ptr_array_new_with_free_func (g_free);
  ticks->places = g_array_new (FALSE, FALSE, sizeof (Place));
  for (guint i = 0; words[i]; i++)
    {
      double needed = SQUARE_PT + WORD_GAP_PT + pawl_text_width (self->context, PAWL_LETTER_CELL, words[i], -1);

      if (place.x > 0 && place.x + needed > self->width)
        place = (Place) { 0, place.y + LINE_PT };
      g_ptr_array_add (ticks->words, g_strdup (words[i]));
      g_array_append_val (ticks->places, place);
      place.x += needed + NEXT_GAP_PT;
    }
  pawl_cell_add_art (self, self->width, place.y + LINE_PT, draw_ticks, ticks, ticks_free);
}

static void
draw_tick (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  stroke_square (cr, x, y, LARGE_PT);
}

void
pawl_cell_add_tick (PawlCell *self)
{
  pawl_cell_add_art (self, LARGE_PT, LARGE_PT + 1, draw_tick, NULL, NULL);
}

/* ---- boxes ---- */

typedef struct {
  PangoContext *context;
  char         *label, *unit; /* (nullable) */
} Box;

static void
box_free (gpointer data)
{
  Box *box = data;

  g_object_unref (box->context);
  g_free (box->label);
  g_free (box->unit);
  g_free (box);
}

static void
draw_box (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const Box *box = data;
  const double margin = 3, label_middle = 6;
  double unit_width = box->unit ? pawl_text_width (box->context, PAWL_LETTER_CELL, box->unit, -1) : 0;

  cairo_set_source_rgb (cr, PEN_GREY, PEN_GREY, PEN_GREY);
  cairo_set_line_width (cr, PEN_PT);
  cairo_rectangle (cr, x + PEN_PT / 2, y + PEN_PT / 2, width - PEN_PT, height - PEN_PT);
  cairo_stroke (cr);
  if (box->label)
    draw_word (box->context, cr, PAWL_LETTER_LABEL, box->label, x + margin, y + label_middle, width - 2 * margin);
  if (box->unit)
    draw_word (box->context, cr, PAWL_LETTER_CELL, box->unit, x + width - margin - unit_width, y + height - 8, unit_width + 1);
}

void
pawl_cell_add_box (PawlCell *self, double width_pt, double height_pt, const char *label, const char *unit)
{
  Box *box = g_new0 (Box, 1);

  box->context = g_object_ref (self->context);
  box->label = g_strdup (label);
  box->unit = g_strdup (unit);
  pawl_cell_add_art (self, MIN (width_pt, self->width), height_pt, draw_box, box, box_free);
}
