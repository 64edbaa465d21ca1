#include "training/pawl-waiting-holds.h"

#include <string.h>

#include "bench/pawl-job-loader.h"
#include "procedure/pawl-order.h"

void
pawl_waiting_hold_free (PawlWaitingHold *self)
{
  g_free (self->job);
  g_free (self->unit);
  g_free (self->serial);
  g_free (self->work_order);
  g_free (self->bench);
  g_free (self->step);
  g_free (self->number);
  g_free (self->command);
  g_free (self->by);
  g_date_time_unref (self->since);
  g_free (self->whom);
  g_free (self->note);
  g_free (self->hides);
  g_free (self->why);
  g_free (self);
}

GPtrArray *
pawl_waiting_holds_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_hold_free);
}

/* The steps that only this hold and others keep from being done. */
static gboolean
is_held_by (const PawlStepState *behind, const char *step)
{
  for (guint i = 0; i < behind->blockers->len; i++)
    {
      const PawlBlocker *blocker = behind->blockers->pdata[i];

      if (blocker->kind == PAWL_BLOCKED_BY_HOLD && g_str_equal (blocker->id, step))
        return TRUE;
    }
  return FALSE;
}

static void
describe_hidden (const PawlStepState *behind, const char *step, GString *hides)
{
  for (guint i = 0; i < behind->covered->len; i++)
    {
      const PawlAskState *covered = behind->covered->pdata[i];

      if (g_str_equal (covered->step->id, step) && strstr (hides->str, covered->ask->name) == NULL) /* a part's asks may share its name */
        g_string_append_printf (hides, "%s%s", hides->len > 0 ? "; " : "", covered->ask->name);
    }
}

/* (transfer full): what of this step is out of sight once the work goes on */
static char *
list_hidden (PawlJob *job, const char *step, guint *n_waiting)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  GString *hides = g_string_new (NULL);

  *n_waiting = 0;
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *behind = steps->pdata[i];

      *n_waiting += is_held_by (behind, step);
      if (behind->status != PAWL_STEP_DONE)
        describe_hidden (behind, step, hides);
    }
  return g_string_free (hides, FALSE);
}

static char *
describe_why (const PawlStepState *state)
{
  const char *reason = state->levelled != NULL ? pawl_entry_get (state->levelled, "reason") : NULL;

  if (reason != NULL)
    return g_strdup (reason);
  if (state->raised_by != NULL && state->step->hold_reason != NULL)
    return g_strdup_printf ("%s; raised for %s", state->step->hold_reason, state->raised_by);
  if (state->raised_by != NULL)
    return g_strdup_printf ("raised for %s", state->raised_by);
  return g_strdup (state->step->hold_reason != NULL ? state->step->hold_reason : "");
}

static PawlWaitingHold *
waiting_hold_new (PawlJob *job, const PawlStepState *state)
{
  PawlWaitingHold *self = g_new0 (PawlWaitingHold, 1);
  PawlEntry *from = state->called != NULL ? state->called : state->done;
  const char *note = state->called != NULL ? pawl_entry_get (state->called, "note") : NULL;
  const char *whom = state->called != NULL ? pawl_entry_get (state->called, "whom") : NULL;

  self->job = g_strdup (pawl_job_get_id (job));
  self->unit = g_strdup (pawl_job_get_field (job, "unit"));
  self->serial = g_strdup (pawl_job_get_field (job, "serial"));
  self->work_order = g_strdup (pawl_job_get_field (job, "work-order"));
  self->bench = g_strdup (pawl_job_get_field (job, "bench"));
  self->step = g_strdup (state->step->id);
  self->number = g_strdup (state->step->number);
  self->command = g_strdup (state->step->command);
  self->level = state->hold;
  self->by = g_strdup (pawl_entry_get_person (from));
  self->since = g_date_time_ref (pawl_entry_peek_at (from));
  self->is_called = state->called != NULL;
  self->whom = g_strdup (whom != NULL ? whom : "");
  self->note = g_strdup (note != NULL ? note : "");
  self->hides = list_hidden (job, state->step->id, &self->n_waiting);
  self->why = describe_why (state);
  return self;
}

/* Done and not looked at; or somebody was asked to come before it is done, as to a witness point. */
static gboolean
is_waiting (const PawlStepState *state)
{
  if (state->hold == PAWL_HOLD_NONE || state->release != NULL || state->waiver != NULL)
    return FALSE;
  return state->status == PAWL_STEP_DONE
         || (state->called != NULL && state->status != PAWL_STEP_SKIPPED && state->status != PAWL_STEP_NOT_APPLICABLE);
}

void
pawl_waiting_holds_add (GPtrArray *holds, PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  if (pawl_job_peek_signature (job) != NULL)
    return;
  for (guint i = 0; i < steps->len; i++)
    if (is_waiting (steps->pdata[i]))
      g_ptr_array_add (holds, waiting_hold_new (job, steps->pdata[i]));
}

static int
compare_holds (gconstpointer a, gconstpointer b)
{
  const PawlWaitingHold *first = *(PawlWaitingHold *const *) a, *second = *(PawlWaitingHold *const *) b;

  if (first->level != second->level)
    return first->level > second->level ? -1 : 1;
  if (first->is_called != second->is_called)
    return first->is_called ? -1 : 1;
  return g_date_time_compare (first->since, second->since);
}

void
pawl_waiting_holds_sort (GPtrArray *holds)
{
  g_ptr_array_sort (holds, compare_holds);
}

/* ---- readings ---- */

void
pawl_waiting_reading_free (PawlWaitingReading *self)
{
  g_free (self->job);
  g_free (self->unit);
  g_free (self->serial);
  g_free (self->bench);
  g_free (self->ask);
  g_free (self->name);
  g_free (self->step);
  g_free (self->number);
  g_free (self->by);
  g_date_time_unref (self->since);
  g_free (self->hidden_by);
  g_free (self);
}

GPtrArray *
pawl_waiting_readings_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_reading_free);
}

gboolean
pawl_reading_can_be_measured_again (const PawlAskState *ask)
{
  return ask->ask->kind == PAWL_ASK_READING && ask->ask->reading->derived == NULL && ask->again != NULL && ask->paired[0] == NULL
         && ask->status != PAWL_ASK_NOT_APPLICABLE;
}

/* (nullable): the newest that counts, when it is whole */
static const PawlAttempt *
peek_first (const PawlAskState *ask)
{
  const PawlAttempt *last = ask->n_current > 0 ? ask->attempts->pdata[ask->attempts->len - 1] : NULL;

  return last != NULL && last->is_whole && !last->is_void ? last : NULL;
}

static void
add_reading (GPtrArray *readings, PawlJob *job, const PawlAskState *ask, const PawlAttempt *first)
{
  const PawlStep *cover = pawl_order_find_cover (pawl_job_get_procedure (job), ask->ask->id);
  const PawlStepState *cover_state = cover != NULL ? pawl_job_lookup_step (job, cover->id) : NULL;
  PawlWaitingReading *self = g_new0 (PawlWaitingReading, 1);

  self->job = g_strdup (pawl_job_get_id (job));
  self->unit = g_strdup (pawl_job_get_field (job, "unit"));
  self->serial = g_strdup (pawl_job_get_field (job, "serial"));
  self->bench = g_strdup (pawl_job_get_field (job, "bench"));
  self->ask = g_strdup (ask->ask->id);
  self->name = g_strdup (ask->ask->name);
  self->step = g_strdup (ask->step->id);
  self->number = g_strdup (ask->step->number);
  self->by = g_strdup (pawl_entry_get_person (first->entry));
  self->since = g_date_time_ref (pawl_entry_peek_at (first->entry));
  self->hidden_by = g_strdup (cover_state != NULL && cover_state->status == PAWL_STEP_DONE ? cover->number : "");
  g_ptr_array_add (readings, self);
}

void
pawl_waiting_readings_add (GPtrArray *readings, PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  if (pawl_job_peek_signature (job) != NULL)
    return;
  for (guint i = 0; i < steps->len; i++)
    {
      GPtrArray *asks = ((PawlStepState *) steps->pdata[i])->asks;

      for (guint j = 0; j < asks->len; j++)
        {
          const PawlAskState *ask = asks->pdata[j];
          const PawlAttempt *first = pawl_reading_can_be_measured_again (ask) && pawl_job_is_blind (job, ask) ? peek_first (ask) : NULL;

          if (first != NULL)
            add_reading (readings, job, ask, first);
        }
    }
}

static int
compare_readings (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare ((*(PawlWaitingReading *const *) a)->since, (*(PawlWaitingReading *const *) b)->since);
}

/* ---- all jobs ---- */

gboolean
pawl_waiting_load (PawlRecord *record, GPtrArray *holds, GPtrArray *readings, GError **error)
{
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error);
  g_autoptr(PawlJobLoader) loader = pawl_job_loader_new (record);

  if (lines == NULL)
    return FALSE;
  for (guint i = 0; i < lines->len; i++)
    {
      const PawlJobLine *line = lines->pdata[i];
      g_autoptr(PawlJob) job = NULL;

      if (line->is_signed)
        continue;
      if (!(job = pawl_job_loader_fold (loader, line->id, error)))
        return FALSE;
      if (holds != NULL)
        pawl_waiting_holds_add (holds, job);
      if (readings != NULL)
        pawl_waiting_readings_add (readings, job);
    }
  if (holds != NULL)
    pawl_waiting_holds_sort (holds);
  if (readings != NULL)
    g_ptr_array_sort (readings, compare_readings);
  return TRUE;
}

GPtrArray *
pawl_waiting_holds_load (PawlRecord *record, GError **error)
{
  g_autoptr(GPtrArray) holds = pawl_waiting_holds_new ();

  return pawl_waiting_load (record, holds, NULL, error) ? g_steal_pointer (&holds) : NULL;
}
