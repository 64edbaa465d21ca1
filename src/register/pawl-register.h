/*
 * The register of instruments, folded from its entries in the record. Pure, as a job is: the same entries give the same register.
 *
 * Each instrument is known by its mark, as engraved on it, and has a chain of its own. What a reading was taken with is copied into the
 * reading's entry when it is appended (pawl_register_describe_use()), so that nothing that the register learns later changes a job.
 */
#pragma once

#include "measure/pawl-uncertainty.h"
#include "record/pawl-record.h"
#include "register/pawl-burst.h"

G_BEGIN_DECLS

#define PAWL_REGISTER_ERROR (pawl_register_error_quark ())
GQuark pawl_register_error_quark (void);

typedef enum {
  PAWL_REGISTER_ERROR_UNKNOWN,     /* no such mark */
  PAWL_REGISTER_ERROR_TAKEN,       /* the mark is in the register already */
  PAWL_REGISTER_ERROR_RETIRED,     /* out of use */
  PAWL_REGISTER_ERROR_BAD_FIELD,   /* can't be understood; the message says what would be right */
  PAWL_REGISTER_ERROR_OUT_OF_DATE, /* its calibration is overdue, and the job refuses such readings */
} PawlRegisterError;

/* Over a due date, and at it: the day itself is still in date. */
typedef enum {
  PAWL_STANDING_IN_DATE,
  PAWL_STANDING_DUE_SOON,
  PAWL_STANDING_OUT_OF_DATE,
  PAWL_STANDING_NO_DATE, /* nobody stated when it is due */
  PAWL_STANDING_RETIRED,
} PawlStanding;

#define PAWL_DUE_SOON_DAYS 30

/* What a job does with a reading by an instrument that is out of date: the opening entry's field "out-of-date". */
typedef enum {
  PAWL_OVERDUE_SAY,    /* "say": printed on the report, nothing more */
  PAWL_OVERDUE_WARN,   /* "warn", or nothing stated: said before the reading as well */
  PAWL_OVERDUE_REFUSE, /* "refuse": the reading is not taken */
} PawlOverdue;

PawlOverdue pawl_overdue_from_text (const char *text); /* (nullable) @text */

typedef struct {
  char         *chain;      /* id in the record */
  char         *mark;       /* "MIC-3" */
  char         *kind;       /* what procedures call it: id or name of a tool, "caliper" */
  char         *name;       /* maker and model, "" when not stated */
  char         *range;      /* as typed, "0..25 mm"; "" when not stated */
  PawlInstrument instrument; /* id is the mark; name, max_error, step, reference as stated last */
  GDate        *calibrated; /* (nullable): last */
  GDate        *due;        /* (nullable) */
  gboolean      is_retired;
  char         *reason;     /* of its retirement; "" */
  char         *note;       /* "" */
  gboolean      is_typing;  /* somebody stated how it types: by what ends a reading */
  PawlBurstForm burst;      /* how, then */
  GPtrArray    *entries;    /* (element-type PawlEntry): its life in order */
} PawlGauge;

typedef struct _PawlRegister PawlRegister;

/* @entries: (element-type PawlEntry): of pawl_record_load_instruments(). @until: (nullable): leave out what happened later. */
PawlRegister *pawl_register_fold   (GPtrArray *entries, GDateTime *until);
/* (transfer full): all that @record has, folded */
PawlRegister *pawl_register_load   (PawlRecord *record, GError **error);
void          pawl_register_free   (PawlRegister *self);
/* (transfer none) (element-type PawlGauge): by mark; retired ones too */
GPtrArray    *pawl_register_list   (const PawlRegister *self);
/* (nullable): @mark without regard to case */
const PawlGauge *pawl_register_lookup (const PawlRegister *self, const char *mark);
/* (transfer container) (element-type PawlGauge): in use, whose kind is one of the tool's names, in date first. @name: (nullable) */
GPtrArray    *pawl_register_list_of_kind (const PawlRegister *self, const char *id, const char *name, GDateTime *at);

PawlStanding  pawl_gauge_get_standing (const PawlGauge *self, GDateTime *at);
const char   *pawl_standing_get_word  (PawlStanding standing); /* "in date", "due soon", … */
/* (transfer full): "in date until 2027-03-01", "out of date since 2026-03-01", "retired: dropped" */
char         *pawl_gauge_describe_standing (const PawlGauge *self, GDateTime *at);
/* (transfer full): "error ±0.02 mm, step 0.01 mm"; "" when nothing is known */
char         *pawl_gauge_describe_error (const PawlGauge *self, char decimal_mark);

/**
 * pawl_register_check:
 * @entry: PAWL_ENTRY_INSTRUMENT_…, not stored yet
 *
 * Whether the register would take it. Fields that hold quantities are brought to a form that reads back the same everywhere.
 */
gboolean      pawl_register_check  (const PawlRegister *self, PawlEntry *entry, GError **error);

/* The one way in: loads, checks, stores @entry in the chain of its instrument, or as the first of a new one. */
gboolean      pawl_register_append (PawlRecord *record, PawlEntry *entry, GError **error);

/**
 * pawl_register_describe_use:
 * @answer: PAWL_ENTRY_ANSWERED, not stored yet; its field "tool-serial" names the instrument
 *
 * Copies what the register knows of it at that time into @answer: error, step, reference, calibrated, due, and overdue="yes" when it was out of date.
 * What is not in the register is left as it is. PAWL_REGISTER_ERROR_OUT_OF_DATE and _RETIRED when the reading is to be refused.
 */
gboolean      pawl_register_describe_use (const PawlRegister *self, PawlEntry *answer, PawlOverdue overdue, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlRegister, pawl_register_free)

G_END_DECLS
