/*
 * The commands: each is a function in a file of its own, src/cli/pawl-command-NAME.c, and a line of the table in main.c.
 *
 * A command gets "pawl NAME" as argv[0]. It prints results to stdout and messages to stderr, and returns the exit code.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_EXIT_FINE = 0,      /* done, nothing to report */
  PAWL_EXIT_FINDINGS = 1,  /* done, and something was found: findings, a reading out of limits, a refused answer, a broken chain */
  PAWL_EXIT_COULD_NOT = 2, /* could not run: wrong use, a file that can't be read or written */
} PawlExit;

int pawl_command_check   (int argc, char **argv);
int pawl_command_class (int argc, char **argv);
int pawl_command_reading (int argc, char **argv);
int pawl_command_solve   (int argc, char **argv);
int pawl_command_draw    (int argc, char **argv);
int pawl_command_work    (int argc, char **argv);
int pawl_command_jobs    (int argc, char **argv);
int pawl_command_show    (int argc, char **argv);
int pawl_command_redo    (int argc, char **argv);
int pawl_command_find    (int argc, char **argv);
int pawl_command_trace   (int argc, char **argv);
int pawl_command_plan    (int argc, char **argv);
int pawl_command_parts   (int argc, char **argv);
int pawl_command_history (int argc, char **argv);
int pawl_command_instruments (int argc, char **argv);
int pawl_command_people  (int argc, char **argv);
int pawl_command_holds   (int argc, char **argv);
int pawl_command_train   (int argc, char **argv);
int pawl_command_report  (int argc, char **argv);
int pawl_command_sheet   (int argc, char **argv);
int pawl_command_export  (int argc, char **argv);
int pawl_command_bundle  (int argc, char **argv);
int pawl_command_merge   (int argc, char **argv);
int pawl_command_share    (int argc, char **argv);
int pawl_command_verify  (int argc, char **argv);

G_END_DECLS
