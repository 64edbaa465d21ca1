/* pawl history: what a reading was in one job after another. */
#include <math.h>
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "drawing/pawl-picture.h"
#include "history/pawl-run-chart.h"

typedef struct {
  char    *record, *reading, *serial, *output, *size, *palette;
  gboolean is_json, is_exact;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->reading);
  g_free (self->serial);
  g_free (self->output);
  g_free (self->size);
  g_free (self->palette);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- text and JSON ---- */

static void
print_value (const PawlHistory *history, const char *word, double value, PawlVerdictKind verdict)
{
  g_autofree char *text = NULL;

  if (isnan (value))
    return;
  text = pawl_history_format (history, value, '.');
  printf ("  %s %s (%s)", word, text, pawl_verdict_get_word (verdict));
}

static void
print_text (const PawlHistory *history)
{
  g_autofree char *words = pawl_history_describe (history, '.');

  for (guint i = 0; i < history->points->len; i++)
    {
      const PawlHistoryPoint *point = g_ptr_array_index (history->points, i);
      g_autofree char *at = pawl_cli_format_time (point->at);

      printf ("%.8s  %s  serial %s", point->job, at, *point->serial ? point->serial : "none");
      print_value (history, "as found", point->found, point->found_verdict);
      print_value (history, "as left", point->left, point->left_verdict);
      if (history->has_chart && !isnan (point->left) && pawl_control_chart_is_outside (&history->chart, point->left))
        printf ("  beyond chance");
      if (point->is_overdue)
        printf ("  instrument out of date then");
      printf ("\n");
    }
  printf ("%s\n", words);
}

static void
add_number (JsonBuilder *builder, const char *member, double value)
{
  json_builder_set_member_name (builder, member);
  if (isfinite (value))
    json_builder_add_double_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

static void
add_point (JsonBuilder *builder, const PawlHistoryPoint *point)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "job", point->job);
  pawl_cli_add_string (builder, "serial", point->serial);
  pawl_cli_add_time (builder, "opened", point->at);
  add_number (builder, "found-value", point->found);
  add_number (builder, "left-value", point->left);
  pawl_cli_add_string (builder, "found-verdict", isnan (point->found) ? NULL : pawl_verdict_get_word (point->found_verdict));
  pawl_cli_add_string (builder, "left-verdict", isnan (point->left) ? NULL : pawl_verdict_get_word (point->left_verdict));
  pawl_cli_add_int (builder, "attempts", point->n_attempts);
  json_builder_end_object (builder);
}

static void
print_json (const PawlHistory *history)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "procedure", history->procedure);
  pawl_cli_add_string (builder, "reading", history->reading);
  pawl_cli_add_string (builder, "name", history->name);
  pawl_cli_add_string (builder, "limits", history->limits);
  pawl_cli_add_string (builder, "unit-symbol", history->unit ? pawl_unit_get_symbol (history->unit) : NULL);
  pawl_cli_add_int (builder, "job-count", history->n_jobs);
  pawl_cli_add_int (builder, "corrected", history->n_corrected);
  add_number (builder, "correction", history->correction);
  pawl_cli_add_string (builder, "remark", *history->remark ? history->remark : NULL);
  add_number (builder, "mean", history->has_chart ? history->chart.mean : NAN);
  add_number (builder, "mean-range", history->has_chart ? history->chart.mean_range : NAN);
  add_number (builder, "low", history->has_chart ? history->chart.low : NAN);
  add_number (builder, "high", history->has_chart ? history->chart.high : NAN);
  add_number (builder, "range-high", history->has_chart ? history->chart.range_high : NAN);
  json_builder_set_member_name (builder, "points");
  json_builder_begin_array (builder);
  for (guint i = 0; i < history->points->len; i++)
    add_point (builder, g_ptr_array_index (history->points, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* ---- the picture ---- */

typedef struct {
  const PawlHistory  *history;
  PawlRunChartOptions options;
} Picture;

static void
draw_picture (cairo_t *cr, double width, double height, gpointer data)
{
  const Picture *picture = data;

  pawl_run_chart_draw (picture->history, &picture->options, cr, width, height);
}

static gboolean
read_palette (const char *text, PawlPalette *palette, GError **error)
{
  static const char *const names[] = { [PAWL_PALETTE_LIGHT] = "light", [PAWL_PALETTE_DARK] = "dark", [PAWL_PALETTE_PRINT] = "print" };

  *palette = PAWL_PALETTE_PRINT;
  for (guint i = 0; text && i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (names[i], text))
      {
        *palette = (PawlPalette) i;
        return TRUE;
      }
  return text == NULL || pawl_cli_refuse_value ("--palette", text, "light, dark or print", error);
}

static gboolean
write_picture (const PawlHistory *history, const Options *options, GError **error)
{
  Picture picture = { history, { .decimal_mark = '.' } };
  guint width = 900, height = 480;
  char rest;

  if (options->size && (sscanf (options->size, "%5ux%5u%c", &width, &height, &rest) != 2 || width == 0 || height == 0))
    return pawl_cli_refuse_value ("--size", options->size, "WIDTHxHEIGHT, for instance 900x480", error);
  if (!read_palette (options->palette, &picture.options.palette, error)
      || !pawl_picture_write (options->output, width, height, draw_picture, &picture, error))
    return FALSE;
  if (!options->is_json)
    printf ("%s written\n", options->output);
  return TRUE;
}

int
pawl_command_history (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "reading", 0, 0, G_OPTION_ARG_FILENAME, &options.reading, "The reading, by its id; a place of it as READING.PLACE", "ID" },
    { "serial", 0, 0, G_OPTION_ARG_FILENAME, &options.serial, "Only the unit with this serial number", "SERIAL" },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "Picture to write; its ending says which kind: .svg, .pdf or .png", "OUT" },
    { "size", 0, 0, G_OPTION_ARG_FILENAME, &options.size, "Points, or pixels of a .png (900x480)", "WxH" },
    { "palette", 0, 0, G_OPTION_ARG_FILENAME, &options.palette, "print (as when left out), light or dark", "PALETTE" },
    { "exact", 0, 0, G_OPTION_ARG_NONE, &options.is_exact, "Limits by 2.65868 and 3.26653 instead of 2.66 and 3.267", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (PawlHistory) history = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "PROCEDURE|JOB", "Shows what a reading was in one job of a procedure after another, as found and as left, "
                       "between which limits chance alone keeps it, and what usually put it right.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!options.reading)
    {
      pawl_cli_complain (argv[0], "which reading? Name it by its id, for instance --reading float-height");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(record = pawl_cli_open_record (options.record, PAWL_RECORD_OPEN_READ_ONLY, &error))
      || !(history = pawl_history_load (record, argv[1], options.reading, options.serial, options.is_exact ? PAWL_CHART_EXACT : PAWL_CHART_AS_PRINTED, &error)))
    return pawl_cli_fail (argv[0], error);
  if (options.is_json)
    print_json (history);
  else
    print_text (history);
  if (options.output && !write_picture (history, &options, &error))
    return pawl_cli_fail (argv[0], error);
  return PAWL_EXIT_FINE;
}
