/* One pass through the tree of a formula, with each input taken to be what the run says. */
#include <math.h>

#include "measure/pawl-formula-run-private.h"

static gboolean
divide (Run *run, const Node *node, Value *value, Value *divisor)
{
  /* A divisor that could as well be zero gives a quotient that could be anything: twice its standard uncertainty, as the guard band has it. */
  gboolean is_zero = pawl_range_holds_zero (&divisor->value)
                     || (run->is_central && fabs (mpq_get_d (divisor->value.low)) <= 2 * pawl_value_get_uncertainty (divisor, run->inputs));

  if (is_zero)
    return pawl_formula_fault (run->error, PAWL_FORMULA_ERROR_VALUE, node->place,
                               "with these readings the divisor is zero, or can't be told from zero: measure again, or with a better instrument");
  pawl_value_invert (divisor);
  pawl_value_multiply (value, divisor);
  return TRUE;
}

/* (transfer full) (nullable) (element-type Value) */
static GPtrArray *
evaluate_arguments (Run *run, const Node *node)
{
  g_autoptr(GPtrArray) values = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_value_free);

  for (guint i = 0; i < node->args->len; i++)
    {
      Value *value = pawl_run_evaluate (run, node->args->pdata[i]);

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
  Value *largest = pawl_value_new (n);
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
          pawl_range_set (&largest->slopes[j], &value->slopes[j]);
        else
          pawl_range_join (&largest->slopes[j], &value->slopes[j]);
      is_first = FALSE;
    }
  return largest;
}

static void
negate_all (GPtrArray *values)
{
  for (guint i = 0; i < values->len; i++)
    pawl_value_negate (values->pdata[i]);
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
      value = pawl_value_new (n);
      for (guint i = 0; i < values->len; i++)
        pawl_value_add (value, values->pdata[i]);
      if (node->kind == NODE_MEAN)
        {
          Range share;

          pawl_range_init (&share);
          mpq_set_ui (share.low, 1, values->len);
          mpq_set_ui (share.high, 1, values->len);
          pawl_range_multiply (&value->value, &share);
          pawl_value_scale (value, &share);
          pawl_range_clear (&share);
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
      pawl_value_negate (value);
      return value;
    }
  pawl_value_add (value, largest);
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
  negative = pawl_value_new (run->formula->n_names);
  pawl_value_add (negative, values->pdata[0]);
  pawl_value_negate (negative);
  g_ptr_array_add (values, negative);
  size = find_largest (values, run->formula->n_names);
  bound_by_zero (&size->value);
  return size;
}

static void
raise_to (Value *value, int power)
{
  g_autoptr(Value) base = pawl_value_new (value->n);

  pawl_value_add (base, value);
  for (int i = 1; i < power; i++)
    {
      g_autoptr(Value) factor = pawl_value_new (value->n);

      pawl_value_add (factor, base);
      pawl_value_multiply (value, factor);
    }
  if (power % 2 == 0)
    bound_by_zero (&value->value);
}

static Value *
evaluate_leaf (Run *run, const Node *node)
{
  Value *value = pawl_value_new (run->formula->n_names);

  if (node->kind == NODE_INPUT)
    {
      pawl_range_set (&value->value, &run->at[node->input]);
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
  switch (node->kind)
    {
    case NODE_NEGATE:   pawl_value_negate (value); return TRUE;
    case NODE_ADD:      pawl_value_add (value, second); return TRUE;
    case NODE_SUBTRACT: pawl_value_negate (second); pawl_value_add (value, second); return TRUE;
    case NODE_MULTIPLY: pawl_value_multiply (value, second); return TRUE;
    case NODE_DIVIDE:   return divide (run, node, value, second);
    case NODE_POWER:    raise_to (value, node->power); return TRUE;
    case NODE_ARC:      pawl_value_multiply (value, second); break;
    default:            break;
    }
  return pawl_run_apply_curve (run, node, value);
}

Value *
pawl_run_evaluate (Run *run, const Node *node)
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
      if ((value = pawl_run_evaluate (run, node->args->pdata[0])) == NULL)
        return NULL;
      if (node->args->len > 1 && (second = pawl_run_evaluate (run, node->args->pdata[1])) == NULL)
        return NULL;
      return apply (run, node, value, second) ? g_steal_pointer (&value) : NULL;
    }
}
