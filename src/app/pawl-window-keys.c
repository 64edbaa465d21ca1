/* Keys, before they do anything: a gauge that types, a foot switch, digits from anywhere. */
#include "app/pawl-window-private.h"

#include "app/pawl-gauge-key.h"
#include "app/pawl-key-plan.h"

static PawlFocus
find_focus (PawlWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (pawl_window_get_bench_page (self))))
    return focus != NULL && GTK_IS_TEXT (focus) ? PAWL_FOCUS_TEXT : PAWL_FOCUS_CONTROL;
  if (GTK_IS_TEXT_VIEW (focus))
    return PAWL_FOCUS_LONG_TEXT;
  if (GTK_IS_EDITABLE (focus))
    return *gtk_editable_get_text (GTK_EDITABLE (focus)) == '\0' ? PAWL_FOCUS_EMPTY_TEXT : PAWL_FOCUS_TEXT;
  if (GTK_IS_BUTTON (focus))
    return g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (focus)), "win.advance") == 0 ? PAWL_FOCUS_NOWHERE : PAWL_FOCUS_CONTROL;
  return GTK_IS_TOGGLE_BUTTON (focus) || GTK_IS_DROP_DOWN (focus) ? PAWL_FOCUS_CONTROL : PAWL_FOCUS_NOWHERE;
}

static gboolean
type_reading (PawlWindow *self, guint keyval)
{
  char text[8] = { 0 };
  gunichar letter = gdk_keyval_to_unicode (keyval);

  if (letter == 0)
    return FALSE;
  g_unichar_to_utf8 (letter, text);
  return pawl_step_panel_type_reading (pawl_window_get_panel (self), text);
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

gboolean
pawl_window_press (PawlWindow *self, guint keyval, GdkModifierType state, gint64 at_usec)
{
  gboolean has_modifiers = (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0;

  if (!pawl_window_is_at_bench (self))
    return FALSE;
  if (has_modifiers)
    pawl_gauge_typing_reset (self->typing);
  else if (pawl_gauge_typing_press (self->typing, keyval, at_usec, gtk_window_get_focus (GTK_WINDOW (self))))
    return TRUE;
  else if (pawl_step_panel_press (pawl_window_get_panel (self), gtk_window_get_focus (GTK_WINDOW (self)), keyval, at_usec))
    return TRUE;
  switch (pawl_key_plan (keyval, has_modifiers, find_focus (self)))
    {
    case PAWL_KEY_ADVANCE:
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

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlWindow *self)
{
  return pawl_window_press (self, keyval, state, pawl_gauge_key_get_time (GTK_EVENT_CONTROLLER (controller)));
}

void
pawl_window_install_keys (PawlWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
