/* The questions that are asked of many entries at once. Here, so that the tests can ask SQLite how it would answer them. */
#pragma once

#include "record/pawl-entry-row.h"
#include "record/pawl-schema.h"

#define PAWL_SQL_LOAD_ENTRIES "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE job = ? ORDER BY number"
#define PAWL_SQL_LOAD_HEADS   "SELECT digest, number FROM head WHERE job = ? ORDER BY digest"

/* All chains of the register. */
#define PAWL_SQL_LOAD_INSTRUMENTS                                                                                    \
  "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry"                                                                     \
  " WHERE job IN (SELECT job FROM entry WHERE kind = 'instrument-stated') ORDER BY job, number"

/* All chains of people who learn. */
#define PAWL_SQL_LOAD_LEARNERS                                                                                       \
  "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry"                                                                     \
  " WHERE job IN (SELECT job FROM entry WHERE kind = 'person-stated') ORDER BY job, number"

/* A job's opening entry, then these. */
enum {
  PAWL_COLUMN_LAST_WRITTEN = 11,
  PAWL_COLUMN_N_ENTRIES,
  PAWL_COLUMN_IS_SIGNED,
  PAWL_COLUMN_IS_CORRECTED,
};

/* @JOB: its id. What the job was opened with is no longer all of it: pawl-record-corrected.c. */
#define PAWL_SQL_IS_CORRECTED(JOB) "EXISTS (SELECT 1 FROM entry c INDEXED BY entry_corrected WHERE c.kind = 'corrected' AND c.job = " JOB ")"

/* Corrections that nobody took back. */
#define PAWL_SQL_LOAD_CORRECTED                                                                                      \
  "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry c INDEXED BY entry_corrected WHERE c.kind = 'corrected' AND c.job = ?"\
  " AND NOT EXISTS (SELECT 1 FROM entry u INDEXED BY entry_undone WHERE u.kind = 'undone' AND u.subject = c.id AND u.job = c.job)"\
  " ORDER BY c.number"
#define PAWL_SQL_IS_FORKED "SELECT count (*) <> count (DISTINCT number) FROM entry WHERE job = ?"

/* SQLite has no statistics to go by, and would walk all entries of each job: it is told from where to where. */
#define PAWL_SQL_LINE_OF_OPENED                                                                                      \
  PAWL_SQL_ENTRY_COLUMNS ","                                                                                         \
  " (SELECT l.written FROM head h CROSS JOIN entry l ON l.job = h.job AND l.number = h.number"                       \
  "   WHERE l.digest = h.digest AND h.job = o.id ORDER BY julianday (l.written) DESC, l.id LIMIT 1),"                \
  " CASE (SELECT count (*) FROM head h WHERE h.job = o.id)"                                                          \
  "   WHEN 1 THEN (SELECT h.number FROM head h WHERE h.job = o.id)"                                                  \
  "   ELSE (SELECT count (*) FROM entry l WHERE l.job = o.id) END,"                                                  \
  " EXISTS (SELECT 1 FROM entry s INDEXED BY entry_signed WHERE s.kind = 'signed' AND s.job = o.id"                  \
  "   AND NOT EXISTS (SELECT 1 FROM entry u INDEXED BY entry_undone WHERE u.kind = 'undone' AND u.subject = s.id AND u.job = s.job)),"   \
  PAWL_SQL_IS_CORRECTED ("o.id")

#define PAWL_SQL_LIST_JOBS "SELECT " PAWL_SQL_LINE_OF_OPENED " FROM entry o WHERE o.kind = 'opened'"

/* Bound: an id; the beginning of one, its end; a work order; a serial, each twice: as opened, as corrected. UNION, so that a job that fits twice comes once. */
#define PAWL_SQL_FIND_JOBS                                                                                           \
  "SELECT " PAWL_SQL_LINE_OF_OPENED " FROM entry o WHERE o.kind = 'opened' AND o.id IN ("                            \
  "  SELECT id FROM entry WHERE kind = 'opened' AND id = ?"                                                          \
  "  UNION SELECT id FROM entry WHERE kind = 'opened' AND id >= ? AND id < ?"                                        \
  "  UNION SELECT id FROM entry WHERE kind = 'opened' AND " PAWL_SQL_WORK_ORDER " = ? COLLATE NOCASE"                \
  "  UNION SELECT job FROM entry WHERE kind = 'corrected' AND " PAWL_SQL_WORK_ORDER " = ? COLLATE NOCASE"            \
  "  UNION SELECT id FROM entry WHERE kind = 'opened' AND " PAWL_SQL_SERIAL " = ? COLLATE NOCASE"                    \
  "  UNION SELECT job FROM entry WHERE kind = 'corrected' AND " PAWL_SQL_SERIAL " = ? COLLATE NOCASE)"

/* ---- recall ---- */

#define PAWL_SQL_OPENING_COLUMNS                                                                                     \
  "o.job, o.opened, o.procedure, o.revision, o.title, o.unit, o.serial, o.work_order, o.customer, " PAWL_SQL_IS_CORRECTED ("o.job")

#define PAWL_SQL_LOAD_OPENING "SELECT " PAWL_SQL_OPENING_COLUMNS " FROM opening o WHERE o.job = ?"

#define PAWL_SQL_SEARCH                                                                                              \
  "SELECT s.job, s.entry, s.place, s.text, s.number FROM said_words CROSS JOIN said s ON s.number = said_words.rowid"\
  " WHERE said_words MATCH ? ORDER BY said_words.rowid"

/* A job's opening, then these. */
enum {
  PAWL_COLUMN_OPENING_IS_CORRECTED = 9,
  PAWL_COLUMN_FIRST_DAY,
  PAWL_COLUMN_LAST_DAY,
  PAWL_COLUMN_N_TOUCHED,
};

/* Bound: what, and what else; the name; the first day, the last day. */
#define PAWL_SQL_LIST_TOUCHED                                                                                        \
  "SELECT " PAWL_SQL_OPENING_COLUMNS ", t.first, t.last, t.n FROM"                                                   \
  " (SELECT job, min (day) AS first, max (day) AS last, sum (n) AS n FROM touched"                                   \
  "   WHERE what IN (?, ?) AND name = ? AND day BETWEEN ? AND ? GROUP BY job) AS t"                                  \
  " CROSS JOIN opening o ON o.job = t.job ORDER BY t.first, o.opened, o.job"
