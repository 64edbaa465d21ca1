#include "report/pawl-lettering.h"

#include <string.h>

/* The generic family: what the machine's fontconfig gives for it. */
#define FAMILY "Sans"
#define FAMILY_ONE_WIDTH "Monospace"

typedef struct {
  double       size_pt;
  PangoWeight  weight;
  PangoStretch stretch;
  double       grey;
} Face;

static const Face faces[PAWL_N_LETTERS] = {
  [PAWL_LETTER_TITLE]       = { 16.0, PANGO_WEIGHT_BOLD,   PANGO_STRETCH_NORMAL,         0.00 },
  [PAWL_LETTER_HEADING]     = { 10.5, PANGO_WEIGHT_BOLD,   PANGO_STRETCH_NORMAL,         0.00 },
  [PAWL_LETTER_BODY]        = {  8.8, PANGO_WEIGHT_NORMAL, PANGO_STRETCH_SEMI_CONDENSED, 0.05 },
  [PAWL_LETTER_STRONG]      = {  8.8, PANGO_WEIGHT_BOLD,   PANGO_STRETCH_SEMI_CONDENSED, 0.00 },
  [PAWL_LETTER_CELL]        = {  8.2, PANGO_WEIGHT_NORMAL, PANGO_STRETCH_SEMI_CONDENSED, 0.05 },
  [PAWL_LETTER_CELL_STRONG] = {  8.2, PANGO_WEIGHT_BOLD,   PANGO_STRETCH_SEMI_CONDENSED, 0.00 },
  [PAWL_LETTER_NOTE]        = {  7.0, PANGO_WEIGHT_NORMAL, PANGO_STRETCH_SEMI_CONDENSED, 0.32 },
  [PAWL_LETTER_LABEL]       = {  6.8, PANGO_WEIGHT_NORMAL, PANGO_STRETCH_SEMI_CONDENSED, 0.40 },
  [PAWL_LETTER_DIGEST]      = {  7.5, PANGO_WEIGHT_NORMAL, PANGO_STRETCH_NORMAL,         0.05 },
};

/* What a face gives up in height when the family has no narrow form, so that a table takes the same room. */
#define SQUEEZE 0.88
#define SQUEEZE_KEY "pawl-squeeze"

static int
measure_sample (PangoContext *context, PangoStretch stretch)
{
  g_autoptr (PangoLayout) layout = pango_layout_new (context);
  g_autoptr (PangoFontDescription) font = pango_font_description_from_string (FAMILY " 10");
  int width;

  pango_font_description_set_stretch (font, stretch);
  pango_layout_set_font_description (layout, font);
  pango_layout_set_text (layout, "Which way round 0.0465 in", -1);
  pango_layout_get_size (layout, &width, NULL);
  return width;
}

/* A bare machine may have the family's one width only. */
static gboolean
has_narrow_face (PangoContext *context)
{
  return measure_sample (context, PANGO_STRETCH_SEMI_CONDENSED) < measure_sample (context, PANGO_STRETCH_NORMAL);
}

static double
get_size (PangoContext *context, const Face *face)
{
  gboolean is_squeezed = face->stretch != PANGO_STRETCH_NORMAL && g_object_get_data (G_OBJECT (context), SQUEEZE_KEY);

  return is_squeezed ? face->size_pt * SQUEEZE : face->size_pt;
}

PangoContext *
pawl_lettering_new_context (void)
{
  g_autoptr (PangoFontMap) map = pango_cairo_font_map_new ();
  PangoContext *context;
  cairo_font_options_t *options = cairo_font_options_create ();

  pango_cairo_font_map_set_resolution (PANGO_CAIRO_FONT_MAP (map), 72.0);
  context = pango_font_map_create_context (map);
  cairo_font_options_set_hint_metrics (options, CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_hint_style (options, CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_antialias (options, CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options (context, options);
  cairo_font_options_destroy (options);
  pango_context_set_round_glyph_positions (context, FALSE);
  g_object_set_data (G_OBJECT (context), SQUEEZE_KEY, GINT_TO_POINTER (!has_narrow_face (context)));
  return context;
}

/* "15:16" of a time, "5/16" of a mixed number */
static gboolean
is_later_part (const char *text)
{
  const char *end = text + strspn (text, "0123456789");

  return end > text && (*end == ':' || *end == '/');
}

/* Whether the word that ends at @end is one that a number belongs to: "step 45", "(item 31)", "No. 2", "4 of 11", "max 5", "1 h 30 min". */
static gboolean
takes_number (const char *text, const char *end)
{
  static const char * const words[] = { "step", "item", "no.", "p.", "of", "revision", "version", "max", "min", "h", "d" };

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize length = strlen (words[i]);
      const char *start = end - length;

      if ((gsize) (end - text) >= length && g_ascii_strncasecmp (start, words[i], length) == 0
          && (start == text || !g_unichar_isalnum (g_utf8_get_char (g_utf8_prev_char (start)))))
        return TRUE;
    }
  return FALSE;
}

/*
 * Whether the space at @space belongs inside a quantity or a time: "0.02 mm", "3.0 N m", "≈ 0.02", "± 0.02", "1 5/16", "2026-11-25 15:16"; or
 * between a number and the word that it counts for.
 */
static gboolean
is_inside_quantity (const char *text, const char *space)
{
  gunichar before = space > text ? g_utf8_get_char (g_utf8_prev_char (space)) : 0;
  gunichar after = g_utf8_get_char (space + 1);

  if (g_unichar_isdigit (after) && takes_number (text, space))
    return TRUE;
  if (before == 0x2248 || before == 0xb1) /* ≈ ± */
    return g_ascii_isdigit (space[1 + (after == '.')]);
  if (g_unichar_isdigit (before))
    return g_unichar_isalpha (after) || is_later_part (space + 1);
  return before == 'N' && after == 'm' && !g_unichar_isalpha (g_utf8_get_char (space + 2));
}

static void
keep (PangoAttrList *attributes, gsize start, gsize end)
{
  PangoAttribute *attribute = pango_attr_allow_breaks_new (FALSE);

  attribute->start_index = (guint) start;
  attribute->end_index = (guint) end;
  pango_attr_list_insert (attributes, attribute);
}

/* A line never ends between a number and its unit, between a day and its hour, nor after a leading decimal point. */
static void
keep_quantities (PangoAttrList *attributes, const char *text)
{
  for (const char *point = strchr (text, '.'); point; point = strchr (point + 1, '.'))
    if (g_ascii_isdigit (point[1]) && (point == text || !g_ascii_isdigit (point[-1])))
      keep (attributes, (gsize) (point - text), (gsize) (point - text) + 2);
  for (const char *space = strchr (text, ' '); space; space = strchr (space + 1, ' '))
    if (is_inside_quantity (text, space))
      keep (attributes, (gsize) (space - text), (gsize) (g_utf8_next_char (space + 1) - text)); /* past the first letter */
}

PangoLayout *
pawl_lettering_new_layout (PangoContext *context, PawlLetter letter, const char *text, double width_pt)
{
  const Face *face = &faces[letter];
  g_autoptr (PangoFontDescription) font = pango_font_description_new ();
  g_autofree char *valid = g_utf8_make_valid (text, -1);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  PangoLayout *layout = pango_layout_new (context);

  pango_font_description_set_family (font, letter == PAWL_LETTER_DIGEST ? FAMILY_ONE_WIDTH : FAMILY);
  pango_font_description_set_absolute_size (font, get_size (context, face) * PANGO_SCALE);
  pango_font_description_set_weight (font, face->weight);
  pango_font_description_set_stretch (font, face->stretch);
  pango_layout_set_font_description (layout, font);
  /* Figures of one width, so that columns of numbers stand under each other; no ligatures, on which programs that read a PDF out stumble. */
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1, liga=0, clig=0"));
  keep_quantities (attributes, valid);
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  if (width_pt >= 0)
    pango_layout_set_width (layout, (int) (width_pt * PANGO_SCALE));
  pango_layout_set_text (layout, valid, -1);
  return layout;
}

double
pawl_lettering_get_grey (PawlLetter letter)
{
  return faces[letter].grey;
}
