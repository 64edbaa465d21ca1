#include "app/pawl-procedure-line.h"

#include <glib/gi18n.h>

void
pawl_procedure_line_free (PawlProcedureLine *self)
{
  g_free (self->path);
  g_clear_object (&self->procedure);
  g_clear_pointer (&self->figure, g_bytes_unref);
  g_clear_pointer (&self->findings, g_ptr_array_unref);
  g_free (self->problem);
  g_free (self);
}

/* The bytes alone, as the job will keep them; whether they may be drawn is found out later. */
static void
read_figure (PawlProcedureLine *self)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = NULL;

  if (*pawl_procedure_get_figure (self->procedure) == '\0')
    return;
  path = pawl_procedure_dup_figure_path (self->procedure, &error);
  if (path != NULL)
    self->figure = pawl_figure_read_file (path, &error);
  if (self->figure == NULL)
    self->problem = g_strdup (error->message);
}

PawlProcedureLine *
pawl_procedure_line_load (const char *path, const char *language)
{
  PawlProcedureLine *self = g_new0 (PawlProcedureLine, 1);
  g_autoptr(GError) error = NULL;

  self->path = g_strdup (path);
  self->procedure = pawl_procedure_load (path, language, &error);
  if (self->procedure == NULL)
    {
      self->problem = g_strdup (error->message);
      self->findings = g_ptr_array_new ();
      return self;
    }
  read_figure (self);
  self->findings = pawl_procedure_proof_read (self->procedure, NULL);
  return self;
}

/* ---- the figure ---- */

void
pawl_figure_proof_free (PawlFigureProof *self)
{
  g_clear_pointer (&self->findings, g_ptr_array_unref);
  g_free (self->problem);
  g_free (self);
}

static GPtrArray *
proof_read (PawlProcedure *procedure, PawlFigure *figure)
{
  g_autoptr(GPtrArray) parts = pawl_figure_list_part_regions (figure);
  g_autoptr(GPtrArray) ids = g_ptr_array_new ();
  PawlRegionList regions = { 0 };

  for (guint i = 0; i < parts->len; i++)
    g_ptr_array_add (ids, ((PawlRegion *) parts->pdata[i])->id);
  g_ptr_array_add (ids, NULL);
  regions.ids = (const char * const *) ids->pdata;
  regions.file = pawl_figure_get_name (figure);
  return pawl_procedure_proof_read (procedure, &regions);
}

PawlFigureProof *
pawl_figure_proof_new (PawlProcedure *procedure, GBytes *bytes, PawlTrial *trial, GCancellable *cancellable)
{
  PawlFigureProof *self = g_new0 (PawlFigureProof, 1);
  g_autoptr(GError) error = NULL;
  g_autofree char *name = g_path_get_basename (pawl_procedure_get_figure (procedure));
  g_autoptr(PawlFigure) figure = pawl_trial_load_bytes (trial, bytes, name, PAWL_TRIAL_KEPT, cancellable, &error);

  if (figure != NULL)
    self->findings = proof_read (procedure, figure);
  else
    self->problem = g_strdup (error->message);
  return self;
}

gboolean
pawl_procedure_line_wants_proof (const PawlProcedureLine *self)
{
  return self->figure != NULL && !self->is_proofed;
}

void
pawl_procedure_line_take_proof (PawlProcedureLine *self, PawlFigureProof *proof)
{
  self->is_proofed = TRUE;
  self->problem = g_steal_pointer (&proof->problem);
  if (proof->findings != NULL)
    {
      g_ptr_array_unref (self->findings);
      self->findings = g_steal_pointer (&proof->findings);
    }
  pawl_figure_proof_free (proof);
}

char *
pawl_procedure_line_describe (const PawlProcedureLine *self)
{
  guint n_cautions = pawl_procedure_get_cautions (self->procedure)->len;
  guint n_steps = pawl_procedure_get_steps (self->procedure)->len;
  g_autofree char *steps = g_strdup_printf (g_dngettext (NULL, "%u step", "%u steps", n_steps), n_steps);
  g_autofree char *cautions = g_strdup_printf (g_dngettext (NULL, "%u caution", "%u cautions", n_cautions), n_cautions);
  g_autofree char *findings = pawl_procedure_line_wants_proof (self) ? g_strdup (_("Checking the figure…"))
    : self->problem != NULL && self->findings->len == 0 ? g_strdup (_("the figure can’t be drawn"))
    : self->findings->len == 0 ? g_strdup (_("no findings"))
    : g_strdup_printf (g_dngettext (NULL, "%u finding of the proof-reader", "%u findings of the proof-reader", self->findings->len), self->findings->len);

  return g_strdup_printf ("%s · %s · %s", steps, cautions, findings);
}

static int
compare_paths (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char * const *) a, *(const char * const *) b);
}

char **
pawl_procedure_line_list_folder (const char *folder)
{
  g_autoptr(GDir) directory = g_dir_open (folder, 0, NULL);
  GPtrArray *paths = g_ptr_array_new ();
  const char *name;

  while (directory != NULL && (name = g_dir_read_name (directory)) != NULL)
    if (g_str_has_suffix (name, ".xml"))
      g_ptr_array_add (paths, g_build_filename (folder, name, NULL));
  g_ptr_array_sort (paths, compare_paths);
  g_ptr_array_add (paths, NULL);
  return (char **) g_ptr_array_free (paths, FALSE);
}
