/*
 * Verifying one chain, forked or not: what was changed, is missing, was moved or was put in.
 *
 * Each fault is told once, at the entry that it happened to. An entry that does not fit its digest was changed; what it says about its
 * place is then not believed, and its followers are sound if they name the stored digest or the true one. A number below which there is
 * none shows that entries are missing. What follows something that is not here, or not the one below it, shows that something was
 * replaced or moved. And the ends of the branches are compared with the noted ones: that shows what is missing at an end, and what was
 * put in with a digest that fits, wherever in the chain, because it makes an end that nobody noted.
 */
#include "record/pawl-record-verify-private.h"

#include "record/pawl-chain.h"

/*
 * Not as a job is loaded: there SQLite takes job and number from the index that it searches, and would never see that they were
 * changed in the entry itself. Found by rowid, every column comes from the entry.
 */
static const char LOAD_STORED_ENTRIES[] =
  "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE rowid IN (SELECT rowid FROM entry WHERE job = ?) ORDER BY number";
static const char LOAD_NOTED_ENDS[] = "SELECT number, digest FROM head WHERE job = ? ORDER BY number, digest";

static const char COUNT_NOTED_ENDS[] = "SELECT count (*) FROM head WHERE job = ?";

typedef struct {
  PawlCheck  *check;
  const char *job;
  GPtrArray  *rows;      /* (element-type PawlEntryRow): in the order of the job */
  char      **computed;  /* digests as they should be, a row each */
  gboolean    is_forked;
  guint       n_noted;   /* how many ends it has by the notes */
  GHashTable *by_digest; /* stored digest, and true digest → row */
  GHashTable *numbers;   /* (element-type gint64): that there is an entry of */
  GHashTable *followed;  /* digests that some entry follows */
  GHashTable *holes;     /* (element-type gint64): numbers of entries that are told of already */
} Walk;

static void
clear_walk (Walk *self)
{
  g_ptr_array_unref (self->rows);
  g_strfreev (self->computed);
  g_hash_table_unref (self->by_digest);
  g_hash_table_unref (self->numbers);
  g_hash_table_unref (self->followed);
  g_hash_table_unref (self->holes);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Walk, clear_walk)

static GHashTable *
new_numbers (void)
{
  return g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
}

static void
add_number (GHashTable *numbers,
            gint64      number)
{
  g_hash_table_add (numbers, g_memdup2 (&number, sizeof number));
}

/* ---- reading ---- */

static gboolean
load_rows (Walk    *self,
           GError **error)
{
  const PawlDatabase *database = &self->check->record->database;
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (database, error, LOAD_STORED_ENTRIES, "s", self->job)))
    return FALSE;
  while ((more = pawl_database_step (database, statement, error)) > 0)
    {
      PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

      pawl_entry_row_read (row, statement);
      g_ptr_array_add (self->rows, row);
    }
  return more == 0;
}

static void
index_rows (Walk *self)
{
  pawl_chain_sort_rows (self->rows);
  self->computed = g_new0 (char *, self->rows->len + 1);
  for (guint i = 0; i < self->rows->len; i++)
    {
      PawlEntryRow *row = self->rows->pdata[i];
      g_autofree char **names = g_strsplit (row->previous, " ", -1);

      self->computed[i] = pawl_entry_row_dup_digest (row);
      self->is_forked |= g_hash_table_contains (self->numbers, &row->number);
      add_number (self->numbers, row->number);
      g_hash_table_insert (self->by_digest, row->digest, row);
      for (guint j = 0; names[j] != NULL; j++)
        g_hash_table_add (self->followed, names[j]);
    }
  for (guint i = 0; i < self->rows->len; i++)
    if (!g_hash_table_contains (self->by_digest, self->computed[i]))
      g_hash_table_insert (self->by_digest, self->computed[i], self->rows->pdata[i]);
}

/* ---- what is missing ---- */

/* Tells of the entries up to @last, from the one after the last that is there. */
static void
add_missing (Walk  *self,
             gint64 last)
{
  gint64 first = last;

  while (first > 1 && !g_hash_table_contains (self->numbers, &(gint64) { first - 1 }))
    first--;
  if (g_hash_table_contains (self->holes, &last))
    return;

  add_number (self->holes, first);
  add_number (self->holes, last);
  if (first == last)
    pawl_check_add (self->check, self->job, NULL, first, "entry %" G_GINT64_FORMAT " is missing", first);
  else
    pawl_check_add (self->check, self->job, NULL, first, "entries %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT " are missing", first, last);
}

/* Of a branch, whose other entries may be missing, too. */
static void
add_missing_end (Walk       *self,
                 gint64      number,
                 const char *digest)
{
  add_number (self->holes, number);
  pawl_check_add (self->check, self->job, NULL, number,
                  "entry %" G_GINT64_FORMAT " is missing, the end of a branch, with the digest %s", number, digest);
}

/* ---- one entry ---- */

static gboolean
check_named_bytes (Walk               *self,
                   const PawlEntryRow *row,
                   const char         *field,
                   const char         *digest,
                   GError            **error)
{
  PawlKeptState state;

  if (!pawl_check_look_up_kept (self->check, digest, &state, error))
    return FALSE;

  if (state != PAWL_KEPT_WHOLE)
    pawl_check_add (self->check, self->job, row->id, row->number, "entry %" G_GINT64_FORMAT " names kept bytes (%s) that %s: %s", row->number,
                    field, state == PAWL_KEPT_MISSING ? "are missing" : "were changed", digest);
  return TRUE;
}

static gboolean
check_content (Walk               *self,
               const PawlEntryRow *row,
               GError            **error)
{
  g_autoptr (GError) unreadable = NULL;
  g_autoptr (PawlEntry) entry = pawl_entry_new_from_row (row, &unreadable);
  const char *const *fields;

  if (entry == NULL)
    {
      pawl_check_add (self->check, self->job, row->id, row->number, "%s", unreadable->message);
      return TRUE;
    }

  fields = pawl_chain_peek_kept_fields (pawl_entry_get_kind (entry));
  for (guint i = 0; fields[i] != NULL; i++)
    {
      const char *digest = pawl_entry_get (entry, fields[i]);

      if (digest != NULL && !check_named_bytes (self, row, fields[i], digest, error))
        return FALSE;
    }
  return TRUE;
}

static void
add_misplaced (Walk               *self,
               const PawlEntryRow *row)
{
  add_number (self->holes, row->number);
  if (self->is_forked)
    pawl_check_add (self->check, self->job, row->id, row->number,
                    "entry %" G_GINT64_FORMAT " (%s) follows an entry that is not here: that one was removed, replaced or moved", row->number, row->id);
  else
    pawl_check_add (self->check, self->job, row->id, row->number,
                    "entry %" G_GINT64_FORMAT " does not follow the one before it: one of them was inserted, replaced or moved", row->number);
}

/* What an entry that fits its digest says of its place. */
static void
check_place (Walk               *self,
             const PawlEntryRow *row)
{
  gint64 below = row->number - 1;

  if (*row->previous == '\0' && row->number == 1)
    {
      if (!pawl_chain_is_opening (row))
        pawl_check_add (self->check, self->job, row->id, row->number, "entry 1 does not open its chain");
    }
  else if (below > 0 && strchr (row->previous, ' ') == NULL && !g_hash_table_contains (self->numbers, &below))
    add_missing (self, below);
  else if (*row->previous == '\0' || pawl_chain_count_under (self->by_digest, row) != row->number)
    add_misplaced (self, row);
}

static gboolean
check_rows (Walk    *self,
            GError **error)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      const PawlEntryRow *row = self->rows->pdata[i];

      if (!g_str_equal (self->computed[i], row->digest))
        {
          add_number (self->holes, row->number);
          pawl_check_add (self->check, self->job, row->id, row->number,
                          "entry %" G_GINT64_FORMAT " does not fit its digest: it was changed after it was stored, or never written by Pawl", row->number);
          continue;
        }
      if (!check_content (self, row, error))
        return FALSE;
      check_place (self, row);
    }
  return TRUE;
}

/* ---- the ends ---- */

/* An end that nobody noted, unless what follows it is told of already. */
static void
check_unnoted (Walk               *self,
               const PawlEntryRow *row,
               gint64              noted)
{
  if (g_hash_table_contains (self->holes, &(gint64) { row->number + 1 }))
    return;

  if (row->number > noted)
    pawl_check_add (self->check, self->job, row->id, row->number,
                    "entry %" G_GINT64_FORMAT " was not appended by Pawl: the chain has come to entry %" G_GINT64_FORMAT, row->number, noted);
  else
    pawl_check_add (self->check, self->job, row->id, row->number,
                    "entry %" G_GINT64_FORMAT " (%s) was not appended by Pawl, or what follows it is missing: no branch of the chain ends with it",
                    row->number, row->id);
}

static gboolean
is_followed (Walk *self,
             guint i)
{
  return g_hash_table_contains (self->followed, ((PawlEntryRow *) self->rows->pdata[i])->digest)
         || g_hash_table_contains (self->followed, self->computed[i]);
}

/* What follows an end that was noted makes an end that was not; so when none is found, the note itself is wrong. */
static void
check_unnoted_ends (Walk       *self,
                    GHashTable *noted,
                    gint64      largest)
{
  guint n_before = self->check->findings->len;

  for (guint i = 0; i < self->rows->len; i++)
    if (!is_followed (self, i) && !g_hash_table_contains (noted, self->rows->pdata[i]))
      check_unnoted (self, self->rows->pdata[i], largest);

  for (guint i = 0; i < self->rows->len && self->check->findings->len == n_before; i++)
    if (is_followed (self, i) && g_hash_table_contains (noted, self->rows->pdata[i]))
      {
        const PawlEntryRow *row = self->rows->pdata[i];

        pawl_check_add (self->check, self->job, row->id, row->number,
                        "entry %" G_GINT64_FORMAT " is noted as one that the chain had come to, but others follow it", row->number);
      }
}

/* (nullable): an end with this number that was put in the place of the noted one. */
static const PawlEntryRow *
find_replacement (Walk  *self,
                  gint64 number)
{
  for (guint i = 0; i < self->rows->len; i++)
    {
      const PawlEntryRow *row = self->rows->pdata[i];

      if (row->number == number && !is_followed (self, i))
        return row;
    }
  return NULL;
}

static void
check_noted_end (Walk       *self,
                 GHashTable *noted,
                 gint64      number,
                 const char *digest)
{
  const PawlEntryRow *row = g_hash_table_lookup (self->by_digest, digest);

  if (row == NULL && (row = find_replacement (self, number)) != NULL)
    pawl_check_add (self->check, self->job, row->id, number,
                    "entry %" G_GINT64_FORMAT " is not the one that the chain had come to: it was replaced", number);
  else if (row == NULL && self->n_noted > 1)
    add_missing_end (self, number, digest);
  else if (row == NULL || row->number < number)
    add_missing (self, number);
  else if (row->number > number)
    pawl_check_add (self->check, self->job, row->id, row->number,
                    "entry %" G_GINT64_FORMAT " was not appended by Pawl: the chain has come to entry %" G_GINT64_FORMAT, row->number, number);

  if (row != NULL)
    g_hash_table_add (noted, (gpointer) row);
}

static gboolean
count_noted (Walk    *self,
             GError **error)
{
  const PawlDatabase *database = &self->check->record->database;
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (database, error, COUNT_NOTED_ENDS, "s", self->job))
      || (more = pawl_database_step (database, statement, error)) < 0)
    return FALSE;

  self->n_noted = (guint) sqlite3_column_int64 (statement, 0);
  return TRUE;
}

/* The chain can't know that its newest entries are gone; the noted ends do. */
static gboolean
check_ends (Walk    *self,
            GError **error)
{
  const PawlDatabase *database = &self->check->record->database;
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (GHashTable) noted = g_hash_table_new (NULL, NULL);
  gint64 largest = 0;
  int more;

  if (!count_noted (self, error))
    return FALSE;

  if (!(statement = pawl_database_prepare (database, error, LOAD_NOTED_ENDS, "s", self->job)))
    return FALSE;
  while ((more = pawl_database_step (database, statement, error)) > 0)
    {
      largest = sqlite3_column_int64 (statement, 0);
      check_noted_end (self, noted, largest, pawl_statement_get_text (statement, 1));
    }
  if (more < 0)
    return FALSE;

  if (largest == 0 && self->rows->len == 0)
    {
      pawl_record_set_no_such_job (self->check->record, self->job, error);
      return FALSE;
    }
  if (largest == 0)
    {
      const PawlEntryRow *last = self->rows->pdata[self->rows->len - 1];

      pawl_check_add (self->check, self->job, last->id, last->number, "the note of how far its chain has come is missing");
      return TRUE;
    }

  check_unnoted_ends (self, noted, largest);
  return TRUE;
}

gboolean
pawl_check_chain (PawlCheck  *check,
                  const char *job_id,
                  GError    **error)
{
  g_auto (Walk) walk = {
    .check = check,
    .job = job_id,
    .rows = pawl_chain_new_rows (),
    .by_digest = g_hash_table_new (g_str_hash, g_str_equal),
    .numbers = new_numbers (),
    .followed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL),
    .holes = new_numbers (),
  };

  if (!load_rows (&walk, error))
    return FALSE;

  index_rows (&walk);
  return check_rows (&walk, error) && check_ends (&walk, error);
}
