/* Tolerance classes by name: H7 and g6 of ISO 286, the general tolerances f, m, c, v of ISO 2768. */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

/* Grades IT01 and IT0 come before IT1. */
#define PAWL_ISO286_IT01 (-1)
#define PAWL_ISO286_IT18 18

/* Sizes are inclusive at their upper end ("over … up to and including"). All are exact, in millimetres. Errors: PAWL_READING_ERROR_BAD_LIMITS. */
gboolean pawl_iso286_get_grade      (int grade, const mpq_t nominal_mm, mpq_t tolerance_mm, GError **error);
/* @name: "H7", "js6", "N9": a capital for a hole, a small letter for a shaft. */
gboolean pawl_iso286_get_deviations (const char *name, const mpq_t nominal_mm, mpq_t lower_mm, mpq_t upper_mm, GError **error);
/* @letter: f, m, c or v. The deviation to either side of a length that has no tolerance of its own. */
gboolean pawl_iso2768_get_deviation (char letter, const mpq_t nominal_mm, mpq_t deviation_mm, GError **error);

G_END_DECLS
