/* One answer, judged: what an entry says to the ask that it answers. */
#include "job/pawl-job-private.h"

void
pawl_attempt_free (PawlAttempt *self)
{
  g_clear_pointer (&self->quantity, pawl_quantity_unref);
  g_free (self);
}

/* The instrument of a reading: what the entry names, else what the procedure asks for. */
static const PawlInstrument *
find_instrument (PawlJob *job, const PawlReading *reading, PawlEntry *entry)
{
  const char *id = pawl_entry_get (entry, "instrument");
  const PawlTool *tool = pawl_procedure_lookup_tool (job->procedure, id ? id : (reading->tool ? reading->tool : ""));

  return tool != NULL && tool->is_measuring ? &tool->instrument : NULL;
}

static gboolean
judge_outcome (const PawlLimits *limits, const char *answer, PawlAttempt *attempt, GError **error)
{
  return pawl_verdict_of (limits, NULL, answer, NULL, PAWL_POLICY_SIMPLE, &attempt->verdict, error);
}

static gboolean
judge_reading (PawlJob *job, const PawlReading *reading, const char *answer, PawlAttempt *attempt, GError **error)
{
  PawlTyping typing = reading->typing;
  const char *mark = pawl_entry_get (attempt->entry, "decimal-mark");

  if (pawl_limits_get_kind (reading->limits) == PAWL_LIMITS_CHOICE)
    return judge_outcome (reading->limits, answer, attempt, error);
  if (mark != NULL)
    typing.decimal_mark = *mark;
  if (!(attempt->quantity = pawl_quantity_parse (answer, &typing, error)))
    return FALSE;
  return pawl_verdict_of (reading->limits, attempt->quantity, NULL, find_instrument (job, reading, attempt->entry),
                          pawl_job_get_policy (job), &attempt->verdict, error);
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
judge (PawlJob *job, const PawlAsk *ask, const char *answer, PawlAttempt *attempt, GError **error)
{
  switch (ask->kind)
    {
    case PAWL_ASK_FIT:
      return judge_fit (answer, attempt, error);
    case PAWL_ASK_CHECK:
      return judge_outcome (ask->check->limits, answer, attempt, error);
    case PAWL_ASK_READING:
      return judge_reading (job, ask->reading, answer, attempt, error);
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
 * A reading taken as found is accepted whatever it says: it tells how the unit came, and stops nothing.
 */
PawlAttempt *
pawl_attempt_new (PawlJob *job, const PawlAsk *ask, PawlEntry *entry, GError **error)
{
  g_autoptr(PawlAttempt) attempt = g_new0 (PawlAttempt, 1);
  g_autoptr(GError) local_error = NULL;
  const char *answer = pawl_entry_get (entry, ask->kind == PAWL_ASK_DECIDE ? "choice" : "answer");

  attempt->entry = entry;
  if (answer == NULL)
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” was given no answer", ask->name);
      return NULL;
    }
  if (!judge (job, ask, answer, attempt, &local_error))
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "%s", local_error->message);
      return NULL;
    }
  attempt->is_accepted = attempt->verdict.kind == PAWL_VERDICT_IN || (ask->kind == PAWL_ASK_READING && ask->reading->is_as_found);
  return g_steal_pointer (&attempt);
}
