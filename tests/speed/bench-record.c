/*
 * The record: how many entries a second reach stable storage, beside rows of the same texts into a plain SQLite table with the same journal and
 * the same sync, in one run. They take turns, so that what else the disk does falls on all of them alike. Prints a table; asserts nothing of time, but
 * that the record is sound at the end.
 * Usage: bench-record [--quick | FOLDER]    FOLDER: on the disk that is meant; without it, the one for temporary files
 */
#include <glib/gstdio.h>
#include <sqlite3.h>

#include "record/pawl-record.h"

#define N_TURNS 300
#define N_TOGETHER 10

typedef struct {
  char         *folder, *plain_path, *record_path;
  sqlite3      *plain;
  sqlite3_stmt *insert;
  PawlRecord   *record;
  char         *job;
  GDateTime    *now;
} Bench;

/* ---- plain ---- */

static void
run (sqlite3 *handle, const char *sql)
{
  if (sqlite3_exec (handle, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sqlite3_errmsg (handle), sql);
}

/* The columns of an entry, its key and the index that a job is read by; no triggers, no digest. */
static void
open_plain (Bench *self)
{
  g_assert_cmpint (sqlite3_open (self->plain_path, &self->plain), ==, SQLITE_OK);
  run (self->plain, "PRAGMA journal_mode = DELETE; PRAGMA synchronous = EXTRA;"
                    "CREATE TABLE entry (id TEXT NOT NULL PRIMARY KEY, job TEXT, number INTEGER, previous TEXT, kind TEXT, subject TEXT, person TEXT,"
                    " at TEXT, written TEXT, body TEXT, digest TEXT); CREATE INDEX entry_by_job ON entry (job, number)");
  g_assert_cmpint (sqlite3_prepare_v2 (self->plain, "INSERT INTO entry VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)", -1, &self->insert, NULL), ==, SQLITE_OK);
}

static void
insert_plainly (Bench *self, guint n)
{
  static const char hex[] = "97c8c427325787116acd3caf0f18f45db219eb4aca22391bd2bfe650814577b4";
  const PawlRecordHost *host = pawl_record_host_get_system ();

  run (self->plain, "BEGIN IMMEDIATE");
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *id = host->new_id (host->data);
      const char *const texts[] = {
        id, self->job, "1", hex, "answered", "float-height", "Jory Tregenza", "2026-05-04T09:15:00.000000+02:00", "2026-05-04T09:15:00.000000+02:00",
        "{\"answer\":\"33.34 mm\",\"instrument\":\"depth-gauge\",\"tool-serial\":\"M-03\"}", hex,
      };

      for (guint j = 0; j < G_N_ELEMENTS (texts); j++)
        sqlite3_bind_text (self->insert, (int) j + 1, texts[j], -1, SQLITE_TRANSIENT);
      g_assert_cmpint (sqlite3_step (self->insert), ==, SQLITE_DONE);
      sqlite3_reset (self->insert);
    }
  run (self->plain, "COMMIT");
}

/* ---- the record ---- */

static void
open_record (Bench *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlEntry) opened = NULL;

  self->record = pawl_record_open (self->record_path, PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_assert_no_error (error);
  self->now = pawl_record_dup_now (self->record);
  opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Jory Tregenza", self->now);
  self->job = pawl_record_open_job (self->record, opened, &error);
  g_assert_no_error (error);
}

static void
append (Bench *self, guint n)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < n; i++)
    {
      PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_ANSWERED, "float-height", "Jory Tregenza", self->now);

      pawl_entry_set (entry, "answer", "33.34 mm");
      pawl_entry_set (entry, "instrument", "depth-gauge");
      pawl_entry_set (entry, "tool-serial", "M-03");
      g_ptr_array_add (entries, entry);
    }
  pawl_record_append (self->record, self->job, entries, &error);
  g_assert_no_error (error);
}

static void
append_note (Bench *self, guint n)
{
  g_autoptr (PawlEntry) note = pawl_entry_new (PAWL_ENTRY_NOTED, "", "Jory Tregenza", self->now);
  g_autoptr (GError) error = NULL;

  pawl_entry_set (note, "text", "Two punch marks on the flange, toward the inlet");
  pawl_record_append_one (self->record, self->job, note, &error);
  g_assert_no_error (error);
}

/* ---- the table ---- */

static const struct {
  const char *what;
  void      (*work) (Bench *self, guint n);
  guint       n; /* in one transaction */
} cases[] = {
  { "a row into a plain table", insert_plainly, 1 },
  { "a reading into the record", append, 1 },
  { "a note into the record, searched", append_note, 1 },
  { "10 rows into a plain table", insert_plainly, N_TOGETHER },
  { "10 readings into the record", append, N_TOGETHER },
};

static void
measure (Bench *self, guint n_turns)
{
  gint64 spent[G_N_ELEMENTS (cases)] = { 0 };

  for (guint turn = 0; turn < n_turns; turn++)
    for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
      {
        gint64 begun = g_get_monotonic_time ();

        cases[i].work (self, cases[i].n);
        spent[i] += g_get_monotonic_time () - begun;
      }

  g_print ("%-36s  %9s  %12s  %9s\n", "each on stable storage", "ms", "a second", "to plain");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double seconds = (double) spent[i] / 1e6 / n_turns;
      double plain = (double) spent[cases[i].n == 1 ? 0 : 3] / 1e6 / n_turns;

      g_print ("%-36s  %9.2f  %12.0f  %9.2f\n", cases[i].what, seconds * 1e3, cases[i].n / seconds, seconds / plain);
    }
}

static void
check_sound (Bench *self)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (self->record, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
}

int
main (int argc, char **argv)
{
  gboolean is_quick = argc > 1 && g_str_equal (argv[1], "--quick");
  g_autoptr (GError) error = NULL;
  Bench bench = { 0 };

  bench.folder = argc > 1 && !is_quick ? g_build_filename (argv[1], "pawl-bench-record-XXXXXX", NULL) : NULL;
  if (bench.folder != NULL ? g_mkdtemp (bench.folder) == NULL : (bench.folder = g_dir_make_tmp ("pawl-bench-record-XXXXXX", &error)) == NULL)
    {
      g_printerr ("bench-record: no folder can be made%s%s\n", argc > 1 ? " in " : "", argc > 1 ? argv[1] : "");
      return 2;
    }
  bench.plain_path = g_build_filename (bench.folder, "plain.db", NULL);
  bench.record_path = g_build_filename (bench.folder, "record.db", NULL);
  open_record (&bench);
  open_plain (&bench);
  measure (&bench, is_quick ? 3 : N_TURNS);
  check_sound (&bench);

  sqlite3_finalize (bench.insert);
  sqlite3_close (bench.plain);
  g_object_unref (bench.record);
  g_date_time_unref (bench.now);
  g_remove (bench.plain_path);
  g_remove (bench.record_path);
  g_rmdir (bench.folder);
  g_free (bench.job);
  g_free (bench.plain_path);
  g_free (bench.record_path);
  g_free (bench.folder);
  return 0;
}
