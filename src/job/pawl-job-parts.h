/*
 * Parts as things, in a job: what the kit brought against what is fitted, what is not there, what is to be bought, and what was noted on the
 * way out for the way in. Computed from the job; where parts lie meanwhile is procedure/pawl-trays.h.
 */
#pragma once

#include "job/pawl-job.h"
#include "procedure/pawl-kit.h"

G_BEGIN_DECLS

/* ---- the kit: pawl-job-kit.c ---- */

/* One counted line of the kit, in pieces. */
typedef struct {
  const PawlAskState *state;  /* its ask, and whether somebody looked */
  guint brings;               /* by the list */
  guint in_hand;              /* by what was answered: a count, none when it is missing; as the list has it while nobody looked */
  guint need;                 /* that this job fits: by variant, by what was decided, without what was left out */
  guint left;                 /* of those in hand, not needed */
  guint shortage;             /* needed, not in hand, and not on its way from elsewhere */
} PawlKitLine;

/* (transfer full) (element-type PawlKitLine): those for this variant, file order. */
GPtrArray *pawl_job_list_kit         (PawlJob *self);
/* Pieces that should be left over when all is fitted. */
guint      pawl_job_count_left_over  (PawlJob *self);
/* (transfer full): "2 Washers, 1 Thick gasket"; "" when nothing should be. */
char      *pawl_job_describe_left_over (PawlJob *self);
/* (transfer full): "3 brought, 2 needed, 1 left over" */
char      *pawl_kit_line_describe    (const PawlKitLine *line);
/* (transfer full) (element-type utf8): what of the kit is not as it should be, to be said before the job is signed and on its report: a line
 * that is short or brought another number than its list says, a count of what was left over that is another than it should be. */
GPtrArray *pawl_job_list_kit_remarks (PawlJob *self);
/* Of an answer that is a count: how many there are, and how many are needed or should be left over. FALSE: it is none. */
gboolean   pawl_kit_get_count        (PawlJob *self, const PawlAsk *ask, const PawlAttempt *attempt, guint *count, guint *wanted);
/* (transfer full): of an answer that is a count: "3 left, 3 expected", "2 in hand, 3 needed: 1 short"; NULL of any other. */
char      *pawl_kit_describe_count   (PawlJob *self, const PawlAsk *ask, const PawlAttempt *attempt);

/* ---- what is not there: pawl-job-supply.c ---- */

/* (nullable): the newest word that a part or a supply is not there, unless it arrived since. */
PawlEntry *pawl_job_peek_lack        (PawlJob *self, const char *id);
/* Whether the part on the unit, or to be fitted, is a donor's: by its disposition, or by what arrived. */
gboolean   pawl_part_is_from_donor   (const PawlPartState *part);
/* (transfer container) (element-type PawlPartState): parts that are not there. */
GPtrArray *pawl_job_list_lacking     (PawlJob *self);
/* (transfer full): "ordered from Quay Stores, expected 2026-12-03"; a @lack that is overdue at @now says so. */
char      *pawl_lack_describe        (const PawlEntry *lack, GDateTime *now);

/* ---- what is to be bought: pawl-job-wants.c ---- */

typedef enum {
  PAWL_WANT_MISSING,  /* not there, and nobody has ordered it */
  PAWL_WANT_ORDERED,  /* on its way */
  PAWL_WANT_REPLACE,  /* decided to be replaced, by a new one or a donor's, and not had yet */
  PAWL_WANT_KIT,      /* the kit was short of it */
  PAWL_WANT_SUPPLY,   /* running out */
} PawlWantKind;

typedef struct {
  PawlWantKind      kind;
  const PawlPart   *part;     /* (nullable) */
  const PawlSupply *supply;   /* (nullable) */
  const char       *name;     /* of the part, the supply, or the line of the kit */
  const char       *item;     /* item number; "" for a supply or a line of the kit */
  guint             quantity; /* 0: as much as is usual */
  const PawlEntry  *entry;    /* (nullable) that says so */
  char             *why;      /* one phrase: reason, or how many are short */
  const char       *from, *expected; /* supplier and day; "" when not said */
} PawlWant;

/* (transfer full) (element-type PawlWant): what there is to buy, to order or to wait for; borrows from @self. */
GPtrArray  *pawl_job_list_wants      (PawlJob *self);
const char *pawl_want_get_word       (PawlWantKind kind); /* "missing", "ordered", "to replace", "short in the kit", "running out" */

/* ---- from the way out to the way in: pawl-job-found.c ---- */

/* (nullable): the reading or note that says where to begin with this reading: its start, else the reading as found that is same-as it. */
const PawlAskState *pawl_job_find_start (PawlJob *self, const PawlAskState *state);
/* (nullable): what was answered there, as typed, to be put before a person as a suggestion; NULL when nothing was, or it is void. */
const char *pawl_job_peek_start      (PawlJob *self, const PawlAskState *state);
/* (transfer full) (nullable): "1 3/8 turns, by Ann" */
char       *pawl_job_describe_start  (PawlJob *self, const PawlAskState *state);
/* (nullable): what was written down of the mark that a fit goes by. */
const char *pawl_job_peek_own_mark   (PawlJob *self, const PawlRule *rule);
/* (transfer full) (nullable): "two dots at 2 o'clock, noted by Ann"; what is missing when it was never written down; NULL for a rule that names no note. */
char       *pawl_job_describe_own_mark (PawlJob *self, const PawlRule *rule);

G_END_DECLS
