/*
 * Merging: the union of two sets of entries.
 *
 * An entry is known by its id and says what it follows, so the union needs nothing but the entries: whoever merges what into what, in any
 * order and any number of times, ends with the same entries, the same ends and, by pawl-chain.c, the same order. Merging writes no entry
 * of its own, which would be one more at each place it happened. Jobs that both records went on with fork; the next entry joins the ends.
 */
#include "record/pawl-merge.h"

#include "record/pawl-record-private.h"

static const char LIST_CHAINS[] = "SELECT DISTINCT job FROM entry ORDER BY job";
static const char LOAD_ROWS[] = "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE job = ? ORDER BY number";
static const char LOAD_ROW[] = "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE id = ?";
static const char LOAD_ENDS[] = "SELECT digest FROM head WHERE job = ? ORDER BY digest";
static const char GET_MEDIA_TYPE[] = "SELECT media_type FROM kept WHERE digest = ?";
static const char INSERT_KEPT[] = "INSERT INTO kept (digest, media_type, bytes) VALUES (?, ?, ?)";

/* ---- out ---- */

PawlTransaction *
pawl_record_begin_view (PawlRecord *self,
                        GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  return pawl_transaction_begin (&self->database, PAWL_TRANSACTION_READ, error);
}

static GPtrArray *
load_texts (PawlRecord   *self,
            sqlite3_stmt *statement,
            GError      **error)
{
  g_autoptr (GPtrArray) texts = g_ptr_array_new_with_free_func (g_free);
  int more = -1;

  while (statement != NULL && (more = pawl_database_step (&self->database, statement, error)) > 0)
    g_ptr_array_add (texts, g_strdup (pawl_statement_get_text (statement, 0)));

  return more == 0 ? g_steal_pointer (&texts) : NULL;
}

GPtrArray *
pawl_record_list_chains (PawlRecord *self,
                         GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  statement = pawl_database_prepare (&self->database, error, LIST_CHAINS, "");
  return load_texts (self, statement, error);
}

GPtrArray *
pawl_record_read_rows (PawlRecord   *self,
                       sqlite3_stmt *statement,
                       GError      **error)
{
  g_autoptr (GPtrArray) rows = pawl_chain_new_rows ();
  int more;

  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    {
      PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

      pawl_entry_row_read (row, statement);
      g_ptr_array_add (rows, row);
    }
  return more == 0 ? g_steal_pointer (&rows) : NULL;
}

/* As they stand: empty when there are none, and not looked at. */
static GPtrArray *
load_unchecked (PawlRecord *self,
                const char *job_id,
                GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (&self->database, error, LOAD_ROWS, "s", job_id);
  GPtrArray *rows = statement != NULL ? pawl_record_read_rows (self, statement, error) : NULL;

  if (rows != NULL)
    pawl_chain_sort_rows (rows);
  return rows;
}

static char *
join_digests (GPtrArray *rows)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < rows->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? " " : "", ((PawlEntryRow *) rows->pdata[i])->digest);
  return g_string_free (text, FALSE);
}

/* Sound in itself, and come as far as was noted. */
static gboolean
check_sound (PawlRecord *self,
             GPtrArray  *rows,
             const char *job_id,
             GError    **error)
{
  g_autoptr (GPtrArray) ends = pawl_chain_list_ends (rows);
  g_autofree char *actual = join_digests (ends);
  g_autofree char *noted = NULL;

  if (!pawl_chain_check (rows, error))
    {
      g_prefix_error (error, "%s: ", self->database.path);
      return FALSE;
    }
  if (!(noted = pawl_record_dup_ends (self, job_id, error)))
    return FALSE;
  if (g_str_equal (noted, actual))
    return TRUE;

  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "%s: job %s is not as it was written; verify tells more", self->database.path, job_id);
  return FALSE;
}

GPtrArray *
pawl_record_load_rows (PawlRecord *self,
                       const char *job_id,
                       GError    **error)
{
  g_autoptr (GPtrArray) rows = NULL;

  g_return_val_if_fail (pawl_record_is_usable (self) && job_id != NULL, NULL);

  if (!(rows = load_unchecked (self, job_id, error)))
    return NULL;
  if (rows->len == 0)
    {
      pawl_record_set_no_such_job (self, job_id, error);
      return NULL;
    }
  return check_sound (self, rows, job_id, error) ? g_steal_pointer (&rows) : NULL;
}

char *
pawl_record_dup_ends (PawlRecord *self,
                      const char *job_id,
                      GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (&self->database, error, LOAD_ENDS, "s", job_id);
  g_autoptr (GPtrArray) ends = load_texts (self, statement, error);

  if (ends == NULL)
    return NULL;
  g_ptr_array_add (ends, NULL);
  return g_strjoinv (" ", (char **) ends->pdata);
}

char *
pawl_record_dup_media_type (PawlRecord *self,
                            const char *digest,
                            GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (&self->database, error, GET_MEDIA_TYPE, "s", digest);
  g_autoptr (GPtrArray) types = load_texts (self, statement, error);

  return types != NULL && types->len > 0 ? g_strdup (types->pdata[0]) : NULL;
}

/* ---- in ---- */

struct _PawlMerge {
  PawlRecord      *record;
  PawlTransaction *transaction;
  GHashTable      *wanted; /* digest → id of an entry that names it */
  GHashTable      *whole;  /* digests of kept bytes that were found to be there and as they should be */
  PawlMergeCount   count;
};

PawlMerge *
pawl_merge_begin (PawlRecord *record,
                  GError    **error)
{
  PawlTransaction *transaction;
  PawlMerge *self;

  g_return_val_if_fail (pawl_record_is_usable (record), NULL);

  if (!pawl_record_check_writable (record, error) || !(transaction = pawl_transaction_begin (&record->database, PAWL_TRANSACTION_WRITE, error)))
    return NULL;

  self = g_new0 (PawlMerge, 1);
  self->record = g_object_ref (record);
  self->transaction = transaction;
  self->wanted = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  self->whole = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

void
pawl_merge_free (PawlMerge *self)
{
  g_clear_pointer (&self->transaction, pawl_transaction_free);
  g_hash_table_unref (self->wanted);
  g_hash_table_unref (self->whole);
  g_object_unref (self->record);
  g_free (self);
}

gboolean
pawl_merge_add_kept (PawlMerge  *self,
                     const char *digest,
                     const char *media_type,
                     GBytes     *bytes,
                     GError    **error)
{
  g_autofree char *actual = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  PawlKeptState state;

  if (!g_str_equal (actual, digest))
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "the bytes kept as %s are not what was kept", digest);
      return FALSE;
    }
  if (!pawl_record_look_up_kept (self->record, digest, &state, NULL, error))
    return FALSE;
  if (state == PAWL_KEPT_CHANGED)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "%s: the bytes kept as %s were changed after they were kept",
                   self->record->database.path, digest);
      return FALSE;
    }
  if (state == PAWL_KEPT_WHOLE)
    return TRUE;

  self->count.n_new_kept++;
  return pawl_database_execute (&self->record->database, error, INSERT_KEPT, "ssb", digest, media_type, bytes);
}

/* The digest covers all other columns. */
static gboolean
is_same_row (const PawlEntryRow *a,
             const PawlEntryRow *b)
{
  return g_str_equal (a->digest, b->digest) && g_str_equal (a->job, b->job);
}

/* Whether the record has @row already; not when it has something else under its id. */
static gboolean
look_up_row (PawlMerge          *self,
             const PawlEntryRow *row,
             gboolean           *is_new,
             GError            **error)
{
  const PawlDatabase *database = &self->record->database;
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_auto (PawlEntryRow) known = { 0 };
  int more;

  if (!(statement = pawl_database_prepare (database, error, LOAD_ROW, "s", row->id)) || (more = pawl_database_step (database, statement, error)) < 0)
    return FALSE;
  *is_new = more == 0;
  if (*is_new)
    return TRUE;

  pawl_entry_row_read (&known, statement);
  if (is_same_row (&known, row))
    return TRUE;
  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
               "entry %s of job %s says something else than the entry of the same id in %s", row->id, row->job, database->path);
  return FALSE;
}

static gboolean
add_row (PawlMerge          *self,
         const PawlEntryRow *row,
         gboolean           *is_new,
         GError            **error)
{
  return look_up_row (self, row, is_new, error) && (!*is_new || pawl_record_insert_row (self->record, row, error));
}

static void
note_wanted (PawlMerge          *self,
             const PawlEntryRow *row)
{
  g_autoptr (GPtrArray) kept = pawl_entry_row_list_kept (row); /* the row was checked before */

  for (guint i = 0; i < kept->len; i++)
    g_hash_table_replace (self->wanted, g_strdup (kept->pdata[i]), g_strdup (row->id));
}

/* The ends of what is there now in place of those that were noted. The guards of the record check each of these. */
static gboolean
move_ends (PawlMerge  *self,
           const char *job_id,
           GPtrArray  *rows,
           const char *noted,
           GError    **error)
{
  g_autoptr (GPtrArray) ends = pawl_chain_list_ends (rows);
  g_autofree char *joined = join_digests (ends);
  g_auto (GStrv) before = g_strsplit (noted, " ", -1);
  g_auto (GStrv) after = g_strsplit (joined, " ", -1);

  for (guint i = 0; before[i] != NULL; i++)
    if (!g_strv_contains ((const char *const *) after, before[i]) && !pawl_record_delete_end (self->record, job_id, before[i], error))
      return FALSE;
  for (guint i = 0; i < ends->len; i++)
    if (!g_strv_contains ((const char *const *) before, ((PawlEntryRow *) ends->pdata[i])->digest)
        && !pawl_record_insert_end (self->record, ends->pdata[i], error))
      return FALSE;

  self->count.n_forked += ends->len > 1 ? 1 : 0;
  return TRUE;
}

static gboolean
add_rows (PawlMerge *self,
          GPtrArray *rows,
          GPtrArray *known,
          GError   **error)
{
  for (guint i = 0; i < rows->len; i++)
    {
      gboolean is_new;

      if (!add_row (self, rows->pdata[i], &is_new, error))
        return FALSE;
      if (is_new)
        g_ptr_array_add (known, pawl_entry_row_copy (rows->pdata[i]));
      self->count.n_new_entries += is_new ? 1 : 0;
      note_wanted (self, rows->pdata[i]);
    }
  return TRUE;
}

gboolean
pawl_merge_add_chain (PawlMerge *self,
                      GPtrArray *rows,
                      GError   **error)
{
  g_autoptr (GPtrArray) known = NULL;
  g_autofree char *noted = NULL;
  const char *job_id;
  guint n_known;

  pawl_chain_sort_rows (rows);
  if (!pawl_chain_check (rows, error))
    return FALSE;

  job_id = ((PawlEntryRow *) rows->pdata[0])->job;
  if (!(known = load_unchecked (self->record, job_id, error)) || !(noted = pawl_record_dup_ends (self->record, job_id, error)))
    return FALSE;
  n_known = known->len;
  /* Nothing is built on top of damage. */
  if ((n_known > 0 || *noted != '\0') && !check_sound (self->record, known, job_id, error))
    return FALSE;
  if (!add_rows (self, rows, known, error) || !move_ends (self, job_id, known, noted, error))
    return FALSE;

  self->count.n_jobs++;
  self->count.n_new_jobs += n_known == 0 ? 1 : 0;
  self->count.n_entries += rows->len;
  return TRUE;
}

static gboolean
check_kept (PawlMerge  *self,
            const char *digest,
            const char *entry_id,
            GError    **error)
{
  PawlKeptState state;

  if (g_hash_table_contains (self->whole, digest))
    return TRUE;
  if (!pawl_record_look_up_kept (self->record, digest, &state, NULL, error))
    return FALSE;
  if (state == PAWL_KEPT_WHOLE)
    return g_hash_table_add (self->whole, g_strdup (digest));

  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "entry %s names kept bytes that are missing: %s", entry_id, digest);
  return FALSE;
}

/* ---- a part of a chain ---- */

GPtrArray *
pawl_entry_row_list_kept (const PawlEntryRow *row)
{
  GPtrArray *digests = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (PawlEntry) entry = pawl_entry_new_from_row (row, NULL);
  const char *const *fields = entry != NULL ? pawl_chain_peek_kept_fields (pawl_entry_get_kind (entry)) : NULL;

  for (guint i = 0; fields != NULL && fields[i] != NULL; i++)
    if (pawl_entry_get (entry, fields[i]) != NULL)
      g_ptr_array_add (digests, g_strdup (pawl_entry_get (entry, fields[i])));
  return digests;
}

/* All that would make pawl_merge_add_chain() refuse what @known and @rows are together. */
static gboolean
check_part (PawlMerge *self,
            GPtrArray *rows,
            GPtrArray *known,
            GError   **error)
{
  g_autoptr (GPtrArray) all = g_ptr_array_copy (known, NULL, NULL); /* borrowed */

  g_ptr_array_set_free_func (all, NULL);
  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr (GPtrArray) kept = pawl_entry_row_list_kept (rows->pdata[i]);
      gboolean is_new;

      if (!look_up_row (self, rows->pdata[i], &is_new, error))
        return FALSE;
      if (!is_new)
        continue;
      g_ptr_array_add (all, rows->pdata[i]);
      for (guint j = 0; j < kept->len; j++)
        if (!check_kept (self, kept->pdata[j], ((PawlEntryRow *) rows->pdata[i])->id, error))
          return FALSE;
    }

  pawl_chain_sort_rows (all);
  return pawl_chain_check (all, error);
}

gboolean
pawl_merge_add_part (PawlMerge *self,
                     GPtrArray *rows,
                     GError   **refusal,
                     GError   **error)
{
  const char *job_id = ((PawlEntryRow *) rows->pdata[0])->job;
  g_autoptr (GPtrArray) known = load_unchecked (self->record, job_id, error);
  g_autofree char *noted = known != NULL ? pawl_record_dup_ends (self->record, job_id, error) : NULL;

  if (noted == NULL)
    return FALSE;
  if ((known->len > 0 || *noted != '\0') && !check_sound (self->record, known, job_id, refusal))
    return TRUE;
  return !check_part (self, rows, known, refusal)
         || (add_rows (self, rows, known, error) && move_ends (self, job_id, known, noted, error));
}

/* ---- the end ---- */

static gboolean
check_wanted (PawlMerge *self,
              GError   **error)
{
  GHashTableIter iter;
  gpointer digest, id;

  g_hash_table_iter_init (&iter, self->wanted);
  while (g_hash_table_iter_next (&iter, &digest, &id))
    if (!check_kept (self, digest, id, error))
      return FALSE;
  return TRUE;
}

gboolean
pawl_merge_commit (PawlMerge      *merge,
                   PawlMergeCount *count,
                   GError        **error)
{
  g_autoptr (PawlMerge) self = merge;

  if (!check_wanted (self, error) || !pawl_transaction_commit (g_steal_pointer (&self->transaction), error))
    return FALSE;

  if (count != NULL)
    *count = self->count;
  return TRUE;
}
