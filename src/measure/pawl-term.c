/* Terms: one number with its unit, units in a row, or a drill; and what a bare number means. */
#include <string.h>

#include "measure/pawl-drill-private.h"
#include "measure/pawl-quantity-private.h"

void
pawl_term_init (PawlTerm *self)
{
  mpq_init (self->value);
  self->unit = NULL;
  self->is_fraction = FALSE;
  self->start = NULL;
  self->end = NULL;
}

void
pawl_term_clear (PawlTerm *self)
{
  mpq_clear (self->value);
}

gboolean
pawl_scan_refuse_rest (PawlScan *self, GError **error)
{
  g_autofree char *rest = NULL;

  pawl_scan_spaces (self);
  if (*self->at == '-' && g_ascii_isdigit (self->at[1 + strspn (self->at + 1, " ")]))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                            "a dash after the number; write a mixed number as 1-5/16, a range as 12..15");
  rest = pawl_plain_dup_word (&self->plain, self->at);
  return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                          "“%s” is not expected here; a reading is a number and a unit, as in 1 5/16 in or 33.34 mm", rest);
}

/* ---- units in a row ---- */

/* How many of @unit make one of @larger. */
static void
get_ratio (const PawlUnit *larger, const PawlUnit *unit, mpq_t ratio)
{
  mpq_t factor;

  mpq_init (factor);
  pawl_unit_get_factor (larger, ratio);
  pawl_unit_get_factor (unit, factor);
  mpq_div (ratio, ratio, factor);
  mpq_clear (factor);
}

static gboolean
refuse_row (PawlScan *self, const PawlTerm *next, const PawlUnit *above, GError **error)
{
  self->at = next->start;
  return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                          "this does not follow %s; units in a row get smaller, each under one of the unit before, as in %s",
                          above->symbol, pawl_unit_get_example (above));
}

static gboolean
check_row (PawlScan *self, const PawlTerm *next, const PawlUnit *above, GError **error)
{
  mpq_t ratio;
  gboolean is_good;

  if (next->unit == NULL)
    {
      self->at = next->start;
      return pawl_scan_fault (self, error, PAWL_READING_ERROR_AMBIGUOUS, "a number without its unit after %s; write for example %s",
                              above->symbol, pawl_unit_get_example (above));
    }
  if (next->unit->row != above->row || next->unit == above)
    return refuse_row (self, next, above, error);
  mpq_init (ratio);
  get_ratio (above, next->unit, ratio);
  is_good = mpq_cmp (next->value, ratio) < 0;
  mpq_clear (ratio);
  return is_good || refuse_row (self, next, above, error);
}

/* Only the last of a row may have a decimal or a fraction: 1 h 30 min, not 1.5 h 30 min. */
static gboolean
check_whole (PawlScan *self, const PawlTerm *term, const mpq_t last, GError **error)
{
  if (mpz_cmp_ui (mpq_denref (last), 1) == 0)
    return TRUE;
  self->at = term->start;
  return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "of units in a row only the last may have a fraction, as in %s",
                          pawl_unit_get_example (term->unit));
}

static gboolean
scan_plain_term (PawlScan *self, const PawlUnit *expected, PawlTerm *term, GError **error)
{
  term->start = self->at;
  if (!pawl_scan_number (self, term->value, &term->is_fraction, error))
    return FALSE;
  term->end = self->at;
  return pawl_scan_unit (self, expected, &term->unit, error);
}

/* @term has been read and can have more after it; folds what follows into it, in the smallest unit. */
static gboolean
scan_row (PawlScan *self, PawlTerm *term, GError **error)
{
  gboolean is_negative = *term->start == '-';
  const PawlUnit *first = term->unit;
  g_auto(PawlTerm) next;
  mpq_t last, ratio;
  gboolean is_good = TRUE;

  pawl_term_init (&next);
  mpq_inits (last, ratio, NULL);
  mpq_abs (term->value, term->value);
  mpq_set (last, term->value);
  for (pawl_scan_spaces (self); is_good && g_ascii_isdigit (*self->at); pawl_scan_spaces (self))
    {
      is_good = scan_plain_term (self, term->unit, &next, error)
                && check_whole (self, term, last, error)
                && check_row (self, &next, term->unit, error);
      if (!is_good)
        break;
      get_ratio (term->unit, next.unit, ratio);
      mpq_mul (term->value, term->value, ratio);
      mpq_add (term->value, term->value, next.value);
      mpq_set (last, next.value);
      term->unit = next.unit;
    }
  /* An angle in degrees and minutes is read back in degrees; clock times and feet are exact in their smallest unit. */
  if (is_good && term->unit->row == PAWL_ROW_ARC)
    {
      get_ratio (first, term->unit, ratio);
      mpq_div (term->value, term->value, ratio);
      term->unit = first;
    }
  if (is_negative)
    mpq_neg (term->value, term->value);
  mpq_clears (last, ratio, NULL);
  return is_good;
}

/* ---- what else is typed about a number ---- */

/* 3:4. In place of a time it could be hours and minutes, or minutes and seconds. */
static gboolean
scan_ratio (PawlScan *self, const PawlUnit *expected, PawlTerm *term, GError **error)
{
  const char *under;
  gboolean is_good;
  mpq_t second;

  pawl_scan_spaces (self);
  if (*self->at != ':' || term->unit != NULL)
    return TRUE;
  if (expected != NULL && expected->dimension == PAWL_DIMENSION_TIME)
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_AMBIGUOUS,
                            "this could be hours and minutes, or minutes and seconds; write 1 h 30 min or 1 min 30 s");
  self->at++;
  pawl_scan_spaces (self);
  under = self->at;
  mpq_init (second);
  is_good = pawl_scan_number (self, second, NULL, error);
  if (is_good && mpq_sgn (second) == 0)
    {
      self->at = under;
      is_good = pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a ratio to zero; write for example 3:4");
    }
  if (is_good)
    mpq_div (term->value, term->value, second);
  mpq_clear (second);
  term->unit = pawl_unit_lookup ("ratio");
  return is_good;
}

/* The shank of a drill as a gauge: 1/8 drill is in inches, as they are marked; 5 mm drill. */
static gboolean
scan_drill_word (PawlScan *self, PawlTerm *term, GError **error)
{
  PawlScan ahead = *self;

  if (!pawl_scan_word (&ahead, "drill") || (term->unit != NULL && term->unit->dimension != PAWL_DIMENSION_LENGTH))
    return TRUE;
  if (term->unit == NULL && !term->is_fraction)
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_AMBIGUOUS,
                            "a drill could go by its number or by its size; write #68, letter F, 1/8 drill or 5 mm drill");
  if (term->unit == NULL)
    term->unit = pawl_unit_lookup ("in");
  *self = ahead;
  return TRUE;
}

/* "1 1/2 turns out from a light seat": where a screw is counted from is where it is always counted from. */
static void
scan_seat (PawlScan *self)
{
  PawlScan ahead;

  pawl_scan_word (self, "out");
  ahead = *self;
  if (!pawl_scan_word (&ahead, "from"))
    return;
  if (!pawl_scan_word (&ahead, "a"))
    pawl_scan_word (&ahead, "the");
  pawl_scan_word (&ahead, "light");
  if (pawl_scan_word (&ahead, "seat"))
    *self = ahead;
}

/* Words of the trade that say nothing of the value. TIR: total indicator reading, which is what the indicator shows. */
static gboolean
scan_remarks (PawlScan *self, PawlTerm *term, GError **error)
{
  if (term->unit != NULL && term->unit->dimension == PAWL_DIMENSION_ANGLE)
    scan_seat (self);
  if (term->unit == NULL || term->unit->dimension == PAWL_DIMENSION_LENGTH)
    pawl_scan_word (self, "tir");
  return scan_drill_word (self, term, error);
}

/* Δ10 °C */
static gboolean
make_difference (PawlScan *self, PawlTerm *term, GError **error)
{
  if (term->unit != NULL)
    term->unit = pawl_unit_get_difference (term->unit);
  if (term->unit != NULL && term->unit->dimension == PAWL_DIMENSION_TEMPERATURE_DIFFERENCE)
    return TRUE;
  self->at = term->start;
  return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "Δ stands before a difference of temperature only, as in Δ10 °C");
}

gboolean
pawl_scan_term (PawlScan *self, const PawlUnit *expected, PawlTerm *term, GError **error)
{
  gboolean is_drill, is_difference;

  pawl_scan_spaces (self);
  pawl_scan_diameter (self);
  is_difference = pawl_scan_word (self, "delta");
  term->start = self->at;
  term->is_fraction = FALSE;
  if (!pawl_scan_drill (self, term->value, &is_drill, error))
    return FALSE;
  if (is_drill)
    {
      term->unit = pawl_unit_lookup ("in");
      return TRUE;
    }
  if (*self->at == '\0')
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_EMPTY, "a number is missing; write for example %s",
                            pawl_unit_get_example (expected));
  if (!pawl_scan_is_at_number (self))
    {
      g_autofree char *rest = pawl_plain_dup_word (&self->plain, self->at);

      return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "“%s” is no number; write for example %s", rest,
                              pawl_unit_get_example (expected));
    }
  return scan_plain_term (self, expected, term, error)
         && (term->unit == NULL || term->unit->row == PAWL_ROW_NONE || scan_row (self, term, error))
         && (!is_difference || make_difference (self, term, error))
         && scan_ratio (self, expected, term, error) && scan_remarks (self, term, error);
}

/* ---- bare numbers ---- */

/*
 * A bare number is in the default unit, except where two readings could be meant: inch or metric, or a fraction
 * where millimetres are expected.
 */
gboolean
pawl_term_settle (PawlTerm *self, const PawlScan *scan, const PawlTyping *typing, GError **error)
{
  const PawlUnit *unit = typing != NULL ? typing->default_unit : NULL;
  g_autofree char *typed = NULL;
  g_autofree char *number = NULL;

  if (self->unit != NULL)
    return TRUE;
  if (unit != NULL && !typing->is_mixed && !(self->is_fraction && unit->dimension == PAWL_DIMENSION_LENGTH && unit->system == PAWL_SYSTEM_METRIC))
    {
      self->unit = unit;
      return TRUE;
    }
  typed = g_strndup (self->start, (gsize) (self->end - self->start));
  number = pawl_number_format_exact (self->value, scan->decimal_mark);
  if (unit != NULL && !typing->is_mixed)
    return pawl_plain_fault (&scan->plain, self->start, error, PAWL_READING_ERROR_AMBIGUOUS,
                             "a fraction without a unit, where %s is expected; write %s in if inches are meant, or %s %s",
                             unit->symbol, typed, number, unit->symbol);
  if (typing != NULL && typing->is_mixed)
    return pawl_plain_fault (&scan->plain, self->start, error, PAWL_READING_ERROR_AMBIGUOUS,
                             "a number without a unit could be inch or metric; write %s in or %s mm", typed, number);
  return pawl_plain_fault (&scan->plain, self->start, error, PAWL_READING_ERROR_AMBIGUOUS,
                           "a number without a unit; write it with one, as in %s in, %s mm or %s turns", typed, number, typed);
}
