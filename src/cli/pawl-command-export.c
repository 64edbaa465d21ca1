/* pawl export: all of a job, for other programs. */
#include <errno.h>
#include <stdio.h>
#include <string.h>

#include <glib/gstdio.h>

#include "cli/pawl-cli.h"
#include "export/pawl-export.h"

typedef enum { AS_CSV, AS_JSON, AS_QIF } Form;

typedef struct {
  char *record, *as, *output, *table;
  Form  form;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->as);
  g_free (self->output);
  g_free (self->table);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

static gboolean
check_options (Options *self, GError **error)
{
  static const char *const forms[] = { [AS_CSV] = "csv", [AS_JSON] = "json", [AS_QIF] = "qif" };

  for (guint i = 0; self->as != NULL && i < G_N_ELEMENTS (forms); i++)
    if (g_str_equal (self->as, forms[i]))
      {
        self->form = (Form) i;
        if (self->table == NULL || self->form == AS_CSV)
          return TRUE;
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--table is one of the tables of --as csv; %s has none", self->as);
        return FALSE;
      }
  if (self->as != NULL)
    return pawl_cli_refuse_value ("--as", self->as, "csv, json or qif", error);
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "as what? --as csv, json or qif");
  return FALSE;
}

/* ---- what is written where ---- */

static gboolean
write_text (const char *path, const char *text, gsize size, GError **error)
{
  if (path != NULL)
    return g_file_set_contents (path, text, (gssize) size, error);
  if (fwrite (text, 1, size, stdout) == size && fflush (stdout) == 0)
    return TRUE;
  g_set_error_literal (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, "standard output could not be written to the end");
  return FALSE;
}

/* ---- photos ---- */

static const char *
get_ending (const char *media_type)
{
  static const char *const endings[][2] = { { "image/jpeg", "jpg" }, { "image/png", "png" }, { "image/webp", "webp" }, { "image/tiff", "tif" } };

  for (guint i = 0; media_type != NULL && i < G_N_ELEMENTS (endings); i++)
    if (g_str_equal (media_type, endings[i][0]))
      return endings[i][1];
  return "bin";
}

/* The bytes as they were taken, by the digest that names them in entries.csv. */
static gboolean
write_photo (PawlRecord *record, const PawlEntry *photo, const char *folder, GError **error)
{
  const char *digest = pawl_entry_get (photo, "digest");
  g_autoptr (GBytes) bytes = digest != NULL ? pawl_record_load_kept (record, digest, error) : NULL;
  g_autofree char *name = g_strdup_printf ("%s.%s", digest, get_ending (pawl_entry_get (photo, "media-type")));
  g_autofree char *path = g_build_filename (folder, name, NULL);

  if (bytes == NULL)
    return digest == NULL; /* without a digest there is nothing to write; verify tells of that */
  return g_file_set_contents (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), error);
}

static gboolean
write_photos (PawlRecord *record, PawlJob *job, const char *folder, GError **error)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  g_autofree char *photos = g_build_filename (folder, "photos", NULL);

  for (guint i = 0; i < entries->len; i++)
    {
      if (pawl_entry_get_kind (entries->pdata[i]) != PAWL_ENTRY_PHOTO)
        continue;
      if (g_mkdir (photos, 0777) != 0 && errno != EEXIST)
        {
          int saved_errno = errno;

          g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (saved_errno), "%s: the folder can't be made: %s", photos, g_strerror (saved_errno));
          return FALSE;
        }
      if (!write_photo (record, entries->pdata[i], photos, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- tables and texts ---- */

static gboolean
export_tables (PawlRecord *record, PawlJob *job, const char *head, const Options *options, GError **error)
{
  g_autoptr (GPtrArray) tables = pawl_export_list_tables (job, head);
  g_autofree char *names = pawl_export_name_tables ();
  const PawlExportTable *table;

  if (options->table == NULL && options->output == NULL)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   "a job is several tables: name the folder for them, -o FOLDER, or one of them, --table %s", names);
      return FALSE;
    }
  if (options->table == NULL)
    return pawl_export_write_tables (tables, options->output, error) && write_photos (record, job, options->output, error);
  if (!(table = pawl_export_find_table (tables, options->table)))
    return pawl_cli_refuse_value ("--table", options->table, names, error);
  return write_text (options->output, table->csv->str, table->csv->len, error);
}

static char *
format_json (PawlJob *job, const char *head)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;
  GPtrArray *entries = pawl_job_get_entries (job);

  json_builder_begin_object (builder);
  pawl_cli_add_job (builder, job);
  pawl_cli_add_string (builder, "head", head);
  json_builder_set_member_name (builder, "entries");
  json_builder_begin_array (builder);
  for (guint i = 0; i < entries->len; i++)
    {
      json_builder_begin_object (builder);
      pawl_cli_add_entry (builder, entries->pdata[i], pawl_job_is_undone (job, entries->pdata[i]));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  text = json_to_string (root, TRUE);
  return g_strconcat (text, "\n", NULL);
}

static gboolean
export (PawlBench *bench, const Options *options, GError **error)
{
  PawlJob *job = pawl_bench_get_job (bench);
  g_autofree char *head = pawl_record_dup_head (pawl_bench_get_record (bench), pawl_job_get_id (job), error);
  g_autofree char *text = NULL;

  if (head == NULL)
    return FALSE;
  if (options->form == AS_CSV)
    return export_tables (pawl_bench_get_record (bench), job, head, options, error);
  text = options->form == AS_JSON ? format_json (job, head) : pawl_export_format_results (job, head);
  return write_text (options->output, text, strlen (text), error);
}

int
pawl_command_export (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "as", 0, 0, G_OPTION_ARG_FILENAME, &options.as, "csv: tables (RFC 4180), and photos; json: where the job stands, and all entries; qif: readings as XML, QIF-shaped", "csv|json|qif" },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "File to write, of csv the folder for its tables; without it, standard output", "OUT" },
    { "table", 0, 0, G_OPTION_ARG_FILENAME, &options.table, "Only this table of csv, as one file", "NAME" },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlBench) bench = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "JOB",
                       "Writes all of a job for other programs. JOB is an id or its beginning, a work order or a serial number.\n"
                       "“qif” is QIF-shaped, not QIF: its element names follow ISO 23952 where the terms fit, and no schema was held against it.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!check_options (&options, &error) || !(bench = pawl_cli_open_job (options.record, argv[1], &error)) || !export (bench, &options, &error))
    return pawl_cli_fail (argv[0], error);
  return PAWL_EXIT_FINE;
}
