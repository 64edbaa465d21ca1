/*
 * What a job's unit was taken in with, as it stands now: to be looked at, and put right where it was mistyped, with the reason. What was corrected before stands
 * below it. Signal "back": to where the user came from.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_INTAKE_PAGE (pawl_intake_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlIntakePage, pawl_intake_page, PAWL, INTAKE_PAGE, GtkWidget)

/* @session: (nullable) */
void pawl_intake_page_set_session (PawlIntakePage *self, PawlSession *session);
void pawl_intake_page_apply       (PawlIntakePage *self);
/* The keyboard goes to the serial number. */
void pawl_intake_page_go          (PawlIntakePage *self);

G_END_DECLS
