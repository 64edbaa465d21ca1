/* pawl plan: the day at the bench. What is left of one job or of several, in the order in which one pair of hands has done it soonest. */
#include <stdio.h>
#include <string.h>

#include <cairo-svg.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-plan-print.h"
#include "drawing/pawl-picture.h"
#include "job/pawl-bench-sheet.h"
#include "plan/pawl-lanes.h"
#include "procedure/pawl-reader.h"
#include "procedure/pawl-variant.h"
#include "report/pawl-shop.h"

typedef struct {
  char   **jobs, **places;
  char    *record, *start, *hours, *variant, *output, *size, *palette;
  gboolean is_json, is_svg;
} Options;

static void
clear_options (Options *self)
{
  g_strfreev (self->jobs);
  g_strfreev (self->places);
  g_free (self->record);
  g_free (self->start);
  g_free (self->hours);
  g_free (self->variant);
  g_free (self->output);
  g_free (self->size);
  g_free (self->palette);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- what is planned ---- */

/* "08:00" is today; (nullable) @text: now. */
static GDateTime *
read_start (const char *text, GError **error)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *day = g_date_time_format (now, "%Y-%m-%d");
  g_autofree char *whole = text && !strchr (text, 'T') ? g_strdup_printf ("%sT%s", day, text) : g_strdup (text);
  GDateTime *start;

  if (!text)
    return g_steal_pointer (&now);
  if (!(start = pawl_bench_sheet_parse_time (whole, g_date_time_get_timezone (now))))
    pawl_cli_refuse_value ("--start", text, "a time such as 08:00 or 2026-11-25T08:00", error);
  return start;
}

/* "NAME=2" */
static gboolean
read_places (PawlWorkPlan *plan, char **places, GError **error)
{
  for (guint i = 0; places && places[i]; i++)
    {
      const char *mark = strrchr (places[i], '=');
      g_autofree char *name = mark ? g_strndup (places[i], (gsize) (mark - places[i])) : NULL;
      guint64 n;

      if (!mark || *name == '\0' || !g_ascii_string_to_unsigned (mark + 1, 10, 0, 1000, &n, NULL))
        return pawl_cli_refuse_value ("--places", places[i], "NAME=NUMBER, for instance \"weak-acid descaler=2\"; 0 for as many as are wanted", error);
      pawl_work_plan_set_places (plan, name, (guint) n);
    }
  return TRUE;
}

/* (nullable) @text: those of the shop. */
static gboolean
read_hours (PawlWorkPlan *plan, const char *text, GError **error)
{
  g_autofree char *path = pawl_shop_dup_default_path (g_get_user_config_dir ());
  g_autoptr (PawlShop) shop = text ? NULL : pawl_shop_load (path, error);
  PawlTimes *hours;

  if ((!text && !shop) || !pawl_hours_parse (text ? text : shop->hours, &hours, error))
    {
      g_prefix_error (error, "%s: ", text ? "--hours" : path);
      return FALSE;
    }
  pawl_work_plan_take_hours (plan, hours);
  return TRUE;
}

static gboolean
add_file (PawlWorkPlan *plan, const char *file, const char *variant, GError **error)
{
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (file, NULL, error);
  g_autofree char *whole = NULL, *problem = NULL;

  if (!procedure)
    return FALSE;
  if (!pawl_variant_check (procedure, variant, &problem))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "%s: %s", file, problem);
      return FALSE;
    }
  whole = pawl_variant_dup_first (procedure, variant);
  return pawl_work_plan_add_procedure (plan, procedure, whole, pawl_procedure_get_title (procedure), error);
}

static gboolean
add_job (PawlWorkPlan *plan, PawlRecord *record, const char *id, GError **error)
{
  g_autoptr (PawlBench) bench = pawl_bench_resume (record, id, NULL, error);
  g_autofree char *title = bench ? pawl_work_plan_make_title (pawl_bench_get_job (bench)) : NULL;

  return bench && pawl_work_plan_add_job (plan, pawl_bench_get_job (bench), title, error);
}

/* Those that are named, or all that are not signed. */
static gboolean
add_jobs (PawlWorkPlan *plan, const Options *options, GError **error)
{
  g_autoptr (PawlRecord) record = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_READ_ONLY, error);
  g_autoptr (GPtrArray) lines = NULL;

  if (!record)
    return FALSE;
  for (guint i = 0; options->jobs && options->jobs[i]; i++)
    {
      g_autofree char *id = pawl_record_find_job (record, options->jobs[i], error);

      if (!id || !add_job (plan, record, id, error))
        return FALSE;
    }
  if (options->jobs)
    return TRUE;
  if (!(lines = pawl_record_list_jobs (record, error)))
    return FALSE;
  for (guint i = lines->len; i > 0; i--) /* the longest untouched first */
    {
      const PawlJobLine *line = g_ptr_array_index (lines, i - 1);

      if (!line->is_signed && !add_job (plan, record, line->id, error))
        return FALSE;
    }
  return TRUE;
}

static PawlWorkPlan *
make_plan (char **files, const Options *options, GError **error)
{
  g_autoptr (GDateTime) start = read_start (options->start, error);
  g_autoptr (PawlWorkPlan) plan = start ? pawl_work_plan_new (start) : NULL;

  if (!plan || !read_places (plan, options->places, error) || !read_hours (plan, options->hours, error))
    return NULL;
  for (guint i = 0; files[i]; i++)
    if (!add_file (plan, files[i], options->variant, error))
      return NULL;
  if ((!files[0] || options->jobs) && !add_jobs (plan, options, error))
    return NULL;
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  return g_steal_pointer (&plan);
}

/* ---- the picture ---- */

/* Points, or pixels of a .png; the height is what the lanes need when nothing else is said. */
#define PICTURE_WIDTH 1400
#define PICTURE_TEXT  12.0
#define PICTURE_TALLEST 16000.0

typedef struct {
  PawlLanes    *lanes;
  PawlLanesView view;
} Picture;

static void
draw_picture (cairo_t *cr, double width, double height, gpointer data)
{
  const Picture *picture = data;

  pawl_lanes_draw (picture->lanes, &picture->view, cr, width, height);
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

static cairo_status_t
print_cb (void *closure, const unsigned char *data, unsigned int length)
{
  return fwrite (data, 1, length, stdout) == length ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

static gboolean
print_svg (const Picture *picture, double width, double height, GError **error)
{
  cairo_surface_t *surface = cairo_svg_surface_create_for_stream (print_cb, NULL, width, height);
  cairo_t *cr = cairo_create (surface);
  cairo_status_t status;

  pawl_lanes_draw (picture->lanes, &picture->view, cr, width, height);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    g_set_error (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_IO, "the picture can't be printed: %s", cairo_status_to_string (status));
  return status == CAIRO_STATUS_SUCCESS;
}

static gboolean
write_picture (const PawlWorkPlan *plan, const Options *options, GError **error)
{
  g_autoptr (PawlLanes) lanes = pawl_lanes_new (plan, PICTURE_TEXT);
  Picture picture = { lanes, { .selected = -1 } };
  double tall = MIN (pawl_lanes_get_height (lanes), PICTURE_TALLEST);
  guint width = PICTURE_WIDTH, height = (guint) tall + 1;
  char rest;

  if (options->size && (sscanf (options->size, "%5ux%5u%c", &width, &height, &rest) != 2 || width == 0 || height == 0))
    return pawl_cli_refuse_value ("--size", options->size, "WIDTHxHEIGHT, for instance 1400x900", error);
  if (!read_palette (options->palette, &picture.view.palette, error))
    return FALSE;
  if (options->is_svg && !print_svg (&picture, width, height, error))
    return FALSE;
  return !options->output || pawl_picture_write (options->output, width, height, draw_picture, &picture, error);
}

static gboolean
has_lost (const PawlWorkPlan *plan)
{
  const GPtrArray *items = pawl_work_plan_get_items (plan);

  for (guint i = 0; i < items->len; i++)
    if (((const PawlWorkPlanItem *) g_ptr_array_index (items, i))->is_overdue)
      return TRUE;
  return FALSE;
}

int
pawl_command_plan (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "job", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.jobs, "A job of the record, by id, work order or serial; may be said again", "JOB" },
    { "start", 0, 0, G_OPTION_ARG_FILENAME, &options.start, "When the hands begin: 08:00 today, or 2026-11-25T08:00; without it, now", "TIME" },
    { "hours", 0, 0, G_OPTION_ARG_FILENAME, &options.hours, "Working hours: 08:00-17:00 Mon-Fri, or none; without it, those of the shop", "HOURS" },
    { "variant", 0, 0, G_OPTION_ARG_FILENAME, &options.variant, "Variant of the procedures; without it, the first of each", "ID" },
    { "places", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.places, "How many places a bath, an oven or a press has (1): its agent or tool; 0: as many as are wanted", "NAME=N" },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "Picture of the lanes to write; its ending says which kind: .svg, .pdf or .png", "OUT" },
    { "svg", 0, 0, G_OPTION_ARG_NONE, &options.is_svg, "Print the picture of the lanes as SVG, instead of text", NULL },
    { "size", 0, 0, G_OPTION_ARG_FILENAME, &options.size, "Points, or pixels of a .png (1400 by what the lanes need)", "WxH" },
    { "palette", 0, 0, G_OPTION_ARG_FILENAME, &options.palette, "print (as when left out), light or dark", "PALETTE" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlWorkPlan) plan = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "[FILE…]", "Plans the day: what is left of the procedures in FILE, or of the jobs on the bench, in the order in which one "
                       "pair of hands has it done soonest, with waits running beside. Without FILE and --job, all jobs that are not signed.", 0, -1))
    return PAWL_EXIT_COULD_NOT;
  if (options.is_json && options.is_svg)
    {
      pawl_cli_complain (argv[0], "--json and --svg can't both be printed; write the picture with -o");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(plan = make_plan (argv + 1, &options, &error)))
    return pawl_cli_fail (argv[0], error);
  if ((options.is_svg || options.output) && !write_picture (plan, &options, &error))
    return pawl_cli_fail (argv[0], error);
  if (options.is_json)
    pawl_plan_print_json (plan);
  else if (!options.is_svg)
    pawl_plan_print_text (plan);
  if (options.output && !options.is_json && !options.is_svg)
    printf ("\n%s written\n", options.output);
  return has_lost (plan) ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}
