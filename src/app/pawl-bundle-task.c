#include "app/pawl-bundle-task.h"

#include <glib/gi18n.h>
#include "app/pawl-work.h"
#include "training/pawl-nameless.h"

typedef struct {
  char            *record_path, *path;
  char            *job; /* (nullable): all */
  PawlRecordHost   host;
  PawlBundleCount  saved;
  guint            n_people; /* in it as numbers; 0: with their names */
  PawlMergeCount   taken;
} Bundling;

static void
bundling_free (gpointer data)
{
  Bundling *bundling = data;

  g_free (bundling->record_path);
  g_free (bundling->path);
  g_free (bundling->job);
  g_free (bundling);
}

static char *
describe_saved (const PawlBundleCount *count)
{
  g_autofree char *size = g_format_size (count->size);
  g_autofree char *jobs = g_strdup_printf (g_dngettext (NULL, "%u job or instrument", "%u jobs and instruments", count->n_chains), count->n_chains);
  g_autofree char *entries = g_strdup_printf (g_dngettext (NULL, "%u entry", "%u entries", count->n_entries), count->n_entries);

  /* Translators: “2 jobs and instruments”, “87 entries”, “1.2 MB” */
  return g_strdup_printf (_("The bundle is saved: %s, %s, %s unpacked."), jobs, entries, size);
}

static char *
describe_nameless (const PawlBundleCount *count, guint n_people)
{
  g_autofree char *jobs = g_strdup_printf (g_dngettext (NULL, "%u job", "%u jobs", count->n_chains), count->n_chains);
  g_autofree char *people = g_strdup_printf (g_dngettext (NULL, "%u person as a number", "%u people as numbers", n_people), n_people);

  /* Translators: “60 jobs”, “13 people as numbers” */
  return g_strdup_printf (_("The jobs are saved without names: %s, %s. No record takes this file in; “pawl class --from” shows its figures."), jobs, people);
}

static void
start (GtkWidget *page, PawlRecord *record, const char *job, const char *path, GTaskThreadFunc work, GAsyncReadyCallback callback, gpointer data)
{
  g_autoptr(GTask) task = g_task_new (page, NULL, callback, data);
  Bundling *bundling = g_new0 (Bundling, 1);

  bundling->record_path = g_strdup (pawl_record_get_path (record));
  bundling->host = *pawl_record_peek_host (record);
  bundling->job = g_strdup (job);
  bundling->path = g_strdup (path);
  g_task_set_task_data (task, bundling, bundling_free);
  pawl_work_start (task, page, work);
}

static void
return_whether (GTask *task, gboolean is_done, GError *error)
{
  if (is_done)
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
save_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Bundling *bundling = data;
  const char * const jobs[] = { bundling->job, NULL };
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (bundling->record_path, PAWL_RECORD_OPEN_READ_ONLY, &bundling->host, &error);
  gboolean is_saved = record != NULL && pawl_bundle_write (record, bundling->job != NULL ? jobs : NULL, bundling->path, &bundling->saved, &error);

  return_whether (task, is_saved, error);
}

static void
save_nameless_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Bundling *bundling = data;
  GError *error = NULL;
  g_autofree char *salt = g_uuid_string_random ();
  g_autoptr(PawlRecord) record = pawl_record_open (bundling->record_path, PAWL_RECORD_OPEN_READ_ONLY, &bundling->host, &error);
  gboolean is_saved = record != NULL && pawl_nameless_write (record, NULL, bundling->path, salt, &bundling->saved, &bundling->n_people, &error);

  return_whether (task, is_saved, error);
}

static void
take_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Bundling *bundling = data;
  GError *error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (bundling->record_path, PAWL_RECORD_OPEN_CREATE, &bundling->host, &error);
  gboolean is_taken = record != NULL && pawl_bundle_merge (record, bundling->path, &bundling->taken, &error);

  return_whether (task, is_taken, error);
}

void
pawl_bundle_save_async (GtkWidget *page, PawlRecord *record, const char *job, const char *path, GAsyncReadyCallback callback, gpointer data)
{
  start (page, record, job, path, save_in_thread, callback, data);
}

void
pawl_bundle_save_nameless_async (GtkWidget *page, PawlRecord *record, const char *path, GAsyncReadyCallback callback, gpointer data)
{
  start (page, record, NULL, path, save_nameless_in_thread, callback, data);
}

char *
pawl_bundle_save_finish (GAsyncResult *result, GError **error)
{
  const Bundling *bundling = g_task_get_task_data (G_TASK (result));

  if (!g_task_propagate_boolean (G_TASK (result), error))
    return NULL;
  return bundling->n_people > 0 ? describe_nameless (&bundling->saved, bundling->n_people) : describe_saved (&bundling->saved);
}

void
pawl_bundle_take_async (GtkWidget *page, PawlRecord *record, const char *path, GAsyncReadyCallback callback, gpointer data)
{
  start (page, record, NULL, path, take_in_thread, callback, data);
}

gboolean
pawl_bundle_take_finish (GAsyncResult *result, PawlMergeCount *count, GError **error)
{
  *count = ((Bundling *) g_task_get_task_data (G_TASK (result)))->taken;
  return g_task_propagate_boolean (G_TASK (result), error);
}

/* ---- words ---- */

char *
pawl_bundle_describe_taken (const PawlMergeCount *count)
{
  g_autofree char *jobs = NULL, *entries = NULL;

  if (count->n_new_entries == 0)
    return g_strdup (_("Nothing in the bundle is new; the record has all of it."));
  jobs = g_strdup_printf (g_dngettext (NULL, "%u job or instrument is new", "%u jobs and instruments are new", count->n_new_jobs), count->n_new_jobs);
  entries = g_strdup_printf (g_dngettext (NULL, "%u entry", "%u entries", count->n_new_entries), count->n_new_entries);
  if (count->n_forked == 0)
    /* Translators: “87 entries”, “2 jobs and instruments are new” */
    return g_strdup_printf (_("The bundle is taken in: %s came, %s."), entries, jobs);
  return g_strdup_printf (g_dngettext (NULL, "The bundle is taken in: %s came, %s. %u went on in two places; its entries stand in the order in which they were written.",
                                       "The bundle is taken in: %s came, %s. %u went on in two places; their entries stand in the order in which they were written.",
                                       count->n_forked), entries, jobs, count->n_forked);
}
