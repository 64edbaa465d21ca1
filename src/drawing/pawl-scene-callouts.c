/* The scene's item numbers: which point stands for a part, where its number stands, and both drawn. */
#include <math.h>
#include <pango/pangocairo.h>

#include "drawing/pawl-chunk-artist.h"
#include "drawing/pawl-scene-private.h"

/* Cells along the longer side of the map. */
#define MAP_CELLS 480
/* Alpha from which a cell of the map belongs to a part; low, for thin lines. */
#define MAP_ALPHA 48
/* Points of one region that a leader may end at, and how deep inside it is deep enough, in heights. */
#define MAX_SPOTS 6
#define ENOUGH_DEPTH 0.6
/* From a number to ink, in heights, where bands are drawn round the parts in hand. */
#define STRONG_CLEARANCE 0.75
#define LEADER_WIDTH 0.8
/* Length and half width of an arrowhead, in dot radii: 15 degrees to each side. */
#define ARROW_LENGTH 3.6
#define ARROW_HALF (ARROW_LENGTH * 0.268)
/* A drawing's cap height over its font size; near enough for any sans. */
#define CAP_SHARE 0.72

/* ---- the figures of a number ---- */

static PangoLayout *
new_layout (PangoContext *context, const char *number, double size, gboolean is_strong)
{
  PangoLayout *layout = pango_layout_new (context);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_absolute_size (font, size / CAP_SHARE * PANGO_SCALE);
  pango_font_description_set_weight (font, is_strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, number, -1);
  return layout;
}

static double
measure_number (PangoContext *context, const char *number, double size, gboolean is_strong)
{
  g_autoptr(PangoLayout) layout = new_layout (context, number, size, is_strong);
  PangoRectangle ink;

  pango_layout_get_extents (layout, &ink, NULL);
  return (double) ink.width / PANGO_SCALE;
}

/* ---- the map ---- */

static void
take_cell (PawlScene *self, guint n, PawlIdMap *map, int x, int y)
{
  if (pawl_scene_get_piece (self, n)->is_guide)
    map->has_guide[y * map->n_columns + x] = 1;
  else
    map->who[y * map->n_columns + x] = (guint16) n;
}

/* Mean alpha of a box of an image's pixels. */
static guint
average (const PawlChunkImage *image, int x0, int y0, int x1, int y1)
{
  const guint32 *pixels = g_bytes_get_data (image->pixels, NULL);
  guint sum = 0, n_pixels = (guint) ((x1 - x0) * (y1 - y0));

  for (int y = MAX (y0, 0); y < MIN (y1, image->height); y++)
    for (int x = MAX (x0, 0); x < MIN (x1, image->width); x++)
      sum += pixels[(gsize) y * image->width + x] >> 24;
  return sum / n_pixels;
}

/* From an image that was brought: nothing is drawn for it. */
static void
map_image (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame, PawlIdMap *map, const PawlChunkImage *image)
{
  PawlPoint offset = pawl_scene_get_offset (self, n);
  double scale = map->scale * matrix->xx, ratio = image->grid.scale / scale;
  /* Cell x covers the image's pixels from left + x * ratio on. */
  double left = -(matrix->x0 * map->scale + offset.x * scale) * ratio + image->grid.phase_x - image->x;
  double top = -(matrix->y0 * map->scale + offset.y * scale) * ratio + image->grid.phase_y - image->y;
  int x0 = (int) ceil (MAX (-left / ratio - 1, frame.x * map->scale)), y0 = (int) ceil (MAX (-top / ratio - 1, frame.y * map->scale));
  int x1 = (int) floor (MIN ((image->width - left) / ratio + 1, (frame.x + frame.width) * map->scale));
  int y1 = (int) floor (MIN ((image->height - top) / ratio + 1, (frame.y + frame.height) * map->scale));

  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      {
        int px = (int) floor (left + x * ratio), py = (int) floor (top + y * ratio);

        if (average (image, px, py, MAX ((int) floor (left + (x + 1) * ratio), px + 1), MAX ((int) floor (top + (y + 1) * ratio), py + 1)) >= MAP_ALPHA)
          take_cell (self, n, map, x, y);
      }
}

static void
map_piece (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlBox frame, PawlIdMap *map, cairo_surface_t *scratch)
{
  PawlBox box = pawl_scene_get_piece_box (self, n);
  PawlPoint offset = pawl_scene_get_offset (self, n);
  g_autoptr(cairo_t) cr = cairo_create (scratch);
  int x0, y0, x1, y1, stride = cairo_image_surface_get_stride (scratch);
  const guint8 *data;

  cairo_scale (cr, map->scale, map->scale);
  cairo_transform (cr, matrix);
  cairo_user_to_device (cr, &box.x, &box.y);
  box.width *= matrix->xx * map->scale;
  box.height *= matrix->yy * map->scale;
  x0 = (int) ceil (MAX (box.x - 1, frame.x * map->scale));
  y0 = (int) ceil (MAX (box.y - 1, frame.y * map->scale));
  x1 = (int) floor (MIN (box.x + box.width + 1, (frame.x + frame.width) * map->scale));
  y1 = (int) floor (MIN (box.y + box.height + 1, (frame.y + frame.height) * map->scale));
  cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
  pawl_recording_set_source (pawl_figure_peek_recording (self->figure, n), cr, offset.x, offset.y);
  cairo_paint (cr);
  cairo_surface_flush (scratch);
  data = cairo_image_surface_get_data (scratch);
  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      if (data[y * stride + x] >= MAP_ALPHA)
        take_cell (self, n, map, x, y);
}

static PawlIdMap *
new_map (PawlScene *self, const cairo_matrix_t *matrix, double width, double height)
{
  PawlIdMap *map = pawl_id_map_new (width, height, MAP_CELLS, self->pieces->len);
  g_autoptr(cairo_surface_t) scratch = cairo_image_surface_create (CAIRO_FORMAT_A8, map->n_columns, map->n_rows);
  PawlBox frame = pawl_scene_get_frame (self, width, height);
  PawlChunkImage *image = NULL;

  self->callouts_are_partial = FALSE;
  for (guint n = 0; n < self->pieces->len; n++)
    {
      const PawlRegion *region = pawl_figure_lookup_region (self->figure, pawl_figure_get_chunk (self->figure, n)->id);

      if (region && region->n_hatch)
        pawl_id_map_set_hatch (map, (guint16) n, region->hatch_deg, region->n_hatch);
      if (pawl_box_is_empty (pawl_scene_get_piece_box (self, n)))
        continue;
      if (!self->waits)
        map_piece (self, n, matrix, frame, map, scratch);
      else if ((image = pawl_scene_get_image (self, n, matrix)) && image->pixels)
        map_image (self, n, matrix, frame, map, image);
      else if (!image && pawl_scene_is_in_frame (self, n, matrix, frame))
        self->callouts_are_partial = TRUE;
    }
  pawl_id_map_finish (map);
  return map;
}

/* ---- what a number may point at ---- */

/* The map is coarser than the drawing: where the part is so thin that the middle of a cell misses it, the nearest point that is truly on it.
 * FALSE when there is none: a half-covered pixel at the edge of what hides the part. */
static gboolean
refine (PawlScene *self, guint n, const cairo_matrix_t *matrix, double cell, PawlPoint *spot)
{
  const char *id = pawl_figure_get_chunk (self->figure, n)->id;

  for (double radius = 0; radius <= 2 * cell; radius += cell / 4)
    {
      guint n_points = radius > 0 ? 16 : 1;

      for (guint i = 0; i < n_points; i++)
        {
          PawlPoint at = { spot->x + radius * cos (2 * G_PI * i / n_points), spot->y + radius * sin (2 * G_PI * i / n_points) };

          if (g_strcmp0 (pawl_scene_pick_exactly (self, matrix, at.x, at.y), id) == 0)
            {
              *spot = at;
              return TRUE;
            }
        }
    }
  return FALSE;
}

static void
add_spots (PawlScene *self, PawlCallout *callout, guint n, const PawlIdMap *map, const cairo_matrix_t *matrix)
{
  PawlSpot spots[MAX_SPOTS];
  gboolean is_second = callout->anchors->len > 0;
  guint n_spots = pawl_id_map_find_spots (map, (guint16) n, ENOUGH_DEPTH * self->number_size, spots, is_second ? 1 : MAX_SPOTS);

  if (!n_spots || !refine (self, n, matrix, 1 / map->scale, &spots[0].at))
    return; /* not even the deepest is truly seen */
  for (guint i = 0; i < n_spots; i++)
    pawl_callout_add_anchor (callout, (PawlAnchor) { n, spots[i].at, spots[i].depth, is_second });
}

/* Nothing of the item is seen: the middle of its first region, if that is in the frame. */
static void
add_hidden_middle (PawlScene *self, PawlCallout *callout, guint n, const cairo_matrix_t *matrix, PawlBox frame)
{
  PawlBox box = pawl_scene_get_piece_box (self, n);
  PawlPoint middle = { box.x + box.width / 2, box.y + box.height / 2 };

  cairo_matrix_transform_point (matrix, &middle.x, &middle.y);
  if (middle.x < frame.x || middle.y < frame.y || middle.x > frame.x + frame.width || middle.y > frame.y + frame.height)
    return;
  callout->is_hidden = TRUE;
  pawl_callout_add_anchor (callout, (PawlAnchor) { n, middle, 0, FALSE });
}

/* A number for @item, unless none of it is there. */
static void
add_callout (PawlScene *self, const Item *item, const PawlIdMap *map, const cairo_matrix_t *matrix, PawlBox frame, PangoContext *context)
{
  PawlCallout *callout = pawl_callouts_add (self->callouts, item->number, 0);
  guint n, first = 0;
  gboolean is_there = FALSE;

  for (char **region = item->regions; *region; region++)
    {
      if (!pawl_figure_lookup_chunk (self->figure, *region, &n) || pawl_box_is_empty (pawl_scene_get_piece_box (self, n)))
        continue;
      if (pawl_scene_get_piece (self, n)->state == PAWL_STATE_HIGHLIGHT)
        {
          callout->is_strong = TRUE;
          self->callouts->clearance = STRONG_CLEARANCE;
        }
      add_spots (self, callout, n, map, matrix);
      first = is_there ? first : n;
      is_there = TRUE;
    }
  if (is_there && !callout->anchors->len)
    add_hidden_middle (self, callout, first, matrix, frame);
  if (callout->anchors->len)
    callout->width = measure_number (context, item->number, self->number_size, callout->is_strong);
  else
    pawl_callouts_drop_last (self->callouts);
}

/* Only the first spot of a region is known to be truly on it; the others are tried when they are chosen, for it is dear. TRUE: there was one that is
 * not, and it is taken out. */
static gboolean
drop_false_spots (PawlScene *self, const PawlIdMap *map, const cairo_matrix_t *matrix)
{
  gboolean has_dropped = FALSE;

  for (guint i = 0; i < self->callouts->items->len; i++)
    {
      PawlCallout *callout = g_ptr_array_index (self->callouts->items, i);
      PawlPoint exact = callout->anchor;

      if (callout->is_hidden || callout->anchors->len == 1 || refine (self, callout->who, matrix, 1 / map->scale, &exact))
        continue;
      pawl_callout_drop_anchor (callout);
      has_dropped = TRUE;
    }
  return has_dropped;
}

static void
finish_callout (PawlScene *self, PawlCallout *callout, const PawlIdMap *map, const cairo_matrix_t *matrix)
{
  callout->region = g_strdup (pawl_figure_get_chunk (self->figure, callout->who)->id);
  if (!callout->is_hidden)
    refine (self, callout->who, matrix, 1 / map->scale, &callout->anchor);
}

static void
place (PawlScene *self, double width, double height)
{
  cairo_matrix_t matrix;
  PawlBox frame = pawl_scene_get_frame (self, width, height);
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  g_autoptr(PawlIdMap) map = NULL;

  pawl_scene_get_matrix (self, width, height, &matrix);
  map = new_map (self, &matrix, width, height);
  for (guint i = 0; i < self->items->len; i++)
    add_callout (self, g_ptr_array_index (self->items, i), map, &matrix, frame, context);
  g_object_unref (context);
  do
    pawl_callouts_place (self->callouts, map, self->last_callouts);
  while (drop_false_spots (self, map, &matrix));
  for (guint i = 0; i < self->callouts->items->len; i++)
    finish_callout (self, g_ptr_array_index (self->callouts->items, i), map, &matrix);
}

PawlCallouts *
pawl_scene_get_callouts (PawlScene *self, double width, double height)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self) && width > 0 && height > 0, NULL);
  if (self->callouts && self->callouts->width == width && self->callouts->tallness == height)
    return self->callouts;
  pawl_scene_forget_callouts (self);
  if (self->number_size <= 0 || !self->items->len)
    {
      /* none, but for that size */
      self->callouts = pawl_callouts_new (1);
      self->callouts->width = width;
      self->callouts->tallness = height;
      return self->callouts;
    }
  self->callouts = pawl_callouts_new (self->number_size);
  place (self, width, height);
  return self->callouts;
}

/* What was placed last is kept, so that numbers stay where they were; but not what was placed before all images were there. */
void
pawl_scene_forget_callouts (PawlScene *self)
{
  if (self->callouts && self->callouts->items->len && !self->callouts_are_partial)
    {
      g_clear_pointer (&self->last_callouts, pawl_callouts_free);
      self->last_callouts = g_steal_pointer (&self->callouts);
    }
  g_clear_pointer (&self->callouts, pawl_callouts_free);
}

/* ---- drawing ---- */

typedef struct {
  cairo_t *cr;
  PawlInks inks;
  double   unit; /* line widths grow with the numbers */
  double   size; /* height of the figures */
  double   dot_radius;
} Pen;

static void
trace_leader (const Pen *pen, const PawlCallout *callout)
{
  cairo_move_to (pen->cr, callout->elbow.x, callout->elbow.y);
  cairo_line_to (pen->cr, callout->anchor.x, callout->anchor.y);
}

static void
trace_dot (const Pen *pen, const PawlCallout *callout, double more)
{
  cairo_new_sub_path (pen->cr);
  cairo_arc (pen->cr, callout->anchor.x, callout->anchor.y, pen->dot_radius + more, 0, 2 * G_PI);
}

static void
trace_arrow (const Pen *pen, const PawlCallout *callout)
{
  double dx = callout->elbow.x - callout->anchor.x, dy = callout->elbow.y - callout->anchor.y, length = hypot (dx, dy);
  double along = ARROW_LENGTH * pen->dot_radius, across = ARROW_HALF * pen->dot_radius;

  if (length <= 0)
    return;
  dx /= length;
  dy /= length;
  cairo_move_to (pen->cr, callout->anchor.x, callout->anchor.y);
  cairo_line_to (pen->cr, callout->anchor.x + along * dx - across * dy, callout->anchor.y + along * dy + across * dx);
  cairo_line_to (pen->cr, callout->anchor.x + along * dx + across * dy, callout->anchor.y + along * dy - across * dx);
  cairo_close_path (pen->cr);
}

/* A seam of paper keeps it apart from the lines that it passes over. */
static void
draw_seam (const Pen *pen, const PawlCallout *callout, double width)
{
  trace_leader (pen, callout);
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 0.85);
  cairo_set_line_width (pen->cr, width + 2.2 * pen->unit);
  cairo_stroke (pen->cr);
  if (callout->is_on_line)
    {
      trace_arrow (pen, callout);
      cairo_set_line_width (pen->cr, 1.6 * pen->unit);
      cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
      cairo_stroke_preserve (pen->cr);
    }
  else
    trace_dot (pen, callout, 0.8 * pen->unit);
  cairo_fill (pen->cr);
}

static void
draw_leader (const Pen *pen, const PawlCallout *callout)
{
  double width = (callout->is_strong ? 1.8 : 1) * LEADER_WIDTH * pen->unit, dash = 4 * pen->unit;

  draw_seam (pen, callout, width);
  pawl_ink_set_source (callout->is_strong ? &pen->inks.highlight : &pen->inks.ink, pen->cr, 1);
  cairo_set_line_width (pen->cr, width);
  if (callout->is_hidden)
    cairo_set_dash (pen->cr, &dash, 1, 0);
  trace_leader (pen, callout);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  if (callout->is_on_line)
    trace_arrow (pen, callout);
  else
    trace_dot (pen, callout, 0);
  if (callout->is_hidden)
    cairo_stroke (pen->cr);
  else
    cairo_fill (pen->cr);
}

static void
draw_number (const Pen *pen, PangoContext *context, const PawlCallout *callout)
{
  g_autoptr(PangoLayout) layout = new_layout (context, callout->number, pen->size, callout->is_strong);
  PangoRectangle ink;

  pango_layout_get_extents (layout, &ink, NULL);
  cairo_move_to (pen->cr, callout->place.x - (ink.x + ink.width / 2.0) / PANGO_SCALE, callout->place.y - (ink.y + ink.height / 2.0) / PANGO_SCALE);
  pawl_ink_set_source (callout->is_strong ? &pen->inks.highlight : &pen->inks.ink, pen->cr, 1);
  pango_cairo_show_layout (pen->cr, layout);
}

void
pawl_scene_draw_callouts (PawlScene *self, cairo_t *cr, const PawlInks *inks, double unit, double width, double height)
{
  PawlCallouts *callouts = pawl_scene_get_callouts (self, width, height);
  Pen pen = { cr, *inks, unit, self->number_size, callouts->dot_radius };
  PangoContext *context = pango_cairo_create_context (cr);

  for (guint i = 0; i < callouts->items->len; i++)
    draw_leader (&pen, g_ptr_array_index (callouts->items, i));
  for (guint i = 0; i < callouts->items->len; i++)
    draw_number (&pen, context, g_ptr_array_index (callouts->items, i));
  g_object_unref (context);
}
