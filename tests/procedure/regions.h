/* The region ids of a small figure, for tests: ids of <g>, one a line. The drawing folder does this properly. */
#pragma once

#include "procedure/pawl-reader.h"

typedef struct {
  char          *path;
  GPtrArray     *ids;   /* NULL-terminated */
  GArray        *lines;
  PawlRegionList list;
} Regions;

/* @path is taken. */
static inline void
regions_init (Regions *self, char *path)
{
  g_autofree char *contents = NULL;
  g_auto(GStrv) lines = NULL;

  self->path = path;
  self->ids = g_ptr_array_new_with_free_func (g_free);
  self->lines = g_array_new (FALSE, FALSE, sizeof (int));
  g_assert_true (g_file_get_contents (path, &contents, NULL, NULL));
  lines = g_strsplit (contents, "\n", -1);
  for (int i = 0; lines[i] != NULL; i++)
    {
      const char *group = strstr (lines[i], "<g id=\"");
      int line = i + 1;

      if (group == NULL)
        continue;
      group += strlen ("<g id=\"");
      g_ptr_array_add (self->ids, g_strndup (group, strcspn (group, "\"")));
      g_array_append_val (self->lines, line);
    }
  g_ptr_array_add (self->ids, NULL);
  self->list = (PawlRegionList) { .ids = (const char * const *) self->ids->pdata, .lines = (const int *) (gpointer) self->lines->data, .file = self->path };
}

static inline void
regions_clear (Regions *self)
{
  g_ptr_array_unref (self->ids);
  g_array_unref (self->lines);
  g_free (self->path);
}
