#include "record/pawl-record-recall.h"

#include "record/pawl-index.h"
#include "record/pawl-record-private.h"
#include "record/pawl-record-queries.h"

/* ---- openings ---- */

void
pawl_opening_free (PawlOpening *self)
{
  if (self == NULL)
    return;

  g_free (self->job);
  g_free (self->opened);
  g_free (self->procedure);
  g_free (self->revision);
  g_free (self->title);
  g_free (self->unit);
  g_free (self->serial);
  g_free (self->work_order);
  g_free (self->customer);
  g_free (self);
}

static gboolean
correct_opening (PawlRecord  *self,
                 PawlOpening *opening,
                 GError     **error)
{
  const PawlOpenedText texts[] = {
    { "unit", &opening->unit }, { "serial", &opening->serial }, { "work-order", &opening->work_order }, { "customer", &opening->customer },
  };

  return pawl_record_correct_texts (self, opening->job, texts, G_N_ELEMENTS (texts), error);
}

static PawlOpening *
read_opening (PawlRecord   *self,
              sqlite3_stmt *statement,
              GError      **error)
{
  g_autoptr (PawlOpening) opening = g_new0 (PawlOpening, 1);
  char **const texts[] = {
    &opening->job, &opening->opened, &opening->procedure, &opening->revision, &opening->title,
    &opening->unit, &opening->serial, &opening->work_order, &opening->customer,
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    *texts[i] = g_strdup (pawl_statement_get_text (statement, (int) i));
  if (sqlite3_column_int (statement, PAWL_COLUMN_OPENING_IS_CORRECTED) != 0 && !correct_opening (self, opening, error))
    return NULL;
  return g_steal_pointer (&opening);
}

/**
 * pawl_record_load_opening:
 * @self: a record
 * @job_id: the job
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, the errors of reading
 *
 * Returns: (transfer full): what tells the job from others
 */
PawlOpening *
pawl_record_load_opening (PawlRecord *self,
                          const char *job_id,
                          GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (job_id != NULL, NULL);

  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LOAD_OPENING, "s", job_id)))
    return NULL;
  if ((more = pawl_database_step (&self->database, statement, error)) == 0)
    pawl_record_set_no_such_job (self, job_id, error);
  return more > 0 ? read_opening (self, statement, error) : NULL;
}

/* ---- what was said ---- */

void
pawl_said_free (PawlSaid *self)
{
  g_free (self->job);
  g_free (self->entry);
  g_free (self->place);
  g_free (self->text);
  g_free (self);
}

/* A busy or locked record is none of this; for the rest, the entries are not touched by what became of the index. */
static void
explain_damage (PawlRecord *self,
                GError    **error)
{
  g_autofree char *message = NULL;

  if (error == NULL || !(g_error_matches (*error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED)
                         || g_error_matches (*error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO)))
    return;

  message = g_strdup_printf ("%s: what is searched can't be read; the entries are not touched by that. “pawl find --reindex” makes it anew",
                             self->database.path);
  g_clear_error (error);
  g_set_error_literal (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, message);
}

/* One phrase in quotes, its last word cut short: whatever is typed, none of it is an operator of SQLite's. */
static char *
quote_words (const char *words)
{
  g_autoptr (GString) quoted = g_string_new (words);

  g_string_replace (quoted, "\"", "\"\"", 0);
  return g_strdup_printf ("\"%s\" *", quoted->str);
}

/**
 * pawl_record_search:
 * @self: a record
 * @words: what to look for: words next to each other, the last one perhaps only begun; "sn-19" finds SN-1907
 * @error: the errors of reading
 *
 * Looks through what was said in all jobs. Capitals and accents don't matter, nor do signs between letters and digits. A text without
 * any letter or digit finds nothing.
 *
 * Returns: (transfer full) (element-type PawlSaid): in the order in which it reached this record
 */
GPtrArray *
pawl_record_search (PawlRecord *self,
                    const char *words,
                    GError    **error)
{
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_said_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autofree char *phrase = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (words != NULL, NULL);

  phrase = quote_words (words);
  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_SEARCH, "s", phrase)))
    {
      explain_damage (self, error);
      return NULL;
    }
  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    {
      PawlSaid *said = g_new0 (PawlSaid, 1);

      said->job = g_strdup (pawl_statement_get_text (statement, 0));
      said->entry = g_strdup (pawl_statement_get_text (statement, 1));
      said->place = g_strdup (pawl_statement_get_text (statement, 2));
      said->text = g_strdup (pawl_statement_get_text (statement, 3));
      said->number = sqlite3_column_int64 (statement, 4);
      g_ptr_array_add (found, said);
    }
  if (more < 0)
    explain_damage (self, error);

  return more == 0 ? g_steal_pointer (&found) : NULL;
}

/* ---- what was touched ---- */

void
pawl_touched_free (PawlTouched *self)
{
  pawl_opening_free (self->opening);
  g_free (self->first);
  g_free (self->last);
  g_free (self);
}

static PawlTouched *
read_touched (PawlRecord   *self,
              sqlite3_stmt *statement,
              GError      **error)
{
  g_autoptr (PawlOpening) opening = read_opening (self, statement, error);
  PawlTouched *touched;

  if (opening == NULL)
    return NULL;
  touched = g_new0 (PawlTouched, 1);
  touched->opening = g_steal_pointer (&opening);
  touched->first = g_strdup (pawl_statement_get_text (statement, PAWL_COLUMN_FIRST_DAY));
  touched->last = g_strdup (pawl_statement_get_text (statement, PAWL_COLUMN_LAST_DAY));
  touched->n = (guint) sqlite3_column_int64 (statement, PAWL_COLUMN_N_TOUCHED);
  return touched;
}

/**
 * pawl_record_list_touched:
 * @self: a record
 * @by: what touched the jobs
 * @name: which one, whole; capitals of A to Z don't matter
 * @from: (nullable): the first day that counts, 2026-05-04
 * @to: (nullable): the last one
 * @error: the errors of reading
 *
 * Lists the jobs that something touched, also by an entry that was taken back since: a reading that was taken was taken.
 *
 * Returns: (transfer full) (element-type PawlTouched): the job touched first comes first
 */
GPtrArray *
pawl_record_list_touched (PawlRecord   *self,
                          PawlTouchedBy by,
                          const char   *name,
                          const char   *from,
                          const char   *to,
                          GError      **error)
{
  static const char *const names[][2] = {
    [PAWL_TOUCHED_BY_INSTRUMENT] = { "instrument", "tool" },
    [PAWL_TOUCHED_BY_LOT] = { "lot", "lot" },
    [PAWL_TOUCHED_BY_REVISION] = { "revision", "revision" },
    [PAWL_TOUCHED_BY_PERSON] = { "person", "person" },
  };
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_touched_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (by < G_N_ELEMENTS (names) && name != NULL, NULL);

  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LIST_TOUCHED, "sssss", names[by][0], names[by][1], name,
                                           from != NULL ? from : "", to != NULL ? to : "~")))
    return NULL;
  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    {
      PawlTouched *touched = read_touched (self, statement, error);

      if (touched == NULL)
        return NULL;
      g_ptr_array_add (list, touched);
    }

  return more == 0 ? g_steal_pointer (&list) : NULL;
}

/* ---- made anew ---- */

/**
 * pawl_record_rebuild_index:
 * @self: a record
 * @error: as pawl_record_append()
 *
 * Makes what is searched anew from the entries, in one transaction.
 *
 * Returns: whether it was made
 */
gboolean
pawl_record_rebuild_index (PawlRecord *self,
                           GError    **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;

  g_return_val_if_fail (pawl_record_is_usable (self), FALSE);

  return pawl_record_check_writable (self, error)
         && (transaction = pawl_transaction_begin (&self->database, PAWL_TRANSACTION_WRITE, error)) != NULL
         && pawl_index_rebuild (&self->database, error)
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}
