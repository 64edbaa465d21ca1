#include "drawing/pawl-chunk-store.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <librsvg/rsvg.h>
#include <math.h>
#include <string.h>
#include <unistd.h>
#include <utime.h>

/* Written into each file: another format, library or byte order, and the file is not ours. */
#define FORMAT 1
#define BYTE_ORDER_MARK 0x01020304u
#define ENDING ".chunks"
#define MOST_SIDE 16000
/* A file is written anew when less than this share of what is shown is in it: each step of a job seats a part or two, at new places. */
#define ENOUGH_SHARE 0.75
/* A temporary file of a program that ended meanwhile. */
#define STALE_SEC (24 * 60 * 60)

typedef struct {
  char    magic[8];
  guint32 byte_order, format, librsvg, cairo;
  guint32 n_chunks, n_entries;
  guint64 sum; /* of what follows, up to the pixels */
  char    digest[64];
} Header;

typedef struct {
  guint32 n, look;
  gint32  x, y, width, height;
  double  phase_x, phase_y;
  guint64 offset, sum; /* of its pixels */
} Entry;

struct _PawlChunkStore {
  char   *folder;
  char    digest[64];
  guint   n_chunks;
  PawlBox view_box;
  gsize   most;

  GMutex  lock;    /* over all below */
  char   *name;    /* (nullable) of the file that is open, or was looked for */
  int     file;    /* -1: none */
  Entry  *entries; /* (nullable) (array length=n_entries), in order of n and look */
  guint   n_entries;
};

static const char magic[8] = "PAWLchnk";

/* A sum that tells damage, not malice: FNV-1a (from memory), by words. */
static guint64
sum_up (guint64 sum, gconstpointer data, gsize length)
{
  const guint8 *bytes = data;

  for (; length >= 8; length -= 8, bytes += 8)
    {
      guint64 word;

      memcpy (&word, bytes, 8);
      sum = (sum ^ word) * 0x100000001b3u;
      sum ^= sum >> 29;
    }
  for (; length > 0; length--, bytes++)
    sum = (sum ^ *bytes) * 0x100000001b3u;
  return sum;
}

PawlChunkStore *
pawl_chunk_store_new (const char *folder, const char *digest, guint n_chunks, PawlBox view_box)
{
  PawlChunkStore *self = g_new0 (PawlChunkStore, 1);

  g_return_val_if_fail (strlen (digest) == sizeof self->digest, NULL);
  g_mutex_init (&self->lock);
  self->folder = g_strdup (folder);
  memcpy (self->digest, digest, sizeof self->digest);
  self->n_chunks = n_chunks;
  self->view_box = view_box;
  self->most = PAWL_CHUNK_STORE_MOST_BYTES;
  self->file = -1;
  return self;
}

static void
close_file (PawlChunkStore *self)
{
  if (self->file >= 0)
    close (self->file);
  self->file = -1;
  g_clear_pointer (&self->entries, g_free);
  g_clear_pointer (&self->name, g_free);
  self->n_entries = 0;
}

void
pawl_chunk_store_free (PawlChunkStore *self)
{
  close_file (self);
  g_mutex_clear (&self->lock);
  g_free (self->folder);
  g_free (self);
}

void
pawl_chunk_store_set_most (PawlChunkStore *self, gsize bytes)
{
  self->most = bytes;
}

static char *
make_name (PawlChunkStore *self, const PawlGrid *grid)
{
  /* Scales that fit are within a millionth of each other. */
  return g_strdup_printf ("%.40s-%u-%ld" ENDING, self->digest, (guint) grid->palette, lround (log (grid->scale) * 1e6));
}

static char *
make_boxes_name (PawlChunkStore *self)
{
  return g_strdup_printf ("%.40s-boxes" ENDING, self->digest);
}

static Header
make_header (PawlChunkStore *self, guint n_entries, gconstpointer index, gsize length)
{
  Header header = {
    .byte_order = BYTE_ORDER_MARK, .format = FORMAT, .cairo = (guint32) cairo_version (), .n_chunks = self->n_chunks, .n_entries = n_entries,
    .librsvg = rsvg_major_version << 16 | rsvg_minor_version << 8 | rsvg_micro_version, .sum = sum_up (0, index, length),
  };

  memcpy (header.magic, magic, sizeof magic);
  memcpy (header.digest, self->digest, sizeof header.digest);
  return header;
}

/* ---- reading ---- */

static gboolean
read_all (int file, gpointer data, gsize length, guint64 offset)
{
  for (gsize done = 0; done < length;)
    {
      gssize n = pread (file, (char *) data + done, length - done, (off_t) (offset + done));

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      done += (gsize) n;
    }
  return TRUE;
}

/* (transfer full) (nullable): what follows the header, when both are as they were written. */
static gpointer
read_index (PawlChunkStore *self, int file, gsize entry_size, guint most_entries, guint *n_entries)
{
  Header header, right;
  g_autofree gpointer index = NULL;

  if (!read_all (file, &header, sizeof header, 0) || header.n_entries > most_entries)
    return NULL;
  index = g_malloc (header.n_entries * entry_size + 1);
  if (!read_all (file, index, header.n_entries * entry_size, sizeof header))
    return NULL;
  right = make_header (self, header.n_entries, index, header.n_entries * entry_size);
  if (memcmp (&header, &right, sizeof header) != 0)
    return NULL;
  *n_entries = header.n_entries;
  return g_steal_pointer (&index);
}

static gboolean
is_good_box (PawlChunkStore *self, PawlBox box)
{
  PawlBox inside = pawl_box_intersect (box, self->view_box);

  /* What a figure draws is measured within its sheet. */
  return (box.width == 0 && box.height == 0) || memcmp (&inside, &box, sizeof box) == 0;
}

gboolean
pawl_chunk_store_read_boxes (PawlChunkStore *self, PawlBox *boxes)
{
  g_autofree char *name = make_boxes_name (self), *path = g_build_filename (self->folder, name, NULL);
  g_autofree PawlBox *found = NULL;
  int file = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  guint n = 0;

  if (file < 0)
    return FALSE;
  found = read_index (self, file, sizeof (PawlBox), self->n_chunks, &n);
  close (file);
  if (!found || n != self->n_chunks)
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (!is_good_box (self, found[i]))
      return FALSE;
  memcpy (boxes, found, n * sizeof (PawlBox));
  return TRUE;
}

/* @lock is held. The file last opened stays open. */
static void
open_file (PawlChunkStore *self, const PawlGrid *grid)
{
  g_autofree char *name = make_name (self, grid), *path = g_build_filename (self->folder, name, NULL);

  if (g_strcmp0 (name, self->name) == 0)
    return;
  close_file (self);
  self->name = g_steal_pointer (&name);
  self->file = g_open (path, O_RDONLY | O_CLOEXEC, 0);
  if (self->file < 0)
    return;
  self->entries = read_index (self, self->file, sizeof (Entry), PAWL_N_LOOKS * self->n_chunks, &self->n_entries);
  if (self->entries)
    g_utime (path, NULL); /* so that what is used is not the oldest */
}

static const Entry *
find_entry (PawlChunkStore *self, guint n, const PawlGrid *grid)
{
  for (guint i = 0; i < self->n_entries; i++)
    {
      const Entry *entry = &self->entries[i];
      PawlGrid kept = { grid->scale, entry->phase_x, entry->phase_y, entry->look, grid->palette };

      if (entry->n == n && entry->look == grid->look && pawl_grid_fits (&kept, grid))
        return entry;
    }
  return NULL;
}

static gboolean
is_good_entry (const Entry *entry)
{
  return entry->width >= 0 && entry->height >= 0 && entry->width <= MOST_SIDE && entry->height <= MOST_SIDE && (entry->width > 0) == (entry->height > 0)
         && (double) entry->width * entry->height <= PAWL_CHUNK_MOST_PIXELS && ABS ((double) entry->x) < 1e8 && ABS ((double) entry->y) < 1e8;
}

static PawlChunkImage *
read_image (int file, const Entry *entry, const PawlGrid *grid)
{
  gsize length = (gsize) entry->width * entry->height * 4;
  PawlGrid kept = { grid->scale, entry->phase_x, entry->phase_y, grid->look, grid->palette };
  g_autofree gpointer pixels = length > 0 ? g_malloc (length) : NULL;
  g_autoptr(GBytes) bytes = NULL;

  if (length > 0 && (!read_all (file, pixels, length, entry->offset) || sum_up (0, pixels, length) != entry->sum))
    return NULL;
  if (length > 0)
    bytes = g_bytes_new_take (g_steal_pointer (&pixels), length);
  return pawl_chunk_image_new_from_pixels (&kept, entry->x, entry->y, entry->width, entry->height, bytes);
}

PawlChunkImage *
pawl_chunk_store_read (PawlChunkStore *self, guint n, const PawlGrid *grid)
{
  const Entry *found;
  Entry entry;
  int file = -1;
  PawlChunkImage *image;

  g_mutex_lock (&self->lock);
  open_file (self, grid);
  if ((found = find_entry (self, n, grid)) && is_good_entry (found))
    {
      entry = *found;
      file = dup (self->file); /* another thread may open another one meanwhile */
    }
  g_mutex_unlock (&self->lock);
  if (file < 0)
    return NULL;
  image = read_image (file, &entry, grid);
  close (file);
  return image;
}

/* ---- writing ---- */

static void
clear_kept (gpointer data)
{
  g_clear_pointer (&((PawlKeptImage *) data)->image, pawl_chunk_image_unref);
}

GArray *
pawl_kept_images_new (void)
{
  GArray *images = g_array_new (FALSE, TRUE, sizeof (PawlKeptImage));

  g_array_set_clear_func (images, clear_kept);
  return images;
}

typedef struct {
  char   *path;
  goffset size;
  gint64  used;
} Found;

static void
clear_found (gpointer data)
{
  g_free (((Found *) data)->path);
}

static int
compare_found (gconstpointer a, gconstpointer b)
{
  const Found *p = a, *q = b;

  return p->used < q->used ? -1 : p->used > q->used;
}

/* Ours: what ends as our files do, with or without what a temporary name adds. */
static GArray *
list_files (PawlChunkStore *self, goffset *total)
{
  GArray *files = g_array_new (FALSE, FALSE, sizeof (Found));
  g_autoptr(GDir) folder = g_dir_open (self->folder, 0, NULL);
  const char *name;

  g_array_set_clear_func (files, clear_found);
  *total = 0;
  while (folder && (name = g_dir_read_name (folder)))
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);
      GStatBuf status;

      if (!strstr (name, ENDING) || g_lstat (path, &status) != 0 || !S_ISREG (status.st_mode))
        continue;
      if (!g_str_has_suffix (name, ENDING))
        {
          if (time (NULL) - status.st_mtime > STALE_SEC)
            g_unlink (path);
          continue;
        }
      *total += status.st_size;
      g_array_append_val (files, ((Found) { g_steal_pointer (&path), status.st_size, status.st_mtime }));
    }
  g_array_sort (files, compare_found);
  return files;
}

/* Oldest out, until @more bytes have room. */
static void
make_room (PawlChunkStore *self, gsize more)
{
  goffset total;
  g_autoptr(GArray) files = list_files (self, &total);

  for (guint i = 0; i < files->len && (gsize) total + more > self->most; i++)
    {
      const Found *found = &g_array_index (files, Found, i);

      if (g_unlink (found->path) == 0)
        total -= found->size;
    }
}

static gboolean
write_all (int file, gconstpointer data, gsize length)
{
  for (gsize done = 0; done < length;)
    {
      gssize n = write (file, (const char *) data + done, length - done);

      if (n < 0 && errno == EINTR)
        continue;
      if (n <= 0)
        return FALSE;
      done += (gsize) n;
    }
  return TRUE;
}

typedef gboolean (*WriteBody) (int file, gpointer data);

/* Not synced: after a power cut the file may be damaged, and is then drawn again. */
static gboolean
write_file (PawlChunkStore *self, const char *name, gsize length, WriteBody body, gpointer data)
{
  g_autofree char *path = g_build_filename (self->folder, name, NULL), *temporary = g_strconcat (path, ".XXXXXX", NULL);
  gboolean is_written;
  int file;

  if (length > self->most / 2 || g_mkdir_with_parents (self->folder, 0700) != 0)
    return FALSE;
  make_room (self, length);
  file = g_mkstemp_full (temporary, O_RDWR | O_CLOEXEC, 0600);
  if (file < 0)
    return FALSE;
  is_written = body (file, data);
  is_written &= close (file) == 0;
  if (is_written && g_rename (temporary, path) == 0)
    return TRUE;
  g_unlink (temporary);
  return FALSE;
}

typedef struct {
  Header        header;
  gconstpointer index;
  gsize         index_length;
  GArray       *images; /* (nullable) (element-type PawlKeptImage) */
} Body;

static gboolean
write_body (int file, gpointer data)
{
  const Body *body = data;
  gboolean is_written = write_all (file, &body->header, sizeof body->header) && write_all (file, body->index, body->index_length);

  for (guint i = 0; is_written && body->images && i < body->images->len; i++)
    {
      const PawlChunkImage *image = g_array_index (body->images, PawlKeptImage, i).image;

      is_written = !image->pixels || write_all (file, g_bytes_get_data (image->pixels, NULL), g_bytes_get_size (image->pixels));
    }
  return is_written;
}

gboolean
pawl_chunk_store_write_boxes (PawlChunkStore *self, const PawlBox *boxes)
{
  gsize length = self->n_chunks * sizeof (PawlBox);
  Body body = { make_header (self, self->n_chunks, boxes, length), boxes, length, NULL };
  g_autofree char *name = make_boxes_name (self);

  return write_file (self, name, sizeof (Header) + length, write_body, &body);
}

static gboolean
is_mostly_kept (PawlChunkStore *self, GArray *images)
{
  guint n_kept = 0;

  g_mutex_lock (&self->lock);
  open_file (self, &g_array_index (images, PawlKeptImage, 0).image->grid);
  for (guint i = 0; i < images->len; i++)
    n_kept += find_entry (self, g_array_index (images, PawlKeptImage, i).n, &g_array_index (images, PawlKeptImage, i).image->grid) != NULL;
  g_mutex_unlock (&self->lock);
  return n_kept >= ENOUGH_SHARE * images->len;
}

static void
drop_parts (GArray *images)
{
  for (guint i = images->len; i > 0; i--)
    if (!g_array_index (images, PawlKeptImage, i - 1).image->is_whole)
      g_array_remove_index (images, i - 1);
}

gboolean
pawl_chunk_store_write (PawlChunkStore *self, GArray *images)
{
  g_autofree Entry *entries = NULL;
  g_autofree char *name = NULL;
  guint64 offset;
  Body body;
  gboolean is_written;

  drop_parts (images);
  if (images->len == 0 || is_mostly_kept (self, images))
    return FALSE;
  entries = g_new0 (Entry, images->len);
  offset = sizeof (Header) + images->len * sizeof (Entry);
  for (guint i = 0; i < images->len; i++)
    {
      const PawlKeptImage *kept = &g_array_index (images, PawlKeptImage, i);
      const PawlChunkImage *image = kept->image;

      entries[i] = (Entry) { kept->n, image->grid.look, image->x, image->y, image->width, image->height, image->grid.phase_x, image->grid.phase_y, offset, 0 };
      if (image->pixels)
        entries[i].sum = sum_up (0, g_bytes_get_data (image->pixels, NULL), g_bytes_get_size (image->pixels));
      offset += pawl_chunk_image_get_size (image);
    }
  body = (Body) { make_header (self, images->len, entries, images->len * sizeof (Entry)), entries, images->len * sizeof (Entry), images };
  name = make_name (self, &g_array_index (images, PawlKeptImage, 0).image->grid);
  is_written = write_file (self, name, offset, write_body, &body);
  g_mutex_lock (&self->lock);
  close_file (self); /* the old one */
  g_mutex_unlock (&self->lock);
  return is_written;
}
