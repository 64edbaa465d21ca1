/*
 * What a step hides for good: fits that can be wrong without being seen afterwards, and go together all the same. A photo of each is
 * asked before. It follows from the procedure alone, so an author writes nothing for it beside `covers` and `hidden-after`.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/**
 * pawl_hidden_is_trap:
 * @ask: of @procedure
 *
 * Whether it is a fit of visibility V0 or V1 that a step hides, where a wrong part is not stopped by itself: see
 * pawl_difference_suggests_hold(). Worked out once when the procedure was read.
 */
gboolean   pawl_hidden_is_trap    (PawlProcedure *procedure, const PawlAsk *ask);

/**
 * pawl_hidden_list_traps:
 * @step: of @procedure
 *
 * The traps that @step hides: those that it covers; and those that it fits itself, when their author says that they are hidden
 * afterwards and no step covers them.
 *
 * Returns: (transfer container) (element-type PawlAsk): file order, no duplicates.
 */
GPtrArray *pawl_hidden_list_traps (PawlProcedure *procedure, const PawlStep *step);

/* (transfer full): "“Lip of the seal” (step 24), “Gaskets” (step 30)" of such a list; each name once a step, because one picture shows both. */
char      *pawl_hidden_describe   (PawlProcedure *procedure, GPtrArray *asks);

G_END_DECLS
