/*
 * Jobs: what is on the bench, newest first. One line each: unit, work order, what was about to be done, waits that run.
 * Words typed above the list leave the jobs in which they were said, and say where.
 * Signals "job-opened" and "history-wanted" (char *job_id).
 */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_JOBS_PAGE (pawl_jobs_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlJobsPage, pawl_jobs_page, PAWL, JOBS_PAGE, GtkWidget)

/* Lists the jobs anew. @record: (nullable). The first line has the keyboard, so that Enter takes up the last job. */
void pawl_jobs_page_apply (PawlJobsPage *self, PawlRecord *record);
void pawl_jobs_page_go    (PawlJobsPage *self);
/* Gives the keyboard to the search. */
void pawl_jobs_page_search (PawlJobsPage *self);

G_END_DECLS
