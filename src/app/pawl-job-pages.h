/* The pages of a job: bench, run, readings, parts, report, and the ways off them, history and intake. Only the one on show is kept up to date. Signal "step-wanted" (char *job_id, char *step_id). */
#pragma once

#include "app/pawl-bench-page.h"
#include "app/pawl-report-page.h"

G_BEGIN_DECLS

#define PAWL_TYPE_JOB_PAGES (pawl_job_pages_get_type ())
G_DECLARE_FINAL_TYPE (PawlJobPages, pawl_job_pages, PAWL, JOB_PAGES, GtkWidget)

GtkWidget      *pawl_job_pages_new         (void);
/* @session: (nullable): none, the pages are empty. @settings and @trial are borrowed, and outlive the pages. @language: (nullable), of procedures. */
void            pawl_job_pages_set_session (PawlJobPages *self, PawlSession *session, PawlSettings *settings, PawlTrial *trial, const char *language);
void            pawl_job_pages_apply       (PawlJobPages *self); /* when the job has changed */

/* Brings what is shown closer, when it is the run; 0: all of it. FALSE: it is another page. */
gboolean        pawl_job_pages_zoom_by     (PawlJobPages *self, double factor);
void            pawl_job_pages_show        (PawlJobPages *self, const char *page); /* "bench", "run", "readings", "history", "parts", "report", "intake" */
const char     *pawl_job_pages_get_shown   (PawlJobPages *self);

GtkStack       *pawl_job_pages_get_stack   (PawlJobPages *self); /* for a switcher */
PawlBenchPage  *pawl_job_pages_get_bench   (PawlJobPages *self);
PawlReportPage *pawl_job_pages_get_report  (PawlJobPages *self);

G_END_DECLS
