#include "measure/pawl-verdict-scale.h"

#include <math.h>

#include "measure/pawl-limits-private.h"
#include "measure/pawl-statistics.h"

static double
get_number (const PawlQuantity *quantity, const PawlUnit *unit)
{
  return quantity != NULL ? pawl_quantity_get_double (quantity, unit) : NAN;
}

/* Where a limit of wear decides, that of a new part is worth a mark of its own. */
static double
get_new (const PawlQuantity *new_limit, const PawlQuantity *deciding, const PawlUnit *unit)
{
  return new_limit != deciding ? get_number (new_limit, unit) : NAN;
}

static void
set_reading (PawlVerdictScale *scale, const PawlQuantity *reading, const PawlUnit *unit)
{
  mpq_t low, high;

  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (reading, low, high);
  pawl_unit_from_base (unit, low, low);
  pawl_unit_from_base (unit, high, high);
  scale->reading_low = mpq_get_d (low);
  scale->reading_high = mpq_get_d (high);
  mpq_clears (low, high, NULL);
}

static double
get_reach (const PawlVerdict *verdict)
{
  if (verdict->policy.kind != PAWL_DECIDES_BY_RISK)
    return verdict->guard;
  return verdict->standard * pawl_normal_quantile (1 - verdict->policy.risk / 1000.0);
}

static PawlZone
make_zone (double limit, double reach)
{
  return reach > 0 && !isnan (limit) ? (PawlZone) { limit - reach, limit + reach } : (PawlZone) { NAN, NAN };
}

gboolean
pawl_verdict_scale_make (const PawlLimits *limits, const PawlQuantity *reading, const PawlVerdict *verdict, PawlVerdictScale *scale)
{
  const PawlQuantity *low, *high;
  double reach;

  g_return_val_if_fail (limits != NULL && scale != NULL, FALSE);
  *scale = (PawlVerdictScale) { NAN, NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN }, { NAN, NAN } };
  low = pawl_limits_peek_last_low (limits);
  high = pawl_limits_peek_last_high (limits);
  if (limits->unit == NULL || (low == NULL && high == NULL))
    return FALSE;
  scale->low = get_number (low, limits->unit);
  scale->high = get_number (high, limits->unit);
  scale->new_low = get_new (pawl_limits_peek_low (limits), low, limits->unit);
  scale->new_high = get_new (pawl_limits_peek_high (limits), high, limits->unit);
  if (reading != NULL)
    set_reading (scale, reading, limits->unit);
  if (verdict == NULL)
    return TRUE;
  reach = get_reach (verdict);
  scale->expanded = verdict->expanded > 0 ? verdict->expanded : NAN;
  scale->low_zone = make_zone (scale->low, reach);
  scale->high_zone = make_zone (scale->high, reach);
  return TRUE;
}
