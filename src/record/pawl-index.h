/*
 * What is searched, beside the entries: three tables that follow from them and can be made anew at any time. Private to the record.
 *
 * - `opening`: of each job, what tells it from others, so that a list of thousands needs no JSON read. As it was opened: what was
 *   corrected since is laid over it when it is read, because of two branches only the order of the whole chain says which is the later.
 * - `said`: each text that somebody may look for, with the place where it was said; `said_words` is SQLite's full-text index of it.
 * - `touched`: which jobs an instrument, a tool, a lot, a revision or a person touched on a day, and by how many entries. A day is the
 *   calendar's where the work was done, as it stands in `at`: that is what "between two dates" means to whoever asks.
 *
 * Triggers fill them, so whatever puts an entry into the file, append or merge, has it indexed in the same transaction.
 * Version 4 of a record is made of these words; like all that has shipped they are never edited, only followed by a later version.
 */
#pragma once

#include "record/pawl-database.h"

G_BEGIN_DECLS

/* A damaged body says nothing here; verify tells about it. */
#define PAWL_SQL_FIELDS_OF_E "json_each (CASE WHEN json_valid (e.body) THEN e.body ELSE '{}' END) AS f"

/* Chains of the register, and of people, are no jobs. */
#define PAWL_SQL_E_IS_OF_A_JOB "e.kind NOT GLOB 'instrument-*' AND e.kind NOT GLOB 'person-*'"

/* @WHICH: a condition on the entry e. */
#define PAWL_SQL_OPENINGS(WHICH)                                                                                     \
  "SELECT e.job, e.at," PAWL_SQL_OPENED_FIELD ("procedure-id") "," PAWL_SQL_OPENED_FIELD ("revision") ","            \
  PAWL_SQL_OPENED_FIELD ("title") "," PAWL_SQL_OPENED_FIELD ("unit") "," PAWL_SQL_OPENED_FIELD ("serial") ","        \
  PAWL_SQL_OPENED_FIELD ("work-order") "," PAWL_SQL_OPENED_FIELD ("customer")                                        \
  " FROM entry AS e WHERE " WHICH " AND e.kind = 'opened' AND e.id = e.job AND json_valid (e.body)"
#define PAWL_SQL_OPENED_FIELD(NAME) " CAST (coalesce (json_extract (e.body, '$.\"" NAME "\"'), '') AS TEXT)"

#define PAWL_SQL_SAID(WHICH)                                                                                         \
  "SELECT e.job, e.id, CASE f.key"                                                                                   \
  " WHEN 'serial' THEN 'serial' WHEN 'work-order' THEN 'work order' WHEN 'customer' THEN 'customer'"                 \
  " WHEN 'unit' THEN 'unit' WHEN 'title' THEN 'procedure' WHEN 'procedure-id' THEN 'procedure'"                      \
  " WHEN 'revision' THEN 'revision' WHEN 'complaint' THEN 'complaint' WHEN 'lot' THEN 'lot'"                         \
  " WHEN 'text' THEN 'note' WHEN 'remark' THEN 'note' WHEN 'caption' THEN 'photo' WHEN 'from' THEN 'source'"         \
  " WHEN 'reason' THEN 'reason' WHEN 'what' THEN 'deviation' WHEN 'accepted-by' THEN 'person'"                       \
  " WHEN 'answer' THEN CASE json_extract (e.body, '$.asked') WHEN 'note' THEN 'answer' END"                          \
  " END AS place, trim (f.value) AS text"                                                                            \
  " FROM entry AS e, " PAWL_SQL_FIELDS_OF_E " WHERE " WHICH " AND " PAWL_SQL_E_IS_OF_A_JOB                           \
  " AND f.type = 'text' AND place IS NOT NULL"                                                                       \
  " UNION ALL SELECT e.job, e.id, CASE e.kind WHEN 'disposed' THEN 'part' ELSE 'person' END,"                        \
  " CASE e.kind WHEN 'disposed' THEN e.subject ELSE trim (e.person) END"                                             \
  " FROM entry AS e WHERE " WHICH " AND e.kind IN ('disposed', 'opened')"

/* An entry counts once for each name, however often it says it. */
#define PAWL_SQL_TOUCHED(WHICH)                                                                                      \
  "SELECT what, name COLLATE NOCASE AS name, day, job, count (*) AS n FROM ("                                        \
  " SELECT e.id, CASE f.key WHEN 'tool-serial' THEN 'instrument' WHEN 'lot' THEN 'lot'"                              \
  "  WHEN 'instrument' THEN CASE WHEN f.value IS NOT json_extract (e.body, '$.\"tool-serial\"') THEN 'tool' END"     \
  "  WHEN 'accepted-by' THEN 'person' WHEN 'revision' THEN CASE e.kind WHEN 'opened' THEN 'revision' END END AS what,"\
  "  trim (f.value) AS name, substr (e.at, 1, 10) AS day, e.job"                                                     \
  " FROM entry AS e, " PAWL_SQL_FIELDS_OF_E " WHERE " WHICH " AND " PAWL_SQL_E_IS_OF_A_JOB                           \
  " AND f.type = 'text' AND what IS NOT NULL"                                                                        \
  " UNION SELECT e.id, 'person', trim (e.person), substr (e.at, 1, 10), e.job FROM entry AS e WHERE " WHICH " AND "  \
  PAWL_SQL_E_IS_OF_A_JOB ") WHERE name <> '' GROUP BY what, name COLLATE NOCASE, day, job"

#define PAWL_SQL_ADD_OPENINGS(WHICH) "INSERT OR IGNORE INTO opening " PAWL_SQL_OPENINGS (WHICH) ";"
#define PAWL_SQL_ADD_SAID(WHICH)     "INSERT INTO said (job, entry, place, text) " PAWL_SQL_SAID (WHICH) ";"
#define PAWL_SQL_ADD_TOUCHED(WHICH)                                                                                  \
  "INSERT INTO touched (what, name, day, job, n) SELECT * FROM (" PAWL_SQL_TOUCHED (WHICH) ") WHERE true"            \
  " ON CONFLICT DO UPDATE SET n = n + excluded.n;"
#define PAWL_SQL_ADD_ALL(WHICH) PAWL_SQL_ADD_OPENINGS (WHICH) PAWL_SQL_ADD_SAID (WHICH) PAWL_SQL_ADD_TOUCHED (WHICH)

#define PAWL_SQL_MAKE_INDEX                                                                                          \
  "CREATE TABLE opening ("                                                                                           \
  "  job TEXT NOT NULL PRIMARY KEY, opened TEXT NOT NULL, procedure TEXT NOT NULL, revision TEXT NOT NULL,"          \
  "  title TEXT NOT NULL, unit TEXT NOT NULL, serial TEXT NOT NULL, work_order TEXT NOT NULL, customer TEXT NOT NULL"\
  ") STRICT, WITHOUT ROWID;"                                                                                         \
  "CREATE TABLE said ("                                                                                              \
  "  number INTEGER PRIMARY KEY," /* as it reached this file; another file has other numbers */                      \
  "  job    TEXT NOT NULL,"                                                                                          \
  "  entry  TEXT NOT NULL,"                                                                                          \
  "  place  TEXT NOT NULL,"                                                                                          \
  "  text   TEXT NOT NULL"                                                                                           \
  ") STRICT;"                                                                                                        \
  "CREATE VIRTUAL TABLE said_words USING fts5 (text, content = 'said', content_rowid = 'number',"                    \
  "  tokenize = 'unicode61 remove_diacritics 2');"                                                                   \
  "CREATE TABLE touched ("                                                                                           \
  "  what TEXT NOT NULL," /* instrument (its mark), tool (its id), lot, revision, person */                          \
  "  name TEXT NOT NULL COLLATE NOCASE,"                                                                             \
  "  day  TEXT NOT NULL,"                                                                                            \
  "  job  TEXT NOT NULL,"                                                                                            \
  "  n    INTEGER NOT NULL,"                                                                                         \
  "  PRIMARY KEY (what, name, day, job)"                                                                             \
  ") STRICT, WITHOUT ROWID;"                                                                                         \
  "CREATE TRIGGER said_is_searched AFTER INSERT ON said BEGIN"                                                       \
  "  INSERT INTO said_words (rowid, text) VALUES (NEW.number, NEW.text); END;"                                       \
  "CREATE TRIGGER entry_is_indexed AFTER INSERT ON entry BEGIN " PAWL_SQL_ADD_ALL ("e.rowid = NEW.rowid") " END;"    \
  PAWL_SQL_ADD_ALL ("true")

/* Makes the index anew from the entries, whatever became of it; to be called in a transaction. */
gboolean pawl_index_rebuild (const PawlDatabase *database, GError **error);
/* Whether the call that failed last failed for the index alone. */
gboolean pawl_index_is_to_blame (const PawlDatabase *database);
/* How many lines of the index are missing, and how many say what no entry says. */
gboolean pawl_index_compare (const PawlDatabase *database, gint64 *n_missing, gint64 *n_false, GError **error);
/* How many words the full-text index lacks, or has where they are not. An error, when it can't be read at all. */
gboolean pawl_index_compare_words (const PawlDatabase *database, gint64 *n_wrong, GError **error);

G_END_DECLS
