#include "sums/pawl-sum-check.h"

/* Metres, and more than any wrench, bore or lever has: a slip of the unit. */
#define MOST_LENGTH 20

static gboolean
refuse (const PawlSumInput *input, GError **error, const char *text, const char *reason)
{
  g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, "%s: “%s” %s", input->name, text, reason);
  return FALSE;
}

static gboolean
check_range (const PawlSumInput *input, const mpq_t low, const mpq_t high, const char *text, GError **error)
{
  switch (input->range)
    {
    case PAWL_SUM_ABOVE_ZERO:     return mpq_sgn (low) > 0 || refuse (input, error, text, "should be above zero");
    case PAWL_SUM_NOT_BELOW_ZERO: return mpq_sgn (low) >= 0 || refuse (input, error, text, "should not be below zero");
    case PAWL_SUM_SHARE:          return (mpq_sgn (low) >= 0 && mpq_cmp_ui (high, 1, 1) <= 0) || refuse (input, error, text, "should be from 0 to 100 %");
    case PAWL_SUM_ANY:
    default:                      return TRUE;
    }
}

static gboolean
check_sense (const PawlSumInput *input, const mpq_t low, const mpq_t high, const char *text, GError **error)
{
  if (input->dimension == PAWL_DIMENSION_LENGTH && (mpq_cmp_si (low, -MOST_LENGTH, 1) < 0 || mpq_cmp_si (high, MOST_LENGTH, 1) > 0))
    return refuse (input, error, text, "is longer than anything on a bench; is its unit right?");
  if (input->dimension == PAWL_DIMENSION_TEMPERATURE && mpq_sgn (low) <= 0)
    return refuse (input, error, text, "is colder than anything can be; is its unit right?");
  return TRUE;
}

gboolean
pawl_sum_check_input (const PawlSum *sum, const PawlSumInput *input, const PawlQuantity *quantity, const char *text, GError **error)
{
  gboolean is_fine;
  mpq_t low, high;

  if (sum->wants_points && pawl_quantity_is_interval (quantity))
    return refuse (input, error, text, "is an interval, and this sum wants one value; take its middle");
  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  is_fine = check_range (input, low, high, text, error) && check_sense (input, low, high, text, error);
  mpq_clears (low, high, NULL);
  return is_fine;
}

static const char *
get_title (const PawlSum *sum, const char *name)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (inputs[i].name, name))
      return inputs[i].title;
  g_return_val_if_reached (name);
}

gboolean
pawl_sum_check_orders (PawlSumRun *run, GError **error)
{
  for (const PawlSumOrder *order = run->sum->orders; order < run->sum->orders + PAWL_SUM_MAX_ORDERS && order->less != NULL; order++)
    {
      const PawlQuantity *less = pawl_sum_run_get (run, order->less), *more = pawl_sum_run_get (run, order->more);
      int way = less != NULL && more != NULL ? pawl_quantity_compare (less, more) : -1;

      if (way < 0 || (way == 0 && order->may_be_equal))
        continue;
      g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, "%s: %s should be %s %s", order->less, get_title (run->sum, order->less),
                   order->may_be_equal ? "at most" : "less than", get_title (run->sum, order->more));
      return FALSE;
    }
  return TRUE;
}
