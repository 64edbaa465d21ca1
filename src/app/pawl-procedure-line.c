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

/* The figure is opened once here, so that a faulty one is said before a job stands on it. */
static PawlFigure *
load_figure (PawlProcedureLine *self)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = NULL;
  g_autoptr(PawlFigure) figure = NULL;

  if (self->procedure == NULL || *pawl_procedure_get_figure (self->procedure) == '\0')
    return NULL;
  path = pawl_procedure_dup_figure_path (self->procedure, &error);
  if (path != NULL)
    figure = pawl_figure_load (path, &error);
  if (figure == NULL)
    {
      self->problem = g_strdup (error->message);
      return NULL;
    }
  self->figure = g_bytes_ref (pawl_figure_peek_bytes (figure));
  return g_steal_pointer (&figure);
}

static GPtrArray *
proof_read (PawlProcedure *procedure, PawlFigure *figure)
{
  g_autoptr(GPtrArray) parts = NULL, ids = NULL;
  PawlRegionList regions = { 0 };

  if (figure == NULL)
    return pawl_procedure_proof_read (procedure, NULL);
  parts = pawl_figure_list_part_regions (figure);
  ids = g_ptr_array_new ();
  for (guint i = 0; i < parts->len; i++)
    g_ptr_array_add (ids, ((PawlRegion *) parts->pdata[i])->id);
  g_ptr_array_add (ids, NULL);
  regions.ids = (const char * const *) ids->pdata;
  regions.file = pawl_figure_get_name (figure);
  return pawl_procedure_proof_read (procedure, &regions);
}

PawlProcedureLine *
pawl_procedure_line_load (const char *path, const char *language)
{
  PawlProcedureLine *self = g_new0 (PawlProcedureLine, 1);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = NULL;

  self->path = g_strdup (path);
  self->procedure = pawl_procedure_load (path, language, &error);
  if (self->procedure == NULL)
    {
      self->problem = g_strdup (error->message);
      self->findings = g_ptr_array_new ();
      return self;
    }
  figure = load_figure (self);
  self->findings = proof_read (self->procedure, figure);
  return self;
}

char *
pawl_procedure_line_describe (const PawlProcedureLine *self)
{
  guint n_cautions = pawl_procedure_get_cautions (self->procedure)->len;
  guint n_steps = pawl_procedure_get_steps (self->procedure)->len;
  g_autofree char *steps = g_strdup_printf (g_dngettext (NULL, "%u step", "%u steps", n_steps), n_steps);
  g_autofree char *cautions = g_strdup_printf (g_dngettext (NULL, "%u caution", "%u cautions", n_cautions), n_cautions);
  g_autofree char *findings = self->findings->len == 0 ? g_strdup (_("no findings"))
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
