/* Figures for the commands: tried before they are drawn, and compared with the procedure that names them. */
#include "cli/pawl-cli.h"

#include "procedure/pawl-reader.h"

PawlTrial *
pawl_cli_new_trial (void)
{
  g_autofree char *helper = pawl_trial_dup_helper_path ();
  g_autofree char *folder = g_build_filename (g_get_user_cache_dir (), "pawl", "verdicts", NULL);

  return pawl_trial_new (helper, folder);
}

PawlFigure *
pawl_cli_load_figure_file (const char *path, PawlTrialUse use, GError **error)
{
  g_autoptr (PawlTrial) trial = pawl_cli_new_trial ();

  return pawl_trial_load (trial, path, use, NULL, error);
}

PawlFigure *
pawl_cli_load_figure (PawlBench *bench, GError **error)
{
  GBytes *bytes = pawl_bench_peek_figure (bench);
  g_autoptr (PawlTrial) trial = bytes ? pawl_cli_new_trial () : NULL;
  g_autofree char *name = g_path_get_basename (pawl_procedure_get_figure (pawl_bench_get_procedure (bench)));

  return bytes ? pawl_trial_load_bytes (trial, bytes, name, PAWL_TRIAL_KEPT, NULL, error) : NULL;
}

static double
get_hidden (const char *part, const char * const *others, gpointer sight)
{
  return pawl_seated_sight_get_hidden (sight, part, others);
}

GPtrArray *
pawl_cli_proof_read (PawlProcedure *procedure, PawlFigure *figure, const char *shown, const PawlSeatedSight *sight)
{
  g_autoptr (GPtrArray) list = pawl_figure_list_part_regions (figure);
  g_autoptr (GPtrArray) ids = g_ptr_array_new ();
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (int));
  PawlRegionList regions = { .file = shown, .get_hidden = sight ? get_hidden : NULL, .hidden_data = (gpointer) sight };

  for (guint i = 0; i < list->len; i++)
    {
      const PawlRegion *region = g_ptr_array_index (list, i);

      g_ptr_array_add (ids, region->id);
      g_array_append_val (lines, region->line);
    }
  g_ptr_array_add (ids, NULL);
  regions.ids = (const char * const *) ids->pdata;
  regions.lines = (const int *) (gpointer) lines->data;
  return pawl_procedure_proof_read (procedure, &regions);
}

/* FALSE with the proof-reader's own sentence when a part names a region that is not there: it would be missing from every picture. */
static gboolean
has_all_regions (PawlProcedure *procedure, PawlFigure *figure, GError **error)
{
  g_autoptr (GPtrArray) findings = pawl_cli_proof_read (procedure, figure, pawl_figure_get_name (figure), NULL);

  for (guint i = 0; i < findings->len; i++)
    {
      const PawlFinding *finding = g_ptr_array_index (findings, i);

      if (!g_str_equal (finding->code, "region-unknown"))
        continue;
      g_set_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_SCHEMA, "%s:%d: %s", finding->file, finding->line, finding->message);
      return FALSE;
    }
  return TRUE;
}

PawlFigure *
pawl_cli_load_procedure_figure (PawlProcedure *procedure, GError **error)
{
  g_autofree char *path = pawl_procedure_dup_figure_path (procedure, error);
  g_autoptr (PawlFigure) figure = path ? pawl_cli_load_figure_file (path, PAWL_TRIAL_KEPT, error) : NULL;

  return figure && has_all_regions (procedure, figure, error) ? g_steal_pointer (&figure) : NULL;
}
