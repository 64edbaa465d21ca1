/* Quantities in print: exact where that is short, marked as rounded where it is not. */
#include <math.h>

#include "measure/pawl-quantity-private.h"

/* A decimal that ends within so many places is printed whole. */
#define EXACT_PLACES 6
/* A small value keeps so many figures that count, 0.00254 and not 0.003. */
#define FIGURES 3
#define MOST_PLACES 12

static gboolean
is_one (const mpq_t value)
{
  return mpz_cmp_ui (mpq_denref (value), 1) == 0 && mpz_cmpabs_ui (mpq_numref (value), 1) == 0;
}

static const char *
get_symbol (const PawlUnit *unit, const mpq_t value)
{
  return unit->singular != NULL && is_one (value) ? unit->singular : unit->symbol;
}

static char *
join (const char *number, const char *symbol, gboolean is_rounded)
{
  return g_strdup_printf ("%s%s %s", is_rounded ? "≈ " : "", number, symbol);
}

guint
pawl_value_choose_places (const mpq_t value, const PawlUnit *unit)
{
  double size = fabs (mpq_get_d (value));
  int needed;

  if (size == 0 || size >= 1)
    return unit->places;
  needed = FIGURES - 1 - (int) floor (log10 (size));
  return MAX (unit->places, (guint) CLAMP (needed, 0, MOST_PLACES));
}

char *
pawl_value_format (const mpq_t value, const PawlUnit *unit, char decimal_mark)
{
  g_autofree char *number = NULL;
  guint places;
  gboolean is_rounded = !pawl_number_ends (value, &places) || places > EXACT_PLACES;

  number = pawl_number_format (value, is_rounded ? pawl_value_choose_places (value, unit) : places, FALSE, decimal_mark);
  return join (number, get_symbol (unit, value), is_rounded);
}

static char *
format_ends (const PawlQuantity *self, const PawlUnit *unit, char decimal_mark)
{
  g_autofree char *low_text = NULL;
  g_autofree char *high_text = NULL;
  mpq_t value;

  mpq_init (value);
  pawl_unit_from_base (unit, self->low, value);
  low_text = pawl_value_format (value, unit, decimal_mark);
  if (self->is_interval)
    {
      pawl_unit_from_base (unit, self->high, value);
      high_text = pawl_value_format (value, unit, decimal_mark);
    }
  mpq_clear (value);
  return high_text != NULL ? g_strdup_printf ("%s to %s", low_text, high_text) : g_steal_pointer (&low_text);
}

/**
 * pawl_quantity_format:
 * @decimal_mark: '.' or ','
 *
 * Returns: (transfer full): the value in the unit it was typed in: whole when its decimal ends within 6 places, else rounded
 *   half to even and marked "≈". An interval is "LOW to HIGH".
 */
char *
pawl_quantity_format (const PawlQuantity *self, char decimal_mark)
{
  return format_ends (self, self->unit, decimal_mark);
}

/**
 * pawl_quantity_format_in:
 * @unit: of the same dimension
 * @decimal_mark: '.' or ','
 *
 * Returns: (transfer full): the value in @unit, whole when its decimal ends within 6 places, else rounded half to even to the places
 *   that a bench reading in @unit has, at least three figures, and marked "≈"; %NULL when the dimension differs
 */
char *
pawl_quantity_format_in (const PawlQuantity *self, const PawlUnit *unit, char decimal_mark)
{
  g_return_val_if_fail (unit != NULL && unit->dimension == self->unit->dimension, NULL);
  return format_ends (self, unit, decimal_mark);
}

/**
 * pawl_quantity_format_beside:
 * @decimal_mark: '.' or ','
 *
 * The conversion to show beside what was typed: inches for millimetres and the other way round, N m for lbf·ft, kPa for psi, degrees for turns.
 *
 * Returns: (transfer full) (nullable): %NULL where no conversion helps: clock times, ohms, counts
 */
char *
pawl_quantity_format_beside (const PawlQuantity *self, char decimal_mark)
{
  const PawlUnit *unit = pawl_unit_lookup (self->unit->beside);

  return unit != NULL ? format_ends (self, unit, decimal_mark) : NULL;
}

/**
 * pawl_quantity_format_exact:
 * @decimal_mark: '.' or ','
 *
 * Nothing is lost: pawl_quantity_parse() of the text gives the same rational again.
 *
 * Returns: (transfer full): the value in its own unit as a decimal that ends, else as a mixed fraction, 1 1/3 turns; an interval as "LOW..HIGH unit"
 */
char *
pawl_quantity_format_exact (const PawlQuantity *self, char decimal_mark)
{
  g_autofree char *low_text = NULL;
  g_autofree char *high_text = NULL;
  char *text;
  mpq_t value;

  mpq_init (value);
  pawl_unit_from_base (self->unit, self->low, value);
  low_text = pawl_number_format_exact (value, decimal_mark);
  if (!self->is_interval)
    text = g_strdup_printf ("%s %s", low_text, get_symbol (self->unit, value));
  else
    {
      pawl_unit_from_base (self->unit, self->high, value);
      high_text = pawl_number_format_exact (value, decimal_mark);
      text = g_strdup_printf ("%s..%s %s", low_text, high_text, self->unit->symbol);
    }
  mpq_clear (value);
  return text;
}
