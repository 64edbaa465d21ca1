/* Squares of uncertainties, exactly: distances are compared with them, so that "exactly U inside" is decided. */
#pragma once

#include "measure/pawl-quantity-private.h"
#include "measure/pawl-uncertainty.h"

G_BEGIN_DECLS

/* All in base units squared. */
typedef struct {
  mpq_t error, step, reference, repeats; /* u² of each */
  mpq_t deviation;                       /* s² */
  mpq_t combined;
} PawlVariance;

void     pawl_variance_init  (PawlVariance *self);
void     pawl_variance_clear (PawlVariance *self);
/*
 * @about: the reading, base units, for an instrument whose error is in per cent of it. FALSE when what is stated of the instrument is of another
 * dimension than @dimension.
 */
gboolean pawl_variance_add_instrument (PawlVariance *self, const PawlInstrument *instrument, PawlDimension dimension, const mpq_t about);
void     pawl_variance_add_repeats    (PawlVariance *self, PawlQuantity * const *readings, guint n);

void     pawl_variance_make_budget    (const PawlVariance *self, guint n, const PawlUnit *unit, PawlBudget *budget);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlVariance, pawl_variance_clear)

G_END_DECLS
