/* What can't be, before anything is worked out with it. */
#pragma once

#include "sums/pawl-sum-private.h"

G_BEGIN_DECLS

/* Of one input, which is understood: its range, an interval where a point is wanted, more than any bench has. */
gboolean pawl_sum_check_input  (const PawlSum *sum, const PawlSumInput *input, const PawlQuantity *quantity, const char *text, GError **error);
/* Of inputs together: which is the larger. */
gboolean pawl_sum_check_orders (PawlSumRun *run, GError **error);

G_END_DECLS
