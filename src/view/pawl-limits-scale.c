#include "view/pawl-limits-scale.h"

#include <math.h>

typedef struct {
  double begin, length; /* limits' unit */
} Axis;

static double
value_of (const PawlQuantity *quantity, const PawlUnit *unit)
{
  return quantity != NULL ? pawl_quantity_get_double (quantity, unit) : NAN;
}

static void
include (double *least, double *most, double value)
{
  if (isnan (value))
    return;
  *least = fmin (*least, value);
  *most = fmax (*most, value);
}

/* Limits on both sides take the middle half of the bar, so that a reading outside has room on either side; a limit on one side stands in the
 * middle, with as much room as the number itself (so "max 0.05" begins at 0), or 0.01 at zero. Readings far outside stretch the axis rather than
 * leave it. */
static Axis
make_axis (double low, double high, const double *others, guint n_others)
{
  gboolean is_one_sided = isnan (low) || isnan (high);
  double span = is_one_sided ? fabs (isnan (high) ? low : high) : high - low;
  double least = INFINITY, most = -INFINITY, room;

  if (!(span > 0))
    span = 0.01;
  include (&least, &most, low);
  include (&least, &most, high);
  room = is_one_sided ? span : span / 2;
  least -= room;
  most += room;
  for (guint i = 0; i < n_others; i++)
    include (&least, &most, others[i]);
  return (Axis) { least, most - least };
}

static double
place (Axis axis, double value)
{
  return (value - axis.begin) / axis.length;
}

/* What of a zone lies on the bar. */
static PawlZone
place_zone (Axis axis, PawlZone zone)
{
  if (isnan (zone.from))
    return zone;
  return (PawlZone) { CLAMP (place (axis, zone.from), 0, 1), CLAMP (place (axis, zone.to), 0, 1) };
}

gboolean
pawl_limits_scale_make (const PawlLimits *limits, const PawlQuantity *found, const PawlQuantity *left,
                        const PawlVerdict *verdict, PawlLimitsScale *scale)
{
  const PawlUnit *unit = pawl_limits_get_unit (limits);
  double low, high, found_value, left_value, wear_low, wear_high;
  PawlVerdictScale numbers;
  Axis axis;

  *scale = (PawlLimitsScale) { NAN, NAN, NAN, NAN, NAN, NAN, NAN, NAN, { NAN, NAN }, { NAN, NAN } };
  if (!pawl_verdict_scale_make (limits, left, verdict, &numbers))
    return FALSE;
  low = value_of (pawl_limits_peek_low (limits), unit);
  high = value_of (pawl_limits_peek_high (limits), unit);
  if (isnan (low) && isnan (high))
    return FALSE;
  found_value = value_of (found, unit);
  left_value = value_of (left, unit);
  wear_low = value_of (pawl_limits_peek_wear_low (limits), unit);
  wear_high = value_of (pawl_limits_peek_wear_high (limits), unit);
  axis = make_axis (low, high, (const double[]) { found_value, left_value, wear_low, wear_high }, 4);
  scale->low = place (axis, low);
  scale->high = place (axis, high);
  scale->wear_low = place (axis, wear_low);
  scale->wear_high = place (axis, wear_high);
  scale->found = place (axis, found_value);
  scale->left = place (axis, left_value);
  scale->low_zone = place_zone (axis, numbers.low_zone);
  scale->high_zone = place_zone (axis, numbers.high_zone);
  if (!isnan (numbers.expanded) && !isnan (left_value))
    {
      scale->low_uncertainty = fmax (place (axis, left_value - numbers.expanded), 0);
      scale->high_uncertainty = fmin (place (axis, left_value + numbers.expanded), 1);
    }
  return TRUE;
}
