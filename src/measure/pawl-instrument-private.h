/* The expanded uncertainty of one reading, squared and exact. */
#pragma once

#include "measure/pawl-verdict.h"
#include "measure/pawl-quantity-private.h"

G_BEGIN_DECLS

/*
 * U² in base units squared, exactly. @about: (nullable): the reading, in base units, for an instrument whose error is in per cent of it.
 * FALSE when what is stated of the instrument is of another dimension than @dimension; @squared is then 0.
 */
gboolean pawl_instrument_get_expanded_squared (const PawlInstrument *instrument, PawlDimension dimension, const mpq_t about, mpq_t squared);

G_END_DECLS
