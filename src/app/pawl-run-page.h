/* The run of the job: steps by lane, their status, what blocks each. Signal "step-wanted" (char *step_id). */
#pragma once

#include <gtk/gtk.h>
#include "job/pawl-job.h"

G_BEGIN_DECLS

#define PAWL_TYPE_RUN_PAGE (pawl_run_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlRunPage, pawl_run_page, PAWL, RUN_PAGE, GtkWidget)

/* @job: (nullable) empties the page. */
void pawl_run_page_apply (PawlRunPage *self, PawlJob *job);

G_END_DECLS
