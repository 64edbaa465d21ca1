/* Readings: limits as a bar, as found beside as left, attempts, the verdict in words. Signals "step-wanted" (char *step_id), "history-wanted" (char *reading). */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-own-unit.h"

G_BEGIN_DECLS

#define PAWL_TYPE_READINGS_PAGE (pawl_readings_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlReadingsPage, pawl_readings_page, PAWL, READINGS_PAGE, GtkWidget)

/* @job: (nullable) empties the page. */
void pawl_readings_page_apply (PawlReadingsPage *self, PawlJob *job, PawlLengths lengths);

G_END_DECLS
