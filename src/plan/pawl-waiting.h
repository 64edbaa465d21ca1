/* What waits: the soaks and cures that run, with the moments at which somebody has to be told. Copies, so that they outlive the job. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_WAITING_EARLY,   /* not before its minimum */
  PAWL_WAITING_RIPE,    /* may come out */
  PAWL_WAITING_CLOSING, /* has to come out soon */
  PAWL_WAITING_LATE,    /* should have been out */
} PawlWaitingStage;

typedef struct {
  char      *job, *title; /* id; "SD-3 sidedraft carburetor, work order TS-7" */
  char      *step, *ask;  /* ids */
  char      *name;
  GDateTime *started, *earliest;
  GDateTime *latest;      /* (nullable) */
} PawlWaiting;

/* So long before its maximum a wait is called for, or half of the time between minimum and maximum when that is less: common practice, no source. */
#define PAWL_WAITING_LEAD_SECONDS (10 * 60)

void             pawl_waiting_free      (PawlWaiting *self);
/* (transfer full) (element-type PawlWaiting): soonest limit first. */
GPtrArray       *pawl_waiting_list      (PawlJob *job);
PawlWaitingStage pawl_waiting_get_stage (const PawlWaiting *self, GDateTime *now);
/* (transfer full) (nullable): when it comes to the next stage; NULL: never. */
GDateTime       *pawl_waiting_dup_next  (const PawlWaiting *self, GDateTime *now);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWaiting, pawl_waiting_free)

G_END_DECLS
