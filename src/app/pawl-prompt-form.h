/*
 * A small form in the page, never a dialog: a heading, one to three lines of text, "Never mind" and a button that says what it does.
 * What is typed stays until it was taken.
 *
 * Signal "answered": the user pressed the button; the owner takes the lines and calls pawl_prompt_form_close(), or pawl_prompt_form_say().
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define PAWL_PROMPT_N_LINES 3

typedef enum {
  PAWL_PROMPT_NOTE,    /* text */
  PAWL_PROMPT_DEVIATE, /* what was done instead, reason, accepted by */
  PAWL_PROMPT_SKIP,    /* reason, accepted by */
  PAWL_PROMPT_REDO,    /* reason */
  PAWL_PROMPT_RELEASE, /* name */
  PAWL_PROMPT_SIGN,    /* name, role, statement */
  PAWL_PROMPT_PERSON,  /* name */
  PAWL_PROMPT_CALL,    /* who is called, a word to them */
  PAWL_PROMPT_FOUND,   /* text: how something was before it came off */
} PawlPromptKind;

#define PAWL_TYPE_PROMPT_FORM (pawl_prompt_form_get_type ())
G_DECLARE_FINAL_TYPE (PawlPromptForm, pawl_prompt_form, PAWL, PROMPT_FORM, GtkWidget)

void           pawl_prompt_form_open     (PawlPromptForm *self, PawlPromptKind kind);
void           pawl_prompt_form_close    (PawlPromptForm *self);
PawlPromptKind pawl_prompt_form_get_kind (PawlPromptForm *self);
const char    *pawl_prompt_form_get_line (PawlPromptForm *self, guint line); /* from 0 */
void           pawl_prompt_form_set_line (PawlPromptForm *self, guint line, const char *text);
/* Shows a field for the PIN of @name, empty, under the lines. It is gone when the form is closed, and in no draft. */
void           pawl_prompt_form_ask_pin  (PawlPromptForm *self, const char *name);
const char    *pawl_prompt_form_peek_pin (PawlPromptForm *self); /* (nullable): what was typed, when it was asked for */
void           pawl_prompt_form_say      (PawlPromptForm *self, const char *problem);

G_END_DECLS
