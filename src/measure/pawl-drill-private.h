/* Number and letter drills: a hole gauge that every bench has. */
#pragma once

#include "measure/pawl-number-private.h"

G_BEGIN_DECLS

/* Diameter in inches. FALSE when there is no such drill. */
gboolean pawl_drill_get_number (guint number, mpq_t inches);
gboolean pawl_drill_get_letter (char letter, mpq_t inches);
/*
 * Takes "#56", "No. 56", "number 56", "letter F", "F drill", with or without "drill" after it. @is_drill: (out): FALSE when none
 * of these stands next. Errors: _NOT_A_NUMBER for a drill that does not exist.
 */
gboolean pawl_scan_drill       (PawlScan *self, mpq_t inches, gboolean *is_drill, GError **error);

G_END_DECLS
