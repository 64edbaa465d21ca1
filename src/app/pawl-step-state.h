/* The step page's state: what the panel beside the figure shows, computed from the job. No widgets. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

/* What one press of the big button would do. */
typedef enum {
  PAWL_ADVANCE_FINISH, /* the step may be finished: "Done: next" */
  PAWL_ADVANCE_REFUSED, /* something is missing: pressing says what */
  PAWL_ADVANCE_WALK,   /* looking at a finished step: goes on */
  PAWL_ADVANCE_END,    /* the last step is done */
  PAWL_ADVANCE_START_WAIT, /* a wait is what comes next in the step: begins it */
  PAWL_ADVANCE_END_WAIT,   /* it may come out: ends it */
  PAWL_ADVANCE_MEANWHILE,  /* it may not come out yet: goes to what can be done until then */
} PawlAdvance;

typedef struct {
  const PawlStepState *step;       /* borrowed from the job, as all of the structs below */
  char        *place;              /* "Reassemble the body half · step 14 of 38" */
  char        *status;             /* "Open", "Blocked: …" */
  gboolean     is_over;            /* done, skipped or not for this variant: answers are shown, not asked */
  GPtrArray   *cautions;           /* (element-type PawlCaution) */
  char        *fits;               /* parts that the step fits, and where each is fetched, a line for each; "" when none */
  char        *takes_off;          /* parts that it takes off, and where each is laid; "" when none */
  char        *tools;              /* "" when none */
  const char  *info, *expect;      /* what is said beside the command; "" when none, and as long as a fit of it is to be guessed, which it might tell */
  char        *banner;             /* why it is blocked, to be redone, or can't be undone; "" when nothing to say */
  char        *hold;               /* the hold's words; "" when none */
  gboolean     needs_release;      /* done, under a hold, nobody has released or waived it */
  gboolean     can_call;           /* somebody is to look at it, and nobody has been called yet */
  gboolean     wants_teardown;     /* nothing is fitted yet, and the procedure doesn't say how the unit comes apart: that can be worked out */
  gboolean     can_skip;
  gboolean     can_redo;
  const PawlAskState *first_open;  /* (nullable) the first ask that still wants an answer */
  const PawlAskState *first_reading; /* (nullable) the reading that typed digits go to */
  const PawlAskState *first_count; /* (nullable) what is counted, a line of the kit or what is left over, that they go to when there is none */
  PawlAdvance  advance;
  char        *advance_label;      /* "Done: next" */
  char        *why_not;            /* the job's own words when refused; "" else */
} PawlStepPage;

PawlStepPage *pawl_step_page_new  (PawlJob *job, const char *step_id);
void          pawl_step_page_free (PawlStepPage *self);

/* Whether it is a wait that keeps @step from being finished, and what one press makes of it: one of the last three; else PAWL_ADVANCE_REFUSED. @wait: (out): which. */
PawlAdvance   pawl_step_advance_wait (PawlJob *job, const PawlStepState *step, const PawlAskState **wait);
/* (nullable): the first ask that keeps @step from being finished, as pawl_job_check_done() comes to it. */
const PawlAskState *pawl_step_find_keeping (const PawlStepState *step);
/* (nullable): the step whose reading is waited for: that at which somebody looks, else the one where the work stopped. @looked_at: (nullable) */
const PawlStepState *pawl_step_find_reading (PawlJob *job, const PawlStepState *looked_at);
/* The ask of this step still wants an answer: pending, stale, out or too close. */
gboolean      pawl_ask_is_open    (const PawlAskState *state);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStepPage, pawl_step_page_free)

G_END_DECLS
