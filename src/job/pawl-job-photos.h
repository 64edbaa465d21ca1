/*
 * A photo of what can be wrong unseen, before a step hides it. Nobody writes these asks: they follow from what steps cover (procedure/pawl-hidden.h).
 *
 * A photo of a step shows what the step fits, and what it hides; it counts for each of these that is not hidden yet, until the fit is made anew. Going on
 * without one is a note, with the name of who did. Neither is ever waited for: the question is put once, and what was done without an
 * answer is said in the full record.
 */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

/* (transfer container) (element-type PawlAskState): what this step hides, is right, and has neither photo nor note; empty when the step can't be done now. */
GPtrArray *pawl_step_list_photos_wanted     (const PawlStepState *step);
/* (transfer full): "“Lip of the seal” (step 24), “Gaskets” (step 30)" of such a list, each name once a step. */
char      *pawl_photos_describe             (PawlJob *self, GPtrArray *asks);
/* (transfer full): the note of going on without the photos that are wanted now. @reason: (nullable) */
PawlEntry *pawl_job_new_no_photo            (PawlJob *self, const PawlStepState *step, const char *reason, const char *person, GDateTime *at);
/* (transfer container) (element-type PawlAskState): hidden by now without a photo, file order. @n_hidden: (out) (optional): of how many that are hidden. */
GPtrArray *pawl_job_list_unphotographed     (PawlJob *self, guint *n_hidden);

G_END_DECLS
