/* What waits on the whole bench, read in a thread: each job that is not signed has to be folded for it. */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

/* @page: a widget in a window of the application. */
void       pawl_wait_list_async  (GtkWidget *page, PawlRecord *record, const char *language, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
/* (transfer full) (element-type PawlWaiting) */
GPtrArray *pawl_wait_list_finish (GAsyncResult *result, GError **error);

G_END_DECLS
