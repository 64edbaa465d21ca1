/*
 * The order in which nodes were added, the author's, wherever it costs nothing: most days have many orders that end as soon, and the one to choose is
 * the one that keeps to a job and goes by the book.
 */
#include "plan/pawl-schedule-private.h"

/* Of a day with more nodes only the beginning is put in order: to try each step of it anew, with the whole rest behind it, takes too long. */
#define MAX_SMOOTHED 500
/* So many of what comes before in the author's order are tried in the place of what is next. */
#define MAX_TRIED 4

/* @plan: the whole day, as far as it is told the same as @day. TRUE: @node may come next, and @plan is a day that goes on so. */
static gboolean
try_next (PawlDay *plan, const PawlDay *day, guint node, gint64 now, gint64 makespan)
{
  g_auto(PawlDay) trial = { NULL };
  gint64 finish = pawl_task_find_finish (day->task, node, now + pawl_network_get_duration (day->task->network, node));

  pawl_day_copy (&trial, day);
  trial.finish[node] = finish;
  pawl_day_tell (&trial, node);
  if (pawl_day_list (&trial, pawl_rank_by_tail, finish, day->task->n) > makespan)
    return FALSE;
  pawl_day_clear (plan);
  *plan = trial;
  trial = (PawlDay) { NULL };
  return TRUE;
}

static void
choose_next (PawlDay *plan, const PawlDay *day, gint64 now, gint64 makespan)
{
  const PawlNetwork *network = day->task->network;
  guint planned = plan->sequence[day->n_told], n_tried = 0;
  gint64 limit = pawl_day_get_limit (day);

  for (guint node = 0; node < planned && n_tried < MAX_TRIED; node++)
    {
      if (pawl_network_is_wait (network, node) || !pawl_day_can_tell (day, node)
          || pawl_task_find_finish (day->task, node, now + pawl_network_get_duration (network, node)) > limit)
        continue;
      n_tried++;
      if (try_next (plan, day, node, now, makespan))
        return;
    }
}

/* The author's order for so many, then what has most behind it: the largest beginning that a bisection finds. */
static void
smooth_beginning (PawlSchedule *self, const PawlTask *task)
{
  guint good = 0, bad = task->n + 1;

  while (bad - good > 1)
    {
      guint middle = good + (bad - good) / 2;
      g_auto(PawlDay) day = { NULL };
      gint64 now;

      pawl_day_init (&day, task);
      now = pawl_day_list (&day, pawl_rank_by_order, 0, middle);
      if (pawl_day_list (&day, pawl_rank_by_tail, now, task->n) > self->makespan)
        {
          bad = middle;
          continue;
        }
      good = middle;
      pawl_schedule_take (self, &day);
    }
}

void
pawl_schedule_smooth (PawlSchedule *self, const PawlTask *task)
{
  g_auto(PawlDay) day = { NULL }, plan = { NULL };
  gint64 now = 0;

  if (task->n > MAX_SMOOTHED)
    {
      smooth_beginning (self, task);
      return;
    }
  pawl_day_init (&day, task);
  pawl_day_init (&plan, task);
  for (guint i = 0; i < task->n; i++)
    {
      plan.sequence[i] = self->order[i];
      plan.finish[i] = self->finish[i];
    }
  while (day.n_told < task->n)
    {
      guint node;

      if (!pawl_network_is_wait (task->network, plan.sequence[day.n_told]))
        choose_next (&plan, &day, now, self->makespan);
      node = plan.sequence[day.n_told];
      now = day.finish[node] = plan.finish[node];
      pawl_day_tell (&day, node);
    }
  pawl_schedule_take (self, &day);
}
