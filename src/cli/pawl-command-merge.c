/* pawl merge: take bundles into a record, each whole or not at all. */
#include <stdio.h>

#include "bundle/pawl-bundle.h"
#include "cli/pawl-cli.h"

static void
print_count (const char *path, const PawlMergeCount *count)
{
  printf ("%s: %u of %u entries are new, %u of %u jobs and instruments\n", path, count->n_new_entries, count->n_entries, count->n_new_jobs, count->n_jobs);
  if (count->n_forked > 0)
    printf ("%s: %u of them went on in more than one place; their entries stand in the order in which they were written, and the next one joins the branches\n",
            path, count->n_forked);
}

static void
add_count (JsonBuilder *builder, const char *path, const PawlMergeCount *count)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "bundle", path);
  pawl_cli_add_int (builder, "entry-count", count->n_entries);
  pawl_cli_add_int (builder, "new-entry-count", count->n_new_entries);
  pawl_cli_add_int (builder, "job-count", count->n_jobs);
  pawl_cli_add_int (builder, "new-job-count", count->n_new_jobs);
  pawl_cli_add_int (builder, "new-kept-count", count->n_new_kept);
  pawl_cli_add_int (builder, "forked-count", count->n_forked);
  json_builder_end_object (builder);
}

/* One that is refused does not keep the others out. */
static int
merge_all (PawlRecord *record, int argc, char **argv, gboolean is_json)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  int code = PAWL_EXIT_FINE;

  json_builder_begin_array (builder);
  for (int i = 1; i < argc; i++)
    {
      g_autoptr (GError) error = NULL;
      PawlMergeCount count;

      if (!pawl_bundle_merge (record, argv[i], &count, &error))
        {
          pawl_cli_complain (argv[0], "%s; nothing was taken from it", error->message);
          code = PAWL_EXIT_COULD_NOT;
        }
      else if (is_json)
        add_count (builder, argv[i], &count);
      else
        print_count (argv[i], &count);
    }
  json_builder_end_array (builder);
  if (is_json)
    pawl_cli_print_json (builder);
  return code;
}

int
pawl_command_merge (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  gboolean is_json = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record to take them into; without it, the one in your data folder", "DB" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print what was taken as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "FILE…", "Takes bundles into a record: in any order and any number of times, with the same result. "
                       "One that is not as it was written is not taken at all.", 1, -1))
    return PAWL_EXIT_COULD_NOT;
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_CREATE, &error)))
    return pawl_cli_fail (argv[0], error);
  return merge_all (record, argc, argv, is_json);
}
