/* The folder that the bench's camera puts its pictures into. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/**
 * pawl_photo_folder_find_newest:
 * @folder: path
 * @since: (nullable): older pictures don't count
 * @error: the folder can't be read
 *
 * Looks at the folder itself, not at those within. Call it away from the main loop: a card in a reader is slow.
 *
 * Returns: (transfer full) (nullable): the picture that was written last, by the folder's own times; %NULL without @error when there is none.
 */
GFile     *pawl_photo_folder_find_newest (const char *folder, GDateTime *since, GCancellable *cancellable, GError **error);

G_END_DECLS
