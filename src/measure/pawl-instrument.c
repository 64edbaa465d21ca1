/* What an instrument can tell: its expanded uncertainty, and whether that will do for a tolerance. */
#include <math.h>

#include "measure/pawl-instrument-private.h"
#include "measure/pawl-limits-private.h"

/* An instrument is too coarse when U is over this part of the tolerance (4 to 1: common practice, no source). */
#define COARSE 0.25

static gboolean
fits (const PawlUnit *unit, PawlDimension dimension)
{
  return unit->dimension == dimension || pawl_unit_get_difference (unit)->dimension == dimension
         || (dimension == PAWL_DIMENSION_TEMPERATURE && unit->dimension == PAWL_DIMENSION_TEMPERATURE_DIFFERENCE);
}

/* Square of @stated in base units. An error of temperature is a difference, though it be typed as 2 °C. */
static gboolean
set_square (const PawlQuantity *stated, PawlDimension dimension, const mpq_t about, mpq_t square)
{
  const PawlUnit *unit;

  mpq_set_ui (square, 0, 1);
  if (stated == NULL)
    return TRUE;
  unit = stated->unit;
  if (unit->dimension == PAWL_DIMENSION_NONE && dimension != PAWL_DIMENSION_NONE)
    mpq_mul (square, stated->high, about);
  else if (!fits (unit, dimension))
    return FALSE;
  else
    {
      pawl_unit_from_base (unit, stated->high, square);
      pawl_unit_to_base (pawl_unit_get_difference (unit), square, square);
    }
  mpq_mul (square, square, square);
  return TRUE;
}

/*
 * With rectangular distributions u² = (e/√3)² + (s/√12)², and U = 2u, so U² = (4e² + s²)/3: a rational, and distances can be compared with
 * it exactly, by their squares.
 *
 * Source: JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1 (from memory); k = 2 as in ILAC-G8.
 */
gboolean
pawl_instrument_get_expanded_squared (const PawlInstrument *instrument, PawlDimension dimension, const mpq_t about, mpq_t squared)
{
  mpq_t error_square, step_square;
  gboolean is_known;

  mpq_set_ui (squared, 0, 1);
  if (instrument == NULL)
    return TRUE;
  mpq_inits (error_square, step_square, NULL);
  is_known = set_square (instrument->max_error, dimension, about, error_square)
             && set_square (instrument->step, dimension, about, step_square);
  if (is_known)
    {
      mpq_set_ui (squared, 4, 3);
      mpq_mul (squared, squared, error_square);
      mpq_set_ui (error_square, 1, 3);
      mpq_mul (step_square, step_square, error_square);
      mpq_add (squared, squared, step_square);
    }
  mpq_clears (error_square, step_square, NULL);
  return is_known;
}

static double
get_factor_double (const PawlUnit *unit)
{
  mpq_t factor;
  double number;

  mpq_init (factor);
  pawl_unit_get_factor (unit, factor);
  number = mpq_get_d (factor);
  mpq_clear (factor);
  return number;
}

/**
 * pawl_instrument_get_expanded_uncertainty:
 * @instrument: (nullable)
 * @unit: the unit of the result
 *
 * Expanded uncertainty U = 2u of one reading, from u² = (max error/√3)² + (step/√12)². An error in per cent depends on the reading
 * and counts as nothing here; pawl_verdict_of() takes it into account.
 *
 * Source: JCGM 100:2008 (GUM) 4.3.7 and F.2.2.1 (from memory), rectangular distributions.
 *
 * Returns: U in @unit; 0 when nothing is known, or what is known is of another dimension
 */
double
pawl_instrument_get_expanded_uncertainty (const PawlInstrument *instrument, const PawlUnit *unit)
{
  mpq_t about, squared;
  double number;

  g_return_val_if_fail (unit != NULL, 0);
  mpq_inits (about, squared, NULL);
  pawl_instrument_get_expanded_squared (instrument, unit->dimension, about, squared);
  number = sqrt (mpq_get_d (squared)) / get_factor_double (unit);
  mpq_clears (about, squared, NULL);
  return number;
}

/*
 * The tolerance as a plus-or-minus: half the width of two-sided limits; of a maximum alone, the way from zero to it.
 * A minimum alone leaves all the room there is, and so does a maximum that is not above zero, or one of temperature.
 */
static gboolean
get_tolerance (const PawlLimits *limits, mpq_t tolerance)
{
  const PawlQuantity *low = pawl_limits_peek_low (limits);
  const PawlQuantity *high = pawl_limits_peek_high (limits);

  if (high == NULL)
    return FALSE;
  mpq_set (tolerance, high->high);
  if (low == NULL)
    return mpq_sgn (tolerance) > 0 && high->unit->dimension != PAWL_DIMENSION_TEMPERATURE;
  mpq_sub (tolerance, tolerance, low->low);
  mpq_div_2exp (tolerance, tolerance, 1);
  return TRUE;
}

/**
 * pawl_instrument_is_too_coarse:
 * @instrument: (nullable)
 * @ratio: (out) (optional): U over the tolerance, infinite when that is zero, 0 when either is unknown. The tolerance is
 *   the plus-or-minus of two-sided limits; for a maximum alone it counts from zero; a minimum alone sets none.
 *
 * Returns: whether U is over a quarter of the tolerance, so that many a reading will be too close to call
 */
gboolean
pawl_instrument_is_too_coarse (const PawlInstrument *instrument, const PawlLimits *limits, double *ratio)
{
  mpq_t tolerance, squared;
  double share = 0;

  g_return_val_if_fail (limits != NULL, FALSE);
  mpq_inits (tolerance, squared, NULL);
  if (get_tolerance (limits, tolerance)
      && pawl_instrument_get_expanded_squared (instrument, limits->unit->dimension, limits->high->high, squared)
      && mpq_sgn (squared) > 0)
    share = mpq_sgn (tolerance) > 0 ? sqrt (mpq_get_d (squared)) / mpq_get_d (tolerance) : INFINITY;
  mpq_clears (tolerance, squared, NULL);
  if (ratio != NULL)
    *ratio = share;
  return share > COARSE;
}
