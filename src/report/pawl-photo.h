/* Photos on paper: picture bytes that nobody vouches for, made into a small bitmap. */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

G_BEGIN_DECLS

/* Larger pictures are refused unseen. */
#define PAWL_PHOTO_MAX_PIXELS (120 * 1000 * 1000)

/**
 * pawl_photo_load:
 * @bytes: a picture file, PNG or JPEG
 * @side_px: the longer side of the result, at most
 * @error: what the picture library says, or that the picture is too large
 *
 * The picture as it was taken, turned upright by what the camera noted, made smaller but never larger.
 *
 * Returns: (transfer full) (nullable): an image surface
 */
cairo_surface_t *pawl_photo_load (GBytes *bytes, int side_px, GError **error);

/* Draws @surface as large as fits the box, at its upper left corner. */
void             pawl_photo_draw (cairo_surface_t *surface, cairo_t *cr, double x, double y, double width, double height);

G_END_DECLS
