/* How a unit comes apart, through the window: reached from the step, walked by one key, what is found written down for the way in, and left again. */
#include <gtk/gtk.h>
#include <locale.h>

#include "window-fixture.h"
#include "app/pawl-prompt-form.h"
#include "app/pawl-teardown-panel.h"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  window_fixture_open (self);
  window_fixture_open_job (self);
}

#define assert_shown(self, words) g_assert_true (fixture_shows (GTK_WIDGET ((self)->window), words))
#define assert_not_shown(self, words) g_assert_false (fixture_shows (GTK_WIDGET ((self)->window), words))

static void
give (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

/* A second after the last one, so that it is a press of its own. */
static void
press (WindowFixture *self, guint keyval)
{
  self->clock += G_USEC_PER_SEC;
  pawl_window_press (self->window, keyval, 0, self->clock);
  pawl_window_release (self->window, keyval, self->clock + 1000);
  fixture_iterate ();
}

static void
press_button (GtkWidget *within, const char *label)
{
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    press_button (child, label);
  if (GTK_IS_BUTTON (within) && gtk_widget_get_mapped (within) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (within)), label) == 0)
    g_signal_emit_by_name (within, "clicked");
}

static guint
count_entries (WindowFixture *self)
{
  return pawl_job_get_entries (pawl_session_get_job (pawl_window_get_session (self->window)))->len;
}

/* Keys go through the mirror and answer nothing; at the end all is off, and back goes back. Digits are meant for the job, and bring it back. */
static void
test_walk (WindowFixture *self, gconstpointer data)
{
  guint n = count_entries (self);

  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (pawl_window_get_panel (self->window))));
  give (self, "take-apart");
  g_assert_false (gtk_widget_get_mapped (GTK_WIDGET (pawl_window_get_panel (self->window))));
  assert_shown (self, "Advice that nobody has tried");
  assert_not_shown (self, "This procedure has steps of its own");
  assert_shown (self, "1 of 2, off: 4 Nut × 2 → tray 1, place 1\n3 Washer → old parts");
  assert_shown (self, "Mind: “Washer” is spoilt by it.");
  assert_shown (self, "Before it, write down as found: Stand-off of the nut");
  assert_not_shown (self, "Torque of the nut");
  assert_shown (self, "Before it, write down as found: Plug (this unit’s own mark, asked by step 1)");
  press (self, GDK_KEY_Page_Down);
  assert_shown (self, "2 of 2, off: 2 Plug → tray 1, place 2");
  press (self, GDK_KEY_Page_Down);
  assert_shown (self, "All that was fitted is off");
  press (self, GDK_KEY_Page_Down);
  press (self, GDK_KEY_Page_Up);
  assert_shown (self, "2 of 2, off: 2 Plug");
  g_assert_cmpuint (count_entries (self), ==, n);
  press (self, '7');
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (pawl_window_get_panel (self->window))));
  assert_not_shown (self, "2 of 2, off:");
}

/* What was found stands beside the step on the way in, and Undo takes it back. */
static void
test_found (WindowFixture *self, gconstpointer data)
{
  GtkWidget *panel = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_TEARDOWN_PANEL), *form;
  guint n = count_entries (self);

  give (self, "take-apart");
  press (self, GDK_KEY_Page_Down);
  form = fixture_find (panel, PAWL_TYPE_PROMPT_FORM);
  press_button (panel, "Write it down…");
  fixture_iterate ();
  g_assert_true (gtk_widget_get_mapped (form));
  press_button (form, "Write it down");
  fixture_iterate ();
  g_assert_cmpuint (count_entries (self), ==, n); /* nothing was typed */
  assert_shown (self, "A note needs its text");
  pawl_prompt_form_set_line (PAWL_PROMPT_FORM (form), 0, "dots a finger apart");
  press_button (form, "Write it down");
  fixture_iterate ();
  assert_shown (self, "Note by " FIXTURE_PERSON ": As found: dots a finger apart");
  give (self, "take-apart"); /* it is shown already: nothing changes */
  pawl_bench_page_leave_apart (pawl_window_get_bench_page (self->window));
  pawl_session_look_at (pawl_window_get_session (self->window), "seat");
  fixture_iterate ();
  assert_shown (self, "As found: dots a finger apart");
  give (self, "undo");
  assert_not_shown (self, "As found: dots a finger apart");
}

/* Where the file says itself how to take apart, the mirror says to go by that, and no step offers it. */
static void
test_stated (WindowFixture *self, gconstpointer data)
{
  assert_not_shown (self, "How it comes apart");
  give (self, "take-apart");
  assert_shown (self, "This procedure has steps of its own for taking apart");
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/teardown/walk", WindowFixture, "good/assembly-only.xml", set_up, test_walk, window_fixture_tear_down);
  g_test_add ("/teardown/found", WindowFixture, "good/assembly-only.xml", set_up, test_found, window_fixture_tear_down);
  g_test_add ("/teardown/stated", WindowFixture, "good/parts.xml", set_up, test_stated, window_fixture_tear_down);
  return g_test_run ();
}
