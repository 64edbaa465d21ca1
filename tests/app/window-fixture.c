#include "window-fixture.h"

#include <locale.h>
#include <string.h>

#include "app/pawl-look.h"

void
window_fixture_init (int *argc, char ***argv)
{
  gtk_test_init (argc, argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
}

void
fixture_iterate (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

void
window_fixture_open (WindowFixture *self)
{
  g_autoptr(GError) error = NULL;
  PawlWindowSetting setting;

  self->settings = pawl_settings_load (NULL);
  self->trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  self->folders[0] = self->base.folder;
  setting = (PawlWindowSetting) { .record_path = self->base.record_path, .host = &self->base.host, .settings = self->settings, .trial = self->trial,
                                  .folders = self->folders };
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (self->application), NULL, &error);
  g_assert_no_error (error);
  pawl_look_install (gdk_display_get_default ());
  self->window = pawl_window_new (self->application, &setting);
  gtk_window_present (GTK_WINDOW (self->window));
  fixture_iterate ();
}

void
window_fixture_open_job (WindowFixture *self)
{
  g_assert_true (pawl_window_open_job (self->window, pawl_job_get_id (pawl_session_get_job (self->base.session))));
  fixture_iterate ();
}

void
window_fixture_tear_down (WindowFixture *self, gconstpointer data)
{
  if (self->window != NULL)
    gtk_window_destroy (GTK_WINDOW (self->window));
  g_signal_connect (self->application, "activate", G_CALLBACK (fixture_iterate), NULL);
  g_application_run (G_APPLICATION (self->application), 0, NULL);
  g_object_unref (self->application);
  g_object_unref (self->trial);
  pawl_settings_free (self->settings);
  fixture_tear_down (&self->base, NULL);
}

GtkWidget *
fixture_find (GtkWidget *within, GType type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (within, type))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = fixture_find (child, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

gboolean
fixture_shows (GtkWidget *within, const char *words)
{
  if (GTK_IS_LABEL (within) && gtk_widget_get_mapped (within) && strstr (gtk_label_get_text (GTK_LABEL (within)), words) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (fixture_shows (child, words))
      return TRUE;
  return FALSE;
}
