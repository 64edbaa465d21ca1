/* The plan: made, worked out from its network, and its times. */
#include "plan/pawl-work-plan-private.h"

G_DEFINE_QUARK (pawl-work-plan-error-quark, pawl_work_plan_error)

static void
job_free (PawlWorkPlanJob *job)
{
  g_object_unref (job->job);
  g_free (job->title);
  g_ptr_array_unref (job->lanes);
  g_ptr_array_unref (job->over);
  g_free (job);
}

PawlWorkPlan *
pawl_work_plan_new (GDateTime *start)
{
  PawlWorkPlan *self = g_new0 (PawlWorkPlan, 1);

  self->start = g_date_time_ref (start);
  self->jobs = g_ptr_array_new_with_free_func ((GDestroyNotify) job_free);
  self->items = g_ptr_array_new_with_free_func (g_free);
  self->network = pawl_network_new ();
  self->places = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->resources = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

void
pawl_work_plan_free (PawlWorkPlan *self)
{
  g_date_time_unref (self->start);
  g_ptr_array_unref (self->jobs);
  g_ptr_array_unref (self->items);
  pawl_network_free (self->network);
  g_hash_table_unref (self->places);
  g_hash_table_unref (self->resources);
  g_clear_pointer (&self->schedule, pawl_schedule_free);
  g_clear_pointer (&self->path, pawl_critical_path_free);
  g_free (self);
}

void
pawl_work_plan_set_places (PawlWorkPlan *self, const char *name, guint places)
{
  g_hash_table_insert (self->places, g_strdup (name), GUINT_TO_POINTER (places));
}

/* @hours go by the week, the network by the beginning of the plan. */
void
pawl_work_plan_take_hours (PawlWorkPlan *self, PawlTimes *hours)
{
  g_autoptr(PawlTimes) weekly = hours;
  gint64 start = ((g_date_time_get_day_of_week (self->start) - 1) * 24 + g_date_time_get_hour (self->start)) * 3600
                 + g_date_time_get_minute (self->start) * 60 + g_date_time_get_second (self->start);

  pawl_network_take_hours (self->network, weekly != NULL ? pawl_times_shift (weekly, -start) : NULL);
}

gboolean
pawl_work_plan_find_hours (const PawlWorkPlan *self, gint64 seconds, gint64 *from, gint64 *until)
{
  const PawlTimes *hours = pawl_network_peek_hours (self->network);

  return hours != NULL && pawl_times_find_interval (hours, seconds, from, until);
}

/* ---- from the schedule to a plan ---- */

static void
fill_wait (PawlWorkPlan *self, PawlWorkPlanItem *item, guint node)
{
  gint64 max = pawl_network_get_max (self->network, node);

  item->min_finish = item->start + pawl_network_get_duration (self->network, node);
  if (max != PAWL_NETWORK_NO_MAX)
    {
      item->max_finish = item->start + max;
      item->is_tight = !item->is_overdue && item->max_finish - item->finish < PAWL_WORK_PLAN_TIGHT_SECONDS;
    }
  if (item->is_running)
    item->start = pawl_work_plan_get_seconds (self, item->wait->started);
  if (item->is_overdue)
    item->max_finish = pawl_work_plan_get_seconds (self, item->wait->latest);
}

/* When somebody else has to have looked at it. */
static void
fill_release (PawlWorkPlan *self, PawlWorkPlanItem *item, guint node)
{
  const GArray *followers = pawl_network_peek_followers (self->network, node);

  if (item->wait != NULL || item->state->hold != PAWL_HOLD_HOLD)
    return;
  for (guint i = 0; i < followers->len; i++)
    {
      gint64 start = self->schedule->start[g_array_index (followers, guint, i)];

      if (item->release_by < 0 || start < item->release_by)
        item->release_by = start;
    }
}

/* A tool that some wait takes is not to be had for work in that time. */
static void
use_tools (PawlWorkPlan *self)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      const PawlWorkPlanItem *item = self->items->pdata[i];
      gpointer resource;

      for (char **tool = item->state->step->tools; item->wait == NULL && *tool != NULL; tool++)
        if ((resource = g_hash_table_lookup (self->resources, *tool)) != NULL)
          pawl_network_add_use (self->network, i, GPOINTER_TO_UINT (resource) - 1);
    }
}

void
pawl_work_plan_work_out (PawlWorkPlan *self, guint64 effort)
{
  g_return_if_fail (self->schedule == NULL);

  use_tools (self);
  self->schedule = pawl_schedule_new (self->network, effort);
  self->path = pawl_critical_path_new (self->network);
  for (guint i = 0; i < self->items->len; i++)
    {
      PawlWorkPlanItem *item = self->items->pdata[i];

      item->start = self->schedule->start[i];
      item->finish = self->schedule->finish[i];
      item->earliest = self->path->earliest[i];
      item->latest = self->path->latest[i];
      item->total_float = self->path->total_float[i];
      item->free_float = self->path->free_float[i];
      item->is_outside = self->schedule->is_outside[i];
      if (item->wait != NULL)
        fill_wait (self, item, i);
      fill_release (self, item, i);
    }
}

/* ---- what it has ---- */

gint64
pawl_work_plan_get_seconds (const PawlWorkPlan *self, GDateTime *at)
{
  return g_date_time_difference (at, self->start) / G_TIME_SPAN_SECOND;
}

GDateTime *
pawl_work_plan_peek_start (const PawlWorkPlan *self)
{
  return self->start;
}

GDateTime *
pawl_work_plan_get_time (const PawlWorkPlan *self, gint64 seconds)
{
  return g_date_time_add_seconds (self->start, (double) seconds);
}

/* Days from @self's beginning to @time, by the calendar. */
static int
count_days (const PawlWorkPlan *self, GDateTime *time)
{
  GDate from, to;

  g_date_set_dmy (&from, (GDateDay) g_date_time_get_day_of_month (self->start), (GDateMonth) g_date_time_get_month (self->start), (GDateYear) g_date_time_get_year (self->start));
  g_date_set_dmy (&to, (GDateDay) g_date_time_get_day_of_month (time), (GDateMonth) g_date_time_get_month (time), (GDateYear) g_date_time_get_year (time));
  return g_date_days_between (&from, &to);
}

char *
pawl_work_plan_format_time (const PawlWorkPlan *self, gint64 seconds)
{
  g_autoptr(GDateTime) time = pawl_work_plan_get_time (self, seconds);
  static const char *const days[] = { "", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun" };
  g_autofree char *clock = g_date_time_format (time, "%H:%M");
  int n_days = count_days (self, time);

  if (n_days == 0)
    return g_steal_pointer (&clock);
  if (ABS (n_days) < 7) /* farther off a day of the week could be two */
    return g_strdup_printf ("%s %s", days[g_date_time_get_day_of_week (time)], clock);
  return g_date_time_format (time, "%F %H:%M");
}

const GPtrArray *
pawl_work_plan_get_jobs (const PawlWorkPlan *self)
{
  return self->jobs;
}

const GPtrArray *
pawl_work_plan_get_items (const PawlWorkPlan *self)
{
  return self->items;
}

const PawlNetwork *
pawl_work_plan_get_network (const PawlWorkPlan *self)
{
  return self->network;
}

const PawlSchedule *
pawl_work_plan_get_schedule (const PawlWorkPlan *self)
{
  return self->schedule;
}

gint64
pawl_work_plan_get_path_seconds (const PawlWorkPlan *self)
{
  return self->path->duration;
}

gint64
pawl_work_plan_get_hands_seconds (const PawlWorkPlan *self)
{
  gint64 sum = 0;

  for (guint i = 0; i < self->items->len; i++)
    if (!pawl_network_is_wait (self->network, i))
      sum += pawl_network_get_duration (self->network, i);
  return sum;
}
