/* Verdicts: a reading against its limits, decided exactly. */
#include <math.h>
#include <string.h>

#include "measure/pawl-limits-private.h"
#include "measure/pawl-statistics.h"
#include "measure/pawl-uncertainty-private.h"
#include "measure/pawl-verdict.h"

/* Everything in base units. */
typedef struct {
  mpq_t low;           /* the reading's ends */
  mpq_t high;
  mpq_t guard_squared; /* 0 under simple acceptance */
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
check_limits (const PawlLimits *limits, const PawlQuantity *quantity, GError **error)
{
  const PawlUnit *unit = quantity->unit;

  if (limits->kind == PAWL_LIMITS_FOLLOWS)
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_BAD_LIMITS, "the limits are %s, which is not known yet; take that reading first", limits->text);
      return FALSE;
    }
  if (unit->dimension == limits->unit->dimension)
    return TRUE;
  g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION,
               "“%s” is %s, but the limits “%s” are for %s; write for example %s",
               quantity->typed, pawl_dimension_get_phrase (unit->dimension), limits->text,
               pawl_dimension_get_phrase (limits->unit->dimension), pawl_unit_get_example (limits->unit));
  return FALSE;
}

/* ---- how close is too close ---- */

/* One-sided 95 % of the normal distribution, as ISO 14253-1 rounds it, and of the t distribution where the spread is known by a few readings only. */
#define PROOF_NUMERATOR   33
#define PROOF_DENOMINATOR 20
#define PROOF_SHARE       0.95

/* The square of the guard band: exact where its factor is, so that a reading exactly that far inside is decided. */
static void
set_guard (const PawlVariance *variance, const PawlBudget *budget, PawlPolicyKind kind, mpq_t guard_squared)
{
  gboolean is_normal = isinf (budget->degrees);

  if (kind == PAWL_DECIDES_BY_U && is_normal)
    mpq_set_ui (guard_squared, 4, 1);
  else if (kind == PAWL_DECIDES_BY_U)
    mpq_set_d (guard_squared, budget->coverage * budget->coverage);
  else if (is_normal)
    mpq_set_ui (guard_squared, PROOF_NUMERATOR * PROOF_NUMERATOR, PROOF_DENOMINATOR * PROOF_DENOMINATOR);
  else
    {
      double factor = pawl_t_quantile (PROOF_SHARE, budget->degrees);

      mpq_set_d (guard_squared, factor * factor);
    }
  mpq_mul (guard_squared, guard_squared, variance->combined);
}

static gboolean
refuse_instrument (const PawlLimits *limits, const PawlInstrument *instrument, GError **error)
{
  g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION,
               "the error or step of %s is not %s, so the guard band at the limits “%s” is not known; state it as in %s",
               instrument->name != NULL ? instrument->name : "the instrument", pawl_dimension_get_phrase (limits->unit->dimension),
               limits->text, pawl_unit_get_example (limits->unit));
  return FALSE;
}

static void
settle_guard (const PawlVariance *variance, guint n, const PawlUnit *unit, Judged *judged, PawlVerdict *verdict, double *u)
{
  PawlBudget budget;

  pawl_variance_make_budget (variance, n, unit, &budget);
  verdict->expanded = budget.expanded;
  verdict->standard = *u = budget.combined;
  if (verdict->policy.kind != PAWL_DECIDES_BY_U && verdict->policy.kind != PAWL_DECIDES_BY_PROOF)
    return;
  set_guard (variance, &budget, verdict->policy.kind, judged->guard_squared);
  verdict->guard = sqrt (mpq_get_d (judged->guard_squared)) / pawl_unit_get_scale (unit);
}

/* What is not known of the instrument guards nothing; simple acceptance does not ask. */
static gboolean
settle_uncertainty (const PawlLimits *limits, PawlQuantity * const *readings, guint n, const PawlInstrument *instrument, Judged *judged,
                    PawlVerdict *verdict, double *u, GError **error)
{
  g_auto(PawlVariance) variance = { 0 };

  pawl_variance_init (&variance);
  if (!pawl_variance_add_instrument (&variance, instrument, limits->unit->dimension, judged->high))
    {
      if (verdict->policy.kind != PAWL_DECIDES_SIMPLY)
        return refuse_instrument (limits, instrument, error);
      mpq_set_ui (variance.combined, 0, 1);
    }
  pawl_variance_add_repeats (&variance, readings, n);
  settle_guard (&variance, n, limits->unit, judged, verdict, u);
  return TRUE;
}

/* ---- conformance ---- */

/* The integral of Φ: z Φ (z) + φ (z). */
static double
integrate_normal (double z)
{
  return z * pawl_normal_probability (z) + exp (-z * z / 2) / sqrt (2 * G_PI);
}

/* The probability that a value from @from to @to, known to @u, lies below @limit. */
static double
get_share_below (double limit, double from, double to, double u)
{
  if (u <= 0)
    return to > from ? CLAMP ((limit - from) / (to - from), 0, 1) : from <= limit;
  if (to - from < 1e-9 * u)
    return pawl_normal_probability ((limit - (from + to) / 2) / u);
  return u * (integrate_normal ((limit - from) / u) - integrate_normal ((limit - to) / u)) / (to - from);
}

static double
get_double (const mpq_t base, const PawlUnit *unit)
{
  double number;
  mpq_t value;

  mpq_init (value);
  pawl_unit_from_base (unit, base, value);
  number = mpq_get_d (value);
  mpq_clear (value);
  return number;
}

double
pawl_conformance_get_probability (const PawlLimits *limits, const PawlQuantity *reading, double u)
{
  const PawlQuantity *low, *high;
  double from, to, below_high = 1, below_low = 0;

  g_return_val_if_fail (limits != NULL && limits->unit != NULL && reading != NULL, NAN);
  low = pawl_limits_peek_last_low (limits);
  high = pawl_limits_peek_last_high (limits);
  if (u <= 0 && !reading->is_interval) /* known exactly, and so decided */
    return (low == NULL || mpq_cmp (reading->low, low->low) >= 0) && (high == NULL || mpq_cmp (reading->high, high->high) <= 0);
  from = get_double (reading->low, limits->unit);
  to = get_double (reading->high, limits->unit);
  if (high != NULL)
    below_high = get_share_below (get_double (high->high, limits->unit), from, to, u);
  if (low != NULL) /* what lies on the limit is inside: mirrored */
    below_low = 1 - get_share_below (-get_double (low->low, limits->unit), -to, -from, u);
  return CLAMP (below_high - below_low, 0, 1);
}

/* The limit that the reading is nearest to, seen from inside. */
static PawlSide
find_nearer_side (const PawlLimits *limits, const Judged *judged)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);
  PawlSide side;
  mpq_t to_low, to_high;

  if (low == NULL || high == NULL)
    return low == NULL ? PAWL_SIDE_ABOVE : PAWL_SIDE_BELOW;
  mpq_inits (to_low, to_high, NULL);
  mpq_sub (to_low, judged->low, low->low);
  mpq_sub (to_high, high->high, judged->high);
  side = mpq_cmp (to_low, to_high) < 0 ? PAWL_SIDE_BELOW : PAWL_SIDE_ABOVE;
  mpq_clears (to_low, to_high, NULL);
  return side;
}

/* Simple acceptance has said on which side it lies, and how far. */
static void
judge_by_risk (const PawlLimits *limits, const Judged *judged, PawlVerdict *verdict)
{
  double risk = verdict->policy.risk / 1000.0;
  PawlVerdictKind kind = verdict->probability >= 1 - risk ? PAWL_VERDICT_IN : verdict->probability <= risk ? PAWL_VERDICT_OUT : PAWL_VERDICT_TOO_CLOSE;

  verdict->kind = kind;
  if (kind == PAWL_VERDICT_IN)
    {
      verdict->side = PAWL_SIDE_NEITHER;
      verdict->excess = 0;
    }
  else if (verdict->side == PAWL_SIDE_NEITHER)
    verdict->side = find_nearer_side (limits, judged);
}

static void
judge_all (const PawlLimits *limits, const PawlQuantity *value, double u, const Judged *judged, PawlVerdict *verdict)
{
  judge (limits, judged, verdict);
  verdict->probability = pawl_conformance_get_probability (limits, value, u);
  if (verdict->policy.kind == PAWL_DECIDES_BY_RISK)
    judge_by_risk (limits, judged, verdict);
  verdict->is_worn = verdict->kind == PAWL_VERDICT_IN && is_past_new_limits (limits, judged);
}

static gboolean
judge_readings (const PawlLimits *limits, PawlQuantity * const *readings, guint n, const PawlInstrument *instrument, PawlVerdict *verdict, GError **error)
{
  g_autoptr(PawlQuantity) mean = pawl_readings_get_mean (readings, n);
  Judged judged;
  gboolean is_good;
  double u = 0;

  mpq_inits (judged.low, judged.high, judged.guard_squared, NULL);
  pawl_quantity_get_base (mean, judged.low, judged.high);
  is_good = settle_uncertainty (limits, readings, n, instrument, &judged, verdict, &u, error);
  if (is_good)
    judge_all (limits, mean, u, &judged, verdict);
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
  PawlQuantity *readings[] = { (PawlQuantity *) quantity };
  gboolean is_choice;

  g_return_val_if_fail (limits != NULL && verdict != NULL, FALSE);
  *verdict = (PawlVerdict) { .policy = policy, .probability = NAN };
  is_choice = limits->kind == PAWL_LIMITS_CHOICE;
  if (is_choice ? outcome == NULL : quantity == NULL)
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_EMPTY, "no %s is given to hold against “%s”",
                   is_choice ? "answer" : "reading", limits->text);
      return FALSE;
    }
  return is_choice ? judge_outcome (limits, outcome, verdict, error)
                   : pawl_verdict_of_set (limits, readings, 1, instrument, policy, verdict, error);
}

gboolean
pawl_verdict_of_set (const PawlLimits *limits, PawlQuantity * const *readings, guint n, const PawlInstrument *instrument, PawlPolicy policy,
                     PawlVerdict *verdict, GError **error)
{
  g_return_val_if_fail (limits != NULL && limits->unit != NULL && readings != NULL && n > 0 && verdict != NULL, FALSE);
  *verdict = (PawlVerdict) { .policy = policy, .probability = NAN };
  for (guint i = 0; i < n; i++)
    if (!check_limits (limits, readings[i], error))
      return FALSE;
  return judge_readings (limits, readings, n, instrument, verdict, error);
}

gboolean
pawl_verdict_of_worked_out (const PawlLimits *limits, PawlQuantity *quantity, double u, PawlPolicy policy, PawlVerdict *verdict, GError **error)
{
  g_auto(PawlVariance) variance = { 0 };
  Judged judged;
  double own_u;

  g_return_val_if_fail (limits != NULL && limits->unit != NULL && quantity != NULL && verdict != NULL, FALSE);
  *verdict = (PawlVerdict) { .policy = policy, .probability = NAN };
  if (!check_limits (limits, quantity, error))
    return FALSE;
  pawl_variance_init (&variance);
  mpq_set_d (variance.error, u * u);
  mpq_set (variance.combined, variance.error);
  mpq_inits (judged.low, judged.high, judged.guard_squared, NULL);
  pawl_quantity_get_base (quantity, judged.low, judged.high);
  settle_guard (&variance, 1, limits->unit, &judged, verdict, &own_u);
  judge_all (limits, quantity, own_u, &judged, verdict);
  mpq_clears (judged.low, judged.high, judged.guard_squared, NULL);
  return TRUE;
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
