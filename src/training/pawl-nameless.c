/* Jobs without names as a file, and a class out of one. */
#include "training/pawl-nameless.h"

#include "bench/pawl-job-loader.h"
#include "procedure/pawl-reader.h"
#include "record/pawl-entry-row.h"
#include "record/pawl-people.h"

G_DEFINE_QUARK (pawl-nameless-error-quark, pawl_nameless_error)

/* Shorter names are looked for nowhere: they would be words. */
#define LEAST_NAME 3

/* ---- procedures ---- */

/* Whole words, whatever their capitals, and however a line is broken between them. */
static GRegex *
make_pattern (const char *name)
{
  g_auto (GStrv) words = g_regex_split_simple ("\\s+", name, 0, 0);
  g_autoptr (GString) pattern = g_string_new ("(?<![\\p{L}\\p{N}_])");

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *escaped = g_regex_escape_string (words[i], -1);

      g_string_append_printf (pattern, "%s%s", i > 0 ? "\\s+" : "", escaped);
    }
  g_string_append (pattern, "(?![\\p{L}\\p{N}_])");
  return g_regex_new (pattern->str, G_REGEX_CASELESS, 0, NULL);
}

/* @names: (element-type utf8) */
static char *
blank_names (const char *text, GPtrArray *names, GError **error)
{
  g_autofree char *blanked = g_strdup (text);

  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr (GRegex) pattern = make_pattern (names->pdata[i]);
      char *next = g_regex_replace_literal (pattern, blanked, -1, 0, "somebody", 0, error);

      if (next == NULL)
        return NULL;
      g_free (blanked);
      blanked = next;
    }
  return g_steal_pointer (&blanked);
}

/* (transfer full): the procedure as it goes into the file */
static GBytes *
strip_procedure (GBytes *bytes, GPtrArray *names, const char *id, GError **error)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);
  g_autofree char *text = g_strndup (data, size), *blanked = blank_names (text, names, error);
  g_autoptr (GBytes) stripped = blanked != NULL ? g_bytes_new (blanked, strlen (blanked)) : NULL;
  g_autoptr (PawlProcedure) procedure = stripped != NULL ? pawl_procedure_load_bytes (stripped, "procedure.xml", NULL, NULL) : NULL;

  if (procedure != NULL)
    return g_steal_pointer (&stripped);
  if (stripped != NULL)
    g_set_error (error, PAWL_NAMELESS_ERROR, PAWL_NAMELESS_ERROR_PROCEDURE,
                 "the procedure “%s” can't be read any more once the names of people are left out of it; somebody's name is a word that its file needs", id);
  return NULL;
}

/* ---- writing ---- */

typedef struct {
  PawlRecord     *record;
  GPtrArray      *jobs;       /* (element-type PawlJob) */
  PawlPseudonyms *people;
  GPtrArray      *names;      /* (element-type utf8): all that are looked for in procedures, also of customers, and of who is in the list alone */
  GHashTable     *digests;    /* (element-type utf8 utf8): of a procedure in the file, by the one in the record */
  GPtrArray      *procedures; /* (element-type GBytes) */
} Plan;

static void
clear_plan (Plan *self)
{
  g_ptr_array_unref (self->jobs);
  pawl_pseudonyms_free (self->people);
  g_ptr_array_unref (self->names);
  g_hash_table_unref (self->digests);
  g_ptr_array_unref (self->procedures);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Plan, clear_plan)

static Plan
make_plan (PawlRecord *record)
{
  return (Plan) { record, g_ptr_array_new_with_free_func (g_object_unref), pawl_pseudonyms_new (), g_ptr_array_new_with_free_func (g_free),
                  g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free), g_ptr_array_new_with_free_func ((GDestroyNotify) g_bytes_unref) };
}

static void
add_name (Plan *self, const char *name)
{
  g_autofree char *plain = g_strstrip (g_strdup (name != NULL ? name : ""));

  if (g_utf8_strlen (plain, -1) >= LEAST_NAME && !g_ptr_array_find_with_equal_func (self->names, plain, g_str_equal, NULL))
    g_ptr_array_add (self->names, g_steal_pointer (&plain));
}

static void
add_names (Plan *self, PawlJob *job)
{
  static const char * const fields[] = { "customer", "identified-by", "accepted-by", "learner", "name" };
  GPtrArray *entries = pawl_job_get_entries (job);

  pawl_nameless_add_names (job, self->people);
  for (guint i = 0; i < entries->len; i++)
    {
      add_name (self, pawl_entry_get_person (entries->pdata[i]));
      for (guint j = 0; j < G_N_ELEMENTS (fields); j++)
        add_name (self, pawl_entry_get (entries->pdata[i], fields[j]));
    }
}

static gboolean
add_people (Plan *self, GError **error)
{
  g_autoptr (GPtrArray) people = pawl_people_list (self->record, error);

  for (guint i = 0; people != NULL && i < people->len; i++)
    add_name (self, ((PawlPerson *) people->pdata[i])->name);
  return people != NULL;
}

static gboolean
load_jobs (Plan *self, const char * const *ids, GError **error)
{
  g_autoptr (GPtrArray) lines = pawl_record_list_jobs (self->record, error);
  g_autoptr (PawlJobLoader) loader = pawl_job_loader_new (self->record);

  for (guint i = 0; lines != NULL && i < lines->len; i++)
    {
      const PawlJobLine *line = lines->pdata[i];
      PawlJob *job;

      if (ids != NULL && !g_strv_contains (ids, line->id))
        continue;
      if (!(job = pawl_job_loader_fold (loader, line->id, error)))
        return FALSE;
      g_ptr_array_add (self->jobs, job);
      add_names (self, job);
    }
  return lines != NULL && add_people (self, error);
}

static gboolean
add_procedure (Plan *self, PawlJob *job, GError **error)
{
  const char *kept = pawl_job_get_field (job, "procedure");
  g_autoptr (GBytes) bytes = NULL, stripped = NULL;

  if (g_hash_table_contains (self->digests, kept))
    return TRUE;
  if (!(bytes = pawl_record_load_kept (self->record, kept, error))
      || !(stripped = strip_procedure (bytes, self->names, pawl_procedure_get_id (pawl_job_get_procedure (job)), error)))
    return FALSE;
  g_hash_table_insert (self->digests, g_strdup (kept), g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, stripped));
  for (guint i = 0; i < self->procedures->len; i++)
    if (g_bytes_equal (self->procedures->pdata[i], stripped)) /* two that differed by a name alone */
      return TRUE;
  g_ptr_array_add (self->procedures, g_steal_pointer (&stripped));
  return TRUE;
}

gboolean
pawl_nameless_write (PawlRecord *record, const char * const *jobs, const char *path, const char *salt, PawlBundleCount *count, guint *n_people, GError **error)
{
  g_auto (Plan) plan = make_plan (record);
  g_autoptr (GPtrArray) all = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);

  if (!load_jobs (&plan, jobs, error))
    return FALSE;
  pawl_pseudonyms_number (plan.people, salt);
  for (guint i = 0; i < plan.jobs->len; i++)
    {
      PawlJob *job = plan.jobs->pdata[i];
      g_autofree char *id = g_strdup_printf ("job-%u", i + 1);

      if (!add_procedure (&plan, job, error))
        return FALSE;
      g_ptr_array_add (all, pawl_nameless_make_rows (job, id, g_hash_table_lookup (plan.digests, pawl_job_get_field (job, "procedure")), plan.people));
    }
  *n_people = pawl_pseudonyms_get_n (plan.people);
  return pawl_bundle_write_nameless (all, plan.procedures, path, count, error);
}

/* ---- reading ---- */

static gboolean
refuse_job (const GPtrArray *rows, const char *why, GError **error)
{
  g_set_error (error, PAWL_NAMELESS_ERROR, PAWL_NAMELESS_ERROR_JOB, "%s: %s", ((PawlEntryRow *) rows->pdata[0])->job, why);
  return FALSE;
}

/* (transfer full) (nullable) (element-type PawlEntry) */
static GPtrArray *
make_entries (const GPtrArray *rows, GError **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

  for (guint i = 0; i < rows->len; i++)
    {
      PawlEntry *entry = pawl_entry_new_from_row (rows->pdata[i], error);
      PawlEntryKind kind = entry != NULL ? pawl_entry_get_kind (entry) : PAWL_ENTRY_NOTED;

      if (entry == NULL)
        return NULL;
      g_ptr_array_add (entries, entry);
      if ((kind == PAWL_ENTRY_OPENED) != (i == 0) || pawl_entry_kind_is_of_instrument (kind) || pawl_entry_kind_is_of_person (kind))
        {
          refuse_job (rows, "a job is opened by its first entry, and by no other", error);
          return NULL;
        }
    }
  return g_steal_pointer (&entries);
}

/* (nullable): borrowed of @read */
static PawlProcedure *
find_procedure (GHashTable *read, GHashTable *kept, const GPtrArray *rows, const PawlEntry *opened, GError **error)
{
  const char *digest = pawl_entry_get (opened, "procedure");
  PawlProcedure *procedure = digest != NULL ? g_hash_table_lookup (read, digest) : NULL;
  GBytes *bytes = digest != NULL ? g_hash_table_lookup (kept, digest) : NULL;

  if (procedure != NULL)
    return procedure;
  if (bytes == NULL)
    {
      refuse_job (rows, "the procedure that it was done by is not in the file", error);
      return NULL;
    }
  if ((procedure = pawl_procedure_load_bytes (bytes, "procedure.xml", NULL, error)) != NULL)
    g_hash_table_insert (read, g_strdup (digest), procedure);
  return procedure;
}

static gboolean
add_job (PawlClass *class, GHashTable *read, GHashTable *kept, const GPtrArray *rows, const char *only, GDateTime *now, GError **error)
{
  g_autoptr (GPtrArray) entries = make_entries (rows, error);
  PawlProcedure *procedure = entries != NULL ? find_procedure (read, kept, rows, entries->pdata[0], error) : NULL;
  g_autoptr (PawlJob) job = procedure != NULL ? pawl_job_fold (procedure, entries, now) : NULL;

  if (job != NULL && (only == NULL || g_str_equal (pawl_procedure_get_id (procedure), only)))
    pawl_class_add_job (class, job);
  return job != NULL;
}

PawlClass *
pawl_nameless_load_class (const char *path, const char *procedure, GDateTime *now, GError **error)
{
  g_autoptr (PawlClass) class = pawl_class_new ();
  g_autoptr (GPtrArray) jobs = NULL;
  g_autoptr (GHashTable) kept = NULL, read = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);

  if (!pawl_bundle_read_nameless (path, &jobs, &kept, error))
    return NULL;
  for (guint i = 0; i < jobs->len; i++)
    if (!add_job (class, read, kept, jobs->pdata[i], procedure, now, error))
      {
        g_prefix_error (error, "%s: ", path);
        return NULL;
      }
  pawl_class_finish (class);
  return g_steal_pointer (&class);
}
