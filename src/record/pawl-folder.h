/* Folders that are still there after a power cut. Private to the record. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Makes @path and what is missing above it, each on stable storage before it returns. FALSE with errno set. */
gboolean pawl_folder_make (const char *path);

G_END_DECLS
