/* What the window's tests share: a folder of their own, a record in it, a clock that stands until it is moved, and the small procedure of tests/data. */
#pragma once

#include "app/pawl-session.h"

#define FIXTURE_PERSON "Jory Tregenza" /* invented */

typedef struct {
  char          *folder;
  char          *record_path;
  PawlRecordHost host;
  GDateTime     *now;
  guint          n_ids;
  gboolean       is_ask_first; /* said before fixture_set_up(): the job asks before it shows */
  PawlRecord    *record;
  PawlProcedure *procedure;
  PawlBench     *bench;
  PawlSession   *session;
} Fixture;

/* @data: (nullable): a procedure below tests/data, instead of the small one */
void  fixture_set_up    (Fixture *self, gconstpointer data);
void  fixture_tear_down (Fixture *self, gconstpointer data);
/* Moves the clock on, and folds the job by it. */
void  fixture_wait      (Fixture *self, int minutes);
/* An answer to an ask of the procedure, which must be taken. */
void  fixture_answer    (Fixture *self, const char *ask_id, const char *answer);
/* Answers and finishes the first step ("drain"). */
void  fixture_finish_first (Fixture *self);
const PawlAsk *fixture_lookup_ask (Fixture *self, const char *ask_id);
/* Puts an instrument into the register. Then pairs of field and value, NULL last. */
void  fixture_put_in    (Fixture *self, const char *mark, ...) G_GNUC_NULL_TERMINATED;
char *fixture_dup_data_path (const char *name); /* of a file below tests/data */
