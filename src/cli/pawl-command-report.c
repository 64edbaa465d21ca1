/* pawl report: the report of a job as PDF. */
#include <stdio.h>

#include "cli/pawl-cli.h"

int
pawl_command_report (int argc, char **argv)
{
  g_autofree char *record_path = NULL, *output = NULL, *paper = NULL, *shop = NULL, *address = NULL, *registration = NULL, *issued = NULL;
  PawlCliReport wanted = { .command = argv[0], .version = 1 };
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "PDF to write", "OUT.pdf" },
    { "history", 0, 0, G_OPTION_ARG_NONE, &wanted.has_history, "With the run chart of each reading over all jobs of the procedure", NULL },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &paper, "a4 (as when left out) or letter", "PAPER" },
    { "shop", 0, 0, G_OPTION_ARG_FILENAME, &shop, "Name of the shop, for the head of the report", "NAME" },
    { "shop-address", 0, 0, G_OPTION_ARG_FILENAME, &address, "Its address", "TEXT" },
    { "shop-registration", 0, 0, G_OPTION_ARG_FILENAME, &registration, "Its registration number", "TEXT" },
    { "report-version", 0, 0, G_OPTION_ARG_INT, &wanted.version, "Version of this report, from 1", "N" },
    { "issued", 0, 0, G_OPTION_ARG_FILENAME, &issued, "Date of issue, like 2026-11-25T14:05; without it, now", "TIME" },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = NULL;
  guint n_pages = 0;

  if (!pawl_cli_parse (&argc, &argv, entries, "JOB", "Writes the report of a job. JOB is an id or its beginning, a work order or a serial number.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!output)
    {
      pawl_cli_complain (argv[0], "which file shall be written? Name it with -o, for instance -o report.pdf");
      return PAWL_EXIT_COULD_NOT;
    }
  wanted.output = output;
  wanted.paper = paper;
  wanted.shop = shop;
  wanted.shop_address = address;
  wanted.shop_registration = registration;
  wanted.issued = issued;
  if (!(bench = pawl_cli_open_job (record_path, argv[1], &error)) || !pawl_cli_write_report (bench, &wanted, &n_pages, &error))
    return pawl_cli_fail (argv[0], error);
  printf ("%s: %u pages\n", output, n_pages);
  return PAWL_EXIT_FINE;
}
