/* Functions whose values have no end: worked out in doubles, each end moved outward. */
#include <math.h>

#include "measure/pawl-formula-run-private.h"

#define DEGREE (G_PI / 180)

/* One step outward, so that rounding never narrows an interval; a point stays one. */
static void
set_function (Range *range, double low, double high)
{
  if (low == high)
    pawl_range_set_double (range, low, high);
  else
    pawl_range_set_double (range, nextafter (low, -INFINITY), nextafter (high, INFINITY));
}

/* Whether a whole number of @period from @first lies within @low to @high, degrees. */
static gboolean
passes (double low, double high, double first, double period)
{
  return floor ((high - first) / period) >= ceil ((low - first) / period);
}

static void
find_sine (const Range *angle, double lead, Range *sine)
{
  double low = mpq_get_d (angle->low) + lead, high = mpq_get_d (angle->high) + lead;
  double a = sin (low * DEGREE), b = sin (high * DEGREE);

  if (pawl_range_is_point (angle))
    b = a;
  set_function (sine, low < high && passes (low, high, -90, 360) ? -1 : MIN (a, b), low < high && passes (low, high, 90, 360) ? 1 : MAX (a, b));
}

static void
apply_sine (Value *value, double lead)
{
  Range slope, degree;

  pawl_range_init (&slope);
  pawl_range_init (&degree);
  find_sine (&value->value, lead + 90, &slope);
  pawl_range_set_double (&degree, DEGREE, DEGREE);
  pawl_range_multiply (&slope, &degree);
  find_sine (&value->value, lead, &value->value);
  pawl_value_scale (value, &slope);
  pawl_range_clear (&slope);
  pawl_range_clear (&degree);
}

/* Functions that only rise, and their slopes; the slope is at its least and most at the ends, or where @flattest lies between them. */
typedef double (*Curve) (double x);

static double get_tangent (double x)       { return tan (x * DEGREE); }
static double get_tangent_slope (double x) { return DEGREE / (cos (x * DEGREE) * cos (x * DEGREE)); }
static double get_arc_sine (double x)      { return asin (x) / DEGREE; }
static double get_arc_sine_slope (double x) { return 1 / (DEGREE * sqrt (1 - x * x)); }
static double get_arc_tangent (double x)   { return atan (x) / DEGREE; }
static double get_arc_tangent_slope (double x) { return 1 / (DEGREE * (1 + x * x)); }
static double get_root_slope (double x)    { return 0.5 / sqrt (x); }

static void
apply_rising (Value *value, Curve curve, Curve get_slope, double turning)
{
  double low = mpq_get_d (value->value.low), high = mpq_get_d (value->value.high);
  double a = get_slope (low), b = get_slope (high), between = low < turning && turning < high ? get_slope (turning) : a;
  Range slope;

  pawl_range_init (&slope);
  set_function (&slope, MIN (MIN (a, b), between), MAX (MAX (a, b), between));
  set_function (&value->value, curve (low), curve (high));
  pawl_value_scale (value, &slope);
  pawl_range_clear (&slope);
}

/* Exact where number and root are both fractions of whole numbers. */
static gboolean
take_exact_root (mpq_t value)
{
  if (!mpz_perfect_square_p (mpq_numref (value)) || !mpz_perfect_square_p (mpq_denref (value)))
    return FALSE;
  mpz_sqrt (mpq_numref (value), mpq_numref (value));
  mpz_sqrt (mpq_denref (value), mpq_denref (value));
  return TRUE;
}

/* At the end of where a curve is, its slope has no value. A number that stands there exactly, and can't be off, needs none. */
static gboolean
take_end (Run *run, Value *value, double end, double at_end)
{
  Range none;

  if (!pawl_range_is_point (&value->value) || mpq_cmp_si (value->value.low, (long) end, 1) != 0 || pawl_value_get_uncertainty (value, run->inputs) > 0)
    return FALSE;
  pawl_range_init (&none);
  pawl_value_scale (value, &none);
  pawl_range_clear (&none);
  pawl_range_set_double (&value->value, at_end, at_end);
  return TRUE;
}

static gboolean
apply_root (Run *run, const Node *node, Value *value)
{
  mpq_t low, high;

  if (take_end (run, value, 0, 0))
    return TRUE;
  if (mpq_sgn (value->value.low) <= 0)
    return pawl_formula_fault (run->error, PAWL_FORMULA_ERROR_VALUE, node->place, "the root is taken of a number that is not above zero with these readings");
  mpq_inits (low, high, NULL);
  mpq_set (low, value->value.low);
  mpq_set (high, value->value.high);
  apply_rising (value, sqrt, get_root_slope, 0);
  if (take_exact_root (low) && take_exact_root (high))
    {
      mpq_set (value->value.low, low);
      mpq_set (value->value.high, high);
    }
  else
    run->is_rounded = TRUE;
  mpq_clears (low, high, NULL);
  return TRUE;
}

static gboolean
apply_tangent (Run *run, const Node *node, Value *value)
{
  double low = mpq_get_d (value->value.low), high = mpq_get_d (value->value.high);

  if (passes (low, high, 90, 180))
    return pawl_formula_fault (run->error, PAWL_FORMULA_ERROR_VALUE, node->place, "the tangent of a right angle has no value");
  apply_rising (value, get_tangent, get_tangent_slope, 180 * round (low / 180));
  return TRUE;
}

static gboolean
apply_arc_sine (Run *run, const Node *node, Value *value)
{
  if (take_end (run, value, 1, 90) || take_end (run, value, -1, -90))
    return TRUE;
  if (mpq_cmp_si (value->value.low, -1, 1) <= 0 || mpq_cmp_si (value->value.high, 1, 1) >= 0)
    return pawl_formula_fault (run->error, PAWL_FORMULA_ERROR_VALUE, node->place, "this should be between -1 and 1 and is not with these readings");
  apply_rising (value, get_arc_sine, get_arc_sine_slope, 0);
  return TRUE;
}

static void
apply_constant (Value *value, double factor)
{
  Range range;

  pawl_range_init (&range);
  pawl_range_set_double (&range, factor, factor);
  pawl_range_multiply (&value->value, &range);
  pawl_value_scale (value, &range);
  pawl_range_clear (&range);
}

/* 90° - asin x */
static gboolean
apply_arc_cosine (Run *run, const Node *node, Value *value)
{
  Range right_angle;

  if (!apply_arc_sine (run, node, value))
    return FALSE;
  pawl_value_negate (value);
  pawl_range_init (&right_angle);
  pawl_range_set_double (&right_angle, 90, 90);
  pawl_range_add (&value->value, &right_angle);
  pawl_range_clear (&right_angle);
  return TRUE;
}

gboolean
pawl_run_apply_curve (Run *run, const Node *node, Value *value)
{
  if (node->kind != NODE_SQRT)
    run->is_rounded = TRUE;
  switch (node->kind)
    {
    case NODE_SQRT: return apply_root (run, node, value);
    case NODE_SIN:  apply_sine (value, 0); return TRUE;
    case NODE_COS:  apply_sine (value, 90); return TRUE;
    case NODE_TAN:  return apply_tangent (run, node, value);
    case NODE_ASIN: return apply_arc_sine (run, node, value);
    case NODE_ACOS: return apply_arc_cosine (run, node, value);
    case NODE_ATAN: apply_rising (value, get_arc_tangent, get_arc_tangent_slope, 0); return TRUE;
    case NODE_ARC: case NODE_RAD: apply_constant (value, DEGREE); return TRUE;
    default:        g_return_val_if_reached (FALSE);
    }
}
