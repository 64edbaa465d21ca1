/* The window's commands, for its actions. One each: button, menu and key share it. */
#pragma once

#include "app/pawl-bench-page.h"
#include "app/pawl-report-page.h"
#include "app/pawl-wait-watch.h"
#include "app/pawl-window.h"

G_BEGIN_DECLS

void            pawl_window_install_actions (PawlWindow *self); /* pawl-window-actions.c */
void            pawl_window_update_actions  (PawlWindow *self);
void            pawl_window_set_accels      (GtkApplication *application);

void            pawl_window_advance         (PawlWindow *self);
void            pawl_window_look_back       (PawlWindow *self);
void            pawl_window_undo            (PawlWindow *self);
void            pawl_window_retry_save      (PawlWindow *self);
void            pawl_window_retry_record    (PawlWindow *self);
void            pawl_window_say             (PawlWindow *self, const char *notice); /* NULL: closes the bar */
void            pawl_window_show_start      (PawlWindow *self, const char *page);   /* "jobs", "procedures", "sums", "instruments" */
void            pawl_window_find_job        (PawlWindow *self);
void            pawl_window_show_page       (PawlWindow *self, const char *page);   /* "bench", "run", "readings", "history", "parts", "report" */
void            pawl_window_choose_file     (PawlWindow *self);
void            pawl_window_choose_photo    (PawlWindow *self);
void            pawl_window_attach_photo    (PawlWindow *self, GFile *file);
void            pawl_window_set_bench_size  (PawlWindow *self, gboolean is_bench_size);
void            pawl_window_set_dark        (PawlWindow *self, gboolean is_dark);
void            pawl_window_set_inch        (PawlWindow *self, gboolean is_inch);

/* FALSE: the run is not what is shown. */
gboolean        pawl_window_zoom_run_by     (PawlWindow *self, double factor);
PawlWaitWatch  *pawl_window_get_watch       (PawlWindow *self);
PawlSettings   *pawl_window_get_settings    (PawlWindow *self);
PawlBenchPage  *pawl_window_get_bench_page  (PawlWindow *self);
PawlReportPage *pawl_window_get_report_page (PawlWindow *self);
/* A key before it does anything; @at_usec: when it was pressed. Returns whether it is used up. */
gboolean        pawl_window_press           (PawlWindow *self, guint keyval, GdkModifierType state, gint64 at_usec);
gboolean        pawl_window_is_at_bench     (PawlWindow *self);

G_END_DECLS
