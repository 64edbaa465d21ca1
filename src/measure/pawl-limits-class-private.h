/* Sizes with a tolerance class of ISO 286 or ISO 2768. */
#pragma once

#include "measure/pawl-quantity-private.h"

G_BEGIN_DECLS

/*
 * Takes a size with its class when one stands next, see the head of the .c file; @is_class: (out): FALSE, and nothing taken, otherwise.
 * @upper, @lower: (out): the deviations from @nominal, in mm. Errors: _BAD_LIMITS for what the standards lack, _AMBIGUOUS without a unit.
 */
gboolean pawl_scan_size_class (PawlScan *scan, const PawlTyping *typing, PawlTerm *nominal, PawlTerm *upper, PawlTerm *lower,
                               gboolean *is_class, GError **error);

G_END_DECLS
