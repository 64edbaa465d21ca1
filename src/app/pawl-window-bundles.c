/* Bundles: a job, or the whole record, as one file for another bench, and taking one in. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-bundle-task.h"

/* A tick in the dialog that saves all jobs. */
#define NAMELESS "without-names"

/* ---- saving ---- */

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlWindow *self = PAWL_WINDOW (source);
  g_autoptr(GError) error = NULL;
  g_autofree char *words = pawl_bundle_save_finish (result, &error);

  if (self->record != NULL) /* the window may have gone meanwhile */
    pawl_window_say (self, words != NULL ? words : error->message);
}

static void
save (PawlWindow *self, GtkNativeDialog *chooser, int response, const char *job)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  gboolean is_nameless = g_strcmp0 (gtk_file_chooser_get_choice (GTK_FILE_CHOOSER (chooser), NAMELESS), "true") == 0;

  g_clear_object (&self->chooser);
  if (file == NULL || g_file_peek_path (file) == NULL || self->record == NULL)
    return;
  pawl_window_say (self, _("The bundle is being written…"));
  if (is_nameless)
    pawl_bundle_save_nameless_async (GTK_WIDGET (self), self->record, g_file_peek_path (file), saved_cb, NULL);
  else
    pawl_bundle_save_async (GTK_WIDGET (self), self->record, job, g_file_peek_path (file), saved_cb, NULL);
}

static void
job_file_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  save (self, chooser, self->session != NULL ? response : GTK_RESPONSE_CANCEL, self->session != NULL ? pawl_job_get_id (pawl_session_get_job (self->session)) : NULL);
}

static void
record_file_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  save (self, chooser, response, NULL);
}

static void
choose_file (PawlWindow *self, const char *title, GtkFileChooserAction action, const char *accept, const char *name, gboolean may_be_nameless, GCallback chosen)
{
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new ();

  if (self->chooser != NULL || self->record == NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (self), action, accept, _("Never mind"));
  gtk_file_filter_set_name (filter, _("Bundles (zip)"));
  gtk_file_filter_add_suffix (filter, "zip");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), filter);
  if (name != NULL)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), name);
  g_signal_connect_object (self->chooser, "response", chosen, self, 0);
  if (may_be_nameless)
    gtk_file_chooser_add_choice (GTK_FILE_CHOOSER (self->chooser), NAMELESS, _("Without people’s names, for figures alone"), NULL, NULL);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
pawl_window_save_job (PawlWindow *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  const char *order = pawl_job_get_field (job, "work-order");
  g_autofree char *stem = g_strdup (*order != '\0' ? order : pawl_job_get_id (job));
  g_autofree char *name = NULL;

  g_strcanon (stem, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", '-');
  name = g_strdup_printf (_("job-%s.pawl.zip"), stem);
  choose_file (self, _("Save this job as a bundle"), GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"), name, FALSE, G_CALLBACK (job_file_chosen_cb));
}

void
pawl_window_save_record (PawlWindow *self)
{
  choose_file (self, _("Save all jobs as a bundle"), GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"), _("jobs.pawl.zip"), TRUE, G_CALLBACK (record_file_chosen_cb));
}

/* ---- taking in ---- */

static void
taken_in_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlWindow *self = PAWL_WINDOW (source);
  PawlMergeCount count;
  g_autoptr(GError) error = NULL;
  g_autofree char *words = NULL;

  if (pawl_bundle_take_finish (result, &count, &error))
    {
      words = pawl_bundle_describe_taken (&count);
      if (self->record != NULL)
        pawl_window_take_note_of_others (self);
    }
  else
    words = g_strdup_printf (_("%s; nothing was taken from it"), error->message);
  if (self->record != NULL)
    pawl_window_say (self, words);
}

void
pawl_window_take_bundle (PawlWindow *self, const char *path)
{
  if (self->record == NULL)
    return;
  pawl_window_say (self, _("The bundle is being read…"));
  pawl_bundle_take_async (GTK_WIDGET (self), self->record, path, taken_in_cb, NULL);
}

static void
bundle_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;

  g_clear_object (&self->chooser);
  if (file != NULL && g_file_peek_path (file) != NULL)
    pawl_window_take_bundle (self, g_file_peek_path (file));
}

void
pawl_window_choose_bundle (PawlWindow *self)
{
  choose_file (self, _("Take in a bundle"), GTK_FILE_CHOOSER_ACTION_OPEN, _("Take in"), NULL, FALSE, G_CALLBACK (bundle_chosen_cb));
}
