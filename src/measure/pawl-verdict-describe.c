/* Verdicts in words, in the units that the reading was made in. */
#include <math.h>

#include "measure/pawl-limits-private.h"
#include "measure/pawl-verdict.h"

/* The limit as written, and beside it in the unit of the reading where that is another. */
static char *
describe_limit (const PawlQuantity *limit, const PawlQuantity *quantity)
{
  g_autofree char *written = pawl_quantity_format (limit, quantity->decimal_mark);
  g_autofree char *converted = NULL;

  if (limit->unit == quantity->unit)
    return g_steal_pointer (&written);
  converted = pawl_quantity_format_in (limit, quantity->unit, quantity->decimal_mark);
  return g_strdup_printf ("%s (%s)", written, converted);
}

/* How far the reading's far end is past @limit, in its own unit. */
static char *
describe_distance (const PawlQuantity *quantity, const PawlQuantity *limit, PawlSide side)
{
  const PawlUnit *unit = pawl_unit_get_difference (quantity->unit);
  char *text;
  mpq_t distance;

  mpq_init (distance);
  if (side == PAWL_SIDE_BELOW)
    mpq_sub (distance, limit->low, quantity->low);
  else
    mpq_sub (distance, quantity->high, limit->high);
  pawl_unit_from_base (unit, distance, distance);
  text = pawl_value_format (distance, unit, quantity->decimal_mark);
  mpq_clear (distance);
  return text;
}

static char *
describe_out (PawlSide side, const PawlQuantity *limit, const PawlQuantity *quantity)
{
  g_autofree char *distance = describe_distance (quantity, limit, side);
  g_autofree char *limit_text = describe_limit (limit, quantity);

  return g_strdup_printf ("out: %s%s %s the limit %s", quantity->is_interval ? "up to " : "", distance,
                          side == PAWL_SIDE_BELOW ? "below" : "above", limit_text);
}

static char *
describe_guard (const PawlVerdict *verdict, const PawlLimits *limits, const PawlQuantity *quantity)
{
  const PawlUnit *own = pawl_unit_get_difference (quantity->unit);
  char *text;
  mpq_t guard;

  mpq_init (guard);
  mpq_set_d (guard, verdict->guard);
  pawl_unit_to_base (pawl_unit_get_difference (limits->unit), guard, guard);
  pawl_unit_from_base (own, guard, guard);
  text = pawl_value_format (guard, own, quantity->decimal_mark);
  mpq_clear (guard);
  return text;
}

/* In whole per cent, and never 0 or 100: that would be decided. */
static char *
describe_doubt (const PawlVerdict *verdict, const char *limit_text)
{
  return g_strdup_printf ("too close to call at the limit %s: it conforms with a probability of %.0f %%, %.4g %% are wanted", limit_text,
                          CLAMP (verdict->probability * 100, 1, 99), 100 - verdict->policy.risk / 10.0);
}

static char *
describe_too_close (const PawlVerdict *verdict, const PawlLimits *limits, const PawlQuantity *limit, const PawlQuantity *quantity)
{
  g_autofree char *limit_text = describe_limit (limit, quantity);
  g_autofree char *guard = NULL;

  if (verdict->policy.kind == PAWL_DECIDES_BY_RISK)
    return describe_doubt (verdict, limit_text);
  if (quantity->is_interval && verdict->guard <= 0)
    return g_strdup_printf ("too close to call: the limit %s lies in the bracket", limit_text);
  guard = describe_guard (verdict, limits, quantity);
  return g_strdup_printf ("too close to call: less than %s, %s, from the limit %s",
                          verdict->policy.kind == PAWL_DECIDES_BY_PROOF ? "what proves it to 95 %" : "its U", guard, limit_text);
}

static char *
describe_worn (const PawlLimits *limits, const PawlQuantity *quantity)
{
  gboolean is_above = limits->high != NULL && mpq_cmp (quantity->high, limits->high->high) > 0;
  const PawlQuantity *wear = is_above ? pawl_limits_peek_last_high (limits) : pawl_limits_peek_last_low (limits);
  const PawlQuantity *limit = is_above ? limits->high : limits->low;
  g_autofree char *distance = describe_distance (quantity, limit, is_above ? PAWL_SIDE_ABOVE : PAWL_SIDE_BELOW);
  g_autofree char *limit_text = describe_limit (limit, quantity);
  g_autofree char *wear_text = describe_limit (wear, quantity);

  return g_strdup_printf ("in, but worn: %s %s the limit %s of a new part, inside the wear limit %s", distance,
                          is_above ? "above" : "below", limit_text, wear_text);
}

/**
 * pawl_verdict_describe:
 * @verdict: as pawl_verdict_of() gave it for @limits and @quantity
 * @quantity: (nullable): %NULL for a choice
 *
 * Returns: (transfer full): "in", "out: 0.2 mm above the limit 33.5 mm", "too close to call: …", in the unit and with the decimal mark that the
 *   reading was typed with
 */
char *
pawl_verdict_describe (const PawlVerdict *verdict, const PawlLimits *limits, const PawlQuantity *quantity)
{
  const PawlQuantity *limit;

  g_return_val_if_fail (verdict != NULL && limits != NULL, NULL);
  limit = verdict->side == PAWL_SIDE_BELOW ? pawl_limits_peek_last_low (limits) : pawl_limits_peek_last_high (limits);
  if (quantity == NULL || (verdict->kind != PAWL_VERDICT_IN && limit == NULL))
    return g_strdup (pawl_verdict_get_word (verdict->kind));
  switch (verdict->kind)
    {
    case PAWL_VERDICT_OUT:
      return describe_out (verdict->side, limit, quantity);
    case PAWL_VERDICT_TOO_CLOSE:
      return describe_too_close (verdict, limits, limit, quantity);
    case PAWL_VERDICT_IN:
    default:
      return verdict->is_worn ? describe_worn (limits, quantity) : g_strdup ("in");
    }
}
