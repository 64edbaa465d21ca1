/* Answers: what a press of a button or a typed text becomes in the record. No widgets, no clock of its own. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

/* Who says it, and when. Borrowed for the call. */
typedef struct {
  const char *person;
  GDateTime  *at;
} PawlHand;

/* All (transfer full). Texts are stripped of white space at both ends; empty optional texts leave their field out. */
PawlEntry *pawl_answer_new_outcome   (const PawlAsk *ask, const char *answer, PawlHand hand);
/* @instrument: (nullable) tool id; @decimal_mark: of the typist, so that the text means the same when read again elsewhere. */
PawlEntry *pawl_answer_new_reading   (const PawlAsk *ask, const char *typed, const char *instrument, char decimal_mark, PawlHand hand);
/* What stands in the place of a value that was worked out, and why. */
PawlEntry *pawl_answer_new_typed_over (const PawlAsk *ask, const char *typed, const char *why, char decimal_mark, PawlHand hand);
PawlEntry *pawl_answer_new_disposition (const PawlAsk *ask, const char *choice, const char *reason, const char *source, const char *lot, PawlHand hand);
PawlEntry *pawl_answer_new_wait_start (const PawlAsk *ask, PawlHand hand);
PawlEntry *pawl_answer_new_wait_end  (const PawlAsk *ask, PawlHand hand);
PawlEntry *pawl_answer_new_done      (const PawlStep *step, PawlHand hand);
/* @what: "skipped" leaves a step out; anything else is done, but not as the book has it. */
PawlEntry *pawl_answer_new_deviation (const char *subject, const char *what, const char *reason, const char *accepted_by, PawlHand hand);
/* What was taken for right before it was shown. @question: as it was put. */
PawlEntry *pawl_answer_new_guess     (const PawlAsk *ask, const PawlQuestion *question, gboolean is_second, PawlHand hand);
PawlEntry *pawl_answer_new_reopening (const PawlStep *step, const char *reason, PawlHand hand);
PawlEntry *pawl_answer_new_release   (const PawlStepState *step, PawlHand hand); /* of the level in force */
/* Somebody is asked to come and look. @whom, @note: may be "" */
PawlEntry *pawl_answer_new_call      (const PawlStep *step, const char *whom, const char *note, PawlHand hand);
PawlEntry *pawl_answer_new_note      (const PawlStep *step, const char *text, PawlHand hand);
PawlEntry *pawl_answer_new_identified (const char *variant, const char *reason, PawlHand hand); /* @variant: the whole list of ids */
PawlEntry *pawl_answer_new_undo      (const PawlEntry *entry, PawlHand hand);
PawlEntry *pawl_answer_new_signature (const char *role, const char *statement, PawlHand hand);

typedef struct {
  const char *unit, *maker, *model, *serial, *work_order, *customer, *received, *complaint, *authority, *identified_by, *old_parts; /* "" or NULL when not said */
  const char *variant, *bench;
  gboolean is_ask_first; /* fits are asked before they are shown */
} PawlIntake;

PawlEntry *pawl_answer_new_opening   (const PawlIntake *intake, PawlHand hand);
/* What differs from what the job was taken in with; a line that is NULL is not touched, one that is empty now is taken back. (nullable): nothing differs. */
PawlEntry *pawl_answer_new_correction (PawlJob *job, const PawlIntake *intake, const char *reason, PawlHand hand);

G_END_DECLS
