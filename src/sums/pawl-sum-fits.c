/* Two tolerances against each other, and a torque in stages. */
#include "sums/pawl-sum-private.h"

#define MOST_STAGES 6

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, message);
  return FALSE;
}

/* @a less @b, in the unit of @a. */
static PawlQuantity *
subtract (const PawlQuantity *a, const PawlQuantity *b)
{
  PawlQuantity *quantity;
  mpq_t from, less, unused;

  mpq_inits (from, less, unused, NULL);
  pawl_quantity_get_base (a, from, unused);
  pawl_quantity_get_base (b, less, unused);
  mpq_sub (from, from, less);
  pawl_unit_from_base (pawl_quantity_get_unit (a), from, from);
  quantity = pawl_quantity_new (from, pawl_quantity_get_unit (a));
  mpq_clears (from, less, unused, NULL);
  return quantity;
}

static int
get_sign (const PawlQuantity *quantity)
{
  mpq_t low, high;
  int sign;

  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  sign = mpq_sgn (low);
  mpq_clears (low, high, NULL);
  return sign;
}

static void
work_out (PawlSumRun *run, const char *words, const PawlQuantity *from, const PawlQuantity *less, const PawlQuantity *result)
{
  g_autofree char *a = pawl_quantity_format (from, run->typing.decimal_mark), *b = pawl_quantity_format (less, run->typing.decimal_mark);
  g_autofree char *c = pawl_quantity_format (result, run->typing.decimal_mark);

  pawl_sum_run_work (run, "%s", words);
  pawl_sum_run_work (run, "  = %s - %s = %s", a, b, c);
}

gboolean
pawl_sum_solve_fit (PawlSumRun *run, GError **error)
{
  PawlLimits *hole = pawl_sum_run_get_limits (run, "hole"), *shaft = pawl_sum_run_get_limits (run, "shaft");
  PawlQuantity *most = subtract (pawl_limits_peek_high (hole), pawl_limits_peek_low (shaft));
  PawlQuantity *least = subtract (pawl_limits_peek_low (hole), pawl_limits_peek_high (shaft));
  const char *words = get_sign (least) >= 0 ? "clearance fit" : get_sign (most) <= 0 ? "interference fit" : "transition fit: either may happen";

  work_out (run, "Largest clearance = largest hole - smallest shaft", pawl_limits_peek_high (hole), pawl_limits_peek_low (shaft), most);
  work_out (run, "Least clearance = smallest hole - largest shaft", pawl_limits_peek_low (hole), pawl_limits_peek_high (shaft), least);
  pawl_sum_run_answer (run, "Largest clearance", most, FALSE, NULL);
  pawl_sum_run_answer (run, "Least clearance", least, FALSE, NULL);
  pawl_sum_run_answer (run, "It is a", NULL, FALSE, g_strdup (words));
  return TRUE;
}

gboolean
pawl_sum_solve_stages (PawlSumRun *run, GError **error)
{
  PawlQuantity *torque = pawl_sum_run_get (run, "torque");
  double stages = pawl_quantity_get_double (pawl_sum_run_get (run, "stages"), pawl_unit_lookup ("ratio"));
  guint n = stages >= 2 && stages <= MOST_STAGES ? (guint) stages : 0;
  mpq_t whole, unused, part;

  if (n == 0 || n != stages)
    return refuse (error, "stages: a whole number from 2 to 6, for instance 3");
  mpq_inits (whole, unused, part, NULL);
  pawl_quantity_get_base (torque, whole, unused);
  for (guint i = 1; i <= n; i++)
    {
      g_autofree char *title = g_strdup_printf ("Round %u", i);

      mpq_set_ui (part, i, n);
      mpq_canonicalize (part);
      mpq_mul (part, part, whole);
      pawl_sum_run_answer (run, title, pawl_sum_run_make (run, part, "torque"), FALSE, NULL);
    }
  pawl_sum_run_work (run, "Each round adds torque / stages. Go crosswise, and round again at the last torque.");
  mpq_clears (whole, unused, part, NULL);
  return TRUE;
}
