/*
 * What standards allow gauges and instruments to be off by, for those whose own error nobody has written down.
 *
 * By name and size: "gauge block grade 1 30 mm", "plug gauge class X 0.5 in", "micrometer 20 mm", "caliper 0.05 mm 150 mm" (its scale, then the length).
 */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

/* Whether @text begins with one of these names. */
gboolean      pawl_gauge_looks_like (const char *text);
/**
 * pawl_gauge_parse:
 * @text: a name and a size, both as above
 * @error: PAWL_READING_ERROR_NOT_A_NUMBER: no such gauge, or a size that no table has; and what pawl_quantity_parse() says of the size
 *
 * Sources: ISO 3650 (limit deviation at any point), ASME B89.1.5, DIN 863-1 and DIN 862, the last two as they were before ISO 3611 and ISO 13385
 * left the value to the maker; some of their values seen in copies, the others from memory. A caliper of a length between two that are tabled has the
 * error of the longer one.
 *
 * Returns: (transfer full) (nullable): the limit, ±, exact
 */
PawlQuantity *pawl_gauge_parse      (const char *text, const PawlTyping *typing, GError **error);

G_END_DECLS
