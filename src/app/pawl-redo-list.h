/* What opens again, before it does: a heading, a line for each finished step with why, and what stays done. No question: it can be undone. */
#pragma once

#include <gtk/gtk.h>
#include "job/pawl-redo.h"

G_BEGIN_DECLS

#define PAWL_TYPE_REDO_LIST (pawl_redo_list_get_type ())
G_DECLARE_FINAL_TYPE (PawlRedoList, pawl_redo_list, PAWL, REDO_LIST, GtkWidget)

/* @plan: (nullable): nothing to show. */
void  pawl_redo_list_apply        (PawlRedoList *self, const PawlRedoPlan *plan, const char *heading);
/* (transfer full): "↺ 17  Seat the cover (covers step 14; 9 → 14 → 17)" */
char *pawl_redo_list_describe     (const PawlRedoLine *line);

G_END_DECLS
