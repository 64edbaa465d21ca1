#include "measure/pawl-statistics.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double
pawl_mean (const double *values, gsize n)
{
  double first, sum = 0;

  g_return_val_if_fail (values != NULL && n > 0, NAN);
  /* counted from the first one, so that a large number with a small spread loses nothing */
  first = values[0];
  for (gsize i = 0; i < n; i++)
    sum += values[i] - first;
  return first + sum / (double) n;
}

double
pawl_standard_deviation (const double *values, gsize n)
{
  double mean, squares = 0, rest = 0;

  g_return_val_if_fail (values != NULL && n > 1, NAN);
  mean = pawl_mean (values, n);
  for (gsize i = 0; i < n; i++)
    {
      squares += (values[i] - mean) * (values[i] - mean);
      rest += values[i] - mean; /* what rounding left of the mean */
    }
  return sqrt ((squares - rest * rest / (double) n) / (double) (n - 1));
}

double
pawl_normal_probability (double z)
{
  return gsl_cdf_ugaussian_P (z);
}

double
pawl_normal_quantile (double probability)
{
  g_return_val_if_fail (probability > 0 && probability < 1, NAN);
  return gsl_cdf_ugaussian_Pinv (probability);
}

double
pawl_t_quantile (double probability, double degrees)
{
  g_return_val_if_fail (probability > 0 && probability < 1 && degrees > 0, NAN);
  return isinf (degrees) ? gsl_cdf_ugaussian_Pinv (probability) : gsl_cdf_tdist_Pinv (probability, degrees);
}

double
pawl_effective_degrees (const double *u, const double *degrees, gsize n)
{
  double variance = 0, below = 0;

  for (gsize i = 0; i < n; i++)
    {
      variance += u[i] * u[i];
      below += isinf (degrees[i]) ? 0 : pow (u[i], 4) / degrees[i];
    }
  return below > 0 ? variance * variance / below : INFINITY;
}
