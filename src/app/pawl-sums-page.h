/*
 * Bench sums: a list of them, and the form of one, made from its table: what was typed, the answer at once, the working, the source. What is typed
 * stays as long as the window does.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-settings.h"
#include "sums/pawl-sum.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SUMS_PAGE (pawl_sums_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlSumsPage, pawl_sums_page, PAWL, SUMS_PAGE, GtkWidget)

/* Whether lengths without a unit are in inches, and the decimal mark. */
void pawl_sums_page_set_settings (PawlSumsPage *self, const PawlSettings *settings);
/* @id: (nullable): of a sum; NULL: the list */
void pawl_sums_page_show         (PawlSumsPage *self, const char *id);
/* Puts the focus where typing or arrows do something. */
void pawl_sums_page_go           (PawlSumsPage *self);

G_END_DECLS
