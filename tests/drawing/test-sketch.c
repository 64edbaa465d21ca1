/* Sketches: nothing cut off in any kind and size, what is small is enlarged and says so, numbers in the user's unit. */
#include "sketch-rules.h"

#include <math.h>

#include <glib/gstdio.h>

#include "drawing/pawl-picture.h"
#include "sketch-look.h"

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

/* Every word stands clear of lines and of other words, in every form, small and large, and on paper. */
static void
test_words_are_clear (void)
{
  g_autoptr(GPtrArray) cases = new_sketch_cases ();

  for (guint i = 0; i < cases->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (sizes); j++)
      {
        const SketchCase *one = g_ptr_array_index (cases, i);
        PawlSketchOptions large = { .text_size = 30, .unit = PAWL_LENGTH_INCH, .decimal_mark = ',' };

        assert_words_are_clear (one->name, one->rule, NULL, sizes[j].width, sizes[j].height);
        if (j == 1)
          assert_words_are_clear (one->name, one->rule, &large, 2 * sizes[j].width, 2 * sizes[j].height);
      }
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

/* As large as a picture in the window is at least, and larger. */
static void
test_questions (void)
{
  static const struct { int width, height; } buttons[] = { { 390, 195 }, { 640, 300 } };
  g_autoptr(GPtrArray) cases = new_sketch_cases ();
  guint n_asked = 0;

  for (guint i = 0; i < cases->len; i++)
    {
      const SketchCase *one = g_ptr_array_index (cases, i);
      PawlView views[4];
      guint n = pawl_rule_list_views (one->rule, views);

      for (guint j = 0; j < n && pawl_rule_can_be_asked (one->rule); j++, n_asked++)
        for (guint k = 0; k < G_N_ELEMENTS (buttons); k++)
          {
            PawlQuestion question = { TRUE, { views[j], views[(j + 1) % n] } };

            assert_question_is_clear (one->name, one->rule, &question, buttons[k].width, buttons[k].height);
          }
    }
  g_assert_cmpuint (n_asked, >, cases->len); /* most are asked, and many in several views */
}

/* ---- what nobody should write, but may ---- */

static PawlRule *
new_crowd (PawlRuleKind kind, guint n, double least, double most)
{
  PawlRule *rule = pawl_rule_new (kind);

  for (guint i = 0; i < n; i++)
    add_candidate (rule, "A look-alike with a rather long name", "a place that is far away", least * pow (most / least, (double) i / (n - 1)));
  return rule;
}

static PawlRule *
new_many_gaps (guint n)
{
  g_autofree double *angles = g_new (double, n);

  for (guint i = 0; i < n; i++)
    angles[i] = 360.0 * i / n;
  return new_gaps (n, angles, NULL, 300.0 / n);
}

static PawlRule *
scale_shape (PawlRule *rule, double times)
{
  for (guint i = 0; i < rule->shape->n_points; i++)
    rule->shape->points[i] = (PawlPoint) { times * rule->shape->points[i].x, times * rule->shape->points[i].y };
  rule->shape->seat *= times;
  return rule;
}

static GPtrArray *
new_extremes (void)
{
  GPtrArray *cases = g_ptr_array_new_with_free_func (free_sketch_case);
  g_autofree char *long_words = g_strnfill (400, 'W'), *many_words = NULL;
  g_auto(GStrv) words = g_new0 (char *, 81);
  PawlRule *rule;

  for (guint i = 0; i < 80; i++)
    words[i] = g_strdup (i % 9 ? "word" : "\n");
  many_words = g_strjoinv (" ", words);
  add_case (cases, "sixty layers", new_crowd (PAWL_RULE_ORDER, 60, 0.001, 1000), many_words);
  add_case (cases, "thirty look-alikes", new_crowd (PAWL_RULE_WHICH, 30, 0.01, 900), NULL);
  add_case (cases, "twenty pieces", new_crowd (PAWL_RULE_MATE, 20, 1, 2), long_words);
  add_case (cases, "forty gaps", new_many_gaps (40), many_words);
  add_case (cases, "a part of a nanometre", scale_shape (new_sense (new_bevelled_plate ()), 1e-7), "up");
  add_case (cases, "a part of a kilometre", scale_shape (new_sense (new_lip_seal ()), 1e5), "up");
  add_case (cases, "long words", new_sense (new_bushing (TRUE)), long_words);
  add_case (cases, "many words", new_sense (new_bushing (TRUE)), many_words);
  add_case (cases, "no words", new_index_angle (7, 90, 0), "");
  rule = add_case (cases, "a feature almost on the line", new_side (), many_words);
  rule->feature_point = (PawlPoint) { 1e-6, 4 };
  rule = add_case (cases, "a pin that fills all", new_side (), "pin");
  rule->pin = 500;
  rule->sweep = 360;
  add_case (cases, "too many teeth", new_index_angle (7, 0.01, 0.01), "mark");
  add_case (cases, "holes far apart", new_index_hole (0.001, 1000), long_words);
  add_case (cases, "half a turn and a bit", new_index_angle (1e4, 539.9, 0), "mark");
  return cases;
}

/* No crash, no end without an end, nothing on anything else; what finds no room is left out. */
static void
test_extremes (void)
{
  static const struct { int width, height; } odd[] = { { 520, 300 }, { 60, 40 }, { 900, 60 }, { 50, 700 } };
  g_autoptr(GPtrArray) cases = new_extremes ();

  for (guint i = 0; i < cases->len; i++)
    for (guint j = 0; j < G_N_ELEMENTS (odd); j++)
      {
        const SketchCase *one = g_ptr_array_index (cases, i);
        cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_A8, odd[j].width, odd[j].height);
        cairo_t *cr = cairo_create (image);

        if (j == 0)
          assert_words_are_clear (one->name, one->rule, NULL, odd[j].width, odd[j].height);
        pawl_sketch_draw (one->rule, NULL, cr, odd[j].width, odd[j].height);
        g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
        cairo_destroy (cr);
        cairo_surface_destroy (image);
      }
}

static gboolean
says (const PawlSketchPane *pane, const char *words)
{
  for (guint i = 0; i < pane->items->len; i++)
    {
      const PawlSketchItem *item = g_ptr_array_index (pane->items, i);

      if (item->look == PAWL_LOOK_TEXT && strstr (get_words (item), words))
        return TRUE;
    }
  return FALSE;
}

/* The wrong pane says how large the difference is, the right one does not; both show the lens when there is one, with what it enlarges by. A stack and
 * a list state sizes of their own. */
static void
test_says_the_size (void)
{
  g_autoptr(GPtrArray) cases = new_sketch_cases ();
  cairo_surface_t *nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (nowhere);
  guint n_lenses = 0;

  for (guint i = 0; i < cases->len; i++)
    {
      const SketchCase *one = g_ptr_array_index (cases, i);
      double size_mm = pawl_difference_of (one->rule, PAWL_BENCH_DISTANCE_MM).size_mm;
      g_autofree char *size = pawl_sketch_format_size (size_mm, NULL);
      g_autoptr(PawlSketchPlan) plan = pawl_sketch_plan_new (one->rule, NULL, cr, 520, 300);
      g_autofree char *factor = g_strdup_printf ("exaggerated ×%.0f", plan->exaggeration);

      if (size_mm > 0 && one->rule->kind != PAWL_RULE_ORDER && one->rule->kind != PAWL_RULE_WHICH)
        {
          if (!says (plan->panes[1], size) || says (plan->panes[0], size))
            g_error ("%s: the wrong pane does not say %s, or the right one does", one->name, size);
        }
      n_lenses += plan->exaggeration > 1;
      for (int j = 0; j < 2; j++)
        g_assert_cmpint (says (plan->panes[j], factor), ==, plan->exaggeration > 1);
    }
  g_assert_cmpuint (n_lenses, >=, 3); /* chamfer, bevel, lip */
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
  g_test_add_func ("/drawing/sketch/questions", test_questions);
  g_test_add_func ("/drawing/sketch/says-the-size", test_says_the_size);
  g_test_add_func ("/drawing/sketch/extremes", test_extremes);
  g_test_add_func ("/drawing/sketch/exaggeration", test_exaggeration);
  g_test_add_func ("/drawing/sketch/sizes", test_sizes);
  g_test_add_func ("/drawing/sketch/in-words", test_in_words);
  g_test_add_func ("/drawing/sketch/paper", test_paper);
  return g_test_run ();
}
