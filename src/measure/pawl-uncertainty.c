#include <math.h>

#include "measure/pawl-statistics.h"
#include "measure/pawl-uncertainty-private.h"

/* What 2 u holds of a normal distribution. */
#define COVERED 0.9545

/* ---- squares ---- */

void
pawl_variance_init (PawlVariance *self)
{
  mpq_inits (self->error, self->step, self->reference, self->repeats, self->deviation, self->combined, NULL);
}

void
pawl_variance_clear (PawlVariance *self)
{
  mpq_clears (self->error, self->step, self->reference, self->repeats, self->deviation, self->combined, NULL);
}

static gboolean
fits (const PawlUnit *unit, PawlDimension dimension)
{
  return unit->dimension == dimension || pawl_unit_get_difference (unit)->dimension == dimension
         || (dimension == PAWL_DIMENSION_TEMPERATURE && unit->dimension == PAWL_DIMENSION_TEMPERATURE_DIFFERENCE);
}

/* Square of @stated by @share, in base units. An error of temperature is a difference, though it be typed as 2 °C. */
static gboolean
set_square (const PawlQuantity *stated, guint share, PawlDimension dimension, const mpq_t about, mpq_t square)
{
  const PawlUnit *unit;
  mpq_t divisor;

  if (stated == NULL)
    return TRUE;
  unit = stated->unit;
  if (unit->dimension == PAWL_DIMENSION_NONE && dimension != PAWL_DIMENSION_NONE)
    mpq_mul (square, stated->high, about);
  else if (!fits (unit, dimension))
    return FALSE;
  else
    {
      pawl_unit_from_base (unit, stated->high, square);
      pawl_unit_to_base (pawl_unit_get_difference (unit), square, square);
    }
  mpq_mul (square, square, square);
  mpq_init (divisor);
  mpq_set_ui (divisor, share, 1);
  mpq_div (square, square, divisor);
  mpq_clear (divisor);
  return TRUE;
}

gboolean
pawl_variance_add_instrument (PawlVariance *self, const PawlInstrument *instrument, PawlDimension dimension, const mpq_t about)
{
  if (instrument == NULL)
    return TRUE;
  if (!set_square (instrument->max_error, 3, dimension, about, self->error) || !set_square (instrument->step, 12, dimension, about, self->step)
      || !set_square (instrument->reference, 3, dimension, about, self->reference))
    return FALSE;
  mpq_add (self->combined, self->combined, self->error);
  mpq_add (self->combined, self->combined, self->step);
  mpq_add (self->combined, self->combined, self->reference);
  return TRUE;
}

static void
get_middle (const PawlQuantity *quantity, mpq_t middle)
{
  mpq_add (middle, quantity->low, quantity->high);
  mpq_div_2exp (middle, middle, 1);
}

static void
divide (mpq_t value, guint divisor)
{
  mpq_t exact;

  mpq_init (exact);
  mpq_set_ui (exact, divisor, 1);
  mpq_div (value, value, exact);
  mpq_clear (exact);
}

/* s² = Σ (x - mean)² / (n - 1), and s²/n of their mean. */
void
pawl_variance_add_repeats (PawlVariance *self, PawlQuantity * const *readings, guint n)
{
  mpq_t mean, middle;

  if (n < 2)
    return;
  mpq_inits (mean, middle, NULL);
  for (guint i = 0; i < n; i++)
    {
      get_middle (readings[i], middle);
      mpq_add (mean, mean, middle);
    }
  divide (mean, n);
  for (guint i = 0; i < n; i++)
    {
      get_middle (readings[i], middle);
      mpq_sub (middle, middle, mean);
      mpq_mul (middle, middle, middle);
      mpq_add (self->deviation, self->deviation, middle);
    }
  divide (self->deviation, n - 1);
  mpq_set (self->repeats, self->deviation);
  divide (self->repeats, n);
  mpq_add (self->combined, self->combined, self->repeats);
  mpq_clears (mean, middle, NULL);
}

/* ---- the budget ---- */

static double
get_root (const mpq_t square, const PawlUnit *unit)
{
  return sqrt (mpq_get_d (square)) / pawl_unit_get_scale (unit);
}

static void
set_coverage (PawlBudget *self)
{
  const double contributions[] = { self->error, self->step, self->reference, self->repeats };
  const double degrees[] = { INFINITY, INFINITY, INFINITY, self->n > 1 ? self->n - 1 : INFINITY };

  self->combined = sqrt (self->error * self->error + self->step * self->step + self->reference * self->reference + self->repeats * self->repeats);
  self->degrees = pawl_effective_degrees (contributions, degrees, G_N_ELEMENTS (degrees));
  self->coverage = isinf (self->degrees) ? 2 : pawl_t_quantile ((1 + COVERED) / 2, self->degrees);
  self->expanded = self->coverage * self->combined;
}

void
pawl_variance_make_budget (const PawlVariance *self, guint n, const PawlUnit *unit, PawlBudget *budget)
{
  const PawlUnit *own = pawl_unit_get_difference (unit);

  *budget = (PawlBudget) { .n = n };
  budget->error = get_root (self->error, own);
  budget->step = get_root (self->step, own);
  budget->reference = get_root (self->reference, own);
  budget->repeats = get_root (self->repeats, own);
  budget->deviation = get_root (self->deviation, own);
  set_coverage (budget);
}

static gboolean
check_kinds (PawlQuantity * const *readings, guint n, GError **error)
{
  for (guint i = 1; i < n; i++)
    if (readings[i]->unit->dimension != readings[0]->unit->dimension)
      {
        g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION, "“%s” is %s and “%s” %s; repeats are of one thing, as in %s",
                     readings[0]->typed, pawl_dimension_get_phrase (readings[0]->unit->dimension), readings[i]->typed,
                     pawl_dimension_get_phrase (readings[i]->unit->dimension), pawl_unit_get_example (readings[0]->unit));
        return FALSE;
      }
  return TRUE;
}

gboolean
pawl_budget_make (PawlQuantity * const *readings, guint n, const PawlInstrument *instrument, const PawlUnit *unit, PawlBudget *budget, GError **error)
{
  g_auto(PawlVariance) variance = { 0 };
  g_autoptr(PawlQuantity) mean = NULL;

  g_return_val_if_fail (readings != NULL && n > 0 && unit != NULL && budget != NULL, FALSE);
  pawl_variance_init (&variance);
  if (!check_kinds (readings, n, error))
    return FALSE;
  mean = pawl_readings_get_mean (readings, n);
  if (!pawl_variance_add_instrument (&variance, instrument, mean->unit->dimension, mean->high))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION,
                   "the error or step of %s is not %s, so the uncertainty of “%s” is not known; state it as in %s",
                   instrument->name != NULL ? instrument->name : "the instrument", pawl_dimension_get_phrase (mean->unit->dimension), readings[0]->typed,
                   pawl_unit_get_example (mean->unit));
      return FALSE;
    }
  pawl_variance_add_repeats (&variance, readings, n);
  pawl_variance_make_budget (&variance, n, unit, budget);
  return TRUE;
}

PawlQuantity *
pawl_readings_get_mean (PawlQuantity * const *readings, guint n)
{
  gboolean is_interval = FALSE;
  PawlQuantity *mean;
  mpq_t low, high;

  g_return_val_if_fail (readings != NULL && n > 0, NULL);
  if (n == 1)
    return pawl_quantity_ref (readings[0]);
  mpq_inits (low, high, NULL);
  for (guint i = 0; i < n; i++)
    {
      mpq_add (low, low, readings[i]->low);
      mpq_add (high, high, readings[i]->high);
      is_interval |= readings[i]->is_interval;
    }
  divide (low, n);
  divide (high, n);
  mean = pawl_quantity_new_base (low, high, is_interval, readings[0]->unit, g_strdup_printf ("mean of %u", n), readings[0]->decimal_mark);
  mpq_clears (low, high, NULL);
  return mean;
}

/* ---- words ---- */

/* Decimal places that leave two figures of @uncertainty, as a GUM budget is written. */
static int
count_places (double uncertainty)
{
  int places = uncertainty > 0 ? CLAMP (1 - (int) floor (log10 (uncertainty)), 0, 9) : 0;

  /* 0.0996 is 0.10 */
  return places > 0 && round (uncertainty * pow (10, places)) >= 100 ? places - 1 : places;
}

static char *
format_number (double value, int places, char decimal_mark)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE], format[8];

  g_snprintf (format, sizeof format, "%%.%df", places);
  return g_strdup (g_strdelimit (g_ascii_formatd (buffer, sizeof buffer, format, value), ".", decimal_mark));
}

char *
pawl_uncertainty_format (double value, const PawlUnit *unit, char decimal_mark)
{
  g_autofree char *number = format_number (value, count_places (value), decimal_mark);

  return g_strdup_printf ("%s %s", number, pawl_unit_get_symbol (unit));
}

char *
pawl_result_format (double value, double expanded, const PawlUnit *unit, char decimal_mark)
{
  int places = count_places (expanded);
  g_autofree char *number = format_number (value, places, decimal_mark), *about = format_number (expanded, places, decimal_mark);

  g_return_val_if_fail (unit != NULL, NULL);
  return g_strdup_printf ("%s ± %s %s", number, about, pawl_unit_get_symbol (unit));
}

static void
add_part (GString *text, const char *name, double value, const PawlUnit *unit, char decimal_mark)
{
  g_autofree char *number = pawl_uncertainty_format (value, unit, decimal_mark);

  if (value > 0)
    g_string_append_printf (text, "%s%s %s", text->len > 0 ? ", " : "", name, number);
}

char *
pawl_budget_describe (const PawlBudget *budget, const PawlUnit *unit, char decimal_mark)
{
  const PawlUnit *own = pawl_unit_get_difference (unit);
  GString *text = g_string_new (NULL);
  g_autofree char *spread = g_strdup_printf ("spread of %u readings", budget->n), *combined = pawl_uncertainty_format (budget->combined, own, decimal_mark);
  g_autofree char *expanded = pawl_uncertainty_format (budget->expanded, own, decimal_mark);
  char k[G_ASCII_DTOSTR_BUF_SIZE];

  g_strdelimit (g_ascii_formatd (k, sizeof k, "%.2f", budget->coverage), ".", decimal_mark);
  if (budget->combined <= 0)
    return g_string_free (g_string_append (text, "nothing is known of the instrument, and nothing was repeated"), FALSE);
  add_part (text, "error", budget->error, own, decimal_mark);
  add_part (text, "step", budget->step, own, decimal_mark);
  add_part (text, "reference", budget->reference, own, decimal_mark);
  add_part (text, spread, budget->repeats, own, decimal_mark);
  g_string_append_printf (text, ": u %s, U %s (k %s)", combined, expanded, k);
  return g_string_free (text, FALSE);
}
