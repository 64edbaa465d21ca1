#include "plan/pawl-waiting.h"

#include "plan/pawl-work-plan.h"

void
pawl_waiting_free (PawlWaiting *self)
{
  g_free (self->job);
  g_free (self->title);
  g_free (self->step);
  g_free (self->ask);
  g_free (self->name);
  g_date_time_unref (self->started);
  g_date_time_unref (self->earliest);
  g_clear_pointer (&self->latest, g_date_time_unref);
  g_free (self);
}

static PawlWaiting *
copy_wait (PawlJob *job, const PawlAskState *wait)
{
  PawlWaiting *self = g_new0 (PawlWaiting, 1);

  self->job = g_strdup (pawl_job_get_id (job));
  self->title = pawl_work_plan_make_title (job);
  self->step = g_strdup (wait->step->id);
  self->ask = g_strdup (wait->ask->id);
  self->name = g_strdup (wait->ask->name);
  self->started = g_date_time_ref (wait->started);
  self->earliest = g_date_time_ref (wait->earliest);
  self->latest = wait->latest != NULL ? g_date_time_ref (wait->latest) : NULL;
  return self;
}

GPtrArray *
pawl_waiting_list (PawlJob *job)
{
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_free);
  g_autoptr(GPtrArray) running = pawl_job_list_running (job);

  for (guint i = 0; i < running->len; i++)
    g_ptr_array_add (list, copy_wait (job, running->pdata[i]));
  return list;
}

/* (transfer full) (nullable): when @stage begins; NULL: this wait never comes to it. */
static GDateTime *
dup_beginning (const PawlWaiting *self, PawlWaitingStage stage)
{
  gint64 lead;

  switch (stage)
    {
    case PAWL_WAITING_RIPE:
      return g_date_time_ref (self->earliest);
    case PAWL_WAITING_CLOSING:
      if (self->latest == NULL)
        return NULL;
      lead = MIN (PAWL_WAITING_LEAD_SECONDS, g_date_time_difference (self->latest, self->earliest) / G_TIME_SPAN_SECOND / 2);
      return g_date_time_add_seconds (self->latest, -(double) lead);
    case PAWL_WAITING_LATE:
      return self->latest != NULL ? g_date_time_add (self->latest, 1) : NULL; /* at its maximum it is still in time */
    case PAWL_WAITING_EARLY:
    default:
      return g_date_time_ref (self->started);
    }
}

PawlWaitingStage
pawl_waiting_get_stage (const PawlWaiting *self, GDateTime *now)
{
  for (int stage = PAWL_WAITING_LATE; stage > PAWL_WAITING_EARLY; stage--)
    {
      g_autoptr(GDateTime) beginning = dup_beginning (self, (PawlWaitingStage) stage);

      if (beginning != NULL && g_date_time_compare (now, beginning) >= 0)
        return (PawlWaitingStage) stage;
    }
  return PAWL_WAITING_EARLY;
}

GDateTime *
pawl_waiting_dup_next (const PawlWaiting *self, GDateTime *now)
{
  for (int stage = PAWL_WAITING_RIPE; stage <= PAWL_WAITING_LATE; stage++)
    {
      GDateTime *beginning = dup_beginning (self, (PawlWaitingStage) stage);

      if (beginning != NULL && g_date_time_compare (now, beginning) < 0)
        return beginning;
      g_clear_pointer (&beginning, g_date_time_unref);
    }
  return NULL;
}
