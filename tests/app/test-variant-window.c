/* Another variant than was taken, through the window: what it would change is shown before anything is recorded, a reason is wanted, Undo takes it back. */
#include <gtk/gtk.h>
#include <locale.h>

#include "window-fixture.h"
#include "app/pawl-variant-window.h"

static PawlSession *
get_session (WindowFixture *self)
{
  return pawl_window_get_session (self->window);
}

static void
take (WindowFixture *self, PawlEntry *entry)
{
  g_autoptr(GError) error = NULL;

  pawl_session_take (get_session (self), entry, NULL, &error);
  pawl_entry_unref (entry);
  g_assert_no_error (error);
}

/* A job of the left hand, early build, that is done. */
static void
set_up (WindowFixture *self, gconstpointer data)
{
  static const char * const steps[] = { "seat", "close" };

  fixture_set_up (&self->base, data);
  window_fixture_open (self);
  window_fixture_open_job (self);
  take (self, pawl_answer_new_identified ("left early", "the plate", pawl_session_make_hand (get_session (self))));
  take (self, pawl_answer_new_reading (fixture_lookup_ask (&self->base, "depth-left"), "3 mm", NULL, '.', pawl_session_make_hand (get_session (self))));
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    take (self, pawl_answer_new_done (pawl_job_lookup_step (pawl_session_get_job (get_session (self)), steps[i])->step, pawl_session_make_hand (get_session (self))));
}

static PawlStepStatus
get_status (WindowFixture *self, const char *step)
{
  return pawl_job_lookup_step (pawl_session_get_job (get_session (self)), step)->status;
}

/* (nullable) */
static GtkWidget *
find_button (GtkWidget *within, const char *label)
{
  GtkWidget *found = NULL;

  if (GTK_IS_BUTTON (within) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (within)), label) == 0)
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL && found == NULL; child = gtk_widget_get_next_sibling (child))
    found = find_button (child, label);
  return found;
}

static void
press (GtkWidget *window, const char *label)
{
  GtkWidget *button = find_button (window, label);

  g_assert_true (gtk_widget_is_sensitive (button));
  g_signal_emit_by_name (button, "clicked");
  fixture_iterate ();
}

/* The @n-th list to choose from. */
static void
choose (GtkWidget *window, guint n, guint which)
{
  GtkWidget *line = gtk_widget_get_parent (fixture_find (window, GTK_TYPE_DROP_DOWN));

  for (guint i = 0; i < n; i++)
    line = gtk_widget_get_next_sibling (line);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (gtk_widget_get_last_child (line)), which);
  fixture_iterate ();
}

static void
test_correction (WindowFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (pawl_variant_window_new (GTK_WINDOW (self->window), get_session (self)));
  guint n = pawl_job_get_entries (pawl_session_get_job (get_session (self)))->len;

  gtk_window_present (GTK_WINDOW (window));
  fixture_iterate ();
  g_assert_true (fixture_shows (window, "Taken as: Left hand; Early build"));
  g_assert_false (fixture_shows (window, "Comes with it")); /* nothing else is chosen yet */
  choose (window, 0, 1);
  g_assert_true (fixture_shows (window, "Step 1, “Depth of the plug”: 5..7 mm"));
  g_assert_true (fixture_shows (window, "Step 1, “Depth of the plug”: 2..4 mm"));
  g_assert_true (fixture_shows (window, "asks otherwise of this variant"));
  g_assert_false (fixture_shows (window, "Part 3  Washer"));
  choose (window, 1, 2); /* after "as the serial number says": the late build */
  g_assert_true (fixture_shows (window, "Step 2  Lay the washer on the plug."));
  g_assert_true (fixture_shows (window, "Part 3  Washer"));
  press (window, "Correct it");
  g_assert_true (fixture_shows (window, "Another variant than was taken needs the reason"));
  g_assert_cmpuint (pawl_job_get_entries (pawl_session_get_job (get_session (self)))->len, ==, n);
  gtk_editable_set_text (GTK_EDITABLE (fixture_find (window, GTK_TYPE_ENTRY)), "the arrow under the paint");
  press (window, "Correct it");
  g_assert_cmpstr (pawl_job_get_variant (pawl_session_get_job (get_session (self))), ==, "right late");
  g_assert_cmpint (get_status (self, "seat"), ==, PAWL_STEP_REDO);
  g_assert_cmpint (get_status (self, "close"), !=, PAWL_STEP_DONE);
  g_assert_true (pawl_session_undo (get_session (self), NULL));
  g_assert_cmpint (get_status (self, "close"), ==, PAWL_STEP_DONE);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/variant-window/correction", WindowFixture, "good/variants.xml", set_up, test_correction, window_fixture_tear_down);
  return g_test_run ();
}
