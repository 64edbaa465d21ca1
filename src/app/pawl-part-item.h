/* A part of the figure as an accessible item: nothing to see, a place, a name and a description. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define PAWL_TYPE_PART_ITEM (pawl_part_item_get_type ())
G_DECLARE_FINAL_TYPE (PawlPartItem, pawl_part_item, PAWL, PART_ITEM, GtkWidget)

GtkWidget  *pawl_part_item_new      (const char *part_id, const char *name);
const char *pawl_part_item_get_part (PawlPartItem *self);
void        pawl_part_item_describe (PawlPartItem *self, const char *description);

G_END_DECLS
