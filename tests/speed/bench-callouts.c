/*
 * Placing item numbers: how long it takes, and how near its cost comes to what far more work finds. Prints a table; asserts nothing of time.
 * Usage: bench-callouts [--quick]
 */
#include "../drawing/callouts-fixtures.h"

#define WIDTH 1000.0
#define HEIGHT 620.0
#define N_NEAR 64
#define WORK 1000000
#define LONG_FACTOR 20
#define EPSILON 1e-9

/* ---- another search: from places at random, each number in turn to its best, until none moves; the best of many starts ---- */

typedef struct {
  const PawlPlan *plan;
  PawlSeat       *seats;
  guint          *members;
} Descent;

static double
get_cost_of (const Descent *self, guint p, PawlSeat seat)
{
  double cost = pawl_plan_peek (self->plan, p, seat.choice)->cost[seat.which]
                + (self->members[pawl_plan_get_line (self->plan, p, seat)] ? 0 : PAWL_PLAN_LINE);

  for (guint q = 0; q < self->plan->n; q++)
    if (q != p)
      cost += pawl_plan_get_pair (self->plan, p, seat.choice, q, self->seats[q].choice);
  return cost;
}

static gboolean
move_to_best (Descent *self, guint p)
{
  PawlSeat was = self->seats[p], best = was;
  double least;

  self->members[pawl_plan_get_line (self->plan, p, was)]--;
  least = get_cost_of (self, p, was) - EPSILON;
  for (guint c = 0; c < self->plan->choices[p]->len; c++)
    for (guint which = 0; which < 2 && pawl_plan_peek (self->plan, p, c)->least < least; which++)
      {
        double cost = get_cost_of (self, p, (PawlSeat) { c, which });

        if (cost >= least)
          continue;
        least = cost - EPSILON;
        best = (PawlSeat) { c, which };
      }
  self->seats[p] = best;
  self->members[pawl_plan_get_line (self->plan, p, best)]++;
  return best.choice != was.choice || best.which != was.which;
}

static double
descend_from_random (const PawlPlan *plan, GRand *rand)
{
  g_autofree PawlSeat *seats = g_new0 (PawlSeat, plan->n);
  g_autofree guint *members = g_new0 (guint, plan->n_lines);
  Descent descent = { plan, seats, members };
  gboolean has_moved = TRUE;

  for (guint p = 0; p < plan->n; p++)
    {
      seats[p] = (PawlSeat) { (guint) g_rand_int_range (rand, 0, (gint32) plan->choices[p]->len), (guint) g_rand_int_range (rand, 0, 2) };
      members[pawl_plan_get_line (plan, p, seats[p])]++;
    }
  while (has_moved)
    {
      has_moved = FALSE;
      for (guint p = 0; p < plan->n; p++)
        has_moved |= move_to_best (&descent, p);
    }
  return pawl_plan_get_cost (plan, seats);
}

static double
find_by_restarts (const PawlPlan *plan, guint n_starts, guint32 seed)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);
  double least = INFINITY;

  for (guint i = 0; i < n_starts; i++)
    least = MIN (least, descend_from_random (plan, rand));
  return least;
}

/* ---- the table ---- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  const double *p = a, *q = b;

  return (*p > *q) - (*p < *q);
}

static void
measure (guint n, guint n_cases, guint n_starts)
{
  g_autoptr(GArray) times_ms = g_array_new (FALSE, FALSE, sizeof (double));
  double cost = 0, long_cost = 0, restart_cost = 0;
  guint n_forbidden = 0;

  for (guint32 seed = 1; seed <= n_cases; seed++)
    {
      g_autoptr(Drawing) drawing = drawing_new (n, seed, WIDTH, HEIGHT);
      g_autoptr(PawlPlan) plan = NULL;
      g_autofree PawlSeat *seats = NULL;
      gint64 begun = g_get_monotonic_time ();
      double time_ms;

      pawl_callouts_place (drawing->callouts, drawing->map, NULL);
      time_ms = (g_get_monotonic_time () - begun) / 1000.0;
      g_array_append_val (times_ms, time_ms);
      cost += drawing->callouts->cost;
      n_forbidden += drawing->callouts->n_forbidden;
      plan = pawl_plan_new (drawing->callouts, drawing->map, NULL, MAX (N_NEAR, n + 4));
      restart_cost += find_by_restarts (plan, n_starts, seed);
      seats = pawl_plan_search (plan, (guint64) LONG_FACTOR * WORK);
      long_cost += pawl_plan_get_cost (plan, seats);
    }
  g_array_sort (times_ms, compare_doubles);
  g_print ("%7u  %6.1f ms  %6.1f ms  %9.1f  %14.3f  %17.3f  %9u\n", n, g_array_index (times_ms, double, n_cases / 2), g_array_index (times_ms, double, n_cases - 1),
           cost / n_cases, cost / long_cost, cost / restart_cost, n_forbidden);
}

int
main (int argc, char **argv)
{
  gboolean is_quick = argc > 1 && g_str_equal (argv[1], "--quick");
  static const guint sizes[] = { 2, 7, 20, 40, 60 };

  g_print ("numbers     median    longest  mean cost  to %ux the work  to random restarts  forbidden\n", LONG_FACTOR);
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    measure (sizes[i], is_quick ? 1 : 20, is_quick ? 2 : 100);
  return 0;
}
