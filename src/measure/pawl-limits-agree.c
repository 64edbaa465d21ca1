/* One specification printed in two systems: do both say the same? */
#include <string.h>

#include "measure/pawl-limits-private.h"

/* No printed number has more places. */
#define PLACES_MAX 20

/* After how many places the coarsest number of @text ends; brackets hold the other system, and are left out. Fractions are exact: FALSE. */
static gboolean
get_places (const char *text, char decimal_mark, guint *n_places)
{
  g_autofree char *outer = g_strndup (text, strcspn (text, "("));
  g_autofree char *pattern = g_strdup_printf ("(?<![\\d%1$c/])\\d*\\%1$c?\\d+(?![\\d/])", decimal_mark);
  g_autoptr(GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;

  *n_places = G_MAXUINT;
  if (strchr (outer, '/') != NULL)
    return FALSE;
  for (g_regex_match (regex, outer, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *number = g_match_info_fetch (match, 0);
      const char *mark = strchr (number, decimal_mark);

      *n_places = MIN (*n_places, mark != NULL ? (guint) strlen (mark + 1) : 0);
    }
  return *n_places <= PLACES_MAX;
}

/* Half a step of the last place printed: what rounding alone may have changed; base units. */
static void
set_rounding (const PawlLimits *limits, mpq_t rounding)
{
  guint n_places;

  mpq_set_ui (rounding, 0, 1);
  if (!get_places (limits->text, limits->decimal_mark, &n_places))
    return;
  mpz_set_ui (mpq_numref (rounding), 1);
  mpz_ui_pow_ui (mpq_denref (rounding), 10, n_places);
  mpz_mul_ui (mpq_denref (rounding), mpq_denref (rounding), 2);
  mpq_canonicalize (rounding);
  pawl_unit_to_base (pawl_unit_get_difference (limits->unit), rounding, rounding);
}

static gboolean
ends_agree (const PawlQuantity *a, const PawlQuantity *b, const mpq_t rounding)
{
  gboolean agree;
  mpq_t off;

  if (a == NULL || b == NULL)
    return a == b;
  mpq_init (off);
  mpq_sub (off, a->low, b->low);
  mpq_abs (off, off);
  agree = mpq_cmp (off, rounding) <= 0;
  mpq_clear (off);
  return agree;
}

/**
 * pawl_limits_agree:
 * @a: limits
 * @b: the same in another unit, if all is right
 *
 * Either may be the rounded form of the other, so their ends may lie half a step of the coarser last place apart; where a nominal and its
 * tolerance are each rounded, twice as much. A limit that only one of them has is a disagreement, but for those of wear.
 *
 * Returns: whether both mean one thing; %FALSE for choices and for different dimensions
 */
gboolean
pawl_limits_agree (const PawlLimits *a, const PawlLimits *b)
{
  gboolean agree;
  mpq_t rounding, other;

  if (a->unit == NULL || b->unit == NULL || a->unit->dimension != b->unit->dimension)
    return FALSE;
  mpq_inits (rounding, other, NULL);
  set_rounding (a, rounding);
  set_rounding (b, other);
  if (mpq_cmp (rounding, other) < 0)
    mpq_swap (rounding, other);
  if (a->kind == PAWL_LIMITS_NOMINAL || b->kind == PAWL_LIMITS_NOMINAL)
    mpq_add (rounding, rounding, rounding);
  agree = ends_agree (a->low, b->low, rounding) && ends_agree (a->high, b->high, rounding)
          && (a->wear_low == NULL || b->wear_low == NULL || ends_agree (a->wear_low, b->wear_low, rounding))
          && (a->wear_high == NULL || b->wear_high == NULL || ends_agree (a->wear_high, b->wear_high, rounding));
  mpq_clears (rounding, other, NULL);
  return agree;
}
