/* Days told by rules, and the choice among them. */
#include "plan/pawl-schedule-private.h"

/* More nodes than this are not searched: a beginning of a day then takes too long to look at. */
#define MAX_SEARCHED 150

/* ---- a day ---- */

void
pawl_day_init (PawlDay *self, const PawlTask *task)
{
  *self = (PawlDay) {
    .task = task,
    .sequence = g_new0 (guint, task->n + 1),
    .finish = g_new0 (gint64, task->n + 1),
    .n_missing = g_new0 (guint, task->n + 1),
    .n_held = g_new0 (guint, task->n + 1),
    .n_used = g_new0 (guint, task->network->places->len + 1),
    .is_told = g_new0 (gboolean, task->n + 1),
  };
  for (guint i = 0; i < task->n; i++)
    {
      const PawlNode *node = pawl_network_peek_node (task->network, i);

      self->n_missing[i] = node->needs->len;
      if (!node->is_wait || node->needs->len > 0)
        continue;
      self->n_held[i] = task->n_waits[i]; /* it runs already */
      for (guint j = 0; j < node->uses->len; j++)
        self->n_used[g_array_index (node->uses, guint, j)]++;
    }
}

void
pawl_day_copy (PawlDay *self, const PawlDay *from)
{
  gsize n = from->task->n + 1;

  *self = (PawlDay) {
    .task = from->task,
    .sequence = g_memdup2 (from->sequence, n * sizeof (guint)),
    .n_told = from->n_told,
    .finish = g_memdup2 (from->finish, n * sizeof (gint64)),
    .n_missing = g_memdup2 (from->n_missing, n * sizeof (guint)),
    .n_held = g_memdup2 (from->n_held, n * sizeof (guint)),
    .n_used = g_memdup2 (from->n_used, (from->task->network->places->len + 1) * sizeof (guint)),
    .is_told = g_memdup2 (from->is_told, n * sizeof (gboolean)),
  };
}

void
pawl_day_clear (PawlDay *self)
{
  g_free (self->sequence);
  g_free (self->finish);
  g_free (self->n_missing);
  g_free (self->n_held);
  g_free (self->n_used);
  g_free (self->is_told);
}

gboolean
pawl_day_can_tell (const PawlDay *self, guint node)
{
  const PawlNode *what = pawl_network_peek_node (self->task->network, node);

  if (self->is_told[node] || self->n_missing[node] > 0)
    return FALSE;
  for (guint i = 0; !what->is_wait && i < what->uses->len; i++)
    {
      guint resource = g_array_index (what->uses, guint, i);

      if (self->n_used[resource] >= g_array_index (self->task->network->places, guint, resource))
        return FALSE;
    }
  return TRUE;
}

/* @by: 1 takes, -1 gives back */
static void
use_places (PawlDay *self, guint root, int by)
{
  const GArray *uses = pawl_network_peek_node (self->task->network, root)->uses;

  for (guint i = 0; i < uses->len; i++)
    self->n_used[g_array_index (uses, guint, i)] += (guint) by;
}

void
pawl_day_tell (PawlDay *self, guint node)
{
  const PawlNode *what = pawl_network_peek_node (self->task->network, node);
  guint root = self->task->root[node];

  self->sequence[self->n_told++] = node;
  self->is_told[node] = TRUE;
  for (guint i = 0; i < what->followers->len; i++)
    self->n_missing[g_array_index (what->followers, guint, i)]--;
  if (what->is_wait && --self->n_held[root] == 0)
    use_places (self, root, -1);
  else if (!what->is_wait && (self->n_held[node] = self->task->n_waits[node]) > 0)
    use_places (self, node, 1);
}

void
pawl_day_take_back (PawlDay *self)
{
  guint node = self->sequence[--self->n_told];
  const PawlNode *what = pawl_network_peek_node (self->task->network, node);
  guint root = self->task->root[node];

  self->is_told[node] = FALSE;
  for (guint i = 0; i < what->followers->len; i++)
    self->n_missing[g_array_index (what->followers, guint, i)]++;
  if (what->is_wait && self->n_held[root]++ == 0)
    use_places (self, root, 1);
  else if (!what->is_wait && self->n_held[node] > 0)
    use_places (self, node, -1);
}

gint64
pawl_day_get_ready (const PawlDay *self, guint node)
{
  const GArray *needs = pawl_network_peek_needs (self->task->network, node);
  gint64 ready = 0;

  for (guint i = 0; i < needs->len; i++)
    ready = MAX (ready, self->finish[g_array_index (needs, guint, i)]);
  return ready;
}

/* ---- lists: whenever hands are free, the next by a rule ---- */

gint64
pawl_rank_by_tail (const PawlTask *task, guint node)
{
  return task->path->tail[node];
}

/* What it begins, or waits for, counts; how long it takes itself doesn't. */
static gint64
rank_by_tail_and_work (const PawlTask *task, guint node)
{
  return task->path->tail[node] + pawl_network_get_duration (task->network, node);
}

static gint64
rank_by_float (const PawlTask *task, guint node)
{
  return -task->path->latest[node];
}

static gint64
rank_by_length (const PawlTask *task, guint node)
{
  return task->path->tail[node] - pawl_network_get_duration (task->network, node);
}

gint64
pawl_rank_by_order (const PawlTask *task, guint node)
{
  return -(gint64) node;
}

static gint64
get_wait_start (const PawlDay *day, guint wait)
{
  return pawl_day_get_ready (day, wait);
}

gint64
pawl_day_get_limit (const PawlDay *day)
{
  gint64 limit = G_MAXINT64;

  for (guint i = 0; i < day->task->n_limited; i++)
    {
      guint wait = day->task->limited[i];

      if (day->n_missing[wait] == 0 && !day->is_told[wait])
        limit = MIN (limit, pawl_task_find_last (day->task, wait, get_wait_start (day, wait) + pawl_network_get_max (day->task->network, wait)));
    }
  return limit;
}

/* Ends a wait that may be ended @now, whichever was over first. @next: when the first can be, when that is later. */
static gboolean
end_wait (PawlDay *day, GArray *waits, gint64 now, gint64 *next)
{
  int first = -1;
  gint64 first_over = 0;

  *next = G_MAXINT64;
  for (guint i = 0; i < waits->len; i++)
    {
      guint wait = g_array_index (waits, guint, i);
      gint64 over = get_wait_start (day, wait) + pawl_network_get_duration (day->task->network, wait);
      gint64 earliest = pawl_task_find_finish (day->task, wait, MAX (over, now));

      if (earliest > *next || (earliest == *next && over >= first_over))
        continue;
      *next = earliest;
      first_over = over;
      first = (int) i;
    }
  if (*next > now)
    return FALSE;
  day->finish[g_array_index (waits, guint, first)] = now;
  pawl_day_tell (day, g_array_index (waits, guint, first));
  g_array_remove_index (waits, (guint) first);
  return TRUE;
}

/* What may be told now moves from what waits for @node: waits begin, work lies ready. */
static void
lay_out (const PawlDay *day, guint node, GArray *waits, GArray *ready)
{
  const GArray *followers = pawl_network_peek_followers (day->task->network, node);

  for (guint i = 0; i < followers->len; i++)
    {
      guint follower = g_array_index (followers, guint, i);

      if (day->n_missing[follower] == 0)
        g_array_append_val (pawl_network_is_wait (day->task->network, follower) ? waits : ready, follower);
    }
}

/* Index in @ready of the work to do now, or -1. @next: brought forward to when some work may be begun later, for its hours. */
static int
choose (const PawlDay *day, const GArray *ready, PawlRule rule, gint64 now, gint64 limit, gint64 *next)
{
  int best = -1;
  gint64 best_rank = 0;

  for (guint i = 0; i < ready->len; i++)
    {
      guint node = g_array_index (ready, guint, i);
      gint64 rank = rule (day->task, node), duration = pawl_network_get_duration (day->task->network, node), finish;

      if (best >= 0 && (rank < best_rank || (rank == best_rank && node > g_array_index (ready, guint, best))))
        continue;
      if (now + duration > limit || !pawl_day_can_tell (day, node))
        continue;
      finish = pawl_task_find_finish (day->task, node, now + duration);
      if (finish > now + duration)
        {
          *next = MIN (*next, finish - duration);
          continue;
        }
      best = (int) i;
      best_rank = rank;
    }
  return best;
}

gint64
pawl_day_list (PawlDay *day, PawlRule rule, gint64 now, guint n_end)
{
  const PawlTask *task = day->task;
  g_autoptr(GArray) waits = g_array_new (FALSE, FALSE, sizeof (guint)), ready = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < task->n; i++)
    if (day->n_missing[i] == 0 && !day->is_told[i])
      g_array_append_val (pawl_network_is_wait (task->network, i) ? waits : ready, i);
  while (day->n_told < n_end)
    {
      gint64 next;
      int chosen;

      if (end_wait (day, waits, now, &next))
        {
          lay_out (day, day->sequence[day->n_told - 1], waits, ready);
          continue;
        }
      chosen = choose (day, ready, rule, now, pawl_day_get_limit (day), &next);
      if (chosen < 0)
        {
          g_assert (next != G_MAXINT64);
          now = next;
          continue;
        }
      now += pawl_network_get_duration (task->network, g_array_index (ready, guint, chosen));
      day->finish[g_array_index (ready, guint, chosen)] = now;
      pawl_day_tell (day, g_array_index (ready, guint, chosen));
      g_array_remove_index_fast (ready, (guint) chosen);
      lay_out (day, day->sequence[day->n_told - 1], waits, ready);
    }
  return now;
}

/* ---- the schedule ---- */

void
pawl_schedule_take (PawlSchedule *self, const PawlDay *day)
{
  self->makespan = 0;
  for (guint i = 0; i < self->n; i++)
    {
      guint node = self->order[i] = day->sequence[i];

      self->finish[node] = day->finish[node];
      self->start[node] = pawl_network_is_wait (day->task->network, node) ? pawl_day_get_ready (day, node)
                                                                          : day->finish[node] - pawl_network_get_duration (day->task->network, node);
      self->makespan = MAX (self->makespan, self->finish[node]);
    }
}

static void
try_rule (PawlSchedule *self, const PawlTask *task, PawlRule rule)
{
  g_auto(PawlDay) day;

  pawl_day_init (&day, task);
  if (pawl_day_list (&day, rule, 0, task->n) < self->makespan)
    pawl_schedule_take (self, &day);
}

static void
prepare (PawlTask *task, const PawlNetwork *network)
{
  *task = (PawlTask) { .network = network, .n = pawl_network_get_n_nodes (network) };
  task->path = pawl_critical_path_new (network);
  task->topological = pawl_network_dup_order (network);
  task->root = g_new (guint, task->n + 1);
  task->n_waits = g_new0 (guint, task->n + 1);
  task->limited = g_new (guint, task->n + 1);
  task->allowed = g_new0 (PawlTimes *, task->n + 1);
  task->is_outside = g_new0 (gboolean, task->n + 1);
  for (guint i = 0; i < task->n; i++)
    {
      task->root[i] = pawl_network_find_root (network, i);
      if (!pawl_network_is_wait (network, i))
        continue;
      task->n_waits[task->root[i]]++;
      task->n_waits_in_all++;
      if (pawl_network_get_max (network, i) != PAWL_NETWORK_NO_MAX)
        task->limited[task->n_limited++] = i;
    }
  pawl_task_find_allowed (task);
}

static void
clear (PawlTask *task)
{
  for (guint i = 0; i < task->n; i++)
    g_clear_pointer (&task->allowed[i], pawl_times_free);
  pawl_critical_path_free (task->path);
  g_free (task->topological);
  g_free (task->root);
  g_free (task->n_waits);
  g_free (task->limited);
  g_free (task->allowed);
  g_free (task->is_outside);
}

PawlSchedule *
pawl_schedule_new (const PawlNetwork *network, guint64 effort)
{
  static const PawlRule rules[] = { pawl_rank_by_order, pawl_rank_by_tail, rank_by_tail_and_work, rank_by_float, rank_by_length };
  PawlSchedule *self = g_new0 (PawlSchedule, 1);
  g_auto(PawlDay) empty;
  PawlTask task;

  prepare (&task, network);
  self->n = task.n;
  self->start = g_new0 (gint64, task.n + 1);
  self->finish = g_new0 (gint64, task.n + 1);
  self->order = g_new0 (guint, task.n + 1);
  self->makespan = G_MAXINT64;
  pawl_day_init (&empty, &task);
  self->bound = pawl_day_get_bound (&empty, 0);
  for (guint i = 0; i < G_N_ELEMENTS (rules) && self->makespan > self->bound; i++)
    try_rule (self, &task, rules[i]);
  self->is_least = self->makespan == self->bound;
  if (!self->is_least && effort > 0 && task.n <= MAX_SEARCHED)
    pawl_schedule_search (self, &task, effort);
  pawl_schedule_smooth (self, &task);
  self->is_outside = g_memdup2 (task.is_outside, sizeof (gboolean) * (task.n + 1));
  clear (&task);
  return self;
}

void
pawl_schedule_free (PawlSchedule *self)
{
  g_free (self->start);
  g_free (self->finish);
  g_free (self->order);
  g_free (self->is_outside);
  g_free (self);
}
