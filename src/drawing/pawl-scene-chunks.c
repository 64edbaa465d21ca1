#include "drawing/pawl-scene-chunks.h"

#include <math.h>

#include "drawing/pawl-scene-private.h"

/* A chunk that is not drawn whole is drawn so much beyond what is seen, as a share of it on each side, that a short pan shows no edge. */
#define WINDOW_MORE 0.12

PawlLook
pawl_scene_get_look (PawlScene *self, guint n)
{
  const Piece *piece = pawl_scene_get_piece (self, n);

  return piece->is_guide || piece->state == PAWL_STATE_LATER ? PAWL_LOOK_PALE : PAWL_LOOK_INK;
}

PawlPoint
pawl_scene_get_origin (PawlScene *self, guint n, const cairo_matrix_t *matrix)
{
  PawlPoint origin = pawl_scene_get_offset (self, n);

  cairo_matrix_transform_point (matrix, &origin.x, &origin.y);
  return (PawlPoint) { origin.x * self->device_scale, origin.y * self->device_scale };
}

static PawlGrid
get_grid (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlPoint origin)
{
  return (PawlGrid) { matrix->xx * self->device_scale, origin.x - floor (origin.x), origin.y - floor (origin.y), pawl_scene_get_look (self, n), self->palette };
}

gboolean
pawl_scene_is_in_frame (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame)
{
  PawlBox box = pawl_scene_get_piece_box (self, n);

  if (pawl_box_is_empty (box))
    return FALSE;
  cairo_matrix_transform_point (matrix, &box.x, &box.y);
  box.width *= matrix->xx;
  box.height *= matrix->yy;
  return !pawl_box_is_empty (pawl_box_intersect (box, frame));
}

/* What is seen of the sheet and a little more, as the chunk has it when it has slid. */
static PawlBox
get_window (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame, double more)
{
  PawlPoint offset = pawl_scene_get_offset (self, n);
  PawlBox window = { frame.x - more * frame.width, frame.y - more * frame.height, (1 + 2 * more) * frame.width, (1 + 2 * more) * frame.height };

  return (PawlBox) { (window.x - matrix->x0) / matrix->xx - offset.x, (window.y - matrix->y0) / matrix->yy - offset.y,
                     window.width / matrix->xx, window.height / matrix->yy };
}

static gboolean
contains (PawlBox outer, PawlBox inner)
{
  double hair = 1e-6 * (outer.width + outer.height);

  return inner.x >= outer.x - hair && inner.y >= outer.y - hair && inner.x + inner.width <= outer.x + outer.width + hair
         && inner.y + inner.height <= outer.y + outer.height + hair;
}

static gboolean
is_as_wanted (const PawlChunkImage *image, const PawlGrid *grid, PawlBox seen, gboolean slides)
{
  gboolean has_scale = fabs (image->grid.scale - grid->scale) < 1e-6 * grid->scale;

  if (image->grid.palette != grid->palette || !(slides ? has_scale : pawl_grid_fits (&image->grid, grid)))
    return FALSE;
  return image->is_whole || contains (image->covers, seen);
}

static gboolean
slides (const Piece *piece)
{
  return piece->fraction > 0 && piece->fraction < 1;
}

/* ---- drawn here ---- */

typedef struct {
  PawlFigure *figure;
  guint       n;
} Drawn;

static void
draw_chunk_cb (cairo_t *cr, gpointer data)
{
  const Drawn *drawn = data;

  pawl_figure_draw_chunk (drawn->figure, drawn->n, cr, 1);
}

PawlChunkImage *
pawl_scene_get_image (PawlScene *self, guint n, const cairo_matrix_t *matrix)
{
  Piece *piece = pawl_scene_get_piece (self, n);
  PawlGrid grid = get_grid (self, n, matrix, pawl_scene_get_origin (self, n, matrix));
  PawlChunkImage **image = &piece->images[grid.look];
  Drawn drawn = { self->figure, n };
  PawlBox frame = { 0 };

  if (self->waits)
    return *image ? *image : piece->images[!grid.look];
  if (*image && (*image)->is_whole && (self->is_moving || is_as_wanted (*image, &grid, frame, slides (piece))))
    return *image;
  g_clear_pointer (image, pawl_chunk_image_unref);
  /* Without a window: what is too large as a whole is drawn in vectors. */
  *image = pawl_chunk_image_new (draw_chunk_cb, &drawn, pawl_figure_get_chunk_extents (self->figure, n), frame, &grid);
  if (*image && !(*image)->is_whole)
    g_clear_pointer (image, pawl_chunk_image_unref);
  return *image;
}

/* ---- drawn elsewhere ---- */

void
pawl_scene_set_waits (PawlScene *self, gboolean waits)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  self->waits = waits;
}

guint
pawl_scene_get_n_chunks (PawlScene *self)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), 0);
  return self->pieces->len;
}

gboolean
pawl_scene_is_measured (PawlScene *self)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  for (guint n = 0; n < self->pieces->len; n++)
    if (!pawl_figure_get_chunk (self->figure, n)->is_measured)
      return FALSE;
  return TRUE;
}

gboolean
pawl_scene_get_place (PawlScene *self, guint n, double width, double height, PawlChunkPlace *place)
{
  const Piece *piece;
  cairo_matrix_t matrix;
  PawlBox frame;

  g_return_val_if_fail (PAWL_IS_SCENE (self) && n < self->pieces->len && place != NULL, FALSE);
  piece = pawl_scene_get_piece (self, n);
  frame = pawl_scene_get_frame (self, width, height);
  pawl_scene_get_matrix (self, width, height, &matrix);
  if (!pawl_scene_is_shown (self, n))
    return FALSE;
  if (pawl_figure_get_chunk (self->figure, n)->is_measured && !pawl_scene_is_in_frame (self, n, &matrix, frame))
    return FALSE;
  place->origin = pawl_scene_get_origin (self, n, &matrix);
  place->grid = get_grid (self, n, &matrix, place->origin);
  place->seen = pawl_box_intersect (pawl_figure_get_chunk (self->figure, n)->extents, get_window (self, n, &matrix, frame, 0));
  place->window = get_window (self, n, &matrix, frame, WINDOW_MORE);
  place->is_guide = piece->is_guide;
  place->is_strong = pawl_scene_is_highlighted (self, n);
  return TRUE;
}

PawlChunkImage *
pawl_scene_peek_image (PawlScene *self, guint n, PawlLook look)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self) && n < self->pieces->len, NULL);
  return pawl_scene_get_piece (self, n)->images[look];
}

void
pawl_scene_take_image (PawlScene *self, guint n, PawlChunkImage *image)
{
  PawlChunkImage **place;

  g_return_if_fail (PAWL_IS_SCENE (self) && n < self->pieces->len && image != NULL);
  place = &pawl_scene_get_piece (self, n)->images[image->grid.look];
  g_clear_pointer (place, pawl_chunk_image_unref);
  *place = image;
}

void
pawl_scene_drop_spares (PawlScene *self, double width, double height)
{
  cairo_matrix_t matrix;
  double scale;

  g_return_if_fail (PAWL_IS_SCENE (self));
  pawl_scene_get_matrix (self, width, height, &matrix);
  scale = matrix.xx * self->device_scale;
  for (guint n = 0; n < self->pieces->len; n++)
    {
      PawlLook look = pawl_scene_get_look (self, n);
      PawlChunkImage **images = pawl_scene_get_piece (self, n)->images;

      if (images[look] && images[!look] && fabs (images[!look]->grid.scale - scale) > 1e-6 * scale)
        g_clear_pointer (&images[!look], pawl_chunk_image_unref);
    }
}

gboolean
pawl_scene_is_sharp (PawlScene *self, guint n, const PawlChunkPlace *place)
{
  const Piece *piece;
  const PawlChunkImage *image;

  g_return_val_if_fail (PAWL_IS_SCENE (self) && n < self->pieces->len && place != NULL, FALSE);
  piece = pawl_scene_get_piece (self, n);
  image = piece->images[place->grid.look];
  return image && is_as_wanted (image, &place->grid, place->seen, slides (piece));
}

gboolean
pawl_scene_is_highlighted (PawlScene *self, guint n)
{
  const Piece *piece = pawl_scene_get_piece (self, n);

  return piece->state == PAWL_STATE_HIGHLIGHT && !piece->is_guide;
}
