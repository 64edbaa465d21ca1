/* Rates, learning curves and gauge studies, held to figures from outside and to their own definitions. */
#include <gsl/gsl_fit.h>
#include <stdio.h>

#include "../check-values.h"

#include "measure/pawl-statistics.h"
#include "training/pawl-gauge-study.h"
#include "training/pawl-learning-curve.h"
#include "training/pawl-rate.h"

/* ---- learning.csv ---- */

static gboolean
check_unit_time (const CheckRow *row)
{
  double first, rate;
  guint n, known;

  if (sscanf (row->inputs, "Crawford unit curve: first unit %lf h, rate %lf, unit %u", &first, &rate, &n) == 3)
    check_near_double (row, row->expected, pawl_learning_get_time (first, 1, n, pawl_learning_get_slope (rate)));
  else if (sscanf (row->inputs, "Crawford: unit %u took %lf h, rate %lf: unit %u", &known, &first, &rate, &n) == 4)
    check_near_double (row, row->expected, pawl_learning_get_time (first, known, n, pawl_learning_get_slope (rate)));
  else if (sscanf (row->inputs, "unit time coefficient, rate %lf, unit %u", &rate, &n) == 2)
    check_near_double (row, row->expected, pawl_learning_get_time (1, 1, n, pawl_learning_get_slope (rate)));
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_total (const CheckRow *row)
{
  double first, rate;
  guint from, to;

  if (strstr (row->inputs, "approximation") != NULL)
    return FALSE; /* nobody who can sum needs it */
  if (sscanf (row->inputs, "Crawford: first unit %lf h, rate %lf: total of units %u-%u", &first, &rate, &from, &to) == 4)
    check_near_double (row, row->expected, pawl_learning_get_total (first, from, to, pawl_learning_get_slope (rate)));
  else if (sscanf (row->inputs, "cumulative time coefficient, rate %lf, units %u-%u", &rate, &from, &to) == 3)
    check_near_double (row, row->expected, pawl_learning_get_total (1, from, to, pawl_learning_get_slope (rate)));
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_slope (const CheckRow *row)
{
  double value;

  if (sscanf (row->inputs, "natural slope b for learning rate %lf", &value) == 1)
    check_near_double (row, row->expected, pawl_learning_get_slope (value));
  else if (sscanf (row->inputs, "learning rate for natural slope %lf", &value) == 1)
    check_near_double (row, row->expected, pawl_learning_get_rate (value));
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_fit (const CheckRow *row)
{
  const char *at = strstr (row->inputs, "times ");
  double times[16];
  guint n = 0;
  PawlLearningCurve curve;

  if (!g_str_has_prefix (row->inputs, "least squares of ln(time)"))
    return FALSE;
  for (at += strlen ("times "); g_ascii_isdigit (*at); at += *at == ' ')
    {
      char *end;

      g_assert_cmpuint (n, <, G_N_ELEMENTS (times));
      times[n++] = g_ascii_strtod (at, &end);
      at = end;
    }
  g_assert_true (pawl_learning_curve_fit (times, n, &curve));
  if (g_str_has_suffix (row->inputs, ": slope"))
    check_near_double (row, row->expected, curve.slope);
  else if (g_str_has_suffix (row->inputs, "first-job time"))
    check_near_double (row, row->expected, curve.first);
  else
    check_near_double (row, row->expected, curve.rate);
  return TRUE;
}

static gboolean
check_rate (const CheckRow *row)
{
  double confidence, reliability;
  guint right, n;
  gboolean is_low = g_str_has_suffix (row->inputs, "lower");

  if (sscanf (row->inputs, "first-pass yield: %u of %u jobs", &right, &n) == 2)
    check_near_double (row, row->expected, pawl_rate_make (right, n).share);
  else if (sscanf (row->inputs, "Wilson 95 %% interval for %u of %u", &right, &n) == 2)
    check_near_double (row, row->expected, is_low ? pawl_rate_make (right, n).low : pawl_rate_make (right, n).high);
  else if (sscanf (row->inputs, "Clopper-Pearson 95 %% interval for %u of %u", &right, &n) == 2)
    check_near_double (row, row->expected, is_low ? pawl_rate_make_exact (right, n).low : pawl_rate_make_exact (right, n).high);
  else if (sscanf (row->inputs, "zero-failure (success-run) sample size: confidence %lf, reliability %lf", &confidence, &reliability) == 2)
    check_near_double (row, row->expected, pawl_rate_get_clean_run (confidence, reliability));
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_learning (const CheckRow *row)
{
  /* Nothing in the program: blocks by their midpoint, the model of cumulative averages, a wrongly assumed rate, defects by opportunities, and
   * one-sided limits of no failures. */
  static const char * const others[] = { "LRN-010", "LRN-011", "LRN-012", "LRN-013", "LRN-017", "LRN-018", "LRN-027", "LRN-028", "LRN-057", "LRN-058",
                                         "LRN-059", "LRN-060", "LRN-061", "LRN-080", "LRN-081", NULL };

  if (g_strv_contains (others, row->id))
    return FALSE;
  if (!check_unit_time (row) && !check_total (row) && !check_slope (row) && !check_fit (row) && !check_rate (row))
    g_error ("%s: %s: nothing checks it", row->id, row->inputs);
  return TRUE;
}

static void
test_learning (void)
{
  check_values ("learning.csv", check_learning);
}

/* ---- gauges.csv: what follows from the printed ranges and mean squares; the raw values are not ours to copy ---- */

static gboolean
check_ranges (const CheckRow *row)
{
  /* AIAG MSA 4th ed.: mean range .3417, range of the appraisers' means .4447 (GAU-023, -024), and of the parts' means what PV 1.1046 comes of */
  PawlGaugeStudy study;
  const struct { const char *id; double value; } values[] = {
    { "GAU-025", 0 }, { "GAU-026", 0 }, { "GAU-027", 0 }, { "GAU-029", 0 }, { "GAU-030", 0 }, { "GAU-031", 0 },
  };
  double found[G_N_ELEMENTS (values)];

  g_assert_true (pawl_gauge_study_of_ranges (0.3417, 0.4447, 1.1046 / 0.3146, 10, 3, 3, &study));
  found[0] = study.repeatability;
  found[1] = study.reproducibility;
  found[2] = study.gauge;
  found[3] = study.total;
  found[4] = 100 * study.share;
  found[5] = study.n_categories;
  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (g_str_equal (values[i].id, row->id))
      {
        check_near_double (row, row->expected, found[i]);
        return TRUE;
      }
  return FALSE;
}

static gboolean
check_components (const CheckRow *row)
{
  /* GAU-032 to -035, with the probability of F = .0199435/.0459822 with 18 and 60 degrees of freedom, which is over .9 */
  const PawlGaugeSquares squares = { 9.817992716, 1.583631111, 0.01994345679, 0.04598222222, 0.97 };
  PawlGaugeStudy study;

  pawl_gauge_study_of_squares (&squares, 10, 3, 3, &study);
  if (g_str_equal (row->id, "GAU-036"))
    check_near_double (row, row->expected, study.repeatability * study.repeatability);
  else if (g_str_equal (row->id, "GAU-037"))
    check_near_double (row, row->expected, study.reproducibility * study.reproducibility);
  else if (g_str_equal (row->id, "GAU-038"))
    check_near_double (row, row->expected, study.parts * study.parts);
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_gauge (const CheckRow *row)
{
  return check_ranges (row) || check_components (row);
}

static void
test_gauges (void)
{
  check_values ("gauges.csv", check_gauge);
}

/* ---- by definition ---- */

/* The mean squares, times their degrees of freedom, make up all squares about the mean; and what was put in comes out. */
static void
test_squares (void)
{
  enum { PARTS = 10, PEOPLE = 3, TRIALS = 3 };
  g_autoptr(GRand) random = g_rand_new_with_seed (20261125);
  double values[PARTS * PEOPLE * TRIALS];

  for (guint round = 0; round < 50; round++)
    {
      double parts[PARTS], people[PEOPLE], mean = 0, all = 0, sum;
      PawlGaugeSquares squares;
      PawlGaugeStudy study;

      for (guint i = 0; i < PARTS; i++)
        parts[i] = g_rand_double_range (random, -1, 1);
      for (guint j = 0; j < PEOPLE; j++)
        people[j] = g_rand_double_range (random, -0.2, 0.2);
      for (guint n = 0; n < G_N_ELEMENTS (values); n++)
        {
          values[n] = 20 + parts[n / (PEOPLE * TRIALS)] + people[n / TRIALS % PEOPLE] + g_rand_double_range (random, -0.02, 0.02);
          mean += values[n] / G_N_ELEMENTS (values);
        }
      for (guint n = 0; n < G_N_ELEMENTS (values); n++)
        all += (values[n] - mean) * (values[n] - mean);
      g_assert_true (pawl_gauge_squares_make (values, PARTS, PEOPLE, TRIALS, &squares));
      sum = squares.parts * (PARTS - 1) + squares.people * (PEOPLE - 1) + squares.interaction * (PARTS - 1) * (PEOPLE - 1)
            + squares.repeatability * PARTS * PEOPLE * (TRIALS - 1);
      g_assert_cmpfloat_with_epsilon (sum, all, 1e-9 * all);
      pawl_gauge_study_of_squares (&squares, PARTS, PEOPLE, TRIALS, &study);
      g_assert_cmpfloat (study.repeatability, >, 0.02 / sqrt (3) * 0.7);
      g_assert_cmpfloat (study.repeatability, <, 0.02 / sqrt (3) * 1.3);
      g_assert_cmpfloat (study.parts, >, study.gauge);
    }
}

static void
test_bounds (void)
{
  const double flat[] = { 1, 1, 1, 1, 1, 1, 1, 1 };
  PawlGaugeSquares squares;
  PawlGaugeStudy study;
  PawlLearningCurve curve;

  g_assert_cmpfloat (pawl_rate_make (3, 3).high, ==, 1);
  g_assert_cmpfloat (pawl_rate_make (3, 3).low, <, 0.45); /* three of three says little */
  g_assert_cmpfloat (pawl_rate_make (0, 5).low, ==, 0);
  g_assert_true (isnan (pawl_rate_make (0, 0).share));
  g_assert_false (pawl_learning_curve_fit ((const double[]) { 3, 2, 1 }, 3, &curve));
  g_assert_false (pawl_learning_curve_fit ((const double[]) { 3, 2, 0, 1 }, 4, &curve));
  g_assert_false (pawl_gauge_squares_make (flat, 4, 1, 2, &squares));
  g_assert_false (pawl_gauge_study_make (flat, 8, 1, 1, &study));
  g_assert_true (pawl_gauge_study_make (flat, 2, 2, 2, &study));
  g_assert_cmpfloat (study.gauge, ==, 0);
}

/* The interval of the line is GSL's own, gsl_fit_linear_est(), times t. */
static void
test_band (void)
{
  const double times[] = { 120, 101, 95, 80, 83, 71 };
  double x[6], y[6], intercept, slope, c00, c01, c11, squares;
  PawlLearningCurve curve;

  for (guint i = 0; i < 6; i++)
    {
      x[i] = log (i + 1);
      y[i] = log (times[i]);
    }
  gsl_fit_linear (x, 1, y, 1, 6, &intercept, &slope, &c00, &c01, &c11, &squares);
  g_assert_true (pawl_learning_curve_fit (times, 6, &curve));
  for (guint n = 1; n <= 12; n++)
    {
      double fitted, error, low, high, time = pawl_learning_curve_get (&curve, n, &low, &high);

      gsl_fit_linear_est (log (n), intercept, slope, c00, c01, c11, &fitted, &error);
      g_assert_cmpfloat_with_epsilon (log (time), fitted, 1e-9);
      g_assert_cmpfloat_with_epsilon (log (low), fitted - pawl_t_quantile (0.975, 4) * error, 1e-9);
      g_assert_cmpfloat_with_epsilon (log (high), fitted + pawl_t_quantile (0.975, 4) * error, 1e-9);
    }
}

static void
test_words (void)
{
  const PawlRate some = pawl_rate_make (7, 12), none = pawl_rate_make (0, 0);
  g_autofree char *said = pawl_rate_format (&some), *unsaid = pawl_rate_format (&none);

  g_assert_cmpstr (said, ==, "7 of 12, 58 % (32 to 81 %)");
  g_assert_cmpstr (unsaid, ==, "none yet");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/training/learning.csv", test_learning);
  g_test_add_func ("/training/gauges.csv", test_gauges);
  g_test_add_func ("/training/squares", test_squares);
  g_test_add_func ("/training/bounds", test_bounds);
  g_test_add_func ("/training/band", test_band);
  g_test_add_func ("/training/words", test_words);
  return g_test_run ();
}
