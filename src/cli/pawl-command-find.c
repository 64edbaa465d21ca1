/* pawl find: jobs by what was said in them. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-table.h"
#include "recall/pawl-find.h"

/* More lines than this nobody reads; it is said how many more there are. */
#define MOST 50

static void
print_lines (const PawlFound *found)
{
  for (guint i = 0; i < found->hits->len; i++)
    {
      const PawlHit *hit = found->hits->pdata[i];

      pawl_cli_print_opening (hit->opening);
      printf ("\n");
      for (guint j = 0; j < hit->said->len; j++)
        {
          const PawlSaid *said = hit->said->pdata[j];

          printf ("    %s: %s\n", said->place, said->text);
        }
    }
  if (found->n_jobs > found->hits->len)
    printf ("and %u more; --most N lists more of them\n", found->n_jobs - found->hits->len);
  else if (found->n_jobs == 0)
    printf ("nothing found\n");
}

static void
print_json (const PawlFound *found)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_int (builder, "found", found->n_jobs);
  json_builder_set_member_name (builder, "jobs");
  json_builder_begin_array (builder);
  for (guint i = 0; i < found->hits->len; i++)
    {
      const PawlHit *hit = found->hits->pdata[i];

      json_builder_begin_object (builder);
      pawl_cli_add_opening (builder, hit->opening);
      json_builder_set_member_name (builder, "hits");
      json_builder_begin_array (builder);
      for (guint j = 0; j < hit->said->len; j++)
        {
          const PawlSaid *said = hit->said->pdata[j];

          json_builder_begin_object (builder);
          pawl_cli_add_string (builder, "what", said->place);
          pawl_cli_add_string (builder, "text", said->text);
          pawl_cli_add_string (builder, "entry", said->entry);
          json_builder_end_object (builder);
        }
      json_builder_end_array (builder);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* One line for each place, so that each line says where. */
static void
print_csv (const PawlFound *found)
{
  g_autoptr (GString) csv = g_string_new (NULL);

  pawl_csv_append_line (csv, PAWL_CLI_OPENING_COLUMNS, "place", "text", "entry");
  for (guint i = 0; i < found->hits->len; i++)
    {
      const PawlHit *hit = found->hits->pdata[i];
      g_autofree char *opened = pawl_cli_format_opened (hit->opening);

      for (guint j = 0; j < hit->said->len; j++)
        {
          const PawlSaid *said = hit->said->pdata[j];

          pawl_csv_append_line (csv, PAWL_CLI_OPENING_FIELDS (hit->opening, opened), said->place, said->text, said->entry);
        }
    }
  fputs (csv->str, stdout);
}

static gboolean
reindex (const char *path, GError **error)
{
  g_autoptr (PawlRecord) record = pawl_cli_open_record (path, PAWL_RECORD_OPEN_CREATE, error);

  return record != NULL && pawl_record_rebuild_index (record, error);
}

int
pawl_command_find (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  gboolean is_json = FALSE, is_csv = FALSE, is_reindexing = FALSE;
  int most = MOST;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "most", 0, 0, G_OPTION_ARG_INT, &most, "How many jobs to list at most (50)", "N" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print JSON", NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &is_csv, "Print a table for other programs (RFC 4180)", NULL },
    { "reindex", 0, 0, G_OPTION_ARG_NONE, &is_reindexing, "First make anew what is searched, from the entries", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (PawlFound) found = NULL;
  g_autofree char *text = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "TEXT…",
                       "Finds jobs by what was said in them: serial, work order, customer, unit, procedure and revision, complaint, parts that were "
                       "judged, lots, notes, reasons. Each word must be found somewhere in the job; the beginning of it will do.", 1, -1))
    return PAWL_EXIT_COULD_NOT;
  if (!pawl_cli_check_table_options (argv[0], is_json, is_csv))
    return PAWL_EXIT_COULD_NOT;
  if (most < 1)
    {
      pawl_cli_complain (argv[0], "--most %d is none; it is 1 or more", most);
      return PAWL_EXIT_COULD_NOT;
    }
  text = g_strjoinv (" ", argv + 1);
  if ((is_reindexing && !reindex (record_path, &error))
      || !(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, &error))
      || !(found = pawl_find (record, text, (guint) most, &error)))
    return pawl_cli_fail (argv[0], error);
  (is_json ? print_json : is_csv ? print_csv : print_lines) (found);
  return found->n_jobs > 0 ? PAWL_EXIT_FINE : PAWL_EXIT_FINDINGS;
}
