#include "app/pawl-wait-task.h"

#include "app/pawl-plan-task.h"
#include "app/pawl-work.h"
#include "bench/pawl-bench.h"
#include "plan/pawl-waiting.h"

typedef struct {
  char          *path;
  PawlRecordHost host;
  char          *language; /* (nullable) */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_free (input->path);
  g_free (input->language);
  g_free (input);
}

/* A job that can't be read is told about where it is listed; here it just doesn't wait. */
static void
add_waits (GPtrArray *waits, PawlRecord *record, const char *id, const char *language)
{
  g_autoptr(PawlBench) bench = pawl_bench_resume (record, id, language, NULL);
  g_autoptr(GPtrArray) list = bench != NULL ? pawl_waiting_list (pawl_bench_get_job (bench)) : NULL;

  if (list != NULL)
    g_ptr_array_extend_and_steal (waits, g_steal_pointer (&list));
}

static void
list_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (input->path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error);
  g_autoptr(GPtrArray) lines = record != NULL ? pawl_record_list_jobs (record, &error) : NULL;
  GPtrArray *waits;

  if (lines == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  waits = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_free);
  for (guint i = 0; i < lines->len && i < PAWL_DAY_PLAN_JOBS; i++)
    if (!((const PawlJobLine *) lines->pdata[i])->is_signed)
      add_waits (waits, record, ((const PawlJobLine *) lines->pdata[i])->id, input->language);
  g_task_return_pointer (task, waits, (GDestroyNotify) g_ptr_array_unref);
}

void
pawl_wait_list_async (GtkWidget *page, PawlRecord *record, const char *language, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, cancellable, callback, data);
  Input *input = g_new0 (Input, 1);

  input->path = g_strdup (pawl_record_get_path (record));
  input->host = *pawl_record_peek_host (record);
  input->language = g_strdup (language);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, list_in_thread);
}

GPtrArray *
pawl_wait_list_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
