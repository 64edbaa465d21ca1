/* A job as tables. */
#include "export/pawl-export-private.h"

#include <errno.h>
#include <glib/gstdio.h>

/* ---- the job itself ---- */

static void
add_fact (GString    *csv,
          const char *name,
          const char *value)
{
  pawl_csv_append_line (csv, name, value);
}

/* What the opening did not say and a correction did. */
static void
add_facts_stated_later (GString         *csv,
                        PawlJob         *job,
                        const PawlEntry *opened)
{
  guint n_fields;
  const PawlIntakeField *fields = pawl_intake_list_fields (&n_fields);

  for (guint i = 0; i < n_fields; i++)
    if (pawl_entry_get (opened, fields[i].id) == NULL && pawl_job_peek_correction (job, fields[i].id) != NULL)
      add_fact (csv, fields[i].id, pawl_job_get_field (job, fields[i].id));
}

static void
add_job (GString    *csv,
         PawlJob    *job,
         const char *head)
{
  PawlEntry *opened = pawl_job_get_entries (job)->pdata[0];
  PawlEntry *signature = pawl_job_peek_signature (job);
  g_auto (GStrv) fields = pawl_entry_list_fields (opened);
  g_autofree char *at = pawl_export_format_time (pawl_entry_peek_at (opened));
  g_autofree char *signed_at = pawl_export_format_time (signature != NULL ? pawl_entry_peek_at (signature) : NULL);
  g_autofree char *n_entries = g_strdup_printf ("%u", pawl_job_get_entries (job)->len);
  guint total, done = pawl_job_count_done (job, &total);
  g_autofree char *progress = g_strdup_printf ("%u", done);
  g_autofree char *n_steps = g_strdup_printf ("%u", total);

  add_fact (csv, "name", "value");
  add_fact (csv, "job", pawl_job_get_id (job));
  add_fact (csv, "opened", at);
  add_fact (csv, "opened-by", pawl_entry_get_person (opened));
  for (guint i = 0; fields[i] != NULL; i++)
    add_fact (csv, fields[i], pawl_job_get_field (job, fields[i]));
  add_facts_stated_later (csv, job, opened);
  add_fact (csv, "steps-done", progress);
  add_fact (csv, "steps-total", n_steps);
  add_fact (csv, "signed", signed_at);
  add_fact (csv, "signed-by", signature != NULL ? pawl_entry_get_person (signature) : "");
  add_fact (csv, "entries", n_entries);
  add_fact (csv, "head", head);
}

/* ---- steps, parts, deviations ---- */

static void
add_steps (GString    *csv,
           PawlJob    *job,
           const char *head)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  pawl_csv_append_line (csv, "number", "step", "phase", "command", "status", "done", "done-by", "released-by", "deviation", "redo-reason", "notes", "photos");
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = steps->pdata[i];
      g_autofree char *done = pawl_export_format_time (state->done != NULL ? pawl_entry_peek_at (state->done) : NULL);
      g_autofree char *n_notes = g_strdup_printf ("%u", state->notes->len);
      g_autofree char *n_photos = g_strdup_printf ("%u", state->photos->len);

      pawl_csv_append_line (csv, state->step->number, state->step->id, state->step->phase, state->step->command, pawl_step_status_get_word (state->status),
                            done, state->done != NULL ? pawl_entry_get_person (state->done) : "",
                            state->release != NULL ? pawl_entry_get_person (state->release) : "", pawl_export_get_field (state->deviation, "reason"),
                            state->redo_reason, n_notes, n_photos);
    }
}

static void
add_parts (GString    *csv,
           PawlJob    *job,
           const char *head)
{
  static const char *const places[] = {
    [PAWL_PLACE_ON_UNIT] = "on the unit", [PAWL_PLACE_OFF] = "off", [PAWL_PLACE_SEATED] = "seated", [PAWL_PLACE_NOT_YET] = "not fitted yet",
  };
  GPtrArray *parts = pawl_job_get_parts (job);

  pawl_csv_append_line (csv, "item", "part", "name", "quantity", "kit", "where", "choice", "reason", "source", "from", "lot", "person", "at");
  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = parts->pdata[i];
      const PawlEntry *entry = state->arrival != NULL ? state->arrival : state->disposition; /* what is fitted; the choice stays what it was */
      g_autofree char *quantity = g_strdup_printf ("%u", state->part->quantity);
      g_autofree char *at = pawl_export_format_time (entry != NULL ? pawl_entry_peek_at (entry) : NULL);

      pawl_csv_append_line (csv, state->part->item, state->part->id, state->part->name, quantity, state->part->is_kit ? "yes" : "", places[state->place],
                            pawl_export_get_field (state->disposition, "choice"), pawl_export_get_field (state->disposition, "reason"), pawl_export_get_field (entry, "source"),
                            pawl_export_get_field (entry, "from"), pawl_export_get_field (entry, "lot"),
                            entry != NULL ? pawl_entry_get_person (entry) : "", at);
    }
}

static void
add_deviations (GString    *csv,
                PawlJob    *job,
                const char *head)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (job);

  pawl_csv_append_line (csv, "subject", "what", "reason", "accepted-by", "person", "at", "entry");
  for (guint i = 0; i < deviations->len; i++)
    {
      const PawlEntry *entry = deviations->pdata[i];
      g_autofree char *at = pawl_export_format_time (pawl_entry_peek_at (entry));

      pawl_csv_append_line (csv, pawl_entry_get_subject (entry), pawl_export_get_field (entry, "what"), pawl_export_get_field (entry, "reason"),
                            pawl_export_get_field (entry, "accepted-by"), pawl_entry_get_person (entry), at, pawl_entry_get_id (entry));
    }
}

static void
add_corrections (GString    *csv,
                 PawlJob    *job,
                 const char *head)
{
  GPtrArray *corrections = pawl_job_get_corrections (job);

  pawl_csv_append_line (csv, "field", "before", "after", "reason", "person", "at", "entry");
  for (guint i = 0; i < corrections->len; i++)
    {
      const PawlCorrection *correction = corrections->pdata[i];
      const PawlEntry *entry = correction->entry;
      g_autofree char *at = pawl_export_format_time (pawl_entry_peek_at (entry));

      pawl_csv_append_line (csv, correction->field->id, correction->before, correction->after, pawl_export_get_field (entry, "reason"),
                            pawl_entry_get_person (entry), at, pawl_entry_get_id (entry));
    }
}

/* ---- entries ---- */

static int
compare_texts (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

/* (transfer container): the names of all fields that occur in the job, in byte order; borrowed from @names. */
static GPtrArray *
list_columns (GPtrArray  *entries,
              GHashTable *names)
{
  GPtrArray *columns = g_ptr_array_new ();

  for (guint i = 0; i < entries->len; i++)
    {
      g_auto (GStrv) fields = pawl_entry_list_fields (entries->pdata[i]);

      for (guint j = 0; fields[j] != NULL; j++)
        if (!g_hash_table_contains (names, fields[j]))
          {
            char *name = g_strdup (fields[j]);

            g_hash_table_add (names, name);
            g_ptr_array_add (columns, name);
          }
    }
  g_ptr_array_sort (columns, compare_texts);
  return columns;
}

static void
add_entry (GString         *csv,
           PawlJob         *job,
           const PawlEntry *entry,
           GPtrArray       *columns)
{
  g_autofree char *number = g_strdup_printf ("%u", pawl_entry_get_number (entry));
  g_autofree char *at = pawl_export_format_time (pawl_entry_peek_at (entry));
  g_autofree char *written = pawl_export_format_time (pawl_entry_peek_written (entry));
  g_autoptr (GPtrArray) line = g_ptr_array_new ();
  const char *const first[] = {
    number, pawl_entry_get_id (entry), pawl_entry_kind_get_name (pawl_entry_get_kind (entry)), pawl_entry_get_subject (entry),
    pawl_entry_get_person (entry), at, written, pawl_job_is_undone (job, entry) ? "yes" : "", pawl_entry_get_previous (entry), pawl_entry_get_digest (entry),
  };

  for (guint i = 0; i < G_N_ELEMENTS (first); i++)
    g_ptr_array_add (line, (gpointer) first[i]);
  for (guint i = 0; i < columns->len; i++)
    g_ptr_array_add (line, (gpointer) pawl_export_get_field (entry, columns->pdata[i]));
  pawl_csv_append (csv, (const char *const *) line->pdata, line->len);
}

/* Fixed columns, then one for each field that occurs, with a prefix: so no field can be taken for one of the fixed ones. */
static void
add_entries (GString    *csv,
             PawlJob    *job,
             const char *head)
{
  static const char *const first[] = { "number", "entry", "kind", "subject", "person", "at", "written", "taken-back", "previous", "digest" };
  GPtrArray *entries = pawl_job_get_entries (job);
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) columns = list_columns (entries, names);
  g_autoptr (GPtrArray) header = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < G_N_ELEMENTS (first); i++)
    g_ptr_array_add (header, g_strdup (first[i]));
  for (guint i = 0; i < columns->len; i++)
    g_ptr_array_add (header, g_strconcat ("field:", columns->pdata[i], NULL));
  pawl_csv_append (csv, (const char *const *) header->pdata, header->len);
  for (guint i = 0; i < entries->len; i++)
    add_entry (csv, job, entries->pdata[i], columns);
}

/* ---- all of them ---- */

static void
add_answers (GString    *csv,
             PawlJob    *job,
             const char *head)
{
  pawl_export_add_answers (csv, job);
}

static void
add_readings (GString    *csv,
              PawlJob    *job,
              const char *head)
{
  pawl_export_add_readings (csv, job);
}

static const struct {
  const char *name;
  void      (*add) (GString *csv, PawlJob *job, const char *head);
} makers[] = {
  { "job", add_job },     { "steps", add_steps },           { "answers", add_answers }, { "readings", add_readings },
  { "parts", add_parts }, { "deviations", add_deviations }, { "corrections", add_corrections }, { "entries", add_entries },
};

static void
free_table (PawlExportTable *self)
{
  g_string_free (self->csv, TRUE);
  g_free (self);
}

/**
 * pawl_export_list_tables:
 * @job: a job that is opened
 * @head: digest of its last entry, so that a table can be held against the record
 *
 * Returns: (transfer full) (element-type PawlExportTable): the tables
 */
GPtrArray *
pawl_export_list_tables (PawlJob    *job,
                         const char *head)
{
  GPtrArray *tables = g_ptr_array_new_with_free_func ((GDestroyNotify) free_table);

  for (guint i = 0; i < G_N_ELEMENTS (makers); i++)
    {
      PawlExportTable *table = g_new0 (PawlExportTable, 1);

      table->name = makers[i].name;
      table->csv = g_string_new (NULL);
      makers[i].add (table->csv, job, head);
      g_ptr_array_add (tables, table);
    }
  return tables;
}

const PawlExportTable *
pawl_export_find_table (GPtrArray  *tables,
                        const char *name)
{
  for (guint i = 0; i < tables->len; i++)
    if (g_str_equal (((PawlExportTable *) tables->pdata[i])->name, name))
      return tables->pdata[i];
  return NULL;
}

char *
pawl_export_name_tables (void)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (makers); i++)
    g_string_append_printf (names, "%s%s", i == 0 ? "" : i + 1 < G_N_ELEMENTS (makers) ? ", " : " or ", makers[i].name);
  return g_string_free (names, FALSE);
}

gboolean
pawl_export_write_tables (GPtrArray  *tables,
                          const char *folder,
                          GError    **error)
{
  if (g_mkdir_with_parents (folder, 0777) != 0)
    {
      int saved_errno = errno;

      g_set_error (error, G_FILE_ERROR, g_file_error_from_errno (saved_errno), "%s: the folder can't be made: %s", folder, g_strerror (saved_errno));
      return FALSE;
    }
  for (guint i = 0; i < tables->len; i++)
    {
      const PawlExportTable *table = tables->pdata[i];
      g_autofree char *name = g_strconcat (table->name, ".csv", NULL);
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (!g_file_set_contents (path, table->csv->str, (gssize) table->csv->len, error))
        return FALSE;
    }
  return TRUE;
}
