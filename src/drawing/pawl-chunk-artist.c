#include "drawing/pawl-chunk-artist.h"

#include <librsvg/rsvg.h>
#include <math.h>
#include <string.h>

/* Longer side of the image on which a silhouette is traced. */
#define TRACE_PIXELS 480.0
/* Longer side that the whole sheet would have where ink boxes are trimmed. Every part is measured before a camera can be aimed at all of them, so
 * no finer than it must be. */
#define TRIM_PIXELS 2400.0

struct _PawlArtist {
  RsvgHandle *handle;
  GBytes     *text;
  PawlBox     view_box;
  RsvgHandle *tile_handle; /* (nullable) the figure shifted to a tile, or NULL when that could not be opened */
  PawlBox     tile;
};

/* No base file and no unlimited flag: nothing is ever opened, and libxml keeps its own caps. */
static RsvgHandle *
open_handle (const char *text, gsize length, GError **error)
{
  return rsvg_handle_new_from_data ((const guint8 *) text, length, error);
}

PawlArtist *
pawl_artist_new (GBytes *text, const char *name, PawlBox view_box, GError **error)
{
  g_autoptr(GError) fault = NULL;
  gsize length;
  const char *data = g_bytes_get_data (text, &length);
  RsvgHandle *handle = open_handle (data, length, &fault);
  PawlArtist *self;

  if (!handle)
    {
      g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_RENDER, "%s:1: can't be drawn: %s", name, fault->message);
      return NULL;
    }
  self = g_new0 (PawlArtist, 1);
  self->handle = handle;
  self->text = g_bytes_ref (text);
  self->view_box = view_box;
  return self;
}

void
pawl_artist_free (PawlArtist *self)
{
  pawl_artist_close_tile (self);
  g_object_unref (self->handle);
  g_bytes_unref (self->text);
  g_free (self);
}

/* @viewport: user units, where @handle's own sheet lies. */
static gboolean
draw_layer (RsvgHandle *handle, const char *id, cairo_t *cr, PawlBox viewport, GError **error)
{
  g_autofree char *fragment = g_strconcat ("#", id, NULL);
  RsvgRectangle sheet = { 0, 0, viewport.width, viewport.height };
  gboolean is_drawn;

  cairo_save (cr);
  cairo_translate (cr, viewport.x, viewport.y);
  is_drawn = rsvg_handle_render_layer (handle, cr, fragment, &sheet, error);
  cairo_restore (cr);
  return is_drawn;
}

gboolean
pawl_artist_draw (PawlArtist *self, const char *id, cairo_t *cr, GError **error)
{
  return draw_layer (self->handle, id, cr, self->view_box, error);
}

/* ---- within a tile ---- */

/* Where the root element begins: after declaration, comments, and a document type, which has no block of its own here. */
static const char *
find_root (const char *text)
{
  while ((text = strchr (text, '<')) && (text[1] == '?' || text[1] == '!'))
    text = strstr (text, g_str_has_prefix (text, "<!--") ? "-->" : text[1] == '?' ? "?>" : ">");
  return text;
}

/* The figure as a picture in a sheet without a size of its own, shifted so that the tile's corner is its origin. Lengths in per cent are still of
 * the figure's own sheet. What follows the root element is comments at most, and may stand inside as well. */
static char *
make_shifted (const char *text, PawlPoint shift)
{
  const char *root = find_root (text);
  char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *before = root ? g_strndup (text, root - text) : NULL;

  if (!root)
    return NULL;
  return g_strconcat (before, "<pawl:svg xmlns:pawl=\"http://www.w3.org/2000/svg\"><pawl:g transform=\"translate(",
                      g_ascii_dtostr (x, sizeof x, shift.x), " ", g_ascii_dtostr (y, sizeof y, shift.y), ")\">", root, "</pawl:g></pawl:svg>", NULL);
}

static void
open_tile (PawlArtist *self, PawlBox tile)
{
  gsize length;
  const char *data = g_bytes_get_data (self->text, &length);
  g_autofree char *text = g_strndup (data, length);
  g_autofree char *shifted = make_shifted (text, (PawlPoint) { self->view_box.x - tile.x, self->view_box.y - tile.y });

  pawl_artist_close_tile (self);
  self->tile = tile;
  if (shifted)
    self->tile_handle = open_handle (shifted, strlen (shifted), NULL);
}

void
pawl_artist_close_tile (PawlArtist *self)
{
  g_clear_object (&self->tile_handle);
  self->tile = (PawlBox) { 0 };
}

gboolean
pawl_artist_draw_within (PawlArtist *self, const char *id, cairo_t *cr, PawlBox tile, GError **error)
{
  if (memcmp (&tile, &self->tile, sizeof tile) != 0)
    open_tile (self, tile);
  return self->tile_handle ? draw_layer (self->tile_handle, id, cr, tile, error) : pawl_artist_draw (self, id, cr, error);
}

cairo_surface_t *
pawl_artist_record (PawlArtist *self, const char *id, GError **error)
{
  cairo_surface_t *recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  g_autoptr(cairo_t) cr = cairo_create (recording);

  pawl_artist_draw (self, id, cr, error);
  return recording;
}

/* When nothing but a scale lies between a recording and what it is painted on, cairo 1.16 rounds that scale to 1/256, and everything lands up to a
 * four-hundredth of its coordinate away. A hair of shear, far under a pixel, takes it the exact way. */
#define HAIR 1e-9

void
pawl_recording_set_source (cairo_surface_t *recording, cairo_t *cr, double x, double y)
{
  cairo_pattern_t *pattern = cairo_pattern_create_for_surface (recording);
  const cairo_matrix_t matrix = { 1, 0, HAIR, 1, -x, -y };

  cairo_pattern_set_matrix (pattern, &matrix);
  cairo_set_source (cr, pattern);
  cairo_pattern_destroy (pattern);
}

/* @scale: pixels per unit of what is drawn at the box's corner. */
static cairo_surface_t *
render_box (cairo_surface_t *recording, PawlBox box, double scale)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) ceil (box.width * scale), (int) ceil (box.height * scale));
  g_autoptr(cairo_t) cr = cairo_create (image);

  cairo_scale (cr, scale, scale);
  pawl_recording_set_source (recording, cr, -box.x, -box.y);
  cairo_paint (cr);
  cairo_surface_flush (image);
  return image;
}

PawlBox
pawl_recording_get_reach (cairo_surface_t *recording, PawlBox view_box)
{
  PawlBox box;

  cairo_recording_surface_ink_extents (recording, &box.x, &box.y, &box.width, &box.height);
  /* Cairo's way of saying that there is no edge: something was painted through a mask. */
  if (box.width < 0 || box.height < 0)
    return view_box;
  return pawl_box_intersect (box, view_box);
}

PawlBox
pawl_recording_measure (cairo_surface_t *recording, PawlBox view_box)
{
  PawlBox box = pawl_recording_get_reach (recording, view_box);
  g_autoptr(cairo_surface_t) image = NULL;
  double scale;
  int width, height, x0, y0, x1 = -1, y1 = -1;

  if (pawl_box_is_empty (box))
    return box;
  scale = MIN (TRACE_PIXELS / MAX (box.width, box.height), TRIM_PIXELS / MAX (view_box.width, view_box.height));
  image = render_box (recording, box, scale);
  width = x0 = cairo_image_surface_get_width (image);
  height = y0 = cairo_image_surface_get_height (image);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (cairo_image_surface_get_data (image)[y * cairo_image_surface_get_stride (image) + x])
        {
          x0 = MIN (x0, x);
          y0 = MIN (y0, y);
          x1 = MAX (x1, x);
          y1 = MAX (y1, y);
        }
  if (x1 < x0)
    return (PawlBox) { 0 };
  /* Half a pixel more on each side: the very tip of an arc is less than a grain of alpha here. */
  return pawl_box_intersect (box, (PawlBox) { box.x + (x0 - 0.5) / scale, box.y + (y0 - 0.5) / scale, (x1 - x0 + 2) / scale, (y1 - y0 + 2) / scale });
}

GPtrArray *
pawl_recording_trace (cairo_surface_t *recording, PawlBox box)
{
  g_autoptr(cairo_surface_t) image = NULL;
  GPtrArray *outlines;
  double scale;

  if (pawl_box_is_empty (box))
    return g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  scale = TRACE_PIXELS / MAX (box.width, box.height);
  image = render_box (recording, box, scale);
  outlines = pawl_trace_outlines (image, 96, 0.35);
  for (guint i = 0; i < outlines->len; i++)
    {
      GArray *outline = g_ptr_array_index (outlines, i);

      for (guint j = 0; j < outline->len; j++)
        {
          PawlPoint *p = &g_array_index (outline, PawlPoint, j);

          *p = (PawlPoint) { box.x + p->x / scale, box.y + p->y / scale };
        }
    }
  return outlines;
}
