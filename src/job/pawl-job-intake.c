/* What a job was opened with, as it stands now: corrections lie over the opening, in the order of the entries. */
#include "job/pawl-job-private.h"
#include "procedure/pawl-variant.h"

/**
 * pawl_job_get_field:
 * @field: a field of the opening entry, see pawl-entry.h
 *
 * What is in force: of what was taken in the last correction, of the variant what it was identified as last.
 *
 * Returns: (transfer none): "" when nothing is stated
 */
const char *
pawl_job_get_field (PawlJob *self, const char *field)
{
  const PawlCorrection *correction = pawl_job_peek_correction (self, field);
  const char *value;

  if (correction != NULL)
    return correction->after;
  if (g_str_equal (field, "variant"))
    return self->variant;
  value = self->opening != NULL ? pawl_entry_get (self->opening, field) : NULL;
  return value != NULL ? value : "";
}

GPtrArray *
pawl_job_get_corrections (PawlJob *self)
{
  return self->corrections;
}

const PawlCorrection *
pawl_job_peek_correction (PawlJob *self, const char *field)
{
  for (guint i = self->corrections->len; i > 0; i--)
    {
      const PawlCorrection *correction = self->corrections->pdata[i - 1];

      if (g_str_equal (correction->field->id, field))
        return correction;
    }
  return NULL;
}

void
pawl_job_apply_corrected (PawlJob *self, PawlEntry *entry)
{
  guint n_fields;
  const PawlIntakeField *fields = pawl_intake_list_fields (&n_fields);

  for (guint i = 0; i < n_fields; i++)
    {
      const char *after = pawl_intake_get_corrected (entry, fields[i].id);
      PawlCorrection *correction;

      if (after == NULL)
        continue;
      correction = g_new0 (PawlCorrection, 1);
      correction->entry = entry;
      correction->field = &fields[i];
      correction->before = pawl_job_get_field (self, fields[i].id);
      correction->after = after;
      g_ptr_array_add (self->corrections, correction);
    }
}

/* ---- in words ---- */

/* "serial number “4712”", "no work order" */
static char *
describe_field (const PawlIntakeField *field, const char *value)
{
  return *value != '\0' ? g_strdup_printf ("%s “%s”", field->name, value) : g_strdup_printf ("no %s", field->name);
}

char *
pawl_correction_describe (const PawlCorrection *self)
{
  g_autofree char *now = describe_field (self->field, self->after);

  return *self->before != '\0' ? g_strdup_printf ("%s, was “%s”", now, self->before) : g_strdup_printf ("%s, was not stated", now);
}

/* (nullable): of one that was undone; it replaces nothing. */
static const PawlCorrection *
find_correction (PawlJob *self, const PawlEntry *entry, const PawlIntakeField *field)
{
  for (guint i = 0; i < self->corrections->len; i++)
    {
      const PawlCorrection *correction = self->corrections->pdata[i];

      if (correction->entry == entry && correction->field == field)
        return correction;
    }
  return NULL;
}

char *
pawl_job_describe_corrected (PawlJob *self, const PawlEntry *entry)
{
  guint n_fields;
  const PawlIntakeField *fields = pawl_intake_list_fields (&n_fields);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n_fields; i++)
    {
      const char *value = pawl_intake_get_corrected (entry, fields[i].id);
      const PawlCorrection *correction = find_correction (self, entry, &fields[i]);
      g_autofree char *what = correction != NULL ? pawl_correction_describe (correction) : value != NULL ? describe_field (&fields[i], value) : NULL;

      if (what != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", what);
    }
  g_string_append_printf (text, " (%s)", pawl_entry_get (entry, "reason"));
  return g_string_free (text, FALSE);
}

/**
 * pawl_job_find_doubt:
 *
 * A corrected serial number may tell another variant than the one it was mistaken for. The variant is never changed by that, because it opens
 * steps again: somebody looks at the unit, and says so.
 *
 * Returns: (transfer full) (nullable): the ids of what the serial number tells; NULL when it agrees with the job's variant, or tells nothing
 */
char *
pawl_job_find_doubt (PawlJob *self)
{
  g_autofree char *told = pawl_variant_complete (self->procedure, NULL, pawl_job_get_field (self, "serial"), NULL);

  return pawl_variant_excludes (self->procedure, told, self->variant) ? g_steal_pointer (&told) : NULL;
}

/* ---- refusals ---- */

static gboolean
check_field (PawlJob *self, const PawlIntakeField *field, const char *after, GError **error)
{
  const char *before = pawl_job_get_field (self, field->id);

  if (*after == '\0' && field->is_needed)
    return pawl_job_refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a job is never without its %s; say what it is", field->name);
  if (!g_str_equal (after, before))
    return TRUE;
  if (*after == '\0')
    return pawl_job_refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "no %s was stated, so there is none to take back", field->name);
  return pawl_job_refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "the %s is “%s” already", field->name, before);
}

static gboolean
refuse_field (const char *id, GError **error)
{
  g_autofree char *known = pawl_intake_name_fields ();

  if (g_str_equal (id, "variant"))
    return pawl_job_refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the variant is corrected by an entry of its own, identified");
  return pawl_job_refuse (error, PAWL_JOB_ERROR_UNKNOWN, "a unit is not taken in with a “%s”; what can be corrected is %s", id, known);
}

gboolean
pawl_job_check_corrected (PawlJob *self, PawlEntry *entry, GError **error)
{
  g_auto(GStrv) names = pawl_entry_list_fields (entry);
  guint n = 0;

  for (char **name = names; *name != NULL; name++)
    {
      const PawlIntakeField *field = pawl_intake_lookup_field (*name);

      if (g_str_equal (*name, "reason"))
        continue;
      if (field == NULL)
        return refuse_field (*name, error);
      if (!check_field (self, field, pawl_intake_get_corrected (entry, *name), error))
        return FALSE;
      n++;
    }
  if (n == 0)
    return pawl_job_refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a correction says what is right; “-” takes back what was stated");
  if (pawl_entry_get (entry, "reason") == NULL)
    return pawl_job_refuse (error, PAWL_JOB_ERROR_NEEDS_REASON, "a correction of what was taken in needs the reason: how it is known now");
  return TRUE;
}
