/* Picture files: PNG, SVG or PDF by the ending of the name, drawn by the same code as the window. */
#pragma once

#include "drawing/pawl-scene.h"
#include "drawing/pawl-sketch.h"

G_BEGIN_DECLS

#define PAWL_PICTURE_ERROR (pawl_picture_error_quark ())
GQuark pawl_picture_error_quark (void);

typedef enum {
  PAWL_PICTURE_ERROR_KIND, /* the name ends in none of .png .svg .pdf */
  PAWL_PICTURE_ERROR_SIZE, /* not from 16 to 16,000 */
  PAWL_PICTURE_ERROR_IO,
} PawlPictureError;

typedef void (*PawlPictureDraw) (cairo_t *cr, double width, double height, gpointer data);

/**
 * pawl_picture_write:
 * @width, @height: pixels for .png, points for .svg and .pdf
 *
 * Makes a surface by the ending of @path, lets @draw draw on it, and writes it beside @path before it takes the name, so that a failed
 * write leaves the old file.
 */
gboolean pawl_picture_write       (const char *path, double width, double height, PawlPictureDraw draw, gpointer data, GError **error);
gboolean pawl_picture_write_scene (const char *path, PawlScene *scene, double width, double height, GError **error);
/* (transfer full) (nullable): one region alone on white paper, as large as fits into @width x @height pixels; NULL when the figure has no such region */
cairo_surface_t *pawl_picture_draw_region (PawlFigure *figure, const char *region, int width, int height);
gboolean pawl_picture_write_sketch (const char *path, const PawlRule *rule, const PawlSketchOptions *options, double width, double height, GError **error);

G_END_DECLS
