/* Scenes: places, pixels, picking, camera, callouts, and files. */
#include "fixtures.h"

#include <glib/gstdio.h>

#include "drawing/pawl-picture.h"

#define WIDTH 400.0
#define HEIGHT 300.0

/* One pixel as 0xRRGGBB. */
static guint
get_pixel (PawlScene *scene, double x, double y)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) WIDTH, (int) HEIGHT);
  cairo_t *cr = cairo_create (image);
  guint pixel;

  pawl_scene_draw (scene, cr, WIDTH, HEIGHT);
  cairo_surface_flush (image);
  pixel = *((guint32 *) (void *) (cairo_image_surface_get_data (image) + (int) y * cairo_image_surface_get_stride (image)) + (int) x) & 0xffffff;
  cairo_destroy (cr);
  cairo_surface_destroy (image);
  return pixel;
}

static PawlScene *
new_scene (void)
{
  g_autoptr(PawlFigure) figure = load_parts ();

  return pawl_scene_new (figure);
}

static void
test_pixels (void)
{
  g_autoptr(PawlScene) scene = new_scene ();

  g_assert_cmphex (get_pixel (scene, 110, 110), ==, 0xff0000); /* plate */
  g_assert_cmphex (get_pixel (scene, 157, 150), ==, 0x0000ff); /* ring on it */
  g_assert_cmphex (get_pixel (scene, 180, 150), ==, 0xff0000); /* plate through the ring */
  g_assert_cmphex (get_pixel (scene, 10, 3), ==, 0x888888);    /* art without id */
  g_assert_cmphex (get_pixel (scene, 20, 280), ==, 0xffffff);  /* paper */
}

static void
test_states (void)
{
  g_autoptr(PawlScene) scene = new_scene ();
  guint pale;

  g_assert_true (pawl_scene_set_state (scene, "plate", PAWL_STATE_LATER));
  pale = get_pixel (scene, 110, 110);
  g_assert_cmphex (pale >> 16, ==, 0xff);
  g_assert_cmphex (pale & 0xff, >, 0xa0); /* red mixed with paper */
  g_assert_true (pawl_scene_set_state (scene, "plate", PAWL_STATE_HIDDEN));
  g_assert_cmphex (get_pixel (scene, 110, 110), ==, 0xffffff);
  g_assert_cmphex (get_pixel (scene, 157, 150), ==, 0x0000ff);
  g_assert_true (pawl_scene_set_state (scene, "plate", PAWL_STATE_HIGHLIGHT));
  /* The band lies outside the silhouette, 100 to 300 by 100 to 200, and is the palette's highlight. */
  g_assert_cmphex (get_pixel (scene, 97, 150), ==, 0x0c54b5);
  g_assert_false (pawl_scene_set_state (scene, "nothing", PAWL_STATE_LATER));
  g_assert_false (pawl_scene_set_state (scene, "hole", PAWL_STATE_LATER)); /* part of another region */
  g_assert_cmpint (pawl_scene_get_state (scene, "plate"), ==, PAWL_STATE_HIGHLIGHT);
}

static void
test_dark (void)
{
  g_autoptr(PawlFigure) figure = load_text (SVG ("viewBox=\"0 0 400 300\"",
                                                 "<g id=\"a\"><rect width=\"100\" height=\"100\" fill=\"#fff\"/><rect width=\"50\" height=\"100\"/></g>"), NULL);
  g_autoptr(PawlScene) scene = pawl_scene_new (figure);
  guint ink, paper;

  pawl_scene_set_palette (scene, PAWL_PALETTE_DARK);
  ink = get_pixel (scene, 20, 50);
  paper = get_pixel (scene, 80, 50);
  /* White becomes the dark sheet itself, black its ink. */
  g_assert_cmphex (paper, ==, get_pixel (scene, 300, 250));
  g_assert_cmphex (paper & 0xff, <, 0x30);
  g_assert_cmphex (ink & 0xff, >, 0xe0);
}

/* Relative luminance and contrast ratio as WCAG 2.2 defines them (from memory): 0.2126 R + 0.7152 G + 0.0722 B of linear channels; (L1 + 0.05)/(L2 + 0.05). */
static double
get_luminance (PawlInk ink)
{
  const double channels[3] = { ink.red, ink.green, ink.blue }, weights[3] = { 0.2126, 0.7152, 0.0722 };
  double sum = 0;

  for (int i = 0; i < 3; i++)
    sum += weights[i] * (channels[i] <= 0.04045 ? channels[i] / 12.92 : pow ((channels[i] + 0.055) / 1.055, 2.4));
  return sum;
}

static double
get_contrast (PawlInk a, PawlInk b)
{
  double p = get_luminance (a), q = get_luminance (b);

  return (MAX (p, q) + 0.05) / (MIN (p, q) + 0.05);
}

static void
test_contrast (void)
{
  g_assert_cmpfloat_with_epsilon (get_contrast ((PawlInk) { 0, 0, 0 }, (PawlInk) { 1, 1, 1 }), 21, 1e-9); /* black on white, by the same definition */
  for (PawlPalette palette = PAWL_PALETTE_LIGHT; palette <= PAWL_PALETTE_PRINT; palette++)
    {
      PawlInks inks = pawl_palette_get_inks (palette);

      g_assert_cmpfloat (get_contrast (inks.ink, inks.paper), >=, 7);
      g_assert_cmpfloat (get_contrast (inks.ink, inks.fill), >=, 7);
      g_assert_cmpfloat (get_contrast (inks.faint, inks.paper), >=, 3);
      g_assert_cmpfloat (get_contrast (inks.highlight, inks.paper), >=, 4.5);
      g_assert_cmpfloat (get_contrast (inks.good, inks.paper), >=, 4.5);
      g_assert_cmpfloat (get_contrast (inks.bad, inks.paper), >=, 4.5);
    }
}

static void
test_slide (void)
{
  static const PawlPoint legs[] = { { 0, 60 }, { 60, 0 } };
  g_autoptr(PawlScene) scene = new_scene ();

  g_assert_true (pawl_scene_set_slide (scene, "pin", legs, 2));
  g_assert_cmphex (get_pixel (scene, 60, 41), ==, 0x00aa00);
  pawl_scene_set_fraction (scene, "pin", 0.25); /* half the first leg */
  g_assert_cmphex (get_pixel (scene, 60, 71), ==, 0x00aa00);
  pawl_scene_set_fraction (scene, "pin", 0.75); /* the first leg and half the second */
  g_assert_cmphex (get_pixel (scene, 379, 101), ==, 0x00aa00);
  pawl_scene_set_state (scene, "pin", PAWL_STATE_SEATED);
  g_assert_cmpfloat (pawl_scene_get_fraction (scene, "pin"), ==, 1);
  g_assert_cmphex (get_pixel (scene, 396, 101), ==, 0x00aa00);
  g_assert_cmphex (get_pixel (scene, 60, 41), ==, 0xffffff);
  g_assert_cmpstr (pawl_scene_pick (scene, 120, 101, 0, WIDTH, HEIGHT), ==, "pin");
  pawl_scene_set_state (scene, "pin", PAWL_STATE_OUT);
  g_assert_cmpfloat (pawl_scene_get_fraction (scene, "pin"), ==, 0);
}

/* Axis lines are there as long as something is on its way, pale and below everything. */
static void
test_axes (void)
{
  static const PawlPoint leg = { 0, 60 };
  g_autoptr(PawlScene) scene = new_scene ();

  g_assert_cmphex (get_pixel (scene, 20, 150), ==, 0xffffff); /* nothing slides at all */
  pawl_scene_set_slide (scene, "pin", &leg, 1);
  g_assert_cmphex (get_pixel (scene, 20, 150), !=, 0xffffff);
  g_assert_cmphex (get_pixel (scene, 110, 150), ==, 0xff0000);
  g_assert_null (pawl_scene_pick (scene, 20, 150, 0, WIDTH, HEIGHT));
  pawl_scene_set_state (scene, "pin", PAWL_STATE_SEATED);
  g_assert_cmphex (get_pixel (scene, 20, 150), ==, 0xffffff);
}

/* Lines that lead to one region go when that region is home, whatever else is still out. */
static void
test_own_axis (void)
{
  static const char svg[] = "<svg xmlns='http://www.w3.org/2000/svg' width='400' height='300' viewBox='0 0 400 300'>"
    "<g id='a'><rect x='20' y='20' width='60' height='60'/></g><g id='b'><rect x='220' y='20' width='60' height='60'/></g>"
    "<g id='axis-a'><path d='M50 100V280' stroke='black' stroke-width='8'/></g>"
    "<g id='axis-b'><path d='M250 100V280' stroke='black' stroke-width='8'/></g></svg>";
  static const PawlPoint leg = { 100, 0 };
  g_autoptr(GBytes) bytes = g_bytes_new_static (svg, sizeof svg - 1);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load_bytes (bytes, "own.svg", &error);
  g_autoptr(PawlScene) scene = NULL;

  g_assert_no_error (error);
  scene = pawl_scene_new (figure);
  pawl_scene_set_number_size (scene, 0);
  pawl_scene_set_slide (scene, "a", &leg, 1);
  pawl_scene_set_slide (scene, "b", &leg, 1);
  g_assert_cmphex (get_pixel (scene, 50, 200), !=, 0xffffff);
  g_assert_cmphex (get_pixel (scene, 250, 200), !=, 0xffffff);
  pawl_scene_set_state (scene, "a", PAWL_STATE_SEATED);
  g_assert_cmphex (get_pixel (scene, 50, 200), ==, 0xffffff);
  g_assert_cmphex (get_pixel (scene, 250, 200), !=, 0xffffff);
}

static void
test_pick (void)
{
  static const struct { double x, y, ring; const char *region; } cases[] = {
    { 110, 110, 0, "plate" },
    { 157, 150, 0, "ring" },
    { 180, 150, 0, "plate" }, /* through the ring: its box would say ring */
    { 280, 120, 0, "plate" }, /* the white spot is drawn by the plate */
    { 200, 41, 0, "pin" },
    { 200, 46, 0, NULL },
    { 200, 46, 6, "pin" },    /* thin: within the ring */
    { 200, 50, 6, NULL },
    { 10, 3, 0, NULL },       /* art without id */
    { 399, 299, 0, NULL },
    { -5, 10, 6, NULL },
  };
  g_autoptr(PawlScene) scene = new_scene ();

  /* Before and after the first draw: without and with images. */
  for (int round = 0; round < 2; round++)
    {
      for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
        g_assert_cmpstr (pawl_scene_pick (scene, cases[i].x, cases[i].y, cases[i].ring, WIDTH, HEIGHT), ==, cases[i].region);
      get_pixel (scene, 0, 0);
    }
  pawl_scene_set_state (scene, "ring", PAWL_STATE_HIDDEN);
  g_assert_cmpstr (pawl_scene_pick (scene, 157, 150, 0, WIDTH, HEIGHT), ==, "plate");
}

static void
test_camera (void)
{
  static const char * const ring[] = { "ring", NULL }, * const nobody[] = { "nothing", NULL };
  g_autoptr(PawlScene) scene = new_scene ();
  cairo_matrix_t matrix;
  double x = 180, y = 150;
  PawlBox box;

  pawl_scene_show_regions (scene, ring, 0.5);
  pawl_scene_get_matrix (scene, WIDTH, HEIGHT, &matrix);
  cairo_matrix_transform_point (&matrix, &x, &y);
  g_assert_cmpfloat_with_epsilon (x, WIDTH / 2, 1);
  g_assert_cmpfloat_with_epsilon (y, HEIGHT / 2, 1);
  /* 60 high with half again on each side: 120 units in 300 pixels */
  g_assert_cmpfloat_with_epsilon (matrix.xx, 2.5, 0.05);
  box = pawl_scene_get_region_box (scene, "ring", WIDTH, HEIGHT);
  g_assert_cmpfloat_with_epsilon (box.width, 150, 3);
  g_assert_cmpstr (pawl_scene_pick (scene, WIDTH / 2, HEIGHT / 2, 0, WIDTH, HEIGHT), ==, "plate");
  g_assert_cmpstr (pawl_scene_pick (scene, box.x + 5, HEIGHT / 2, 0, WIDTH, HEIGHT), ==, "ring");
  g_assert_cmphex (get_pixel (scene, box.x + 5, HEIGHT / 2), ==, 0x0000ff);
  pawl_scene_show_regions (scene, nobody, 0.5);
  g_assert_cmpfloat (pawl_scene_get_view (scene).width, ==, 400);
  pawl_scene_zoom (scene, 2, 0, 0);
  g_assert_cmpfloat (pawl_scene_get_view (scene).width, ==, 200);
  g_assert_cmpfloat (pawl_scene_get_view (scene).x, ==, 0);
  pawl_scene_zoom (scene, 1e6, 0, 0); /* no closer than 40 times */
  g_assert_cmpfloat_with_epsilon (pawl_scene_get_view (scene).width, 10, 1e-9);
  pawl_scene_pan (scene, 5, 7);
  g_assert_cmpfloat_with_epsilon (pawl_scene_get_view (scene).y, 7, 1e-9);
  /* Far in, images would be huge: straight from the vectors, and still right. */
  pawl_scene_set_view (scene, (PawlBox) { 150, 148, 10, 7.5 });
  g_assert_cmphex (get_pixel (scene, 100, 100), ==, 0x0000ff);
}

static void
test_callouts (void)
{
  static const char * const plate[] = { "plate", NULL }, * const ring[] = { "ring", NULL }, * const pin[] = { "pin", NULL };
  static const char * const both[] = { "nothing", "ring", "pin", NULL };
  static const PawlPoint leg = { 60, 110 };
  g_autoptr(PawlScene) scene = new_scene ();
  PawlCallouts *callouts;
  const PawlCallout *callout;

  pawl_scene_add_item (scene, "1", plate);
  pawl_scene_add_item (scene, "2", ring);
  pawl_scene_add_item (scene, "3", pin);
  pawl_scene_add_item (scene, "4", both);
  callouts = pawl_scene_get_callouts (scene, WIDTH, HEIGHT);
  g_assert_cmpuint (callouts->items->len, ==, 4);
  g_assert_cmpuint (callouts->n_forbidden, ==, 0);
  for (guint i = 0; i < 4; i++)
    {
      callout = g_ptr_array_index (callouts->items, i);
      /* Each dot lies on the part it means. */
      g_assert_cmpstr (pawl_scene_pick (scene, callout->anchor.x, callout->anchor.y, 0, WIDTH, HEIGHT), ==, callout->region);
      g_assert_false (callout->is_hidden);
    }
  callout = g_ptr_array_index (callouts->items, 3);
  g_assert_true (g_str_equal (callout->region, "ring") || g_str_equal (callout->region, "pin")); /* whichever is nearer to paper */
  g_assert_true (pawl_scene_get_callouts (scene, WIDTH, HEIGHT) == callouts); /* kept */

  /* A pin that has slid under nothing is seen; a plate that slides over the pin's end hides it not. A hidden part gets no number. */
  pawl_scene_set_state (scene, "ring", PAWL_STATE_HIDDEN);
  callouts = pawl_scene_get_callouts (scene, WIDTH, HEIGHT);
  g_assert_cmpuint (callouts->items->len, ==, 3);
  callout = g_ptr_array_index (callouts->items, 2);
  g_assert_cmpstr (callout->region, ==, "pin"); /* item 4 passes on to what is there */

  /* The axes lie under all; a plate slid under the ring is not fully hidden; bold for the part in hand. */
  pawl_scene_set_slide (scene, "plate", &leg, 1);
  pawl_scene_set_state (scene, "plate", PAWL_STATE_HIGHLIGHT);
  callouts = pawl_scene_get_callouts (scene, WIDTH, HEIGHT);
  callout = g_ptr_array_index (callouts->items, 0);
  g_assert_true (callout->is_strong);
}

/* A part wholly behind another: dashed leader to its middle. */
static void
test_hidden_behind (void)
{
  static const char * const under[] = { "under", NULL };
  g_autoptr(PawlFigure) figure = load_text (SVG ("viewBox=\"0 0 400 300\"", "<rect id=\"under\" x=\"100\" y=\"100\" width=\"50\" height=\"50\"/>\n"
                                                                           "<rect id=\"over\" x=\"90\" y=\"90\" width=\"200\" height=\"90\"/>"), NULL);
  g_autoptr(PawlScene) scene = pawl_scene_new (figure);
  const PawlCallout *callout;

  pawl_scene_add_item (scene, "1", under);
  callout = g_ptr_array_index (pawl_scene_get_callouts (scene, WIDTH, HEIGHT)->items, 0);
  g_assert_true (callout->is_hidden);
}

/* Its leader keeps 15 degrees off every direction that @region is hatched in. */
static gboolean
is_off_hatching (const PawlCallout *callout, const PawlRegion *region)
{
  double angle_deg = atan2 (callout->anchor.y - callout->elbow.y, callout->anchor.x - callout->elbow.x) * 180 / G_PI;

  for (guint i = 0; i < region->n_hatch; i++)
    if (fabs (remainder (angle_deg - region->hatch_deg[i], 180)) < 15)
      return FALSE;
  return TRUE;
}

/* Every part of a figure has ink, every number finds a free place, its dot lies on its part, and no leader runs along hatching. */
static void
number_all_parts (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load (path, &error);
  g_autoptr(PawlScene) scene = NULL;
  PawlCallouts *callouts;
  guint n = 0;

  g_assert_no_error (error);
  g_assert_cmpuint (pawl_figure_get_findings (figure)->len, ==, 0);
  scene = pawl_scene_new (figure);
  for (guint i = 0; i < pawl_figure_get_regions (figure)->len; i++)
    {
      const PawlRegion *region = g_ptr_array_index (pawl_figure_get_regions (figure), i);
      g_autofree char *number = g_strdup_printf ("%u", n + 1);
      const char *ids[] = { region->id, NULL };

      if (region->depth != 1 || pawl_figure_is_guide_id (region->id))
        continue;
      g_assert_cmpfloat (pawl_figure_get_extents (figure, region->id).width, >, 0);
      pawl_scene_add_item (scene, number, ids);
      n++;
    }
  g_assert_cmpuint (n, >=, 25);
  pawl_scene_show_all (scene);
  callouts = pawl_scene_get_callouts (scene, 1280, 800);
  g_assert_cmpuint (callouts->items->len, ==, n);
  g_assert_cmpuint (callouts->n_forbidden, ==, 0);
  for (guint i = 0; i < n; i++)
    {
      const PawlCallout *callout = g_ptr_array_index (callouts->items, i);

      if (!callout->is_hidden)
        g_assert_cmpstr (pawl_scene_pick (scene, callout->anchor.x, callout->anchor.y, 0, 1280, 800), ==, callout->region);
      g_assert_null (pawl_scene_pick (scene, callout->place.x, callout->place.y, 0, 1280, 800));
      g_assert_true (is_off_hatching (callout, pawl_figure_lookup_region (figure, callout->region)));
    }
}

/* The project's own figures, all of them. */
static void
test_shelf (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "svg", NULL);
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  guint n = 0;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)))
    if (g_str_has_suffix (name, ".svg"))
      {
        g_autofree char *path = g_build_filename (folder, name, NULL);

        g_test_message ("%s", name);
        number_all_parts (path);
        n++;
      }
  g_assert_cmpuint (n, >=, 2);
}

static void
test_files (void)
{
  g_autoptr(PawlScene) scene = new_scene ();
  g_autofree char *folder = g_dir_make_tmp ("pawl-XXXXXX", NULL);
  static const struct { const char *name, *head; } cases[] = { { "a.png", "\x89PNG" }, { "a.PDF", "%PDF" }, { "a.svg", "<?xm" } };
  g_autoptr(GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_build_filename (folder, cases[i].name, NULL);
      g_autofree char *content = NULL;

      g_assert_true (pawl_picture_write_scene (path, scene, WIDTH, HEIGHT, &error));
      g_assert_no_error (error);
      g_assert_true (g_file_get_contents (path, &content, NULL, NULL));
      g_assert_true (g_str_has_prefix (content, cases[i].head));
      /* Vectors stay vectors: no picture in the SVG file. */
      if (i == 2)
        g_assert_null (strstr (content, "<image"));
      g_unlink (path);
    }
  g_rmdir (folder);
}

static void
test_bad_files (void)
{
  g_autoptr(PawlScene) scene = new_scene ();
  static const struct { const char *path; double width; int code; } cases[] = {
    { "a.gif", 400, PAWL_PICTURE_ERROR_KIND }, { "png", 400, PAWL_PICTURE_ERROR_KIND }, { "a.png", 8, PAWL_PICTURE_ERROR_SIZE },
    { "a.png", 1e9, PAWL_PICTURE_ERROR_SIZE }, { "a.png", NAN, PAWL_PICTURE_ERROR_SIZE }, { "/nowhere/at/all/a.png", 400, PAWL_PICTURE_ERROR_IO },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_false (pawl_picture_write_scene (cases[i].path, scene, cases[i].width, HEIGHT, &error));
      g_assert_error (error, PAWL_PICTURE_ERROR, cases[i].code);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/scene/pixels", test_pixels);
  g_test_add_func ("/drawing/scene/states", test_states);
  g_test_add_func ("/drawing/scene/dark", test_dark);
  g_test_add_func ("/drawing/scene/contrast", test_contrast);
  g_test_add_func ("/drawing/scene/slide", test_slide);
  g_test_add_func ("/drawing/scene/axes", test_axes);
  g_test_add_func ("/drawing/scene/own-axis", test_own_axis);
  g_test_add_func ("/drawing/scene/pick", test_pick);
  g_test_add_func ("/drawing/scene/camera", test_camera);
  g_test_add_func ("/drawing/scene/callouts", test_callouts);
  g_test_add_func ("/drawing/scene/hidden-behind", test_hidden_behind);
  g_test_add_func ("/drawing/scene/shelf", test_shelf);
  g_test_add_func ("/drawing/scene/files", test_files);
  g_test_add_func ("/drawing/scene/bad-files", test_bad_files);
  return g_test_run ();
}
