/* The numbers of a verdict, for whoever draws it on a bar: limits, reading, uncertainty, and where the policy leaves a reading too close to call. */
#pragma once

#include "measure/pawl-verdict.h"

G_BEGIN_DECLS

/* From @from to @to, open at both ends: a reading on an end is decided. Both NAN: there is no such zone. */
typedef struct {
  double from, to;
} PawlZone;

/* All in the unit of the limits; NAN for what there is not. */
typedef struct {
  double   low, high;                 /* the limits that decide: those of wear where there are any */
  double   new_low, new_high;         /* those of a new part, where it is wear that decides */
  double   reading_low, reading_high; /* equal, but for a bracket */
  double   expanded;                  /* U of the reading, ± */
  PawlZone low_zone, high_zone;       /* too close to call under the policy */
} PawlVerdictScale;

/**
 * pawl_verdict_scale_make:
 * @reading: (nullable): that @verdict is of
 * @verdict: (nullable): none yet; then nothing is known of U and zones
 * @scale: (out)
 *
 * Zones reach as far as the guard band to either side of a limit. Of a stated risk r they reach z u, Φ (z) = 1 - r, which holds of each limit by
 * itself (JCGM 106:2012 8.3.2, from memory): limits nearer to one another than a few u leave less room than the zones show.
 *
 * Returns: FALSE for limits that are no numbers
 */
gboolean pawl_verdict_scale_make (const PawlLimits *limits, const PawlQuantity *reading, const PawlVerdict *verdict, PawlVerdictScale *scale);

G_END_DECLS
