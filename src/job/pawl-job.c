/* The job as an object: what it holds, what it lends. The fold is in pawl-job-fold.c, the refusals in pawl-job-check.c. */
#include "job/pawl-job-private.h"
#include "procedure/pawl-variant.h"

G_DEFINE_TYPE (PawlJob, pawl_job, G_TYPE_OBJECT)
G_DEFINE_QUARK (pawl-job-error-quark, pawl_job_error)

static void
ask_state_free (gpointer data)
{
  PawlAskState *self = data;

  g_clear_pointer (&self->again, ask_state_free);
  g_ptr_array_unref (self->attempts);
  g_clear_pointer (&self->started, g_date_time_unref);
  g_clear_pointer (&self->ended, g_date_time_unref);
  g_clear_pointer (&self->earliest, g_date_time_unref);
  g_clear_pointer (&self->latest, g_date_time_unref);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self->wants);
  g_free (self);
}

static void
blocker_free (gpointer data)
{
  PawlBlocker *self = data;

  g_free (self->text);
  g_free (self);
}

static void
step_state_free (gpointer data)
{
  PawlStepState *self = data;

  g_ptr_array_unref (self->blockers);
  g_ptr_array_unref (self->asks);
  g_ptr_array_unref (self->covered);
  g_ptr_array_unref (self->hides);
  g_ptr_array_unref (self->photos);
  g_ptr_array_unref (self->notes);
  g_free (self->redo_reason);
  g_free (self->raised_by);
  g_free (self);
}

static void
pawl_job_finalize (GObject *object)
{
  PawlJob *self = PAWL_JOB (object);

  g_clear_pointer (&self->step_by_id, g_hash_table_unref);
  g_clear_pointer (&self->ask_by_id, g_hash_table_unref);
  g_clear_pointer (&self->part_by_id, g_hash_table_unref);
  g_clear_pointer (&self->undone, g_hash_table_unref);
  g_clear_pointer (&self->steps, g_ptr_array_unref);
  g_clear_pointer (&self->parts, g_ptr_array_unref);
  g_clear_pointer (&self->reopenings, g_ptr_array_unref);
  g_clear_pointer (&self->corrections, g_ptr_array_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_clear_pointer (&self->given, g_ptr_array_unref);
  g_clear_pointer (&self->now, g_date_time_unref);
  g_clear_object (&self->procedure);
  g_clear_pointer (&self->variant, g_free);
  G_OBJECT_CLASS (pawl_job_parent_class)->finalize (object);
}

static void
pawl_job_class_init (PawlJobClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_job_finalize;
}

static void
pawl_job_init (PawlJob *self)
{
  self->variant = g_strdup ("");
  self->steps = g_ptr_array_new_with_free_func (step_state_free);
  self->parts = g_ptr_array_new_with_free_func (g_free);
  self->reopenings = g_ptr_array_new_with_free_func (g_free);
  self->corrections = g_ptr_array_new_with_free_func (g_free);
  self->step_by_id = g_hash_table_new (g_str_hash, g_str_equal);
  self->ask_by_id = g_hash_table_new (g_str_hash, g_str_equal);
  self->part_by_id = g_hash_table_new (g_str_hash, g_str_equal);
  self->undone = g_hash_table_new (g_str_hash, g_str_equal);
}

/* Somebody else's readings of the same: a state of their own, so that a set of repeats is told from the first one's. */
static PawlAskState *
ask_state_new_again (const PawlAskState *first)
{
  PawlAskState *self = g_new0 (PawlAskState, 1);

  self->ask = first->ask;
  self->step = first->step;
  self->attempts = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_attempt_free);
  return self;
}

static void
add_ask (PawlJob *self, PawlStepState *state, const PawlAsk *ask)
{
  PawlAskState *ask_state = g_new0 (PawlAskState, 1);

  ask_state->ask = ask;
  ask_state->step = state->step;
  ask_state->attempts = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_attempt_free);
  g_ptr_array_add (state->asks, ask_state);
  if (ask->kind == PAWL_ASK_READING)
    ask_state->again = ask_state_new_again (ask_state);
  g_hash_table_insert (self->ask_by_id, ask->id, ask_state);
}

static void
add_step (PawlJob *self, const PawlStep *step)
{
  PawlStepState *state = g_new0 (PawlStepState, 1);

  state->step = step;
  state->blockers = g_ptr_array_new_with_free_func (blocker_free);
  state->asks = g_ptr_array_new_with_free_func (ask_state_free);
  state->covered = g_ptr_array_new ();
  state->hides = g_ptr_array_new ();
  state->photos = g_ptr_array_new ();
  state->notes = g_ptr_array_new ();
  for (guint i = 0; i < step->asks->len; i++)
    add_ask (self, state, step->asks->pdata[i]);
  g_ptr_array_add (self->steps, state);
  g_hash_table_insert (self->step_by_id, step->id, state);
}

static void
add_part (PawlJob *self, const PawlPart *part)
{
  PawlPartState *state = g_new0 (PawlPartState, 1);

  state->part = part;
  g_ptr_array_add (self->parts, state);
  g_hash_table_insert (self->part_by_id, part->id, state);
}

/* @another: (nullable): an entry that comes last. @corrected: see pawl_job_fold_entries() */
static PawlJob *
fold (PawlProcedure *procedure, GPtrArray *entries, GDateTime *now, PawlEntry *another, const char *corrected, gboolean is_in_sight)
{
  PawlJob *self = g_object_new (PAWL_TYPE_JOB, NULL);
  GPtrArray *steps = pawl_procedure_get_steps (procedure);
  GPtrArray *parts = pawl_procedure_get_parts (procedure);

  self->procedure = g_object_ref (procedure);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (self->entries, pawl_entry_ref (entries->pdata[i]));
  if (another != NULL)
    g_ptr_array_add (self->entries, pawl_entry_ref (another));
  self->given = g_ptr_array_copy (self->entries, (GCopyFunc) (void (*) (void)) pawl_entry_ref, NULL);
  g_ptr_array_set_free_func (self->given, (GDestroyNotify) pawl_entry_unref);
  self->now = g_date_time_ref (now);
  self->is_in_sight = is_in_sight;
  for (guint i = 0; i < steps->len; i++)
    add_step (self, steps->pdata[i]);
  for (guint i = 0; i < parts->len; i++)
    add_part (self, parts->pdata[i]);
  pawl_job_fold_entries (self, corrected);
  return self;
}

/**
 * pawl_job_fold:
 * @entries: (element-type PawlEntry): the job's entries as the record lists them; kept by reference
 * @now: the time at which waits are judged
 *
 * Computes the job. Entries that its procedure does not know (made by another revision, say) stay in the list and change nothing.
 *
 * Returns: (transfer full): the state; never fails.
 */
PawlJob *
pawl_job_fold (PawlProcedure *procedure, GPtrArray *entries, GDateTime *now)
{
  return fold (procedure, entries, now, NULL, NULL, FALSE);
}

PawlJob *
pawl_job_fold_in_sight (PawlProcedure *procedure, GPtrArray *entries, GDateTime *now)
{
  return fold (procedure, entries, now, NULL, NULL, TRUE);
}

PawlJob *
pawl_job_imagine (PawlJob *self, PawlEntry *entry, const char *corrected)
{
  return fold (self->procedure, self->given, self->now, entry, corrected, self->is_in_sight);
}

PawlProcedure *
pawl_job_get_procedure (PawlJob *self)
{
  return self->procedure;
}

const char *
pawl_job_get_id (PawlJob *self)
{
  const char *id = self->opening != NULL ? pawl_entry_get_id (self->opening) : NULL;

  return id != NULL ? id : "";
}

/**
 * pawl_job_get_policy:
 *
 * How close is too close, as chosen when the job was opened; simple acceptance unless another rule was.
 */
PawlPolicy
pawl_job_get_policy (PawlJob *self)
{
  PawlPolicy policy;

  pawl_policy_parse (pawl_job_get_field (self, "policy"), &policy);
  return policy;
}

GDateTime *
pawl_job_peek_now (PawlJob *self)
{
  return self->now;
}

GPtrArray *
pawl_job_get_entries (PawlJob *self)
{
  return self->entries;
}

gboolean
pawl_job_is_undone (PawlJob *self, const PawlEntry *entry)
{
  const char *id = pawl_entry_get_id (entry);

  return id != NULL && g_hash_table_contains (self->undone, id);
}

GPtrArray *
pawl_job_get_reopenings (PawlJob *self)
{
  return self->reopenings;
}

GPtrArray *
pawl_job_get_steps (PawlJob *self)
{
  return self->steps;
}

GPtrArray *
pawl_job_get_parts (PawlJob *self)
{
  return self->parts;
}

const PawlStepState *
pawl_job_lookup_step (PawlJob *self, const char *id)
{
  return g_hash_table_lookup (self->step_by_id, id);
}

const PawlAskState *
pawl_job_lookup_ask (PawlJob *self, const char *id)
{
  return g_hash_table_lookup (self->ask_by_id, id);
}

const PawlPartState *
pawl_job_lookup_part (PawlJob *self, const char *id)
{
  return g_hash_table_lookup (self->part_by_id, id);
}

PawlEntry *
pawl_job_peek_signature (PawlJob *self)
{
  return self->signature;
}

/* What a trainer said stays: it changes no answer, and whoever works next is not to press it away. */
static gboolean
is_trainers (PawlEntryKind kind)
{
  return kind == PAWL_ENTRY_TIGHTENED || kind == PAWL_ENTRY_REMEASURED || kind == PAWL_ENTRY_SEALED || kind == PAWL_ENTRY_UNSEALED;
}

/**
 * pawl_job_peek_undoable:
 *
 * The newest entry that has not been taken back. Undo again and again goes back through the whole job; the opening stays, and so does what nobody did, a change of
 * the clock, and what can't be undone: a report that has left the bench.
 *
 * Returns: (transfer none) (nullable)
 */
PawlEntry *
pawl_job_peek_undoable (PawlJob *self)
{
  for (guint i = self->entries->len; i > 0; i--)
    {
      PawlEntry *entry = self->entries->pdata[i - 1];
      PawlEntryKind kind = pawl_entry_get_kind (entry);

      if (kind != PAWL_ENTRY_UNDONE && kind != PAWL_ENTRY_OPENED && !is_trainers (kind) && pawl_entry_get (entry, "clock-shift") == NULL
          && pawl_entry_get (entry, "issued") == NULL && !pawl_job_is_undone (self, entry))
        return entry;
    }
  return NULL;
}

/**
 * pawl_job_list_deviations:
 *
 * Returns: (transfer container) (element-type PawlEntry): every deviation that was not taken back, in the order they were recorded.
 */
GPtrArray *
pawl_job_list_deviations (PawlJob *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->entries->len; i++)
    {
      PawlEntry *entry = self->entries->pdata[i];

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_DEVIATED && !pawl_job_is_undone (self, entry))
        g_ptr_array_add (list, entry);
    }
  return list;
}

const char *
pawl_job_get_variant (PawlJob *self)
{
  return self->variant;
}

gboolean
pawl_job_is_applicable (PawlJob *self, const char *variant)
{
  return pawl_variant_matches (variant, self->variant);
}

gboolean
pawl_step_status_is_over (PawlStepStatus status)
{
  return status == PAWL_STEP_DONE || status == PAWL_STEP_SKIPPED || status == PAWL_STEP_NOT_APPLICABLE;
}

gboolean
pawl_step_is_held (const PawlStepState *step)
{
  return step->status == PAWL_STEP_DONE && step->hold == PAWL_HOLD_HOLD && step->release == NULL && step->waiver == NULL;
}

gboolean
pawl_ask_status_is_settled (PawlAskStatus status)
{
  return status == PAWL_ASK_ACCEPTED || status == PAWL_ASK_DEVIATED || status == PAWL_ASK_NOT_APPLICABLE;
}

gboolean
pawl_ask_is_only_late (const PawlAskState *ask)
{
  return ask->status == PAWL_ASK_OUT && ask->late_seconds > 0;
}

char *
pawl_step_describe (const PawlStep *step)
{
  size_t length = strlen (step->command);

  /* The command is a sentence; inside another one its full stop goes. */
  if (length > 0 && step->command[length - 1] == '.')
    length--;
  return g_strdup_printf ("step %s, %.*s", step->number, (int) length, step->command);
}

const char *
pawl_step_status_get_word (PawlStepStatus status)
{
  switch (status)
    {
    case PAWL_STEP_BLOCKED:        return "blocked";
    case PAWL_STEP_OPEN:           return "open";
    case PAWL_STEP_WAITING:        return "waiting";
    case PAWL_STEP_DONE:           return "done";
    case PAWL_STEP_SKIPPED:        return "left out";
    case PAWL_STEP_REDO:           return "to be done again";
    case PAWL_STEP_NOT_APPLICABLE: return "not for this variant";
    default:                       g_return_val_if_reached ("");
    }
}

const char *
pawl_ask_status_get_word (PawlAskStatus status)
{
  switch (status)
    {
    case PAWL_ASK_PENDING:        return "not answered";
    case PAWL_ASK_ACCEPTED:       return "right";
    case PAWL_ASK_OUT:            return "out";
    case PAWL_ASK_TOO_CLOSE:      return "too close to call";
    case PAWL_ASK_DEVIATED:       return "deviation";
    case PAWL_ASK_STALE:          return "to be answered again";
    case PAWL_ASK_RUNNING:        return "running";
    case PAWL_ASK_NOT_APPLICABLE: return "not for this variant";
    default:                      g_return_val_if_reached ("");
    }
}
