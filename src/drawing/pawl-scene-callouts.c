/* The scene's item numbers: which point stands for a part, where its number stands, and both drawn. */
#include <math.h>
#include <pango/pangocairo.h>

#include "drawing/pawl-scene-private.h"

/* Longer side of the map on which anchors are looked for. */
#define MAP_PIXELS 480.0
/* Alpha from which a pixel of the map belongs to a part; low, for thin lines. */
#define MAP_ALPHA 48
#define NOBODY G_MAXUINT16
#define LEADER_WIDTH 0.8
#define DOT_RADIUS 2.0
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

static void
measure_number (PangoContext *context, const char *number, double size, gboolean is_strong, double *width, double *height)
{
  g_autoptr(PangoLayout) layout = new_layout (context, number, size, is_strong);
  PangoRectangle ink;

  pango_layout_get_extents (layout, &ink, NULL);
  *width = (double) ink.width / PANGO_SCALE;
  *height = MAX (size, (double) ink.height / PANGO_SCALE);
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

/* ---- numbers and their anchors ---- */

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

          if (g_strcmp0 (pawl_scene_pick_exactly (self, matrix, at.x, at.y), id) == 0)
            return at;
        }
    }
  return anchor;
}

static void
add_callout (PawlScene *self, const Item *item, const Map *map, const Deepest *deepest, const cairo_matrix_t *matrix, PawlBox frame, PangoContext *context)
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
  measure_number (context, item->number, self->number_size, is_strong, &width, &height);
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
  for (guint i = 0; i < self->items->len; i++)
    add_callout (self, g_ptr_array_index (self->items, i), &map, deepest, &matrix, frame, context);
  g_object_unref (context);
  g_free (map.who);
  g_free (map.depth);
  pawl_callouts_place (self->callouts, outline, (PawlBox) { 0, 0, width, height });
  return self->callouts;
}

/* ---- drawing ---- */

typedef struct {
  cairo_t *cr;
  PawlInks inks;
  double   unit; /* line widths grow with the numbers */
  double   size; /* height of the figures */
} Pen;

static void
trace_leader (const Pen *pen, const PawlCallout *callout)
{
  cairo_move_to (pen->cr, callout->elbow.x, callout->elbow.y);
  cairo_line_to (pen->cr, callout->anchor.x, callout->anchor.y);
}

static void
draw_leader (const Pen *pen, const PawlCallout *callout)
{
  const PawlInk *ink = callout->is_strong ? &pen->inks.highlight : &pen->inks.ink;
  double width = (callout->is_strong ? 1.8 : 1) * LEADER_WIDTH * pen->unit;
  double dash = 4 * pen->unit;

  /* A seam of paper keeps it apart from the lines that it passes over. */
  trace_leader (pen, callout);
  cairo_set_line_width (pen->cr, width + 2.2 * pen->unit);
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 0.85);
  cairo_stroke (pen->cr);
  if (callout->is_hidden)
    cairo_set_dash (pen->cr, &dash, 1, 0);
  trace_leader (pen, callout);
  cairo_set_line_width (pen->cr, width);
  pawl_ink_set_source (ink, pen->cr, 1);
  cairo_stroke (pen->cr);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_arc (pen->cr, callout->anchor.x, callout->anchor.y, DOT_RADIUS * pen->unit + 0.8 * pen->unit, 0, 2 * G_PI);
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 0.85);
  cairo_fill (pen->cr);
  cairo_arc (pen->cr, callout->anchor.x, callout->anchor.y, DOT_RADIUS * pen->unit, 0, 2 * G_PI);
  pawl_ink_set_source (ink, pen->cr, 1);
  if (callout->is_hidden)
    {
      cairo_set_line_width (pen->cr, width);
      cairo_stroke (pen->cr);
    }
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
  Pen pen = { cr, *inks, unit, self->number_size };
  PangoContext *context = pango_cairo_create_context (cr);

  for (guint i = 0; i < callouts->items->len; i++)
    draw_leader (&pen, g_ptr_array_index (callouts->items, i));
  for (guint i = 0; i < callouts->items->len; i++)
    draw_number (&pen, context, g_ptr_array_index (callouts->items, i));
  g_object_unref (context);
}
