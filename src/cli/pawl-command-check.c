/* pawl check: findings in procedures and in the figures that they name. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "procedure/pawl-reader.h"

static PawlFinding *
make_finding (PawlSeverity severity, const char *code, const char *file, int line, const char *message)
{
  PawlFinding *finding = g_new0 (PawlFinding, 1);

  finding->severity = severity;
  finding->code = g_strdup (code);
  finding->file = g_strdup (file);
  finding->line = line;
  finding->message = g_strdup (message);
  return finding;
}

/* Takes "NAME:LINE: WORDS" or "NAME: WORDS" apart, where NAME is the last part of @file; any other text stays whole. */
static PawlFinding *
make_located (PawlSeverity severity, const char *code, const char *file, const char *text)
{
  g_autofree char *name = g_path_get_basename (file);
  g_autofree char *prefix = g_strdup_printf ("%s:", name);
  char *end;
  gint64 line;

  if (!g_str_has_prefix (text, prefix))
    return make_finding (severity, code, file, 0, text);
  text += strlen (prefix);
  line = g_ascii_strtoll (text, &end, 10);
  if (end == text || !g_str_has_prefix (end, ": "))
    return make_finding (severity, code, file, 0, text + strspn (text, " "));
  return make_finding (severity, code, file, (int) line, end + strlen (": "));
}

/* The way to the figure as it is shown: "data/svg/x.svg", not "data/procedures/../svg/x.svg". */
static char *
shorten_path (const char *path)
{
  g_autoptr (GRegex) up = g_regex_new ("[^/]+/\\.\\./", 0, 0, NULL);

  return g_regex_replace_literal (up, path, -1, 0, "", 0, NULL);
}

static void
append_all (GPtrArray *findings, GPtrArray *more)
{
  for (guint i = 0; i < more->len; i++)
    g_ptr_array_add (findings, g_ptr_array_index (more, i));
  g_ptr_array_set_free_func (more, NULL); /* moved */
}

static void
proof_read_with_figure (PawlProcedure *procedure, PawlFigure *figure, const char *shown, GPtrArray *findings)
{
  g_autoptr (PawlSeatedSight) sight = pawl_seated_sight_new (procedure, figure);
  g_autoptr (GPtrArray) more = pawl_cli_proof_read (procedure, figure, shown, sight);
  GPtrArray *own = pawl_figure_get_findings (figure);

  append_all (findings, more);
  for (guint i = 0; i < own->len; i++)
    g_ptr_array_add (findings, make_located (PAWL_SEVERITY_WARNING, "figure-drawn-otherwise", shown, g_ptr_array_index (own, i)));
}

/* The figure's own findings, and its regions for the procedure's. */
static void
check_with_figure (PawlProcedure *procedure, PawlTrialUse use, GPtrArray *findings)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = *pawl_procedure_get_figure (procedure) ? pawl_procedure_dup_figure_path (procedure, &error) : NULL;
  g_autofree char *shown = path ? shorten_path (path) : g_strdup (pawl_procedure_get_name (procedure));
  g_autoptr (PawlFigure) figure = path ? pawl_cli_load_figure_file (path, use, &error) : NULL;

  if (figure)
    proof_read_with_figure (procedure, figure, shown, findings);
  else
    {
      g_autoptr (GPtrArray) more = pawl_procedure_proof_read (procedure, NULL);

      append_all (findings, more);
    }
  if (error)
    g_ptr_array_add (findings, make_located (PAWL_SEVERITY_ERROR, "figure-refused", shown, error->message));
}

/* FALSE when the file can't be read at all. */
static gboolean
check_file (const char *path, PawlTrialUse use, GPtrArray *findings, GError **error)
{
  g_autoptr (GError) local_error = NULL;
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (path, NULL, &local_error);

  if (procedure)
    check_with_figure (procedure, use, findings);
  else if (g_error_matches (local_error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_IO))
    {
      g_propagate_error (error, g_steal_pointer (&local_error));
      return FALSE;
    }
  else
    {
      g_autoptr (GPtrArray) refusals = pawl_procedure_check_file (path, NULL, NULL);

      append_all (findings, refusals);
    }
  return TRUE;
}

static const char *
get_severity_word (PawlSeverity severity)
{
  return severity == PAWL_SEVERITY_ERROR ? "error" : severity == PAWL_SEVERITY_WARNING ? "warning" : "advice";
}

static void
print_json (GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < findings->len; i++)
    {
      const PawlFinding *finding = g_ptr_array_index (findings, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "file", finding->file);
      pawl_cli_add_int (builder, "line", finding->line);
      pawl_cli_add_string (builder, "severity", get_severity_word (finding->severity));
      pawl_cli_add_string (builder, "code", finding->code);
      pawl_cli_add_string (builder, "message", finding->message);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static void
print_lines (GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    {
      g_autofree char *line = pawl_finding_format (g_ptr_array_index (findings, i));

      puts (line);
    }
}

/* Advice alone does not fail a check. */
static gboolean
has_fault (GPtrArray *findings)
{
  for (guint i = 0; i < findings->len; i++)
    if (((const PawlFinding *) g_ptr_array_index (findings, i))->severity != PAWL_SEVERITY_ADVICE)
      return TRUE;
  return FALSE;
}

int
pawl_command_check (int argc, char **argv)
{
  gboolean is_json = FALSE, anew = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print the findings as JSON", NULL },
    { "anew", 0, 0, G_OPTION_ARG_NONE, &anew, "Try each figure again, whatever an earlier trial found", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GPtrArray) findings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_finding_free);
  gboolean is_read = TRUE;

  if (!pawl_cli_parse (&argc, &argv, entries, "FILE…", "Proof-reads procedures, and the figures that they name. "
                       "Findings are printed as FILE:LINE: SEVERITY: MESSAGE (CODE).", 1, -1))
    return PAWL_EXIT_COULD_NOT;
  for (int i = 1; i < argc; i++)
    {
      g_autoptr (GError) error = NULL;

      if (!check_file (argv[i], anew ? PAWL_TRIAL_ANEW : PAWL_TRIAL_KEPT_IF_FINAL, findings, &error))
        {
          pawl_cli_fail (argv[0], error);
          is_read = FALSE;
        }
    }
  if (is_json)
    print_json (findings);
  else
    print_lines (findings);
  if (!is_read)
    return PAWL_EXIT_COULD_NOT;
  return has_fault (findings) ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}
