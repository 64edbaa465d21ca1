/*
 * Jobs: what is on the bench, what is due first on top. Of each: unit, waits that run and when they must be out, what was about to be done, what has changed since,
 * work order.
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
/* Who comes back, for what others did meanwhile. For the next time that the jobs are listed. */
void pawl_jobs_page_set_person (PawlJobsPage *self, const char *person);
/* Which revision of each procedure is on the shelf, by its id. Lists the jobs anew. @revisions: (transfer full) (element-type utf8 utf8) */
void pawl_jobs_page_take_revisions (PawlJobsPage *self, GHashTable *revisions);
/* Gives the keyboard to the search. */
void pawl_jobs_page_search (PawlJobsPage *self);

G_END_DECLS
