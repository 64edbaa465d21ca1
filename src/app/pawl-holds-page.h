/*
 * Holds waiting: what waits for somebody to look, and which readings for somebody to measure them again, over all jobs of the record, for a trainer who
 * walks from bench to bench. Activating one opens the form that settles it, by the PIN of who has one.
 * Signal "changed": something was entered in a job.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-trainer-acts.h"

G_BEGIN_DECLS

#define PAWL_TYPE_HOLDS_PAGE (pawl_holds_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlHoldsPage, pawl_holds_page, PAWL, HOLDS_PAGE, GtkWidget)

/* Folds the jobs anew, and shows the list. @record: (nullable); @person: at the bench */
void pawl_holds_page_apply (PawlHoldsPage *self, PawlRecord *record, const char *person);
/* Entries of other benches are in the record now: lists them, unless a form is open, which stays as it is. */
void pawl_holds_page_refresh (PawlHoldsPage *self);
void pawl_holds_page_go    (PawlHoldsPage *self); /* keyboard to the first one, or to the form */
/* Opens the form of @act at @step of @job. */
void pawl_holds_page_act   (PawlHoldsPage *self, PawlTrainerAct act, const char *job, const char *step);

G_END_DECLS
