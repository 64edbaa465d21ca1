#include "app/pawl-build-up-bar.h"

#include <glib/gi18n.h>
#include <math.h>

/* A step that moves parts takes as long as a slide and a breath; one that moves none goes by quickly. */
#define MOVING_USEC 900000.0
#define STILL_USEC 180000.0
#define JUMP_USEC 700000.0 /* without animations each step is shown this long */
#define SLIDE_USEC 450000.0

typedef enum { AT_REST, STANDING, SLIDING, PLAYING } Mode;

struct _PawlBuildUpBar {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget     *box, *play, *scale, *tools, *choose;
  GtkAdjustment *adjustment;

  PawlBuildUp *film;   /* (nullable) owned */
  Mode         mode;
  double       position, rest;
  double       from, to; /* while sliding */
  guint        tick_id;
  gint64       last;     /* of the frame before, or 0 */
  double       waited;   /* without animations: time at this step, µs; while sliding: time under way */
};

enum { MOVED, RESTED, CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlBuildUpBar, pawl_build_up_bar, GTK_TYPE_WIDGET)

static double
get_length (PawlBuildUpBar *self)
{
  return self->film != NULL ? pawl_build_up_get_length (self->film) : 0;
}

static gboolean
wants_animation (PawlBuildUpBar *self)
{
  gboolean is_wanted = FALSE;

  g_object_get (gtk_widget_get_settings (GTK_WIDGET (self)), "gtk-enable-animations", &is_wanted, NULL);
  return is_wanted;
}

/* ---- what it says ---- */

char *
pawl_build_up_bar_describe (PawlBuildUpBar *self)
{
  const PawlStep *step = self->film != NULL ? pawl_build_up_peek_step (self->film, self->position) : NULL;
  gboolean is_mirrored = self->film != NULL && pawl_build_up_get_mirror (self->film) != NULL;

  if (step == NULL)
    return g_strdup (is_mirrored ? _("All that was fitted is off") : _("The whole job is done"));
  return g_strdup_printf (is_mirrored ? _("Undoes step %s: %s") : "%s  %s", step->number, step->command);
}

static void
update (PawlBuildUpBar *self)
{
  g_autofree char *words = pawl_build_up_bar_describe (self);
  gboolean plays = self->mode == PLAYING;

  gtk_stack_set_visible_child_name (GTK_STACK (self->tools), self->mode == AT_REST ? "rest" : "film");
  gtk_widget_set_sensitive (self->play, self->film != NULL);
  gtk_widget_set_sensitive (self->scale, self->film != NULL);
  gtk_widget_set_sensitive (self->choose, self->film != NULL && pawl_build_up_peek_step (self->film, self->position) != NULL);
  gtk_button_set_icon_name (GTK_BUTTON (self->play), plays ? "media-playback-pause-symbolic" : "media-playback-start-symbolic");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->play), GTK_ACCESSIBLE_PROPERTY_LABEL, plays ? _("Pause") : _("Build the unit up"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->scale), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, words, -1);
  gtk_adjustment_set_value (self->adjustment, self->position);
}

/* ---- moving ---- */

static void
stop_clock (PawlBuildUpBar *self)
{
  if (self->tick_id != 0)
    gtk_widget_remove_tick_callback (GTK_WIDGET (self), self->tick_id);
  self->tick_id = 0;
}

static void
show_at (PawlBuildUpBar *self, double position, Mode mode)
{
  self->position = CLAMP (position, 0, get_length (self));
  self->mode = mode;
  if (mode == AT_REST || mode == STANDING)
    stop_clock (self);
  update (self);
  if (mode != AT_REST)
    g_signal_emit (self, signals[MOVED], 0, self->position);
}

static gboolean
moves_parts (const PawlStep *step)
{
  return step->installs[0] != NULL || step->removes[0] != NULL;
}

/* With animations steps run into one another; without, one after the other is shown as it is when done. */
static void
play_on (PawlBuildUpBar *self, double usec)
{
  const PawlStep *step = pawl_build_up_peek_step (self->film, self->position);
  double position = self->position;

  if (wants_animation (self))
    position += usec / (step != NULL && moves_parts (step) ? MOVING_USEC : STILL_USEC);
  else if ((self->waited += usec) >= JUMP_USEC)
    {
      self->waited = 0;
      position = floor (position) + 1;
    }
  if (position != self->position)
    show_at (self, position, position >= get_length (self) ? STANDING : PLAYING);
}

static void
slide_on (PawlBuildUpBar *self, double usec)
{
  double t;

  self->waited += usec;
  t = MIN (self->waited / SLIDE_USEC, 1);
  show_at (self, self->from + (self->to - self->from) * t, t < 1 ? SLIDING : STANDING);
}

static gboolean
tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PawlBuildUpBar *self = PAWL_BUILD_UP_BAR (widget);
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double usec = self->last != 0 ? (double) (now - self->last) : 0;

  self->last = now;
  if (self->mode == PLAYING)
    play_on (self, usec);
  else
    slide_on (self, usec);
  return self->tick_id != 0 ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

static void
start_clock (PawlBuildUpBar *self)
{
  self->last = 0;
  self->waited = 0;
  if (self->tick_id == 0)
    self->tick_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), tick_cb, NULL, NULL);
}

void
pawl_build_up_bar_toggle (PawlBuildUpBar *self)
{
  if (self->film == NULL)
    return;
  if (self->mode == PLAYING)
    {
      show_at (self, self->position, STANDING);
      return;
    }
  start_clock (self);
  show_at (self, self->position < get_length (self) ? self->position : 0, PLAYING);
}

void
pawl_build_up_bar_go_to (PawlBuildUpBar *self, double position)
{
  if (self->film == NULL)
    return;
  self->to = CLAMP (position, 0, get_length (self));
  self->from = self->position;
  if (!wants_animation (self))
    {
      show_at (self, self->to, STANDING);
      return;
    }
  start_clock (self);
  show_at (self, self->position, SLIDING);
}

/* Part of a step counts as the whole of it: forward ends it, backward goes to its beginning. */
void
pawl_build_up_bar_step (PawlBuildUpBar *self, int n_steps)
{
  double begin = self->mode == SLIDING ? self->to : self->position;

  pawl_build_up_bar_go_to (self, n_steps > 0 ? floor (begin) + n_steps : ceil (begin) + n_steps);
}

void
pawl_build_up_bar_leave (PawlBuildUpBar *self)
{
  if (self->mode == AT_REST)
    return;
  pawl_build_up_bar_rest_at (self, self->rest);
  g_signal_emit (self, signals[RESTED], 0);
}

/* Dragging follows the pointer; keys go by whole steps. */
static gboolean
change_value_cb (GtkRange *range, GtkScrollType scroll, double value, PawlBuildUpBar *self)
{
  switch (scroll)
    {
    case GTK_SCROLL_STEP_FORWARD: case GTK_SCROLL_STEP_RIGHT: case GTK_SCROLL_STEP_UP:
      pawl_build_up_bar_step (self, 1);
      break;
    case GTK_SCROLL_STEP_BACKWARD: case GTK_SCROLL_STEP_LEFT: case GTK_SCROLL_STEP_DOWN:
      pawl_build_up_bar_step (self, -1);
      break;
    default:
      show_at (self, value, STANDING);
    }
  return TRUE;
}

static void
choose_cb (PawlBuildUpBar *self)
{
  const PawlStep *step = self->film != NULL ? pawl_build_up_peek_step (self->film, self->position) : NULL;

  if (step == NULL)
    return;
  pawl_build_up_bar_leave (self);
  g_signal_emit (self, signals[CHOSEN], 0, step->id);
}

/* ---- public ---- */

/* A tick where a phase begins. */
static void
mark_phases (PawlBuildUpBar *self)
{
  const char *phase = NULL;

  gtk_scale_clear_marks (GTK_SCALE (self->scale));
  for (guint i = 0; i < get_length (self); i++)
    {
      const PawlStep *step = pawl_build_up_peek_step (self->film, i);

      if (i > 0 && g_strcmp0 (step->phase, phase) != 0)
        gtk_scale_add_mark (GTK_SCALE (self->scale), i, GTK_POS_BOTTOM, NULL);
      phase = step->phase;
    }
}

void
pawl_build_up_bar_set_film (PawlBuildUpBar *self, PawlBuildUp *film)
{
  stop_clock (self);
  g_clear_pointer (&self->film, pawl_build_up_free);
  self->film = film;
  gtk_adjustment_set_upper (self->adjustment, get_length (self));
  mark_phases (self);
  self->rest = 0;
  show_at (self, 0, AT_REST);
}

PawlBuildUp *
pawl_build_up_bar_peek_film (PawlBuildUpBar *self)
{
  return self->film;
}

void
pawl_build_up_bar_rest_at (PawlBuildUpBar *self, double position)
{
  self->rest = position;
  show_at (self, position, AT_REST);
}

gboolean
pawl_build_up_bar_is_at_rest (PawlBuildUpBar *self)
{
  return self->mode == AT_REST;
}

static void
pawl_build_up_bar_dispose (GObject *object)
{
  PawlBuildUpBar *self = PAWL_BUILD_UP_BAR (object);

  stop_clock (self);
  g_clear_pointer (&self->film, pawl_build_up_free);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_build_up_bar_parent_class)->dispose (object);
}

static void
pawl_build_up_bar_class_init (PawlBuildUpBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_build_up_bar_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-build-up-bar.ui");
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, box);
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, choose);
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, play);
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, scale);
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, tools);
  gtk_widget_class_bind_template_child (widget_class, PawlBuildUpBar, adjustment);
  gtk_widget_class_bind_template_callback (widget_class, change_value_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_cb);
  gtk_widget_class_bind_template_callback (widget_class, pawl_build_up_bar_leave);
  gtk_widget_class_bind_template_callback (widget_class, pawl_build_up_bar_toggle);
  signals[MOVED] = g_signal_new ("moved", PAWL_TYPE_BUILD_UP_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_DOUBLE);
  signals[RESTED] = g_signal_new ("rested", PAWL_TYPE_BUILD_UP_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHOSEN] = g_signal_new ("chosen", PAWL_TYPE_BUILD_UP_BAR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_build_up_bar_init (PawlBuildUpBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  update (self);
}
