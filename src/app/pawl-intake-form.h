/*
 * Intake: what a job is opened with. Whose unit it is, what is wrong with it in the customer's words, what was authorised, how the unit was identified.
 * What the procedure asks for in a step of its own is not asked here as well.
 * Signal "activate": Enter in a line.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-answer.h"

G_BEGIN_DECLS

#define PAWL_TYPE_INTAKE_FORM (pawl_intake_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlIntakeForm, pawl_intake_form, PAWL, INTAKE_FORM, GtkWidget)

/* Shows what this procedure needs. */
void        pawl_intake_form_set_procedure (PawlIntakeForm *self, PawlProcedure *procedure);
/* Lent until the form is changed. */
PawlIntake  pawl_intake_form_get           (PawlIntakeForm *self);
const char *pawl_intake_form_get_person    (PawlIntakeForm *self);
void        pawl_intake_form_set_person    (PawlIntakeForm *self, const char *person);
void        pawl_intake_form_set_bench  (PawlIntakeForm *self, const char *bench); /* where the unit lies; "" */
void        pawl_intake_form_set_ask_first (PawlIntakeForm *self, gboolean is_ask_first);
/* Forgets what was said of the last unit; who is at the bench stays. */
void        pawl_intake_form_clear         (PawlIntakeForm *self);
/* The keyboard goes to who is at the bench when nobody is, else to the serial number. */
void        pawl_intake_form_go            (PawlIntakeForm *self);

G_END_DECLS
