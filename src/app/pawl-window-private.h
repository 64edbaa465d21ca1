/*
 * The window's parts and commands. One command each: button, menu and key share it.
 *   pawl-window.c  bars, pages, who is there, the record    -job.c   the job that is open     -keys.c  keys before they do anything
 *   -actions.c     commands as actions                      -files.c procedures and photos    -look.c  size, light, units
 *   -bundles.c     a job or the record as one file
 */
#pragma once

#include "app/pawl-bench-page.h"
#include "app/pawl-gauge-typing.h"
#include "app/pawl-job-pages.h"
#include "app/pawl-pedal.h"
#include "app/pawl-report-page.h"
#include "app/pawl-wait-watch.h"
#include "app/pawl-window.h"

G_BEGIN_DECLS

struct _PawlWindow {
  GtkApplicationWindow parent_instance;

  /* template children */
  GtkWidget *views, *titles, *start_tabs, *start_switcher, *job_tabs, *job_switcher, *start_pages, *jobs, *procedures, *sums, *instruments, *class_page, *holds, *people, *buy;
  GtkWidget *all_jobs, *back_to_job, *undo, *person, *person_form;
  GtkWidget *record_bar, *record_label, *save_bar, *save_label, *notice_bar, *notice_label, *taken_bar, *taken_label, *share_line;

  /* the window's children, too */
  PawlJobPages *job_pages; /* (nullable) until the first job is opened: a start should not wait for what it doesn't show */

  /* owned */
  PawlRecord  *record;  /* (nullable) when it can't be opened */
  PawlSession *session; /* (nullable) */
  PawlWaitWatch *watch;    /* (nullable) after the window was closed */
  PawlGaugeTyping *typing; /* (nullable) until the first job is opened */
  PawlPedal pedal;
  GtkFileChooserNative *chooser; /* (nullable) while one is open */
  GCancellable *cancellable;     /* of photos that are being read */

  PawlWindowSetting setting; /* its members borrowed */
  guint clock_id, inhibit_cookie, tick_id;
};

void            pawl_window_install_actions (PawlWindow *self); /* pawl-window-actions.c */
void            pawl_window_update_actions  (PawlWindow *self);
void            pawl_window_set_accels      (GtkApplication *application);

void            pawl_window_advance         (PawlWindow *self);
void            pawl_window_look_back       (PawlWindow *self);
void            pawl_window_undo            (PawlWindow *self);
void            pawl_window_retry_save      (PawlWindow *self);
void            pawl_window_retry_record    (PawlWindow *self);
void            pawl_window_say             (PawlWindow *self, const char *notice); /* NULL: closes the bar */
void            pawl_window_show_start      (PawlWindow *self, const char *page);   /* "jobs", "procedures", "sums", "instruments", "class", "holds", "people", "buy" */
void            pawl_window_find_job        (PawlWindow *self);
void            pawl_window_show_page       (PawlWindow *self, const char *page);   /* "bench", "run", "readings", "history", "parts", "report", "intake" */
void            pawl_window_choose_file     (PawlWindow *self);
void            pawl_window_choose_photo    (PawlWindow *self);
void            pawl_window_take_newest_photo (PawlWindow *self); /* pawl-window-photo.c */
void            pawl_window_go_without_photo (PawlWindow *self);
void            pawl_window_save_job        (PawlWindow *self); /* as a bundle */
void            pawl_window_save_record     (PawlWindow *self);
void            pawl_window_choose_bundle   (PawlWindow *self);
void            pawl_window_take_bundle     (PawlWindow *self, const char *path);
void            pawl_window_attach_photo    (PawlWindow *self, GFile *file);
void            pawl_window_set_bench_size  (PawlWindow *self, gboolean is_bench_size);
void            pawl_window_set_dark        (PawlWindow *self, gboolean is_dark);
void            pawl_window_set_glare       (PawlWindow *self, gboolean is_glare);
void            pawl_window_set_sound       (PawlWindow *self, gboolean has_sound);
void            pawl_window_set_inch        (PawlWindow *self, gboolean is_inch);

/* FALSE: the run is not what is shown. */
gboolean        pawl_window_zoom_run_by     (PawlWindow *self, double factor);
void            pawl_window_unsay           (PawlWindow *self, const char *notice); /* closes the bar when that is still what it says */
PawlWaitWatch  *pawl_window_get_watch       (PawlWindow *self);
PawlSettings   *pawl_window_get_settings    (PawlWindow *self);
PawlBenchPage  *pawl_window_get_bench_page  (PawlWindow *self);
PawlReportPage *pawl_window_get_report_page (PawlWindow *self);
/* A key before it does anything; @at_usec: when it was pressed. Returns whether it is used up. */
gboolean        pawl_window_press           (PawlWindow *self, guint keyval, GdkModifierType state, gint64 at_usec);
/* The bench page comes forward, at the reading that is waited for when there is one. */
void            pawl_window_bring_reading   (PawlWindow *self);
void            pawl_window_release         (PawlWindow *self, guint keyval, gint64 at_usec);
gboolean        pawl_window_is_at_bench     (PawlWindow *self);

/* Between the window's own files. */
void            pawl_window_install_keys    (PawlWindow *self);
void            pawl_window_install_drop    (PawlWindow *self);
void            pawl_window_show_bar        (GtkWidget *bar, GtkWidget *label, const char *text); /* NULL: none */
void            pawl_window_show_view       (PawlWindow *self, const char *view);                 /* "start", "job" */
void            pawl_window_apply_person    (PawlWindow *self);
/* Size and colours of what no style sheet reaches. */
void            pawl_window_apply_bench_size (PawlWindow *self);
void            pawl_window_apply_palette   (PawlWindow *self);
void            pawl_window_install_look    (PawlWindow *self);
void            pawl_window_apply_lengths   (PawlWindow *self, PawlSession *session);
void            pawl_window_set_session     (PawlWindow *self, PawlSession *session); /* (nullable) */
void            pawl_window_take_up         (PawlWindow *self, PawlBench *bench);
/* Opens @job at @step, wherever one is: somebody clicked on what the desktop was told. */
void            pawl_window_go_to           (PawlWindow *self, const char *job, const char *step);
/* Entries of other benches are in the record now. */
void            pawl_window_take_note_of_others (PawlWindow *self);
void            pawl_window_let_sleep       (PawlWindow *self);
PawlStepPanel  *pawl_window_get_panel       (PawlWindow *self);

G_END_DECLS
