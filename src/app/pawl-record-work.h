/* Something that is folded out of a whole record, away from the main loop: the worker opens the record for itself, to read. */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

/* In the thread. (transfer full) (nullable): the result, or @error is set */
typedef gpointer (*PawlRecordFold) (PawlRecord *record, GError **error);

/* @page: the widget that wants it, and the source of the result; @fold's result is what pawl_record_work_finish() gives, or @free_result frees. */
void     pawl_record_work_start  (GtkWidget *page, PawlRecord *record, PawlRecordFold fold, GDestroyNotify free_result, GCancellable *cancellable,
                                  GAsyncReadyCallback callback, gpointer data);
gpointer pawl_record_work_finish (GAsyncResult *result, GError **error);

G_END_DECLS
