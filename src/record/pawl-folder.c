#include "record/pawl-folder.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <unistd.h>

static gboolean
sync_folder (const char *path)
{
  int fd = open (path, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  gboolean is_synced;
  int saved_errno;

  if (fd < 0)
    return FALSE;

  /* EINVAL: a file system that has no such thing as syncing a folder. */
  is_synced = fsync (fd) == 0 || errno == EINVAL;
  saved_errno = errno;
  close (fd);
  errno = saved_errno;
  return is_synced;
}

/*
 * A new folder is a line in the folder above it, and only a sync of that one puts it on the disk. SQLite syncs the folder that
 * its file is in, no further up: without this, a first job that was acknowledged could vanish together with its folder.
 */
gboolean
pawl_folder_make (const char *path)
{
  g_autofree char *above = NULL;

  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    return TRUE;

  above = g_path_get_dirname (path);
  if (!g_str_equal (above, path) && !pawl_folder_make (above))
    return FALSE;
  if (g_mkdir (path, 0700) != 0)
    {
      if (errno != EEXIST)
        return FALSE;
      if (!g_file_test (path, G_FILE_TEST_IS_DIR)) /* else another process was quicker */
        {
          errno = ENOTDIR;
          return FALSE;
        }
    }

  return sync_folder (above);
}
