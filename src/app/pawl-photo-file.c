#include "app/pawl-photo-file.h"

#include <glib/gi18n.h>

static gboolean
attach (PawlSession *session, GFile *file, GBytes *bytes, GError **error)
{
  g_autofree char *name = g_file_get_basename (file);
  g_autofree char *type = g_content_type_guess (name, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), NULL);
  g_autofree char *media_type = g_content_type_get_mime_type (type);

  if (g_bytes_get_size (bytes) > PAWL_PHOTO_MAX_BYTES)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE, _("%s is larger than 64 MB, and is not kept"), name);
      return FALSE;
    }
  if (media_type == NULL || !g_str_has_prefix (media_type, "image/"))
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, _("%s is no picture; a photo is a JPEG or PNG file"), name);
      return FALSE;
    }
  return pawl_session_attach_photo (session, bytes, media_type, name, error);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GTask) task = data;
  GError *error = NULL;
  g_autoptr(GBytes) bytes = g_file_load_bytes_finish (G_FILE (source), result, NULL, &error);

  if (bytes != NULL && attach (g_task_get_task_data (task), G_FILE (source), bytes, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

void
pawl_photo_file_attach_async (GFile *file, PawlSession *session, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data)
{
  GTask *task = g_task_new (file, cancellable, callback, data);

  g_task_set_task_data (task, g_object_ref (session), g_object_unref);
  g_file_load_bytes_async (file, cancellable, loaded_cb, task);
}

gboolean
pawl_photo_file_attach_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_boolean (G_TASK (result), error);
}
