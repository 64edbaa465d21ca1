/* What was taken in, corrected in the window: prefilled, asked for its reason, on disk, undone, half typed over closing, and shut by a signature. */
#include <gtk/gtk.h>
#include <locale.h>

#include "window-fixture.h"
#include "app/pawl-intake-form.h"
#include "app/pawl-intake-page.h"
#include "app/pawl-look.h"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  window_fixture_open (self);
  self->window->setting.drafts = self->base.folder;
  window_fixture_open_job (self);
}

static GtkWidget *
find_page (WindowFixture *self)
{
  return fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_INTAKE_PAGE);
}

static void
show_page (WindowFixture *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.show-intake", NULL);
  fixture_iterate ();
  g_assert_true (gtk_widget_get_mapped (find_page (self)));
}

/* A line of the page by its label. */
static GtkWidget *
find_line (GtkWidget *within, const char *label)
{
  GtkWidget *before = gtk_widget_get_prev_sibling (within);

  if (GTK_IS_ENTRY (within) && GTK_IS_LABEL (before) && g_str_equal (gtk_label_get_label (GTK_LABEL (before)), label))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_line (child, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

#define SERIAL "Serial number"
#define REASON "Reason: how it is known now"

static void
type (WindowFixture *self, const char *label, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find_line (find_page (self), label)), text);
}

static void
press_enter (WindowFixture *self)
{
  g_signal_emit_by_name (find_line (find_page (self), REASON), "activate");
  fixture_iterate ();
}

static const char *
get_line (WindowFixture *self, const char *label)
{
  return gtk_editable_get_text (GTK_EDITABLE (find_line (find_page (self), label)));
}

/* What another program would read of it now. */
static char *
read_serial (WindowFixture *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (self->base.record_path, PAWL_RECORD_OPEN_READ_ONLY, &self->base.host, &error);
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, &error);

  g_assert_no_error (error);
  return g_strdup (((PawlJobLine *) lines->pdata[0])->serial);
}

static void
assert_on_disk (WindowFixture *self, const char *serial)
{
  g_autofree char *there = read_serial (self);

  g_assert_cmpstr (there, ==, serial);
}

static void
test_correct (WindowFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (self->window);
  const char *before = pawl_job_get_field (pawl_session_get_job (self->base.session), "serial");

  show_page (self);
  g_assert_cmpstr (get_line (self, SERIAL), ==, before);
  press_enter (self);
  g_assert_true (fixture_shows (window, "Nothing is another than it was"));
  type (self, SERIAL, "DC1-88");
  press_enter (self);
  g_assert_true (fixture_shows (window, "A correction needs its reason"));
  assert_on_disk (self, before);

  type (self, REASON, "Cleaned the plate");
  press_enter (self);
  g_assert_true (fixture_shows (window, "Corrected: Serial number"));
  g_assert_true (fixture_shows (window, "Serial number: DC1-88, was "));
  g_assert_true (fixture_shows (window, ": Cleaned the plate"));
  g_assert_cmpstr (get_line (self, REASON), ==, "");
  assert_on_disk (self, "DC1-88");

  type (self, "Unit", "");
  type (self, REASON, "Nonsense");
  press_enter (self);
  g_assert_true (fixture_shows (window, "A job is never without its unit"));
  g_assert_cmpstr (get_line (self, REASON), ==, "Nonsense");

  gtk_widget_activate_action (window, "win.undo", NULL);
  fixture_iterate ();
  g_assert_cmpstr (get_line (self, SERIAL), ==, before);
  g_assert_cmpstr (get_line (self, "Unit"), ==, ""); /* by hand, and not taken yet */
  assert_on_disk (self, before);
}

/* What is half typed is there again after the job was put aside, and no other job's. */
static void
test_half_typed (WindowFixture *self, gconstpointer data)
{
  show_page (self);
  type (self, "Customer", "Launch Wren (inven");
  type (self, REASON, "They cal");
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.show-jobs", NULL);
  pawl_window_close_job (self->window);
  fixture_iterate ();
  window_fixture_open_job (self);
  show_page (self);
  g_assert_cmpstr (get_line (self, "Customer"), ==, "Launch Wren (inven");
  g_assert_cmpstr (get_line (self, REASON), ==, "They cal");
  type (self, "Customer", "Launch Wren (invented)");
  type (self, REASON, "They called");
  press_enter (self);
  g_assert_cmpstr (pawl_job_get_field (pawl_session_get_job (pawl_window_get_session (self->window)), "customer"), ==, "Launch Wren (invented)");
}

static void
test_signed (WindowFixture *self, gconstpointer data)
{
  PawlSession *session = pawl_window_get_session (self->window);
  g_autoptr(PawlEntry) signature = pawl_entry_new (PAWL_ENTRY_SIGNED, "", FIXTURE_PERSON, self->base.now);
  g_autoptr(GPtrArray) entries = g_ptr_array_new ();
  g_autoptr(GError) error = NULL;

  show_page (self);
  /* Past the bench: this job isn't done. */
  g_ptr_array_add (entries, signature);
  g_assert_true (pawl_record_append (self->base.record, pawl_job_get_id (pawl_session_get_job (session)), entries, &error));
  g_assert_true (pawl_bench_reload (pawl_session_get_bench (session), &error));
  g_assert_no_error (error);
  fixture_iterate ();
  g_assert_true (fixture_shows (GTK_WIDGET (self->window), "Signed by " FIXTURE_PERSON));
  type (self, SERIAL, "DC1-88");
  type (self, REASON, "Cleaned the plate");
  press_enter (self);
  g_assert_true (fixture_shows (GTK_WIDGET (self->window), "undo the signature"));
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.undo", NULL);
  fixture_iterate ();
  press_enter (self);
  assert_on_disk (self, "DC1-88");
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/intake/correct", WindowFixture, NULL, set_up, test_correct, window_fixture_tear_down);
  g_test_add ("/intake/half-typed", WindowFixture, NULL, set_up, test_half_typed, window_fixture_tear_down);
  g_test_add ("/intake/signed", WindowFixture, NULL, set_up, test_signed, window_fixture_tear_down);
  return g_test_run ();
}
