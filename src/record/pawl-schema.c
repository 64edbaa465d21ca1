/*
 * A record is readable with the sqlite3 command alone: plain words, one row per entry, the body as JSON. A few rules keep it so:
 *
 * - A version that has shipped is never edited. What changes becomes one more migration at the end of the list.
 * - Entries and kept bytes are never updated or deleted. Triggers refuse it whoever asks, also INSERT OR REPLACE, which would
 *   otherwise delete without firing a delete trigger.
 * - `head` says how far each job has come. It is what shows that the newest entries of a job are missing, which the chain
 *   alone cannot; it only ever moves forward.
 * - `previous` is the digest of the entry before in the same job, so records that went on separately can be told apart when
 *   they are merged: see pawl-chain.h for what it says in a job that was.
 */
#include "record/pawl-schema.h"

#include "record/pawl-index.h"
#include "record/pawl-record.h"

static const char VERSION_1[] =
  "PRAGMA application_id = 1348564844;" /* PAWL_SCHEMA_APPLICATION_ID */

  "CREATE TABLE entry ("
  "  id       TEXT NOT NULL PRIMARY KEY," /* unique across machines; the job's id when kind is 'opened' */
  "  job      TEXT NOT NULL,"
  "  number   INTEGER NOT NULL CHECK (number > 0)," /* place in the job, from 1 */
  "  previous TEXT NOT NULL,"                       /* digest of the entry before in the job, '' for the first */
  "  kind     TEXT NOT NULL,"
  "  subject  TEXT NOT NULL,"
  "  person   TEXT NOT NULL,"
  "  at       TEXT NOT NULL," /* when it happened, ISO 8601 with offset */
  "  written  TEXT NOT NULL," /* when it reached the record */
  "  body     TEXT NOT NULL," /* the fields as a JSON object of texts, sorted by name */
  "  digest   TEXT NOT NULL"  /* see pawl_entry_row_dup_digest */
  ") STRICT;"
  "CREATE UNIQUE INDEX entry_by_job ON entry (job, number);"
  "CREATE INDEX entry_opened ON entry (id) WHERE kind = 'opened';"
  "CREATE INDEX entry_serial ON entry (" PAWL_SQL_SERIAL " COLLATE NOCASE) WHERE kind = 'opened';"
  "CREATE INDEX entry_work_order ON entry (" PAWL_SQL_WORK_ORDER " COLLATE NOCASE) WHERE kind = 'opened';"
  "CREATE INDEX entry_signed ON entry (job) WHERE kind = 'signed';"
  "CREATE INDEX entry_undone ON entry (subject) WHERE kind = 'undone';"

  "CREATE TABLE head ("
  "  job    TEXT NOT NULL PRIMARY KEY,"
  "  number INTEGER NOT NULL,"
  "  digest TEXT NOT NULL"
  ") STRICT, WITHOUT ROWID;"

  "CREATE TABLE kept ("
  "  digest     TEXT NOT NULL PRIMARY KEY," /* SHA-256 of the bytes, hex */
  "  media_type TEXT NOT NULL,"
  "  bytes      BLOB NOT NULL"
  ") STRICT;"

  "CREATE TRIGGER entry_not_updated BEFORE UPDATE ON entry BEGIN SELECT RAISE (ABORT, 'an entry is never changed'); END;"
  "CREATE TRIGGER entry_not_deleted BEFORE DELETE ON entry BEGIN SELECT RAISE (ABORT, 'an entry is never deleted'); END;"
  "CREATE TRIGGER entry_not_replaced BEFORE INSERT ON entry"
  "  WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id) OR EXISTS (SELECT 1 FROM entry WHERE job = NEW.job AND number = NEW.number)"
  "  BEGIN SELECT RAISE (ABORT, 'an entry is never replaced'); END;"
  "CREATE TRIGGER kept_not_updated BEFORE UPDATE ON kept BEGIN SELECT RAISE (ABORT, 'kept bytes are never changed'); END;"
  "CREATE TRIGGER kept_not_deleted BEFORE DELETE ON kept BEGIN SELECT RAISE (ABORT, 'kept bytes are never deleted'); END;"
  "CREATE TRIGGER kept_not_replaced BEFORE INSERT ON kept"
  "  WHEN EXISTS (SELECT 1 FROM kept WHERE digest = NEW.digest)"
  "  BEGIN SELECT RAISE (ABORT, 'kept bytes are never replaced'); END;"
  "CREATE TRIGGER head_only_forward BEFORE UPDATE ON head"
  "  WHEN NEW.job <> OLD.job OR NEW.number <= OLD.number"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job only moves forward'); END;"
  "CREATE TRIGGER head_not_deleted BEFORE DELETE ON head BEGIN SELECT RAISE (ABORT, 'the head of a job is never deleted'); END;"
  "CREATE TRIGGER head_not_replaced BEFORE INSERT ON head"
  "  WHEN EXISTS (SELECT 1 FROM head WHERE job = NEW.job)"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job is never replaced'); END;";

/* The register of instruments: chains like those of jobs, found by how they begin. The kinds are new, so an older Pawl must not read it. */
static const char VERSION_2[] =
  "CREATE INDEX entry_instrument ON entry (job) WHERE kind = 'instrument-stated';";

/*
 * Merging: a chain may fork, so a number is no longer there once only, and a job has a head for each end of it. A head still only moves
 * forward: it goes when an entry follows it, and names an entry that is there.
 */
static const char VERSION_3[] =
  "DROP TRIGGER entry_not_replaced;"
  "DROP TRIGGER head_only_forward;"
  "DROP TRIGGER head_not_deleted;"
  "DROP TRIGGER head_not_replaced;"
  "DROP INDEX entry_by_job;"
  "CREATE INDEX entry_by_job ON entry (job, number);"
  "ALTER TABLE head RENAME TO head_before;"
  "CREATE TABLE head (" /* the key's columns first: SQLite 3.40 finds NULLs where there are none otherwise (PRAGMA integrity_check) */
  "  job    TEXT NOT NULL,"
  "  digest TEXT NOT NULL,"
  "  number INTEGER NOT NULL,"
  "  PRIMARY KEY (job, digest)"
  ") STRICT, WITHOUT ROWID;"
  "INSERT INTO head (job, digest, number) SELECT job, digest, number FROM head_before;"
  "DROP TABLE head_before;"
  "CREATE TRIGGER entry_not_replaced BEFORE INSERT ON entry"
  "  WHEN EXISTS (SELECT 1 FROM entry WHERE id = NEW.id)"
  "    OR EXISTS (SELECT 1 FROM entry WHERE job = NEW.job AND number = NEW.number AND digest = NEW.digest)"
  "  BEGIN SELECT RAISE (ABORT, 'an entry is never replaced'); END;"
  "CREATE TRIGGER head_not_updated BEFORE UPDATE ON head"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job only moves forward'); END;"
  "CREATE TRIGGER head_only_forward BEFORE DELETE ON head"
  "  WHEN NOT EXISTS (SELECT 1 FROM entry WHERE job = OLD.job AND number > OLD.number AND instr (previous, OLD.digest) > 0)"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job only moves forward'); END;"
  "CREATE TRIGGER head_not_invented BEFORE INSERT ON head"
  "  WHEN EXISTS (SELECT 1 FROM head WHERE job = NEW.job AND digest = NEW.digest)"
  "    OR NOT EXISTS (SELECT 1 FROM entry WHERE job = NEW.job AND number = NEW.number AND digest = NEW.digest)"
  "  BEGIN SELECT RAISE (ABORT, 'the head of a job is one of its entries, once'); END;";

/* What is searched. It says nothing that the entries don't, so it is no evidence, and is made anew when it is lost. */
static const char VERSION_4[] = PAWL_SQL_MAKE_INDEX;

/* Who works here, and what they sign with. Of this file alone: not part of any chain, and in no bundle. */
static const char VERSION_5[] =
  "CREATE TABLE person ("
  "  key        TEXT NOT NULL PRIMARY KEY," /* the name in small letters */
  "  name       TEXT NOT NULL,"
  "  role       TEXT NOT NULL,"
  "  is_retired INTEGER NOT NULL"
  ") STRICT;"
  "CREATE TABLE pin ("
  "  person   TEXT NOT NULL PRIMARY KEY REFERENCES person (key),"
  "  hash     TEXT NOT NULL,"    /* yescrypt */
  "  n_wrong  INTEGER NOT NULL," /* tries since the last right one */
  "  tried_at INTEGER NOT NULL"  /* microseconds of the UNIX epoch */
  ") STRICT;";

/* What was guessed before it was shown. The kind is new, so an older Pawl must not read it. */
static const char VERSION_6[] =
  "CREATE INDEX entry_guessed ON entry (job) WHERE kind = 'guessed';";

/* What is not there, and when it came. The kinds are new, so an older Pawl must not read them. */
static const char VERSION_7[] =
  "CREATE INDEX entry_lacked ON entry (job) WHERE kind = 'lacked';";

/*
 * A record may be a bench's copy of a shared set: see pawl-copy.h. What waits to be sent is noted by the insert itself, however the entry
 * came in. None of this is evidence, and in a record that is no copy all three tables are empty.
 */
static const char VERSION_8[] =
  "CREATE TABLE copy_of (" /* one row at most */
  "  address TEXT NOT NULL,"    /* as it is shown: never a password */
  "  set_id  TEXT NOT NULL,"    /* what the set calls itself; '' until it was reached */
  "  place   INTEGER NOT NULL," /* all that the set has up to there is here, … */
  "  mark    TEXT NOT NULL,"    /* … where this entry stands; '' before the first */
  "  away    INTEGER NOT NULL"  /* since when the set can't be reached, microseconds of the UNIX epoch; 0 when it was */
  ") STRICT;"
  "CREATE TABLE waiting (turn INTEGER PRIMARY KEY, entry TEXT NOT NULL UNIQUE) STRICT;"
  "CREATE TABLE refused (job TEXT NOT NULL PRIMARY KEY, reason TEXT NOT NULL) STRICT, WITHOUT ROWID;"
  "CREATE TRIGGER entry_waits AFTER INSERT ON entry WHEN EXISTS (SELECT 1 FROM copy_of)"
  "  BEGIN INSERT INTO waiting (entry) VALUES (NEW.id); END;";

/* People who learn: a chain each, found by how they begin. With them came the kinds of a trainer's entries in jobs. */
static const char VERSION_9[] =
  "CREATE INDEX entry_person ON entry (job) WHERE kind = 'person-stated';";

/* Another variant than was taken: the kind changes what a job asks, so an older Pawl must not read it. */
static const char VERSION_10[] =
  "CREATE INDEX entry_identified ON entry (job) WHERE kind = 'identified';";

/* What a unit was taken in with, corrected. A job is found by what it is known by now and by what it was: paper with the old serial number is out there. */
static const char VERSION_11[] =
  "CREATE INDEX entry_corrected ON entry (job) WHERE kind = 'corrected';"
  "CREATE INDEX entry_corrected_serial ON entry (" PAWL_SQL_SERIAL " COLLATE NOCASE) WHERE kind = 'corrected';"
  "CREATE INDEX entry_corrected_work_order ON entry (" PAWL_SQL_WORK_ORDER " COLLATE NOCASE) WHERE kind = 'corrected';";

const char *const pawl_schema_migrations[] = {
  VERSION_1, VERSION_2, VERSION_3, VERSION_4, VERSION_5, VERSION_6, VERSION_7, VERSION_8, VERSION_9, VERSION_10, VERSION_11,
};
const guint pawl_schema_n_migrations = G_N_ELEMENTS (pawl_schema_migrations);

static const char COUNT_OBJECTS[] = "SELECT count(*) FROM sqlite_schema";
static const char GET_APPLICATION_ID[] = "PRAGMA application_id";
static const char GET_VERSION[] = "PRAGMA user_version";
/* Statistics and the like, which SQLite keeps for itself, are nobody's business. */
static const char LIST_OBJECTS[] =
  "SELECT type || ' ' || name || ' of ' || tbl_name || ': ' || sql FROM sqlite_schema"
  " WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' ORDER BY 1";

static gboolean
identify_in_transaction (const PawlDatabase *database,
                         guint               n_migrations,
                         guint              *version,
                         GError            **error)
{
  gint64 application_id, user_version, n_objects;

  if (!pawl_database_query_int (database, GET_APPLICATION_ID, &application_id, error)
      || !pawl_database_query_int (database, GET_VERSION, &user_version, error)
      || !pawl_database_query_int (database, COUNT_OBJECTS, &n_objects, error))
    return FALSE;

  if (application_id == 0 && user_version == 0 && n_objects == 0)
    {
      *version = 0;
      return TRUE;
    }

  if (application_id != PAWL_SCHEMA_APPLICATION_ID || user_version < 1)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NOT_A_RECORD,
                   "%s: not a record: it is the SQLite file of another program", database->path);
      return FALSE;
    }

  if (user_version > n_migrations)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NEWER,
                   "%s: the record is of version %" G_GINT64_FORMAT ", made by a later Pawl; this one reads up to version %u",
                   database->path, user_version, n_migrations);
      return FALSE;
    }

  *version = (guint) user_version;
  return TRUE;
}

/* In one view of the file: what another process is making meanwhile must not be half seen, and taken for some other program's. */
gboolean
pawl_schema_identify (const PawlDatabase *database,
                      guint               n_migrations,
                      guint              *version,
                      GError            **error)
{
  g_autoptr (PawlTransaction) transaction = pawl_transaction_begin (database, PAWL_TRANSACTION_READ, error);

  return transaction != NULL && identify_in_transaction (database, n_migrations, version, error);
}

/* The version is read again inside the transaction: another process may have been quicker. */
static gboolean
migrate_once (const PawlDatabase *database,
              const char *const  *migrations,
              guint               n_migrations,
              guint              *version,
              GError            **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autofree char *set_version = NULL;

  if (!(transaction = pawl_transaction_begin (database, PAWL_TRANSACTION_WRITE, error))
      || !identify_in_transaction (database, n_migrations, version, error))
    return FALSE;
  if (*version == n_migrations)
    return TRUE;

  set_version = g_strdup_printf ("PRAGMA user_version = %u", *version + 1); /* a pragma takes no bound value */
  if (!pawl_database_run (database, migrations[*version], error)
      || !pawl_database_run (database, set_version, error)
      || !pawl_transaction_commit (g_steal_pointer (&transaction), error))
    return FALSE;

  *version += 1;
  return TRUE;
}

gboolean
pawl_schema_migrate (const PawlDatabase *database,
                     const char *const  *migrations,
                     guint               n_migrations,
                     GError            **error)
{
  guint version;

  if (!pawl_schema_identify (database, n_migrations, &version, error))
    return FALSE;

  while (version < n_migrations)
    if (!migrate_once (database, migrations, n_migrations, &version, error))
      return FALSE;

  return TRUE;
}

GPtrArray *
pawl_schema_list (const PawlDatabase *database,
                  GError            **error)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (database, error, LIST_OBJECTS, "")))
    return NULL;
  while ((more = pawl_database_step (database, statement, error)) > 0)
    g_ptr_array_add (lines, g_strdup (pawl_statement_get_text (statement, 0)));

  return more == 0 ? g_steal_pointer (&lines) : NULL;
}

GPtrArray *
pawl_schema_list_expected (GError **error)
{
  PawlDatabase fresh = { .path = g_strdup (":memory:") };
  GPtrArray *lines = NULL;

  if (sqlite3_open (fresh.path, &fresh.handle) != SQLITE_OK)
    pawl_database_set_error (&fresh, error);
  else if (pawl_schema_migrate (&fresh, pawl_schema_migrations, pawl_schema_n_migrations, error))
    lines = pawl_schema_list (&fresh, error);

  pawl_database_clear (&fresh);
  return lines;
}
