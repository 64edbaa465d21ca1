/* Work away from the main loop: it comes after the first frame of its window, always ends, and frees nothing in its thread. */
#include <gtk/gtk.h>
#include <sched.h>

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

typedef struct {
  GThread *main_thread;
  int      n_freed, n_freed_elsewhere;
  gboolean is_done;
} Freed;

static void
freed_cb (gpointer data, GObject *page)
{
  Freed *self = data;

  g_atomic_int_inc (&self->n_freed);
  if (g_thread_self () != self->main_thread)
    g_atomic_int_inc (&self->n_freed_elsewhere);
}

static void
return_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const struct sched_param none = { 0 };

  /* From here on the main loop goes first whenever it can: it has called back and let go before this thread gets any further. */
  g_assert_cmpint (sched_setscheduler (0, SCHED_IDLE, &none), ==, 0);
  g_task_return_boolean (task, TRUE);
}

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_assert_true (g_task_propagate_boolean (G_TASK (result), NULL));
  ((Freed *) data)->is_done = TRUE;
}

/* A page that only its work holds any more. */
static void
test_frees_nothing_in_its_thread (void)
{
  Freed freed = { .main_thread = g_thread_self () };

  for (int i = 0; i < 300; i++)
    {
      GtkWidget *page = g_object_ref_sink (gtk_label_new (NULL));
      g_autoptr(GTask) task = g_task_new (page, NULL, done_cb, &freed);

      g_object_weak_ref (G_OBJECT (page), freed_cb, &freed);
      freed.is_done = FALSE;
      pawl_work_start (task, page, return_in_thread);
      g_object_unref (page);
      g_clear_object (&task);
      while (!freed.is_done)
        g_main_context_iteration (NULL, TRUE);
    }
  while (g_atomic_int_get (&freed.n_freed) < 300)
    g_main_context_iteration (NULL, FALSE);
  g_assert_cmpint (freed.n_freed_elsewhere, ==, 0);
}

/* Which of two threads goes first is then for their priorities to say. */
static void
use_one_processor (void)
{
  cpu_set_t set;
  int first = 0;

  g_assert_cmpint (sched_getaffinity (0, sizeof set, &set), ==, 0);
  while (!CPU_ISSET (first, &set))
    first++;
  CPU_ZERO (&set);
  CPU_SET (first, &set);
  g_assert_cmpint (sched_setaffinity (0, sizeof set, &set), ==, 0);
}

int
main (int argc, char **argv)
{
  use_one_processor ();
  gtk_test_init (&argc, &argv, NULL);
  g_test_add ("/work/comes-after-the-first-frame", Fixture, NULL, set_up, test_comes_after_the_first_frame, tear_down);
  g_test_add ("/work/begins-at-once", Fixture, NULL, set_up, test_begins_at_once_in_a_window_that_stands, tear_down);
  g_test_add ("/work/never-shown", Fixture, NULL, set_up, test_ends_when_the_window_is_never_shown, tear_down);
  g_test_add ("/work/goes-before-its-first-frame", Fixture, NULL, set_up, test_ends_when_the_window_goes_before_its_first_frame, tear_down);
  g_test_add_func ("/work/frees-nothing-in-its-thread", test_frees_nothing_in_its_thread);
  return g_test_run ();
}
