/* Steps of all jobs that wait for somebody to look: who asked, since when, where, what would be hidden, why. Pure. */
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

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWaitingHold, pawl_waiting_hold_free)

G_END_DECLS
