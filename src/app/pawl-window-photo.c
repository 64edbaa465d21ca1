/* The photo that a step asks for before it hides something: the newest of the camera's folder, or a word that there is none. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-photo-folder.h"
#include "app/pawl-work.h"
#include "job/pawl-job-photos.h"

typedef struct {
  char      *folder;
  GDateTime *since;
} Search;

static void
search_free (gpointer data)
{
  Search *self = data;

  g_free (self->folder);
  g_date_time_unref (self->since);
  g_free (self);
}

static void
search_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Search *search = data;
  g_autoptr(GError) error = NULL;
  GFile *newest = pawl_photo_folder_find_newest (search->folder, search->since, cancellable, &error);

  if (error != NULL)
    g_task_return_error (task, g_steal_pointer (&error));
  else
    g_task_return_pointer (task, newest, g_object_unref);
}

/* What can't be found is chosen by hand, in the same folder. */
static void
found_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlWindow *self = PAWL_WINDOW (source);
  g_autoptr(GError) error = NULL;
  g_autoptr(GFile) newest = g_task_propagate_pointer (G_TASK (result), &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->session == NULL)
    return;
  if (newest != NULL)
    pawl_window_attach_photo (self, newest);
  else
    pawl_window_choose_photo (self);
}

/* A picture may be older than the tick that the fit is right, but not older than the step before it. */
static GDateTime *
find_begin (PawlJob *job, const PawlAskState *fit)
{
  const PawlAttempt *answer = fit->attempts->len > 0 ? fit->attempts->pdata[fit->attempts->len - 1] : NULL;
  GPtrArray *entries = pawl_job_get_entries (job);
  GDateTime *begin = pawl_entry_peek_at (entries->pdata[0]);

  for (guint i = 0; answer != NULL && i < entries->len && entries->pdata[i] != answer->entry; i++)
    if (pawl_entry_get_kind (entries->pdata[i]) == PAWL_ENTRY_STEP_DONE)
      begin = pawl_entry_peek_at (entries->pdata[i]);
  return begin;
}

void
pawl_window_take_newest_photo (PawlWindow *self)
{
  const PawlSettings *settings = pawl_window_get_settings (self);
  const PawlStepState *step = pawl_session_peek_step (self->session);
  g_autoptr(GPtrArray) wanted = step != NULL ? pawl_step_list_photos_wanted (step) : g_ptr_array_new ();
  g_autoptr(GTask) task = NULL;
  Search *search;

  if (wanted->len == 0 || *settings->photo_folder == '\0')
    {
      pawl_window_choose_photo (self);
      return;
    }
  search = g_new0 (Search, 1);
  search->folder = g_strdup (settings->photo_folder);
  search->since = g_date_time_ref (find_begin (pawl_session_get_job (self->session), wanted->pdata[0]));
  task = g_task_new (self, self->cancellable, found_cb, NULL);
  g_task_set_task_data (task, search, search_free);
  pawl_work_start (task, GTK_WIDGET (self), search_in_thread);
}

void
pawl_window_go_without_photo (PawlWindow *self)
{
  g_autoptr(GError) error = NULL;

  if (!pawl_session_go_without_photo (self->session, pawl_step_panel_get_photo_reason (pawl_window_get_panel (self)), &error))
    pawl_step_panel_say (pawl_window_get_panel (self), error->message);
}
