/* Who trains proves it: two fields of a form, the name out of the list of people and the PIN. */
#pragma once

#include "app/pawl-field-form.h"
#include "record/pawl-people.h"

G_BEGIN_DECLS

/* (transfer full) (element-type PawlPerson): trainers and owners who are here; only those with a PIN, when @needs_pin */
GPtrArray *pawl_trainers_list          (PawlRecord *record, gboolean needs_pin, GError **error);
/* Adds the fields. @label: of the name; @person: (nullable): who is at the bench, chosen when they train */
void       pawl_trainer_fields_add     (PawlFieldForm *form, PawlRecord *record, const char *label, const char *person);
void       pawl_trainer_fields_set_shown (PawlFieldForm *form, gboolean is_shown);
/**
 * pawl_trainer_fields_prove:
 *
 * Checks the PIN, once a form: who proved it measures three times without typing it again.
 * Returns: (transfer full) (nullable): the trainer's name
 */
char      *pawl_trainer_fields_prove   (PawlFieldForm *form, PawlRecord *record, GError **error);

/* Whether @person may see everybody's stages and figures; @needs_pin: (out): only once they gave their PIN */
gboolean   pawl_trainer_may_see_all    (PawlRecord *record, const char *person, gboolean *needs_pin);

G_END_DECLS
