#include "app/pawl-lanes-area.h"

#include "app/pawl-lanes-words.h"
#include "app/pawl-look.h"
#include "app/pawl-part-item.h"

#define STEP_FACTOR 1.25
#define LEAST_SPAN (10 * 60) /* seconds: closer there is nothing more to be seen */
#define LEAST_HEIGHT 160
#define HOUR 3600
#define DAY (8 * HOUR) /* seconds: so much of a long plan is seen first */
#define DRAG_THRESHOLD 8

struct _PawlLanesArea {
  GtkWidget parent_instance;
  GtkWidget *cursor; /* the accessible item of what is looked at */

  /* owned */
  GtkAdjustment *across, *down; /* seconds of the plan; user units from the top of the lanes */
  PawlLanes     *lanes;         /* (nullable) */
  char          *job, *step;    /* (nullable) what is looked at: it outlives the plan */
  gboolean       is_wait;
  gboolean       is_new;        /* no plan was seen yet */

  /* borrowed */
  const PawlWorkPlan *plan; /* (nullable) */

  double        text;   /* that the lanes were placed for */
  int           height; /* as allocated last */
  PawlLanesView view;
  const char   *words[PAWL_LANES_N_WORDS];
  double        drag_across, drag_down; /* where a drag began */
};

enum { SPOT_CHANGED, SPOT_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlLanesArea, pawl_lanes_area, GTK_TYPE_WIDGET)

/* ---- what part of it is seen ---- */

/* With nothing brought closer the view says "all", and goes on saying so when the window grows. */
static gboolean
is_whole (const PawlLanesArea *self)
{
  return self->view.from == 0 && self->view.until == 0;
}

static void
get_span (const PawlLanesArea *self, gint64 *from, gint64 *until)
{
  if (is_whole (self))
    pawl_lanes_get_range (self->lanes, from, until);
  else
    {
      *from = self->view.from;
      *until = self->view.until;
    }
}

static void
scrolled_cb (PawlLanesArea *self)
{
  gint64 from, until;

  if (self->lanes == NULL)
    return;
  self->view.top = gtk_adjustment_get_value (self->down);
  if (!is_whole (self))
    {
      get_span (self, &from, &until);
      self->view.until = (gint64) gtk_adjustment_get_value (self->across) + until - from;
      self->view.from = (gint64) gtk_adjustment_get_value (self->across);
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self)); /* the accessible item moves along */
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
configure_adjustments (PawlLanesArea *self)
{
  gint64 first, last, from, until;
  double height;

  if (self->lanes == NULL)
    return;
  pawl_lanes_get_range (self->lanes, &first, &last);
  get_span (self, &from, &until);
  height = pawl_lanes_get_field_height (self->lanes, gtk_widget_get_height (GTK_WIDGET (self)));
  g_signal_handlers_block_by_func (self->across, scrolled_cb, self);
  g_signal_handlers_block_by_func (self->down, scrolled_cb, self);
  gtk_adjustment_configure (self->across, (double) from, (double) MIN (first, from), (double) MAX (last, until), (double) (until - from) / 10,
                            (double) (until - from) / 1.5, (double) (until - from));
  gtk_adjustment_configure (self->down, self->view.top, 0, MAX (pawl_lanes_get_height (self->lanes) - 5.6 * self->text, height), 3 * self->text, height / 1.5, height);
  g_signal_handlers_unblock_by_func (self->across, scrolled_cb, self);
  g_signal_handlers_unblock_by_func (self->down, scrolled_cb, self);
  self->view.top = gtk_adjustment_get_value (self->down);
}

static void
show_span (PawlLanesArea *self, gint64 from, gint64 span)
{
  gint64 first, last;

  pawl_lanes_get_range (self->lanes, &first, &last);
  if (span >= last - first)
    self->view.from = self->view.until = 0;
  else
    {
      self->view.from = CLAMP (from, first, last - span);
      self->view.until = self->view.from + span;
    }
  configure_adjustments (self);
  scrolled_cb (self);
}

/* @about: the second that stays where it is */
static void
zoom_about (PawlLanesArea *self, double factor, gint64 about)
{
  gint64 from, until, span;

  if (self->lanes == NULL)
    return;
  get_span (self, &from, &until);
  span = MAX ((gint64) ((double) (until - from) / factor), LEAST_SPAN);
  show_span (self, about - (gint64) ((double) (about - from) * (double) span / (double) (until - from)), span);
}

void
pawl_lanes_area_zoom_by (PawlLanesArea *self, double factor)
{
  gint64 from, until;

  if (self->lanes == NULL)
    return;
  if (factor <= 0)
    {
      show_span (self, 0, G_MAXINT64 / 2);
      return;
    }
  get_span (self, &from, &until);
  zoom_about (self, factor, self->view.now >= from && self->view.now <= until ? self->view.now : (from + until) / 2);
}

/* ---- placing ---- */

static void
place_lanes (PawlLanesArea *self)
{
  double text = pawl_look_get_text_pixels (GTK_WIDGET (self));

  if (self->plan == NULL || (self->lanes != NULL && text == self->text))
    return;
  g_clear_pointer (&self->lanes, pawl_lanes_free);
  self->text = text;
  self->lanes = pawl_lanes_new (self->plan, text);
}

/* ---- what is looked at ---- */

static const char *
get_job_id (const PawlLanesArea *self, guint job)
{
  return pawl_job_get_id (((const PawlWorkPlanJob *) pawl_work_plan_get_jobs (self->plan)->pdata[job])->job);
}

static int
find_selected (const PawlLanesArea *self)
{
  int found = -1;

  for (guint i = 0; self->step != NULL && i < pawl_lanes_get_n (self->lanes); i++)
    {
      PawlLanesSpot spot = pawl_lanes_get_spot (self->lanes, i);
      gboolean is_wait = spot.item != NULL && spot.item->wait != NULL;

      if (!g_str_equal (spot.state->step->id, self->step) || !g_str_equal (get_job_id (self, spot.job), self->job))
        continue;
      if (is_wait == self->is_wait)
        return (int) i;
      found = (int) i;
    }
  return found;
}

/* Up and down only: with the head of its job where there is room. */
static void
scroll_down_to (PawlLanesArea *self, guint index)
{
  gint64 from, until;
  double top, bottom;

  pawl_lanes_locate (self->lanes, index, &from, &until, &top, &bottom);
  gtk_adjustment_clamp_page (self->down, top - 2.2 * self->text, bottom);
}

static void
scroll_to (PawlLanesArea *self, guint index)
{
  gint64 from, until, first, last;
  double top, bottom;

  if (pawl_lanes_locate (self->lanes, index, &from, &until, &top, &bottom) && !is_whole (self))
    {
      get_span (self, &first, &last);
      if (from < first || from > last - (last - first) / 10)
        show_span (self, from - (last - first) / 5, last - first);
    }
  scroll_down_to (self, index);
}

static void
select_spot (PawlLanesArea *self, int index)
{
  PawlLanesSpot spot;

  if (index < 0)
    return;
  spot = pawl_lanes_get_spot (self->lanes, (guint) index);
  g_free (self->job);
  g_free (self->step);
  self->job = g_strdup (get_job_id (self, spot.job));
  self->step = g_strdup (spot.state->step->id);
  self->is_wait = spot.item != NULL && spot.item->wait != NULL;
  self->view.selected = index;
  scroll_to (self, (guint) index);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[SPOT_CHANGED], 0);
}

void
pawl_lanes_area_look_at (PawlLanesArea *self, const char *job_id, const char *step_id)
{
  g_autofree char *job = g_strdup (job_id), *step = g_strdup (step_id);

  g_free (g_steal_pointer (&self->job));
  g_free (g_steal_pointer (&self->step));
  self->job = g_steal_pointer (&job);
  self->step = g_steal_pointer (&step);
  self->is_wait = FALSE;
  if (self->lanes != NULL)
    select_spot (self, find_selected (self));
}

gboolean
pawl_lanes_area_get_spot (PawlLanesArea *self, PawlLanesSpot *spot)
{
  if (self->lanes == NULL || self->view.selected < 0)
    return FALSE;
  *spot = pawl_lanes_get_spot (self->lanes, (guint) self->view.selected);
  return TRUE;
}

void
pawl_lanes_area_describe (PawlLanesArea *self, const char *name, const char *description)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->cursor), GTK_ACCESSIBLE_PROPERTY_LABEL, name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}

/* How long it is until hands are there: a plan that is looked at in the night begins in the morning. */
static gint64
find_opening (const PawlLanesArea *self)
{
  gint64 open, close;

  return pawl_work_plan_find_hours (self->plan, 0, &open, &close) ? MAX (open, 0) : 0;
}

/* Each plan begins at its own moment: what part of it is seen stays, as far as there is one. A first plan is seen for a working day. */
static void
keep_span (PawlLanesArea *self)
{
  gint64 first, last;

  pawl_lanes_get_range (self->lanes, &first, &last);
  if (self->is_new)
    show_span (self, MAX (first, -HOUR), DAY + find_opening (self) + MIN (-first, HOUR));
  else if (!is_whole (self))
    show_span (self, self->view.from, self->view.until - self->view.from);
  self->is_new = FALSE;
}

void
pawl_lanes_area_forget (PawlLanesArea *self)
{
  self->is_new = TRUE;
  self->view.from = self->view.until = 0;
  self->view.top = 0;
}

void
pawl_lanes_area_set_plan (PawlLanesArea *self, const PawlWorkPlan *plan)
{
  g_clear_pointer (&self->lanes, pawl_lanes_free);
  self->plan = plan;
  self->view.selected = -1;
  self->view.now = 0;
  place_lanes (self);
  if (self->lanes != NULL)
    {
      keep_span (self);
      self->view.selected = find_selected (self);
      configure_adjustments (self);
      if (self->view.selected >= 0)
        scroll_down_to (self, (guint) self->view.selected);
    }
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, signals[SPOT_CHANGED], 0);
}

void
pawl_lanes_area_set_now (PawlLanesArea *self, GDateTime *now)
{
  if (self->plan == NULL)
    return;
  self->view.now = g_date_time_difference (now, pawl_work_plan_peek_start (self->plan)) / G_TIME_SPAN_SECOND;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

GtkAdjustment *
pawl_lanes_area_get_across (PawlLanesArea *self)
{
  return self->across;
}

GtkAdjustment *
pawl_lanes_area_get_down (PawlLanesArea *self)
{
  return self->down;
}

/* ---- keys and pointer ---- */

static gboolean
want_spot (PawlLanesArea *self)
{
  if (self->lanes == NULL || self->view.selected < 0)
    return FALSE;
  g_signal_emit (self, signals[SPOT_WANTED], 0);
  return TRUE;
}

static gboolean
move (PawlLanesArea *self, PawlLanesWay way)
{
  if (self->lanes == NULL)
    return FALSE;
  select_spot (self, pawl_lanes_move (self->lanes, self->view.selected, way));
  return TRUE;
}

static gboolean
zoom (PawlLanesArea *self, double factor)
{
  pawl_lanes_area_zoom_by (self, factor);
  return TRUE;
}

static gboolean
key_pressed_cb (GtkEventControllerKey *keys, guint keyval, guint keycode, GdkModifierType state, PawlLanesArea *self)
{
  if (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK))
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Left:
      return move (self, PAWL_LANES_BEFORE);
    case GDK_KEY_Right:
      return move (self, PAWL_LANES_BEHIND);
    case GDK_KEY_Up:
      return move (self, PAWL_LANES_ABOVE);
    case GDK_KEY_Down:
      return move (self, PAWL_LANES_BELOW);
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
    case GDK_KEY_space:
      return want_spot (self);
    case GDK_KEY_Home: /* closer and farther is by Ctrl: signs and digits are of a reading, on every page of a job */
      return zoom (self, 0);
    default:
      return FALSE;
    }
}

static int
pick (PawlLanesArea *self, double x, double y)
{
  GtkWidget *widget = GTK_WIDGET (self);

  return self->lanes != NULL ? pawl_lanes_pick (self->lanes, &self->view, gtk_widget_get_width (widget), gtk_widget_get_height (widget), x, y) : -1;
}

static void
released_cb (GtkGestureClick *click, int n_press, double x, double y, PawlLanesArea *self)
{
  int picked = pick (self, x, y);

  gtk_widget_grab_focus (GTK_WIDGET (self));
  if (picked < 0)
    return;
  select_spot (self, picked);
  want_spot (self);
}

static gboolean
scroll_cb (GtkEventControllerScroll *scroll, double dx, double dy, PawlLanesArea *self)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (scroll));
  gboolean is_sideways = (state & GDK_SHIFT_MASK) != 0;

  if (self->lanes == NULL)
    return FALSE;
  if (state & GDK_CONTROL_MASK)
    {
      double x, y;
      gint64 about = self->view.now;

      if (gdk_event_get_position (gtk_event_controller_get_current_event (GTK_EVENT_CONTROLLER (scroll)), &x, &y))
        {
          double origin_x, origin_y;

          gtk_widget_translate_coordinates (GTK_WIDGET (gtk_widget_get_native (GTK_WIDGET (self))), GTK_WIDGET (self), x, y, &origin_x, &origin_y);
          about = pawl_lanes_get_seconds (self->lanes, &self->view, gtk_widget_get_width (GTK_WIDGET (self)), origin_x);
        }
      zoom_about (self, dy < 0 ? STEP_FACTOR : 1 / STEP_FACTOR, about);
      return TRUE;
    }
  gtk_adjustment_set_value (self->across, gtk_adjustment_get_value (self->across) + (is_sideways ? dy : dx) * gtk_adjustment_get_step_increment (self->across));
  if (!is_sideways)
    gtk_adjustment_set_value (self->down, gtk_adjustment_get_value (self->down) + dy * gtk_adjustment_get_step_increment (self->down));
  return TRUE;
}

static void
drag_begin_cb (GtkGestureDrag *drag, double x, double y, PawlLanesArea *self)
{
  self->drag_across = gtk_adjustment_get_value (self->across);
  self->drag_down = gtk_adjustment_get_value (self->down);
}

/* A finger or the pointer takes the picture along; then it is no click. */
static void
drag_update_cb (GtkGestureDrag *drag, double dx, double dy, PawlLanesArea *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  gint64 left, right;

  if (self->lanes == NULL || (ABS (dx) < DRAG_THRESHOLD && ABS (dy) < DRAG_THRESHOLD))
    return;
  gtk_gesture_set_state (GTK_GESTURE (drag), GTK_EVENT_SEQUENCE_CLAIMED);
  left = pawl_lanes_get_seconds (self->lanes, &self->view, width, 0);
  right = pawl_lanes_get_seconds (self->lanes, &self->view, width, width);
  gtk_adjustment_set_value (self->across, self->drag_across - dx * (double) (right - left) / width);
  gtk_adjustment_set_value (self->down, self->drag_down - dy);
}

/* ---- widget ---- */

static void
pawl_lanes_area_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PawlLanesArea *self = PAWL_LANES_AREA (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  cairo_t *cr;

  place_lanes (self);
  if (self->lanes == NULL)
    return;
  cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  self->view.palette = pawl_look_get_palette (widget);
  pawl_lanes_draw (self->lanes, &self->view, cr, width, height);
  cairo_destroy (cr);
}

static void
place_cursor (PawlLanesArea *self, int width, int height)
{
  double x, y, across, down;
  gboolean is_seen = self->lanes != NULL && self->view.selected >= 0
                     && pawl_lanes_get_spot_box (self->lanes, &self->view, width, height, (guint) self->view.selected, &x, &y, &across, &down);
  GtkAllocation place = { 0, 0, 1, 1 };

  if (is_seen)
    place = (GtkAllocation) { (int) x, (int) y, MAX ((int) across, 1), MAX ((int) down, 1) };
  gtk_widget_set_child_visible (self->cursor, is_seen);
  gtk_widget_measure (self->cursor, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_size_allocate (self->cursor, &place, -1);
}

static void
pawl_lanes_area_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PawlLanesArea *self = PAWL_LANES_AREA (widget);

  place_lanes (self);
  configure_adjustments (self);
  if (height != self->height && self->lanes != NULL && self->view.selected >= 0)
    {
      g_signal_handlers_block_by_func (self->down, scrolled_cb, self); /* it is being allocated already */
      scroll_down_to (self, (guint) self->view.selected);
      g_signal_handlers_unblock_by_func (self->down, scrolled_cb, self);
      self->view.top = gtk_adjustment_get_value (self->down);
    }
  self->height = height;
  place_cursor (self, width, height);
}

static void
pawl_lanes_area_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : LEAST_HEIGHT;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 900 : 400;
}

static void
pawl_lanes_area_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pawl_lanes_area_parent_class)->css_changed (widget, change);
  gtk_widget_queue_allocate (widget); /* the text may have another size */
  gtk_widget_queue_draw (widget);
}

static void
pawl_lanes_area_dispose (GObject *object)
{
  PawlLanesArea *self = PAWL_LANES_AREA (object);

  g_clear_pointer (&self->cursor, gtk_widget_unparent);
  g_clear_pointer (&self->lanes, pawl_lanes_free);
  g_clear_object (&self->across);
  g_clear_object (&self->down);
  G_OBJECT_CLASS (pawl_lanes_area_parent_class)->dispose (object);
}

static void
pawl_lanes_area_finalize (GObject *object)
{
  PawlLanesArea *self = PAWL_LANES_AREA (object);

  g_free (self->job);
  g_free (self->step);
  G_OBJECT_CLASS (pawl_lanes_area_parent_class)->finalize (object);
}

static void
pawl_lanes_area_class_init (PawlLanesAreaClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_lanes_area_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_lanes_area_finalize;
  widget_class->snapshot = pawl_lanes_area_snapshot;
  widget_class->size_allocate = pawl_lanes_area_size_allocate;
  widget_class->measure = pawl_lanes_area_measure;
  widget_class->css_changed = pawl_lanes_area_css_changed;
  gtk_widget_class_set_css_name (widget_class, "lanes");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_LIST);
  signals[SPOT_CHANGED] = g_signal_new ("spot-changed", PAWL_TYPE_LANES_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SPOT_WANTED] = g_signal_new ("spot-wanted", PAWL_TYPE_LANES_AREA, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
add_controller (PawlLanesArea *self, gpointer controller, const char *signal, GCallback callback)
{
  g_signal_connect (controller, signal, callback, self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (controller));
}

static void
pawl_lanes_area_init (PawlLanesArea *self)
{
  GtkGesture *drag = gtk_gesture_drag_new ();

  self->view.selected = -1;
  pawl_lanes_words_fill (self->words);
  self->view.words = self->words;
  self->is_new = TRUE;
  self->across = g_object_ref_sink (gtk_adjustment_new (0, 0, 0, 0, 0, 0));
  self->down = g_object_ref_sink (gtk_adjustment_new (0, 0, 0, 0, 0, 0));
  g_signal_connect_swapped (self->across, "value-changed", G_CALLBACK (scrolled_cb), self);
  g_signal_connect_swapped (self->down, "value-changed", G_CALLBACK (scrolled_cb), self);
  self->cursor = pawl_part_item_new ("", "");
  gtk_widget_set_parent (self->cursor, GTK_WIDGET (self));
  gtk_accessible_update_relation (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_RELATION_ACTIVE_DESCENDANT, self->cursor, -1);
  gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  add_controller (self, gtk_event_controller_key_new (), "key-pressed", G_CALLBACK (key_pressed_cb));
  add_controller (self, gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES), "scroll", G_CALLBACK (scroll_cb));
  add_controller (self, gtk_gesture_click_new (), "released", G_CALLBACK (released_cb));
  g_signal_connect (drag, "drag-begin", G_CALLBACK (drag_begin_cb), self);
  add_controller (self, drag, "drag-update", G_CALLBACK (drag_update_cb));
}
