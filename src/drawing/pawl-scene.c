#include "drawing/pawl-scene.h"

#include <math.h>

#include "drawing/pawl-scene-private.h"

/* Room for item numbers, as shares of their height. */
#define ROOM_ACROSS 3.2
#define ROOM_ALONG 2.2
#define MARGIN_ALL 0.04
#define CLOSEST_SHARE 0.2
#define LEAST_ZOOM 0.5
#define MOST_ZOOM 40.0

G_DEFINE_TYPE (PawlScene, pawl_scene, G_TYPE_OBJECT)

static void
free_item (gpointer data)
{
  Item *item = data;

  g_free (item->number);
  g_strfreev (item->regions);
  g_free (item);
}

static void
clear_piece (gpointer data)
{
  Piece *piece = data;

  g_free (piece->legs);
  g_clear_pointer (&piece->guided, g_array_unref);
  for (guint i = 0; i < PAWL_N_LOOKS; i++)
    g_clear_pointer (&piece->images[i], pawl_chunk_image_unref);
}

static void
pawl_scene_finalize (GObject *object)
{
  PawlScene *self = PAWL_SCENE (object);

  g_array_unref (self->pieces);
  g_ptr_array_unref (self->items);
  g_clear_pointer (&self->callouts, pawl_callouts_free);
  g_clear_pointer (&self->last_callouts, pawl_callouts_free);
  g_clear_object (&self->figure);
  G_OBJECT_CLASS (pawl_scene_parent_class)->finalize (object);
}

static void
pawl_scene_class_init (PawlSceneClass *class)
{
  G_OBJECT_CLASS (class)->finalize = pawl_scene_finalize;
}

static void
pawl_scene_init (PawlScene *self)
{
  self->device_scale = 1;
  self->paints_paper = TRUE;
  self->number_size = 14;
  self->pieces = g_array_new (FALSE, TRUE, sizeof (Piece));
  g_array_set_clear_func (self->pieces, clear_piece);
  self->items = g_ptr_array_new_with_free_func (free_item);
}

/* A group "axis-REGION" leads to that region. */
static void
find_own_guides (PawlScene *self)
{
  for (guint n = 0; n < self->pieces->len; n++)
    {
      const char *id = pawl_figure_get_chunk (self->figure, n)->id;

      if (pawl_scene_get_piece (self, n)->is_guide && g_str_has_prefix (id, PAWL_GUIDE_PREFIX))
        pawl_scene_set_guide (self, id, (const char *[]) { id + strlen (PAWL_GUIDE_PREFIX), NULL });
    }
}

PawlScene *
pawl_scene_new (PawlFigure *figure)
{
  PawlScene *self;

  g_return_val_if_fail (PAWL_IS_FIGURE (figure), NULL);
  self = g_object_new (PAWL_TYPE_SCENE, NULL);
  self->figure = g_object_ref (figure);
  g_array_set_size (self->pieces, pawl_figure_get_n_chunks (figure));
  for (guint n = 0; n < self->pieces->len; n++)
    {
      const PawlChunk *chunk = pawl_figure_get_chunk (figure, n);

      pawl_scene_get_piece (self, n)->is_region = chunk->is_region;
      pawl_scene_get_piece (self, n)->is_guide = pawl_figure_is_guide_id (chunk->id);
    }
  find_own_guides (self);
  pawl_scene_show_sheet (self);
  return self;
}

PawlFigure *
pawl_scene_get_figure (PawlScene *self)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), NULL);
  return self->figure;
}

void
pawl_scene_set_palette (PawlScene *self, PawlPalette palette)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  self->palette = palette;
}

PawlPalette
pawl_scene_get_palette (PawlScene *self)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), PAWL_PALETTE_LIGHT);
  return self->palette;
}

void
pawl_scene_set_device_scale (PawlScene *self, double scale)
{
  g_return_if_fail (PAWL_IS_SCENE (self) && scale > 0);
  self->device_scale = scale;
}

void
pawl_scene_set_moving (PawlScene *self, gboolean is_moving)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  self->is_moving = is_moving;
}

void
pawl_scene_set_paints_paper (PawlScene *self, gboolean paints_paper)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  self->paints_paper = paints_paper;
}

/* ---- regions ---- */

Piece *
pawl_scene_get_piece (PawlScene *self, guint n)
{
  return &g_array_index (self->pieces, Piece, n);
}

static Piece *
lookup_piece (PawlScene *self, const char *region, guint *n)
{
  guint at;

  if (!region || !pawl_figure_lookup_chunk (self->figure, region, &at))
    return NULL;
  if (n)
    *n = at;
  return pawl_scene_get_piece (self, at);
}

gboolean
pawl_scene_set_state (PawlScene *self, const char *region, PawlState state)
{
  Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  if (!(piece = lookup_piece (self, region, NULL)))
    return FALSE;
  piece->state = state;
  piece->fraction = state == PAWL_STATE_SEATED ? 1 : 0;
  pawl_scene_forget_callouts (self);
  return TRUE;
}

PawlState
pawl_scene_get_state (PawlScene *self, const char *region)
{
  const Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), PAWL_STATE_HIDDEN);
  piece = lookup_piece (self, region, NULL);
  return piece ? piece->state : PAWL_STATE_HIDDEN;
}

void
pawl_scene_set_all (PawlScene *self, PawlState state)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  for (guint n = 0; n < self->pieces->len; n++)
    if (pawl_scene_get_piece (self, n)->is_region)
      {
        pawl_scene_get_piece (self, n)->state = state;
        pawl_scene_get_piece (self, n)->fraction = state == PAWL_STATE_SEATED ? 1 : 0;
      }
  pawl_scene_forget_callouts (self);
}

gboolean
pawl_scene_set_slide (PawlScene *self, const char *region, const PawlPoint *legs, guint n_legs)
{
  Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  if (!(piece = lookup_piece (self, region, NULL)))
    return FALSE;
  g_free (piece->legs);
  piece->legs = g_memdup2 (legs, n_legs * sizeof (PawlPoint));
  piece->n_legs = n_legs;
  pawl_scene_forget_callouts (self);
  return TRUE;
}

gboolean
pawl_scene_set_fraction (PawlScene *self, const char *region, double fraction)
{
  Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  if (!(piece = lookup_piece (self, region, NULL)))
    return FALSE;
  piece->fraction = CLAMP (fraction, 0, 1);
  pawl_scene_forget_callouts (self);
  return TRUE;
}

double
pawl_scene_get_fraction (PawlScene *self, const char *region)
{
  const Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), 0);
  piece = lookup_piece (self, region, NULL);
  return piece ? piece->fraction : 0;
}

gboolean
pawl_scene_set_guide (PawlScene *self, const char *region, const char * const *others)
{
  Piece *piece;

  g_return_val_if_fail (PAWL_IS_SCENE (self), FALSE);
  if (!(piece = lookup_piece (self, region, NULL)))
    return FALSE;
  piece->is_guide = TRUE;
  g_clear_pointer (&piece->guided, g_array_unref);
  piece->guided = g_array_new (FALSE, FALSE, sizeof (guint));
  for (; others && *others; others++)
    {
      guint n;

      if (lookup_piece (self, *others, &n))
        g_array_append_val (piece->guided, n);
    }
  return TRUE;
}

PawlPoint
pawl_scene_get_offset (PawlScene *self, guint n)
{
  const Piece *piece = pawl_scene_get_piece (self, n);
  PawlPoint offset = { 0, 0 };
  double whole = 0, left;

  for (guint i = 0; i < piece->n_legs; i++)
    whole += hypot (piece->legs[i].x, piece->legs[i].y);
  left = whole * piece->fraction;
  for (guint i = 0; i < piece->n_legs && left > 0; i++)
    {
      double length = hypot (piece->legs[i].x, piece->legs[i].y);
      double share = length > 0 ? MIN (1, left / length) : 0;

      offset.x += share * piece->legs[i].x;
      offset.y += share * piece->legs[i].y;
      left -= length;
    }
  return offset;
}

PawlPoint
pawl_scene_get_slid (PawlScene *self, const char *region)
{
  guint n;

  g_return_val_if_fail (PAWL_IS_SCENE (self), (PawlPoint) { 0 });
  return lookup_piece (self, region, &n) != NULL ? pawl_scene_get_offset (self, n) : (PawlPoint) { 0 };
}

static gboolean
is_on_its_way (PawlScene *self, guint n)
{
  const Piece *piece = pawl_scene_get_piece (self, n);

  return !piece->is_guide && piece->state != PAWL_STATE_HIDDEN && piece->fraction < 1;
}

gboolean
pawl_scene_is_shown (PawlScene *self, guint n)
{
  const Piece *piece = pawl_scene_get_piece (self, n);

  if (piece->state == PAWL_STATE_HIDDEN)
    return FALSE;
  if (!piece->is_guide)
    return TRUE;
  if (piece->guided)
    {
      for (guint i = 0; i < piece->guided->len; i++)
        if (is_on_its_way (self, g_array_index (piece->guided, guint, i)))
          return TRUE;
      return FALSE;
    }
  for (guint i = 0; i < self->pieces->len; i++)
    if (pawl_scene_get_piece (self, i)->n_legs && is_on_its_way (self, i))
      return TRUE;
  return FALSE;
}

PawlBox
pawl_scene_get_piece_box (PawlScene *self, guint n)
{
  PawlPoint offset = pawl_scene_get_offset (self, n);
  PawlBox box;

  if (!pawl_scene_is_shown (self, n) || (self->waits && !pawl_figure_get_chunk (self->figure, n)->is_measured))
    return (PawlBox) { 0 };
  box = pawl_figure_get_chunk_extents (self->figure, n);
  if (pawl_box_is_empty (box))
    return (PawlBox) { 0 };
  return (PawlBox) { box.x + offset.x, box.y + offset.y, box.width, box.height };
}

/* ---- camera ---- */

void
pawl_scene_set_view (PawlScene *self, PawlBox view)
{
  g_return_if_fail (PAWL_IS_SCENE (self) && !pawl_box_is_empty (view));
  self->view = view;
  pawl_scene_forget_callouts (self);
}

PawlBox
pawl_scene_get_view (PawlScene *self)
{
  g_return_val_if_fail (PAWL_IS_SCENE (self), (PawlBox) { 0 });
  return self->view;
}

void
pawl_scene_show_sheet (PawlScene *self)
{
  pawl_scene_set_view (self, pawl_figure_get_view_box (self->figure));
}

static PawlBox
grow (PawlBox box, double across, double along)
{
  return (PawlBox) { box.x - across, box.y - along, box.width + 2 * across, box.height + 2 * along };
}

void
pawl_scene_show_all (PawlScene *self)
{
  PawlBox all = { 0 };

  g_return_if_fail (PAWL_IS_SCENE (self));
  for (guint n = 0; n < self->pieces->len; n++)
    if (!pawl_scene_get_piece (self, n)->is_guide && pawl_scene_get_piece (self, n)->state != PAWL_STATE_HIDDEN)
      all = pawl_box_unite (all, pawl_scene_get_piece_box (self, n));
  if (pawl_box_is_empty (all))
    pawl_scene_show_sheet (self);
  else
    pawl_scene_set_view (self, grow (all, MARGIN_ALL * all.width, MARGIN_ALL * all.height));
}

void
pawl_scene_show_regions (PawlScene *self, const char * const *regions, double margin)
{
  PawlBox sheet, box = { 0 };
  double across, along;

  g_return_if_fail (PAWL_IS_SCENE (self) && margin >= 0);
  sheet = pawl_figure_get_view_box (self->figure);
  for (; regions && *regions; regions++)
    {
      guint n;

      if (lookup_piece (self, *regions, &n))
        box = pawl_box_unite (box, pawl_scene_get_piece_box (self, n));
    }
  if (pawl_box_is_empty (box))
    {
      pawl_scene_show_sheet (self);
      return;
    }
  across = MAX (margin * box.width, (CLOSEST_SHARE * sheet.width - box.width) / 2);
  along = MAX (margin * box.height, (CLOSEST_SHARE * sheet.height - box.height) / 2);
  pawl_scene_set_view (self, grow (box, across, along));
}

void
pawl_scene_pan (PawlScene *self, double dx, double dy)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  self->view.x += dx;
  self->view.y += dy;
  pawl_scene_forget_callouts (self);
}

void
pawl_scene_zoom (PawlScene *self, double factor, double x, double y)
{
  double sheet;

  g_return_if_fail (PAWL_IS_SCENE (self) && factor > 0);
  sheet = pawl_figure_get_view_box (self->figure).width;
  factor = CLAMP (factor, LEAST_ZOOM * self->view.width / sheet, MOST_ZOOM * self->view.width / sheet);
  pawl_scene_set_view (self, (PawlBox) { x + (self->view.x - x) / factor, y + (self->view.y - y) / factor,
                                         self->view.width / factor, self->view.height / factor });
}

PawlBox
pawl_scene_get_frame (PawlScene *self, double width, double height)
{
  double size = self->items->len ? self->number_size : 0;
  double across = MIN (ROOM_ACROSS * size, 0.3 * width), along = MIN (ROOM_ALONG * size, 0.3 * height);

  return (PawlBox) { across, along, width - 2 * across, height - 2 * along };
}

void
pawl_scene_get_matrix (PawlScene *self, double width, double height, cairo_matrix_t *matrix)
{
  PawlBox frame;
  double scale;

  g_return_if_fail (PAWL_IS_SCENE (self) && matrix != NULL);
  frame = pawl_scene_get_frame (self, width, height);
  scale = MIN (frame.width / self->view.width, frame.height / self->view.height);
  cairo_matrix_init (matrix, scale, 0, 0, scale, frame.x + frame.width / 2 - scale * (self->view.x + self->view.width / 2),
                     frame.y + frame.height / 2 - scale * (self->view.y + self->view.height / 2));
}

PawlBox
pawl_scene_get_region_box (PawlScene *self, const char *region, double width, double height)
{
  cairo_matrix_t matrix;
  PawlBox box;
  guint n;

  g_return_val_if_fail (PAWL_IS_SCENE (self), (PawlBox) { 0 });
  if (!lookup_piece (self, region, &n))
    return (PawlBox) { 0 };
  box = pawl_scene_get_piece_box (self, n);
  pawl_scene_get_matrix (self, width, height, &matrix);
  cairo_matrix_transform_point (&matrix, &box.x, &box.y);
  return (PawlBox) { box.x, box.y, box.width * matrix.xx, box.height * matrix.yy };
}

/* ---- item numbers ---- */

void
pawl_scene_add_item (PawlScene *self, const char *number, const char * const *regions)
{
  Item *item;

  g_return_if_fail (PAWL_IS_SCENE (self) && number != NULL && regions != NULL);
  item = g_new0 (Item, 1);
  item->number = g_strdup (number);
  item->regions = g_strdupv ((char **) regions);
  g_ptr_array_add (self->items, item);
  pawl_scene_forget_callouts (self);
}

void
pawl_scene_clear_items (PawlScene *self)
{
  g_return_if_fail (PAWL_IS_SCENE (self));
  g_ptr_array_set_size (self->items, 0);
  pawl_scene_forget_callouts (self);
}

void
pawl_scene_set_number_size (PawlScene *self, double size)
{
  g_return_if_fail (PAWL_IS_SCENE (self) && size >= 0);
  self->number_size = size;
  pawl_scene_forget_callouts (self);
}
