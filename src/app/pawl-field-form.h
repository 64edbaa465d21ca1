/*
 * A form in the page, made of what it asks: each field has an id, a label above it, and is a line of text, a PIN or a choice.
 * Nothing of it is kept once it is closed; PINs are forgotten with each refusal too.
 *
 * Signal "answered": the user pressed the button; the owner reads the fields and calls pawl_field_form_close(), or pawl_field_form_say().
 * Signal "left": the user thought better of it; the form is closed already.
 * Signal "chosen" (char *id): another choice was taken.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define PAWL_TYPE_FIELD_FORM (pawl_field_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlFieldForm, pawl_field_form, PAWL, FIELD_FORM, GtkWidget)

/* Begins anew, without fields. @take: what its button says. */
void        pawl_field_form_begin      (PawlFieldForm *self, const char *heading, const char *take);
/* A paragraph where it stands among the fields. @css_class: (nullable) */
void        pawl_field_form_add_text   (PawlFieldForm *self, const char *text, const char *css_class);
/* @hint: (nullable): in the empty line */
void        pawl_field_form_add_line   (PawlFieldForm *self, const char *id, const char *label, const char *hint);
void        pawl_field_form_add_pin    (PawlFieldForm *self, const char *id, const char *label);
/* @words: NULL-terminated, what is shown; the first is chosen */
void        pawl_field_form_add_choice (PawlFieldForm *self, const char *id, const char *label, const char * const *words);
/* What stands under a field; "" for nothing */
void        pawl_field_form_set_note   (PawlFieldForm *self, const char *id, const char *text);
/* Other words for a choice; the first is chosen. */
void        pawl_field_form_set_words  (PawlFieldForm *self, const char *id, const char * const *words);
/* The keyboard goes to the first field. */
void        pawl_field_form_go         (PawlFieldForm *self);
void        pawl_field_form_close      (PawlFieldForm *self);

gboolean    pawl_field_form_has        (PawlFieldForm *self, const char *id);
/* What was typed, without blanks around it, lent until it is typed anew; of a choice the word; "" when there is no such field */
const char *pawl_field_form_get        (PawlFieldForm *self, const char *id);
void        pawl_field_form_set        (PawlFieldForm *self, const char *id, const char *text);
guint       pawl_field_form_get_choice (PawlFieldForm *self, const char *id);
void        pawl_field_form_set_choice (PawlFieldForm *self, const char *id, guint place);
void        pawl_field_form_set_shown  (PawlFieldForm *self, const char *id, gboolean is_shown); /* hidden, it counts as empty */
/* What was refused is said no more, and the keyboard goes to the first field that is empty. */
void        pawl_field_form_go_on      (PawlFieldForm *self);
/* @problem: (nullable) */
void        pawl_field_form_say        (PawlFieldForm *self, const char *problem);

G_END_DECLS
