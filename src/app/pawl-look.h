/* Look: style sheet, light and dark, normal and bench size. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Height of capitals that can be read at 1 m with dirty spectacles, and of a target for a gloved finger. */
#define PAWL_CAP_HEIGHT_MM 6.4
#define PAWL_TARGET_MM 20.0

/* (transfer full): the style rules of bench size on a monitor of @pixels_per_mm. Pure. */
char    *pawl_look_make_bench_css     (double pixels_per_mm);
/* Of the size that a monitor reports; 96 dpi when it reports nothing or nonsense. Pure. */
double   pawl_look_measure_monitor    (int pixels, int millimetres);

void     pawl_look_install            (GdkDisplay *display);
/* Sets the style of @window and of what is in it. */
void     pawl_look_set_bench_size     (GtkWindow *window, gboolean is_bench_size);
void     pawl_look_set_dark           (GdkDisplay *display, gboolean is_dark);
/* What the desktop prefers, before pawl_look_set_dark() is called. */
gboolean pawl_look_prefers_dark       (GdkDisplay *display);
/* Decided from the theme's own text colour, so that it is right in any theme. */
gboolean pawl_look_is_dark            (GtkWidget *widget);
double   pawl_look_get_pixels_per_mm  (GtkWidget *widget);
/* Height of ordinary text in @widget, pixels. */
double   pawl_look_get_text_pixels    (GtkWidget *widget);

G_END_DECLS
