/* Looks for the least costly placement. Every move is kept only when it lowers the cost, so the cost falls until nothing helps or the work is used up. */
#include <math.h>
#include <string.h>

#include "drawing/pawl-callouts-private.h"

#define EPSILON 1e-9
/* Longer than any leader. */
#define NOT_ALLOWED 1e9
#define NO_LINE G_MAXUINT
/* Numbers that one move may push away. */
#define MAX_PUSHED 3
/* When shaking loose: how many neighbours are thrown, among how many of their choices, how many round them may follow; what a line may cost each. */
#define MAX_THROWN 5
#define N_THROWN_CHOICES 24
#define N_FOLLOWERS 10
#define MOST_LURE 4.0
/* Of few numbers a shake compares hardly any: it counts as this much at least. */
#define WORK_OF_SHAKE 700
/* For each number but the first: fewer need fewer. */
#define MOST_SHAKES 400
#define MOST_BEHIND 4.0
#define MAX_ROUNDS 30

typedef struct {
  PawlPlan *plan;
  PawlSeat *seats;
  guint    *members; /* numbers on each line */
  guint     banned;  /* a line that is being given up */
  guint     only;    /* a line that is being taken up */
  guint64   work;    /* comparisons of two numbers that are left */
} Search;

static double
get_distance (PawlPoint a, PawlPoint b)
{
  return sqrt ((a.x - b.x) * (a.x - b.x) + (a.y - b.y) * (a.y - b.y));
}

static guint
get_line (const Search *self, guint p)
{
  return pawl_plan_get_line (self->plan, p, self->seats[p]);
}

static void
seat (Search *self, guint p, PawlSeat to)
{
  self->members[get_line (self, p)]--;
  self->seats[p] = to;
  self->members[get_line (self, p)]++;
}

/* What @choice costs @p beside all others; INFINITY as soon as that is @most or more. */
static double
get_pairs (Search *self, guint p, guint choice, double most)
{
  double sum = 0;

  for (guint q = 0; q < self->plan->n; q++)
    {
      if (q == p)
        continue;
      self->work -= self->work > 0;
      sum += pawl_plan_get_pair (self->plan, p, choice, q, self->seats[q].choice);
      if (sum >= most)
        return INFINITY;
    }
  return sum;
}

/* What the whole would cost less without @p. */
static double
get_share (Search *self, guint p)
{
  PawlSeat at = self->seats[p];

  return pawl_plan_peek (self->plan, p, at.choice)->cost[at.which] + get_pairs (self, p, at.choice, INFINITY)
         + (self->members[get_line (self, p)] == 1 ? PAWL_PLAN_LINE : 0);
}

/* The cheaper of row and column for one choice of @p; INFINITY when neither may be used. */
static double
choose_line (const Search *self, guint p, guint choice, guint *which)
{
  double best = INFINITY;

  for (guint w = 0; w < 2; w++)
    {
      guint line = pawl_plan_get_line (self->plan, p, (PawlSeat) { choice, w });
      guint others = self->members[line] - (line == get_line (self, p));
      double cost = pawl_plan_peek (self->plan, p, choice)->cost[w] + (others ? 0 : PAWL_PLAN_LINE);

      if (line == self->banned || (self->only != NO_LINE && line != self->only) || cost >= best)
        continue;
      best = cost;
      *which = w;
    }
  return best;
}

/* The best seat for @p while all others stay, if it costs less than @share. Returns: by how much less. */
static double
find_better (Search *self, guint p, double share, PawlSeat *better)
{
  double best = share - EPSILON;
  gboolean is_found = FALSE;

  for (guint c = 0; c < self->plan->choices[p]->len; c++)
    {
      guint which = 0;
      double cost;

      if (pawl_plan_peek (self->plan, p, c)->least >= best) /* they are sorted, but for a last one that begin_shortest() may have added */
        break;
      cost = choose_line (self, p, c, &which);
      if (cost >= best)
        continue;
      cost += get_pairs (self, p, c, best - cost);
      if (cost >= best)
        continue;
      best = cost;
      *better = (PawlSeat) { c, which };
      is_found = TRUE;
    }
  return is_found ? share - best : 0;
}

/* Returns: by how much the cost fell. */
static double
move (Search *self, guint p)
{
  PawlSeat better = self->seats[p];
  double gain = find_better (self, p, get_share (self, p), &better);

  if (gain > 0)
    seat (self, p, better);
  return gain;
}

/* ---- one, and what it pushes away ---- */

/* Those that @choice of @p can't stand beside. FALSE: too many. */
static gboolean
list_pushed (Search *self, guint p, guint choice, guint *pushed, guint *n_pushed)
{
  *n_pushed = 0;
  for (guint q = 0; q < self->plan->n; q++)
    {
      if (q == p)
        continue;
      self->work -= self->work > 0;
      if (pawl_plan_get_pair (self->plan, p, choice, q, self->seats[q].choice) < PAWL_PLAN_FORBIDDEN)
        continue;
      if (*n_pushed == MAX_PUSHED)
        return FALSE;
      pushed[(*n_pushed)++] = q;
    }
  return TRUE;
}

/* @p to @choice, then each that is pushed away to its best place. Put back unless all together gain. */
static double
try_push (Search *self, guint p, guint choice, double share)
{
  guint pushed[MAX_PUSHED], n_pushed, which = 0;
  PawlSeat was = self->seats[p], pushed_was[MAX_PUSHED];
  double gain;

  if (!isfinite (choose_line (self, p, choice, &which)) || !list_pushed (self, p, choice, pushed, &n_pushed) || !n_pushed)
    return 0;
  seat (self, p, (PawlSeat) { choice, which });
  gain = share - get_share (self, p);
  for (guint i = 0; i < n_pushed; i++)
    {
      pushed_was[i] = self->seats[pushed[i]];
      gain += move (self, pushed[i]);
    }
  if (gain > EPSILON)
    return gain;
  for (guint i = n_pushed; i > 0; i--)
    seat (self, pushed[i - 1], pushed_was[i - 1]);
  seat (self, p, was);
  return 0;
}

static double
push (Search *self, guint p)
{
  double share = get_share (self, p);

  for (guint c = 0; c < self->plan->choices[p]->len && self->work > 0 && pawl_plan_peek (self->plan, p, c)->least < share - EPSILON; c++)
    {
      double gain = c == self->seats[p].choice ? 0 : try_push (self, p, c, share);

      if (gain > 0)
        return gain;
    }
  return 0;
}

/* ---- a whole line ---- */

static PawlSeat *
dup_seats (const Search *self)
{
  return g_memdup2 (self->seats, self->plan->n * sizeof (PawlSeat));
}

static void
restore (Search *self, const PawlSeat *seats)
{
  for (guint p = 0; p < self->plan->n; p++)
    seat (self, p, seats[p]);
}

/* All its numbers to their best places elsewhere. */
static double
give_up_line (Search *self, guint line)
{
  g_autofree PawlSeat *was = dup_seats (self);
  double gain = 0;

  self->banned = line;
  for (guint p = 0; p < self->plan->n && self->members[line]; p++)
    if (get_line (self, p) == line)
      {
        PawlSeat better = self->seats[p];
        double share = get_share (self, p);
        /* Whatever it costs, within reason. */
        double saved = find_better (self, p, share + PAWL_PLAN_FORBIDDEN, &better) - PAWL_PLAN_FORBIDDEN;

        if (get_line (self, p) == pawl_plan_get_line (self->plan, p, better))
          break;
        gain += saved;
        seat (self, p, better);
      }
  self->banned = NO_LINE;
  if (!self->members[line] && gain > EPSILON)
    return gain;
  restore (self, was);
  return 0;
}

/* As if the line were there already: who would rather stand on it? */
static double
take_up_line (Search *self, guint line)
{
  g_autofree PawlSeat *was = dup_seats (self);
  double gain = -PAWL_PLAN_LINE;

  self->members[line]++;
  self->only = line;
  for (guint p = 0; p < self->plan->n; p++)
    gain += move (self, p);
  self->only = NO_LINE;
  self->members[line]--;
  if (gain > EPSILON)
    return gain;
  restore (self, was);
  return 0;
}

/* ---- shaking loose ---- */

typedef struct {
  guint  p;
  double distance;
} Neighbour;

static int
compare_neighbours (gconstpointer a, gconstpointer b)
{
  const Neighbour *p = a, *q = b;

  return p->distance != q->distance ? (p->distance < q->distance ? -1 : 1) : (p->p > q->p) - (p->p < q->p);
}

/* (transfer full) (element-type Neighbour): all, nearest anchor first, @p itself at the head. */
static GArray *
list_neighbours (const Search *self, guint p)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (Neighbour));
  PawlPoint at = pawl_plan_peek (self->plan, p, self->seats[p].choice)->to;

  for (guint q = 0; q < self->plan->n; q++)
    {
      PawlPoint other = pawl_plan_peek (self->plan, q, self->seats[q].choice)->to;
      Neighbour one = { q, q == p ? -1 : get_distance (at, other) };

      g_array_append_val (list, one);
    }
  g_array_sort (list, compare_neighbours);
  return list;
}

/* The cost falls by moving one at a time, of the first @n_followers in @near. */
static double
settle (Search *self, const GArray *near, guint n_followers)
{
  double gain = 0, moved;

  do
    {
      moved = 0;
      for (guint i = 0; i < MIN (near->len, n_followers); i++)
        moved += move (self, g_array_index (near, Neighbour, i).p);
      gain += moved;
    }
  while (moved > EPSILON && self->work > 0);
  return gain;
}

/* A few neighbours at random to choices that are not too bad. */
static double
throw (Search *self, const GArray *near, GRand *rand)
{
  guint n_thrown = (guint) g_rand_int_range (rand, 2, MAX_THROWN + 1);
  double gain = 0;

  for (guint i = 0; i < MIN (near->len, n_thrown); i++)
    {
      guint p = g_array_index (near, Neighbour, i).p;
      guint choice = (guint) g_rand_int_range (rand, 0, (gint32) MIN (self->plan->choices[p]->len, N_THROWN_CHOICES));
      double share = get_share (self, p);

      seat (self, p, (PawlSeat) { choice, (guint) g_rand_int_range (rand, 0, 2) });
      gain += share - get_share (self, p);
    }
  return gain;
}

/* All who lose little by it to a line near @p. */
static double
draw_to_line (Search *self, guint p, GRand *rand)
{
  guint choice = (guint) g_rand_int_range (rand, 0, (gint32) MIN (self->plan->choices[p]->len, N_THROWN_CHOICES));
  guint line = pawl_plan_get_line (self->plan, p, (PawlSeat) { choice, (guint) g_rand_int_range (rand, 0, 2) });
  double lure = g_rand_double_range (rand, 0, MOST_LURE), gain = self->members[line] ? 0 : -PAWL_PLAN_LINE;
  gboolean is_new = !self->members[line];

  self->members[line] += is_new;
  self->only = line;
  for (guint q = 0; q < self->plan->n; q++)
    {
      PawlSeat better = self->seats[q];
      double saved = get_line (self, q) == line ? 0 : find_better (self, q, get_share (self, q) + lure, &better);

      if (saved <= 0)
        continue;
      gain += saved - lure;
      seat (self, q, better);
    }
  self->only = NO_LINE;
  self->members[line] -= is_new;
  /* Nobody came: the line isn't there after all. */
  return is_new && !self->members[line] ? gain + PAWL_PLAN_LINE : gain;
}

/* Kept when it costs no more than @slack more. Returns: by how much the cost fell. */
static double
shake (Search *self, GRand *rand, double slack)
{
  g_autofree PawlSeat *was = dup_seats (self);
  guint p = (guint) g_rand_int_range (rand, 0, (gint32) self->plan->n);
  g_autoptr(GArray) near = list_neighbours (self, p);
  gboolean is_throw = g_rand_boolean (rand);
  double gain = is_throw ? throw (self, near, rand) : draw_to_line (self, p, rand);

  gain += settle (self, near, is_throw ? N_FOLLOWERS : near->len);
  if (gain > -slack)
    return gain;
  restore (self, was);
  return 0;
}

/* From one placement to the next, never much worse than the best one so far, which is left in the seats. */
static void
wander (Search *self, guint64 n_shakes)
{
  g_autofree PawlSeat *best = dup_seats (self);
  g_autoptr(GRand) rand = g_rand_new_with_seed (self->plan->n);
  double behind = 0;

  for (guint64 i = 0; i < n_shakes && self->work > 0; i++)
    {
      behind -= shake (self, rand, MOST_BEHIND - behind);
      if (behind >= -EPSILON)
        continue;
      behind = 0;
      memcpy (best, self->seats, self->plan->n * sizeof (PawlSeat));
    }
  restore (self, best);
}

/* ---- all together ---- */

static double
improve_once (Search *self)
{
  double gain = 0;

  for (guint p = 0; p < self->plan->n; p++)
    gain += move (self, p);
  for (guint p = 0; p < self->plan->n && self->work > 0; p++)
    gain += push (self, p);
  if (gain > EPSILON)
    return gain;
  for (guint line = 0; line < self->plan->n_lines && self->work > 0; line++)
    gain += self->members[line] ? give_up_line (self, line) : take_up_line (self, line);
  return gain;
}

static void
improve (Search *self)
{
  for (guint round = 0; round < MAX_ROUNDS && self->work > 0; round++)
    if (improve_once (self) <= EPSILON)
      break;
}

static void
begin (Search *self, PawlSeat *seats)
{
  self->seats = seats;
  memset (self->members, 0, self->plan->n_lines * sizeof (guint));
  for (guint p = 0; p < self->plan->n; p++)
    self->members[get_line (self, p)]++;
}

/* Each where it stood, or at its own best, whatever the others do. */
static PawlSeat *
begin_alone (PawlPlan *plan)
{
  PawlSeat *seats = g_new0 (PawlSeat, plan->n + 1);

  for (guint p = 0; p < plan->n; p++)
    seats[p].choice = plan->stays[p];
  return seats;
}

/* The shortest total length: of two leaders that cross, the exchanged ones are shorter, so none cross. */
static PawlSeat *
begin_shortest (PawlPlan *plan)
{
  PawlSeat *seats = g_new0 (PawlSeat, plan->n + 1);
  g_autofree double *lengths = g_new (double, (gsize) plan->n * plan->slots->len);
  g_autofree guint *slots = NULL;

  for (guint p = 0; p < plan->n; p++)
    for (guint s = 0; s < plan->slots->len; s++)
      {
        const GArray *anchors = ((PawlCallout *) g_ptr_array_index (plan->callouts->items, p))->anchors;
        PawlPoint to = g_array_index (plan->slots, PawlSlot, s).at;
        guint whose = g_array_index (plan->slots, PawlSlot, s).whose;
        double *length = &lengths[p * plan->slots->len + s];

        *length = NOT_ALLOWED;
        if (whose != PAWL_PLAN_ANYBODY && whose != p)
          continue;
        for (guint a = 0; a < anchors->len; a++)
          *length = MIN (*length, get_distance (g_array_index (anchors, PawlAnchor, a).at, to));
      }
  slots = pawl_assign (lengths, plan->n, plan->slots->len);
  for (guint p = 0; p < plan->n; p++)
    seats[p].choice = pawl_plan_find_choice (plan, p, slots[p]);
  return seats;
}

PawlSeat *
pawl_plan_search (PawlPlan *self, guint64 n_work)
{
  g_autofree PawlSeat *alone = begin_alone (self), *shortest = begin_shortest (self);
  g_autofree guint *members = g_new0 (guint, self->n_lines + 1);
  Search search = { .plan = self, .members = members, .banned = NO_LINE, .only = NO_LINE };

  search.work = n_work / 4;
  begin (&search, alone);
  improve (&search);
  search.work = n_work / 4;
  begin (&search, shortest);
  improve (&search);
  if (pawl_plan_get_cost (self, alone) < pawl_plan_get_cost (self, shortest))
    begin (&search, alone);
  search.work = n_work / 2;
  wander (&search, MIN (n_work / WORK_OF_SHAKE, (self->n - 1) * MOST_SHAKES));
  improve (&search);
  return search.seats == alone ? g_steal_pointer (&alone) : g_steal_pointer (&shortest);
}
