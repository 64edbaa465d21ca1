/* The parts of a figure as accessible items: children of the figure's widget, one for each part, where the part is. */
#pragma once

#include <gtk/gtk.h>
#include "view/pawl-job-view.h"

G_BEGIN_DECLS

typedef struct _PawlPartItems PawlPartItems;

PawlPartItems *pawl_part_items_new      (GtkWidget *parent); /* borrowed, outlives it */
void           pawl_part_items_free     (PawlPartItems *self);
void           pawl_part_items_clear    (PawlPartItems *self);
/* Makes an item for each of @views (element-type PawlPartView) that has none yet, and says of all how they stand. */
void           pawl_part_items_update   (PawlPartItems *self, GPtrArray *views);
/* Puts the item where the part is in a drawing of that size. */
void           pawl_part_items_allocate (PawlPartItems *self, const PawlPartView *view, PawlScene *scene, int width, int height);
/* (transfer full): "17 Float: in this step, off". */
char          *pawl_part_items_describe (const PawlPartView *view);

G_END_DECLS
