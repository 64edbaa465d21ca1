/*
 * The plan of the bench: what is left of one job or of several, in the order in which one pair of hands has done it soonest. Pure: the same jobs and the
 * same beginning give the same plan.
 *
 * Of a step, its attended time is work; its waits run behind it, one after another in file order, and the step is done when the last is ended. What comes
 * before what is the order of the procedure (pawl-order.h), less what is done already. A wait takes one place in its agent when the agent has a sheet of its
 * own (a bath, an oven) or is named like a tool of the procedure (a press); agents and tools of one name are the same in all jobs. Holds are taken as released
 * as soon as their step is done; until when that has to be is said.
 */
#pragma once

#include "job/pawl-job.h"
#include "plan/pawl-hours.h"
#include "plan/pawl-schedule.h"

G_BEGIN_DECLS

#define PAWL_WORK_PLAN_ERROR (pawl_work_plan_error_quark ())
GQuark pawl_work_plan_error_quark (void);

typedef enum {
  PAWL_WORK_PLAN_ERROR_CYCLE, /* steps that need one another */
  PAWL_WORK_PLAN_ERROR_WAIT,  /* a wait with a maximum below its minimum */
} PawlWorkPlanError;

/* A wait that has less than this to its maximum when it is ended as planned is called tight: common practice, no source. */
#define PAWL_WORK_PLAN_TIGHT_SECONDS (10 * 60)

/* A step's work, or one of its waits. Times are seconds from the beginning of the plan. */
typedef struct {
  guint                node;       /* index of it in the network and among the items */
  guint                job;        /* index */
  guint                lane;       /* index in the job's lanes */
  const PawlStepState *state;
  const PawlAskState  *wait;       /* (nullable): then it is this wait */
  gint64               start, finish; /* as planned; of a wait that runs already, @start is when it began, 0 or below */
  gint64               min_finish, max_finish; /* of a wait: when it may be ended, and has to be; PAWL_NETWORK_NO_MAX: whenever */
  gint64               earliest, latest; /* start, with hands for everything at once */
  gint64               total_float, free_float;
  gint64               release_by; /* of work with a hold: when what follows is to begin; -1: no hold, or nothing follows */
  gboolean             is_running; /* a wait that has been started */
  gboolean             is_overdue; /* a wait that is over its maximum already */
  gboolean             is_outside; /* a wait that is ended outside of the working hours, or work that goes on after them: nothing else is possible */
  gboolean             is_tight;   /* a wait that has little to its maximum when it is ended as planned */
} PawlWorkPlanItem;

typedef struct {
  PawlJob   *job;   /* owned */
  char      *title;
  GPtrArray *lanes; /* (element-type utf8): "whole unit" and the sub-assemblies, as the procedure comes to them */
  GPtrArray *over;  /* (element-type GPtrArray of PawlStepState): of each lane, steps that are done or left out, in file order */
  guint      n_done, n_steps;
} PawlWorkPlanJob;

typedef struct _PawlWorkPlan PawlWorkPlan;

/* @start: when the hands begin */
PawlWorkPlan     *pawl_work_plan_new        (GDateTime *start);
void          pawl_work_plan_free       (PawlWorkPlan *self);

/* How many places @name, a tool's id or an agent, has: 1 when nothing is said, 0 for as many as are wanted. Before jobs are added. */
void          pawl_work_plan_set_places (PawlWorkPlan *self, const char *name, guint places);
/* When the hands are there: @hours (transfer full) (nullable), as pawl_hours_parse() gives them; NULL: always. Before it is worked out. */
void          pawl_work_plan_take_hours (PawlWorkPlan *self, PawlTimes *hours);
/* The hours that end after @seconds of the plan first. FALSE: hands are there always. */
gboolean      pawl_work_plan_find_hours (const PawlWorkPlan *self, gint64 seconds, gint64 *from, gint64 *until);
/* Adds what is left of @job. @title: how it is called. On error nothing is added. */
gboolean      pawl_work_plan_add_job    (PawlWorkPlan *self, PawlJob *job, const char *title, GError **error);
/* (transfer full): "SD-3 sidedraft carburetor, work order TS-7" */
char         *pawl_work_plan_make_title (PawlJob *job);
/* As pawl_work_plan_add_job() for a job of @procedure that has not begun. @variant: (nullable) */
gboolean      pawl_work_plan_add_procedure (PawlWorkPlan *self, PawlProcedure *procedure, const char *variant, const char *title, GError **error);
/* Once, when all jobs are added. @effort: as for pawl_schedule_new(). */
void          pawl_work_plan_work_out   (PawlWorkPlan *self, guint64 effort);

GDateTime    *pawl_work_plan_peek_start (const PawlWorkPlan *self);
/* (transfer full): @seconds from the beginning. */
GDateTime    *pawl_work_plan_get_time   (const PawlWorkPlan *self, gint64 seconds);
/* (transfer full): "14:05"; "Thu 14:05" on another day than the plan begins, "2026-11-16 14:05" a week from it or more. */
char         *pawl_work_plan_format_time (const PawlWorkPlan *self, gint64 seconds);
const GPtrArray *pawl_work_plan_get_jobs  (const PawlWorkPlan *self); /* (element-type PawlWorkPlanJob) */
const GPtrArray *pawl_work_plan_get_items (const PawlWorkPlan *self); /* (element-type PawlWorkPlanItem): index is the node of the network */

/* ---- once it is worked out ---- */
const PawlNetwork  *pawl_work_plan_get_network  (const PawlWorkPlan *self);
const PawlSchedule *pawl_work_plan_get_schedule (const PawlWorkPlan *self);
gint64        pawl_work_plan_get_path_seconds (const PawlWorkPlan *self); /* the critical path, with hands for everything at once */
gint64        pawl_work_plan_get_hands_seconds (const PawlWorkPlan *self); /* attended work in all */
/* (transfer container) (element-type PawlWorkPlanItem): one longest chain, first to last. */
GPtrArray    *pawl_work_plan_list_critical (const PawlWorkPlan *self);
/* (transfer container) (element-type PawlWorkPlanItem): work that may begin now and waits that may be ended now, as planned. */
GPtrArray    *pawl_work_plan_list_now      (const PawlWorkPlan *self);
/* (transfer container) (element-type PawlWorkPlanItem): everything as the hands come to it; a wait where it is ended. */
GPtrArray    *pawl_work_plan_list_order    (const PawlWorkPlan *self);

/* (transfer full): "12 Lift off the cover", "Soak of the body" */
char         *pawl_work_plan_item_describe (const PawlWorkPlanItem *item);
/* (transfer full) (nullable): why it can't be done now: "step 7, Lift off the cover, and 2 more"; NULL when it can. */
char         *pawl_work_plan_item_describe_blocked (const PawlWorkPlanItem *item);
/* Whether it may be done now: work that is not blocked, a wait that runs. */
gboolean      pawl_work_plan_item_is_open  (const PawlWorkPlanItem *item);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWorkPlan, pawl_work_plan_free)

G_END_DECLS
