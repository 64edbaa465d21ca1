#include "faulty-disk.h"

#include <signal.h>
#include <sqlite3.h>
#include <unistd.h>

typedef struct {
  sqlite3_file  base; /* first: SQLite takes us for one */
  sqlite3_file *real; /* in the same block, behind us */
} Layer;

/* SQLite's layers have no place for a caller's data, so this is the one thing that is kept process-wide. */
static struct {
  sqlite3_vfs *real;
  gboolean     is_armed;
  gboolean     has_come_about;
  Fault        fault;
  guint        n_good;
} disk;

typedef enum { GO_ON, FAIL_NOW, FAIL_AFTER, TEAR } Course;

static Course
next_course (gboolean is_write)
{
  if (!disk.is_armed || disk.has_come_about || (disk.fault == FAULT_FULL && !is_write))
    return GO_ON;
  if (disk.n_good > 0)
    {
      disk.n_good--;
      return GO_ON;
    }

  disk.has_come_about = TRUE;
  if (disk.fault == FAULT_DEATH_TORN && is_write)
    return TEAR;
  if (disk.fault == FAULT_DEATH || disk.fault == FAULT_DEATH_TORN)
    kill (getpid (), SIGKILL);
  return disk.fault == FAULT_IO_AFTER ? FAIL_AFTER : FAIL_NOW;
}

static sqlite3_file *
get_real (sqlite3_file *file)
{
  return ((Layer *) file)->real;
}

static int
layer_close (sqlite3_file *file)
{
  return get_real (file)->pMethods->xClose (get_real (file));
}

static int
layer_read (sqlite3_file *file,
            void         *buffer,
            int           size,
            sqlite3_int64 offset)
{
  return get_real (file)->pMethods->xRead (get_real (file), buffer, size, offset);
}

static int
layer_write (sqlite3_file *file,
             const void   *buffer,
             int           size,
             sqlite3_int64 offset)
{
  sqlite3_file *real = get_real (file);
  Course course = next_course (TRUE);
  int rc;

  if (course == FAIL_NOW)
    return disk.fault == FAULT_FULL ? SQLITE_FULL : SQLITE_IOERR_WRITE;

  rc = real->pMethods->xWrite (real, buffer, course == TEAR ? size / 2 : size, offset);
  if (course == TEAR)
    kill (getpid (), SIGKILL);
  return course == FAIL_AFTER ? SQLITE_IOERR_WRITE : rc;
}

static int
layer_truncate (sqlite3_file *file,
                sqlite3_int64 size)
{
  sqlite3_file *real = get_real (file);
  Course course = next_course (FALSE);
  int rc;

  if (course == FAIL_NOW)
    return SQLITE_IOERR_TRUNCATE;

  rc = real->pMethods->xTruncate (real, size);
  return course == FAIL_AFTER ? SQLITE_IOERR_TRUNCATE : rc;
}

static int
layer_sync (sqlite3_file *file,
            int           flags)
{
  return next_course (FALSE) == GO_ON ? SQLITE_OK : SQLITE_IOERR_FSYNC;
}

static int
layer_file_size (sqlite3_file  *file,
                 sqlite3_int64 *size)
{
  return get_real (file)->pMethods->xFileSize (get_real (file), size);
}

static int
layer_lock (sqlite3_file *file,
            int           lock)
{
  return get_real (file)->pMethods->xLock (get_real (file), lock);
}

static int
layer_unlock (sqlite3_file *file,
              int           lock)
{
  return get_real (file)->pMethods->xUnlock (get_real (file), lock);
}

static int
layer_check_reserved_lock (sqlite3_file *file,
                           int          *is_reserved)
{
  return get_real (file)->pMethods->xCheckReservedLock (get_real (file), is_reserved);
}

static int
layer_file_control (sqlite3_file *file,
                    int           operation,
                    void         *argument)
{
  return get_real (file)->pMethods->xFileControl (get_real (file), operation, argument);
}

static int
layer_sector_size (sqlite3_file *file)
{
  return get_real (file)->pMethods->xSectorSize (get_real (file));
}

static int
layer_device_characteristics (sqlite3_file *file)
{
  return get_real (file)->pMethods->xDeviceCharacteristics (get_real (file));
}

static const sqlite3_io_methods LAYER_METHODS = {
  .iVersion = 1,
  .xClose = layer_close,
  .xRead = layer_read,
  .xWrite = layer_write,
  .xTruncate = layer_truncate,
  .xSync = layer_sync,
  .xFileSize = layer_file_size,
  .xLock = layer_lock,
  .xUnlock = layer_unlock,
  .xCheckReservedLock = layer_check_reserved_lock,
  .xFileControl = layer_file_control,
  .xSectorSize = layer_sector_size,
  .xDeviceCharacteristics = layer_device_characteristics,
};

static int
layer_open (sqlite3_vfs  *vfs,
            const char   *name,
            sqlite3_file *file,
            int           flags,
            int          *flags_out)
{
  Layer *layer = (Layer *) file;
  int rc;

  layer->real = (sqlite3_file *) (layer + 1);
  rc = disk.real->xOpen (disk.real, name, layer->real, flags, flags_out);
  file->pMethods = layer->real->pMethods != NULL ? &LAYER_METHODS : NULL;
  return rc;
}

static int
layer_delete (sqlite3_vfs *vfs,
              const char  *name,
              int          is_folder_synced)
{
  Course course = next_course (FALSE);
  int rc;

  if (course == FAIL_NOW)
    return SQLITE_IOERR_DELETE;

  rc = disk.real->xDelete (disk.real, name, 0);
  return course == FAIL_AFTER ? SQLITE_IOERR_DIR_FSYNC : rc;
}

void
faulty_disk_install (void)
{
  static sqlite3_vfs layer;

  g_assert_null (disk.real);
  disk.real = sqlite3_vfs_find (NULL);
  layer = *disk.real;
  layer.zName = "faulty-disk";
  layer.szOsFile = (int) sizeof (Layer) + disk.real->szOsFile;
  layer.xOpen = layer_open;
  layer.xDelete = layer_delete;
  g_assert_cmpint (sqlite3_vfs_register (&layer, 1), ==, SQLITE_OK);
}

void
faulty_disk_arm (Fault fault,
                 guint n_good)
{
  disk.fault = fault;
  disk.n_good = n_good;
  disk.has_come_about = FALSE;
  disk.is_armed = TRUE;
}

gboolean
faulty_disk_disarm (void)
{
  disk.is_armed = FALSE;
  return disk.has_come_about;
}
