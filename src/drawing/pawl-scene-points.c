/* The scene by points: what lies under one. */
#include <math.h>

#include "drawing/pawl-chunk-artist.h"
#include "drawing/pawl-scene-private.h"

/* Alpha from which a part is hit. */
#define HIT_ALPHA 24

/* ---- picking ---- */

/* Alpha of a piece at a point of its own space: one pixel of @scale per unit is drawn for it. */
static guint
get_alpha_at (PawlScene *self, guint n, double x, double y, double scale)
{
  guint8 pixel[4] = { 0 };
  cairo_surface_t *image = cairo_image_surface_create_for_data (pixel, CAIRO_FORMAT_A8, 1, 1, 4);
  cairo_t *cr = cairo_create (image);

  cairo_translate (cr, 0.5, 0.5);
  cairo_scale (cr, scale, scale);
  pawl_recording_set_source (pawl_figure_peek_recording (self->figure, n), cr, -x, -y);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (image);
  return pixel[0];
}

/* From the image that is on the screen, when there is one. */
static gboolean
is_hit (PawlScene *self, guint n, const cairo_matrix_t *matrix, double x, double y)
{
  const Piece *piece = pawl_scene_get_piece (self, n);
  PawlBox box = pawl_scene_get_piece_box (self, n);
  PawlPoint offset = pawl_scene_get_offset (self, n);
  const PawlChunkImage *image = piece->images[PAWL_LOOK_INK] ? piece->images[PAWL_LOOK_INK] : piece->images[PAWL_LOOK_PALE];
  cairo_matrix_t back = *matrix;
  double half = 0.5 / matrix->xx;

  if (pawl_box_is_empty (box))
    return FALSE;
  cairo_matrix_invert (&back);
  cairo_matrix_transform_point (&back, &x, &y);
  if (x < box.x - half || y < box.y - half || x > box.x + box.width + half || y > box.y + box.height + half)
    return FALSE;
  x -= offset.x;
  y -= offset.y;
  if (image && (image->is_whole || self->waits))
    return pawl_chunk_image_get_alpha (image, x, y) >= HIT_ALPHA;
  if (self->waits)
    return FALSE;
  return get_alpha_at (self, n, x, y, matrix->xx) >= HIT_ALPHA;
}

const char *
pawl_scene_pick_exactly (PawlScene *self, const cairo_matrix_t *matrix, double x, double y)
{
  for (guint n = self->pieces->len; n > 0; n--)
    {
      const Piece *piece = pawl_scene_get_piece (self, n - 1);

      if (piece->is_region && !piece->is_guide && is_hit (self, n - 1, matrix, x, y))
        return pawl_figure_get_chunk (self->figure, n - 1)->id;
    }
  return NULL;
}

const char *
pawl_scene_pick (PawlScene *self, double x, double y, double ring, double width, double height)
{
  cairo_matrix_t matrix;
  PawlBox frame;
  const char *found;

  g_return_val_if_fail (PAWL_IS_SCENE (self), NULL);
  frame = pawl_scene_get_frame (self, width, height);
  if (x < frame.x || y < frame.y || x >= frame.x + frame.width || y >= frame.y + frame.height)
    return NULL;
  pawl_scene_get_matrix (self, width, height, &matrix);
  found = pawl_scene_pick_exactly (self, &matrix, x, y);
  for (double radius = 1; !found && radius <= ring; radius++)
    {
      guint n_points = 8 + 4 * (guint) radius;

      for (guint i = 0; !found && i < n_points; i++)
        found = pawl_scene_pick_exactly (self, &matrix, x + radius * cos (2 * G_PI * i / n_points), y + radius * sin (2 * G_PI * i / n_points));
    }
  return found;
}
