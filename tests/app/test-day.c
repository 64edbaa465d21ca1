/* The day: two jobs against each other through a soak, by a clock that is moved by hand. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-lanes-area.h"
#include "app/pawl-look.h"
#include "app/pawl-run-page.h"
#include "app/pawl-window-private.h"

typedef struct {
  Fixture         base;
  PawlSettings   *settings;
  PawlTrial      *trial;
  GtkApplication *application;
  PawlWindow     *window;
  char           *first, *second; /* ids of the jobs */
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

static void
set_up (Day *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  PawlWindowSetting setting;

  fixture_set_up (&self->base, NULL);
  self->first = g_strdup (pawl_job_get_id (pawl_session_get_job (self->base.session)));
  self->second = open_second (self);
  self->settings = pawl_settings_load (NULL);
  self->trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  self->folders[0] = self->base.folder;
  setting = (PawlWindowSetting) { .record_path = self->base.record_path, .host = &self->base.host, .settings = self->settings, .trial = self->trial,
                                  .folders = self->folders };
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (self->application), NULL, &error);
  g_assert_no_error (error);
  pawl_look_install (gdk_display_get_default ());
  self->window = pawl_window_new (self->application, &setting);
  gtk_window_present (GTK_WINDOW (self->window));
  iterate ();
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

/* Until the lanes have the step of the job: they are planned in a thread. The limit of the test is the test's. */
static void
look_at (Day *self, const char *job, const char *step)
{
  PawlLanesSpot spot = { 0 };

  do
    {
      g_main_context_iteration (NULL, TRUE);
      pawl_lanes_area_look_at (get_lanes (self), job, step);
    }
  while (!pawl_lanes_area_get_spot (get_lanes (self), &spot) || !g_str_equal (spot.state->step->id, step));
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

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  g_test_add ("/app/day/lanes", Day, NULL, set_up, test_lanes, tear_down);
  return g_test_run ();
}
