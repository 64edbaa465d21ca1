/* What was typed, as inputs of a sum. */
#pragma once

#include "sums/pawl-sum-private.h"

G_BEGIN_DECLS

gboolean pawl_sum_read   (PawlSumRun *run, GHashTable *typed, GError **error);
void     pawl_sum_forget (PawlSumRun *run); /* what pawl_sum_read() made */

G_END_DECLS
