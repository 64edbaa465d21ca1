/* Report: the pages as they will print, what is missing, the paper, saving as PDF, and the sign-off. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "app/pawl-settings.h"
#include "drawing/pawl-trial.h"

G_BEGIN_DECLS

#define PAWL_TYPE_REPORT_PAGE (pawl_report_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlReportPage, pawl_report_page, PAWL, REPORT_PAGE, GtkWidget)

/* @session: (nullable); @settings, @trial: borrowed, outlive the page. */
void pawl_report_page_set_session (PawlReportPage *self, PawlSession *session, PawlSettings *settings, PawlTrial *trial);
/* The job or the paper changed: laid out anew when the page is on show, else when it next is. */
void pawl_report_page_apply       (PawlReportPage *self);
/* What every report has changed: laid out anew in any case. */
void pawl_report_page_refresh     (PawlReportPage *self);
/* Asks where to, and writes the PDF. */
void pawl_report_page_save        (PawlReportPage *self);
/* Asks for a printer, and prints the pages that are on show. */
void pawl_report_page_print       (PawlReportPage *self);
/* As saving, and keeps the PDF in the record with an entry that says so: the next one is a new version. */
void pawl_report_page_issue       (PawlReportPage *self);
void pawl_report_page_sign        (PawlReportPage *self);

G_END_DECLS
