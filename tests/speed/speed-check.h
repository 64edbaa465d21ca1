/*
 * Whether what is shown and picked is right, asked of librsvg's own handle on the same file: nothing of the drawing code that is
 * measured takes part in the answer.
 */
#pragma once

#include <cairo.h>
#include <librsvg/rsvg.h>

#include "drawing/pawl-scene.h"

/* (transfer full): the whole figure at once on white, by the drawing library, @matrix from user units to pixels. */
cairo_surface_t *speed_check_draw_whole (RsvgHandle *handle, PawlBox view_box, const cairo_matrix_t *matrix, int width, int height);
/* The largest difference of any channel of any pixel, 0 to 255. Both are images of one size, opaque. */
guint            speed_check_compare    (cairo_surface_t *a, cairo_surface_t *b);
/* (nullable): the id of the region at a point, in pixels. */
typedef const char *(*SpeedPick) (gpointer data, double x, double y);
/* How many of @n_points random points of a drawing of that size @pick answers rightly: with the topmost region of @scene that inks them. Ink
 * so thin that it is neither surely felt nor surely not may be answered either way. All regions must stand where they are drawn. */
guint            speed_check_pick       (PawlScene *scene, RsvgHandle *handle, int width, int height, guint n_points, guint32 seed,
                                         SpeedPick pick, gpointer data);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (RsvgHandle, g_object_unref)
