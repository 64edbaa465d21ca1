/* How soon a day can end at best: each piece of work between the longest path to it and from it, by hands that may leave off and take up at will. */
#include "plan/pawl-schedule-private.h"

/* Work not done yet. */
typedef struct {
  gint64 head; /* not before */
  gint64 left; /* hands' time */
  gint64 tail; /* what follows it */
} Piece;

static int
compare_heads (gconstpointer a, gconstpointer b)
{
  const Piece *left = a, *right = b;

  return (left->head > right->head) - (left->head < right->head);
}

/* ---- a heap of pieces, the longest tail on top ---- */

static void
push (Piece **heap, guint *n, Piece *piece)
{
  guint at = (*n)++;

  for (; at > 0 && heap[(at - 1) / 2]->tail < piece->tail; at = (at - 1) / 2)
    heap[at] = heap[(at - 1) / 2];
  heap[at] = piece;
}

static void
pop (Piece **heap, guint *n)
{
  Piece *last = heap[--*n];
  guint at = 0, child;

  for (; (child = 2 * at + 1) < *n; at = child)
    {
      if (child + 1 < *n && heap[child + 1]->tail > heap[child]->tail)
        child++;
      if (heap[child]->tail <= last->tail)
        break;
      heap[at] = heap[child];
    }
  heap[at] = last;
}

/* Jackson's schedule: always the piece with the longest tail of those that may be worked at, in working hours. */
static gint64
work_off (const PawlTask *task, Piece *pieces, guint n)
{
  g_autofree Piece **heap = g_new (Piece *, n + 1);
  guint n_heap = 0, next = 0;
  gint64 now = 0, bound = 0;

  qsort (pieces, n, sizeof (Piece), compare_heads);
  while (next < n || n_heap > 0)
    {
      gint64 span, open, close;

      if (n_heap == 0)
        now = MAX (now, pieces[next].head);
      close = G_MAXINT64;
      if (!task->is_any_long)
        {
          pawl_task_find_hours (task, now, &open, &close);
          now = MAX (now, open);
        }
      while (next < n && pieces[next].head <= now)
        push (heap, &n_heap, &pieces[next++]);
      span = heap[0]->left;
      if (next < n)
        span = MIN (span, pieces[next].head - now);
      span = MIN (span, close - now);
      now += span;
      heap[0]->left -= span;
      if (heap[0]->left > 0)
        continue;
      bound = MAX (bound, now + heap[0]->tail);
      pop (heap, &n_heap);
    }
  return bound;
}

/* The day ends when something is finished, so it ends at a moment at which something may be. */
static gint64
find_end (const PawlTask *task, gint64 bound)
{
  gint64 open, close;

  if (task->is_any_outside)
    return bound;
  pawl_task_find_hours (task, MAX (bound - 1, 0), &open, &close); /* closing time is one such moment */
  return MAX (bound, open);
}

gint64
pawl_day_get_bound (const PawlDay *day, gint64 now)
{
  const PawlTask *task = day->task;
  g_autofree gint64 *finish = g_new (gint64, task->n + 1);
  g_autofree Piece *pieces = g_new (Piece, task->n + 1);
  guint n_pieces = 0;
  gint64 bound = now, hands;

  for (guint i = 0; i < task->n; i++)
    {
      guint node = task->topological[i];
      const PawlNode *what = pawl_network_peek_node (task->network, node);
      gint64 head = what->is_wait ? 0 : now;

      if (day->is_told[node])
        {
          finish[node] = day->finish[node];
          continue;
        }
      for (guint j = 0; j < what->needs->len; j++)
        head = MAX (head, finish[g_array_index (what->needs, guint, j)]);
      finish[node] = pawl_task_find_finish (task, node, MAX (head + what->duration, now));
      bound = MAX (bound, finish[node] + task->path->tail[node]);
      if (!what->is_wait && what->duration > 0)
        pieces[n_pieces++] = (Piece) { head, what->duration, task->path->tail[node] };
    }
  hands = work_off (task, pieces, n_pieces);
  bound = MAX (bound, hands);
  return task->n > 0 ? find_end (task, bound) : bound;
}
