/* Shared by the files of the scene. */
#pragma once

#include "drawing/pawl-chunk-image.h"
#include "drawing/pawl-scene-chunks.h"

G_BEGIN_DECLS

/* How one chunk of the figure stands in the scene. */
typedef struct {
  PawlState  state;
  double     fraction;
  PawlPoint *legs;
  guint      n_legs;
  gboolean   is_region;
  gboolean   is_guide;
  GArray    *guided;  /* (nullable) (element-type guint): chunks that a guide is for; NULL: all that have legs */
  PawlChunkImage *images[PAWL_N_LOOKS]; /* (nullable) */
} Piece;

typedef struct {
  char  *number;
  char **regions;
} Item;

struct _PawlScene {
  GObject parent_instance;

  PawlFigure  *figure;
  PawlPalette  palette;
  double       device_scale;
  gboolean     paints_paper;
  gboolean     is_moving;
  gboolean     waits;  /* draws nothing by itself: shows the images that it was brought */
  GArray      *pieces; /* (element-type Piece), one for each chunk, in z-order */
  PawlBox      view;
  GPtrArray   *items;  /* (element-type Item) */
  double       number_size;

  PawlCallouts *callouts;      /* (nullable) as they stand now */
  PawlCallouts *last_callouts; /* (nullable) as they stood before */
  gboolean      callouts_are_partial; /* placed while images were still on their way */
};

Piece    *pawl_scene_get_piece     (PawlScene *self, guint n);
PawlPoint pawl_scene_get_offset    (PawlScene *self, guint n); /* how far it has slid, user units */
gboolean  pawl_scene_is_shown      (PawlScene *self, guint n);
PawlBox   pawl_scene_get_piece_box (PawlScene *self, guint n); /* user units, where it is now; empty when not shown */
/* What the figure may cover of a drawing: the whole less the room for numbers. */
PawlBox   pawl_scene_get_frame     (PawlScene *self, double width, double height);
gboolean  pawl_scene_is_in_frame   (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame);
PawlLook  pawl_scene_get_look      (PawlScene *self, guint n);
/* (nullable): one that fits scale and place, drawn here when it is not there; while something moves, or when images are brought, any will do. */
PawlChunkImage *pawl_scene_get_image (PawlScene *self, guint n, const cairo_matrix_t *matrix);
/* Where the user's origin of a chunk's own space comes to lie, in device pixels. */
PawlPoint pawl_scene_get_origin    (PawlScene *self, guint n, const cairo_matrix_t *matrix);
/* (nullable): the region whose ink lies on top at a point of the drawing. */
const char *pawl_scene_pick_exactly (PawlScene *self, const cairo_matrix_t *matrix, double x, double y);
void      pawl_scene_forget_callouts (PawlScene *self);
/* @unit: what line widths are multiples of. */
void      pawl_scene_draw_callouts (PawlScene *self, cairo_t *cr, const PawlInks *inks, double unit, double width, double height);

G_END_DECLS
