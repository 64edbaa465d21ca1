/* One answer, judged: what an entry says to the ask that it answers. */
#include "job/pawl-job-private.h"

static void
judged_free (PawlJudged *self)
{
  pawl_quantity_unref (self->quantity);
  pawl_limits_unref (self->limits);
  g_free (self);
}

void
pawl_attempt_clear_judged (PawlAttempt *self)
{
  g_ptr_array_set_size (self->judged, 0);
}

PawlJudged *
pawl_attempt_add_judged (PawlAttempt *self, const char *name, PawlQuantity *quantity, PawlLimits *limits)
{
  PawlJudged *judged = g_new0 (PawlJudged, 1);

  judged->name = name;
  judged->quantity = pawl_quantity_ref (quantity);
  judged->limits = pawl_limits_ref (limits);
  g_ptr_array_add (self->judged, judged);
  return judged;
}

/* (transfer full) */
PawlAttempt *
pawl_attempt_new_empty (PawlEntry *entry)
{
  PawlAttempt *self = g_new0 (PawlAttempt, 1);

  self->entry = entry;
  self->is_whole = TRUE;
  self->judged = g_ptr_array_new_with_free_func ((GDestroyNotify) judged_free);
  return self;
}

void
pawl_attempt_free (PawlAttempt *self)
{
  g_clear_pointer (&self->taken, pawl_quantity_unref);
  g_clear_pointer (&self->quantity, pawl_quantity_unref);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_ptr_array_unref (self->judged);
  g_clear_pointer (&self->values, g_ptr_array_unref);
  g_free (self);
}

static gboolean
judge_outcome (const PawlLimits *limits, const char *answer, PawlAttempt *attempt, GError **error)
{
  return pawl_verdict_of (limits, NULL, answer, NULL, PAWL_POLICY_SIMPLE, &attempt->verdict, error);
}

static gboolean
judge_fit (const char *answer, PawlAttempt *attempt, GError **error)
{
  if (!g_str_equal (answer, "right") && !g_str_equal (answer, "wrong"))
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER,
                   "“%s” is no answer to which way round; it is “right” or “wrong”", answer);
      return FALSE;
    }
  attempt->verdict.kind = g_str_equal (answer, "right") ? PAWL_VERDICT_IN : PAWL_VERDICT_OUT;
  return TRUE;
}

static gboolean
judge (PawlJob *job, const PawlAskState *state, const char *answer, PawlAttempt *attempt, GError **error)
{
  const PawlAsk *ask = state->ask;
  guint count;

  switch (ask->kind)
    {
    case PAWL_ASK_FIT:
      return judge_fit (answer, attempt, error);
    case PAWL_ASK_CHECK:
      if (!pawl_kit_read_count (ask, answer, &count))
        return judge_outcome (ask->check->limits, answer, attempt, error);
      pawl_kit_judge_count (job, ask, count, attempt);
      return TRUE;
    case PAWL_ASK_READING:
      return pawl_reading_judge (job, state, answer, attempt, error);
    case PAWL_ASK_DECIDE:
    case PAWL_ASK_NOTE:
      attempt->verdict.kind = PAWL_VERDICT_IN;
      return TRUE;
    case PAWL_ASK_WAIT:
    default:
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is a wait: it is started and ended, not answered", ask->name);
      return FALSE;
    }
}

/*
 * pawl_attempt_new:
 * @entry: borrowed; must outlive the attempt
 * @error: PAWL_JOB_ERROR_BAD_ANSWER, its message that of the reading's parser where it is one
 *
 * A reading taken as found is accepted whatever it says: it tells how the unit came, and stops nothing. One of a set of repeats is accepted with
 * the last of them, and what is void never.
 */
PawlAttempt *
pawl_attempt_new (PawlJob *job, const PawlAskState *state, PawlEntry *entry, GError **error)
{
  const PawlAsk *ask = state->ask;
  g_autoptr(PawlAttempt) attempt = pawl_attempt_new_empty (entry);
  g_autoptr(GError) local_error = NULL;
  const char *answer = pawl_entry_get (entry, ask->kind == PAWL_ASK_DECIDE ? "choice" : "answer");

  attempt->is_typed_over = g_strcmp0 (pawl_entry_get (entry, "typed-over"), "yes") == 0;
  if (answer == NULL)
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” was given no answer", ask->name);
      return NULL;
    }
  if (!judge (job, state, answer, attempt, &local_error))
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "%s", local_error->message);
      return NULL;
    }
  attempt->is_accepted = attempt->is_whole && !attempt->is_void
                         && (attempt->verdict.kind == PAWL_VERDICT_IN || (ask->kind == PAWL_ASK_READING && ask->reading->is_as_found));
  return g_steal_pointer (&attempt);
}
