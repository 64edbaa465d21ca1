/* What is searched follows from the entries: kept with each of them, made from an older record, made anew, and never wrong unnoticed. */
#include "many-jobs.h"
#include "record-fixture.h"
#include "record/pawl-index.h"
#include "record/pawl-record-private.h"
#include "record/pawl-schema.h"
#include "recall/pawl-find.h"

#define N_JOBS 30

/* All of it but the numbers, which only say in which order it came into this file. */
static char *
dump_index (const char *path)
{
  return fixture_query_text (path,
    "SELECT 'opening', job, opened, procedure, revision, title, unit, serial, work_order, customer FROM opening UNION ALL"
    " SELECT 'said', job, entry, place, text, 0, 0, 0, 0, 0 FROM said UNION ALL"
    " SELECT 'touched', what, name, day, job, n, 0, 0, 0, 0 FROM touched ORDER BY 1, 2, 3, 4, 5");
}

static void
check_words (const char *path)
{
  /* FTS5's own check, that its words are those of the texts: https://www.sqlite.org/fts5.html, 6.5. */
  fixture_run_sql (path, "INSERT INTO said_words (said_words, rank) VALUES ('integrity-check', 1)");
}

static guint
count_index_findings (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open_to_read (fixture);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);
  guint n = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    {
      g_test_message ("%s", ((PawlRecordFinding *) findings->pdata[i])->message);
      n += strstr (((PawlRecordFinding *) findings->pdata[i])->message, "what is searched") != NULL;
    }
  return n;
}

static void
test_kept (Fixture      *fixture,
           gconstpointer data)
{
  g_autofree char *jobs = NULL;
  g_autoptr (PawlRecord) record = NULL;

  many_jobs_make (fixture->path, N_JOBS, 4);
  record = fixture_open_to_read (fixture);
  fixture_check_sound (record);
  check_words (fixture->path);
  jobs = fixture_query_text (fixture->path, "SELECT count (*) FROM opening");
  g_assert_cmpstr (jobs, ==, "30");
}

/* A record of version 3 is what is left when the index, the people of version 5, the indexes of 6 and 7, the copies of 8 and the indexes of 9 to 11 are taken away. */
static void
make_version_3 (Fixture *fixture)
{
  many_jobs_make (fixture->path, N_JOBS, 4);
  fixture_run_sql (fixture->path, "DROP TRIGGER entry_is_indexed; DROP TABLE said_words; DROP TABLE said; DROP TABLE touched; DROP TABLE opening;"
                                  "DROP TABLE pin; DROP TABLE person; DROP INDEX entry_guessed; DROP INDEX entry_lacked; DROP INDEX entry_person; DROP INDEX entry_identified;"
                                  "DROP INDEX entry_corrected; DROP INDEX entry_corrected_serial; DROP INDEX entry_corrected_work_order;"
                                  "DROP TRIGGER entry_waits; DROP TABLE copy_of; DROP TABLE waiting; DROP TABLE refused; PRAGMA user_version = 3");
}

static void
test_migrated (Fixture      *fixture,
               gconstpointer data)
{
  g_autofree char *kept = NULL;
  g_autofree char *migrated = NULL;
  g_autoptr (PawlRecord) record = NULL;

  many_jobs_make (fixture->path, N_JOBS, 4);
  kept = dump_index (fixture->path);
  fixture_tear_down (fixture, NULL);
  fixture_set_up (fixture, NULL);

  make_version_3 (fixture);
  record = fixture_open (fixture);
  migrated = dump_index (fixture->path);
  g_assert_cmpstr (migrated, ==, kept);
  fixture_check_sound (record);
  check_words (fixture->path);
}

/* To read, a record of version 3 is refused with a sentence, as any older one is. */
static void
test_older_to_read (Fixture      *fixture,
                    gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  make_version_3 (fixture);
  g_assert_null (pawl_record_open (fixture->path, PAWL_RECORD_OPEN_READ_ONLY, &fixture->host, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_OLDER);
}

static const char *const WRONGS[] = {
  "DELETE FROM opening WHERE serial = 'SN-00012'",
  "UPDATE opening SET customer = 'Nobody' WHERE serial = 'SN-00012'",
  "DELETE FROM said WHERE text = 'SN-00012'",
  "UPDATE said SET text = 'SN-4' WHERE text = 'SN-00012'",
  "INSERT INTO said (job, entry, place, text) VALUES ('x', 'y', 'note', 'never said')",
  "DELETE FROM touched WHERE name = 'M-03'",
  "UPDATE touched SET n = n + 1 WHERE name = 'L-0000'",
  "UPDATE touched SET day = '2020-01-01' WHERE name = 'M-07'",
};

static void
test_wrong (Fixture      *fixture,
            gconstpointer data)
{
  g_autofree char *before = NULL;

  many_jobs_make (fixture->path, N_JOBS, 4);
  before = dump_index (fixture->path);
  for (guint i = 0; i < G_N_ELEMENTS (WRONGS); i++)
    {
      g_autofree char *after = NULL;
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (GError) error = NULL;

      fixture_run_sql (fixture->path, WRONGS[i]);
      g_assert_cmpuint (count_index_findings (fixture), ==, 1);

      record = fixture_open (fixture);
      g_assert_true (pawl_record_rebuild_index (record, &error));
      g_assert_no_error (error);
      fixture_check_sound (record);
      check_words (fixture->path);
      after = dump_index (fixture->path);
      g_assert_cmpstr (after, ==, before);
    }
}

/* Whatever became of the full-text index: it is said, an entry can still be appended and mends it, and so does making it anew. */
static const struct {
  const char *sql;
  gboolean    is_mended; /* by an append: otherwise it notices nothing */
} DAMAGES[] = {
  { "UPDATE said_words_data SET block = x'00'", TRUE },
  { "DELETE FROM said_words_data", TRUE },
  { "UPDATE said_words_data SET block = zeroblob (length (block)) WHERE id > 10", FALSE },
  { "DELETE FROM said_words_config", TRUE },
  { "DROP TABLE said_words_data", TRUE },
  { "DROP TABLE said_words_idx", TRUE },
  { "DROP TABLE touched", TRUE },
  { "DROP TABLE said", TRUE },
};

static guint
count_findings (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open_to_read (fixture);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((PawlRecordFinding *) findings->pdata[i])->message);
  return findings->len;
}

static void
check_found (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open_to_read (fixture);
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlFound) found = pawl_find (record, "SN-00007", 10, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (found->n_jobs, ==, 1);
}

static void
append_note (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (PawlEntry) note = pawl_entry_new (PAWL_ENTRY_NOTED, "", FIXTURE_PERSON, fixture->now);
  g_autoptr (GError) error = NULL;
  g_autofree char *job = pawl_record_find_job (record, "SN-00003", &error);

  g_assert_no_error (error);
  pawl_entry_set (note, "text", "Written while the index was damaged");
  g_assert_true (pawl_record_append_one (record, job, note, &error));
  g_assert_no_error (error);
}

static void
rebuild (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_record_rebuild_index (record, &error));
  g_assert_no_error (error);
}

static void
test_damaged_words (Fixture      *fixture,
                    gconstpointer data)
{
  g_autofree char *sound = NULL;
  gsize size;

  many_jobs_make (fixture->path, 10, 1);
  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (DAMAGES); i++)
    {
      g_test_message ("%s", DAMAGES[i].sql);
      fixture_write (fixture->path, sound, size);
      fixture_run_sql (fixture->path, DAMAGES[i].sql);
      g_assert_cmpuint (count_findings (fixture), >, 0);
      append_note (fixture);
      if (DAMAGES[i].is_mended)
        {
          g_assert_cmpuint (count_findings (fixture), ==, 0);
          check_found (fixture);
        }

      fixture_write (fixture->path, sound, size);
      fixture_run_sql (fixture->path, DAMAGES[i].sql);
      rebuild (fixture);
      g_assert_cmpuint (count_findings (fixture), ==, 0);
      check_found (fixture);
      check_words (fixture->path);
    }
}

/* A search that can't be read says what to do, and not that the record is lost. */
static void
test_damaged_search (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GError) error = NULL;

  many_jobs_make (fixture->path, 10, 1);
  fixture_run_sql (fixture->path, "DELETE FROM said_words_data");
  record = fixture_open_to_read (fixture);
  g_assert_null (pawl_find (record, "SN-00007", 10, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  fixture_check_sentence (error, fixture->path);
  g_assert_nonnull (strstr (error->message, "--reindex"));
}

/* An entry that comes in without the record's append, as from another record, is found like the others. */
static void
test_inserted_otherwise (Fixture      *fixture,
                         gconstpointer data)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (PawlFound) found = NULL;
  g_autoptr (GError) error = NULL;

  many_jobs_make (fixture->path, N_JOBS, 4);
  fixture_run_sql (fixture->path,
    "INSERT INTO entry SELECT 'f0000000-0000-4000-8000-000000000000', job, 900, 'd', 'noted', 'look', 'Jory Tregenza', at, written,"
    " '{\"text\":\"Hairline under the boss\"}', 'e' FROM entry WHERE kind = 'opened' LIMIT 1");
  record = fixture_open_to_read (fixture);
  found = pawl_find (record, "hairline", 10, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (found->n_jobs, ==, 1);
}

/* Bodies that nobody should have written neither stop an insert nor a search. */
static void
test_damaged_bodies (Fixture      *fixture,
                     gconstpointer data)
{
  static const char *const bodies[] = { "{", "", "null", "[1,2]", "7", "{\"text\":7}", "{\"text\":{\"a\":1}}", "{\"text\":null}", "\"text\"" };
  gint64 n_missing, n_false;

  many_jobs_make (fixture->path, 1, 1);
  for (guint i = 0; i < G_N_ELEMENTS (bodies); i++)
    {
      g_autofree char *sql = g_strdup_printf (
        "INSERT INTO entry SELECT 'f%u', job, %u, 'd', 'noted', 'look', '', at, written, '%s', 'e' FROM entry WHERE kind = 'opened' LIMIT 1;"
        "INSERT INTO entry SELECT 'e%u', 'e%u', 1, 'd', 'opened', '', '', at, written, '%s', 'e' FROM entry WHERE kind = 'opened' LIMIT 1",
        i, 900 + i, bodies[i], i, i, bodies[i]);

      fixture_run_sql (fixture->path, sql);
    }
  {
    g_autoptr (PawlRecord) record = fixture_open_to_read (fixture);
    g_autoptr (GError) error = NULL;

    g_assert_true (pawl_index_compare (&record->database, &n_missing, &n_false, &error));
    g_assert_no_error (error);
    g_assert_cmpint (n_missing, ==, 0);
    g_assert_cmpint (n_false, ==, 0);
  }
}

/* An append that fails half way leaves nothing to be found. */
static void
test_all_or_none (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (PawlEntry) opened = fixture_make_opened (fixture, "SN-1", "W-1");
  g_autoptr (GError) error = NULL;
  g_autofree char *n_said = NULL;

  fixture_run_sql (fixture->path, "CREATE TRIGGER breaks BEFORE INSERT ON head BEGIN SELECT RAISE (ABORT, 'broken for the test'); END");
  g_assert_null (pawl_record_open_job (record, opened, &error));
  g_assert_nonnull (error);
  n_said = fixture_query_text (fixture->path, "SELECT (SELECT count (*) FROM said) + (SELECT count (*) FROM touched) + (SELECT count (*) FROM opening)");
  g_assert_cmpstr (n_said, ==, "0");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/index/kept", test_kept);
  ADD ("/index/migrated", test_migrated);
  ADD ("/index/older-to-read", test_older_to_read);
  ADD ("/index/wrong", test_wrong);
  ADD ("/index/damaged-words", test_damaged_words);
  ADD ("/index/damaged-search", test_damaged_search);
  ADD ("/index/inserted-otherwise", test_inserted_otherwise);
  ADD ("/index/damaged-bodies", test_damaged_bodies);
  ADD ("/index/all-or-none", test_all_or_none);

  return g_test_run ();
}
