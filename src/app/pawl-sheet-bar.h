/* A line of controls: the blank bench sheet of a procedure or one of its phases, printed or saved as PDF. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-sheet-task.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SHEET_BAR (pawl_sheet_bar_get_type ())
G_DECLARE_FINAL_TYPE (PawlSheetBar, pawl_sheet_bar, PAWL, SHEET_BAR, GtkWidget)

/* All borrowed, outlive the bar. @shop: where the shop's settings are, which may be changed for others. @host: for its clock. */
void pawl_sheet_bar_set_shop      (PawlSheetBar *self, const PawlShop * const *shop, const PawlRecordHost *host);
void pawl_sheet_bar_set_trial     (PawlSheetBar *self, PawlTrial *trial);
/* @procedure: (nullable); @figure: (nullable): the bytes of its figure. */
void pawl_sheet_bar_set_procedure (PawlSheetBar *self, PawlProcedure *procedure, GBytes *figure);

G_END_DECLS
