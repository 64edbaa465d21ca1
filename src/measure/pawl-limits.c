/* Limits: what they hold. Reading them from a book's style is pawl-limits-parse.c. */
#include "measure/pawl-limits-private.h"

/* Takes ownership of @text. */
PawlLimits *
pawl_limits_new_empty (PawlLimitsKind kind, char *text)
{
  PawlLimits *self = g_new0 (PawlLimits, 1);

  g_atomic_ref_count_init (&self->ref_count);
  self->kind = kind;
  self->text = text;
  self->decimal_mark = '.';
  return self;
}

/**
 * pawl_limits_new_choice:
 * @outcomes: (array zero-terminated=1): every outcome that may be answered
 * @acceptable: (array zero-terminated=1): those that are in; one that is no outcome can never be answered, and does no harm
 *
 * Limits for feel, visual, go/no-go and text.
 *
 * Returns: (transfer full)
 */
PawlLimits *
pawl_limits_new_choice (const char * const *outcomes, const char * const *acceptable)
{
  PawlLimits *self;

  g_return_val_if_fail (outcomes != NULL && acceptable != NULL, NULL);
  self = pawl_limits_new_empty (PAWL_LIMITS_CHOICE, g_strjoinv (" or ", (char **) acceptable));
  self->outcomes = g_strdupv ((char **) outcomes);
  self->acceptable = g_strdupv ((char **) acceptable);
  return self;
}

PawlLimits *
pawl_limits_new_follows (const char *text, const PawlUnit *unit)
{
  PawlLimits *self;

  g_return_val_if_fail (text != NULL && unit != NULL, NULL);
  self = pawl_limits_new_empty (PAWL_LIMITS_FOLLOWS, g_strdup (text));
  self->unit = unit;
  return self;
}

PawlLimits *
pawl_limits_new_worked_out (const char *text, PawlQuantity *low, PawlQuantity *high)
{
  PawlLimits *self;

  g_return_val_if_fail (text != NULL && (low != NULL || high != NULL), NULL);
  self = pawl_limits_new_empty (low == NULL ? PAWL_LIMITS_MAX : high == NULL ? PAWL_LIMITS_MIN : PAWL_LIMITS_RANGE, g_strdup (text));
  self->unit = pawl_quantity_get_unit (low != NULL ? low : high);
  self->low = low != NULL ? pawl_quantity_ref (low) : NULL;
  self->high = high != NULL ? pawl_quantity_ref (high) : NULL;
  return self;
}

/**
 * pawl_limits_ref:
 *
 * Returns: (transfer full): @self; may be called from any thread
 */
PawlLimits *
pawl_limits_ref (PawlLimits *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

/**
 * pawl_limits_unref:
 * @self: (transfer full)
 */
void
pawl_limits_unref (PawlLimits *self)
{
  g_return_if_fail (self != NULL);
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  g_clear_pointer (&self->low, pawl_quantity_unref);
  g_clear_pointer (&self->high, pawl_quantity_unref);
  g_clear_pointer (&self->nominal, pawl_quantity_unref);
  g_clear_pointer (&self->wear_low, pawl_quantity_unref);
  g_clear_pointer (&self->wear_high, pawl_quantity_unref);
  g_strfreev (self->outcomes);
  g_strfreev (self->acceptable);
  g_free (self->text);
  g_free (self);
}

/**
 * pawl_limits_get_kind:
 *
 * Returns: the style they are written in
 */
PawlLimitsKind
pawl_limits_get_kind (const PawlLimits *self)
{
  return self->kind;
}

/**
 * pawl_limits_get_text:
 *
 * Returns: the limits as printed in their source; for a choice, the acceptable outcomes joined by "or"
 */
const char *
pawl_limits_get_text (const PawlLimits *self)
{
  return self->text;
}

/**
 * pawl_limits_describe:
 *
 * Returns: (transfer full): the limits as printed in their source, to be shown; a tolerance class is worked out beside it, exactly
 */
char *
pawl_limits_describe (const PawlLimits *self)
{
  g_autofree char *low = NULL;
  g_autofree char *high = NULL;

  if (!self->is_class)
    return g_strdup (self->text);
  low = pawl_quantity_format_exact (self->low, self->decimal_mark);
  high = pawl_quantity_format_exact (self->high, self->decimal_mark);
  return g_strdup_printf ("%s (%s .. %s)", self->text, low, high);
}

/**
 * pawl_limits_peek_low:
 *
 * Returns: (transfer none) (nullable): the lowest that a new part may have, itself inside; %NULL without one
 */
PawlQuantity *
pawl_limits_peek_low (const PawlLimits *self)
{
  return self->low;
}

/**
 * pawl_limits_peek_high:
 *
 * Returns: (transfer none) (nullable): the highest that a new part may have, itself inside; %NULL without one
 */
PawlQuantity *
pawl_limits_peek_high (const PawlLimits *self)
{
  return self->high;
}

/**
 * pawl_limits_peek_nominal:
 *
 * Returns: (transfer none) (nullable): the value that the tolerance is given about; %NULL for other kinds
 */
PawlQuantity *
pawl_limits_peek_nominal (const PawlLimits *self)
{
  return self->nominal;
}

/**
 * pawl_limits_peek_wear_low:
 *
 * Returns: (transfer none) (nullable): how low wear may take it, itself inside; %NULL when only the limits of a new part hold
 */
PawlQuantity *
pawl_limits_peek_wear_low (const PawlLimits *self)
{
  return self->wear_low;
}

/**
 * pawl_limits_peek_wear_high:
 *
 * Returns: (transfer none) (nullable): how high wear may take it, itself inside; %NULL when only the limits of a new part hold
 */
PawlQuantity *
pawl_limits_peek_wear_high (const PawlLimits *self)
{
  return self->wear_high;
}

/**
 * pawl_limits_peek_outcomes:
 *
 * Returns: (transfer none) (nullable) (array zero-terminated=1): what may be answered; %NULL unless a choice
 */
const char * const *
pawl_limits_peek_outcomes (const PawlLimits *self)
{
  return (const char * const *) self->outcomes;
}

/**
 * pawl_limits_peek_acceptable:
 *
 * Returns: (transfer none) (nullable) (array zero-terminated=1): the answers that are in; %NULL unless a choice
 */
const char * const *
pawl_limits_peek_acceptable (const PawlLimits *self)
{
  return (const char * const *) self->acceptable;
}

/**
 * pawl_limits_get_unit:
 *
 * Returns: (nullable): the unit they are written in, that of the nominal or the upper limit where there are two; %NULL for a choice
 */
const PawlUnit *
pawl_limits_get_unit (const PawlLimits *self)
{
  return self->unit;
}

/**
 * pawl_limits_mixes_systems:
 *
 * Returns: whether inch and metric units both stand in them, so that a bare reading could be either
 */
gboolean
pawl_limits_mixes_systems (const PawlLimits *self)
{
  return self->mixes_systems;
}

PawlQuantity *
pawl_limits_peek_last_low (const PawlLimits *self)
{
  return self->wear_low != NULL ? self->wear_low : self->low;
}

PawlQuantity *
pawl_limits_peek_last_high (const PawlLimits *self)
{
  return self->wear_high != NULL ? self->wear_high : self->high;
}
