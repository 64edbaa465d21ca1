/* The inside of a job, shared by the files of this folder only. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

struct _PawlJob {
  GObject parent_instance;

  PawlProcedure *procedure;
  GPtrArray     *entries;  /* (element-type PawlEntry) */
  GDateTime     *now;
  GHashTable    *undone;   /* (element-type utf8) ids of entries taken back; borrowed strings */

  GPtrArray     *steps;    /* (element-type PawlStepState) */
  GPtrArray     *parts;    /* (element-type PawlPartState) */
  GHashTable    *step_by_id, *ask_by_id, *part_by_id; /* borrowed keys and values */
  PawlEntry     *opening;   /* (nullable) borrowed */
  PawlEntry     *signature; /* (nullable) borrowed */
};

/* Fills an empty job from its entries: pawl-job-fold.c. */
void        pawl_job_fold_entries      (PawlJob *self);

/* The judged answer that an entry gives to an ask; errors as PAWL_JOB_ERROR_BAD_ANSWER: pawl-attempt.c. */
PawlAttempt *pawl_attempt_new          (PawlJob *job, const PawlAsk *ask, PawlEntry *entry, GError **error);
void        pawl_attempt_free          (PawlAttempt *self);

gboolean    pawl_job_is_applicable     (PawlJob *self, const char *variant);
gboolean    pawl_step_status_is_over   (PawlStepStatus status); /* done, skipped or not applicable */
gboolean    pawl_ask_status_is_settled (PawlAskStatus status);  /* accepted, deviated or not applicable */
char       *pawl_job_format_time       (PawlJob *self, GDateTime *time); /* (transfer full): "16:40", with the date when it isn't today */
char       *pawl_step_describe         (const PawlStep *step);  /* (transfer full): "step 14, Press in the drilled bushing" */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlAttempt, pawl_attempt_free)

G_END_DECLS
