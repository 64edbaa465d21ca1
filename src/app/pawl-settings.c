#include "app/pawl-settings.h"

#include <gio/gio.h>

#define GROUP "window"

static char *
read_text (GKeyFile *file, const char *key)
{
  char *text = g_key_file_get_string (file, GROUP, key, NULL);

  return text != NULL ? text : g_strdup ("");
}

PawlSettings *
pawl_settings_load (const char *path)
{
  PawlSettings *self = g_new0 (PawlSettings, 1);
  g_autoptr(GKeyFile) file = g_key_file_new ();
  g_autofree char *mark = NULL;

  self->path = g_strdup (path);
  if (path != NULL)
    g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL);
  self->person = read_text (file, "person");
  self->shop_name = read_text (file, "shop-name");
  self->shop_address = read_text (file, "shop-address");
  self->has_dark = g_key_file_has_key (file, GROUP, "dark", NULL);
  self->is_dark = g_key_file_get_boolean (file, GROUP, "dark", NULL);
  self->is_bench_size = g_key_file_get_boolean (file, GROUP, "bench-size", NULL);
  self->is_letter = g_key_file_get_boolean (file, GROUP, "letter", NULL);
  self->is_inch = g_key_file_get_boolean (file, GROUP, "inch", NULL);
  mark = read_text (file, "decimal-mark");
  self->decimal_mark = g_str_equal (mark, ",") ? ',' : '.';
  return self;
}

gboolean
pawl_settings_save (const PawlSettings *self, GError **error)
{
  g_autoptr(GKeyFile) file = g_key_file_new ();
  g_autofree char *folder = NULL;
  const char mark[] = { self->decimal_mark, '\0' };

  if (self->path == NULL)
    return TRUE;
  g_key_file_set_string (file, GROUP, "person", self->person);
  g_key_file_set_string (file, GROUP, "shop-name", self->shop_name);
  g_key_file_set_string (file, GROUP, "shop-address", self->shop_address);
  if (self->has_dark)
    g_key_file_set_boolean (file, GROUP, "dark", self->is_dark);
  g_key_file_set_boolean (file, GROUP, "bench-size", self->is_bench_size);
  g_key_file_set_boolean (file, GROUP, "letter", self->is_letter);
  g_key_file_set_boolean (file, GROUP, "inch", self->is_inch);
  g_key_file_set_string (file, GROUP, "decimal-mark", mark);
  folder = g_path_get_dirname (self->path);
  g_mkdir_with_parents (folder, 0700);
  return g_key_file_save_to_file (file, self->path, error);
}

void
pawl_settings_free (PawlSettings *self)
{
  g_free (self->path);
  g_free (self->person);
  g_free (self->shop_name);
  g_free (self->shop_address);
  g_free (self);
}

void
pawl_settings_set_person (PawlSettings *self, const char *person)
{
  char *copy = g_strdup (person);

  g_free (self->person);
  self->person = copy;
}
