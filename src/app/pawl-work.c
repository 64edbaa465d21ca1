#include "app/pawl-work.h"

static void
completed_cb (GTask *task, GParamSpec *property, GApplication *application)
{
  g_application_release (application);
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
  g_task_run_in_thread (task, work);
}
