/* Results: one line for each characteristic, and the honest list of what is missing. */
#include "job/pawl-job-private.h"
#include "job/pawl-results.h"

static const PawlAttempt *
get_attempt (const PawlAskState *state, guint index)
{
  return state != NULL && index < state->attempts->len ? state->attempts->pdata[index] : NULL;
}

/* The as-found twin of a reading is the one that says it is the same as this. */
static const PawlAskState *
find_twin (GPtrArray *readings, const PawlAskState *reading)
{
  for (guint i = 0; i < readings->len; i++)
    {
      const PawlAskState *other = readings->pdata[i];

      if (other->ask->reading->is_as_found && g_strcmp0 (other->ask->reading->same_as, reading->ask->id) == 0)
        return other;
    }
  return NULL;
}

static GPtrArray *
list_readings (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  GPtrArray *readings = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          PawlAskState *state = step->asks->pdata[j];

          if (state->ask->kind == PAWL_ASK_READING && state->status != PAWL_ASK_NOT_APPLICABLE)
            g_ptr_array_add (readings, state);
        }
    }
  return readings;
}

/* Of a set of repeats the last alone is an attempt; the others are on their way. */
static const PawlAttempt *
find_first (const PawlAskState *state, guint *n)
{
  const PawlAttempt *first = NULL;

  *n = 0;
  for (guint i = 0; i < state->attempts->len; i++)
    if (get_attempt (state, i)->is_whole)
      {
        first = first != NULL ? first : get_attempt (state, i);
        ++*n;
      }
  return first;
}

static const PawlAttempt *
find_last (const PawlAskState *state)
{
  for (guint i = state->attempts->len; i > 0; i--)
    if (get_attempt (state, i - 1)->is_whole)
      return get_attempt (state, i - 1);
  return NULL;
}

static PawlResult *
make_result (GPtrArray *readings, const PawlAskState *state)
{
  PawlResult *result = g_new0 (PawlResult, 1);
  const PawlAttempt *first = find_first (state, &result->n_attempts);

  result->as_left = state;
  result->as_found = find_twin (readings, state);
  if (result->as_found != NULL)
    result->found = find_last (result->as_found);
  else if (state->ask->reading->is_as_found || result->n_attempts > 1)
    result->found = first;
  if (!state->ask->reading->is_as_found)
    result->left = pawl_ask_peek_current (state);
  return result;
}

/**
 * pawl_results_of_readings:
 *
 * One line for each characteristic; a reading taken only as found, with no twin later, has no as-left value.
 *
 * Returns: (transfer full) (element-type PawlResult): procedure order; borrows from @job
 */
GPtrArray *
pawl_results_of_readings (PawlJob *job)
{
  g_autoptr(GPtrArray) readings = list_readings (job);
  GPtrArray *results = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < readings->len; i++)
    {
      const PawlAskState *state = readings->pdata[i];
      gboolean is_twin = state->ask->reading->is_as_found && state->ask->reading->same_as != NULL;

      if (!is_twin)
        g_ptr_array_add (results, make_result (readings, state));
    }
  return results;
}

static const char *
get_missing_verb (const PawlAskState *state)
{
  if (state->status == PAWL_ASK_STALE)
    return "to be answered again";
  switch (state->ask->kind)
    {
    case PAWL_ASK_READING: return "not measured";
    case PAWL_ASK_WAIT:    return "not run to its end";
    case PAWL_ASK_DECIDE:  return "not decided";
    case PAWL_ASK_NOTE:    return "not written down";
    case PAWL_ASK_FIT:
    case PAWL_ASK_CHECK:
    default:               return "not confirmed";
    }
}

/**
 * pawl_results_list_missing:
 *
 * Returns: (transfer full) (element-type utf8): "Float drop: not measured (step 31)", in procedure order; optional asks too.
 */
GPtrArray *
pawl_results_list_missing (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  GPtrArray *missing = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = step->asks->pdata[j];

          if (state->status == PAWL_ASK_PENDING || state->status == PAWL_ASK_STALE || state->status == PAWL_ASK_RUNNING)
            g_ptr_array_add (missing, g_strdup_printf ("%s: %s (step %s)", state->ask->name, get_missing_verb (state), step->step->number));
        }
    }
  return missing;
}
