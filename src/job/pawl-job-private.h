/* The inside of a job, shared by the files of this folder only. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

struct _PawlJob {
  GObject parent_instance;

  PawlProcedure *procedure;
  GPtrArray     *entries;  /* (element-type PawlEntry) */
  GPtrArray     *given;    /* (element-type PawlEntry): the same before anything was hidden in them */
  GDateTime     *now;
  GHashTable    *undone;   /* (element-type utf8) ids of entries taken back; borrowed strings */

  GPtrArray     *steps;    /* (element-type PawlStepState) */
  GPtrArray     *parts;    /* (element-type PawlPartState) */
  GHashTable    *step_by_id, *ask_by_id, *part_by_id; /* borrowed keys and values */
  char      *variant;       /* "" when none is known; what it was corrected to last */
  GPtrArray *reopenings;    /* (element-type PawlReopening) */
  GPtrArray *corrections;   /* (element-type PawlCorrection) */
  PawlEntry *folding;       /* (nullable) borrowed: the entry that is being applied */
  PawlEntry     *opening;   /* (nullable) borrowed */
  PawlEntry     *signature; /* (nullable) borrowed */
  const char    *tightened[PAWL_N_TIGHTENINGS]; /* (nullable) borrowed: since the opening */
  gboolean       has_hidden, is_in_sight;
};

/* Fills an empty job from its entries: pawl-job-fold.c. @corrected: (nullable): an ask taken to have come right last of all, after it was out. */
void        pawl_job_fold_entries      (PawlJob *self, const char *corrected);
/* As pawl_job_fold(), of this job's procedure, entries and clock; @entry: (nullable): one more; @corrected as above. (transfer full) */
PawlJob    *pawl_job_imagine           (PawlJob *self, PawlEntry *entry, const char *corrected);

/* ---- what doing something again lays open: pawl-job-reopen.c ---- */
void        pawl_ask_state_reset       (PawlAskState *ask);
void        pawl_step_state_clear_redo (PawlStepState *state);
void        pawl_job_reopen_step       (PawlJob *self, PawlStepState *state, const char *reason);
/* What a correction of the variant lays open; before the job takes it. @variant: (nullable) */
void        pawl_job_reopen_for_variant (PawlJob *self, const char *variant);
/* What came right after a correction upsets what it is coupled with: backlash the contact pattern, and the pattern the backlash. */
void        pawl_job_reopen_coupled    (PawlJob *self, PawlAskState *corrected);

/* The judged answer that an entry gives to an ask; errors as PAWL_JOB_ERROR_BAD_ANSWER: pawl-attempt.c. */
PawlAttempt *pawl_attempt_new_empty    (PawlEntry *entry);
PawlAttempt *pawl_attempt_new          (PawlJob *job, const PawlAskState *state, PawlEntry *entry, GError **error);
void        pawl_attempt_free          (PawlAttempt *self);
/* What is held against limits next; its verdict is the caller's to fill in. Forgets all of them: pawl_attempt_clear_judged(). */
PawlJudged *pawl_attempt_add_judged    (PawlAttempt *self, const char *name, PawlQuantity *quantity, PawlLimits *limits);
void        pawl_attempt_clear_judged  (PawlAttempt *self);

/* ---- parts and supplies: pawl-job-supply.c, pawl-job-kit.c ---- */
void        pawl_job_apply_supply      (PawlJob *self, PawlEntry *entry);
gboolean    pawl_job_check_lacked      (PawlJob *self, PawlEntry *entry, GError **error);
gboolean    pawl_job_check_arrived     (PawlJob *self, PawlEntry *entry, GError **error);
/* Whether the entry (nullable) says that source, by its first word: "donor", "donor SD-3, engine no. 5". */
gboolean    pawl_source_is             (const PawlEntry *entry, const char *source);
/* FALSE, and @error, for a donor's part that is on the unit already: what proves it was to be read before. */
gboolean    pawl_job_check_donor       (PawlJob *self, PawlEntry *entry, GError **error);
/* (transfer full): "the arrival of “Float”, ordered from …, expected 2026-12-03" */
char       *pawl_part_describe_lack    (PawlJob *self, const PawlPartState *part);
/* Whether the ask is for this variant, and what it is about came from a donor if it asks that. */
gboolean    pawl_job_is_wanted         (PawlJob *self, const PawlAsk *ask);
/* Reads @answer as a whole number, when the check takes one. */
gboolean    pawl_kit_read_count        (const PawlAsk *ask, const char *answer, guint *count);
void        pawl_kit_judge_count       (PawlJob *self, const PawlAsk *ask, guint count, PawlAttempt *attempt);
/* What was counted, against what it should be now. */
void        pawl_kit_judge_again       (PawlJob *self, PawlAskState *state);

/* ---- what was taken in: pawl-job-intake.c ---- */
void        pawl_job_apply_corrected   (PawlJob *self, PawlEntry *entry);
gboolean    pawl_job_check_corrected   (PawlJob *self, PawlEntry *entry, GError **error);

/* ---- readings: pawl-reading-judge.c ---- */
/* Reads what was typed, and judges it. @attempt has its entry. */
gboolean    pawl_reading_judge         (PawlJob *job, const PawlAskState *state, const char *answer, PawlAttempt *attempt, GError **error);
/* Judges again what was read: limits that follow from another reading may be others now. */
gboolean    pawl_reading_judge_again   (PawlJob *job, const PawlAskState *state, PawlAttempt *attempt, GError **error);

/* ---- what follows from other readings: pawl-reading-follow.c ---- */
/* (transfer full) (nullable): the limits that apply now; NULL: @wants (transfer full) says what is not measured yet, or @error why there are none */
PawlLimits *pawl_reading_find_limits   (PawlJob *job, const PawlAsk *ask, char **wants, GError **error);
/* (transfer full) (nullable): what a derived reading comes to now; NULL as above */
PawlAttempt *pawl_reading_derive       (PawlJob *job, const PawlAskState *state, char **wants, GError **error);
/* (transfer none) (nullable): the last answer that counts */
const PawlAttempt *pawl_ask_peek_current (const PawlAskState *state);

/* ---- photos of what is hidden: pawl-job-photos.c ---- */
/* What each step hides; before the first entry. */
void        pawl_job_find_hidden       (PawlJob *self);
/* A photo of a step, or the note that there is none. */
void        pawl_job_apply_photo       (PawlJob *self, PawlStepState *state, PawlEntry *entry);
/* Which finished step hides each, once it is known what is finished. */
void        pawl_job_settle_hidden     (PawlJob *self);
gboolean    pawl_job_check_no_photo    (PawlJob *self, PawlEntry *entry, GError **error);

/* ---- training: pawl-job-training.c ---- */
void        pawl_job_apply_tightened   (PawlJob *self, PawlEntry *entry);
void        pawl_job_apply_remeasured  (PawlJob *self, PawlAskState *state, PawlEntry *entry);
/* To be called when a reading came in, either way. */
void        pawl_ask_pair              (PawlAskState *state);
void        pawl_job_settle_levels     (PawlJob *self);
/* (nullable): in a fixed order, the step that has to come before */
const PawlStep *pawl_job_find_earlier  (PawlJob *self, const PawlStepState *state);
/* Takes out of sight what is hidden; last of all. */
void        pawl_job_hide              (PawlJob *self);
gboolean    pawl_job_check_training    (PawlJob *self, PawlEntry *entry, GError **error); /* pawl-job-check-training.c */
gboolean    pawl_job_check_sealed      (PawlJob *self, GError **error); /* nothing that is still sealed or hidden */

/* ---- refusals, shared: pawl-job-check.c ---- */
gboolean    pawl_job_refuse            (GError **error, PawlJobError code, const char *format, ...) G_GNUC_PRINTF (3, 4);
gboolean    pawl_job_check_not_covered (PawlJob *self, const PawlAskState *state, GError **error);
gboolean    pawl_person_is_same        (const char *a, const char *b); /* in other letters, or with a blank more */

gboolean    pawl_job_is_applicable     (PawlJob *self, const char *variant);
gboolean    pawl_step_status_is_over   (PawlStepStatus status); /* done, skipped or not applicable */
gboolean    pawl_ask_status_is_settled (PawlAskStatus status);  /* accepted, deviated or not applicable */
char       *pawl_job_format_time       (PawlJob *self, GDateTime *time); /* (transfer full): "16:40", with the date when it isn't today */
char       *pawl_step_describe         (const PawlStep *step);  /* (transfer full): "step 14, Press in the drilled bushing" */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlAttempt, pawl_attempt_free)

G_END_DECLS
