/*
 * What one press means, by key, foot switch or pointer: the work goes through a step by one key. Pure.
 * What the big button says is done at once. An ask takes two presses: the first goes to it and says what the second would answer. What only a person can
 * say is never answered by a press: a reading, a picture to be chosen, one of several outcomes, what is written down, what was found wrong before, a signature.
 */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_PRESS_ADVANCE, /* what the big button says: finishes the step, begins or ends its wait, goes on, or is refused with the reason */
  PAWL_PRESS_SHOW,    /* goes to the ask that is next; another press would confirm it */
  PAWL_PRESS_CONFIRM, /* answers the ask that was shown */
  PAWL_PRESS_WANT,    /* goes to what is next, and says what it wants */
} PawlPressKind;

typedef struct {
  PawlPressKind       kind;
  const PawlAskState *ask;     /* (nullable) borrowed from the job: what it is about; NULL when advancing, or a hold wants somebody */
  const char         *outcome; /* (nullable) borrowed: what a press answers */
  char               *words;   /* (nullable) "Right way round", what it would answer; or what is wanted */
} PawlPress;

/* @shown: (nullable) id of the ask that the press before went to. */
void pawl_press_plan  (PawlJob *job, const PawlStepState *step, const char *shown, PawlPress *press);
void pawl_press_clear (PawlPress *press);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlPress, pawl_press_clear)

G_END_DECLS
