/*
 * Verifying: is everything there, as it was written, in the order it was written?
 *
 * What the digests can't know: somebody who changes an entry, computes every digest after it anew and moves the head has made a
 * record that is sound in itself. Only a head that was printed before tells; that is what the report prints it for.
 */
#include "record/pawl-record-private.h"

#include "record/pawl-entry-row.h"
#include "record/pawl-schema.h"

static const char CHECK_FILE[] = "PRAGMA integrity_check (20)";
static const char LIST_ALL_JOBS[] = "SELECT job FROM entry UNION SELECT job FROM head";
static const char LIST_KEPT[] = "SELECT digest FROM kept";
/*
 * Not as a job is loaded: there SQLite takes job and number from the index that it searches, and would never see that they were
 * changed in the entry itself. Found by rowid, every column comes from the entry.
 */
static const char LOAD_STORED_ENTRIES[] =
  "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE rowid IN (SELECT rowid FROM entry WHERE job = ?) ORDER BY number";
static const char LOAD_NOTED_HEAD[] = "SELECT number, digest FROM head WHERE job = ?";

typedef struct {
  PawlRecord *record;
  GPtrArray  *findings;
  GHashTable *kept; /* digest → PawlKeptState, so that bytes are hashed once */
} Check;

/* How far the walk along one job has come. */
typedef struct {
  const char *job;
  gint64      number;   /* of the last entry seen, 0 before the first */
  char       *id;
  char       *digest;   /* as stored */
  char       *computed; /* as it should be */
} Walk;

static void
clear_walk (Walk *self)
{
  g_clear_pointer (&self->id, g_free);
  g_clear_pointer (&self->digest, g_free);
  g_clear_pointer (&self->computed, g_free);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Walk, clear_walk)

void
pawl_record_finding_free (PawlRecordFinding *self)
{
  g_free (self->job_id);
  g_free (self->entry_id);
  g_free (self->message);
  g_free (self);
}

static void add_finding (Check *check, const char *job, const char *entry_id, gint64 number, const char *format, ...) G_GNUC_PRINTF (5, 6);

static void
add_finding (Check      *check,
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
take_damage (Check      *check,
             const char *job,
             GError     *damage, /* (transfer full) */
             GError    **error)
{
  if (!g_error_matches (damage, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED))
    {
      g_propagate_error (error, damage);
      return FALSE;
    }

  add_finding (check, job, NULL, 0, "%s", damage->message);
  g_error_free (damage);
  return TRUE;
}

/* ---- kept bytes ---- */

static gboolean
look_up_kept (Check         *check,
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

static gboolean
check_named_bytes (Check              *check,
                   const char         *job,
                   const PawlEntryRow *row,
                   const PawlEntry    *entry,
                   const char         *field,
                   GError            **error)
{
  const char *digest = pawl_entry_get (entry, field);
  PawlKeptState state;

  if (digest == NULL)
    return TRUE;
  if (!look_up_kept (check, digest, &state, error))
    return FALSE;

  if (state == PAWL_KEPT_MISSING)
    add_finding (check, job, row->id, row->number,
                 "entry %" G_GINT64_FORMAT " names kept bytes (%s) that are missing: %s", row->number, field, digest);
  else if (state == PAWL_KEPT_CHANGED)
    add_finding (check, job, row->id, row->number,
                 "entry %" G_GINT64_FORMAT " names kept bytes (%s) that were changed: %s", row->number, field, digest);
  return TRUE;
}

/* Bytes that no entry names, too. */
static gboolean
check_all_kept (Check   *check,
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
      if (!look_up_kept (check, digest, &state, error))
        return FALSE;
      if (state != PAWL_KEPT_WHOLE)
        add_finding (check, "", NULL, 0, "kept bytes were changed: %s", digest);
    }

  return more == 0;
}

/* ---- one entry ---- */

static void
check_missing (Check      *check,
               const char *job,
               gint64      first,
               gint64      last)
{
  if (first == last)
    add_finding (check, job, NULL, first, "entry %" G_GINT64_FORMAT " is missing", first);
  else if (first < last)
    add_finding (check, job, NULL, first, "entries %" G_GINT64_FORMAT " to %" G_GINT64_FORMAT " are missing", first, last);
}

/*
 * A change is told once, at the entry that was changed: that entry is not asked what it follows, and its follower is sound if it
 * names the stored digest or the true one.
 */
static gboolean
follows (const Walk         *walk,
         const PawlEntryRow *row,
         const char         *computed)
{
  if (!g_str_equal (row->digest, computed))
    return TRUE;
  if (walk->number == 0)
    return *row->previous == '\0';

  return g_str_equal (row->previous, walk->digest) || g_str_equal (row->previous, walk->computed);
}

static gboolean
is_opening (const PawlEntryRow *row)
{
  return g_str_equal (row->id, row->job)
         && (g_str_equal (row->kind, pawl_entry_kind_get_name (PAWL_ENTRY_OPENED))
             || g_str_equal (row->kind, pawl_entry_kind_get_name (PAWL_ENTRY_INSTRUMENT_STATED)));
}

static void
check_order (Check              *check,
             const Walk         *walk,
             const PawlEntryRow *row,
             const char         *computed)
{
  if (row->number > walk->number + 1)
    check_missing (check, walk->job, walk->number + 1, row->number - 1);
  else if (row->number <= walk->number)
    add_finding (check, walk->job, row->id, row->number, "entry %" G_GINT64_FORMAT " is there more than once", row->number);
  else if (!follows (walk, row, computed))
    add_finding (check, walk->job, row->id, row->number,
                 "entry %" G_GINT64_FORMAT " does not follow the one before it: one of them was inserted, replaced or moved", row->number);

  if (row->number == 1 && g_str_equal (row->digest, computed) && !is_opening (row))
    add_finding (check, walk->job, row->id, row->number, "entry 1 is not the opening of its job");
}

static gboolean
check_content (Check              *check,
               const char         *job,
               const PawlEntryRow *row,
               const char         *computed,
               GError            **error)
{
  g_autoptr (PawlEntry) entry = NULL;
  g_autoptr (GError) unreadable = NULL;

  if (!g_str_equal (computed, row->digest))
    {
      add_finding (check, job, row->id, row->number,
                 "entry %" G_GINT64_FORMAT " does not fit its digest: it was changed after it was stored, or never written by Pawl", row->number);
      return TRUE;
    }

  if (!(entry = pawl_entry_new_from_row (row, &unreadable)))
    {
      add_finding (check, job, row->id, row->number,
                 "%s", unreadable->message);
      return TRUE;
    }

  if (pawl_entry_get_kind (entry) == PAWL_ENTRY_OPENED)
    return check_named_bytes (check, job, row, entry, "procedure", error)
           && check_named_bytes (check, job, row, entry, "figure", error);
  if (pawl_entry_get_kind (entry) == PAWL_ENTRY_PHOTO)
    return check_named_bytes (check, job, row, entry, "digest", error);
  return TRUE;
}

/* ---- one job ---- */

/* The chain can't know that its newest entries are gone; the noted head does. */
static gboolean
check_end (Check      *check,
           const Walk *walk,
           GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  gint64 number = 0;
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, LOAD_NOTED_HEAD, "s", walk->job)))
    return FALSE;
  if ((more = pawl_database_step (&check->record->database, statement, error)) < 0)
    return FALSE;

  if (more > 0)
    number = sqlite3_column_int64 (statement, 0);

  if (number == 0 && walk->number == 0)
    {
      pawl_record_set_no_such_job (check->record, walk->job, error);
      return FALSE;
    }

  if (number == 0)
    add_finding (check, walk->job, walk->id, walk->number, "the note of how far this job has come is missing");
  else if (number > walk->number)
    check_missing (check, walk->job, walk->number + 1, number);
  else if (number < walk->number)
    add_finding (check, walk->job, walk->id, walk->number,
                 "entry %" G_GINT64_FORMAT " was not appended by Pawl: this job has come to entry %" G_GINT64_FORMAT, walk->number, number);
  else if (!g_str_equal (pawl_statement_get_text (statement, 1), walk->digest)
           && !g_str_equal (pawl_statement_get_text (statement, 1), walk->computed))
    add_finding (check, walk->job, walk->id, walk->number,
                 "entry %" G_GINT64_FORMAT " is not the one that this job had come to: it was replaced", walk->number);

  return TRUE;
}

static gboolean
walk_entries (Check   *check,
              Walk    *walk,
              GError **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_auto (PawlEntryRow) row = { 0 };
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, LOAD_STORED_ENTRIES, "s", walk->job)))
    return FALSE;

  while ((more = pawl_database_step (&check->record->database, statement, error)) > 0)
    {
      g_autofree char *computed = NULL;

      pawl_entry_row_read (&row, statement);
      computed = pawl_entry_row_dup_digest (&row);
      check_order (check, walk, &row, computed);
      if (!check_content (check, walk->job, &row, computed, error))
        return FALSE;

      clear_walk (walk);
      walk->number = row.number;
      walk->id = g_steal_pointer (&row.id);
      walk->digest = g_steal_pointer (&row.digest);
      walk->computed = g_steal_pointer (&computed);
    }

  return more == 0;
}

static gboolean
check_job (Check      *check,
           const char *job_id,
           GError    **error)
{
  g_auto (Walk) walk = { .job = job_id };
  GError *damage = NULL;

  if (!walk_entries (check, &walk, &damage) || !check_end (check, &walk, &damage))
    return take_damage (check, job_id, damage, error);

  return TRUE;
}

/* ---- the whole record ---- */

static gboolean
check_file (Check   *check,
            GError **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (&check->record->database, error, CHECK_FILE, "")))
    return FALSE;
  while ((more = pawl_database_step (&check->record->database, statement, error)) > 0)
    if (!g_str_equal (pawl_statement_get_text (statement, 0), "ok"))
      add_finding (check, "", NULL, 0, "the file is damaged: %s", pawl_statement_get_text (statement, 0));

  return more == 0;
}

/* Without its guards a record could be changed unnoticed by whoever opens it next. */
static gboolean
check_schema (Check   *check,
              GError **error)
{
  g_autoptr (GPtrArray) expected = NULL;
  g_autoptr (GPtrArray) actual = NULL;

  if (!(expected = pawl_schema_list_expected (error)) || !(actual = pawl_schema_list (&check->record->database, error)))
    return FALSE;

  for (guint i = 0; i < expected->len; i++)
    if (!g_ptr_array_find_with_equal_func (actual, expected->pdata[i], g_str_equal, NULL))
      add_finding (check, "", NULL, 0, "the record lacks a part of its make: %s", (const char *) expected->pdata[i]);
  for (guint i = 0; i < actual->len; i++)
    if (!g_ptr_array_find_with_equal_func (expected, actual->pdata[i], g_str_equal, NULL))
      add_finding (check, "", NULL, 0, "the record has something that Pawl did not make: %s", (const char *) actual->pdata[i]);

  return TRUE;
}

/* A damaged index may name a job that no entry is of. */
static gboolean
check_listed_job (Check      *check,
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

  add_finding (check, job_id, NULL, 0, "the file names this job, but none of its entries can be found");
  return TRUE;
}

static gboolean
check_all_jobs (Check   *check,
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
check_everything (Check   *check,
                  GError **error)
{
  gboolean (*const parts[]) (Check *, GError **) = { check_file, check_schema, check_all_jobs, check_all_kept };

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
  Check check = { .record = self, .findings = findings, .kept = kept };

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  /* One view of the file: what another process appends meanwhile is not half seen. */
  if (!(transaction = pawl_transaction_begin (&self->database, PAWL_TRANSACTION_READ, error)))
    return NULL;
  if (!(job_id != NULL ? check_job (&check, job_id, error) : check_everything (&check, error)))
    return NULL;

  return g_steal_pointer (&findings);
}
