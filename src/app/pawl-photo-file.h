/* A picture file from a folder or a drop, read off the main loop and kept with the step that is looked at. */
#pragma once

#include "app/pawl-session.h"

G_BEGIN_DECLS

/* Larger files are refused: no camera makes them, and the record keeps every byte. */
#define PAWL_PHOTO_MAX_BYTES (64 * 1024 * 1024)

void     pawl_photo_file_attach_async  (GFile *file, PawlSession *session, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
gboolean pawl_photo_file_attach_finish (GAsyncResult *result, GError **error);

G_END_DECLS
