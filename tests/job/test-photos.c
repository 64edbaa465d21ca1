/* Photos of what can be wrong unseen, asked before a step hides it: when they are wanted, what counts as one, and what is said when there is none. The
 * unit is invented. */
#include "small-job.h"
#include "job/pawl-bench-sheet.h"
#include "job/pawl-job-photos.h"

/* The mark of a mated part is nothing to see: V0. A pin on the wrong side by 12 mm is: V3. */
#define MATE(id, more) "<fit id='" id "' name='" id "' kind='mate' part='lid' " more "><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>" \
  "<piece part='lid'/><piece part='cup'/></fit>"
#define SIDE(id, more) "<fit id='" id "' name='" id "' kind='side' part='cup' if-wrong='hides' " more "><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>" \
  "<outline points='0,0 40,0 40,9 0,9'/><line x='0' y='0' angle='0'/><feature x='0' y='-6'/></fit>"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
  "<title>Small</title><unit>Small unit, invented</unit><author>Pawl</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
  "<variants><variant id='early' name='Early'/><variant id='late' name='Late'/></variants>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='lid' item='1' name='Lid' symmetric='yes'/><part id='cup' item='2' name='Cup' symmetric='yes'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='off' remove='lid cup'><do>Take it off.</do></step>"
  "<step id='cup-in' install='cup' needs='off'><do>Fit the cup.</do>" MATE ("hidden", "if-wrong='hides'") MATE ("blocked", "if-wrong='blocked'")
  SIDE ("plain", "") SIDE ("after", "hidden-after='yes'") MATE ("of-late", "if-wrong='fails' variant='late'") "</step>"
  "<step id='other' needs='off'><do>Look aside.</do></step>"
  "<step id='lid-on' install='lid' needs='cup-in other' covers='hidden blocked plain after of-late'><do>Put the lid on.</do></step>"
  "<step id='plug-in' needs='lid-on'><do>Drive the plug in.</do>" MATE ("own", "if-wrong='hides' hidden-after='yes'") MATE ("open", "if-wrong='hides'") "</step>"
  "</phase></procedure>";

static void
set_up (Fixture *self, gconstpointer data)
{
  small_job_set_up (self, procedure_xml, "early");
}

#define fold small_job_fold

static void
take_entry (Fixture *self, PawlEntry *entry)
{
  g_assert_cmpint (small_job_offer (self, entry), ==, SMALL_JOB_ACCEPTED);
}

static void
take (Fixture *self, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", self->now);

  pawl_entry_set (entry, field, value);
  take_entry (self, entry);
}

#define done(self, step) take (self, PAWL_ENTRY_STEP_DONE, step, "remark", NULL)
#define answer(self, ask, text) take (self, PAWL_ENTRY_ANSWERED, ask, "answer", text)
#define photo(self, step) take (self, PAWL_ENTRY_PHOTO, step, "digest", "00")

static void
fit_the_cup (Fixture *self)
{
  static const char * const asks[] = { "hidden", "blocked", "plain", "after" };

  done (self, "off");
  for (guint i = 0; i < G_N_ELEMENTS (asks); i++)
    answer (self, asks[i], "right");
  done (self, "cup-in");
  done (self, "other");
}

/* (transfer full): ids of what is wanted at a step, "hidden after" */
static char *
wanted_at (Fixture *self, const char *step)
{
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) wanted = pawl_step_list_photos_wanted (pawl_job_lookup_step (job, step));
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < wanted->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", ((PawlAskState *) wanted->pdata[i])->ask->id);
  return g_string_free (text, FALSE);
}

#define assert_wanted(self, step, ids) G_STMT_START { g_autofree char *got = wanted_at (self, step); g_assert_cmpstr (got, ==, ids); } G_STMT_END

static char *
list_without (Fixture *self, guint *n_hidden)
{
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) list = pawl_job_list_unphotographed (job, n_hidden);

  return pawl_photos_describe (job, list);
}

/* Of five fits that it covers: one that is stopped by itself, one that is plain to see, and one of another variant are not asked for. */
static void
test_wanted (Fixture *self, gconstpointer data)
{
  done (self, "off");
  assert_wanted (self, "lid-on", "");
  answer (self, "hidden", "right");
  assert_wanted (self, "lid-on", ""); /* not before it can be done */
  answer (self, "blocked", "right");
  answer (self, "plain", "right");
  answer (self, "after", "right");
  done (self, "cup-in");
  done (self, "other");
  assert_wanted (self, "lid-on", "hidden after");
  done (self, "lid-on"); /* nothing waits for it */
  assert_wanted (self, "lid-on", "");
}

static void
test_taken (Fixture *self, gconstpointer data)
{
  guint n_hidden;
  g_autofree char *without = NULL;

  fit_the_cup (self);
  photo (self, "other"); /* of something else */
  assert_wanted (self, "lid-on", "hidden after");
  photo (self, "lid-on");
  assert_wanted (self, "lid-on", "");
  done (self, "lid-on");
  without = list_without (self, &n_hidden);
  g_assert_cmpstr (without, ==, "");
  g_assert_cmpuint (n_hidden, ==, 2);
}

/* A photo of the step that fits it will do, as long as it is fitted no other way since. */
static void
test_of_its_own_step (Fixture *self, gconstpointer data)
{
  fit_the_cup (self);
  photo (self, "cup-in");
  assert_wanted (self, "lid-on", "");
  take (self, PAWL_ENTRY_REOPENED, "cup-in", "reason", "fell out");
  answer (self, "hidden", "right");
  answer (self, "blocked", "right");
  answer (self, "plain", "right");
  answer (self, "after", "right");
  done (self, "cup-in");
  assert_wanted (self, "lid-on", "hidden after");
}

static void
test_declined (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autofree char *without = NULL;
  g_autoptr(PawlEntry) again = NULL;
  g_autoptr(GError) error = NULL;
  guint n_hidden;
  const PawlAskState *ask;

  fit_the_cup (self);
  job = fold (self);
  again = pawl_job_new_no_photo (job, pawl_job_lookup_step (job, "lid-on"), "lens full of grease", "Bo", self->now);
  take_entry (self, pawl_entry_ref (again));
  assert_wanted (self, "lid-on", "");
  g_clear_object (&job);
  job = fold (self);
  g_assert_false (pawl_job_check (job, again, &error)); /* once */
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  ask = pawl_job_lookup_ask (job, "after");
  g_assert_cmpstr (pawl_entry_get_person (ask->no_photo), ==, "Bo");
  g_assert_cmpstr (pawl_entry_get (ask->no_photo, "text"), ==, "No photo of “hidden” (step 2), “after” (step 2) before step 4 hides it: lens full of grease");
  done (self, "lid-on");
  without = list_without (self, &n_hidden);
  g_assert_cmpstr (without, ==, "“hidden” (step 2), “after” (step 2)");
  g_assert_cmpuint (n_hidden, ==, 2);
}

/* Too late: it shows the lid. And a step that comes off and goes on again hides anew. */
static void
test_too_late (Fixture *self, gconstpointer data)
{
  guint n_hidden;
  g_autofree char *without = NULL;

  fit_the_cup (self);
  done (self, "lid-on");
  photo (self, "lid-on");
  without = list_without (self, &n_hidden);
  g_assert_cmpstr (without, ==, "“hidden” (step 2), “after” (step 2)");
  take (self, PAWL_ENTRY_REOPENED, "lid-on", "reason", "to look");
  assert_wanted (self, "lid-on", "hidden after");
}

/* No step covers it, and its author says that it is hidden: by its own step, once it is right. A trap that nothing hides is not asked for. */
static void
test_hidden_by_its_own (Fixture *self, gconstpointer data)
{
  fit_the_cup (self);
  done (self, "lid-on");
  assert_wanted (self, "plug-in", "");
  answer (self, "open", "right");
  answer (self, "own", "right");
  assert_wanted (self, "plug-in", "own");
  photo (self, "plug-in");
  assert_wanted (self, "plug-in", "");
}

/* ---- on paper ---- */

static int
enter (Fixture *self, const char *line)
{
  g_autofree char *text = g_strconcat ("at,step,item,answer,person,note\n", line, "\n", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_parse (text, "sheet.csv", &error);
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) entries = NULL;

  g_assert_no_error (error);
  entries = pawl_bench_sheet_make_entries (rows->pdata[0], job, "sheet.csv", &error);
  if (entries == NULL)
    return error->code;
  g_assert_cmpuint (entries->len, ==, 1);
  take_entry (self, pawl_entry_ref (entries->pdata[0]));
  return -1;
}

static void
test_sheet (Fixture *self, gconstpointer data)
{
  g_assert_cmpint (enter (self, ",lid-on,no-photo,,Ann,"), ==, PAWL_BENCH_SHEET_ERROR_BAD_ROW); /* nothing is asked for */
  fit_the_cup (self);
  g_assert_cmpint (enter (self, ",lid-on,no-photo,,Ann,no camera"), ==, -1);
  assert_wanted (self, "lid-on", "");
  g_assert_cmpint (enter (self, ",lid-on,no-photo,,Ann,no camera"), ==, PAWL_BENCH_SHEET_ERROR_BAD_ROW);
  g_assert_cmpint (enter (self, ",nowhere,no-photo,,Ann,"), ==, PAWL_BENCH_SHEET_ERROR_BAD_ROW);
}

/* What nobody captioned says what it shows. */
static void
test_caption (Fixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_parse ("step,item,answer,note\nlid-on,photo,a.jpg,\nlid-on,photo,a.jpg,from above\n", "sheet.csv", &error);
  g_autoptr(GPtrArray) first = NULL, second = NULL;
  g_autoptr(PawlJob) job = NULL;

  g_assert_no_error (error);
  fit_the_cup (self);
  job = fold (self);
  first = pawl_bench_sheet_make_entries (rows->pdata[0], job, "sheet.csv", &error);
  second = pawl_bench_sheet_make_entries (rows->pdata[1], job, "sheet.csv", &error);
  g_assert_cmpstr (pawl_entry_get (first->pdata[0], "caption"), ==, "“hidden” (step 2), “after” (step 2)");
  g_assert_cmpstr (pawl_entry_get (second->pdata[0], "caption"), ==, "from above");
}

#define ADD(path, function) g_test_add ("/job/photos/" path, Fixture, NULL, set_up, function, small_job_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("wanted", test_wanted);
  ADD ("taken", test_taken);
  ADD ("of-its-own-step", test_of_its_own_step);
  ADD ("declined", test_declined);
  ADD ("too-late", test_too_late);
  ADD ("hidden-by-its-own", test_hidden_by_its_own);
  ADD ("sheet", test_sheet);
  ADD ("caption", test_caption);
  return g_test_run ();
}
