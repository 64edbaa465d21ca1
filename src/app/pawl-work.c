#include "app/pawl-work.h"

typedef struct {
  GTask          *task;        /* owned */
  GTaskThreadFunc work;
  GApplication   *application; /* (nullable) owned, held */
} Work;

/* Work that waits until its window has been seen. */
typedef struct {
  Work          *work;   /* owned */
  GtkWidget     *window; /* borrowed: it tells us before it goes */
  GdkFrameClock *clock;  /* (nullable) owned, once the window is on the screen */
} Waiting;

/* ---- in a thread ---- */

static void
run (GTask *runner, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Work *self = data;

  self->work (self->task, g_task_get_source_object (self->task), g_task_get_task_data (self->task), g_task_get_cancellable (self->task));
  g_task_return_boolean (runner, TRUE);
}

/* The task's callback has run: it was queued before this. */
static void
ended_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Work *self = data;

  g_object_unref (self->task);
  if (self->application != NULL)
    g_application_release (self->application);
  g_clear_object (&self->application);
  g_free (self);
}

/* GLib's thread lets go of the task it ran when it comes to it, which may be after the callback: then page and window would be freed in that thread,
 * and after the application. So it runs one that holds nothing, and the caller's task is let go of here. */
static void
start (Work *self)
{
  g_autoptr(GTask) runner = g_task_new (NULL, NULL, ended_cb, self);

  g_task_set_task_data (runner, self, NULL);
  g_task_run_in_thread (runner, run);
}

/* ---- after the first frame ---- */

static void
stop_waiting (Waiting *self)
{
  g_signal_handlers_disconnect_by_data (self->window, self);
  if (self->clock != NULL)
    g_signal_handlers_disconnect_by_data (self->clock, self);
  start (self->work);
  g_clear_object (&self->clock);
  g_free (self);
}

static void
painted_cb (GdkFrameClock *clock, Waiting *self)
{
  stop_waiting (self);
}

static void
mapped_cb (GtkWidget *window, Waiting *self)
{
  if (self->clock != NULL)
    return;
  self->clock = g_object_ref (gtk_widget_get_frame_clock (window));
  g_signal_connect_after (self->clock, "after-paint", G_CALLBACK (painted_cb), self);
}

/* Never shown: whoever started the work still gets an answer. */
static void
destroyed_cb (GtkWidget *window, Waiting *self)
{
  stop_waiting (self);
}

static void
wait_for_window (GtkWidget *window, Work *work)
{
  Waiting *self = g_new0 (Waiting, 1);

  self->work = work;
  self->window = window;
  g_signal_connect_after (window, "map", G_CALLBACK (mapped_cb), self);
  g_signal_connect (window, "destroy", G_CALLBACK (destroyed_cb), self);
}

void
pawl_work_start (GTask *task, GtkWidget *page, GTaskThreadFunc work)
{
  GtkRoot *root = gtk_widget_get_root (page);
  GtkApplication *application = GTK_IS_WINDOW (root) ? gtk_window_get_application (GTK_WINDOW (root)) : NULL;
  Work *self = g_new0 (Work, 1);

  self->task = g_object_ref (task);
  self->work = work;
  if (application != NULL)
    {
      self->application = G_APPLICATION (g_object_ref (application));
      g_application_hold (self->application);
    }
  if (root != NULL && !gtk_widget_get_mapped (GTK_WIDGET (root)))
    wait_for_window (GTK_WIDGET (root), self);
  else
    start (self);
}
