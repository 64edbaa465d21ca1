/*
 * A job in progress, computed from its procedure and its entries. Pure: the same procedure, entries and clock give the same state.
 * It never changes; to go on, append an entry to the record and fold again.
 */
#pragma once

#include "fit/pawl-question.h"
#include "job/pawl-tightening.h"
#include "procedure/pawl-procedure.h"
#include "record/pawl-intake.h"
#include "sums/pawl-sum.h"

G_BEGIN_DECLS

#define PAWL_JOB_ERROR (pawl_job_error_quark ())
GQuark pawl_job_error_quark (void);

/* Why the job would refuse an entry. The message says what to do instead. */
typedef enum {
  PAWL_JOB_ERROR_UNKNOWN,       /* no such step, ask, part, wait, entry */
  PAWL_JOB_ERROR_BLOCKED,       /* something must be done before */
  PAWL_JOB_ERROR_UNANSWERED,    /* the step still asks something */
  PAWL_JOB_ERROR_OUT_OF_LIMITS, /* a reading is out or too close, and nobody accepted it */
  PAWL_JOB_ERROR_COVERED,       /* it can't be seen any more: a later step hides it */
  PAWL_JOB_ERROR_TOO_EARLY,     /* the wait has not reached its minimum */
  PAWL_JOB_ERROR_BAD_ANSWER,    /* can't be understood, or is none of the outcomes */
  PAWL_JOB_ERROR_NEEDS_REASON,  /* a deviation, a correction or a replacement without a reason */
  PAWL_JOB_ERROR_HELD,          /* a hold point that nobody has released */
  PAWL_JOB_ERROR_NOT_OPEN,      /* already done, already running, already signed */
} PawlJobError;

/* ---- what is known of an ask ---- */
typedef enum {
  PAWL_ASK_PENDING,        /* not answered yet */
  PAWL_ASK_ACCEPTED,       /* answered, right, inside */
  PAWL_ASK_OUT,            /* wrong, outside, failed: correct it and answer again, or deviate */
  PAWL_ASK_TOO_CLOSE,      /* too close to call */
  PAWL_ASK_DEVIATED,       /* not as the book has it, with a reason */
  PAWL_ASK_STALE,          /* answered once, but what was done since means it must be answered again */
  PAWL_ASK_RUNNING,        /* a wait under way */
  PAWL_ASK_NOT_APPLICABLE, /* another variant */
} PawlAskStatus;

/* One thing that was held against limits: a value, or what several come to. */
typedef struct {
  const char   *name;     /* "" for the one value; the place, or "spread"; borrowed */
  PawlQuantity *quantity; /* owned */
  PawlLimits   *limits;   /* owned */
  PawlVerdict   verdict;
} PawlJudged;

/* One answer, in the order given. */
typedef struct {
  PawlEntry    *entry;    /* borrowed from the job; of a value that was worked out, the newest that it stands on */
  PawlQuantity *taken;    /* (nullable) readings of one value: what was typed */
  PawlQuantity *quantity; /* (nullable) readings with a number: the one that decides; the mean when a set of repeats is whole */
  PawlLimits   *limits;   /* (nullable) that it was held against */
  PawlVerdict   verdict;  /* readings: the worst of @judged */
  GPtrArray    *judged;   /* (element-type PawlJudged): all that was held against limits */
  GPtrArray    *values;   /* (nullable) (element-type PawlQuantity): of a reading with places, one for each */
  double        u;        /* standard uncertainty of @quantity, or of each of @values, base units; 0 when nothing is known */
  guint         n_in_set; /* which of a set of repeats this is, from 1; 0: none */
  gboolean      is_whole; /* no repeats, or the last of them: only then it is accepted, or out */
  gboolean      is_void;  /* the measurement itself is void: to be repeated */
  gboolean      is_derived, is_typed_over; /* worked out from other readings; put in its place by hand */
  gboolean      is_accepted;
} PawlAttempt;

typedef struct PawlAskState {
  const PawlAsk *ask;
  const PawlStep *step;
  PawlAskStatus  status;
  GPtrArray     *attempts;    /* (element-type PawlAttempt), all of them, stale ones too */
  guint          n_current;   /* how many of the last attempts count (answered since the step was last opened) */
  PawlLimits    *limits;      /* (nullable) readings: those that apply now */
  char          *wants;       /* (nullable) readings that follow from others: what is not measured yet, "Cylinder bore" */
  guint          n_out;       /* readings: whole attempts that were not right, in all */
  PawlEntry     *deviation;   /* (nullable) borrowed */
  /* fits that a step hides for good: pawl-job-photos.h; all borrowed */
  PawlEntry     *photo;       /* (nullable) that shows it as it was fitted */
  PawlEntry     *no_photo;    /* (nullable) the note of who went on without one */
  const PawlStep *covered_by; /* (nullable) the first finished step that hides it */
  /* readings that somebody else took of the same; they change no verdict */
  struct PawlAskState *again; /* (nullable) */
  const PawlAttempt *paired[2]; /* (nullable) borrowed: the first whole reading and the other's, as they stood when both were in */
  gboolean       is_hidden;   /* taken blind, and the other is not in: no value of it is in this state, see pawl_job_fold() */
  /* waits */
  GDateTime     *started;     /* (nullable) of the last run, by the clock as it stands now: see PAWL_ENTRY_NOTED, clock-shift */
  GDateTime     *ended;       /* (nullable) */
  GDateTime     *earliest;    /* (nullable) started + min */
  GDateTime     *latest;      /* (nullable) started + max, when there is one */
  gint64         late_seconds; /* ended, or still running, so long after the latest; 0: not late. It is asked for a reason, and stops nothing */
} PawlAskState;

/* ---- what is known of a step ---- */
typedef enum {
  PAWL_STEP_BLOCKED,
  PAWL_STEP_OPEN,           /* may be done now */
  PAWL_STEP_WAITING,        /* open, and its wait runs */
  PAWL_STEP_DONE,
  PAWL_STEP_SKIPPED,        /* a deviation */
  PAWL_STEP_REDO,           /* was done; something since means it must be done again; may be done now */
  PAWL_STEP_NOT_APPLICABLE, /* another variant */
} PawlStepStatus;

typedef enum { PAWL_BLOCKED_BY_STEP, PAWL_BLOCKED_BY_ASK, PAWL_BLOCKED_BY_WAIT, PAWL_BLOCKED_BY_HOLD, PAWL_BLOCKED_BY_PART } PawlBlockerKind;

typedef struct {
  PawlBlockerKind kind;
  const char     *id;   /* step, ask or part id */
  char           *text; /* what has to come first: "step 7, Lift off the cover", "the arrival of “Float”" */
} PawlBlocker;

/* Why a finished step has to be done again. See pawl-redo.h for the list of them. */
typedef enum {
  PAWL_REDO_NONE,
  PAWL_REDO_ASKED,     /* a person does it again, and says why */
  PAWL_REDO_COVERS,    /* it hides what is done again, so it comes off and goes on again */
  PAWL_REDO_DISTURBED, /* a part that it fits, takes off or asks about is moved by what is done again */
  PAWL_REDO_VARIANT,   /* the unit is another variant than was taken, and the step asks for more, or for something else, of that one */
  PAWL_REDO_COUPLED,   /* a reading or check of it is coupled with one that was corrected */
} PawlRedoKind;

typedef struct {
  PawlRedoKind    kind;
  const PawlStep *step;      /* (nullable) what it follows from: not for PAWL_REDO_NONE and _ASKED */
  const PawlPart *part;      /* (nullable) PAWL_REDO_DISTURBED: the part that is moved */
  const PawlAsk  *corrected; /* (nullable) PAWL_REDO_COUPLED: of @step */
  const PawlAsk  *coupled;   /* (nullable) PAWL_REDO_COUPLED: to be answered again */
} PawlRedoCause;

/* A finished step that an entry laid open. */
typedef struct {
  PawlEntry      *entry; /* that did it: of a redo, or the reading that came right; borrowed */
  const PawlStep *step;
  PawlRedoCause   cause;
} PawlReopening;

typedef struct {
  const PawlStep *step;
  PawlStepStatus  status;
  GPtrArray      *blockers;   /* (element-type PawlBlocker) when blocked */
  GPtrArray      *asks;       /* (element-type PawlAskState), the job's own */
  GPtrArray      *covered;    /* (element-type PawlAskState): what this step hides: to be right before it */
  GPtrArray      *hides;      /* (element-type PawlAskState): of these and of its own, what can be wrong unseen: procedure/pawl-hidden.h */
  PawlHold        hold;       /* the procedure's, raised for who learns, or what a trainer said for this job */
  char           *raised_by;  /* (nullable) for which skills it is higher than the procedure's: "sense, side" */
  PawlEntry      *levelled;   /* (nullable) where a trainer said so of this step */
  PawlEntry      *called;     /* (nullable) where somebody was asked to come and look */
  PawlEntry      *done;       /* (nullable) the entry that finished it */
  PawlEntry      *deviation;  /* (nullable) skipped, or done out of order */
  PawlEntry      *release;    /* (nullable) of its hold */
  PawlEntry      *waiver;     /* (nullable) a deviation recorded once it was done: nobody else will look, and why */
  char           *redo_reason; /* (nullable) */
  PawlRedoCause   redo;        /* the same, for a program */
  GPtrArray      *photos;     /* (element-type PawlEntry) */
  GPtrArray      *notes;      /* (element-type PawlEntry) */
} PawlStepState;

/* ---- what is known of a part ---- */
typedef enum {
  PAWL_PLACE_ON_UNIT, /* never taken off so far, or stays */
  PAWL_PLACE_OFF,     /* taken off, on the tray */
  PAWL_PLACE_SEATED,  /* back in its place */
  PAWL_PLACE_NOT_YET, /* from the kit, not fitted yet */
} PawlPlace;

typedef struct {
  const PawlPart *part;
  PawlPlace       place;
  PawlEntry      *disposition; /* (nullable) choice, reason, source, lot */
  PawlEntry      *lack;        /* (nullable) it is not there: state, from, expected */
  PawlEntry      *arrival;     /* (nullable) what came in its place: lot, source, from */
} PawlPartState;

#define PAWL_TYPE_JOB (pawl_job_get_type ())
G_DECLARE_FINAL_TYPE (PawlJob, pawl_job, PAWL, JOB, GObject)

/*
 * @entries: (element-type PawlEntry) as the record lists them, the opening first. @now: for waits.
 * What was taken blind is not in the state as long as it is hidden: neither in attempts, nor in what follows from them, nor in the job's entries.
 * So whatever shows or exports a job shows nothing of it.
 */
PawlJob       *pawl_job_fold             (PawlProcedure *procedure, GPtrArray *entries, GDateTime *now);
/* The same with blind readings in sight: to judge what comes next by, never to be shown. */
PawlJob       *pawl_job_fold_in_sight    (PawlProcedure *procedure, GPtrArray *entries, GDateTime *now);

/**
 * pawl_job_advise:
 * @error: PAWL_JOB_ERROR_UNKNOWN: no advice; _BLOCKED: a reading that it stands on is not taken yet; _BAD_ANSWER: the sum has no answer
 *
 * The correction of a reading, worked out by the bench sum that the procedure names, from what was measured.
 * Returns: (transfer full) (nullable)
 */
PawlSumResult *pawl_job_advise           (PawlJob *self, const PawlAskState *ask, GError **error);
/* (transfer full): of a reading: "in", "out: 0.2 mm above the limit 33.5 mm, top", "2 of 3 taken", "void, measure again: …" */
char          *pawl_attempt_describe_verdict (const PawlAsk *ask, const PawlAttempt *attempt);
/* (transfer full): "0.635 mm", "0.0453 mm, mean of 3"; of several places, and of an outcome, what was typed */
char          *pawl_attempt_describe_value (const PawlAttempt *attempt, char decimal_mark);
/* Where the value comes from: "typed", "mean of repeats" (in the last of a set), "worked out", "typed over" (in place of what was worked out) */
const char    *pawl_attempt_get_origin (const PawlAttempt *attempt);
/* Whether it has not come right in as many tries as the procedure calls usual. */
gboolean       pawl_ask_is_looping       (const PawlAskState *ask);

PawlProcedure *pawl_job_get_procedure    (PawlJob *self);
const char    *pawl_job_get_id           (PawlJob *self); /* "" before it is opened */
const char    *pawl_job_get_field        (PawlJob *self, const char *field); /* of the opening entry, as corrected since, "" when absent: serial, customer, … */
PawlPolicy     pawl_job_get_policy       (PawlJob *self);
GDateTime     *pawl_job_peek_now         (PawlJob *self);
/* Which of its kind the unit is, as known now: see procedure/pawl-variant.h. */
const char    *pawl_job_get_variant      (PawlJob *self);
GPtrArray     *pawl_job_get_entries      (PawlJob *self); /* all, also the undone */
gboolean       pawl_job_is_undone        (PawlJob *self, const PawlEntry *entry);

GPtrArray     *pawl_job_get_reopenings   (PawlJob *self); /* (element-type PawlReopening): all there were, in order */
GPtrArray     *pawl_job_get_steps        (PawlJob *self); /* (element-type PawlStepState) file order */
const PawlStepState *pawl_job_lookup_step (PawlJob *self, const char *id); /* (nullable) */
const PawlAskState  *pawl_job_lookup_ask  (PawlJob *self, const char *id); /* (nullable) */
const PawlPartState *pawl_job_lookup_part (PawlJob *self, const char *id); /* (nullable) */
GPtrArray     *pawl_job_get_parts        (PawlJob *self); /* (element-type PawlPartState) */

/* (nullable): the step the fitter was about to do: the first one with something begun, else the first open one after the last finished one, else the first open. */
const PawlStep *pawl_job_peek_next       (PawlJob *self);
char          *pawl_job_describe_next    (PawlJob *self); /* (transfer full): "you were about to …" sentence, or that all is done, or what it waits for */
char          *pawl_job_describe_about   (PawlJob *self); /* (transfer full): the same without the wait, for where waits are told beside it */
GPtrArray     *pawl_job_list_running     (PawlJob *self); /* (transfer container) (element-type PawlAskState): waits under way, soonest limit first */
GPtrArray     *pawl_job_list_deviations  (PawlJob *self); /* (transfer container) (element-type PawlEntry) */
guint          pawl_job_count_done       (PawlJob *self, guint *total); /* applicable steps done or skipped */
PawlEntry     *pawl_job_peek_signature   (PawlJob *self); /* (nullable) */
/* (nullable): the entry that one more Undo would take back. */
PawlEntry     *pawl_job_peek_undoable    (PawlJob *self);

/* ---- what was taken in, and corrected since: pawl-job-intake.c ---- */

/* One field that a correction changed. Of a job that was merged, the order of its entries says which of two comes later, and so what is in force. */
typedef struct {
  PawlEntry             *entry;  /* who, when, the reason; borrowed from the job */
  const PawlIntakeField *field;
  const char            *before; /* what was in force then; "" when nothing was stated; borrowed */
  const char            *after;  /* "" when it was taken back; borrowed */
} PawlCorrection;

GPtrArray     *pawl_job_get_corrections  (PawlJob *self); /* (element-type PawlCorrection): those that nobody undid, in order */
const PawlCorrection *pawl_job_peek_correction (PawlJob *self, const char *field); /* (nullable): the last of this field */
/* (transfer full): "serial number “4712”, was “4711”"; "no work order, was “W-12”" */
char          *pawl_correction_describe  (const PawlCorrection *self);
/* (transfer full): of all that one entry corrected, and the reason: "serial number “4712”, was “4711” (read again)" */
char          *pawl_job_describe_corrected (PawlJob *self, const PawlEntry *entry);
/* (transfer full) (nullable): another variant than the job's, where the serial number tells that. */
char          *pawl_job_find_doubt       (PawlJob *self);

/* ---- asked first: see fit/pawl-question.h ---- */
/* (nullable): what was guessed of this fit, and not taken back. */
PawlEntry     *pawl_job_peek_guess       (PawlJob *self, const char *ask_id);
/* Whether this fit is to be guessed before it is shown: in a job that asks first, once, as long as it was not answered any other way. */
gboolean       pawl_job_asks_first       (PawlJob *self, const PawlAskState *ask);
/* How it is put now: the same each time, another one once a guess was taken back, and in another job. */
PawlQuestion   pawl_job_make_question    (PawlJob *self, const PawlAskState *ask);

/* ---- training: pawl-job-training.c ---- */
#define PAWL_HIDDEN_READING "taken, hidden until the other is in"

/* What is tightened now, by the opening or by who changed it since; "" when nothing is. */
const char    *pawl_job_get_tightening   (PawlJob *self, PawlTighten what);
/* Whether the next reading of this is taken blind: it says so, and two are not in yet. */
gboolean       pawl_job_is_blind         (PawlJob *self, const PawlAskState *ask);
gboolean       pawl_job_has_hidden       (PawlJob *self);

/* A difference of two readings of the same, the other's less the first. */
typedef struct {
  double   difference, expanded; /* base units of the dimension; expanded: its U (k = 2) by both readings' u, 0 when nothing is known */
  gboolean is_beyond;            /* the difference is larger than its U */
  const PawlUnit *unit;          /* of the first */
} PawlPairDifference;

/* FALSE when two are not in, or have no number. Of a set of repeats the means. */
gboolean       pawl_ask_compare_pair     (const PawlAskState *ask, PawlPairDifference *difference);
/* (transfer full): "differs by -0.08 mm, more than its U of 0.05 mm", in the first one's unit */
char          *pawl_pair_describe        (const PawlPairDifference *difference);

/* A fault that was planted. */
typedef struct {
  PawlEntry *sealed;
  PawlEntry *opened; /* (nullable) */
} PawlSeal;

GArray        *pawl_job_list_seals       (PawlJob *self); /* (transfer full) (element-type PawlSeal): not taken back */
/* (nullable): one that nobody has opened yet */
PawlEntry     *pawl_job_peek_sealed      (PawlJob *self);

/* Would the job accept this entry now? @entry need not be stored. */
gboolean       pawl_job_check            (PawlJob *self, PawlEntry *entry, GError **error);
/* May this step be finished now, all asks answered? Same errors. */
gboolean       pawl_job_check_done       (PawlJob *self, const char *step_id, GError **error);

/* (transfer full): "covers step 14", "coupled: “Backlash” of step 17 changes “Contact pattern”" */
char          *pawl_redo_cause_describe  (const PawlRedoCause *cause);
/* A wait that was ended after its maximum, which nobody has given a reason for: a finding, but nothing waits for it. */
gboolean       pawl_ask_is_only_late     (const PawlAskState *ask);
/* Done under a hold that nobody has released or waived: what stands on it waits. */
gboolean       pawl_step_is_held         (const PawlStepState *step);
const char    *pawl_step_status_get_word (PawlStepStatus status); /* "open", "done", "blocked", … */
const char    *pawl_ask_status_get_word  (PawlAskStatus status);

G_END_DECLS
