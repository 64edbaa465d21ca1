/* From the way out to the way in: where a setting stood when the unit came, and this job's own marks. */
#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"

/* ---- where to begin ---- */

static const PawlAskState *
find_as_found (PawlJob *self, const char *id)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *step = self->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = step->asks->pdata[j];

          if (state->ask->kind == PAWL_ASK_READING && state->ask->reading->is_as_found && g_strcmp0 (state->ask->reading->same_as, id) == 0)
            return state;
        }
    }
  return NULL;
}

const PawlAskState *
pawl_job_find_start (PawlJob *self, const PawlAskState *state)
{
  if (state->ask->kind != PAWL_ASK_READING || state->ask->reading->is_as_found || state->ask->reading->derived != NULL)
    return NULL;
  if (state->ask->reading->start != NULL)
    return pawl_job_lookup_ask (self, state->ask->reading->start);
  return find_as_found (self, state->ask->id);
}

/* Of several the last: it may be a correction. */
static const PawlAttempt *
find_last (PawlJob *self, const PawlAskState *state)
{
  const PawlAskState *start = pawl_job_find_start (self, state);
  const PawlAttempt *last = start != NULL ? pawl_ask_peek_current (start) : NULL;

  return last != NULL && last->entry != NULL && !last->is_void && !last->is_derived ? last : NULL;
}

const char *
pawl_job_peek_start (PawlJob *self, const PawlAskState *state)
{
  const PawlAttempt *last = find_last (self, state);

  return last != NULL ? pawl_entry_get (last->entry, "answer") : NULL;
}

char *
pawl_job_describe_start (PawlJob *self, const PawlAskState *state)
{
  const PawlAttempt *last = find_last (self, state);

  if (last == NULL)
    return NULL;
  return g_strdup_printf ("%s, by %s", pawl_entry_get (last->entry, "answer"), pawl_entry_get_person (last->entry));
}

/* ---- own marks ---- */

static const PawlAttempt *
find_mark (PawlJob *self, const PawlRule *rule)
{
  const PawlAskState *note = rule->datum_note != NULL ? pawl_job_lookup_ask (self, rule->datum_note) : NULL;

  return note != NULL && note->ask->kind == PAWL_ASK_NOTE ? pawl_ask_peek_current (note) : NULL;
}

const char *
pawl_job_peek_own_mark (PawlJob *self, const PawlRule *rule)
{
  const PawlAttempt *mark = find_mark (self, rule);

  return mark != NULL ? pawl_entry_get (mark->entry, "answer") : NULL;
}

char *
pawl_job_describe_own_mark (PawlJob *self, const PawlRule *rule)
{
  const PawlAttempt *mark = find_mark (self, rule);

  if (rule->datum_note == NULL)
    return NULL;
  if (mark == NULL)
    return g_strdup ("not written down in this job");
  return g_strdup_printf ("“%s”, noted by %s", pawl_entry_get (mark->entry, "answer"), pawl_entry_get_person (mark->entry));
}
