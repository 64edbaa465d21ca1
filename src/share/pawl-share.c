#include "share/pawl-share.h"

#include "record/pawl-record-private.h"

/* Entries that go at once: few enough that a bench's own writing never waits long for the copy, and a sender's for the store. */
#define BATCH 500

struct _PawlShare {
  PawlRecord    *copy;
  PawlStore     *store;
  gboolean       is_open;
  PawlCopyState  state;
  PawlShareCount count;
};

PawlShare *
pawl_share_new (PawlRecord *copy,
                PawlStore  *store)
{
  PawlShare *self = g_new0 (PawlShare, 1);

  self->copy = g_object_ref (copy);
  self->store = g_object_ref (store);
  return self;
}

void
pawl_share_free (PawlShare *self)
{
  g_object_unref (self->copy);
  g_object_unref (self->store);
  pawl_copy_state_clear (&self->state);
  g_free (self);
}

PawlStore *
pawl_share_get_store (PawlShare *self)
{
  return self->store;
}

static gboolean
load_state (PawlShare *self,
            GError   **error)
{
  return pawl_copy_load_state (self->copy, &self->state, error);
}

/* (transfer full): a set of digests as a list. */
static GPtrArray *
list_digests (GHashTable *set)
{
  GPtrArray *digests = g_ptr_array_new_with_free_func (g_free);
  GHashTableIter iter;
  gpointer digest;

  g_hash_table_iter_init (&iter, set);
  while (g_hash_table_iter_next (&iter, &digest, NULL))
    g_ptr_array_add (digests, g_strdup (digest));
  return digests;
}

/* ---- kept bytes that come ---- */

/* (transfer full): digests that @rows name and that are not here; a set, each its own value. */
static GHashTable *
list_lacking (PawlShare *self,
              GPtrArray *rows,
              GError   **error)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GHashTable) lacking = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr (GPtrArray) kept = pawl_entry_row_list_kept (rows->pdata[i]);

      for (guint j = 0; j < kept->len; j++)
        {
          PawlKeptState state;

          if (!g_hash_table_add (seen, g_strdup (kept->pdata[j])))
            continue;
          if (!pawl_record_look_up_kept (self->copy, kept->pdata[j], &state, NULL, error))
            return NULL;
          if (state == PAWL_KEPT_MISSING)
            g_hash_table_add (lacking, g_strdup (kept->pdata[j]));
        }
    }
  return g_steal_pointer (&lacking);
}

/* What is not what it is called is left there: the entry that names it will be refused. */
static gboolean
keep_what_holds (PawlShare     *self,
                 PawlStoreKept *kept,
                 GError       **error)
{
  g_autofree char *actual = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, kept->bytes);
  g_autofree char *digest = NULL;

  if (!g_str_equal (actual, kept->digest))
    return TRUE;
  digest = pawl_record_keep (self->copy, kept->bytes, kept->media_type, error);
  return digest != NULL;
}

/* Before the entries that name them, and outside of the merge: the copy is not locked while something is on its way. */
static gboolean
fetch_kept (PawlShare *self,
            GPtrArray *rows,
            GError   **error)
{
  g_autoptr (GHashTable) lacking = list_lacking (self, rows, error);
  gboolean is_more = TRUE;

  while (lacking != NULL && g_hash_table_size (lacking) > 0 && is_more)
    {
      g_autoptr (GPtrArray) wanted = list_digests (lacking);
      g_autoptr (GPtrArray) loaded = pawl_store_load_kept (self->store, wanted, error);

      if (loaded == NULL)
        return FALSE;
      is_more = FALSE;
      for (guint i = 0; i < loaded->len; i++)
        {
          if (!keep_what_holds (self, loaded->pdata[i], error))
            return FALSE;
          is_more = g_hash_table_remove (lacking, ((PawlStoreKept *) loaded->pdata[i])->digest) || is_more;
        }
    }
  return lacking != NULL;
}

/* ---- what comes ---- */

/* @is_whole: @part is all that the store has of its job. */
static gboolean
merge_part (PawlShare *self,
            PawlMerge *merge,
            GPtrArray *part,
            gboolean   is_whole,
            GError   **error)
{
  const char *job_id = ((PawlEntryRow *) part->pdata[0])->job;
  g_autoptr (GError) refusal = NULL;

  if (!pawl_merge_add_part (merge, part, &refusal, error))
    return FALSE;
  if (refusal != NULL)
    return pawl_copy_merge_refused (self->copy, job_id, refusal->message, error);
  return pawl_copy_merge_there (self->copy, part, error) && (!is_whole || pawl_copy_merge_refused (self->copy, job_id, NULL, error));
}

static gboolean
merge_rows (PawlShare *self,
            GPtrArray *rows,
            gint64     place, /* 0: how far the copy is stays as it is */
            GError   **error)
{
  g_autoptr (GPtrArray) parts = pawl_store_split_by_job (rows);
  g_autoptr (PawlMerge) merge = pawl_merge_begin (self->copy, error);
  PawlMergeCount count;

  if (merge == NULL)
    return FALSE;
  for (guint i = 0; i < parts->len; i++)
    if (!merge_part (self, merge, parts->pdata[i], place == 0, error))
      return FALSE;
  if ((place > 0 && !pawl_copy_merge_place (self->copy, place, ((PawlEntryRow *) rows->pdata[rows->len - 1])->id, error))
      || !pawl_merge_commit (g_steal_pointer (&merge), &count, error))
    return FALSE;

  self->count.n_came += count.n_new_entries;
  return TRUE;
}

static gboolean
pull (PawlShare *self,
      gint64     newest,
      GError   **error)
{
  while (self->state.place < newest)
    {
      g_auto (PawlStoreBatch) batch = { 0 };

      if (!pawl_store_list (self->store, self->state.place, BATCH, &batch, error))
        return FALSE;
      if (batch.rows->len == 0)
        return TRUE;
      if (!fetch_kept (self, batch.rows, error) || !merge_rows (self, batch.rows, batch.place, error) || !load_state (self, error))
        return FALSE;
    }
  return TRUE;
}

/* What was not sound may have been put right there. */
static gboolean
ask_again_for_refused (PawlShare *self,
                       GError   **error)
{
  g_autoptr (GPtrArray) refused = pawl_copy_list_refused (self->copy, error);

  for (guint i = 0; refused != NULL && i < refused->len; i++)
    {
      g_autoptr (GPtrArray) rows = pawl_store_list_job (self->store, ((PawlCopyRefusal *) refused->pdata[i])->job, error);

      if (rows == NULL || (rows->len > 0 && (!fetch_kept (self, rows, error) || !merge_rows (self, rows, 0, error))))
        return FALSE;
    }
  return refused != NULL;
}

/* ---- what goes ---- */

/* A copy that was changed by hand must not pass that on. */
static gboolean
check_own (PawlShare *self,
           GPtrArray *rows,
           GError   **error)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const PawlEntryRow *row = rows->pdata[i];
      g_autofree char *computed = pawl_entry_row_dup_digest (row);

      if (g_str_equal (computed, row->digest))
        continue;
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                   "%s: entry %" G_GINT64_FORMAT " (%s) of job %s was changed in this bench's copy after it was written; nothing is sent until that is put right",
                   pawl_record_get_path (self->copy), row->number, row->id, row->job);
      return FALSE;
    }
  return TRUE;
}

static GPtrArray *
list_kept_of (GPtrArray *rows)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr (GPtrArray) kept = pawl_entry_row_list_kept (rows->pdata[i]);

      for (guint j = 0; j < kept->len; j++)
        g_hash_table_add (seen, g_strdup (kept->pdata[j]));
    }
  return list_digests (seen);
}

/* Bytes first: whoever gets an entry finds what it names. Also those of entries that the store has, because it may have lost them. */
static gboolean
send_kept (PawlShare *self,
           GPtrArray *rows,
           GError   **error)
{
  g_autoptr (GPtrArray) digests = list_kept_of (rows);
  g_autoptr (GHashTable) there = digests->len > 0 ? pawl_store_find_kept (self->store, digests, error) : NULL;

  for (guint i = 0; i < digests->len; i++)
    {
      g_autoptr (GBytes) bytes = NULL;
      g_autofree char *media_type = NULL;

      if (there == NULL)
        return FALSE;
      if (g_hash_table_contains (there, digests->pdata[i]))
        continue;
      if (!(bytes = pawl_record_load_kept (self->copy, digests->pdata[i], error))
          || !(media_type = pawl_record_dup_media_type (self->copy, digests->pdata[i], error))
          || !pawl_store_keep (self->store, digests->pdata[i], media_type, bytes, error))
        return FALSE;
    }
  return TRUE;
}

/* (transfer full): those of @rows that the store lacks. What it has under the same id and otherwise is refused, and never replaced. */
static GPtrArray *
list_lacked (PawlShare *self,
             GPtrArray *rows,
             GError   **error)
{
  g_autoptr (GHashTable) there = pawl_store_find (self->store, rows, error);
  g_autoptr (GPtrArray) lacked = g_ptr_array_new ();

  for (guint i = 0; there != NULL && i < rows->len; i++)
    {
      const PawlEntryRow *row = rows->pdata[i];
      const char *digest = g_hash_table_lookup (there, row->id);
      g_autofree char *reason = NULL;

      if (digest == NULL)
        g_ptr_array_add (lacked, rows->pdata[i]);
      if (digest == NULL || g_str_equal (digest, row->digest))
        continue;
      reason = g_strdup_printf ("the server has something else as entry %" G_GINT64_FORMAT " (%s) of job %s", row->number, row->id, row->job);
      if (!pawl_copy_merge_refused (self->copy, row->job, reason, error))
        return NULL;
    }
  return there != NULL ? g_steal_pointer (&lacked) : NULL;
}

/* @is_behind: (out): set when somebody else sent something before, which is not here yet. */
static gboolean
send_rows (PawlShare *self,
           GPtrArray *rows,
           gboolean  *is_behind,
           GError   **error)
{
  g_autoptr (GPtrArray) lacked = list_lacked (self, rows, error);
  const char *mark = NULL;
  gint64 before = 0, after = 0;

  if (lacked == NULL)
    return FALSE;
  if (!send_kept (self, rows, error) || (lacked->len > 0 && !pawl_store_take (self->store, lacked, &before, &after, error)))
    return FALSE;

  *is_behind = *is_behind || (after > 0 && before != self->state.place);
  if (after > 0 && before == self->state.place)
    mark = ((PawlEntryRow *) lacked->pdata[lacked->len - 1])->id;
  self->count.n_sent += lacked->len;
  return pawl_copy_note_sent (self->copy, rows, after, mark, error);
}

static gboolean
push (PawlShare *self,
      gboolean  *is_behind,
      GError   **error)
{
  while (self->state.n_waiting > 0)
    {
      g_autoptr (GPtrArray) rows = pawl_copy_list_waiting (self->copy, BATCH, error);

      if (rows == NULL || !check_own (self, rows, error))
        return FALSE;
      if (rows->len == 0)
        return TRUE;
      if (!send_rows (self, rows, is_behind, error) || !load_state (self, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- all of it ---- */

static gboolean
refuse_other_set (PawlShare *self,
                  GError   **error)
{
  g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_DIFFERS,
               "%s: the server has another set now than the one that this bench's copy, %s, belongs to; nothing was sent or taken. If that is meant,"
               " “pawl share --again” joins the two", pawl_store_get_address (self->store), pawl_record_get_path (self->copy));
  return FALSE;
}

/* A set that no longer has what it had, where it had it, was put back to an earlier day. @is_anew: (out): set when nothing is known of it now. */
static gboolean
meet (PawlShare *self,
      gint64    *newest,
      gboolean  *is_anew,
      GError   **error)
{
  g_auto (PawlStoreState) there = { 0 };
  gboolean is_new;

  if (!load_state (self, error) || !pawl_store_look (self->store, self->state.place, &there, error))
    return FALSE;
  *newest = there.place;
  is_new = *self->state.set_id == '\0' && *there.id != '\0';
  if (!is_new && !g_str_equal (self->state.set_id, there.id))
    return refuse_other_set (self, error);
  if (!is_new && g_str_equal (self->state.mark, there.mark))
    return TRUE;

  *is_anew = TRUE;
  return pawl_copy_start_over (self->copy, there.id, error) && load_state (self, error);
}

static gboolean
sync_once (PawlShare *self,
           GError   **error)
{
  gboolean is_fresh = !self->is_open;
  gboolean is_behind = FALSE, is_anew = FALSE;
  gint64 newest;

  if (!self->is_open && !pawl_store_open (self->store, error))
    return FALSE;
  self->is_open = TRUE;

  if (!meet (self, &newest, &is_anew, error))
    return FALSE;
  /* First what is there is compared with all that is here, and given back where it was lost; fetching it first would take it as it stands. */
  if (is_anew && !push (self, &is_behind, error))
    return FALSE;
  if (!pull (self, newest, error) || !push (self, &is_behind, error))
    return FALSE;
  if (is_behind && (!meet (self, &newest, &is_anew, error) || !pull (self, newest, error)))
    return FALSE;
  return (!is_fresh && self->count.n_came == 0) || ask_again_for_refused (self, error);
}

static gint64
read_clock (PawlRecord *record)
{
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);

  return pawl_time_get_usec (now);
}

/* Noted once, so that it says since when; a copy that can't be written says so by itself. */
static void
note_whether_away (PawlShare *self,
                   gboolean   is_away)
{
  if (load_state (self, NULL) && (self->state.away_usec != 0) != is_away)
    pawl_copy_note_away (self->copy, is_away ? read_clock (self->copy) : 0, NULL);
}

gboolean
pawl_share_sync (PawlShare      *self,
                 PawlShareCount *count,
                 GError        **error)
{
  g_autoptr (GPtrArray) refused = NULL;
  gboolean is_done;

  self->count = (PawlShareCount) { 0 };
  is_done = sync_once (self, error);
  self->is_open = is_done;
  note_whether_away (self, !is_done);

  refused = pawl_copy_list_refused (self->copy, NULL);
  self->count.n_refused = refused != NULL ? refused->len : 0;
  if (count != NULL)
    *count = self->count;
  return is_done;
}

gboolean
pawl_share_start_over (PawlShare *self,
                       GError   **error)
{
  return pawl_copy_start_over (self->copy, "", error);
}

/* ---- comparing ---- */

static void
add_finding (GPtrArray          *findings,
             const PawlEntryRow *row,
             const char         *message)
{
  PawlRecordFinding *finding = g_new0 (PawlRecordFinding, 1);

  finding->job_id = g_strdup (row->job);
  finding->entry_id = g_strdup (row->id);
  finding->number = (guint) row->number;
  finding->message = g_strdup (message);
  g_ptr_array_add (findings, finding);
}

static gboolean
compare_row (PawlShare          *self,
             const PawlEntryRow *row,
             GPtrArray          *findings,
             GError            **error)
{
  g_autofree char *computed = pawl_entry_row_dup_digest (row);
  g_autofree char *here = NULL;
  GError *problem = NULL;

  if (!g_str_equal (computed, row->digest))
    {
      add_finding (findings, row, "on the server this entry does not fit its digest: it was changed there");
      return TRUE;
    }
  here = pawl_copy_dup_digest (self->copy, row->id, &problem);
  if (problem != NULL)
    {
      g_propagate_error (error, problem);
      return FALSE;
    }
  if (here == NULL)
    add_finding (findings, row, "the server has this entry, and this bench's copy has not");
  else if (!g_str_equal (here, row->digest))
    add_finding (findings, row, "the server has something else under this entry's id than this bench's copy");
  return TRUE;
}

GPtrArray *
pawl_share_compare (PawlShare *self,
                    GError   **error)
{
  g_autoptr (GPtrArray) findings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_record_finding_free);
  g_auto (PawlStoreBatch) batch = { 0 };

  do
    {
      if (!pawl_store_list (self->store, batch.place, BATCH, &batch, error))
        return NULL;
      for (guint i = 0; i < batch.rows->len; i++)
        if (!compare_row (self, batch.rows->pdata[i], findings, error))
          return NULL;
    }
  while (batch.rows->len > 0);
  return g_steal_pointer (&findings);
}
