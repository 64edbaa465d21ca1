/* A plan as JSON: each item with its times and floats. */
#include "cli/pawl-cli.h"
#include "cli/pawl-plan-print.h"

static void
add_seconds (const PawlWorkPlan *plan, JsonBuilder *builder, const char *member, gint64 seconds)
{
  g_autoptr (GDateTime) time = pawl_work_plan_get_time (plan, seconds);

  pawl_cli_add_time (builder, member, time);
}

static void
add_flag (JsonBuilder *builder, const char *member, gboolean value)
{
  json_builder_set_member_name (builder, member);
  json_builder_add_boolean_value (builder, value);
}

/* Of a wait; of hands nothing is too early, too late or outside their hours. */
static void
add_wait_times (const PawlWorkPlan *plan, JsonBuilder *builder, const PawlWorkPlanItem *item)
{
  if (item->wait)
    add_seconds (plan, builder, "earliest", item->min_finish);
  else
    pawl_cli_add_time (builder, "earliest", NULL);
  if (item->wait && item->max_finish != PAWL_NETWORK_NO_MAX)
    add_seconds (plan, builder, "latest", item->max_finish);
  else
    pawl_cli_add_time (builder, "latest", NULL);
  add_flag (builder, "tight", item->wait && item->is_tight);
  add_flag (builder, "outside-hours", item->wait && item->is_outside);
  add_flag (builder, "overdue", item->wait && item->is_overdue);
}

static void
add_item (const PawlWorkPlan *plan, JsonBuilder *builder, const PawlWorkPlanItem *item)
{
  const PawlWorkPlanJob *job = g_ptr_array_index (pawl_work_plan_get_jobs (plan), item->job);
  g_autofree char *blocked = pawl_work_plan_item_describe_blocked (item);

  json_builder_begin_object (builder);
  pawl_cli_add_int (builder, "index", item->job); /* in "jobs": those of files have no id */
  pawl_cli_add_string (builder, "step", item->state->step->id);
  pawl_cli_add_string (builder, "wait", item->wait ? item->wait->ask->id : NULL);
  pawl_cli_add_string (builder, "lane", g_ptr_array_index (job->lanes, item->lane));
  add_seconds (plan, builder, "start", item->start);
  add_seconds (plan, builder, "finish", item->finish);
  pawl_cli_add_int (builder, "total-float-seconds", item->total_float);
  pawl_cli_add_int (builder, "free-float-seconds", item->free_float);
  add_flag (builder, "critical", item->total_float == 0);
  add_flag (builder, "now", pawl_work_plan_item_is_open (item));
  pawl_cli_add_string (builder, "blocked-by", blocked);
  add_wait_times (plan, builder, item);
  json_builder_end_object (builder);
}

void
pawl_plan_print_json (const PawlWorkPlan *plan)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (GPtrArray) order = pawl_work_plan_list_order (plan);
  const PawlSchedule *schedule = pawl_work_plan_get_schedule (plan);
  const GPtrArray *jobs = pawl_work_plan_get_jobs (plan);

  json_builder_begin_object (builder);
  add_seconds (plan, builder, "start", 0);
  add_seconds (plan, builder, "end", schedule->makespan);
  pawl_cli_add_int (builder, "length-seconds", schedule->makespan);
  pawl_cli_add_int (builder, "bound-seconds", schedule->bound);
  pawl_cli_add_int (builder, "critical-path-seconds", pawl_work_plan_get_path_seconds (plan));
  pawl_cli_add_int (builder, "work-seconds", pawl_work_plan_get_hands_seconds (plan));
  add_flag (builder, "least", schedule->is_least);
  json_builder_set_member_name (builder, "jobs");
  json_builder_begin_array (builder);
  for (guint i = 0; i < jobs->len; i++)
    {
      const PawlWorkPlanJob *job = g_ptr_array_index (jobs, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "job", *pawl_job_get_id (job->job) ? pawl_job_get_id (job->job) : NULL);
      pawl_cli_add_string (builder, "title", job->title);
      pawl_cli_add_int (builder, "steps-total", job->n_steps);
      pawl_cli_add_int (builder, "steps-done", job->n_done);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "order");
  json_builder_begin_array (builder);
  for (guint i = 0; i < order->len; i++)
    add_item (plan, builder, g_ptr_array_index (order, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}
