#include "app/pawl-class-task.h"

#include "app/pawl-work.h"

typedef struct {
  char          *path;
  PawlRecordHost host;
} Input;

static void
input_free (gpointer data)
{
  g_free (((Input *) data)->path);
  g_free (data);
}

static void
load_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (input->path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error);
  PawlClass *class = record != NULL ? pawl_class_load (record, NULL, &error) : NULL;

  if (class != NULL)
    g_task_return_pointer (task, class, (GDestroyNotify) pawl_class_free);
  else
    g_task_return_error (task, error);
}

void
pawl_class_load_async (GtkWidget *page, PawlRecord *record, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, cancellable, callback, data);
  Input *input = g_new0 (Input, 1);

  input->path = g_strdup (pawl_record_get_path (record));
  input->host = *pawl_record_peek_host (record);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, load_in_thread);
}

PawlClass *
pawl_class_load_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
