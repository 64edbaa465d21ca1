/*
 * Laying out the report, away from the main loop. The worker gets what it needs by value or as things that never change (the folded job, kept
 * bytes), opens its own figure, and hands back finished pictures, so that no drawing library object is shared between threads.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "app/pawl-settings.h"
#include "drawing/pawl-trial.h"
#include "report/pawl-sheaf.h"

G_BEGIN_DECLS

typedef struct {
  GPtrArray *pages;   /* (element-type GdkTexture) */
  double     width, height; /* of a page, points */
  char      *problem; /* (nullable): what was left out, and why */
} PawlReportPages;

void             pawl_report_pages_free     (PawlReportPages *self);

/* Pages as pictures of @pixels_per_point. @page: the widget that wants them; the program does not end before they are done. */
void             pawl_report_preview_async  (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial,
                                             double pixels_per_point, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
PawlReportPages *pawl_report_preview_finish (GAsyncResult *result, GError **error);
/* Writes the PDF. */
void             pawl_report_save_async     (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial,
                                             const char *path, GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
/* How many pages there are; 0: @error. */
guint            pawl_report_save_finish    (GAsyncResult *result, GError **error);
/* The same pages, for a printer. */
void             pawl_report_sheaf_async    (GtkWidget *page, PawlSession *session, const PawlSettings *settings, PawlTrial *trial,
                                             GCancellable *cancellable, GAsyncReadyCallback callback, gpointer data);
PawlSheaf       *pawl_report_sheaf_finish   (GAsyncResult *result, GError **error); /* (transfer full) */

G_END_DECLS
