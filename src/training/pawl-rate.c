#include "training/pawl-rate.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#include "measure/pawl-statistics.h"

/* Both sides left out of 95 %. */
#define TAIL 0.025

PawlRate
pawl_rate_make (guint n_right, guint n)
{
  PawlRate self = { n_right, n, NAN, 0, 1 };
  double z = pawl_normal_quantile (1 - TAIL), squared = z * z, half, middle;

  g_return_val_if_fail (n_right <= n, self);
  if (n == 0)
    return self;
  self.share = (double) n_right / n;
  middle = (n_right + squared / 2) / (n + squared);
  half = z / (n + squared) * sqrt ((double) n_right * (n - n_right) / n + squared / 4);
  /* The ends are 0 and 1 exactly where nothing, or all, was right. */
  self.low = n_right == 0 ? 0 : middle - half;
  self.high = n_right == n ? 1 : middle + half;
  return self;
}

PawlRate
pawl_rate_make_exact (guint n_right, guint n)
{
  PawlRate self = { n_right, n, NAN, 0, 1 };

  g_return_val_if_fail (n_right <= n, self);
  if (n == 0)
    return self;
  self.share = (double) n_right / n;
  if (n_right > 0)
    self.low = gsl_cdf_beta_Pinv (TAIL, n_right, n - n_right + 1);
  if (n_right < n)
    self.high = gsl_cdf_beta_Pinv (1 - TAIL, n_right + 1, n - n_right);
  return self;
}

char *
pawl_rate_format (const PawlRate *self)
{
  if (self->n == 0)
    return g_strdup ("none yet");
  return g_strdup_printf ("%u of %u, %.0f %% (%.0f to %.0f %%)", self->n_right, self->n, 100 * self->share, 100 * self->low, 100 * self->high);
}

guint
pawl_rate_get_clean_run (double confidence, double reliability)
{
  g_return_val_if_fail (confidence > 0 && confidence < 1 && reliability > 0 && reliability < 1, 0);
  return (guint) ceil (log1p (-confidence) / log (reliability));
}
