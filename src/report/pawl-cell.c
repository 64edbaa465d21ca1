#include "report/pawl-flow-private.h"

static void
clear_line (gpointer data)
{
  PawlLine *line = data;

  g_clear_object (&line->layout);
  if (line->art)
    g_rc_box_release_full (line->art, (GDestroyNotify) pawl_art_clear);
}

void
pawl_art_clear (PawlArt *art)
{
  if (art->free_data)
    art->free_data (art->data);
}

PawlCell *
pawl_cell_new (PangoContext *context, double width_pt)
{
  PawlCell *self = g_new0 (PawlCell, 1);

  self->context = g_object_ref (context);
  self->width = width_pt;
  self->lines = g_array_new (FALSE, TRUE, sizeof (PawlLine));
  g_array_set_clear_func (self->lines, clear_line);
  return self;
}

void
pawl_cell_free (PawlCell *self)
{
  if (!self)
    return;
  g_array_unref (self->lines);
  g_object_unref (self->context);
  g_free (self);
}

/* Cuts a layout into its lines, so that a page may end between any two of them. */
static void
add_lines (PawlCell *self, PangoLayout *layout, double x, double grey)
{
  PangoLayoutIter *iter = pango_layout_get_iter (layout);
  int index = 0;

  do
    {
      PangoRectangle logical;
      PawlLine line = { 0 };

      pango_layout_iter_get_line_extents (iter, NULL, &logical);
      line.layout = g_object_ref (layout);
      line.index = index++;
      line.x = x + (double) logical.x / PANGO_SCALE;
      line.height = (double) logical.height / PANGO_SCALE;
      line.baseline = (double) (pango_layout_iter_get_baseline (iter) - logical.y) / PANGO_SCALE;
      line.grey = grey;
      g_array_append_val (self->lines, line);
    }
  while (pango_layout_iter_next_line (iter));
  pango_layout_iter_free (iter);
}

void
pawl_cell_add_text (PawlCell *self, PawlLetter letter, const char *text, double indent_pt)
{
  g_autoptr (PangoLayout) layout = NULL;

  if (!text || !*text)
    return;
  layout = pawl_lettering_new_layout (self->context, letter, text, MAX (self->width - indent_pt, 8.0));
  add_lines (self, layout, indent_pt, pawl_lettering_get_grey (letter));
}

void
pawl_cell_add_right (PawlCell *self, PawlLetter letter, const char *text)
{
  g_autoptr (PangoLayout) layout = NULL;

  if (!text || !*text)
    return;
  layout = pawl_lettering_new_layout (self->context, letter, text, self->width);
  pango_layout_set_alignment (layout, PANGO_ALIGN_RIGHT);
  add_lines (self, layout, 0, pawl_lettering_get_grey (letter));
}

void
pawl_cell_add_gap (PawlCell *self, double height_pt)
{
  PawlLine line = { .height = height_pt };

  g_array_append_val (self->lines, line);
}

void
pawl_cell_add_art (PawlCell *self, double width_pt, double height_pt, PawlArtDraw draw, gpointer data, GDestroyNotify free_data)
{
  PawlLine line = { .height = height_pt };

  line.art = g_rc_box_new0 (PawlArt);
  line.art->width = width_pt;
  line.art->draw = draw;
  line.art->data = data;
  line.art->free_data = free_data;
  g_array_append_val (self->lines, line);
}

double
pawl_cell_get_height (PawlCell *self)
{
  double height = 0;

  for (guint i = 0; i < self->lines->len; i++)
    height += g_array_index (self->lines, PawlLine, i).height;
  return height;
}

double
pawl_text_width (PangoContext *context, PawlLetter letter, const char *text, gssize n_bytes)
{
  g_autofree char *part = n_bytes < 0 ? g_strdup (text) : g_strndup (text, (gsize) n_bytes);
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (context, letter, part, -1);
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  return (double) logical.width / PANGO_SCALE;
}

double
pawl_text_word_width (PangoContext *context, PawlLetter letter, const char *text)
{
  /* Set in no width at all and broken between words only, each line holds one of them. */
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (context, letter, text, 0);
  PangoRectangle logical;

  pango_layout_set_wrap (layout, PANGO_WRAP_WORD);
  pango_layout_get_extents (layout, NULL, &logical);
  /* A hair more, since a width is cut to whole Pango units on its way to the layout. */
  return (double) logical.width / PANGO_SCALE + 0.1;
}
