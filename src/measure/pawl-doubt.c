#include "measure/pawl-doubt.h"

#include "measure/pawl-limits-private.h"

/* From here on the unit or the decimal mark is more likely wrong than the part. */
#define ABSURD_FACTOR 1000
/* From here on it is worth looking whether the number would be right in another unit. */
#define ODD_FACTOR    5

/* Says it in the words of the typist; TRUE. */
static gboolean
say (char **sentence, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
say (char **sentence, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  if (sentence != NULL)
    *sentence = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return TRUE;
}

static gboolean
is_within (const PawlLimits *limits, const mpq_t base)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);

  return (low == NULL || mpq_cmp (base, low->low) >= 0) && (high == NULL || mpq_cmp (base, high->high) <= 0);
}

/* Whether none of the limits is below zero. */
static gboolean
are_above_zero (const PawlLimits *limits)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);

  return (low == NULL || mpq_sgn (low->low) >= 0) && (high == NULL || mpq_sgn (high->high) >= 0);
}

/* How many times the limit, or what share of it; 1 when it is inside, or the limit is zero. @limit: (out): the one it is past */
static double
get_factor (const PawlLimits *limits, const PawlQuantity *quantity, const PawlQuantity **limit)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);
  double factor;
  mpq_t ratio;

  if (high != NULL && mpq_cmp (quantity->low, high->high) > 0)
    *limit = high;
  else if (low != NULL && mpq_cmp (quantity->high, low->low) < 0)
    *limit = low;
  else
    return 1;
  if (mpq_sgn ((*limit)->low) <= 0 || mpq_sgn (quantity->low) <= 0)
    return 1;
  mpq_init (ratio);
  mpq_div (ratio, quantity->low, (*limit)->low);
  factor = mpq_get_d (ratio);
  mpq_clear (ratio);
  return factor;
}

/* Below a maximum alone there is room for any smaller unit, above a minimum alone for any larger: only what comes near the limit tells a slip. */
static gboolean
is_likely (const PawlLimits *limits, const mpq_t base)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);
  gboolean is_near = TRUE;
  mpq_t bound;

  if (!is_within (limits, base) || (low != NULL && high != NULL))
    return is_within (limits, base);
  mpq_init (bound);
  mpq_set_ui (bound, ODD_FACTOR, 1);
  if (high != NULL)
    {
      mpq_div (bound, high->high, bound);
      is_near = mpq_cmp (base, bound) >= 0;
    }
  else if (low != NULL)
    {
      mpq_mul (bound, low->low, bound);
      is_near = mpq_cmp (base, bound) <= 0;
    }
  mpq_clear (bound);
  return is_near;
}

/* (nullable): the unit in which the number that was typed would be inside */
static const PawlUnit *
find_other_unit (const PawlLimits *limits, const PawlQuantity *quantity)
{
  const PawlUnit *found = NULL;
  mpq_t number, base;

  mpq_inits (number, base, NULL);
  pawl_unit_from_base (quantity->unit, quantity->low, number);
  for (gsize i = 0; i < pawl_n_units && found == NULL; i++)
    {
      if (pawl_units[i].dimension != quantity->unit->dimension)
        continue;
      pawl_unit_to_base (&pawl_units[i], number, base);
      if (is_likely (limits, base))
        found = &pawl_units[i];
    }
  mpq_clears (number, base, NULL);
  return found;
}

/* 1000, 10000, … a million and no more. */
static double
round_down (double factor)
{
  double round = ABSURD_FACTOR;

  while (round < 1e6 && round * 10 <= factor)
    round *= 10;
  return round;
}

static gboolean
doubt_factor (const PawlLimits *limits, const PawlQuantity *quantity, char **sentence)
{
  const PawlQuantity *limit = NULL;
  double factor = get_factor (limits, quantity, &limit);
  const PawlUnit *other = NULL;

  if (factor < ODD_FACTOR && factor > 1.0 / ODD_FACTOR)
    return FALSE;
  if (!quantity->is_interval)
    other = find_other_unit (limits, quantity);
  if (other != NULL)
    return say (sentence, "%s is far outside, and the same number in %s would be inside; is the unit right?", quantity->typed, other->symbol);
  if (factor >= ABSURD_FACTOR)
    return say (sentence, "%s is over %.0f times the limit %s; is the unit right?", quantity->typed, round_down (factor), limit->typed);
  if (factor <= 1.0 / ABSURD_FACTOR)
    return say (sentence, "the limit %s is over %.0f times %s; is the unit right?", limit->typed, round_down (1 / factor), quantity->typed);
  return FALSE;
}

static gboolean
doubt_temperature (const PawlQuantity *quantity, char **sentence)
{
  return mpq_sgn (quantity->low) < 0 && say (sentence, "%s is colder than anything can be; is the unit right?", quantity->typed);
}

gboolean
pawl_reading_is_absurd (const PawlLimits *limits, const PawlQuantity *quantity, char **sentence)
{
  const PawlQuantity *low;

  g_return_val_if_fail (limits != NULL && quantity != NULL, FALSE);
  if (limits->unit == NULL || limits->unit->dimension != quantity->unit->dimension)
    return FALSE;
  if (quantity->unit->dimension == PAWL_DIMENSION_TEMPERATURE)
    return doubt_temperature (quantity, sentence);
  low = pawl_limits_peek_last_low (limits);
  if (mpq_sgn (quantity->low) < 0 && are_above_zero (limits))
    return say (sentence, "%s is below zero, and the limits are not; is the sign right?", quantity->typed);
  if (mpq_sgn (quantity->high) == 0 && low != NULL && mpq_sgn (low->low) > 0)
    return say (sentence, "%s is nothing at all, where at least %s is wanted; was it measured?", quantity->typed, low->typed);
  return doubt_factor (limits, quantity, sentence);
}
