/* The least that a GTK program can do: open one window with nothing in it. What pawl's own start is compared with. */
#include <gtk/gtk.h>

static void
activate_cb (GtkApplication *application, gpointer unused)
{
  GtkWidget *window = gtk_application_window_new (application);

  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 800);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  g_autoptr(GtkApplication) application = gtk_application_new ("org.pawl.BlankWindow", G_APPLICATION_NON_UNIQUE);

  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
