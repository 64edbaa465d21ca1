/* pawl show: where a job stands. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "job/pawl-job-photos.h"
#include "job/pawl-results.h"
#include "procedure/pawl-variant.h"
#include "report/pawl-word-gate.h"
#include "report/pawl-words.h"

/* ---- as lines ---- */

/* What the step that is next is about to hide. */
static void
print_photos_wanted (PawlJob *job)
{
  const PawlStep *next = pawl_job_peek_next (job);
  g_autoptr (GPtrArray) wanted = next ? pawl_step_list_photos_wanted (pawl_job_lookup_step (job, next->id)) : g_ptr_array_new ();
  g_autofree char *what = pawl_photos_describe (job, wanted);

  if (wanted->len > 0)
    printf ("Photograph before step %s hides it: %s\n", next->number, what);
}

static void
print_head (PawlJob *job)
{
  g_autofree char *next = pawl_job_describe_next (job);
  g_autofree char *progress = pawl_cli_describe_progress (job);

  printf ("%s, serial %s, work order %s\n", pawl_job_get_field (job, "unit"),
          *pawl_job_get_field (job, "serial") ? pawl_job_get_field (job, "serial") : "none",
          *pawl_job_get_field (job, "work-order") ? pawl_job_get_field (job, "work-order") : "none");
  printf ("Job %s\n", pawl_job_get_id (job));
  printf ("%s\n%s\n", next, progress);
  print_photos_wanted (job);
}

static void
print_corrections (PawlJob *job)
{
  GPtrArray *corrections = pawl_job_get_corrections (job);

  if (corrections->len > 0)
    puts ("\nCorrected since it was taken in");
  for (guint i = 0; i < corrections->len; i++)
    {
      const PawlCorrection *correction = g_ptr_array_index (corrections, i);
      g_autofree char *what = pawl_correction_describe (correction);
      g_autofree char *at = pawl_cli_format_time (pawl_entry_peek_at (correction->entry));

      printf ("  %s; %s, %s: %s\n", what, pawl_entry_get_person (correction->entry), at, pawl_entry_get (correction->entry, "reason"));
    }
}

static void
print_doubt (PawlJob *job)
{
  g_autofree char *told = pawl_job_find_doubt (job);
  g_autofree char *would_be = told ? pawl_variant_describe (pawl_job_get_procedure (job), told) : NULL;
  g_autofree char *is = pawl_variant_describe (pawl_job_get_procedure (job), pawl_job_get_variant (job));

  if (told)
    printf ("\nTo be looked at: by the serial number %s the unit is “%s”, and the job is for “%s”\n", pawl_job_get_field (job, "serial"), would_be, is);
}

static void
print_steps (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  puts ("\nSteps");
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);

      printf ("  %3s  %-16s  %s\n", state->step->number, pawl_step_status_get_word (state->status), state->step->command);
    }
}

/* Nobody typed what was worked out, and what was typed in its place is said to be. */
static const char *
get_origin (const PawlAttempt *attempt)
{
  return attempt->is_derived ? ", worked out" : attempt->is_typed_over ? ", typed over" : "";
}

static void
print_attempt (const char *label, const PawlAttempt *attempt)
{
  g_autofree char *value = attempt ? pawl_attempt_describe_value (attempt, '.') : NULL;

  if (attempt)
    printf (", %s %s (%s%s)", label, value, attempt->is_void ? "void" : pawl_verdict_get_word (attempt->verdict.kind), get_origin (attempt));
}

static void
print_readings (PawlJob *job)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (job);

  if (results->len > 0)
    puts ("\nReadings");
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);
      const PawlAsk *ask = result->as_left->ask;
      g_autofree char *limits = pawl_limits_describe (result->as_left->limits);

      printf ("  %s: limits %s", ask->name, limits);
      print_attempt ("as found", result->found);
      print_attempt ("as left", result->left);
      puts (result->left || (result->found && ask->reading->is_as_found) ? "" : ", not measured");
    }
}

static void
print_waits (PawlJob *job)
{
  g_autoptr (GPtrArray) running = pawl_job_list_running (job);

  if (running->len > 0)
    puts ("\nWaits that run");
  for (guint i = 0; i < running->len; i++)
    {
      const PawlAskState *state = g_ptr_array_index (running, i);
      g_autofree char *started = pawl_cli_format_time (state->started);
      g_autofree char *earliest = pawl_cli_format_time (state->earliest);
      g_autofree char *latest = pawl_cli_format_time (state->latest);

      g_autofree char *late = pawl_words_late (state);

      printf ("  %s: since %s, out from %s%s%s%s%s\n", state->ask->name, started, earliest, state->latest ? ", at the latest " : "", latest,
              state->late_seconds > 0 ? ": " : "", state->late_seconds > 0 ? late : "");
    }
}

static void
print_deviations (PawlJob *job)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (job);

  if (deviations->len > 0)
    puts ("\nDeviations");
  for (guint i = 0; i < deviations->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (deviations, i);
      const char *what = pawl_entry_get (entry, "what");
      const char *accepted = pawl_entry_get (entry, "accepted-by");

      printf ("  %s: %s; %s; accepted by %s\n", pawl_entry_get_subject (entry), what ? what : "not said", pawl_entry_get (entry, "reason"),
              accepted ? accepted : "nobody");
    }
}

static void
print_word (const PawlWordGate *gate)
{
  const PawlWordFinding *highest = pawl_word_gate_peek_highest (gate);
  g_autofree char *title = pawl_word_gate_dup_title (gate);

  printf ("\nA report now has the title: %s\n", title);
  if (highest)
    printf ("  for “%s”, %u of %u clauses lack evidence; “pawl report JOB --why” lists them\n", highest->word->title, highest->n_lacking, highest->findings->len);
}

/* ---- as JSON ---- */

static void
print_json (PawlJob *job)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_job (builder, job);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

int
pawl_command_show (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  gboolean is_json = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print the job as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = NULL;
  g_autoptr (PawlShop) shop = NULL;
  g_autoptr (PawlClauses) clauses = NULL;
  g_autoptr (PawlWordGate) gate = NULL;
  PawlJob *job;

  if (!pawl_cli_parse (&argc, &argv, entries, "JOB", "Shows where a job stands. JOB is an id or its beginning, a work order or a serial number.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!(bench = pawl_cli_open_job (record_path, argv[1], &error)) || !(shop = pawl_cli_load_shop (&error))
      || !(clauses = pawl_cli_load_clauses (NULL, shop, &error)))
    return pawl_cli_fail (argv[0], error);
  job = pawl_bench_get_job (bench);
  gate = pawl_word_gate_judge (clauses, job);
  if (is_json)
    {
      print_json (job);
      return PAWL_EXIT_FINE;
    }
  print_head (job);
  print_corrections (job);
  print_doubt (job);
  print_steps (job);
  print_readings (job);
  print_waits (job);
  print_deviations (job);
  print_word (gate);
  return PAWL_EXIT_FINE;
}
