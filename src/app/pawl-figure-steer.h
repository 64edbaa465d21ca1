/*
 * Steering the camera over a figure: the wheel and a pinch bring it closer about where they are, a drag, two fingers and Shift with an arrow key
 * move it. Knows the controllers and what their numbers mean; what happens to the camera is the caller's.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct {
  /* By @factor (over 1: closer), so that what is at (@x, @y) of the widget stays there. */
  void (*zoom) (GtkWidget *widget, double factor, double x, double y);
  /* The figure goes along by that many pixels. */
  void (*pan)  (GtkWidget *widget, double dx, double dy);
} PawlFigureSteering;

/* Adds the controllers to @widget, which owns them. @steering: static. */
void   pawl_figure_steer_install       (GtkWidget *widget, const PawlFigureSteering *steering);
/* The figure stands where it is, however fast fingers have let go of it. */
void   pawl_figure_steer_stop          (GtkWidget *widget);
/* How much closer a turn of the wheel by @dy brings, down being positive: 1.2 for a notch; smooth wheels turn by parts of it. */
double pawl_figure_steer_wheel_factor  (double dy);
/* Two fingers: @scale and centre as they are now, against what they were when this was called last with the same @pinch. */
typedef struct {
  double scale, x, y;
} PawlPinch;
void   pawl_figure_steer_pinch         (GtkWidget *widget, const PawlFigureSteering *steering, PawlPinch *pinch, double scale, double x, double y);
/* A figure that was let go of at @speed (pixels a second) by fingers on a touchpad: how far it goes in the next @seconds, and its speed then. In
 * all it goes a quarter of the pixels that it made in a second. */
double pawl_figure_steer_coast         (double *speed, double seconds);
/* Shift with an arrow key: FALSE when @keyval is none. */
gboolean pawl_figure_steer_key         (GtkWidget *widget, const PawlFigureSteering *steering, guint keyval, GdkModifierType state);

G_END_DECLS
