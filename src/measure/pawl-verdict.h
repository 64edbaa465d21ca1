/* Verdicts: in, out, or too close to call with this instrument under this policy. */
#pragma once

#include "measure/pawl-limits.h"

G_BEGIN_DECLS

/* An instrument as a procedure or a register states it. Plain data; strings are borrowed by whoever holds the struct. */
typedef struct {
  const char   *id;
  const char   *name;
  PawlQuantity *max_error; /* (nullable) maximum permissible error, ± */
  PawlQuantity *step;      /* (nullable) resolution */
} PawlInstrument;

/* How close is too close. Printed with every report. */
typedef enum {
  PAWL_POLICY_SIMPLE,     /* simple acceptance: no guard band (ILAC-G8) */
  PAWL_POLICY_GUARD_BAND, /* guard band of one expanded uncertainty U (k = 2) at each limit, both ways */
} PawlPolicy;

typedef enum {
  PAWL_VERDICT_IN,
  PAWL_VERDICT_OUT,
  PAWL_VERDICT_TOO_CLOSE,
} PawlVerdictKind;

typedef enum {
  PAWL_SIDE_NEITHER,
  PAWL_SIDE_BELOW,
  PAWL_SIDE_ABOVE,
} PawlSide;

typedef struct {
  PawlVerdictKind kind;
  PawlSide        side;       /* out or too close: which limit */
  gboolean        is_worn;    /* outside the new limits, inside the wear limit: in, but say so */
  double          excess;     /* how far outside the nearest limit, limits' unit; 0 when in */
  double          guard;      /* guard band g used, limits' unit; 0 under simple acceptance */
} PawlVerdict;

/* @outcome is for PAWL_LIMITS_CHOICE, @quantity for the others; the other one is NULL. */
gboolean    pawl_verdict_of        (const PawlLimits *limits, const PawlQuantity *quantity, const char *outcome,
                                    const PawlInstrument *instrument, PawlPolicy policy,
                                    PawlVerdict *verdict, GError **error);
const char *pawl_verdict_get_word  (PawlVerdictKind kind); /* "in", "out", "too close" */
/* (transfer full): "in", "out: 0.2 mm above the limit 33.5 mm", "too close to call: …" in the user's units */
char       *pawl_verdict_describe  (const PawlVerdict *verdict, const PawlLimits *limits, const PawlQuantity *quantity);
/* Expanded uncertainty U = 2u of one reading, in @unit: u² = (max error/√3)² + (step/√12)² (GUM, rectangular). 0 when nothing is known. */
double      pawl_instrument_get_expanded_uncertainty (const PawlInstrument *instrument, const PawlUnit *unit);
/* TRUE when U is over a quarter of the tolerance: said before the reading, not after. */
gboolean    pawl_instrument_is_too_coarse (const PawlInstrument *instrument, const PawlLimits *limits, double *ratio);
const char *pawl_policy_get_statement (PawlPolicy policy);

G_END_DECLS
