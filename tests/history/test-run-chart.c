/* The sums of a history, and its picture: from no value to a thousand, in every palette, on paper that is large or far too small. */
#include <math.h>
#include <string.h>

#include "history/pawl-run-chart.h"

static PawlHistory *
make_history (const double *found, const double *left, guint n)
{
  PawlHistory *history = pawl_history_new ("invented", "bore", NULL);

  history->unit = pawl_unit_lookup ("mm");
  history->low = 3.5;
  history->high = 4.5;
  for (guint i = 0; i < n; i++)
    {
      PawlHistoryPoint *point = g_new0 (PawlHistoryPoint, 1);

      point->job = g_strdup_printf ("job-%u", i);
      point->serial = g_strdup ("4711");
      point->at = g_date_time_new_from_unix_utc (1577880000 - 86400 * (gint64) i); /* newest first: to be sorted */
      point->found = found != NULL ? found[i] : NAN;
      point->left = left[i];
      point->found_verdict = found != NULL && found[i] > 4.5 ? PAWL_VERDICT_OUT : PAWL_VERDICT_IN;
      point->is_corrected = point->found_verdict == PAWL_VERDICT_OUT;
      g_ptr_array_add (history->points, point);
    }
  pawl_history_finish (history, PAWL_CHART_AS_PRINTED);
  return history;
}

/* By hand: 4.2, 4.3, 4.0: ranges .1 .3, their mean .2; mean ± 2.66 · .2; 3.267 · .2. */
static void
test_sums (void)
{
  const double found[] = { 4.0, 4.8, 4.1, 4.6 }, left[] = { 4.0, 4.3, NAN, 4.2 };
  g_autoptr(PawlHistory) history = make_history (found, left, 4);
  g_autofree double *values = NULL;
  g_autofree char *text = NULL;
  guint n = 0;

  values = pawl_history_list_left (history, &n);
  g_assert_cmpuint (n, ==, 3);
  g_assert_cmpfloat (values[0], ==, 4.2); /* oldest first */
  g_assert_cmpfloat (values[2], ==, 4.0);
  g_assert_true (history->has_chart);
  g_assert_cmpfloat_with_epsilon (history->chart.mean, 12.5 / 3, 1e-12);
  g_assert_cmpfloat_with_epsilon (history->chart.mean_range, 0.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (history->chart.high, 12.5 / 3 + 2.66 * 0.2, 1e-3); /* 3/1.128 is 2.6596 */
  g_assert_cmpfloat_with_epsilon (history->chart.range_high, 3.267 * 0.2, 1e-12);
  g_assert_cmpuint (history->n_corrected, ==, 2);
  g_assert_cmpfloat_with_epsilon (history->correction, (4.3 - 4.8 + 4.2 - 4.6) / 2, 1e-12);
  text = pawl_history_format (history, 4.2, ',');
  g_assert_cmpstr (text, ==, "4,20 mm");
}

/* Two variants with limits of their own make no one chart: those that are shown decide, and what is left out is said. */
static void
test_variants (void)
{
  static const char * const limits[] = { "1..2 mm", "3..4 mm", NULL, "1..2 mm" };
  const double left[] = { 1.5, 3.5, 1.6, 1.7 };
  PawlHistory *history = make_history (NULL, left, 4);
  g_autofree char *text = NULL;

  g_free (history->limits);
  history->limits = g_strdup ("1..2 mm");
  g_free (history->name);
  history->name = g_strdup ("Bore");
  for (guint i = 0; i < 4; i++)
    ((PawlHistoryPoint *) history->points->pdata[i])->of_variant = g_strdup (limits[i]);
  pawl_history_finish (history, PAWL_CHART_AS_PRINTED);
  g_assert_cmpuint (history->points->len, ==, 3);
  g_assert_cmpuint (history->n_of_others, ==, 1);
  text = pawl_history_describe (history, '.');
  g_assert_nonnull (strstr (text, "Left out: 1 of another variant"));
  pawl_history_free (history);
}

static gboolean
is_ink (const guint8 *pixel, const PawlInk *ink)
{
  return abs (pixel[2] - (int) lrint (255 * ink->red)) < 3 && abs (pixel[1] - (int) lrint (255 * ink->green)) < 3
         && abs (pixel[0] - (int) lrint (255 * ink->blue)) < 3;
}

static guint
count_pixels (cairo_surface_t *surface, const PawlInk *ink)
{
  const guint8 *data;
  int stride = cairo_image_surface_get_stride (surface);
  guint n = 0;

  cairo_surface_flush (surface);
  data = cairo_image_surface_get_data (surface);
  for (int y = 0; y < cairo_image_surface_get_height (surface); y++)
    for (int x = 0; x < cairo_image_surface_get_width (surface); x++)
      n += is_ink (data + y * stride + 4 * x, ink);
  return n;
}

/* Pixels in the ink of what is beyond chance. */
static guint
draw (const PawlHistory *history, PawlPalette palette, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  const PawlRunChartOptions options = { .palette = palette, .job = "job-1" };
  const PawlInks inks = pawl_palette_get_inks (palette);
  guint n;

  pawl_run_chart_draw (history, &options, cr, width, height);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  g_assert_cmpuint (count_pixels (surface, &inks.paper), >, (guint) (width * height) / 3);
  n = count_pixels (surface, &inks.bad);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return n;
}

static void
test_drawn (void)
{
  static const guint counts[] = { 0, 1, 2, 30, 1000 };
  double left[1000];

  for (guint i = 0; i < G_N_ELEMENTS (left); i++)
    left[i] = 4 + 0.01 * (i * 7 % 11);
  for (guint c = 0; c < G_N_ELEMENTS (counts); c++)
    for (PawlPalette palette = PAWL_PALETTE_LIGHT; palette <= PAWL_PALETTE_PRINT; palette++)
      {
        g_autoptr(PawlHistory) history = make_history (NULL, left, counts[c]);

        draw (history, palette, 900, 480);
        draw (history, palette, 300, 200);
      }
}

/* The ring in the key is always there; one round a value adds to it. */
static void
test_beyond_chance (void)
{
  double left[30];
  guint n_without, n_with;
  g_autoptr(PawlHistory) without = NULL, with = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (left); i++)
    left[i] = 4 + (i % 2) * 0.01;
  without = make_history (NULL, left, G_N_ELEMENTS (left));
  left[12] = 4.4;
  with = make_history (NULL, left, G_N_ELEMENTS (left));
  n_without = draw (without, PAWL_PALETTE_LIGHT, 900, 480);
  n_with = draw (with, PAWL_PALETTE_LIGHT, 900, 480);
  g_assert_cmpuint (n_without, >, 0);
  g_assert_cmpuint (n_with, >, n_without);
}

/*
 * Twenty to and fro about 4.1, then eight a little above it: the twentieth lies above as well, so that the eighth in a row is the 27th, and the run goes on
 * to the last. The mean of all is 4.114, one sigma 0.13: nothing else stands out.
 */
static void
test_runs (void)
{
  double left[28];
  g_autoptr(PawlHistory) history = NULL;
  g_autoptr(GArray) runs = NULL;
  g_autofree PawlChartRule *rules = NULL;
  g_autofree char *words = NULL;
  const PawlHistoryRun *run;

  for (guint i = 0; i < G_N_ELEMENTS (left); i++)
    left[G_N_ELEMENTS (left) - 1 - i] = i < 20 ? 4.0 + (i % 2) * 0.2 : 4.15;
  history = make_history (NULL, left, G_N_ELEMENTS (left));
  rules = pawl_history_list_rules (history);
  for (guint i = 0; i < G_N_ELEMENTS (left); i++)
    g_assert_cmpint (rules[i], ==, i >= 26 ? PAWL_CHART_RULE_8_IN_A_ROW : PAWL_CHART_RULE_NONE);
  runs = pawl_history_list_runs (history);
  g_assert_cmpuint (runs->len, ==, 1);
  run = &g_array_index (runs, PawlHistoryRun, 0);
  g_assert_cmpint (run->rule, ==, PAWL_CHART_RULE_8_IN_A_ROW);
  g_assert_cmpuint (run->last, ==, 27);
  words = pawl_history_describe (history, '.');
  g_test_message ("%s", words);
  g_assert_nonnull (strstr (words, "0 of 28 outside of that. Unlike chance: 2020-01-01: 8 in a row on one side of the mean."));
}

/* All equal: no spread, and nothing is divided by it. */
static void
test_equal (void)
{
  const double left[] = { 4, 4, 4 };
  g_autoptr(PawlHistory) history = make_history (NULL, left, 3);

  history->low = history->high = NAN;
  draw (history, PAWL_PALETTE_PRINT, 900, 480);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/history/sums", test_sums);
  g_test_add_func ("/history/variants", test_variants);
  g_test_add_func ("/history/drawn", test_drawn);
  g_test_add_func ("/history/beyond-chance", test_beyond_chance);
  g_test_add_func ("/history/runs", test_runs);
  g_test_add_func ("/history/equal", test_equal);
  return g_test_run ();
}
