#include "app/pawl-record-work.h"

#include "app/pawl-work.h"

typedef struct {
  char          *path;
  PawlRecordHost host;
  PawlRecordFold fold;
  GDestroyNotify free_result;
} Input;

static void
input_free (gpointer data)
{
  g_free (((Input *) data)->path);
  g_free (data);
}

static void
fold_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (input->path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error);
  gpointer result = record != NULL ? input->fold (record, &error) : NULL;

  if (result != NULL)
    g_task_return_pointer (task, result, input->free_result);
  else
    g_task_return_error (task, error);
}

void
pawl_record_work_start (GtkWidget *page, PawlRecord *record, PawlRecordFold fold, GDestroyNotify free_result, GCancellable *cancellable,
                        GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, cancellable, callback, data);
  Input *input = g_new0 (Input, 1);

  *input = (Input) { g_strdup (pawl_record_get_path (record)), *pawl_record_peek_host (record), fold, free_result };
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, fold_in_thread);
}

gpointer
pawl_record_work_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
