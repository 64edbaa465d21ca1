#include "measure/pawl-shown.h"

#include "measure/pawl-limits-private.h"
#include "measure/pawl-number-private.h"

/* A decimal that ends within so many places is printed whole. */
#define EXACT_PLACES 6
/* What is typed has 40 digits at most, a factor 5: whatever is not the same differs within these. */
#define MOST_PLACES 60

const PawlUnit *
pawl_unit_in_system (const PawlUnit *unit, gboolean is_inch)
{
  if (unit == NULL || pawl_unit_get_dimension (unit) != PAWL_DIMENSION_LENGTH || pawl_unit_is_inch (unit) == is_inch)
    return NULL;
  return pawl_unit_lookup (is_inch ? "in" : "mm");
}

/* ---- places ---- */

/* Whether two numbers that are not the same are printed as the same. */
static gboolean
is_lost (const mpq_t a, const mpq_t b, const PawlUnit *unit, guint places)
{
  gboolean is_same;
  mpq_t x, y;
  mpz_t round_x, round_y;

  if (mpq_equal (a, b))
    return FALSE;
  mpq_inits (x, y, NULL);
  mpz_inits (round_x, round_y, NULL);
  pawl_unit_from_base (unit, a, x);
  pawl_unit_from_base (unit, b, y);
  pawl_number_round (round_x, x, places);
  pawl_number_round (round_y, y, places);
  is_same = mpz_cmp (round_x, round_y) == 0;
  mpq_clears (x, y, NULL);
  mpz_clears (round_x, round_y, NULL);
  return is_same;
}

/* Rounding keeps the order, so what is not printed as the same is printed in its order. */
static guint
find_places (const PawlQuantity *const *all, guint n, const PawlUnit *unit)
{
  guint places = 0;
  mpq_t value;

  mpq_init (value);
  for (guint i = 0; i < n; i++)
    {
      pawl_unit_from_base (unit, all[i]->low, value);
      places = MAX (places, pawl_value_choose_places (value, unit));
    }
  mpq_clear (value);
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j < n; j++)
      while (places < MOST_PLACES && (is_lost (all[i]->low, all[j]->low, unit, places) || is_lost (all[i]->high, all[j]->high, unit, places)
                                      || is_lost (all[i]->low, all[j]->high, unit, places)))
        places++;
  return places;
}

/* ---- numbers ---- */

/* (transfer full): without unit. @is_rounded: (inout): set when this one is */
static char *
format_number (const mpq_t base, const PawlUnit *unit, guint places, char decimal_mark, gboolean *is_rounded)
{
  char *text;
  guint ending = 0;
  mpq_t value;

  mpq_init (value);
  pawl_unit_from_base (unit, base, value);
  if (pawl_number_ends (value, &ending) && ending <= MAX (places, EXACT_PLACES))
    text = pawl_number_format (value, ending, FALSE, decimal_mark);
  else
    {
      text = pawl_number_format (value, places, FALSE, decimal_mark);
      *is_rounded = TRUE;
    }
  mpq_clear (value);
  return text;
}

static char *
format_quantity (const PawlQuantity *quantity, const PawlUnit *unit, guint places, char decimal_mark)
{
  gboolean is_rounded = FALSE;
  g_autofree char *low = NULL, *high = NULL;

  if (quantity == NULL)
    return NULL;
  low = format_number (quantity->low, unit, places, decimal_mark, &is_rounded);
  if (quantity->is_interval)
    high = format_number (quantity->high, unit, places, decimal_mark, &is_rounded);
  return g_strdup_printf ("%s%s%s%s %s", is_rounded ? "≈ " : "", low, high != NULL ? " to " : "", high != NULL ? high : "", pawl_unit_get_symbol (unit));
}

/* As limits are typed: "0.1..0.2", "max 0.2", "min 0.1"; "" for none. */
static char *
format_pair (const PawlQuantity *low, const PawlQuantity *high, const PawlUnit *unit, guint places, char decimal_mark, gboolean *is_rounded)
{
  g_autofree char *low_text = low != NULL ? format_number (low->low, unit, places, decimal_mark, is_rounded) : NULL;
  g_autofree char *high_text = high != NULL ? format_number (high->high, unit, places, decimal_mark, is_rounded) : NULL;

  if (low_text != NULL && high_text != NULL)
    return g_strdup_printf ("%s..%s", low_text, high_text);
  return low_text != NULL ? g_strdup_printf ("min %s", low_text) : high_text != NULL ? g_strdup_printf ("max %s", high_text) : g_strdup ("");
}

static char *
format_limits (const PawlLimits *limits, const PawlUnit *unit, guint places, char decimal_mark)
{
  gboolean is_rounded = FALSE;
  g_autofree char *pair = format_pair (limits->low, limits->high, unit, places, decimal_mark, &is_rounded);
  g_autofree char *wear = format_pair (limits->wear_low, limits->wear_high, unit, places, decimal_mark, &is_rounded);

  if (*pair == '\0' && *wear == '\0')
    return NULL;
  return g_strdup_printf ("%s%s%s%s %s", is_rounded ? "≈ " : "", pair, *wear != '\0' ? "; wear " : "", wear, pawl_unit_get_symbol (unit));
}

void
pawl_shown_make (const PawlQuantity *quantity, const PawlLimits *limits, const PawlUnit *unit, char decimal_mark, PawlShown *shown)
{
  const PawlQuantity *all[5];
  guint n = 0, places;

  *shown = (PawlShown) { NULL };
  if (quantity != NULL && quantity->unit->dimension != unit->dimension)
    quantity = NULL;
  if (limits != NULL && (limits->unit == NULL || limits->unit->dimension != unit->dimension))
    limits = NULL;
  if (quantity != NULL)
    all[n++] = quantity;
  for (guint i = 0; limits != NULL && i < 4; i++)
    {
      const PawlQuantity *limit = (const PawlQuantity *[]) { limits->low, limits->high, limits->wear_low, limits->wear_high }[i];

      if (limit != NULL)
        all[n++] = limit;
    }
  places = find_places (all, n, unit);
  shown->value = format_quantity (quantity, unit, places, decimal_mark);
  if (limits == NULL)
    return;
  shown->low = format_quantity (limits->low, unit, places, decimal_mark);
  shown->high = format_quantity (limits->high, unit, places, decimal_mark);
  shown->limits = format_limits (limits, unit, places, decimal_mark);
}

void
pawl_shown_clear (PawlShown *shown)
{
  g_free (shown->value);
  g_free (shown->low);
  g_free (shown->high);
  g_free (shown->limits);
  *shown = (PawlShown) { NULL };
}

/* ---- a number without its unit ---- */

static gboolean
is_within (const PawlLimits *limits, const PawlQuantity *quantity)
{
  const PawlQuantity *low = pawl_limits_peek_last_low (limits), *high = pawl_limits_peek_last_high (limits);

  return (low == NULL || mpq_cmp (quantity->low, low->low) >= 0) && (high == NULL || mpq_cmp (quantity->high, high->high) <= 0);
}

PawlBare
pawl_reading_check_bare (const char *typed, const PawlTyping *typing, const PawlLimits *limits, const PawlUnit **other)
{
  const PawlUnit *unit = typing->default_unit;
  const PawlUnit *there = unit != NULL && !typing->is_mixed ? pawl_unit_in_system (unit, !pawl_unit_is_inch (unit)) : NULL;
  PawlTyping meant_there = *typing;
  g_autoptr(PawlQuantity) here = NULL, elsewhere = NULL;

  *other = NULL;
  if (there == NULL || limits->unit == NULL || limits->unit->dimension != PAWL_DIMENSION_LENGTH)
    return PAWL_BARE_CLEAR;
  meant_there.default_unit = there;
  here = pawl_quantity_parse (typed, typing, NULL);
  elsewhere = pawl_quantity_parse (typed, &meant_there, NULL);
  if (here == NULL || elsewhere == NULL || here->unit != unit || elsewhere->unit != there || !is_within (limits, elsewhere))
    return PAWL_BARE_CLEAR;
  *other = there;
  return is_within (limits, here) ? PAWL_BARE_EITHER : PAWL_BARE_ELSEWHERE;
}
