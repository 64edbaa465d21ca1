/* The network itself; the critical path. */
#include "plan/pawl-network-private.h"

/* ---- building ---- */

static void
node_free (PawlNode *node)
{
  g_array_unref (node->needs);
  g_array_unref (node->followers);
  g_array_unref (node->uses);
  g_free (node);
}

PawlNetwork *
pawl_network_new (void)
{
  PawlNetwork *self = g_new0 (PawlNetwork, 1);

  self->nodes = g_ptr_array_new_with_free_func ((GDestroyNotify) node_free);
  self->places = g_array_new (FALSE, FALSE, sizeof (guint));
  return self;
}

void
pawl_network_free (PawlNetwork *self)
{
  g_ptr_array_unref (self->nodes);
  g_array_unref (self->places);
  g_clear_pointer (&self->hours, pawl_times_free);
  g_free (self);
}

void
pawl_network_take_hours (PawlNetwork *self, PawlTimes *hours)
{
  g_clear_pointer (&self->hours, pawl_times_free);
  self->hours = hours;
}

const PawlTimes *
pawl_network_peek_hours (const PawlNetwork *self)
{
  return self->hours;
}

static guint
add_node (PawlNetwork *self, gboolean is_wait, gint64 duration, gint64 max)
{
  PawlNode *node = g_new0 (PawlNode, 1);

  node->is_wait = is_wait;
  node->duration = duration;
  node->max = max;
  node->needs = g_array_new (FALSE, FALSE, sizeof (guint));
  node->followers = g_array_new (FALSE, FALSE, sizeof (guint));
  node->uses = g_array_new (FALSE, FALSE, sizeof (guint));
  g_ptr_array_add (self->nodes, node);
  return self->nodes->len - 1;
}

guint
pawl_network_add_work (PawlNetwork *self, gint64 seconds)
{
  g_return_val_if_fail (seconds >= 0, 0);

  return add_node (self, FALSE, seconds, PAWL_NETWORK_NO_MAX);
}

guint
pawl_network_add_wait (PawlNetwork *self, gint64 min, gint64 max)
{
  g_return_val_if_fail (min >= 0 && (max == PAWL_NETWORK_NO_MAX || max >= min), 0);

  return add_node (self, TRUE, min, max);
}

static gboolean
contains (const GArray *list, guint value)
{
  for (guint i = 0; i < list->len; i++)
    if (g_array_index (list, guint, i) == value)
      return TRUE;
  return FALSE;
}

void
pawl_network_add_need (PawlNetwork *self, guint node, guint before)
{
  g_return_if_fail (node < self->nodes->len && before < self->nodes->len);

  if (contains (pawl_network_peek_node (self, node)->needs, before))
    return;
  g_return_if_fail (!pawl_network_is_wait (self, node) || pawl_network_peek_node (self, node)->needs->len == 0);
  g_array_append_val (pawl_network_peek_node (self, node)->needs, before);
  g_array_append_val (pawl_network_peek_node (self, before)->followers, node);
}

guint
pawl_network_add_resource (PawlNetwork *self, guint places)
{
  g_return_val_if_fail (places > 0, 0);

  g_array_append_val (self->places, places);
  return self->places->len - 1;
}

void
pawl_network_add_use (PawlNetwork *self, guint node, guint resource)
{
  g_return_if_fail (node < self->nodes->len && resource < self->places->len);

  if (!contains (pawl_network_peek_node (self, node)->uses, resource))
    g_array_append_val (pawl_network_peek_node (self, node)->uses, resource);
}

/* ---- looking ---- */

guint
pawl_network_get_n_nodes (const PawlNetwork *self)
{
  return self->nodes->len;
}

gboolean
pawl_network_is_wait (const PawlNetwork *self, guint node)
{
  return pawl_network_peek_node (self, node)->is_wait;
}

gint64
pawl_network_get_duration (const PawlNetwork *self, guint node)
{
  return pawl_network_peek_node (self, node)->duration;
}

gint64
pawl_network_get_max (const PawlNetwork *self, guint node)
{
  return pawl_network_peek_node (self, node)->max;
}

const GArray *
pawl_network_peek_needs (const PawlNetwork *self, guint node)
{
  return pawl_network_peek_node (self, node)->needs;
}

const GArray *
pawl_network_peek_followers (const PawlNetwork *self, guint node)
{
  return pawl_network_peek_node (self, node)->followers;
}

guint
pawl_network_find_root (const PawlNetwork *self, guint node)
{
  while (pawl_network_is_wait (self, node) && pawl_network_peek_needs (self, node)->len > 0)
    node = g_array_index (pawl_network_peek_needs (self, node), guint, 0);
  return node;
}

/* ---- order ---- */

/* Puts into @order what can be ordered; returns how many. What is left over then is on a cycle or behind one. */
static guint
sort_nodes (const PawlNetwork *self, guint *order, guint *n_missing)
{
  guint n = self->nodes->len, n_done = 0, first = 0;

  for (guint i = 0; i < n; i++)
    if ((n_missing[i] = pawl_network_peek_needs (self, i)->len) == 0)
      order[n_done++] = i;
  for (; first < n_done; first++)
    {
      const GArray *followers = pawl_network_peek_followers (self, order[first]);

      for (guint i = 0; i < followers->len; i++)
        if (--n_missing[g_array_index (followers, guint, i)] == 0)
          order[n_done++] = g_array_index (followers, guint, i);
    }
  return n_done;
}

guint *
pawl_network_dup_order (const PawlNetwork *self)
{
  guint n = self->nodes->len;
  guint *order = g_new (guint, n + 1);
  g_autofree guint *n_missing = g_new (guint, n + 1);
  guint n_done = sort_nodes (self, order, n_missing);

  g_assert (n_done == n);
  return order;
}

/* A need of @node that could not be ordered either: every node that is left over has one. */
static guint
find_left_over (const PawlNetwork *self, guint node, const guint *n_missing)
{
  const GArray *needs = pawl_network_peek_needs (self, node);

  for (guint i = 0; i < needs->len; i++)
    if (n_missing[g_array_index (needs, guint, i)] > 0)
      return g_array_index (needs, guint, i);
  g_assert_not_reached ();
}

GArray *
pawl_network_find_cycle (const PawlNetwork *self)
{
  guint n = self->nodes->len, at = 0, first;
  g_autofree guint *order = g_new (guint, n + 1), *n_missing = g_new (guint, n + 1);
  g_autofree gboolean *is_seen = g_new0 (gboolean, n + 1);
  GArray *cycle;

  if (sort_nodes (self, order, n_missing) == n)
    return NULL;
  while (n_missing[at] == 0)
    at++;
  while (!is_seen[at])
    {
      is_seen[at] = TRUE;
      at = find_left_over (self, at, n_missing);
    }
  cycle = g_array_new (FALSE, FALSE, sizeof (guint));
  first = at;
  do
    {
      g_array_append_val (cycle, at);
      at = find_left_over (self, at, n_missing);
    }
  while (at != first);
  g_array_append_val (cycle, first);
  return cycle;
}

gboolean
pawl_network_is_redundant (const PawlNetwork *self, guint node, guint before)
{
  g_autofree gboolean *is_seen = g_new0 (gboolean, self->nodes->len + 1);
  g_autoptr(GArray) queue = g_array_new (FALSE, FALSE, sizeof (guint));

  g_array_append_val (queue, node);
  for (guint i = 0; i < queue->len; i++)
    {
      guint at = g_array_index (queue, guint, i);
      const GArray *needs = pawl_network_peek_needs (self, at);

      for (guint j = 0; j < needs->len; j++)
        {
          guint need = g_array_index (needs, guint, j);

          if (need == before && at != node)
            return TRUE;
          if (need != before && !is_seen[need])
            g_array_append_val (queue, need);
          is_seen[need] = TRUE;
        }
    }
  return FALSE;
}

/* ---- critical path ---- */

static void
go_forward (PawlCriticalPath *self, const PawlNetwork *network, const guint *order)
{
  for (guint i = 0; i < self->n; i++)
    {
      guint node = order[i];
      const GArray *needs = pawl_network_peek_needs (network, node);

      for (guint j = 0; j < needs->len; j++)
        {
          guint need = g_array_index (needs, guint, j);

          self->earliest[node] = MAX (self->earliest[node], self->earliest[need] + pawl_network_get_duration (network, need));
        }
      self->duration = MAX (self->duration, self->earliest[node] + pawl_network_get_duration (network, node));
    }
}

static void
go_back (PawlCriticalPath *self, const PawlNetwork *network, const guint *order)
{
  for (guint i = self->n; i > 0; i--)
    {
      guint node = order[i - 1];
      const GArray *followers = pawl_network_peek_followers (network, node);
      gint64 finish = self->earliest[node] + pawl_network_get_duration (network, node), next = self->duration;

      for (guint j = 0; j < followers->len; j++)
        {
          guint follower = g_array_index (followers, guint, j);

          self->tail[node] = MAX (self->tail[node], pawl_network_get_duration (network, follower) + self->tail[follower]);
          next = MIN (next, self->earliest[follower]);
        }
      self->latest[node] = self->duration - self->tail[node] - pawl_network_get_duration (network, node);
      self->total_float[node] = self->latest[node] - self->earliest[node];
      self->free_float[node] = next - finish;
    }
}

PawlCriticalPath *
pawl_critical_path_new (const PawlNetwork *network)
{
  PawlCriticalPath *self = g_new0 (PawlCriticalPath, 1);
  g_autofree guint *order = pawl_network_dup_order (network);

  self->n = network->nodes->len;
  self->earliest = g_new0 (gint64, self->n + 1);
  self->latest = g_new0 (gint64, self->n + 1);
  self->total_float = g_new0 (gint64, self->n + 1);
  self->free_float = g_new0 (gint64, self->n + 1);
  self->tail = g_new0 (gint64, self->n + 1);
  go_forward (self, network, order);
  go_back (self, network, order);
  return self;
}

void
pawl_critical_path_free (PawlCriticalPath *self)
{
  g_free (self->earliest);
  g_free (self->latest);
  g_free (self->total_float);
  g_free (self->free_float);
  g_free (self->tail);
  g_free (self);
}
