/* One key, or a foot on a switch: what a press means at each ask, and that held keys, bounces and what gauges type press nothing. */
#include <gtk/gtk.h>
#include <string.h>

#include "window-fixture.h"
#include "app/pawl-ask-row.h"

/* ---- which presses count: no window ---- */

enum { DOWN, UP, OTHER };

typedef struct {
  int   what;
  guint key;
  int   at_msec;
  gboolean counts;
} Move;

static void
check_moves (const Move *moves, guint n)
{
  PawlPedal pedal = { 0 };

  for (guint i = 0; i < n; i++)
    switch (moves[i].what)
      {
      case DOWN:
        g_test_message ("move %u", i);
        g_assert_cmpint (pawl_pedal_press (&pedal, moves[i].key, moves[i].at_msec * G_GINT64_CONSTANT (1000)), ==, moves[i].counts);
        break;
      case UP:
        pawl_pedal_release (&pedal, moves[i].key, moves[i].at_msec * G_GINT64_CONSTANT (1000));
        break;
      default:
        pawl_pedal_pass (&pedal, moves[i].at_msec * G_GINT64_CONSTANT (1000));
      }
}

static void
test_pedal (void)
{
  static const Move calm[] = { { DOWN, 1, 0, TRUE }, { UP, 1, 90, 0 }, { DOWN, 1, 600, TRUE }, { UP, 1, 700, 0 }, { DOWN, 2, 1100, TRUE } };
  static const Move held[] = { { DOWN, 1, 0, TRUE }, { DOWN, 1, 500, FALSE }, { DOWN, 1, 530, FALSE }, { DOWN, 1, 2500, FALSE }, { DOWN, 1, 5400, FALSE },
                               { UP, 1, 5500, 0 }, { DOWN, 1, 6000, TRUE } };
  /* A display far off: each repeat is let go and pressed at one instant. */
  static const Move pairs[] = { { DOWN, 1, 0, TRUE }, { UP, 1, 500, 0 }, { DOWN, 1, 500, FALSE }, { UP, 1, 533, 0 }, { DOWN, 1, 534, FALSE },
                                { UP, 1, 900, 0 }, { DOWN, 1, 1300, TRUE } };
  static const Move bounce[] = { { DOWN, 1, 0, TRUE }, { UP, 1, 20, 0 }, { DOWN, 1, 35, FALSE }, { UP, 1, 150, 0 }, { DOWN, 1, 290, FALSE }, { UP, 1, 340, 0 },
                                 { DOWN, 1, 345, FALSE }, { UP, 1, 400, 0 }, { DOWN, 1, 500, TRUE } };
  static const Move two_keys[] = { { DOWN, 1, 0, TRUE }, { DOWN, 2, 100, FALSE }, { UP, 1, 110, 0 }, { UP, 2, 150, 0 }, { DOWN, 2, 450, TRUE } };
  static const Move gauge[] = { { OTHER, 0, 0, 0 }, { OTHER, 0, 10, 0 }, { DOWN, 1, 20, FALSE }, { UP, 1, 25, 0 }, { OTHER, 0, 1000, 0 }, { DOWN, 1, 1151, TRUE } };
  /* Let go in another window. */
  static const Move lost[] = { { DOWN, 1, 0, TRUE }, { DOWN, 1, 3200, TRUE } };
  static const Move anew[] = { { DOWN, 1, 900000, TRUE }, { UP, 1, 900100, 0 }, { DOWN, 1, 5, TRUE } };

  check_moves (calm, G_N_ELEMENTS (calm));
  check_moves (held, G_N_ELEMENTS (held));
  check_moves (pairs, G_N_ELEMENTS (pairs));
  check_moves (bounce, G_N_ELEMENTS (bounce));
  check_moves (two_keys, G_N_ELEMENTS (two_keys));
  check_moves (gauge, G_N_ELEMENTS (gauge));
  check_moves (lost, G_N_ELEMENTS (lost));
  check_moves (anew, G_N_ELEMENTS (anew));
}

/* ---- in the window ---- */

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  window_fixture_open (self);
  window_fixture_open_job (self);
}

static PawlSession *
get_session (WindowFixture *self)
{
  return pawl_window_get_session (self->window);
}

static const char *
get_step (WindowFixture *self)
{
  return pawl_session_peek_step (get_session (self))->step->id;
}

/* By the base's session, so before a window looks at the clock. */
static void
soak (WindowFixture *self)
{
  g_autoptr(GError) error = NULL;

  fixture_finish_first (&self->base);
  fixture_answer (&self->base, "plug-face", "good");
  fixture_answer (&self->base, "plug-size", "10 mm");
  for (guint i = 0; i < 2; i++)
    g_assert_true (pawl_session_advance (self->base.session, &error));
  fixture_wait (&self->base, 15);
}

static void
set_up_soaked (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  soak (self);
  window_fixture_open (self);
  window_fixture_open_job (self);
  pawl_session_look_at (get_session (self), "clean");
}

static void
set_up_at_seat (WindowFixture *self, gconstpointer is_ask_first)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) decision = NULL;

  self->base.is_ask_first = is_ask_first != NULL;
  fixture_set_up (&self->base, NULL);
  soak (self);
  g_assert_true (pawl_session_advance (self->base.session, &error));
  decision = pawl_answer_new_disposition (fixture_lookup_ask (&self->base, "plug-again"), "reuse", "", "", "", pawl_session_make_hand (self->base.session));
  g_assert_true (pawl_session_take (self->base.session, decision, NULL, &error));
  g_assert_true (pawl_session_advance (self->base.session, &error));
  window_fixture_open (self);
  window_fixture_open_job (self);
  g_assert_cmpstr (get_step (self), ==, "seat");
}

static guint
count_entries (WindowFixture *self)
{
  return pawl_job_get_entries (pawl_session_get_job (get_session (self)))->len;
}

static PawlAskStatus
get_status (WindowFixture *self, const char *ask)
{
  return pawl_job_lookup_ask (pawl_session_get_job (get_session (self)), ask)->status;
}

/* By hand. */
static void
answer (WindowFixture *self, const char *ask, const char *text)
{
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (fixture_lookup_ask (&self->base, ask), text, pawl_session_make_hand (get_session (self)));
  g_autoptr(GError) error = NULL;

  pawl_session_take (get_session (self), entry, NULL, &error);
  g_assert_no_error (error);
  fixture_iterate ();
}

/* Down and up again, @gap_msec after the key before; @n_repeats while it is down. */
static void
press_key (WindowFixture *self, guint keyval, int gap_msec, guint n_repeats)
{
  self->clock += gap_msec * 1000;
  pawl_window_press (self->window, keyval, 0, self->clock);
  for (guint i = 0; i < n_repeats; i++)
    pawl_window_press (self->window, keyval, 0, self->clock += 400 * 1000);
  pawl_window_release (self->window, keyval, self->clock += 80 * 1000);
  fixture_iterate ();
}

static void
press (WindowFixture *self)
{
  press_key (self, GDK_KEY_Page_Down, 1000, 0);
}

static void
check_offer (WindowFixture *self, const char *head, const char *words, const char *about)
{
  const PawlOffer *offer = pawl_session_peek_offer (get_session (self));
  const char *shown[] = { head, words, about };

  g_assert_cmpstr (offer != NULL ? offer->head : NULL, ==, head);
  g_assert_cmpstr (offer != NULL ? offer->words : NULL, ==, words);
  g_assert_cmpstr (offer != NULL ? offer->about : NULL, ==, about);
  for (guint i = 0; i < G_N_ELEMENTS (shown) && shown[i] != NULL; i++)
    g_assert_true (fixture_shows (GTK_WIDGET (self->window), shown[i]));
}

/* What is wanted: which, large; how, in the panel. */
static void
check_wanted (WindowFixture *self, const char *which, const char *how)
{
  check_offer (self, "Wanted:", which, NULL);
  g_assert_true (fixture_shows (GTK_WIDGET (pawl_window_get_panel (self->window)), how));
}

static GtkWidget *
get_focus (WindowFixture *self)
{
  return gtk_window_get_focus (GTK_WINDOW (self->window));
}

static void
check_at (WindowFixture *self, const char *ask)
{
  GtkWidget *row = PAWL_IS_ASK_ROW (get_focus (self)) ? get_focus (self) : gtk_widget_get_ancestor (get_focus (self), PAWL_TYPE_ASK_ROW);

  g_assert_nonnull (row);
  g_assert_cmpstr (pawl_ask_row_get_ask (PAWL_ASK_ROW (row))->id, ==, ask);
}

static void
activate (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

/* Two presses for each ask that a press may answer, one for what the button says; the rest says what it wants. From the first step to the last. */
static void
test_job (WindowFixture *self, gconstpointer data)
{
  guint n;

  press (self); /* a note: no press writes it down */
  check_wanted (self, "Match mark", "“Match mark”: write it down");
  check_at (self, "mark");
  press (self);
  g_assert_cmpint (get_status (self, "mark"), ==, PAWL_ASK_PENDING);
  answer (self, "mark", "to the flange");
  press (self);
  g_assert_cmpstr (get_step (self), ==, "lift");

  n = count_entries (self);
  press (self);
  check_offer (self, "Press again:", "Good", "Plug face");
  check_at (self, "plug-face");
  gtk_test_accessible_assert_property (get_focus (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, "Press again: Good");
  g_assert_true (fixture_shows (GTK_WIDGET (pawl_window_get_panel (self->window)), "Press again: Good")); /* on the button, too */
  g_assert_cmpuint (count_entries (self), ==, n);
  press (self);
  check_offer (self, "✓ Good", NULL, "Next: Plug, large end");
  g_assert_cmpint (get_status (self, "plug-face"), ==, PAWL_ASK_ACCEPTED);
  for (guint i = 0; i < 3; i++)
    press (self); /* a reading: never */
  check_wanted (self, "Plug, large end", "type the reading");
  check_at (self, "plug-size");
  g_assert_cmpuint (count_entries (self), ==, n + 1);
  answer (self, "plug-size", "10 mm");
  press (self);
  g_assert_cmpstr (get_step (self), ==, "clean");

  press (self); /* the wait is what the button says */
  g_assert_cmpint (get_status (self, "soak"), ==, PAWL_ASK_RUNNING);
  press (self);
  g_assert_cmpstr (get_step (self), ==, "seat"); /* meanwhile */
  g_assert_cmpint (get_status (self, "soak"), ==, PAWL_ASK_RUNNING);
}

/* It may come out: one press ends it. What becomes of the part is not said by a press. */
static void
test_soaked (WindowFixture *self, gconstpointer data)
{
  g_assert_cmpstr (get_step (self), ==, "clean");
  press (self);
  g_assert_cmpint (get_status (self, "soak"), ==, PAWL_ASK_ACCEPTED);
  press (self);
  press (self);
  check_wanted (self, "Plug", "choose what becomes of it");
  g_assert_cmpint (get_status (self, "plug-again"), ==, PAWL_ASK_PENDING);
}

/* A fit, shown: confirmed as it is shown. What was found wrong is never put right by a press. */
static void
test_fit (WindowFixture *self, gconstpointer data)
{
  press (self);
  check_offer (self, "Press again:", "Right way round", "Plug: which way round");
  check_at (self, "plug-way");
  press (self);
  g_assert_cmpint (get_status (self, "plug-way"), ==, PAWL_ASK_ACCEPTED);
  activate (self, "undo");
  check_offer (self, NULL, NULL, NULL);
  g_assert_cmpint (get_status (self, "plug-way"), ==, PAWL_ASK_PENDING);
  answer (self, "plug-way", "wrong");
  for (guint i = 0; i < 3; i++)
    press (self);
  check_wanted (self, "Plug: which way round", "put it right");
  g_assert_cmpint (get_status (self, "plug-way"), ==, PAWL_ASK_OUT);
}

/* A guess is not made by foot. */
static void
test_guess (WindowFixture *self, gconstpointer data)
{
  guint n = count_entries (self);

  for (guint i = 0; i < 3; i++)
    press (self);
  check_wanted (self, "Plug: which way round", "choose a picture, 1 or 2");
  check_at (self, "plug-way");
  g_assert_cmpuint (count_entries (self), ==, n);
}

/* Held down, bounced, or at the end of what a gauge types: the ask is shown, and not answered. What else is done makes the next press the first again. */
static void
test_slips (WindowFixture *self, gconstpointer data)
{
  fixture_finish_first (&self->base);
  window_fixture_open_job (self);
  press_key (self, GDK_KEY_space, 1000, 20);
  check_offer (self, "Press again:", "Good", "Plug face");
  g_assert_cmpint (get_status (self, "plug-face"), ==, PAWL_ASK_PENDING);
  pawl_session_withdraw (get_session (self));
  press_key (self, GDK_KEY_space, 1000, 0);
  press_key (self, GDK_KEY_space, 60, 0);
  press_key (self, GDK_KEY_Page_Down, 60, 0);
  check_offer (self, "Press again:", "Good", "Plug face");
  g_assert_cmpint (get_status (self, "plug-face"), ==, PAWL_ASK_PENDING);
  press_key (self, GDK_KEY_F10, 500, 0);
  check_offer (self, NULL, NULL, NULL);
  press_key (self, GDK_KEY_Return, 20, 0);
  check_offer (self, NULL, NULL, NULL);
  press_key (self, GDK_KEY_Return, 500, 0);
  check_offer (self, "Press again:", "Good", "Plug face");
  g_assert_cmpint (get_status (self, "plug-face"), ==, PAWL_ASK_PENDING);
  press_key (self, GDK_KEY_space, 500, 0); /* whichever of its keys */
  g_assert_cmpint (get_status (self, "plug-face"), ==, PAWL_ASK_ACCEPTED);
}

#define ADD(path, data, set, func) g_test_add (path, WindowFixture, data, set, func, window_fixture_tear_down)

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
  g_test_add_func ("/app/one-key/pedal", test_pedal);
  ADD ("/app/one-key/job", NULL, set_up, test_job);
  ADD ("/app/one-key/soaked", NULL, set_up_soaked, test_soaked);
  ADD ("/app/one-key/fit", NULL, set_up_at_seat, test_fit);
  ADD ("/app/one-key/guess", "ask first", set_up_at_seat, test_guess);
  ADD ("/app/one-key/slips", NULL, set_up, test_slips);
  return g_test_run ();
}
