/* Folding a class away from the main loop: the worker opens the record for itself, to read. */
#pragma once

#include <gtk/gtk.h>
#include "report/pawl-class-table.h"

G_BEGIN_DECLS

/* @page: the widget that wants it. */
void       pawl_class_load_async  (GtkWidget *page, PawlRecord *record, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
PawlClass *pawl_class_load_finish (GAsyncResult *result, GError **error); /* (transfer full) */

G_END_DECLS
