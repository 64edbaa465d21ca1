#include "app/pawl-sheet-task.h"

#include "app/pawl-work.h"

typedef struct {
  PawlProcedure   *procedure;
  GBytes          *figure;
  const PawlPhase *phase; /* goes with the procedure */
  PawlShop        *shop;
  PawlTrial       *trial;
  GDateTime       *issued;
  char            *path;  /* to save; NULL: a sheaf */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_object_unref (input->procedure);
  g_clear_pointer (&input->figure, g_bytes_unref);
  pawl_shop_free (input->shop);
  g_object_unref (input->trial);
  g_date_time_unref (input->issued);
  g_free (input->path);
  g_free (input);
}

static PawlFigure *
load_figure (const Input *input, GCancellable *cancellable)
{
  g_autofree char *name = g_path_get_basename (pawl_procedure_get_figure (input->procedure));

  return input->figure != NULL ? pawl_trial_load_bytes (input->trial, input->figure, name, PAWL_TRIAL_KEPT, cancellable, NULL) : NULL;
}

static void
write_pages (GTask *task, PawlPages *pages, const char *path)
{
  GError *error = NULL;
  g_autoptr(GBytes) pdf = pawl_pages_make_pdf (pages, &error);

  if (pdf != NULL && pawl_pages_write (pdf, path, &error))
    g_task_return_int (task, (gssize) pawl_pages_get_n (pages));
  else
    g_task_return_error (task, error);
}

static void
lay_out_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  const PawlSheetOptions options = { .paper = input->shop->paper, .phase = input->phase, .shop = input->shop, .issued = input->issued };
  g_autoptr(PawlFigure) figure = load_figure (input, cancellable);
  g_autoptr(PawlPages) pages = pawl_sheet_new (input->procedure, figure, &options);

  if (input->path != NULL)
    write_pages (task, pages, input->path);
  else
    g_task_return_pointer (task, pawl_sheaf_new (pages), (GDestroyNotify) pawl_sheaf_free);
}

static void
start (GtkWidget *page, const PawlSheetWish *wish, const char *path, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, NULL, callback, data);
  Input *input = g_new0 (Input, 1);

  input->procedure = g_object_ref (wish->procedure);
  input->figure = wish->figure != NULL ? g_bytes_ref (wish->figure) : NULL;
  input->phase = wish->phase;
  input->shop = pawl_shop_copy (wish->shop);
  input->trial = g_object_ref (wish->trial);
  input->issued = g_date_time_ref (wish->issued);
  input->path = g_strdup (path);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, lay_out_in_thread);
}

void
pawl_sheet_save_async (GtkWidget *page, const PawlSheetWish *wish, const char *path, GAsyncReadyCallback callback, gpointer data)
{
  start (page, wish, path, callback, data);
}

guint
pawl_sheet_save_finish (GAsyncResult *result, GError **error)
{
  gssize n_pages = g_task_propagate_int (G_TASK (result), error);

  return n_pages > 0 ? (guint) n_pages : 0;
}

void
pawl_sheet_sheaf_async (GtkWidget *page, const PawlSheetWish *wish, GAsyncReadyCallback callback, gpointer data)
{
  start (page, wish, NULL, callback, data);
}

PawlSheaf *
pawl_sheet_sheaf_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
