/* The bench: check, append, fold, tell; on the demo procedure with a real record. */
#include "bench/pawl-bench.h"
#include "job/pawl-bench-sheet.h"
#include "job/pawl-results.h"

#include "faulty-disk.h"

#include <glib/gstdio.h>

typedef struct {
  char          *folder, *path;
  PawlProcedure *procedure;
  PawlRecord    *record;
  PawlBench     *bench;
} Fixture;

static char *
demo_path (const char *name)
{
  return g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", name, NULL);
}

static PawlEntry *
make_entry (Fixture *fixture, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  g_autoptr(GDateTime) now = pawl_bench_now (fixture->bench);
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", now);

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  return entry;
}

static void
append (Fixture *fixture, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  g_autoptr(PawlEntry) entry = make_entry (fixture, kind, subject, field, value);
  g_autoptr(GError) error = NULL;

  pawl_bench_append_one (fixture->bench, entry, &error);
  g_assert_no_error (error);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *procedure_path = demo_path ("sd3-carburetor.xml");
  g_autoptr(GDateTime) now = g_date_time_new_now_utc ();
  g_autoptr(PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", now);

  fixture->folder = g_dir_make_tmp ("pawl-bench-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->path = g_build_filename (fixture->folder, "record.db", NULL);
  fixture->procedure = pawl_procedure_load (procedure_path, NULL, &error);
  g_assert_no_error (error);
  fixture->record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, pawl_record_host_get_system (), &error);
  g_assert_no_error (error);
  pawl_entry_set (opened, "serial", "T-1");
  fixture->bench = pawl_bench_open (fixture->record, fixture->procedure, NULL, opened, &error);
  g_assert_no_error (error);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_clear_object (&fixture->bench);
  g_clear_object (&fixture->record);
  g_clear_object (&fixture->procedure);
  g_remove (fixture->path);
  g_rmdir (fixture->folder);
  g_free (fixture->path);
  g_free (fixture->folder);
}

static void
count_cb (PawlBench *bench, guint *count)
{
  (*count)++;
}

static void
test_append_tells (Fixture *fixture, gconstpointer data)
{
  guint count = 0;

  g_signal_connect (fixture->bench, "changed", G_CALLBACK (count_cb), &count);
  append (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", "Wet");
  g_assert_cmpuint (count, ==, 1);
  g_assert_cmpint (pawl_job_lookup_ask (pawl_bench_get_job (fixture->bench), "condition")->status, ==, PAWL_ASK_ACCEPTED);
}

/* All or none: the second entry is refused, so the first is not kept either. */
static void
test_refused_whole (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr(GError) error = NULL;

  g_ptr_array_add (entries, make_entry (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", "Wet"));
  g_ptr_array_add (entries, make_entry (fixture, PAWL_ENTRY_STEP_DONE, "receive", NULL, NULL));
  g_assert_false (pawl_bench_append (fixture->bench, entries, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNANSWERED);
  g_assert_cmpuint (pawl_job_get_entries (pawl_bench_get_job (fixture->bench))->len, ==, 1);
}

static void
test_undo (Fixture *fixture, gconstpointer data)
{
  g_autofree char *first = NULL;
  PawlEntry *undoable;
  g_autoptr(PawlEntry) wrong = NULL, back = NULL;
  g_autoptr(GError) error = NULL;

  append (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", "Wet");
  first = g_strdup (pawl_entry_get_id (pawl_job_peek_undoable (pawl_bench_get_job (fixture->bench))));
  append (fixture, PAWL_ENTRY_ANSWERED, "identified-by", "answer", "Tag");
  wrong = make_entry (fixture, PAWL_ENTRY_UNDONE, first, NULL, NULL);
  g_assert_false (pawl_bench_append_one (fixture->bench, wrong, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNKNOWN);
  undoable = pawl_job_peek_undoable (pawl_bench_get_job (fixture->bench));
  append (fixture, PAWL_ENTRY_UNDONE, pawl_entry_get_id (undoable), NULL, NULL);
  g_assert_cmpint (pawl_job_lookup_ask (pawl_bench_get_job (fixture->bench), "identified-by")->status, ==, PAWL_ASK_PENDING);
  append (fixture, PAWL_ENTRY_UNDONE, first, NULL, NULL);
  g_assert_cmpint (pawl_job_lookup_ask (pawl_bench_get_job (fixture->bench), "condition")->status, ==, PAWL_ASK_PENDING);
  g_assert_null (pawl_job_peek_undoable (pawl_bench_get_job (fixture->bench)));
  /* A taking-back itself can't be taken back: the answer is given again. */
  back = make_entry (fixture, PAWL_ENTRY_UNDONE, pawl_entry_get_id (g_ptr_array_index (pawl_job_get_entries (pawl_bench_get_job (fixture->bench)), 4)),
                     NULL, NULL);
  g_clear_error (&error);
  g_assert_false (pawl_bench_append_one (fixture->bench, back, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  append (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", "Damp");
  g_assert_cmpint (pawl_job_lookup_ask (pawl_bench_get_job (fixture->bench), "condition")->status, ==, PAWL_ASK_ACCEPTED);
}

/* The disk fails at every operation of an append in turn, before or after doing it: what append returns is what the record holds. */
static void
test_append_on_a_faulty_disk (Fixture *fixture, gconstpointer data)
{
  const Fault faults[] = { FAULT_IO, FAULT_IO_AFTER };
  guint n_failed = 0, n_stored_all_the_same = 0;

  for (guint i = 0; i < G_N_ELEMENTS (faults); i++)
    for (guint n = 0; n < 100; n++)
      {
        g_autofree char *text = g_strdup_printf ("Wet %u %u", i, n);
        g_autoptr(PawlEntry) entry = make_entry (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", text);
        g_autoptr(GPtrArray) stored = NULL;
        g_autoptr(GError) error = NULL, none = NULL;
        g_autofree char *job = g_strdup (pawl_job_get_id (pawl_bench_get_job (fixture->bench)));
        guint n_before = pawl_job_get_entries (pawl_bench_get_job (fixture->bench))->len;
        gboolean is_done, has_failed;

        faulty_disk_arm (faults[i], n);
        is_done = pawl_bench_append_one (fixture->bench, entry, &error);
        has_failed = faulty_disk_disarm ();
        g_assert_true (is_done == (error == NULL));
        stored = pawl_record_load_entries (fixture->record, job, &none);
        g_assert_no_error (none);
        g_assert_cmpuint (stored->len, ==, n_before + (is_done ? 1 : 0));
        g_assert_cmpuint (pawl_job_get_entries (pawl_bench_get_job (fixture->bench))->len, ==, stored->len);
        if (!has_failed)
          break;
        n_failed += !is_done;
        n_stored_all_the_same += is_done;
        g_assert_cmpuint (n, <, 99);
      }
  g_assert_cmpuint (n_failed, >, 0);
  g_assert_cmpuint (n_stored_all_the_same, >, 0);
}

static void
test_resume (Fixture *fixture, gconstpointer data)
{
  g_autofree char *id = g_strdup (pawl_job_get_id (pawl_bench_get_job (fixture->bench)));
  g_autofree char *before = NULL, *after = NULL;
  g_autoptr(PawlBench) resumed = NULL;
  g_autoptr(GError) error = NULL;

  append (fixture, PAWL_ENTRY_ANSWERED, "condition", "answer", "Wet");
  before = pawl_job_describe_next (pawl_bench_get_job (fixture->bench));
  resumed = pawl_bench_resume (fixture->record, id, NULL, &error);
  g_assert_no_error (error);
  after = pawl_job_describe_next (pawl_bench_get_job (resumed));
  g_assert_cmpstr (before, ==, after);
  g_assert_cmpstr (pawl_job_get_field (pawl_bench_get_job (resumed), "serial"), ==, "T-1");
}

static void
enter_sheet (Fixture *fixture, const char *name)
{
  g_autofree char *path = demo_path (name);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_load (path, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr(GPtrArray) entries = pawl_bench_sheet_make_entries (rows->pdata[i], pawl_bench_get_job (fixture->bench), name, &error);

      g_assert_no_error (error);
      if (entries->len > 0)
        pawl_bench_append (fixture->bench, entries, &error);
      if (error != NULL)
        g_error ("%s:%d: %s", name, ((PawlSheetRow *) rows->pdata[i])->line, error->message);
    }
}

static void
test_good_sheet (Fixture *fixture, gconstpointer data)
{
  PawlJob *job;
  guint total, n_done;
  g_autoptr(GPtrArray) results = NULL;
  g_autoptr(GPtrArray) missing = NULL;

  enter_sheet (fixture, "sd3-carburetor.answers.csv");
  job = pawl_bench_get_job (fixture->bench);
  n_done = pawl_job_count_done (job, &total);
  g_assert_cmpuint (n_done, ==, total);
  g_assert_nonnull (pawl_job_peek_signature (job));
  missing = pawl_results_list_missing (job);
  g_assert_cmpuint (missing->len, ==, 0);
  results = pawl_results_of_readings (job);
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = results->pdata[i];

      g_assert_nonnull (result->left);
      g_assert_cmpint (result->left->verdict.kind, ==, PAWL_VERDICT_IN);
    }
}

static void
test_trouble_sheet (Fixture *fixture, gconstpointer data)
{
  PawlJob *job;
  g_autoptr(GPtrArray) deviations = NULL;

  enter_sheet (fixture, "sd3-carburetor-trouble.answers.csv");
  job = pawl_bench_get_job (fixture->bench);
  g_assert_nonnull (pawl_job_peek_signature (job));
  deviations = pawl_job_list_deviations (job);
  g_assert_cmpuint (deviations->len, ==, 2);
  g_assert_cmpint (pawl_job_lookup_step (job, "blast-body")->status, ==, PAWL_STEP_SKIPPED);
  g_assert_cmpint (pawl_job_lookup_ask (job, "sweep")->status, ==, PAWL_ASK_DEVIATED);
  /* The plate: put in backwards, caught, put right. */
  g_assert_cmpuint (pawl_job_lookup_ask (job, "plate-sense")->attempts->len, ==, 2);
  g_assert_cmpint (pawl_job_lookup_ask (job, "plate-sense")->status, ==, PAWL_ASK_ACCEPTED);
  /* The height: out, in, and once more after the drop tang was bent. */
  g_assert_cmpuint (pawl_job_lookup_ask (job, "float-height")->attempts->len, ==, 3);
  /* The mistyped drop was taken back, so two attempts count. */
  g_assert_cmpuint (pawl_job_lookup_ask (job, "float-drop")->attempts->len, ==, 2);
  g_assert_cmpstr (pawl_entry_get (pawl_job_lookup_part (job, "venturi")->disposition, "choice"), ==, "replace");
}

int
main (int argc, char **argv)
{
  static const struct { const char *path; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/bench/append-tells", test_append_tells }, { "/bench/refused-whole", test_refused_whole }, { "/bench/undo", test_undo },
    { "/bench/append-on-a-faulty-disk", test_append_on_a_faulty_disk },
    { "/bench/resume", test_resume }, { "/bench/good-sheet", test_good_sheet }, { "/bench/trouble-sheet", test_trouble_sheet },
  };

  g_test_init (&argc, &argv, NULL);
  faulty_disk_install ();
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
