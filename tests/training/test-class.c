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
  "<reading id='depth' name='Depth' source='x' limits='4 mm ± 0.5 mm' unit='mm'><says>S</says></reading></step>"
  "<step id='last' needs='on'><do>Look at it.</do></step>"
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
  /* By hand: 2 troubles in 9 steps; 2 or 3 of 3 by chance is 3 p² (1 - p) + p³ = 92/729, and the worst of three steps is looked at. */
  g_assert_cmpfloat_with_epsilon (worst->chance, 3 * 92.0 / 729, 1e-12);
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
  g_autoptr(PawlClass) class = pawl_class_new ();
  g_autoptr(GDateTime) soon = NULL, late = NULL;
  const PawlLearner *ann;
  PawlLearningCurve curve;

  for (guint n = 1; n <= 6; n++)
    {
      double minutes = pawl_learning_get_time (30, 1, n, pawl_learning_get_slope (0.8));

      add_job (self, class, "Ann", LIST ("right"), LIST ("4.0"), FALSE, minutes - 3); /* three more for fit, depth and the last step */
      ann = pawl_class_lookup (class, "Ann");
      g_assert_true (pawl_learner_fit_curve (ann, "plug", &curve) == (n >= PAWL_LEARNING_LEAST_JOBS));
    }
  pawl_class_finish (class);
  ann = pawl_class_lookup (class, "Ann");
  g_assert_true (pawl_learner_fit_curve (ann, "plug", &curve));
  g_assert_cmpfloat_with_epsilon (curve.rate, 0.8, 1e-3); /* times are whole seconds */
  g_assert_cmpfloat_with_epsilon (curve.first, 30, 0.1);
  g_assert_false (pawl_learner_fit_curve (ann, "another", &curve));
  soon = g_date_time_add_months (self->at, 11);
  late = g_date_time_add_months (self->at, 13);
  g_assert_false (pawl_learner_has_faded (ann, soon));
  g_assert_true (pawl_learner_has_faded (ann, late));
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
  return g_test_run ();
}
