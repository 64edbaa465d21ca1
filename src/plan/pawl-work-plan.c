/* From jobs to a network, and from its schedule to a plan. */
#include "plan/pawl-work-plan.h"

#include "procedure/pawl-order.h"

struct _PawlWorkPlan {
  GDateTime        *start;
  GPtrArray        *jobs;      /* (element-type PawlWorkPlanJob) */
  GPtrArray        *items;     /* (element-type PawlWorkPlanItem) */
  PawlNetwork      *network;
  GHashTable       *places;    /* name → number of places, as set */
  GHashTable       *resources; /* name → index of the resource + 1 */
  PawlSchedule     *schedule;  /* (nullable) until it is worked out */
  PawlCriticalPath *path;      /* (nullable) likewise */
};

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

/* ---- from a job to nodes ---- */

/* A job while it is added. */
typedef struct {
  PawlWorkPlan    *plan;
  PawlWorkPlanJob *job;
  GHashTable  *nodes; /* PawlStep → GArray of its nodes; none for a step that is over */
} Adding;

static gboolean
is_over (const PawlStepState *state)
{
  return state->status == PAWL_STEP_DONE || state->status == PAWL_STEP_SKIPPED || state->status == PAWL_STEP_NOT_APPLICABLE;
}

/* Whether it is still to be waited for: an optional wait that nobody has started is not. */
static gboolean
is_wait_left (const PawlAskState *ask)
{
  if (ask->ask->kind != PAWL_ASK_WAIT || ask->status == PAWL_ASK_NOT_APPLICABLE || ask->status == PAWL_ASK_DEVIATED || ask->ended != NULL)
    return FALSE;
  return ask->started != NULL || !ask->ask->is_optional;
}

/* What of the step needs the hands: nothing more once one of its waits has begun. */
static gint64
get_work_left (const PawlStepState *state)
{
  for (guint i = 0; i < state->asks->len; i++)
    if (((const PawlAskState *) state->asks->pdata[i])->started != NULL)
      return 0;
  return state->step->attended_seconds;
}

static guint
find_lane (Adding *self, const PawlStep *step)
{
  const char *lane = *step->lane != '\0' ? step->lane : "whole unit";
  guint index;

  if (g_ptr_array_find_with_equal_func (self->job->lanes, lane, g_str_equal, &index))
    return index;
  g_ptr_array_add (self->job->lanes, g_strdup (lane));
  g_ptr_array_add (self->job->over, g_ptr_array_new ());
  return self->job->lanes->len - 1;
}

static void
add_over (Adding *self, PawlStepState *state)
{
  guint lane = find_lane (self, state->step); /* which may make it */

  g_ptr_array_add (self->job->over->pdata[lane], state);
}

static PawlWorkPlanItem *
add_item (Adding *self, const PawlStepState *state, const PawlAskState *wait, GArray *nodes, guint node)
{
  PawlWorkPlanItem *item = g_new0 (PawlWorkPlanItem, 1);

  item->node = node;
  item->job = self->plan->jobs->len;
  item->lane = find_lane (self, state->step);
  item->state = state;
  item->wait = wait;
  item->max_finish = PAWL_NETWORK_NO_MAX;
  item->release_by = -1;
  g_assert (node == self->plan->items->len);
  g_ptr_array_add (self->plan->items, item);
  g_array_append_val (nodes, node);
  return item;
}

static gint64
get_seconds (const PawlWorkPlan *self, GDateTime *at)
{
  return g_date_time_difference (at, self->start) / G_TIME_SPAN_SECOND;
}

/* The resource called @name, made on first use; -1 when it has as many places as are wanted. */
static int
find_resource (PawlWorkPlan *self, const char *name)
{
  gpointer index = g_hash_table_lookup (self->resources, name), set;

  if (index == NULL)
    {
      guint places = g_hash_table_lookup_extended (self->places, name, NULL, &set) ? GPOINTER_TO_UINT (set) : 1;

      if (places == 0)
        return -1;
      index = GUINT_TO_POINTER (pawl_network_add_resource (self->network, places) + 1);
      g_hash_table_insert (self->resources, g_strdup (name), index);
    }
  return (int) GPOINTER_TO_UINT (index) - 1;
}

/* (nullable): what a wait takes a place in: a tool by its id, or an agent. */
static const char *
find_vessel (PawlProcedure *procedure, const PawlWait *wait)
{
  GPtrArray *tools = pawl_procedure_get_tools (procedure);

  for (guint i = 0; i < tools->len; i++)
    {
      const PawlTool *tool = tools->pdata[i];

      if (g_str_equal (tool->id, wait->agent) || g_str_equal (tool->name, wait->agent))
        return tool->id;
    }
  return wait->is_limited_by_agent && *wait->agent != '\0' ? wait->agent : NULL;
}

static void
use_vessel (Adding *self, guint node, const PawlAskState *wait)
{
  const char *vessel = find_vessel (pawl_job_get_procedure (self->job->job), wait->ask->wait);
  int resource = vessel != NULL ? find_resource (self->plan, vessel) : -1;

  if (resource >= 0)
    pawl_network_add_use (self->plan->network, node, (guint) resource);
}

static void
add_running (Adding *self, const PawlStepState *state, const PawlAskState *wait, GArray *nodes)
{
  gint64 min = MAX (get_seconds (self->plan, wait->earliest), 0), max = PAWL_NETWORK_NO_MAX;
  gboolean is_overdue = FALSE;
  PawlWorkPlanItem *item;
  guint node;

  if (wait->latest != NULL)
    {
      max = get_seconds (self->plan, wait->latest);
      is_overdue = max < 0;
      max = MAX (max, min); /* then the first thing to be done */
    }
  node = pawl_network_add_wait (self->plan->network, min, max);
  item = add_item (self, state, wait, nodes, node);
  item->is_running = TRUE;
  item->is_overdue = is_overdue;
  use_vessel (self, node, wait);
}

/* Behind what was added last of this step. */
static void
add_pending (Adding *self, const PawlStepState *state, const PawlAskState *wait, GArray *nodes)
{
  const PawlWait *limits = wait->ask->wait;
  guint first = g_array_index (nodes, guint, 0), before = g_array_index (nodes, guint, nodes->len - 1);
  guint node = pawl_network_add_wait (self->plan->network, limits->min_seconds, limits->max_seconds > 0 ? limits->max_seconds : PAWL_NETWORK_NO_MAX);

  pawl_network_add_need (self->plan->network, node, before);
  add_item (self, state, wait, nodes, node);
  use_vessel (self, first, wait);
}

static void
add_step (Adding *self, const PawlStepState *state)
{
  GArray *nodes = g_array_new (FALSE, FALSE, sizeof (guint));

  g_hash_table_insert (self->nodes, (gpointer) state->step, nodes);
  for (guint i = 0; i < state->asks->len; i++)
    if (((PawlAskState *) state->asks->pdata[i])->status == PAWL_ASK_RUNNING)
      add_running (self, state, state->asks->pdata[i], nodes);
  if (nodes->len == 0)
    add_item (self, state, NULL, nodes, pawl_network_add_work (self->plan->network, get_work_left (state)));
  for (guint i = 0; i < state->asks->len; i++)
    {
      const PawlAskState *ask = state->asks->pdata[i];

      if (is_wait_left (ask) && ask->status != PAWL_ASK_RUNNING)
        add_pending (self, state, ask, nodes);
    }
}

/* ---- what comes before what ---- */

static void
add_needs (Adding *self, const PawlStepState *state)
{
  GArray *nodes = g_hash_table_lookup (self->nodes, state->step);
  guint first = g_array_index (nodes, guint, 0);
  g_autoptr(GPtrArray) needs = NULL;

  /* What waits already has begun; and a deviation on the step itself is somebody's word that it is done out of order. */
  if (pawl_network_is_wait (self->plan->network, first) || state->deviation != NULL)
    return;
  needs = pawl_order_list_needs (pawl_job_get_procedure (self->job->job), state->step);
  for (guint i = 0; i < needs->len; i++)
    {
      GArray *before = g_hash_table_lookup (self->nodes, needs->pdata[i]);

      for (guint j = 0; before != NULL && j < before->len; j++)
        if (j + 1 == before->len || !pawl_network_is_wait (self->plan->network, g_array_index (before, guint, j + 1))
            || ((PawlWorkPlanItem *) self->plan->items->pdata[g_array_index (before, guint, j + 1)])->is_running)
          pawl_network_add_need (self->plan->network, first, g_array_index (before, guint, j));
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

static gboolean
check_cycle (PawlProcedure *procedure, GError **error)
{
  g_autoptr(GPtrArray) cycle = pawl_order_find_cycle (procedure);
  g_autoptr(GString) text = g_string_new (NULL);

  if (cycle == NULL)
    return TRUE;
  for (guint i = 0; i < cycle->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "step " : i == 1 ? " needs step " : ", which needs step ", ((PawlStep *) cycle->pdata[i])->number);
  g_set_error (error, PAWL_WORK_PLAN_ERROR, PAWL_WORK_PLAN_ERROR_CYCLE, "%s cannot be planned: %s; “pawl check” shows where", pawl_procedure_get_title (procedure), text->str);
  return FALSE;
}

static gboolean
check_waits (PawlJob *job, GError **error)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = steps->pdata[i];

      for (guint j = 0; j < state->asks->len; j++)
        {
          const PawlAsk *ask = ((PawlAskState *) state->asks->pdata[j])->ask;

          if (ask->kind != PAWL_ASK_WAIT || ask->wait->max_seconds == 0 || ask->wait->max_seconds >= ask->wait->min_seconds)
            continue;
          g_set_error (error, PAWL_WORK_PLAN_ERROR, PAWL_WORK_PLAN_ERROR_WAIT, "“%s” of step %s has a maximum below its minimum; no plan can keep both", ask->name, state->step->number);
          return FALSE;
        }
    }
  return TRUE;
}

gboolean
pawl_work_plan_add_job (PawlWorkPlan *self, PawlJob *job, const char *title, GError **error)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  Adding adding = { .plan = self };

  g_return_val_if_fail (self->schedule == NULL, FALSE);
  if (!check_cycle (pawl_job_get_procedure (job), error) || !check_waits (job, error))
    return FALSE;
  adding.job = g_new0 (PawlWorkPlanJob, 1);
  adding.job->job = g_object_ref (job);
  adding.job->title = g_strdup (title);
  adding.job->lanes = g_ptr_array_new_with_free_func (g_free);
  adding.job->over = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  adding.job->n_done = pawl_job_count_done (job, &adding.job->n_steps);
  adding.nodes = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_array_unref);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = steps->pdata[i];

      if (!is_over (state))
        add_step (&adding, state);
      else if (state->status != PAWL_STEP_NOT_APPLICABLE)
        add_over (&adding, steps->pdata[i]);
    }
  for (guint i = 0; i < steps->len; i++)
    if (!is_over (steps->pdata[i]))
      add_needs (&adding, steps->pdata[i]);
  g_hash_table_unref (adding.nodes);
  g_ptr_array_add (self->jobs, adding.job);
  return TRUE;
}

char *
pawl_work_plan_make_title (PawlJob *job)
{
  const char *unit = pawl_job_get_field (job, "unit"), *order = pawl_job_get_field (job, "work-order"), *serial = pawl_job_get_field (job, "serial");

  if (*order != '\0')
    return g_strdup_printf ("%s, work order %s", unit, order);
  if (*serial != '\0')
    return g_strdup_printf ("%s, serial %s", unit, serial);
  return g_strdup_printf ("%s, job %.8s", unit, pawl_job_get_id (job));
}

gboolean
pawl_work_plan_add_procedure (PawlWorkPlan *self, PawlProcedure *procedure, const char *variant, const char *title, GError **error)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  PawlEntry *opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "", self->start);
  g_autoptr(PawlJob) job = NULL;

  pawl_entry_set (opened, "variant", variant);
  g_ptr_array_add (entries, opened);
  job = pawl_job_fold (procedure, entries, self->start);
  return pawl_work_plan_add_job (self, job, title, error);
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
    item->start = get_seconds (self, item->wait->started);
  if (item->is_overdue)
    item->max_finish = get_seconds (self, item->wait->latest);
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

/* ---- looking ---- */

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

/* The critical follower of @node with the longest rest, or -1. */
static int
find_next_critical (const PawlWorkPlan *self, guint node)
{
  const GArray *followers = pawl_network_peek_followers (self->network, node);
  gint64 finish = self->path->earliest[node] + pawl_network_get_duration (self->network, node);

  for (guint i = 0; i < followers->len; i++)
    {
      guint follower = g_array_index (followers, guint, i);

      if (self->path->total_float[follower] == 0 && self->path->earliest[follower] == finish)
        return (int) follower;
    }
  return -1;
}

GPtrArray *
pawl_work_plan_list_critical (const PawlWorkPlan *self)
{
  GPtrArray *list = g_ptr_array_new ();
  int node = -1;

  for (guint i = 0; i < self->items->len && node < 0; i++)
    if (self->path->total_float[i] == 0 && self->path->earliest[i] == 0 && pawl_network_peek_needs (self->network, i)->len == 0)
      node = (int) i;
  for (; node >= 0; node = find_next_critical (self, (guint) node))
    g_ptr_array_add (list, self->items->pdata[node]);
  return list;
}

gboolean
pawl_work_plan_item_is_open (const PawlWorkPlanItem *item)
{
  return item->wait != NULL ? item->is_running : item->state->status != PAWL_STEP_BLOCKED;
}

static int
compare_starts (gconstpointer a, gconstpointer b)
{
  const PawlWorkPlanItem *left = *(PawlWorkPlanItem *const *) a, *right = *(PawlWorkPlanItem *const *) b;
  gint64 first = left->wait != NULL ? left->finish : left->start, second = right->wait != NULL ? right->finish : right->start;

  return (first > second) - (first < second);
}

GPtrArray *
pawl_work_plan_list_now (const PawlWorkPlan *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->items->len; i++)
    {
      const PawlWorkPlanItem *item = self->items->pdata[i];

      if (pawl_work_plan_item_is_open (item) && (item->wait == NULL || item->min_finish <= 0))
        g_ptr_array_add (list, (gpointer) item);
    }
  g_ptr_array_sort (list, compare_starts);
  return list;
}

GPtrArray *
pawl_work_plan_list_order (const PawlWorkPlan *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->schedule->n; i++)
    g_ptr_array_add (list, self->items->pdata[self->schedule->order[i]]);
  return list;
}

char *
pawl_work_plan_item_describe (const PawlWorkPlanItem *item)
{
  gsize length = strlen (item->state->step->command);

  if (item->wait != NULL)
    return g_strdup (item->wait->ask->name);
  if (length > 0 && item->state->step->command[length - 1] == '.')
    length--;
  return g_strdup_printf ("%s %.*s", item->state->step->number, (int) length, item->state->step->command);
}

char *
pawl_work_plan_item_describe_blocked (const PawlWorkPlanItem *item)
{
  const GPtrArray *blockers = item->state->blockers;

  if (pawl_work_plan_item_is_open (item))
    return NULL;
  if (item->state->status != PAWL_STEP_BLOCKED)
    return g_strdup_printf ("its own step %s, which begins it", item->state->step->number);
  g_assert (blockers->len > 0);
  if (blockers->len == 1)
    return g_strdup (((PawlBlocker *) blockers->pdata[0])->text);
  return g_strdup_printf ("%s, and %u more", ((PawlBlocker *) blockers->pdata[0])->text, blockers->len - 1);
}
