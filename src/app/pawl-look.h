/* Look: style sheet, light and dark, glare, normal and bench size. */
#pragma once

#include <gtk/gtk.h>
#include "drawing/pawl-palette.h"

G_BEGIN_DECLS

/* Height of capitals that can be read at 1 m with dirty spectacles, at 1.5 m in proportion, and of a target for a gloved finger. */
#define PAWL_CAP_HEIGHT_MM 6.4
#define PAWL_ECHO_CAP_HEIGHT_MM (1.5 * PAWL_CAP_HEIGHT_MM)
#define PAWL_FAR_CAP_HEIGHT_MM (2 * PAWL_CAP_HEIGHT_MM) /* at 2 m, by the foot switch */
#define PAWL_TARGET_MM 20.0

/* (transfer full): the style rules that are in millimetres, on a monitor of @pixels_per_mm: bench size, and the echo of a reading in any size. Pure. */
char    *pawl_look_make_bench_css     (double pixels_per_mm);
/* Of the size that a monitor reports; 96 dpi when it reports nothing or nonsense. Pure. */
double   pawl_look_measure_monitor    (int pixels, int millimetres);

void     pawl_look_install            (GdkDisplay *display);
/* Measures the monitor that @window is on: again when it is on another. Before it is on any, 96 dpi. */
void     pawl_look_measure            (GtkWindow *window);
/* Sets the style of @window and of what is in it. */
void     pawl_look_set_bench_size     (GtkWindow *window, gboolean is_bench_size);
/* Black on white with thick lines, whatever the desktop's theme is; or that theme again. */
void     pawl_look_set_glare          (GtkWindow *window, gboolean is_glare);
void     pawl_look_set_dark           (GdkDisplay *display, gboolean is_dark);
/* What the desktop prefers, before pawl_look_set_dark() is called. */
gboolean pawl_look_prefers_dark       (GdkDisplay *display);
/* Decided from the theme's own text colour, so that it is right in any theme. */
gboolean pawl_look_is_dark            (GtkWidget *widget);
/* The colours that a drawing in @widget has. */
PawlPalette pawl_look_get_palette     (GtkWidget *widget);
double   pawl_look_get_pixels_per_mm  (GtkWidget *widget);
/* Height of ordinary text in @widget, pixels. */
double   pawl_look_get_text_pixels    (GtkWidget *widget);

G_END_DECLS
