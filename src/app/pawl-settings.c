#include "app/pawl-settings.h"

#include <gio/gio.h>

#define GROUP "window"

static char *
read_text (GKeyFile *file, const char *key)
{
  char *text = g_key_file_get_string (file, GROUP, key, NULL);

  return text != NULL ? text : g_strdup ("");
}

/* Shops used to be in the window's file: what is there counts until there is a file of their own. */
static void
load_shop (PawlSettings *self, GKeyFile *file)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = self->path != NULL ? g_path_get_dirname (self->path) : NULL;
  g_autofree char *name = read_text (file, "shop-name"), *address = read_text (file, "shop-address");

  self->shop_path = folder != NULL ? g_build_filename (folder, "shop.ini", NULL) : NULL;
  self->shop = pawl_shop_load (self->shop_path, &error);
  if (self->shop == NULL)
    {
      self->shop_problem = g_strdup (error->message);
      self->shop = pawl_shop_new ();
    }
  else if (self->shop_path != NULL && !g_file_test (self->shop_path, G_FILE_TEST_EXISTS))
    {
      pawl_shop_set_text (&self->shop->name, name);
      pawl_shop_set_text (&self->shop->address, address);
      self->shop->paper = g_key_file_get_boolean (file, GROUP, "letter", NULL) ? PAWL_PAPER_LETTER : PAWL_PAPER_A4;
    }
}

/* ---- who reads which unit ---- */

static const char * const lengths_keys[] = { NULL, "people-in-mm", "people-in-inches" };

static char *
fold (const char *person)
{
  g_autofree char *stripped = g_strstrip (g_strdup (person));

  return g_utf8_casefold (stripped, -1);
}

static void
load_lengths (PawlSettings *self, GKeyFile *file)
{
  self->lengths_by_person = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (PawlLengths lengths = PAWL_LENGTHS_IN_MM; lengths <= PAWL_LENGTHS_IN_INCHES; lengths++)
    {
      g_auto(GStrv) people = g_key_file_get_string_list (file, GROUP, lengths_keys[lengths], NULL, NULL);

      for (guint i = 0; people != NULL && people[i] != NULL; i++)
        g_hash_table_insert (self->lengths_by_person, fold (people[i]), GINT_TO_POINTER (lengths));
    }
  self->is_inch_for_all = g_key_file_get_boolean (file, GROUP, "inch", NULL);
  pawl_settings_use_lengths_of (self, self->person);
}

/* In the order of the names, so that the file is the same however they came. */
static void
save_lengths (const PawlSettings *self, GKeyFile *file)
{
  g_autoptr(GList) people = g_list_sort (g_hash_table_get_keys (self->lengths_by_person), (GCompareFunc) g_strcmp0);

  for (PawlLengths lengths = PAWL_LENGTHS_IN_MM; lengths <= PAWL_LENGTHS_IN_INCHES; lengths++)
    {
      g_autoptr(GPtrArray) names = g_ptr_array_new ();

      for (GList *at = people; at != NULL; at = at->next)
        if (GPOINTER_TO_INT (g_hash_table_lookup (self->lengths_by_person, at->data)) == (int) lengths)
          g_ptr_array_add (names, at->data);
      if (names->len > 0)
        g_key_file_set_string_list (file, GROUP, lengths_keys[lengths], (const char * const *) names->pdata, names->len);
    }
  g_key_file_set_boolean (file, GROUP, "inch", self->is_inch_for_all);
}

void
pawl_settings_use_lengths_of (PawlSettings *self, const char *person)
{
  g_autofree char *name = fold (person);
  PawlLengths said = GPOINTER_TO_INT (g_hash_table_lookup (self->lengths_by_person, name));

  self->lengths = said != PAWL_LENGTHS_AS_TYPED ? said : self->is_inch_for_all ? PAWL_LENGTHS_IN_INCHES : PAWL_LENGTHS_AS_TYPED;
  self->is_inch = self->lengths == PAWL_LENGTHS_IN_INCHES;
}

void
pawl_settings_set_inch (PawlSettings *self, const char *person, gboolean is_inch)
{
  char *name = fold (person);

  if (*name == '\0')
    {
      self->is_inch_for_all = is_inch;
      g_free (name);
    }
  else
    g_hash_table_insert (self->lengths_by_person, name, GINT_TO_POINTER (is_inch ? PAWL_LENGTHS_IN_INCHES : PAWL_LENGTHS_IN_MM));
  pawl_settings_use_lengths_of (self, person);
}

/* ---- file ---- */

PawlSettings *
pawl_settings_load (const char *path)
{
  PawlSettings *self = g_new0 (PawlSettings, 1);
  g_autoptr(GKeyFile) file = g_key_file_new ();
  g_autofree char *mark = NULL, *print = NULL;

  self->path = g_strdup (path);
  if (path != NULL)
    g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, NULL);
  self->person = read_text (file, "person");
  self->bench = read_text (file, "bench");
  load_shop (self, file);
  self->has_dark = g_key_file_has_key (file, GROUP, "dark", NULL);
  self->is_dark = g_key_file_get_boolean (file, GROUP, "dark", NULL);
  self->is_glare = g_key_file_get_boolean (file, GROUP, "glare", NULL);
  self->has_sound = g_key_file_get_boolean (file, GROUP, "sound", NULL);
  self->is_bench_size = g_key_file_get_boolean (file, GROUP, "bench-size", NULL);
  self->is_ask_first = g_key_file_get_boolean (file, GROUP, "ask-first", NULL);
  load_lengths (self, file);
  self->has_histories = g_key_file_get_boolean (file, GROUP, "histories", NULL);
  print = read_text (file, "print");
  pawl_print_parse (print, &self->print);
  self->photo_folder = read_text (file, "photo-folder");
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
  g_key_file_set_string (file, GROUP, "bench", self->bench);
  g_key_file_set_boolean (file, GROUP, "histories", self->has_histories);
  g_key_file_set_string (file, GROUP, "print", pawl_print_get_name (self->print));
  if (self->has_dark)
    g_key_file_set_boolean (file, GROUP, "dark", self->is_dark);
  g_key_file_set_boolean (file, GROUP, "glare", self->is_glare);
  g_key_file_set_boolean (file, GROUP, "sound", self->has_sound);
  g_key_file_set_boolean (file, GROUP, "bench-size", self->is_bench_size);
  g_key_file_set_boolean (file, GROUP, "ask-first", self->is_ask_first);
  save_lengths (self, file);
  g_key_file_set_string (file, GROUP, "decimal-mark", mark);
  g_key_file_set_string (file, GROUP, "photo-folder", self->photo_folder);
  folder = g_path_get_dirname (self->path);
  g_mkdir_with_parents (folder, 0700);
  return g_key_file_save_to_file (file, self->path, error);
}

gboolean
pawl_settings_save_shop (PawlSettings *self, GError **error)
{
  if (self->shop_path != NULL && !pawl_shop_save (self->shop, self->shop_path, error))
    return FALSE;
  g_clear_pointer (&self->shop_problem, g_free);
  return TRUE;
}

void
pawl_settings_free (PawlSettings *self)
{
  g_free (self->path);
  g_free (self->person);
  g_free (self->bench);
  g_free (self->shop_path);
  g_free (self->shop_problem);
  g_free (self->photo_folder);
  g_hash_table_unref (self->lengths_by_person);
  pawl_shop_free (self->shop);
  g_free (self);
}

/* @text may be what @field holds. */
static void
set_text (char **field, const char *text)
{
  char *copy = g_strdup (text);

  g_free (*field);
  *field = copy;
}

void
pawl_settings_set_person (PawlSettings *self, const char *person)
{
  set_text (&self->person, person);
}

void
pawl_settings_set_bench (PawlSettings *self, const char *bench)
{
  set_text (&self->bench, bench);
}

void
pawl_settings_set_photo_folder (PawlSettings *self, const char *folder)
{
  set_text (&self->photo_folder, folder);
}
