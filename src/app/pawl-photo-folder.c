#include "app/pawl-photo-folder.h"

#define WANTED G_FILE_ATTRIBUTE_STANDARD_NAME "," G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE "," G_FILE_ATTRIBUTE_TIME_MODIFIED \
  "," G_FILE_ATTRIBUTE_TIME_MODIFIED_USEC

static gboolean
is_picture (GFileInfo *info)
{
  const char *type = g_file_info_get_attribute_string (info, G_FILE_ATTRIBUTE_STANDARD_FAST_CONTENT_TYPE);
  g_autofree char *media_type = type != NULL ? g_content_type_get_mime_type (type) : NULL;

  return g_file_info_get_file_type (info) == G_FILE_TYPE_REGULAR && media_type != NULL && g_str_has_prefix (media_type, "image/");
}

GFile *
pawl_photo_folder_find_newest (const char *folder, GDateTime *since, GCancellable *cancellable, GError **error)
{
  g_autoptr(GFile) directory = g_file_new_for_path (folder), newest = NULL;
  g_autoptr(GFileEnumerator) files = g_file_enumerate_children (directory, WANTED, G_FILE_QUERY_INFO_NONE, cancellable, error);
  g_autoptr(GDateTime) best = since != NULL ? g_date_time_ref (since) : NULL;
  GFileInfo *info;
  GFile *file;

  if (files == NULL)
    return NULL;
  while (TRUE)
    {
      g_autoptr(GDateTime) written = NULL;

      if (!g_file_enumerator_iterate (files, &info, &file, cancellable, error))
        return NULL;
      if (info == NULL)
        return g_steal_pointer (&newest);
      written = g_file_info_get_modification_date_time (info);
      if (written == NULL || !is_picture (info) || (best != NULL && g_date_time_compare (written, best) < 0))
        continue;
      g_clear_pointer (&best, g_date_time_unref);
      best = g_steal_pointer (&written);
      g_set_object (&newest, file);
    }
}
