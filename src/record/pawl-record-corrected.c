/* What a job is known by now: its opening, with the corrections over it. Most jobs have none, so the queries tell which are worth asking for. */
#include "record/pawl-intake.h"
#include "record/pawl-record-private.h"
#include "record/pawl-record-queries.h"

static GPtrArray *
read_corrections (PawlRecord *self,
                  const char *job_id,
                  GError    **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LOAD_CORRECTED, "s", job_id);
  g_autoptr (GPtrArray) rows = statement != NULL ? pawl_record_read_rows (self, statement, error) : NULL;

  for (guint i = 0; rows != NULL && i < rows->len; i++)
    {
      PawlEntry *entry = pawl_entry_new_from_row (rows->pdata[i], error);

      if (entry == NULL)
        {
          g_prefix_error (error, "%s: ", self->database.path);
          return NULL;
        }
      g_ptr_array_add (entries, entry);
    }
  return rows != NULL ? g_steal_pointer (&entries) : NULL;
}

static gboolean
is_among (GPtrArray       *entries,
          const PawlEntry *entry)
{
  for (guint i = 0; i < entries->len; i++)
    if (g_str_equal (pawl_entry_get_id (entries->pdata[i]), pawl_entry_get_id (entry)))
      return TRUE;
  return FALSE;
}

/* In a job that was merged, which of two comes later is told by all that lies between: see pawl-chain.h. */
static GPtrArray *
sort_by_chain (PawlRecord *self,
               const char *job_id,
               GPtrArray  *corrections,
               GError    **error)
{
  g_autoptr (GPtrArray) all = pawl_record_load_entries (self, job_id, error);
  g_autoptr (GPtrArray) sorted = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

  if (all == NULL)
    return NULL;
  for (guint i = 0; i < all->len; i++)
    if (is_among (corrections, all->pdata[i]))
      g_ptr_array_add (sorted, pawl_entry_ref (all->pdata[i]));
  return g_steal_pointer (&sorted);
}

/* (transfer full) (element-type PawlEntry): what was corrected and not taken back, in the order of the job. */
static GPtrArray *
load_corrections (PawlRecord *self,
                  const char *job_id,
                  GError    **error)
{
  g_autoptr (GPtrArray) corrections = read_corrections (self, job_id, error);
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (corrections == NULL || corrections->len < 2)
    return g_steal_pointer (&corrections);
  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_IS_FORKED, "s", job_id))
      || pawl_database_step (&self->database, statement, error) < 0)
    return NULL;
  return sqlite3_column_int (statement, 0) == 0 ? g_steal_pointer (&corrections) : sort_by_chain (self, job_id, corrections, error);
}

gboolean
pawl_record_correct_texts (PawlRecord           *self,
                           const char           *job_id,
                           const PawlOpenedText *texts,
                           guint                 n_texts,
                           GError              **error)
{
  g_autoptr (GPtrArray) corrections = load_corrections (self, job_id, error);

  if (corrections == NULL)
    return FALSE;
  for (guint i = 0; i < corrections->len; i++)
    for (guint j = 0; j < n_texts; j++)
      {
        const char *corrected = pawl_intake_get_corrected (corrections->pdata[i], texts[j].field);

        if (corrected == NULL)
          continue;
        g_free (*texts[j].text);
        *texts[j].text = g_strdup (corrected);
      }
  return TRUE;
}
