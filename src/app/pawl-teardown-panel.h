/*
 * How the unit comes apart, beside the figure: the mirror of its assembly, a line for each step, with the tray place of each part, what is to be written
 * down before it, and what is spoilt. It says that nobody has tried this order, and, where the procedure has steps of its own for it, to go by those.
 * What is written down here is a note on the step that fits the parts again, so that it is there on the way in.
 *
 * Signals
 *   walked (uint step)      show the unit with so many steps of the mirror undone
 *   stepped (int n_steps)   one on (1) or back (-1)
 *   left                    back to the job
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "view/pawl-build-up.h"

G_BEGIN_DECLS

#define PAWL_TYPE_TEARDOWN_PANEL (pawl_teardown_panel_get_type ())
G_DECLARE_FINAL_TYPE (PawlTeardownPanel, pawl_teardown_panel, PAWL, TEARDOWN_PANEL, GtkWidget)

/* @session: (nullable): empties it. @film: (nullable): mirrored, borrowed; it outlives the panel's use of it. */
void  pawl_teardown_panel_set_film (PawlTeardownPanel *self, PawlSession *session, PawlBuildUp *film);
/* When something was written down, or taken back. */
void  pawl_teardown_panel_apply    (PawlTeardownPanel *self);
/* Marks the line of the step that is under way. */
void  pawl_teardown_panel_show_at  (PawlTeardownPanel *self, double position);
/* (transfer full): "3 of 14: 12 Cover screw × 4 → tray 1, place 3"; at the end that all is off */
char *pawl_teardown_panel_describe (PawlTeardownPanel *self, double position);
/* Gives the keyboard to the big button. */
void  pawl_teardown_panel_go       (PawlTeardownPanel *self);

G_END_DECLS
