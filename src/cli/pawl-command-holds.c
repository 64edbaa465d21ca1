/* pawl holds: what waits for somebody to look, over all jobs; to call somebody, to release, to raise or lower a level. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-pin.h"
#include "training/pawl-waiting-holds.h"

typedef struct {
  char    *record, *by, *whom, *note, *reason, *level;
  gboolean is_json;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->by);
  g_free (self->whom);
  g_free (self->note);
  g_free (self->reason);
  g_free (self->level);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- the list ---- */

static void
print_hold (const PawlWaitingHold *hold)
{
  g_autofree char *since = pawl_cli_format_time (hold->since);

  printf ("%-8s job %.8s, %s %s%s%s: step %s, %s\n", pawl_hold_get_name (hold->level), hold->job, hold->unit, hold->serial, *hold->bench ? ", bench " : "",
          hold->bench, hold->number, hold->command);
  printf ("         %s %s since %s%s%s\n", hold->is_called ? "asked for by" : "done by", hold->by, since, *hold->note ? ": " : "", hold->note);
  if (*hold->whom)
    printf ("         called: %s\n", hold->whom);
  if (*hold->why)
    printf ("         why: %s\n", hold->why);
  if (*hold->hides)
    printf ("         will be hidden: %s\n", hold->hides);
  if (hold->n_waiting > 0)
    printf ("         %u step%s wait%s for it\n", hold->n_waiting, hold->n_waiting == 1 ? "" : "s", hold->n_waiting == 1 ? "s" : "");
}

static void
print_reading (const PawlWaitingReading *reading)
{
  g_autofree char *since = pawl_cli_format_time (reading->since);

  printf ("again    job %.8s, %s %s%s%s: step %s, %s\n", reading->job, reading->unit, reading->serial, *reading->bench ? ", bench " : "", reading->bench,
          reading->number, reading->name);
  printf ("         taken by %s, %s; to be measured by somebody else before either is shown\n", reading->by, since);
  if (*reading->hidden_by)
    printf ("         step %s hides the part; it has to be done again first\n", reading->hidden_by);
}

static void
print_json (GPtrArray *holds)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < holds->len; i++)
    {
      const PawlWaitingHold *hold = g_ptr_array_index (holds, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "level", pawl_hold_get_name (hold->level));
      pawl_cli_add_string (builder, "job", hold->job);
      pawl_cli_add_string (builder, "unit", hold->unit);
      pawl_cli_add_string (builder, "serial", hold->serial);
      pawl_cli_add_string (builder, "work-order", hold->work_order);
      pawl_cli_add_string (builder, "bench", hold->bench);
      pawl_cli_add_string (builder, "step", hold->step);
      pawl_cli_add_string (builder, "number", hold->number);
      pawl_cli_add_string (builder, "command", hold->command);
      pawl_cli_add_string (builder, "by", hold->by);
      pawl_cli_add_time (builder, "since", hold->since);
      json_builder_set_member_name (builder, "called");
      json_builder_add_boolean_value (builder, hold->is_called);
      pawl_cli_add_string (builder, "whom", hold->whom);
      pawl_cli_add_string (builder, "note", hold->note);
      pawl_cli_add_string (builder, "hides", hold->hides);
      pawl_cli_add_string (builder, "why", hold->why);
      json_builder_set_member_name (builder, "waiting");
      json_builder_add_int_value (builder, hold->n_waiting);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static int
list (const char *command, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_READ_ONLY, &error);
  g_autoptr (GPtrArray) holds = pawl_waiting_holds_new (), readings = pawl_waiting_readings_new ();

  if (!record || !pawl_waiting_load (record, holds, readings, &error))
    return pawl_cli_fail (command, error);
  if (options->is_json)
    {
      print_json (holds);
      return PAWL_EXIT_FINE;
    }
  if (holds->len + readings->len == 0)
    puts ("Nothing waits for anybody to look.");
  for (guint i = 0; i < holds->len; i++)
    print_hold (g_ptr_array_index (holds, i));
  for (guint i = 0; i < readings->len; i++)
    print_reading (g_ptr_array_index (readings, i));
  return PAWL_EXIT_FINE;
}

/* ---- verbs: each makes its entry ---- */

static PawlEntry *
make_call (PawlBench *bench, const char *step, const Options *options, GError **error)
{
  g_autoptr (GDateTime) now = pawl_bench_now (bench);
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_HOLD_CALLED, step, options->by, now);

  pawl_entry_set (entry, "whom", options->whom);
  pawl_entry_set (entry, "note", options->note);
  return entry;
}

/* Whoever has a PIN here gives it; who is not in the list stands by their name alone, as at the bench. */
static PawlEntry *
make_release (PawlBench *bench, const char *step, const Options *options, GError **error)
{
  PawlRecord *record = pawl_bench_get_record (bench);
  const PawlStepState *state = pawl_job_lookup_step (pawl_bench_get_job (bench), step);
  g_autoptr (GDateTime) now = pawl_bench_now (bench);
  g_autoptr (PawlPerson) person = options->by ? pawl_people_lookup (record, options->by, NULL) : NULL;
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_RELEASED, step, person ? person->name : options->by, now);

  pawl_entry_set (entry, "role", person ? pawl_role_get_name (person->role) : "second person");
  if (state)
    pawl_entry_set (entry, "level", pawl_hold_get_name (state->hold));
  if (person && person->has_pin && !person->is_retired)
    {
      if (!pawl_cli_prove (record, person->name, error))
        return NULL;
      pawl_entry_set (entry, "by-pin", "yes");
    }
  return g_steal_pointer (&entry);
}

static PawlEntry *
make_level (PawlBench *bench, const char *step, const Options *options, GError **error)
{
  g_autoptr (GDateTime) now = pawl_bench_now (bench);
  g_autoptr (PawlPerson) trainer = pawl_cli_prove_trainer (pawl_bench_get_record (bench), options->by, error);
  PawlEntry *entry;

  if (!trainer)
    return NULL;
  entry = pawl_entry_new (PAWL_ENTRY_TIGHTENED, step, trainer->name, now);
  pawl_entry_set (entry, "level", options->level);
  pawl_entry_set (entry, "reason", options->reason);
  pawl_entry_set (entry, "by-pin", "yes");
  return entry;
}

static const struct {
  const char *name;
  PawlEntry *(*make) (PawlBench *bench, const char *step, const Options *options, GError **error);
  const char *done;
} VERBS[] = {
  { "call", make_call, "called" },
  { "release", make_release, "released" },
  { "level", make_level, "its level is set" },
};

static int
act (char **argv, guint verb, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = pawl_cli_open_job_to_write (options->record, argv[2], &error);
  g_autoptr (PawlEntry) entry = bench ? VERBS[verb].make (bench, argv[3], options, &error) : NULL;

  if (entry && pawl_bench_append_one (bench, entry, &error))
    {
      const PawlStepState *state = pawl_job_lookup_step (pawl_bench_get_job (bench), argv[3]);

      printf ("step %s, %s: %s\n", state->step->number, pawl_hold_get_name (state->hold), VERBS[verb].done);
      return PAWL_EXIT_FINE;
    }
  pawl_cli_fail (argv[0], error);
  return error->domain == PAWL_PEOPLE_ERROR || error->domain == PAWL_JOB_ERROR ? PAWL_EXIT_FINDINGS : PAWL_EXIT_COULD_NOT;
}

int
pawl_command_holds (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "by", 0, 0, G_OPTION_ARG_FILENAME, &options.by, "Who calls, releases, or sets the level; who has a PIN here gives it", "PERSON" },
    { "for", 0, 0, G_OPTION_ARG_FILENAME, &options.whom, "With call: who is called", "PERSON" },
    { "note", 0, 0, G_OPTION_ARG_FILENAME, &options.note, "With call: a word to whoever comes", "TEXT" },
    { "level", 0, 0, G_OPTION_ARG_FILENAME, &options.level, "With level: hold, witness, review or none", "LEVEL" },
    { "reason", 0, 0, G_OPTION_ARG_FILENAME, &options.reason, "With level: why; to lower it needs one", "TEXT" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "[call JOB STEP | release JOB STEP | level JOB STEP]",
                       "What waits for somebody to look, over all jobs of the record: holds, then witness points, then review points.", 0, 3))
    return PAWL_EXIT_COULD_NOT;
  if (argc == 1)
    return list (argv[0], &options);
  for (guint i = 0; i < G_N_ELEMENTS (VERBS); i++)
    if (g_str_equal (VERBS[i].name, argv[1]) && argc == 4 && options.by)
      return act (argv, i, &options);
  pawl_cli_complain (argv[0], "say “%s call JOB STEP --by PERSON”, or release or level in place of call; without anything it lists", argv[0]);
  return PAWL_EXIT_COULD_NOT;
}
