/* Where limits and readings lie on a bar. Pure. */
#pragma once

#include "measure/pawl-verdict.h"

G_BEGIN_DECLS

/* Places along the bar, 0 to 1; NAN where there is nothing to mark. A side without a limit runs to the end of the bar. */
typedef struct {
  double low, high;   /* limits */
  double found, left; /* as-found and as-left readings */
  double low_uncertainty, high_uncertainty; /* of the as-left reading: ± U, both NAN when nothing is known of the instrument */
} PawlLimitsScale;

/* @found, @left: (nullable). @expanded_uncertainty: in the limits' unit, 0 when unknown. FALSE: these limits have no bar (choices, or no number). */
gboolean pawl_limits_scale_make (const PawlLimits *limits, const PawlQuantity *found, const PawlQuantity *left,
                                 double expanded_uncertainty, PawlLimitsScale *scale);

G_END_DECLS
