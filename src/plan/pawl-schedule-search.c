/*
 * Branch and bound over all sequences of what the hands do.
 *
 * The times of a sequence are the least that keep all its constraints. A maximum is one that points backwards: when a wait would be ended too late, the work that
 * began it is put off, and with it what stands behind. When that goes on for longer than there are waits, no times keep them all.
 */
#include <string.h>

#include "plan/pawl-schedule-private.h"

/* Of putting off, with hours. */
#define MOST_ROUNDS 1000

typedef struct {
  PawlSchedule   *best;
  const PawlTask *task;
  PawlDay         day;
  gint64         *not_before; /* of each node: finish, as put off for a maximum */
  guint64         effort;
  gboolean        is_given_up;
} Search;

/* One way to go on. */
typedef struct {
  guint  node;
  gint64 finish; /* when nothing has to be put off */
  gint64 tail;
} Choice;

static gint64
get_duration (const Search *self, guint node)
{
  return pawl_network_get_duration (self->task->network, node);
}

/* ---- times of the sequence ---- */

/* @before: when the one before it in the sequence is finished */
static gint64
find_finish (const Search *self, guint node, gint64 before)
{
  gint64 ready = pawl_day_get_ready (&self->day, node), finish;

  if (pawl_network_is_wait (self->task->network, node))
    finish = MAX (before, ready + get_duration (self, node));
  else
    finish = MAX (before, ready) + get_duration (self, node);
  return pawl_task_find_finish (self->task, node, MAX (finish, self->not_before[node]));
}

/* FALSE: it can't be put off. */
static gboolean
put_off (Search *self, guint wait, gint64 begun)
{
  const GArray *needs = pawl_network_peek_needs (self->task->network, wait);

  if (needs->len == 0)
    return FALSE; /* it runs already */
  self->not_before[g_array_index (needs, guint, 0)] = begun;
  return TRUE;
}

/* Puts off what has to be; TRUE: nothing had to. @is_lost: there is no putting off any more, or only beyond a day that is known to be better. */
static gboolean
settle_once (Search *self, gboolean *is_lost)
{
  PawlDay *day = &self->day;
  gboolean is_settled = TRUE;
  gint64 before = 0;

  for (guint i = 0; i < day->n_told; i++)
    {
      guint node = day->sequence[i];
      gint64 max = pawl_network_get_max (self->task->network, node);

      before = day->finish[node] = find_finish (self, node, before);
      if (max == PAWL_NETWORK_NO_MAX || before <= pawl_day_get_ready (day, node) + max)
        continue;
      is_settled = FALSE;
      *is_lost = !put_off (self, node, before - max);
      if (*is_lost)
        return FALSE;
    }
  *is_lost = before >= self->best->makespan;
  return is_settled;
}

/* Times of the whole sequence; FALSE: there are none that keep all maxima. With hours a wait may have to be put off from day to day, so more rounds may be needed than there
 * are waits; the end of the best day is the end of that, or else the search is given up. */
static gboolean
settle (Search *self)
{
  guint n_rounds = pawl_network_peek_hours (self->task->network) != NULL ? MOST_ROUNDS : self->task->n_waits_in_all + 2;
  gboolean is_lost = FALSE;

  for (guint round = 0; round < n_rounds && !is_lost; round++)
    if (settle_once (self, &is_lost))
      return TRUE;
  if (!is_lost && n_rounds == MOST_ROUNDS)
    self->is_given_up = TRUE;
  return FALSE;
}

/* ---- what need not be looked at ---- */

/* Whether what is told may still be put off by a wait that has a maximum; @but (or -1) not counted. */
static gboolean
may_be_put_off (const Search *self, int but)
{
  for (guint i = 0; i < self->task->n; i++)
    if ((int) i != but && self->day.n_missing[i] == 0 && !self->day.is_told[i] && pawl_network_get_max (self->task->network, i) != PAWL_NETWORK_NO_MAX)
      return TRUE;
  return FALSE;
}

static gboolean
begins_wait (const Search *self, guint node)
{
  const GArray *followers = pawl_network_peek_followers (self->task->network, node);

  for (guint i = 0; i < followers->len; i++)
    if (pawl_network_is_wait (self->task->network, g_array_index (followers, guint, i)))
      return TRUE;
  return FALSE;
}

/* A wait that is over is best ended at once, when nothing hangs on its being ended later. Its index in @choices, or -1. */
static int
find_over (const Search *self, const Choice *choices, guint n, gint64 now)
{
  for (guint i = 0; i < n; i++)
    if (pawl_network_is_wait (self->task->network, choices[i].node) && choices[i].finish <= now && !begins_wait (self, choices[i].node)
        && !may_be_put_off (self, (int) choices[i].node))
      return (int) i;
  return -1;
}

/* Work that fits in before @other is begun, and binds nothing, is better done first. */
static gboolean
has_room_before (const Search *self, const Choice *choices, guint n, const Choice *other)
{
  gint64 start = other->finish - (pawl_network_is_wait (self->task->network, other->node) ? 0 : get_duration (self, other->node));

  for (guint i = 0; i < n; i++)
    if (choices[i].node != other->node && choices[i].finish <= start && get_duration (self, choices[i].node) > 0
        && !pawl_network_is_wait (self->task->network, choices[i].node) && !begins_wait (self, choices[i].node)
        && pawl_network_peek_node (self->task->network, choices[i].node)->uses->len == 0)
      return TRUE;
  return FALSE;
}

/* ---- the search ---- */

static int
compare_choices (gconstpointer a, gconstpointer b)
{
  const Choice *left = a, *right = b;

  if (left->finish != right->finish)
    return left->finish < right->finish ? -1 : 1;
  if (left->tail != right->tail)
    return left->tail > right->tail ? -1 : 1;
  return left->node < right->node ? -1 : 1;
}

/* Sorted so that what is tried first is likely to be good: started soonest, with the most behind it. */
static guint
list_choices (const Search *self, gint64 now, Choice *choices)
{
  guint n = 0, n_kept = 0;
  gboolean is_fixed;
  int over;

  for (guint i = 0; i < self->task->n; i++)
    if (pawl_day_can_tell (&self->day, i))
      choices[n++] = (Choice) { i, find_finish (self, i, now), self->task->path->tail[i] };
  if ((over = find_over (self, choices, n, now)) >= 0)
    {
      choices[0] = choices[over];
      return 1;
    }
  is_fixed = !may_be_put_off (self, -1);
  qsort (choices, n, sizeof (Choice), compare_choices);
  for (guint i = 0; i < n; i++)
    if (!is_fixed || !has_room_before (self, choices, n, &choices[i]))
      choices[n_kept++] = choices[i];
  return n_kept;
}

static void go_on (Search *self);

static void
try_choice (Search *self, guint node)
{
  gsize size = sizeof (gint64) * self->task->n;
  g_autofree gint64 *finish = g_memdup2 (self->day.finish, size), *not_before = g_memdup2 (self->not_before, size);

  pawl_day_tell (&self->day, node);
  if (settle (self))
    go_on (self);
  pawl_day_take_back (&self->day);
  memcpy (self->day.finish, finish, size);
  memcpy (self->not_before, not_before, size);
}

static void
go_on (Search *self)
{
  PawlDay *day = &self->day;
  gint64 now = day->n_told > 0 ? day->finish[day->sequence[day->n_told - 1]] : 0;
  g_autofree Choice *choices = NULL;
  guint n;

  if (self->best->n_visited++ >= self->effort)
    {
      self->is_given_up = TRUE;
      return;
    }
  if (pawl_day_get_bound (day, now) >= self->best->makespan)
    return;
  if (day->n_told == self->task->n)
    {
      pawl_schedule_take (self->best, day);
      return;
    }
  choices = g_new (Choice, self->task->n);
  n = list_choices (self, now, choices);
  for (guint i = 0; i < n && !self->is_given_up && self->best->makespan > self->best->bound; i++)
    try_choice (self, choices[i].node);
}

void
pawl_schedule_search (PawlSchedule *best, const PawlTask *task, guint64 effort)
{
  Search search = { .best = best, .task = task, .not_before = g_new0 (gint64, task->n + 1), .effort = effort };

  pawl_day_init (&search.day, task);
  go_on (&search);
  best->is_least = !search.is_given_up || best->makespan == best->bound;
  pawl_day_clear (&search.day);
  g_free (search.not_before);
}
