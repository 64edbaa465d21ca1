/*
 * What opens again: which finished steps a thing not done yet would lay open, why each, and what stays done. Pure: the job is folded
 * once more with that thing in it, and the two are compared, so the list can't differ from what then happens.
 */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

/* One finished step that opens again. */
typedef struct {
  const PawlStepState *state; /* as it will be; borrowed from the plan */
  GPtrArray           *chain; /* (element-type PawlStepState): what it follows from, the first cause first; empty when it is done again itself */
} PawlRedoLine;

typedef struct {
  PawlJob   *after; /* the job as it will be */
  GPtrArray *opens; /* (element-type PawlRedoLine) file order */
  GPtrArray *stays; /* (element-type PawlStepState): finished, and stays so; file order */
} PawlRedoPlan;

/* What is finished in @before and open in @after. */
PawlRedoPlan *pawl_redo_plan_compare        (PawlJob *before, PawlJob *after);
/**
 * pawl_redo_plan_new_for_step:
 * @error: PAWL_JOB_ERROR: there is no such step, or it is not done
 *
 * Returns: (transfer full) (nullable): what doing @step_id again opens.
 */
PawlRedoPlan *pawl_redo_plan_new_for_step   (PawlJob *job, const char *step_id, GError **error);
/* (transfer full): what opens when this reading or check, out now, comes right after a correction. */
PawlRedoPlan *pawl_redo_plan_new_for_correction (PawlJob *job, const PawlAskState *ask);
/* (transfer full) (nullable): what taking the newest answer back opens; NULL when there is nothing to take back. */
PawlRedoPlan *pawl_redo_plan_new_for_undo   (PawlJob *job);
void          pawl_redo_plan_free           (PawlRedoPlan *self);

/* (transfer full): "14 → 17 → 21": from the first cause on; "" when there is none between. */
char         *pawl_redo_line_describe_chain (const PawlRedoLine *self);
/* (transfer full): "1–13, 15, 18–20"; "" when nothing stays. */
char         *pawl_redo_plan_describe_stays (const PawlRedoPlan *self);
/* "asked", "covers", "disturbed", "coupled" */
const char   *pawl_redo_kind_get_word       (PawlRedoKind kind);
/* (transfer full): NULL-terminated ids of the parts that the steps which open fit or take off, or ask about. */
char        **pawl_redo_plan_list_parts     (const PawlRedoPlan *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlRedoPlan, pawl_redo_plan_free)

G_END_DECLS
