/* What of all jobs waits for a trainer: steps to look at, with who asked, since when, where, what would be hidden, why; readings to be measured again. Pure. */
#pragma once

#include "job/pawl-job.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

typedef struct {
  char      *job, *unit, *serial, *work_order, *bench; /* bench: as the opening says; "" */
  char      *step, *number, *command;
  PawlHold   level;
  char      *by;        /* who asked, or else who did the step */
  GDateTime *since;     /* it was asked, or else the step was done */
  gboolean   is_called; /* somebody was asked to come */
  char      *whom;      /* "" who was called, when somebody is named */
  char      *note;      /* "" of who asked */
  char      *hides;     /* what the steps behind it hide, "Float height; Felt gaps"; "" */
  char      *why;       /* the procedure's reason, or for which skills it was raised, or the trainer's; "" */
  guint      n_waiting; /* steps that can't be done before */
} PawlWaitingHold;

void       pawl_waiting_hold_free  (PawlWaitingHold *self);
/* (transfer full) (element-type PawlWaitingHold): for pawl_waiting_holds_add() */
GPtrArray *pawl_waiting_holds_new  (void);
/* Those of @job, unless it is signed. Witness and review points too: they hold nothing up, but somebody is invited, or looks later. */
void       pawl_waiting_holds_add  (GPtrArray *holds, PawlJob *job);
/* Holds first, those that were called before the others, the longest first. */
void       pawl_waiting_holds_sort (GPtrArray *holds);
/* (transfer full) (element-type PawlWaitingHold): of all jobs of @record, sorted */
GPtrArray *pawl_waiting_holds_load (PawlRecord *record, GError **error);

/* A reading whose first is in, and that somebody else measures again before either is shown. */
typedef struct {
  char      *job, *unit, *serial, *bench;
  char      *ask, *name, *step, *number;
  char      *by;     /* who took the first */
  GDateTime *since;
  char      *hidden_by; /* number of a step that hides the part now, and has to be done again before anybody can measure; "" */
} PawlWaitingReading;

void       pawl_waiting_reading_free (PawlWaitingReading *self);
/* (transfer full) (element-type PawlWaitingReading) */
GPtrArray *pawl_waiting_readings_new (void);
/* Those of @job, unless it is signed. */
void       pawl_waiting_readings_add (GPtrArray *readings, PawlJob *job);
/* Whether somebody else could measure @ask of @job again now: nothing of either reading is told by this. */
gboolean   pawl_reading_can_be_measured_again (const PawlAskState *ask);
/* Both lists out of one walk through the jobs of @record: @holds sorted, @readings the longest first. Either may be NULL. */
gboolean   pawl_waiting_load         (PawlRecord *record, GPtrArray *holds, GPtrArray *readings, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWaitingHold, pawl_waiting_hold_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWaitingReading, pawl_waiting_reading_free)

G_END_DECLS
