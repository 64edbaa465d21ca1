/* The desktop program: everything behind `pawl` and `pawl FILE`. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Runs the window until it is closed, and returns the exit status: 0, or 2 when it could not run (no display, unknown option).
 * @argv: as given to the program: [--record FILE] [--data FOLDER] [PROCEDURE…].
 * The data folder is --data, else $PAWL_DATA_DIR, else the installed one. The record is --record, else the one in the user's data folder.
 */
int pawl_app_run (int argc, char **argv);

G_END_DECLS
