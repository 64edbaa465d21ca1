/*
 * sketch-gallery OUT.png PROCEDURE.xml FIT-ID… : the sketches of these rules in a grid, each under the name of its kind: how data/pictures/sketches.png
 * is made. sketch-gallery OUT.png --table: every form of every kind, to look over. --palette light|dark|print, --size WxH of one sketch, --text N,
 * --columns N. --question SEED: as they are asked, before the answer is shown.
 */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "sketch-rules.h"

#include "drawing/pawl-picture.h"
#include "procedure/pawl-reader.h"

#define GAP 10.0
#define CAPTION 20.0

typedef struct {
  const char     *caption;
  const PawlRule *rule;
} Entry;

typedef struct {
  GArray           *entries; /* (element-type Entry) */
  int               columns;
  double            width, height; /* of one */
  PawlSketchOptions options;
  int               seed; /* of questions; under 0: the sketches themselves */
} Gallery;

static void
draw_caption (cairo_t *cr, const char *caption, PawlInks inks, double x, double y)
{
  cairo_select_font_face (cr, "Sans", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_BOLD);
  cairo_set_font_size (cr, 12);
  pawl_ink_set_source (&inks.ink, cr, 1);
  cairo_move_to (cr, x + 6, y + 14);
  cairo_show_text (cr, caption);
}

static void
draw_entry (const Gallery *gallery, const Entry *entry, cairo_t *cr)
{
  PawlQuestion question;

  if (gallery->seed < 0 || !pawl_rule_can_be_asked (entry->rule))
    {
      pawl_sketch_draw (entry->rule, &gallery->options, cr, gallery->width, gallery->height);
      return;
    }
  question = pawl_question_make (entry->rule, pawl_question_make_seed ("gallery", entry->caption, (guint) gallery->seed));
  for (int i = 0; i < 2; i++)
    {
      pawl_sketch_draw_question (entry->rule, &question, i == 1, &gallery->options, cr, gallery->width / 2, gallery->height);
      cairo_translate (cr, gallery->width / 2, 0);
    }
}

static void
draw_gallery_cb (cairo_t *cr, double width G_GNUC_UNUSED, double height G_GNUC_UNUSED, gpointer data)
{
  const Gallery *gallery = data;
  PawlInks inks = pawl_palette_get_inks (gallery->options.palette);

  pawl_ink_set_source (&inks.paper, cr, 1);
  cairo_paint (cr);
  for (guint i = 0; i < gallery->entries->len; i++)
    {
      const Entry *entry = &g_array_index (gallery->entries, Entry, i);
      double x = GAP + (i % gallery->columns) * (gallery->width + GAP), y = GAP + (i / gallery->columns) * (gallery->height + CAPTION + GAP);

      draw_caption (cr, entry->caption, inks, x, y);
      cairo_rectangle (cr, x + 0.5, y + CAPTION + 0.5, gallery->width - 1, gallery->height - 1);
      pawl_ink_set_source (&inks.faint, cr, 0.5);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
      cairo_save (cr);
      cairo_translate (cr, x, y + CAPTION);
      draw_entry (gallery, entry, cr);
      cairo_restore (cr);
    }
}

static gboolean
write_gallery (const Gallery *gallery, const char *path, GError **error)
{
  guint rows = (gallery->entries->len + gallery->columns - 1) / gallery->columns;

  return pawl_picture_write (path, GAP + gallery->columns * (gallery->width + GAP), GAP + rows * (gallery->height + CAPTION + GAP), draw_gallery_cb, (gpointer) gallery, error);
}

static gboolean
add_fits (GArray *entries, PawlProcedure *procedure, char **ids, GError **error)
{
  for (guint i = 0; ids[i]; i++)
    {
      const PawlAsk *ask = pawl_procedure_lookup_ask (procedure, ids[i], NULL);
      Entry entry;

      if (!ask || !ask->rule)
        {
          g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "\"%s\" is no fit rule of this procedure", ids[i]);
          return FALSE;
        }
      entry = (Entry) { pawl_rule_kind_get_name (ask->rule->kind), ask->rule };
      g_array_append_val (entries, entry);
    }
  return TRUE;
}

static void
add_table (GArray *entries, GPtrArray *cases)
{
  for (guint i = 0; i < cases->len; i++)
    {
      const SketchCase *one = g_ptr_array_index (cases, i);
      Entry entry = { one->name, one->rule };

      g_array_append_val (entries, entry);
    }
}

static PawlPalette
find_palette (const char *name)
{
  return !name ? PAWL_PALETTE_LIGHT : g_str_equal (name, "dark") ? PAWL_PALETTE_DARK : g_str_equal (name, "print") ? PAWL_PALETTE_PRINT : PAWL_PALETTE_LIGHT;
}

int
main (int argc, char **argv)
{
  gboolean is_table = FALSE;
  g_autofree char *palette = NULL, *size = NULL;
  int columns = 2, width = 440, height = 240, text = 12, seed = -1;
  const GOptionEntry options[] = {
    { "table", 0, 0, G_OPTION_ARG_NONE, &is_table, "Every form of every kind", NULL },
    { "palette", 0, 0, G_OPTION_ARG_STRING, &palette, "light, dark or print", "NAME" },
    { "size", 0, 0, G_OPTION_ARG_STRING, &size, "of one sketch", "WxH" },
    { "text", 0, 0, G_OPTION_ARG_INT, &text, "size of the words", "N" },
    { "columns", 0, 0, G_OPTION_ARG_INT, &columns, "of the grid", "N" },
    { "question", 0, 0, G_OPTION_ARG_INT, &seed, "as they are asked", "SEED" },
    { NULL },
  };
  g_autoptr(GOptionContext) context = g_option_context_new ("OUT.png [PROCEDURE.xml FIT-ID…]");
  g_autoptr(GPtrArray) cases = new_sketch_cases ();
  g_autoptr(GArray) entries = g_array_new (FALSE, FALSE, sizeof (Entry));
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(GError) error = NULL;
  Gallery gallery = { .entries = entries };

  g_option_context_add_main_entries (context, options, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || argc < 2 || columns < 1 || (size && sscanf (size, "%dx%d", &width, &height) != 2))
    {
      g_printerr ("%s\n", error ? error->message : "see --help");
      return 2;
    }
  if (is_table)
    add_table (entries, cases);
  else if (argc < 4 || !(procedure = pawl_procedure_load (argv[2], NULL, &error)) || !add_fits (entries, procedure, argv + 3, &error))
    {
      g_printerr ("%s\n", error ? error->message : "see --help");
      return 2;
    }
  gallery.seed = seed;
  gallery.columns = columns;
  gallery.width = width;
  gallery.height = height;
  gallery.options = (PawlSketchOptions) { .palette = find_palette (palette), .text_size = text };
  if (!write_gallery (&gallery, argv[1], &error))
    {
      g_printerr ("%s\n", error->message);
      return 2;
    }
  return 0;
}
