/* Readings in the unit that a person prefers: shown first, with what was typed and what the book prints; what has no unit and could be either is asked back. */
#include <gtk/gtk.h>
#include <string.h>

#include "window-fixture.h"

/* Bore 8.00..8.03 mm at two places, then the shaft, 7.97..7.99 mm. */
#define PROCEDURE "good/derived.xml"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, PROCEDURE);
  window_fixture_open (self);
  window_fixture_open_job (self);
}

static PawlStepPanel *
get_panel (WindowFixture *self)
{
  return pawl_bench_page_get_panel (pawl_window_get_bench_page (self->window));
}

static gboolean
shows (WindowFixture *self, const char *words)
{
  return fixture_shows (GTK_WIDGET (self->window), words);
}

static void
read_inches (WindowFixture *self, gboolean is_inch)
{
  g_action_group_change_action_state (G_ACTION_GROUP (self->window), "inch", g_variant_new_boolean (is_inch));
  fixture_iterate ();
}

static void
come (WindowFixture *self, const char *person)
{
  pawl_session_set_person (pawl_window_get_session (self->window), person);
  pawl_window_apply_lengths (self->window, pawl_window_get_session (self->window));
  fixture_iterate ();
}

/* A hand: the line of the first open reading, and Enter. */
static void
type (WindowFixture *self, const char *text)
{
  GtkWidget *focus;

  pawl_step_panel_go (get_panel (self));
  focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  g_assert_true (GTK_IS_EDITABLE (focus));
  gtk_editable_set_text (GTK_EDITABLE (focus), text);
  g_signal_emit_by_name (gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY), "activate");
  fixture_iterate ();
}

static GPtrArray *
list_attempts (WindowFixture *self, const char *ask)
{
  return pawl_job_lookup_ask (pawl_session_get_job (pawl_window_get_session (self->window)), ask)->attempts;
}

static void
test_shown (WindowFixture *self, gconstpointer data)
{
  g_assert_true (shows (self, "Limits 8.00..8.03 mm  (sheet p. 1)"));
  read_inches (self, TRUE);
  g_assert_true (shows (self, "Limits ≈ 0.3150..0.3161 in (book: 8.00..8.03 mm; sheet p. 1)"));
  type (self, "8.01; 8.02");
  type (self, "7.99");
  g_assert_true (shows (self, "≈ 0.3146 in · 7.99 mm"));
  g_assert_cmpstr (pawl_entry_get (((PawlAttempt *) list_attempts (self, "shaft")->pdata[0])->entry, "answer"), ==, "7.99"); /* as typed */
  pawl_window_show_page (self->window, "readings");
  fixture_iterate ();
  g_assert_true (shows (self, "≈ 0.3146 in · 7.99 mm"));
  pawl_window_show_page (self->window, "bench");
  come (self, "Somebody Else");
  g_assert_false (fixture_shows (GTK_WIDGET (get_panel (self)), "0.3146 in · 7.99 mm"));
  g_assert_true (shows (self, "7.99 mm · ≈ 0.3146 in")); /* nobody said */
  come (self, FIXTURE_PERSON);
  g_assert_true (fixture_shows (GTK_WIDGET (get_panel (self)), "≈ 0.3146 in · 7.99 mm"));
}

/* Over the limit by less than four places of an inch show: there are more of them. */
static void
test_beyond (WindowFixture *self, gconstpointer data)
{
  read_inches (self, TRUE);
  type (self, "8.01; 8.02");
  type (self, "7.9901");
  g_assert_true (shows (self, "≈ 0.314571 in · 7.9901 mm"));
  g_assert_true (shows (self, "0.314567 in (book: 7.97..7.99 mm"));
}

static void
test_asked_back (WindowFixture *self, gconstpointer data)
{
  type (self, ".315"); /* 8.001 mm, if it was in inches */
  g_assert_true (shows (self, "Is it .315 mm, or .315 in? The first is outside, the second inside: type the unit behind it"));
  g_assert_cmpuint (list_attempts (self, "bore")->len, ==, 0);
  type (self, ".315 in; 8.01");
  g_assert_cmpuint (list_attempts (self, "bore")->len, ==, 1);
  g_assert_cmpstr (pawl_entry_get (((PawlAttempt *) list_attempts (self, "bore")->pdata[0])->entry, "answer"), ==, ".315 in; 8.01");
  type (self, ".3 mm"); /* it says so: out, and taken */
  g_assert_cmpuint (list_attempts (self, "shaft")->len, ==, 1);
}

#define ADD(path, func) g_test_add (path, WindowFixture, NULL, set_up, func, window_fixture_tear_down)

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
  ADD ("/app/own-unit/shown", test_shown);
  ADD ("/app/own-unit/beyond", test_beyond);
  ADD ("/app/own-unit/asked-back", test_asked_back);
  return g_test_run ();
}
