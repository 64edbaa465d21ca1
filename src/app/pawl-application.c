#include "app/pawl-application.h"

#include <glib/gi18n.h>
#include "app/pawl-look.h"
#include "app/pawl-window-private.h"

struct _PawlApplication {
  GtkApplication parent_instance;

  char         *record_path;
  char         *data_folder;
  char         *shared_procedures, *own_procedures; /* folders */
  PawlSettings *settings;
  PawlTrial    *trial;
  char         *drawn; /* folder */
  char         *memory; /* file, of waits */
  char         *drafts; /* folder */
  const char   *folders[3];
};

G_DEFINE_FINAL_TYPE (PawlApplication, pawl_application, GTK_TYPE_APPLICATION)

static const GOptionEntry options[] = {
  { "record", 0, 0, G_OPTION_ARG_FILENAME, NULL, N_("Keep jobs in this record"), N_("FILE") },
  { "data", 0, 0, G_OPTION_ARG_FILENAME, NULL, N_("Find procedures in this folder"), N_("FOLDER") },
  { NULL }
};

/* With a record of its own a second program must not hand its files to the first. */
static int
pawl_application_handle_local_options (GApplication *application, GVariantDict *found)
{
  PawlApplication *self = PAWL_APPLICATION (application);
  const char *path;

  if (g_variant_dict_lookup (found, "record", "^&ay", &path))
    {
      g_free (self->record_path);
      self->record_path = g_strdup (path);
      g_application_set_flags (application, g_application_get_flags (application) | G_APPLICATION_NON_UNIQUE);
    }
  if (g_variant_dict_lookup (found, "data", "^&ay", &path))
    {
      g_free (self->data_folder);
      self->data_folder = g_strdup (path);
    }
  return -1;
}

static void
pawl_application_startup (GApplication *application)
{
  PawlApplication *self = PAWL_APPLICATION (application);
  g_autofree char *settings_path = g_build_filename (g_get_user_config_dir (), "pawl", "window.ini", NULL);
  g_autofree char *verdicts = g_build_filename (g_get_user_cache_dir (), "pawl", "verdicts", NULL);
  g_autofree char *helper = pawl_trial_dup_helper_path ();

  G_APPLICATION_CLASS (pawl_application_parent_class)->startup (application);
  self->settings = pawl_settings_load (settings_path);
  self->trial = pawl_trial_new (helper, verdicts);
  self->drawn = g_build_filename (g_get_user_cache_dir (), "pawl", "figures", NULL);
  self->memory = g_build_filename (g_get_user_state_dir (), "pawl", "waits.ini", NULL);
  self->drafts = g_build_filename (g_get_user_state_dir (), "pawl", "drafts", NULL);
  self->shared_procedures = g_build_filename (self->data_folder, "procedures", NULL);
  self->own_procedures = g_build_filename (g_get_user_data_dir (), "pawl", "procedures", NULL);
  self->folders[0] = self->shared_procedures;
  self->folders[1] = self->own_procedures;
  pawl_look_install (gdk_display_get_default ());
  pawl_window_set_accels (GTK_APPLICATION (application));
  gtk_window_set_default_icon_name (PAWL_APPLICATION_ID);
}

static PawlWindow *
ensure_window (PawlApplication *self)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));
  const char * const *languages = g_get_language_names ();
  PawlWindowSetting setting = {
    .record_path = self->record_path, .host = pawl_record_host_get_system (), .settings = self->settings, .trial = self->trial,
    .drawn = self->drawn, .memory = self->memory, .drafts = self->drafts,
    .folders = self->folders, .language = g_str_equal (languages[0], "C") ? NULL : languages[0],
  };

  return window != NULL ? PAWL_WINDOW (window) : pawl_window_new (GTK_APPLICATION (self), &setting);
}

static void
pawl_application_activate (GApplication *application)
{
  gtk_window_present (GTK_WINDOW (ensure_window (PAWL_APPLICATION (application))));
}

static void
pawl_application_open (GApplication *application, GFile **files, int n_files, const char *hint)
{
  PawlWindow *window = ensure_window (PAWL_APPLICATION (application));

  for (int i = 0; i < n_files; i++)
    if (g_file_peek_path (files[i]) != NULL)
      pawl_window_open_file (window, g_file_peek_path (files[i]));
  gtk_window_present (GTK_WINDOW (window));
}

static void
pawl_application_finalize (GObject *object)
{
  PawlApplication *self = PAWL_APPLICATION (object);

  g_free (self->record_path);
  g_free (self->data_folder);
  g_free (self->shared_procedures);
  g_free (self->own_procedures);
  g_clear_pointer (&self->settings, pawl_settings_free);
  g_clear_object (&self->trial);
  g_free (self->drawn);
  g_free (self->memory);
  g_free (self->drafts);
  G_OBJECT_CLASS (pawl_application_parent_class)->finalize (object);
}

static void
pawl_application_class_init (PawlApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pawl_application_finalize;
  application_class->handle_local_options = pawl_application_handle_local_options;
  application_class->startup = pawl_application_startup;
  application_class->activate = pawl_application_activate;
  application_class->open = pawl_application_open;
}

static void
pawl_application_init (PawlApplication *self)
{
  self->record_path = pawl_record_dup_default_path (NULL);
  g_application_add_main_option_entries (G_APPLICATION (self), options);
}

PawlApplication *
pawl_application_new (const char *data_folder, GApplicationFlags flags)
{
  PawlApplication *self = g_object_new (PAWL_TYPE_APPLICATION, "application-id", PAWL_APPLICATION_ID,
                                        "flags", flags | G_APPLICATION_HANDLES_OPEN, "resource-base-path", "/org/pawl/Pawl", NULL);

  self->data_folder = g_strdup (data_folder);
  return self;
}
