/* Loading: a file or its bytes into a procedure, or one sentence that says why not. */
#include <stdlib.h>
#include <string.h>

#include "procedure/pawl-each-private.h"
#include "procedure/pawl-load-private.h"

PawlProcedure *
pawl_load_bytes (GBytes *bytes, const char *name, const char *language, PawlFault *fault)
{
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(xmlDoc) doc = NULL;
  g_autoptr(GHashTable) which = NULL;
  PawlReader reader = { .language = language, .fault = fault };

  if (!(doc = pawl_xml_parse (bytes, fault)) || !(which = pawl_each_expand (doc, fault)) || !pawl_schema_validate (doc, fault))
    return NULL;
  reader.which = which;
  reader.procedure = procedure = pawl_procedure_new ();
  if (!pawl_reader_read (&reader, xmlDocGetRootElement (doc)) || fault->is_set)
    return NULL;
  procedure->bytes = g_bytes_ref (bytes);
  procedure->digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  procedure->name = g_strdup (name);
  pawl_procedure_index (procedure);
  return g_steal_pointer (&procedure);
}

static GBytes *
refuse_unreadable (PawlFault *fault, const GError *error)
{
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND))
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_IO, 0, "there is no such file; give the path of a procedure");
  else
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_IO, 0, "the file can't be read: %s", error->message);
  return NULL;
}

/* A file over the cap is not read into memory at all. */
static GBytes *
read_file (const char *path, PawlFault *fault)
{
  g_autoptr(GFile) file = g_file_new_for_path (path);
  g_autoptr(GError) error = NULL;
  g_autoptr(GFileInfo) info = g_file_query_info (file, G_FILE_ATTRIBUTE_STANDARD_TYPE "," G_FILE_ATTRIBUTE_STANDARD_SIZE,
                                                 G_FILE_QUERY_INFO_NONE, NULL, &error);
  GBytes *bytes;

  if (info == NULL)
    return refuse_unreadable (fault, error);
  if (g_file_info_get_file_type (info) != G_FILE_TYPE_REGULAR)
    {
      pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_IO, 0, "this is no ordinary file; give the path of a procedure");
      return NULL;
    }
  if (g_file_info_get_size (info) > PAWL_PROCEDURE_MAX_BYTES)
    {
      pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 1, PAWL_XML_TOO_LARGE);
      return NULL;
    }
  bytes = g_file_load_bytes (file, NULL, NULL, &error);
  return bytes != NULL ? bytes : refuse_unreadable (fault, error);
}

PawlProcedure *
pawl_load_path (const char *path, const char *language, PawlFault *fault)
{
  g_autoptr(GBytes) bytes = read_file (path, fault);

  return bytes != NULL ? pawl_load_bytes (bytes, path, language, fault) : NULL;
}

/* Turns @fault into @error, and clears it. */
static void
raise_fault (PawlFault *fault, const char *name, GError **error)
{
  if (fault->line > 0)
    g_set_error (error, PAWL_PROCEDURE_ERROR, fault->code, "%s:%d: %s", name, fault->line, fault->message);
  else
    g_set_error (error, PAWL_PROCEDURE_ERROR, fault->code, "%s: %s", name, fault->message);
  pawl_fault_clear (fault);
}

PawlProcedure *
pawl_procedure_load (const char *path, const char *language, GError **error)
{
  PawlFault fault = { 0 };
  PawlProcedure *procedure;

  g_return_val_if_fail (path != NULL, NULL);

  if (!(procedure = pawl_load_path (path, language, &fault)))
    raise_fault (&fault, path, error);
  return procedure;
}

PawlProcedure *
pawl_procedure_load_bytes (GBytes *bytes, const char *name, const char *language, GError **error)
{
  PawlFault fault = { 0 };
  PawlProcedure *procedure;

  g_return_val_if_fail (bytes != NULL && name != NULL, NULL);

  if (!(procedure = pawl_load_bytes (bytes, name, language, &fault)))
    raise_fault (&fault, name, error);
  return procedure;
}

/* ---- the file it came from ---- */

GBytes *
pawl_procedure_get_bytes (PawlProcedure *self)
{
  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);
  return g_bytes_ref (self->bytes);
}

const char *
pawl_procedure_get_digest (PawlProcedure *self)
{
  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);
  return self->digest;
}

const char *
pawl_procedure_get_name (PawlProcedure *self)
{
  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);
  return self->name;
}

/* Links could lead out of the two folders: the folder that a figure really lies in must be the one that it is named in. */
static gboolean
is_really_in (const char *path, const char *folder)
{
  g_autofree char *named_in = realpath (folder, NULL);
  g_autofree char *real = realpath (path, NULL);
  g_autofree char *lies_in = real != NULL ? g_path_get_dirname (real) : NULL;

  return real == NULL || g_strcmp0 (named_in, lies_in) == 0;
}

char *
pawl_procedure_dup_figure_path (PawlProcedure *self, GError **error)
{
  g_autofree char *home = NULL;
  g_autofree char *path = NULL;
  g_autofree char *folder = NULL;

  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);

  if (self->figure[0] == '\0')
    {
      g_set_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_IO, "%s: the procedure names no figure; add <figure file=\"NAME.svg\"/>", self->name);
      return NULL;
    }
  home = g_path_get_dirname (self->name);
  path = g_build_filename (home, self->figure, NULL);
  folder = g_path_get_dirname (path);
  if (!is_really_in (path, folder))
    {
      g_set_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_NOT_ALLOWED,
                   "%s:%d: the figure \"%s\" is a link that leads elsewhere; put the file itself there", self->name, self->figure_line, self->figure);
      return NULL;
    }
  return g_steal_pointer (&path);
}
