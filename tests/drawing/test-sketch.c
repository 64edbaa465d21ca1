/* Sketches: nothing cut off in any kind and size, what is small is enlarged and says so, numbers in the user's unit. */
#include "../fit/fixtures.h"

#include <math.h>

#include <glib/gstdio.h>

#include "drawing/pawl-picture.h"
#include "drawing/pawl-sketch.h"

static PawlShape *
new_plate (void)
{
  /* Edge-on: 1.5 thick, 32 across, bevelled by 0.3. */
  return SHAPE (FALSE, 0.75, 0, -16.2, 1.5, -15.9, 1.5, 16.2, 0, 15.9);
}

static GPtrArray *
new_rules (void)
{
  GPtrArray *rules = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_rule_free);
  PawlRule *rule;

  g_ptr_array_add (rules, new_sense (new_bushing (TRUE)));
  g_ptr_array_add (rules, new_sense (new_plate ()));
  g_ptr_array_add (rules, new_side ());
  g_ptr_array_add (rules, new_index_hole (3, 1));
  rule = new_index_hole (1.6, 6);
  rule->shape = new_bushing (TRUE);
  rule->datum = g_strdup ("passage");
  g_ptr_array_add (rules, rule);
  g_ptr_array_add (rules, new_index_angle (7, 180, 0));
  g_ptr_array_add (rules, new_index_depth (-1.5));
  g_ptr_array_add (rules, new_spread ());
  g_ptr_array_add (rules, new_which (12.7, 22.225));
  g_ptr_array_add (rules, new_order (0));
  g_ptr_array_add (rules, new_order (1.6));
  g_ptr_array_add (rules, new_mate ());
  g_ptr_array_add (rules, new_either (new_bushing (FALSE)));
  g_ptr_array_add (rules, new_either (NULL));
  g_ptr_array_add (rules, new_sense (NULL)); /* incomplete: words */
  return rules;
}

/* Number of pixels with ink, and whether any lies on the outermost ring: then something may have been cut off. */
static guint
count_ink (cairo_surface_t *image, gboolean *at_edge)
{
  int width = cairo_image_surface_get_width (image), height = cairo_image_surface_get_height (image);
  guint n = 0;

  *at_edge = FALSE;
  cairo_surface_flush (image);
  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      if (cairo_image_surface_get_data (image)[y * cairo_image_surface_get_stride (image) + x])
        {
          n++;
          *at_edge |= x == 0 || y == 0 || x == width - 1 || y == height - 1;
        }
  return n;
}

static void
test_nothing_cut_off (void)
{
  static const struct { int width, height; } sizes[] = { { 640, 300 }, { 420, 260 }, { 300, 520 } };
  g_autoptr(GPtrArray) rules = new_rules ();

  for (guint i = 0; i < rules->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (sizes); j++)
      {
        cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_A8, sizes[j].width, sizes[j].height);
        cairo_t *cr = cairo_create (image);
        gboolean at_edge;
        guint n;

        pawl_sketch_draw (g_ptr_array_index (rules, i), NULL, cr, sizes[j].width, sizes[j].height);
        n = count_ink (image, &at_edge);
        if (at_edge || n < 200)
          g_error ("rule %u at %d x %d: %u pixels of ink, %s the edge", i, sizes[j].width, sizes[j].height, n, at_edge ? "some at" : "none at");
        cairo_destroy (cr);
        cairo_surface_destroy (image);
      }
}

/* A bevel of 0.3 on a plate of 32 is under 5 minutes of arc in a small sketch; 6 mm on a bushing of 16 is not. */
static void
test_exaggeration (void)
{
  g_autoptr(PawlRule) plate = new_sense (new_plate ());
  g_autoptr(PawlRule) bushing = new_sense (new_bushing (TRUE));
  PawlSketchOptions near = { .distance_mm = 350 }, far = { .distance_mm = 1500 };

  g_assert_cmpfloat (pawl_sketch_get_exaggeration (bushing, NULL, 500, 300), ==, 1);
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &near, 500, 300), >, 1);
  /* Large enough for the eye, still too small for its own arrowheads. */
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &near, 500, 420), >, 1);
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &near, 1500, 1400), ==, 1);
  /* Seen from farther off it must be larger. */
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &far, 500, 300), >, pawl_sketch_get_exaggeration (plate, &near, 500, 300));
  /* A whole number, as it is printed. */
  g_assert_cmpfloat (fmod (pawl_sketch_get_exaggeration (plate, &far, 500, 300), 1), ==, 0);
}

static void
test_sizes (void)
{
  static const struct { double mm; PawlLengthUnit unit; char mark; const char *text; } cases[] = {
    { 6, PAWL_LENGTH_MM, 0, "6.0 mm" }, { 0.3937, PAWL_LENGTH_MM, ',', "0,39 mm" }, { 6, PAWL_LENGTH_INCH, '.', "0.236 in" },
    { 25.4, PAWL_LENGTH_INCH, ',', "1,000 in" }, { 0, PAWL_LENGTH_MM, 0, "nothing to see" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlSketchOptions options = { .unit = cases[i].unit, .decimal_mark = cases[i].mark };
      g_autofree char *text = pawl_sketch_format_size (cases[i].mm, &options);

      g_assert_cmpstr (text, ==, cases[i].text);
    }
}

static void
test_in_words (void)
{
  g_autoptr(PawlRule) side = new_side ();
  g_autoptr(PawlRule) either = new_either (NULL);
  g_autofree char *text = NULL, *other = NULL;

  side->says = g_strdup ("Stop lug right of the pin");
  side->consequence = g_strdup ("No full throttle.");
  text = pawl_sketch_describe (side, NULL);
  g_assert_cmpstr (text, ==, "Right: Stop lug right of the pin. Wrong: No full throttle. 18.0 mm.");
  other = pawl_sketch_describe (either, NULL);
  g_assert_cmpstr (other, ==, "Either way: chamfered at both ends.");
}

/* A picture file is a sheet of paper: no viewer's ground shows through. */
static void
test_paper (void)
{
  static const struct { PawlPalette palette; gboolean is_white; } cases[] = {
    { PAWL_PALETTE_LIGHT, TRUE }, { PAWL_PALETTE_PRINT, TRUE }, { PAWL_PALETTE_DARK, FALSE },
  };
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("pawl-sketch-XXXXXX", &error);
  g_autofree char *path = g_build_filename (folder, "sketch.png", NULL);
  g_autoptr(PawlRule) side = new_side ();

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlSketchOptions options = { .palette = cases[i].palette, .text_size = 10 };
      cairo_surface_t *picture;
      guint32 corner;

      g_assert_true (pawl_picture_write_sketch (path, side, &options, 300, 200, &error));
      g_assert_no_error (error);
      picture = cairo_image_surface_create_from_png (path);
      corner = *(const guint32 *) (const void *) cairo_image_surface_get_data (picture);
      if (cairo_image_surface_get_format (picture) == CAIRO_FORMAT_ARGB32)
        g_assert_cmphex (corner >> 24, ==, 0xff);
      g_assert_true (((corner & 0xffffff) == 0xffffff) == cases[i].is_white);
      cairo_surface_destroy (picture);
    }
  g_unlink (path);
  g_rmdir (folder);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/sketch/nothing-cut-off", test_nothing_cut_off);
  g_test_add_func ("/drawing/sketch/exaggeration", test_exaggeration);
  g_test_add_func ("/drawing/sketch/sizes", test_sizes);
  g_test_add_func ("/drawing/sketch/in-words", test_in_words);
  g_test_add_func ("/drawing/sketch/paper", test_paper);
  return g_test_run ();
}
