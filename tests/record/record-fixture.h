/* What the tests of the record share: a folder of their own, a fixed clock, counted ids, and a way into the file past Pawl. */
#pragma once

#include <sqlite3.h>

#include "record/pawl-record.h"

/* Job and people are invented. */
#define FIXTURE_PERSON "Jory Tregenza"

typedef struct {
  char          *folder;
  char          *path;
  PawlRecordHost host;
  GDateTime     *now; /* each look at the clock moves it on by 1.25 s */
  guint          n_ids;
} Fixture;

void        fixture_set_up      (Fixture *self, gconstpointer data);
void        fixture_tear_down   (Fixture *self, gconstpointer data);
PawlRecord *fixture_open        (Fixture *self);
PawlRecord *fixture_open_to_read (Fixture *self);

PawlEntry  *fixture_make_opened (Fixture *self, const char *serial, const char *work_order);
PawlEntry  *fixture_make_answer (Fixture *self, const char *ask, const char *answer);
/* Opens a job and appends @n_answers answers, each by itself. */
char       *fixture_make_job    (Fixture *self, PawlRecord *record, guint n_answers);

/* Asserts that verify finds nothing in the whole record. */
void        fixture_check_sound (PawlRecord *record);
/* Asserts that it is one sentence, with the path first. */
void        fixture_check_sentence (const GError *error, const char *path);

/* Past Pawl, on a connection of its own; asserts that it works. */
void        fixture_run_sql     (const char *path, const char *sql);
char       *fixture_query_text  (const char *path, const char *sql);
/* Puts a file there as it is, unsynced. */
void        fixture_write       (const char *path, const char *bytes, gsize size);
/* Every row of every table as text: equal for equal contents. NULL when the file can't be read. */
char       *fixture_dump        (const char *path);
/* All that a record holds, in whatever order it came, and what is made of it: what each job is called now, its order, and its head. */
char       *fixture_dump_union  (const char *path);
/* Drops the guards, runs @sql, puts the guards back as they were. */
void        fixture_tamper      (const char *path, const char *sql);

/* Runs @run in a child that is nobody in particular, for tests that permissions hold up; asserts that it returns 0. */
void        fixture_run_as_nobody (int (*run) (Fixture *self), Fixture *self);
