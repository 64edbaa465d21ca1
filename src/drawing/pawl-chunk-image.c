#include "drawing/pawl-chunk-image.h"

#include <math.h>
#include <string.h>

/* No surface is larger than these, whatever is asked for: a window of four times 1920 by 1080 with room around it. */
#define MOST_SIDE 16000
#define MOST_PIXELS (32.0 * 1024 * 1024)
/* A chunk is drawn whole when at least this share of it is looked at: the camera may pan there. */
#define WORTH_DRAWING_WHOLE 0.7

gboolean
pawl_grid_fits (const PawlGrid *a, const PawlGrid *b)
{
  return fabs (a->scale - b->scale) < 1e-6 * b->scale && fabs (a->phase_x - b->phase_x) < 0.02 && fabs (a->phase_y - b->phase_y) < 0.02;
}

/* ---- pixels ---- */

static guint8
clamp_byte (int value, int most)
{
  return (guint8) CLAMP (value, 0, most);
}

/* Light and dark change places, hues stay: each channel plus (white − lightest − darkest), which turns HSL lightness over; then the range from
 * black to white is laid between the dark sheet and its ink. Pixels are premultiplied, so white is the pixel's own alpha. */
static void
turn_dark (guint32 *pixels, gsize n_pixels)
{
  const PawlInks inks = pawl_palette_get_inks (PAWL_PALETTE_DARK);
  const double paper[3] = { inks.paper.blue, inks.paper.green, inks.paper.red };
  const double ink[3] = { inks.ink.blue, inks.ink.green, inks.ink.red };

  for (gsize at = 0; at < n_pixels; at++)
    {
      int alpha = pixels[at] >> 24;
      int c[3] = { pixels[at] & 0xff, pixels[at] >> 8 & 0xff, pixels[at] >> 16 & 0xff };
      int shift = alpha - MAX (MAX (c[0], c[1]), c[2]) - MIN (MIN (c[0], c[1]), c[2]);
      guint32 turned = (guint32) alpha << 24;

      if (!alpha)
        continue;
      for (int i = 0; i < 3; i++)
        turned |= (guint32) clamp_byte ((int) lround (paper[i] * alpha + (ink[i] - paper[i]) * clamp_byte (c[i] + shift, alpha)), alpha) << (8 * i);
      pixels[at] = turned;
    }
}

/* Lighter than this share of white is paper. Grey lines and the soft edges of black ones are ink. */
#define INK_SHARE 0.72

/* Black and white, and each line thicker by a pixel towards where pixels come from: hatching keeps its gaps, hair lines are seen in the sun.
 * Pixels are premultiplied; where the drawing was clear it stays so. */
static void
turn_stark (guint32 *pixels, int width, int height)
{
  gsize n_pixels = (gsize) width * height;
  g_autofree guint8 *is_ink = g_malloc (n_pixels);

  for (gsize at = 0; at < n_pixels; at++)
    {
      int alpha = pixels[at] >> 24, light = ((pixels[at] & 0xff) + 2 * (pixels[at] >> 8 & 0xff) + (pixels[at] >> 16 & 0xff)) / 4;

      is_ink[at] = alpha >= 64 && light < INK_SHARE * alpha;
    }
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      {
        gsize at = (gsize) y * width + x;
        guint32 alpha = pixels[at] >> 24;
        gboolean is_dark = is_ink[at] || (x > 0 && is_ink[at - 1]) || (y > 0 && is_ink[at - width]);

        pixels[at] = is_dark && alpha > 0 ? 0xff000000 : alpha << 24 | alpha << 16 | alpha << 8 | alpha;
      }
}

/* Paper mixed in, as far as there is ink. */
static void
veil (guint8 *data, int width, int height, PawlPalette palette)
{
  const PawlInks inks = pawl_palette_get_inks (palette);
  g_autoptr(cairo_surface_t) image = cairo_image_surface_create_for_data (data, CAIRO_FORMAT_ARGB32, width, height, width * 4);
  g_autoptr(cairo_t) cr = cairo_create (image);

  pawl_ink_set_source (&inks.paper, cr, PAWL_PALE_SHARE);
  cairo_set_operator (cr, CAIRO_OPERATOR_ATOP);
  cairo_paint (cr);
}

/* The rows and columns that have any alpha, as a rectangle of the pixels given. FALSE: none. */
static gboolean
find_ink (const guint32 *pixels, int width, int height, cairo_rectangle_int_t *ink)
{
  int x0 = width, y0 = height, x1 = -1, y1 = -1;

  for (int y = 0; y < height; y++)
    {
      const guint32 *row = pixels + (gsize) y * width;
      int first = 0, last = width - 1;

      while (first < width && !(row[first] >> 24))
        first++;
      if (first == width)
        continue;
      while (!(row[last] >> 24))
        last--;
      x0 = MIN (x0, first);
      x1 = MAX (x1, last);
      y0 = MIN (y0, y);
      y1 = y;
    }
  *ink = (cairo_rectangle_int_t) { x0, y0, x1 - x0 + 1, y1 - y0 + 1 };
  return y1 >= 0;
}

static GBytes *
crop (const guint32 *pixels, int width, const cairo_rectangle_int_t *part)
{
  guint32 *copy = g_new (guint32, (gsize) part->width * part->height);

  for (int y = 0; y < part->height; y++)
    memcpy (copy + (gsize) y * part->width, pixels + (gsize) (part->y + y) * width + part->x, part->width * sizeof (guint32));
  return g_bytes_new_take (copy, (gsize) part->width * part->height * sizeof (guint32));
}

/* ---- drawing ---- */

/* No pixel more than the box touches: dashes that come in over the edge of the sheet begin where the surface does, and should as in the whole. */
static cairo_rectangle_int_t
get_pixels (PawlBox box, const PawlGrid *grid)
{
  double x0 = floor (box.x * grid->scale + grid->phase_x + 1e-6), y0 = floor (box.y * grid->scale + grid->phase_y + 1e-6);
  double x1 = ceil ((box.x + box.width) * grid->scale + grid->phase_x - 1e-6), y1 = ceil ((box.y + box.height) * grid->scale + grid->phase_y - 1e-6);
  double most = G_MAXINT / 4.0;

  return (cairo_rectangle_int_t) { (int) CLAMP (x0, -most, most), (int) CLAMP (y0, -most, most), (int) MIN (x1 - x0, most), (int) MIN (y1 - y0, most) };
}

/* A chunk of which little is looked at, or which is too large. */
static gboolean
needs_cropping (PawlBox reach, PawlBox window, const PawlGrid *grid)
{
  cairo_rectangle_int_t whole = get_pixels (reach, grid);
  PawlBox seen = pawl_box_intersect (reach, window);

  if ((double) whole.width * whole.height > PAWL_CHUNK_MOST_PIXELS || whole.width > MOST_SIDE || whole.height > MOST_SIDE)
    return TRUE;
  return !pawl_box_is_empty (seen) && seen.width * seen.height < WORTH_DRAWING_WHOLE * reach.width * reach.height;
}

static guint32 *
draw_pixels (PawlChunkDraw draw, gpointer data, const cairo_rectangle_int_t *place, const PawlGrid *grid)
{
  guint32 *pixels = g_new0 (guint32, (gsize) place->width * place->height);
  g_autoptr(cairo_surface_t) image = cairo_image_surface_create_for_data ((guint8 *) pixels, CAIRO_FORMAT_ARGB32, place->width, place->height, place->width * 4);
  g_autoptr(cairo_t) cr = cairo_create (image);

  cairo_translate (cr, grid->phase_x - place->x, grid->phase_y - place->y);
  cairo_scale (cr, grid->scale, grid->scale);
  draw (cr, data);
  cairo_surface_finish (image);
  return pixels;
}

PawlChunkImage *
pawl_chunk_image_new (PawlChunkDraw draw, gpointer data, PawlBox reach, PawlBox window, const PawlGrid *grid)
{
  gboolean is_whole = !needs_cropping (reach, window, grid);
  PawlBox covers = is_whole ? reach : pawl_box_intersect (reach, window);
  cairo_rectangle_int_t place = get_pixels (covers, grid), ink;
  g_autofree guint32 *pixels = NULL;
  g_autoptr(GBytes) bytes = NULL;
  PawlChunkImage *self;

  if (!pawl_box_is_empty (covers))
    {
      if (place.width > MOST_SIDE || place.height > MOST_SIDE || (double) place.width * place.height > MOST_PIXELS)
        return NULL;
      pixels = draw_pixels (draw, data, &place, grid);
      if (find_ink (pixels, place.width, place.height, &ink))
        bytes = crop (pixels, place.width, &ink);
    }
  if (!bytes)
    ink = (cairo_rectangle_int_t) { 0, 0, 0, 0 };
  self = pawl_chunk_image_new_from_pixels (grid, place.x + ink.x, place.y + ink.y, ink.width, ink.height, bytes);
  self->covers = covers;
  self->is_whole = is_whole;
  if (bytes)
    {
      guint8 *bits = (guint8 *) g_bytes_get_data (bytes, NULL); /* still ours alone */

      if (grid->palette == PAWL_PALETTE_DARK)
        turn_dark ((guint32 *) (void *) bits, (gsize) ink.width * ink.height);
      else if (grid->palette == PAWL_PALETTE_GLARE)
        turn_stark ((guint32 *) (void *) bits, ink.width, ink.height);
      if (grid->look == PAWL_LOOK_PALE)
        veil (bits, ink.width, ink.height, grid->palette);
    }
  return self;
}

static PawlBox
get_tile (PawlBox box, const PawlGrid *grid)
{
  cairo_rectangle_int_t pixels = get_pixels (box, grid);

  return (PawlBox) { (pixels.x - grid->phase_x) / grid->scale, (pixels.y - grid->phase_y) / grid->scale, pixels.width / grid->scale, pixels.height / grid->scale };
}

gboolean
pawl_chunk_image_find_tile (PawlBox window, PawlBox sheet, const PawlGrid *grid, PawlBox *tile)
{
  double pixels = grid->scale * grid->scale;
  PawlBox wide = { window.x - window.width / 2, window.y - window.height / 2, 2 * window.width, 2 * window.height };

  if (sheet.width * sheet.height * pixels <= PAWL_SHEET_MOST_PIXELS || pawl_box_is_empty (window))
    return FALSE;
  wide = pawl_box_intersect (wide, sheet);
  *tile = get_tile (wide.width * wide.height * pixels <= PAWL_SHEET_MOST_PIXELS ? wide : pawl_box_intersect (window, sheet), grid);
  return TRUE;
}

PawlChunkImage *
pawl_chunk_image_new_from_pixels (const PawlGrid *grid, int x, int y, int width, int height, GBytes *pixels)
{
  PawlChunkImage *self = g_atomic_rc_box_new0 (PawlChunkImage);

  self->grid = *grid;
  self->x = x;
  self->y = y;
  self->width = width;
  self->height = height;
  self->is_whole = TRUE;
  self->pixels = pixels ? g_bytes_ref (pixels) : NULL;
  return self;
}

PawlChunkImage *
pawl_chunk_image_veil (const PawlChunkImage *ink)
{
  g_autoptr(GBytes) bytes = NULL;
  PawlChunkImage *self;

  if (ink->pixels)
    {
      guint8 *data = g_memdup2 (g_bytes_get_data (ink->pixels, NULL), g_bytes_get_size (ink->pixels));

      veil (data, ink->width, ink->height, ink->grid.palette);
      bytes = g_bytes_new_take (data, g_bytes_get_size (ink->pixels));
    }
  self = pawl_chunk_image_new_from_pixels (&ink->grid, ink->x, ink->y, ink->width, ink->height, bytes);
  self->grid.look = PAWL_LOOK_PALE;
  self->covers = ink->covers;
  self->is_whole = ink->is_whole;
  return self;
}

PawlChunkImage *
pawl_chunk_image_ref (PawlChunkImage *self)
{
  return g_atomic_rc_box_acquire (self);
}

static void
clear (gpointer data)
{
  g_clear_pointer (&((PawlChunkImage *) data)->pixels, g_bytes_unref);
}

void
pawl_chunk_image_unref (PawlChunkImage *self)
{
  g_atomic_rc_box_release_full (self, clear);
}

cairo_surface_t *
pawl_chunk_image_create_surface (PawlChunkImage *self)
{
  static const cairo_user_data_key_t key;
  cairo_surface_t *surface;

  g_return_val_if_fail (self->pixels != NULL, NULL);
  surface = cairo_image_surface_create_for_data ((guint8 *) g_bytes_get_data (self->pixels, NULL), CAIRO_FORMAT_ARGB32, self->width, self->height, self->width * 4);
  cairo_surface_set_user_data (surface, &key, g_bytes_ref (self->pixels), (cairo_destroy_func_t) g_bytes_unref);
  return surface;
}

gsize
pawl_chunk_image_get_size (const PawlChunkImage *self)
{
  return self->pixels ? g_bytes_get_size (self->pixels) : 0;
}

PawlBox
pawl_chunk_image_get_box (const PawlChunkImage *self)
{
  double scale = self->grid.scale;

  return (PawlBox) { (self->x - self->grid.phase_x) / scale, (self->y - self->grid.phase_y) / scale, self->width / scale, self->height / scale };
}

guint
pawl_chunk_image_get_alpha (const PawlChunkImage *self, double x, double y)
{
  double px = floor (x * self->grid.scale + self->grid.phase_x) - self->x, py = floor (y * self->grid.scale + self->grid.phase_y) - self->y;
  const guint32 *pixels;

  if (!self->pixels || px < 0 || py < 0 || px >= self->width || py >= self->height)
    return 0;
  pixels = g_bytes_get_data (self->pixels, NULL);
  return pixels[(gsize) py * self->width + (gsize) px] >> 24;
}
