/* Work away from the main loop: it comes after the first frame of its window, and always ends. */
#include <gtk/gtk.h>

#include "app/pawl-work.h"

typedef struct {
  GtkWidget *window;
  GTask     *task;
  gboolean   is_painted;
  gboolean   was_painted; /* when the work began */
  int        has_begun;
} Fixture;

static void
work_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Fixture *self = data;

  self->was_painted = self->is_painted;
  g_atomic_int_set (&self->has_begun, TRUE);
  g_task_return_boolean (task, TRUE);
}

static void
set_up (Fixture *self, gconstpointer data)
{
  self->window = gtk_window_new ();
  self->task = g_task_new (NULL, NULL, NULL, NULL);
  g_task_set_task_data (self->task, self, NULL);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->task);
}

static void
wait_for_work (Fixture *self)
{
  while (!g_task_get_completed (self->task))
    g_main_context_iteration (NULL, TRUE);
  g_assert_true (g_task_propagate_boolean (self->task, NULL));
}

static void
painted_cb (GdkFrameClock *clock, Fixture *self)
{
  self->is_painted = TRUE;
}

static void
test_comes_after_the_first_frame (Fixture *self, gconstpointer data)
{
  pawl_work_start (self->task, self->window, work_in_thread);
  for (guint i = 0; i < 20; i++)
    g_main_context_iteration (NULL, FALSE);
  g_assert_false (g_atomic_int_get (&self->has_begun));

  gtk_widget_realize (self->window);
  g_signal_connect (gtk_widget_get_frame_clock (self->window), "after-paint", G_CALLBACK (painted_cb), self);
  gtk_window_present (GTK_WINDOW (self->window));
  wait_for_work (self);
  g_assert_true (self->was_painted);
  gtk_window_destroy (GTK_WINDOW (self->window));
}

static void
test_begins_at_once_in_a_window_that_stands (Fixture *self, gconstpointer data)
{
  gtk_window_present (GTK_WINDOW (self->window));
  pawl_work_start (self->task, self->window, work_in_thread);
  wait_for_work (self);
  gtk_window_destroy (GTK_WINDOW (self->window));
}

static void
test_ends_when_the_window_is_never_shown (Fixture *self, gconstpointer data)
{
  pawl_work_start (self->task, self->window, work_in_thread);
  gtk_window_destroy (GTK_WINDOW (self->window));
  wait_for_work (self);
  g_assert_false (self->was_painted);
}

static void
test_ends_when_the_window_goes_before_its_first_frame (Fixture *self, gconstpointer data)
{
  pawl_work_start (self->task, self->window, work_in_thread);
  gtk_window_present (GTK_WINDOW (self->window));
  gtk_window_destroy (GTK_WINDOW (self->window));
  wait_for_work (self);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add ("/work/comes-after-the-first-frame", Fixture, NULL, set_up, test_comes_after_the_first_frame, tear_down);
  g_test_add ("/work/begins-at-once", Fixture, NULL, set_up, test_begins_at_once_in_a_window_that_stands, tear_down);
  g_test_add ("/work/never-shown", Fixture, NULL, set_up, test_ends_when_the_window_is_never_shown, tear_down);
  g_test_add ("/work/goes-before-its-first-frame", Fixture, NULL, set_up, test_ends_when_the_window_goes_before_its_first_frame, tear_down);
  return g_test_run ();
}
