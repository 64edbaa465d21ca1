/*
 * The picture made of chunks against the drawing library's own picture of the whole, and picks against a map that draws each region by itself.
 * Source of what is right: librsvg's rsvg_handle_render_document() and rsvg_handle_render_layer(), called here on the file as it is.
 */
#include "fixtures.h"

#include <librsvg/rsvg.h>
#include <stdlib.h>

#include "drawing/pawl-figure-private.h"

#define WIDTH 640
#define HEIGHT 480
#define MOST_DIFFERENCE 4 /* of 255, in any channel */
#define N_POINTS 3000
#define HIT_ALPHA 24

/* Layers of everything that blends: gradients, opacity, clips, masks, filters, dashes, text, art between regions, and ink over the sheet's edge. */
static const char blending[] =
  SVG ("viewBox=\"0 0 400 300\"",
       "<defs><linearGradient id=\"g\"><stop stop-color=\"#fd8\"/><stop offset=\"1\" stop-color=\"#248\" stop-opacity=\".4\"/></linearGradient>\n"
       "<clipPath id=\"c\"><circle cx=\"200\" cy=\"150\" r=\"70\"/></clipPath><mask id=\"m\"><rect x=\"150\" width=\"90\" height=\"300\" fill=\"#888\"/></mask>\n"
       "<filter id=\"f\"><feGaussianBlur stdDeviation=\"3\"/></filter></defs>\n"
       "<path d=\"M-30 20 L430 281\" stroke=\"#333\" stroke-width=\".7\" stroke-dasharray=\"12 2 1 2\"/>\n"
       "<g id=\"a\"><circle cx=\"130\" cy=\"140\" r=\"90\" fill=\"url(#g)\"/><circle cx=\"130\" cy=\"140\" r=\"90\" fill=\"none\" stroke=\"#000\" stroke-width=\"1.3\"/></g>\n"
       "<g id=\"b\" opacity=\".6\"><rect x=\"120\" y=\"60\" width=\"160\" height=\"170\" rx=\"12\" fill=\"#c33\"/><rect x=\"140\" y=\"90\" width=\"220\" height=\"60\" fill=\"#3c3\"/></g>\n"
       "<g opacity=\".5\"><path d=\"M20 250 q90 -160 360 -20\" fill=\"none\" stroke=\"#606\" stroke-width=\"9\"/></g>\n"
       "<g id=\"c1\" clip-path=\"url(#c)\"><path d=\"M100 60 h220 l-80 190 z\" fill=\"#05a\" fill-opacity=\".7\"/></g>\n"
       "<g id=\"d\" mask=\"url(#m)\"><ellipse cx=\"190\" cy=\"200\" rx=\"120\" ry=\"50\" fill=\"#080\"/></g>\n"
       "<g id=\"e\" transform=\"rotate(17 300 80)\"><rect x=\"260\" y=\"40\" width=\"90\" height=\"70\" fill=\"#eef\" stroke=\"#013\" stroke-width=\".5\"/></g>\n"
       "<g id=\"f1\" filter=\"url(#f)\"><rect x=\"40\" y=\"200\" width=\"60\" height=\"50\"/></g>\n"
       "<text id=\"t\" x=\"60\" y=\"285\" font-family=\"sans\" font-size=\"24\" fill=\"#123\">Item 7</text>\n"
       "<g id=\"out\"><rect x=\"370\" y=\"-20\" width=\"60\" height=\"90\" fill=\"#777\" stroke=\"#000\"/></g>");

typedef struct {
  PawlFigure *figure;
  PawlScene  *scene;
  RsvgHandle *handle;
} Fixture;

/* Axis lines are drawn pale and under all parts: another picture than the author's. So they are left out of both. */
static void
leave_guides_out (Fixture *self)
{
  GPtrArray *regions = pawl_figure_get_regions (self->figure);
  g_autoptr(GString) sheet = g_string_new ("");
  g_autoptr(GError) error = NULL;

  for (guint i = 0; i < regions->len; i++)
    {
      const PawlRegion *region = g_ptr_array_index (regions, i);

      if (region->depth != 1 || !pawl_figure_is_guide_id (region->id))
        continue;
      pawl_scene_set_state (self->scene, region->id, PAWL_STATE_HIDDEN);
      g_string_append_printf (sheet, "#%s { display: none !important }\n", region->id);
    }
  g_assert_true (sheet->len == 0 || rsvg_handle_set_stylesheet (self->handle, (const guint8 *) sheet->str, sheet->len, &error));
  g_assert_no_error (error);
}

static void
set_up (Fixture *self, gconstpointer name)
{
  g_autofree char *path = name ? g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "svg", name, NULL) : NULL;
  g_autoptr(GError) error = NULL;
  GBytes *bytes;

  self->figure = path ? pawl_figure_load (path, &error) : load_text (blending, &error);
  g_assert_no_error (error);
  bytes = pawl_figure_peek_bytes (self->figure);
  self->handle = rsvg_handle_new_from_data (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), &error);
  g_assert_no_error (error);
  self->scene = pawl_scene_new (self->figure);
  pawl_scene_set_number_size (self->scene, 0);
  leave_guides_out (self);
}

static void
tear_down (Fixture *self, gconstpointer name)
{
  g_object_unref (self->handle);
  g_object_unref (self->scene);
  g_object_unref (self->figure);
}

static RsvgRectangle
use_sheet (Fixture *self, cairo_t *cr)
{
  PawlBox sheet = pawl_figure_get_view_box (self->figure);
  cairo_matrix_t matrix;

  pawl_scene_get_matrix (self->scene, WIDTH, HEIGHT, &matrix);
  cairo_transform (cr, &matrix);
  return (RsvgRectangle) { sheet.x, sheet.y, sheet.width, sheet.height };
}

static PawlBox
get_sheet_box (Fixture *self)
{
  PawlBox sheet = pawl_figure_get_view_box (self->figure);
  cairo_matrix_t matrix;

  pawl_scene_get_matrix (self->scene, WIDTH, HEIGHT, &matrix);
  cairo_matrix_transform_point (&matrix, &sheet.x, &sheet.y);
  return (PawlBox) { sheet.x, sheet.y, sheet.width * matrix.xx, sheet.height * matrix.yy };
}

/* Only what is on the sheet: beyond its edge the library draws on, and a scene does not. The pixels that the edge runs through are not compared. */
static void
clip_to_sheet (Fixture *self, cairo_t *cr)
{
  PawlBox sheet = get_sheet_box (self);

  cairo_rectangle (cr, floor (sheet.x), floor (sheet.y), ceil (sheet.x + sheet.width) - floor (sheet.x), ceil (sheet.y + sheet.height) - floor (sheet.y));
  cairo_clip (cr);
}

/* On a surface that the whole sheet has room on, because a dashed line that comes in over the surface's edge is dashed otherwise; then the window's
 * part of it. */
static cairo_surface_t *
draw_whole (Fixture *self)
{
  PawlBox box = get_sheet_box (self);
  int left = MAX (0, (int) ceil (-box.x)), top = MAX (0, (int) ceil (-box.y));
  int width = MAX (WIDTH, (int) ceil (box.x + box.width)), height = MAX (HEIGHT, (int) ceil (box.y + box.height));
  g_autoptr(cairo_surface_t) large = cairo_image_surface_create (CAIRO_FORMAT_RGB24, left + width, top + height);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  g_autoptr(cairo_t) cr = cairo_create (large), copy = cairo_create (image);
  RsvgRectangle sheet;
  g_autoptr(GError) error = NULL;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_translate (cr, left, top);
  clip_to_sheet (self, cr);
  sheet = use_sheet (self, cr);
  rsvg_handle_render_document (self->handle, cr, &sheet, &error);
  g_assert_no_error (error);
  cairo_set_source_surface (copy, large, -left, -top);
  cairo_paint (copy);
  cairo_surface_flush (image);
  return image;
}

static cairo_surface_t *
draw_composed (Fixture *self)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, WIDTH, HEIGHT);
  g_autoptr(cairo_t) cr = cairo_create (image);

  pawl_scene_draw (self->scene, cr, WIDTH, HEIGHT);
  cairo_surface_flush (image);
  return image;
}

static gboolean
is_on_sheet (PawlBox sheet, int x, int y)
{
  return x >= sheet.x && y >= sheet.y && x + 1 <= sheet.x + sheet.width && y + 1 <= sheet.y + sheet.height;
}

static int
compare (Fixture *self, cairo_surface_t *a, cairo_surface_t *b)
{
  int stride = cairo_image_surface_get_stride (a), most = 0;
  const guint8 *p = cairo_image_surface_get_data (a), *q = cairo_image_surface_get_data (b);
  PawlBox sheet = get_sheet_box (self);

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      for (int i = 0; i < 3; i++)
        if (is_on_sheet (sheet, x, y))
          most = MAX (most, abs (p[y * stride + 4 * x + i] - q[y * stride + 4 * x + i]));
  return most;
}

/* The whole sheet, one that lies between the pixels, and a near view that cuts parts off. */
static const PawlBox views[] = { { 0, 0, 1, 1 }, { -0.0137, -0.0219, 1.1171, 1.1171 }, { 0.211, 0.173, 0.437, 0.437 } };

static void
aim (Fixture *self, PawlBox share)
{
  PawlBox sheet = pawl_figure_get_view_box (self->figure);

  pawl_scene_set_view (self->scene, (PawlBox) { sheet.x + share.x * sheet.width, sheet.y + share.y * sheet.height, share.width * sheet.width, share.height * sheet.height });
}

static void
test_picture (Fixture *self, gconstpointer name)
{
  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_autoptr(cairo_surface_t) whole = NULL, composed = NULL;

      aim (self, views[i]);
      whole = draw_whole (self);
      composed = draw_composed (self);
      g_test_message ("view %u: differs by %d at most", i, compare (self, whole, composed));
      g_assert_cmpint (compare (self, whole, composed), <=, MOST_DIFFERENCE);
    }
}

/* What would be wrong is seen: a part that is not shown. */
static void
test_picture_without_a_part (Fixture *self, gconstpointer name)
{
  g_autoptr(cairo_surface_t) whole = draw_whole (self), composed = NULL;

  pawl_scene_set_state (self->scene, "e", PAWL_STATE_HIDDEN);
  composed = draw_composed (self);
  g_assert_cmpint (compare (self, whole, composed), >, 100);
}

/* Alpha of one region by itself, at each pixel. */
static guint8 *
draw_alpha (Fixture *self, const char *id)
{
  g_autoptr(cairo_surface_t) image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  g_autoptr(cairo_t) cr = cairo_create (image);
  g_autofree char *fragment = g_strconcat ("#", id, NULL);
  guint8 *alpha = g_malloc (WIDTH * HEIGHT);
  RsvgRectangle sheet = use_sheet (self, cr);
  g_autoptr(GError) error = NULL;

  rsvg_handle_render_layer (self->handle, cr, fragment, &sheet, &error);
  g_assert_no_error (error);
  cairo_surface_flush (image);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      alpha[y * WIDTH + x] = *((guint32 *) (void *) (cairo_image_surface_get_data (image) + y * cairo_image_surface_get_stride (image)) + x) >> 24;
  return alpha;
}

/* Who is on top at each pixel; NULL: nobody. A pixel whose alpha is within one step of what counts as a hit may be either, and is not asked. */
static void
make_map (Fixture *self, const char **who, gboolean *is_close)
{
  GPtrArray *regions = pawl_figure_get_regions (self->figure);

  for (guint i = 0; i < regions->len; i++)
    {
      const PawlRegion *region = g_ptr_array_index (regions, i);
      g_autofree guint8 *alpha = NULL;

      if (region->depth != 1 || pawl_figure_is_guide_id (region->id))
        continue;
      alpha = draw_alpha (self, region->id);
      for (int at = 0; at < WIDTH * HEIGHT; at++)
        {
          if (alpha[at] >= HIT_ALPHA)
            who[at] = region->id;
          is_close[at] = alpha[at] > HIT_ALPHA + 1 ? FALSE : is_close[at] || abs (alpha[at] - HIT_ALPHA) <= 1;
        }
    }
}

static void
test_picks (Fixture *self, gconstpointer name)
{
  guint n_asked = 0, n_parts = 0;

  for (guint i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_autofree const char **who = g_new0 (const char *, WIDTH * HEIGHT);
      g_autofree gboolean *is_close = g_new0 (gboolean, WIDTH * HEIGHT);
      g_autoptr(GRand) rand = g_rand_new_with_seed (17 + i);
      g_autoptr(cairo_surface_t) drawn = NULL;
      PawlBox sheet;

      aim (self, views[i]);
      drawn = draw_composed (self);
      make_map (self, who, is_close);
      sheet = get_sheet_box (self);
      for (guint k = 0; k < N_POINTS; k++)
        {
          int x = g_rand_int_range (rand, 0, WIDTH), y = g_rand_int_range (rand, 0, HEIGHT);

          if (is_close[y * WIDTH + x] || !is_on_sheet (sheet, x, y))
            continue;
          n_asked++;
          n_parts += who[y * WIDTH + x] != NULL;
          g_assert_cmpstr (pawl_scene_pick (self->scene, x + 0.5, y + 0.5, 0, WIDTH, HEIGHT), ==, who[y * WIDTH + x]);
        }
    }
  g_test_message ("%u points, %u of them on a part", n_asked, n_parts);
  g_assert_cmpuint (n_asked, >, N_POINTS * G_N_ELEMENTS (views) * 90 / 100);
  g_assert_cmpuint (n_parts, >, n_asked / 20);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, name, test) g_test_add ("/drawing/composed/" path, Fixture, name, set_up, test, tear_down)
  ADD ("picture/blending", NULL, test_picture);
  ADD ("picture/carburetor", "sd3-carburetor.svg", test_picture);
  ADD ("picture/hub", "wd4-winch-hub.svg", test_picture);
  ADD ("picture/pump", "bp2-bilge-pump.svg", test_picture);
  ADD ("picture/magneto", "m1-magneto.svg", test_picture);
  ADD ("picture-without-a-part", NULL, test_picture_without_a_part);
  ADD ("picks/blending", NULL, test_picks);
  ADD ("picks/carburetor", "sd3-carburetor.svg", test_picks);
  return g_test_run ();
}
