#include "app/pawl-gauge-listener.h"

#include <glib/gi18n.h>
#include "app/pawl-gauge-key.h"

struct _PawlGaugeListener {
  GtkWidget parent_instance;

  /* children */
  GtkWidget *box, *button, *words;

  /* owned */
  GArray        *keys; /* (element-type PawlKeyPress) of the burst that comes in */
  PawlBurstForm  form; /* texts NULL before the first is learnt */

  gboolean is_on;
  guint    pause_id;
};

enum { LEARNT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlGaugeListener, pawl_gauge_listener, GTK_TYPE_WIDGET)

static void
say (PawlGaugeListener *self, const char *words)
{
  gtk_label_set_label (GTK_LABEL (self->words), words);
  gtk_widget_set_visible (self->words, *words != '\0');
}

static void
set_on (PawlGaugeListener *self, gboolean is_on)
{
  const char *label = is_on ? _("Listening…") : _("Let the gauge show how it types");

  self->is_on = is_on;
  g_clear_handle_id (&self->pause_id, g_source_remove);
  g_array_set_size (self->keys, 0);
  gtk_button_set_label (GTK_BUTTON (self->button), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

/* ---- one burst ---- */

/* Keys that come after the one that ends a reading belong to no number: some gauges send two. */
static guint
count_to_terminator (PawlGaugeListener *self)
{
  for (guint i = 0; i < self->keys->len; i++)
    {
      gunichar key = g_array_index (self->keys, PawlKeyPress, i).key;

      if (key == '\n' || key == '\t')
        return i + 1;
    }
  return self->keys->len;
}

static void
take_form (PawlGaugeListener *self, PawlBurstForm form, const char *reading) /* (transfer full) form */
{
  g_autofree char *words = g_strdup_printf (_("Learnt. It reads as %s: if that is not what the gauge shows, put the lines below right."), reading);

  pawl_burst_form_clear (&self->form);
  self->form = form;
  set_on (self, FALSE);
  say (self, words);
  g_signal_emit (self, signals[LEARNT], 0);
}

static gboolean
pause_cb (gpointer data)
{
  PawlGaugeListener *self = data;
  PawlBurstForm form = { 0 };
  g_autofree char *reading = NULL;

  self->pause_id = 0;
  switch (pawl_burst_learn ((const PawlKeyPress *) (gpointer) self->keys->data, count_to_terminator (self), &form, &reading))
    {
    case PAWL_LESSON_LEARNT:
      take_form (self, form, reading);
      break;
    case PAWL_LESSON_NO_NUMBER:
      say (self, _("That had no number in it. Lay the gauge on something and press its button again."));
      break;
    case PAWL_LESSON_BY_HAND:
    default:
      say (self, _("That came from a hand, or too slowly for a gauge. Press the gauge’s own button."));
      break;
    }
  g_array_set_size (self->keys, 0);
  return G_SOURCE_REMOVE;
}

void
pawl_gauge_listener_press (PawlGaugeListener *self, gunichar key, gint64 at_usec)
{
  const PawlKeyPress press = { key, at_usec };

  g_return_if_fail (self->is_on);
  g_array_append_val (self->keys, press);
  g_clear_handle_id (&self->pause_id, g_source_remove);
  self->pause_id = g_timeout_add (PAWL_BURST_PAUSE_USEC / 1000, pause_cb, self);
}

/* ---- listening ---- */

void
pawl_gauge_listener_start (PawlGaugeListener *self)
{
  gtk_widget_grab_focus (self->button);
  set_on (self, TRUE);
  say (self, _("Press the gauge’s button now, once. Nothing that it types goes anywhere else. Escape ends it."));
}

gboolean
pawl_gauge_listener_is_on (PawlGaugeListener *self)
{
  return self->is_on;
}

const PawlBurstForm *
pawl_gauge_listener_peek_form (PawlGaugeListener *self)
{
  return &self->form;
}

static void
stop (PawlGaugeListener *self)
{
  if (!self->is_on)
    return;
  set_on (self, FALSE);
  say (self, "");
}

static void
clicked_cb (GtkButton *button, PawlGaugeListener *self)
{
  if (self->is_on)
    stop (self);
  else
    pawl_gauge_listener_start (self);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlGaugeListener *self)
{
  gunichar key = pawl_gauge_key_from_keyval (keyval);

  if (!self->is_on)
    return FALSE;
  if (keyval == GDK_KEY_Escape)
    stop (self);
  else if (key != 0 && (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) == 0)
    pawl_gauge_listener_press (self, key, pawl_gauge_key_get_time (GTK_EVENT_CONTROLLER (controller)));
  else
    return FALSE;
  return TRUE;
}

/* Another window may have the keyboard meanwhile: who comes back finds it listening. */
static void
left_cb (GtkEventControllerFocus *controller, PawlGaugeListener *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  if (root == NULL || gtk_root_get_focus (root) != self->button)
    stop (self);
}

/* ---- widget ---- */

static void
pawl_gauge_listener_dispose (GObject *object)
{
  PawlGaugeListener *self = PAWL_GAUGE_LISTENER (object);

  g_clear_handle_id (&self->pause_id, g_source_remove);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_gauge_listener_parent_class)->dispose (object);
}

static void
pawl_gauge_listener_finalize (GObject *object)
{
  PawlGaugeListener *self = PAWL_GAUGE_LISTENER (object);

  g_array_unref (self->keys);
  pawl_burst_form_clear (&self->form);
  G_OBJECT_CLASS (pawl_gauge_listener_parent_class)->finalize (object);
}

static void
pawl_gauge_listener_class_init (PawlGaugeListenerClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_gauge_listener_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_gauge_listener_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[LEARNT] = g_signal_new ("learnt", PAWL_TYPE_GAUGE_LISTENER, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_gauge_listener_init (PawlGaugeListener *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *focus = gtk_event_controller_focus_new ();

  self->keys = g_array_new (FALSE, FALSE, sizeof (PawlKeyPress));
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->button = gtk_button_new ();
  gtk_widget_set_halign (self->button, GTK_ALIGN_START);
  g_signal_connect (self->button, "clicked", G_CALLBACK (clicked_cb), self);
  self->words = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->words), 0);
  gtk_widget_add_css_class (self->words, "difference");
  gtk_box_append (GTK_BOX (self->box), self->button);
  gtk_box_append (GTK_BOX (self->box), self->words);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (self->box, keys);
  g_signal_connect (focus, "leave", G_CALLBACK (left_cb), self);
  gtk_widget_add_controller (self->box, focus);
  set_on (self, FALSE);
  say (self, "");
}

GtkWidget *
pawl_gauge_listener_new (void)
{
  return g_object_new (PAWL_TYPE_GAUGE_LISTENER, NULL);
}
