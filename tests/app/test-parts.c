/* Parts through the window: where a step lays and fetches them, what the kit brings and leaves over, what is not there and stops its step, Undo. */
#include <gtk/gtk.h>
#include <locale.h>
#include <string.h>

#include "window-fixture.h"
#include "app/pawl-look.h"
#include "app/pawl-supply-form.h"
#include "job/pawl-job-parts.h"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, "good/parts.xml");
  window_fixture_open (self);
  window_fixture_open_job (self);
}

/* ---- what is there ---- */

#define assert_shown(self, words) g_assert_true (fixture_shows (GTK_WIDGET ((self)->window), words))
#define assert_not_shown(self, words) g_assert_false (fixture_shows (GTK_WIDGET ((self)->window), words))

/* The first button on show that has this label, in or after the row that says @beside (nullable). */
static GtkWidget *
find_button (GtkWidget *within, const char *label, const char *beside)
{
  if (GTK_IS_BUTTON (within) && gtk_widget_get_mapped (within) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (within)), label) == 0)
    {
      GtkWidget *row = beside != NULL ? gtk_widget_get_ancestor (within, GTK_TYPE_LIST_BOX_ROW) : NULL;

      if (beside == NULL || (row != NULL && fixture_shows (row, beside)))
        return within;
    }
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_button (child, label, beside);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
press (WindowFixture *self, const char *label, const char *beside)
{
  GtkWidget *button = find_button (GTK_WIDGET (self->window), label, beside);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  fixture_iterate ();
}

static PawlSession *
get_session (WindowFixture *self)
{
  return pawl_window_get_session (self->window);
}

static void
show (WindowFixture *self, const char *page)
{
  gtk_stack_set_visible_child_name (GTK_STACK (gtk_widget_get_ancestor (fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_SUPPLY_FORM), GTK_TYPE_STACK)), page);
  fixture_iterate ();
}

static void
look_at (WindowFixture *self, const char *step)
{
  show (self, "bench");
  pawl_session_look_at (get_session (self), step);
  fixture_iterate ();
}

static void
skip (WindowFixture *self, const char *step)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_deviation (step, "skipped", "not part of this test", NULL, pawl_session_make_hand (get_session (self)));

  pawl_session_take (get_session (self), entry, NULL, &error);
  g_assert_no_error (error);
}

/* ---- the tests ---- */

/* The nut comes off and goes on again by its place; the washer is the kit's, and what it may be taken for is said with the number. */
static void
test_trays (WindowFixture *self, gconstpointer data)
{
  look_at (self, "drain");
  assert_shown (self, "4 Nut → tray 1, place 1");
  assert_shown (self, "3 Washer → old parts");
  assert_shown (self, "Bore 8.0 mm, 0.40 mm less than “washer”: by gauge, not by eye");
  assert_shown (self, "2 by the list, 1 needed");
  assert_shown (self, "1 by the list, not for this unit");
  look_at (self, "close");
  assert_shown (self, "4 Nut ← tray 1, place 1");
  assert_shown (self, "3 Washer ← new, from the kit");
  assert_not_shown (self, "Expected:"); /* who knows the number does not count */
  show (self, "parts");
  assert_shown (self, "Tray 1");
  assert_shown (self, "2 in hand · 1 needed · 1 left over");
}

/* Digits from anywhere are the count where no reading waits. */
static void
test_count (WindowFixture *self, gconstpointer data)
{
  GtkWidget *focus;

  look_at (self, "drain");
  pawl_window_press (self->window, '2', 0, G_USEC_PER_SEC);
  fixture_iterate ();
  focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  g_assert_true (GTK_IS_EDITABLE (focus));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (focus)), ==, "2");
  g_signal_emit_by_name (gtk_widget_get_ancestor (focus, GTK_TYPE_ENTRY), "activate");
  fixture_iterate ();
  assert_shown (self, "✓ 2 in hand, 1 needed");
}

/* Written down on the page, it stops the step that fits it; what arrived lets it go on; Undo takes that back. */
static void
test_missing (WindowFixture *self, gconstpointer data)
{
  GtkWidget *form;

  skip (self, "drain");
  skip (self, "lift");
  skip (self, "clean");
  skip (self, "seat");
  show (self, "parts");
  press (self, "Not there…", "Nut");
  form = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_SUPPLY_FORM);
  g_assert_true (gtk_widget_get_mapped (form));
  press (self, "Write it down", NULL);
  g_assert_false (gtk_widget_get_mapped (form));
  g_assert_nonnull (pawl_job_peek_lack (pawl_session_get_job (get_session (self)), "nut"));
  assert_shown (self, "To buy, or to wait for");
  look_at (self, "close");
  assert_shown (self, "the arrival of “Nut” (missing)");
  assert_shown (self, "4 Nut ← missing");
  show (self, "parts");
  press (self, "Say more, or arrived…", "Nut");
  press (self, "Write it down", NULL);
  g_assert_null (pawl_job_peek_lack (pawl_session_get_job (get_session (self)), "nut"));
  look_at (self, "close");
  assert_not_shown (self, "the arrival of “Nut”");
  g_assert_true (pawl_session_undo (get_session (self), NULL));
  g_assert_nonnull (pawl_job_peek_lack (pawl_session_get_job (get_session (self)), "nut"));
}

/* A day that is none is told in the form, and nothing is written. */
static void
test_bad_day (WindowFixture *self, gconstpointer data)
{
  guint n = pawl_job_get_entries (pawl_session_get_job (get_session (self)))->len;
  GtkWidget *form;

  show (self, "parts");
  press (self, "Not there…", "Nut");
  form = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_SUPPLY_FORM);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (fixture_find (form, GTK_TYPE_DROP_DOWN)), 1);
  fixture_iterate ();
  for (GtkWidget *line = gtk_widget_get_first_child (gtk_widget_get_first_child (form)); line != NULL; line = gtk_widget_get_next_sibling (line))
    if (GTK_IS_ENTRY (line))
      gtk_editable_set_text (GTK_EDITABLE (line), "next week");
  press (self, "Write it down", NULL);
  assert_shown (self, "“next week” is no day that something is expected; write it as 2026-12-03.");
  g_assert_cmpuint (pawl_job_get_entries (pawl_session_get_job (get_session (self)))->len, ==, n);
}

#define ADD(path, test) g_test_add (path, WindowFixture, NULL, set_up, test, window_fixture_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  ADD ("/parts/trays", test_trays);
  ADD ("/parts/count", test_count);
  ADD ("/parts/missing", test_missing);
  ADD ("/parts/bad-day", test_bad_day);
  return g_test_run ();
}
