#include "cli/pawl-window.h"

#include <gtk/gtk.h>

#include "app/pawl-app.h"
#include "cli/pawl-cli.h"

int
pawl_window_run (int argc, char **argv)
{
  if (gtk_init_check ())
    return pawl_app_run (argc, argv);
  pawl_cli_complain ("pawl", "there is no display to open a window on; check, reading, solve, draw, work, jobs, show, report and verify work without one");
  return PAWL_EXIT_COULD_NOT;
}
