/* The plan of the day, worked out away from the main loop: by what is on disk, on a connection of its own. */
#pragma once

#include <gtk/gtk.h>
#include "plan/pawl-work-plan.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

typedef struct {
  PawlWorkPlan *plan;
  GPtrArray    *problems; /* (element-type utf8): jobs that can't be planned, and why */
} PawlDayPlan;

void         pawl_day_plan_free   (PawlDayPlan *self);

/* Each job is folded for the plan, so more than so many are left to `pawl plan`; those touched last are taken. */
#define PAWL_DAY_PLAN_JOBS 60

/* @page: a widget in a window of the application. @job_id: (nullable): all that are not signed. @hours: as pawl_hours_parse()
 * has it; what it can't read is a problem of the plan. @language: (nullable), of procedures. */
void         pawl_day_plan_async  (GtkWidget *page, PawlRecord *record, const char *job_id, const char *hours, const char *language, GCancellable *cancellable,
                                   GAsyncReadyCallback callback, gpointer data);
/* (transfer full) */
PawlDayPlan *pawl_day_plan_finish (GAsyncResult *result, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlDayPlan, pawl_day_plan_free)

G_END_DECLS
