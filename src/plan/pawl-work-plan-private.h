/* Between the files of the plan: -add.c makes nodes of jobs, pawl-work-plan.c works the plan out, -look.c lists and describes what is in it. */
#pragma once

#include "plan/pawl-work-plan.h"

G_BEGIN_DECLS

struct _PawlWorkPlan {
  GDateTime        *start;
  GPtrArray        *jobs;      /* (element-type PawlWorkPlanJob) */
  GPtrArray        *items;     /* (element-type PawlWorkPlanItem) */
  PawlNetwork      *network;
  GHashTable       *places;    /* name → number of places, as set */
  GHashTable       *resources; /* name → index of the resource + 1 */
  PawlSchedule     *schedule;  /* (nullable) until it is worked out */
  PawlCriticalPath *path;      /* (nullable) likewise */
};

/* Seconds from the beginning of the plan to @at; below 0 before it. */
gint64 pawl_work_plan_get_seconds (const PawlWorkPlan *self, GDateTime *at);

G_END_DECLS
