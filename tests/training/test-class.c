/* A class out of its jobs: who did what at once, which steps trip, how long it took. Everything is invented. */
#include <math.h>

#include "procedure/pawl-reader.h"
#include "record/pawl-entry-row.h"
#include "training/pawl-class.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='plug' revision='1' xml:lang='en'>"
  "<title>Plug</title><unit maker='Invented'>Unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='ring' item='2' name='Ring'/></parts><phase id='all' title='All'>"
  "<step id='off' remove='ring'><do>Take the ring off.</do></step>"
  "<step id='on' needs='off' install='ring'><do>Put the ring on.</do>"
  "<fit id='lip' kind='sense' part='ring' if-wrong='fails' verify='sight' source='x'><says>S</says><datum>book</datum><wrong>W</wrong><tell>T</tell><verify>V</verify></fit>"
  "<reading id='depth' name='Depth' source='x' limits='4 mm ± 0.5 mm' unit='mm'><says>S</says></reading><wait id='soak' name='Soak' min='10 min' optional='yes' source='x'>When?</wait></step>"
  "<step id='last' needs='on' attended='40 min'><do>Look at it.</do></step>"
  "</phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GDateTime     *at;
  GPtrArray     *entries;
  const char    *person;
  guint          n_jobs;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;

  self->procedure = pawl_procedure_load_bytes (bytes, "plug.xml", NULL, &error);
  g_assert_no_error (error);
  self->at = g_date_time_new_utc (2026, 3, 2, 9, 0, 0);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_date_time_unref (self->at);
}

static void
pass (Fixture *self, double minutes)
{
  GDateTime *later = g_date_time_add_seconds (self->at, 60 * minutes);

  g_date_time_unref (self->at);
  self->at = later;
}

/* As the record does: Undo names an entry by its id. */
static void
store (Fixture *self, PawlEntry *entry)
{
  g_autofree char *id = g_strdup_printf ("00000000-0000-4000-%04u-%012u", self->n_jobs, self->entries->len);
  g_autofree char *job = g_strdup_printf ("00000000-0000-4000-%04u-%012u", self->n_jobs, 1);
  PawlEntryRow row = { .id = id, .job = job, .number = self->entries->len, .previous = (char *) "", .digest = (char *) "" };

  pawl_entry_take_place (entry, &row, self->at);
}

/* One entry, @minutes after the one before. */
static PawlEntry *
happen (Fixture *self, PawlEntryKind kind, const char *subject, const char *answer, double minutes)
{
  PawlEntry *entry;

  pass (self, minutes);
  entry = pawl_entry_new (kind, subject, self->person, self->at);
  pawl_entry_set (entry, kind == PAWL_ENTRY_REOPENED ? "reason" : "answer", answer);
  g_ptr_array_add (self->entries, entry);
  store (self, entry);
  return entry;
}

/* A job by one person. @fits, @depths: answers in order; @is_reopened: the second step is done again at the end. */
static void
add_job (Fixture *self, PawlClass *class, const char *person, const char * const *fits, const char * const *depths, gboolean is_reopened, double minutes)
{
  g_autoptr(PawlJob) job = NULL;

  self->n_jobs++;
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->person = person;
  happen (self, PAWL_ENTRY_OPENED, "", NULL, 60);
  happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, minutes);
  for (; *fits != NULL; fits++)
    happen (self, PAWL_ENTRY_ANSWERED, "lip", *fits, 1);
  for (; *depths != NULL; depths++)
    happen (self, PAWL_ENTRY_ANSWERED, "depth", *depths, 1);
  happen (self, PAWL_ENTRY_STEP_DONE, "on", NULL, 600); /* a night: nobody worked on it so long */
  if (is_reopened)
    {
      happen (self, PAWL_ENTRY_REOPENED, "on", "the lip was nicked", 1);
      happen (self, PAWL_ENTRY_ANSWERED, "lip", "right", 1);
      happen (self, PAWL_ENTRY_ANSWERED, "depth", "4.0", 1);
      happen (self, PAWL_ENTRY_STEP_DONE, "on", NULL, 1);
    }
  happen (self, PAWL_ENTRY_STEP_DONE, "last", NULL, 1);
  job = pawl_job_fold (self->procedure, self->entries, self->at);
  pawl_class_add_job (class, job);
  g_ptr_array_unref (self->entries);
}

#define LIST(...) ((const char *[]) { __VA_ARGS__, NULL })

static void
test_figures (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlClass) class = pawl_class_new ();
  const PawlLearner *ann, *bo;
  const PawlClassStep *worst;

  add_job (self, class, "Bo", LIST ("wrong", "right"), LIST ("5.0", "4.7", "4.1"), FALSE, 10);
  add_job (self, class, "Ann", LIST ("right"), LIST ("4.1"), FALSE, 10);
  add_job (self, class, "Ann", LIST ("right"), LIST ("4.1"), TRUE, 10);
  pawl_class_finish (class);
  g_assert_cmpuint (class->n_jobs, ==, 3);
  g_assert_cmpuint (class->learners->len, ==, 2);
  ann = class->learners->pdata[0];
  bo = class->learners->pdata[1];
  g_assert_cmpstr (ann->name, ==, "Ann");
  g_assert_cmpuint (ann->steps.n, ==, 6);
  g_assert_cmpuint (ann->steps.n_right, ==, 5); /* one was opened again */
  g_assert_cmpuint (ann->traps.n_right, ==, 2);
  g_assert_cmpuint (ann->n_loops, ==, 0);
  g_assert_true (isnan (ann->attempts));
  g_assert_cmpuint (bo->traps.n_right, ==, 0);
  g_assert_cmpuint (bo->traps_of[PAWL_RULE_SENSE].n, ==, 1);
  g_assert_cmpuint (bo->traps_of[PAWL_RULE_WHICH].n, ==, 0);
  g_assert_cmpuint (bo->readings.n_right, ==, 0);
  g_assert_cmpuint (bo->n_loops, ==, 1);
  g_assert_cmpfloat (bo->attempts, ==, 3);
  /* 10, two fits, three depths and the last step; the night is no work */
  g_assert_cmpfloat_with_epsilon (((PawlClassJob *) bo->jobs->pdata[0])->minutes, 10 + 2 + 3 + 1, 1e-9);
  worst = class->steps->pdata[0];
  g_assert_cmpstr (worst->step, ==, "on");
  g_assert_cmpuint (worst->clean.n, ==, 3);
  g_assert_cmpuint (worst->clean.n_right, ==, 1);
  g_assert_cmpuint (worst->n_reopened, ==, 1);
  g_assert_cmpuint (worst->n_wrong, ==, 1);
  g_assert_cmpuint (worst->n_out, ==, 1);
  /* By hand: 2 people tripped of 6 who did one of the steps; 2 of 2 by chance is (2/6)² = 1/9, and the worst of three steps is looked at. */
  g_assert_cmpuint (worst->n_people, ==, 2);
  g_assert_cmpuint (worst->n_tripped, ==, 2);
  g_assert_cmpfloat_with_epsilon (worst->chance, 3 / 9.0, 1e-12);
  g_assert_cmpfloat (((PawlClassStep *) class->steps->pdata[1])->chance, ==, 1);
  g_assert_cmpfloat_with_epsilon (pawl_class_get_median_time (class, "plug"), 16, 1e-9);
  g_assert_true (isnan (pawl_class_get_median_time (class, "no-such")));
}

/* What Undo took back never happened. */
static void
test_undo (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlClass) class = pawl_class_new ();
  g_autoptr(PawlJob) job = NULL;
  PawlEntry *wrong;

  self->n_jobs++;
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->person = "Ann";
  happen (self, PAWL_ENTRY_OPENED, "", NULL, 1);
  happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, 1);
  wrong = happen (self, PAWL_ENTRY_ANSWERED, "lip", "wrong", 1);
  happen (self, PAWL_ENTRY_UNDONE, pawl_entry_get_id (wrong), NULL, 1);
  happen (self, PAWL_ENTRY_ANSWERED, "lip", "right", 1);
  happen (self, PAWL_ENTRY_ANSWERED, "depth", "4.0", 1);
  happen (self, PAWL_ENTRY_STEP_DONE, "on", NULL, 1);
  job = pawl_job_fold (self->procedure, self->entries, self->at);
  pawl_class_add_job (class, job);
  pawl_class_finish (class);
  g_assert_cmpuint (pawl_class_lookup (class, "Ann")->traps.n, ==, 1);
  g_assert_cmpuint (pawl_class_lookup (class, "Ann")->traps.n_right, ==, 1);
  g_ptr_array_unref (self->entries);
}

static void
guess (Fixture *self, const char *person, const char *choice)
{
  self->person = person;
  pass (self, 1);
  g_ptr_array_add (self->entries, pawl_entry_new (PAWL_ENTRY_GUESSED, "lip", person, self->at));
  pawl_entry_set (g_ptr_array_index (self->entries, self->entries->len - 1), "choice", choice);
  store (self, g_ptr_array_index (self->entries, self->entries->len - 1));
}

/* By who guessed, whoever goes on; what was taken back is not counted; and what was met at the bench is another figure. */
static void
test_guesses (Fixture *self, gconstpointer data)
{
  static const struct { const char *person, *choice; gboolean is_undone; } guesses[] = {
    { "Ann", "wrong", FALSE }, { "Ann", "right", FALSE }, { "Bo", "wrong", TRUE }, { "Bo", "right", FALSE },
  };
  g_autoptr(PawlClass) class = pawl_class_new ();
  const PawlLearner *ann, *bo, *cy;

  for (guint i = 0; i < G_N_ELEMENTS (guesses); i++)
    {
      g_autoptr(PawlJob) job = NULL;

      self->n_jobs++;
      self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
      self->person = "Cy";
      happen (self, PAWL_ENTRY_OPENED, "", NULL, 1);
      happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, 1);
      guess (self, guesses[i].person, guesses[i].choice);
      if (guesses[i].is_undone)
        happen (self, PAWL_ENTRY_UNDONE, pawl_entry_get_id (g_ptr_array_index (self->entries, self->entries->len - 1)), NULL, 1);
      self->person = "Cy";
      happen (self, PAWL_ENTRY_ANSWERED, "lip", "right", 1);
      happen (self, PAWL_ENTRY_ANSWERED, "depth", "4.0", 1);
      happen (self, PAWL_ENTRY_STEP_DONE, "on", NULL, 1);
      job = pawl_job_fold (self->procedure, self->entries, self->at);
      pawl_class_add_job (class, job);
      g_ptr_array_unref (self->entries);
    }
  pawl_class_finish (class);
  ann = pawl_class_lookup (class, "Ann");
  bo = pawl_class_lookup (class, "Bo");
  cy = pawl_class_lookup (class, "Cy");
  g_assert_cmpuint (ann->guesses.n, ==, 2);
  g_assert_cmpuint (ann->guesses.n_right, ==, 1);
  g_assert_cmpuint (ann->guesses_of[PAWL_RULE_SENSE].n, ==, 2);
  g_assert_cmpuint (ann->guesses_of[PAWL_RULE_SIDE].n, ==, 0);
  g_assert_cmpfloat (ann->guesses.share, ==, 0.5);
  g_assert_cmpuint (ann->traps.n, ==, 0);
  g_assert_cmpuint (bo->guesses.n, ==, 1);
  g_assert_cmpuint (bo->guesses.n_right, ==, 1);
  g_assert_cmpuint (cy->guesses.n, ==, 0);
  g_assert_cmpuint (cy->traps.n, ==, 4);
  g_assert_cmpuint (cy->traps.n_right, ==, 4);
}

static void
test_curve (Fixture *self, gconstpointer data)
{
  PawlLearningCurve curve;

  for (guint jobs = 1; jobs <= 6; jobs++)
    {
      g_autoptr(PawlClass) class = pawl_class_new ();

      for (guint n = 1; n <= jobs; n++)
        {
          double minutes = pawl_learning_get_time (30, 1, n, pawl_learning_get_slope (0.8));

          add_job (self, class, "Ann", LIST ("right"), LIST ("4.0"), FALSE, minutes - 3); /* three more for fit, depth and the last step */
        }
      pawl_class_finish (class);
      g_assert_true (pawl_learner_fit_curve (pawl_class_lookup (class, "ANN "), "plug", &curve) == (jobs >= PAWL_LEARNING_LEAST_JOBS));
      g_assert_false (pawl_learner_fit_curve (pawl_class_lookup (class, "Ann"), "another", &curve));
    }
  g_assert_cmpfloat_with_epsilon (curve.rate, 0.8, 1e-3); /* times are whole seconds */
  g_assert_cmpfloat_with_epsilon (curve.first, 30, 0.1);
}

/* ---- holds ---- */

typedef struct { PawlEntryKind kind; const char *person; gboolean is_undone; } Event;

#define DID(kind, who) { PAWL_ENTRY_##kind, who, FALSE }
#define UNDONE(kind, who) { PAWL_ENTRY_##kind, who, TRUE }

/* What happens to the step “on”, until its first release and after; @n, @n_right: how its hold counts. */
static const struct { const char *name; Event events[6]; guint n, n_right; } STORIES[] = {
  { "at once", { DID (STEP_DONE, "Ann"), DID (RELEASED, "Tam") }, 1, 1 },
  { "nobody looked", { DID (STEP_DONE, "Ann") }, 0, 0 },
  { "turned back", { DID (STEP_DONE, "Ann"), DID (REOPENED, "Tam"), DID (STEP_DONE, "Ann"), DID (RELEASED, "Tam") }, 1, 0 },
  { "put right before the call", { DID (STEP_DONE, "Ann"), DID (REOPENED, "Ann"), DID (STEP_DONE, "Ann"), DID (HOLD_CALLED, "Ann"),
      DID (RELEASED, "Tam") }, 1, 1 },
  { "turned back after the call", { DID (STEP_DONE, "Ann"), DID (HOLD_CALLED, "Ann"), DID (REOPENED, "Tam"), DID (STEP_DONE, "Ann"),
      DID (HOLD_CALLED, "Ann"), DID (RELEASED, "Tam") }, 1, 0 },
  { "opened again later on", { DID (STEP_DONE, "Ann"), DID (RELEASED, "Tam"), DID (REOPENED, "Ann"), DID (STEP_DONE, "Ann"),
      DID (RELEASED, "Tam") }, 1, 1 },
  { "the turning back was a slip", { DID (STEP_DONE, "Ann"), UNDONE (REOPENED, "Tam"), DID (RELEASED, "Tam") }, 1, 1 },
};

static void
begin_job (Fixture *self, const char *person)
{
  self->n_jobs++;
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->person = person;
  happen (self, PAWL_ENTRY_OPENED, "", NULL, 60);
}

static void
end_job (Fixture *self, PawlClass *class)
{
  g_autoptr(PawlJob) job = pawl_job_fold (self->procedure, self->entries, self->at);

  pawl_class_add_job (class, job);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
}

static void
test_holds (Fixture *self, gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (STORIES); i++)
    {
      g_autoptr(PawlClass) class = pawl_class_new ();
      const PawlLearner *ann;

      begin_job (self, "Ann");
      for (const Event *event = STORIES[i].events; event->person != NULL; event++)
        {
          PawlEntry *entry;

          self->person = event->person;
          entry = happen (self, event->kind, "on", NULL, 1);
          if (event->is_undone)
            happen (self, PAWL_ENTRY_UNDONE, pawl_entry_get_id (entry), NULL, 1);
        }
      end_job (self, class);
      pawl_class_finish (class);
      ann = pawl_class_lookup (class, "Ann");
      g_test_message ("%s", STORIES[i].name);
      g_assert_cmpuint (ann->holds.n, ==, STORIES[i].n);
      g_assert_cmpuint (ann->holds.n_right, ==, STORIES[i].n_right);
      g_assert_null (pawl_class_lookup (class, "Tam")); /* whoever only looks has no figures */
    }
}

/* ---- planted faults ---- */

static void
test_planted (Fixture *self, gconstpointer data)
{
  static const struct { const char *learner, *found, *kind; } seals[] = {
    { "Ann", "yes", "which" }, { "ann", "no", "which" }, { "Ann", "yes", "statement" }, { "Bo", "no", NULL }, { NULL, NULL, NULL }, { "", NULL, NULL },
  };
  g_autoptr(PawlClass) class = pawl_class_new ();
  const PawlLearner *ann, *bo;

  begin_job (self, "Ann");
  happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, 1);
  self->person = "Tam";
  for (guint i = 0; i < G_N_ELEMENTS (seals); i++)
    {
      PawlEntry *sealed = happen (self, PAWL_ENTRY_SEALED, "on", NULL, 1);

      if (seals[i].learner == NULL)
        continue; /* not opened yet */
      pass (self, 1);
      g_ptr_array_add (self->entries, pawl_entry_new (PAWL_ENTRY_UNSEALED, pawl_entry_get_id (sealed), "Tam", self->at));
      pawl_entry_set (self->entries->pdata[self->entries->len - 1], "learner", seals[i].learner); /* "": lost, for a reason */
      pawl_entry_set (self->entries->pdata[self->entries->len - 1], "found", seals[i].found);
      pawl_entry_set (self->entries->pdata[self->entries->len - 1], "fault-kind", seals[i].kind);
      store (self, self->entries->pdata[self->entries->len - 1]);
    }
  end_job (self, class);
  pawl_class_finish (class);
  ann = pawl_class_lookup (class, "Ann");
  bo = pawl_class_lookup (class, "Bo");
  g_assert_cmpuint (ann->planted.n, ==, 3);
  g_assert_cmpuint (ann->planted.n_right, ==, 2);
  g_assert_cmpuint (ann->planted_of[PAWL_RULE_WHICH].n, ==, 2);
  g_assert_cmpuint (ann->planted_of[PAWL_RULE_WHICH].n_right, ==, 1);
  g_assert_cmpuint (ann->planted_of[PAWL_PLANTED_STATEMENT].n_right, ==, 1);
  g_assert_cmpuint (ann->planted_of[PAWL_PLANTED_READING].n, ==, 0);
  g_assert_cmpuint (bo->planted.n, ==, 1);
  g_assert_cmpuint (bo->planted.n_right, ==, 0);
  g_assert_cmpuint (class->learners->len, ==, 2);
  /* By hand with z = 1.959964: (2 + z²/2 ± z √(2/3 + z²/4)) / (3 + z²), E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209, from memory */
  g_assert_cmpfloat_with_epsilon (ann->planted.low, 0.2077, 5e-5);
  g_assert_cmpfloat_with_epsilon (ann->planted.high, 0.9385, 5e-5);
}

/* ---- time ---- */

static double
get_minutes (const PawlClass *class, const char *person, guint job)
{
  return ((PawlClassJob *) pawl_class_lookup (class, person)->jobs->pdata[job])->minutes;
}

static const PawlStepTime *
find_time (const PawlClass *class, const char *person, const char *step)
{
  GPtrArray *times = pawl_class_lookup (class, person)->times;

  for (guint i = 0; i < times->len; i++)
    if (g_str_equal (((PawlStepTime *) times->pdata[i])->step->step, step))
      return times->pdata[i];
  return NULL;
}

/* The step “last” is said to take 40 minutes, so 80 are no pause there; elsewhere it is half an hour. */
static void
test_pauses (Fixture *self, gconstpointer data)
{
  static const struct { PawlEntryKind kind; const char *subject, *answer; double minutes, counted; } lines[] = {
    { PAWL_ENTRY_STEP_DONE, "off", NULL, 30, 30 },    { PAWL_ENTRY_ANSWERED, "lip", "right", 30.5, 0 }, { PAWL_ENTRY_ANSWERED, "depth", "4.0", 2, 2 },
    { PAWL_ENTRY_STEP_DONE, "on", NULL, 3, 3 },       { PAWL_ENTRY_STEP_DONE, "last", NULL, 79, 79 },
    { PAWL_ENTRY_REOPENED, "last", "again", 1, 1 },   { PAWL_ENTRY_STEP_DONE, "last", NULL, 81, 0 },    { PAWL_ENTRY_NOTED, "", "a note of no step", 4, 4 },
  };
  g_autoptr(PawlClass) class = pawl_class_new ();
  double sum = 0;

  begin_job (self, "Ann");
  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      happen (self, lines[i].kind, lines[i].subject, lines[i].answer, lines[i].minutes);
      sum += lines[i].counted;
    }
  end_job (self, class);
  pawl_class_finish (class);
  g_assert_cmpfloat_with_epsilon (get_minutes (class, "Ann", 0), sum, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "off")->median, 30, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "on")->median, 2 + 3, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "last")->median, 79 + 1, 1e-9);
  g_assert_true (isnan (find_time (class, "Ann", "off")->ratio)); /* one job, and nobody else */
}

/* Two jobs at once, a trainer in between, and a soak: nothing is counted twice, nor to whoever didn't work. */
static void
test_two_benches (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlClass) class = pawl_class_new ();
  GPtrArray *first, *second;

  begin_job (self, "Ann");
  first = self->entries;
  happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, 5);
  begin_job (self, "Ann"); /* an hour later */
  second = self->entries;
  happen (self, PAWL_ENTRY_STEP_DONE, "off", NULL, 6);
  self->entries = first;
  self->n_jobs = 1;
  happen (self, PAWL_ENTRY_ANSWERED, "lip", "right", 7); /* 7 since the other job's newest, 73 since this one's */
  happen (self, PAWL_ENTRY_WAIT_STARTED, "soak", NULL, 1);
  happen (self, PAWL_ENTRY_WAIT_ENDED, "soak", NULL, 20);
  self->person = "Tam";
  happen (self, PAWL_ENTRY_ANSWERED, "depth", "4.0", 2);
  self->person = "Ann";
  happen (self, PAWL_ENTRY_STEP_DONE, "on", NULL, 2); /* 4 since she ended the soak */
  end_job (self, class);
  self->entries = second;
  self->n_jobs = 2;
  happen (self, PAWL_ENTRY_ANSWERED, "lip", "right", 3);
  end_job (self, class);
  pawl_class_finish (class);
  g_assert_cmpfloat_with_epsilon (get_minutes (class, "Ann", 0), 5 + 7 + 1 + 4, 1e-9);
  g_assert_cmpfloat_with_epsilon (get_minutes (class, "Ann", 1), 6 + 3, 1e-9);
  g_assert_cmpuint (pawl_class_lookup (class, "Tam")->jobs->len, ==, 0); /* one answer takes no time that is known */
}

/* Against the median: by hand. Three jobs each, “off” in 10, 12, 20 and 6, 8, 9 minutes. */
static void
test_medians (Fixture *self, gconstpointer data)
{
  static const double ann_minutes[] = { 10, 12, 20 }, bo_minutes[] = { 6, 8, 9 };
  g_autoptr(PawlClass) class = pawl_class_new ();
  const PawlLearner *bo;

  for (guint i = 0; i < 3; i++)
    {
      add_job (self, class, "Ann", LIST ("right"), LIST ("5.0", "4.0"), FALSE, ann_minutes[i]);
      add_job (self, class, "Bo", LIST ("right"), LIST ("5.0", "5.0", "5.0", "4.0"), FALSE, bo_minutes[i]);
    }
  pawl_class_finish (class);
  bo = pawl_class_lookup (class, "Bo");
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "off")->median, 12, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "off")->step->median, (9 + 10) / 2.0, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Ann", "off")->ratio, 12 / 9.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (find_time (class, "Bo", "off")->ratio, 8 / 9.5, 1e-9);
  g_assert_cmpstr (((PawlStepTime *) pawl_class_lookup (class, "Ann")->times->pdata[0])->step->step, ==, "off"); /* the slowest comes first */
  /* whole jobs: 10 + 4, 12 + 4, 20 + 4 and 6 + 6, 8 + 6, 9 + 6: the median is (14 + 15) / 2 */
  g_assert_cmpfloat_with_epsilon (pawl_class_get_median_time (class, "plug"), 14.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (((PawlClassJob *) bo->jobs->pdata[2])->ratio, 15 / 14.5, 1e-9);
  g_assert_cmpuint (pawl_class_lookup_procedure (class, "plug")->n_whole, ==, 6);
  /* two tries of three readings, four of three */
  g_assert_cmpfloat_with_epsilon (bo->attempts, 4, 1e-12);
  g_assert_cmpfloat_with_epsilon (class->attempts, 3, 1e-12);
  g_assert_cmpuint (class->n_loops, ==, 6);
}

/* ---- last done ---- */

static void
test_fading (Fixture *self, gconstpointer data)
{
  static const struct { const char *last, *now; gboolean has_faded; } cases[] = {
    { "2026-03-02T09:00:00Z", "2027-03-02T09:00:00Z", FALSE }, { "2026-03-02T09:00:00Z", "2027-03-02T09:00:01Z", TRUE },
    { "2024-02-29T09:00:00Z", "2025-02-28T08:59:59Z", FALSE }, { "2024-02-29T09:00:00Z", "2025-03-01T00:00:00Z", TRUE },
    { "2026-12-31T23:59:59Z", "2026-12-31T23:59:59Z", FALSE },
  };
  g_autoptr(PawlClass) class = pawl_class_new ();
  const PawlClassSkill *skill;
  const PawlLearner *ann;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GDateTime) last = g_date_time_new_from_iso8601 (cases[i].last, NULL), now = g_date_time_new_from_iso8601 (cases[i].now, NULL);

      g_assert_cmpint (pawl_class_has_faded (last, now), ==, cases[i].has_faded);
    }
  g_assert_false (pawl_class_has_faded (NULL, self->at));

  add_job (self, class, "Ann", LIST ("wrong", "right"), LIST ("4.0"), FALSE, 10);
  add_job (self, class, "Ann", LIST ("right"), LIST ("4.0"), FALSE, 10);
  pawl_class_finish (class);
  ann = pawl_class_lookup (class, "Ann");
  g_assert_cmpuint (ann->skills->len, ==, 2); /* the rule's kind, and what is measured, as no tool is named */
  skill = ann->skills->pdata[1];
  g_assert_cmpstr (skill->skill, ==, "sense");
  g_assert_cmpuint (skill->n_jobs, ==, 2);
  g_assert_cmpint (g_date_time_difference (self->at, skill->last) / G_TIME_SPAN_MINUTE, ==, 1 + 600 + 1); /* the first answer of the second job */
  g_assert_cmpint (g_date_time_difference (self->at, ann->last), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/training/class/" name, Fixture, NULL, set_up, function, tear_down)
  ADD ("figures", test_figures);
  ADD ("undo", test_undo);
  ADD ("guesses", test_guesses);
  ADD ("curve", test_curve);
  ADD ("holds", test_holds);
  ADD ("planted", test_planted);
  ADD ("pauses", test_pauses);
  ADD ("two-benches", test_two_benches);
  ADD ("medians", test_medians);
  ADD ("fading", test_fading);
  return g_test_run ();
}
