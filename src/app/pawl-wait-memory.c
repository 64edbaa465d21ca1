#include "app/pawl-wait-memory.h"

#define TOLD "told"
#define CLOCK "clock"

struct _PawlWaitMemory {
  char     *path; /* (nullable) */
  GKeyFile *file;
};

PawlWaitMemory *
pawl_wait_memory_load (const char *path)
{
  PawlWaitMemory *self = g_new0 (PawlWaitMemory, 1);

  self->path = g_strdup (path);
  self->file = g_key_file_new ();
  if (path != NULL)
    g_key_file_load_from_file (self->file, path, G_KEY_FILE_NONE, NULL);
  return self;
}

void
pawl_wait_memory_free (PawlWaitMemory *self)
{
  g_free (self->path);
  g_key_file_unref (self->file);
  g_free (self);
}

static char *
make_key (const PawlWaiting *wait)
{
  return g_strdup_printf ("%s/%s", wait->job, wait->ask);
}

PawlWaitingStage
pawl_wait_memory_get_told (PawlWaitMemory *self, const PawlWaiting *wait)
{
  g_autofree char *key = make_key (wait);

  return (PawlWaitingStage) CLAMP (g_key_file_get_integer (self->file, TOLD, key, NULL), PAWL_WAITING_EARLY, PAWL_WAITING_LATE);
}

void
pawl_wait_memory_set_told (PawlWaitMemory *self, const PawlWaiting *wait, PawlWaitingStage stage)
{
  g_autofree char *key = make_key (wait);

  g_key_file_set_integer (self->file, TOLD, key, (int) stage);
}

static gboolean
has_key (GPtrArray *waits, const char *key)
{
  for (guint i = 0; i < waits->len; i++)
    {
      g_autofree char *its = make_key (waits->pdata[i]);

      if (g_str_equal (its, key))
        return TRUE;
    }
  return FALSE;
}

void
pawl_wait_memory_keep_only (PawlWaitMemory *self, GPtrArray *waits)
{
  g_auto(GStrv) keys = g_key_file_get_keys (self->file, TOLD, NULL, NULL);

  for (guint i = 0; keys != NULL && keys[i] != NULL; i++)
    if (!has_key (waits, keys[i]))
      g_key_file_remove_key (self->file, TOLD, keys[i], NULL);
}

void
pawl_wait_memory_get_clock (PawlWaitMemory *self, PawlClockSample *sample)
{
  sample->boot = g_key_file_get_string (self->file, CLOCK, "boot", NULL);
  sample->wall_usec = g_key_file_get_int64 (self->file, CLOCK, "wall", NULL);
  sample->steady_usec = g_key_file_get_int64 (self->file, CLOCK, "steady", NULL);
}

void
pawl_wait_memory_set_clock (PawlWaitMemory *self, const PawlClockSample *sample)
{
  g_key_file_set_string (self->file, CLOCK, "boot", sample->boot);
  g_key_file_set_int64 (self->file, CLOCK, "wall", sample->wall_usec);
  g_key_file_set_int64 (self->file, CLOCK, "steady", sample->steady_usec);
}

void
pawl_wait_memory_save (PawlWaitMemory *self)
{
  g_autofree char *folder = self->path != NULL ? g_path_get_dirname (self->path) : NULL;

  if (folder == NULL)
    return;
  g_mkdir_with_parents (folder, 0700);
  g_key_file_save_to_file (self->file, self->path, NULL);
}
