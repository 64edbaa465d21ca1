/*
 * A procedure: what to do to a unit, in what order, which way each part goes, what to measure. Read from one XML file, never changed after.
 * Everything here is owned by the PawlProcedure that lends it; strings are never NULL unless said. Ids are unique in the file across
 * steps, parts and asks.
 */
#pragma once

#include <gio/gio.h>
#include "fit/pawl-rule.h"
#include "measure/pawl-formula.h"
#include "measure/pawl-verdict.h"

G_BEGIN_DECLS

/* ---- parts ---- */
typedef struct {
  char      *id;
  char      *item;      /* item number in the figure, "12" or "12A" */
  char      *name;
  guint      quantity;
  char     **regions;   /* region ids in the figure; NULL-terminated, not empty unless not illustrated */
  PawlPoint *slide;     /* legs from where it is drawn to where it seats, in order, figure user units */
  guint      n_slide;
  char      *group;     /* sub-assembly; "" when of the unit itself */
  gboolean   is_kit;    /* new from the kit */
  gboolean   is_one_way; /* spoilt by removal, never reused */
  gboolean   is_staying; /* stays in its place throughout, and needs no step */
  gboolean   is_symmetric; /* any way it goes in is right, and the author says so */
  char      *variant;   /* (nullable) */
  char      *which;     /* (nullable) of what is written once for several: which one, "cylinder 2" */
  char      *interchange; /* (nullable) what else may serve, and the dimension that proves it */
  char     **proofs;    /* ids of readings that must be right before a donor's is fitted, beside those that ask for a donor; NULL-terminated */
  int        line;
} PawlPart;

/* ---- cautions ---- */
typedef enum { PAWL_SIGNAL_DANGER, PAWL_SIGNAL_WARNING, PAWL_SIGNAL_CAUTION, PAWL_SIGNAL_NOTICE } PawlSignal; /* ANSI Z535.6 */

typedef struct {
  char      *id;
  PawlSignal signal;
  char      *topic; /* fuel, solvent, air, blasting, spring, press, lifting, dust, lead, heat, pressure, electric, waste, other */
  char      *hazard, *consequence, *avoid;
  int        line;
} PawlCaution;

/* ---- asks: what a step wants answered, each with its own id ---- */
typedef enum {
  PAWL_ASK_FIT,     /* a fit rule to confirm */
  PAWL_ASK_CHECK,   /* free movement, passage, leak, visual: an outcome */
  PAWL_ASK_READING, /* a measurement */
  PAWL_ASK_WAIT,    /* a soak or a cure */
  PAWL_ASK_DECIDE,  /* reuse, repair or replace a part */
  PAWL_ASK_NOTE,    /* a text to write down: a match mark, a number on a plate, a count */
} PawlAskKind;

typedef enum {
  PAWL_CHECK_FREE,    /* movement */
  PAWL_CHECK_PASSAGE, /* open from A to B */
  PAWL_CHECK_LEAK,
  PAWL_CHECK_VISUAL,
  PAWL_CHECK_KIT,     /* a line of the kit reconciled */
  PAWL_CHECK_LEFT_OVER, /* what is left on the bench, counted against what should be: job/pawl-job-parts.h */
} PawlCheckKind;

/* What an outcome looks like, drawn in the figure beside what is exploded there. */
typedef struct {
  char *outcome;
  char *region;
  char *says;   /* (nullable) */
  int   line;
} PawlOutcomePicture;

typedef struct {
  PawlCheckKind kind;
  char         *from, *to;      /* passage (nullable) */
  char         *with;           /* tool, light, air, gauge pin (nullable) */
  gboolean      is_metering;    /* light or air only: wire and drills are forbidden */
  PawlLimits   *limits;         /* PAWL_LIMITS_CHOICE */
  char        **reopens;        /* ids of readings and checks to take again after this one was put right */
  GPtrArray    *pictures;       /* (element-type PawlOutcomePicture) */
  /* a line of the kit: pawl-kit.h */
  char        **parts;          /* ids of what it serves; NULL-terminated, empty when it is not counted */
  guint         quantity;       /* pieces that it brings; 0: it is not counted */
  guint         spare;          /* pieces more than this unit needs; of several variants, than the one that needs most */
  gboolean      is_unused;      /* for other models: put aside, and left over */
} PawlCheck;

/* What of a reading's values is held against limits. */
typedef enum {
  PAWL_OF_EACH,   /* every one of them */
  PAWL_OF_MEAN,
  PAWL_OF_MIN,
  PAWL_OF_MAX,
  PAWL_OF_SPREAD, /* largest less smallest: match within, out of round */
  PAWL_OF_RATIO,  /* smallest by largest */
} PawlOf;

typedef struct {
  PawlOf      of;
  PawlLimits *limits;
  int         line;
} PawlJudgement;

/* A place with a value of its own: a bore at three levels, a torque in three rounds, the pressure at the end of a hold. */
typedef struct {
  char       *id;      /* unique in the reading; READING.SPOT in formulas */
  char       *name;
  PawlLimits *limits;  /* (nullable) its own, and then it is not among those that are judged together */
  PawlTyping  typing;
  gboolean    has_mark;
  PawlPoint   mark;    /* where it is measured, figure user units, as drawn */
  char       *part;    /* (nullable): id of the part that it is on */
  int         line;
} PawlReadingSpot;

/* Worked out from other readings; @text as the author wrote it, @formula with each reading of several spots written out. */
typedef struct {
  char        *text;
  PawlFormula *formula;
} PawlWorkedOut;

/* Limits looked up by another reading: by its number, or by its outcome. */
typedef struct {
  PawlQuantity *at;      /* (nullable) */
  char         *outcome; /* (nullable) */
  PawlLimits   *limits;
  int           line;
} PawlTableRow;

typedef struct {
  char      *by;       /* id of the reading */
  gboolean   is_line;  /* between two rows a straight line; else the last row that is not above */
  GPtrArray *rows;     /* (element-type PawlTableRow), rising */
  int        line;
} PawlLimitsTable;

/* Limits of a reading for one variant; see pawl-variant.h. */
typedef struct {
  char       *variant; /* ids with blanks between, as on an ask */
  PawlLimits *limits;
  int         line;
} PawlVariantLimits;

/* A correction worked out by a bench sum. */
typedef struct {
  char *input;
  char *value; /* (nullable): as typed */
  char *from;  /* (nullable): a reading's id, "this", "limits" or "middle" (of the limits) */
} PawlLet;

typedef struct {
  char      *sum;
  GPtrArray *lets; /* (element-type PawlLet) */
  int        line;
} PawlAdvice;

typedef struct {
  PawlLimits   *limits;         /* of limits that follow from a reading, or differ by variant: one that only says from what, PAWL_LIMITS_FOLLOWS */
  PawlOf        of;             /* what of several values they are for */
  PawlTyping    typing;         /* unit of a bare number, or mixed */
  GPtrArray    *spots;          /* (element-type PawlReadingSpot); empty: one value */
  GPtrArray    *judgements;     /* (element-type PawlJudgement): further ones of the same values */
  PawlWorkedOut *derived;       /* (nullable): not measured but worked out */
  PawlWorkedOut *low, *high;    /* (nullable): limits that follow from other readings */
  PawlLimitsTable *table;       /* (nullable): the same, looked up */
  GPtrArray    *by_variant;     /* (element-type PawlVariantLimits): of which one is for the unit; empty when all have the same */
  PawlLimits   *valid;          /* (nullable): outside of these the measurement itself is void */
  char         *void_reason;    /* (nullable) why */
  guint         tries;          /* 0: any number of attempts is usual */
  char         *cause;          /* (nullable) what usually is the matter when it doesn't come right in so many */
  PawlAdvice   *advice;         /* (nullable) */
  char         *posture;        /* (nullable) "inverted", "upright", … */
  char         *from_face, *to_face; /* (nullable) */
  char         *gasket;         /* (nullable) "on", "off" */
  char         *load;           /* (nullable) */
  char         *places;         /* (nullable) where, in words */
  guint         repeats;        /* 1 or more */
  char         *tool;           /* (nullable) tool id wanted */
  char         *correct;        /* (nullable) what to bend, turn or change when out */
  char         *leave_alone;    /* (nullable) what not to touch */
  char        **reopens;        /* ids of readings and checks to take again after a correction */
  gboolean      is_as_found;    /* taken before anything is changed: recorded, judged, but out does not stop the job */
  char         *start;          /* (nullable) id of the reading or note, taken on the way out, that is the first setting on the way in */
  char         *same_as;        /* (nullable) id of the as-left or as-found reading of the same characteristic */
  PawlLimits   *other_limits;   /* (nullable) a second source that disagrees */
  char         *other_source;   /* (nullable) */
} PawlReading;

typedef struct {
  gint64 min_seconds;
  gint64 max_seconds; /* 0: none stated */
  char  *agent;       /* what it soaks in, what cures */
  gboolean is_limited_by_agent; /* the agent's own sheet has a maximum */
} PawlWait;

typedef struct {
  char       *part;     /* part id */
  char      **choices;  /* of reuse, repair, replace */
} PawlDecide;

typedef struct {
  PawlAskKind  kind;
  char        *id;
  char        *name;    /* short, for tables: "Float height" */
  char        *says;    /* the prompt, one sentence */
  char        *source;  /* (nullable) book and page, or "common practice, no source" */
  char        *variant; /* (nullable) */
  char        *donor;   /* (nullable) readings: part id; asked only when that part is replaced by one from a donor */
  char        *which;   /* (nullable) "cylinder 2", also when only its step says so */
  gboolean     is_optional;
  int          line;
  PawlRule    *rule;    /* fit */
  PawlCheck   *check;
  PawlReading *reading;
  PawlWait    *wait;
  PawlDecide  *decide;
} PawlAsk;

/* ---- steps ---- */
typedef enum { PAWL_HOLD_NONE, PAWL_HOLD_REVIEW, PAWL_HOLD_WITNESS, PAWL_HOLD_HOLD } PawlHold;

typedef struct {
  char      *id;
  char      *number;    /* position in the file, "14" */
  char      *phase;     /* phase id */
  char      *lane;      /* sub-assembly the work belongs to; "" for the whole unit */
  char      *command;   /* one command, one sentence */
  char      *info;      /* "" when none */
  char      *expect;    /* expected result; "" when none */
  char     **installs;  /* part ids */
  char     **removes;   /* part ids */
  char     **needs;     /* step ids that must be done before */
  char     **during;    /* wait ids that may run while this is done; for the plan */
  char     **covers;    /* ask or part ids that can't be seen or reached after it */
  char     **leaves_visible; /* ask ids that can, though the figure lays its parts over them; for the proof-reader */
  char     **tools;     /* tool ids */
  char     **cautions;  /* caution ids, shown before it */
  char      *cant_undo; /* (nullable) why it can't be undone */
  char      *variant;   /* (nullable) */
  char      *which;     /* (nullable) "cylinder 2" */
  PawlHold   hold;
  char      *hold_reason; /* (nullable) */
  gint64     attended_seconds;
  GPtrArray *asks;      /* (element-type PawlAsk) */
  int        line;
} PawlStep;

typedef struct { char *id, *title; int line; } PawlPhase;
typedef struct { char *id, *name; PawlInstrument instrument; gboolean is_measuring; int line; } PawlTool;
typedef struct { char *id, *name; int line; } PawlSupply;
typedef struct { char *id, *title, *edition, *publisher; int line; } PawlBook;
/* Variants of which one applies: rotation, model. @is_by_serial: told apart by the serial number. */
typedef struct { char *name, *tell; gboolean is_by_serial; int line; } PawlVariantSet; /* @name: "" when it has none; @tell: (nullable) how to know */
/* @set: its place in the sets. @from, @to: serial numbers, 0: no end. */
typedef struct { char *id, *name; guint set; guint64 from, to; int line; } PawlVariant;

typedef enum { PAWL_VERIFIED_NOT, PAWL_VERIFIED_ON_PAPER, PAWL_VERIFIED_ON_OBJECT, PAWL_VERIFIED_BY_SECOND } PawlVerified;

#define PAWL_TYPE_PROCEDURE (pawl_procedure_get_type ())
G_DECLARE_FINAL_TYPE (PawlProcedure, pawl_procedure, PAWL, PROCEDURE, GObject)

const char *pawl_procedure_get_id        (PawlProcedure *self);
const char *pawl_procedure_get_title     (PawlProcedure *self);
const char *pawl_procedure_get_unit      (PawlProcedure *self); /* "SD-3 sidedraft carburetor" */
const char *pawl_procedure_get_maker     (PawlProcedure *self);
const char *pawl_procedure_get_model     (PawlProcedure *self); /* "SD-3"; "" when none */
const char *pawl_procedure_get_revision  (PawlProcedure *self);
const char *pawl_procedure_get_language  (PawlProcedure *self);
const char *pawl_procedure_get_author    (PawlProcedure *self);
const char *pawl_procedure_get_licence   (PawlProcedure *self);
const char *pawl_procedure_get_statement (PawlProcedure *self); /* e.g. "Invented unit, for demonstration"; "" when none */
const char *pawl_procedure_get_skill     (PawlProcedure *self);
PawlVerified pawl_procedure_get_verified (PawlProcedure *self);
const char *pawl_procedure_get_verified_statement (PawlProcedure *self);
const char *pawl_procedure_get_figure    (PawlProcedure *self); /* file name relative to the procedure's folder; "" when none */
const char *pawl_procedure_get_kit       (PawlProcedure *self); /* "" when none */
gint64      pawl_procedure_get_attended_seconds (PawlProcedure *self);

GPtrArray  *pawl_procedure_get_parts     (PawlProcedure *self); /* (element-type PawlPart) in item order */
GPtrArray  *pawl_procedure_get_steps     (PawlProcedure *self); /* (element-type PawlStep) in file order */
GPtrArray  *pawl_procedure_get_phases    (PawlProcedure *self);
GPtrArray  *pawl_procedure_get_cautions  (PawlProcedure *self);
GPtrArray  *pawl_procedure_get_tools     (PawlProcedure *self);
GPtrArray  *pawl_procedure_get_supplies  (PawlProcedure *self);
GPtrArray  *pawl_procedure_get_books     (PawlProcedure *self);
GPtrArray  *pawl_procedure_get_variants  (PawlProcedure *self); /* (element-type PawlVariant) of all sets; see pawl-variant.h */
GPtrArray  *pawl_procedure_get_variant_sets (PawlProcedure *self); /* (element-type PawlVariantSet) */
/* (element-type PawlRule): sets of parts that look alike, without a fit that says so: of kind which, candidates and the dimension only. See pawl-alike.h */
GPtrArray  *pawl_procedure_get_alikes    (PawlProcedure *self);

const PawlPart    *pawl_procedure_lookup_part    (PawlProcedure *self, const char *id); /* (nullable) */
const PawlStep    *pawl_procedure_lookup_step    (PawlProcedure *self, const char *id); /* (nullable) */
const PawlPhase   *pawl_procedure_lookup_phase   (PawlProcedure *self, const char *id); /* (nullable) */
const PawlTool    *pawl_procedure_lookup_tool    (PawlProcedure *self, const char *id); /* (nullable) */
const PawlCaution *pawl_procedure_lookup_caution (PawlProcedure *self, const char *id); /* (nullable) */
/* (transfer container) (element-type PawlOutcomePicture): of all checks. Their regions are no parts, and not shown where parts are. */
GPtrArray         *pawl_procedure_list_pictures  (PawlProcedure *self);
const PawlAsk     *pawl_procedure_lookup_ask     (PawlProcedure *self, const char *id, const PawlStep **step); /* (nullable) */
/* Index of a step in file order, or -1. */
int                pawl_procedure_get_step_index (PawlProcedure *self, const char *id);

G_END_DECLS
