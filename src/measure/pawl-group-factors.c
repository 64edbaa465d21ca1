/* The factors of control charts for groups of readings, from the distribution of the range. */
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>

#include "measure/pawl-control-chart.h"
#include "measure/pawl-statistics.h"

/* Past these nothing counts that a double can hold; of 100 values a range over 14 has a chance below 1e-18. */
#define NORMAL_END 9.0
#define RANGE_END  14.0
#define N_POINTS   128

typedef gsl_integration_glfixed_table Points;

typedef struct {
  const Points *points;
  guint         n, power; /* power: 0 for the mean of the range, 1 for half the mean of its square */
  double        width;
} Range;

static double
get_density (double x, void *data)
{
  const Range *range = data;
  double within = pawl_normal_probability (x + range->width) - pawl_normal_probability (x);

  return range->n * gsl_ran_ugaussian_pdf (x) * pow (within, range->n - 1);
}

/* The mean of W is ∫ P (W > w) dw, that of its square 2 ∫ w P (W > w) dw. */
static double
get_share_over (double width, void *data)
{
  Range *range = data;
  gsl_function density = { get_density, range };

  range->width = width;
  return (1 - gsl_integration_glfixed (&density, -NORMAL_END, NORMAL_END, range->points)) * (range->power > 0 ? width : 1);
}

void
pawl_group_factors_get (guint n, PawlGroupFactors *factors)
{
  Points *points;
  Range range;
  gsl_function share = { get_share_over, &range };

  g_return_if_fail (n >= 2 && n <= 100 && factors != NULL);
  points = gsl_integration_glfixed_table_alloc (N_POINTS);
  range = (Range) { points, n, 0, 0 };
  factors->d2 = gsl_integration_glfixed (&share, 0, RANGE_END, points);
  range.power = 1;
  factors->d3 = sqrt (2 * gsl_integration_glfixed (&share, 0, RANGE_END, points) - factors->d2 * factors->d2);
  factors->c4 = sqrt (2.0 / (n - 1)) * exp (gsl_sf_lngamma (n / 2.0) - gsl_sf_lngamma ((n - 1) / 2.0));
  gsl_integration_glfixed_table_free (points);
}

double
pawl_group_factors_get_a2 (const PawlGroupFactors *factors, guint n)
{
  return 3 / (factors->d2 * sqrt (n));
}

double
pawl_group_factors_get_e2 (const PawlGroupFactors *factors)
{
  return 3 / factors->d2;
}

double
pawl_group_factors_get_range_low (const PawlGroupFactors *factors)
{
  return fmax (1 - 3 * factors->d3 / factors->d2, 0);
}

double
pawl_group_factors_get_range_high (const PawlGroupFactors *factors)
{
  return 1 + 3 * factors->d3 / factors->d2;
}
