/* Run charts against figures from outside, each with its source in its file; runs, rules and what no chart can be made of. */
#include <stdio.h>

#include "check-values.h"
#include "measure/pawl-control-chart.h"
#include "measure/pawl-statistics.h"
#include "measure/pawl-uncertainty.h"

#define MOST_VALUES 1001

typedef struct {
  double values[MOST_VALUES];
  gsize  n;
} Series;

static void
add_value (Series *series, double value)
{
  g_assert_cmpuint (series->n, <, MOST_VALUES);
  series->values[series->n++] = value;
}

/* The numbers that @text begins with. */
static Series
read_series (const char *text)
{
  Series series = { .n = 0 };
  char *end;

  for (double value = g_ascii_strtod (text, &end); end != text; value = g_ascii_strtod (text, &end))
    {
      add_value (&series, value);
      text = end + strspn (end, " ");
    }
  return series;
}

static gboolean
says (const CheckRow *row, const char *words)
{
  return strstr (row->inputs, words) != NULL;
}

/* ---- factors ---- */

static gboolean
check_factor (const CheckRow *row)
{
  PawlGroupFactors factors;
  char name[4];
  guint n;

  if (sscanf (row->inputs, "control chart constant %3s for n = %u", name, &n) != 2)
    return FALSE;
  pawl_group_factors_get (n, &factors);
  check_near_double (row, row->expected,
                     g_str_equal (name, "d2") ? factors.d2 : g_str_equal (name, "d3") ? factors.d3 : g_str_equal (name, "c4") ? factors.c4
                     : g_str_equal (name, "A2") ? pawl_group_factors_get_a2 (&factors, n)
                     : g_str_equal (name, "E2") ? pawl_group_factors_get_e2 (&factors)
                     : g_str_equal (name, "D3") ? pawl_group_factors_get_range_low (&factors)
                     : g_str_equal (name, "D4") ? pawl_group_factors_get_range_high (&factors) : NAN);
  return TRUE;
}

/* Of 0 and 1 both the mean range and what the limits are counted in is 1. Both ways of the factors lie within the rows' tolerance. */
static gboolean
check_chart_factor (const CheckRow *row)
{
  static const double values[] = { 0, 1 };
  gboolean is_range = says (row, "D4(2)");

  if (!is_range && !says (row, "3/d2(2)"))
    return FALSE;
  for (PawlChartFactors factors = PAWL_CHART_AS_PRINTED; factors <= PAWL_CHART_EXACT; factors++)
    {
      PawlControlChart chart;

      g_assert_true (pawl_control_chart_make (values, 2, factors, &chart));
      check_near_double (row, row->expected, is_range ? chart.range_high : chart.high - chart.mean);
    }
  return TRUE;
}

/* ---- charts ---- */

/* "none", or the places that stand out, counted from 1. */
static void
check_places (const CheckRow *row, const Series *series, const PawlControlChart *chart, gboolean of_ranges)
{
  g_autoptr(GString) places = g_string_new (NULL);

  for (gsize i = of_ranges; i < series->n; i++)
    if (of_ranges ? pawl_control_chart_is_jump (chart, series->values[i - 1], series->values[i]) : pawl_control_chart_is_outside (chart, series->values[i]))
      g_string_append_printf (places, "%s%" G_GSIZE_FORMAT, places->len > 0 ? " " : "", of_ranges ? i : i + 1);
  g_assert_cmpstr (places->len > 0 ? places->str : "none", ==, row->expected);
}

static gboolean
check_individuals (const CheckRow *row)
{
  const char *arrow = strstr (row->inputs, " -> "), *begin = strchr (row->inputs, ':');
  Series series;
  PawlControlChart chart;

  if (!g_str_has_prefix (row->inputs, "data ") || arrow == NULL || begin == NULL)
    return FALSE;
  series = read_series (begin + 2);
  g_assert_true (pawl_control_chart_make (series.values, series.n, PAWL_CHART_AS_PRINTED, &chart));
  arrow += strlen (" -> ");
  if (g_str_has_prefix (arrow, "points outside") || g_str_has_prefix (arrow, "moving ranges above"))
    check_places (row, &series, &chart, *arrow == 'm');
  else
    check_near_double (row, row->expected,
                       g_str_equal (arrow, "mean") ? chart.mean : g_str_equal (arrow, "mean moving range") ? chart.mean_range
                       : g_str_has_prefix (arrow, "individuals UCL") ? chart.high : g_str_has_prefix (arrow, "individuals LCL") ? chart.low
                       : g_str_has_prefix (arrow, "moving range UCL") ? chart.range_high : NAN);
  return TRUE;
}

/* The thirty values stand in SPC-055, and the rows after it speak of them. That package works its factors out. */
static gboolean
check_humidity (const CheckRow *row)
{
  static Series thirty;
  Series series;
  PawlControlChart chart;

  if (!says (row, "ss.data.pb1 humidity"))
    return FALSE;
  if (says (row, "30 values ("))
    thirty = read_series (strstr (row->inputs, "30 values (") + strlen ("30 values ("));
  if (g_str_equal (row->id, "SPC-055"))
    g_assert_cmpuint (thirty.n, ==, 30);
  series = thirty;
  if (says (row, "31st value 17"))
    add_value (&series, 17);
  g_assert_true (pawl_control_chart_make (series.values, series.n, PAWL_CHART_EXACT, &chart));
  if (says (row, "index of"))
    check_places (row, &series, &chart, TRUE);
  else
    check_near_double (row, row->expected, says (row, "centre line") ? chart.mean_range : chart.range_high);
  return TRUE;
}

/* ---- StRD ---- */

/* Numbers after NIST's rule: 1000 more that stand in turn below and above the first. */
static Series
make_series (double first, double below, double above)
{
  Series series = { .n = 0 };

  add_value (&series, first);
  while (series.n < MOST_VALUES)
    add_value (&series, series.n % 2 == 1 ? below : above);
  return series;
}

/* What a set of repeats makes of them, which is exact up to the last root: doubles alone hold 10000000.1 to eight figures of its spread. */
static void
check_exactly (const CheckRow *row, const Series *series)
{
  const PawlUnit *unit = pawl_unit_lookup ("mm");
  g_autoptr(GPtrArray) readings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  g_autoptr(PawlQuantity) mean = NULL;
  g_autoptr(GError) error = NULL;
  PawlBudget budget;

  for (gsize i = 0; i < series->n; i++)
    {
      g_autofree char *text = g_strdup_printf ("%.1f mm", series->values[i]);
      PawlQuantity *reading = pawl_quantity_parse (text, NULL, &error);

      g_assert_no_error (error);
      g_ptr_array_add (readings, reading);
    }
  g_assert_true (pawl_budget_make ((PawlQuantity **) readings->pdata, readings->len, NULL, unit, &budget, &error));
  mean = pawl_readings_get_mean ((PawlQuantity **) readings->pdata, readings->len);
  if (says (row, ": mean"))
    check_near_quantity (row, row->expected, mean, unit);
  else
    check_near_double (row, row->expected, budget.deviation);
}

static gboolean
check_strd (const CheckRow *row)
{
  Series series;

  if (says (row, "NumAcc1"))
    series = read_series ("10000001 10000003 10000002");
  else if (says (row, "NumAcc2"))
    series = make_series (1.2, 1.1, 1.3);
  else if (says (row, "NumAcc4"))
    series = make_series (10000000.2, 10000000.1, 10000000.3);
  else
    return FALSE;
  if (says (row, "lag-1"))
    check_near_double (row, row->expected, pawl_lag_correlation (series.values, series.n));
  else
    check_exactly (row, &series);
  return TRUE;
}

/* ---- capability ---- */

static gboolean
check_capability (const CheckRow *row)
{
  double low, high, mean, deviation;
  const char *wanted = strrchr (row->inputs, ':');
  PawlCapability capability;

  if (g_str_has_prefix (row->inputs, "volumes "))
    {
      Series series = read_series (row->inputs + strlen ("volumes "));

      g_assert_cmpint (sscanf (strstr (row->inputs, ", limits "), ", limits %lf to %lf", &low, &high), ==, 2);
      mean = pawl_mean (series.values, series.n);
      deviation = pawl_standard_deviation (series.values, series.n);
    }
  else if (sscanf (row->inputs, "USL %lf, LSL %lf, mean %lf, s %lf", &high, &low, &mean, &deviation) != 4)
    return FALSE;
  g_assert_true (pawl_capability_make (low, high, mean, deviation, &capability));
  wanted += strlen (": ");
  check_near_double (row, row->expected,
                     g_str_has_prefix (wanted, "Cpk") ? capability.cpk : g_str_has_prefix (wanted, "Cpu") ? capability.upper
                     : g_str_has_prefix (wanted, "Cpl") ? capability.lower : g_str_has_prefix (wanted, "Cp") ? capability.cp
                     : g_str_has_prefix (wanted, "k") ? capability.off : g_str_has_prefix (wanted, "Z ") ? 3 * capability.cpk : NAN);
  return TRUE;
}

/* ---- rules and runs ---- */

static gboolean
check_rule (const CheckRow *row)
{
  double either_side = 2 * pawl_chart_rule_get_chance (PAWL_CHART_RULE_BEYOND_3);

  if (g_str_has_prefix (row->inputs, "probability that one normal point beyond 3 sigma"))
    check_near_double (row, row->expected, either_side);
  else if (g_str_has_prefix (row->inputs, "in-control average run length of the 3-sigma rule"))
    check_near_double (row, row->expected, 1 / either_side);
  else if (says (row, "8 points in a row on one given side"))
    check_near_double (row, row->expected, pawl_chart_rule_get_chance (PAWL_CHART_RULE_8_IN_A_ROW));
  else if (g_str_has_prefix (row->inputs, "2 of 3 "))
    check_near_double (row, row->expected, pawl_chart_rule_get_chance (PAWL_CHART_RULE_2_OF_3));
  else if (g_str_has_prefix (row->inputs, "4 of 5 "))
    check_near_double (row, row->expected, pawl_chart_rule_get_chance (PAWL_CHART_RULE_4_OF_5));
  else
    return FALSE;
  return TRUE;
}

static gboolean
check_run (const CheckRow *row)
{
  const char *centre = strstr (row->inputs, "centre line ");
  Series series;

  if (!g_str_has_prefix (row->inputs, "series "))
    return FALSE;
  series = read_series (row->inputs + strlen ("series "));
  if (says (row, "strictly on one side"))
    check_near_double (row, row->expected, (double) pawl_run_on_one_side (series.values, series.n, g_ascii_strtod (centre + strlen ("centre line "), NULL)));
  else
    {
      g_assert_true (says (row, "strictly monotone run"));
      check_near_double (row, row->expected, (double) pawl_run_one_way (series.values, series.n));
    }
  return TRUE;
}

static gboolean
check_row (const CheckRow *row)
{
  /* of measured numbers that are not the project's to hold; those with a rule are made above */
  static const char * const others[] = { "SPC-067", "SPC-068", "SPC-069", NULL };
  static const CheckFunc checks[] = {
    check_factor, check_chart_factor, check_individuals, check_humidity, check_strd, check_capability, check_rule, check_run,
  };

  for (gsize i = 0; i < G_N_ELEMENTS (checks); i++)
    if (checks[i] (row))
      return TRUE;
  if (g_strv_contains (others, row->id))
    return FALSE;
  g_error ("%s: %s: nothing checks this row", row->id, row->inputs);
}

static void test_rows (void) { check_values ("control-chart.csv", check_row); }

/* "limits 9 to 11, mean 10, sigma 0.4: Cpk"; the other rows of the file are of decisions. */
static gboolean
check_decision (const CheckRow *row)
{
  double low, high, mean, deviation;
  PawlCapability capability;

  if (sscanf (row->inputs, "limits %lf to %lf, mean %lf, sigma %lf", &low, &high, &mean, &deviation) != 4 || !g_str_has_suffix (row->inputs, ": Cpk"))
    return FALSE;
  g_assert_true (pawl_capability_make (low, high, mean, deviation, &capability));
  check_near_double (row, row->expected, capability.cpk);
  return TRUE;
}

static void test_decisions (void) { check_values ("decision.csv", check_decision); }

/* ---- what rows don't say ---- */

static void
test_nothing (void)
{
  static const double one[] = { 3.5 }, same[] = { 2, 2, 2 };
  PawlControlChart chart;
  PawlCapability capability;

  g_assert_false (pawl_control_chart_make (NULL, 0, PAWL_CHART_EXACT, &chart));
  g_assert_true (isnan (chart.mean) && isnan (chart.high));
  g_assert_false (pawl_control_chart_make (one, 1, PAWL_CHART_EXACT, &chart));
  g_assert_cmpfloat (chart.mean, ==, 3.5);
  g_assert_false (pawl_control_chart_is_outside (&chart, 1000)); /* there is no limit to be outside of */
  g_assert_cmpuint (pawl_run_on_one_side (NULL, 0, 0), ==, 0);
  g_assert_cmpuint (pawl_run_one_way (NULL, 0), ==, 0);
  g_assert_cmpuint (pawl_run_one_way (one, 1), ==, 1);
  g_assert_true (isnan (pawl_lag_correlation (one, 1)) && isnan (pawl_lag_correlation (same, 3)));
  /* all the same: the limits lie on the mean, and a value on them is inside */
  g_assert_true (pawl_control_chart_make (same, 3, PAWL_CHART_AS_PRINTED, &chart));
  g_assert_cmpfloat (chart.low, ==, 2);
  g_assert_cmpfloat (chart.high, ==, 2);
  g_assert_false (pawl_control_chart_is_outside (&chart, 2) || pawl_control_chart_is_jump (&chart, 2, 2));
  g_assert_true (pawl_control_chart_is_outside (&chart, 2.5));
  g_assert_cmpint (pawl_control_chart_find_rule (&chart, same, 3, 2), ==, PAWL_CHART_RULE_NONE);
  g_assert_false (pawl_capability_make (2, 1, 1.5, 1, &capability));
  g_assert_false (pawl_capability_make (1, 2, 1.5, 0, &capability));
  g_assert_false (pawl_capability_make (1, 2, NAN, 1, &capability));
}

/* Sigma 1 about 0: the last of the values is asked about, on this side and mirrored. */
static void
test_rules (void)
{
  static const PawlControlChart chart = { 8, 0, 1.128, -3, 3, 3.685 };
  static const struct { const char *values; PawlChartRule rule; } cases[] = {
    { "0 3.1", PAWL_CHART_RULE_BEYOND_3 },
    { "0 3", PAWL_CHART_RULE_NONE },
    { "2.1 0 2.1", PAWL_CHART_RULE_2_OF_3 },
    { "2.1 0 -2.1", PAWL_CHART_RULE_NONE },
    { "2.1 0 0 2.1", PAWL_CHART_RULE_NONE },
    { "2.1 2.1 0", PAWL_CHART_RULE_NONE },
    { "1.1 1.1 0 1.1 1.1", PAWL_CHART_RULE_4_OF_5 },
    { "1.1 1.1 0 0 1.1 1.1", PAWL_CHART_RULE_NONE },
    { "1.1 1.1 -1.1 1 1.1", PAWL_CHART_RULE_NONE },
    { "0.1 0.2 0.1 0.3 0.2 0.1 0.4 0.1", PAWL_CHART_RULE_8_IN_A_ROW },
    { "0.1 0.2 0.1 0.3 0.2 0.1 0.4", PAWL_CHART_RULE_NONE },
    { "0.1 0.2 0.1 0 0.2 0.1 0.4 0.1", PAWL_CHART_RULE_NONE },
    { "1.1 1.1 1.1 1.1 3.1", PAWL_CHART_RULE_BEYOND_3 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    for (int sign = 1; sign >= -1; sign -= 2)
      {
        Series series = read_series (cases[i].values);

        for (gsize j = 0; j < series.n; j++)
          series.values[j] *= sign;
        g_assert_cmpint (pawl_control_chart_find_rule (&chart, series.values, series.n, series.n - 1), ==, cases[i].rule);
      }
}

static void
test_runs (void)
{
  static const struct { const char *values; guint one_side, one_way; } cases[] = { /* about 5 */
    { "5", 0, 1 },
    { "4 4 4", 3, 1 },
    { "4 6 4 6", 1, 2 },
    { "4 5 4 4", 2, 2 },
    { "9 8 7 7 6 4 3 2", 5, 5 },
    { "1 2 3 2 1 0 -1", 7, 5 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      Series series = read_series (cases[i].values);

      g_assert_cmpuint (pawl_run_on_one_side (series.values, series.n, 5), ==, cases[i].one_side);
      g_assert_cmpuint (pawl_run_one_way (series.values, series.n), ==, cases[i].one_way);
    }
}

/* The two that have a closed form, and what a chart of two takes: d2 = 2/√π, d3 = √(2 - 4/π); of three d2 = 3/√π. Computed; nothing to look up. */
static void
test_factors (void)
{
  PawlGroupFactors factors;

  pawl_group_factors_get (2, &factors);
  g_assert_cmpfloat_with_epsilon (factors.d2, 2 / sqrt (G_PI), 1e-9);
  g_assert_cmpfloat_with_epsilon (factors.d3, sqrt (2 - 4 / G_PI), 1e-9);
  g_assert_cmpfloat_with_epsilon (factors.c4, sqrt (2 / G_PI), 1e-12);
  pawl_group_factors_get (3, &factors);
  g_assert_cmpfloat_with_epsilon (factors.d2, 3 / sqrt (G_PI), 1e-9);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/control-chart/rows", test_rows);
  g_test_add_func ("/measure/control-chart/decisions", test_decisions);
  g_test_add_func ("/measure/control-chart/nothing", test_nothing);
  g_test_add_func ("/measure/control-chart/rules", test_rules);
  g_test_add_func ("/measure/control-chart/runs", test_runs);
  g_test_add_func ("/measure/control-chart/factors", test_factors);
  return g_test_run ();
}
