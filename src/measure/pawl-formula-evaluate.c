/*
 * The value of a formula: interval arithmetic on exact rationals, with the derivative by each input carried along (forward differentiation). A plain
 * reading is an interval of no width, so one code serves both.
 */
#include <math.h>
#include <string.h>

#include "measure/pawl-formula-private.h"
#include "measure/pawl-number-private.h"
#include "measure/pawl-quantity-private.h"

typedef struct {
  mpq_t low, high;
} Range;

typedef struct {
  guint  n;        /* inputs */
  Range  value;
  Range *slopes;   /* (array length=n) derivative by each input */
} Value;

typedef struct {
  const PawlFormula      *formula;
  const PawlFormulaInput *inputs;
  Range                  *at;         /* (array): what each input is taken to be */
  gboolean                is_central; /* at the middles of the inputs: here an uncertain zero is no divisor */
  gboolean                is_rounded;
  GError                **error;
} Run;

/* ---- ranges ---- */

static void
range_init (Range *self)
{
  mpq_inits (self->low, self->high, NULL);
}

static void
range_clear (Range *self)
{
  mpq_clears (self->low, self->high, NULL);
}

static void
range_set (Range *self, const Range *other)
{
  mpq_set (self->low, other->low);
  mpq_set (self->high, other->high);
}

static void
range_set_double (Range *self, double low, double high)
{
  mpq_set_d (self->low, low);
  mpq_set_d (self->high, high);
}

static gboolean
range_is_point (const Range *self)
{
  return mpq_equal (self->low, self->high) != 0;
}

static gboolean
range_holds_zero (const Range *self)
{
  return mpq_sgn (self->low) <= 0 && mpq_sgn (self->high) >= 0;
}

static void
range_add (Range *self, const Range *other)
{
  mpq_add (self->low, self->low, other->low);
  mpq_add (self->high, self->high, other->high);
}

static void
range_negate (Range *self)
{
  mpq_neg (self->low, self->low);
  mpq_neg (self->high, self->high);
  mpq_swap (self->low, self->high);
}

/* The narrowest that holds both. */
static void
range_join (Range *self, const Range *other)
{
  if (mpq_cmp (other->low, self->low) < 0)
    mpq_set (self->low, other->low);
  if (mpq_cmp (other->high, self->high) > 0)
    mpq_set (self->high, other->high);
}

static void
range_multiply (Range *self, const Range *other)
{
  Range product;
  mpq_t corner;

  range_init (&product);
  mpq_init (corner);
  mpq_mul (product.low, self->low, other->low);
  mpq_set (product.high, product.low);
  for (int i = 1; i < 4 && !(range_is_point (self) && range_is_point (other)); i++)
    {
      mpq_mul (corner, i & 1 ? self->high : self->low, i & 2 ? other->high : other->low);
      if (mpq_cmp (corner, product.low) < 0)
        mpq_set (product.low, corner);
      if (mpq_cmp (corner, product.high) > 0)
        mpq_set (product.high, corner);
    }
  range_set (self, &product);
  range_clear (&product);
  mpq_clear (corner);
}

/* Zero is not in @self. */
static void
range_invert (Range *self)
{
  mpq_inv (self->low, self->low);
  mpq_inv (self->high, self->high);
  mpq_swap (self->low, self->high);
}

/* ---- values ---- */

static Value *
value_new (guint n)
{
  Value *self = g_new0 (Value, 1);

  self->n = n;
  self->slopes = g_new0 (Range, MAX (n, 1));
  range_init (&self->value);
  for (guint i = 0; i < n; i++)
    range_init (&self->slopes[i]);
  return self;
}

static void
value_free (Value *self)
{
  range_clear (&self->value);
  for (guint i = 0; i < self->n; i++)
    range_clear (&self->slopes[i]);
  g_free (self->slopes);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Value, value_free)

static void
value_scale (Value *self, const Range *factor)
{
  for (guint i = 0; i < self->n; i++)
    range_multiply (&self->slopes[i], factor);
}

static void
value_add_slopes (Value *self, const Value *other)
{
  for (guint i = 0; i < self->n; i++)
    range_add (&self->slopes[i], &other->slopes[i]);
}

static void
value_negate (Value *self)
{
  range_negate (&self->value);
  for (guint i = 0; i < self->n; i++)
    range_negate (&self->slopes[i]);
}

static void
value_add (Value *self, const Value *other)
{
  range_add (&self->value, &other->value);
  value_add_slopes (self, other);
}

static void
value_multiply (Value *self, Value *other)
{
  value_scale (self, &other->value);
  value_scale (other, &self->value);
  value_add_slopes (self, other);
  range_multiply (&self->value, &other->value);
}

/* d(1/x) = -1/x² dx */
static void
value_invert (Value *self)
{
  Range slope;

  range_invert (&self->value);
  range_init (&slope);
  range_set (&slope, &self->value);
  range_multiply (&slope, &self->value);
  range_negate (&slope);
  value_scale (self, &slope);
  range_clear (&slope);
}

/* u² = Σ (∂f/∂xᵢ uᵢ)² (JCGM 100:2008, equation 10), base units. At a kink the steeper side counts. */
static double
get_uncertainty (const Value *value, const PawlFormulaInput *inputs)
{
  double sum = 0;

  for (guint i = 0; i < value->n; i++)
    {
      double slope = MAX (fabs (mpq_get_d (value->slopes[i].low)), fabs (mpq_get_d (value->slopes[i].high)));

      sum += slope * slope * inputs[i].standard_uncertainty * inputs[i].standard_uncertainty;
    }
  return sqrt (sum);
}

/* ---- functions whose values have no end ---- */

#define DEGREE (G_PI / 180)

/* One step outward, so that rounding never narrows an interval; a point stays one. */
static void
set_function (Range *range, double low, double high)
{
  if (low == high)
    range_set_double (range, low, high);
  else
    range_set_double (range, nextafter (low, -INFINITY), nextafter (high, INFINITY));
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

  if (range_is_point (angle))
    b = a;
  set_function (sine, low < high && passes (low, high, -90, 360) ? -1 : MIN (a, b), low < high && passes (low, high, 90, 360) ? 1 : MAX (a, b));
}

static void
apply_sine (Value *value, double lead)
{
  Range slope, degree;

  range_init (&slope);
  range_init (&degree);
  find_sine (&value->value, lead + 90, &slope);
  range_set_double (&degree, DEGREE, DEGREE);
  range_multiply (&slope, &degree);
  find_sine (&value->value, lead, &value->value);
  value_scale (value, &slope);
  range_clear (&slope);
  range_clear (&degree);
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

  range_init (&slope);
  set_function (&slope, MIN (MIN (a, b), between), MAX (MAX (a, b), between));
  set_function (&value->value, curve (low), curve (high));
  value_scale (value, &slope);
  range_clear (&slope);
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

  if (!range_is_point (&value->value) || mpq_cmp_si (value->value.low, (long) end, 1) != 0 || get_uncertainty (value, run->inputs) > 0)
    return FALSE;
  range_init (&none);
  value_scale (value, &none);
  range_clear (&none);
  range_set_double (&value->value, at_end, at_end);
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

  range_init (&range);
  range_set_double (&range, factor, factor);
  range_multiply (&value->value, &range);
  value_scale (value, &range);
  range_clear (&range);
}

/* ---- the tree ---- */

static Value *evaluate (Run *run, const Node *node);

static gboolean
divide (Run *run, const Node *node, Value *value, Value *divisor)
{
  /* A divisor that could as well be zero gives a quotient that could be anything: twice its standard uncertainty, as the guard band has it. */
  gboolean is_zero = range_holds_zero (&divisor->value)
                     || (run->is_central && fabs (mpq_get_d (divisor->value.low)) <= 2 * get_uncertainty (divisor, run->inputs));

  if (is_zero)
    return pawl_formula_fault (run->error, PAWL_FORMULA_ERROR_VALUE, node->place,
                               "with these readings the divisor is zero, or can't be told from zero: measure again, or with a better instrument");
  value_invert (divisor);
  value_multiply (value, divisor);
  return TRUE;
}

/* (transfer full) (nullable) (element-type Value) */
static GPtrArray *
evaluate_arguments (Run *run, const Node *node)
{
  g_autoptr(GPtrArray) values = g_ptr_array_new_with_free_func ((GDestroyNotify) value_free);

  for (guint i = 0; i < node->args->len; i++)
    {
      Value *value = evaluate (run, node->args->pdata[i]);

      if (value == NULL)
        return NULL;
      g_ptr_array_add (values, value);
    }
  return g_steal_pointer (&values);
}

/* The largest of @values; its slope is that of any that could be the largest. */
static Value *
find_largest (GPtrArray *values, guint n)
{
  Value *largest = value_new (n);
  gboolean is_first = TRUE;

  for (guint i = 0; i < values->len; i++)
    {
      const Value *value = values->pdata[i];

      if (i == 0 || mpq_cmp (value->value.low, largest->value.low) > 0)
        mpq_set (largest->value.low, value->value.low);
      if (i == 0 || mpq_cmp (value->value.high, largest->value.high) > 0)
        mpq_set (largest->value.high, value->value.high);
    }
  for (guint i = 0; i < values->len; i++)
    {
      const Value *value = values->pdata[i];

      if (mpq_cmp (value->value.high, largest->value.low) < 0)
        continue;
      for (guint j = 0; j < n; j++)
        if (is_first)
          range_set (&largest->slopes[j], &value->slopes[j]);
        else
          range_join (&largest->slopes[j], &value->slopes[j]);
      is_first = FALSE;
    }
  return largest;
}

static void
negate_all (GPtrArray *values)
{
  for (guint i = 0; i < values->len; i++)
    value_negate (values->pdata[i]);
}

/* Sizes, spreads and even powers are never below zero, which interval sums don't see. */
static void
bound_by_zero (Range *range)
{
  if (mpq_sgn (range->low) < 0)
    mpq_set_ui (range->low, 0, 1);
}

static Value *
evaluate_list (Run *run, const Node *node)
{
  g_autoptr(GPtrArray) values = evaluate_arguments (run, node);
  g_autoptr(Value) largest = NULL;
  guint n = run->formula->n_names;
  Value *value;

  if (values == NULL)
    return NULL;
  if (node->kind == NODE_SUM || node->kind == NODE_MEAN)
    {
      value = value_new (n);
      for (guint i = 0; i < values->len; i++)
        value_add (value, values->pdata[i]);
      if (node->kind == NODE_MEAN)
        {
          Range share;

          range_init (&share);
          mpq_set_ui (share.low, 1, values->len);
          mpq_set_ui (share.high, 1, values->len);
          range_multiply (&value->value, &share);
          value_scale (value, &share);
          range_clear (&share);
        }
      return value;
    }
  if (node->kind != NODE_MIN)
    largest = find_largest (values, n);
  if (node->kind == NODE_MAX)
    return g_steal_pointer (&largest);
  negate_all (values);
  value = find_largest (values, n); /* less the smallest */
  if (node->kind == NODE_MIN)
    {
      value_negate (value);
      return value;
    }
  value_add (value, largest);
  bound_by_zero (&value->value);
  return value;
}

/* |x| = max (x, -x) */
static Value *
evaluate_size (Run *run, const Node *node)
{
  g_autoptr(GPtrArray) values = evaluate_arguments (run, node);
  Value *negative, *size;

  if (values == NULL)
    return NULL;
  negative = value_new (run->formula->n_names);
  value_add (negative, values->pdata[0]);
  value_negate (negative);
  g_ptr_array_add (values, negative);
  size = find_largest (values, run->formula->n_names);
  bound_by_zero (&size->value);
  return size;
}

static void
raise_to (Value *value, int power)
{
  g_autoptr(Value) base = value_new (value->n);

  value_add (base, value);
  for (int i = 1; i < power; i++)
    {
      g_autoptr(Value) factor = value_new (value->n);

      value_add (factor, base);
      value_multiply (value, factor);
    }
  if (power % 2 == 0)
    bound_by_zero (&value->value);
}

static Value *
evaluate_leaf (Run *run, const Node *node)
{
  Value *value = value_new (run->formula->n_names);

  if (node->kind == NODE_INPUT)
    {
      range_set (&value->value, &run->at[node->input]);
      mpq_set_ui (value->slopes[node->input].low, 1, 1);
      mpq_set_ui (value->slopes[node->input].high, 1, 1);
      return value;
    }
  mpq_set (value->value.low, node->value);
  mpq_set (value->value.high, node->value);
  run->is_rounded |= node->is_rounded;
  return value;
}

/* Functions and operators of one or two values. */
static gboolean
apply (Run *run, const Node *node, Value *value, Value *second)
{
  if (node->kind >= NODE_SIN)
    run->is_rounded = TRUE;
  switch (node->kind)
    {
    case NODE_NEGATE:   value_negate (value); return TRUE;
    case NODE_ADD:      value_add (value, second); return TRUE;
    case NODE_SUBTRACT: value_negate (second); value_add (value, second); return TRUE;
    case NODE_MULTIPLY: value_multiply (value, second); return TRUE;
    case NODE_DIVIDE:   return divide (run, node, value, second);
    case NODE_POWER:    raise_to (value, node->power); return TRUE;
    case NODE_SQRT:     return apply_root (run, node, value);
    case NODE_SIN:      apply_sine (value, 0); return TRUE;
    case NODE_COS:      apply_sine (value, 90); return TRUE;
    case NODE_TAN:      return apply_tangent (run, node, value);
    case NODE_ASIN:     return apply_arc_sine (run, node, value);
    case NODE_ATAN:     apply_rising (value, get_arc_tangent, get_arc_tangent_slope, 0); return TRUE;
    case NODE_ARC:      value_multiply (value, second); apply_constant (value, DEGREE); return TRUE;
    case NODE_RAD:      apply_constant (value, DEGREE); return TRUE;
    case NODE_ACOS: /* 90° - asin x */
      if (!apply_arc_sine (run, node, value))
        return FALSE;
      value_negate (value);
      second = value_new (value->n);
      mpq_set_ui (second->value.low, 90, 1);
      mpq_set_ui (second->value.high, 90, 1);
      value_add (value, second);
      value_free (second);
      return TRUE;
    default:
      g_return_val_if_reached (FALSE);
    }
}

static Value *
evaluate (Run *run, const Node *node)
{
  g_autoptr(Value) value = NULL;
  g_autoptr(Value) second = NULL;

  switch (node->kind)
    {
    case NODE_CONSTANT: case NODE_INPUT:
      return evaluate_leaf (run, node);
    case NODE_MIN: case NODE_MAX: case NODE_MEAN: case NODE_SUM: case NODE_SPREAD:
      return evaluate_list (run, node);
    case NODE_ABS:
      return evaluate_size (run, node);
    default:
      if ((value = evaluate (run, node->args->pdata[0])) == NULL)
        return NULL;
      if (node->args->len > 1 && (second = evaluate (run, node->args->pdata[1])) == NULL)
        return NULL;
      return apply (run, node, value, second) ? g_steal_pointer (&value) : NULL;
    }
}

/* ---- inputs ---- */

static Range *
ranges_new (guint n)
{
  Range *ranges = g_new0 (Range, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    range_init (&ranges[i]);
  return ranges;
}

static void
ranges_free (Range *ranges, guint n)
{
  for (guint i = 0; i < n; i++)
    range_clear (&ranges[i]);
  g_free (ranges);
}

static Value *
evaluate_middle (Run *run)
{
  mpq_t half;

  mpq_init (half);
  mpq_set_ui (half, 1, 2);
  for (guint i = 0; i < run->formula->n_names; i++)
    {
      Range *at = &run->at[i];

      pawl_quantity_get_base (run->inputs[i].quantity, at->low, at->high);
      mpq_add (at->low, at->low, at->high);
      mpq_mul (at->low, at->low, half);
      mpq_set (at->high, at->low);
    }
  mpq_clear (half);
  run->is_central = TRUE;
  return evaluate (run, run->formula->root);
}

/* ---- intervals: boxes are halved until each input moves the result one way only within them; then the ends are at the corners ---- */

#define MOST_HALVINGS 8

/* The input whose interval @value neither only rises nor only falls with, the widest of them; -1: there is none. */
static int
find_turning (const Value *value, const Range *box)
{
  int turning = -1;
  double widest = 0;

  for (guint i = 0; i < value->n; i++)
    {
      double width = fabs (mpq_get_d (box[i].high) - mpq_get_d (box[i].low))
                     * MAX (fabs (mpq_get_d (value->slopes[i].low)), fabs (mpq_get_d (value->slopes[i].high)));

      if (!range_is_point (&box[i]) && mpq_sgn (value->slopes[i].low) < 0 && mpq_sgn (value->slopes[i].high) > 0 && width >= widest)
        {
          turning = (int) i;
          widest = width;
        }
    }
  return turning;
}

/* The result with every input at the end of @box that makes it least, or largest. */
static gboolean
evaluate_corner (Run *run, const Value *whole, const Range *box, gboolean is_high, mpq_t end)
{
  g_autoptr(Value) value = NULL;

  for (guint i = 0; i < whole->n; i++)
    {
      gboolean rises = mpq_sgn (whole->slopes[i].low) >= 0;

      mpq_set (run->at[i].low, rises == is_high ? box[i].high : box[i].low);
      mpq_set (run->at[i].high, run->at[i].low);
    }
  value = evaluate (run, run->formula->root);
  if (value != NULL)
    mpq_set (end, is_high ? value->value.high : value->value.low);
  return value != NULL;
}

static gboolean enclose (Run *run, Range *box, int n_halvings, Range *result);

static gboolean
enclose_halves (Run *run, Range *box, int input, int n_halvings, Range *result)
{
  Range other;
  mpq_t middle, high;
  gboolean is_fine;

  range_init (&other);
  mpq_inits (middle, high, NULL);
  mpq_set (high, box[input].high);
  mpq_add (middle, box[input].low, high);
  mpq_div_2exp (middle, middle, 1);
  mpq_set (box[input].high, middle);
  is_fine = enclose (run, box, n_halvings, result);
  mpq_set (box[input].high, high);
  if (is_fine)
    {
      mpq_swap (box[input].low, middle);
      is_fine = enclose (run, box, n_halvings, &other);
      mpq_swap (box[input].low, middle);
      range_join (result, &other);
    }
  range_clear (&other);
  mpq_clears (middle, high, NULL);
  return is_fine;
}

/* Sets @result to what holds every value of the formula within @box. */
static gboolean
enclose (Run *run, Range *box, int n_halvings, Range *result)
{
  g_autoptr(Value) whole = NULL;
  int turning;

  for (guint i = 0; i < run->formula->n_names; i++)
    range_set (&run->at[i], &box[i]);
  if ((whole = evaluate (run, run->formula->root)) == NULL)
    return FALSE;
  turning = find_turning (whole, box);
  if (turning >= 0 && n_halvings > 0)
    return enclose_halves (run, box, turning, n_halvings - 1, result);
  range_set (result, &whole->value);
  return turning >= 0 || (evaluate_corner (run, whole, box, FALSE, result->low) && evaluate_corner (run, whole, box, TRUE, result->high));
}

static gboolean
evaluate_box (Run *run, Range *result)
{
  guint n = run->formula->n_names;
  Range *box = ranges_new (n);
  gboolean is_fine;

  for (guint i = 0; i < n; i++)
    pawl_quantity_get_base (run->inputs[i].quantity, box[i].low, box[i].high);
  run->is_central = FALSE;
  is_fine = enclose (run, box, MOST_HALVINGS, result);
  ranges_free (box, n);
  return is_fine;
}

static gboolean
has_interval (const Run *run)
{
  for (guint i = 0; i < run->formula->n_names; i++)
    if (pawl_quantity_is_interval (run->inputs[i].quantity))
      return TRUE;
  return FALSE;
}

/* To 15 digits: what a rounded value is good for. In @unit, because that is where its digits are read. */
static void
round_value (mpq_t base, const PawlUnit *unit)
{
  mpq_t value, power;
  mpz_t rounded;
  double size;
  guint places;

  mpq_inits (value, power, NULL);
  mpz_init (rounded);
  pawl_unit_from_base (unit, base, value);
  size = fabs (mpq_get_d (value));
  places = size > 0 ? (guint) CLAMP (14 - floor (log10 (size)), 0, 40) : 0;
  pawl_number_round (rounded, value, places);
  mpz_ui_pow_ui (mpq_numref (power), 10, places);
  mpq_set_z (value, rounded);
  mpq_div (value, value, power);
  pawl_unit_to_base (unit, value, base);
  mpq_clears (value, power, NULL);
  mpz_clear (rounded);
}

static PawlQuantity *
make_quantity (const Run *run, Range *value, const PawlUnit *unit)
{
  if (run->is_rounded)
    {
      round_value (value->low, unit);
      round_value (value->high, unit);
    }
  return pawl_quantity_new_base (value->low, value->high, !range_is_point (value), unit, NULL, '.');
}

PawlQuantity *
pawl_formula_evaluate (const PawlFormula *self, const PawlFormulaInput *inputs, const PawlUnit *unit, double *standard_uncertainty,
                       gboolean *is_rounded, GError **error)
{
  Run run = { .formula = self, .inputs = inputs, .at = ranges_new (self->n_names), .error = error };
  g_autoptr(Value) middle = evaluate_middle (&run);
  PawlQuantity *quantity = NULL;

  if (middle != NULL && standard_uncertainty != NULL)
    *standard_uncertainty = get_uncertainty (middle, inputs);
  if (middle != NULL && (!has_interval (&run) || evaluate_box (&run, &middle->value)))
    quantity = make_quantity (&run, &middle->value, unit);
  if (is_rounded != NULL)
    *is_rounded = run.is_rounded;
  ranges_free (run.at, self->n_names);
  return quantity;
}
