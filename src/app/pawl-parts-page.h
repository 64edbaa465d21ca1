/*
 * Parts: what there is to buy or to wait for; each part by the tray that it lies in, where it is, what was decided about it, what it may be taken
 * for; the kit against need; supplies. What is not there is written down here. Signal "step-wanted" (char *step_id).
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PARTS_PAGE (pawl_parts_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlPartsPage, pawl_parts_page, PAWL, PARTS_PAGE, GtkWidget)

/* @session: (nullable): empties the page. */
void pawl_parts_page_set_session (PawlPartsPage *self, PawlSession *session);
void pawl_parts_page_apply       (PawlPartsPage *self);

G_END_DECLS
