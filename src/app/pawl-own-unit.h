/* Readings in the unit that a person prefers, with what was typed and what the book prints beside it. Pure. The record and the report know nothing of it. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_LENGTHS_AS_TYPED, /* nobody said */
  PAWL_LENGTHS_IN_MM,
  PAWL_LENGTHS_IN_INCHES,
} PawlLengths;

/* (nullable): the unit to show @unit's values in; NULL: its own. @unit: (nullable) */
const PawlUnit *pawl_own_unit_find (PawlLengths lengths, const PawlUnit *unit);
/* (transfer full): "≈ 0.0394 in · 1 mm": as pawl_phrase_describe_value(), with the preferred unit first, to so many places that it lies to the limits of the
 * attempt as what was typed does. */
char *pawl_own_unit_describe_value  (PawlLengths lengths, const PawlAttempt *attempt, char decimal_mark);
/* (transfer full) (nullable): "Limits ≈ 0.0374..0.0413 in (book: 1.00 ± 0.05 mm; manual p. 21)". @limits: (nullable): those that apply now;
 * @quantity: (nullable): what is compared with them on the screen */
char *pawl_own_unit_describe_limits (PawlLengths lengths, const PawlAsk *ask, const PawlLimits *limits, const PawlQuantity *quantity, char decimal_mark);
/* (transfer full) (nullable): a sentence that asks back: what is typed has no unit, and is right in the other one. @typed: one value */
char *pawl_own_unit_ask_back        (PawlLengths lengths, const char *typed, const PawlTyping *typing, const PawlLimits *limits);

G_END_DECLS
