/* Appending: the only way anything gets into a job. */
#include "record/pawl-record-private.h"

#include "record/pawl-entry-row.h"
#include "record/pawl-index.h"
#include "record/pawl-record-recall.h"

/* The ends of a job as noted, each beside the entry that it should be. */
static const char LOAD_ENDS[] =
  "SELECT h.number, h.digest, e.id IS NOT NULL FROM head h"
  " LEFT JOIN entry e ON e.job = h.job AND e.number = h.number AND e.digest = h.digest WHERE h.job = ? ORDER BY h.digest";
static const char COUNT_ENTRIES[] = "SELECT count (*), max (number) FROM entry WHERE job = ?";
static const char GET_LAST_NUMBER[] = "SELECT number FROM entry WHERE job = ? ORDER BY number DESC LIMIT 1";
static const char INSERT_ENTRY[] = "INSERT INTO entry (" PAWL_SQL_ENTRY_COLUMNS ") VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";
static const char INSERT_HEAD[] = "INSERT INTO head (job, number, digest) VALUES (?, ?, ?)";
static const char DELETE_HEAD[] = "DELETE FROM head WHERE job = ? AND digest = ?";

/* Where the next entry goes. */
typedef struct {
  const char *job; /* NULL: a new job, which takes the id of its first entry */
  gint64      number;
  char       *previous; /* the ends that it follows, as pawl-chain.h says */
  guint       n_ends;
} Place;

static void
clear_place (Place *self)
{
  g_free (self->previous);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Place, clear_place)

/* Nothing is built on top of damage: it would only bury it. */
static gboolean
refuse_damaged (PawlRecord *self,
                const char *job_id,
                GError    **error)
{
  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
               "%s: the last entry of job %s is missing or was changed, so nothing can follow it; verify tells more",
               self->database.path, job_id);
  return FALSE;
}

/* The noted ends, and the largest of their numbers. Leaves @place->previous empty when the job has none. */
static gboolean
read_ends (PawlRecord *self,
           const char *job_id,
           Place      *place,
           GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (GString) ends = g_string_new (NULL);
  int more;

  if (!(statement = pawl_database_prepare (&self->database, error, LOAD_ENDS, "s", job_id)))
    return FALSE;
  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    {
      if (sqlite3_column_int (statement, 2) == 0)
        return refuse_damaged (self, job_id, error);
      place->number = MAX (place->number, sqlite3_column_int64 (statement, 0));
      place->n_ends++;
      g_string_append_printf (ends, "%s%s", ends->len > 0 ? " " : "", pawl_statement_get_text (statement, 1));
    }

  place->previous = g_string_free (g_steal_pointer (&ends), FALSE);
  return more == 0;
}

/* The number of the last entry; where branches are to be joined, the number of all. */
static gboolean
read_last_number (PawlRecord *self,
                  const char *job_id,
                  Place      *place,
                  GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  gint64 last;
  int more;

  if (!(statement = pawl_database_prepare (&self->database, error, place->n_ends > 1 ? COUNT_ENTRIES : GET_LAST_NUMBER, "s", job_id)))
    return FALSE;
  if ((more = pawl_database_step (&self->database, statement, error)) < 0)
    return FALSE;
  if (more == 0 && place->n_ends == 0)
    {
      pawl_record_set_no_such_job (self, job_id, error);
      return FALSE;
    }

  last = sqlite3_column_int64 (statement, place->n_ends > 1 ? 1 : 0);
  if (place->n_ends == 0 || last != place->number)
    return refuse_damaged (self, job_id, error);
  if (place->n_ends > 1)
    place->number = sqlite3_column_int64 (statement, 0);
  return TRUE;
}

static gboolean
find_place (PawlRecord *self,
            const char *job_id,
            Place      *place,
            GError    **error)
{
  place->job = job_id;
  place->number = 0;
  if (!read_ends (self, job_id, place, error) || !read_last_number (self, job_id, place, error))
    return FALSE;

  place->number++;
  return TRUE;
}

static gboolean
insert_row (PawlRecord         *self,
            const PawlEntryRow *row,
            GError            **error)
{
  /* Kept, because to prepare it takes longer than to do it: SQLite works out the triggers each time. */
  return pawl_database_execute_kept (&self->database, &self->insert_entry, error, INSERT_ENTRY, "ssissssssss",
                                     row->id, row->job, row->number, row->previous, row->kind, row->subject,
                                     row->person, row->at, row->written, row->body, row->digest);
}

/* What follows from the entries must not keep one out: an index that is damaged is made anew, in the same transaction. */
gboolean
pawl_record_insert_row (PawlRecord         *self,
                        const PawlEntryRow *row,
                        GError            **error)
{
  GError *problem = NULL;

  if (insert_row (self, row, &problem))
    return TRUE;
  if (pawl_index_is_to_blame (&self->database) && pawl_index_rebuild (&self->database, NULL) && insert_row (self, row, NULL))
    {
      g_error_free (problem);
      return TRUE;
    }

  g_propagate_error (error, problem);
  return FALSE;
}

gboolean
pawl_record_insert_end (PawlRecord         *self,
                        const PawlEntryRow *row,
                        GError            **error)
{
  return pawl_database_execute (&self->database, error, INSERT_HEAD, "sis", row->job, row->number, row->digest);
}

gboolean
pawl_record_delete_end (PawlRecord *self,
                        const char *job_id,
                        const char *digest,
                        GError    **error)
{
  return pawl_database_execute (&self->database, error, DELETE_HEAD, "ss", job_id, digest);
}

static gboolean
insert (PawlRecord      *self,
        const PawlEntry *entry,
        const Place     *place,
        GDateTime       *written,
        PawlEntryRow    *row,
        GError         **error)
{
  row->id = self->host.new_id (self->host.data);
  row->job = g_strdup (place->job != NULL ? place->job : row->id);
  row->number = place->number;
  row->previous = g_strdup (place->previous);
  row->written = pawl_time_to_text (written);
  pawl_entry_fill_row (entry, row);
  row->digest = pawl_entry_row_dup_digest (row);

  return pawl_record_insert_row (self, row, error);
}

static gboolean
insert_all (PawlRecord *self,
            GPtrArray  *entries,
            Place      *place,
            GDateTime  *written,
            GArray     *rows,
            GError    **error)
{
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntryRow *row = &g_array_index (rows, PawlEntryRow, i);

      if (!insert (self, entries->pdata[i], place, written, row, error))
        return FALSE;

      place->job = row->job;
      place->number = row->number + 1;
      g_free (place->previous);
      place->previous = g_strdup (row->digest);
    }

  return TRUE;
}

/* @ends: those that are followed now. */
static gboolean
move_head (PawlRecord         *self,
           const char         *ends,
           const PawlEntryRow *last,
           GError            **error)
{
  g_auto (GStrv) digests = g_strsplit (ends, " ", -1);

  for (guint i = 0; digests[i] != NULL; i++)
    if (!pawl_record_delete_end (self, last->job, digests[i], error))
      return FALSE;

  return pawl_record_insert_end (self, last, error);
}

/*
 * The whole of a write: the lock, the head as it is under that lock, the rows, the new head, the commit. Entries learn their
 * place only after the commit, so what failed can be appended again.
 */
static gboolean
store_once (PawlRecord *self,
            const char *job_id,
            GPtrArray  *entries,
            gboolean   *is_of_index, /* (out) when it failed: for the index alone */
            GError    **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autoptr (GDateTime) written = NULL;
  g_autoptr (GArray) rows = g_array_new (FALSE, TRUE, sizeof (PawlEntryRow));
  g_auto (Place) place = { .number = 1, .previous = g_strdup ("") };
  g_autofree char *ends = NULL;

  g_array_set_clear_func (rows, (GDestroyNotify) pawl_entry_row_clear);
  g_array_set_size (rows, entries->len);

  if (!pawl_record_check_writable (self, error)
      || !(transaction = pawl_transaction_begin (&self->database, PAWL_TRANSACTION_WRITE, error)))
    return FALSE;
  if (job_id != NULL)
    {
      g_clear_pointer (&place.previous, g_free);
      if (!find_place (self, job_id, &place, error))
        return FALSE;
    }

  ends = g_strdup (place.previous);
  written = self->host.now (self->host.data);
  if (!insert_all (self, entries, &place, written, rows, error)
      || !move_head (self, ends, &g_array_index (rows, PawlEntryRow, entries->len - 1), error))
    return FALSE;
  if (!pawl_transaction_commit (g_steal_pointer (&transaction), error))
    {
      *is_of_index = pawl_index_is_to_blame (&self->database);
      return FALSE;
    }

  for (guint i = 0; i < entries->len; i++)
    pawl_entry_take_place (entries->pdata[i], &g_array_index (rows, PawlEntryRow, i), written);
  return TRUE;
}

/* FTS5 may keep its words until the commit, and find only then that it can't write them. */
static gboolean
store (PawlRecord *self,
       const char *job_id,
       GPtrArray  *entries,
       GError    **error)
{
  gboolean is_of_index = FALSE;
  GError *problem = NULL;

  if (store_once (self, job_id, entries, &is_of_index, &problem))
    return TRUE;
  if (is_of_index && pawl_record_rebuild_index (self, NULL) && store_once (self, job_id, entries, &is_of_index, NULL))
    {
      g_error_free (problem);
      return TRUE;
    }

  g_propagate_error (error, problem);
  return FALSE;
}

/* Begins a chain with @first, which is of @kind and not stored yet. Its id is the chain's. */
static char *
open_chain (PawlRecord   *self,
            PawlEntry    *first,
            PawlEntryKind kind,
            GError      **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new ();

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (first != NULL && pawl_entry_get_kind (first) == kind, NULL);
  g_return_val_if_fail (pawl_entry_get_id (first) == NULL, NULL);

  g_ptr_array_add (entries, first);
  return store (self, NULL, entries, error) ? g_strdup (pawl_entry_get_id (first)) : NULL;
}

/**
 * pawl_record_open_job:
 * @self: a record
 * @opened: a %PAWL_ENTRY_OPENED entry that is not stored yet
 * @error: as pawl_record_append()
 *
 * Opens a job with @opened as its first entry, on stable storage before it returns.
 *
 * Returns: (transfer full): the job's id, which is the id of @opened
 */
char *
pawl_record_open_job (PawlRecord *self,
                      PawlEntry  *opened,
                      GError    **error)
{
  return open_chain (self, opened, PAWL_ENTRY_OPENED, error);
}

/**
 * pawl_record_open_instrument:
 * @self: a record
 * @stated: a %PAWL_ENTRY_INSTRUMENT_STATED entry that is not stored yet
 * @error: as pawl_record_append()
 *
 * Begins an instrument's chain with @stated, on stable storage before it returns. Whether its mark is taken is the register's to know.
 *
 * Returns: (transfer full): the chain's id, which is the id of @stated
 */
char *
pawl_record_open_instrument (PawlRecord *self,
                             PawlEntry  *stated,
                             GError    **error)
{
  return open_chain (self, stated, PAWL_ENTRY_INSTRUMENT_STATED, error);
}

/**
 * pawl_record_open_learner:
 * @self: a record
 * @stated: a %PAWL_ENTRY_PERSON_STATED entry that is not stored yet
 * @error: as pawl_record_append()
 *
 * Begins the chain of a person who learns with @stated, on stable storage before it returns.
 *
 * Returns: (transfer full): the chain's id, which is the id of @stated
 */
char *
pawl_record_open_learner (PawlRecord *self,
                          PawlEntry  *stated,
                          GError    **error)
{
  return open_chain (self, stated, PAWL_ENTRY_PERSON_STATED, error);
}

static gboolean
is_appendable (GPtrArray *entries)
{
  for (guint i = 0; i < entries->len; i++)
    {
      guint first;

      if (pawl_entry_get_id (entries->pdata[i]) != NULL || pawl_entry_get_kind (entries->pdata[i]) == PAWL_ENTRY_OPENED)
        return FALSE;
      if (g_ptr_array_find (entries, entries->pdata[i], &first) && first != i)
        return FALSE;
    }

  return TRUE;
}

/**
 * pawl_record_append:
 * @self: a record
 * @job_id: the job
 * @entries: (element-type PawlEntry): entries that are not stored yet, none of them %PAWL_ENTRY_OPENED, each once
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, %PAWL_RECORD_ERROR_READ_ONLY, %PAWL_RECORD_ERROR_FULL, %PAWL_RECORD_ERROR_BUSY,
 *   %PAWL_RECORD_ERROR_DAMAGED when the job's last entry is not what it was, %PAWL_RECORD_ERROR_IO
 *
 * Appends entries to a job in one transaction: all of them or none. When it returns TRUE they are on stable storage (see
 * pawl-record.c for what that rests on) and carry their id, digest and written time. When it returns FALSE they are as they were,
 * and may be appended again.
 *
 * Returns: whether the entries are stored
 */
gboolean
pawl_record_append (PawlRecord *self,
                    const char *job_id,
                    GPtrArray  *entries,
                    GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (self), FALSE);
  g_return_val_if_fail (job_id != NULL && entries != NULL, FALSE);
  g_return_val_if_fail (is_appendable (entries), FALSE);

  return entries->len == 0 || store (self, job_id, entries, error);
}

/**
 * pawl_record_append_one:
 * @self: a record
 * @job_id: the job
 * @entry: an entry that is not stored yet
 * @error: as pawl_record_append()
 *
 * Appends one entry, as pawl_record_append() does.
 *
 * Returns: whether the entry is stored
 */
gboolean
pawl_record_append_one (PawlRecord *self,
                        const char *job_id,
                        PawlEntry  *entry,
                        GError    **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new ();

  g_return_val_if_fail (entry != NULL, FALSE);

  g_ptr_array_add (entries, entry);
  return pawl_record_append (self, job_id, entries, error);
}
