/* The bench: check, append, fold, tell. */
#include "bench/pawl-bench.h"
#include "procedure/pawl-variant.h"

#include <string.h>

struct _PawlBench {
  GObject parent_instance;

  PawlRecord    *record;
  PawlProcedure *procedure;
  GBytes        *figure;  /* (nullable) */
  GPtrArray     *entries; /* (element-type PawlEntry): all on disk */
  PawlJob       *job;
  char          *job_id;
};

G_DEFINE_TYPE (PawlBench, pawl_bench, G_TYPE_OBJECT)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
pawl_bench_finalize (GObject *object)
{
  PawlBench *self = PAWL_BENCH (object);

  g_clear_object (&self->record);
  g_clear_object (&self->procedure);
  g_clear_object (&self->job);
  g_clear_pointer (&self->figure, g_bytes_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_clear_pointer (&self->job_id, g_free);
  G_OBJECT_CLASS (pawl_bench_parent_class)->finalize (object);
}

static void
pawl_bench_class_init (PawlBenchClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_bench_finalize;

  /**
   * PawlBench::changed:
   *
   * The job was folded anew: something was appended, or time went on.
   */
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_BENCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_bench_init (PawlBench *self)
{
}

static PawlJob *
fold (PawlBench *self, GPtrArray *entries)
{
  g_autoptr(GDateTime) now = pawl_bench_now (self);

  return pawl_job_fold (self->procedure, entries, now);
}

static void
take_job (PawlBench *self, PawlJob *job)
{
  g_clear_object (&self->job);
  self->job = job;
  g_signal_emit (self, signals[CHANGED], 0);
}

static PawlBench *
bench_new (PawlRecord *record, PawlProcedure *procedure, GBytes *figure, const char *job_id)
{
  PawlBench *self = g_object_new (PAWL_TYPE_BENCH, NULL);

  self->record = g_object_ref (record);
  self->procedure = g_object_ref (procedure);
  self->figure = figure != NULL ? g_bytes_ref (figure) : NULL;
  self->job_id = g_strdup (job_id);
  return self;
}

gboolean
pawl_bench_reload (PawlBench *self, GError **error)
{
  GPtrArray *entries = pawl_record_load_entries (self->record, self->job_id, error);

  if (entries == NULL)
    return FALSE;
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  self->entries = entries;
  take_job (self, fold (self, self->entries));
  return TRUE;
}

/* What the user did not say of the variant, and the serial number does. */
static void
identify (PawlProcedure *procedure, PawlEntry *opened)
{
  g_autofree char *how = NULL;
  g_autofree char *variant = pawl_variant_complete (procedure, pawl_entry_get (opened, "variant"), pawl_entry_get (opened, "serial"), &how);

  pawl_entry_set (opened, "variant", variant);
  pawl_entry_set (opened, "variant-how", how);
}

/**
 * pawl_bench_open:
 * @figure: (nullable): the figure's bytes
 * @opened: a PAWL_ENTRY_OPENED entry with what the user said; which procedure and figure is filled in here
 * @error: PAWL_RECORD_ERROR
 *
 * Keeps procedure and figure in the record, so that the job can be read for ever as it was done, and opens a job.
 *
 * Returns: (transfer full)
 */
PawlBench *
pawl_bench_open (PawlRecord *record, PawlProcedure *procedure, GBytes *figure, PawlEntry *opened, GError **error)
{
  g_autoptr(GBytes) bytes = pawl_procedure_get_bytes (procedure);
  g_autofree char *procedure_digest = pawl_record_keep (record, bytes, "application/vnd.pawl.procedure+xml", error);
  g_autofree char *figure_digest = NULL;
  g_autofree char *job_id = NULL;
  g_autoptr(PawlBench) self = NULL;

  if (procedure_digest == NULL)
    return NULL;
  if (figure != NULL && !(figure_digest = pawl_record_keep (record, figure, "image/svg+xml", error)))
    return NULL;
  pawl_entry_set (opened, "procedure", procedure_digest);
  pawl_entry_set (opened, "figure", figure_digest);
  pawl_entry_set (opened, "procedure-id", pawl_procedure_get_id (procedure));
  pawl_entry_set (opened, "procedure-file", pawl_procedure_get_name (procedure));
  pawl_entry_set (opened, "revision", pawl_procedure_get_revision (procedure));
  pawl_entry_set (opened, "title", pawl_procedure_get_title (procedure));
  if (pawl_entry_get (opened, "unit") == NULL)
    pawl_entry_set (opened, "unit", pawl_procedure_get_unit (procedure));
  identify (procedure, opened);
  if (!(job_id = pawl_record_open_job (record, opened, error)))
    return NULL;
  self = bench_new (record, procedure, figure, job_id);
  return pawl_bench_reload (self, error) ? g_steal_pointer (&self) : NULL;
}

static const char *
get_opening_field (GPtrArray *entries, const char *field)
{
  return entries->len > 0 ? pawl_entry_get (entries->pdata[0], field) : NULL;
}

/**
 * pawl_bench_resume:
 * @language: (nullable): wanted language of texts
 * @error: PAWL_RECORD_ERROR, or PAWL_PROCEDURE_ERROR when the kept procedure can't be read by this version
 *
 * Takes up a job again with the procedure and figure that it was opened with, whatever became of the files since.
 *
 * Returns: (transfer full)
 */
PawlBench *
pawl_bench_resume (PawlRecord *record, const char *job_id, const char *language, GError **error)
{
  g_autoptr(GPtrArray) entries = pawl_record_load_entries (record, job_id, error);
  const char *digest, *name;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GBytes) figure = NULL;
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(PawlBench) self = NULL;

  if (entries == NULL)
    return NULL;
  if ((digest = get_opening_field (entries, "procedure")) == NULL)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED, "job %s does not say by which procedure it is done", job_id);
      return NULL;
    }
  if (!(bytes = pawl_record_load_kept (record, digest, error)))
    return NULL;
  name = get_opening_field (entries, "procedure-file");
  if (!(procedure = pawl_procedure_load_bytes (bytes, name != NULL ? name : "procedure.xml", language, error)))
    return NULL;
  digest = get_opening_field (entries, "figure");
  if (digest != NULL && !(figure = pawl_record_load_kept (record, digest, error)))
    return NULL;
  self = bench_new (record, procedure, figure, job_id);
  self->entries = g_steal_pointer (&entries);
  take_job (self, fold (self, self->entries));
  return g_steal_pointer (&self);
}

PawlJob *
pawl_bench_get_job (PawlBench *self)
{
  return self->job;
}

PawlProcedure *
pawl_bench_get_procedure (PawlBench *self)
{
  return self->procedure;
}

PawlRecord *
pawl_bench_get_record (PawlBench *self)
{
  return self->record;
}

GBytes *
pawl_bench_peek_figure (PawlBench *self)
{
  return self->figure;
}

/* Each entry is judged by the job as the ones before it would leave it. */
static gboolean
check_all (PawlBench *self, GPtrArray *entries, GError **error)
{
  g_autoptr(GPtrArray) trial = g_ptr_array_copy (self->entries, (GCopyFunc) (void (*) (void)) pawl_entry_ref, NULL);
  g_autoptr(GDateTime) now = pawl_bench_now (self);
  gboolean has_hidden = pawl_job_has_hidden (self->job);
  g_autoptr(PawlJob) job = has_hidden ? pawl_job_fold_in_sight (self->procedure, self->entries, now) : g_object_ref (self->job);

  g_ptr_array_set_free_func (trial, (GDestroyNotify) pawl_entry_unref);
  for (guint i = 0; i < entries->len; i++)
    {
      if (!pawl_job_check (job, entries->pdata[i], error))
        return FALSE;
      g_ptr_array_add (trial, pawl_entry_ref (entries->pdata[i]));
      g_object_unref (job);
      job = pawl_job_fold_in_sight (self->procedure, trial, now);
    }
  return TRUE;
}

/* What is known of the instruments now is written down with the readings, for good. */
static gboolean
describe_instruments (PawlBench *self, GPtrArray *entries, GError **error)
{
  PawlOverdue overdue = pawl_overdue_from_text (pawl_job_get_field (self->job, "out-of-date"));
  g_autoptr(PawlRegister) instruments = NULL;

  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntryKind kind = pawl_entry_get_kind (entries->pdata[i]);

      if ((kind != PAWL_ENTRY_ANSWERED && kind != PAWL_ENTRY_REMEASURED) || pawl_entry_get (entries->pdata[i], "tool-serial") == NULL)
        continue;
      if (instruments == NULL && !(instruments = pawl_register_load (self->record, error)))
        return FALSE;
      if (!pawl_register_describe_use (instruments, entries->pdata[i], overdue, error))
        return FALSE;
    }
  return TRUE;
}

/* The record knows no procedure, but is searched for what was written down: so each answer to a note says that it is one. */
static void
mark_notes (PawlBench *self, GPtrArray *entries)
{
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      const PawlAsk *ask = pawl_entry_get_kind (entry) == PAWL_ENTRY_ANSWERED
                           ? pawl_procedure_lookup_ask (self->procedure, pawl_entry_get_subject (entry), NULL) : NULL;

      if (ask != NULL && ask->kind == PAWL_ASK_NOTE)
        pawl_entry_set (entry, "asked", "note");
    }
}

/* Whether a reading was taken blind is said by its entry, so that also what reads no procedure keeps it to itself. */
static void
mark_blind (PawlBench *self, GPtrArray *entries)
{
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      PawlEntryKind kind = pawl_entry_get_kind (entry);
      const PawlAskState *ask = pawl_job_lookup_ask (self->job, pawl_entry_get_subject (entry));

      if ((kind == PAWL_ENTRY_ANSWERED || kind == PAWL_ENTRY_REMEASURED) && ask != NULL && pawl_job_is_blind (self->job, ask))
        pawl_entry_set (entry, "blind", "yes");
    }
}

/* Entries get their ids only once they are known to be stored, so what they say is compared. */
static gboolean
say_the_same (const PawlEntry *a, const PawlEntry *b)
{
  g_auto(GStrv) fields_a = pawl_entry_list_fields (a);
  g_auto(GStrv) fields_b = pawl_entry_list_fields (b);

  if (pawl_entry_get_kind (a) != pawl_entry_get_kind (b) || !g_str_equal (pawl_entry_get_subject (a), pawl_entry_get_subject (b))
      || !g_str_equal (pawl_entry_get_person (a), pawl_entry_get_person (b))
      || !g_date_time_equal (pawl_entry_peek_at (a), pawl_entry_peek_at (b))
      || !g_strv_equal ((const char * const *) fields_a, (const char * const *) fields_b))
    return FALSE;
  for (guint i = 0; fields_a[i] != NULL; i++)
    if (g_strcmp0 (pawl_entry_get (a, fields_a[i]), pawl_entry_get (b, fields_a[i])) != 0)
      return FALSE;
  return TRUE;
}

/* A disk may report a failure of what it has done already. Whether all @entries follow right upon the @n_before that were there. */
static gboolean
was_stored (PawlBench *self, guint n_before, GPtrArray *entries)
{
  g_autoptr(GPtrArray) stored = pawl_record_load_entries (self->record, self->job_id, NULL);

  if (stored == NULL || stored->len < n_before + entries->len)
    return FALSE;
  for (guint i = 0; i < entries->len; i++)
    if (!say_the_same (stored->pdata[n_before + i], entries->pdata[i]))
      return FALSE;
  return TRUE;
}

static gboolean
store (PawlBench *self, GPtrArray *entries, GError **error)
{
  g_autoptr(GError) problem = NULL;

  if (pawl_record_append (self->record, self->job_id, entries, &problem) || was_stored (self, self->entries->len, entries))
    return TRUE;
  g_propagate_error (error, g_steal_pointer (&problem));
  return FALSE;
}

/**
 * pawl_bench_append:
 * @entries: (element-type PawlEntry): in order
 * @error: PAWL_JOB_ERROR when the job would not take one of them, PAWL_REGISTER_ERROR when its instrument may not be used, PAWL_RECORD_ERROR when
 *   the record could not
 *
 * The one way anything changes. When it returns TRUE everything is on disk; when FALSE nothing was appended.
 */
gboolean
pawl_bench_append (PawlBench *self, GPtrArray *entries, GError **error)
{
  mark_notes (self, entries);
  mark_blind (self, entries);
  if (!describe_instruments (self, entries, error) || !check_all (self, entries, error) || !store (self, entries, error))
    return FALSE;
  /* Read back rather than added here: another window may have appended in between. */
  return pawl_bench_reload (self, error);
}

gboolean
pawl_bench_append_one (PawlBench *self, PawlEntry *entry, GError **error)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new ();

  g_ptr_array_add (entries, entry);
  return pawl_bench_append (self, entries, error);
}

/**
 * pawl_bench_attach_photo:
 * @step_id: "" for the job as a whole
 * @bytes: the original picture, kept unchanged
 * @caption: (nullable)
 */
gboolean
pawl_bench_attach_photo (PawlBench *self, const char *step_id, const char *person, GBytes *bytes, const char *media_type,
                         const char *caption, GDateTime *at, GError **error)
{
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_PHOTO, step_id, person, at);
  g_autofree char *digest = pawl_record_keep (self->record, bytes, media_type, error);

  if (digest == NULL)
    return FALSE;
  pawl_entry_set (entry, "digest", digest);
  pawl_entry_set (entry, "media-type", media_type);
  pawl_entry_set (entry, "caption", caption);
  return pawl_bench_append_one (self, entry, error);
}

void
pawl_bench_refresh (PawlBench *self)
{
  take_job (self, fold (self, self->entries));
}

GDateTime *
pawl_bench_now (PawlBench *self)
{
  return pawl_record_dup_now (self->record);
}
