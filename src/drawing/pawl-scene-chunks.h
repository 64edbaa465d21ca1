/*
 * A scene whose chunks are drawn elsewhere: by a worker, away from the main loop. The scene says how each is wanted, and keeps what it is brought.
 */
#pragma once

#include "drawing/pawl-chunk-image.h"
#include "drawing/pawl-scene.h"

G_BEGIN_DECLS

/* How a chunk of the scene is to be shown in a drawing of some size. */
typedef struct {
  PawlGrid  grid;
  PawlBox   seen;      /* what is looked at of it, in its own space; of a chunk that is not measured yet nothing */
  PawlBox   window;    /* what may be looked at soon, in the chunk's own space */
  PawlPoint origin;    /* where the user's origin of its own space lies, device pixels */
  gboolean  is_guide;  /* lies under all that are not */
  gboolean  is_strong; /* highlighted */
} PawlChunkPlace;

/* TRUE: the scene draws no chunk by itself and measures none. What has not been brought is not shown, has no box and is not picked. FALSE at first. */
void            pawl_scene_set_waits     (PawlScene *self, gboolean waits);
guint           pawl_scene_get_n_chunks  (PawlScene *self);
/* Nothing is left to be measured: boxes and camera are as they will be. */
gboolean        pawl_scene_is_measured   (PawlScene *self);
/* FALSE: nothing of it is to be seen. A chunk that is not measured yet may be. */
gboolean        pawl_scene_get_place     (PawlScene *self, guint n, double width, double height, PawlChunkPlace *place);
/* (transfer none) (nullable). */
PawlChunkImage *pawl_scene_peek_image    (PawlScene *self, guint n, PawlLook look);
void            pawl_scene_take_image    (PawlScene *self, guint n, PawlChunkImage *image); /* takes the reference */
/* Lets go of images of a look that is not wanted, when they are of another scale: they would have to be drawn again in any case. */
void            pawl_scene_drop_spares   (PawlScene *self, double width, double height);
/* TRUE when what is there of the wanted look is as it should be. */
gboolean        pawl_scene_is_sharp      (PawlScene *self, guint n, const PawlChunkPlace *place);

/* Regions that are highlighted and shown; their silhouettes are wanted. */
gboolean        pawl_scene_is_highlighted (PawlScene *self, guint n);
/* ---- what lies over the chunks, each by itself ---- */
/* Bands round highlighted parts; parts without a silhouette yet are passed over. */
void            pawl_scene_draw_bands    (PawlScene *self, cairo_t *cr, double width, double height);
/* Box that the bands cover, surface units; empty when there are none. */
PawlBox         pawl_scene_get_bands_box (PawlScene *self, double width, double height);
/* The line round the drawing that says that the camera cuts something off. */
gboolean        pawl_scene_has_edge      (PawlScene *self, double width, double height);
void            pawl_scene_draw_edge     (PawlScene *self, cairo_t *cr, double width, double height);
void            pawl_scene_draw_numbers  (PawlScene *self, cairo_t *cr, double width, double height);
/* The box that chunks are seen in, surface units. */
PawlBox         pawl_scene_get_window    (PawlScene *self, double width, double height);

G_END_DECLS
