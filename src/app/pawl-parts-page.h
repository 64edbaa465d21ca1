/* Parts: item, name, place, disposition. Signal "step-wanted" (char *step_id). */
#pragma once

#include <gtk/gtk.h>
#include "job/pawl-job.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PARTS_PAGE (pawl_parts_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlPartsPage, pawl_parts_page, PAWL, PARTS_PAGE, GtkWidget)

/* @job: (nullable) empties the page. */
void pawl_parts_page_apply (PawlPartsPage *self, PawlJob *job);

G_END_DECLS
