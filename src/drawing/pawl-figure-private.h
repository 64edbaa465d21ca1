/* The pieces that a figure is drawn from, for the scene. */
#pragma once

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

/* One root-level element, or a run of them without ids: what is drawn in one go, in z-order. */
typedef struct {
  char            *id;        /* of a region; of filler: made up */
  gboolean         is_region;
  int              line;
  gboolean         has_layers; /* see pawl-figure-layers.h */
  cairo_surface_t *recording; /* (nullable) made on first use: vectors, in the figure's user units */
  PawlBox          extents;   /* ink; made on first use, or brought by a worker */
  gboolean         is_measured;
  GPtrArray       *silhouette; /* (nullable) made on first use, or brought by a worker: (element-type GArray of PawlPoint) closed outer outlines, clockwise, user units */
} PawlChunk;

guint            pawl_figure_get_n_chunks     (PawlFigure *self);
const PawlChunk *pawl_figure_get_chunk        (PawlFigure *self, guint n);
/* (nullable): the root-level region of that id; NULL for filler and for ids deeper down. @n: (out) (optional). */
const PawlChunk *pawl_figure_lookup_chunk     (PawlFigure *self, const char *id, guint *n);
cairo_surface_t *pawl_figure_peek_recording   (PawlFigure *self, guint n);
/* In vectors, through the drawing library, in user units. */
void             pawl_figure_draw_chunk       (PawlFigure *self, guint n, cairo_t *cr, double alpha);
PawlBox          pawl_figure_get_chunk_extents (PawlFigure *self, guint n);
GPtrArray       *pawl_figure_peek_silhouette  (PawlFigure *self, guint n);

/* What a worker has found out, so that the caller's thread need not draw for it. */
void             pawl_figure_set_chunk_extents (PawlFigure *self, guint n, PawlBox extents);
void             pawl_figure_take_silhouette  (PawlFigure *self, guint n, GPtrArray *silhouette);
/* For a thread that draws by itself: the figure made ready for drawing, and (nullable) the artist that has it open already, to keep. */
GBytes          *pawl_figure_peek_text        (PawlFigure *self);
struct _PawlArtist *pawl_figure_steal_artist  (PawlFigure *self);

gboolean         pawl_box_is_empty            (PawlBox box);
PawlBox          pawl_box_unite               (PawlBox a, PawlBox b);
PawlBox          pawl_box_intersect           (PawlBox a, PawlBox b);

/* Outer outlines, clockwise as seen, of what an A8 or ARGB32 image covers by @threshold (0..255) or more, in its pixels, with a blank border taken as given.
 * (transfer full) (element-type GArray of PawlPoint). */
GPtrArray       *pawl_trace_outlines          (cairo_surface_t *image, guint threshold, double tolerance);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (cairo_surface_t, cairo_surface_destroy)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (cairo_t, cairo_destroy)

G_END_DECLS
