/* Readings that can hardly be what was measured: another unit, a sign, a decimal mark. A warning beside the verdict, never in its place. */
#pragma once

#include "measure/pawl-limits.h"

G_BEGIN_DECLS

/*
 * @quantity: of the dimension of @limits
 * @sentence: (out) (transfer full) (optional): what is odd about it, and what might be meant: "40000 mm is over 1000 times the limit 25 mm; …"
 *
 * It is absurd when it lies below zero though none of the limits does; when it is nothing though something is wanted; when it is a thousand times a
 * limit, or a thousandth; when it is five times a limit, or a fifth, and its number in another unit would be right; when it is colder than can be.
 * Otherwise a temperature is never absurd, for its ratio says nothing. FALSE for choices.
 */
gboolean pawl_reading_is_absurd (const PawlLimits *limits, const PawlQuantity *quantity, char **sentence);

G_END_DECLS
