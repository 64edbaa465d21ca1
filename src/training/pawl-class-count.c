/* One job, counted: steps, traps, readings, holds, guesses, what was planted, and what skills were used. Counts only. */
#include "training/pawl-class-private.h"

static void
count (PawlRate *rate, gboolean is_right)
{
  rate->n++;
  rate->n_right += is_right ? 1 : 0;
}

/* ---- asks ---- */

/* (nullable): the first attempt that is whole and says something about who made it. */
static const PawlAttempt *
find_first (const PawlAskState *state)
{
  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      if (attempt->is_whole && !attempt->is_void && !attempt->is_derived)
        return attempt;
    }
  return NULL;
}

static guint
count_until_right (const PawlAskState *state)
{
  guint n = 0;

  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      n += attempt->is_whole && !attempt->is_void ? 1 : 0;
      if (attempt->is_accepted)
        return n;
    }
  return 0;
}

static void
add_fit (PawlLearner *learner, const PawlAskState *state, const PawlAttempt *first, PawlClassStep *step)
{
  if (state->ask->rule->kind == PAWL_RULE_EITHER)
    return; /* there is no wrong way, so nothing to be met */
  count (&learner->traps, first->is_accepted);
  count (&learner->traps_of[state->ask->rule->kind], first->is_accepted);
  step->n_wrong += first->is_accepted ? 0 : 1;
}

static void
add_reading (PawlLearner *learner, const PawlAskState *state, const PawlAttempt *first, PawlClassStep *step)
{
  guint n = count_until_right (state);

  if (state->ask->reading->is_as_found)
    return;
  count (&learner->readings, first->is_accepted);
  if (first->is_accepted)
    return;
  step->n_out++;
  if (n > 1)
    {
      learner->attempts = (learner->attempts * learner->n_loops + n) / (learner->n_loops + 1);
      learner->n_loops++;
    }
}

static PawlClassSkill *
get_skill (PawlLearner *learner, const char *name)
{
  PawlClassSkill *skill;

  for (guint i = 0; i < learner->skills->len; i++)
    if (g_str_equal (((PawlClassSkill *) learner->skills->pdata[i])->skill, name))
      return learner->skills->pdata[i];
  skill = g_new0 (PawlClassSkill, 1);
  skill->skill = g_strdup (name);
  g_ptr_array_add (learner->skills, skill);
  return skill;
}

/* When whoever answered first answered last. */
static GDateTime *
find_last (const PawlAskState *state, const PawlAttempt *first)
{
  for (guint i = state->attempts->len; i > 0; i--)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i - 1];

      if (!attempt->is_derived && g_str_equal (pawl_entry_get_person (attempt->entry), pawl_entry_get_person (first->entry)))
        return pawl_entry_peek_at (attempt->entry);
    }
  return pawl_entry_peek_at (first->entry);
}

/* @used: (element-type PawlClassSkill): those of this job, each once */
static void
use_skill (PawlLearner *learner, const PawlAskState *state, const PawlAttempt *first, GHashTable *used)
{
  g_autofree char *name = pawl_ask_dup_skill (state->ask);
  GDateTime *at = find_last (state, first);
  PawlClassSkill *skill;

  if (name == NULL)
    return;
  skill = get_skill (learner, name);
  skill->n_jobs += g_hash_table_add (used, skill) ? 1 : 0;
  if (skill->last != NULL && g_date_time_compare (at, skill->last) <= 0)
    return;
  g_clear_pointer (&skill->last, g_date_time_unref);
  skill->last = g_date_time_ref (at);
}

static void
add_asks (PawlClass *self, const PawlStepState *state, PawlClassStep *step, GHashTable *used)
{
  for (guint i = 0; i < state->asks->len; i++)
    {
      const PawlAskState *ask = state->asks->pdata[i];
      const PawlAttempt *first = ask->ask->kind == PAWL_ASK_FIT || ask->ask->kind == PAWL_ASK_READING ? find_first (ask) : NULL;
      PawlLearner *learner;

      if (first == NULL)
        continue;
      learner = pawl_class_get_learner (self, pawl_entry_get_person (first->entry));
      use_skill (learner, ask, first, used);
      if (ask->ask->kind == PAWL_ASK_FIT)
        add_fit (learner, ask, first, step);
      else
        add_reading (learner, ask, first, step);
    }
}

/* ---- steps ---- */

/* What happened to a step that bears on who did it. */
typedef struct {
  const PawlEntry *done;         /* (nullable): finished for the first time */
  gboolean         is_reopened;  /* ever, after that */
  gboolean         is_released;  /* somebody looked, and let it go on */
  gboolean         is_again;     /* opened again before that release, and after somebody was called if anybody was */
  gboolean         is_called;
} StepStory;

static void
follow (StepStory *self, const PawlEntry *entry)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_STEP_DONE:
      self->done = self->done != NULL ? self->done : entry;
      break;
    case PAWL_ENTRY_REOPENED:
      self->is_reopened |= self->done != NULL;
      self->is_again |= self->done != NULL && !self->is_released;
      break;
    case PAWL_ENTRY_HOLD_CALLED:
      self->is_again &= self->is_called || self->is_released; /* what was put right before is nobody else's finding */
      self->is_called = TRUE;
      break;
    case PAWL_ENTRY_RELEASED:
      self->is_released |= self->done != NULL;
      break;
    default:
      break;
    }
}

static StepStory
read_story (PawlJob *job, const char *step)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  StepStory story = { 0 };

  for (guint i = 0; i < entries->len; i++)
    if (g_strcmp0 (pawl_entry_get_subject (entries->pdata[i]), step) == 0 && !pawl_job_is_undone (job, entries->pdata[i]))
      follow (&story, entries->pdata[i]);
  return story;
}

static void
note_last (PawlLearner *learner, GDateTime *at)
{
  if (learner->last != NULL && g_date_time_compare (at, learner->last) <= 0)
    return;
  g_clear_pointer (&learner->last, g_date_time_unref);
  learner->last = g_date_time_ref (at);
}

/* Jobs are counted one after another, so it is the newest line or none. */
static PawlClassJob *
get_line (PawlLearner *learner, const PawlClassSource *source)
{
  PawlClassJob *newest = learner->jobs->len > 0 ? learner->jobs->pdata[learner->jobs->len - 1] : NULL;

  return newest != NULL && g_str_equal (newest->job, source->id) ? newest : pawl_learner_add_job (learner, source);
}

static void
add_step (PawlClass *self, PawlJob *job, const PawlStepState *state, GHashTable *used)
{
  const PawlClassSource *source = self->desk->sources->pdata[self->desk->sources->len - 1];
  StepStory story = read_story (job, state->step->id);
  PawlClassStep *step;
  PawlLearner *learner;
  PawlClassJob *line;
  guint n_before;

  if (story.done == NULL)
    return;
  learner = pawl_class_get_learner (self, pawl_entry_get_person (story.done));
  count (&learner->steps, !story.is_reopened);
  if (story.is_released)
    count (&learner->holds, !story.is_again);
  line = get_line (learner, source);
  line->n_steps++;
  source->procedure->most_steps = MAX (source->procedure->most_steps, line->n_steps);
  note_last (learner, pawl_entry_peek_at ((PawlEntry *) story.done));
  step = pawl_class_get_step (self, source->procedure->id, state->step);
  n_before = step->n_wrong + step->n_out;
  add_asks (self, state, step, used);
  step->n_reopened += story.is_reopened ? 1 : 0;
  pawl_class_count_clean (self, step, learner, !story.is_reopened && step->n_wrong + step->n_out == n_before);
}

/* ---- the job ---- */

/* Whose guess it was says the entry, whoever finished the step. */
static void
add_guesses (PawlClass *self, PawlJob *job)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = entries->pdata[i];
      const PawlAskState *ask = pawl_entry_get_kind (entry) == PAWL_ENTRY_GUESSED ? pawl_job_lookup_ask (job, pawl_entry_get_subject (entry)) : NULL;
      gboolean is_right = g_strcmp0 (pawl_entry_get (entry, "choice"), "right") == 0;
      PawlLearner *learner;

      if (ask == NULL || ask->ask->kind != PAWL_ASK_FIT || pawl_job_is_undone (job, entry))
        continue;
      learner = pawl_class_get_learner (self, pawl_entry_get_person (entry));
      count (&learner->guesses, is_right);
      count (&learner->guesses_of[ask->ask->rule->kind], is_right);
    }
}

static void
add_planted (PawlClass *self, PawlJob *job)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (job);

  for (guint i = 0; i < seals->len; i++)
    {
      const PawlEntry *opened = g_array_index (seals, PawlSeal, i).opened;
      const char *name = opened != NULL ? pawl_entry_get (opened, "learner") : NULL, *said = opened != NULL ? pawl_entry_get (opened, "fault-kind") : NULL;
      gboolean is_caught = opened != NULL && g_strcmp0 (pawl_entry_get (opened, "found"), "yes") == 0;
      PawlLearner *learner;
      guint kind;

      if (name == NULL)
        continue;
      learner = pawl_class_get_learner (self, name);
      count (&learner->planted, is_caught);
      if (said != NULL && pawl_planted_kind_from_name (said, &kind))
        count (&learner->planted_of[kind], is_caught);
    }
}

void
pawl_class_count_job (PawlClass *self, PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  g_autoptr(GHashTable) used = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < steps->len; i++)
    add_step (self, job, steps->pdata[i], used);
  add_guesses (self, job);
  add_planted (self, job);
}
