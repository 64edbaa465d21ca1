#include "measure/pawl-control-chart.h"

#include <gsl/gsl_sf_gamma.h>
#include <math.h>

#include "measure/pawl-statistics.h"

#define PRINTED_D2 1.128
#define PRINTED_D4 3.267

/* ---- the chart ---- */

static double
get_mean_range (const double *values, gsize n)
{
  double sum = 0;

  for (gsize i = 1; i < n; i++)
    sum += fabs (values[i] - values[i - 1]);
  return sum / (double) (n - 1);
}

/* Of two values d2 = 2/√π, and a range has the deviation √(2 - d2²). */
static void
get_pair_factors (PawlChartFactors factors, double *d2, double *range_high)
{
  double exact = 2 / sqrt (G_PI);

  *d2 = factors == PAWL_CHART_AS_PRINTED ? PRINTED_D2 : exact;
  *range_high = factors == PAWL_CHART_AS_PRINTED ? PRINTED_D4 : 1 + 3 * sqrt (2 - exact * exact) / exact;
}

gboolean
pawl_control_chart_make (const double *values, gsize n, PawlChartFactors factors, PawlControlChart *chart)
{
  double d2, range_high, reach;

  g_return_val_if_fail (chart != NULL && (n == 0 || values != NULL), FALSE);
  *chart = (PawlControlChart) { n, n > 0 ? pawl_mean (values, n) : NAN, NAN, NAN, NAN, NAN };
  if (n < 2)
    return FALSE;
  get_pair_factors (factors, &d2, &range_high);
  chart->mean_range = get_mean_range (values, n);
  reach = 3 * chart->mean_range / d2;
  chart->low = chart->mean - reach;
  chart->high = chart->mean + reach;
  chart->range_high = range_high * chart->mean_range;
  return TRUE;
}

gboolean
pawl_control_chart_is_outside (const PawlControlChart *chart, double value)
{
  g_return_val_if_fail (chart != NULL, FALSE);
  return value < chart->low || value > chart->high;
}

gboolean
pawl_control_chart_is_jump (const PawlControlChart *chart, double before, double value)
{
  g_return_val_if_fail (chart != NULL, FALSE);
  return fabs (value - before) > chart->range_high;
}

/* ---- rules of runs ---- */

static const struct { guint wanted, among; double sigmas; } rules[] = {
  [PAWL_CHART_RULE_BEYOND_3] = { 1, 1, 3 },
  [PAWL_CHART_RULE_2_OF_3] = { 2, 3, 2 },
  [PAWL_CHART_RULE_4_OF_5] = { 4, 5, 1 },
  [PAWL_CHART_RULE_8_IN_A_ROW] = { 8, 8, 0 },
};

/* @sign: -1 below the mean, 1 above. Past the third of the way that @sigmas is: at 3 these are the limits themselves. */
static gboolean
is_beyond (const PawlControlChart *chart, double value, double sigmas, int sign)
{
  double reach = sign > 0 ? chart->high - chart->mean : chart->mean - chart->low;

  return sign * (value - chart->mean) > reach * (sigmas / 3);
}

static gboolean
meets_rule (const PawlControlChart *chart, const double *values, gsize index, PawlChartRule rule, int sign)
{
  guint n_beyond = 0;

  if (!is_beyond (chart, values[index], rules[rule].sigmas, sign))
    return FALSE;
  for (guint back = 0; back < rules[rule].among && back <= index; back++)
    n_beyond += is_beyond (chart, values[index - back], rules[rule].sigmas, sign);
  return n_beyond >= rules[rule].wanted;
}

PawlChartRule
pawl_control_chart_find_rule (const PawlControlChart *chart, const double *values, gsize n, gsize index)
{
  g_return_val_if_fail (chart != NULL && values != NULL && index < n, PAWL_CHART_RULE_NONE);
  for (PawlChartRule rule = PAWL_CHART_RULE_BEYOND_3; rule <= PAWL_CHART_RULE_8_IN_A_ROW; rule++)
    if (meets_rule (chart, values, index, rule, 1) || meets_rule (chart, values, index, rule, -1))
      return rule;
  return PAWL_CHART_RULE_NONE;
}

double
pawl_chart_rule_get_chance (PawlChartRule rule)
{
  double beyond, chance = 0;

  g_return_val_if_fail ((guint) rule < G_N_ELEMENTS (rules), NAN);
  if (rule == PAWL_CHART_RULE_NONE)
    return 0;
  beyond = pawl_normal_probability (-rules[rule].sigmas);
  for (guint n = rules[rule].wanted; n <= rules[rule].among; n++)
    chance += gsl_sf_choose (rules[rule].among, n) * pow (beyond, n) * pow (1 - beyond, rules[rule].among - n);
  return chance;
}

/* ---- runs ---- */

static int
get_sign (double value)
{
  return (value > 0) - (value < 0);
}

gsize
pawl_run_on_one_side (const double *values, gsize n, double centre)
{
  gsize longest = 0, length = 0;
  int side = 0;

  for (gsize i = 0; i < n; i++)
    {
      int now = get_sign (values[i] - centre);

      length = now == 0 ? 0 : now == side ? length + 1 : 1;
      side = now;
      longest = MAX (longest, length);
    }
  return longest;
}

gsize
pawl_run_one_way (const double *values, gsize n)
{
  gsize longest = n > 0, length = 1;
  int way = 0;

  for (gsize i = 1; i < n; i++)
    {
      int now = get_sign (values[i] - values[i - 1]);

      length = now == 0 ? 1 : now == way ? length + 1 : 2;
      way = now;
      longest = MAX (longest, length);
    }
  return longest;
}

double
pawl_lag_correlation (const double *values, gsize n)
{
  double mean, together = 0, squares = 0;

  if (n < 2)
    return NAN;
  mean = pawl_mean (values, n);
  for (gsize i = 0; i < n; i++)
    {
      squares += (values[i] - mean) * (values[i] - mean);
      together += i + 1 < n ? (values[i] - mean) * (values[i + 1] - mean) : 0;
    }
  return squares > 0 ? together / squares : NAN;
}

/* ---- capability ---- */

gboolean
pawl_capability_make (double low, double high, double mean, double deviation, PawlCapability *capability)
{
  g_return_val_if_fail (capability != NULL, FALSE);
  if (!(low < high) || !(deviation > 0) || !isfinite (mean))
    return FALSE;
  capability->cp = (high - low) / (6 * deviation);
  capability->upper = (high - mean) / (3 * deviation);
  capability->lower = (mean - low) / (3 * deviation);
  capability->cpk = fmin (capability->upper, capability->lower);
  capability->off = fabs ((high + low) / 2 - mean) / ((high - low) / 2);
  return TRUE;
}
