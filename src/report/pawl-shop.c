#include "report/pawl-shop.h"

#include <errno.h>
#include <gio/gio.h>
#include <glib/gstdio.h>

#include "measure/pawl-policy.h"

G_DEFINE_QUARK (pawl-shop-error-quark, pawl_shop_error)

#define GROUP "shop"
#define MAX_KEEP_YEARS 999

static const struct { const char *key; size_t offset; } texts[] = {
  { "name", G_STRUCT_OFFSET (PawlShop, name) },
  { "address", G_STRUCT_OFFSET (PawlShop, address) },
  { "registration", G_STRUCT_OFFSET (PawlShop, registration) },
  { "logo", G_STRUCT_OFFSET (PawlShop, logo) },
  { "warranty", G_STRUCT_OFFSET (PawlShop, warranty) },
  { "footer", G_STRUCT_OFFSET (PawlShop, footer) },
  { "policy", G_STRUCT_OFFSET (PawlShop, policy) },
  { "hours", G_STRUCT_OFFSET (PawlShop, hours) },
  { "clauses", G_STRUCT_OFFSET (PawlShop, clauses) },
};

static char **
get_text (const PawlShop *self, guint i)
{
  return (char **) (gpointer) ((char *) (gpointer) self + texts[i].offset);
}

PawlShop *
pawl_shop_new (void)
{
  PawlShop *self = g_new0 (PawlShop, 1);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    *get_text (self, i) = g_strdup ("");
  return self;
}

PawlShop *
pawl_shop_copy (const PawlShop *self)
{
  PawlShop *copy = g_memdup2 (self, sizeof *self);

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    *get_text (copy, i) = g_strdup (*get_text (self, i));
  return copy;
}

void
pawl_shop_free (PawlShop *self)
{
  if (!self)
    return;
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_free (*get_text (self, i));
  g_free (self);
}

void
pawl_shop_set_text (char **text, const char *value)
{
  char *copy = value ? g_strdup (value) : NULL;

  if (!copy)
    return;
  g_free (*text);
  *text = copy;
}

char *
pawl_shop_dup_default_path (const char *config_folder)
{
  return g_build_filename (config_folder, "pawl", "shop.ini", NULL);
}

/* ---- reading ---- */

static gboolean
read_paper (PawlShop *self, GKeyFile *file, const char *path, GError **error)
{
  g_autofree char *paper = g_key_file_get_string (file, GROUP, "paper", NULL);

  if (!paper || pawl_paper_parse (paper, &self->paper))
    return TRUE;
  g_set_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_BAD, "%s: there is no paper “%.40s”; it is a4 or letter", path, paper);
  return FALSE;
}

static gboolean
check_policy (const PawlShop *self, const char *path, GError **error)
{
  PawlPolicy policy;

  if (!*self->policy || pawl_policy_parse (self->policy, &policy))
    return TRUE;
  g_set_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_BAD, "%s: there is no policy “%.40s”; it is simple, guard-band, proof, or a risk such as risk 5 %%", path,
               self->policy);
  return FALSE;
}

static gboolean
read_years (PawlShop *self, GKeyFile *file, const char *path, GError **error)
{
  g_autofree char *years = g_key_file_get_string (file, GROUP, "keep-years", NULL);
  guint64 n = 0;

  if (years && *years && !g_ascii_string_to_unsigned (years, 10, 0, MAX_KEEP_YEARS, &n, NULL))
    {
      g_set_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_BAD, "%s: keep-years is “%.40s”; it is a number of years, 0 to %d", path, years, MAX_KEEP_YEARS);
      return FALSE;
    }
  self->keep_years = (guint) n;
  return TRUE;
}

/* Texts of the file; one that is no UTF-8 is refused by its key. */
static gboolean
read_texts (PawlShop *self, GKeyFile *file, const char *path, GError **error)
{
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GError) local_error = NULL;
      g_autofree char *value = g_key_file_get_string (file, GROUP, texts[i].key, &local_error);

      if (value)
        pawl_shop_set_text (get_text (self, i), value);
      else if (!g_error_matches (local_error, G_KEY_FILE_ERROR, G_KEY_FILE_ERROR_KEY_NOT_FOUND)
               && !g_error_matches (local_error, G_KEY_FILE_ERROR, G_KEY_FILE_ERROR_GROUP_NOT_FOUND))
        {
          g_set_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_BAD, "%s: %s can't be read: %s", path, texts[i].key, local_error->message);
          return FALSE;
        }
    }
  return TRUE;
}

PawlShop *
pawl_shop_load (const char *path, GError **error)
{
  g_autoptr (PawlShop) self = pawl_shop_new ();
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autoptr (GError) local_error = NULL;

  if (!path)
    return g_steal_pointer (&self);
  if (!g_key_file_load_from_file (file, path, G_KEY_FILE_NONE, &local_error))
    {
      if (g_error_matches (local_error, G_FILE_ERROR, G_FILE_ERROR_NOENT))
        return g_steal_pointer (&self);
      g_set_error (error, PAWL_SHOP_ERROR, local_error->domain == G_KEY_FILE_ERROR ? PAWL_SHOP_ERROR_BAD : PAWL_SHOP_ERROR_IO,
                   "%s: the shop's settings can't be read: %s", path, local_error->message);
      return NULL;
    }
  if (!read_texts (self, file, path, error) || !read_paper (self, file, path, error) || !check_policy (self, path, error)
      || !read_years (self, file, path, error))
    return NULL;
  return g_steal_pointer (&self);
}

/* ---- writing ---- */

gboolean
pawl_shop_save (const PawlShop *self, const char *path, GError **error)
{
  g_autoptr (GKeyFile) file = g_key_file_new ();
  g_autofree char *folder = g_path_get_dirname (path);
  g_autoptr (GError) local_error = NULL;

  g_key_file_load_from_file (file, path, G_KEY_FILE_KEEP_COMMENTS, NULL); /* for what is not ours */
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    g_key_file_set_string (file, GROUP, texts[i].key, *get_text (self, i));
  g_key_file_set_string (file, GROUP, "paper", pawl_paper_get_name (self->paper));
  g_key_file_set_integer (file, GROUP, "keep-years", (int) self->keep_years);
  g_mkdir_with_parents (folder, 0700);
  if (g_key_file_save_to_file (file, path, &local_error))
    return TRUE;
  g_set_error (error, PAWL_SHOP_ERROR, PAWL_SHOP_ERROR_IO, "the shop's settings can't be written: %s", local_error->message);
  return FALSE;
}
