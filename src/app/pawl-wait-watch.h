/*
 * The watch over all waits of the bench: tells the desktop when one may come out, and before it has to; takes that back when it is true no longer; notices when the
 * clock was put forward or back, and notes that in each job whose wait ran meanwhile. Between two such moments nothing runs.
 *
 * Signals "job-wanted" (char *job_id, char *step_id): somebody clicked on what was told. "said" (char *text): something that the user has to know; "unsaid" (char *text):
 * it is true no longer.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-steady.h"
#include "bench/pawl-bench.h"

G_BEGIN_DECLS

#define PAWL_TYPE_WAIT_WATCH (pawl_wait_watch_get_type ())
G_DECLARE_FINAL_TYPE (PawlWaitWatch, pawl_wait_watch, PAWL, WAIT_WATCH, GObject)

/* @window: of @application; both borrowed, and outlive the watch. @steady: (nullable): the system's. @path: (nullable): of what outlives the program. */
PawlWaitWatch *pawl_wait_watch_new        (GtkWidget *window, GApplication *application, const PawlSteady *steady, const char *path);
/* Reads what waits, in a thread. @record: (nullable). @language: (nullable), of procedures. */
void           pawl_wait_watch_set_record (PawlWaitWatch *self, PawlRecord *record, const char *language);
/* The job in hand, (nullable): followed as it changes; put aside, all are read anew. */
void           pawl_wait_watch_set_bench  (PawlWaitWatch *self, PawlBench *bench);
/* Looks at the clock now: what its alarm does by itself. */
void           pawl_wait_watch_check      (PawlWaitWatch *self);
/* Whether what waits has been read. */
gboolean       pawl_wait_watch_is_ready   (PawlWaitWatch *self);

G_END_DECLS
