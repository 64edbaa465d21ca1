#include "power-cut.h"

#include <glib/gstdio.h>
#include <sqlite3.h>
#include <string.h>

#include "record-fixture.h"

#define SECTOR 512

typedef struct {
  sqlite3_int64 offset;
  GBytes       *bytes; /* NULL: cut off at @offset */
} Change;

/* What the disk has of one name. */
typedef struct {
  char       *path;
  GByteArray *durable;         /* content as of the last sync */
  GPtrArray  *changes;         /* (element-type Change) since then */
  gboolean    is_there;        /* as the program sees it */
  gboolean    is_durably_there;
  GByteArray *left;            /* what the cut left; NULL: nothing */
} Disk;

typedef struct {
  sqlite3_file  base; /* first: SQLite takes us for one */
  sqlite3_file *real; /* in the same block, behind us */
  const char   *name; /* NULL: a temporary file; SQLite keeps it until it is closed */
  gboolean      syncs_folder; /* as SQLite's own layer does with a new journal, once */
} Layer;

/* SQLite's layers have no place for a caller's data, so this is the one thing that is kept process-wide. */
static struct {
  sqlite3_vfs *real;
  gboolean     is_armed, is_cut;
  guint        n_good;
  GRand       *rand;
  Disk         disks[2]; /* the record, its journal */
} world;

/* ---- what is on the disk ---- */

static void
free_change (Change *change)
{
  g_clear_pointer (&change->bytes, g_bytes_unref);
  g_free (change);
}

static void
clear_disk (Disk *disk)
{
  g_clear_pointer (&disk->path, g_free);
  g_clear_pointer (&disk->durable, g_byte_array_unref);
  g_clear_pointer (&disk->changes, g_ptr_array_unref);
  g_clear_pointer (&disk->left, g_byte_array_unref);
}

static void
set_up_disk (Disk *disk,
             char *path)
{
  char *bytes = NULL;
  gsize size = 0;

  clear_disk (disk);
  disk->path = path;
  disk->is_there = disk->is_durably_there = g_file_get_contents (path, &bytes, &size, NULL);
  disk->durable = disk->is_there ? g_byte_array_new_take ((guint8 *) bytes, size) : g_byte_array_new ();
  disk->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) free_change);
}

static void
add_change (Disk         *disk,
            sqlite3_int64 offset,
            GBytes       *bytes) /* (transfer full) */
{
  Change *change = g_new (Change, 1);

  *change = (Change) { offset, bytes };
  g_ptr_array_add (disk->changes, change);
}

/* Those bytes of @change from @first to @end that the file has room for after it. */
static void
apply_part (GByteArray   *content,
            const Change *change,
            gsize         first,
            gsize         end)
{
  const guint8 *bytes = g_bytes_get_data (change->bytes, NULL);
  guint needed = (guint) (change->offset + (sqlite3_int64) end);
  guint before = content->len;

  if (needed > before)
    {
      g_byte_array_set_size (content, needed);
      memset (content->data + before, 0, needed - before);
    }
  memcpy (content->data + change->offset + first, bytes + first, end - first);
}

static void
apply (GByteArray   *content,
       const Change *change)
{
  if (change->bytes != NULL)
    apply_part (content, change, 0, g_bytes_get_size (change->bytes));
  else if (change->offset < content->len)
    g_byte_array_set_size (content, (guint) change->offset);
}

static void
apply_torn (GByteArray   *content,
            const Change *change)
{
  gsize size = g_bytes_get_size (change->bytes);

  for (gsize first = 0; first < size; first += SECTOR)
    if (g_rand_boolean (world.rand))
      apply_part (content, change, first, MIN (first + SECTOR, size));
}

static void
sync_folder (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (world.disks); i++)
    {
      Disk *disk = &world.disks[i];

      disk->is_durably_there = disk->is_there;
      if (!disk->is_there)
        {
          g_byte_array_set_size (disk->durable, 0);
          g_ptr_array_set_size (disk->changes, 0);
        }
    }
}

static void
sync_content (Disk *disk)
{
  for (guint i = 0; i < disk->changes->len; i++)
    apply (disk->durable, disk->changes->pdata[i]);
  g_ptr_array_set_size (disk->changes, 0);
}

/* ---- the cut ---- */

static void
cut_disk (Disk *disk)
{
  gboolean is_there = disk->is_there == disk->is_durably_there ? disk->is_there : g_rand_boolean (world.rand);

  g_clear_pointer (&disk->left, g_byte_array_unref);
  if (!is_there)
    return;

  disk->left = g_byte_array_new ();
  g_byte_array_append (disk->left, disk->durable->data, disk->durable->len);
  for (guint i = 0; i < disk->changes->len; i++)
    {
      const Change *change = disk->changes->pdata[i];
      int chance = g_rand_int_range (world.rand, 0, 3);

      if (chance == 0 && change->bytes != NULL)
        apply_torn (disk->left, change);
      else if (chance == 1)
        apply (disk->left, change);
    }
}

void
power_cut_now (void)
{
  if (world.is_cut)
    return;

  world.is_cut = TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (world.disks); i++)
    cut_disk (&world.disks[i]);
}

/* Before an operation that changes something: FALSE when the power is gone. */
static gboolean
has_power (void)
{
  if (!world.is_armed)
    return TRUE;
  if (!world.is_cut && world.n_good-- == 0)
    power_cut_now ();
  return !world.is_cut;
}

/* ---- the layer ---- */

static sqlite3_file *
get_real (sqlite3_file *file)
{
  return ((Layer *) file)->real;
}

/* (nullable): what it is on the disk, when that is looked at. A file may have been opened before. */
static Disk *
find_disk (const char *path)
{
  for (guint i = 0; path != NULL && i < G_N_ELEMENTS (world.disks); i++)
    if (g_strcmp0 (world.disks[i].path, path) == 0)
      return &world.disks[i];

  return NULL;
}

static Disk *
get_disk (sqlite3_file *file)
{
  return world.is_armed ? find_disk (((Layer *) file)->name) : NULL;
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
  Disk *disk = get_disk (file);

  if (disk != NULL)
    {
      add_change (disk, offset, g_bytes_new (buffer, (gsize) size)); /* begun before the power went, perhaps */
      if (!has_power ())
        return SQLITE_IOERR_WRITE;
    }
  return get_real (file)->pMethods->xWrite (get_real (file), buffer, size, offset);
}

static int
layer_truncate (sqlite3_file *file,
                sqlite3_int64 size)
{
  Disk *disk = get_disk (file);

  if (disk != NULL)
    {
      add_change (disk, size, NULL);
      if (!has_power ())
        return SQLITE_IOERR_TRUNCATE;
    }
  return get_real (file)->pMethods->xTruncate (get_real (file), size);
}

static int
layer_sync (sqlite3_file *file,
            int           flags)
{
  Layer *layer = (Layer *) file;
  Disk *disk = get_disk (file);

  if (disk == NULL)
    return SQLITE_OK;
  if (!has_power ())
    return SQLITE_IOERR_FSYNC;

  sync_content (disk);
  if (layer->syncs_folder)
    sync_folder ();
  layer->syncs_folder = FALSE;
  return SQLITE_OK;
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
  Disk *disk = find_disk (name);
  int rc;

  file->pMethods = NULL;
  if (disk != NULL && world.is_armed && world.is_cut)
    return SQLITE_CANTOPEN;

  layer->real = (sqlite3_file *) (layer + 1);
  rc = world.real->xOpen (world.real, name, layer->real, flags, flags_out);
  file->pMethods = layer->real->pMethods != NULL ? &LAYER_METHODS : NULL;
  layer->name = name;
  layer->syncs_folder = FALSE;
  if (disk != NULL && world.is_armed && rc == SQLITE_OK && !disk->is_there)
    {
      disk->is_there = TRUE;
      if (disk->is_durably_there)
        add_change (disk, 0, NULL); /* another file of the same name */
      layer->syncs_folder = (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
    }
  return rc;
}

static int
layer_delete (sqlite3_vfs *vfs,
              const char  *name,
              int          is_folder_synced)
{
  Disk *disk = find_disk (name);

  if (disk == NULL || !world.is_armed)
    return world.real->xDelete (world.real, name, 0);

  if (!world.is_cut && world.n_good == 0)
    disk->is_there = FALSE; /* begun before the power went, perhaps */
  if (!has_power ())
    return SQLITE_IOERR_DELETE;
  disk->is_there = FALSE;
  if (is_folder_synced)
    sync_folder ();
  return world.real->xDelete (world.real, name, 0);
}

/* ---- for the test ---- */

void
power_cut_install (void)
{
  static sqlite3_vfs layer;

  g_assert_null (world.real);
  world.real = sqlite3_vfs_find (NULL);
  layer = *world.real;
  layer.zName = "power-cut";
  layer.szOsFile = (int) sizeof (Layer) + world.real->szOsFile;
  layer.xOpen = layer_open;
  layer.xDelete = layer_delete;
  g_assert_cmpint (sqlite3_vfs_register (&layer, 1), ==, SQLITE_OK);
}

void
power_cut_arm (const char *path,
               GRand      *rand,
               guint       n_good)
{
  set_up_disk (&world.disks[0], g_strdup (path));
  set_up_disk (&world.disks[1], g_strconcat (path, "-journal", NULL));
  world.rand = rand;
  world.n_good = n_good;
  world.is_cut = FALSE;
  world.is_armed = TRUE;
}

gboolean
power_cut_was (void)
{
  return world.is_cut;
}

void
power_cut_reboot (void)
{
  g_assert_true (world.is_cut);
  world.is_armed = FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (world.disks); i++)
    {
      Disk *disk = &world.disks[i];

      if (disk->left != NULL)
        fixture_write (disk->path, (const char *) disk->left->data, disk->left->len);
      else
        g_unlink (disk->path);
      clear_disk (disk);
    }
}
