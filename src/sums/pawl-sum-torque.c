/* How far up its scale a wrench is used: near the bottom its error is a large share of the torque. */
#include "sums/pawl-sum-private.h"

/* Per cent of the scale from which on a wrench is used: common practice, no source. */
#define LEAST_SHARE 20

static const char *
judge (double share)
{
  if (share > 100)
    return "more than it can do; take a larger wrench";
  return share < LEAST_SHARE ? "too near the bottom of it; take a smaller wrench" : "within its range";
}

gboolean
pawl_sum_solve_torque (PawlSumRun *run, GError **error)
{
  const PawlQuantity *scale = pawl_sum_run_get (run, "scale"), *set = pawl_sum_run_get (run, "set");
  const PawlUnit *unit = pawl_unit_lookup ("N m");
  g_autofree char *of = NULL, *part = NULL;
  double share;

  if (set == NULL)
    set = pawl_sum_run_get (run, "setting");
  if (scale == NULL || set == NULL)
    return TRUE;
  share = 100 * pawl_quantity_get_double (set, unit) / pawl_quantity_get_double (scale, unit);
  of = pawl_sum_run_format (run, scale);
  part = pawl_sum_run_format (run, set);
  pawl_sum_run_work (run, "Part of the scale = %s / %s; from %d %% on", part, of, LEAST_SHARE);
  pawl_sum_run_answer (run, "On its scale", NULL, FALSE, g_strdup_printf ("%.0f %%: %s", share, judge (share)));
  return TRUE;
}
