/* What is said in the lanes and of a place in them. Pure; all results (transfer full). */
#pragma once

#include "plan/pawl-lanes.h"

G_BEGIN_DECLS

/* Fills @words, which then go into a view, in the user's language. */
void  pawl_lanes_words_fill     (const char *words[PAWL_LANES_N_WORDS]);
/* "12 Lift off the cover", "Soak of the body" */
char *pawl_lanes_words_name     (const PawlLanesSpot *spot);
/* "Blocked by step 7, Lift off the cover, and 2 more. Planned from 10:20 to 10:30." */
char *pawl_lanes_words_describe (const PawlWorkPlan *plan, const PawlLanesSpot *spot);
/* "All is done at 16:40 by one pair of hands; no order ends sooner." */
char *pawl_lanes_words_day      (const PawlWorkPlan *plan);
/* Of something to do now: "nothing to spare", "1 h 20 min to spare"; of a wait that may be ended: "by 14:40 at the latest" */
char *pawl_lanes_words_spare    (const PawlWorkPlan *plan, const PawlWorkPlanItem *item);

G_END_DECLS
