/* What a hand does to the figure: picks a part, by pointer, finger or key; brings it closer and moves it. */
#include "app/pawl-figure-view-private.h"

#include "app/pawl-figure-canvas.h"
#include "app/pawl-figure-order.h"

#define POINTER_RING 6.0
#define FINGER_RING 18.0

/* ---- picking ---- */

static const PawlPartView *
find_view_of_region (PawlFigureView *self, const char *region)
{
  for (guint i = 0; self->views != NULL && i < self->views->len; i++)
    {
      const PawlPartView *view = self->views->pdata[i];

      if (g_strv_contains ((const char * const *) view->part->regions, region))
        return view;
    }
  return NULL;
}

void
pawl_figure_view_pick_part (PawlFigureView *self, const char *part_id)
{
  const PawlPartView *view = part_id != NULL ? pawl_figure_view_find_view (self, part_id) : NULL;
  g_autofree char *words = view != NULL ? pawl_part_items_describe (view) : g_strdup ("");

  g_free (self->picked);
  self->picked = view != NULL ? g_strdup (view->part->id) : NULL;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  if (self->scene != NULL && self->views != NULL)
    {
      pawl_job_view_apply (self->views, self->scene);
      pawl_figure_view_number_picked (self);
      pawl_figure_view_redraw (self);
    }
  g_signal_emit_by_name (self, "part-picked", self->picked != NULL ? self->picked : "");
}

const char *
pawl_figure_view_get_picked (PawlFigureView *self)
{
  return self->picked;
}

/* A part that was picked without pointing at it may lie outside of what is looked at: the camera goes there, and no closer. */
static void
bring_into_sight (PawlFigureView *self, const PawlPartView *view)
{
  double width = pawl_figure_view_get_width (self), height = pawl_figure_view_get_height (self);
  PawlBox box;

  if (self->scene == NULL || !pawl_figure_view_is_measured (self))
    return;
  box = pawl_scene_get_region_box (self->scene, view->part->regions[0], width, height);
  if (box.width <= 0 || (box.x >= 0 && box.y >= 0 && box.x + box.width <= width && box.y + box.height <= height))
    return;
  pawl_figure_canvas_pan (PAWL_FIGURE_CANVAS (self->canvas), width / 2 - box.x - box.width / 2, height / 2 - box.y - box.height / 2);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

/* The next one, or the one before; without a picked one the first or the last. */
static void
pick_aside (PawlFigureView *self, gboolean is_reading, int direction)
{
  int n = self->views != NULL ? (int) self->views->len : 0;
  int at = direction > 0 ? -1 : n;
  const PawlPartView *view;
  g_autofree guint *order = NULL;

  if (n == 0)
    return;
  order = pawl_figure_order_views (self->views, is_reading ? self->scene : NULL, pawl_figure_view_get_width (self), pawl_figure_view_get_height (self));
  for (int i = 0; i < n; i++)
    if (g_strcmp0 (((PawlPartView *) self->views->pdata[order[i]])->part->id, self->picked) == 0)
      at = i;
  view = self->views->pdata[order[(at + direction + n) % n]];
  pawl_figure_view_pick_part (self, view->part->id);
  bring_into_sight (self, view);
}

void
pawl_figure_view_pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, PawlFigureView *self)
{
  GdkEvent *event = gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (gesture));
  GdkDevice *device = event != NULL ? gdk_event_get_device (event) : NULL;
  gboolean is_finger = device != NULL && gdk_device_get_source (device) == GDK_SOURCE_TOUCHSCREEN;
  const char *region;
  const PawlPartView *view;

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (self->scene == NULL)
    return;
  region = pawl_scene_pick (self->scene, x, y, is_finger ? FINGER_RING : POINTER_RING, pawl_figure_view_get_width (self), pawl_figure_view_get_height (self));
  view = region != NULL ? find_view_of_region (self, region) : NULL;
  pawl_figure_view_pick_part (self, view != NULL ? view->part->id : NULL);
}

gboolean
pawl_figure_view_key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlFigureView *self)
{
  if ((state & gtk_accelerator_get_default_mod_mask ()) != 0)
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Right:
    case GDK_KEY_Left:
      pick_aside (self, FALSE, keyval == GDK_KEY_Right ? 1 : -1);
      return TRUE;
    case GDK_KEY_Down:
    case GDK_KEY_Up:
      pick_aside (self, TRUE, keyval == GDK_KEY_Down ? 1 : -1);
      return TRUE;
    case GDK_KEY_Home:
      pawl_figure_view_aim_anew (self);
      return TRUE;
    case GDK_KEY_Escape:
      if (self->picked == NULL)
        return FALSE;
      pawl_figure_view_pick_part (self, NULL);
      return TRUE;
    default:
      return FALSE;
    }
}

/* ---- steering ---- */

static void
zoom_at (GtkWidget *widget, double factor, double x, double y)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (widget);
  cairo_matrix_t matrix;

  if (self->scene == NULL)
    return;
  self->is_steered = TRUE;
  pawl_scene_get_matrix (self->scene, pawl_figure_view_get_width (self), pawl_figure_view_get_height (self), &matrix);
  if (cairo_matrix_invert (&matrix) == CAIRO_STATUS_SUCCESS)
    cairo_matrix_transform_point (&matrix, &x, &y);
  pawl_scene_zoom (self->scene, factor, x, y);
  pawl_figure_view_redraw (self);
}

static void
pan_by (GtkWidget *widget, double dx, double dy)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (widget);

  if (self->scene == NULL)
    return;
  self->is_steered = TRUE;
  pawl_figure_canvas_pan (PAWL_FIGURE_CANVAS (self->canvas), dx, dy);
  gtk_widget_queue_allocate (widget);
}

const PawlFigureSteering pawl_figure_view_steering = { zoom_at, pan_by };

/* Where the picked part is in the widget; else, or when it is out of sight, the middle. */
static void
find_middle (PawlFigureView *self, double *x, double *y)
{
  const PawlPartView *view = self->picked != NULL ? pawl_figure_view_find_view (self, self->picked) : NULL;
  PawlBox box = view != NULL ? pawl_scene_get_region_box (self->scene, view->part->regions[0], pawl_figure_view_get_width (self), pawl_figure_view_get_height (self)) : (PawlBox) { 0 };

  *x = box.x + box.width / 2;
  *y = box.y + box.height / 2;
  if (box.width > 0 && *x >= 0 && *x <= pawl_figure_view_get_width (self) && *y >= 0 && *y <= pawl_figure_view_get_height (self))
    return;
  *x = pawl_figure_view_get_width (self) / 2;
  *y = pawl_figure_view_get_height (self) / 2;
}

void
pawl_figure_view_zoom_by (PawlFigureView *self, double factor)
{
  double x, y;

  if (self->scene == NULL)
    return;
  find_middle (self, &x, &y);
  zoom_at (GTK_WIDGET (self), factor, x, y);
}
