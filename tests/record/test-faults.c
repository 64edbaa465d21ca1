/* Records that may not be written, that have no room, that another holds, that were cut short: one sentence each, nothing lost. */
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include "record-fixture.h"
#include "record/pawl-record-private.h"

static guint
count_entries (PawlRecord *record,
               const char *job_id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = pawl_record_load_entries (record, job_id, &error);

  g_assert_no_error (error);
  return entries->len;
}

static gboolean
append (Fixture    *fixture,
        PawlRecord *record,
        const char *job_id,
        GError    **error)
{
  g_autoptr (PawlEntry) entry = fixture_make_answer (fixture, "float-height", "33,3 mm");
  gboolean is_stored = pawl_record_append_one (record, job_id, entry, error);

  g_assert_true ((pawl_entry_get_id (entry) != NULL) == is_stored);
  return is_stored;
}

static void
make_record (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 5);
}

/* ---- what may not be written ---- */

static int
run_read_only_file (Fixture *fixture)
{
  g_autoptr (PawlRecord) reader = NULL;
  g_autoptr (PawlRecord) writer = NULL;
  g_autoptr (GPtrArray) jobs = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_access (fixture->path, W_OK), !=, 0);
  writer = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  g_assert_null (writer);
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  fixture_check_sentence (error, fixture->path);

  reader = fixture_open_to_read (fixture);
  fixture_check_sound (reader);
  jobs = pawl_record_list_jobs (reader, NULL);
  g_assert_cmpuint (jobs->len, ==, 1);
  g_assert_cmpuint (count_entries (reader, ((PawlJobLine *) jobs->pdata[0])->id), ==, 6);
  return 0;
}

static void
test_read_only_file (Fixture      *fixture,
                     gconstpointer data)
{
  make_record (fixture);
  g_assert_cmpint (g_chmod (fixture->path, 0400), ==, 0);
  fixture_run_as_nobody (run_read_only_file, fixture);
}

/* As on a medium that can only be read. */
static void
test_read_only_file_and_folder (Fixture      *fixture,
                                gconstpointer data)
{
  make_record (fixture);
  g_assert_cmpint (g_chmod (fixture->path, 0400), ==, 0);
  g_assert_cmpint (g_chmod (fixture->folder, 0500), ==, 0);
  fixture_run_as_nobody (run_read_only_file, fixture);
}

static int
run_read_only_folder (Fixture *fixture)
{
  g_autofree char *below = g_build_filename (fixture->folder, "new", "record.db", NULL);
  g_autoptr (PawlRecord) reader = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_null (pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  fixture_check_sentence (error, fixture->path);
  g_assert_nonnull (strstr (error->message, "folder"));
  g_clear_error (&error);

  g_assert_null (pawl_record_open (below, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  fixture_check_sentence (error, below);

  reader = fixture_open_to_read (fixture);
  fixture_check_sound (reader);
  return 0;
}

static void
test_read_only_folder (Fixture      *fixture,
                       gconstpointer data)
{
  make_record (fixture);
  g_assert_cmpint (g_chmod (fixture->folder, 0500), ==, 0);
  fixture_run_as_nobody (run_read_only_folder, fixture);
}

/* The folder is taken away under an open record, and given back: what was refused is appended then. */
static int
run_folder_turns_read_only (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 2);
  g_autoptr (PawlEntry) entry = fixture_make_answer (fixture, "float-height", "33,3 mm");
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_chmod (fixture->folder, 0500), ==, 0);
  g_assert_false (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  fixture_check_sentence (error, fixture->path);
  g_clear_error (&error);
  g_assert_cmpuint (count_entries (record, job_id), ==, 3);

  g_assert_cmpint (g_chmod (fixture->folder, 0700), ==, 0);
  g_assert_true (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_entries (record, job_id), ==, 4);
  fixture_check_sound (record);
  return 0;
}

static void
test_folder_turns_read_only (Fixture      *fixture,
                             gconstpointer data)
{
  fixture_run_as_nobody (run_folder_turns_read_only, fixture);
}

/* Somebody tidies up while the record is open: an entry must not go into a file that nobody will ever find. */
static void
test_file_removed (Fixture      *fixture,
                   gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 2);
  g_autofree char *elsewhere = g_build_filename (fixture->folder, "moved.db", NULL);
  g_autoptr (GError) error = NULL;

  g_assert_cmpint (g_rename (fixture->path, elsewhere), ==, 0);
  g_assert_false (append (fixture, record, job_id, &error));
  fixture_check_sentence (error, fixture->path);
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  g_assert_false (g_file_test (fixture->path, G_FILE_TEST_EXISTS));
  g_assert_cmpint (g_rename (elsewhere, fixture->path), ==, 0);
  g_clear_error (&error);
  g_assert_true (append (fixture, record, job_id, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_entries (record, job_id), ==, 4);
}

/* ---- no room ---- */

static void
set_max_pages (PawlRecord *record,
               guint       n_pages)
{
  g_autofree char *sql = g_strdup_printf ("PRAGMA max_page_count = %u", n_pages);

  g_assert_cmpint (sqlite3_exec (pawl_record_peek_handle (record), sql, NULL, NULL, NULL), ==, SQLITE_OK);
}

/* Several entries at a time, so that the room runs out in the middle of a transaction. */
static void
test_full (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 0);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) refused = NULL;
  guint n_stored = 1;

  set_max_pages (record, 24);
  while (error == NULL)
    {
      g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

      for (guint i = 0; i < 7; i++)
        g_ptr_array_add (entries, fixture_make_answer (fixture, "float-height", "33,3 mm"));
      if (pawl_record_append (record, job_id, entries, &error))
        n_stored += entries->len;
      else
        refused = g_steal_pointer (&entries);
    }

  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL);
  fixture_check_sentence (error, fixture->path);
  g_clear_error (&error);
  g_assert_cmpuint (n_stored, >, 1);
  g_assert_cmpuint (count_entries (record, job_id), ==, n_stored);
  fixture_check_sound (record);

  set_max_pages (record, 1000);
  g_assert_true (pawl_record_append (record, job_id, refused, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_entries (record, job_id), ==, n_stored + 7);
  fixture_check_sound (record);
}

/* A limit of the system, which SQLite reports as a failed write. Photos first: they are what fills disks. */
static int
run_file_size_limit (Fixture *fixture)
{
  struct rlimit limit;
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 3);
  g_autofree char *picture = g_malloc0 (1 << 20);
  g_autoptr (GBytes) bytes = g_bytes_new (picture, 1 << 20);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = NULL;
  guint n_stored = 4;

  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  limit.rlim_cur = 100 * 1024;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);

  g_assert_null (pawl_record_keep (record, bytes, "image/jpeg", &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL);
  fixture_check_sentence (error, fixture->path);
  g_clear_error (&error);

  while (append (fixture, record, job_id, &error))
    n_stored++;
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL);
  fixture_check_sentence (error, fixture->path);
  g_clear_error (&error);
  g_assert_cmpuint (count_entries (record, job_id), ==, n_stored);

  limit.rlim_cur = limit.rlim_max;
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &limit), ==, 0);
  g_assert_true (append (fixture, record, job_id, &error));
  g_assert_no_error (error);
  digest = pawl_record_keep (record, bytes, "image/jpeg", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (count_entries (record, job_id), ==, n_stored + 1);
  fixture_check_sound (record);
  return 0;
}

static void
test_file_size_limit (Fixture      *fixture,
                      gconstpointer data)
{
  fixture_run_as_nobody (run_file_size_limit, fixture);
}

/* ---- held by another ---- */

static sqlite3 *
hold (Fixture    *fixture,
      const char *sql)
{
  sqlite3 *other = NULL;

  g_assert_cmpint (sqlite3_open (fixture->path, &other), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (other, sql, NULL, NULL, NULL), ==, SQLITE_OK);
  return other;
}

/* A writer holds up writing; a reader holds up the commit; an exclusive lock holds up reading, too. */
static void
test_busy (Fixture      *fixture,
           gconstpointer data)
{
  static const struct {
    const char *hold;
    gboolean    may_read;
  } cases[] = {
    { "BEGIN IMMEDIATE", TRUE },
    { "BEGIN; SELECT * FROM entry", TRUE },
    { "BEGIN EXCLUSIVE", FALSE },
  };
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 2);
  g_autoptr (PawlEntry) entry = fixture_make_answer (fixture, "float-height", "33,3 mm");
  g_autoptr (GError) error = NULL;

  sqlite3_busy_timeout (pawl_record_peek_handle (record), 20);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      sqlite3 *other = hold (fixture, cases[i].hold);
      g_autoptr (GPtrArray) entries = NULL;

      g_assert_false (pawl_record_append_one (record, job_id, entry, &error));
      g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_BUSY);
      fixture_check_sentence (error, fixture->path);
      g_clear_error (&error);

      entries = pawl_record_load_entries (record, job_id, &error);
      if (cases[i].may_read)
        g_assert_no_error (error);
      else
        g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_BUSY);
      g_clear_error (&error);
      g_assert_cmpint (sqlite3_close (other), ==, SQLITE_OK);
    }

  g_assert_true (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_entries (record, job_id), ==, 4);
  fixture_check_sound (record);
}

/* Somebody has set another journal mode: it is set back, so that one file is the whole record again. */
static void
test_other_journal_mode (Fixture      *fixture,
                         gconstpointer data)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autofree char *mode = NULL;

  make_record (fixture);
  fixture_run_sql (fixture->path, "PRAGMA journal_mode = WAL");
  record = fixture_open (fixture);
  mode = fixture_query_text (fixture->path, "PRAGMA journal_mode");
  g_assert_cmpstr (mode, ==, "delete");
  fixture_check_sound (record);
}

/* ---- a write cut short ---- */

/* Leaves the file half written beside a journal: the cache is so small that pages go to the file before the commit. */
static void
cut_write_short (Fixture *fixture)
{
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      sqlite3 *handle = NULL;

      if (sqlite3_open (fixture->path, &handle) != SQLITE_OK
          || sqlite3_exec (handle, "PRAGMA cache_size = 1; PRAGMA cache_spill = 1; BEGIN IMMEDIATE;"
                                   "WITH RECURSIVE n (i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n WHERE i < 2000)"
                                   " INSERT INTO entry SELECT 'x' || i, 'x', i, '', 'noted', '', '', '', '', '', '' FROM n", NULL, NULL, NULL) != SQLITE_OK)
        _exit (1);
      kill (getpid (), SIGKILL);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status));
}

static void
test_leftover_put_right (Fixture      *fixture,
                         gconstpointer data)
{
  g_autofree char *journal = g_strconcat (fixture->path, "-journal", NULL);
  g_autofree char *before = NULL;
  g_autofree char *cut = NULL;
  g_autoptr (PawlRecord) record = NULL;
  gsize size_before, size_cut;

  make_record (fixture);
  g_assert_true (g_file_get_contents (fixture->path, &before, &size_before, NULL));
  cut_write_short (fixture);
  g_assert_true (g_file_get_contents (fixture->path, &cut, &size_cut, NULL));
  g_assert_cmpuint (size_cut, >, size_before);
  g_assert_true (g_file_test (journal, G_FILE_TEST_EXISTS));

  /* Also when it is only to be read. */
  record = fixture_open_to_read (fixture);
  fixture_check_sound (record);
  g_assert_cmpuint (count_entries (record, "a0000000-0000-4000-8000-000000000000"), ==, 6);
  g_assert_false (g_file_test (journal, G_FILE_TEST_EXISTS));
}

static int
run_leftover_on_read_only (Fixture *fixture)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (pawl_record_open (fixture->path, PAWL_RECORD_OPEN_READ_ONLY, &fixture->host, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
  fixture_check_sentence (error, fixture->path);
  g_assert_nonnull (strstr (error->message, "cut short"));
  return 0;
}

/* Half a write must not be read as if it were whole. */
static void
test_leftover_on_read_only (Fixture      *fixture,
                            gconstpointer data)
{
  make_record (fixture);
  cut_write_short (fixture);
  g_assert_cmpint (g_chmod (fixture->path, 0400), ==, 0);
  g_assert_cmpint (g_chmod (fixture->folder, 0500), ==, 0);
  fixture_run_as_nobody (run_leftover_on_read_only, fixture);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/faults/read-only-file", test_read_only_file);
  ADD ("/faults/read-only-file-and-folder", test_read_only_file_and_folder);
  ADD ("/faults/read-only-folder", test_read_only_folder);
  ADD ("/faults/folder-turns-read-only", test_folder_turns_read_only);
  ADD ("/faults/file-removed", test_file_removed);
  ADD ("/faults/full", test_full);
  ADD ("/faults/file-size-limit", test_file_size_limit);
  ADD ("/faults/busy", test_busy);
  ADD ("/faults/other-journal-mode", test_other_journal_mode);
  ADD ("/faults/leftover-put-right", test_leftover_put_right);
  ADD ("/faults/leftover-on-read-only", test_leftover_on_read_only);

  return g_test_run ();
}
