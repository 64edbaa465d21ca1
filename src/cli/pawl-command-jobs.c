/* pawl jobs: one line for each job of the record. */
#include <stdio.h>

#include "cli/pawl-cli-share.h"
#include "cli/pawl-cli.h"

static void
print_lines (GPtrArray *jobs)
{
  for (guint i = 0; i < jobs->len; i++)
    {
      const PawlJobLine *job = g_ptr_array_index (jobs, i);
      g_autofree char *last = pawl_cli_format_time (job->last);

      printf ("%.8s  %s  %s, serial %s, work order %s, %s: %u entries, %s\n", job->id, last, job->unit,
              *job->serial ? job->serial : "none", *job->work_order ? job->work_order : "none",
              *job->customer ? job->customer : "no customer stated", job->n_entries, job->is_signed ? "signed" : "not signed");
    }
}

static void
print_json (GPtrArray *jobs)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < jobs->len; i++)
    {
      const PawlJobLine *job = g_ptr_array_index (jobs, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "id", job->id);
      pawl_cli_add_string (builder, "title", job->title);
      pawl_cli_add_string (builder, "unit", job->unit);
      pawl_cli_add_string (builder, "serial", job->serial);
      pawl_cli_add_string (builder, "work-order", job->work_order);
      pawl_cli_add_string (builder, "customer", job->customer);
      pawl_cli_add_time (builder, "opened", job->opened);
      pawl_cli_add_time (builder, "last", job->last);
      pawl_cli_add_int (builder, "entries", job->n_entries);
      json_builder_set_member_name (builder, "signed");
      json_builder_add_boolean_value (builder, job->is_signed);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

int
pawl_command_jobs (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  gboolean is_json = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print the jobs as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) jobs = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, NULL, "Lists the jobs of the record, the newest activity first.", 0, 0))
    return PAWL_EXIT_COULD_NOT;
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, &error)) || !(jobs = pawl_record_list_jobs (record, &error)))
    return pawl_cli_fail (argv[0], error);
  if (is_json)
    print_json (jobs);
  else
    {
      print_lines (jobs);
      pawl_cli_share_print ();
    }
  return PAWL_EXIT_FINE;
}
