/* Bundles away from the main loop: the worker opens the record for itself, because a connection stays on one thread. */
#pragma once

#include <gtk/gtk.h>
#include "bundle/pawl-bundle.h"

G_BEGIN_DECLS

/* Writes a job, or all that the record has. @page: the widget that wants it; @job: (nullable): all. */
void     pawl_bundle_save_async  (GtkWidget *page, PawlRecord *record, const char *job, const char *path, GAsyncReadyCallback callback, gpointer data);
/* The same of all jobs without people's names, for figures alone: see training/pawl-nameless.h. */
void     pawl_bundle_save_nameless_async (GtkWidget *page, PawlRecord *record, const char *path, GAsyncReadyCallback callback, gpointer data);
/* (transfer full) (nullable): of both, what came of it, in plain words */
char    *pawl_bundle_save_finish (GAsyncResult *result, GError **error);
/* Takes one in, whole or not at all. */
void     pawl_bundle_take_async  (GtkWidget *page, PawlRecord *record, const char *path, GAsyncReadyCallback callback, gpointer data);
gboolean pawl_bundle_take_finish (GAsyncResult *result, PawlMergeCount *count, GError **error);

/* (transfer full): what came of it, in plain words. */
char    *pawl_bundle_describe_taken (const PawlMergeCount *count);

G_END_DECLS
