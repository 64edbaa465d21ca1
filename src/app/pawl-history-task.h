/* Loading histories away from the main loop: the worker opens the record for itself, to read. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

/* @page: the widget that wants them. @readings: (array zero-terminated=1): of the session's job, READING or READING.SPOT; @serial: (nullable) */
void       pawl_history_load_async  (GtkWidget *page, PawlSession *session, const char * const *readings, const char *serial, GCancellable *cancellable,
                                     GAsyncReadyCallback callback, gpointer data);
/* (transfer full) (element-type PawlHistory): one for each reading, in their order */
GPtrArray *pawl_history_load_finish (GAsyncResult *result, GError **error);

G_END_DECLS
