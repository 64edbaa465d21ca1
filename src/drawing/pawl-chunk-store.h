/*
 * Drawn chunks on disk, so that a figure that was looked at before is there at once. A cache: anything in it may be missing, damaged, of another
 * version or forged, and is then drawn again. Nothing is taken from it but pixels and the boxes that they lie in.
 *
 * One file for each figure, scale and palette, and one for the boxes of each figure; the oldest go when all together are too large. A file is
 * written under another name first. All calls may be made from any thread.
 */
#pragma once

#include "drawing/pawl-chunk-image.h"

G_BEGIN_DECLS

typedef struct _PawlChunkStore PawlChunkStore;

/* An image and the chunk it is of. */
typedef struct {
  guint           n;
  PawlChunkImage *image;
} PawlKeptImage;

/* (transfer full): an empty array that holds its images. */
GArray         *pawl_kept_images_new         (void);

#define PAWL_CHUNK_STORE_MOST_BYTES (256 * 1024 * 1024)

/* @folder: made when something is written, for the user alone. @digest: of the figure. */
PawlChunkStore *pawl_chunk_store_new         (const char *folder, const char *digest, guint n_chunks, PawlBox view_box);
void            pawl_chunk_store_free        (PawlChunkStore *self);
/* What all files of the folder together may take. PAWL_CHUNK_STORE_MOST_BYTES at first. */
void            pawl_chunk_store_set_most    (PawlChunkStore *self, gsize bytes);

/* @boxes: (out caller-allocates) (array): one for each chunk. */
gboolean        pawl_chunk_store_read_boxes  (PawlChunkStore *self, PawlBox *boxes);
gboolean        pawl_chunk_store_write_boxes (PawlChunkStore *self, const PawlBox *boxes);
/* (transfer full) (nullable): chunk @n as it was drawn on that very grid. */
PawlChunkImage *pawl_chunk_store_read        (PawlChunkStore *self, guint n, const PawlGrid *grid);
/* @images: (element-type PawlKeptImage), all of one scale and palette; those that show only a part of their chunk are left out. Writes nothing when
 * most of them are kept already. FALSE: nothing was written. */
gboolean        pawl_chunk_store_write       (PawlChunkStore *self, GArray *images);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlChunkStore, pawl_chunk_store_free)

G_END_DECLS
