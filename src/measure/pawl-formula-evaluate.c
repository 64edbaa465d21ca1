/*
 * The value of a formula: interval arithmetic on exact rationals, with the derivative by each input carried along (forward differentiation). A plain
 * reading is an interval of no width, so one code serves both.
 */
#include <math.h>

#include "measure/pawl-formula-run-private.h"
#include "measure/pawl-number-private.h"
#include "measure/pawl-quantity-private.h"

/* ---- inputs ---- */

static Range *
ranges_new (guint n)
{
  Range *ranges = g_new0 (Range, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    pawl_range_init (&ranges[i]);
  return ranges;
}

static void
ranges_free (Range *ranges, guint n)
{
  for (guint i = 0; i < n; i++)
    pawl_range_clear (&ranges[i]);
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
  return pawl_run_evaluate (run, run->formula->root);
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

      if (!pawl_range_is_point (&box[i]) && mpq_sgn (value->slopes[i].low) < 0 && mpq_sgn (value->slopes[i].high) > 0 && width >= widest)
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
  value = pawl_run_evaluate (run, run->formula->root);
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

  pawl_range_init (&other);
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
      pawl_range_join (result, &other);
    }
  pawl_range_clear (&other);
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
    pawl_range_set (&run->at[i], &box[i]);
  if ((whole = pawl_run_evaluate (run, run->formula->root)) == NULL)
    return FALSE;
  turning = find_turning (whole, box);
  if (turning >= 0 && n_halvings > 0)
    return enclose_halves (run, box, turning, n_halvings - 1, result);
  pawl_range_set (result, &whole->value);
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
  return pawl_quantity_new_base (value->low, value->high, !pawl_range_is_point (value), unit, NULL, '.');
}

PawlQuantity *
pawl_formula_evaluate (const PawlFormula *self, const PawlFormulaInput *inputs, const PawlUnit *unit, double *standard_uncertainty,
                       gboolean *is_rounded, GError **error)
{
  Run run = { .formula = self, .inputs = inputs, .at = ranges_new (self->n_names), .error = error };
  g_autoptr(Value) middle = evaluate_middle (&run);
  PawlQuantity *quantity = NULL;

  if (middle != NULL && standard_uncertainty != NULL)
    *standard_uncertainty = pawl_value_get_uncertainty (middle, inputs);
  if (middle != NULL && (!has_interval (&run) || evaluate_box (&run, &middle->value)))
    quantity = make_quantity (&run, &middle->value, unit);
  if (is_rounded != NULL)
    *is_rounded = run.is_rounded;
  ranges_free (run.at, self->n_names);
  return quantity;
}
