/*
 * The order of a job's entries.
 *
 * Where nothing was merged, each entry follows one other, and the order is that of their numbers. In a forked chain it is: an entry comes
 * after all that it follows; of those that could come next, the one that was written first, by the instant; of two written at the same
 * instant, the one with the smaller id. So each bench's entries stay in the order in which they were appended there, two benches'
 * interleave by the clock, and the order depends on nothing but which entries there are: not on who merged what when.
 */
#include "record/pawl-chain.h"

#include "record/pawl-record.h"

/* ---- the order ---- */

static int
compare_written (gconstpointer a,
                 gconstpointer b,
                 gpointer      data)
{
  const PawlLink *first = a;
  const PawlLink *second = b;

  if (first->written_usec != second->written_usec)
    return first->written_usec < second->written_usec ? -1 : 1;
  return strcmp (first->id, second->id);
}

static int
compare_numbers (gconstpointer a,
                 gconstpointer b)
{
  const PawlLink *first = a;
  const PawlLink *second = b;

  if (first->number != second->number)
    return first->number < second->number ? -1 : 1;
  return compare_written (a, b, NULL);
}

gboolean
pawl_chain_is_forked (GArray *links)
{
  for (guint i = 1; i < links->len; i++)
    if (g_array_index (links, PawlLink, i).number == g_array_index (links, PawlLink, i - 1).number)
      return TRUE;

  return FALSE;
}

/* A link on its way into the order. */
typedef struct {
  PawlLink   link; /* first: compared as one */
  guint      n_missing; /* how many of those that it follows have not come yet */
  GPtrArray *followers; /* (element-type Waiting) */
  gboolean   has_come;
} Waiting;

static void
clear_waiting (Waiting *self)
{
  g_ptr_array_unref (self->followers);
}

/* What is not there can't be waited for: a damaged job still has an order. */
static void
wait_for_previous (GHashTable *by_digest,
                   Waiting    *self)
{
  g_auto (GStrv) names = g_strsplit (self->link.previous, " ", -1);

  for (guint i = 0; names[i] != NULL; i++)
    {
      Waiting *before = g_hash_table_lookup (by_digest, names[i]);

      if (before == NULL || before == self)
        continue;
      g_ptr_array_add (before->followers, self);
      self->n_missing++;
    }
}

static void
come (GArray    *links,
      GSequence *ready,
      Waiting   *next)
{
  g_array_append_val (links, next->link);
  next->has_come = TRUE;
  for (guint i = 0; i < next->followers->len; i++)
    {
      Waiting *follower = next->followers->pdata[i];

      if (--follower->n_missing == 0)
        g_sequence_insert_sorted (ready, follower, compare_written, NULL);
    }
}

static void
sort_forked (GArray *links)
{
  g_autoptr (GHashTable) by_digest = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GArray) all = g_array_sized_new (FALSE, TRUE, sizeof (Waiting), links->len);
  GSequence *ready = g_sequence_new (NULL);

  g_array_set_clear_func (all, (GDestroyNotify) clear_waiting);
  g_array_set_size (all, links->len);
  for (guint i = 0; i < all->len; i++)
    {
      Waiting *self = &g_array_index (all, Waiting, i);

      self->link = g_array_index (links, PawlLink, i);
      self->followers = g_ptr_array_new ();
      g_hash_table_insert (by_digest, (gpointer) self->link.digest, self);
    }
  for (guint i = 0; i < all->len; i++)
    wait_for_previous (by_digest, &g_array_index (all, Waiting, i));

  g_array_set_size (links, 0);
  for (guint i = 0; i < all->len; i++)
    if (g_array_index (all, Waiting, i).n_missing == 0)
      g_sequence_insert_sorted (ready, &g_array_index (all, Waiting, i), compare_written, NULL);
  while (!g_sequence_is_empty (ready))
    {
      GSequenceIter *first = g_sequence_get_begin_iter (ready);
      Waiting *next = g_sequence_get (first);

      g_sequence_remove (first);
      come (links, ready, next);
    }

  /* Only of a damaged job: entries that follow one another in a ring. They keep the order of their numbers. */
  for (guint i = 0; i < all->len; i++)
    if (!g_array_index (all, Waiting, i).has_come)
      g_array_append_val (links, g_array_index (all, Waiting, i).link);
  g_sequence_free (ready);
}

void
pawl_chain_sort (GArray *links)
{
  g_array_sort (links, compare_numbers);
  if (pawl_chain_is_forked (links))
    sort_forked (links);
}

/* ---- rows ---- */

static void
free_row (PawlEntryRow *row)
{
  pawl_entry_row_clear (row);
  g_free (row);
}

GPtrArray *
pawl_chain_new_rows (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) free_row);
}

static gint64
read_instant (const char *text)
{
  g_autoptr (GDateTime) time = pawl_time_from_text (text);

  return time != NULL ? pawl_time_get_usec (time) : 0;
}

void
pawl_chain_sort_rows (GPtrArray *rows)
{
  g_autoptr (GArray) links = g_array_sized_new (FALSE, FALSE, sizeof (PawlLink), rows->len);

  for (guint i = 0; i < rows->len; i++)
    {
      const PawlEntryRow *row = rows->pdata[i];
      PawlLink link = { row->id, row->previous, row->digest, row->number, read_instant (row->written), rows->pdata[i] };

      g_array_append_val (links, link);
    }
  pawl_chain_sort (links);
  for (guint i = 0; i < rows->len; i++)
    rows->pdata[i] = g_array_index (links, PawlLink, i).item;
}

static int
compare_digests (gconstpointer a,
                 gconstpointer b)
{
  return strcmp ((*(const PawlEntryRow *const *) a)->digest, (*(const PawlEntryRow *const *) b)->digest);
}

GPtrArray *
pawl_chain_list_ends (GPtrArray *rows)
{
  g_autoptr (GHashTable) followed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GPtrArray *ends = g_ptr_array_new ();

  for (guint i = 0; i < rows->len; i++)
    {
      g_autofree char **names = g_strsplit (((PawlEntryRow *) rows->pdata[i])->previous, " ", -1);

      for (guint j = 0; names[j] != NULL; j++)
        g_hash_table_add (followed, names[j]);
    }
  for (guint i = 0; i < rows->len; i++)
    if (!g_hash_table_contains (followed, ((PawlEntryRow *) rows->pdata[i])->digest))
      g_ptr_array_add (ends, rows->pdata[i]);
  g_ptr_array_sort (ends, compare_digests);
  return ends;
}

/* Adds @row and all under it to @seen. Not by recursion: a branch may be as long as a job. */
static gboolean
collect_under (GHashTable         *by_digest,
               const PawlEntryRow *row,
               GHashTable         *seen)
{
  g_autoptr (GPtrArray) open = g_ptr_array_new ();

  g_ptr_array_add (open, (gpointer) row);
  while (open->len > 0)
    {
      const PawlEntryRow *next = g_ptr_array_steal_index_fast (open, open->len - 1);
      g_auto (GStrv) names = NULL;

      if (!g_hash_table_add (seen, (gpointer) next) || *next->previous == '\0')
        continue;
      names = g_strsplit (next->previous, " ", -1);
      for (guint i = 0; names[i] != NULL; i++)
        {
          gpointer before = g_hash_table_lookup (by_digest, names[i]);

          if (before == NULL)
            return FALSE;
          g_ptr_array_add (open, before);
        }
    }
  return TRUE;
}

gint64
pawl_chain_count_under (GHashTable         *by_digest,
                        const PawlEntryRow *row)
{
  g_autoptr (GHashTable) seen = NULL;
  const PawlEntryRow *before;

  if (*row->previous == '\0')
    return 1;
  if (strchr (row->previous, ' ') == NULL)
    return (before = g_hash_table_lookup (by_digest, row->previous)) != NULL ? before->number + 1 : 0;

  seen = g_hash_table_new (NULL, NULL);
  return collect_under (by_digest, row, seen) ? g_hash_table_size (seen) : 0;
}

/* ---- a whole chain ---- */

gboolean
pawl_chain_is_opening (const PawlEntryRow *row)
{
  return g_str_equal (row->id, row->job)
         && (g_str_equal (row->kind, pawl_entry_kind_get_name (PAWL_ENTRY_OPENED))
             || g_str_equal (row->kind, pawl_entry_kind_get_name (PAWL_ENTRY_INSTRUMENT_STATED))
             || g_str_equal (row->kind, pawl_entry_kind_get_name (PAWL_ENTRY_PERSON_STATED)));
}

static gboolean
set_unfit (const PawlEntryRow *row,
           const char         *what,
           GError            **error)
{
  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "entry %" G_GINT64_FORMAT " (%s) of job %s %s", row->number, row->id, row->job, what);
  return FALSE;
}

/* The ends that a join names are sorted and different: one way to write it. */
static gboolean
is_well_written (const char *previous)
{
  g_auto (GStrv) names = g_strsplit (previous, " ", -1);

  for (guint i = 0; names[i] != NULL; i++)
    if (strlen (names[i]) != 64 || (i > 0 && strcmp (names[i - 1], names[i]) >= 0))
      return FALSE;
  return TRUE;
}

static gboolean
check_row (const PawlEntryRow *row,
           const PawlEntryRow *opening,
           GHashTable         *by_digest,
           GHashTable         *ids,
           GError            **error)
{
  g_autofree char *computed = pawl_entry_row_dup_digest (row);
  g_autoptr (PawlEntry) entry = NULL;
  gboolean is_first = row == opening;

  if (!g_str_equal (computed, row->digest))
    return set_unfit (row, "does not fit its digest: it was changed", error);
  if (!(entry = pawl_entry_new_from_row (row, error)))
    return FALSE;
  if (!g_str_equal (row->job, opening->job) || !g_hash_table_add (ids, row->id))
    return set_unfit (row, "is in the wrong place", error);
  if (is_first != (*row->previous == '\0') || is_first != pawl_chain_is_opening (row))
    return set_unfit (row, is_first ? "is not the opening of its job" : "is a second opening of its job", error);
  if (!is_first && !is_well_written (row->previous))
    return set_unfit (row, "does not say in Pawl's way what it follows", error);
  if (pawl_chain_count_under (by_digest, row) != row->number)
    return set_unfit (row, "does not follow what is here: an entry before it is missing, or was replaced or moved", error);
  if (pawl_entry_kind_is_of_instrument (pawl_entry_get_kind (entry))
        != g_str_equal (opening->kind, pawl_entry_kind_get_name (PAWL_ENTRY_INSTRUMENT_STATED))
      || pawl_entry_kind_is_of_person (pawl_entry_get_kind (entry))
           != g_str_equal (opening->kind, pawl_entry_kind_get_name (PAWL_ENTRY_PERSON_STATED)))
    return set_unfit (row, "is of a kind that does not belong into its chain", error);
  return TRUE;
}

/* In the order, so that what an entry follows is known to be sound before it is. */
gboolean
pawl_chain_check (GPtrArray *rows,
                  GError   **error)
{
  g_autoptr (GHashTable) by_digest = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr (GHashTable) ids = g_hash_table_new (g_str_hash, g_str_equal);

  if (rows->len == 0)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "a job without entries is none");
      return FALSE;
    }

  for (guint i = 0; i < rows->len; i++)
    {
      PawlEntryRow *row = rows->pdata[i];

      if (!check_row (row, rows->pdata[0], by_digest, ids, error))
        return FALSE;
      g_hash_table_insert (by_digest, row->digest, row);
    }
  return TRUE;
}

/* ---- small things ---- */

/**
 * pawl_chain_dup_head:
 * @ends: digests of the ends of a job's branches, sorted, blanks between
 *
 * One digest that vouches for all entries of the job. Of a chain that does not fork it is the digest of the last entry; else SHA-256
 * over the netstrings of "pawl-head-1" and of @ends, as in pawl_entry_row_dup_digest().
 *
 * Returns: (transfer full): 64 hex digits
 */
char *
pawl_chain_dup_head (const char *ends)
{
  g_autofree char *text = NULL;

  if (strchr (ends, ' ') == NULL)
    return g_strdup (ends);

  text = g_strdup_printf ("11:pawl-head-1,%" G_GSIZE_FORMAT ":%s,", strlen (ends), ends);
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

const char *const *
pawl_chain_peek_kept_fields (PawlEntryKind kind)
{
  static const char *const of_opened[] = { "procedure", "figure", NULL };
  static const char *const of_one[] = { "digest", NULL }; /* a photo; a note of a report that was issued */
  static const char *const none[] = { NULL };

  if (kind == PAWL_ENTRY_OPENED)
    return of_opened;
  return kind == PAWL_ENTRY_PHOTO || kind == PAWL_ENTRY_NOTED ? of_one : none;
}
