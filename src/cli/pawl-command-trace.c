/* pawl trace: which jobs did this instrument, this lot, this revision, this person touch? */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-table.h"
#include "recall/pawl-trace.h"

typedef struct {
  char    *record, *names[PAWL_TOUCHED_BY_PERSON + 1], *from, *to;
  gboolean is_entries, is_json, is_csv;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  for (guint i = 0; i < G_N_ELEMENTS (self->names); i++)
    g_free (self->names[i]);
  g_free (self->from);
  g_free (self->to);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- jobs ---- */

static char *
describe_days (const PawlTouched *touched)
{
  return g_str_equal (touched->first, touched->last) ? g_strdup (touched->first) : g_strdup_printf ("%s to %s", touched->first, touched->last);
}

static void
print_jobs (GPtrArray *touched)
{
  for (guint i = 0; i < touched->len; i++)
    {
      const PawlTouched *line = touched->pdata[i];
      g_autofree char *days = describe_days (line);

      pawl_cli_print_opening (line->opening);
      printf (", revision %s: %u %s, %s\n", *line->opening->revision ? line->opening->revision : "not stated",
              line->n, line->n == 1 ? "entry" : "entries", days);
    }
  if (touched->len == 0)
    printf ("no job was touched\n");
}

static void
print_jobs_json (GPtrArray *touched)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < touched->len; i++)
    {
      const PawlTouched *line = touched->pdata[i];

      json_builder_begin_object (builder);
      pawl_cli_add_opening (builder, line->opening);
      pawl_cli_add_string (builder, "first-day", line->first);
      pawl_cli_add_string (builder, "last-day", line->last);
      pawl_cli_add_int (builder, "entry-count", line->n);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static void
print_jobs_csv (GPtrArray *touched)
{
  g_autoptr (GString) csv = g_string_new (NULL);

  pawl_csv_append_line (csv, PAWL_CLI_OPENING_COLUMNS, "first-day", "last-day", "entries");
  for (guint i = 0; i < touched->len; i++)
    {
      const PawlTouched *line = touched->pdata[i];
      g_autofree char *opened = pawl_cli_format_opened (line->opening);
      g_autofree char *n = g_strdup_printf ("%u", line->n);

      pawl_csv_append_line (csv, PAWL_CLI_OPENING_FIELDS (line->opening, opened), line->first, line->last, n);
    }
  fputs (csv->str, stdout);
}

/* ---- entries ---- */

/* What an entry says, in the field that says most. */
static const char *
get_words (const PawlEntry *entry)
{
  static const char *const fields[] = { "answer", "choice", "text", "what", "caption", "statement", "reason", "title" };

  /* Whether the other reading is in is not known here. */
  if (pawl_entry_get (entry, "blind") != NULL)
    return "taken blind";
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    if (pawl_entry_get (entry, fields[i]) != NULL)
      return pawl_entry_get (entry, fields[i]);
  return "";
}

static const char *
get_field (const PawlEntry *entry, const char *field)
{
  const char *value = pawl_entry_get (entry, field);

  return value != NULL ? value : "";
}

static void
print_entries (GPtrArray *list)
{
  const PawlOpening *opening = NULL;

  for (guint i = 0; i < list->len; i++)
    {
      const PawlTraceEntry *line = list->pdata[i];
      g_autofree char *at = pawl_cli_format_time (pawl_entry_peek_at (line->entry));

      if (line->opening != opening)
        {
          pawl_cli_print_opening (line->opening);
          printf ("\n");
        }
      opening = line->opening;
      printf ("    %s  %s %s%s%s, %s%s\n", at, pawl_entry_kind_get_name (pawl_entry_get_kind (line->entry)), pawl_entry_get_subject (line->entry),
              *get_words (line->entry) ? ": " : "", get_words (line->entry), pawl_entry_get_person (line->entry),
              line->is_undone ? " (taken back later)" : "");
    }
  if (list->len == 0)
    printf ("no job was touched\n");
}

static void
print_entries_json (GPtrArray *list)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < list->len; i++)
    {
      const PawlTraceEntry *line = list->pdata[i];

      json_builder_begin_object (builder);
      pawl_cli_add_opening (builder, line->opening);
      pawl_cli_add_entry (builder, line->entry, line->is_undone);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static void
print_entries_csv (GPtrArray *list)
{
  g_autoptr (GString) csv = g_string_new (NULL);

  pawl_csv_append_line (csv, PAWL_CLI_OPENING_COLUMNS, "number", "at", "kind", "subject", "says", "instrument", "mark", "lot", "person", "taken-back", "entry");
  for (guint i = 0; i < list->len; i++)
    {
      const PawlTraceEntry *line = list->pdata[i];
      const PawlEntry *entry = line->entry;
      g_autofree char *opened = pawl_cli_format_opened (line->opening);
      g_autofree char *number = g_strdup_printf ("%u", pawl_entry_get_number (entry));
      g_autofree char *at = pawl_csv_format_time (pawl_entry_peek_at (entry));

      pawl_csv_append_line (csv, PAWL_CLI_OPENING_FIELDS (line->opening, opened), number, at, pawl_entry_kind_get_name (pawl_entry_get_kind (entry)),
                            pawl_entry_get_subject (entry), get_words (entry), get_field (entry, "instrument"), get_field (entry, "tool-serial"),
                            get_field (entry, "lot"), pawl_entry_get_person (entry), line->is_undone ? "yes" : "", pawl_entry_get_id (entry));
    }
  fputs (csv->str, stdout);
}

/* ---- the question ---- */

static gboolean
read_question (const Options *options, const char *procedure, PawlTraceQuestion *question, GError **error)
{
  guint n = 0;

  *question = (PawlTraceQuestion) { .procedure = procedure, .from = options->from, .to = options->to };
  for (guint i = 0; i < G_N_ELEMENTS (options->names); i++)
    if (options->names[i] != NULL)
      {
        question->by = (PawlTouchedBy) i;
        question->name = options->names[i];
        n++;
      }
  if (n == 1)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "%s: name one of --instrument, --kit-lot, --revision and --person",
               n == 0 ? "trace what" : "one trace at a time");
  return FALSE;
}

static int
trace (const char *command, const Options *options, const char *procedure)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (GPtrArray) list = NULL;
  PawlTraceQuestion question;

  if (!read_question (options, procedure, &question, &error)
      || !(record = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_READ_ONLY, &error))
      || !(touched = pawl_trace (record, &question, &error))
      || (options->is_entries && !(list = pawl_trace_list_entries (record, &question, touched, &error))))
    return pawl_cli_fail (command, error);
  if (list != NULL)
    (options->is_json ? print_entries_json : options->is_csv ? print_entries_csv : print_entries) (list);
  else
    (options->is_json ? print_jobs_json : options->is_csv ? print_jobs_csv : print_jobs) (touched);
  return touched->len > 0 ? PAWL_EXIT_FINE : PAWL_EXIT_FINDINGS;
}

int
pawl_command_trace (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "instrument", 0, 0, G_OPTION_ARG_FILENAME, &options.names[PAWL_TOUCHED_BY_INSTRUMENT], "Jobs measured with it, by its mark, or by the tool's id in procedures", "MARK" },
    { "kit-lot", 0, 0, G_OPTION_ARG_FILENAME, &options.names[PAWL_TOUCHED_BY_LOT], "Jobs that parts of this lot went into", "LOT" },
    { "revision", 0, 0, G_OPTION_ARG_FILENAME, &options.names[PAWL_TOUCHED_BY_REVISION], "Jobs done by this revision, of PROCEDURE when one is named", "REVISION" },
    { "person", 0, 0, G_OPTION_ARG_FILENAME, &options.names[PAWL_TOUCHED_BY_PERSON], "Jobs that somebody worked on, or accepted something in", "NAME" },
    { "from", 0, 0, G_OPTION_ARG_FILENAME, &options.from, "Not before this day", "2026-11-25" },
    { "to", 0, 0, G_OPTION_ARG_FILENAME, &options.to, "Not after this day", "2026-11-25" },
    { "entries", 0, 0, G_OPTION_ARG_NONE, &options.is_entries, "Each entry, not only each job: of an instrument, the readings taken with it", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &options.is_csv, "Print a table for other programs (RFC 4180)", NULL },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "[PROCEDURE]",
                       "Lists the jobs that an instrument, a lot, a revision or a person touched, the one touched first first. Names are whole; "
                       "capitals don't matter. A day is the one where the work was done.", 0, 1)
      || !pawl_cli_check_table_options (argv[0], options.is_json, options.is_csv))
    return PAWL_EXIT_COULD_NOT;
  return trace (argv[0], &options, argc > 1 ? argv[1] : NULL);
}
