/*
 * Masks, filters and half-transparent groups under a close camera: the library makes surfaces as large as the whole sheet for them, so beyond some
 * size such chunks are drawn from a figure shifted to what is looked at. It must look the same, and take a bounded amount of memory.
 */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "drawing/pawl-chunk-artist.h"
#include "drawing/pawl-chunk-worker.h"
#include "drawing/pawl-figure-private.h"

/* The view box begins elsewhere, the root has a place, and lengths are in per cent: none of it may move anything. */
#define FIGURE "<?xml version=\"1.0\"?>\n<!DOCTYPE svg>\n<!-- invented -->\n" \
  "<svg xmlns=\"http://www.w3.org/2000/svg\" x=\"7\" y=\"9\" viewBox=\"-100 50 1600 1000\"><defs>" \
  "<mask id=\"m\" maskUnits=\"userSpaceOnUse\" x=\"-100\" y=\"50\" width=\"1600\" height=\"1000\"><rect x=\"-100\" y=\"50\" width=\"50%\" height=\"50%\" fill=\"#fff\"/></mask>" \
  "<filter id=\"f\"><feGaussianBlur stdDeviation=\"2\"/></filter></defs>" \
  "<circle id=\"masked\" cx=\"700\" cy=\"550\" r=\"400\" fill=\"#f00\" mask=\"url(#m)\"/>" \
  "<circle id=\"blurred\" cx=\"690\" cy=\"540\" r=\"20\" filter=\"url(#f)\"/>" \
  "<g id=\"faint\" opacity=\".5\"><rect x=\"700\" y=\"530\" width=\"30.3\" height=\"30.3\" fill=\"#00f\"/><rect x=\"710\" y=\"540\" width=\"30\" height=\"30\" fill=\"#0f0\"/></g>" \
  "<rect id=\"plain\" x=\"670\" y=\"570\" width=\"8\" height=\"8\"/></svg><!-- the end -->"

static const PawlBox window = { 660, 520, 80, 50 };

static PawlFigure *
load (const char *text)
{
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  PawlFigure *figure = pawl_figure_load_bytes (bytes, "layers.svg", &error);

  g_assert_no_error (error);
  return figure;
}

/* ---- which need them ---- */

#define SVG(attributes, body) "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 10 10\" " attributes ">" body "</svg>"

static const struct { const char *what, *text; gboolean needs; } cases[] = {
  { "nothing of the kind", SVG ("", "<path id=\"a\" fill-opacity=\".5\" stroke-opacity=\".5\"/>"), FALSE },
  { "opacity", SVG ("", "<path id=\"a\" opacity=\".5\"/>"), TRUE },
  { "opacity of one", SVG ("", "<path id=\"a\" opacity=\"1\" filter=\"none\" mask=\"none\" clip-path=\"none\"/>"), FALSE },
  { "opacity, deep down", SVG ("", "<g id=\"a\"><g><path style=\"fill:red; opacity : 0.5\"/></g></g>"), TRUE },
  { "opacity of another part", SVG ("", "<path id=\"a\"/><path id=\"b\" opacity=\".5\"/>"), FALSE },
  { "opacity of the root", SVG ("opacity=\".5\"", "<path id=\"a\"/>"), TRUE },
  { "a blend", SVG ("", "<path id=\"a\" style=\"mix-blend-mode: multiply\"/>"), TRUE },
  { "a clip", SVG ("", "<clipPath id=\"c\"><path/></clipPath><path id=\"a\" clip-path=\"url(#c)\"/>"), TRUE },
  { "a sheet", SVG ("", "<style>/* .x { } */ path { fill: red } .x { filter: url(#f) }</style><path id=\"a\"/>"), TRUE },
  { "a sheet without", SVG ("", "<style>path { fill-opacity: .5 }</style><path id=\"a\"/>"), FALSE },
  { "used", SVG ("", "<defs><path id=\"b\" opacity=\".5\"/></defs><use id=\"a\" xlink:href=\"#b\"/>"), TRUE },
  { "used, without", SVG ("", "<defs><path id=\"b\"/></defs><use id=\"a\" xlink:href=\"#b\"/>"), FALSE },
  { "a pattern", SVG ("", "<pattern id=\"p\" width=\"1\" height=\"1\"><path opacity=\".5\"/></pattern><path id=\"a\" fill=\"url(#p)\"/>"), TRUE },
};

static void
test_which (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlFigure) figure = load (cases[i].text);

      g_test_message ("%s", cases[i].what);
      g_assert_cmpint (pawl_figure_lookup_chunk (figure, "a", NULL)->has_layers, ==, cases[i].needs);
    }
}

/* ---- how large ---- */

static void
check_tile (PawlBox looked_at, PawlBox sheet, const PawlGrid *grid)
{
  PawlBox tile, seen = pawl_box_intersect (looked_at, sheet);
  double scale = grid->scale, least = (seen.width * scale + 2) * (seen.height * scale + 2), x, y;

  g_assert_cmpint (pawl_chunk_image_find_tile (looked_at, sheet, grid, &tile), ==, sheet.width * sheet.height * scale * scale > PAWL_SHEET_MOST_PIXELS);
  if (sheet.width * sheet.height * scale * scale <= PAWL_SHEET_MOST_PIXELS)
    return;
  /* A row and a column of pixels more than asked for, at most, on each side. */
  g_assert_cmpfloat (tile.width * scale * tile.height * scale, <=, MAX (PAWL_SHEET_MOST_PIXELS * 1.01, least));
  if (pawl_box_is_empty (seen))
    return;
  x = tile.x * scale + grid->phase_x;
  y = tile.y * scale + grid->phase_y;
  g_assert_cmpfloat_with_epsilon (x, round (x), 1e-4);
  g_assert_cmpfloat_with_epsilon (y, round (y), 1e-4);
  g_assert_cmpfloat (tile.x, <=, seen.x + 1e-6);
  g_assert_cmpfloat (tile.y, <=, seen.y + 1e-6);
  g_assert_cmpfloat (tile.x + tile.width, >=, seen.x + seen.width - 1e-6);
  g_assert_cmpfloat (tile.y + tile.height, >=, seen.y + seen.height - 1e-6);
}

/* What a window of some size looks at, from as near as one comes: surfaces grow with the window, never with the scale. */
static void
test_sizes (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (5);

  for (guint i = 0; i < 2000; i++)
    {
      PawlBox sheet = { g_rand_double_range (random, -500, 500), 0, g_rand_double_range (random, 100, 3000), g_rand_double_range (random, 100, 3000) };
      PawlGrid grid = { .scale = g_rand_double_range (random, 0.1, 40), .phase_x = g_rand_double (random), .phase_y = g_rand_double (random) };
      PawlBox looked_at = { g_rand_double_range (random, -500, 1000), g_rand_double_range (random, 0, 1000), 3840 / grid.scale, 2160 / grid.scale };

      check_tile (looked_at, sheet, &grid);
    }
}

static void
test_no_window (void)
{
  PawlBox tile;

  g_assert_false (pawl_chunk_image_find_tile ((PawlBox) { 0 }, (PawlBox) { 0, 0, 1600, 1000 }, &(PawlGrid) { .scale = 40 }, &tile));
}

/* ---- how it looks ---- */

typedef struct {
  PawlFigure *figure;
  GPtrArray  *images; /* (element-type PawlChunkImage) (nullable elements), by chunk */
  guint       n_brought;
} Fixture;

static void
done_cb (GPtrArray *results, gpointer data)
{
  Fixture *self = data;

  for (guint i = 0; i < results->len; i++)
    {
      PawlChunkResult *result = g_ptr_array_index (results, i);

      self->images->pdata[result->n] = g_steal_pointer (&result->image);
      self->n_brought++;
    }
}

static void
draw_all (Fixture *self, const PawlGrid *grid)
{
  PawlChunkWorker *worker;
  GArray *jobs = pawl_chunk_jobs_new ();
  guint n_chunks;

  self->figure = load (FIGURE);
  n_chunks = pawl_figure_get_n_chunks (self->figure);
  self->images = g_ptr_array_new ();
  g_ptr_array_set_size (self->images, (int) n_chunks);
  self->n_brought = 0;
  worker = pawl_chunk_worker_new (self->figure, NULL, done_cb, self);
  for (guint n = 0; n < n_chunks; n++)
    g_array_append_vals (jobs, &(PawlChunkJob) { .kind = PAWL_CHUNK_JOB_DRAW, .n = n, .grid = *grid, .window = window }, 1);
  pawl_chunk_worker_want (worker, jobs);
  while (self->n_brought < n_chunks)
    g_main_context_iteration (NULL, TRUE);
  pawl_chunk_worker_stop (worker, NULL, NULL);
}

static void
clear (Fixture *self)
{
  for (guint i = 0; i < self->images->len; i++)
    g_clear_pointer ((PawlChunkImage **) &self->images->pdata[i], pawl_chunk_image_unref);
  g_ptr_array_unref (self->images);
  g_object_unref (self->figure);
}

static PawlChunkImage *
get_image (Fixture *self, const char *id)
{
  guint n;

  g_assert_nonnull (pawl_figure_lookup_chunk (self->figure, id, &n));
  return self->images->pdata[n];
}

/* The window as the library draws it from the whole sheet. */
static cairo_surface_t *
draw_plainly (PawlFigure *figure, const char *id, const PawlGrid *grid)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlArtist) artist = pawl_artist_new (pawl_figure_peek_text (figure), "layers.svg", pawl_figure_get_view_box (figure), &error);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) ceil (window.width * grid->scale) + 1, (int) ceil (window.height * grid->scale) + 1);
  g_autoptr(cairo_t) cr = cairo_create (surface);

  g_assert_no_error (error);
  cairo_translate (cr, grid->phase_x - floor (window.x * grid->scale), grid->phase_y - floor (window.y * grid->scale));
  cairo_scale (cr, grid->scale, grid->scale);
  g_assert_true (pawl_artist_draw (artist, id, cr, &error));
  g_assert_no_error (error);
  cairo_surface_flush (surface);
  return surface;
}

static guint32
look_at (const PawlChunkImage *image, int x, int y)
{
  x -= image->x;
  y -= image->y;
  return image->pixels && x >= 0 && y >= 0 && x < image->width && y < image->height ? ((const guint32 *) g_bytes_get_data (image->pixels, NULL))[y * image->width + x] : 0;
}

static int
compare (guint32 a, guint32 b)
{
  int most = 0;

  for (guint shift = 0; shift < 32; shift += 8)
    most = MAX (most, abs ((int) (a >> shift & 0xff) - (int) (b >> shift & 0xff)));
  return most;
}

/* At four times, where the library still manages the whole sheet: 25 million pixels. */
static void
test_looks_the_same (void)
{
  static const char * const ids[] = { "masked", "blurred", "faint", "plain" };
  const PawlGrid grid = { .scale = 4 };
  Fixture self;

  draw_all (&self, &grid);
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    {
      g_autoptr(cairo_surface_t) plainly = draw_plainly (self.figure, ids[i], &grid);
      const PawlChunkImage *image = get_image (&self, ids[i]);
      int most = 0;

      g_assert_nonnull (image);
      g_assert_nonnull (image->pixels);
      for (int y = 0; y < (int) (window.height * grid.scale); y++)
        for (int x = 0; x < (int) (window.width * grid.scale); x++)
          {
            const guint8 *row = cairo_image_surface_get_data (plainly) + (gsize) y * cairo_image_surface_get_stride (plainly);

            most = MAX (most, compare (((const guint32 *) (const void *) row)[x], look_at (image, x + (int) (window.x * grid.scale), y + (int) (window.y * grid.scale))));
          }
      g_test_message ("%s: %d of 255 at most", ids[i], most);
      g_assert_cmpint (most, <=, 2);
    }
  clear (&self);
}

/* What the process has held at most since it was last forgotten, bytes. */
static gsize
get_peak (void)
{
  g_autofree char *status = NULL;
  const char *line;

  g_assert_true (g_file_get_contents ("/proc/self/status", &status, NULL, NULL));
  line = strstr (status, "VmHWM:");
  g_assert_nonnull (line);
  return (gsize) g_ascii_strtoull (line + strlen ("VmHWM:"), NULL, 10) * 1024;
}

/* At twenty times one surface of the whole sheet would be 2.4 GiB; at forty there is none so large, and nothing would be drawn. */
static void
test_close (gconstpointer data)
{
  const PawlGrid grid = { .scale = GPOINTER_TO_INT (data), .phase_x = 0.3, .phase_y = 0.6 };
  gsize before;
  Fixture self;

  g_assert_true (g_file_set_contents_full ("/proc/self/clear_refs", "5", -1, G_FILE_SET_CONTENTS_NONE, 0600, NULL));
  before = get_peak ();
  draw_all (&self, &grid);
  g_test_message ("at %.0f times: %.0f MiB more", grid.scale, (get_peak () - before) / 1048576.0);
  g_assert_cmpuint (get_peak () - before, <, 600 * 1024 * 1024);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "masked"), 699, 549), ==, 255);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "masked"), 701, 549), ==, 0);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "masked"), 699, 551), ==, 0);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "blurred"), 690, 540), >=, 254);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "blurred"), 690, 521), >, 100); /* as half of it, a line through its edge */
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "blurred"), 690, 521), <, 220);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "faint"), 705, 535), ==, 128);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "faint"), 720, 550), ==, 128); /* one over the other, faint together */
  g_assert_cmpuint (pawl_chunk_image_get_alpha (get_image (&self, "faint"), 745, 550), ==, 0);
  clear (&self);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/layers/which", test_which);
  g_test_add_func ("/layers/sizes", test_sizes);
  g_test_add_func ("/layers/no-window", test_no_window);
  g_test_add_func ("/layers/looks-the-same", test_looks_the_same);
  g_test_add_data_func ("/layers/close", GINT_TO_POINTER (20), test_close);
  g_test_add_data_func ("/layers/closest", GINT_TO_POINTER (40), test_close);
  return g_test_run ();
}
