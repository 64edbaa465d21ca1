/* The record on a good day: append, load, keep, list, find. */
#include <sys/wait.h>
#include <unistd.h>

#include "record-fixture.h"
#include "record/pawl-record-private.h"

static void
test_open_creates (Fixture      *fixture,
                   gconstpointer data)
{
  g_autofree char *deep = g_build_filename (fixture->folder, "new", "folder", "record.db", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (deep, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  g_autoptr (GPtrArray) jobs = NULL;
  g_autofree char *header = NULL;

  g_assert_no_error (error);
  g_assert_cmpstr (pawl_record_get_path (record), ==, deep);
  jobs = pawl_record_list_jobs (record, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (jobs->len, ==, 0);

  header = fixture_query_text (deep, "SELECT (SELECT application_id FROM pragma_application_id), (SELECT user_version FROM pragma_user_version)");
  g_assert_cmpstr (header, ==, "1348564844|11");
}

static void
test_default_path (void)
{
  g_autofree char *given = pawl_record_dup_default_path ("/srv/data");
  g_autofree char *own = pawl_record_dup_default_path (NULL);

  g_assert_cmpstr (given, ==, "/srv/data/pawl/record.db");
  g_assert_true (g_str_has_prefix (own, g_get_user_data_dir ()));
}

static void
test_system_host (void)
{
  const PawlRecordHost *host = pawl_record_host_get_system ();
  g_autofree char *id = host->new_id (host->data);
  g_autofree char *other = host->new_id (host->data);
  g_autoptr (GDateTime) now = host->now (host->data);

  g_assert_true (g_uuid_string_is_valid (id));
  g_assert_cmpstr (id, !=, other);
  g_assert_nonnull (now);
}

/* Two children of one process must not make the same ids. */
static void
test_ids_after_fork (void)
{
  const PawlRecordHost *host = pawl_record_host_get_system ();
  g_autofree char *drawn_before = host->new_id (host->data);
  g_autofree char *own = NULL;
  char of_child[37] = "";
  int ends[2];
  pid_t child;

  g_assert_cmpint (pipe (ends), ==, 0);
  if ((child = fork ()) == 0)
    {
      g_autofree char *id = host->new_id (host->data);

      _exit (write (ends[1], id, 36) == 36 ? 0 : 1);
    }
  g_assert_cmpint (child, >, 0);
  own = host->new_id (host->data);
  g_assert_cmpint (read (ends[0], of_child, 36), ==, 36);
  g_assert_cmpint (waitpid (child, NULL, 0), ==, child);
  g_assert_true (g_uuid_string_is_valid (of_child));
  g_assert_cmpstr (of_child, !=, own);
  close (ends[0]);
  close (ends[1]);
}

static int
query_int (PawlRecord *record,
           const char *sql)
{
  sqlite3_stmt *statement = NULL;
  int value;

  g_assert_cmpint (sqlite3_prepare_v2 (pawl_record_peek_handle (record), sql, -1, &statement, NULL), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_step (statement), ==, SQLITE_ROW);
  value = sqlite3_column_int (statement, 0);
  sqlite3_finalize (statement);
  return value;
}

/* What is acknowledged rests on these: nobody may turn them down by accident. */
static void
test_settings (Fixture      *fixture,
               gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  g_assert_cmpint (query_int (record, "SELECT journal_mode = 'delete' FROM pragma_journal_mode"), ==, 1);
  g_assert_cmpint (query_int (record, "PRAGMA synchronous"), ==, 3); /* EXTRA */
  g_assert_cmpint (query_int (record, "PRAGMA foreign_keys"), ==, 1);
  g_assert_cmpint (query_int (record, "PRAGMA busy_timeout"), >, 0);
}

static void
test_append_and_load (Fixture      *fixture,
                      gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (PawlEntry) opened = fixture_make_opened (fixture, "SN-1907", "W-0412");
  g_autoptr (PawlEntry) answer = fixture_make_answer (fixture, "float-height", "1 5/16 in");
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job_id = NULL;
  g_autofree char *head = NULL;
  const PawlEntry *first, *second;

  job_id = pawl_record_open_job (record, opened, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (job_id, ==, pawl_entry_get_id (opened));
  g_assert_cmpstr (job_id, ==, pawl_entry_get_job (opened));
  g_assert_true (pawl_record_append_one (record, job_id, answer, &error));
  g_assert_no_error (error);
  g_clear_object (&record);

  record = fixture_open_to_read (fixture);
  entries = pawl_record_load_entries (record, job_id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 2);

  first = entries->pdata[0];
  g_assert_cmpint (pawl_entry_get_kind (first), ==, PAWL_ENTRY_OPENED);
  g_assert_cmpstr (pawl_entry_get (first, "work-order"), ==, "W-0412");
  g_assert_cmpstr (pawl_entry_get_previous (first), ==, "");
  g_assert_cmpuint (pawl_entry_get_number (first), ==, 1);

  second = entries->pdata[1];
  g_assert_cmpint (pawl_entry_get_kind (second), ==, PAWL_ENTRY_ANSWERED);
  g_assert_cmpstr (pawl_entry_get_subject (second), ==, "float-height");
  g_assert_cmpstr (pawl_entry_get_person (second), ==, FIXTURE_PERSON);
  g_assert_cmpstr (pawl_entry_get (second, "answer"), ==, "1 5/16 in");
  g_assert_cmpstr (pawl_entry_get_job (second), ==, job_id);
  g_assert_cmpstr (pawl_entry_get_id (second), ==, pawl_entry_get_id (answer));
  g_assert_cmpstr (pawl_entry_get_previous (second), ==, pawl_entry_get_digest (first));
  g_assert_cmpstr (pawl_entry_get_digest (second), ==, pawl_entry_get_digest (answer));
  g_assert_cmpuint (pawl_entry_get_number (second), ==, 2);
  g_assert_true (g_date_time_equal (pawl_entry_peek_at (second), pawl_entry_peek_at (answer)));
  g_assert_true (g_date_time_equal (pawl_entry_peek_written (second), pawl_entry_peek_written (answer)));
  g_assert_cmpint (g_date_time_get_utc_offset (pawl_entry_peek_at (second)), ==, 2 * G_TIME_SPAN_HOUR);

  head = pawl_record_dup_head (record, job_id, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (head, ==, pawl_entry_get_digest (second));
}

/* All or none: the second entry is refused by the file, and the first must not stay alone. */
static void
test_append_all_or_none (Fixture      *fixture,
                         gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 2);
  g_autoptr (PawlEntry) first = fixture_make_answer (fixture, "a", "1");
  g_autoptr (PawlEntry) second = fixture_make_answer (fixture, "b", "2");
  g_autoptr (GPtrArray) entries = g_ptr_array_new ();
  g_autoptr (GPtrArray) loaded = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *before = fixture_dump (fixture->path);
  g_autofree char *after = NULL;

  g_ptr_array_add (entries, first);
  g_ptr_array_add (entries, second);

  fixture->n_ids = G_MAXUINT; /* the second one gets the id of the job */
  g_assert_false (pawl_record_append (record, job_id, entries, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO);
  g_assert_nonnull (strstr (error->message, fixture->path));
  g_clear_error (&error);
  after = fixture_dump (fixture->path);
  g_assert_cmpstr (after, ==, before);
  g_assert_null (pawl_entry_get_id (first));

  fixture->n_ids = 100;
  g_assert_true (pawl_record_append (record, job_id, entries, &error));
  g_assert_no_error (error);
  loaded = pawl_record_load_entries (record, job_id, &error);
  g_assert_cmpuint (loaded->len, ==, 5);
}

static void
test_append_nothing (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 0);
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autoptr (GPtrArray) loaded = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_record_append (record, job_id, none, &error));
  g_assert_no_error (error);
  loaded = pawl_record_load_entries (record, job_id, &error);
  g_assert_cmpuint (loaded->len, ==, 1);
}

static void
test_no_such_job (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (PawlEntry) answer = fixture_make_answer (fixture, "a", "1");
  g_autoptr (GError) error = NULL;

  g_assert_false (pawl_record_append_one (record, "no-such-job", answer, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB);
  g_clear_error (&error);
  g_assert_null (pawl_record_load_entries (record, "no-such-job", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB);
  g_clear_error (&error);
  g_assert_null (pawl_record_dup_head (record, "no-such-job", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB);
}

/* ---- kept bytes ---- */

static void
test_keep (Fixture      *fixture,
           gconstpointer data)
{
  static const guint8 odd[] = { 0, 1, 2, 0, 255, 0 };
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GBytes) bytes = g_bytes_new_static (odd, sizeof odd);
  g_autoptr (GBytes) nothing = g_bytes_new_static ("", 0);
  g_autoptr (GBytes) back = NULL;
  g_autoptr (GBytes) nothing_back = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = NULL;
  g_autofree char *again = NULL;
  g_autofree char *of_nothing = NULL;
  g_autofree char *count = NULL;

  digest = pawl_record_keep (record, bytes, "application/octet-stream", &error);
  g_assert_no_error (error);
  again = pawl_record_keep (record, bytes, "image/png", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (digest, ==, again);
  back = pawl_record_load_kept (record, digest, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (bytes, back));

  /* SHA-256 of the empty message: FIPS 180-4, from the example values that NIST publishes with it (from memory). */
  of_nothing = pawl_record_keep (record, nothing, "text/plain", &error);
  g_assert_no_error (error);
  g_assert_cmpstr (of_nothing, ==, "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
  nothing_back = pawl_record_load_kept (record, of_nothing, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (g_bytes_get_size (nothing_back), ==, 0);

  count = fixture_query_text (fixture->path, "SELECT count(*) FROM kept");
  g_assert_cmpstr (count, ==, "2");
}

static void
test_keep_bad (Fixture      *fixture,
               gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("a drawing", 9);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (record, bytes, "image/svg+xml", &error);

  g_assert_no_error (error);
  g_assert_null (pawl_record_load_kept (record, "00", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_clear_error (&error);

  fixture_tamper (fixture->path, "UPDATE kept SET bytes = CAST ('a drawinG' AS BLOB)");
  g_assert_null (pawl_record_load_kept (record, digest, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_clear_error (&error);
  g_assert_null (pawl_record_keep (record, bytes, "image/svg+xml", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
}

/* ---- the file itself refuses ---- */

static void
test_guards (Fixture      *fixture,
             gconstpointer data)
{
  static const char *const attempts[] = {
    "UPDATE entry SET person = 'somebody else' WHERE number = 2",
    "DELETE FROM entry WHERE number = 3",
    "INSERT OR REPLACE INTO entry SELECT id, job, number, previous, kind, subject, 'somebody else', at, written, body, digest FROM entry WHERE number = 2",
    "INSERT OR REPLACE INTO entry SELECT 'other', job, number, previous, kind, subject, person, at, written, body, digest FROM entry WHERE number = 2",
    "UPDATE kept SET media_type = 'text/html'",
    "DELETE FROM kept",
    "INSERT OR REPLACE INTO kept SELECT digest, media_type, CAST ('other' AS BLOB) FROM kept",
    "UPDATE head SET number = number - 1",
    "UPDATE head SET digest = 'other'",
    "DELETE FROM head",
    "INSERT OR REPLACE INTO head SELECT job, digest, 1 FROM head",
    "INSERT INTO head SELECT job, 'other', 2 FROM head",
  };
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 3);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("a drawing", 9);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (record, bytes, "image/svg+xml", &error);
  g_autofree char *before = fixture_dump (fixture->path);
  sqlite3 *handle = NULL;

  g_assert_cmpint (sqlite3_open (fixture->path, &handle), ==, SQLITE_OK);
  for (guint i = 0; i < G_N_ELEMENTS (attempts); i++)
    {
      g_autofree char *after = NULL;

      g_assert_cmpint (sqlite3_exec (handle, attempts[i], NULL, NULL, NULL), ==, SQLITE_CONSTRAINT);
      after = fixture_dump (fixture->path);
      g_assert_cmpstr (after, ==, before);
    }
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);
}

/* ---- reading while another reads or writes ---- */

static void
test_read_only_refuses (Fixture      *fixture,
                        gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 1);
  g_autoptr (PawlRecord) reader = fixture_open_to_read (fixture);
  g_autoptr (PawlEntry) answer = fixture_make_answer (fixture, "a", "1");
  g_autoptr (GBytes) bytes = g_bytes_new_static ("a drawing", 9);
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_false (pawl_record_append_one (reader, job_id, answer, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  g_clear_error (&error);
  g_assert_null (pawl_record_keep (reader, bytes, "image/png", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  g_clear_error (&error);

  /* What it refused, the one that may write takes; and the reader sees it. */
  g_assert_true (pawl_record_append_one (record, job_id, answer, &error));
  g_assert_no_error (error);
  entries = pawl_record_load_entries (reader, job_id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 3);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/record/open-creates", test_open_creates);
  g_test_add_func ("/record/default-path", test_default_path);
  g_test_add_func ("/record/system-host", test_system_host);
  g_test_add_func ("/record/ids-after-fork", test_ids_after_fork);
  ADD ("/record/settings", test_settings);
  ADD ("/record/append-and-load", test_append_and_load);
  ADD ("/record/append-all-or-none", test_append_all_or_none);
  ADD ("/record/append-nothing", test_append_nothing);
  ADD ("/record/no-such-job", test_no_such_job);
  ADD ("/record/keep", test_keep);
  ADD ("/record/keep-bad", test_keep_bad);
  ADD ("/record/guards", test_guards);
  ADD ("/record/read-only-refuses", test_read_only_refuses);

  return g_test_run ();
}
