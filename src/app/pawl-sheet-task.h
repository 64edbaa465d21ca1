/* Laying out a blank bench sheet, away from the main loop, with a figure of its own. */
#pragma once

#include <gtk/gtk.h>
#include "drawing/pawl-trial.h"
#include "report/pawl-sheaf.h"
#include "report/pawl-sheet.h"

G_BEGIN_DECLS

/* What a sheet is made of. Copied or referenced by the calls below. */
typedef struct {
  PawlProcedure   *procedure;
  GBytes          *figure; /* (nullable) */
  const PawlPhase *phase;  /* (nullable): of @procedure; this one alone */
  const PawlShop  *shop;
  PawlTrial       *trial;
  GDateTime       *issued;
} PawlSheetWish;

/* @page: the widget that wants it. A figure that can't be drawn is left out. */
void       pawl_sheet_save_async   (GtkWidget *page, const PawlSheetWish *wish, const char *path, GAsyncReadyCallback callback, gpointer data);
guint      pawl_sheet_save_finish  (GAsyncResult *result, GError **error); /* how many pages; 0: @error */
void       pawl_sheet_sheaf_async  (GtkWidget *page, const PawlSheetWish *wish, GAsyncReadyCallback callback, gpointer data);
PawlSheaf *pawl_sheet_sheaf_finish (GAsyncResult *result, GError **error); /* (transfer full) */

G_END_DECLS
