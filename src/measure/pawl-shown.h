/* A reading and its limits in another unit than the book's, for who reads that one more easily: rounded, but never across a limit. */
#pragma once

#include "measure/pawl-limits.h"

G_BEGIN_DECLS

/* (nullable): millimetres or inches for a length of the other system; NULL when @unit is of that system already, or no length. */
const PawlUnit *pawl_unit_in_system (const PawlUnit *unit, gboolean is_inch);

/* All (nullable). */
typedef struct {
  char *value;     /* "≈ 0.0394 in" */
  char *low, *high;
  char *limits;    /* "≈ 0.0374..0.0413 in", as limits are typed; NULL where there are no numbers */
} PawlShown;

/**
 * pawl_shown_make:
 * @quantity: (nullable)
 * @limits: (nullable)
 * @unit: what is of another dimension is passed over
 *
 * To the places that a bench reading in @unit has, and to as many more as it takes that what is printed lies to each of the limits, of wear too, as what is
 * meant does: below, above or the same. So whoever compares the figures on the screen comes to the verdict of the exact ones.
 */
void pawl_shown_make  (const PawlQuantity *quantity, const PawlLimits *limits, const PawlUnit *unit, char decimal_mark, PawlShown *shown);
void pawl_shown_clear (PawlShown *shown);

typedef enum {
  PAWL_BARE_CLEAR,     /* it has its unit, or only the expected one makes sense of it */
  PAWL_BARE_ELSEWHERE, /* outside as it stands; inside if it was meant in the other unit */
  PAWL_BARE_EITHER,    /* inside in both */
} PawlBare;

/**
 * pawl_reading_check_bare:
 * @typed: one value
 * @limits: of a length
 * @other: (out): the unit that it may have been meant in; where nothing is to be asked, NULL
 *
 * What a number without a unit may have been meant as: in millimetres where the book has inches, or the other way round.
 */
PawlBare pawl_reading_check_bare (const char *typed, const PawlTyping *typing, const PawlLimits *limits, const PawlUnit **other);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlShown, pawl_shown_clear)

G_END_DECLS
