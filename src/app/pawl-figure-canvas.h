/*
 * The figure's canvas: shows a scene, and knows nothing but the scene. Chunks are drawn by a worker; until one is there the canvas shows what it
 * has. Nothing that a caller does here waits for a drawing.
 *
 * Whoever changes the scene (state, slide, camera, numbers, palette) calls pawl_figure_canvas_update() afterwards, as often as it likes between
 * two frames. When the scale has changed, the picture as it was stands in, scaled, until the new one is there.
 *
 * Property "is-sharp" (gboolean, read): everything in view is as it should be: images at this scale, silhouettes of highlighted parts.
 * Signal "measured": the ink boxes of all chunks are known now; see pawl_figure_canvas_measure().
 */
#pragma once

#include <gtk/gtk.h>
#include "drawing/pawl-scene.h"

G_BEGIN_DECLS

#define PAWL_TYPE_FIGURE_CANVAS (pawl_figure_canvas_get_type ())
G_DECLARE_FINAL_TYPE (PawlFigureCanvas, pawl_figure_canvas, PAWL, FIGURE_CANVAS, GtkWidget)

GtkWidget *pawl_figure_canvas_new       (void);
/* @scene: (nullable): a new one, which nothing has been drawn with. From now on it draws nothing by itself. */
void       pawl_figure_canvas_set_scene (PawlFigureCanvas *self, PawlScene *scene);
PawlScene *pawl_figure_canvas_get_scene (PawlFigureCanvas *self); /* (nullable) */
/* @folder: (nullable): where drawn chunks are kept from one time to the next. Before set_scene. */
void       pawl_figure_canvas_set_store (PawlFigureCanvas *self, const char *folder);
/* Measures all chunks before any is drawn, for a camera that has to be aimed at them; "measured" follows, from the main loop. Right after set_scene. */
void       pawl_figure_canvas_measure   (PawlFigureCanvas *self);
/* Boxes of regions, and so cameras that are aimed at them, are right. */
gboolean   pawl_figure_canvas_is_measured (PawlFigureCanvas *self);
/* The scene is not as it was. */
void       pawl_figure_canvas_update    (PawlFigureCanvas *self);
/* The camera has come to rest, so that nothing is gained by waiting for its next move. */
void       pawl_figure_canvas_settle    (PawlFigureCanvas *self);
/* TRUE while parts slide: item numbers stay as they are for the scene at the moment of the call. */
void       pawl_figure_canvas_set_sliding (PawlFigureCanvas *self, gboolean is_sliding);
/* By so many of the widget's pixels, whole pixels of the screen, so that what is sharp stays so. The remainder is kept for the next call. */
void       pawl_figure_canvas_pan       (PawlFigureCanvas *self, double dx, double dy);
/* Everything in view is as it should be. */
gboolean   pawl_figure_canvas_is_sharp  (PawlFigureCanvas *self);
/* (transfer none) (nullable): the region under a point of the widget, or the nearest within @ring. By what is on the screen. */
const char *pawl_figure_canvas_pick     (PawlFigureCanvas *self, double x, double y, double ring);

G_END_DECLS
