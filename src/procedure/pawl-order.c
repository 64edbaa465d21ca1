/*
 * What precedes what, and what each step covers, worked out once when a procedure is loaded.
 *
 * Parts. In file order, a part's removals and installations fall into runs: it comes off (perhaps in one of several steps, by
 * variant or by piece), goes on, comes off again for another look, goes on for good. A run stands on the run before it. A part
 * that some step removes is on the unit at the start, so its first run is a removal; if the file begins with an installation, that
 * one waits for the removal all the same, unless the part comes from the kit and is first tried on.
 */
#include "procedure/pawl-order.h"
#include "procedure/pawl-procedure-private.h"

struct _PawlOrder {
  guint       n_steps;
  GArray    **stated;    /* (array length=n_steps) (element-type guint): what the author and the parts require, ascending */
  GArray    **stated_by; /* stated, the other way round */
  GArray    **needs;     /* as stated, and what covers require */
  GArray    **needed_by; /* needs, the other way round */
  GPtrArray **covered;   /* (array length=n_steps) (element-type PawlAsk) */
  GHashTable *cover_of;  /* PawlAsk → PawlStep that first hides it */
};

typedef struct {
  guint    step;
  gboolean is_install;
} Event;

typedef struct {
  PawlProcedure *procedure;
  GHashTable    *events;    /* part id → GArray of Event, file order */
  guint8        *edges;     /* n × n: row stands on column */
  guint          n_steps;
} Builder;

static PawlStep *
get_step (PawlProcedure *procedure, guint index)
{
  return g_ptr_array_index (procedure->steps, index);
}

static guint
get_index (PawlProcedure *procedure, const PawlStep *step)
{
  guint index = GPOINTER_TO_UINT (g_hash_table_lookup (procedure->index_of_step, step));

  g_assert (index > 0);
  return index - 1;
}

static void
add_edge (Builder *self, guint step, guint base)
{
  if (step != base)
    self->edges[(gsize) step * self->n_steps + base] = 1;
}

/* ---- parts ---- */

static void
add_events (Builder *self, guint step, char **parts, gboolean is_install)
{
  for (guint i = 0; parts[i] != NULL; i++)
    {
      GArray *events = g_hash_table_lookup (self->events, parts[i]);
      Event event = { step, is_install };

      if (events == NULL)
        {
          events = g_array_new (FALSE, FALSE, sizeof (Event));
          g_hash_table_insert (self->events, parts[i], events);
        }
      g_array_append_val (events, event);
    }
}

static void
collect_events (Builder *self)
{
  for (guint i = 0; i < self->n_steps; i++)
    {
      add_events (self, i, get_step (self->procedure, i)->removes, FALSE);
      add_events (self, i, get_step (self->procedure, i)->installs, TRUE);
    }
}

/* Each event of [from, to) stands on each event of [base_from, base_to). */
static void
add_run (Builder *self, GArray *events, guint from, guint to, guint base_from, guint base_to)
{
  for (guint i = from; i < to; i++)
    for (guint j = base_from; j < base_to; j++)
      add_edge (self, g_array_index (events, Event, i).step, g_array_index (events, Event, j).step);
}

static guint
find_run_end (GArray *events, guint from)
{
  guint end = from;

  while (end < events->len && g_array_index (events, Event, end).is_install == g_array_index (events, Event, from).is_install)
    end++;
  return end;
}

static void
add_part_edges (Builder *self, const char *part_id, GArray *events)
{
  const PawlPart *part = pawl_procedure_lookup_part (self->procedure, part_id);
  guint before = 0;
  guint from = find_run_end (events, 0);
  gboolean is_wrong_way = from < events->len && g_array_index (events, Event, 0).is_install && (part == NULL || !part->is_kit);

  while (from < events->len)
    {
      guint end = find_run_end (events, from);

      if (before == 0 && is_wrong_way)
        add_run (self, events, before, from, from, end);
      else
        add_run (self, events, from, end, before, from);
      before = from;
      from = end;
    }
}

static void
add_all_part_edges (Builder *self)
{
  GHashTableIter iter;
  gpointer part_id, events;

  collect_events (self);
  g_hash_table_iter_init (&iter, self->events);
  while (g_hash_table_iter_next (&iter, &part_id, &events))
    add_part_edges (self, part_id, events);
}

/* ---- stated needs, covers ---- */

static void
add_stated_needs (Builder *self)
{
  for (guint i = 0; i < self->n_steps; i++)
    for (char **id = get_step (self->procedure, i)->needs; *id != NULL; id++)
      {
        int base = pawl_procedure_get_step_index (self->procedure, *id);

        if (base >= 0)
          add_edge (self, i, base);
      }
}

static void
cover_ask (PawlOrder *order, guint step, PawlStep *cover, PawlAsk *ask, GHashTable *seen)
{
  if (!g_hash_table_add (seen, ask))
    return;
  g_ptr_array_add (order->covered[step], ask);
  if (!g_hash_table_contains (order->cover_of, ask))
    g_hash_table_insert (order->cover_of, ask, cover);
}

/* A covered part hides what was asked when it was fitted; what the covering step asks itself is asked in time. */
static void
cover_part (Builder *self, PawlOrder *order, guint step, const char *part_id, GHashTable *seen)
{
  GArray *events = g_hash_table_lookup (self->events, part_id);

  for (guint i = 0; events != NULL && i < events->len; i++)
    {
      Event event = g_array_index (events, Event, i);
      PawlStep *fitting = get_step (self->procedure, event.step);

      if (!event.is_install || event.step == step)
        continue;
      add_edge (self, step, event.step);
      for (guint j = 0; j < fitting->asks->len; j++)
        cover_ask (order, step, get_step (self->procedure, step), g_ptr_array_index (fitting->asks, j), seen);
    }
}

/* By place in the file; what is written once for several shares its lines, so these do not tell. */
static int
compare_places_cb (gconstpointer a, gconstpointer b, gpointer procedure)
{
  const PawlAsk *left = *(const PawlAsk * const *) a, *right = *(const PawlAsk * const *) b;
  const PawlStep *left_step = pawl_procedure_peek_step_of (procedure, left), *right_step = pawl_procedure_peek_step_of (procedure, right);
  guint left_place = 0, right_place = 0;

  if (left_step != right_step)
    return (int) get_index (procedure, left_step) - (int) get_index (procedure, right_step);
  g_ptr_array_find (left_step->asks, left, &left_place);
  g_ptr_array_find (left_step->asks, right, &right_place);
  return (int) left_place - (int) right_place;
}

static void
add_covers (Builder *self, PawlOrder *order)
{
  for (guint i = 0; i < self->n_steps; i++)
    {
      PawlStep *step = get_step (self->procedure, i);
      g_autoptr(GHashTable) seen = g_hash_table_new (NULL, NULL);

      for (char **id = step->covers; *id != NULL; id++)
        {
          const PawlStep *asking;
          const PawlAsk *ask = pawl_procedure_lookup_ask (self->procedure, *id, &asking);

          if (ask != NULL)
            {
              add_edge (self, i, get_index (self->procedure, asking));
              cover_ask (order, i, step, (PawlAsk *) ask, seen);
            }
          else
            cover_part (self, order, i, *id, seen);
        }
      g_ptr_array_sort_with_data (order->covered[i], compare_places_cb, self->procedure);
    }
}

/* ---- the whole ---- */

/* (transfer full) (array length=n_steps) */
static GArray **
dup_rows (Builder *self)
{
  GArray **rows = g_new0 (GArray *, self->n_steps);

  for (guint i = 0; i < self->n_steps; i++)
    {
      rows[i] = g_array_new (FALSE, FALSE, sizeof (guint));
      for (guint j = 0; j < self->n_steps; j++)
        if (self->edges[(gsize) i * self->n_steps + j])
          g_array_append_val (rows[i], j);
    }
  return rows;
}

/* (transfer full) (array length=n_steps) */
static GArray **
dup_reversed (GArray **rows, guint n_steps)
{
  GArray **reversed = g_new0 (GArray *, n_steps);

  for (guint i = 0; i < n_steps; i++)
    reversed[i] = g_array_new (FALSE, FALSE, sizeof (guint));
  for (guint i = 0; i < n_steps; i++)
    for (guint j = 0; j < rows[i]->len; j++)
      g_array_append_val (reversed[g_array_index (rows[i], guint, j)], i);
  return reversed;
}

PawlOrder *
pawl_order_new (PawlProcedure *procedure)
{
  PawlOrder *self = g_new0 (PawlOrder, 1);
  guint n = procedure->steps->len;
  Builder builder = {
    .procedure = procedure,
    .events = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_array_unref),
    .edges = g_malloc0 ((gsize) n * n),
    .n_steps = n,
  };

  self->n_steps = n;
  self->cover_of = g_hash_table_new (NULL, NULL);
  self->covered = g_new0 (GPtrArray *, n);
  for (guint i = 0; i < n; i++)
    self->covered[i] = g_ptr_array_new ();

  add_stated_needs (&builder);
  add_all_part_edges (&builder);
  self->stated = dup_rows (&builder);
  self->stated_by = dup_reversed (self->stated, n);
  add_covers (&builder, self);
  self->needs = dup_rows (&builder);
  self->needed_by = dup_reversed (self->needs, n);

  g_hash_table_unref (builder.events);
  g_free (builder.edges);
  return self;
}

void
pawl_order_free (PawlOrder *self)
{
  for (guint i = 0; i < self->n_steps; i++)
    {
      g_array_unref (self->stated[i]);
      g_array_unref (self->stated_by[i]);
      g_array_unref (self->needs[i]);
      g_array_unref (self->needed_by[i]);
      g_ptr_array_unref (self->covered[i]);
    }
  g_free (self->stated);
  g_free (self->stated_by);
  g_free (self->needs);
  g_free (self->needed_by);
  g_free (self->covered);
  g_hash_table_unref (self->cover_of);
  g_free (self);
}

/* ---- questions ---- */

GPtrArray *
pawl_order_list_needs (PawlProcedure *procedure, const PawlStep *step)
{
  GPtrArray *list = g_ptr_array_new ();
  GArray *row = procedure->order->needs[get_index (procedure, step)];

  for (guint i = 0; i < row->len; i++)
    g_ptr_array_add (list, get_step (procedure, g_array_index (row, guint, i)));
  return list;
}

/* Marks in @marks (length n_steps) every step that is reached from @start along @rows; @start itself only by a cycle. */
static void
mark_reached (GArray **rows, guint start, guint8 *marks)
{
  g_autoptr(GArray) queue = g_array_new (FALSE, FALSE, sizeof (guint));

  g_array_append_val (queue, start);
  for (guint i = 0; i < queue->len; i++)
    {
      GArray *row = rows[g_array_index (queue, guint, i)];

      for (guint j = 0; j < row->len; j++)
        {
          guint next = g_array_index (row, guint, j);

          if (!marks[next])
            g_array_append_val (queue, next);
          marks[next] = 1;
        }
    }
}

GPtrArray *
pawl_order_list_followers (PawlProcedure *procedure, const PawlStep *step)
{
  PawlOrder *order = procedure->order;
  g_autofree guint8 *marks = g_malloc0 (order->n_steps + 1);
  guint base = get_index (procedure, step);
  GPtrArray *list = g_ptr_array_new ();

  mark_reached (order->needed_by, base, marks);
  for (guint i = 0; i < order->n_steps; i++)
    if (marks[i] && i != base)
      g_ptr_array_add (list, get_step (procedure, i));
  return list;
}

guint8 *
pawl_order_mark_stated_followers (PawlProcedure *procedure, const PawlStep *step)
{
  guint8 *marks = g_malloc0 (procedure->order->n_steps + 1);

  mark_reached (procedure->order->stated_by, get_index (procedure, step), marks);
  return marks;
}

GPtrArray *
pawl_order_list_covered (PawlProcedure *procedure, const PawlStep *step)
{
  return g_ptr_array_copy (procedure->order->covered[get_index (procedure, step)], NULL, NULL);
}

const PawlStep *
pawl_order_find_cover (PawlProcedure *procedure, const char *ask_id)
{
  const PawlAsk *ask = pawl_procedure_lookup_ask (procedure, ask_id, NULL);

  return ask != NULL ? g_hash_table_lookup (procedure->order->cover_of, ask) : NULL;
}

/* ---- cycles ---- */

typedef enum { UNSEEN, ON_PATH, FINISHED } Mark;

typedef struct {
  GArray **rows;
  Mark    *marks;
  GArray  *path; /* (element-type guint) */
} Search;

/* Depth first, in file order; TRUE when the path has closed: it then ends with the step that it meets again. */
static gboolean
search_from (Search *self, guint step)
{
  self->marks[step] = ON_PATH;
  g_array_append_val (self->path, step);
  for (guint i = 0; i < self->rows[step]->len; i++)
    {
      guint base = g_array_index (self->rows[step], guint, i);

      if (self->marks[base] == ON_PATH)
        {
          g_array_append_val (self->path, base);
          return TRUE;
        }
      if (self->marks[base] == UNSEEN && search_from (self, base))
        return TRUE;
    }
  self->marks[step] = FINISHED;
  g_array_set_size (self->path, self->path->len - 1);
  return FALSE;
}

/* The closed end of @path, turned so that the step that comes first in the file stands first, and last again. */
static GPtrArray *
dup_cycle (PawlProcedure *procedure, GArray *path)
{
  GPtrArray *cycle = g_ptr_array_new ();
  guint last = path->len - 1;
  guint start = 0;
  guint first;

  while (g_array_index (path, guint, start) != g_array_index (path, guint, last))
    start++;
  first = start;
  for (guint i = start; i < last; i++)
    if (g_array_index (path, guint, i) < g_array_index (path, guint, first))
      first = i;
  for (guint i = 0; i <= last - start; i++)
    g_ptr_array_add (cycle, get_step (procedure, g_array_index (path, guint, start + (first - start + i) % (last - start))));
  return cycle;
}

static GPtrArray *
find_cycle (PawlProcedure *procedure, GArray **rows)
{
  guint n = procedure->order->n_steps;
  g_autofree Mark *marks = g_new0 (Mark, n + 1);
  g_autoptr(GArray) path = g_array_new (FALSE, FALSE, sizeof (guint));
  Search search = { rows, marks, path };

  for (guint i = 0; i < n; i++)
    if (marks[i] == UNSEEN && search_from (&search, i))
      return dup_cycle (procedure, path);
  return NULL;
}

GPtrArray *
pawl_order_find_cycle (PawlProcedure *procedure)
{
  return find_cycle (procedure, procedure->order->needs);
}

GPtrArray *
pawl_order_find_stated_cycle (PawlProcedure *procedure)
{
  return find_cycle (procedure, procedure->order->stated);
}
