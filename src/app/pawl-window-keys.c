/* Keys, before they do anything: a gauge that types, a foot switch, digits from anywhere; and what a press of the big action does. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-gauge-key.h"
#include "app/pawl-key-plan.h"
#include "app/pawl-step-state.h"

/* ---- where the keyboard is ---- */

static gboolean
is_in_job (PawlWindow *self)
{
  return self->session != NULL && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->views)), "job") == 0;
}

/* A list or a menu that has popped up keeps its keys. */
static PawlFocus
find_focus_elsewhere (PawlWindow *self, GtkWidget *focus)
{
  if (focus != NULL && (GTK_IS_EDITABLE (focus) || GTK_IS_TEXT_VIEW (focus) || gtk_widget_get_ancestor (focus, GTK_TYPE_POPOVER) != NULL))
    return pawl_window_is_at_bench (self) && !GTK_IS_TEXT_VIEW (focus) ? PAWL_FOCUS_TEXT : PAWL_FOCUS_LONG_TEXT;
  return pawl_window_is_at_bench (self) ? PAWL_FOCUS_CONTROL : PAWL_FOCUS_ELSEWHERE;
}

static PawlFocus
find_focus (PawlWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !pawl_window_is_at_bench (self) || !gtk_widget_is_ancestor (focus, GTK_WIDGET (pawl_window_get_bench_page (self))))
    return find_focus_elsewhere (self, focus);
  if (GTK_IS_TEXT_VIEW (focus))
    return PAWL_FOCUS_LONG_TEXT;
  if (GTK_IS_EDITABLE (focus))
    return *gtk_editable_get_text (GTK_EDITABLE (focus)) == '\0' ? PAWL_FOCUS_EMPTY_TEXT : PAWL_FOCUS_TEXT;
  if (GTK_IS_BUTTON (focus))
    return g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (focus)), "win.advance") == 0 ? PAWL_FOCUS_NOWHERE : PAWL_FOCUS_CONTROL;
  return GTK_IS_TOGGLE_BUTTON (focus) || GTK_IS_DROP_DOWN (focus) ? PAWL_FOCUS_CONTROL : PAWL_FOCUS_NOWHERE;
}

/* ---- one press ---- */

void
pawl_window_advance (PawlWindow *self)
{
  PawlStepPanel *panel = pawl_window_get_panel (self);
  g_autoptr(GError) error = NULL;
  g_autofree char *wanted = NULL;
  PawlPressKind kind;

  if (!pawl_session_press (self->session, &kind, &wanted, &error))
    {
      pawl_step_panel_say (panel, error->message);
      return;
    }
  if (kind != PAWL_PRESS_SHOW && kind != PAWL_PRESS_WANT)
    return;
  pawl_step_panel_say (panel, wanted);
  pawl_step_panel_go_to (panel, pawl_step_find_keeping (pawl_session_peek_step (self->session)));
}

/* ---- digits from anywhere ---- */

/* The page and the step of the reading that is waited for come forward, and say so when they were not there. TRUE: it is there now. */
static gboolean
bring_reading (PawlWindow *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  const PawlStepState *here = pawl_session_peek_step (self->session), *there = pawl_step_find_reading (job, here);
  gboolean was_there = pawl_window_is_at_bench (self) && here == there;
  g_autoptr(PawlStepPage) page = NULL;
  g_autofree char *words = NULL;

  pawl_bench_page_leave_apart (pawl_window_get_bench_page (self));
  if (there == NULL)
    return FALSE;
  if (was_there)
    return TRUE;
  page = pawl_step_page_new (job, there->step->id);
  words = g_strdup_printf (_("What you type goes to “%s” of step %s"), page->first_reading->ask->name, there->step->number);
  pawl_window_show_page (self, "bench");
  pawl_session_look_at (self->session, there->step->id);
  pawl_step_panel_say (pawl_window_get_panel (self), words);
  return TRUE;
}

static void
say_nothing_waits (PawlWindow *self)
{
  const char *words = _("No reading is waited for: what was typed went nowhere");

  if (pawl_window_is_at_bench (self))
    pawl_step_panel_say (pawl_window_get_panel (self), words);
  else
    pawl_window_say (self, words);
}

static gboolean
type_reading (PawlWindow *self, guint keyval)
{
  char text[8] = { 0 };
  gunichar letter = gdk_keyval_to_unicode (keyval);

  if (letter == 0)
    return FALSE;
  g_unichar_to_utf8 (letter, text);
  if (bring_reading (self))
    return pawl_step_panel_type_reading (pawl_window_get_panel (self), text);
  if (!pawl_window_is_at_bench (self) || !pawl_step_panel_type_reading (pawl_window_get_panel (self), text)) /* a count of pieces */
    say_nothing_waits (self);
  return TRUE;
}

/* A gauge's value is told of even where nothing waits for it. */
void
pawl_window_bring_reading (PawlWindow *self)
{
  if (!bring_reading (self))
    pawl_window_show_page (self, "bench");
}

/* One key takes back what a gauge has just typed; anything else is taken back by the undo that is meant for it. */
static gboolean
reject_reading (PawlWindow *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  PawlEntry *newest = pawl_job_peek_undoable (job);
  const PawlAskState *ask = newest != NULL && pawl_entry_get_kind (newest) == PAWL_ENTRY_ANSWERED ? pawl_job_lookup_ask (job, pawl_entry_get_subject (newest)) : NULL;

  if (ask == NULL || ask->ask->kind != PAWL_ASK_READING)
    return FALSE;
  g_action_group_activate_action (G_ACTION_GROUP (self), "undo", NULL);
  return TRUE;
}

/* ---- a key ---- */

static gboolean
do_plan (PawlWindow *self, guint keyval, gint64 at_usec, PawlKeyPlan plan)
{
  if (plan != PAWL_KEY_ADVANCE)
    {
      pawl_pedal_pass (&self->pedal, at_usec);
      pawl_session_withdraw (self->session);
    }
  switch (plan)
    {
    case PAWL_KEY_ADVANCE:
      if (pawl_pedal_press (&self->pedal, keyval, at_usec))
        pawl_window_advance (self);
      return TRUE;
    case PAWL_KEY_BACK:
      pawl_window_look_back (self);
      return TRUE;
    case PAWL_KEY_READING:
      return type_reading (self, keyval);
    case PAWL_KEY_REJECT:
      return reject_reading (self);
    case PAWL_KEY_PASS:
    default:
      return FALSE;
    }
}

/* While the unit comes apart only to look, one key goes on and one back, and answers nothing; digits are a reading there too. */
static gboolean
do_plan_apart (PawlWindow *self, guint keyval, gint64 at_usec, PawlKeyPlan plan)
{
  PawlBenchPage *bench = pawl_window_get_bench_page (self);

  switch (plan)
    {
    case PAWL_KEY_ADVANCE:
      if (pawl_pedal_press (&self->pedal, keyval, at_usec))
        pawl_build_up_bar_step (pawl_bench_page_get_film (bench), 1);
      return TRUE;
    case PAWL_KEY_BACK:
      pawl_build_up_bar_step (pawl_bench_page_get_film (bench), -1);
      return TRUE;
    case PAWL_KEY_READING:
      pawl_bench_page_leave_apart (bench);
      return do_plan (self, keyval, at_usec, plan);
    case PAWL_KEY_REJECT:
    case PAWL_KEY_PASS:
    default:
      return FALSE;
    }
}

gboolean
pawl_window_press (PawlWindow *self, guint keyval, GdkModifierType state, gint64 at_usec)
{
  gboolean has_modifiers = (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0, is_apart;

  if (!is_in_job (self))
    return FALSE;
  is_apart = pawl_window_is_at_bench (self) && pawl_bench_page_is_apart (pawl_window_get_bench_page (self));
  if (has_modifiers)
    pawl_gauge_typing_reset (self->typing);
  else if (pawl_gauge_typing_press (self->typing, keyval, at_usec, gtk_window_get_focus (GTK_WINDOW (self))))
    return TRUE;
  else if (pawl_window_is_at_bench (self) && !is_apart && pawl_step_panel_press (pawl_window_get_panel (self), gtk_window_get_focus (GTK_WINDOW (self)), keyval, at_usec))
    return TRUE;
  return (is_apart ? do_plan_apart : do_plan) (self, keyval, at_usec, pawl_key_plan (keyval, has_modifiers, find_focus (self)));
}

void
pawl_window_release (PawlWindow *self, guint keyval, gint64 at_usec)
{
  pawl_pedal_release (&self->pedal, keyval, at_usec);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlWindow *self)
{
  return pawl_window_press (self, keyval, state, pawl_gauge_key_get_time (GTK_EVENT_CONTROLLER (controller)));
}

static void
key_released_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlWindow *self)
{
  pawl_window_release (self, keyval, pawl_gauge_key_get_time (GTK_EVENT_CONTROLLER (controller)));
}

static void
active_changed_cb (PawlWindow *self)
{
  pawl_pedal_forget (&self->pedal);
}

void
pawl_window_install_keys (PawlWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  g_signal_connect (keys, "key-released", G_CALLBACK (key_released_cb), self);
  g_signal_connect (self, "notify::is-active", G_CALLBACK (active_changed_cb), NULL);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
