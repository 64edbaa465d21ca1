/*
 * Holds waiting: what waits for somebody to look, over all jobs of the record, for a trainer who walks from bench to bench. Activating one opens the
 * form that releases it, by the PIN of who has one.
 * Signal "changed": something was released.
 */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_HOLDS_PAGE (pawl_holds_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlHoldsPage, pawl_holds_page, PAWL, HOLDS_PAGE, GtkWidget)

/* Folds the jobs anew. @record: (nullable) */
void pawl_holds_page_apply (PawlHoldsPage *self, PawlRecord *record);
void pawl_holds_page_go    (PawlHoldsPage *self); /* keyboard to the first one */

G_END_DECLS
