/*
 * The run of the job: the lanes of this job or of the whole bench along time, and what to do now so that the day ends soonest.
 * Signal "step-wanted" (char *job_id, char *step_id).
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "app/pawl-settings.h"

G_BEGIN_DECLS

#define PAWL_TYPE_RUN_PAGE (pawl_run_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlRunPage, pawl_run_page, PAWL, RUN_PAGE, GtkWidget)

/* @session: (nullable). @settings: borrowed, and outlive the page: they have the working hours. @language: (nullable), of the procedures of other jobs. */
void pawl_run_page_set_session (PawlRunPage *self, PawlSession *session, const PawlSettings *settings, const char *language);
/* Plans anew, away from the main loop; what was planned before stays until then. */
void pawl_run_page_apply       (PawlRunPage *self);
/* Gives the keyboard to the lanes. */
void pawl_run_page_go          (PawlRunPage *self);
/* @factor: above 1 comes closer; 0: all of it. */
void pawl_run_page_zoom_by     (PawlRunPage *self, double factor);

G_END_DECLS
