/* The session and the step's state, on a small job, without a display. */
#include "app-fixture.h"
#include "app/pawl-phrases.h"
#include "app/pawl-procedure-line.h"
#include "app/pawl-readings-state.h"
#include "app/pawl-step-state.h"
#include "../record/faulty-disk.h"

static const char *
get_step (Fixture *fixture)
{
  return pawl_session_peek_step (fixture->session)->step->id;
}

static PawlStepPage *
make_page (Fixture *fixture)
{
  return pawl_step_page_new (pawl_session_get_job (fixture->session), get_step (fixture));
}

static void
test_refused (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlStepPage) page = make_page (fixture);
  g_autoptr(GError) error = NULL;

  g_assert_cmpstr (get_step (fixture), ==, "drain");
  g_assert_cmpint (page->advance, ==, PAWL_ADVANCE_REFUSED);
  g_assert_cmpstr (page->first_open->ask->id, ==, "mark");
  g_assert_null (page->first_reading);
  g_assert_cmpuint (page->cautions->len, ==, 1);
  g_assert_false (pawl_session_advance (fixture->session, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNANSWERED);
  g_assert_cmpstr (get_step (fixture), ==, "drain");
  g_assert_null (pawl_session_get_save_problem (fixture->session));
}

static void
test_advance (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlStepPage) page = NULL;

  fixture_finish_first (fixture);
  g_assert_cmpstr (get_step (fixture), ==, "lift");
  page = make_page (fixture);
  g_assert_cmpstr (page->first_reading->ask->id, ==, "plug-size");
  g_assert_cmpint (page->advance, ==, PAWL_ADVANCE_REFUSED);
}

/* Looking back takes nothing back, and walking on ends where the work stopped. */
static void
test_look (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlStepPage) page = NULL;
  guint n_entries;

  fixture_finish_first (fixture);
  n_entries = pawl_job_get_entries (pawl_session_get_job (fixture->session))->len;
  pawl_session_look_back (fixture->session);
  g_assert_cmpstr (get_step (fixture), ==, "drain");
  page = make_page (fixture);
  g_assert_true (page->is_over && page->can_redo);
  g_assert_cmpint (page->advance, ==, PAWL_ADVANCE_WALK);
  pawl_session_look_back (fixture->session);
  g_assert_cmpstr (get_step (fixture), ==, "drain");
  g_assert_true (pawl_session_advance (fixture->session, &error));
  g_assert_cmpstr (get_step (fixture), ==, "lift");
  g_assert_cmpuint (pawl_job_get_entries (pawl_session_get_job (fixture->session))->len, ==, n_entries);
}

static void
keep_words_cb (PawlSession *session, const char *words, char **kept)
{
  g_free (*kept);
  *kept = g_strdup (words);
}

/* What a redo lays open beside its own step is said where the Undo is offered. */
static void
test_redo (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *kept = NULL;
  g_autoptr(PawlEntry) entry = NULL;
  char *parts[] = { "plug", NULL };

  fixture_finish_first (fixture);
  pawl_session_look_back (fixture->session);
  g_signal_connect (fixture->session, "taken", G_CALLBACK (keep_words_cb), &kept);
  entry = pawl_answer_new_reopening (pawl_session_peek_step (fixture->session)->step, "Dropped it", pawl_session_make_hand (fixture->session));
  g_assert_true (pawl_session_take (fixture->session, entry, "Open again", &error));
  g_assert_cmpstr (kept, ==, "Open again"); /* nothing stood on it */
  pawl_session_mark_parts (fixture->session, parts);
  g_assert_cmpstr (pawl_session_peek_marked (fixture->session)[0], ==, "plug");
  pawl_session_mark_parts (fixture->session, NULL);
  g_assert_null (pawl_session_peek_marked (fixture->session));
}

static void
test_undo (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  g_assert_false (pawl_session_can_undo (fixture->session));
  g_assert_false (pawl_session_undo (fixture->session, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  g_clear_error (&error);
  fixture_finish_first (fixture);
  g_assert_true (pawl_session_undo (fixture->session, &error));
  g_assert_cmpstr (get_step (fixture), ==, "drain");
  g_assert_cmpint (pawl_session_peek_step (fixture->session)->status, ==, PAWL_STEP_OPEN);
  g_assert_true (pawl_session_undo (fixture->session, &error));
  g_assert_cmpint (pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "mark")->status, ==, PAWL_ASK_PENDING);
}

/* What is answered lands on disk, and the next session stands where this one stopped. */
static void
test_resume (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlRecord) record = NULL;
  g_autoptr(PawlBench) bench = NULL;
  g_autoptr(PawlSession) session = NULL;
  g_autofree char *words = NULL;

  fixture_finish_first (fixture);
  record = pawl_record_open (fixture->record_path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  g_assert_no_error (error);
  bench = pawl_bench_resume (record, pawl_job_get_id (pawl_session_get_job (fixture->session)), NULL, &error);
  g_assert_no_error (error);
  session = pawl_session_new (bench, FIXTURE_PERSON);
  g_assert_cmpstr (pawl_session_peek_step (session)->step->id, ==, "lift");
  words = pawl_job_describe_next (pawl_session_get_job (session));
  g_assert_nonnull (strstr (words, "Lift out the plug"));
}

static void
count_cb (PawlSession *session, const char *words, guint *n)
{
  (*n)++;
}

static void
count_failures_cb (PawlSession *session, guint *n)
{
  (*n)++;
}

/* A full disk: said, held, and written by the retry; nothing twice. */
static void
test_full_disk (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (fixture_lookup_ask (fixture, "mark"), "to the flange", pawl_session_make_hand (fixture->session));
  guint n_taken = 0, n_failures = 0, n_entries = pawl_job_get_entries (pawl_session_get_job (fixture->session))->len;

  g_signal_connect (fixture->session, "taken", G_CALLBACK (count_cb), &n_taken);
  g_signal_connect (fixture->session, "save-failed-changed", G_CALLBACK (count_failures_cb), &n_failures);
  faulty_disk_arm (FAULT_FULL, 0);
  g_assert_false (pawl_session_take (fixture->session, entry, "kept", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL);
  g_assert_true (faulty_disk_disarm ());
  g_assert_nonnull (pawl_session_get_save_problem (fixture->session));
  g_assert_cmpuint (n_taken, ==, 0);
  g_assert_cmpuint (n_failures, ==, 1);
  g_assert_cmpint (pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "mark")->status, ==, PAWL_ASK_PENDING);

  g_assert_true (pawl_session_retry (fixture->session));
  g_assert_null (pawl_session_get_save_problem (fixture->session));
  g_assert_cmpuint (n_taken, ==, 1);
  g_assert_cmpint (pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "mark")->status, ==, PAWL_ASK_ACCEPTED);
  g_assert_cmpuint (pawl_job_get_entries (pawl_session_get_job (fixture->session))->len, ==, n_entries + 1);
}

/* Pressed again instead of retried: the held answer is written, once. */
static void
test_pressed_again (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) first = pawl_answer_new_outcome (fixture_lookup_ask (fixture, "mark"), "to the flange", pawl_session_make_hand (fixture->session));
  g_autoptr(PawlEntry) second = NULL;
  guint n_entries = pawl_job_get_entries (pawl_session_get_job (fixture->session))->len;

  faulty_disk_arm (FAULT_FULL, 0);
  g_assert_false (pawl_session_take (fixture->session, first, NULL, NULL));
  faulty_disk_disarm ();
  second = pawl_answer_new_outcome (fixture_lookup_ask (fixture, "mark"), "to the flange", pawl_session_make_hand (fixture->session));
  g_assert_true (pawl_session_take (fixture->session, second, NULL, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (pawl_job_get_entries (pawl_session_get_job (fixture->session))->len, ==, n_entries + 1);
}

static void
test_nobody (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (fixture_lookup_ask (fixture, "mark"), "x", (PawlHand) { "  ", fixture->now });

  g_assert_false (pawl_session_take (fixture->session, entry, NULL, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NEEDS_REASON);
}

/* Clock times of a wait in words: planned, running, ripe, overdue, over. */
static void
test_wait_words (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  static const struct { int minutes; const char *part; } rows[] = {
    { 0, "out from 09:10, by 11:00 at the latest" }, { 10, "may come out now, must be out by 11:00" }, { 111, "should have been out by 11:00" },
  };
  const PawlAsk *soak = fixture_lookup_ask (fixture, "soak");
  g_autofree char *planned = NULL, *over = NULL;
  g_autoptr(PawlEntry) start = NULL, end = NULL;

  fixture_finish_first (fixture);
  fixture_answer (fixture, "plug-face", "good");
  fixture_answer (fixture, "plug-size", "10.0");
  g_assert_true (pawl_session_advance (fixture->session, &error));
  planned = pawl_phrase_describe_wait (pawl_session_get_job (fixture->session), pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "soak"));
  g_assert_cmpstr (planned, ==, "10 min at least, 2 h at most");
  start = pawl_answer_new_wait_start (soak, pawl_session_make_hand (fixture->session));
  g_assert_true (pawl_session_take (fixture->session, start, NULL, &error));
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *words = NULL;

      fixture_wait (fixture, rows[i].minutes);
      words = pawl_phrase_describe_wait (pawl_session_get_job (fixture->session), pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "soak"));
      g_assert_cmpstr (words, ==, rows[i].part);
    }
  end = pawl_answer_new_wait_end (soak, pawl_session_make_hand (fixture->session));
  g_assert_true (pawl_session_take (fixture->session, end, NULL, &error));
  over = pawl_phrase_describe_wait (pawl_session_get_job (fixture->session), pawl_job_lookup_ask (pawl_session_get_job (fixture->session), "soak"));
  g_assert_cmpstr (over, ==, "from 09:00 to 11:01: 2 h 1 min. Out 1 min after its maximum: why? The reason is kept, and nothing waits for it");
}

static void
test_readings (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GPtrArray) before = pawl_readings_state_new (pawl_session_get_job (fixture->session), PAWL_LENGTHS_AS_TYPED), after = NULL;
  const PawlReadingLine *line = before->pdata[0];

  g_assert_cmpstr (line->found, ==, "not taken");
  g_assert_cmpstr (line->left, ==, ""); /* taken only as found */
  g_assert_cmpstr (line->verdict, ==, "");
  fixture_finish_first (fixture);
  fixture_answer (fixture, "plug-size", "10.05");
  after = pawl_readings_state_new (pawl_session_get_job (fixture->session), PAWL_LENGTHS_AS_TYPED);
  line = after->pdata[0];
  g_assert_cmpstr (line->step, ==, "lift");
  g_assert_true (line->has_bar);
  g_assert_cmpstr (line->verdict, ==, "In");
  g_assert_nonnull (strstr (line->found, "10.05 mm"));
  g_assert_nonnull (strstr (line->limits, "9.9..10.1 mm"));
}

/* Both goes, as the page makes them one after the other. */
static PawlProcedureLine *
load_line (const char *path)
{
  PawlProcedureLine *line = pawl_procedure_line_load (path, NULL);
  g_autoptr(PawlTrial) trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);

  if (pawl_procedure_line_wants_proof (line))
    pawl_procedure_line_take_proof (line, pawl_figure_proof_new (line->procedure, line->figure, trial, NULL));
  return line;
}

/* A figure that is refused leaves the procedure usable, with the figure to keep and the sentence to show. */
static void
test_refused_figure (void)
{
  g_autofree char *good = fixture_dup_data_path ("good/minimal.xml");
  g_autoptr(PawlProcedureLine) line = pawl_procedure_line_load (good, NULL);
  g_autoptr(PawlTrial) trial = pawl_trial_new ("/nowhere/pawl-trial", NULL);
  g_autofree char *before = pawl_procedure_line_describe (line), *after = NULL;

  g_assert_nonnull (strstr (before, "Checking the figure…"));
  pawl_procedure_line_take_proof (line, pawl_figure_proof_new (line->procedure, line->figure, trial, NULL));
  after = pawl_procedure_line_describe (line);
  g_assert_null (strstr (after, "Checking the figure…"));
  g_assert_true (g_str_has_prefix (line->problem, "minimal.svg: can't be tried, so it is not drawn: /nowhere/pawl-trial: "));
  g_assert_nonnull (line->figure);
  g_assert_nonnull (line->procedure);
}

static void
test_procedure_lines (void)
{
  g_autofree char *good = fixture_dup_data_path ("good/minimal.xml"), *missing = fixture_dup_data_path ("good/nowhere.xml");
  g_autofree char *folder = fixture_dup_data_path ("good");
  g_autoptr(PawlProcedureLine) line = load_line (good), none = load_line (missing);
  g_auto(GStrv) files = pawl_procedure_line_list_folder (folder), nothing = pawl_procedure_line_list_folder ("/nonexistent");

  g_assert_nonnull (line->procedure);
  g_assert_nonnull (line->figure);
  g_assert_null (line->problem);
  g_assert_null (none->procedure);
  g_assert_nonnull (strstr (none->problem, "nowhere.xml"));
  g_assert_true (g_strv_contains ((const char * const *) files, good));
  g_assert_null (nothing[0]);
}

/* The window counts the findings that pawl check lists: none for the demo, whose figure has axis lines and details beside its parts. */
static void
test_demo_line (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", "sd3-carburetor.xml", NULL);
  g_autoptr(PawlProcedureLine) line = load_line (path);

  g_assert_null (line->problem);
  g_assert_nonnull (line->figure);
  g_assert_cmpuint (line->findings->len, ==, 0);
}

/* Every faulty file is a line with a sentence or with findings, never a crash. */
static void
test_faulty_lines (void)
{
  g_autofree char *folder = fixture_dup_data_path ("bad");
  g_auto(GStrv) files = pawl_procedure_line_list_folder (folder);
  guint n = 0;

  for (; files[n] != NULL; n++)
    {
      g_autoptr(PawlProcedureLine) line = load_line (files[n]);

      g_test_message ("%s", files[n]);
      g_assert_true (line->procedure != NULL ? line->findings->len > 0 || line->problem != NULL : line->problem != NULL);
    }
  g_assert_cmpuint (n, >=, 25);
}

#define ADD(path, func) g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install ();
  ADD ("/app/session/refused", test_refused);
  ADD ("/app/session/advance", test_advance);
  ADD ("/app/session/look", test_look);
  ADD ("/app/session/redo", test_redo);
  ADD ("/app/session/undo", test_undo);
  ADD ("/app/session/resume", test_resume);
  ADD ("/app/session/full-disk", test_full_disk);
  ADD ("/app/session/pressed-again", test_pressed_again);
  ADD ("/app/session/nobody", test_nobody);
  ADD ("/app/session/wait", test_wait_words);
  ADD ("/app/readings", test_readings);
  g_test_add_func ("/app/procedure-lines", test_procedure_lines);
  g_test_add_func ("/app/procedure-lines/refused-figure", test_refused_figure);
  g_test_add_func ("/app/demo-line", test_demo_line);
  g_test_add_func ("/app/procedure-lines/faulty", test_faulty_lines);
  return g_test_run ();
}
