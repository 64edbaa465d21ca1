/* A chunk drawn once: pixels, and where they lie. Never changed after it is made, shared between threads by reference. */
#pragma once

#include "drawing/pawl-figure-private.h"
#include "drawing/pawl-palette.h"

G_BEGIN_DECLS

typedef enum { PAWL_LOOK_INK, PAWL_LOOK_PALE, PAWL_N_LOOKS } PawlLook;

/* How much paper is mixed into what comes later. */
#define PAWL_PALE_SHARE 0.74

/* The pixels that a chunk is drawn on. Two chunks that have not slid lie on the same ones. */
typedef struct {
  double      scale;            /* device pixels per user unit */
  double      phase_x, phase_y; /* where in its pixel the user's origin lies, 0 to 1 */
  PawlLook    look;
  PawlPalette palette;
} PawlGrid;

typedef struct {
  PawlGrid grid;
  int      x, y;          /* of the upper left pixel, from the one that the user's origin lies in */
  int      width, height; /* 0: nothing to be seen */
  PawlBox  covers;        /* of the figure, user units: all, or what was asked for of a chunk too large to be drawn whole */
  gboolean is_whole;
  GBytes  *pixels;        /* (nullable): premultiplied ARGB32 in the machine's order, rows without gaps */
} PawlChunkImage;

/* TRUE when both lie pixel on pixel: the same scale, and the same place between the pixels within a fiftieth. */
gboolean        pawl_grid_fits          (const PawlGrid *a, const PawlGrid *b);

/* Draws a chunk in user units. */
typedef void (*PawlChunkDraw) (cairo_t *cr, gpointer data);

/**
 * pawl_chunk_image_new:
 * @draw: draws the chunk, with @data; by the drawing library itself, because a recording is exact to 1/256 of a user unit only, which shows
 * @reach: what it may cover, user units
 * @window: what is looked at: a chunk that lies mostly outside, or would take more than PAWL_CHUNK_MOST_PIXELS, is drawn only within it. Empty: all is
 *
 * Draws the chunk on @grid. NULL: too large even so. Trimmed to what has alpha.
 */
PawlChunkImage *pawl_chunk_image_new    (PawlChunkDraw draw, gpointer data, PawlBox reach, PawlBox window, const PawlGrid *grid);
/* Of the sheet, device pixels: above this the drawing library's own surfaces, as large as the whole sheet, take too much (64 MiB each). */
#define PAWL_SHEET_MOST_PIXELS (16.0 * 1024 * 1024)

/**
 * pawl_chunk_image_find_tile:
 * @window: what is looked at, user units
 * @sheet: the figure's
 *
 * What to draw within, for a chunk that needs such surfaces: the pixels of @window and half as much again on each side, so that a filter at its
 * edge sees what it works on; without that where it would be over PAWL_SHEET_MOST_PIXELS. FALSE: the sheet is not, or @window is empty.
 */
gboolean        pawl_chunk_image_find_tile (PawlBox window, PawlBox sheet, const PawlGrid *grid, PawlBox *tile);
/* From pixels drawn earlier: @pixels is width * height * 4 bytes long, or NULL with both 0. */
PawlChunkImage *pawl_chunk_image_new_from_pixels (const PawlGrid *grid, int x, int y, int width, int height, GBytes *pixels);
/* The pale look of one that has the ink look. */
PawlChunkImage *pawl_chunk_image_veil   (const PawlChunkImage *ink);
PawlChunkImage *pawl_chunk_image_ref    (PawlChunkImage *self);
void            pawl_chunk_image_unref  (PawlChunkImage *self);
/* (transfer full): a surface over its pixels, for the calling thread alone. */
cairo_surface_t *pawl_chunk_image_create_surface (PawlChunkImage *self);
gsize           pawl_chunk_image_get_size (const PawlChunkImage *self); /* bytes */
/* Box of its pixels, user units. */
PawlBox         pawl_chunk_image_get_box (const PawlChunkImage *self);
/* Alpha of its pixel at a point of the chunk's own space, 0 outside. */
guint           pawl_chunk_image_get_alpha (const PawlChunkImage *self, double x, double y);

#define PAWL_CHUNK_MOST_PIXELS (4.0 * 1024 * 1024)

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlChunkImage, pawl_chunk_image_unref)

G_END_DECLS
