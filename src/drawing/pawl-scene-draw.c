/* The scene onto a surface: bitmaps for the screen, vectors for paper. */
#include <math.h>

#include "drawing/pawl-scene-private.h"

/* How much paper is mixed into what comes later. */
#define PALE_SHARE 0.74
/* Over this a chunk is drawn straight from its recording: device pixels. */
#define MAX_BITMAP_PIXELS (16.0 * 1024 * 1024)
#define MAX_BITMAP_SIDE 16000
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

/* ---- bitmaps ---- */

static guint8
clamp_byte (int value, int most)
{
  return (guint8) CLAMP (value, 0, most);
}

/* Light and dark change places, hues stay: each channel plus (white − lightest − darkest), which turns HSL lightness over; then the range from
 * black to white is laid between the dark sheet and its ink. Pixels are premultiplied, so white is the pixel's own alpha. */
static void
turn_dark (cairo_surface_t *image, const PawlInks *inks)
{
  guint8 *data = cairo_image_surface_get_data (image);
  int stride = cairo_image_surface_get_stride (image);
  const double paper[3] = { inks->paper.blue, inks->paper.green, inks->paper.red };
  const double ink[3] = { inks->ink.blue, inks->ink.green, inks->ink.red };

  cairo_surface_flush (image);
  for (int y = 0; y < cairo_image_surface_get_height (image); y++)
    for (int x = 0; x < cairo_image_surface_get_width (image); x++)
      {
        guint32 *pixel = (guint32 *) (void *) (data + y * stride) + x;
        int alpha = *pixel >> 24;
        int c[3] = { *pixel & 0xff, *pixel >> 8 & 0xff, *pixel >> 16 & 0xff };
        int shift = alpha - MAX (MAX (c[0], c[1]), c[2]) - MIN (MIN (c[0], c[1]), c[2]);
        guint32 turned = (guint32) alpha << 24;

        if (!alpha)
          continue;
        for (int i = 0; i < 3; i++)
          turned |= (guint32) clamp_byte ((int) lround (paper[i] * alpha + (ink[i] - paper[i]) * clamp_byte (c[i] + shift, alpha)), alpha) << (8 * i);
        *pixel = turned;
      }
  cairo_surface_mark_dirty (image);
}

static cairo_surface_t *
render_bitmap (PawlScene *self, guint n, Look look, double scale, double phase_x, double phase_y)
{
  PawlBox box = pawl_figure_get_chunk_extents (self->figure, n);
  double width = ceil (box.width * scale + phase_x) + 2, height = ceil (box.height * scale + phase_y) + 2;
  PawlInks inks = pawl_palette_get_inks (self->palette);
  cairo_surface_t *image;
  g_autoptr(cairo_t) cr = NULL;

  if (width > MAX_BITMAP_SIDE || height > MAX_BITMAP_SIDE || width * height > MAX_BITMAP_PIXELS)
    return NULL;
  image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) width, (int) height);
  cr = cairo_create (image);
  cairo_translate (cr, 1 + phase_x, 1 + phase_y);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, pawl_figure_peek_recording (self->figure, n), -box.x, -box.y);
  cairo_paint (cr);
  if (self->palette == PAWL_PALETTE_DARK)
    turn_dark (image, &inks);
  if (look == LOOK_PALE)
    {
      pawl_ink_set_source (&inks.paper, cr, PALE_SHARE);
      cairo_set_operator (cr, CAIRO_OPERATOR_ATOP);
      cairo_paint (cr);
    }
  return image;
}

static Look
get_look (const Piece *piece)
{
  return piece->is_guide || piece->state == PAWL_STATE_LATER ? LOOK_PALE : LOOK_INK;
}

/* Where the corner of a chunk comes to lie, in device pixels. */
static PawlPoint
get_corner (PawlScene *self, guint n, const cairo_matrix_t *matrix)
{
  PawlBox box = pawl_figure_get_chunk_extents (self->figure, n);
  PawlPoint offset = pawl_scene_get_offset (self, n);
  PawlPoint corner = { box.x + offset.x, box.y + offset.y };

  cairo_matrix_transform_point (matrix, &corner.x, &corner.y);
  return (PawlPoint) { corner.x * self->device_scale, corner.y * self->device_scale };
}

/* (nullable): one that fits scale and place, made when it is not there; while something moves any one will do. */
static const Bitmap *
get_bitmap (PawlScene *self, guint n, const cairo_matrix_t *matrix)
{
  Piece *piece = pawl_scene_get_piece (self, n);
  Look look = get_look (piece);
  Bitmap *bitmap = &piece->bitmaps[look];
  PawlPoint corner = get_corner (self, n, matrix);
  double scale = matrix->xx * self->device_scale;
  double phase_x = corner.x - floor (corner.x), phase_y = corner.y - floor (corner.y);
  gboolean slides = piece->fraction > 0 && piece->fraction < 1;
  gboolean has_scale = fabs (bitmap->scale - scale) < 1e-6 * scale;
  gboolean has_phase = fabs (bitmap->phase_x - phase_x) < 0.02 && fabs (bitmap->phase_y - phase_y) < 0.02;

  if (bitmap->image && (self->is_moving || (has_scale && (has_phase || slides))))
    return bitmap;
  g_clear_pointer (&bitmap->image, cairo_surface_destroy);
  *bitmap = (Bitmap) { render_bitmap (self, n, look, scale, phase_x, phase_y), scale, phase_x, phase_y };
  return bitmap->image ? bitmap : NULL;
}

static gboolean
is_in_frame (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame)
{
  PawlBox box = pawl_scene_get_piece_box (self, n);

  if (pawl_box_is_empty (box))
    return FALSE;
  cairo_matrix_transform_point (matrix, &box.x, &box.y);
  box.width *= matrix->xx;
  box.height *= matrix->yy;
  return !pawl_box_is_empty (pawl_box_intersect (box, frame));
}

gboolean
pawl_scene_prepare_one (PawlScene *self, double width, double height)
{
  cairo_matrix_t matrix;
  PawlBox frame;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  pawl_scene_get_matrix (self, width, height, &matrix);
  frame = pawl_scene_get_frame (self, width, height);
  for (guint n = 0; n < self->pieces->len; n++)
    {
      const Piece *piece = pawl_scene_get_piece (self, n);
      const Bitmap *bitmap = &piece->bitmaps[get_look (piece)];
      cairo_surface_t *was = bitmap->image;

      if (is_in_frame (self, n, &matrix, frame) && get_bitmap (self, n, &matrix) && bitmap->image != was)
        return TRUE;
    }
  return FALSE;
}

/* ---- pieces ---- */

static void
draw_bitmap (const Brush *brush, guint n, const Bitmap *bitmap)
{
  PawlScene *self = brush->scene;
  PawlPoint corner = get_corner (self, n, &brush->matrix);
  double ratio = brush->matrix.xx * self->device_scale / bitmap->scale;
  gboolean is_sharp = fabs (ratio - 1) < 1e-6;

  cairo_save (brush->cr);
  cairo_scale (brush->cr, 1 / self->device_scale, 1 / self->device_scale);
  /* A bitmap at its own scale is never laid between pixels. */
  cairo_translate (brush->cr, is_sharp ? floor (corner.x) : corner.x, is_sharp ? floor (corner.y) : corner.y);
  cairo_scale (brush->cr, ratio, ratio);
  cairo_set_source_surface (brush->cr, bitmap->image, is_sharp ? -1 : -1 - bitmap->phase_x, is_sharp ? -1 : -1 - bitmap->phase_y);
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
  GPtrArray *outlines = pawl_figure_peek_silhouette (brush->scene->figure, n);

  for (guint i = 0; i < outlines->len; i++)
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
  gboolean is_pale = get_look (pawl_scene_get_piece (brush->scene, n)) == LOOK_PALE;

  cairo_save (brush->cr);
  use_piece_space (brush, n);
  if (is_pale && !pawl_scene_get_piece (brush->scene, n)->is_guide)
    {
      /* Paper under it, so that what is behind does not shine through. */
      add_silhouette (brush, n);
      pawl_ink_set_source (&brush->inks.paper, brush->cr, 1);
      cairo_fill (brush->cr);
    }
  pawl_figure_draw_chunk (brush->scene->figure, n, brush->cr, is_pale ? 1 - PALE_SHARE : 1);
  cairo_restore (brush->cr);
}

static void
draw_piece (const Brush *brush, guint n)
{
  const Bitmap *bitmap;

  if (!is_in_frame (brush->scene, n, &brush->matrix, brush->frame))
    return;
  if (!brush->in_vectors && (bitmap = get_bitmap (brush->scene, n, &brush->matrix)))
    draw_bitmap (brush, n, bitmap);
  else
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

static gboolean
is_highlighted (PawlScene *self, guint n)
{
  return pawl_scene_get_piece (self, n)->state == PAWL_STATE_HIGHLIGHT && !pawl_scene_get_piece (self, n)->is_guide;
}

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
    if (is_highlighted (brush->scene, n))
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
    if (is_highlighted (brush->scene, n))
      {
        cairo_save (brush->cr);
        use_piece_space (brush, n);
        add_silhouette (brush, n);
        pawl_ink_set_source (&brush->inks.highlight, brush->cr, TINT);
        cairo_fill (brush->cr);
        cairo_restore (brush->cr);
      }
  for (guint n = 0; n < brush->scene->pieces->len; n++)
    if (is_highlighted (brush->scene, n))
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

void
pawl_scene_draw (PawlScene *self, cairo_t *cr, double width, double height)
{
  Brush brush = { .scene = self, .cr = cr };
  PawlBox sheet;

  g_return_if_fail (PAWL_IS_SCENE (self) && cr != NULL && width > 0 && height > 0);
  brush.in_vectors = wants_vectors (cr);
  brush.inks = pawl_palette_get_inks (brush.in_vectors && self->palette == PAWL_PALETTE_DARK ? PAWL_PALETTE_LIGHT : self->palette);
  brush.unit = self->number_size > 0 ? self->number_size / 14 : 1;
  brush.frame = pawl_scene_get_frame (self, width, height);
  pawl_scene_get_matrix (self, width, height, &brush.matrix);
  sheet = pawl_figure_get_view_box (self->figure);
  brush.band = CLAMP (BAND_SHARE * hypot (sheet.width, sheet.height) * brush.matrix.xx, brush.unit, BAND_MOST * brush.unit);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  if (self->paints_paper)
    {
      pawl_ink_set_source (&brush.inks.paper, cr, 1);
      cairo_paint (cr);
    }
  cairo_save (cr);
  cairo_rectangle (cr, brush.frame.x, brush.frame.y, brush.frame.width, brush.frame.height);
  cairo_clip (cr);
  draw_pieces (&brush);
  draw_highlights (&brush);
  draw_frame (&brush);
  cairo_restore (cr);
  if (self->number_size > 0 && self->items->len && !self->is_moving)
    pawl_scene_draw_callouts (self, cr, &brush.inks, brush.unit, width, height);
  cairo_restore (cr);
}
