/* An instrument of the register in words, for the window. Pure; all results (transfer full) unless const. */
#pragma once

#include "register/pawl-register.h"

G_BEGIN_DECLS

/* "✓", "!", "✗", "–", "?": beside the word, never instead of it. */
const char *pawl_instrument_get_sign (PawlStanding standing);
/* "In date, due 2027-03-01", "Out of date: was due 2026-03-01", "Retired: dropped" */
char       *pawl_instrument_describe_standing (const PawlGauge *gauge, GDateTime *at);
/* "Error ±0.02 mm · step 0.01 mm"; says so when nothing is known */
char       *pawl_instrument_describe_error (const PawlGauge *gauge, char decimal_mark);
/* "Types “M3:”, the number, “mm”, then Enter"; "" when it doesn't type */
char       *pawl_instrument_describe_typing (const PawlGauge *gauge);
/* "outside micrometer, 0..25 mm" */
char       *pawl_instrument_describe_kind (const PawlGauge *gauge);
/* (element-type PawlGauge), borrowed: the one that is due first at the top, then those without a date, then the retired ones. */
GPtrArray  *pawl_instruments_sort (const PawlRegister *instruments);

G_END_DECLS
