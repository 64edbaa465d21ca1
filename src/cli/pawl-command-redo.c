/* pawl redo: what opens again when a step is done again, a reading comes right, or the newest answer is taken back. Nothing is recorded. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "drawing/pawl-picture.h"
#include "job/pawl-variant-change.h"
#include "procedure/pawl-variant.h"
#include "view/pawl-job-view.h"

typedef struct {
  char    *record, *correction, *variant, *output;
  gboolean is_undo, is_json;
} Options;

static void
print_line (const PawlRedoLine *line)
{
  const PawlStep *step = line->state->step;
  g_autofree char *why = pawl_redo_cause_describe (&line->state->redo);
  g_autofree char *chain = pawl_redo_line_describe_chain (line);

  printf ("  %3s  %s (%s%s%s)\n", step->number, step->command, why, *chain ? "; " : "", chain);
  if (step->cant_undo)
    printf ("       It can't be undone: %s\n", step->cant_undo);
}

static void
print_plan (const PawlRedoPlan *plan)
{
  g_autofree char *stays = pawl_redo_plan_describe_stays (plan);

  puts (plan->opens->len > 0 ? "This opens again:" : "Nothing opens again.");
  for (guint i = 0; i < plan->opens->len; i++)
    print_line (g_ptr_array_index (plan->opens, i));
  printf ("Stays done: %s\n", *stays ? stays : "nothing");
}

/* Only of another variant: what comes and goes. */
static void
print_changes (GPtrArray *lines)
{
  static const char *const heads[] = { "These come:", "These go:", "These limits are others:" };

  for (guint kind = PAWL_CHANGE_COMES; kind <= PAWL_CHANGE_LIMITS; kind++)
    for (guint i = 0, n = 0; i < lines->len; i++)
      {
        const PawlVariantChangeLine *line = g_ptr_array_index (lines, i);
        g_autofree char *words = pawl_variant_change_line_describe (line);

        if ((guint) line->kind != kind)
          continue;
        if (n++ == 0)
          puts (heads[kind]);
        printf ("  %s\n", words);
      }
  if (lines->len == 0)
    puts ("No step, limits or part is another.");
}

/* ---- as JSON ---- */

static void
add_ask_id (JsonBuilder *builder, const char *member, const PawlAsk *ask)
{
  pawl_cli_add_string (builder, member, ask ? ask->id : NULL);
}

static void
add_line (JsonBuilder *builder, const PawlRedoLine *line)
{
  const PawlRedoCause *cause = &line->state->redo;

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "id", line->state->step->id);
  pawl_cli_add_string (builder, "number", line->state->step->number);
  pawl_cli_add_string (builder, "command", line->state->step->command);
  pawl_cli_add_string (builder, "why", pawl_redo_kind_get_word (cause->kind));
  pawl_cli_add_string (builder, "part", cause->part ? cause->part->id : NULL);
  add_ask_id (builder, "corrected", cause->corrected);
  add_ask_id (builder, "coupled", cause->coupled);
  pawl_cli_add_string (builder, "cant-undo", line->state->step->cant_undo);
  json_builder_set_member_name (builder, "chain");
  json_builder_begin_array (builder);
  for (guint i = 0; i < line->chain->len; i++)
    json_builder_add_string_value (builder, ((const PawlStepState *) g_ptr_array_index (line->chain, i))->step->id);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_change (JsonBuilder *builder, const PawlVariantChangeLine *line)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "kind", pawl_change_kind_get_word (line->kind));
  pawl_cli_add_string (builder, "part", line->part ? line->part->id : NULL);
  pawl_cli_add_string (builder, "step", line->step ? line->step->id : NULL);
  pawl_cli_add_string (builder, "ask", line->ask ? line->ask->ask->id : NULL);
  pawl_cli_add_string (builder, "before", line->before);
  pawl_cli_add_string (builder, "after", line->after);
  json_builder_end_object (builder);
}

/* @changes: (nullable) */
static void
add_changes (JsonBuilder *builder, GPtrArray *changes)
{
  json_builder_set_member_name (builder, "changes");
  if (!changes)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_array (builder);
  for (guint i = 0; i < changes->len; i++)
    add_change (builder, g_ptr_array_index (changes, i));
  json_builder_end_array (builder);
}

static void
print_json (const PawlRedoPlan *plan, GPtrArray *changes)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  add_changes (builder, changes);
  json_builder_set_member_name (builder, "opens");
  json_builder_begin_array (builder);
  for (guint i = 0; i < plan->opens->len; i++)
    add_line (builder, g_ptr_array_index (plan->opens, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "stays");
  json_builder_begin_array (builder);
  for (guint i = 0; i < plan->stays->len; i++)
    json_builder_add_string_value (builder, ((const PawlStepState *) g_ptr_array_index (plan->stays, i))->step->id);
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* ---- on the figure ---- */

static gboolean
draw (PawlBench *bench, const PawlRedoPlan *plan, const char *path, GError **error)
{
  g_autoptr (PawlFigure) figure = pawl_cli_load_figure (bench, error);
  g_autoptr (PawlScene) scene = NULL;
  g_autoptr (GPtrArray) views = NULL;
  g_auto (GStrv) parts = pawl_redo_plan_list_parts (plan);

  if (!figure)
    {
      if (error && !*error)
        g_set_error_literal (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_IO, "this job has no figure to mark parts on; leave -o out");
      return FALSE;
    }
  scene = pawl_scene_new (figure);
  pawl_scene_set_number_size (scene, 22);
  pawl_view_hide_pictures (pawl_bench_get_procedure (bench), scene);
  views = pawl_job_view_new (pawl_bench_get_job (bench), NULL);
  pawl_job_view_mark (views, parts);
  pawl_job_view_apply (views, scene);
  pawl_scene_show_all (scene);
  return pawl_picture_write_scene (path, scene, 1600, 1000, error);
}

/* ---- the command ---- */

/* By id, or by its number in the file. */
static const char *
find_step_id (PawlJob *job, const char *text)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len && !pawl_job_lookup_step (job, text); i++)
    if (g_str_equal (((const PawlStepState *) g_ptr_array_index (steps, i))->step->number, text))
      return ((const PawlStepState *) g_ptr_array_index (steps, i))->step->id;
  return text;
}

static PawlRedoPlan *
make_plan (PawlJob *job, const char *step, const Options *options, GError **error)
{
  const PawlAskState *ask = options->correction ? pawl_job_lookup_ask (job, options->correction) : NULL;
  PawlRedoPlan *plan = NULL;

  if (!!step + !!options->correction + options->is_undo != 1)
    g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_FAILED,
                         "what is done again? Give a step by id or number, or --correction ASK, --variant IDS or --undo, one of them");
  else if (step)
    plan = pawl_redo_plan_new_for_step (job, find_step_id (job, step), error);
  else if (options->is_undo)
    {
      if (!(plan = pawl_redo_plan_new_for_undo (job)))
        g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, "there is nothing to undo");
    }
  else if (ask)
    plan = pawl_redo_plan_new_for_correction (job, ask);
  else
    pawl_cli_refuse_value ("--correction", options->correction, "the id of a reading or a check of this procedure", error);
  return plan;
}

/* (transfer full): what is named, and of sets that are not named what the job has. */
static char *
make_whole (PawlJob *job, const char *named)
{
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  g_auto (GStrv) now = g_strsplit (pawl_job_get_variant (job), " ", -1);
  g_autoptr (GString) ids = g_string_new (named);

  for (char **id = now; *id; id++)
    if (!pawl_variant_excludes (procedure, *id, named) && !pawl_variant_matches (*id, named))
      g_string_append_printf (ids, " %s", *id);
  return pawl_variant_complete (procedure, ids->str, pawl_job_get_field (job, "serial"), NULL);
}

static PawlVariantChange *
make_change (PawlJob *job, const char *step, const Options *options, GError **error)
{
  g_autofree char *variant = make_whole (job, options->variant);

  if (!step && !options->correction && !options->is_undo)
    return pawl_variant_change_new (job, variant, error);
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_FAILED, "--variant is of the whole job: leave out the step, --correction and --undo");
  return NULL;
}

/* What the command was asked: a plan, and when it is of a variant what that changes besides. */
static gboolean
answer (PawlBench *bench, const char *step, const Options *options, GError **error)
{
  PawlJob *job = pawl_bench_get_job (bench);
  g_autoptr (PawlVariantChange) change = options->variant ? make_change (job, step, options, error) : NULL;
  g_autoptr (PawlRedoPlan) own = options->variant ? NULL : make_plan (job, step, options, error);
  const PawlRedoPlan *plan = change ? change->redo : own;

  if (!plan || (options->output && !draw (bench, plan, options->output, error)))
    return FALSE;
  if (options->is_json)
    print_json (plan, change ? change->lines : NULL);
  else
    {
      if (change)
        print_changes (change->lines);
      print_plan (plan);
    }
  return TRUE;
}

int
pawl_command_redo (int argc, char **argv)
{
  Options options = { NULL, NULL, NULL, NULL, FALSE, FALSE };
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "correction", 0, 0, G_OPTION_ARG_FILENAME, &options.correction, "Of a reading or check that comes right after it was out", "ASK" },
    { "variant", 0, 0, G_OPTION_ARG_FILENAME, &options.variant, "Of the unit being another variant: what comes and goes as well", "IDS" },
    { "undo", 0, 0, G_OPTION_ARG_NONE, &options.is_undo, "Of taking the newest answer back", NULL },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "A picture of the figure with the parts marked: .png, .svg or .pdf", "OUT" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print the lists as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = NULL;
  int code = PAWL_EXIT_FINE;

  if (!pawl_cli_parse (&argc, &argv, entries, "JOB [STEP]", "Lists which finished steps open again, and why, when a step is done again. Nothing is recorded.", 1, 2))
    code = PAWL_EXIT_COULD_NOT;
  else if (!(bench = pawl_cli_open_job (options.record, argv[1], &error))
           || !answer (bench, argc > 2 ? argv[2] : NULL, &options, &error))
    code = pawl_cli_fail (argv[0], error);
  g_free (options.record);
  g_free (options.correction);
  g_free (options.variant);
  g_free (options.output);
  return code;
}
