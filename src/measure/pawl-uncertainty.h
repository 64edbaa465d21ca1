/*
 * How well a reading is known: what the instrument and the spread of repeats leave open, combined as in the GUM (JCGM 100:2008).
 *
 * u² = (max error/√3)² + (step/√12)² + (reference error/√3)² + s²/n, rectangular but for the repeats; 4.3.7, F.2.2.1 and 4.2.3, from memory.
 */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

/* An instrument as a procedure or a register states it. Plain data; strings are borrowed by whoever holds the struct. */
typedef struct {
  const char   *id;
  const char   *name;
  PawlQuantity *max_error; /* (nullable) maximum permissible error, ±; per cent: of the reading */
  PawlQuantity *step;      /* (nullable) resolution */
  PawlQuantity *reference; /* (nullable) what it was set or checked by: its error, ± */
} PawlInstrument;

/**
 * pawl_instrument_parse:
 * @text: "caliper; error ±0.03 mm; step 0.01 mm; reference ±0.005 mm": all but the name may be left out, an error may be in per cent of the reading
 * @instrument: (out): on success; to be cleared. On failure nothing is left in it
 *
 * Errors are PAWL_READING_ERROR and name the part that can't be understood.
 */
gboolean      pawl_instrument_parse (const char *text, const PawlTyping *typing, PawlInstrument *instrument, GError **error);
void          pawl_instrument_clear (PawlInstrument *instrument); /* one that pawl_instrument_parse() filled */

/* Each part as a standard uncertainty, all in one unit; 0 where nothing is known. */
typedef struct {
  guint  n;          /* readings */
  double deviation;  /* s of one reading; 0 for a single one */
  double error, step, reference, repeats;
  double combined;   /* u */
  double degrees;    /* effective degrees of freedom; INFINITY where nothing was repeated */
  double coverage;   /* k for 95.45 %: 2 at INFINITY, else of the t distribution (GUM G.6.4, from memory) */
  double expanded;   /* U = k u */
} PawlBudget;

/**
 * pawl_budget_make:
 * @readings: (array length=n): of one thing, with one instrument, in one dimension; n >= 1
 * @instrument: (nullable)
 * @unit: that the budget is in; of temperatures, that of their difference is meant
 * @error: PAWL_READING_ERROR_WRONG_DIMENSION: readings of several kinds, or an instrument that reads something else
 */
gboolean      pawl_budget_make      (PawlQuantity * const *readings, guint n, const PawlInstrument *instrument, const PawlUnit *unit,
                                     PawlBudget *budget, GError **error);
/* (transfer full): of one reading that reading itself, of several their mean, exactly, in the unit of the first; of brackets the bracket of the means */
PawlQuantity *pawl_readings_get_mean (PawlQuantity * const *readings, guint n);
/* (transfer full): "error 0.017 mm, step 0.003 mm, spread of 3 readings 0.006 mm: u 0.018 mm, U 0.037 mm (k 2.0)" in @unit */
char         *pawl_budget_describe  (const PawlBudget *budget, const PawlUnit *unit, char decimal_mark);

/* (transfer full): "0.0058 mm", to two figures (GUM 7.2.6, from memory) */
char         *pawl_uncertainty_format (double value, const PawlUnit *unit, char decimal_mark);
/* (transfer full): "101.7 ± 3.5 mm": U to two figures, the value to the same place (GUM 7.2.6, from memory); both in @unit */
char         *pawl_result_format    (double value, double expanded, const PawlUnit *unit, char decimal_mark);

G_END_DECLS
