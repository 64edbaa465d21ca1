/* From jobs to a network: what is left of each, and what comes before what. */
#include "plan/pawl-work-plan-private.h"

#include "procedure/pawl-order.h"

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
  gint64 min = MAX (pawl_work_plan_get_seconds (self->plan, wait->earliest), 0), max = PAWL_NETWORK_NO_MAX;
  gboolean is_overdue = FALSE;
  PawlWorkPlanItem *item;
  guint node;

  if (wait->latest != NULL)
    {
      max = pawl_work_plan_get_seconds (self->plan, wait->latest);
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
