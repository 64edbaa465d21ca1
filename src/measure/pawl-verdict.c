/* Verdicts: a reading against its limits, decided exactly. */
#include <math.h>
#include <string.h>

#include "measure/pawl-instrument-private.h"
#include "measure/pawl-limits-private.h"

/* Everything in base units. */
typedef struct {
  mpq_t low;           /* the reading's ends */
  mpq_t high;
  mpq_t guard_squared; /* U²; 0 under simple acceptance */
} Judged;

/* Where a reading stands to one limit. */
typedef enum {
  STANDS_INSIDE,
  STANDS_OUTSIDE,
  STANDS_TOO_CLOSE,
} Standing;

static gboolean
is_at_least_guard (const mpq_t distance, const mpq_t guard_squared)
{
  mpq_t square;
  gboolean is_far;

  if (mpq_sgn (distance) < 0)
    return FALSE;
  mpq_init (square);
  mpq_mul (square, distance, distance);
  is_far = mpq_cmp (square, guard_squared) >= 0;
  mpq_clear (square);
  return is_far;
}

/*
 * @inner and @outer: how far the reading's two ends are past the limit, outward positive; equal unless it is an interval.
 * A limit met exactly is inside. With a guard band nothing nearer than U is decided, on either side.
 */
static Standing
find_standing (const mpq_t inner, const mpq_t outer, const mpq_t guard_squared)
{
  Standing standing = STANDS_TOO_CLOSE;
  mpq_t room;

  mpq_init (room);
  mpq_neg (room, outer);
  if (is_at_least_guard (room, guard_squared))
    standing = STANDS_INSIDE;
  else if (mpq_sgn (inner) > 0 && is_at_least_guard (inner, guard_squared))
    standing = STANDS_OUTSIDE;
  mpq_clear (room);
  return standing;
}

static Standing
stand_to_high (const Judged *judged, const PawlQuantity *limit, mpq_t outer)
{
  Standing standing;
  mpq_t inner;

  mpq_init (inner);
  mpq_sub (inner, judged->low, limit->high);
  mpq_sub (outer, judged->high, limit->high);
  standing = find_standing (inner, outer, judged->guard_squared);
  mpq_clear (inner);
  return standing;
}

static Standing
stand_to_low (const Judged *judged, const PawlQuantity *limit, mpq_t outer)
{
  Standing standing;
  mpq_t inner;

  mpq_init (inner);
  mpq_sub (inner, limit->low, judged->high);
  mpq_sub (outer, limit->low, judged->low);
  standing = find_standing (inner, outer, judged->guard_squared);
  mpq_clear (inner);
  return standing;
}

/* The excess of an interval is that of its far end. */
static double
get_excess (const mpq_t outer, const PawlUnit *unit)
{
  mpq_t factor;
  double number;

  if (mpq_sgn (outer) <= 0)
    return 0;
  mpq_init (factor);
  pawl_unit_get_factor (unit, factor);
  mpq_div (factor, outer, factor);
  number = mpq_get_d (factor);
  mpq_clear (factor);
  return number;
}

/* The worse of two sides stands: out before too close before in; of two that are too close, the nearer limit. */
static void
add_side (PawlVerdict *verdict, Standing standing, PawlSide side, const mpq_t outer, mpq_t nearest, const PawlUnit *unit)
{
  PawlVerdictKind kind = standing == STANDS_OUTSIDE ? PAWL_VERDICT_OUT : PAWL_VERDICT_TOO_CLOSE;

  if (standing == STANDS_INSIDE || verdict->kind == PAWL_VERDICT_OUT)
    return;
  if (verdict->kind == kind && mpq_cmp (outer, nearest) <= 0)
    return;
  verdict->kind = kind;
  verdict->side = side;
  verdict->excess = get_excess (outer, unit);
  mpq_set (nearest, outer);
}

static void
judge (const PawlLimits *limits, const Judged *judged, PawlVerdict *verdict)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits);
  const PawlQuantity *high = pawl_limits_peek_last_high (limits);
  mpq_t outer, nearest;

  mpq_inits (outer, nearest, NULL);
  verdict->kind = PAWL_VERDICT_IN;
  if (high != NULL)
    {
      Standing standing = stand_to_high (judged, high, outer);

      add_side (verdict, standing, PAWL_SIDE_ABOVE, outer, nearest, limits->unit);
    }
  if (low != NULL)
    {
      Standing standing = stand_to_low (judged, low, outer);

      add_side (verdict, standing, PAWL_SIDE_BELOW, outer, nearest, limits->unit);
    }
  mpq_clears (outer, nearest, NULL);
}

static gboolean
is_past_new_limits (const PawlLimits *limits, const Judged *judged)
{
  return (limits->high != NULL && mpq_cmp (judged->high, limits->high->high) > 0)
         || (limits->low != NULL && mpq_cmp (judged->low, limits->low->low) < 0);
}

static gboolean
check_dimension (const PawlLimits *limits, const PawlQuantity *quantity, GError **error)
{
  const PawlUnit *unit = quantity->unit;

  if (unit->dimension == limits->unit->dimension)
    return TRUE;
  g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION,
               "“%s” is %s, but the limits “%s” are for %s; write for example %s",
               quantity->typed, pawl_dimension_get_phrase (unit->dimension), limits->text,
               pawl_dimension_get_phrase (limits->unit->dimension), pawl_unit_get_example (limits->unit));
  return FALSE;
}

static gboolean
set_guard (const PawlLimits *limits, const PawlInstrument *instrument, PawlPolicy policy, Judged *judged, PawlVerdict *verdict, GError **error)
{
  mpq_t factor;

  if (policy != PAWL_POLICY_GUARD_BAND)
    return TRUE;
  if (!pawl_instrument_get_expanded_squared (instrument, limits->unit->dimension, judged->high, judged->guard_squared))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION,
                   "the error or step of %s is not %s, so the guard band at the limits “%s” is not known; state it as in %s",
                   instrument->name != NULL ? instrument->name : "the instrument", pawl_dimension_get_phrase (limits->unit->dimension),
                   limits->text, pawl_unit_get_example (limits->unit));
      return FALSE;
    }
  mpq_init (factor);
  pawl_unit_get_factor (limits->unit, factor);
  verdict->guard = sqrt (mpq_get_d (judged->guard_squared)) / mpq_get_d (factor);
  mpq_clear (factor);
  return TRUE;
}

static gboolean
judge_quantity (const PawlLimits *limits, const PawlQuantity *quantity, const PawlInstrument *instrument, PawlPolicy policy,
                PawlVerdict *verdict, GError **error)
{
  Judged judged;
  gboolean is_good;

  if (!check_dimension (limits, quantity, error))
    return FALSE;
  mpq_inits (judged.low, judged.high, judged.guard_squared, NULL);
  pawl_quantity_get_base (quantity, judged.low, judged.high);
  is_good = set_guard (limits, instrument, policy, &judged, verdict, error);
  if (is_good)
    {
      judge (limits, &judged, verdict);
      verdict->is_worn = verdict->kind == PAWL_VERDICT_IN && is_past_new_limits (limits, &judged);
    }
  mpq_clears (judged.low, judged.high, judged.guard_squared, NULL);
  return is_good;
}

static gboolean
is_among (const char *outcome, char **words)
{
  g_autofree char *bare = g_strstrip (g_strdup (outcome));

  for (; *words != NULL; words++)
    if (g_ascii_strcasecmp (*words, bare) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
judge_outcome (const PawlLimits *limits, const char *outcome, PawlVerdict *verdict, GError **error)
{
  if (!is_among (outcome, limits->outcomes))
    {
      g_autofree char *valid = g_utf8_make_valid (outcome, (gssize) strnlen (outcome, PAWL_TYPED_MAX));
      g_autofree char *outcomes = g_strjoinv (", ", limits->outcomes);

      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_OFFERED, "“%s” is no answer here; it is one of: %s", valid, outcomes);
      return FALSE;
    }
  verdict->kind = is_among (outcome, limits->acceptable) ? PAWL_VERDICT_IN : PAWL_VERDICT_OUT;
  return TRUE;
}

/**
 * pawl_verdict_of:
 * @quantity: (nullable): the reading, for limits that are numbers
 * @outcome: (nullable): the answer, for PAWL_LIMITS_CHOICE, in any case
 * @instrument: (nullable): what it was read with; unknown means no uncertainty
 * @policy: how close is too close
 * @verdict: (out): set on success
 * @error: PAWL_READING_ERROR_WRONG_DIMENSION; _NOT_OFFERED for an outcome that is none; _EMPTY when the wanted one of
 *   @quantity and @outcome is missing
 *
 * Decided on exact values. Under simple acceptance a reading on its limit is in. With a guard band, a reading nearer to a limit
 * than U is too close to call, on either side of it; one exactly U away is decided. A bracket is in when the whole of it is, out
 * when the whole of it is out, and else too close. Where a wear limit is given it is the one that decides; a reading between it and the
 * limit of a new part is in, and worn.
 *
 * Source: simple acceptance and guard band w = U as in ILAC-G8:09/2019 and JCGM 106:2012 8.2 (from memory).
 *
 * Returns: TRUE when a verdict could be given; out of limits is a verdict, no error
 */
gboolean
pawl_verdict_of (const PawlLimits *limits, const PawlQuantity *quantity, const char *outcome, const PawlInstrument *instrument,
                 PawlPolicy policy, PawlVerdict *verdict, GError **error)
{
  gboolean is_choice;

  g_return_val_if_fail (limits != NULL && verdict != NULL, FALSE);
  *verdict = (PawlVerdict) { 0 };
  is_choice = limits->kind == PAWL_LIMITS_CHOICE;
  if (is_choice ? outcome == NULL : quantity == NULL)
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_EMPTY, "no %s is given to hold against “%s”",
                   is_choice ? "answer" : "reading", limits->text);
      return FALSE;
    }
  return is_choice ? judge_outcome (limits, outcome, verdict, error)
                   : judge_quantity (limits, quantity, instrument, policy, verdict, error);
}

/**
 * pawl_verdict_get_word:
 *
 * Returns: "in", "out" or "too close"
 */
const char *
pawl_verdict_get_word (PawlVerdictKind kind)
{
  static const char * const words[] = { [PAWL_VERDICT_IN] = "in", [PAWL_VERDICT_OUT] = "out", [PAWL_VERDICT_TOO_CLOSE] = "too close" };

  g_return_val_if_fail ((guint) kind < G_N_ELEMENTS (words), "");
  return words[kind];
}

/**
 * pawl_policy_get_statement:
 *
 * Returns: a sentence that states the decision rule, to be printed with every report
 */
const char *
pawl_policy_get_statement (PawlPolicy policy)
{
  static const char * const statements[] = {
    [PAWL_POLICY_SIMPLE] = "Simple acceptance: a reading on or inside its limits is in; no guard band is taken off "
                           "for the uncertainty of the instrument (ILAC-G8).",
    [PAWL_POLICY_GUARD_BAND] = "Guard band: a reading nearer to a limit, on either side, than the expanded uncertainty U "
                               "of the instrument (k = 2) is too close to call (ILAC-G8).",
  };

  g_return_val_if_fail ((guint) policy < G_N_ELEMENTS (statements), "");
  return statements[policy];
}
