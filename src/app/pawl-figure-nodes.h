/*
 * The render nodes of a figure: one for each chunk and look, kept as long as its image and place are the same, because GTK repaints only what
 * is another node than before. On the cairo renderer a node paints the image's surface; elsewhere it is a texture.
 * (A texture node on the cairo renderer is copied whole in each frame: 31 ms against 1 for 400 parts.)
 */
#pragma once

#include <gtk/gtk.h>
#include "drawing/pawl-scene.h"

G_BEGIN_DECLS

typedef struct _PawlFigureNodes PawlFigureNodes;

PawlFigureNodes *pawl_figure_nodes_new   (PawlScene *scene, int device_scale); /* takes a reference */
void             pawl_figure_nodes_free  (PawlFigureNodes *self);
void             pawl_figure_nodes_set_renderer (PawlFigureNodes *self, GskRenderer *renderer);
void             pawl_figure_nodes_set_device_scale (PawlFigureNodes *self, int device_scale);

/* To be told whenever the camera may have moved. TRUE when the scale is another than in the last picture: that picture, as it was, now stands in
 * for the chunks, scaled. */
gboolean         pawl_figure_nodes_follow_camera (PawlFigureNodes *self, double width, double height);
gboolean         pawl_figure_nodes_is_frozen (PawlFigureNodes *self);
void             pawl_figure_nodes_thaw  (PawlFigureNodes *self);

/* Item numbers are placed when the next picture is made, and then kept. */
void             pawl_figure_nodes_forget_numbers (PawlFigureNodes *self);
void             pawl_figure_nodes_place_numbers (PawlFigureNodes *self, double width, double height); /* now */

/* @has_all: there is something to show of everything in view, so that numbers can be placed. */
void             pawl_figure_nodes_snapshot (PawlFigureNodes *self, GtkSnapshot *snapshot, double width, double height, gboolean has_all);

G_END_DECLS
