#include "record-fixture.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "record/pawl-merge.h"

#define NOBODY 65534

static GDateTime *
read_clock (gpointer data)
{
  Fixture *self = data;
  g_autoptr (GDateTime) before = self->now;

  self->now = g_date_time_add (before, 1250 * G_TIME_SPAN_MILLISECOND);
  return g_date_time_ref (before);
}

static char *
count_id (gpointer data)
{
  Fixture *self = data;

  return g_strdup_printf ("%08x-0000-4000-8000-000000000000", 0xa0000000u + self->n_ids++);
}

void
fixture_set_up (Fixture      *self,
                gconstpointer data)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_offset (2 * 60 * 60);
  g_autoptr (GError) error = NULL;

  self->folder = g_dir_make_tmp ("pawl-record-XXXXXX", &error);
  g_assert_no_error (error);
  self->path = g_build_filename (self->folder, "record.db", NULL);
  self->now = g_date_time_new (zone, 2026, 5, 4, 9, 15, 0);
  self->host = (PawlRecordHost){ .now = read_clock, .new_id = count_id, .data = self };
}

static void
remove_folder (const char *path)
{
  g_autoptr (GDir) folder = NULL;
  const char *name;

  g_chmod (path, 0700);
  folder = g_dir_open (path, 0, NULL);
  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);

      if (g_file_test (inside, G_FILE_TEST_IS_DIR))
        remove_folder (inside);
      else
        g_assert_cmpint (g_unlink (inside), ==, 0);
    }
  g_assert_cmpint (g_rmdir (path), ==, 0);
}

void
fixture_tear_down (Fixture      *self,
                   gconstpointer data)
{
  remove_folder (self->folder);
  g_free (self->folder);
  g_free (self->path);
  g_date_time_unref (self->now);
}

PawlRecord *
fixture_open (Fixture *self)
{
  g_autoptr (GError) error = NULL;
  PawlRecord *record = pawl_record_open (self->path, PAWL_RECORD_OPEN_CREATE, &self->host, &error);

  g_assert_no_error (error);
  return record;
}

PawlRecord *
fixture_open_to_read (Fixture *self)
{
  g_autoptr (GError) error = NULL;
  PawlRecord *record = pawl_record_open (self->path, PAWL_RECORD_OPEN_READ_ONLY, &self->host, &error);

  g_assert_no_error (error);
  return record;
}

PawlEntry *
fixture_make_opened (Fixture    *self,
                     const char *serial,
                     const char *work_order)
{
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_OPENED, NULL, FIXTURE_PERSON, self->now);

  pawl_entry_set (entry, "title", "Sidedraft carburetor, full rebuild");
  pawl_entry_set (entry, "unit", "Pellow & Daunt SD-3");
  pawl_entry_set (entry, "serial", serial);
  pawl_entry_set (entry, "work-order", work_order);
  pawl_entry_set (entry, "customer", "Harbour launch No. 2");
  return entry;
}

PawlEntry *
fixture_make_answer (Fixture    *self,
                     const char *ask,
                     const char *answer)
{
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_ANSWERED, ask, FIXTURE_PERSON, self->now);

  pawl_entry_set (entry, "answer", answer);
  pawl_entry_set (entry, "stage", "attempt");
  return entry;
}

char *
fixture_make_job (Fixture    *self,
                  PawlRecord *record,
                  guint       n_answers)
{
  g_autoptr (PawlEntry) opened = fixture_make_opened (self, "SN-1907", "W-0412");
  g_autoptr (GError) error = NULL;
  char *job_id = pawl_record_open_job (record, opened, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < n_answers; i++)
    {
      g_autofree char *ask = g_strdup_printf ("ask-%u", i + 1);
      g_autoptr (PawlEntry) entry = fixture_make_answer (self, ask, "33,3 mm");

      pawl_record_append_one (record, job_id, entry, &error);
      g_assert_no_error (error);
    }

  return job_id;
}

void
fixture_check_sound (PawlRecord *record)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((PawlRecordFinding *) findings->pdata[i])->message);
  g_assert_cmpuint (findings->len, ==, 0);
}

void
fixture_check_sentence (const GError *error,
                const char   *path)
{
  g_assert_nonnull (error);
  g_assert_true (g_str_has_prefix (error->message, path));
  g_assert_null (strchr (error->message, '\n'));
}

/* ---- past Pawl ---- */

static sqlite3 *
open_raw (const char *path)
{
  sqlite3 *handle = NULL;

  g_assert_cmpint (sqlite3_open_v2 (path, &handle, SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL), ==, SQLITE_OK);
  /* What a test does past Pawl need not outlast a power cut. On a damaged file this may fail, and then matters even less. */
  sqlite3_exec (handle, "PRAGMA synchronous = OFF", NULL, NULL, NULL);
  return handle;
}

static void
run_raw (sqlite3    *handle,
         const char *sql)
{
  if (sqlite3_exec (handle, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sqlite3_errmsg (handle), sql);
}

void
fixture_run_sql (const char *path,
                 const char *sql)
{
  sqlite3 *handle = open_raw (path);

  run_raw (handle, sql);
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);
}

/* All columns of all rows, each value quoted and with its type visible. FALSE when SQLite can't read them. */
static gboolean
append_rows (GString    *text,
             sqlite3    *handle,
             const char *sql)
{
  sqlite3_stmt *statement = NULL;
  int rc = sqlite3_prepare_v2 (handle, sql, -1, &statement, NULL);

  while (rc == SQLITE_OK || rc == SQLITE_ROW)
    {
      rc = sqlite3_step (statement);
      for (int i = 0; rc == SQLITE_ROW && i < sqlite3_column_count (statement); i++)
        {
          const char *value = (const char *) sqlite3_column_text (statement, i);

          g_string_append_len (text, value, sqlite3_column_bytes (statement, i));
          g_string_append_c (text, i + 1 < sqlite3_column_count (statement) ? '|' : '\n');
        }
    }
  sqlite3_finalize (statement);

  return rc == SQLITE_DONE;
}

char *
fixture_query_text (const char *path,
                    const char *sql)
{
  GString *text = g_string_new (NULL);
  sqlite3 *handle = open_raw (path);

  g_assert_true (append_rows (text, handle, sql));
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);
  if (text->len > 0)
    g_string_truncate (text, text->len - 1);
  return g_string_free (text, FALSE);
}

/* Not by g_file_set_contents_full(): without its copy, GLib 2.74 leaves the end of a longer file that was there. */
void
fixture_write (const char *path,
               const char *bytes,
               gsize       size)
{
  FILE *file = g_fopen (path, "wbe");

  g_assert_nonnull (file);
  g_assert_cmpuint (size == 0 ? 0 : fwrite (bytes, 1, size, file), ==, size);
  g_assert_cmpint (fclose (file), ==, 0);
}

char *
fixture_dump (const char *path)
{
  const char *const tables[] = {
    "SELECT sql FROM sqlite_schema ORDER BY name",
    "SELECT * FROM entry NOT INDEXED ORDER BY rowid",
    "SELECT * FROM head",
    "SELECT digest, hex (bytes) FROM kept NOT INDEXED ORDER BY rowid", /* the media type is a hint, not evidence */
  };
  g_autoptr (GString) text = g_string_new (NULL);
  sqlite3 *handle = open_raw (path);
  gboolean is_readable = TRUE;

  for (guint i = 0; i < G_N_ELEMENTS (tables) && is_readable; i++)
    is_readable = append_rows (text, handle, tables[i]);
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);

  return is_readable ? g_strdup (text->str) : NULL;
}

char *
fixture_dump_union (const char *path)
{
  static const char *const tables[] = {
    "SELECT * FROM entry NOT INDEXED ORDER BY job, number, id", "SELECT job, number, digest FROM head ORDER BY job, digest",
    "SELECT digest, hex (bytes) FROM kept ORDER BY digest",
  };
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (PawlRecord) record = pawl_record_open (path, PAWL_RECORD_OPEN_READ_ONLY, NULL, NULL);
  g_autoptr (GPtrArray) chains = pawl_record_list_chains (record, NULL);
  g_autoptr (GPtrArray) jobs = pawl_record_list_jobs (record, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autofree char *rows = fixture_query_text (path, tables[i]);

      g_string_append_printf (text, "%s\n", rows);
    }
  /* And what is made of it: what each job is called now, its order, and its head. */
  for (guint i = 0; i < jobs->len; i++)
    g_string_append_printf (text, "%s %s\n", ((PawlJobLine *) jobs->pdata[i])->id, ((PawlJobLine *) jobs->pdata[i])->work_order);
  for (guint i = 0; i < chains->len; i++)
    {
      g_autoptr (GPtrArray) entries = pawl_record_load_entries (record, chains->pdata[i], NULL);
      g_autofree char *head = pawl_record_dup_head (record, chains->pdata[i], NULL);

      g_string_append_printf (text, "%s %s:", (char *) chains->pdata[i], head);
      for (guint j = 0; j < entries->len; j++)
        g_string_append_printf (text, " %s", pawl_entry_get_id (entries->pdata[j]));
      g_string_append_c (text, '\n');
    }
  return g_strdup (text->str);
}

void
fixture_tamper (const char *path,
                const char *sql)
{
  g_autofree char *guards = fixture_query_text (path, "SELECT group_concat (sql, ';') FROM sqlite_schema WHERE type = 'trigger'");
  g_autofree char *drops = fixture_query_text (path, "SELECT group_concat ('DROP TRIGGER ' || name, ';') FROM sqlite_schema WHERE type = 'trigger'");
  sqlite3 *handle = open_raw (path);

  run_raw (handle, "BEGIN"); /* once for all: each by itself would write and read the whole make of the file */
  run_raw (handle, drops);
  run_raw (handle, sql);
  run_raw (handle, guards);
  run_raw (handle, "COMMIT");
  g_assert_cmpint (sqlite3_close (handle), ==, SQLITE_OK);
}

/* ---- permissions ---- */

static void
become_nobody (Fixture *self)
{
  if (geteuid () != 0)
    return;

  /* Root passes every permission; the test would prove nothing. */
  g_assert_cmpint (setresgid (NOBODY, NOBODY, NOBODY), ==, 0);
  g_assert_cmpint (setresuid (NOBODY, NOBODY, NOBODY), ==, 0);
}

static void
give_to_nobody (const char *path)
{
  g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);

      give_to_nobody (inside);
    }
  g_assert_cmpint (chown (path, NOBODY, NOBODY), ==, 0);
}

void
fixture_run_as_nobody (int (*run) (Fixture *self),
                       Fixture *self)
{
  pid_t child;
  int status;

  if (geteuid () == 0)
    give_to_nobody (self->folder);

  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      become_nobody (self);
      _exit (run (self));
    }

  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
}
