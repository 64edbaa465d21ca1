/*
 * Order: what precedes what, what each step covers. Pure functions of the procedure; worked out once when it was read, so all are cheap.
 *
 * A part that some step removes is on the unit at the start. In file order its removals and installations fall into runs, and each
 * run stands on the one before: off, on for a trial, off again, on for good. Steps of one run (by variant, or piece by piece) do not
 * stand on each other.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/**
 * pawl_order_list_needs:
 * @step: of @procedure
 *
 * Direct predecessors: the needs that the author states, what the parts require (a part is installed only after it was removed), and
 * the steps that ask or fit what @step covers. Needs that name no step are left out; the proof-reader reports them.
 *
 * Returns: (transfer full) (element-type PawlStep): no duplicates, file order, never @step itself.
 */
GPtrArray *pawl_order_list_needs   (PawlProcedure *procedure, const PawlStep *step);

/**
 * pawl_order_list_followers:
 * @step: of @procedure
 *
 * Steps that stand on @step, directly or not.
 *
 * Returns: (transfer full) (element-type PawlStep): file order, never @step itself.
 */
GPtrArray *pawl_order_list_followers (PawlProcedure *procedure, const PawlStep *step);

/**
 * pawl_order_find_cycle:
 *
 * The first cycle met when steps are followed to their needs in file order; the same file gives the same cycle.
 *
 * Returns: (transfer full) (nullable) (element-type PawlStep): each step needs the one that follows it; the one that comes first in the
 *   file stands first, and again last. %NULL when there is none.
 */
GPtrArray *pawl_order_find_cycle   (PawlProcedure *procedure);

/**
 * pawl_order_list_covered:
 * @step: of @procedure
 *
 * What must be answered before @step hides it: the asks that its covers name, and all asks of the steps that installed the parts
 * that its covers name. An ask of @step itself counts only when covers names it.
 *
 * Returns: (transfer full) (element-type PawlAsk): file order, no duplicates.
 */
GPtrArray *pawl_order_list_covered (PawlProcedure *procedure, const PawlStep *step);

/**
 * pawl_order_find_cover:
 * @ask_id: id of an ask
 *
 * Returns: (nullable) (transfer none): the first step in file order that hides this ask; %NULL when none does or there is no such ask.
 */
const PawlStep *pawl_order_find_cover (PawlProcedure *procedure, const char *ask_id);

typedef struct {
  const PawlStep *step;
  const PawlPart *part; /* that doing the other step again moves */
} PawlDisturbed;

/**
 * pawl_order_list_disturbed:
 * @step: of @procedure
 *
 * What doing @step again upsets because it moves its parts: steps of a later run of such a part, since it is off or on once more; and
 * where @step seats a part, steps that then ask about it in its place (a fit, a reading with a spot on it). What hides
 * @step is another matter: see pawl_order_list_covered().
 *
 * Returns: (transfer full) (element-type PawlDisturbed): file order, each step once, never @step itself.
 */
GPtrArray *pawl_order_list_disturbed (PawlProcedure *procedure, const PawlStep *step);

G_END_DECLS
