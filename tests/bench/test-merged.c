/* A job that two benches went on with: the fold takes the merged entries as they come, and both records show the same state. */
#include "bench/pawl-bench.h"
#include "record/pawl-merge.h"
#include "record/pawl-record-recall.h"

#include "faulty-disk.h"

#include <glib/gstdio.h>

typedef struct {
  char       *folder, *paths[2];
  char       *job_id;
  PawlRecord *records[2];
  PawlBench  *benches[2];
} Fixture;

static void
resume (Fixture *fixture, guint i)
{
  g_autoptr(GError) error = NULL;

  g_clear_object (&fixture->benches[i]);
  if (fixture->records[i] == NULL)
    fixture->records[i] = pawl_record_open (fixture->paths[i], PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_assert_no_error (error);
  fixture->benches[i] = pawl_bench_resume (fixture->records[i], fixture->job_id, NULL, &error);
  g_assert_no_error (error);
}

static void
append (Fixture *fixture, guint i, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  g_autoptr(GDateTime) now = pawl_bench_now (fixture->benches[i]);
  g_autoptr(PawlEntry) entry = pawl_entry_new (kind, subject, i == 0 ? "Ann" : "Bea", now);
  g_autoptr(GError) error = NULL;

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  pawl_bench_append_one (fixture->benches[i], entry, &error);
  g_assert_no_error (error);
}

/* A job with one answer, in two records. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autofree char *procedure_path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", "sd3-carburetor.xml", NULL);
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (procedure_path, NULL, NULL);
  g_autoptr(GDateTime) now = g_date_time_new_now_utc ();
  g_autoptr(PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", now);
  g_autofree char *bytes = NULL;
  g_autoptr(GError) error = NULL;
  gsize size;

  fixture->folder = g_dir_make_tmp ("pawl-merged-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->paths[0] = g_build_filename (fixture->folder, "a.db", NULL);
  fixture->paths[1] = g_build_filename (fixture->folder, "b.db", NULL);
  fixture->records[0] = pawl_record_open (fixture->paths[0], PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_assert_no_error (error);
  fixture->benches[0] = pawl_bench_open (fixture->records[0], procedure, NULL, opened, &error);
  g_assert_no_error (error);
  fixture->job_id = g_strdup (pawl_job_get_id (pawl_bench_get_job (fixture->benches[0])));
  append (fixture, 0, PAWL_ENTRY_ANSWERED, "condition", "answer", "Wet");
  g_assert_true (g_file_get_contents (fixture->paths[0], &bytes, &size, NULL));
  g_assert_true (g_file_set_contents (fixture->paths[1], bytes, (gssize) size, NULL));
  resume (fixture, 1);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  for (guint i = 0; i < 2; i++)
    {
      g_clear_object (&fixture->benches[i]);
      g_clear_object (&fixture->records[i]);
      g_remove (fixture->paths[i]);
      g_free (fixture->paths[i]);
    }
  g_rmdir (fixture->folder);
  g_free (fixture->folder);
  g_free (fixture->job_id);
}

static void
merge (Fixture *fixture, guint from, guint into)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlMerge) merging = pawl_merge_begin (fixture->records[into], &error);
  g_autoptr(GPtrArray) rows = pawl_record_load_rows (fixture->records[from], fixture->job_id, &error);

  g_assert_true (pawl_merge_add_chain (merging, rows, &error));
  g_assert_true (pawl_merge_commit (g_steal_pointer (&merging), NULL, &error));
  g_assert_no_error (error);
  resume (fixture, into);
}

/* How every ask stands, and what was said last of it. */
static char *
describe (Fixture *fixture, guint i)
{
  PawlJob *job = pawl_bench_get_job (fixture->benches[i]);
  GPtrArray *entries = pawl_job_get_entries (job);
  GString *text = g_string_new (NULL);

  for (guint j = 0; j < entries->len; j++)
    g_string_append_printf (text, "%u %s %s %s%s\n", pawl_entry_get_number (entries->pdata[j]), pawl_entry_get_person (entries->pdata[j]),
                            pawl_entry_kind_get_name (pawl_entry_get_kind (entries->pdata[j])), pawl_entry_get_subject (entries->pdata[j]),
                            pawl_job_is_undone (job, entries->pdata[j]) ? " undone" : "");
  for (guint j = 0; j < pawl_procedure_get_steps (pawl_bench_get_procedure (fixture->benches[i]))->len; j++)
    {
      const PawlStep *step = pawl_procedure_get_steps (pawl_bench_get_procedure (fixture->benches[i]))->pdata[j];

      g_string_append_printf (text, "%s %d\n", step->id, (int) pawl_job_lookup_step (job, step->id)->status);
    }
  return g_string_free (text, FALSE);
}

static void
test_same_state (Fixture *fixture, gconstpointer data)
{
  g_autofree char *a = NULL, *b = NULL;
  PawlJob *job;

  append (fixture, 0, PAWL_ENTRY_ANSWERED, "identified-by", "answer", "Tag");
  append (fixture, 1, PAWL_ENTRY_ANSWERED, "identified-by", "answer", "Plate");
  append (fixture, 0, PAWL_ENTRY_NOTED, "", "text", "Ann's note");
  append (fixture, 1, PAWL_ENTRY_ANSWERED, "condition", "answer", "Dry");
  append (fixture, 1, PAWL_ENTRY_UNDONE, pawl_entry_get_id (pawl_job_peek_undoable (pawl_bench_get_job (fixture->benches[1]))), NULL, NULL);
  merge (fixture, 0, 1);
  merge (fixture, 1, 0);
  a = describe (fixture, 0);
  b = describe (fixture, 1);
  g_assert_cmpstr (a, ==, b);

  /* Both said it; what was taken back on one bench stays taken back. */
  job = pawl_bench_get_job (fixture->benches[0]);
  g_assert_cmpuint (pawl_job_lookup_ask (job, "identified-by")->attempts->len, ==, 2);
  g_assert_cmpuint (pawl_job_lookup_ask (job, "condition")->attempts->len, ==, 1);
}

/* Work goes on: the next answer joins the branches, and can be taken back like any other. */
static void
test_goes_on (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GPtrArray) findings = NULL;
  g_autofree char *head = NULL;
  PawlEntry *newest;

  append (fixture, 0, PAWL_ENTRY_NOTED, "", "text", "here");
  append (fixture, 1, PAWL_ENTRY_NOTED, "", "text", "there");
  merge (fixture, 1, 0);
  append (fixture, 0, PAWL_ENTRY_ANSWERED, "identified-by", "answer", "Tag");
  newest = pawl_job_peek_undoable (pawl_bench_get_job (fixture->benches[0]));
  g_assert_cmpstr (pawl_entry_get_subject (newest), ==, "identified-by");
  head = pawl_record_dup_head (fixture->records[0], fixture->job_id, NULL);
  g_assert_cmpstr (head, ==, pawl_entry_get_digest (newest));
  append (fixture, 0, PAWL_ENTRY_UNDONE, pawl_entry_get_id (newest), NULL, NULL);
  findings = pawl_record_verify (fixture->records[0], NULL, NULL);
  g_assert_cmpuint (findings->len, ==, 0);
}

/* What the list of jobs, and what the fold says of the serial number. */
static void
check_serial (Fixture *fixture, guint i, const char *expected)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (fixture->records[i], &error);
  g_autoptr(PawlOpening) opening = pawl_record_load_opening (fixture->records[i], fixture->job_id, &error);
  g_autoptr(GPtrArray) findings = pawl_record_verify (fixture->records[i], NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
  g_assert_cmpstr (pawl_job_get_field (pawl_bench_get_job (fixture->benches[i]), "serial"), ==, expected);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[0])->serial, ==, expected);
  g_assert_cmpstr (opening->serial, ==, expected);
}

static void
correct (Fixture *fixture, guint i, const char *serial)
{
  g_autoptr(GDateTime) now = pawl_bench_now (fixture->benches[i]);
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_CORRECTED, "", i == 0 ? "Ann" : "Bea", now);
  g_autoptr(GError) error = NULL;

  pawl_entry_set (entry, "serial", serial);
  pawl_entry_set (entry, "reason", "Read again");
  pawl_bench_append_one (fixture->benches[i], entry, &error);
  g_assert_no_error (error);
}

/* Two benches correct the same: the order of the chain says which is the later, whichever way they are merged; then it goes on from there. */
static void
test_corrected (Fixture *fixture, gconstpointer data)
{
  guint first = (guint) GPOINTER_TO_UINT (data), second = 1 - first;
  PawlJob *job;

  append (fixture, first, PAWL_ENTRY_NOTED, "", "text", "makes this branch the longer one");
  correct (fixture, first, "47");
  correct (fixture, second, "74"); /* written later, and yet with a smaller number */
  merge (fixture, first, second);
  merge (fixture, second, first);
  check_serial (fixture, 0, "74");
  check_serial (fixture, 1, "74");

  correct (fixture, first, "47"); /* joins the branches */
  merge (fixture, first, second);
  check_serial (fixture, 0, "47");
  check_serial (fixture, 1, "47");
  job = pawl_bench_get_job (fixture->benches[second]);
  g_assert_cmpuint (pawl_job_get_corrections (job)->len, ==, 3);
  append (fixture, second, PAWL_ENTRY_UNDONE, pawl_entry_get_id (pawl_job_peek_undoable (job)), NULL, NULL);
  check_serial (fixture, second, "74");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk */
  g_test_add ("/merged/same-state", Fixture, NULL, set_up, test_same_state, tear_down);
  g_test_add ("/merged/goes-on", Fixture, NULL, set_up, test_goes_on, tear_down);
  g_test_add ("/merged/corrected/0-first", Fixture, GUINT_TO_POINTER (0), set_up, test_corrected, tear_down);
  g_test_add ("/merged/corrected/1-first", Fixture, GUINT_TO_POINTER (1), set_up, test_corrected, tear_down);
  return g_test_run ();
}
