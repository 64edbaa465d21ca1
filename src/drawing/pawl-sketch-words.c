/* Words and numbers of the sketch: in the reader's unit and language, on paper and read aloud. */
#include <string.h>

#include "drawing/pawl-sketch-private.h"

/* ---- options ---- */

const char *
pawl_sketch_choose_word (const char *word, const char *otherwise)
{
  return word ? word : otherwise;
}

PawlSketchOptions
pawl_sketch_complete_options (const PawlSketchOptions *options)
{
  PawlSketchOptions all = { 0 };

  if (options)
    all = *options;
  all.decimal_mark = all.decimal_mark ? all.decimal_mark : '.';
  all.units_per_mm = all.units_per_mm > 0 ? all.units_per_mm : 96 / 25.4;
  all.distance_mm = all.distance_mm > 0 ? all.distance_mm : PAWL_BENCH_DISTANCE_MM;
  all.text_size = all.text_size > 0 ? all.text_size : 13;
  all.right_word = pawl_sketch_choose_word (all.right_word, "Right");
  all.wrong_word = pawl_sketch_choose_word (all.wrong_word, "Wrong");
  all.either_word = pawl_sketch_choose_word (all.either_word, "Either way");
  all.nothing_word = pawl_sketch_choose_word (all.nothing_word, "nothing to see");
  all.mark_word = pawl_sketch_choose_word (all.mark_word, "only the mark tells");
  all.closed_word = pawl_sketch_choose_word (all.closed_word, "nothing to see once it is closed");
  all.open_word = pawl_sketch_choose_word (all.open_word, "open");
  all.exaggerated_word = pawl_sketch_choose_word (all.exaggerated_word, "exaggerated");
  all.lacks_word = pawl_sketch_choose_word (all.lacks_word, "No sketch. The rule lacks");
  return all;
}

/* ---- numbers ---- */

/* printf follows the process's locale; the mark wanted is the one handed in. */
static char *
set_mark (char *text, char mark)
{
  char *point = strpbrk (text, ".,");

  if (point)
    *point = mark;
  return text;
}

char *
pawl_sketch_format_size (double size_mm, const PawlSketchOptions *options)
{
  PawlSketchOptions all = pawl_sketch_complete_options (options);

  if (size_mm < 1e-6)
    return g_strdup (all.nothing_word);
  if (all.unit == PAWL_LENGTH_INCH)
    return set_mark (g_strdup_printf ("%.3f in", size_mm / 25.4), all.decimal_mark);
  return set_mark (g_strdup_printf (size_mm < 1 ? "%.2f mm" : "%.1f mm", size_mm), all.decimal_mark);
}

static void
drop_zeros (char *text)
{
  gsize length = strlen (text);

  if (!strpbrk (text, ".,"))
    return;
  while (text[length - 1] == '0')
    text[--length] = '\0';
  if (strchr (".,", text[length - 1]))
    text[length - 1] = '\0';
}

/* A dimension of a part, not a difference: as many places as it has, three at most. */
static char *
format_length (double mm, const PawlSketchOptions *options)
{
  g_autofree char *number = NULL;

  if (options->unit == PAWL_LENGTH_INCH)
    return set_mark (g_strdup_printf ("%.3f in", mm / 25.4), options->decimal_mark);
  number = g_strdup_printf ("%.3f", mm);
  drop_zeros (number);
  return g_strdup_printf ("%s mm", set_mark (number, options->decimal_mark));
}

static char *
format_angle (double degrees, const PawlSketchOptions *options)
{
  g_autofree char *number = g_strdup_printf ("%.1f", degrees);

  drop_zeros (number);
  return g_strdup_printf ("%s°", set_mark (number, options->decimal_mark));
}

static char *
format_value (const PawlStroke *stroke, const PawlSketchOptions *options)
{
  switch (stroke->says)
    {
    case PAWL_SAYS_LENGTH:
      return format_length (stroke->value, options);
    case PAWL_SAYS_ANGLE:
      return format_angle (stroke->value, options);
    case PAWL_SAYS_OPEN:
      return g_strdup_printf ("%.0f %% %s", 100 * stroke->value, options->open_word);
    case PAWL_SAYS_NOTHING:
    default:
      return NULL;
    }
}

char *
pawl_sketch_format_stroke (const PawlStroke *stroke, const char *between, const PawlSketchOptions *options)
{
  g_autofree char *value = format_value (stroke, options);

  if (!stroke->label || !value)
    return stroke->label ? g_strdup (stroke->label) : g_steal_pointer (&value);
  return g_strdup_printf ("%s%s%s", stroke->label, between, value);
}

char *
pawl_sketch_format_difference (const PawlStroke *stroke, double size_mm, const PawlSketchOptions *options)
{
  g_autofree char *size = pawl_sketch_format_size (size_mm, options);
  g_autofree char *value = format_value (stroke, options);

  return value ? g_strdup_printf ("%s · %s", value, size) : g_steal_pointer (&size);
}

/* ---- layouts ---- */

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
pawl_sketch_wrap_text (PangoLayout *layout, double width, int most_lines)
{
  double natural;

  pawl_sketch_get_text_size (layout, &natural, NULL);
  if (natural > width)
    pango_layout_set_width (layout, (int) (MAX (width, 1) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, -most_lines);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
}

gboolean
pawl_sketch_is_cut (PangoLayout *layout)
{
  const char *text = pango_layout_get_text (layout);

  if (pango_layout_is_ellipsized (layout))
    return TRUE;
  for (GSList *lines = pango_layout_get_lines_readonly (layout); lines; lines = lines->next)
    {
      const PangoLayoutLine *line = lines->data;
      int end = line->start_index + line->length;

      /* A line that ends amid letters; one that ends at a blank has it in itself or after it. */
      if (lines->next && end > 0 && text[end] && !g_ascii_isspace (text[end]) && !g_ascii_isspace (text[end - 1]) && text[end - 1] != '-')
        return TRUE;
    }
  return FALSE;
}

/* ---- in words ---- */

static void
add_sentence (GString *text, const char *lead, const char *sentence)
{
  if (!sentence || !*sentence)
    return;
  g_string_append_printf (text, "%s%s: %s%s", text->len ? " " : "", lead, sentence, strchr (".!?", sentence[strlen (sentence) - 1]) ? "" : ".");
}

char *
pawl_sketch_describe (const PawlRule *rule, const PawlSketchOptions *options)
{
  PawlSketchOptions all = pawl_sketch_complete_options (options);
  GString *text = g_string_new (NULL);
  g_autofree char *size = NULL;

  if (rule->kind == PAWL_RULE_EITHER)
    {
      add_sentence (text, all.either_word, rule->symmetry);
      return g_string_free (text, FALSE);
    }
  add_sentence (text, all.right_word, rule->says);
  add_sentence (text, all.wrong_word, rule->consequence);
  size = pawl_sketch_format_size (pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM).size_mm, &all);
  g_string_append_printf (text, "%s%s.", text->len ? " " : "", size);
  return g_string_free (text, FALSE);
}
