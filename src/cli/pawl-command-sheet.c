/* pawl sheet: a blank bench sheet, to be filled in by pen, and the answers file that goes with it. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "procedure/pawl-reader.h"
#include "report/pawl-sheet.h"

typedef struct {
  char *output, *csv, *phase, *paper;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->output);
  g_free (self->csv);
  g_free (self->phase);
  g_free (self->paper);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* (nullable) without an error when none was named. */
static const PawlPhase *
find_phase (PawlProcedure *procedure, const char *id, GError **error)
{
  const PawlPhase *phase = id ? pawl_procedure_lookup_phase (procedure, id) : NULL;
  GPtrArray *phases = pawl_procedure_get_phases (procedure);
  g_autoptr (GString) ids = g_string_new (NULL);

  if (!id || phase)
    return phase;
  for (guint i = 0; i < phases->len; i++)
    g_string_append_printf (ids, "%s%s", i == 0 ? "" : i + 1 < phases->len ? ", " : " or ", ((PawlPhase *) g_ptr_array_index (phases, i))->id);
  pawl_cli_refuse_value ("--phase", id, ids->str, error);
  return NULL;
}

static gboolean
write_pdf (const Options *options, const char *command, PawlProcedure *procedure, const PawlPhase *phase, GError **error)
{
  g_autoptr (PawlShop) shop = pawl_cli_load_shop (error);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  PawlSheetOptions wanted = { .paper = shop ? shop->paper : PAWL_PAPER_A4, .phase = phase, .shop = shop, .issued = now };
  g_autoptr (GError) figure_error = NULL;
  g_autoptr (PawlFigure) figure = NULL;
  g_autoptr (PawlPages) pages = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!shop || !pawl_cli_read_paper (options->paper, &wanted.paper, error))
    return FALSE;
  if (*pawl_procedure_get_figure (procedure))
    figure = pawl_cli_load_procedure_figure (procedure, &figure_error);
  if (figure_error)
    pawl_cli_complain (command, "%s; the sheet is written without it", figure_error->message);
  pages = pawl_sheet_new (procedure, figure, &wanted);
  if (!(pdf = pawl_pages_make_pdf (pages, error)) || !pawl_pages_write (pdf, options->output, error))
    return FALSE;
  printf ("%s: %u pages\n", options->output, pawl_pages_get_n (pages));
  return TRUE;
}

static gboolean
write_csv (const Options *options, PawlProcedure *procedure, const PawlPhase *phase, GError **error)
{
  g_autofree char *csv = pawl_sheet_make_csv (procedure, phase);
  guint n_rows = 0;

  if (!g_file_set_contents (options->csv, csv, -1, error))
    return FALSE;
  for (const char *p = strchr (csv, '\n'); p; p = strchr (p + 1, '\n'))
    n_rows++;
  printf ("%s: %u rows\n", options->csv, n_rows - 1);
  return TRUE;
}

int
pawl_command_sheet (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "PDF to write", "OUT.pdf" },
    { "csv", 0, 0, G_OPTION_ARG_FILENAME, &options.csv, "Write the answers file that goes with it as well: a row for each box, “_” where nothing was written", "OUT.csv" },
    { "phase", 0, 0, G_OPTION_ARG_FILENAME, &options.phase, "This phase alone", "ID" },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &options.paper, "a4 or letter; without it, the shop's", "PAPER" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlProcedure) procedure = NULL;
  const PawlPhase *phase;

  if (!pawl_cli_parse (&argc, &argv, entries, "FILE", "Prints a blank bench sheet of a procedure, to be filled in by pen and entered later with “pawl work --answers”.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!options.output && !options.csv)
    {
      pawl_cli_complain (argv[0], "which file shall be written? Name it with -o, for instance -o sheet.pdf");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(procedure = pawl_procedure_load (argv[1], NULL, &error)))
    return pawl_cli_fail (argv[0], error);
  phase = find_phase (procedure, options.phase, &error);
  if (error || (options.output && !write_pdf (&options, argv[0], procedure, phase, &error)) || (options.csv && !write_csv (&options, procedure, phase, &error)))
    return pawl_cli_fail (argv[0], error);
  return PAWL_EXIT_FINE;
}
