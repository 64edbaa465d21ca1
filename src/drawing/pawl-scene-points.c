/* The scene by points: what lies under one, and which one stands for a part. */
#include <math.h>
#include <pango/pangocairo.h>

#include "drawing/pawl-scene-private.h"

/* Longer side of the map on which anchors are looked for. */
#define MAP_PIXELS 480.0
/* Alpha from which a pixel of the map belongs to a part; low, for thin lines. */
#define MAP_ALPHA 48
/* Alpha from which a part is hit. */
#define HIT_ALPHA 24
#define NOBODY G_MAXUINT16
#define CAP_SHARE 0.72

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
  cairo_set_source_surface (cr, pawl_figure_peek_recording (self->figure, n), -x, -y);
  cairo_paint (cr);
  cairo_destroy (cr);
  cairo_surface_destroy (image);
  return pixel[0];
}

/* From the bitmap that is on the screen, when there is one. */
static gboolean
is_hit (PawlScene *self, guint n, const cairo_matrix_t *matrix, double x, double y)
{
  const Piece *piece = pawl_scene_get_piece (self, n);
  PawlBox box = pawl_scene_get_piece_box (self, n);
  PawlPoint offset = pawl_scene_get_offset (self, n);
  const Bitmap *bitmap = piece->bitmaps[LOOK_INK].image ? &piece->bitmaps[LOOK_INK] : &piece->bitmaps[LOOK_PALE];
  cairo_matrix_t back = *matrix;
  double half = 0.5 / matrix->xx;

  if (pawl_box_is_empty (box))
    return FALSE;
  cairo_matrix_invert (&back);
  cairo_matrix_transform_point (&back, &x, &y);
  if (x < box.x - half || y < box.y - half || x > box.x + box.width + half || y > box.y + box.height + half)
    return FALSE;
  if (bitmap->image)
    {
      int px = (int) floor ((x - box.x) * bitmap->scale + 1 + bitmap->phase_x), py = (int) floor ((y - box.y) * bitmap->scale + 1 + bitmap->phase_y);

      if (px < 0 || py < 0 || px >= cairo_image_surface_get_width (bitmap->image) || py >= cairo_image_surface_get_height (bitmap->image))
        return FALSE;
      cairo_surface_flush (bitmap->image);
      return *((guint32 *) (void *) (cairo_image_surface_get_data (bitmap->image) + py * cairo_image_surface_get_stride (bitmap->image)) + px) >> 24 >= HIT_ALPHA;
    }
  return get_alpha_at (self, n, x - offset.x, y - offset.y, matrix->xx) >= HIT_ALPHA;
}

static const char *
pick_exactly (PawlScene *self, const cairo_matrix_t *matrix, double x, double y)
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
  found = pick_exactly (self, &matrix, x, y);
  for (double radius = 1; !found && radius <= ring; radius++)
    {
      guint n_points = 8 + 4 * (guint) radius;

      for (guint i = 0; !found && i < n_points; i++)
        found = pick_exactly (self, &matrix, x + radius * cos (2 * G_PI * i / n_points), y + radius * sin (2 * G_PI * i / n_points));
    }
  return found;
}

/* ---- anchors ---- */

/* Who is seen where, at low resolution, and how far each point is from the edge of what is seen of its part. */
typedef struct {
  int      width, height;
  double   scale; /* map pixels per unit of the drawing */
  guint16 *who;
  guint16 *depth;
} Map;

static void
map_piece (PawlScene *self, guint n, const cairo_matrix_t *matrix, Map *map, cairo_surface_t *scratch)
{
  PawlBox box = pawl_scene_get_piece_box (self, n);
  PawlPoint offset = pawl_scene_get_offset (self, n);
  g_autoptr(cairo_t) cr = cairo_create (scratch);
  int x0, y0, x1, y1, stride = cairo_image_surface_get_stride (scratch);
  const guint8 *data;

  cairo_scale (cr, map->scale, map->scale);
  cairo_transform (cr, matrix);
  cairo_user_to_device (cr, &box.x, &box.y);
  x0 = CLAMP ((int) floor (box.x) - 1, 0, map->width);
  y0 = CLAMP ((int) floor (box.y) - 1, 0, map->height);
  x1 = CLAMP ((int) ceil (box.x + box.width * matrix->xx * map->scale) + 1, 0, map->width);
  y1 = CLAMP ((int) ceil (box.y + box.height * matrix->yy * map->scale) + 1, 0, map->height);
  cairo_set_operator (cr, CAIRO_OPERATOR_SOURCE);
  cairo_set_source_surface (cr, pawl_figure_peek_recording (self->figure, n), offset.x, offset.y);
  cairo_paint (cr);
  cairo_surface_flush (scratch);
  data = cairo_image_surface_get_data (scratch);
  for (int y = y0; y < y1; y++)
    for (int x = x0; x < x1; x++)
      if (data[y * stride + x] >= MAP_ALPHA)
        map->who[y * map->width + x] = (guint16) n;
}

static guint16
get_who (const Map *map, int x, int y)
{
  return x < 0 || y < 0 || x >= map->width || y >= map->height ? NOBODY : map->who[y * map->width + x];
}

/* One sweep of a 3-4 chamfer distance transform: @sign 1 from the upper left, -1 back. Another part beside counts as the edge. */
static void
sweep (Map *map, int sign)
{
  static const struct { int dx, dy, step; } near[4] = { { -1, 0, 3 }, { 0, -1, 3 }, { -1, -1, 4 }, { 1, -1, 4 } };

  for (int i = 0; i < map->width * map->height; i++)
    {
      int at = sign > 0 ? i : map->width * map->height - 1 - i;
      int x = at % map->width, y = at / map->width;
      guint16 who = map->who[at];

      if (who == NOBODY)
        continue;
      for (int k = 0; k < 4; k++)
        {
          int nx = x + sign * near[k].dx, ny = y + sign * near[k].dy;
          int beside = get_who (map, nx, ny) == who ? map->depth[ny * map->width + nx] : 0;

          map->depth[at] = (guint16) MIN ((int) map->depth[at], beside + near[k].step);
        }
    }
}

static void
draw_map (PawlScene *self, const cairo_matrix_t *matrix, double width, double height, Map *map)
{
  g_autoptr(cairo_surface_t) scratch = NULL;

  map->scale = MAP_PIXELS / MAX (width, height);
  map->width = MAX (1, (int) ceil (width * map->scale));
  map->height = MAX (1, (int) ceil (height * map->scale));
  map->who = g_new (guint16, map->width * map->height);
  map->depth = g_new (guint16, map->width * map->height);
  for (int i = 0; i < map->width * map->height; i++)
    {
      map->who[i] = NOBODY;
      map->depth[i] = G_MAXUINT16;
    }
  scratch = cairo_image_surface_create (CAIRO_FORMAT_A8, map->width, map->height);
  for (guint n = 0; n < self->pieces->len; n++)
    if (!pawl_scene_get_piece (self, n)->is_guide && !pawl_box_is_empty (pawl_scene_get_piece_box (self, n)))
      map_piece (self, n, matrix, map, scratch);
  sweep (map, 1);
  sweep (map, -1);
}

/* Deepest point of each piece within the frame; depth 0: nothing of it is seen. The first of equals, so that the same scene gives the same points. */
typedef struct {
  guint16 depth;
  int     x, y;
} Deepest;

static Deepest *
find_deepest (PawlScene *self, const Map *map, PawlBox frame)
{
  Deepest *deepest = g_new0 (Deepest, self->pieces->len + 1);

  for (int y = 0; y < map->height; y++)
    for (int x = 0; x < map->width; x++)
      {
        guint16 who = map->who[y * map->width + x];
        double ux = (x + 0.5) / map->scale, uy = (y + 0.5) / map->scale;

        if (who == NOBODY || map->depth[y * map->width + x] <= deepest[who].depth)
          continue;
        if (ux < frame.x || uy < frame.y || ux > frame.x + frame.width || uy > frame.y + frame.height)
          continue;
        deepest[who] = (Deepest) { map->depth[y * map->width + x], x, y };
      }
  return deepest;
}

/* ---- numbers ---- */

static void
measure_number (PangoLayout *layout, const char *number, gboolean is_strong, double size, double *width, double *height)
{
  PangoFontDescription *font = pango_font_description_from_string ("Sans");
  PangoRectangle ink;

  pango_font_description_set_absolute_size (font, size / CAP_SHARE * PANGO_SCALE);
  pango_font_description_set_weight (font, is_strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, number, -1);
  pango_layout_get_extents (layout, &ink, NULL);
  *width = (double) ink.width / PANGO_SCALE;
  *height = MAX (size, (double) ink.height / PANGO_SCALE);
}

/* The region of an item that its leader goes to: the first that can be seen, else the first that is there at all. */
static gboolean
choose_region (PawlScene *self, const Item *item, const Deepest *deepest, guint *chosen, gboolean *is_hidden, gboolean *is_strong)
{
  gboolean is_there = FALSE, is_seen = FALSE;

  *is_strong = FALSE;
  for (char **region = item->regions; *region; region++)
    {
      guint n;

      if (!pawl_figure_lookup_chunk (self->figure, *region, &n) || pawl_box_is_empty (pawl_scene_get_piece_box (self, n)))
        continue;
      *is_strong |= pawl_scene_get_piece (self, n)->state == PAWL_STATE_HIGHLIGHT;
      if (is_seen || (is_there && !deepest[n].depth))
        continue;
      *chosen = n;
      is_there = TRUE;
      is_seen = deepest[n].depth > 0;
    }
  *is_hidden = !is_seen;
  return is_there;
}

/* The map is coarser than the drawing: where the part is so thin that the middle of a map pixel misses it, the nearest point that is truly on it. */
static PawlPoint
refine_anchor (PawlScene *self, guint n, const cairo_matrix_t *matrix, PawlPoint anchor, double cell)
{
  const char *id = pawl_figure_get_chunk (self->figure, n)->id;

  for (double radius = 0; radius <= 2 * cell; radius += cell / 4)
    {
      guint n_points = radius > 0 ? 16 : 1;

      for (guint i = 0; i < n_points; i++)
        {
          PawlPoint at = { anchor.x + radius * cos (2 * G_PI * i / n_points), anchor.y + radius * sin (2 * G_PI * i / n_points) };

          if (g_strcmp0 (pick_exactly (self, matrix, at.x, at.y), id) == 0)
            return at;
        }
    }
  return anchor;
}

static void
add_callout (PawlScene *self, const Item *item, const Map *map, const Deepest *deepest, const cairo_matrix_t *matrix, PawlBox frame, PangoLayout *layout)
{
  PawlCallout *callout;
  PawlPoint anchor;
  double width, height;
  gboolean is_hidden, is_strong;
  guint n;

  if (!choose_region (self, item, deepest, &n, &is_hidden, &is_strong))
    return;
  if (is_hidden)
    {
      PawlBox box = pawl_scene_get_piece_box (self, n);

      anchor = (PawlPoint) { box.x + box.width / 2, box.y + box.height / 2 };
      cairo_matrix_transform_point (matrix, &anchor.x, &anchor.y);
      if (anchor.x < frame.x || anchor.y < frame.y || anchor.x > frame.x + frame.width || anchor.y > frame.y + frame.height)
        return;
    }
  else
    anchor = refine_anchor (self, n, matrix, (PawlPoint) { (deepest[n].x + 0.5) / map->scale, (deepest[n].y + 0.5) / map->scale }, 1 / map->scale);
  measure_number (layout, item->number, is_strong, self->number_size, &width, &height);
  callout = pawl_callouts_add (self->callouts, item->number, pawl_figure_get_chunk (self->figure, n)->id, anchor, width, height);
  callout->is_hidden = is_hidden;
  callout->is_strong = is_strong;
}

/* The box round everything shown, as far as it is in the frame. */
static PawlBox
get_outline (PawlScene *self, const cairo_matrix_t *matrix, PawlBox frame)
{
  PawlBox outline = { 0 };

  for (guint n = 0; n < self->pieces->len; n++)
    if (!pawl_scene_get_piece (self, n)->is_guide)
      outline = pawl_box_unite (outline, pawl_scene_get_piece_box (self, n));
  cairo_matrix_transform_point (matrix, &outline.x, &outline.y);
  outline.width *= matrix->xx;
  outline.height *= matrix->yy;
  return pawl_box_intersect (outline, frame);
}

PawlCallouts *
pawl_scene_get_callouts (PawlScene *self, double width, double height)
{
  cairo_matrix_t matrix;
  PawlBox frame, outline;
  Map map;
  g_autofree Deepest *deepest = NULL;
  PangoContext *context;
  g_autoptr(PangoLayout) layout = NULL;

  g_return_val_if_fail (PAWL_IS_SCENE (self) && width > 0 && height > 0, NULL);
  if (self->callouts && self->callouts_width == width && self->callouts_height == height)
    return self->callouts;
  g_clear_pointer (&self->callouts, pawl_callouts_free);
  self->callouts = pawl_callouts_new ();
  self->callouts_width = width;
  self->callouts_height = height;
  frame = pawl_scene_get_frame (self, width, height);
  pawl_scene_get_matrix (self, width, height, &matrix);
  outline = get_outline (self, &matrix, frame);
  if (self->number_size <= 0 || pawl_box_is_empty (outline))
    return self->callouts;
  draw_map (self, &matrix, width, height, &map);
  deepest = find_deepest (self, &map, frame);
  context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  layout = pango_layout_new (context);
  g_object_unref (context);
  for (guint i = 0; i < self->items->len; i++)
    add_callout (self, g_ptr_array_index (self->items, i), &map, deepest, &matrix, frame, layout);
  g_free (map.who);
  g_free (map.depth);
  pawl_callouts_place (self->callouts, outline, (PawlBox) { 0, 0, width, height });
  return self->callouts;
}
