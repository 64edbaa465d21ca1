/* The way to the window, in a build that has one. */
#pragma once

#include "cli/pawl-commands.h"

G_BEGIN_DECLS

/* Opens the window on argv[1], if there is one. Says so in one sentence when there is no window or no display. */
int pawl_window_run (int argc, char **argv);

G_END_DECLS
