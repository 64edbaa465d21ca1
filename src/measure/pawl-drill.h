/* Drills by name: numbers, letters and sixty-fourths of an inch. */
#pragma once

#include "measure/pawl-unit.h"

G_BEGIN_DECLS

/*
 * The largest drill of the three kinds that is no larger than @most; both in inches, @most at least zero. Of two of one size the fraction.
 * @size: (out). Returns: (transfer full) (nullable): its name as it is typed, "#56", "1/8" or "letter Q"; NULL below the smallest number drill
 */
char *pawl_drill_find_largest (const mpq_t most, mpq_t size);

G_END_DECLS
