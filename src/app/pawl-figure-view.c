#include "app/pawl-figure-view-private.h"

#include <glib/gi18n.h>
#include "app/pawl-figure-aim.h"
#include "app/pawl-figure-canvas.h"
#include "app/pawl-figure-steer.h"
#include "app/pawl-part-items.h"

#define SLIDE_USEC 450000
#define MARK_RADIUS 13.0

enum { PART_PICKED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlFigureView, pawl_figure_view, GTK_TYPE_WIDGET)

double
pawl_figure_view_get_width (PawlFigureView *self)
{
  return MAX (gtk_widget_get_width (GTK_WIDGET (self)), 1);
}

double
pawl_figure_view_get_height (PawlFigureView *self)
{
  return MAX (gtk_widget_get_height (GTK_WIDGET (self)), 1);
}

const PawlPartView *
pawl_figure_view_find_view (PawlFigureView *self, const char *part_id)
{
  for (guint i = 0; self->views != NULL && i < self->views->len; i++)
    {
      const PawlPartView *view = self->views->pdata[i];

      if (g_str_equal (view->part->id, part_id))
        return view;
    }
  return NULL;
}

/* ---- the camera ---- */

gboolean
pawl_figure_view_is_measured (PawlFigureView *self)
{
  return pawl_figure_canvas_is_measured (PAWL_FIGURE_CANVAS (self->canvas));
}

static void
aim (PawlFigureView *self)
{
  if (!pawl_figure_view_is_measured (self))
    return;
  if (self->follows_step && self->step_regions != NULL && self->step_regions[0] != NULL)
    pawl_figure_aim_at_step (self->scene, (const char * const *) self->step_regions);
  else
    pawl_figure_aim_at_whole (self->scene);
  self->is_placed = TRUE;
}

static void
aim_again (PawlFigureView *self)
{
  PawlBox before = pawl_scene_get_view (self->scene);

  aim (self);
  pawl_figure_aim_steadily (self->scene, before);
}

void
pawl_figure_view_redraw (PawlFigureView *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self)); /* the accessible items move with the parts */
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
}

/* Until now nobody knew where to aim. */
static void
measured_cb (PawlFigureCanvas *canvas, PawlFigureView *self)
{
  if (!self->is_steered && !self->is_filming && self->views != NULL)
    aim (self);
  pawl_figure_view_redraw (self);
}

/* ---- sliding ---- */

static double
ease (double t)
{
  return t * t * (3 - 2 * t);
}

static void
stop_sliding (PawlFigureView *self)
{
  if (self->tick_id != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick_id);
  self->tick_id = 0;
  g_clear_pointer (&self->from, g_free);
  g_clear_pointer (&self->to, g_free);
  pawl_figure_canvas_set_sliding (PAWL_FIGURE_CANVAS (self->canvas), FALSE);
}

/* Carriers first say where they are; then each part is put on its carrier. */
static void
place_all (PawlFigureView *self, double t)
{
  for (guint i = 0; i < self->views->len; i++)
    ((PawlPartView *) self->views->pdata[i])->fraction = self->from[i] + (self->to[i] - self->from[i]) * t;
  for (guint i = 0; i < self->views->len; i++)
    {
      const PawlPartView *view = self->views->pdata[i];

      pawl_part_view_place (view, self->scene, view->fraction, pawl_part_view_get_carried (view, self->views));
    }
}

static gboolean
slide_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double t;

  if (self->slide_begin == 0)
    self->slide_begin = now;
  t = CLAMP ((double) (now - self->slide_begin) / SLIDE_USEC, 0, 1);
  place_all (self, ease (t));
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
  if (t < 1)
    return G_SOURCE_CONTINUE;
  self->tick_id = 0;
  stop_sliding (self);
  pawl_figure_view_redraw (self);
  return G_SOURCE_REMOVE;
}

static gboolean
wants_animation (PawlFigureView *self)
{
  gboolean is_wanted = FALSE;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &is_wanted, NULL);
  return is_wanted && gtk_widget_get_mapped (GTK_WIDGET (self));
}

/* ---- state to scene ---- */

/* Parts in hand are numbered by the view; the picked one too. */
void
pawl_figure_view_number_picked (PawlFigureView *self)
{
  const PawlPartView *view = self->picked != NULL ? pawl_figure_view_find_view (self, self->picked) : NULL;

  if (view != NULL && !view->is_in_hand)
    pawl_scene_add_item (self->scene, view->part->item, (const char * const *) view->part->regions);
}

static double
find_fraction (GPtrArray *views, const PawlPart *part, double fallback)
{
  for (guint i = 0; i < views->len; i++)
    if (((PawlPartView *) views->pdata[i])->part == part)
      return ((PawlPartView *) views->pdata[i])->fraction;
  return fallback;
}

/* The camera has been aimed at where everything comes to rest; only now does the way there begin. */
static void
start_sliding (PawlFigureView *self, GPtrArray *before)
{
  gboolean is_moving = FALSE;

  self->from = g_new (double, self->views->len);
  self->to = g_new (double, self->views->len);
  for (guint i = 0; i < self->views->len; i++)
    {
      const PawlPartView *view = self->views->pdata[i];

      self->to[i] = view->fraction;
      self->from[i] = find_fraction (before, view->part, view->fraction);
      is_moving |= self->from[i] != self->to[i];
    }
  if (!is_moving)
    {
      stop_sliding (self);
      return;
    }
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
  pawl_figure_canvas_set_sliding (PAWL_FIGURE_CANVAS (self->canvas), TRUE); /* numbers point to where the parts will be */
  place_all (self, 0);
  self->slide_begin = 0;
  self->tick_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), slide_cb, NULL, NULL);
}

void
pawl_figure_view_apply (PawlFigureView *self, PawlJob *job, const PawlStep *step, gboolean is_animated)
{
  g_autoptr(GPtrArray) before = g_steal_pointer (&self->views);
  g_autoptr(PawlJob) job_before = self->job; /* holds what @before borrows */

  stop_sliding (self);
  g_clear_pointer (&self->step_regions, g_strfreev);
  self->job = g_object_ref (job);
  self->views = pawl_job_view_new (job, step);
  if (self->marked != NULL)
    pawl_job_view_mark (self->views, self->marked);
  self->step_regions = pawl_job_view_list_in_hand (self->views);
  if (self->scene == NULL)
    return;
  pawl_part_items_update (self->items, self->views);
  pawl_view_hide_pictures (pawl_job_get_procedure (job), self->scene);
  pawl_job_view_apply (self->views, self->scene);
  pawl_figure_view_number_picked (self);
  if (!self->is_placed || (self->is_filming && !self->is_steered))
    aim (self);
  else if (!self->is_steered)
    aim_again (self);
  self->is_filming = FALSE;
  if (self->is_placed && is_animated && before != NULL && wants_animation (self))
    start_sliding (self, before);
  pawl_figure_view_redraw (self);
}

void
pawl_figure_view_set_marked (PawlFigureView *self, char **parts)
{
  g_strfreev (self->marked);
  self->marked = g_strdupv (parts);
}

void
pawl_figure_view_show_film (PawlFigureView *self, PawlBuildUp *film, double position)
{
  if (self->scene == NULL || self->job == NULL)
    return;
  stop_sliding (self);
  g_clear_pointer (&self->views, g_ptr_array_unref);
  self->views = pawl_build_up_view (film, position);
  pawl_part_items_update (self->items, self->views);
  pawl_job_view_apply (self->views, self->scene);
  if (!self->is_filming && !self->is_steered)
    pawl_scene_show_sheet (self->scene); /* room for every part on its way */
  self->is_filming = TRUE;
  pawl_figure_view_redraw (self);
}

void
pawl_figure_view_set_store (PawlFigureView *self, const char *folder)
{
  pawl_figure_canvas_set_store (PAWL_FIGURE_CANVAS (self->canvas), folder);
}

void
pawl_figure_view_set_figure (PawlFigureView *self, PawlFigure *figure, const char *message)
{
  stop_sliding (self);
  pawl_part_items_clear (self->items);
  g_clear_object (&self->scene);
  g_clear_pointer (&self->views, g_ptr_array_unref);
  self->is_placed = self->is_steered = FALSE;
  gtk_label_set_label (GTK_LABEL (self->message), message != NULL ? message : "");
  gtk_widget_set_visible (self->message, figure == NULL);
  if (figure != NULL)
    self->scene = pawl_scene_new (figure);
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (self->canvas), self->scene);
  if (figure != NULL)
    pawl_figure_canvas_measure (PAWL_FIGURE_CANVAS (self->canvas));
  pawl_figure_view_redraw (self);
}

void
pawl_figure_view_set_palette (PawlFigureView *self, PawlPalette palette)
{
  if (self->scene == NULL)
    return;
  pawl_scene_set_palette (self->scene, palette);
  pawl_figure_view_redraw (self);
}

void
pawl_figure_view_set_number_size (PawlFigureView *self, double pixels)
{
  if (self->scene == NULL)
    return;
  pawl_scene_set_number_size (self->scene, pixels);
  pawl_figure_view_redraw (self);
}

/* Where it would be if nobody had moved it. */
void
pawl_figure_view_aim_anew (PawlFigureView *self)
{
  pawl_figure_steer_stop (GTK_WIDGET (self));
  self->is_steered = FALSE;
  aim (self);
  pawl_figure_view_redraw (self);
}

void
pawl_figure_view_set_follows_step (PawlFigureView *self, gboolean follows)
{
  self->follows_step = follows;
  pawl_figure_view_aim_anew (self);
}

gboolean
pawl_figure_view_get_follows_step (PawlFigureView *self)
{
  return self->follows_step;
}

/* ---- widget ---- */

static void
pawl_figure_view_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : 200;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 720 : 520;
  *minimum_baseline = *natural_baseline = -1;
}

static void
pawl_figure_view_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (widget);
  int natural;

  gtk_widget_measure (self->message, GTK_ORIENTATION_VERTICAL, width, NULL, &natural, NULL, NULL);
  gtk_widget_size_allocate (self->message, &(GtkAllocation) { 0, 0, width, MAX (height, natural) }, -1);
  gtk_widget_measure (self->canvas, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_size_allocate (self->canvas, &(GtkAllocation) { 0, 0, width, height }, -1);
  for (guint i = 0; self->scene != NULL && self->views != NULL && i < self->views->len; i++)
    pawl_part_items_allocate (self->items, self->views->pdata[i], self->scene, width, height);
}

void
pawl_figure_view_set_mark (PawlFigureView *self, const PawlPoint *at, const char *region)
{
  self->has_mark = at != NULL;
  if (at != NULL)
    self->mark = *at;
  g_free (self->mark_region);
  self->mark_region = g_strdup (region);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* A ring with a cross hair in it, in ink on a rim of paper, so that it is seen on whatever lies there. */
static void
draw_mark (PawlFigureView *self, GtkSnapshot *snapshot)
{
  PawlPoint slid = self->mark_region != NULL ? pawl_scene_get_slid (self->scene, self->mark_region) : (PawlPoint) { 0, 0 };
  double x = self->mark.x + slid.x, y = self->mark.y + slid.y, reach = MARK_RADIUS + 6;
  cairo_matrix_t matrix;
  cairo_t *cr;

  pawl_scene_get_matrix (self->scene, pawl_figure_view_get_width (self), pawl_figure_view_get_height (self), &matrix);
  cairo_matrix_transform_point (&matrix, &x, &y);
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT ((float) (x - reach), (float) (y - reach), (float) (2 * reach), (float) (2 * reach)));
  for (int is_ink = 0; is_ink < 2; is_ink++)
    {
      GdkRGBA color = { 1, 1, 1, 1 };

      if (is_ink)
        color = (GdkRGBA) { 0.72f, 0.09f, 0.16f, 1 };
      gdk_cairo_set_source_rgba (cr, &color);
      cairo_set_line_width (cr, is_ink ? 2.5 : 6);
      cairo_arc (cr, x, y, MARK_RADIUS, 0, 2 * G_PI);
      for (int side = -1; side <= 1; side += 2)
        {
          cairo_move_to (cr, x + side * MARK_RADIUS, y);
          cairo_line_to (cr, x + side * MARK_RADIUS / 3, y);
          cairo_move_to (cr, x, y + side * MARK_RADIUS);
          cairo_line_to (cr, x, y + side * MARK_RADIUS / 3);
        }
      cairo_stroke (cr);
    }
  cairo_destroy (cr);
}

static void
pawl_figure_view_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (widget);

  gtk_widget_snapshot_child (widget, self->scene != NULL ? self->canvas : self->message, snapshot);
  if (self->has_mark && self->scene != NULL && self->is_placed && !self->is_filming)
    draw_mark (self, snapshot);
}

static void
pawl_figure_view_dispose (GObject *object)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (object);

  if (self->canvas != NULL)
    stop_sliding (self);
  g_clear_pointer (&self->items, pawl_part_items_free);
  g_clear_pointer (&self->canvas, gtk_widget_unparent);
  g_clear_pointer (&self->message, gtk_widget_unparent);
  g_clear_pointer (&self->views, g_ptr_array_unref);
  g_clear_object (&self->scene);
  g_clear_object (&self->job);
  G_OBJECT_CLASS (pawl_figure_view_parent_class)->dispose (object);
}

static void
pawl_figure_view_finalize (GObject *object)
{
  PawlFigureView *self = PAWL_FIGURE_VIEW (object);

  g_strfreev (self->step_regions);
  g_strfreev (self->marked);
  g_free (self->picked);
  g_free (self->mark_region);
  G_OBJECT_CLASS (pawl_figure_view_parent_class)->finalize (object);
}

static void
pawl_figure_view_class_init (PawlFigureViewClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = pawl_figure_view_dispose;
  object_class->finalize = pawl_figure_view_finalize;
  widget_class->measure = pawl_figure_view_measure;
  widget_class->size_allocate = pawl_figure_view_size_allocate;
  widget_class->snapshot = pawl_figure_view_snapshot;
  gtk_widget_class_set_css_name (widget_class, "figure");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
  signals[PART_PICKED] = g_signal_new ("part-picked", PAWL_TYPE_FIGURE_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_figure_view_init (PawlFigureView *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  self->items = pawl_part_items_new (GTK_WIDGET (self));
  self->message = gtk_label_new ("");
  gtk_label_set_wrap (GTK_LABEL (self->message), TRUE);
  gtk_label_set_justify (GTK_LABEL (self->message), GTK_JUSTIFY_CENTER);
  gtk_widget_set_parent (self->message, GTK_WIDGET (self));
  self->canvas = pawl_figure_canvas_new ();
  g_signal_connect_object (self->canvas, "measured", G_CALLBACK (measured_cb), self, 0);
  gtk_widget_set_parent (self->canvas, GTK_WIDGET (self));
  g_signal_connect (keys, "key-pressed", G_CALLBACK (pawl_figure_view_key_pressed_cb), self);
  g_signal_connect (click, "pressed", G_CALLBACK (pawl_figure_view_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
  pawl_figure_steer_install (GTK_WIDGET (self), &pawl_figure_view_steering);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Figure"), -1);
}
