/* What there is to buy over several jobs, through the window: all open jobs at first, one left out, the line that opens its job, and the same as CSV. */
#include <gtk/gtk.h>
#include <locale.h>
#include <string.h>

#include "window-fixture.h"
#include "app/pawl-buy-page.h"
#include "bench/pawl-bench.h"
#include "report/pawl-buy-list.h"

/* A second job of the same procedure, whose plug is ordered since a day that is over; in the first the nut is missing. */
static void
add_second (WindowFixture *self)
{
  const PawlIntake intake = { .serial = "4712" };
  const PawlHand hand = { FIXTURE_PERSON, self->base.now };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&intake, hand), lacked = pawl_entry_new (PAWL_ENTRY_LACKED, "plug", FIXTURE_PERSON, self->base.now);
  g_autoptr(PawlBench) bench = pawl_bench_open (self->base.record, self->base.procedure, NULL, opening, &error);

  g_assert_no_error (error);
  pawl_entry_set (lacked, "state", "ordered");
  pawl_entry_set (lacked, "from", "Quay Stores (invented)");
  pawl_entry_set (lacked, "expected", "2000-01-03");
  g_assert_true (pawl_bench_append_one (bench, lacked, &error));
}

static void
set_up (WindowFixture *self, gconstpointer data)
{
  g_autoptr(PawlEntry) lacked = NULL;
  g_autoptr(GError) error = NULL;

  fixture_set_up (&self->base, data);
  lacked = pawl_entry_new (PAWL_ENTRY_LACKED, "nut", FIXTURE_PERSON, self->base.now);
  pawl_entry_set (lacked, "state", "missing");
  pawl_session_take (self->base.session, lacked, NULL, &error);
  g_assert_no_error (error);
  fixture_wait (&self->base, 5); /* the first is the longest untouched */
  add_second (self);
  window_fixture_open (self);
  g_action_group_activate_action (G_ACTION_GROUP (self->window), "show-buy", NULL);
  fixture_iterate ();
}

#define assert_shown(self, words) g_assert_true (fixture_shows (GTK_WIDGET ((self)->window), words))
#define assert_not_shown(self, words) g_assert_false (fixture_shows (GTK_WIDGET ((self)->window), words))

static void
test_table (WindowFixture *self, gconstpointer data)
{
  GtkWidget *page = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_BUY_PAGE), *table = fixture_find (page, GTK_TYPE_COLUMN_VIEW);
  GtkWidget *first = fixture_find (page, GTK_TYPE_CHECK_BUTTON);

  assert_shown (self, "4  Nut");
  assert_shown (self, "2  Plug");
  assert_shown (self, "Quay Stores (invented)");
  assert_shown (self, "2000-01-03, overdue");
  g_assert_nonnull (strstr (gtk_check_button_get_label (GTK_CHECK_BUTTON (first)), ": 1 line"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (first), FALSE);
  fixture_iterate ();
  assert_not_shown (self, "4  Nut");
  assert_shown (self, "2  Plug");
  g_signal_emit_by_name (table, "activate", 0);
  fixture_iterate ();
  g_assert_cmpstr (pawl_job_get_field (pawl_session_get_job (pawl_window_get_session (self->window)), "serial"), ==, "4712");
  assert_shown (self, "To buy, or to wait for"); /* on the page Parts of that job */
  assert_shown (self, "Tray 1");
}

/* A line for each want, of the jobs given and no other. */
static void
test_csv (WindowFixture *self, gconstpointer data)
{
  g_autoptr(GPtrArray) jobs = g_ptr_array_new ();
  g_autofree char *none = pawl_buy_list_make_csv (jobs), *one = NULL;
  g_auto(GStrv) lines = NULL;

  g_ptr_array_add (jobs, pawl_session_get_job (self->base.session));
  one = pawl_buy_list_make_csv (jobs);
  lines = g_strsplit (one, "\n", -1);
  g_assert_true (g_str_has_prefix (one, none));
  g_assert_cmpuint (g_strv_length (lines), ==, 3); /* the last is empty */
  g_assert_nonnull (strstr (lines[1], ",4,Nut,1,missing,"));
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/buy/table", WindowFixture, "good/parts.xml", set_up, test_table, window_fixture_tear_down);
  g_test_add ("/buy/csv", WindowFixture, "good/parts.xml", set_up, test_csv, window_fixture_tear_down);
  return g_test_run ();
}
