/* The day: two jobs against each other through a soak, by a clock that is moved by hand. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-lanes-area.h"
#include "app/pawl-look.h"
#include "app/pawl-run-page.h"
#include "app/pawl-window-private.h"
#include "fake-desktop.h"

typedef struct {
  Fixture         base;
  PawlSettings   *settings;
  PawlTrial      *trial;
  GtkApplication *application;
  PawlWindow     *window;
  char           *first, *second; /* ids of the jobs */
  char           *memory;         /* file */
  PawlSteady      steady;
  gint64          steady_usec;    /* since the boot, which was an hour ago */
  FakeDesktop    *desktop;
  const char     *folders[2];
} Day;

static void
iterate (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

/* A second job of the same procedure, beside the fixture's. */
static char *
open_second (Day *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&(PawlIntake) { .serial = "DC1-8", .work_order = "TS-10" }, (PawlHand) { FIXTURE_PERSON, self->base.now });
  g_autoptr(PawlBench) bench = pawl_bench_open (self->base.record, self->base.procedure, pawl_bench_peek_figure (self->base.bench), opening, &error);

  g_assert_no_error (error);
  return g_strdup (pawl_job_get_id (pawl_bench_get_job (bench)));
}

static gint64
get_steady (gpointer data)
{
  return ((Day *) data)->steady_usec;
}

static char *
dup_boot (gpointer data)
{
  return g_strdup ("a boot");
}

static void
open_window (Day *self)
{
  PawlWindowSetting setting = { .record_path = self->base.record_path, .host = &self->base.host, .settings = self->settings, .trial = self->trial,
                                .folders = self->folders, .steady = &self->steady, .memory = self->memory };

  self->window = pawl_window_new (self->application, &setting);
  gtk_window_present (GTK_WINDOW (self->window));
  iterate ();
  while (!pawl_wait_watch_is_ready (pawl_window_get_watch (self->window)))
    g_main_context_iteration (NULL, TRUE);
}

static void
set_up (Day *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  fixture_set_up (&self->base, NULL);
  self->first = g_strdup (pawl_job_get_id (pawl_session_get_job (self->base.session)));
  self->second = open_second (self);
  self->settings = pawl_settings_load (NULL);
  self->trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  self->folders[0] = self->base.folder;
  self->memory = g_build_filename (self->base.folder, "waits.ini", NULL);
  self->steady = (PawlSteady) { get_steady, dup_boot, self };
  self->steady_usec = G_TIME_SPAN_HOUR;
  self->desktop = data == NULL ? fake_desktop_new () : NULL;
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (self->application), NULL, &error);
  g_assert_no_error (error);
  pawl_look_install (gdk_display_get_default ());
  open_window (self);
}

static void
tear_down (Day *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  g_signal_connect (self->application, "activate", G_CALLBACK (iterate), NULL);
  g_application_run (G_APPLICATION (self->application), 0, NULL);
  g_object_unref (self->application);
  g_object_unref (self->trial);
  pawl_settings_free (self->settings);
  g_clear_pointer (&self->desktop, fake_desktop_free);
  g_free (self->memory);
  g_free (self->first);
  g_free (self->second);
  fixture_tear_down (&self->base, NULL);
}

static GtkWidget *
find_widget (GtkWidget *within, GType type)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (within, type))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static PawlLanesArea *
get_lanes (Day *self)
{
  return PAWL_LANES_AREA (find_widget (GTK_WIDGET (self->window), PAWL_TYPE_LANES_AREA));
}

static GtkWidget *
get_run_child (Day *self, const char *name)
{
  return GTK_WIDGET (gtk_widget_get_template_child (find_widget (GTK_WIDGET (self->window), PAWL_TYPE_RUN_PAGE), PAWL_TYPE_RUN_PAGE, name));
}

static gboolean
can_look_at (Day *self, const char *job, const char *step)
{
  PawlLanesSpot spot;

  pawl_lanes_area_look_at (get_lanes (self), job, step);
  return pawl_lanes_area_get_spot (get_lanes (self), &spot) && g_str_equal (spot.state->step->id, step);
}

/* Until the lanes have the step of the job: they are planned in a thread. The limit of the test is the test's. */
static void
look_at (Day *self, const char *job, const char *step)
{
  while (!can_look_at (self, job, step))
    g_main_context_iteration (NULL, TRUE);
}

static const char *
get_label (Day *self, const char *name)
{
  return gtk_label_get_label (GTK_LABEL (get_run_child (self, name)));
}

/* The lanes of one job, then of both; a step of the other job is gone to from there. */
static void
test_lanes (Day *self, gconstpointer data)
{
  g_assert_true (pawl_window_open_job (self->window, self->first));
  pawl_window_show_page (self->window, "run");
  look_at (self, self->first, "lift");
  g_assert_cmpstr (get_label (self, "name"), ==, "2 Lift out the plug");
  g_assert_nonnull (strstr (get_label (self, "description"), "Blocked by step 1, Take off the nut and the washer"));
  g_assert_nonnull (strstr (get_label (self, "day"), "no order ends sooner"));
  g_assert_nonnull (gtk_widget_get_first_child (get_run_child (self, "now")));

  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get_run_child (self, "whole_bench")), TRUE);
  look_at (self, self->second, "drain");
  g_assert_nonnull (strstr (get_label (self, "description"), "work order TS-10. Can be done now"));
  g_signal_emit_by_name (get_lanes (self), "spot-wanted");
  iterate ();
  g_assert_cmpstr (pawl_job_get_id (pawl_session_get_job (pawl_window_get_session (self->window))), ==, self->second);
  g_assert_cmpstr (pawl_session_peek_step (pawl_window_get_session (self->window))->step->id, ==, "drain");
  g_assert_true (pawl_window_is_at_bench (self->window));
}

/* ---- through a soak ---- */

static PawlJob *
get_job (Day *self)
{
  return pawl_session_get_job (pawl_window_get_session (self->window));
}

static void
take (Day *self, PawlEntry *entry) /* (transfer full) entry */
{
  g_autoptr(GError) error = NULL;

  pawl_session_take (pawl_window_get_session (self->window), entry, NULL, &error);
  g_assert_no_error (error);
  pawl_entry_unref (entry);
}

static PawlHand
get_hand (Day *self)
{
  return pawl_session_make_hand (pawl_window_get_session (self->window));
}

static void
answer (Day *self, const char *ask, const char *words)
{
  take (self, pawl_answer_new_outcome (fixture_lookup_ask (&self->base, ask), words, get_hand (self)));
}

static void
finish_step (Day *self)
{
  g_autoptr(GError) error = NULL;

  pawl_session_advance (pawl_window_get_session (self->window), &error);
  g_assert_no_error (error);
}

/* Takes the job as far as its plug lies in the paraffin. */
static void
start_soak (Day *self, const char *job)
{
  g_assert_true (pawl_window_open_job (self->window, job));
  answer (self, "mark", "to the flange");
  finish_step (self);
  answer (self, "plug-face", "good");
  answer (self, "plug-size", "10.0");
  finish_step (self);
  finish_step (self); /* the one key begins the soak */
  g_assert_cmpint (pawl_job_lookup_ask (get_job (self), "soak")->status, ==, PAWL_ASK_RUNNING);
}

/* Both clocks go on, and the watch is woken as its alarm would. */
static void
wait_minutes (Day *self, int minutes)
{
  self->steady_usec += minutes * G_TIME_SPAN_MINUTE;
  fixture_wait (&self->base, minutes);
  pawl_wait_watch_check (pawl_window_get_watch (self->window));
}

/* Until so many notifications were shown in all; more would be a fault as well. */
static void
expect_shown (Day *self, guint n)
{
  while (fake_desktop_get_n_shown (self->desktop) < n)
    g_main_context_iteration (NULL, TRUE);
  fake_desktop_sync (self->desktop, g_application_get_dbus_connection (G_APPLICATION (self->application)));
  iterate (); /* GIO withdraws only what it has the number of */
  g_assert_cmpuint (fake_desktop_get_n_shown (self->desktop), ==, n);
}

static void
expect_standing (Day *self, guint n)
{
  while (fake_desktop_count (self->desktop) != n)
    g_main_context_iteration (NULL, TRUE);
}

static gint64
count_minutes (GDateTime *from, GDateTime *to)
{
  return g_date_time_difference (to, from) / G_TIME_SPAN_MINUTE;
}

/* One job soaks, 10 min to 2 h, from nine o'clock; the other from twenty past. Each is told of when it may come out, before it has to, and when it should have been. */
static void
test_soak (Day *self, gconstpointer data)
{
  const FakeNote *note;
  guint id;

  start_soak (self, self->first);
  wait_minutes (self, 9);
  iterate ();
  g_assert_cmpuint (fake_desktop_count (self->desktop), ==, 0);

  /* While it soaks, the other job is what there is to do. */
  pawl_window_show_page (self->window, "run");
  gtk_toggle_button_set_active (GTK_TOGGLE_BUTTON (get_run_child (self, "whole_bench")), TRUE);
  look_at (self, self->second, "drain");
  g_assert_nonnull (strstr (get_label (self, "description"), "work order TS-10. Can be done now"));
  look_at (self, self->first, "clean");
  g_assert_nonnull (strstr (get_label (self, "description"), "Runs since 09:00: out from 09:10, by 11:00 at the latest"));
  look_at (self, self->first, "close");
  g_assert_nonnull (strstr (get_label (self, "description"), "Blocked by step 4, Drop the plug into the body"));

  wait_minutes (self, 1);
  expect_shown (self, 1);
  note = fake_desktop_find (self->desktop, "Soak, plug: may come out");
  g_assert_cmpstr (note->body, ==, "DC-1 drain cock, work order TS-9. By 11:00 at the latest.");
  g_assert_false (note->has_sound);
  id = note->id;

  wait_minutes (self, 10);
  start_soak (self, self->second);
  wait_minutes (self, 10);
  expect_shown (self, 2);
  expect_standing (self, 2);
  wait_minutes (self, 79); /* 10:49 */
  iterate ();
  g_assert_cmpuint (fake_desktop_get_n_shown (self->desktop), ==, 2);
  wait_minutes (self, 1);
  expect_shown (self, 3);
  g_assert_cmpuint (fake_desktop_find (self->desktop, "Soak, plug: must be out by 11:00")->id, ==, id); /* in its place */
  wait_minutes (self, 20); /* 11:10: too late for the first, and time for the second */
  expect_shown (self, 5);
  g_assert_cmpuint (fake_desktop_find (self->desktop, "Soak, plug: should have been out by 11:00")->id, ==, id);
  g_assert_nonnull (fake_desktop_find (self->desktop, "Soak, plug: must be out by 11:20"));

  /* A click opens the job. */
  g_assert_cmpstr (pawl_job_get_id (get_job (self)), ==, self->second);
  fake_desktop_click (self->desktop, id);
  while (!g_str_equal (pawl_job_get_id (get_job (self)), self->first))
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (pawl_session_peek_step (pawl_window_get_session (self->window))->step->id, ==, "clean");

  /* Out 40 minutes late: kept, asked why, and nothing stands still for it. */
  wait_minutes (self, 30);
  expect_shown (self, 6);
  finish_step (self); /* and takes it out */
  g_assert_cmpint (pawl_job_lookup_ask (get_job (self), "soak")->late_seconds, ==, 40 * 60);
  take (self, pawl_answer_new_disposition (fixture_lookup_ask (&self->base, "plug-again"), "reuse", "", "", "", get_hand (self)));
  finish_step (self);
  g_assert_cmpint (pawl_job_lookup_step (get_job (self), "clean")->status, ==, PAWL_STEP_DONE);

  /* What is told goes when it is out, and comes back when that was taken back. */
  g_assert_nonnull (fake_desktop_find (self->desktop, "Soak, plug: should have been out by 11:20"));
  g_assert_true (pawl_window_open_job (self->window, self->second));
  take (self, pawl_answer_new_wait_end (fixture_lookup_ask (&self->base, "soak"), get_hand (self)));
  expect_standing (self, 0);
  g_assert_true (pawl_session_undo (pawl_window_get_session (self->window), NULL));
  expect_shown (self, 7);
}

/* Nothing is told twice because the window was closed; what nobody could click on any more is taken off the desktop. */
static void
test_restart (Day *self, gconstpointer data)
{
  start_soak (self, self->first);
  wait_minutes (self, 10);
  expect_shown (self, 1);
  g_application_hold (G_APPLICATION (self->application));
  gtk_window_destroy (GTK_WINDOW (self->window));
  expect_standing (self, 0);
  open_window (self);
  iterate ();
  wait_minutes (self, 100);
  expect_shown (self, 2); /* the call for its maximum, nothing else */
  g_assert_nonnull (fake_desktop_find (self->desktop, "Soak, plug: must be out by 11:00"));
  g_application_release (G_APPLICATION (self->application));
}

/* The clock is put forward by an hour: said, noted in the job, and the soak has not become longer by it. Noted once, whoever else looks. */
static void
test_clock (Day *self, gconstpointer data)
{
  const PawlAskState *wait;
  PawlEntry *newest;
  guint n_entries;

  start_soak (self, self->first);
  wait_minutes (self, 30);
  expect_shown (self, 1);
  n_entries = pawl_job_get_entries (get_job (self))->len;
  fixture_wait (&self->base, 60); /* the wall clock alone */
  pawl_wait_watch_check (pawl_window_get_watch (self->window));
  while (!pawl_wait_watch_is_ready (pawl_window_get_watch (self->window)))
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpuint (pawl_job_get_entries (get_job (self))->len, ==, n_entries + 1);
  newest = g_ptr_array_index (pawl_job_get_entries (get_job (self)), n_entries);
  g_assert_cmpstr (pawl_entry_get (newest, "clock-shift"), ==, "3600");
  g_assert_cmpstr (pawl_entry_get (newest, "text"), ==, "The clock was put forward by 1 h. “Soak, plug” ran meanwhile, and is counted by steady time: "
                   "by the clock as it is now, it began at 10:00.");
  wait = pawl_job_lookup_ask (get_job (self), "soak");
  g_assert_cmpint (count_minutes (wait->started, pawl_job_peek_now (get_job (self))), ==, 30);
  wait_minutes (self, 79); /* 11:49 by the clock as it is now, 109 minutes in all */
  expect_shown (self, 1);
  wait_minutes (self, 1);
  expect_shown (self, 2);
  g_assert_nonnull (fake_desktop_find (self->desktop, "Soak, plug: must be out by 12:00"));

  g_application_hold (G_APPLICATION (self->application));
  gtk_window_destroy (GTK_WINDOW (self->window));
  open_window (self);
  g_assert_true (pawl_window_open_job (self->window, self->first));
  g_assert_cmpuint (pawl_job_get_entries (get_job (self))->len, ==, n_entries + 1);
  g_application_release (G_APPLICATION (self->application));
}

static const char *
get_notice (Day *self)
{
  return gtk_label_get_label (GTK_LABEL (gtk_widget_get_template_child (GTK_WIDGET (self->window), PAWL_TYPE_WINDOW, "notice_label")));
}

/* Nobody takes notifications: it is said in the window instead, and goes when the wait is out. */
static void
test_no_desktop (Day *self, gconstpointer data)
{
  start_soak (self, self->first);
  wait_minutes (self, 10);
  g_assert_cmpstr (get_notice (self), ==, "Soak, plug: may come out (DC-1 drain cock, work order TS-9)");
  finish_step (self);
  g_assert_cmpstr (get_notice (self), ==, "");
}

int
main (int argc, char **argv)
{
  GTestDBus *bus = g_test_dbus_new (G_TEST_DBUS_NONE);
  g_autofree char *display = g_strdup (g_getenv ("DISPLAY"));
  int status;

  g_test_dbus_up (bus); /* one of its own, so that nobody's desktop is told; it forgets the display, so that nothing is launched there */
  g_setenv ("DISPLAY", display, TRUE);
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/app/day/lanes", Day, NULL, set_up, test_lanes, tear_down);
  g_test_add ("/app/day/soak", Day, NULL, set_up, test_soak, tear_down);
  g_test_add ("/app/day/restart", Day, NULL, set_up, test_restart, tear_down);
  g_test_add ("/app/day/clock", Day, NULL, set_up, test_clock, tear_down);
  g_test_add ("/app/day/no-desktop", Day, "without", set_up, test_no_desktop, tear_down);
  status = g_test_run ();
  g_test_dbus_down (bus);
  g_object_unref (bus);
  return status;
}
