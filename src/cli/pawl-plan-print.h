/* What “pawl plan” prints of a plan that is worked out, on standard output. */
#pragma once

#include "plan/pawl-work-plan.h"

G_BEGIN_DECLS

void pawl_plan_print_text (const PawlWorkPlan *plan);
void pawl_plan_print_json (const PawlWorkPlan *plan);

G_END_DECLS
