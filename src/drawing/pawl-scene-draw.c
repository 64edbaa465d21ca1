/* The scene onto a surface: images for the screen, vectors for paper. */
#include <math.h>

#include "drawing/pawl-scene-private.h"

/* Widths of the outline of a highlighted part, in the surface's units at a number size of 14. */
#define BAND 3.2
#define BAND_GAP 1.1
/* Least unit of the band, as a share of the sheet's diagonal, and most, in units: zoomed in it must not be thinner than the part's lines. */
#define BAND_SHARE 0.0007
#define BAND_MOST 2.5
#define TINT 0.10

/* What one draw needs at hand. */
typedef struct {
  PawlScene     *scene;
  cairo_t       *cr;
  cairo_matrix_t matrix; /* user units to the surface's units */
  PawlBox        frame;
  PawlInks       inks;
  gboolean       in_vectors;
  double         unit;   /* line widths grow with the numbers */
  double         band;   /* the same for the band, which also grows with the figure's own lines as the camera comes near */
} Brush;

/* ---- pieces ---- */

static void
draw_image (const Brush *brush, guint n, PawlChunkImage *image)
{
  PawlScene *self = brush->scene;
  PawlPoint origin = pawl_scene_get_origin (self, n, &brush->matrix);
  double ratio = brush->matrix.xx * self->device_scale / image->grid.scale;
  gboolean is_sharp = fabs (ratio - 1) < 1e-6;
  double x = origin.x - ratio * image->grid.phase_x, y = origin.y - ratio * image->grid.phase_y;
  g_autoptr(cairo_surface_t) surface = NULL;

  if (!image->pixels)
    return;
  surface = pawl_chunk_image_create_surface (image);
  cairo_save (brush->cr);
  cairo_scale (brush->cr, 1 / self->device_scale, 1 / self->device_scale);
  /* At its own scale it is never laid between pixels. */
  cairo_translate (brush->cr, is_sharp ? round (x) : x, is_sharp ? round (y) : y);
  cairo_scale (brush->cr, is_sharp ? 1 : ratio, is_sharp ? 1 : ratio);
  cairo_set_source_surface (brush->cr, surface, image->x, image->y);
  cairo_pattern_set_filter (cairo_get_source (brush->cr), is_sharp ? CAIRO_FILTER_NEAREST : CAIRO_FILTER_BILINEAR);
  cairo_paint (brush->cr);
  cairo_restore (brush->cr);
}

static void
use_piece_space (const Brush *brush, guint n)
{
  PawlPoint offset = pawl_scene_get_offset (brush->scene, n);

  cairo_transform (brush->cr, &brush->matrix);
  cairo_translate (brush->cr, offset.x, offset.y);
}

static void
add_silhouette (const Brush *brush, guint n)
{
  GPtrArray *outlines = brush->scene->waits ? pawl_figure_get_chunk (brush->scene->figure, n)->silhouette
                                            : pawl_figure_peek_silhouette (brush->scene->figure, n);

  for (guint i = 0; outlines && i < outlines->len; i++)
    {
      GArray *outline = g_ptr_array_index (outlines, i);

      for (guint j = 0; j < outline->len; j++)
        {
          PawlPoint p = g_array_index (outline, PawlPoint, j);

          if (j == 0)
            cairo_move_to (brush->cr, p.x, p.y);
          else
            cairo_line_to (brush->cr, p.x, p.y);
        }
      cairo_close_path (brush->cr);
    }
}

static void
draw_vectors (const Brush *brush, guint n)
{
  gboolean is_pale = pawl_scene_get_look (brush->scene, n) == PAWL_LOOK_PALE;

  cairo_save (brush->cr);
  use_piece_space (brush, n);
  if (is_pale && !pawl_scene_get_piece (brush->scene, n)->is_guide)
    {
      /* Paper under it, so that what is behind does not shine through. */
      add_silhouette (brush, n);
      pawl_ink_set_source (&brush->inks.paper, brush->cr, 1);
      cairo_fill (brush->cr);
    }
  pawl_figure_draw_chunk (brush->scene->figure, n, brush->cr, is_pale ? 1 - PAWL_PALE_SHARE : 1);
  cairo_restore (brush->cr);
}

static void
draw_piece (const Brush *brush, guint n)
{
  PawlChunkImage *image;

  if (!pawl_scene_is_in_frame (brush->scene, n, &brush->matrix, brush->frame))
    return;
  if (!brush->in_vectors && (image = pawl_scene_get_image (brush->scene, n, &brush->matrix)))
    draw_image (brush, n, image);
  else if (brush->in_vectors || !brush->scene->waits)
    draw_vectors (brush, n);
}

/* Guides lie under all parts, whatever their place in the file. */
static void
draw_pieces (const Brush *brush)
{
  for (int pass = 0; pass < 2; pass++)
    for (guint n = 0; n < brush->scene->pieces->len; n++)
      if (pawl_scene_get_piece (brush->scene, n)->is_guide == (pass == 0) && pawl_scene_is_shown (brush->scene, n))
        draw_piece (brush, n);
}

/* ---- the part in hand ---- */

static void
clip_to_outside (const Brush *brush, guint n)
{
  PawlBox frame = brush->frame;
  double more = 100; /* beyond what is seen */

  cairo_save (brush->cr);
  use_piece_space (brush, n);
  add_silhouette (brush, n);
  cairo_restore (brush->cr);
  /* Silhouettes run clockwise, so a frame that runs the other way leaves them out. (Not every reader of SVG files heeds an even-odd clip.) */
  cairo_move_to (brush->cr, frame.x - more, frame.y - more);
  cairo_rel_line_to (brush->cr, 0, frame.height + 2 * more);
  cairo_rel_line_to (brush->cr, frame.width + 2 * more, 0);
  cairo_rel_line_to (brush->cr, 0, -frame.height - 2 * more);
  cairo_close_path (brush->cr);
  cairo_clip (brush->cr);
}

static void
stroke_highlights (const Brush *brush, const PawlInk *ink, double reach)
{
  for (guint n = 0; n < brush->scene->pieces->len; n++)
    if (pawl_scene_is_highlighted (brush->scene, n))
      {
        cairo_save (brush->cr);
        use_piece_space (brush, n);
        add_silhouette (brush, n);
        cairo_restore (brush->cr);
      }
  cairo_set_line_join (brush->cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_width (brush->cr, 2 * reach * brush->band);
  pawl_ink_set_source (ink, brush->cr, 1);
  cairo_stroke (brush->cr);
}

/* A band round the silhouette, over everything, so that a part behind others is still found; nothing of the part itself is covered. */
static void
draw_highlights (const Brush *brush)
{
  cairo_save (brush->cr);
  for (guint n = 0; n < brush->scene->pieces->len; n++)
    if (pawl_scene_is_highlighted (brush->scene, n))
      {
        cairo_save (brush->cr);
        use_piece_space (brush, n);
        add_silhouette (brush, n);
        pawl_ink_set_source (&brush->inks.highlight, brush->cr, TINT);
        cairo_fill (brush->cr);
        cairo_restore (brush->cr);
      }
  for (guint n = 0; n < brush->scene->pieces->len; n++)
    if (pawl_scene_is_highlighted (brush->scene, n))
      clip_to_outside (brush, n);
  stroke_highlights (brush, &brush->inks.halo, BAND + 2 * BAND_GAP);
  stroke_highlights (brush, &brush->inks.highlight, BAND + BAND_GAP);
  stroke_highlights (brush, &brush->inks.halo, BAND_GAP);
  cairo_restore (brush->cr);
}

/* ---- all ---- */

static gboolean
wants_vectors (cairo_t *cr)
{
  cairo_surface_type_t type = cairo_surface_get_type (cairo_get_group_target (cr));

  return type == CAIRO_SURFACE_TYPE_PDF || type == CAIRO_SURFACE_TYPE_SVG || type == CAIRO_SURFACE_TYPE_PS;
}

static gboolean
cuts_something_off (const Brush *brush)
{
  PawlBox all = { 0 };

  for (guint n = 0; n < brush->scene->pieces->len; n++)
    if (!pawl_scene_get_piece (brush->scene, n)->is_guide)
      all = pawl_box_unite (all, pawl_scene_get_piece_box (brush->scene, n));
  cairo_matrix_transform_point (&brush->matrix, &all.x, &all.y);
  return all.x < brush->frame.x - 1 || all.y < brush->frame.y - 1
         || all.x + all.width * brush->matrix.xx > brush->frame.x + brush->frame.width + 1
         || all.y + all.height * brush->matrix.yy > brush->frame.y + brush->frame.height + 1;
}

/* Where the camera cuts parts off, a narrow line says so. */
static void
draw_frame (const Brush *brush)
{
  PawlBox frame = brush->frame;

  if (frame.x <= 0 || !cuts_something_off (brush))
    return;
  cairo_rectangle (brush->cr, frame.x + 0.5, frame.y + 0.5, frame.width - 1, frame.height - 1);
  cairo_set_line_width (brush->cr, 0.5 * brush->unit);
  pawl_ink_set_source (&brush->inks.faint, brush->cr, 0.6);
  cairo_stroke (brush->cr);
}

static void
make_brush (PawlScene *self, cairo_t *cr, double width, double height, Brush *brush)
{
  PawlBox sheet = pawl_figure_get_view_box (self->figure);

  *brush = (Brush) { .scene = self, .cr = cr };
  brush->in_vectors = cr && wants_vectors (cr);
  brush->inks = pawl_palette_get_inks (brush->in_vectors && self->palette == PAWL_PALETTE_DARK ? PAWL_PALETTE_LIGHT : self->palette);
  brush->unit = self->number_size > 0 ? self->number_size / 14 : 1;
  brush->frame = pawl_scene_get_frame (self, width, height);
  pawl_scene_get_matrix (self, width, height, &brush->matrix);
  brush->band = CLAMP (BAND_SHARE * hypot (sheet.width, sheet.height) * brush->matrix.xx, brush->unit, BAND_MOST * brush->unit);
}

static void
clip_to_frame (const Brush *brush)
{
  cairo_rectangle (brush->cr, brush->frame.x, brush->frame.y, brush->frame.width, brush->frame.height);
  cairo_clip (brush->cr);
}

void
pawl_scene_draw (PawlScene *self, cairo_t *cr, double width, double height)
{
  Brush brush;

  g_return_if_fail (PAWL_IS_SCENE (self) && cr != NULL && width > 0 && height > 0);
  make_brush (self, cr, width, height, &brush);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  if (self->paints_paper)
    {
      pawl_ink_set_source (&brush.inks.paper, cr, 1);
      cairo_paint (cr);
    }
  cairo_save (cr);
  clip_to_frame (&brush);
  draw_pieces (&brush);
  draw_highlights (&brush);
  draw_frame (&brush);
  cairo_restore (cr);
  if (!self->is_moving)
    pawl_scene_draw_numbers (self, cr, width, height);
  cairo_restore (cr);
}

/* ---- what lies over the chunks, by itself ---- */

void
pawl_scene_draw_bands (PawlScene *self, cairo_t *cr, double width, double height)
{
  Brush brush;

  g_return_if_fail (PAWL_IS_SCENE (self) && cr != NULL);
  make_brush (self, cr, width, height, &brush);
  cairo_save (cr);
  clip_to_frame (&brush);
  draw_highlights (&brush);
  cairo_restore (cr);
}

void
pawl_scene_draw_edge (PawlScene *self, cairo_t *cr, double width, double height)
{
  Brush brush;

  g_return_if_fail (PAWL_IS_SCENE (self) && cr != NULL);
  make_brush (self, cr, width, height, &brush);
  draw_frame (&brush);
}

gboolean
pawl_scene_has_edge (PawlScene *self, double width, double height)
{
  Brush brush;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  make_brush (self, NULL, width, height, &brush);
  return brush.frame.x > 0 && cuts_something_off (&brush);
}

PawlBox
pawl_scene_get_bands_box (PawlScene *self, double width, double height)
{
  Brush brush;
  PawlBox box = { 0 };
  double reach;

  g_return_val_if_fail (PAWL_IS_SCENE (self), box);
  make_brush (self, NULL, width, height, &brush);
  reach = (BAND + 2 * BAND_GAP) * brush.band + 1;
  for (guint n = 0; n < self->pieces->len; n++)
    if (pawl_scene_is_highlighted (self, n))
      box = pawl_box_unite (box, pawl_scene_get_piece_box (self, n));
  if (pawl_box_is_empty (box))
    return box;
  cairo_matrix_transform_point (&brush.matrix, &box.x, &box.y);
  box = (PawlBox) { box.x - reach, box.y - reach, box.width * brush.matrix.xx + 2 * reach, box.height * brush.matrix.yy + 2 * reach };
  return pawl_box_intersect (box, brush.frame);
}

void
pawl_scene_draw_numbers (PawlScene *self, cairo_t *cr, double width, double height)
{
  Brush brush;

  g_return_if_fail (PAWL_IS_SCENE (self) && cr != NULL);
  make_brush (self, cr, width, height, &brush);
  if (self->number_size > 0 && self->items->len)
    pawl_scene_draw_callouts (self, cr, &brush.inks, brush.unit, width, height);
}

PawlBox
pawl_scene_get_window (PawlScene *self, double width, double height)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), (PawlBox) { 0 });
  return pawl_scene_get_frame (self, width, height);
}
