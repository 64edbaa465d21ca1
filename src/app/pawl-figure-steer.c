#include "app/pawl-figure-steer.h"

#include <math.h>

#define NOTCH 1.2
/* Shift with an arrow moves the figure by this part of what is seen. */
#define KEY_SHARE 0.1
/* A figure that was let go of loses this share of its speed in a second (as a rate), and stands when it is as slow as that, in pixels a second. */
#define COAST_RATE 4.0
#define COAST_LEAST 20.0

typedef struct {
  GtkWidget                *widget; /* owns this */
  const PawlFigureSteering *steering;
  GtkGesture               *pinch_gesture;
  PawlPinch                 pinch;
  double                    pointer_x, pointer_y;
  double                    drag_x, drag_y;
  gboolean                  is_panning; /* fingers on a touchpad moved the figure last */
  double                    speed_x, speed_y; /* after they let go of it */
  gint64                    coast_time;
  guint                     coast_id;
} Steer;

double
pawl_figure_steer_wheel_factor (double dy)
{
  return pow (NOTCH, -dy);
}

void
pawl_figure_steer_pinch (GtkWidget *widget, const PawlFigureSteering *steering, PawlPinch *pinch, double scale, double x, double y)
{
  double factor = pinch->scale > 0 && scale > 0 ? scale / pinch->scale : 1;

  if (x != pinch->x || y != pinch->y)
    steering->pan (widget, x - pinch->x, y - pinch->y);
  if (factor != 1)
    steering->zoom (widget, factor, x, y);
  *pinch = (PawlPinch) { scale > 0 ? scale : pinch->scale, x, y };
}

double
pawl_figure_steer_coast (double *speed, double seconds)
{
  double before = *speed;

  *speed *= exp (-COAST_RATE * seconds);
  return (before - *speed) / COAST_RATE;
}

gboolean
pawl_figure_steer_key (GtkWidget *widget, const PawlFigureSteering *steering, guint keyval, GdkModifierType state)
{
  static const struct { guint keyval; int dx, dy; } arrows[] = { { GDK_KEY_Left, 1, 0 }, { GDK_KEY_Right, -1, 0 }, { GDK_KEY_Up, 0, 1 }, { GDK_KEY_Down, 0, -1 } };

  if ((state & gtk_accelerator_get_default_mod_mask ()) != GDK_SHIFT_MASK)
    return FALSE;
  for (guint i = 0; i < G_N_ELEMENTS (arrows); i++)
    if (arrows[i].keyval == keyval)
      {
        steering->pan (widget, arrows[i].dx * KEY_SHARE * gtk_widget_get_width (widget), arrows[i].dy * KEY_SHARE * gtk_widget_get_height (widget));
        return TRUE;
      }
  return FALSE;
}

/* ---- coasting ---- */

static void
stop_coasting (Steer *self)
{
  if (self->coast_id != 0)
    gtk_widget_remove_tick_callback (self->widget, self->coast_id);
  self->coast_id = 0;
}

void
pawl_figure_steer_stop (GtkWidget *widget)
{
  stop_coasting (g_object_get_data (G_OBJECT (widget), "pawl-steer"));
}

static gboolean
coast_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Steer *self = data;
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double seconds = (double) (now - self->coast_time) / G_USEC_PER_SEC;

  self->coast_time = now;
  if (hypot (self->speed_x, self->speed_y) < COAST_LEAST)
    {
      self->coast_id = 0;
      return G_SOURCE_REMOVE;
    }
  self->steering->pan (widget, pawl_figure_steer_coast (&self->speed_x, seconds), pawl_figure_steer_coast (&self->speed_y, seconds));
  return G_SOURCE_CONTINUE;
}

static gboolean
wants_animation (GtkWidget *widget)
{
  gboolean is_wanted = FALSE;

  g_object_get (gtk_widget_get_settings (widget), "gtk-enable-animations", &is_wanted, NULL);
  return is_wanted && gtk_widget_get_mapped (widget);
}

/* In pixels a second, whatever GTK's reference says of milliseconds. */
static void
decelerate_cb (GtkEventControllerScroll *controller, double dx, double dy, Steer *self)
{
  if (!self->is_panning || !wants_animation (self->widget))
    return;
  stop_coasting (self);
  self->speed_x = -dx;
  self->speed_y = -dy;
  self->coast_time = gdk_frame_clock_get_frame_time (gtk_widget_get_frame_clock (self->widget));
  self->coast_id = gtk_widget_add_tick_callback (self->widget, coast_cb, self, NULL);
}

/* ---- what the controllers say ---- */

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, Steer *self)
{
  self->pointer_x = x;
  self->pointer_y = y;
}

/* The fingers on a touchpad move the figure; a wheel, or Ctrl with either, brings it closer. */
static gboolean
scroll_cb (GtkEventControllerScroll *controller, double dx, double dy, Steer *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (controller));

  stop_coasting (self);
  self->is_panning = gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_SURFACE && (state & GDK_CONTROL_MASK) == 0;
  if (self->is_panning)
    self->steering->pan (self->widget, -dx, -dy);
  else if (dy != 0)
    self->steering->zoom (self->widget, pawl_figure_steer_wheel_factor (dy), self->pointer_x, self->pointer_y);
  return TRUE;
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, Steer *self)
{
  stop_coasting (self);
  self->drag_x = x;
  self->drag_y = y;
}

/* While two fingers pinch, the first of them drags nothing of its own. */
static void
drag_update_cb (GtkGestureDrag *gesture, double offset_x, double offset_y, Steer *self)
{
  double start_x, start_y;

  if (!gtk_gesture_drag_get_start_point (gesture, &start_x, &start_y))
    return;
  if (!gtk_gesture_is_recognized (self->pinch_gesture))
    self->steering->pan (self->widget, start_x + offset_x - self->drag_x, start_y + offset_y - self->drag_y);
  self->drag_x = start_x + offset_x;
  self->drag_y = start_y + offset_y;
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, Steer *self)
{
  stop_coasting (self);
  self->pinch = (PawlPinch) { .scale = 1 };
  if (!gtk_gesture_get_bounding_box_center (gesture, &self->pinch.x, &self->pinch.y))
    self->pinch = (PawlPinch) { 1, self->pointer_x, self->pointer_y };
  gtk_gesture_set_state (gesture, GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
pinch_update_cb (GtkGesture *gesture, GdkEventSequence *sequence, Steer *self)
{
  double x, y;

  if (!gtk_gesture_get_bounding_box_center (gesture, &x, &y))
    return;
  pawl_figure_steer_pinch (self->widget, self->steering, &self->pinch, gtk_gesture_zoom_get_scale_delta (GTK_GESTURE_ZOOM (gesture)), x, y);
}

static gboolean
key_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, Steer *self)
{
  stop_coasting (self);
  return pawl_figure_steer_key (self->widget, self->steering, keyval, state);
}

static gpointer
add (Steer *self, gpointer controller)
{
  gtk_widget_add_controller (self->widget, controller);
  return controller;
}

void
pawl_figure_steer_install (GtkWidget *widget, const PawlFigureSteering *steering)
{
  Steer *self = g_new0 (Steer, 1);
  gpointer drag, scroll, motion, keys;

  g_return_if_fail (GTK_IS_WIDGET (widget) && steering != NULL);
  self->widget = widget;
  self->steering = steering;
  g_object_set_data_full (G_OBJECT (widget), "pawl-steer", self, g_free);
  drag = add (self, gtk_gesture_drag_new ());
  scroll = add (self, gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES | GTK_EVENT_CONTROLLER_SCROLL_KINETIC));
  motion = add (self, gtk_event_controller_motion_new ());
  keys = add (self, gtk_event_controller_key_new ());
  self->pinch_gesture = add (self, gtk_gesture_zoom_new ());
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (scroll, "decelerate", G_CALLBACK (decelerate_cb), self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect (self->pinch_gesture, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (self->pinch_gesture, "update", G_CALLBACK (pinch_update_cb), self);
}
