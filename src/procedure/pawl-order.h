/* Order: what precedes what, what each step covers. Pure functions of the procedure. */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/* Direct predecessors of a step: its stated needs, and what the parts require (a part is installed only after it was removed;
 * what covers an ask comes after the step that asks it). (transfer full) (element-type PawlStep) no duplicates, file order. */
GPtrArray *pawl_order_list_needs   (PawlProcedure *procedure, const PawlStep *step);
/* Steps that stand on @step, directly or not. (transfer full) (element-type PawlStep) file order. */
GPtrArray *pawl_order_list_followers (PawlProcedure *procedure, const PawlStep *step);
/* (transfer full) (nullable) (element-type PawlStep): the steps of one cycle, first repeated last; NULL when there is none. */
GPtrArray *pawl_order_find_cycle   (PawlProcedure *procedure);
/* (transfer full) (element-type PawlAsk): what must be answered before @step hides it: asks named in covers, and asks of steps that fitted covered parts. */
GPtrArray *pawl_order_list_covered (PawlProcedure *procedure, const PawlStep *step);
/* (nullable) (transfer none): the first step that hides this ask. */
const PawlStep *pawl_order_find_cover (PawlProcedure *procedure, const char *ask_id);

G_END_DECLS
