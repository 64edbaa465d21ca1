/* pawl train: what a trainer enters in a job: tightens it, measures again, plants a fault and opens its seal. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-pin.h"
#include "job/pawl-seal.h"

typedef struct {
  char *record, *by, *reason, *found, *kind, *learner, *instrument, *serial;
  char *rules[PAWL_N_TIGHTENINGS];
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->by);
  g_free (self->reason);
  g_free (self->found);
  g_free (self->kind);
  g_free (self->learner);
  g_free (self->instrument);
  g_free (self->serial);
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    g_free (self->rules[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

typedef struct {
  PawlBench *bench;
  const char *trainer;
  const char *first, *second; /* (nullable): what follows JOB */
  const Options *options;
} Act;

static PawlEntry *
new_entry (const Act *act, PawlEntryKind kind, const char *subject)
{
  g_autoptr (GDateTime) now = pawl_bench_now (act->bench);
  PawlEntry *entry = pawl_entry_new (kind, subject, act->trainer, now);

  pawl_entry_set (entry, "by-pin", "yes");
  return entry;
}

static PawlEntry *
tighten (const Act *act, GError **error)
{
  PawlEntry *entry = new_entry (act, PAWL_ENTRY_TIGHTENED, "");

  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    pawl_entry_set (entry, pawl_tighten_get_field ((PawlTighten) i), act->options->rules[i]);
  pawl_entry_set (entry, "reason", act->options->reason);
  return entry;
}

static gboolean
need (const char *text, const char *what, GError **error)
{
  if (text && *text)
    return TRUE;
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "%s", what);
  return FALSE;
}

static PawlEntry *
measure (const Act *act, GError **error)
{
  PawlEntry *entry;

  if (!need (act->first, "of which reading? Say its id", error) || !need (act->second, "what was measured? Say the value", error))
    return NULL;
  entry = new_entry (act, PAWL_ENTRY_REMEASURED, act->first);
  pawl_entry_set (entry, "answer", act->second);
  pawl_entry_set (entry, "instrument", act->options->instrument);
  pawl_entry_set (entry, "tool-serial", act->options->serial);
  return entry;
}

/* The text goes the way of a PIN, so that it is neither on the screen nor among the shell's last commands. */
static gboolean
read_text (char text[PAWL_CLI_MAX_LINE], GError **error)
{
  return pawl_cli_read_pin ("What was planted, in words (not shown)", text, error) && need (text, "what was planted? Say it in words", error);
}

static PawlEntry *
plant (const Act *act, GError **error)
{
  char text[PAWL_CLI_MAX_LINE];
  g_autofree char *id = g_uuid_string_random (), *code = pawl_seal_make_code_of (id), *digest = NULL;
  PawlEntry *entry;

  if (!need (act->first, "at which step is it opened? Say its id", error) || !read_text (text, error))
    return NULL;
  digest = pawl_seal_dup_digest (code, text);
  entry = new_entry (act, PAWL_ENTRY_SEALED, act->first);
  pawl_entry_set (entry, "digest", digest);
  printf ("code %s\nKeep it with your words, away from the bench: the record has neither, and both open the seal.\n", code);
  explicit_bzero (text, sizeof text);
  return entry;
}

static PawlEntry *
open_seal (const Act *act, GError **error)
{
  PawlJob *job = pawl_bench_get_job (act->bench);
  PawlEntry *sealed = pawl_job_peek_sealed (job), *entry;
  const char *learner = act->options->learner ? act->options->learner : pawl_job_get_field (job, "learner");
  char text[PAWL_CLI_MAX_LINE];

  if (!sealed)
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, "nothing is sealed in this job");
      return NULL;
    }
  if (!act->first && act->options->reason)
    {
      entry = new_entry (act, PAWL_ENTRY_UNSEALED, pawl_entry_get_id (sealed));
      pawl_entry_set (entry, "reason", act->options->reason);
      return entry;
    }
  if (!need (act->first, "by which code? Say it, or --reason when it is lost", error) || !read_text (text, error))
    return NULL;
  entry = new_entry (act, PAWL_ENTRY_UNSEALED, pawl_entry_get_id (sealed));
  pawl_entry_set (entry, "code", act->first);
  pawl_entry_set (entry, "text", text);
  pawl_entry_set (entry, "found", act->options->found);
  pawl_entry_set (entry, "fault-kind", act->options->kind);
  pawl_entry_set (entry, "learner", learner);
  explicit_bzero (text, sizeof text);
  return entry;
}

/* ---- what is said of it ---- */

static void
tell_measured (PawlJob *job, const PawlEntry *entry)
{
  const PawlAskState *ask = pawl_job_lookup_ask (job, pawl_entry_get_subject (entry));
  PawlPairDifference difference;
  g_autofree char *words = NULL;

  if (ask->is_hidden)
    printf ("%s: %s\n", ask->ask->name, PAWL_HIDDEN_READING);
  else if (pawl_ask_compare_pair (ask, &difference))
    {
      words = pawl_pair_describe (&difference);
      printf ("%s: both are in; %s's %s\n", ask->ask->name, pawl_entry_get_person (entry), words);
    }
  else
    printf ("%s: taken\n", ask->ask->name);
}

static const struct {
  const char *name;
  PawlEntry *(*make) (const Act *act, GError **error);
  const char *done; /* (nullable) */
} VERBS[] = {
  { "tighten", tighten, "the job is tightened" },
  { "measure", measure, NULL },
  { "plant", plant, "sealed" },
  { "open", open_seal, "the seal is open" },
};

static int
run (int argc, char **argv, guint verb, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = pawl_cli_open_job_to_write (options->record, argv[2], &error);
  g_autoptr (PawlPerson) trainer = bench ? pawl_cli_prove_trainer (pawl_bench_get_record (bench), options->by, &error) : NULL;
  const Act act = { bench, trainer ? trainer->name : NULL, argc > 3 ? argv[3] : NULL, argc > 4 ? argv[4] : NULL, options };
  g_autoptr (PawlEntry) entry = trainer ? VERBS[verb].make (&act, &error) : NULL;

  if (entry && pawl_bench_append_one (bench, entry, &error))
    {
      if (VERBS[verb].done)
        puts (VERBS[verb].done);
      else
        tell_measured (pawl_bench_get_job (bench), entry);
      return PAWL_EXIT_FINE;
    }
  pawl_cli_fail (argv[0], error);
  return error->domain == PAWL_PEOPLE_ERROR || error->domain == PAWL_JOB_ERROR || error->domain == PAWL_REGISTER_ERROR ? PAWL_EXIT_FINDINGS : PAWL_EXIT_COULD_NOT;
}

int
pawl_command_train (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "by", 0, 0, G_OPTION_ARG_FILENAME, &options.by, "The trainer, who gives their PIN", "TRAINER" },
    { "reason", 0, 0, G_OPTION_ARG_FILENAME, &options.reason, "With tighten: why. With open: why the seal can't be opened", "TEXT" },
    { "order", 0, 0, G_OPTION_ARG_FILENAME, &options.rules[PAWL_TIGHTEN_ORDER], "With tighten: fixed, advice or -", "RULE" },
    { "ask-first", 0, 0, G_OPTION_ARG_FILENAME, &options.rules[PAWL_TIGHTEN_ASK_FIRST], "With tighten: yes, skills with a blank between, or -", "SKILLS" },
    { "blind", 0, 0, G_OPTION_ARG_FILENAME, &options.rules[PAWL_TIGHTEN_BLIND], "With tighten: of which skills readings are taken by two; as above", "SKILLS" },
    { "holds", 0, 0, G_OPTION_ARG_FILENAME, &options.rules[PAWL_TIGHTEN_HOLDS], "With tighten: levels, as in “sense=hold side=+1 all=review”, or -", "LEVELS" },
    { "found", 0, 0, G_OPTION_ARG_FILENAME, &options.found, "With open: was the fault found? yes or no", "ANSWER" },
    { "kind", 0, 0, G_OPTION_ARG_FILENAME, &options.kind, "With open: what kind of fault it was: a rule kind (“which”), reading or statement", "KIND" },
    { "learner", 0, 0, G_OPTION_ARG_FILENAME, &options.learner, "With open: whose finding it is, unless the job says who learns", "PERSON" },
    { "instrument", 0, 0, G_OPTION_ARG_FILENAME, &options.instrument, "With measure: the tool's id", "TOOL" },
    { "tool-serial", 0, 0, G_OPTION_ARG_FILENAME, &options.serial, "With measure: the instrument's mark", "MARK" },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "tighten JOB | measure JOB READING VALUE | plant JOB STEP | open JOB [CODE]",
                       "What a trainer enters in a job. The PIN is read from the terminal or as a line of standard input; so are, after it, the words of what is planted.",
                       2, 4))
    return PAWL_EXIT_COULD_NOT;
  for (guint i = 0; i < G_N_ELEMENTS (VERBS); i++)
    if (g_str_equal (VERBS[i].name, argv[1]))
      return run (argc, argv, i, &options);
  pawl_cli_complain (argv[0], "“%s” is none of tighten, measure, plant, open", argv[1]);
  return PAWL_EXIT_COULD_NOT;
}
