/* Verdicts: in, out, or too close to call with this instrument under this policy. */
#pragma once

#include "measure/pawl-limits.h"
#include "measure/pawl-policy.h"
#include "measure/pawl-uncertainty.h"

G_BEGIN_DECLS

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
  double          guard;      /* guard band g used, limits' unit; 0 under simple acceptance and where nothing is known of the instrument */
  double          standard;   /* u of the reading, limits' unit; 0 when nothing is known */
  double          expanded;   /* U of the reading, limits' unit; 0 when nothing is known */
  double          probability; /* of conformance (JCGM 106), 0 to 1; NAN for choices */
  PawlPolicy      policy;     /* by which it was decided */
} PawlVerdict;

/* @outcome is for PAWL_LIMITS_CHOICE, @quantity for the others; the other one is NULL. */
gboolean    pawl_verdict_of        (const PawlLimits *limits, const PawlQuantity *quantity, const char *outcome,
                                    const PawlInstrument *instrument, PawlPolicy policy,
                                    PawlVerdict *verdict, GError **error);
/* As pawl_verdict_of(), for a set of repeats: their mean is judged, with their spread in its uncertainty. @readings: (array length=n), n >= 1 */
gboolean    pawl_verdict_of_set    (const PawlLimits *limits, PawlQuantity * const *readings, guint n, const PawlInstrument *instrument,
                                    PawlPolicy policy, PawlVerdict *verdict, GError **error);
/* The same for a value that was worked out. @u: its standard uncertainty, base units; 0: known exactly */
gboolean    pawl_verdict_of_worked_out (const PawlLimits *limits, PawlQuantity *quantity, double u, PawlPolicy policy, PawlVerdict *verdict, GError **error);
/*
 * Conformance probability of a normally distributed value, JCGM 106:2012 7, from memory: Φ ((high - y)/u) - Φ ((low - y)/u). @reading: a bracket is as
 * likely anywhere within. @u: standard uncertainty in the limits' unit; 0: known exactly. The last limits count: those of wear where there are any.
 */
double      pawl_conformance_get_probability (const PawlLimits *limits, const PawlQuantity *reading, double u);
const char *pawl_verdict_get_word  (PawlVerdictKind kind); /* "in", "out", "too close" */
/* (transfer full): "in", "out: 0.2 mm above the limit 33.5 mm", "too close to call: …" in the user's units */
char       *pawl_verdict_describe  (const PawlVerdict *verdict, const PawlLimits *limits, const PawlQuantity *quantity);
/* Expanded uncertainty U = 2u of one reading, in @unit; see pawl_budget_make(). 0 when nothing is known, or it is in per cent of the reading. */
double      pawl_instrument_get_expanded_uncertainty (const PawlInstrument *instrument, const PawlUnit *unit);
/* TRUE when U is over a quarter of the tolerance: said before the reading, not after. */
gboolean    pawl_instrument_is_too_coarse (const PawlInstrument *instrument, const PawlLimits *limits, double *ratio);
/* TRUE when its step is over a tenth of the tolerance's width: what there is to go by where its error isn't known. */
gboolean    pawl_instrument_is_coarsely_divided (const PawlInstrument *instrument, const PawlLimits *limits);

G_END_DECLS
