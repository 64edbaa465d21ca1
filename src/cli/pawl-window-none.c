#include "cli/pawl-cli.h"
#include "cli/pawl-window.h"

int
pawl_window_run (int argc, char **argv)
{
  pawl_cli_complain ("pawl", "this build has no window; check, reading, solve, draw, work, jobs, show, report and verify work without one");
  return PAWL_EXIT_COULD_NOT;
}
