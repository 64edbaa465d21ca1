/* At the bench: the figure and the step, beside each other on a wide window, above each other on a tall one. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-build-up-bar.h"
#include "app/pawl-figure-view.h"
#include "app/pawl-step-panel.h"
#include "drawing/pawl-trial.h"

G_BEGIN_DECLS

#define PAWL_TYPE_BENCH_PAGE (pawl_bench_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlBenchPage, pawl_bench_page, PAWL, BENCH_PAGE, GtkWidget)

/* @session: (nullable): no job; @trial: borrowed, outlives the page. The figure is tried and opened off the main loop; meanwhile, and when it is
 * refused, a sentence stands in its place and the job goes on without it. */
void            pawl_bench_page_set_session (PawlBenchPage *self, PawlSession *session, PawlTrial *trial);
void            pawl_bench_page_apply       (PawlBenchPage *self);
PawlStepPanel  *pawl_bench_page_get_panel   (PawlBenchPage *self);
PawlFigureView *pawl_bench_page_get_figure  (PawlBenchPage *self);
PawlBuildUpBar *pawl_bench_page_get_film    (PawlBenchPage *self);
/* Shows how the unit comes apart, which is advice, in the place of the job; and the job again: also when another step or page is looked at. */
void            pawl_bench_page_take_apart  (PawlBenchPage *self);
void            pawl_bench_page_leave_apart (PawlBenchPage *self);
gboolean        pawl_bench_page_is_apart    (PawlBenchPage *self);
void            pawl_bench_page_set_palette (PawlBenchPage *self, PawlPalette palette);
void            pawl_bench_page_set_bench_size (PawlBenchPage *self, gboolean is_bench_size);

G_END_DECLS
