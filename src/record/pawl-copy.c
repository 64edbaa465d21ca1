#include "record/pawl-copy.h"

#include "record/pawl-record-private.h"

static const char BEGIN_COPY[] = "INSERT INTO copy_of (address, set_id, place, mark, away) SELECT ?, '', 0, '', 0 WHERE NOT EXISTS (SELECT 1 FROM copy_of)";
static const char LET_ALL_WAIT[] = "INSERT OR IGNORE INTO waiting (entry) SELECT id FROM entry ORDER BY rowid";
static const char LOAD_STATE[] = "SELECT address, set_id, place, mark, away, (SELECT count (*) FROM waiting) FROM copy_of";
static const char LIST_REFUSED[] = "SELECT job, reason FROM refused ORDER BY job";
static const char LIST_WAITING[] =
  "SELECT id, job, number, previous, kind, subject, person, at, written, body, digest FROM waiting JOIN entry ON id = entry ORDER BY turn LIMIT ?";
static const char GET_DIGEST[] = "SELECT digest FROM entry WHERE id = ?";
static const char NOTE_AWAY[] = "UPDATE copy_of SET away = ?";
static const char NOTE_PLACE[] = "UPDATE copy_of SET place = ?, mark = ?";
static const char NOTE_SENT[] = "DELETE FROM waiting WHERE entry = ?";
static const char START_OVER[] = "UPDATE copy_of SET set_id = ?, place = 0, mark = ''";
static const char FORGET_REFUSED[] = "DELETE FROM refused";
static const char NOTE_REFUSED[] = "INSERT INTO refused (job, reason) VALUES (?, ?) ON CONFLICT (job) DO UPDATE SET reason = excluded.reason";
static const char NOTE_TAKEN[] = "DELETE FROM refused WHERE job = ?";

void
pawl_copy_state_clear (PawlCopyState *self)
{
  g_free (self->address);
  g_free (self->set_id);
  g_free (self->mark);
  *self = (PawlCopyState) { 0 };
}

void
pawl_copy_refusal_free (PawlCopyRefusal *self)
{
  g_free (self->job);
  g_free (self->reason);
  g_free (self);
}

/* ---- reading ---- */

gboolean
pawl_copy_load_state (PawlRecord    *record,
                      PawlCopyState *state,
                      GError       **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (record), FALSE);

  pawl_copy_state_clear (state);
  if (!(statement = pawl_database_prepare (&record->database, error, LOAD_STATE, "")))
    return FALSE;
  if ((more = pawl_database_step (&record->database, statement, error)) <= 0)
    return more == 0;

  state->address = g_strdup (pawl_statement_get_text (statement, 0));
  state->set_id = g_strdup (pawl_statement_get_text (statement, 1));
  state->place = sqlite3_column_int64 (statement, 2);
  state->mark = g_strdup (pawl_statement_get_text (statement, 3));
  state->away_usec = sqlite3_column_int64 (statement, 4);
  state->n_waiting = (guint) sqlite3_column_int64 (statement, 5);
  return TRUE;
}

GPtrArray *
pawl_copy_list_refused (PawlRecord *record,
                        GError    **error)
{
  g_autoptr (GPtrArray) refused = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_copy_refusal_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (record), NULL);

  if (!(statement = pawl_database_prepare (&record->database, error, LIST_REFUSED, "")))
    return NULL;
  while ((more = pawl_database_step (&record->database, statement, error)) > 0)
    {
      PawlCopyRefusal *one = g_new (PawlCopyRefusal, 1);

      one->job = g_strdup (pawl_statement_get_text (statement, 0));
      one->reason = g_strdup (pawl_statement_get_text (statement, 1));
      g_ptr_array_add (refused, one);
    }
  return more == 0 ? g_steal_pointer (&refused) : NULL;
}

GPtrArray *
pawl_copy_list_waiting (PawlRecord *record,
                        guint       limit,
                        GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record), NULL);

  statement = pawl_database_prepare (&record->database, error, LIST_WAITING, "i", (gint64) limit);
  return statement != NULL ? pawl_record_read_rows (record, statement, error) : NULL;
}

char *
pawl_copy_dup_digest (PawlRecord *record,
                      const char *entry_id,
                      GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record), NULL);

  if (!(statement = pawl_database_prepare (&record->database, error, GET_DIGEST, "s", entry_id))
      || pawl_database_step (&record->database, statement, error) <= 0)
    return NULL;
  return g_strdup (pawl_statement_get_text (statement, 0));
}

/* ---- writing ---- */

static PawlTransaction *
begin (PawlRecord *record,
       GError    **error)
{
  return pawl_record_check_writable (record, error) ? pawl_transaction_begin (&record->database, PAWL_TRANSACTION_WRITE, error) : NULL;
}

/* Looked at first: a bench that opens its copy for the thousandth time need not write. */
gboolean
pawl_copy_begin (PawlRecord *record,
                 const char *address,
                 GError    **error)
{
  g_auto (PawlCopyState) state = { 0 };
  g_autoptr (PawlTransaction) transaction = NULL;

  if (!pawl_copy_load_state (record, &state, error))
    return FALSE;
  if (state.address != NULL)
    return TRUE;

  return (transaction = begin (record, error)) != NULL
         && pawl_database_execute (&record->database, error, BEGIN_COPY, "s", address)
         && pawl_database_execute (&record->database, error, LET_ALL_WAIT, "")
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}

gboolean
pawl_copy_note_away (PawlRecord *record,
                     gint64      away_usec,
                     GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (record), FALSE);

  return pawl_record_check_writable (record, error) && pawl_database_execute (&record->database, error, NOTE_AWAY, "i", away_usec);
}

gboolean
pawl_copy_merge_there (PawlRecord *record,
                       GPtrArray  *rows,
                       GError    **error)
{
  g_autoptr (sqlite3_stmt) kept = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record), FALSE);

  for (guint i = 0; i < rows->len; i++)
    if (!pawl_database_execute_kept (&record->database, &kept, error, NOTE_SENT, "s", ((PawlEntryRow *) rows->pdata[i])->id))
      return FALSE;
  return TRUE;
}

gboolean
pawl_copy_merge_place (PawlRecord *record,
                       gint64      place,
                       const char *mark,
                       GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (record), FALSE);

  return pawl_database_execute (&record->database, error, NOTE_PLACE, "is", place, mark);
}

gboolean
pawl_copy_merge_refused (PawlRecord *record,
                         const char *job_id,
                         const char *reason,
                         GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (record), FALSE);

  return reason != NULL ? pawl_database_execute (&record->database, error, NOTE_REFUSED, "ss", job_id, reason)
                        : pawl_database_execute (&record->database, error, NOTE_TAKEN, "s", job_id);
}

gboolean
pawl_copy_note_sent (PawlRecord *record,
                     GPtrArray  *rows,
                     gint64      place,
                     const char *mark,
                     GError    **error)
{
  g_autoptr (PawlTransaction) transaction = begin (record, error);

  return transaction != NULL && pawl_copy_merge_there (record, rows, error)
         && (mark == NULL || pawl_copy_merge_place (record, place, mark, error))
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}

gboolean
pawl_copy_start_over (PawlRecord *record,
                      const char *set_id,
                      GError    **error)
{
  g_autoptr (PawlTransaction) transaction = begin (record, error);

  return transaction != NULL && pawl_database_execute (&record->database, error, START_OVER, "s", set_id)
         && pawl_database_execute (&record->database, error, FORGET_REFUSED, "")
         && pawl_database_execute (&record->database, error, LET_ALL_WAIT, "")
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}
