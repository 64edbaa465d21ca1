/* The step beside the figure: place, cautions, command, what it covers, its asks, and the one big button. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-prompt-form.h"
#include "app/pawl-session.h"
#include "app/pawl-step-state.h"

G_BEGIN_DECLS

#define PAWL_TYPE_STEP_PANEL (pawl_step_panel_get_type ())
G_DECLARE_FINAL_TYPE (PawlStepPanel, pawl_step_panel, PAWL, STEP_PANEL, GtkWidget)

/* NULL: no job. */
void     pawl_step_panel_set_session  (PawlStepPanel *self, PawlSession *session);
/* Puts the state of the session's step on the widgets. */
void     pawl_step_panel_apply        (PawlStepPanel *self);
/* The line above the big button, until the next answer. NULL: empties it. */
void     pawl_step_panel_say          (PawlStepPanel *self, const char *message);
/* Opens one of the small forms: note, deviation, … */
void     pawl_step_panel_prompt       (PawlStepPanel *self, PawlPromptKind kind);
/* Why there is no photo of what the step hides, as far as it is written; "" when nothing. */
const char *pawl_step_panel_get_photo_reason (PawlStepPanel *self);
/* Typed digits go to the first open reading. FALSE when the step has none. */
gboolean pawl_step_panel_type_reading (PawlStepPanel *self, const char *text);
/* A key while the keyboard is in a row that has keys of its own. FALSE: it is the page's. */
gboolean pawl_step_panel_press        (PawlStepPanel *self, GtkWidget *focus, guint keyval, gint64 at_usec);
/* What a gauge types: see pawl_ask_row_begin_burst() and pawl_ask_row_take_burst(). It goes to the reading that @focus (nullable) is in, else to the
 * first open one. */
void     pawl_step_panel_begin_burst  (PawlStepPanel *self);
gboolean pawl_step_panel_take_burst   (PawlStepPanel *self, GtkWidget *focus, const char *value, const char *mark, const char *doubt);
/* (nullable): the reading that it would go to. @chosen: (out) (transfer full) (nullable): what that is taken with, as it stands */
const PawlAsk *pawl_step_panel_find_reading (PawlStepPanel *self, GtkWidget *focus, char **chosen);
/* Whether @focus is the line of a reading. */
gboolean pawl_step_panel_is_in_reading (PawlStepPanel *self, GtkWidget *focus);
/* Keyboard to the big button, where Space and Enter press it. */
void     pawl_step_panel_rest         (PawlStepPanel *self);
/* Keyboard to the first open ask, else to the big button. */
void     pawl_step_panel_go           (PawlStepPanel *self);
/* Keyboard to this ask of the step on show. */
void     pawl_step_panel_go_to        (PawlStepPanel *self, const PawlAskState *ask);

G_END_DECLS
