/* What an instrument can tell: its expanded uncertainty, and whether that will do for a tolerance. */
#include <math.h>
#include <string.h>

#include "measure/pawl-gauge.h"
#include "measure/pawl-limits-private.h"
#include "measure/pawl-uncertainty-private.h"
#include "measure/pawl-verdict.h"

/* An instrument is too coarse when U is over this part of the tolerance (4 to 1: common practice, no source). */
#define COARSE 0.25
/* Its step should be a tenth of the whole tolerance, and so a fifth of the plus-or-minus (ten to one: common practice, no source). */
#define STEPS_WANTED 5

/* ---- as typed ---- */

/* What part of an instrument failed to read is said before what is wrong with it. */
static gboolean
parse_part (const char *text, const char *word, const PawlTyping *typing, PawlQuantity **quantity, GError **error)
{
  const char *value = g_str_has_prefix (text, "±") ? text + strlen ("±") : text;
  g_autoptr(PawlQuantity) parsed = pawl_gauge_looks_like (value) ? pawl_gauge_parse (value, typing, error) : pawl_quantity_parse (value, typing, error);

  if (parsed == NULL)
    {
      g_prefix_error (error, "%s of the instrument, “%s”: ", word, text);
      return FALSE;
    }
  if (parsed->is_interval || mpq_sgn (parsed->low) < 0)
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER, "%s of the instrument, “%s”: one value, not below zero, as in ±0.03 mm",
                   word, text);
      return FALSE;
    }
  g_clear_pointer (quantity, pawl_quantity_unref);
  *quantity = g_steal_pointer (&parsed);
  return TRUE;
}

static gboolean
parse_words (const char *words, gboolean is_first, const PawlTyping *typing, PawlInstrument *instrument, GError **error)
{
  const struct { const char *word; PawlQuantity **quantity; } parts[] = {
    { "error", &instrument->max_error }, { "step", &instrument->step }, { "reference", &instrument->reference },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    if (g_str_has_prefix (words, parts[i].word) && words[strlen (parts[i].word)] == ' ')
      return parse_part (words + strlen (parts[i].word) + 1, parts[i].word, typing, parts[i].quantity, error);
  if (is_first)
    {
      instrument->name = g_strdup (words);
      return TRUE;
    }
  g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER,
               "“%s” is not understood of an instrument; it is “NAME; error ±0.03 mm; step 0.01 mm; reference ±0.005 mm”", words);
  return FALSE;
}

gboolean
pawl_instrument_parse (const char *text, const PawlTyping *typing, PawlInstrument *instrument, GError **error)
{
  g_auto(GStrv) parts = NULL;

  g_return_val_if_fail (text != NULL && instrument != NULL, FALSE);
  *instrument = (PawlInstrument) { 0 };
  parts = g_strsplit (text, ";", -1);
  for (char **part = parts; *part != NULL; part++)
    if (!parse_words (g_strstrip (*part), part == parts, typing, instrument, error))
      {
        pawl_instrument_clear (instrument);
        return FALSE;
      }
  return TRUE;
}

void
pawl_instrument_clear (PawlInstrument *instrument)
{
  g_clear_pointer ((char **) &instrument->name, g_free);
  g_clear_pointer (&instrument->max_error, pawl_quantity_unref);
  g_clear_pointer (&instrument->step, pawl_quantity_unref);
  g_clear_pointer (&instrument->reference, pawl_quantity_unref);
}

/* ---- what it can tell ---- */

/* U in base units; 0 when nothing is known, or what is known is of another dimension. */
static double
get_expanded (const PawlInstrument *instrument, PawlDimension dimension, const mpq_t about)
{
  g_auto(PawlVariance) variance = { 0 };

  pawl_variance_init (&variance);
  return pawl_variance_add_instrument (&variance, instrument, dimension, about) ? 2 * sqrt (mpq_get_d (variance.combined)) : 0;
}

double
pawl_instrument_get_expanded_uncertainty (const PawlInstrument *instrument, const PawlUnit *unit)
{
  double number;
  mpq_t nothing;

  g_return_val_if_fail (unit != NULL, 0);
  mpq_init (nothing);
  number = get_expanded (instrument, unit->dimension, nothing) / pawl_unit_get_scale (unit);
  mpq_clear (nothing);
  return number;
}

/*
 * The tolerance as a plus-or-minus: half the width of two-sided limits; of a maximum alone, the way from zero to it.
 * A minimum alone leaves all the room there is, and so does a maximum that is not above zero, or one of temperature.
 */
static gboolean
get_tolerance (const PawlLimits *limits, mpq_t tolerance)
{
  const PawlQuantity *low = pawl_limits_peek_low (limits);
  const PawlQuantity *high = pawl_limits_peek_high (limits);

  if (high == NULL)
    return FALSE;
  mpq_set (tolerance, high->high);
  if (low == NULL)
    return mpq_sgn (tolerance) > 0 && high->unit->dimension != PAWL_DIMENSION_TEMPERATURE;
  mpq_sub (tolerance, tolerance, low->low);
  mpq_div_2exp (tolerance, tolerance, 1);
  return TRUE;
}

/**
 * pawl_instrument_is_too_coarse:
 * @instrument: (nullable)
 * @ratio: (out) (optional): U over the tolerance, infinite when that is zero, 0 when either is unknown. The tolerance is
 *   the plus-or-minus of two-sided limits; for a maximum alone it counts from zero; a minimum alone sets none.
 *
 * Returns: whether U is over a quarter of the tolerance, so that many a reading will be too close to call
 */
gboolean
pawl_instrument_is_too_coarse (const PawlInstrument *instrument, const PawlLimits *limits, double *ratio)
{
  double expanded, share = 0;
  mpq_t tolerance;

  g_return_val_if_fail (limits != NULL, FALSE);
  mpq_init (tolerance);
  if (get_tolerance (limits, tolerance) && (expanded = get_expanded (instrument, limits->unit->dimension, limits->high->high)) > 0)
    share = mpq_sgn (tolerance) > 0 ? expanded / mpq_get_d (tolerance) : INFINITY;
  mpq_clear (tolerance);
  if (ratio != NULL)
    *ratio = share;
  return share > COARSE;
}

/**
 * pawl_instrument_is_coarsely_divided:
 * @instrument: (nullable)
 *
 * Exact. The tolerance is that of pawl_instrument_is_too_coarse().
 *
 * Returns: whether its step is over a tenth of the tolerance's width; FALSE where either is unknown
 */
gboolean
pawl_instrument_is_coarsely_divided (const PawlInstrument *instrument, const PawlLimits *limits)
{
  gboolean is_coarse = FALSE;
  mpq_t tolerance, wanted, steps;

  g_return_val_if_fail (limits != NULL, FALSE);
  if (instrument == NULL || instrument->step == NULL)
    return FALSE;
  mpq_inits (tolerance, wanted, steps, NULL);
  mpq_set_ui (steps, STEPS_WANTED, 1);
  if (get_tolerance (limits, tolerance) && instrument->step->unit->dimension == limits->unit->dimension)
    {
      mpq_mul (wanted, instrument->step->high, steps);
      is_coarse = mpq_cmp (wanted, tolerance) > 0;
    }
  mpq_clears (tolerance, wanted, steps, NULL);
  return is_coarse;
}
