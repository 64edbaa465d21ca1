/* The jobs of a procedure out of the record, folded one after another. */
#include "bench/pawl-job-loader.h"
#include "history/pawl-history.h"
#include "job/pawl-results.h"

/* (nullable): a unit comes back: its serial fits several jobs, and as long as all are of one procedure, that is meant. */
static const char *
find_by_serial (GPtrArray *lines, const char *serial)
{
  const char *found = NULL;

  for (guint i = 0; i < lines->len; i++)
    {
      const PawlJobLine *line = lines->pdata[i];

      if (g_ascii_strcasecmp (line->serial, serial) != 0)
        continue;
      if (found != NULL && !g_str_equal (found, line->procedure))
        return NULL;
      found = line->procedure;
    }
  return found;
}

/* (transfer full) (nullable): the id of the procedure that is meant. */
static char *
find_id (PawlRecord *record, GPtrArray *lines, const char *what, GError **error)
{
  g_autofree char *job_id = NULL;
  const char *serial;

  for (guint i = 0; i < lines->len; i++)
    if (g_str_equal (((PawlJobLine *) lines->pdata[i])->procedure, what))
      return g_strdup (what);
  if ((serial = find_by_serial (lines, what)) != NULL)
    return g_strdup (serial);
  if (!(job_id = pawl_record_find_job (record, what, error)))
    return NULL;
  for (guint i = 0; i < lines->len; i++)
    if (g_str_equal (((PawlJobLine *) lines->pdata[i])->id, job_id))
      return g_strdup (((PawlJobLine *) lines->pdata[i])->procedure);
  g_set_error (error, PAWL_HISTORY_ERROR, PAWL_HISTORY_ERROR_NO_PROCEDURE, "no job is of a procedure “%s”", what);
  return NULL;
}

/* The list has the newest activity first; the fold's words and limits are to be the newest job's. @histories: of one procedure and serial */
static gboolean
add_jobs (PawlJobLoader *self, GPtrArray *lines, PawlHistory *const *histories, guint n, GError **error)
{
  const PawlHistory *history = histories[0];
  g_autoptr(GError) missing = NULL;

  for (guint i = lines->len; i > 0; i--)
    {
      const PawlJobLine *line = lines->pdata[i - 1];
      g_autoptr(PawlJob) job = NULL;

      if (!g_str_equal (line->procedure, history->procedure))
        continue;
      if (*history->serial != '\0' && g_ascii_strcasecmp (line->serial, history->serial) != 0)
        continue;
      if (!(job = pawl_job_loader_fold (self, line->id, error)))
        return FALSE;
      for (guint j = 0; j < n; j++)
        {
          g_clear_error (&missing);
          pawl_history_add_job (histories[j], job, &missing);
        }
    }
  if (history->n_jobs > 0 || missing == NULL)
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&missing));
  return FALSE;
}

GPtrArray *
pawl_history_load_several (PawlRecord *record, const char *what, const char * const *readings, const char *serial, PawlChartFactors factors,
                           GError **error)
{
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error);
  g_autofree char *id = lines != NULL ? find_id (record, lines, what, error) : NULL;
  g_autoptr(GPtrArray) histories = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_history_free);
  g_autoptr(PawlJobLoader) loader = pawl_job_loader_new (record);

  if (id == NULL)
    return NULL;
  for (guint i = 0; readings[i] != NULL; i++)
    g_ptr_array_add (histories, pawl_history_new (id, readings[i], serial));
  if (histories->len > 0 && !add_jobs (loader, lines, (PawlHistory **) histories->pdata, histories->len, error))
    return NULL;
  for (guint i = 0; i < histories->len; i++)
    pawl_history_finish (histories->pdata[i], factors);
  return g_steal_pointer (&histories);
}

PawlHistory *
pawl_history_load (PawlRecord *record, const char *what, const char *reading, const char *serial, PawlChartFactors factors, GError **error)
{
  const char *readings[] = { reading, NULL };
  g_autoptr(GPtrArray) histories = pawl_history_load_several (record, what, readings, serial, factors, error);

  return histories != NULL ? g_ptr_array_steal_index (histories, 0) : NULL;
}

/* (transfer full) (element-type PawlHistory): not filled yet; a reading with places is too much for a page. */
static GPtrArray *
list_readings (PawlJob *job)
{
  g_autoptr(GPtrArray) results = pawl_results_of_readings (job);
  GPtrArray *histories = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_history_free);
  const char *procedure = pawl_procedure_get_id (pawl_job_get_procedure (job));

  for (guint i = 0; i < results->len; i++)
    {
      const PawlAsk *ask = ((PawlResult *) results->pdata[i])->as_left->ask;

      if (ask->reading->spots->len == 0 && pawl_limits_get_kind (ask->reading->limits) != PAWL_LIMITS_CHOICE)
        g_ptr_array_add (histories, pawl_history_new (procedure, ask->id, NULL));
    }
  return histories;
}

GPtrArray *
pawl_history_load_of_job (PawlRecord *record, PawlJob *job, PawlChartFactors factors, GError **error)
{
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error);
  g_autoptr(GPtrArray) histories = list_readings (job);
  g_autoptr(PawlJobLoader) loader = pawl_job_loader_new (record);

  if (lines == NULL || (histories->len > 0 && !add_jobs (loader, lines, (PawlHistory **) histories->pdata, histories->len, error)))
    return NULL;
  for (guint i = histories->len; i > 0; i--)
    {
      pawl_history_finish (histories->pdata[i - 1], factors);
      if (!((PawlHistory *) histories->pdata[i - 1])->has_chart)
        g_ptr_array_remove_index (histories, i - 1);
    }
  return g_steal_pointer (&histories);
}
