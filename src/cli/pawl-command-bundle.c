/* pawl bundle: jobs, or the whole record, as one file for another record. */
#include <stdio.h>

#include "bundle/pawl-bundle.h"
#include "cli/pawl-cli.h"
#include "training/pawl-nameless.h"

/* (transfer full) (nullable): ids of the jobs that are meant, NULL-terminated. */
static char **
find_jobs (PawlRecord *record, char **texts, int n_texts, GError **error)
{
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (int i = 0; i < n_texts; i++)
    {
      g_autofree char *id = pawl_record_find_job (record, texts[i], error);

      if (!id)
        return NULL;
      g_strv_builder_add (ids, id);
    }
  return g_strv_builder_end (ids);
}

static gboolean
write_bundle (PawlRecord *record, char **texts, int n_texts, const char *output, GError **error)
{
  g_auto (GStrv) jobs = NULL;
  g_autofree char *size = NULL;
  PawlBundleCount count;

  if ((n_texts > 0 && !(jobs = find_jobs (record, texts, n_texts, error)))
      || !pawl_bundle_write (record, (const char *const *) jobs, output, &count, error))
    return FALSE;
  size = g_format_size (count.size);
  printf ("%s: %u job%s and instruments, %u entries, %u kept file%s, %s unpacked\n", output, count.n_chains, count.n_chains == 1 ? "" : "s",
          count.n_entries, count.n_kept, count.n_kept == 1 ? "" : "s", size);
  return TRUE;
}

/* Who gets which number is drawn anew for each file, so that two files don't go together. */
static gboolean
write_nameless (PawlRecord *record, char **texts, int n_texts, const char *output, GError **error)
{
  g_auto (GStrv) jobs = NULL;
  g_autofree char *salt = g_uuid_string_random ();
  PawlBundleCount count;
  guint n_people;

  if ((n_texts > 0 && !(jobs = find_jobs (record, texts, n_texts, error)))
      || !pawl_nameless_write (record, (const char *const *) jobs, output, salt, &count, &n_people, error))
    return FALSE;
  printf ("%s: %u job%s, %u entries, %u %s as numbers\n", output, count.n_chains, count.n_chains == 1 ? "" : "s", count.n_entries, n_people,
          n_people == 1 ? "person" : "people");
  puts ("It has no names, notes, customers, serial numbers or photos, and is for “pawl class --from” alone; no record takes it in.\n"
        "Days and hours are in it: whoever knows who was at the bench then can tell who it was.");
  return TRUE;
}

int
pawl_command_bundle (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  g_autofree char *output = NULL;
  gboolean is_all = FALSE, is_nameless = FALSE;
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "The bundle to write, a zip", "FILE" },
    { "all", 0, 0, G_OPTION_ARG_NONE, &is_all, "All jobs, and the register of instruments", NULL },
    { "without-names", 0, 0, G_OPTION_ARG_NONE, &is_nameless, "For figures of people alone: without names, notes, customers and photos", NULL },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "[JOB…]", "Writes jobs with all that belongs to them as one file, which “pawl merge” takes into another record. "
                       "The same jobs make the same file. PINs are in no bundle.", 0, -1))
    return PAWL_EXIT_COULD_NOT;
  if (!output || is_all == (argc > 1))
    {
      pawl_cli_complain (argv[0], "%s", !output ? "where to? Say -o FILE" : is_all ? "either --all, or jobs, not both" : "which jobs? Name them, or say --all");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, &error))
      || !(is_nameless ? write_nameless : write_bundle) (record, argv + 1, argc - 1, output, &error))
    return pawl_cli_fail (argv[0], error);
  return PAWL_EXIT_FINE;
}
