/* Stages of people, what follows from them in a job, runs of clean jobs, readings by two, and what waits for somebody to look. All invented. */
#include <math.h>

#include "procedure/pawl-reader.h"
#include "training/pawl-progress.h"
#include "training/pawl-waiting-holds.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='plug' revision='1' xml:lang='en'>"
  "<title>Plug</title><unit maker='Invented'>Unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<tools><tool id='gauge' name='Depth gauge' error='0.03 mm' step='0.01 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='ring' item='2' name='Ring'/></parts><phase id='all' title='All'>"
  "<step id='off' remove='ring'><do>Take the ring off.</do></step>"
  "<step id='on' needs='off' install='ring' hold='hold'><do>Put the ring on.</do><hold-reason>Nobody sees it again.</hold-reason>"
  "<fit id='lip' kind='sense' part='ring' if-wrong='fails' verify='sight' source='x'><says>S</says><datum>book</datum><wrong>W</wrong><tell>T</tell><verify>V</verify></fit>"
  "<reading id='depth' name='Depth' source='x' limits='4 mm ± 0.5 mm' unit='mm' tool='gauge' repeats='2'><says>S</says></reading></step>"
  "<step id='last' needs='on' covers='depth'><do>Close it.</do></step>"
  "</phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GDateTime     *start;
  GPtrArray     *stated; /* of people */
  GPtrArray     *jobs;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;

  self->procedure = pawl_procedure_load_bytes (bytes, "plug.xml", NULL, &error);
  g_assert_no_error (error);
  self->start = g_date_time_new_utc (2026, 3, 2, 9, 0, 0);
  self->stated = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->jobs = g_ptr_array_new_with_free_func (g_object_unref);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_date_time_unref (self->start);
  g_ptr_array_unref (self->stated);
  g_ptr_array_unref (self->jobs);
}

static PawlEntry *
make (Fixture *self, PawlEntryKind kind, const char *subject, const char *person, int minutes)
{
  g_autoptr(GDateTime) at = g_date_time_add_minutes (self->start, minutes);

  return pawl_entry_new (kind, subject, person, at);
}

static PawlEntry *
state (Fixture *self, const char *name, const char *skill, const char *stage, int minutes)
{
  PawlEntry *entry = make (self, PAWL_ENTRY_PERSON_STATED, name, "Ossie", minutes);

  pawl_entry_set (entry, "skill", skill);
  pawl_entry_set (entry, "stage", stage);
  pawl_entry_set (entry, "by-pin", "yes");
  g_ptr_array_add (self->stated, entry);
  return entry;
}

/* ---- the fold ---- */

/* In whatever order the chains of a merged record are listed, what was said last counts. */
static void
test_fold (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlStages) stages = NULL;

  state (self, "Jenna", "sense", "supervised", 20);
  state (self, " jenna", "sense", "assist", 10);
  state (self, "Jenna", "all", "assist", 5);
  state (self, "Aldra", "side", "independent", 5);
  pawl_entry_set (state (self, "Jenna", NULL, NULL, 30), "clean-run", "3");
  stages = pawl_stages_fold (self->stated, "JENNA ");
  g_assert_cmpuint (stages->entries->len, ==, 4);
  g_assert_cmpuint (stages->skills->len, ==, 2);
  g_assert_cmpint (pawl_stages_lookup (stages, "sense")->stage, ==, PAWL_STAGE_SUPERVISED);
  g_assert_cmpint (pawl_stages_lookup (stages, "side")->stage, ==, PAWL_STAGE_ASSIST); /* of all */
  g_assert_cmpuint (stages->clean_run, ==, 3);
}

static void
test_check (Fixture *self, gconstpointer data)
{
  static const struct { const char *name, *by, *pin, *skill, *stage, *field, *text; gboolean is_good; } cases[] = {
    { "Jenna", "Ossie", "yes", "sense", "assist", "reason", "first week", TRUE },
    { "Jenna", "Ossie", "yes", "depth-gauge", "independent", "x", NULL, TRUE },
    { "Jenna", "Ossie", "yes", NULL, "assist", "order", "advice", TRUE },
    { "Jenna", "Ossie", "yes", NULL, "assist", "holds", "-", TRUE },
    { "Jenna", "Ossie", "yes", NULL, NULL, "clean-run", "7", TRUE },
    { "Jenna", "Ossie", NULL, "sense", "assist", "x", NULL, FALSE },       /* without the PIN */
    { "Jenna", "jenna ", "yes", "sense", "independent", "x", NULL, FALSE }, /* one's own */
    { "", "Ossie", "yes", "sense", "assist", "x", NULL, FALSE },
    { "Jenna", "Ossie", "yes", "sense", "expert", "x", NULL, FALSE },
    { "Jenna", "Ossie", "yes", "two words", "assist", "x", NULL, FALSE },
    { "Jenna", "Ossie", "yes", NULL, "assist", "x", NULL, FALSE },         /* nothing said */
    { "Jenna", "Ossie", "yes", NULL, "assist", "order", "yes", FALSE },
    { "Jenna", "Ossie", "yes", NULL, "assist", "holds", "+5", FALSE },
    { "Jenna", "Ossie", "yes", NULL, NULL, "clean-run", "0", FALSE },
    { "Jenna", "Ossie", "yes", NULL, NULL, "clean-run", "many", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlEntry) entry = make (self, PAWL_ENTRY_PERSON_STATED, cases[i].name, cases[i].by, 0);
      g_autoptr(GError) error = NULL;

      pawl_entry_set (entry, "by-pin", cases[i].pin);
      pawl_entry_set (entry, "skill", cases[i].skill);
      pawl_entry_set (entry, "stage", cases[i].stage);
      pawl_entry_set (entry, cases[i].field, cases[i].text);
      g_assert_cmpint (pawl_stages_check (entry, &error), ==, cases[i].is_good);
      g_assert_cmpint (error == NULL, ==, cases[i].is_good);
    }
}

/* What a job is opened with: by stage, by the trainer's own table, and never over what the opening says already. */
static void
test_tighten (Fixture *self, gconstpointer data)
{
  static const struct { const char *sense, *gauge, *rule, *text; const char *learner, *stages, *order, *ask_first, *blind, *holds; } cases[] = {
    { NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL },
    { "assist", NULL, NULL, NULL, "Jenna", "sense=assist", "fixed", "sense", "sense", "sense=hold" },
    { "supervised", "assist", NULL, NULL, "Jenna", "gauge=assist sense=supervised", "fixed", "gauge sense", "gauge", "gauge=hold sense=+1" },
    { "independent", NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL },
    { "assist", NULL, "order", "advice", "Jenna", "sense=assist", NULL, "sense", "sense", "sense=hold" },
    { "assist", NULL, "holds", "none", "Jenna", "sense=assist", "fixed", "sense", "sense", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlStages) stages = NULL;
      g_autoptr(PawlEntry) opened = make (self, PAWL_ENTRY_OPENED, "", "Jenna", 100);

      g_ptr_array_set_size (self->stated, 0);
      if (cases[i].sense != NULL)
        state (self, "Jenna", "sense", cases[i].sense, 1);
      if (cases[i].gauge != NULL)
        state (self, "Jenna", "gauge", cases[i].gauge, 2);
      if (cases[i].rule != NULL)
        pawl_entry_set (state (self, "Jenna", NULL, "assist", 3), cases[i].rule, cases[i].text);
      stages = pawl_stages_fold (self->stated, "Jenna");
      pawl_stages_tighten (stages, self->procedure, opened);
      g_assert_cmpstr (pawl_entry_get (opened, "learner"), ==, cases[i].learner);
      g_assert_cmpstr (pawl_entry_get (opened, "stages"), ==, cases[i].stages);
      g_assert_cmpstr (pawl_entry_get (opened, "order"), ==, cases[i].order);
      g_assert_cmpstr (pawl_entry_get (opened, "ask-first"), ==, cases[i].ask_first);
      g_assert_cmpstr (pawl_entry_get (opened, "blind"), ==, cases[i].blind);
      g_assert_cmpstr (pawl_entry_get (opened, "holds"), ==, cases[i].holds);
    }
}

static void
test_tighten_keeps (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlStages) stages = NULL;
  g_autoptr(PawlEntry) opened = make (self, PAWL_ENTRY_OPENED, "", "Jenna", 100);

  state (self, "Jenna", "sense", "assist", 1);
  stages = pawl_stages_fold (self->stated, "Jenna");
  pawl_entry_set (opened, "ask-first", "yes");
  pawl_stages_tighten (stages, self->procedure, opened);
  g_assert_cmpstr (pawl_entry_get (opened, "ask-first"), ==, "yes");
}

/* ---- progress ---- */

typedef struct {
  const char *lip, *depth[2], *again[2]; /* (nullable) */
} Job;

static void
add (Fixture *self, GPtrArray *entries, PawlEntryKind kind, const char *subject, const char *person, const char *field, const char *text, int minutes)
{
  PawlEntry *entry = make (self, kind, subject, person, minutes);

  pawl_entry_set (entry, field, text);
  g_ptr_array_add (entries, entry);
}

static void
add_job (Fixture *self, const Job *job, int minutes)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

  add (self, entries, PAWL_ENTRY_OPENED, "", "Jenna", "serial", "1", minutes);
  add (self, entries, PAWL_ENTRY_STEP_DONE, "off", "Jenna", "x", NULL, minutes);
  add (self, entries, PAWL_ENTRY_ANSWERED, "lip", "Jenna", "answer", job->lip, minutes);
  if (g_str_equal (job->lip, "wrong"))
    add (self, entries, PAWL_ENTRY_ANSWERED, "lip", "Jenna", "answer", "right", minutes);
  for (guint i = 0; i < 2; i++)
    if (job->depth[i] != NULL)
      add (self, entries, PAWL_ENTRY_ANSWERED, "depth", "Jenna", "answer", job->depth[i], minutes);
  for (guint i = 0; i < 2; i++)
    if (job->again[i] != NULL)
      add (self, entries, PAWL_ENTRY_REMEASURED, "depth", "Ossie", "answer", job->again[i], minutes);
  add (self, entries, PAWL_ENTRY_STEP_DONE, "on", "Jenna", "x", NULL, minutes);
  g_ptr_array_add (self->jobs, pawl_job_fold (self->procedure, entries, self->start));
}

/* A suggestion after so many clean jobs since the stage was stated; a wrong answer begins the count again. */
static void
test_runs (Fixture *self, gconstpointer data)
{
  static const struct { const char *lips; guint clean_run; gboolean is_suggested; } cases[] = {
    { "", 0, FALSE }, { "rr", 2, FALSE }, { "rrr", 3, TRUE }, { "rrwr", 1, FALSE }, { "wrrr", 3, TRUE }, { "rrrw", 0, FALSE },
  };

  state (self, "Jenna", "sense", "supervised", 50);
  pawl_entry_set (state (self, "Jenna", NULL, NULL, 51), "clean-run", "3");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlStages) stages = pawl_stages_fold (self->stated, "Jenna");
      g_autoptr(PawlProgress) progress = NULL;
      const PawlSkillRun *run;
      PawlStage next = PAWL_STAGE_ASSIST;

      g_ptr_array_set_size (self->jobs, 0);
      add_job (self, &(Job) { .lip = "right" }, 10); /* before the stage was stated */
      for (guint j = 0; cases[i].lips[j] != '\0'; j++)
        add_job (self, &(Job) { .lip = cases[i].lips[j] == 'r' ? "right" : "wrong" }, 100 + (int) j);
      progress = pawl_progress_make (stages, self->jobs);
      run = pawl_progress_lookup (progress, "sense");
      g_assert_cmpuint (run != NULL ? run->clean_run : 0, ==, cases[i].clean_run);
      g_assert_cmpint (pawl_progress_suggests (progress, stages, "sense", &next), ==, cases[i].is_suggested);
      g_assert_cmpint (next, ==, cases[i].is_suggested ? PAWL_STAGE_INDEPENDENT : PAWL_STAGE_ASSIST);
    }
}

/*
 * Means: hers 4.01, 4.12, 3.93; his 4.00, 4.10, 3.90. Differences 0.01, 0.02, 0.03: bias 0.02 mm, spread 0.01 mm.
 * Each of the six cells has two values 0.02 mm apart: repeatability √(0.02²/2) = 0.01414 mm, by the definition of a standard deviation, where
 * the interaction isn't pooled with it; with it, as here, it is less than that.
 */
static void
test_pairs (Fixture *self, gconstpointer data)
{
  static const Job jobs[] = {
    { "right", { "4.00", "4.02" }, { "3.99", "4.01" } },
    { "right", { "4.11", "4.13" }, { "4.09", "4.11" } },
    { "right", { "3.92", "3.94" }, { "3.89", "3.91" } },
  };
  g_autoptr(PawlStages) stages = pawl_stages_fold (self->stated, "Jenna");
  g_autoptr(PawlProgress) progress = NULL, other = NULL;
  g_autoptr(PawlStages) trainer = pawl_stages_fold (self->stated, "Ossie");
  const PawlPairFigures *pairs;
  double scale;

  for (guint i = 0; i < G_N_ELEMENTS (jobs); i++)
    add_job (self, &jobs[i], (int) i);
  progress = pawl_progress_make (stages, self->jobs);
  g_assert_cmpuint (progress->pairs->len, ==, 1);
  pairs = progress->pairs->pdata[0];
  scale = pawl_unit_get_scale (pairs->unit);
  g_assert_cmpstr (pairs->instrument, ==, "gauge");
  g_assert_cmpuint (pairs->n, ==, 3);
  g_assert_cmpuint (pairs->n_beyond, ==, 0);
  g_assert_cmpfloat_with_epsilon (pairs->bias / scale, 0.02, 1e-9);
  g_assert_cmpfloat_with_epsilon (pairs->spread / scale, 0.01, 1e-9);
  g_assert_true (pairs->has_study);
  g_assert_cmpuint (pairs->study.n_parts, ==, 3);
  g_assert_cmpfloat (pairs->study.repeatability / scale, <, 0.01415);
  g_assert_cmpfloat (pairs->study.repeatability / scale, >, 0.01);
  other = pawl_progress_make (trainer, self->jobs); /* the same, seen from the other side */
  g_assert_cmpfloat_with_epsilon (((PawlPairFigures *) other->pairs->pdata[0])->bias / scale, -0.02, 1e-9);
}

static void
test_one_pair (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlStages) stages = pawl_stages_fold (self->stated, "Jenna");
  g_autoptr(PawlProgress) progress = NULL;
  const PawlPairFigures *pairs;

  add_job (self, &(Job) { "right", { "4.00", "4.00" }, { "4.40", "4.40" } }, 1);
  add_job (self, &(Job) { "right", { "4.00", "4.00" }, { "4.40", NULL } }, 2); /* his set isn't whole: no pair */
  progress = pawl_progress_make (stages, self->jobs);
  pairs = progress->pairs->pdata[0];
  g_assert_cmpuint (pairs->n, ==, 1);
  g_assert_cmpuint (pairs->n_beyond, ==, 1);
  g_assert_true (isnan (pairs->spread));
  g_assert_false (pairs->has_study);
}

/* ---- what waits ---- */

static void
test_waiting (Fixture *self, gconstpointer data)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref), holds = pawl_waiting_holds_new ();
  g_autoptr(PawlJob) done = NULL, called = NULL, released = NULL;
  const PawlWaitingHold *hold;

  add (self, entries, PAWL_ENTRY_OPENED, "", "Jenna", "bench", "3", 0);
  add (self, entries, PAWL_ENTRY_STEP_DONE, "off", "Jenna", "x", NULL, 1);
  add (self, entries, PAWL_ENTRY_STEP_DONE, "on", "Jenna", "x", NULL, 2);
  done = pawl_job_fold (self->procedure, entries, self->start);
  add (self, entries, PAWL_ENTRY_HOLD_CALLED, "on", "Jenna", "note", "before lunch", 9);
  pawl_entry_set (entries->pdata[entries->len - 1], "whom", "Ossie");
  called = pawl_job_fold (self->procedure, entries, self->start);
  add (self, entries, PAWL_ENTRY_RELEASED, "on", "Ossie", "x", NULL, 12);
  released = pawl_job_fold (self->procedure, entries, self->start);

  pawl_waiting_holds_add (holds, released);
  g_assert_cmpuint (holds->len, ==, 0);
  pawl_waiting_holds_add (holds, done);
  pawl_waiting_holds_add (holds, called);
  g_assert_cmpuint (holds->len, ==, 2);
  pawl_waiting_holds_sort (holds);
  hold = holds->pdata[0];
  g_assert_true (hold->is_called);
  g_assert_cmpstr (hold->note, ==, "before lunch");
  g_assert_cmpstr (hold->whom, ==, "Ossie");
  g_assert_cmpint (g_date_time_get_minute (hold->since), ==, 9);
  g_assert_cmpstr (hold->by, ==, "Jenna");
  g_assert_cmpstr (hold->bench, ==, "3");
  g_assert_cmpstr (hold->hides, ==, "Depth");
  g_assert_cmpstr (hold->why, ==, "Nobody sees it again.");
  g_assert_cmpuint (hold->n_waiting, ==, 1);
  hold = holds->pdata[1];
  g_assert_false (hold->is_called);
  g_assert_cmpstr (hold->whom, ==, "");
  g_assert_cmpint (g_date_time_get_minute (hold->since), ==, 2);
}

/* A reading waits from when its set of two is whole until the other's is; and who measures is told when the part can't be seen any more. */
static void
test_readings (Fixture *self, gconstpointer data)
{
  static const struct { const char *says; guint n_first, n_other; gboolean is_blind, is_closed, is_waiting; } cases[] = {
    { "half of the first set", 1, 0, TRUE, FALSE, FALSE }, { "the first is in", 2, 0, TRUE, FALSE, TRUE }, { "half of the other", 2, 1, TRUE, FALSE, TRUE },
    { "both are in", 2, 2, TRUE, FALSE, FALSE },           { "nobody asks for two", 2, 0, FALSE, FALSE, FALSE }, { "hidden since", 2, 0, TRUE, TRUE, TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref), readings = pawl_waiting_readings_new ();
      g_autoptr(PawlJob) job = NULL;

      g_test_message ("%s", cases[i].says);
      add (self, entries, PAWL_ENTRY_OPENED, "", "Jenna", "blind", cases[i].is_blind ? "gauge" : NULL, 0);
      add (self, entries, PAWL_ENTRY_STEP_DONE, "off", "Jenna", "x", NULL, 1);
      for (guint n = 0; n < cases[i].n_first; n++)
        add (self, entries, PAWL_ENTRY_ANSWERED, "depth", "Jenna", "answer", "4.05", 2 + (int) n);
      for (guint n = 0; n < cases[i].n_other; n++)
        add (self, entries, PAWL_ENTRY_REMEASURED, "depth", "Ossie", "answer", "4.02", 5 + (int) n);
      if (cases[i].is_closed)
        add (self, entries, PAWL_ENTRY_STEP_DONE, "last", "Jenna", "x", NULL, 9);
      job = pawl_job_fold (self->procedure, entries, self->start);
      pawl_waiting_readings_add (readings, job);
      g_assert_cmpuint (readings->len, ==, cases[i].is_waiting);
      if (!cases[i].is_waiting)
        continue;
      g_assert_cmpstr (((PawlWaitingReading *) readings->pdata[0])->ask, ==, "depth");
      g_assert_cmpstr (((PawlWaitingReading *) readings->pdata[0])->by, ==, "Jenna");
      g_assert_cmpint (g_date_time_get_minute (((PawlWaitingReading *) readings->pdata[0])->since), ==, 3);
      g_assert_cmpstr (((PawlWaitingReading *) readings->pdata[0])->hidden_by, ==, cases[i].is_closed ? "3" : "");
    }
}

/* Who goes on in a skill signs as well; who is set back, or begins, does not. */
static void
test_goes_on (Fixture *self, gconstpointer data)
{
  static const struct { const char *skill, *stage; gboolean goes_on; } cases[] = {
    { "sense", "independent", TRUE }, { "sense", "supervised", FALSE }, { "sense", "assist", FALSE }, { "side", "supervised", TRUE },
    { NULL, "independent", FALSE },
  };
  g_autoptr(PawlStages) stages = NULL, none = pawl_stages_fold (self->stated, "Jenna");

  state (self, "Jenna", "sense", "supervised", 1);
  state (self, "Jenna", "all", "assist", 2);
  stages = pawl_stages_fold (self->stated, "Jenna");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlEntry) entry = make (self, PAWL_ENTRY_PERSON_STATED, "Jenna", "Ossie", 3);

      pawl_entry_set (entry, "skill", cases[i].skill);
      pawl_entry_set (entry, "stage", cases[i].stage);
      g_assert_cmpint (pawl_stages_goes_on (stages, entry), ==, cases[i].goes_on);
      g_assert_false (pawl_stages_goes_on (none, entry));
    }
}

int
main (int argc, char **argv)
{
  const struct { const char *path; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/stages/fold", test_fold }, { "/stages/check", test_check }, { "/stages/tighten", test_tighten }, { "/stages/tighten-keeps", test_tighten_keeps },
    { "/progress/runs", test_runs }, { "/progress/pairs", test_pairs }, { "/progress/one-pair", test_one_pair }, { "/holds/waiting", test_waiting }, { "/holds/readings", test_readings }, { "/stages/goes-on", test_goes_on },
  };

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
