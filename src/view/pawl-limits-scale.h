/* Where limits and readings lie on a bar. Pure. */
#pragma once

#include "measure/pawl-verdict-scale.h"

G_BEGIN_DECLS

/* Places along the bar, 0 to 1; NAN where there is nothing to mark. A side without a limit runs to the end of the bar. */
typedef struct {
  double low, high;   /* limits; of a new part where it is wear that decides */
  double wear_low, wear_high; /* the wear limits, beyond those */
  double found, left; /* as-found and as-left readings */
  double low_uncertainty, high_uncertainty; /* of the as-left reading: ± U, both NAN when nothing is known of the instrument */
  PawlZone low_zone, high_zone; /* about the limits: too close to call under the job's policy; NAN when there is no such zone */
} PawlLimitsScale;

/* @found, @left: (nullable). @verdict: (nullable): of @left. FALSE: these limits have no bar (choices, or no number). */
gboolean pawl_limits_scale_make (const PawlLimits *limits, const PawlQuantity *found, const PawlQuantity *left,
                                 const PawlVerdict *verdict, PawlLimitsScale *scale);

G_END_DECLS
