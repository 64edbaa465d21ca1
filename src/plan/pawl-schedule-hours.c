/*
 * When each node may be finished, so that hands are there for it, and for all waits that begin with it.
 *
 * A wait can be ended within hours when it was begun so long before such a moment: its own moments, spread back by its minimum to its maximum. What begins it has to be
 * finished at one of these. So from the last waits backwards each node gets its moments, and as they come again each week, whatever is put off finds others. A day that
 * does one thing after the other and stays idle for all waits behind it therefore always keeps them; which is why a list never gets stuck.
 */
#include "plan/pawl-schedule-private.h"

/* Waits behind @node are ended when it is time, whoever has to come for it. */
static void
leave_hours (PawlTask *self, guint node)
{
  const PawlNode *what = pawl_network_peek_node (self->network, node);

  for (guint i = 0; i < what->followers->len; i++)
    {
      guint follower = g_array_index (what->followers, guint, i);

      if (!pawl_network_is_wait (self->network, follower))
        continue;
      g_clear_pointer (&self->allowed[follower], pawl_times_free);
      self->is_outside[follower] = self->is_any_outside = TRUE;
      leave_hours (self, follower);
    }
}

/* @times: when it could be finished. Keeps those from which all waits behind it can be ended in time. */
static void
heed_waits (PawlTask *self, guint node, PawlTimes *times)
{
  const PawlNode *what = pawl_network_peek_node (self->network, node);

  for (guint i = 0; i < what->followers->len; i++)
    {
      guint follower = g_array_index (what->followers, guint, i);
      const PawlNode *wait = pawl_network_peek_node (self->network, follower);
      g_autoptr(PawlTimes) begun = NULL;

      if (!wait->is_wait || wait->max == PAWL_NETWORK_NO_MAX || self->allowed[follower] == NULL)
        continue;
      begun = pawl_times_spread_back (self->allowed[follower], wait->duration, wait->max);
      pawl_times_intersect (times, begun);
    }
}

/* (transfer full): when hands could finish it, whatever comes behind. */
static PawlTimes *
find_own (PawlTask *self, guint node)
{
  const PawlNode *what = pawl_network_peek_node (self->network, node);
  g_autoptr(PawlTimes) times = what->is_wait ? pawl_times_shift (self->network->hours, 0) : pawl_times_fit (self->network->hours, what->duration);
  gint64 from, until, at = 0;

  if (!pawl_times_is_empty (times))
    return g_steal_pointer (&times);
  self->is_outside[node] = self->is_any_outside = self->is_any_long = TRUE; /* longer than any day: begun when one begins */
  while (at < pawl_times_get_period (self->network->hours) && pawl_times_find_interval (self->network->hours, at, &from, &until))
    {
      pawl_times_add (times, from + what->duration, from + what->duration);
      at = until;
    }
  return g_steal_pointer (&times);
}

/* A wait that runs already has one time only. */
static gboolean
is_in_time (const PawlTask *self, guint node, const PawlTimes *times)
{
  const PawlNode *what = pawl_network_peek_node (self->network, node);

  if (pawl_times_is_empty (times))
    return FALSE;
  return !what->is_wait || what->needs->len > 0 || what->max == PAWL_NETWORK_NO_MAX || pawl_times_find_next (times, what->duration) <= what->max;
}

static void
find_allowed (PawlTask *self, guint node)
{
  const PawlNode *what = pawl_network_peek_node (self->network, node);
  PawlTimes *times = find_own (self, node);

  heed_waits (self, node, times);
  if (!is_in_time (self, node, times))
    {
      pawl_times_free (times);
      leave_hours (self, node);
      times = find_own (self, node);
    }
  if (!is_in_time (self, node, times))
    {
      g_clear_pointer (&times, pawl_times_free);
      self->is_outside[node] = self->is_any_outside = TRUE;
    }
  g_assert (times != NULL || what->is_wait);
  self->allowed[node] = times;
}

void
pawl_task_find_allowed (PawlTask *self)
{
  for (guint i = self->n; self->network->hours != NULL && i > 0; i--)
    find_allowed (self, self->topological[i - 1]);
}

gint64
pawl_task_find_finish (const PawlTask *self, guint node, gint64 at)
{
  return self->allowed[node] != NULL ? pawl_times_find_next (self->allowed[node], at) : at;
}

gint64
pawl_task_find_last (const PawlTask *self, guint node, gint64 at)
{
  return self->allowed[node] != NULL ? pawl_times_find_last (self->allowed[node], at) : at;
}

void
pawl_task_find_hours (const PawlTask *self, gint64 at, gint64 *from, gint64 *until)
{
  if (self->network->hours != NULL && pawl_times_find_interval (self->network->hours, at, from, until))
    return;
  *from = 0;
  *until = G_MAXINT64;
}
