/*
 * Verifying: is everything there, as it was written, in the order it was written?
 *
 * What the digests can't know: somebody who changes an entry, computes every digest after it anew and moves the head has made a
 * record that is sound in itself. Only a head that was printed before tells; that is what the report prints it for.
 */
#include "record/pawl-record-verify-private.h"

#include "record/pawl-index.h"
#include "record/pawl-schema.h"

static const char CHECK_FILE[] = "PRAGMA integrity_check (20)";
static const char LIST_ALL_JOBS[] = "SELECT job FROM entry UNION SELECT job FROM head";
/* By its kind's text: an entry that was changed need not be readable. */
static const char FIND_OWNER[] = "SELECT subject, kind LIKE 'person-%' FROM entry WHERE job = ? AND (kind LIKE 'instrument-%' OR kind LIKE 'person-%') "
                                 "ORDER BY number LIMIT 1";
static const char LIST_KEPT[] = "SELECT digest FROM kept";

void
pawl_record_finding_free (PawlRecordFinding *self)
{
  g_free (self->job_id);
  g_free (self->instrument);
  g_free (self->person);
  g_free (self->entry_id);
  g_free (self->message);
  g_free (self);
}

void
pawl_check_add (PawlCheck  *check,
                const char *job,
                const char *entry_id,
                gint64      number,
                const char *format,
                ...)
{
  PawlRecordFinding *finding = g_new0 (PawlRecordFinding, 1);
  va_list values;

  finding->job_id = g_strdup (job);
  finding->entry_id = g_strdup (entry_id);
  finding->number = number > 0 && number <= G_MAXUINT ? (guint) number : 0;
  va_start (values, format);
  finding->message = g_strdup_vprintf (format, values);
  va_end (values);

  g_ptr_array_add (check->findings, finding);
}

/* Damage that SQLite itself meets is what verify looks for: a finding. Anything else stops it. */
static gboolean
take_damage (PawlCheck      *check,
             const char *job,
             GError     *damage, /* (transfer full) */
             GError    **error)
{
  if (!g_error_matches (damage, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED))
    {
      g_propagate_error (error, damage);
      return FALSE;
    }

  pawl_check_add (check, job, NULL, 0, "%s", damage->message);
  g_error_free (damage);
  return TRUE;
}

/* ---- kept bytes ---- */

gboolean
pawl_check_look_up_kept (PawlCheck         *check,
              const char    *digest,
              PawlKeptState *state,
              GError       **error)
{
  gpointer known;

  if (g_hash_table_lookup_extended (check->kept, digest, NULL, &known))
    {
      *state = (PawlKeptState) GPOINTER_TO_INT (known);
      return TRUE;
    }

  if (!pawl_record_look_up_kept (check->record, digest, state, NULL, error))
    return FALSE;
  g_hash_table_insert (check->kept, g_strdup (digest), GINT_TO_POINTER (*state));
  return TRUE;
}

/* Bytes that no entry names, too. */
static gboolean
check_all_kept (PawlCheck   *check,
                GError **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, LIST_KEPT, "")))
    return FALSE;

  while ((more = pawl_database_step (&check->record->database, statement, error)) > 0)
    {
      const char *digest = pawl_statement_get_text (statement, 0);
      PawlKeptState state;

      if (g_hash_table_contains (check->kept, digest))
        continue;
      if (!pawl_check_look_up_kept (check, digest, &state, error))
        return FALSE;
      if (state != PAWL_KEPT_WHOLE)
        pawl_check_add (check, "", NULL, 0, "kept bytes were changed: %s", digest);
    }

  return more == 0;
}

/* ---- one job, instrument, or person who learns ---- */

/* Whose life it is that something was found in, unless it is a job's. What is too damaged to say so stays without a name. */
static void
name_owner (PawlCheck  *check,
            const char *job_id,
            guint       first_finding)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (first_finding == check->findings->len || !(statement = pawl_database_prepare (&check->record->database, NULL, FIND_OWNER, "s", job_id))
      || pawl_database_step (&check->record->database, statement, NULL) <= 0)
    return;
  for (guint i = first_finding; i < check->findings->len; i++)
    {
      PawlRecordFinding *finding = check->findings->pdata[i];
      char **owner = sqlite3_column_int (statement, 1) ? &finding->person : &finding->instrument;

      *owner = g_strdup (pawl_statement_get_text (statement, 0));
    }
}

static gboolean
check_job (PawlCheck  *check,
           const char *job_id,
           GError    **error)
{
  GError *damage = NULL;
  guint n_before = check->findings->len;
  gboolean is_checked = pawl_check_chain (check, job_id, &damage) || take_damage (check, job_id, damage, error);

  name_owner (check, job_id, n_before);
  return is_checked;
}

/* ---- the whole record ---- */

static gboolean
check_file (PawlCheck   *check,
            GError **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, CHECK_FILE, "")))
    return FALSE;
  while ((more = pawl_database_step (&check->record->database, statement, error)) > 0)
    if (!g_str_equal (pawl_statement_get_text (statement, 0), "ok"))
      pawl_check_add (check, "", NULL, 0, "the file is damaged: %s", pawl_statement_get_text (statement, 0));

  return more == 0;
}

/* Without its guards a record could be changed unnoticed by whoever opens it next. */
static gboolean
check_schema (PawlCheck   *check,
              GError **error)
{
  g_autoptr (GPtrArray) expected = NULL;
  g_autoptr (GPtrArray) actual = NULL;

  if (!(expected = pawl_schema_list_expected (error)) || !(actual = pawl_schema_list (&check->record->database, error)))
    return FALSE;

  for (guint i = 0; i < expected->len; i++)
    if (!g_ptr_array_find_with_equal_func (actual, expected->pdata[i], g_str_equal, NULL))
      pawl_check_add (check, "", NULL, 0, "the record lacks a part of its make: %s", (const char *) expected->pdata[i]);
  for (guint i = 0; i < actual->len; i++)
    if (!g_ptr_array_find_with_equal_func (expected, actual->pdata[i], g_str_equal, NULL))
      pawl_check_add (check, "", NULL, 0, "the record has something that Pawl did not make: %s", (const char *) actual->pdata[i]);

  return TRUE;
}

/* Any failure here is one of the index: all else was read already. */
static void
check_words (PawlCheck *check)
{
  g_autoptr (GError) error = NULL;
  gint64 n_wrong;

  if (!pawl_index_compare_words (&check->record->database, &n_wrong, &error))
    pawl_check_add (check, "", NULL, 0, "the words of what is searched can't be read; “pawl find --reindex” makes them anew");
  else if (n_wrong > 0)
    pawl_check_add (check, "", NULL, 0, "the words of what is searched are not those of the entries, %" G_GINT64_FORMAT
                    " times; “pawl find --reindex” makes them anew", n_wrong);
}

/* What is searched is no evidence, but what it leaves out is not found when somebody looks for it. */
static gboolean
check_index (PawlCheck *check,
             GError   **error)
{
  gint64 n_missing, n_false;

  if (check->findings->len > 0)
    return TRUE; /* entries that were changed are told of already, and must not be taken for a reason to make the index anew */
  if (!pawl_index_compare (&check->record->database, &n_missing, &n_false, error))
    return FALSE;
  if (n_missing > 0 || n_false > 0)
    pawl_check_add (check, "", NULL, 0,
                    "what is searched does not agree with the entries: it lacks %" G_GINT64_FORMAT " lines, and has %" G_GINT64_FORMAT
                    " that no entry bears out; “pawl find --reindex” makes it anew", n_missing, n_false);
  else
    check_words (check);
  return TRUE;
}

/* A damaged index may name a job that no entry is of. */
static gboolean
check_listed_job (PawlCheck      *check,
                  const char *job_id,
                  GError    **error)
{
  g_autoptr (GError) failure = NULL;

  if (check_job (check, job_id, &failure))
    return TRUE;

  if (!g_error_matches (failure, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB))
    {
      g_propagate_error (error, g_steal_pointer (&failure));
      return FALSE;
    }

  pawl_check_add (check, job_id, NULL, 0, "the file names this job, but none of its entries can be found");
  return TRUE;
}

static gboolean
check_all_jobs (PawlCheck   *check,
                GError **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, LIST_ALL_JOBS, "")))
    return FALSE;
  while ((more = pawl_database_step (&check->record->database, statement, error)) > 0)
    {
      g_autofree char *job_id = g_strdup (pawl_statement_get_text (statement, 0));

      if (!check_listed_job (check, job_id, error))
        return FALSE;
    }

  return more == 0;
}

static gboolean
check_everything (PawlCheck   *check,
                  GError **error)
{
  gboolean (*const parts[]) (PawlCheck *, GError **) = { check_file, check_schema, check_all_jobs, check_all_kept, check_index };

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      GError *damage = NULL;

      if (!parts[i] (check, &damage) && !take_damage (check, "", damage, error))
        return FALSE;
    }

  return TRUE;
}

/**
 * pawl_record_verify:
 * @self: a record
 * @job_id: (nullable): a job; NULL for the whole record
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, the errors of reading; never damage, which is what is looked for
 *
 * Recomputes the digest of every entry, follows the chain from the opening to the noted head, and compares the kept bytes that
 * the entries name with their digests. Of a whole record also the file itself, its tables and guards, and all kept bytes.
 * A finding about the record as a whole has the job id "".
 *
 * Returns: (transfer full) (element-type PawlRecordFinding): what was found, in the order of jobs and entries; empty when all holds
 */
GPtrArray *
pawl_record_verify (PawlRecord *self,
                    const char *job_id,
                    GError    **error)
{
  g_autoptr (GPtrArray) findings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_record_finding_free);
  g_autoptr (GHashTable) kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (PawlTransaction) transaction = NULL;
  PawlCheck check = { .record = self, .findings = findings, .kept = kept };

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  /* One view of the file: what another process appends meanwhile is not half seen. */
  if (!(transaction = pawl_transaction_begin (&self->database, PAWL_TRANSACTION_READ, error)))
    return NULL;
  if (!(job_id != NULL ? check_job (&check, job_id, error) : check_everything (&check, error)))
    return NULL;

  return g_steal_pointer (&findings);
}
