/* A record of every older version is brought up to date, each step in a transaction of its own, and nothing is lost. */
#include <string.h>

#include "record-fixture.h"
#include "record/pawl-schema.h"

/*
 * A file as version 1 made it, written down here once and for all: when the code makes later versions, this one must still open.
 * The two digests were computed outside Pawl with Python 3's hashlib from the serialisation as documented.
 */
static const char VERSION_1_FILE[] =
  "PRAGMA application_id = 0x5061776c; PRAGMA user_version = 1;"
  "CREATE TABLE entry (  id       TEXT NOT NULL PRIMARY KEY,  job      TEXT NOT NULL,  number   INTEGER NOT NULL CHECK (number > 0),"
  "  previous TEXT NOT NULL,  kind     TEXT NOT NULL,  subject  TEXT NOT NULL,  person   TEXT NOT NULL,  at       TEXT NOT NULL,"
  "  written  TEXT NOT NULL,  body     TEXT NOT NULL,  digest   TEXT NOT NULL) STRICT;"
  "CREATE UNIQUE INDEX entry_by_job ON entry (job, number);"
  "CREATE INDEX entry_opened ON entry (id) WHERE kind = 'opened';"
  "CREATE INDEX entry_serial ON entry (CASE WHEN json_valid (body) THEN json_extract (body, '$.serial') END COLLATE NOCASE) WHERE kind = 'opened';"
  "CREATE INDEX entry_work_order ON entry (CASE WHEN json_valid (body) THEN json_extract (body, '$.work-order') END COLLATE NOCASE) WHERE kind = 'opened';"
  "CREATE INDEX entry_signed ON entry (job) WHERE kind = 'signed';"
  "CREATE INDEX entry_undone ON entry (subject) WHERE kind = 'undone';"
  "CREATE TABLE head (  job    TEXT NOT NULL PRIMARY KEY,  number INTEGER NOT NULL,  digest TEXT NOT NULL) STRICT, WITHOUT ROWID;"
  "CREATE TABLE kept (  digest     TEXT NOT NULL PRIMARY KEY,  media_type TEXT NOT NULL,  bytes      BLOB NOT NULL) STRICT;"
  "CREATE TRIGGER entry_not_updated BEFORE UPDATE ON entry BEGIN SELECT RAISE (ABORT, 'an entry is never changed'); END;"
  "CREATE TRIGGER entry_not_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE (ABORT, 'an entry is never deleted'); END;"
  "CREATE TRIGGER entry_not_replaced BEFORE INSERT ON entry"
  "  WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id) OR EXISTS (SELECT 1 FROM entry WHERE job = NEW.job AND number = NEW.number)"
  "  BEGIN SELECT RAISE (ABORT, 'an entry is never replaced'); END;"
  "CREATE TRIGGER kept_not_updated BEFORE UPDATE ON kept BEGIN SELECT RAISE (ABORT, 'kept bytes are never changed'); END;"
  "CREATE TRIGGER kept_not_deleted BEFORE DELETE ON kept BEGIN SELECT RAISE (ABORT, 'kept bytes are never deleted'); END;"
  "CREATE TRIGGER kept_not_replaced BEFORE INSERT ON kept  WHEN EXISTS (SELECT 1 FROM kept WHERE digest = NEW.digest)"
  "  BEGIN SELECT RAISE (ABORT, 'kept bytes are never replaced'); END;"
  "CREATE TRIGGER head_only_forward BEFORE UPDATE ON head  WHEN NEW.job <> OLD.job OR NEW.number <= OLD.number"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job only moves forward'); END;"
  "CREATE TRIGGER head_not_deleted BEFORE DELETE ON head BEGIN SELECT RAISE (ABORT, 'the head of a job is never deleted'); END;"
  "CREATE TRIGGER head_not_replaced BEFORE INSERT ON head  WHEN EXISTS (SELECT 1 FROM head WHERE job = NEW.job)"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job is never replaced'); END;"
  "INSERT INTO entry VALUES ('b0000000-0000-4000-8000-000000000000', 'b0000000-0000-4000-8000-000000000000', 1, '', 'opened', '', 'Jory Tregenza',"
  "  '2026-05-04T09:15:00.000000+02:00', '2026-05-04T09:15:00.500000+02:00', '{\"serial\":\"SN-1907\",\"work-order\":\"W-0412\"}', '5ae65282ce9f62548c9d2ff12c33649f21192465bfb99177b426888abada1e80');"
  "INSERT INTO entry VALUES ('b0000001-0000-4000-8000-000000000000', 'b0000000-0000-4000-8000-000000000000', 2, '5ae65282ce9f62548c9d2ff12c33649f21192465bfb99177b426888abada1e80', 'answered', 'float-height', 'Jory Tregenza',"
  "  '2026-05-04T09:16:00.000000+02:00', '2026-05-04T09:16:00.500000+02:00', '{\"answer\":\"1 5/16 in\"}', '10fa7ddd50a8182d82d79ca63da460ca403141c97fb9c14c9c85c155636c4c1a');"
  "INSERT INTO head VALUES ('b0000000-0000-4000-8000-000000000000', 2, '10fa7ddd50a8182d82d79ca63da460ca403141c97fb9c14c9c85c155636c4c1a');";

static void
test_from_version_1 (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (PawlEntry) answer = fixture_make_answer (fixture, "float-drop", "2 in");
  g_autoptr (GPtrArray) findings = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job_id = NULL;

  fixture_run_sql (fixture->path, VERSION_1_FILE);
  record = fixture_open (fixture);
  findings = pawl_record_verify (record, NULL, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((PawlRecordFinding *) findings->pdata[i])->message);
  g_assert_cmpuint (findings->len, ==, 0);

  job_id = pawl_record_find_job (record, "W-0412", &error);
  g_assert_no_error (error);
  g_assert_true (pawl_record_append_one (record, job_id, answer, &error));
  g_assert_no_error (error);
  entries = pawl_record_load_entries (record, job_id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 3);
  g_assert_cmpstr (pawl_entry_get (entries->pdata[1], "answer"), ==, "1 5/16 in");
}

/* ---- the machinery, with steps made up for it ---- */

static const char *const STEPS[] = {
  "PRAGMA application_id = 0x5061776c; CREATE TABLE first (a)",
  "CREATE TABLE second (a); INSERT INTO second SELECT a FROM first",
  "ALTER TABLE second ADD COLUMN b; DROP TABLE first",
};

/* The second step fails half way: what it had done by then must be gone. */
static const char *const BROKEN_STEPS[] = {
  "PRAGMA application_id = 0x5061776c; CREATE TABLE first (a)",
  "CREATE TABLE second (a); INSERT INTO nowhere VALUES (1)",
};

static gboolean
migrate (Fixture           *fixture,
         const char *const *steps,
         guint              n_steps,
         GError           **error)
{
  PawlDatabase database = { .path = g_strdup (fixture->path) };
  gboolean is_done;

  g_assert_cmpint (sqlite3_open (fixture->path, &database.handle), ==, SQLITE_OK);
  is_done = pawl_schema_migrate (&database, steps, n_steps, error);
  pawl_database_clear (&database);
  return is_done;
}

static char *
query_state (Fixture *fixture)
{
  return fixture_query_text (fixture->path, "SELECT user_version, (SELECT group_concat (name) FROM (SELECT name FROM sqlite_schema ORDER BY name)) FROM pragma_user_version");
}

static void
test_step_by_step (Fixture      *fixture,
                   gconstpointer data)
{
  static const char *const states[] = { "1|first", "2|first,second", "3|second" };
  g_autoptr (GError) error = NULL;
  g_autofree char *row = NULL;

  for (guint n = 1; n <= G_N_ELEMENTS (STEPS); n++)
    {
      g_autofree char *state = NULL;

      g_assert_true (migrate (fixture, STEPS, n, &error));
      g_assert_no_error (error);
      g_assert_true (migrate (fixture, STEPS, n, &error)); /* again: nothing left to do */
      g_assert_no_error (error);
      state = query_state (fixture);
      g_assert_cmpstr (state, ==, states[n - 1]);
      if (n == 1)
        fixture_run_sql (fixture->path, "INSERT INTO first VALUES ('kept through')");
    }

  row = fixture_query_text (fixture->path, "SELECT a FROM second");
  g_assert_cmpstr (row, ==, "kept through");
}

static void
test_all_at_once (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *state = NULL;

  g_assert_true (migrate (fixture, STEPS, G_N_ELEMENTS (STEPS), &error));
  g_assert_no_error (error);
  state = query_state (fixture);
  g_assert_cmpstr (state, ==, "3|second");
}

static void
test_step_fails (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *state = NULL;

  g_assert_false (migrate (fixture, BROKEN_STEPS, G_N_ELEMENTS (BROKEN_STEPS), &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO);
  state = query_state (fixture);
  g_assert_cmpstr (state, ==, "1|first");
}

static void
test_newer_is_refused (Fixture      *fixture,
                       gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *state = NULL;

  g_assert_true (migrate (fixture, STEPS, 3, &error));
  g_assert_no_error (error);
  g_assert_false (migrate (fixture, STEPS, 2, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NEWER);
  state = query_state (fixture);
  g_assert_cmpstr (state, ==, "3|second");
}

/* Another process makes the record between one look at the file and the next. */
static int
make_meanwhile_cb (unsigned int kind,
                   void        *data,
                   void        *statement,
                   void        *sql)
{
  Fixture *fixture = data;

  if (g_str_equal (sql, "PRAGMA user_version"))
    {
      /* It may find that it has to wait. */
      g_autoptr (GError) error = NULL;
      gboolean is_made = migrate (fixture, STEPS, 1, &error);

      g_test_message ("%s", is_made ? "made" : error->message);
    }
  return 0;
}

static void
test_made_meanwhile (Fixture      *fixture,
                     gconstpointer data)
{
  PawlDatabase database = { .path = g_strdup (fixture->path) };
  g_autoptr (GError) error = NULL;
  guint version = 99;

  g_assert_cmpint (sqlite3_open (fixture->path, &database.handle), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_trace_v2 (database.handle, SQLITE_TRACE_STMT, make_meanwhile_cb, fixture), ==, SQLITE_OK);
  g_assert_true (pawl_schema_identify (&database, 1, &version, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (version, <=, 1);
  pawl_database_clear (&database);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/migrations/from-version-1", test_from_version_1);
  ADD ("/migrations/step-by-step", test_step_by_step);
  ADD ("/migrations/all-at-once", test_all_at_once);
  ADD ("/migrations/step-fails", test_step_fails);
  ADD ("/migrations/made-meanwhile", test_made_meanwhile);
  ADD ("/migrations/newer-is-refused", test_newer_is_refused);

  return g_test_run ();
}
