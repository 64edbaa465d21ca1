#include "record/pawl-index.h"

static const char DROP_TABLES[] =
  "DROP TRIGGER IF EXISTS entry_is_indexed; DROP TRIGGER IF EXISTS said_is_searched;"
  "DROP TABLE IF EXISTS opening; DROP TABLE IF EXISTS said; DROP TABLE IF EXISTS touched;";
static const char DROP_WORDS[] = "DROP TABLE IF EXISTS said_words";
/* FTS5 opens what it is to drop, and so refuses to drop what it can't open. Then the name is taken out of the schema, and its tables are plain ones. */
static const char FORGET_WORDS[] =
  "PRAGMA writable_schema = ON; DELETE FROM sqlite_schema WHERE name = 'said_words'; PRAGMA writable_schema = RESET;"
  "DROP TABLE IF EXISTS said_words_data; DROP TABLE IF EXISTS said_words_idx; DROP TABLE IF EXISTS said_words_content;"
  "DROP TABLE IF EXISTS said_words_docsize; DROP TABLE IF EXISTS said_words_config;";

#define OPENING "SELECT job, opened, procedure, revision, title, unit, serial, work_order, customer FROM opening"
#define SAID    "SELECT job, entry, place, text FROM said"
#define TOUCHED "SELECT what, name, day, job, n FROM touched"
#define LESS(A, B) "(SELECT count (*) FROM (SELECT * FROM (" A ") EXCEPT SELECT * FROM (" B ")))"

static const char COUNT_MISSING[] =
  "SELECT " LESS (PAWL_SQL_OPENINGS ("true"), OPENING) " + " LESS (PAWL_SQL_SAID ("true"), SAID) " + " LESS (PAWL_SQL_TOUCHED ("true"), TOUCHED);
static const char COUNT_FALSE[] =
  "SELECT " LESS (OPENING, PAWL_SQL_OPENINGS ("true")) " + " LESS (SAID, PAWL_SQL_SAID ("true")) " + " LESS (TOUCHED, PAWL_SQL_TOUCHED ("true"));

static gboolean
drop_words (const PawlDatabase *database,
            GError            **error)
{
  gboolean is_done;

  if (pawl_database_run (database, DROP_WORDS, NULL))
    return TRUE;
  if (sqlite3_db_config (database->handle, SQLITE_DBCONFIG_DEFENSIVE, 0, NULL) != SQLITE_OK)
    {
      pawl_database_set_error (database, error);
      return FALSE;
    }
  is_done = pawl_database_run (database, FORGET_WORDS, error);
  sqlite3_db_config (database->handle, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
  return is_done;
}

gboolean
pawl_index_rebuild (const PawlDatabase *database,
                    GError            **error)
{
  return drop_words (database, error) && pawl_database_run (database, DROP_TABLES, error) && pawl_database_run (database, PAWL_SQL_MAKE_INDEX, error);
}

gboolean
pawl_index_is_to_blame (const PawlDatabase *database)
{
  switch (sqlite3_extended_errcode (database->handle))
    {
    case SQLITE_CORRUPT_VTAB:
    case SQLITE_CONSTRAINT: /* FTS5's, of its own tables; where an entry itself can't be, a guard says so: SQLITE_CONSTRAINT_TRIGGER */
    case SQLITE_CONSTRAINT_PRIMARYKEY:
    case SQLITE_ERROR:      /* a table of it is missing, or not as FTS5 makes it */
      return TRUE;
    default:
      return FALSE;
    }
}

gboolean
pawl_index_compare (const PawlDatabase *database,
                    gint64             *n_missing,
                    gint64             *n_false,
                    GError            **error)
{
  return pawl_database_query_int (database, COUNT_MISSING, n_missing, error)
         && pawl_database_query_int (database, COUNT_FALSE, n_false, error);
}

/* ---- the words ---- */

/* FTS5 tells which words it has where; so does one that is made of the texts as they are now, in memory and for no longer than this. */
static const char LIST_WORDS[] =
  "CREATE VIRTUAL TABLE temp.words_due USING fts5 (text, content = '', tokenize = 'unicode61 remove_diacritics 2');"
  "INSERT INTO temp.words_due (rowid, text) SELECT number, text FROM said;"
  "CREATE VIRTUAL TABLE temp.listed_due USING fts5vocab ('temp', 'words_due', 'instance');"
  "CREATE VIRTUAL TABLE temp.listed USING fts5vocab ('main', 'said_words', 'instance');";
static const char COUNT_WRONG_WORDS[] =
  "SELECT " LESS ("SELECT term, doc, \"offset\" FROM listed_due", "SELECT term, doc, \"offset\" FROM listed") " + "
  LESS ("SELECT term, doc, \"offset\" FROM listed", "SELECT term, doc, \"offset\" FROM listed_due");
static const char FORGET_LISTS[] =
  "DROP TABLE IF EXISTS temp.listed; DROP TABLE IF EXISTS temp.listed_due; DROP TABLE IF EXISTS temp.words_due;";

gboolean
pawl_index_compare_words (const PawlDatabase *database,
                          gint64             *n_wrong,
                          GError            **error)
{
  gint64 is_query_only;
  gboolean is_done;

  if (!pawl_database_query_int (database, "PRAGMA query_only", &is_query_only, error)
      || !pawl_database_run (database, "PRAGMA query_only = OFF", error)) /* what is made is beside the record, not in it */
    return FALSE;

  is_done = pawl_database_run (database, LIST_WORDS, error) && pawl_database_query_int (database, COUNT_WRONG_WORDS, n_wrong, error);
  is_done = pawl_database_run (database, FORGET_LISTS, is_done ? error : NULL) && is_done;
  return (is_query_only == 0 || pawl_database_run (database, "PRAGMA query_only = ON", is_done ? error : NULL)) && is_done;
}
