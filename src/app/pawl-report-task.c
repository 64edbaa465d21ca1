#include "app/pawl-report-task.h"

#include <glib/gi18n.h>
#include "app/pawl-work.h"
#include "history/pawl-history.h"
#include "report/pawl-issue.h"

typedef struct {
  PawlJob    *job;
  PawlTrial  *trial;
  GBytes     *figure;      /* (nullable) */
  char       *figure_name;
  GHashTable *photos;      /* (element-type utf8 GBytes) by digest */
  PawlShop   *shop;
  PawlPrint   print;
  char       *record_path; /* (nullable): of histories that are wanted */
  PawlRecordHost host;
  char       *head;
  GDateTime  *issued;
  char       *path;        /* to save; NULL: preview */
  double      pixels_per_point;
  char       *problem;     /* (nullable): what was left out, and why */
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_object_unref (input->job);
  g_object_unref (input->trial);
  g_clear_pointer (&input->figure, g_bytes_unref);
  g_free (input->figure_name);
  g_hash_table_unref (input->photos);
  pawl_shop_free (input->shop);
  g_free (input->record_path);
  g_free (input->head);
  g_date_time_unref (input->issued);
  g_free (input->path);
  g_free (input->problem);
  g_free (input);
}

void
pawl_report_pages_free (PawlReportPages *self)
{
  g_ptr_array_unref (self->pages);
  g_free (self->problem);
  g_free (self);
}

/* The record stays on its thread: photos are fetched before the worker starts. */
static void
fetch_photos (Input *input, PawlRecord *record)
{
  GPtrArray *entries = pawl_job_get_entries (input->job);

  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      const char *digest = pawl_entry_get_kind (entry) == PAWL_ENTRY_PHOTO ? pawl_entry_get (entry, "digest") : NULL;
      GBytes *bytes = digest != NULL ? pawl_record_load_kept (record, digest, NULL) : NULL;

      if (bytes != NULL)
        g_hash_table_replace (input->photos, g_strdup (digest), bytes);
    }
}

static Input *
input_new (PawlSession *session, const PawlSettings *settings, PawlTrial *trial)
{
  PawlBench *bench = pawl_session_get_bench (session);
  PawlRecord *record = pawl_bench_get_record (bench);
  Input *input = g_new0 (Input, 1);

  input->job = g_object_ref (pawl_session_get_job (session));
  input->trial = g_object_ref (trial);
  input->figure = pawl_bench_peek_figure (bench) != NULL ? g_bytes_ref (pawl_bench_peek_figure (bench)) : NULL;
  input->figure_name = g_path_get_basename (pawl_procedure_get_figure (pawl_bench_get_procedure (bench)));
  input->photos = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  input->shop = pawl_shop_copy (settings->shop);
  input->print = settings->print;
  input->record_path = settings->has_histories ? g_strdup (pawl_record_get_path (record)) : NULL;
  input->host = *pawl_record_peek_host (record);
  input->head = pawl_record_dup_head (record, pawl_job_get_id (input->job), NULL);
  input->issued = pawl_bench_now (bench);
  fetch_photos (input, record);
  return input;
}

static GBytes *
load_kept (const char *digest, gpointer data)
{
  GBytes *bytes = g_hash_table_lookup (((Input *) data)->photos, digest);

  return bytes != NULL ? g_bytes_ref (bytes) : NULL;
}

/* (nullable): a report is worth having without the logo. */
static PawlLogo *
load_logo (Input *input, GCancellable *cancellable)
{
  g_autoptr(GError) error = NULL;
  PawlLogo *logo = *input->shop->logo != '\0' ? pawl_logo_load (input->trial, input->shop->logo, cancellable, &error) : NULL;

  if (error != NULL)
    input->problem = g_strdup (error->message);
  return logo;
}

/* (nullable): a report is worth having without them, too. */
static GPtrArray *
load_histories (Input *input)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlRecord) record = input->record_path != NULL
    ? pawl_record_open (input->record_path, PAWL_RECORD_OPEN_READ_ONLY, &input->host, &error) : NULL;
  GPtrArray *histories = record != NULL ? pawl_history_load_of_job (record, input->job, PAWL_CHART_AS_PRINTED, &error) : NULL;

  if (error != NULL && input->problem == NULL)
    input->problem = g_strdup (error->message);
  return histories;
}

/* A figure that can't be drawn is left out of the report, which says why. Clauses that can't be read are an error: the title hangs on them. */
static PawlReport *
lay_out (Input *input, GCancellable *cancellable, GError **error)
{
  g_autoptr(GError) figure_error = NULL;
  g_autoptr(PawlClauses) clauses = *input->shop->clauses != '\0' ? pawl_clauses_load (input->shop->clauses, error) : pawl_clauses_load_default ();
  g_autoptr(PawlFigure) figure = clauses != NULL && input->figure != NULL
    ? pawl_trial_load_bytes (input->trial, input->figure, input->figure_name, PAWL_TRIAL_KEPT, cancellable, &figure_error) : NULL;
  g_auto(GStrv) changes = pawl_issue_list_changes (input->job, input->print);
  g_autoptr(PawlLogo) logo = clauses != NULL ? load_logo (input, cancellable) : NULL;
  g_autoptr(GPtrArray) histories = clauses != NULL ? load_histories (input) : NULL;
  PawlReportOptions options = { .histories = histories, .print = input->print, .paper = input->shop->paper, .shop = input->shop, .logo = logo, .clauses = clauses,
                                .issued = input->issued, .head = input->head, .version = pawl_issue_next_version (input->job, input->print),
                                .changes = (const char * const *) changes,
                                .figure_problem = figure_error != NULL ? figure_error->message : NULL };

  return clauses != NULL ? pawl_report_new (input->job, figure, &options, load_kept, input) : NULL;
}

static GdkTexture *
draw_page (PawlReport *report, guint n, double width, double height, double pixels_per_point)
{
  int pixels_wide = (int) (width * pixels_per_point + 0.5), pixels_high = (int) (height * pixels_per_point + 0.5);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, pixels_wide, pixels_high);
  cairo_t *cr = cairo_create (surface);
  g_autoptr(GBytes) bytes = NULL;

  cairo_scale (cr, pixels_per_point, pixels_per_point);
  pawl_report_draw_page (report, n, cr);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  bytes = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface),
                                      (gsize) cairo_image_surface_get_stride (surface) * (gsize) pixels_high,
                                      (GDestroyNotify) cairo_surface_destroy, surface);
  return gdk_memory_texture_new (pixels_wide, pixels_high, GDK_MEMORY_DEFAULT, bytes, (gsize) cairo_image_surface_get_stride (surface));
}

static void
preview_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlReport) report = lay_out (input, cancellable, &error);
  PawlReportPages *result;

  if (report == NULL)
    {
      g_task_return_error (task, error);
      return;
    }
  result = g_new0 (PawlReportPages, 1);
  result->problem = g_steal_pointer (&input->problem);
  result->pages = g_ptr_array_new_with_free_func (g_object_unref);
  pawl_report_get_page_size (report, &result->width, &result->height);
  for (guint i = 0; i < pawl_report_get_n_pages (report) && !g_cancellable_is_cancelled (cancellable); i++)
    g_ptr_array_add (result->pages, draw_page (report, i, result->width, result->height, input->pixels_per_point));
  g_task_return_pointer (task, result, (GDestroyNotify) pawl_report_pages_free);
}

static void
save_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Input *input = data;
  GError *error = NULL;
  g_autoptr(PawlReport) report = lay_out (input, cancellable, &error);

  if (report != NULL && pawl_report_write_pdf (report, input->path, &error))
    g_task_return_int (task, (gssize) pawl_report_get_n_pages (report));
  else
    g_task_return_error (task, error);
}

static void
sheaf_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  GError *error = NULL;
  g_autoptr(PawlReport) report = lay_out (data, cancellable, &error);

  if (report != NULL)
    g_task_return_pointer (task, pawl_sheaf_new (pawl_report_get_pages (report)), (GDestroyNotify) pawl_sheaf_free);
  else
    g_task_return_error (task, error);
}

void
pawl_report_preview_async (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial, double pixels_per_point,
                           GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (session, cancellable, callback, data);
  Input *input = input_new (session, settings, trial);

  input->pixels_per_point = pixels_per_point;
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, preview_in_thread);
}

PawlReportPages *
pawl_report_preview_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}

void
pawl_report_save_async (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial, const char *path,
                        GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (session, cancellable, callback, data);
  Input *input = input_new (session, settings, trial);

  input->path = g_strdup (path);
  g_task_set_task_data (task, input, input_free);
  pawl_work_start (task, page, save_in_thread);
}

guint
pawl_report_save_finish (GAsyncResult *result, GError **error)
{
  gssize n_pages = g_task_propagate_int (G_TASK (result), error);

  return n_pages > 0 ? (guint) n_pages : 0;
}

void
pawl_report_sheaf_async (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial,
                         GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (session, cancellable, callback, data);

  g_task_set_task_data (task, input_new (session, settings, trial), input_free);
  pawl_work_start (task, page, sheaf_in_thread);
}

PawlSheaf *
pawl_report_sheaf_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
