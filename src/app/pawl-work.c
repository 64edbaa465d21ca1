#include "app/pawl-work.h"

/* Work that waits until its window has been seen. */
typedef struct {
  GTask          *task;   /* owned */
  GTaskThreadFunc work;
  GtkWidget      *window; /* borrowed: it tells us before it goes */
  GdkFrameClock  *clock;  /* (nullable) owned, once the window is on the screen */
} Waiting;

static void
completed_cb (GTask *task, GParamSpec *property, GApplication *application)
{
  g_application_release (application);
}

static void
stop_waiting (Waiting *self)
{
  g_signal_handlers_disconnect_by_data (self->window, self);
  if (self->clock != NULL)
    g_signal_handlers_disconnect_by_data (self->clock, self);
  g_task_run_in_thread (self->task, self->work);
  g_clear_object (&self->clock);
  g_object_unref (self->task);
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
wait_for_window (GtkWidget *window, GTask *task, GTaskThreadFunc work)
{
  Waiting *self = g_new0 (Waiting, 1);

  self->task = g_object_ref (task);
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

  if (application != NULL)
    {
      g_application_hold (G_APPLICATION (application));
      g_signal_connect_object (task, "notify::completed", G_CALLBACK (completed_cb), application, 0);
    }
  if (root != NULL && !gtk_widget_get_mapped (GTK_WIDGET (root)))
    wait_for_window (GTK_WIDGET (root), task, work);
  else
    g_task_run_in_thread (task, work);
}
