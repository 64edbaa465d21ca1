/*
 * What doing something again lays open. From the step that is done again the causes spread breadth first, so that each step is reached
 * by a shortest chain, and by no other:
 *
 *   covers     what hides it comes off and goes on again
 *   disturbed  what was done to its parts afterwards, or asked about them where it had seated them
 *   coupled    what a corrected reading names; there only the reading is taken again, so no part moves, and only what hides that reading follows
 */
#include "job/pawl-job-private.h"
#include "procedure/pawl-order.h"
#include "procedure/pawl-variant.h"

typedef struct {
  PawlJob    *job;
  GPtrArray  *queue;  /* (element-type PawlStepState): laid open, in the order reached */
  GHashTable *taken;  /* (element-type PawlStepState): of these the parts move */
  GHashTable *asked;  /* PawlStepState → PawlAskState: of these one ask is answered again; each stands in @queue too */
} Spread;

void
pawl_ask_state_reset (PawlAskState *ask)
{
  ask->n_current = 0;
  ask->deviation = ask->photo = ask->no_photo = NULL;
  g_clear_pointer (&ask->started, g_date_time_unref);
  g_clear_pointer (&ask->ended, g_date_time_unref);
}

void
pawl_step_state_clear_redo (PawlStepState *state)
{
  g_clear_pointer (&state->redo_reason, g_free);
  state->redo = (PawlRedoCause) { PAWL_REDO_NONE, NULL, NULL, NULL, NULL };
}

static void
mark_redo (PawlJob *job, PawlStepState *state, PawlRedoCause cause, const char *reason)
{
  if (job->folding != NULL)
    {
      PawlReopening *reopening = g_new (PawlReopening, 1);

      *reopening = (PawlReopening) { job->folding, state->step, cause };
      g_ptr_array_add (job->reopenings, reopening);
    }
  g_free (state->redo_reason);
  state->redo_reason = g_strdup (reason);
  state->redo = cause;
}

static Spread
spread_new (PawlJob *job)
{
  return (Spread) { job, g_ptr_array_new (), g_hash_table_new (NULL, NULL), g_hash_table_new (NULL, NULL) };
}

static void
spread_clear (Spread *self)
{
  g_ptr_array_unref (self->queue);
  g_hash_table_unref (self->taken);
  g_hash_table_unref (self->asked);
}

/* The whole step is to be done again, all that it asks too. */
static void
take (Spread *self, PawlStepState *state, PawlRedoCause cause, const char *reason)
{
  if (!g_hash_table_add (self->taken, state))
    return;
  state->done = state->deviation = state->release = state->waiver = state->called = NULL;
  if (!g_hash_table_contains (self->asked, state))
    mark_redo (self->job, state, cause, reason);
  for (guint i = 0; i < state->asks->len; i++)
    pawl_ask_state_reset (state->asks->pdata[i]);
  g_ptr_array_add (self->queue, state);
}

/* Finished, or finished until this correction: what was open already stays as open as it was. */
static gboolean
is_finished (Spread *self, const PawlStepState *state)
{
  return state->done != NULL || g_hash_table_contains (self->asked, state);
}

/* @ask: (nullable): only this ask of @step is answered again; else its parts move as well. */
static gboolean
covers (const PawlStepState *cover, const PawlStep *step, const PawlAskState *ask)
{
  for (guint i = 0; i < cover->covered->len; i++)
    {
      const PawlAskState *covered = cover->covered->pdata[i];

      if (ask != NULL ? covered == ask : covered->step == step)
        return TRUE;
    }
  for (guint i = 0; ask == NULL && step->installs[i] != NULL; i++)
    if (g_strv_contains ((const char * const *) cover->step->covers, step->installs[i]))
      return TRUE;
  return FALSE;
}

static void
take_covering (Spread *self, const PawlStepState *state, const PawlAskState *ask)
{
  PawlRedoCause cause = { PAWL_REDO_COVERS, state->step, NULL, NULL, NULL };
  g_autofree char *reason = g_strdup_printf ("it covers step %s, which is done again", state->step->number);

  for (guint i = 0; i < self->job->steps->len; i++)
    {
      PawlStepState *other = self->job->steps->pdata[i];

      if (other != state && is_finished (self, other) && covers (other, state->step, ask))
        take (self, other, cause, reason);
    }
}

static void
take_disturbed (Spread *self, const PawlStepState *state)
{
  g_autoptr(GPtrArray) disturbed = pawl_order_list_disturbed (self->job->procedure, state->step);

  for (guint i = 0; i < disturbed->len; i++)
    {
      const PawlDisturbed *one = disturbed->pdata[i];
      PawlStepState *other = g_hash_table_lookup (self->job->step_by_id, one->step->id);
      PawlRedoCause cause = { PAWL_REDO_DISTURBED, state->step, one->part, NULL, NULL };
      g_autofree char *reason = g_strdup_printf ("step %s is done again, and moves “%s”", state->step->number, one->part->name);

      if (is_finished (self, other))
        take (self, other, cause, reason);
    }
}

static void
spread (Spread *self)
{
  for (guint i = 0; i < self->queue->len; i++)
    {
      const PawlStepState *state = self->queue->pdata[i];
      const PawlAskState *ask = g_hash_table_contains (self->taken, state) ? NULL : g_hash_table_lookup (self->asked, state);

      take_covering (self, state, ask);
      if (ask == NULL)
        take_disturbed (self, state);
    }
}

void
pawl_job_reopen_step (PawlJob *self, PawlStepState *state, const char *reason)
{
  Spread way = spread_new (self);

  take (&way, state, (PawlRedoCause) { PAWL_REDO_ASKED, NULL, NULL, NULL, NULL }, reason);
  spread (&way);
  spread_clear (&way);
}

static gboolean
changes (PawlJob *self, const char *of, const char *variant)
{
  return pawl_variant_matches (of, self->variant) != pawl_variant_matches (of, variant);
}

/* Measured already, and the other variant has limits that it is not in. What is in them as well need not be measured again. */
static gboolean
is_out_for (PawlJob *self, const PawlAskState *state, const char *variant)
{
  const PawlReading *reading = state->ask->reading;
  PawlAttempt *last = state->n_current > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  char *taken = self->variant;
  gboolean is_judged;

  if (reading->by_variant->len == 0 || reading->is_as_found || last == NULL)
    return FALSE;
  self->variant = (char *) variant;
  is_judged = pawl_reading_judge_again (self, state, last, NULL); /* as it stays: the fold ends by judging so once more */
  self->variant = taken;
  return !is_judged || last->verdict.kind != PAWL_VERDICT_IN;
}

/* It asks something else of the other variant: more than was answered, or what was answered no longer counts. */
static gboolean
asks_otherwise (PawlJob *self, const PawlStepState *step, const char *variant)
{
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAskState *state = step->asks->pdata[i];

      if (!pawl_variant_matches (state->ask->variant, self->variant) && pawl_variant_matches (state->ask->variant, variant))
        return TRUE;
      if (state->ask->kind == PAWL_ASK_READING && is_out_for (self, state, variant))
        return TRUE;
    }
  return FALSE;
}

/*
 * A finished step that asks for more of the other variant is done again. A step that only the one or only the other variant has is none
 * of the list, but what hides it, and what stands on its parts, has to make way for it.
 */
void
pawl_job_reopen_for_variant (PawlJob *self, const char *variant)
{
  Spread way = spread_new (self);
  PawlRedoCause cause = { PAWL_REDO_VARIANT, NULL, NULL, NULL, NULL };

  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStepState *state = self->steps->pdata[i];

      if (changes (self, state->step->variant, variant))
        {
          g_hash_table_add (way.taken, state);
          g_ptr_array_add (way.queue, state);
        }
      else if (state->done != NULL && asks_otherwise (self, state, variant))
        take (&way, state, cause, "the unit is another variant than was taken");
    }
  spread (&way);
  spread_clear (&way);
}

static char **
peek_reopens (const PawlAsk *ask)
{
  if (ask->kind == PAWL_ASK_READING)
    return ask->reading->reopens;
  return ask->kind == PAWL_ASK_CHECK ? ask->check->reopens : NULL;
}

/* One ask of a finished step is to be answered again. */
static void
ask_again (Spread *self, PawlAskState *coupled, const PawlAskState *corrected)
{
  PawlStepState *state = g_hash_table_lookup (self->job->step_by_id, coupled->step->id);
  PawlRedoCause cause = { PAWL_REDO_COUPLED, corrected->step, NULL, corrected->ask, coupled->ask };
  g_autofree char *reason = g_strdup_printf ("“%s” was corrected since, and changes “%s”", corrected->ask->name, coupled->ask->name);

  pawl_ask_state_reset (coupled);
  if (!is_finished (self, state))
    return;
  if (g_hash_table_contains (self->asked, state))
    {
      take_covering (self, state, coupled); /* the second coupled ask of one step */
      return;
    }
  state->done = NULL;
  mark_redo (self->job, state, cause, reason);
  g_hash_table_insert (self->asked, state, coupled);
  g_ptr_array_add (self->queue, state);
}

void
pawl_job_reopen_coupled (PawlJob *self, PawlAskState *corrected)
{
  char **reopens = peek_reopens (corrected->ask);
  Spread way = spread_new (self);

  for (guint i = 0; reopens != NULL && reopens[i] != NULL; i++)
    {
      PawlAskState *coupled = g_hash_table_lookup (self->ask_by_id, reopens[i]);

      if (coupled != NULL && coupled->n_current > 0)
        ask_again (&way, coupled, corrected);
    }
  spread (&way);
  spread_clear (&way);
}

char *
pawl_redo_cause_describe (const PawlRedoCause *cause)
{
  switch (cause->kind)
    {
    case PAWL_REDO_COVERS:
      return g_strdup_printf ("covers step %s", cause->step->number);
    case PAWL_REDO_DISTURBED:
      return g_strdup_printf ("disturbed: step %s moves “%s”", cause->step->number, cause->part->name);
    case PAWL_REDO_COUPLED:
      return g_strdup_printf ("coupled: “%s” of step %s changes “%s”", cause->corrected->name, cause->step->number, cause->coupled->name);
    case PAWL_REDO_VARIANT:
      return g_strdup ("asks otherwise of this variant");
    case PAWL_REDO_ASKED:
      return g_strdup ("is done again");
    case PAWL_REDO_NONE:
    default:
      return g_strdup ("is taken back");
    }
}
