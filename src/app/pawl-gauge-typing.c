#include "app/pawl-gauge-typing.h"

#include <glib/gi18n.h>
#include "app/pawl-gauge-key.h"
#include "app/pawl-gauge-match.h"

struct _PawlGaugeTyping {
  PawlStepPanel *panel;   /* borrowed */
  PawlSession   *session; /* (nullable) owned */
  PawlGaugeBring bring;
  gpointer       data;

  GArray    *keys;        /* (element-type PawlKeyPress) of this run */
  GtkWidget *focus;       /* (nullable) weak: a line of text that had the keyboard when the run began */
  char      *text;        /* (nullable) what stood in it */
  int        position;
  gint64     ended_usec;  /* when a gauge's last key came; 0: not in this run */
  guint      pause_id;
};

static void
forget_focus (PawlGaugeTyping *self)
{
  g_clear_weak_pointer (&self->focus);
  g_clear_pointer (&self->text, g_free);
}

void
pawl_gauge_typing_reset (PawlGaugeTyping *self)
{
  g_clear_handle_id (&self->pause_id, g_source_remove);
  g_array_set_size (self->keys, 0);
  forget_focus (self);
}

/* ---- a run begins ---- */

static void
begin (PawlGaugeTyping *self, GtkWidget *focus)
{
  pawl_gauge_typing_reset (self);
  self->ended_usec = 0;
  pawl_step_panel_begin_burst (self->panel);
  if (!GTK_IS_EDITABLE (focus))
    return;
  g_set_weak_pointer (&self->focus, focus);
  self->text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (focus)));
  self->position = gtk_editable_get_position (GTK_EDITABLE (focus));
}

static gint64
get_gap (PawlGaugeTyping *self, gint64 at_usec)
{
  return self->keys->len > 0 ? at_usec - g_array_index (self->keys, PawlKeyPress, self->keys->len - 1).at_usec : G_MAXINT64;
}

/* ---- a run ends ---- */

/* What the gauge's keys did to the line that they fell into. */
static void
take_back (PawlGaugeTyping *self)
{
  if (self->focus == NULL)
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->focus), self->text);
  gtk_editable_set_position (GTK_EDITABLE (self->focus), self->position);
}

static void
deliver (PawlGaugeTyping *self, const PawlGaugeMatch *match)
{
  g_autofree char *doubt = match->burst == PAWL_BURST_SEVERAL
    ? g_strdup_printf (_("%s type alike: choose which it was, then take the reading"), match->mark) : NULL;
  g_autofree char *unwanted = g_strdup_printf (_("%s typed %s: this step has no open reading that it could go to"), match->mark, match->value);

  if (!pawl_step_panel_take_burst (self->panel, self->focus, match->value, doubt == NULL ? match->mark : NULL, doubt))
    pawl_step_panel_say (self->panel, unwanted);
}

/* Figures alone in a line of text, a lot number say, may come from a scanner: they stay where they are. */
static gboolean
is_meant_for_text (PawlGaugeTyping *self, const PawlGaugeMatch *match)
{
  return match->is_bare && self->focus != NULL && !pawl_step_panel_is_in_reading (self->panel, self->focus);
}

static void
make_match (PawlGaugeTyping *self, const PawlRegister *instruments, gint64 now_usec, PawlGaugeMatch *match)
{
  g_autofree char *chosen = NULL;
  const PawlAsk *ask = pawl_step_panel_find_reading (self->panel, self->focus, &chosen);

  pawl_gauge_match_make ((const PawlKeyPress *) (gpointer) self->keys->data, self->keys->len, now_usec, instruments,
                         pawl_bench_get_procedure (pawl_session_get_bench (self->session)), ask, chosen, match);
}

/* Twice: that it was a gauge is known by the first, which reading it goes to only once that has come forward. */
static gboolean
finish (PawlGaugeTyping *self, gint64 now_usec)
{
  const PawlRegister *instruments = self->session != NULL ? pawl_session_peek_register (self->session) : NULL;
  g_auto(PawlGaugeMatch) match = { 0 }, there = { 0 };

  if (instruments == NULL)
    return FALSE;
  make_match (self, instruments, now_usec, &match);
  if ((match.burst != PAWL_BURST_GAUGE && match.burst != PAWL_BURST_SEVERAL) || is_meant_for_text (self, &match))
    return FALSE;
  self->ended_usec = g_array_index (self->keys, PawlKeyPress, self->keys->len - 1).at_usec;
  take_back (self);
  if (!pawl_step_panel_is_in_reading (self->panel, self->focus))
    self->bring (self->data);
  make_match (self, instruments, now_usec, &there);
  deliver (self, &there);
  pawl_gauge_typing_reset (self);
  return TRUE;
}

/* The gauges that end by nothing but silence. */
static gboolean
pause_cb (gpointer data)
{
  PawlGaugeTyping *self = data;

  self->pause_id = 0;
  finish (self, g_array_index (self->keys, PawlKeyPress, self->keys->len - 1).at_usec + PAWL_BURST_PAUSE_USEC);
  return G_SOURCE_REMOVE;
}

/* ---- a key ---- */

static gboolean
is_modifier (guint keyval)
{
  return (keyval >= GDK_KEY_Shift_L && keyval <= GDK_KEY_Hyper_R) || keyval == GDK_KEY_ISO_Level3_Shift;
}

static gboolean
note (PawlGaugeTyping *self, gunichar key, gint64 at_usec, GtkWidget *focus)
{
  const PawlKeyPress press = { key, at_usec };
  gboolean is_fast = get_gap (self, at_usec) <= PAWL_BURST_GAP_USEC;

  if (get_gap (self, at_usec) > PAWL_BURST_SLOW_GAP_USEC)
    begin (self, focus);
  g_array_append_val (self->keys, press);
  g_clear_handle_id (&self->pause_id, g_source_remove);
  if (self->keys->len < PAWL_BURST_MIN_KEYS)
    return is_fast && key == ' ' && !GTK_IS_EDITABLE (focus);
  if (key == '\n' || key == '\t')
    return finish (self, at_usec);
  self->pause_id = g_timeout_add (PAWL_BURST_PAUSE_USEC / 1000, pause_cb, self);
  return is_fast && key == ' ' && !GTK_IS_EDITABLE (focus);
}

gboolean
pawl_gauge_typing_press (PawlGaugeTyping *self, guint keyval, gint64 at_usec, GtkWidget *focus)
{
  gunichar key = pawl_gauge_key_from_keyval (keyval);

  if (is_modifier (keyval))
    return FALSE;
  /* Some gauges end with two keys; the second must not press whatever has the keyboard by then. */
  if (self->ended_usec != 0 && (key == '\n' || key == '\t') && at_usec - self->ended_usec <= PAWL_BURST_SLOW_GAP_USEC)
    return TRUE;
  if (key == 0)
    {
      pawl_gauge_typing_reset (self);
      return FALSE;
    }
  return note (self, key, at_usec, focus);
}

/* ---- life ---- */

void
pawl_gauge_typing_set_session (PawlGaugeTyping *self, PawlSession *session)
{
  pawl_gauge_typing_reset (self);
  g_set_object (&self->session, session);
}

PawlGaugeTyping *
pawl_gauge_typing_new (PawlStepPanel *panel, PawlGaugeBring bring, gpointer data)
{
  PawlGaugeTyping *self = g_new0 (PawlGaugeTyping, 1);

  self->panel = panel;
  self->bring = bring;
  self->data = data;
  self->keys = g_array_new (FALSE, FALSE, sizeof (PawlKeyPress));
  return self;
}

void
pawl_gauge_typing_free (PawlGaugeTyping *self)
{
  pawl_gauge_typing_reset (self);
  g_array_unref (self->keys);
  g_clear_object (&self->session);
  g_free (self);
}
