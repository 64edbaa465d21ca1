#include "training/pawl-learning-curve.h"

#include <gsl/gsl_fit.h>
#include <math.h>

#include "measure/pawl-statistics.h"

double
pawl_learning_get_slope (double rate)
{
  g_return_val_if_fail (rate > 0, NAN);
  return log2 (rate);
}

double
pawl_learning_get_rate (double slope)
{
  return exp2 (slope);
}

double
pawl_learning_get_time (double time, guint known, guint n, double slope)
{
  g_return_val_if_fail (known > 0 && n > 0, NAN);
  return time * pow ((double) n / known, slope);
}

double
pawl_learning_get_total (double first, guint from, guint to, double slope)
{
  double total = 0;

  g_return_val_if_fail (from > 0, NAN);
  for (guint n = to; n >= from; n--) /* the smallest first, when they fall */
    total += pow (n, slope);
  return first * total;
}

gboolean
pawl_learning_curve_fit (const double *times, guint n, PawlLearningCurve *curve)
{
  g_autofree double *x = g_new (double, n), *y = g_new (double, n);
  double intercept, slope, var_intercept, covariance, var_slope, squares, reach;

  if (n < PAWL_LEARNING_LEAST_JOBS)
    return FALSE;
  for (guint i = 0; i < n; i++)
    {
      if (!(times[i] > 0))
        return FALSE;
      x[i] = log (i + 1);
      y[i] = log (times[i]);
    }
  gsl_fit_linear (x, 1, y, 1, n, &intercept, &slope, &var_intercept, &covariance, &var_slope, &squares);
  reach = pawl_t_quantile (0.975, n - 2) * sqrt (var_slope);
  *curve = (PawlLearningCurve) { n, exp (intercept), slope, exp2 (slope), exp2 (slope - reach), exp2 (slope + reach), sqrt (squares / (n - 2)) };
  return TRUE;
}

double
pawl_learning_curve_get (const PawlLearningCurve *self, guint n, double *low, double *high)
{
  double sum = 0, squares = 0, mean, distance, reach, time = pawl_learning_get_time (self->first, 1, n, self->slope);

  for (guint i = 1; i <= self->n; i++)
    sum += log (i);
  mean = sum / self->n;
  for (guint i = 1; i <= self->n; i++)
    squares += (log (i) - mean) * (log (i) - mean);
  distance = log (n) - mean;
  reach = pawl_t_quantile (0.975, self->n - 2) * self->deviation * sqrt (1.0 / self->n + distance * distance / squares);
  *low = time * exp (-reach);
  *high = time * exp (reach);
  return time;
}
