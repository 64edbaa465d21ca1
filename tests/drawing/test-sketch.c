/* Sketches: nothing cut off in any kind and size, what is small is enlarged and says so, numbers in the user's unit. */
#include "sketch-rules.h"

#include <math.h>

#include <glib/gstdio.h>

#include "drawing/pawl-picture.h"
#include "drawing/pawl-sketch-private.h"

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

static const struct { int width, height; } sizes[] = { { 640, 300 }, { 520, 300 }, { 440, 240 }, { 360, 220 }, { 300, 520 } };

static void
test_nothing_cut_off (void)
{
  g_autoptr(GPtrArray) cases = new_sketch_cases ();

  add_case (cases, "lacks its shape", new_sense (NULL), NULL);
  for (guint i = 0; i < cases->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (sizes); j += 2)
      {
        const SketchCase *one = g_ptr_array_index (cases, i);
        cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_A8, sizes[j].width, sizes[j].height);
        cairo_t *cr = cairo_create (image);
        gboolean at_edge;
        guint n;

        pawl_sketch_draw (one->rule, NULL, cr, sizes[j].width, sizes[j].height);
        n = count_ink (image, &at_edge);
        if (at_edge || n < 200)
          g_error ("%s at %d x %d: %u pixels of ink, %s the edge", one->name, sizes[j].width, sizes[j].height, n, at_edge ? "some at" : "none at");
        cairo_destroy (cr);
        cairo_surface_destroy (image);
      }
}

/* ---- words ---- */

typedef struct {
  const char     *name;
  int             width, height;
  PawlSketchPlan *plan;
  GPtrArray      *texts; /* (element-type PawlSketchItem) of both panes and the sheet */
} Look;

static void
list_texts (Look *look, const PawlSketchPane *pane)
{
  for (guint i = 0; pane && i < pane->items->len; i++)
    {
      PawlSketchItem *item = g_ptr_array_index (pane->items, i);

      if (item->look == PAWL_LOOK_TEXT)
        g_ptr_array_add (look->texts, item);
    }
}

static const char *
get_words (const PawlSketchItem *item)
{
  return pango_layout_get_text (item->layout);
}

/* The lines without the words, on white, in black: whatever is neither paper nor the even tint of a part is a line. */
static cairo_surface_t *
paint_lines (const Look *look)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, look->width, look->height);
  cairo_t *cr = cairo_create (image);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  pawl_sketch_pane_paint (look->plan->sheet, cr, PAWL_PALETTE_PRINT, FALSE);
  for (int i = 0; i < 2; i++)
    pawl_sketch_pane_paint (look->plan->panes[i], cr, PAWL_PALETTE_PRINT, FALSE);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

static gboolean
is_line (cairo_surface_t *image, int x, int y)
{
  const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (image) + (gsize) y * cairo_image_surface_get_stride (image));
  guint blue = row[x] & 0xff;

  return blue < 0xf8 && abs ((int) blue - (int) (0.9 * 255)) > 2;
}

/* Where the letters are: the box of the ink, not of the line's height. */
static PawlBox
get_ink_box (const PawlSketchItem *item)
{
  PangoRectangle ink;

  pango_layout_get_extents (item->layout, &ink, NULL);
  return (PawlBox) { item->box.x + (double) ink.x / PANGO_SCALE, item->box.y + (double) ink.y / PANGO_SCALE,
                     (double) ink.width / PANGO_SCALE, (double) ink.height / PANGO_SCALE };
}

static void
assert_off_lines (const Look *look)
{
  cairo_surface_t *image = paint_lines (look);

  for (guint i = 0; i < look->texts->len; i++)
    {
      const PawlSketchItem *item = g_ptr_array_index (look->texts, i);
      PawlBox box = get_ink_box (item);

      for (int y = (int) floor (box.y); y < ceil (box.y + box.height); y++)
        for (int x = (int) floor (box.x); x < ceil (box.x + box.width); x++)
          if (x < 0 || y < 0 || x >= look->width || y >= look->height)
            g_error ("%s at %d x %d: \"%s\" reaches out of the sketch", look->name, look->width, look->height, get_words (item));
          else if (is_line (image, x, y))
            g_error ("%s at %d x %d: \"%s\" lies on a line at %d, %d", look->name, look->width, look->height, get_words (item), x, y);
    }
  cairo_surface_destroy (image);
}

static void
assert_off_each_other (const Look *look)
{
  for (guint i = 0; i < look->texts->len; i++)
    for (guint j = 0; j < i; j++)
      {
        PawlBox a = get_ink_box (g_ptr_array_index (look->texts, i)), b = get_ink_box (g_ptr_array_index (look->texts, j));

        if (a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height)
          g_error ("%s at %d x %d: \"%s\" lies on \"%s\"", look->name, look->width, look->height, get_words (g_ptr_array_index (look->texts, i)),
                   get_words (g_ptr_array_index (look->texts, j)));
      }
}

/* Every word stands clear of lines and of other words, in every form, small and large, and on paper. */
static void
test_words_are_clear (void)
{
  g_autoptr(GPtrArray) cases = new_sketch_cases ();
  cairo_surface_t *nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (nowhere);

  for (guint i = 0; i < cases->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (sizes); j++)
      for (int is_large = 0; is_large <= (j == 1); is_large++) /* once in large words, in inches */
        {
          const SketchCase *one = g_ptr_array_index (cases, i);
          int times = is_large ? 2 : 1;
          PawlSketchOptions options = { .text_size = is_large ? 30 : 0, .unit = is_large ? PAWL_LENGTH_INCH : PAWL_LENGTH_MM, .decimal_mark = is_large ? ',' : '.' };
          g_autoptr(PawlSketchPlan) plan = pawl_sketch_plan_new (one->rule, &options, cr, times * sizes[j].width, times * sizes[j].height);
          g_autoptr(GPtrArray) texts = g_ptr_array_new ();
          Look look = { one->name, times * sizes[j].width, times * sizes[j].height, plan, texts };

          list_texts (&look, plan->sheet);
          for (int k = 0; k < 2; k++)
            list_texts (&look, plan->panes[k]);
          g_assert_cmpuint (texts->len, >=, 2); /* the two titles */
          assert_off_lines (&look);
          assert_off_each_other (&look);
        }
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
}

/* At the sizes of the window and of the report nothing that a fitter needs is left out. */
static void
test_nothing_left_out (void)
{
  g_autoptr(GPtrArray) cases = new_sketch_cases ();
  cairo_surface_t *nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (nowhere);

  for (guint i = 0; i < cases->len; i++)
    for (guint j = 0; j < 2; j++)
      {
        const SketchCase *one = g_ptr_array_index (cases, i);
        g_autoptr(PawlSketchPlan) plan = pawl_sketch_plan_new (one->rule, NULL, cr, sizes[j].width, sizes[j].height);

        if (plan->n_left_out > 0)
          g_error ("%s at %d x %d: no room for %u of its words", one->name, sizes[j].width, sizes[j].height, plan->n_left_out);
      }
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
}

/* A bevel of 0.3 on a plate of 32 is under 5 minutes of arc in a small sketch; 6 mm on a bushing of 16 is not. */
static void
test_exaggeration (void)
{
  g_autoptr(PawlRule) plate = new_sense (new_bevelled_plate ());
  g_autoptr(PawlRule) bushing = new_sense (new_bushing (TRUE));
  PawlSketchOptions near = { .distance_mm = 350 }, far = { .distance_mm = 1500 }, small_words = { .text_size = 6 };

  g_assert_cmpfloat (pawl_sketch_get_exaggeration (bushing, NULL, 500, 300), ==, 1);
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &near, 500, 300), >, 1);
  /* Large enough for the eye, still too small for its own arrowheads. */
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &near, 500, 420), >, 1);
  g_assert_cmpfloat (pawl_sketch_get_exaggeration (plate, &small_words, 1500, 1400), ==, 1);
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
  g_test_add_func ("/drawing/sketch/words-are-clear", test_words_are_clear);
  g_test_add_func ("/drawing/sketch/nothing-left-out", test_nothing_left_out);
  g_test_add_func ("/drawing/sketch/exaggeration", test_exaggeration);
  g_test_add_func ("/drawing/sketch/sizes", test_sizes);
  g_test_add_func ("/drawing/sketch/in-words", test_in_words);
  g_test_add_func ("/drawing/sketch/paper", test_paper);
  return g_test_run ();
}
