#include "app/pawl-history-task.h"

#include "app/pawl-work.h"
#include "history/pawl-history.h"

typedef struct {
  char          *path;
  PawlRecordHost host;
  char          *job;
  GStrv          readings;
  char          *serial; /* (nullable) */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_free (input->path);
  g_free (input->job);
  g_strfreev (input->readings);
  g_free (input->serial);
  g_free (input);
}

static void
load_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (input->path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error);
  GPtrArray *histories = record != NULL ? pawl_history_load_several (record, input->job, (const char * const *) input->readings, input->serial,
                                                                     PAWL_CHART_AS_PRINTED, &error) : NULL;

  if (histories != NULL)
    g_task_return_pointer (task, histories, (GDestroyNotify) g_ptr_array_unref);
  else
    g_task_return_error (task, error);
}

void
pawl_history_load_async (GtkWidget *page, PawlSession *session, const char * const *readings, const char *serial, GCancellable *cancellable,
                         GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, cancellable, callback, data);
  PawlRecord *record = pawl_bench_get_record (pawl_session_get_bench (session));
  Input *input = g_new0 (Input, 1);

  input->path = g_strdup (pawl_record_get_path (record));
  input->host = *pawl_record_peek_host (record);
  input->job = g_strdup (pawl_job_get_id (pawl_session_get_job (session)));
  input->readings = g_strdupv ((char **) readings);
  input->serial = g_strdup (serial);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, load_in_thread);
}

GPtrArray *
pawl_history_load_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
