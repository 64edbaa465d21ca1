/* pawl report: the report of a job as PDF, and why it has the title that it has. */
#include <stdio.h>

#include "cli/pawl-cli.h"

typedef struct {
  char    *record, *output, *print, *paper, *shop, *address, *registration, *clauses, *issued, *person;
  int      version, kept;
  gboolean is_why, is_json, is_issue, has_history;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->record);
  g_free (self->output);
  g_free (self->print);
  g_free (self->paper);
  g_free (self->shop);
  g_free (self->address);
  g_free (self->registration);
  g_free (self->clauses);
  g_free (self->issued);
  g_free (self->person);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
print_why (const Options *options, PawlBench *bench, GError **error)
{
  g_autoptr (PawlShop) shop = pawl_cli_load_shop (error);
  g_autoptr (PawlClauses) clauses = shop ? pawl_cli_load_clauses (options->clauses, shop, error) : NULL;

  if (clauses && options->is_json)
    pawl_cli_print_words_as_json (clauses, pawl_bench_get_job (bench));
  else if (clauses)
    pawl_cli_print_words (clauses, pawl_bench_get_job (bench));
  return clauses != NULL;
}

static gboolean
write_pdf (const Options *options, const char *command, PawlBench *bench, GError **error)
{
  const PawlCliReport wanted = {
    .command = command, .output = options->output, .print = options->print, .paper = options->paper, .shop = options->shop, .shop_address = options->address,
    .shop_registration = options->registration, .clauses = options->clauses, .issued = options->issued, .version = options->version,
    .has_history = options->has_history, .issued_by = options->is_issue ? options->person : NULL,
  };
  guint n_pages = 0;

  if (options->kept > 0)
    return pawl_cli_write_issued (bench, options->print, options->kept, options->output, error);
  if (!pawl_cli_write_report (bench, &wanted, &n_pages, error))
    return FALSE;
  printf ("%s: %u pages\n", options->output, n_pages);
  return TRUE;
}

int
pawl_command_report (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "PDF to write", "OUT.pdf" },
    { "print", 0, 0, G_OPTION_ARG_FILENAME, &options.print, "full (as when left out) or customer: two pages where it fits", "PRINT" },
    { "history", 0, 0, G_OPTION_ARG_NONE, &options.has_history, "With the run chart of each reading over all jobs of the procedure", NULL },
    { "why", 0, 0, G_OPTION_ARG_NONE, &options.is_why, "Say which word the title is, and what each higher one lacks", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "The same as JSON: each word, and each of its clauses with its source and what it lacks", NULL },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &options.paper, "a4 or letter; without it, the shop's", "PAPER" },
    { "shop", 0, 0, G_OPTION_ARG_FILENAME, &options.shop, "Name of the shop, in place of the one in the shop's settings", "NAME" },
    { "shop-address", 0, 0, G_OPTION_ARG_FILENAME, &options.address, "Its address", "TEXT" },
    { "shop-registration", 0, 0, G_OPTION_ARG_FILENAME, &options.registration, "Its registration number", "TEXT" },
    { "clauses", 0, 0, G_OPTION_ARG_FILENAME, &options.clauses, "What each word of a title has to show; without it, the shop's", "FILE" },
    { "report-version", 0, 0, G_OPTION_ARG_INT, &options.version, "Version of this report, from 1; without it, the one that comes next", "N" },
    { "issue", 0, 0, G_OPTION_ARG_NONE, &options.is_issue, "Keep the PDF in the record, and enter that it was issued; the next one is a new version, and says what changed", NULL },
    { "person", 0, 0, G_OPTION_ARG_FILENAME, &options.person, "Who issues it", "NAME" },
    { "kept", 0, 0, G_OPTION_ARG_INT, &options.kept, "Write this version again, as it was issued", "N" },
    { "issued", 0, 0, G_OPTION_ARG_FILENAME, &options.issued, "Date of issue, like 2026-11-25T14:05; without it, now", "TIME" },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "JOB", "Writes the report of a job. JOB is an id or its beginning, a work order or a serial number.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  options.is_why |= options.is_json;
  if (!options.output && !options.is_why)
    {
      pawl_cli_complain (argv[0], "which file shall be written? Name it with -o, for instance -o report.pdf");
      return PAWL_EXIT_COULD_NOT;
    }
  if (options.is_issue && (!options.output || !options.person || !*options.person))
    {
      pawl_cli_complain (argv[0], "a report is issued by somebody, as a file: pawl report JOB --issue --person NAME -o report.pdf");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(bench = options.is_issue ? pawl_cli_open_job_to_write (options.record, argv[1], &error) : pawl_cli_open_job (options.record, argv[1], &error)) || (options.is_why && !print_why (&options, bench, &error))
      || (options.output && !write_pdf (&options, argv[0], bench, &error)))
    return pawl_cli_fail (argv[0], error);
  return PAWL_EXIT_FINE;
}
