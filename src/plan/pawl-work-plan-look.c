/* What a plan that is worked out says: the longest chain, what can be done now, the order, and each item in words. */
#include "plan/pawl-work-plan-private.h"

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
