#include "app/pawl-drafts.h"

#include <glib/gstdio.h>

/* A gauge types a dozen keys in a few milliseconds, a hand rests longer between two. */
#define REST_MS 150

struct _PawlDrafts {
  char       *path;  /* (nullable) */
  GKeyFile   *file;
  GHashTable *texts; /* (element-type utf8 utf8) by "owner/field": what is lent */
  guint       rest_id;
};

static char *
make_key (const char *owner, const char *field)
{
  return g_strconcat (owner, "/", field, NULL);
}

static void
read_texts (PawlDrafts *self)
{
  g_auto(GStrv) owners = g_key_file_get_groups (self->file, NULL);

  for (guint i = 0; owners[i] != NULL; i++)
    {
      g_auto(GStrv) fields = g_key_file_get_keys (self->file, owners[i], NULL, NULL);

      for (guint k = 0; fields != NULL && fields[k] != NULL; k++)
        {
          char *text = g_key_file_get_string (self->file, owners[i], fields[k], NULL);

          if (text != NULL)
            g_hash_table_insert (self->texts, make_key (owners[i], fields[k]), text);
        }
    }
}

PawlDrafts *
pawl_drafts_load (const char *folder, const char *job_id)
{
  PawlDrafts *self = g_new0 (PawlDrafts, 1);
  g_autofree char *name = g_strconcat (job_id, ".ini", NULL);

  self->path = folder != NULL ? g_build_filename (folder, name, NULL) : NULL;
  self->file = g_key_file_new ();
  self->texts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  if (self->path != NULL && g_key_file_load_from_file (self->file, self->path, G_KEY_FILE_NONE, NULL))
    read_texts (self);
  return self;
}

/* A folder that can't be written costs nobody their work: what is typed is still there until the window closes. */
static void
save (PawlDrafts *self)
{
  g_autofree char *folder = g_path_get_dirname (self->path);

  if (g_hash_table_size (self->texts) == 0)
    {
      g_unlink (self->path);
      return;
    }
  g_mkdir_with_parents (folder, 0700);
  g_key_file_save_to_file (self->file, self->path, NULL);
}

static gboolean
rest_cb (gpointer data)
{
  PawlDrafts *self = data;

  self->rest_id = 0;
  save (self);
  return G_SOURCE_REMOVE;
}

void
pawl_drafts_free (PawlDrafts *self)
{
  if (self->rest_id != 0)
    {
      g_clear_handle_id (&self->rest_id, g_source_remove);
      save (self);
    }
  g_free (self->path);
  g_key_file_unref (self->file);
  g_hash_table_unref (self->texts);
  g_free (self);
}

const char *
pawl_drafts_peek (PawlDrafts *self, const char *owner, const char *field)
{
  g_autofree char *key = make_key (owner, field);
  const char *text = g_hash_table_lookup (self->texts, key);

  return text != NULL ? text : "";
}

void
pawl_drafts_set (PawlDrafts *self, const char *owner, const char *field, const char *text)
{
  g_autofree char *key = make_key (owner, field);

  if (g_str_equal (pawl_drafts_peek (self, owner, field), text))
    return;
  if (*text != '\0')
    {
      g_hash_table_insert (self->texts, g_steal_pointer (&key), g_strdup (text));
      g_key_file_set_string (self->file, owner, field, text);
    }
  else
    {
      g_hash_table_remove (self->texts, key);
      g_key_file_remove_key (self->file, owner, field, NULL);
    }
  if (self->path != NULL && self->rest_id == 0)
    self->rest_id = g_timeout_add (REST_MS, rest_cb, self);
}
