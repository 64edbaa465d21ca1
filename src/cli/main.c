/* pawl: the command. Each line of the table is a file of this folder; without a command the window opens. */
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include <glib.h>

#include "cli/pawl-cli-share.h"
#include "cli/pawl-cli.h"
#include "cli/pawl-window.h"

typedef struct {
  const char *name;
  int       (*run) (int argc, char **argv);
  const char *use;
  const char *summary;
} Command;

static const Command commands[] = {
  { "check", pawl_command_check, "FILE…", "proof-read procedures and their figures" },
  { "reading", pawl_command_reading, "TEXT --limits LIMITS", "judge one reading" },
  { "solve", pawl_command_solve, "SUM --INPUT VALUE…", "work out what to bend, turn, shim, heat or set" },
  { "draw", pawl_command_draw, "FILE --step ID -o OUT", "draw the figure as at a step, or a right/wrong sketch" },
  { "work", pawl_command_work, "FILE --answers CSV", "enter a bench sheet that was filled in by pen" },
  { "jobs", pawl_command_jobs, "", "list the jobs of the record" },
  { "show", pawl_command_show, "JOB", "show where a job stands" },
  { "redo", pawl_command_redo, "JOB STEP", "list what opens again, and why, when a step is done again" },
  { "find", pawl_command_find, "TEXT…", "find jobs by what was said in them" },
  { "trace", pawl_command_trace, "--instrument MARK|…", "list the jobs that an instrument, lot, revision or person touched" },
  { "plan", pawl_command_plan, "[FILE…]", "plan the day: what to do when, with waits running beside" },
  { "parts", pawl_command_parts, "[JOB…] [--buy]", "where parts lie, what the kit leaves over, what there is to buy" },
  { "history", pawl_command_history, "PROCEDURE|JOB --reading ID", "show what a reading was from job to job" },
  { "instruments", pawl_command_instruments, "[VERB MARK]", "the register of instruments: list, add, calibrate, retire" },
  { "people", pawl_command_people, "[VERB NAME]", "who works here, the PINs that they sign with, and how far they are" },
  { "holds", pawl_command_holds, "[VERB JOB STEP]", "what waits for somebody to look; call, release, set a level" },
  { "train", pawl_command_train, "VERB JOB", "what a trainer enters: tighten, measure again, plant a fault" },
  { "sheet", pawl_command_sheet, "FILE -o OUT.pdf", "print a blank bench sheet, to be filled in by pen" },
  { "class", pawl_command_class, "[--person NAME]", "what each person did right at once, and which steps trip most people" },
  { "report", pawl_command_report, "JOB -o OUT.pdf", "write the report of a job" },
  { "export", pawl_command_export, "JOB --as csv|json|qif", "write all of a job for other programs" },
  { "bundle", pawl_command_bundle, "[JOB…] -o FILE", "write jobs, or --all, as one file for another record" },
  { "merge", pawl_command_merge, "FILE…", "take bundles into the record, each whole or not at all" },
  { "share", pawl_command_share, "--record ADDRESS", "how this bench's copy of a shop's record and its server stand" },
  { "verify", pawl_command_verify, "[JOB]", "prove that nothing in the record was changed" },
};

static void
print_help (void)
{
  puts ("Usage:\n"
        "  pawl [FILE]              open the window, on a procedure if one is named\n"
        "  pawl COMMAND [OPTION…]   do one thing without a window\n"
        "\nCommands:");
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    {
      g_autofree char *use = g_strdup_printf ("%s %s", commands[i].name, commands[i].use);

      printf ("  %-30s %s\n", use, commands[i].summary);
    }
  puts ("\n“pawl COMMAND --help” lists the options of a command.\n"
        "Exit code: 0 fine, 1 findings or out of limits, 2 could not run.");
}

static const Command *
find_command (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (commands); i++)
    if (g_str_equal (commands[i].name, name))
      return &commands[i];
  return NULL;
}

static int
run_command (const Command *command, int argc, char **argv)
{
  g_autofree char *name = g_strdup_printf ("pawl %s", command->name);
  g_autofree char **arguments = g_new0 (char *, (gsize) argc);
  int code;

  arguments[0] = name;
  for (int i = 2; i < argc; i++)
    arguments[i - 1] = argv[i];
  code = command->run (argc - 1, arguments);
  pawl_cli_share_finish (name);
  return code;
}

int
main (int argc, char **argv)
{
  const char *first = argc > 1 ? argv[1] : NULL;
  const Command *command = first ? find_command (first) : NULL;

  setlocale (LC_ALL, "");
  if (command)
    return run_command (command, argc, argv);
  if (first && (g_str_equal (first, "--help") || g_str_equal (first, "-h")))
    {
      print_help ();
      return PAWL_EXIT_FINE;
    }
  if (first && g_str_equal (first, "--version"))
    {
      puts ("pawl " PAWL_VERSION);
      return PAWL_EXIT_FINE;
    }
  /* Options of the window are the window's to read. */
  if (first && *first != '-' && !g_file_test (first, G_FILE_TEST_EXISTS))
    {
      pawl_cli_complain ("pawl", "“%s” is neither a command nor a file; “pawl --help” lists the commands", first);
      return PAWL_EXIT_COULD_NOT;
    }
  return pawl_window_run (argc, argv);
}
