/*
 * What a unit is taken in with: whose it is, what is wrong with it in the customer's words, what was authorised, how it was identified. To open a job,
 * and later to correct what was mistyped; then it shows more lines, and asks neither who nor how the work is done.
 * What the procedure asks for in a step of its own is not asked here as well.
 * Signals "activate": Enter in a line; "changed": a line is another.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-answer.h"

G_BEGIN_DECLS

#define PAWL_TYPE_INTAKE_FORM (pawl_intake_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlIntakeForm, pawl_intake_form, PAWL, INTAKE_FORM, GtkWidget)

/* Shows what this procedure needs. */
void        pawl_intake_form_set_procedure (PawlIntakeForm *self, PawlProcedure *procedure);
/* Lent until the form is changed; a line that is not shown is NULL. */
PawlIntake  pawl_intake_form_get           (PawlIntakeForm *self);
const char *pawl_intake_form_get_person    (PawlIntakeForm *self);
void        pawl_intake_form_set_person    (PawlIntakeForm *self, const char *person);
void        pawl_intake_form_set_bench  (PawlIntakeForm *self, const char *bench); /* where the unit lies; "" */
void        pawl_intake_form_set_ask_first (PawlIntakeForm *self, gboolean is_ask_first);
/* Forgets what was said of the last unit; who is at the bench stays. */
void        pawl_intake_form_clear         (PawlIntakeForm *self);
/* The keyboard goes to who is at the bench when nobody is, else to the serial number. */
void        pawl_intake_form_go            (PawlIntakeForm *self);

/* ---- to correct ---- */
/* Each line says what is in force in @job; one that was changed by hand and not taken yet stays as it was typed. */
void        pawl_intake_form_follow        (PawlIntakeForm *self, PawlJob *job);
/* What was typed by hand is forgotten. */
void        pawl_intake_form_forget        (PawlIntakeForm *self);

/* The lines of the form, so that what is half typed can be kept elsewhere. @field: of src/record/pawl-intake.h */
guint       pawl_intake_form_get_n_lines   (void);
const char *pawl_intake_form_get_field     (guint line);
/* "" when nobody changed it, or emptied it. */
const char *pawl_intake_form_peek_typed    (PawlIntakeForm *self, guint line);
void        pawl_intake_form_type          (PawlIntakeForm *self, guint line, const char *text);

G_END_DECLS
