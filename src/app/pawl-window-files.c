/* Files that somebody chooses or drops on the window: procedures, bundles and photos. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-photo-file.h"
#include "app/pawl-procedures-page.h"

void
pawl_window_open_file (PawlWindow *self, const char *path)
{
  pawl_window_show_start (self, "procedures");
  pawl_procedures_page_open (PAWL_PROCEDURES_PAGE (self->procedures), path);
}

static void
attached_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlWindow) self = data;
  g_autoptr(GError) error = NULL;

  if (!pawl_photo_file_attach_finish (result, &error) && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    pawl_window_say (self, error->message);
}

void
pawl_window_attach_photo (PawlWindow *self, GFile *file)
{
  pawl_photo_file_attach_async (file, self->session, self->cancellable, attached_cb, g_object_ref (self));
}

static void
procedure_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;

  if (file != NULL && g_file_peek_path (file) != NULL)
    pawl_window_open_file (self, g_file_peek_path (file));
  g_clear_object (&self->chooser);
}

/* Where the camera's pictures lie: the next one is looked for there. */
static void
remember_folder (PawlWindow *self, GFile *file)
{
  g_autoptr(GFile) folder = g_file_get_parent (file);

  if (folder == NULL || g_file_peek_path (folder) == NULL)
    return;
  pawl_settings_set_photo_folder (pawl_window_get_settings (self), g_file_peek_path (folder));
  pawl_settings_save (pawl_window_get_settings (self), NULL);
}

static void
photo_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;

  if (file != NULL && self->session != NULL)
    {
      remember_folder (self, file);
      pawl_window_attach_photo (self, file);
    }
  g_clear_object (&self->chooser);
}

/* @folder: where to begin, "" for wherever the chooser likes */
static void
choose (PawlWindow *self, const char *title, const char *filter_name, const char *media_type, const char *folder, GCallback chosen)
{
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new ();

  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"), _("Never mind"));
  gtk_file_filter_set_name (filter, filter_name);
  gtk_file_filter_add_mime_type (filter, media_type);
  if (g_str_has_suffix (media_type, "xml"))
    gtk_file_filter_add_suffix (filter, "xml");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), filter);
  if (*folder != '\0')
    {
      g_autoptr(GFile) file = g_file_new_for_path (folder);

      gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (self->chooser), file, NULL);
    }
  g_signal_connect_object (self->chooser, "response", chosen, self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
pawl_window_choose_file (PawlWindow *self)
{
  choose (self, _("Open a procedure"), _("Procedures (XML)"), "application/xml", "", G_CALLBACK (procedure_chosen_cb));
}

void
pawl_window_choose_photo (PawlWindow *self)
{
  choose (self, _("Keep a photo with this step"), _("Pictures"), "image/*", pawl_window_get_settings (self)->photo_folder, G_CALLBACK (photo_chosen_cb));
}

static gboolean
dropped_cb (GtkDropTarget *target, const GValue *value, double x, double y, PawlWindow *self)
{
  GSList *files = g_value_get_boxed (value);

  for (; files != NULL; files = files->next)
    {
      const char *path = g_file_peek_path (files->data);

      if (path != NULL && g_str_has_suffix (path, ".xml"))
        pawl_window_open_file (self, path);
      else if (path != NULL && g_str_has_suffix (path, ".zip"))
        pawl_window_take_bundle (self, path);
      else if (self->session != NULL)
        pawl_window_attach_photo (self, files->data);
    }
  return TRUE;
}

void
pawl_window_install_drop (PawlWindow *self)
{
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (drop, "drop", G_CALLBACK (dropped_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}
