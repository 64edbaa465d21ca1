#include "app/pawl-figure-steer.h"

#include <math.h>

#define NOTCH 1.2
/* Shift with an arrow moves the figure by this part of what is seen. */
#define KEY_SHARE 0.1

typedef struct {
  GtkWidget                *widget; /* owns this */
  const PawlFigureSteering *steering;
  GtkGesture               *pinch_gesture;
  PawlPinch                 pinch;
  double                    pointer_x, pointer_y;
  double                    drag_x, drag_y;
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

  if (gtk_event_controller_scroll_get_unit (controller) == GDK_SCROLL_UNIT_SURFACE && (state & GDK_CONTROL_MASK) == 0)
    self->steering->pan (self->widget, -dx, -dy);
  else if (dy != 0)
    self->steering->zoom (self->widget, pawl_figure_steer_wheel_factor (dy), self->pointer_x, self->pointer_y);
  return TRUE;
}

static void
drag_begin_cb (GtkGestureDrag *gesture, double x, double y, Steer *self)
{
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
  if (!gtk_gesture_is_active (self->pinch_gesture))
    self->steering->pan (self->widget, start_x + offset_x - self->drag_x, start_y + offset_y - self->drag_y);
  self->drag_x = start_x + offset_x;
  self->drag_y = start_y + offset_y;
}

static void
pinch_begin_cb (GtkGesture *gesture, GdkEventSequence *sequence, Steer *self)
{
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
  scroll = add (self, gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES));
  motion = add (self, gtk_event_controller_motion_new ());
  keys = add (self, gtk_event_controller_key_new ());
  self->pinch_gesture = add (self, gtk_gesture_zoom_new ());
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), self);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), self);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect (self->pinch_gesture, "begin", G_CALLBACK (pinch_begin_cb), self);
  g_signal_connect (self->pinch_gesture, "update", G_CALLBACK (pinch_update_cb), self);
}
