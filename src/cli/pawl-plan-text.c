/* A plan as lines: who does what when, what can be done now, what waits, what is tight, and the longest chain. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-plan-print.h"
#include "report/pawl-words.h"

static const char *
get_title (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  return ((const PawlWorkPlanJob *) g_ptr_array_index (pawl_work_plan_get_jobs (plan), item->job))->title;
}

/* (transfer full): "35 h 12 min": a day of work is not 24 h */
static char *
dup_hours (gint64 seconds)
{
  if (seconds < 3600)
    return pawl_words_duration (seconds);
  return g_strdup_printf ("%" G_GINT64_FORMAT " h %" G_GINT64_FORMAT " min", seconds / 3600, seconds % 3600 / 60);
}

/* (transfer full): "08:00–08:10", "Thu 08:00–08:10", as wide as the widest of them is */
static char *
dup_span (const PawlWorkPlan *plan, gint64 from, gint64 to)
{
  g_autofree char *first = pawl_work_plan_format_time (plan, from), *second = pawl_work_plan_format_time (plan, to);
  const char *day = strchr (first, ' '), *clock = strchr (second, ' ');
  gboolean is_same_day = day && clock && strncmp (first, second, (gsize) (day - first)) == 0;
  g_autofree char *span = g_strdup_printf ("%s–%s", first, is_same_day ? clock + 1 : second);

  return g_strdup_printf ("%s%*s", span, (int) MAX (0, 15 - g_utf8_strlen (span, -1)), "");
}

/* Which job it is of, where there are several. */
static void
print_job (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  if (pawl_work_plan_get_jobs (plan)->len > 1)
    printf ("  [%s]", get_title (plan, item));
}

static void
print_head (const PawlWorkPlan *plan)
{
  const PawlSchedule *schedule = pawl_work_plan_get_schedule (plan);
  g_autofree char *work = dup_hours (pawl_work_plan_get_hands_seconds (plan)), *path = dup_hours (pawl_work_plan_get_path_seconds (plan));
  g_autoptr (GDateTime) end_at = pawl_work_plan_get_time (plan, schedule->makespan);
  g_autofree char *start = pawl_cli_format_time (pawl_work_plan_peek_start (plan)), *end = pawl_cli_format_time (end_at);
  const GPtrArray *jobs = pawl_work_plan_get_jobs (plan);

  for (guint i = 0; i < jobs->len; i++)
    {
      const PawlWorkPlanJob *job = g_ptr_array_index (jobs, i);

      printf ("%s: %u of %u steps done\n", job->title, job->n_done, job->n_steps);
    }
  printf ("%s of work for the hands; the longest chain takes %s.\n", work, path);
  printf ("From %s to %s by one pair of hands: ", start, end);
  if (schedule->is_least)
    printf ("no order ends sooner.\n");
  else
    printf ("at most %.3f times the least, which is not proven.\n", (double) schedule->makespan / (double) MAX (schedule->bound, 1));
}

static void
print_critical (const PawlWorkPlan *plan)
{
  g_autoptr (GPtrArray) path = pawl_work_plan_list_critical (plan);

  puts ("\nCritical path: what is late here is late at the end, however many hands there are");
  for (guint i = 0; i < path->len; i++)
    {
      const PawlWorkPlanItem *item = g_ptr_array_index (path, i);
      g_autofree char *what = pawl_work_plan_item_describe (item);
      g_autofree char *duration = pawl_words_duration (pawl_network_get_duration (pawl_work_plan_get_network (plan), item->node));

      printf ("  %s%s, %s", item->wait ? "wait: " : "", what, duration);
      print_job (plan, item);
      printf ("\n");
    }
}

static void
print_now (const PawlWorkPlan *plan)
{
  g_autoptr (GPtrArray) now = pawl_work_plan_list_now (plan);

  puts ("\nCan be done now, what to start with first");
  for (guint i = 0; i < now->len; i++)
    {
      const PawlWorkPlanItem *item = g_ptr_array_index (now, i);
      g_autofree char *what = pawl_work_plan_item_describe (item), *spare = dup_hours (item->total_float);

      printf ("  %s%s", item->wait ? "end: " : "", what);
      if (!item->wait && item->total_float > 0)
        printf (", has %s to spare", spare);
      print_job (plan, item);
      printf ("\n");
    }
  if (now->len == 0)
    puts ("  nothing");
}

static void
print_wait_end (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *what = pawl_work_plan_item_describe (item), *finish = pawl_work_plan_format_time (plan, item->finish);
  g_autofree char *from = pawl_work_plan_format_time (plan, item->min_finish), *by = pawl_work_plan_format_time (plan, item->max_finish);

  printf ("  %-15s  end of the wait: %s (from %s", finish, what, from);
  if (item->max_finish != PAWL_NETWORK_NO_MAX)
    printf (", by %s at the latest", by);
  printf (")");
}

static void
print_work (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *span = dup_span (plan, item->start, item->finish), *what = pawl_work_plan_item_describe (item);

  printf ("  %s  %s", span, what);
}

/* Of idle time it is told whether hands are there at all. */
static void
print_idle (const PawlWorkPlan *plan, gint64 from, gint64 until)
{
  while (from < until)
    {
      gint64 open = from, close = until, end;
      gboolean is_closed = pawl_work_plan_find_hours (plan, from, &open, &close) && open > from;
      g_autofree char *span = NULL;

      end = MIN (is_closed ? open : close, until);
      span = dup_span (plan, from, end);
      printf ("  %s  %s\n", span, is_closed ? "closed" : "nothing for the hands to do");
      from = end;
    }
}

static void
print_order (const PawlWorkPlan *plan)
{
  g_autoptr (GPtrArray) order = pawl_work_plan_list_order (plan);
  gint64 free_since = 0;

  puts ("\nOrder of the day");
  for (guint i = 0; i < order->len; i++)
    {
      const PawlWorkPlanItem *item = g_ptr_array_index (order, i);
      gint64 begin = item->wait ? item->finish : item->start;

      if (begin > free_since)
        print_idle (plan, free_since, begin);
      free_since = MAX (free_since, item->finish);
      if (item->wait)
        print_wait_end (plan, item);
      else
        print_work (plan, item);
      print_job (plan, item);
      printf ("\n");
    }
}

static void
print_waits (const PawlWorkPlan *plan)
{
  const GPtrArray *items = pawl_work_plan_get_items (plan);
  gboolean is_first = TRUE;

  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = g_ptr_array_index (items, i);
      g_autofree char *what = NULL, *span = NULL;

      if (!item->wait)
        continue;
      if (is_first)
        puts ("\nWaits that run meanwhile");
      is_first = FALSE;
      what = pawl_work_plan_item_describe (item);
      span = dup_span (plan, item->start, item->finish);
      printf ("  %s  %s%s%s", span, what, *item->wait->ask->wait->agent ? ", in: " : "", item->wait->ask->wait->agent);
      print_job (plan, item);
      printf ("\n");
    }
}

/* What has to be known beforehand: maxima that are lost or near, holds that somebody else releases. */
static void
print_warnings (const PawlWorkPlan *plan)
{
  const GPtrArray *items = pawl_work_plan_get_items (plan);
  gboolean is_first = TRUE;

  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = g_ptr_array_index (items, i);
      g_autofree char *what = pawl_work_plan_item_describe (item), *max = pawl_work_plan_format_time (plan, item->max_finish);
      g_autofree char *release = pawl_work_plan_format_time (plan, item->release_by);

      if (!item->is_overdue && !item->is_outside && !item->is_tight && item->release_by < 0)
        continue;
      if (is_first)
        puts ("\nToo tight, or up to somebody else");
      is_first = FALSE;
      if (item->is_overdue)
        printf ("  %s: cannot be kept, it should have been out by %s", what, max);
      else if (item->is_outside)
        printf ("  %s: %s outside the working hours, %s", what, item->wait ? "somebody has to come and end it" : "it goes on",
                item->wait ? "which its minimum and maximum leave no room in" : "because it is longer than any day");
      else if (item->is_tight)
        printf ("  %s: has to be out by %s, and the plan has it out less than %d min before", what, max, PAWL_WORK_PLAN_TIGHT_SECONDS / 60);
      else
        printf ("  the hold of step %s: to be released by %s", what, release);
      print_job (plan, item);
      printf ("\n");
    }
}

void
pawl_plan_print_text (const PawlWorkPlan *plan)
{
  print_head (plan);
  if (pawl_work_plan_get_items (plan)->len == 0)
    {
      puts ("Nothing is left to do.");
      return;
    }
  print_now (plan);
  print_order (plan);
  print_waits (plan);
  print_warnings (plan);
  print_critical (plan);
}
