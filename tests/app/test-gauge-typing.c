/*
 * A gauge types into the window: from anywhere on the page its value goes to the reading, with its mark, and leaves nothing behind elsewhere.
 * The bursts are invented, as recorded key by key: character, and milliseconds since the key before.
 */
#include <gtk/gtk.h>
#include <string.h>

#include "window-fixture.h"
#include "app/pawl-look.h"

/* Two places of the bore, then the shaft; all by the tool "gauge". */
#define PROCEDURE "good/derived.xml"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, PROCEDURE);
  window_fixture_open (self);
  self->clock = 1000;
}

static PawlStepPanel *
get_panel (WindowFixture *self)
{
  return pawl_bench_page_get_panel (pawl_window_get_bench_page (self->window));
}

static PawlSession *
get_session (WindowFixture *self)
{
  return pawl_window_get_session (self->window);
}

/* ---- a keyboard ---- */

/* What GTK does with a key that the window leaves alone: it goes into the line that has the keyboard. */
static void
pass_on (WindowFixture *self, gunichar key)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  char text[8] = { 0 };
  int position;

  if (!GTK_IS_EDITABLE (focus))
    return;
  if (key == '\n')
    {
      g_signal_emit_by_name (gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY), "activate");
      return;
    }
  position = gtk_editable_get_position (GTK_EDITABLE (focus));
  gtk_editable_insert_text (GTK_EDITABLE (focus), text, g_unichar_to_utf8 (key, text), &position);
  gtk_editable_set_position (GTK_EDITABLE (focus), position);
}

static void
press (WindowFixture *self, gunichar key, guint gap_msec)
{
  guint keyval = key == '\n' ? GDK_KEY_Return : key == '\t' ? GDK_KEY_Tab : gdk_unicode_to_keyval (key);

  self->clock += gap_msec;
  if (!pawl_window_press (self->window, keyval, 0, self->clock * 1000))
    pass_on (self, key);
}

/* The first key comes a second after the one before. */
static void
type (WindowFixture *self, const char *text, guint gap_msec)
{
  for (guint i = 0; text[i] != '\0'; i++)
    press (self, (gunichar) text[i], i == 0 ? 1000 : gap_msec);
  fixture_iterate ();
}

static void
wait_for_pause (void)
{
  gint64 until = g_get_monotonic_time () + 3 * PAWL_BURST_PAUSE_USEC;

  while (g_get_monotonic_time () < until)
    g_main_context_iteration (NULL, FALSE);
  fixture_iterate ();
}

/* ---- what came of it ---- */

static guint
count_attempts (WindowFixture *self, const char *ask_id)
{
  return pawl_job_lookup_ask (pawl_session_get_job (get_session (self)), ask_id)->attempts->len;
}

static PawlEntry *
get_last (WindowFixture *self, const char *ask_id)
{
  GPtrArray *attempts = pawl_job_lookup_ask (pawl_session_get_job (get_session (self)), ask_id)->attempts;

  g_assert_cmpuint (attempts->len, >, 0);
  return ((PawlAttempt *) attempts->pdata[attempts->len - 1])->entry;
}

static void
check_last (WindowFixture *self, const char *ask_id, const char *typed, const char *mark)
{
  g_assert_cmpstr (pawl_entry_get (get_last (self, ask_id), "answer"), ==, typed);
  g_assert_cmpstr (pawl_entry_get (get_last (self, ask_id), "tool-serial"), ==, mark);
}

static const char *
get_line (WindowFixture *self, const char *ask_id)
{
  return pawl_session_peek_draft (get_session (self), ask_id, "answer");
}

/* ---- tests ---- */

/* One burst, one value: with places still open it goes to the next of them, wherever the keyboard is. */
static void
test_places (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "prefix", "M3:", "suffix", "mm", "terminator", "enter", "unit", "mm", "error", "0.004 mm", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "M3: +8.012mm\n", 10);
  g_assert_cmpstr (get_line (self, "bore"), ==, "+8.012 mm; ");
  g_assert_cmpuint (count_attempts (self, "bore"), ==, 0);
  pawl_step_panel_rest (get_panel (self));
  type (self, "M3: +8.015mm\n\n", 10); /* two Enters: the second presses nothing */
  check_last (self, "bore", "+8.012 mm; +8.015 mm", "MIC-3");
  g_assert_cmpstr (get_line (self, "bore"), ==, "");
  g_assert_cmpuint (count_attempts (self, "shaft"), ==, 0);
  type (self, "M3: 7.980mm\n", 10);
  check_last (self, "shaft", "7.980 mm", "MIC-3");
  g_assert_cmpstr (pawl_entry_get (get_last (self, "shaft"), "error"), ==, "0.004 mm"); /* the register's figures are copied with it */
}

/* The line of a note has what it had before, and the value is where it belongs. */
static void
test_from_a_note (WindowFixture *self, gconstpointer data)
{
  GtkWidget *focus;

  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "prefix", "M3:", "terminator", "tab", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_prompt (get_panel (self), PAWL_PROMPT_NOTE);
  fixture_iterate ();
  focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  g_assert_true (GTK_IS_EDITABLE (focus));
  type (self, "burr on ", 120);
  type (self, "M3:8.012\t", 10);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (focus)), ==, "burr on ");
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.012; ");
}

/* What a hand had half typed gives way; what it had typed whole stays. */
static void
test_half_typed (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.01; 8", 150);
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.01; 8");
  type (self, "8.02\n", 12);
  check_last (self, "bore", "8.01; 8.02", "MIC-3");
}

/* A hand stays a hand: its digits go into the line, and Enter takes them without a mark. */
static void
test_hand (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "terminator", "enter", NULL);
  fixture_put_in (&self->base, "MIC-4", "kind", "gauge", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.01\n", 90);
  type (self, "8.02\n", 60);
  check_last (self, "bore", "8.01; 8.02", NULL);
}

/* From elsewhere on the page the next value is put behind those that are in, not in their place. */
static void
test_hand_from_elsewhere (WindowFixture *self, gconstpointer data)
{
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.01\n", 90);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.02", 90);
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.01; 8.02");
}

/* Its end is a pause. The unit is the gauge's own, the decimal mark becomes that of the line. */
static void
test_pause (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "DG-1", "kind", "gauge", "suffix", "in", "decimal-mark", ",", "terminator", "none", "unit", "in", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "0,3154in", 10);
  wait_for_pause ();
  g_assert_cmpstr (get_line (self, "bore"), ==, "0.3154 in; ");
  type (self, "0,3155in", 10);
  wait_for_pause ();
  check_last (self, "bore", "0.3154 in; 0.3155 in", "DG-1");
}

/* Of two that type alike the chosen one is believed; while none is, nothing is taken. */
static void
test_alike (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "CAL-1", "kind", "gauge", "terminator", "enter", NULL);
  fixture_put_in (&self->base, "CAL-2", "kind", "gauge", "terminator", "enter", NULL);
  fixture_put_in (&self->base, "SCALE", "kind", "scale", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.01\n", 10);
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.01");
  g_assert_cmpuint (count_attempts (self, "bore"), ==, 0);
  pawl_session_keep_draft (get_session (self), "bore", "instrument", "CAL-2");
  pawl_session_forget_register (get_session (self)); /* applies the page again */
  fixture_iterate ();
  type (self, "8.01\n", 10);
  type (self, "8.02\n", 10);
  check_last (self, "bore", "8.01; 8.02", "CAL-2");
}

/* Figures alone that come into a line of text may be a lot's bar code; without such a line they are a reading. */
static void
test_bar_code (WindowFixture *self, gconstpointer data)
{
  GtkWidget *focus;

  fixture_put_in (&self->base, "DG-1", "kind", "gauge", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_prompt (get_panel (self), PAWL_PROMPT_DEVIATE);
  fixture_iterate ();
  focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  type (self, "4006381333931\n", 8);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (focus)), ==, "4006381333931");
  g_assert_cmpstr (get_line (self, "bore"), ==, "");
  pawl_step_panel_rest (get_panel (self));
  type (self, "801\n", 8);
  g_assert_cmpstr (get_line (self, "bore"), ==, "801; ");
}

/* A gauge that nobody put into the register types as it always did: into the line, with no mark. */
static void
test_stranger (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "prefix", "M3:", "terminator", "enter", NULL);
  fixture_put_in (&self->base, "MIC-9", "kind", "gauge", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.01\n", 10);
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.01; ");
  pawl_step_panel_rest (get_panel (self));
  type (self, "8.02\n", 10);
  check_last (self, "bore", "8.01; 8.02", NULL);
}

/* Spaces that pad the number press no button, and where no reading is open nothing is answered. */
static void
test_nowhere (WindowFixture *self, gconstpointer data)
{
  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "prefix", "M3:", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  pawl_step_panel_rest (get_panel (self));
  type (self, "M3:   8.01\n", 10);
  type (self, "M3:   8.02\n", 10);
  type (self, "M3:   7.98\n", 10);
  check_last (self, "shaft", "7.98", "MIC-3");
  g_assert_cmpuint (count_attempts (self, "bore"), ==, 1);
  pawl_step_panel_rest (get_panel (self));
  type (self, "M3:   7.98\n", 10);
  g_assert_cmpuint (count_attempts (self, "bore"), ==, 1);
  g_assert_cmpuint (count_attempts (self, "shaft"), ==, 1);
}

static void
show_page (WindowFixture *self, const char *page)
{
  pawl_window_show_page (self->window, page);
  fixture_iterate ();
  gtk_widget_child_focus (GTK_WIDGET (self->window), GTK_DIR_TAB_FORWARD);
}

/* By hand, from each page of the job: it comes forward and says where the digit went. Letters and spaces stay the page's. */
static void
test_other_pages (WindowFixture *self, gconstpointer data)
{
  static const char * const pages[] = { "run", "readings", "parts", "report", "history" };
  static const char keys[] = "8.,-2";

  window_fixture_open_job (self);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    {
      const char typed[] = { keys[i], '\0' };

      show_page (self, pages[i]);
      type (self, "a", 0);
      type (self, " ", 0);
      g_assert_false (pawl_window_is_at_bench (self->window));
      show_page (self, pages[i]); /* the space may have pressed something there */
      type (self, typed, 0);
      g_assert_true (pawl_window_is_at_bench (self->window));
      g_assert_cmpstr (get_line (self, "bore"), ==, typed);
      g_assert_true (fixture_shows (GTK_WIDGET (get_panel (self)), "What you type goes to “Bore” of step 1"));
      gtk_editable_set_text (GTK_EDITABLE (gtk_window_get_focus (GTK_WINDOW (self->window))), "");
    }
}

/* A line for text on another page keeps what a hand types into it, and has what it had before a gauge typed. */
static void
test_gauge_on_other_page (WindowFixture *self, gconstpointer data)
{
  GtkWidget *entry = NULL;

  fixture_put_in (&self->base, "MIC-3", "kind", "gauge", "prefix", "M3:", "terminator", "enter", NULL);
  window_fixture_open_job (self);
  show_page (self, "parts");
  type (self, "M3:8.01\n", 10);
  g_assert_true (pawl_window_is_at_bench (self->window));
  g_assert_cmpstr (get_line (self, "bore"), ==, "8.01; ");
  g_action_group_activate_action (G_ACTION_GROUP (self->window), "sign", NULL);
  fixture_iterate ();
  entry = gtk_window_get_focus (GTK_WINDOW (self->window));
  g_assert_true (GTK_IS_EDITABLE (entry));
  g_object_ref (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
  type (self, "1 Jory", 150);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "1 Jory");
  g_assert_false (pawl_window_is_at_bench (self->window));
  type (self, "M3:8.02\n", 10);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "1 Jory");
  g_assert_true (pawl_window_is_at_bench (self->window));
  check_last (self, "bore", "8.01; 8.02", "MIC-3");
  g_object_unref (entry);
}

/* Where nothing waits, digits are told of, and nothing else comes of them. */
static void
test_nothing_waits (WindowFixture *self, gconstpointer data)
{
  window_fixture_open_job (self);
  type (self, "8.01\n", 100);
  type (self, "8.02\n", 100);
  type (self, "7.98\n", 100);
  show_page (self, "parts");
  type (self, "8", 0);
  g_assert_false (pawl_window_is_at_bench (self->window));
  g_assert_true (fixture_shows (GTK_WIDGET (self->window), "No reading is waited for"));
}

#define ADD(path, func) g_test_add (path, WindowFixture, NULL, set_up, func, window_fixture_tear_down)

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
  ADD ("/app/gauge/places", test_places);
  ADD ("/app/gauge/from-a-note", test_from_a_note);
  ADD ("/app/gauge/half-typed", test_half_typed);
  ADD ("/app/gauge/hand", test_hand);
  ADD ("/app/gauge/hand-from-elsewhere", test_hand_from_elsewhere);
  ADD ("/app/gauge/pause", test_pause);
  ADD ("/app/gauge/alike", test_alike);
  ADD ("/app/gauge/bar-code", test_bar_code);
  ADD ("/app/gauge/stranger", test_stranger);
  ADD ("/app/gauge/nowhere", test_nowhere);
  ADD ("/app/gauge/other-pages", test_other_pages);
  ADD ("/app/gauge/gauge-on-other-page", test_gauge_on_other_page);
  ADD ("/app/gauge/nothing-waits", test_nothing_waits);
  return g_test_run ();
}
