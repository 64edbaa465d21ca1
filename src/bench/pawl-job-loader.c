#include "bench/pawl-job-loader.h"

#include "procedure/pawl-reader.h"

struct _PawlJobLoader {
  PawlRecord *record;
  GHashTable *procedures; /* (element-type utf8 PawlProcedure) by digest */
  GDateTime  *now;
};

PawlJobLoader *
pawl_job_loader_new (PawlRecord *record)
{
  PawlJobLoader *self = g_new0 (PawlJobLoader, 1);

  self->record = g_object_ref (record);
  self->procedures = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  self->now = pawl_record_dup_now (record);
  return self;
}

void
pawl_job_loader_free (PawlJobLoader *self)
{
  g_object_unref (self->record);
  g_hash_table_unref (self->procedures);
  g_date_time_unref (self->now);
  g_free (self);
}

static PawlProcedure *
find_procedure (PawlJobLoader *self, PawlEntry *opened, GError **error)
{
  const char *digest = pawl_entry_get (opened, "procedure"), *name = pawl_entry_get (opened, "procedure-file");
  PawlProcedure *procedure = digest != NULL ? g_hash_table_lookup (self->procedures, digest) : NULL;
  g_autoptr(GBytes) bytes = NULL;

  if (procedure != NULL)
    return procedure;
  if (digest == NULL)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "job %s does not say by which procedure it is done", pawl_entry_get_job (opened));
      return NULL;
    }
  if (!(bytes = pawl_record_load_kept (self->record, digest, error))
      || !(procedure = pawl_procedure_load_bytes (bytes, name != NULL ? name : "procedure.xml", NULL, error)))
    return NULL;
  g_hash_table_insert (self->procedures, g_strdup (digest), procedure);
  return procedure;
}

PawlJob *
pawl_job_loader_fold (PawlJobLoader *self, const char *job_id, GError **error)
{
  g_autoptr(GPtrArray) entries = pawl_record_load_entries (self->record, job_id, error);
  PawlProcedure *procedure = entries != NULL ? find_procedure (self, entries->pdata[0], error) : NULL;

  return procedure != NULL ? pawl_job_fold (procedure, entries, self->now) : NULL;
}

GPtrArray *
pawl_job_loader_fold_all (PawlRecord *record, GError **error)
{
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error), jobs = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr(PawlJobLoader) loader = pawl_job_loader_new (record);

  if (lines == NULL)
    return NULL;
  for (guint i = lines->len; i > 0; i--)
    {
      PawlJob *job = pawl_job_loader_fold (loader, ((PawlJobLine *) lines->pdata[i - 1])->id, error);

      if (job == NULL)
        return NULL;
      g_ptr_array_add (jobs, job);
    }
  return g_steal_pointer (&jobs);
}
