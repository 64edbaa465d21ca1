/* Limits: what a reading must meet, in the styles that books print; a limit met exactly is inside. */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_LIMITS_RANGE,   /* 25..31 thou */
  PAWL_LIMITS_NOMINAL, /* 1 5/16 in ± 1/64 in ; 10 +0.1/-0.2 mm */
  PAWL_LIMITS_MAX,     /* max 0.05 mm */
  PAWL_LIMITS_MIN,     /* min 12 mm */
  PAWL_LIMITS_FOLLOWS, /* from another reading, and not known yet: a text and a unit, no numbers */
  PAWL_LIMITS_CHOICE,  /* free | drags | binds: feel, visual, go/no-go, text; the acceptable ones are named */
} PawlLimitsKind;

typedef struct _PawlLimits PawlLimits; /* immutable, reference counted */

/* Grammar (words are the trade's): "A..B unit", "N ± T unit", "N +a/-b unit", "max N unit", "min N unit",
 * any of these then "; wear max N unit" or "; wear min N unit" (new limits with a wear limit). Units may be written once at the end.
 * A tolerance class stands for a deviation: "25 mm H7", "Ø25 g6 mm", "12 mm ISO 2768-m".
 * The other system may follow in brackets, and must agree within rounding: "0.25..0.36 mm (.010 .. .014 in)". */
PawlLimits         *pawl_limits_parse      (const char *text, const PawlTyping *typing, GError **error);
/* @outcomes: every outcome that may be answered, @acceptable: those that are in. Both NULL-terminated. */
PawlLimits         *pawl_limits_new_choice (const char * const *outcomes, const char * const *acceptable);
/* Limits that follow from another reading. @text: "0.003 × bore to 0.004 × bore" */
PawlLimits         *pawl_limits_new_follows (const char *text, const PawlUnit *unit);
/* Limits worked out: @text as it shall be printed; @low, @high: (nullable), not both; of one unit. */
PawlLimits         *pawl_limits_new_worked_out (const char *text, PawlQuantity *low, PawlQuantity *high);
PawlLimits         *pawl_limits_ref        (PawlLimits *self);
void                pawl_limits_unref      (PawlLimits *self);

PawlLimitsKind      pawl_limits_get_kind   (const PawlLimits *self);
const char         *pawl_limits_get_text   (const PawlLimits *self);      /* as printed in the source */
/* (transfer full): the text, and where that only names a tolerance class the limits behind it: "25 mm H7 (25 mm .. 25.021 mm)" */
char               *pawl_limits_describe   (const PawlLimits *self);
PawlQuantity       *pawl_limits_peek_low   (const PawlLimits *self);      /* (nullable) inclusive */
PawlQuantity       *pawl_limits_peek_high  (const PawlLimits *self);      /* (nullable) inclusive */
PawlQuantity       *pawl_limits_peek_nominal (const PawlLimits *self);    /* (nullable) */
PawlQuantity       *pawl_limits_peek_wear_low (const PawlLimits *self);   /* (nullable) inclusive */
PawlQuantity       *pawl_limits_peek_wear_high (const PawlLimits *self);  /* (nullable) inclusive */
const char * const *pawl_limits_peek_outcomes (const PawlLimits *self);   /* (nullable) */
const char * const *pawl_limits_peek_acceptable (const PawlLimits *self); /* (nullable) */
const PawlUnit     *pawl_limits_get_unit   (const PawlLimits *self);      /* (nullable) the unit they are written in */
gboolean            pawl_limits_agree      (const PawlLimits *a, const PawlLimits *b); /* one specification in two units, within its rounding */
gboolean            pawl_limits_mixes_systems (const PawlLimits *self);   /* written in inch and metric both */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLimits, pawl_limits_unref)

G_END_DECLS
