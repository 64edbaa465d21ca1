/* Days held against all days that there are, on small networks; against the bound, on large ones. */
#include "plan/pawl-schedule.h"

/* ---- random networks ---- */

typedef struct {
  PawlNetwork *network;
  guint        n, n_resources;
  guint        uses[16];   /* of each node, a bit for each resource */
  guint        places[4];
  PawlTimes   *hours;      /* (nullable) */
} Case;

static gint64
pick (GRand *random, int from, int to)
{
  return g_rand_int_range (random, from, to + 1);
}

static void
add_uses (Case *self, GRand *random, guint node)
{
  for (guint i = 0; i < self->n_resources; i++)
    if (pick (random, 0, 2) == 0)
      {
        pawl_network_add_use (self->network, node, i);
        self->uses[node] |= 1u << i;
      }
}

static void
add_wait (Case *self, GRand *random)
{
  gint64 min = pick (random, 0, 7);
  guint wait = pawl_network_add_wait (self->network, min, pick (random, 0, 3) == 0 ? PAWL_NETWORK_NO_MAX : min + pick (random, 0, 5));

  if (self->n > 0 && pick (random, 0, 4) > 0)
    pawl_network_add_need (self->network, wait, (guint) pick (random, 0, (int) self->n - 1));
  else
    add_uses (self, random, wait);
  self->n++;
}

static void
add_work (Case *self, GRand *random)
{
  guint work = pawl_network_add_work (self->network, pick (random, 0, 5));

  for (guint i = 0; i < self->n; i++)
    if (pick (random, 0, 3) == 0)
      pawl_network_add_need (self->network, work, i);
  add_uses (self, random, work);
  self->n++;
}

static void
make_case (Case *self, GRand *random, int most)
{
  guint n = (guint) pick (random, 3, most), n_waits = 0;

  *self = (Case) { .network = pawl_network_new (), .n_resources = (guint) pick (random, 0, 2) };
  for (guint i = 0; i < self->n_resources; i++)
    {
      self->places[i] = (guint) pick (random, 1, 2);
      pawl_network_add_resource (self->network, self->places[i]);
    }
  while (self->n < n)
    if (n_waits < 3 && pick (random, 0, 2) == 0)
      {
        add_wait (self, random);
        n_waits++;
      }
    else
      add_work (self, random);
}

static void
clear_case (Case *self)
{
  pawl_network_free (self->network);
  g_clear_pointer (&self->hours, pawl_times_free);
}

/* Hands are there for 4 to 7 of every 9 to 12, and the day begins somewhere in that. */
static void
add_hours (Case *self, GRand *random)
{
  gint64 begin = pick (random, -8, 8);

  self->hours = pawl_times_new (pick (random, 9, 12));
  pawl_times_add (self->hours, begin, begin + pick (random, 4, 7));
  pawl_network_take_hours (self->network, pawl_times_shift (self->hours, 0));
}

/* Whether hands are there from @from to @until, without a break. */
static gboolean
is_within_hours (const Case *self, gint64 from, gint64 until)
{
  gint64 open, close;

  if (self->hours == NULL)
    return TRUE;
  if (pawl_times_find_next (self->hours, until) != until)
    return FALSE;
  return from == until || (pawl_times_find_interval (self->hours, from, &open, &close) && open <= from && close >= until);
}

/* ---- whether a day keeps all that it has to ---- */

static guint
get_root (const PawlNetwork *network, guint node)
{
  while (pawl_network_is_wait (network, node) && pawl_network_peek_needs (network, node)->len > 0)
    node = g_array_index (pawl_network_peek_needs (network, node), guint, 0);
  return node;
}

static void
check_node (const PawlNetwork *network, const PawlSchedule *schedule, guint node)
{
  const GArray *needs = pawl_network_peek_needs (network, node);
  gint64 span = schedule->finish[node] - schedule->start[node], max = pawl_network_get_max (network, node);

  g_assert_cmpint (schedule->start[node], >=, 0);
  g_assert_cmpint (schedule->finish[node], <=, schedule->makespan);
  g_assert_cmpint (span, >=, pawl_network_get_duration (network, node));
  if (!pawl_network_is_wait (network, node))
    g_assert_cmpint (span, ==, pawl_network_get_duration (network, node));
  else if (max != PAWL_NETWORK_NO_MAX)
    g_assert_cmpint (span, <=, max);
  for (guint i = 0; i < needs->len; i++)
    {
      gint64 before = schedule->finish[g_array_index (needs, guint, i)];

      g_assert_cmpint (schedule->start[node], >=, before);
      if (pawl_network_is_wait (network, node))
        g_assert_cmpint (schedule->start[node], ==, before);
    }
}

/* Hands do not do two things at once, and a wait is ended between two things. */
static void
check_hands (const PawlNetwork *network, const PawlSchedule *schedule)
{
  gint64 now = 0;

  for (guint i = 0; i < schedule->n; i++)
    {
      guint node = schedule->order[i];

      if (pawl_network_is_wait (network, node))
        g_assert_cmpint (schedule->finish[node], >=, now);
      else
        g_assert_cmpint (schedule->start[node], >=, now);
      now = schedule->finish[node];
    }
}

static void
check_places (const Case *self, const PawlSchedule *schedule)
{
  gint64 last[16] = { 0 };

  for (guint i = 0; i < self->n; i++)
    {
      guint root = get_root (self->network, i);

      last[root] = MAX (last[root], schedule->finish[i]);
    }
  for (guint resource = 0; resource < self->n_resources; resource++)
    for (guint i = 0; i < self->n; i++)
      {
        guint n_used = 0;

        if (!(self->uses[i] & (1u << resource)) || pawl_network_is_wait (self->network, i))
          continue;
        for (guint j = 0; j < self->n; j++)
          n_used += (self->uses[j] & (1u << resource)) != 0 && schedule->start[j] <= schedule->start[i] && last[j] > schedule->start[i];
        g_assert_cmpuint (n_used, <=, self->places[resource]);
      }
}

static void
check_day (const Case *self, const PawlSchedule *schedule)
{
  g_assert_cmpuint (schedule->n, ==, self->n);
  for (guint i = 0; i < self->n; i++)
    check_node (self->network, schedule, i);
  check_hands (self->network, schedule);
  check_places (self, schedule);
  for (guint i = 0; i < self->n; i++)
    if (!schedule->is_outside[i])
      g_assert_true (is_within_hours (self, pawl_network_is_wait (self->network, i) ? schedule->finish[i] : schedule->start[i], schedule->finish[i]));
  g_assert_cmpint (schedule->bound, <=, schedule->makespan);
}

/* ---- all days there are: minute by minute, whatever may be done then, or nothing ---- */

typedef struct {
  const Case *what;
  gint64      finish[16]; /* -1: not yet */
  gint64      best;
} All;

static gboolean
is_ready (const All *self, guint node, gint64 now, gint64 *since)
{
  const GArray *needs = pawl_network_peek_needs (self->what->network, node);

  *since = 0;
  if (self->finish[node] >= 0)
    return FALSE;
  for (guint i = 0; i < needs->len; i++)
    {
      gint64 before = self->finish[g_array_index (needs, guint, i)];

      if (before < 0 || before > now)
        return FALSE;
      *since = MAX (*since, before);
    }
  return TRUE;
}

static gboolean
is_held (const All *self, guint root, gint64 now)
{
  if (!pawl_network_is_wait (self->what->network, root) && self->finish[root] < 0)
    return FALSE;
  for (guint i = 0; i < self->what->n; i++)
    if (get_root (self->what->network, i) == root && pawl_network_is_wait (self->what->network, i) && (self->finish[i] < 0 || self->finish[i] > now))
      return TRUE;
  return FALSE;
}

static gboolean
has_places (const All *self, guint work, gint64 now)
{
  for (guint resource = 0; resource < self->what->n_resources; resource++)
    {
      guint n_used = 0;

      if (!(self->what->uses[work] & (1u << resource)))
        continue;
      for (guint i = 0; i < self->what->n; i++)
        n_used += (self->what->uses[i] & (1u << resource)) != 0 && is_held (self, i, now);
      if (n_used >= self->what->places[resource])
        return FALSE;
    }
  return TRUE;
}

static void
try_all (All *self, gint64 now)
{
  const PawlNetwork *network = self->what->network;
  gint64 left = 0, since;
  gboolean is_over = TRUE, is_waiting = FALSE;

  for (guint i = 0; i < self->what->n; i++)
    if (self->finish[i] < 0)
      {
        is_over = FALSE;
        if (!pawl_network_is_wait (network, i))
          left += pawl_network_get_duration (network, i);
        else if (is_ready (self, i, now, &since))
          {
            is_waiting = TRUE;
            if (pawl_network_get_max (network, i) != PAWL_NETWORK_NO_MAX && since + pawl_network_get_max (network, i) < now)
              return;
          }
      }
  if (now + left >= self->best)
    return;
  if (is_over)
    {
      self->best = now;
      return;
    }
  for (guint i = 0; i < self->what->n; i++)
    {
      gint64 span = pawl_network_is_wait (network, i) ? 0 : pawl_network_get_duration (network, i);

      if (!is_ready (self, i, now, &since) || (pawl_network_is_wait (network, i) ? since + pawl_network_get_duration (network, i) > now
                                                                                 : !has_places (self, i, now))
          || !is_within_hours (self->what, now, now + span))
        continue;
      self->finish[i] = now + span;
      try_all (self, now + span);
      self->finish[i] = -1;
    }
  if (is_waiting || self->what->hours != NULL) /* with nothing under way, to do nothing only puts off all the rest; but the hands may not be there */
    try_all (self, now + 1);
}

/* The day that is planned is held against all days that there are. */
static void
compare_with_all (const Case *what, const PawlSchedule *schedule, guint number)
{
  All all = { .what = what, .best = schedule->makespan + 1 };

  for (guint i = 0; i < what->n; i++)
    all.finish[i] = -1;
  try_all (&all, 0);
  if (all.best != schedule->makespan)
    g_error ("network %u: the day ends at %" G_GINT64_FORMAT ", of all days the shortest at %" G_GINT64_FORMAT, number, schedule->makespan, all.best);
}

static void
test_against_all (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (20261125);
  guint n_searched = 0, n_with_max = 0;

  for (guint i = 0; i < 1000; i++)
    {
      Case what;
      g_autoptr(PawlSchedule) schedule = NULL;

      make_case (&what, random, 8);
      schedule = pawl_schedule_new (what.network, G_MAXUINT64);
      check_day (&what, schedule);
      g_assert_true (schedule->is_least);
      for (guint j = 0; j < what.n; j++)
        n_with_max += pawl_network_get_max (what.network, j) != PAWL_NETWORK_NO_MAX;
      compare_with_all (&what, schedule, i);
      n_searched += schedule->n_visited > 0;
      clear_case (&what);
    }
  g_test_message ("1,000 networks, %u waits with a maximum; %u were not settled by a list that met the bound", n_with_max, n_searched);
  g_assert_cmpuint (n_searched, >, 100);
}

static gboolean
is_any_outside (const PawlSchedule *schedule)
{
  for (guint i = 0; i < schedule->n; i++)
    if (schedule->is_outside[i])
      return TRUE;
  return FALSE;
}

/* The same with working hours. Where something has to be done outside of them, no day at all keeps to them: a few periods are looked through for one. */
static void
test_hours_against_all (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (817);
  guint n_outside = 0, n_over_night = 0;

  for (guint i = 0; i < 500; i++)
    {
      Case what;
      g_autoptr(PawlSchedule) schedule = NULL;

      make_case (&what, random, 5);
      add_hours (&what, random);
      schedule = pawl_schedule_new (what.network, G_MAXUINT64);
      check_day (&what, schedule);
      if (is_any_outside (schedule))
        {
          All all = { .what = &what, .best = 26 };

          for (guint j = 0; j < what.n; j++)
            all.finish[j] = -1;
          try_all (&all, 0);
          if (all.best != 26)
            g_error ("network %u: said to need more than its hours, but there is a day that ends at %" G_GINT64_FORMAT, i, all.best);
          n_outside++;
        }
      else
        {
          g_assert_true (schedule->is_least);
          compare_with_all (&what, schedule, i);
          n_over_night += schedule->makespan > pawl_times_get_period (what.hours);
        }
      clear_case (&what);
    }
  g_test_message ("500 networks with hours: %u need more than these; %u others go on over a night", n_outside, n_over_night);
  g_assert_cmpuint (n_outside, >, 5);
  g_assert_cmpuint (n_over_night, >, 100);
}

/* ---- large ones ---- */

/* So many jobs beside each other: chains of work with soaks between, one behind so many steps, of which every second wants the same tank. */
static PawlNetwork *
make_bench (GRand *random, guint n_jobs, guint n_steps, guint one_in, guint places)
{
  PawlNetwork *network = pawl_network_new ();
  guint tank = pawl_network_add_resource (network, places);

  for (guint job = 0; job < n_jobs; job++)
    {
      guint lanes[3] = { G_MAXUINT, G_MAXUINT, G_MAXUINT };

      for (guint i = 0; i < n_steps; i++)
        {
          guint lane = (guint) pick (random, 0, 2);
          guint work = pawl_network_add_work (network, 60 * pick (random, 2, 20));

          if (lanes[lane] != G_MAXUINT)
            pawl_network_add_need (network, work, lanes[lane]);
          if (pick (random, 0, 5) == 0 && lanes[(lane + 1) % 3] != G_MAXUINT)
            pawl_network_add_need (network, work, lanes[(lane + 1) % 3]);
          lanes[lane] = work;
          if (pick (random, 1, (int) one_in) > 1)
            continue;
          lanes[lane] = pawl_network_add_wait (network, 1800, pick (random, 0, 1) == 0 ? PAWL_NETWORK_NO_MAX : 5400);
          pawl_network_add_need (network, lanes[lane], work);
          if (pick (random, 0, 1) == 0)
            pawl_network_add_use (network, work, tank);
        }
    }
  return network;
}

static void
test_against_bound (void)
{
  static const struct { guint n_jobs, n_steps, one_in, places, n; } sizes[] = {
    { 1, 12, 12, 2, 200 }, { 1, 40, 12, 2, 100 }, { 2, 40, 12, 2, 50 }, { 6, 60, 12, 2, 10 }, { 40, 50, 12, 2, 2 },
    { 1, 12, 3, 1, 200 }, { 1, 40, 3, 1, 50 }, { 6, 60, 3, 1, 10 }, { 40, 50, 3, 1, 2 },
  };
  g_autoptr(GRand) random = g_rand_new_with_seed (6);

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      double sum = 0, worst = 0;
      guint n_least = 0;

      for (guint j = 0; j < sizes[i].n; j++)
        {
          g_autoptr(PawlNetwork) network = make_bench (random, sizes[i].n_jobs, sizes[i].n_steps, sizes[i].one_in, sizes[i].places);
          g_autoptr(PawlSchedule) schedule = pawl_schedule_new (network, 2000);
          g_autoptr(PawlSchedule) again = j == 0 ? pawl_schedule_new (network, 2000) : NULL;
          double ratio = (double) schedule->makespan / (double) schedule->bound;

          for (guint k = 0; k < schedule->n; k++)
            {
              check_node (network, schedule, k);
              if (again != NULL)
                g_assert_cmpint (schedule->start[k], ==, again->start[k]);
            }
          check_hands (network, schedule);
          g_assert_cmpfloat (ratio, >=, 1);
          sum += ratio;
          worst = MAX (worst, ratio);
          n_least += schedule->is_least;
        }
      g_test_message ("%u jobs of %u steps, a soak behind one in %u, tank for %u: %.4f times the bound on the average of %u, %.4f at worst; %u proven least", sizes[i].n_jobs, sizes[i].n_steps,
                      sizes[i].one_in, sizes[i].places, sum / sizes[i].n, sizes[i].n, worst, n_least);
    }
}

/* Nothing to do is done at once. */
static void
test_empty (void)
{
  g_autoptr(PawlNetwork) network = pawl_network_new ();
  g_autoptr(PawlSchedule) schedule = pawl_schedule_new (network, PAWL_SCHEDULE_EFFORT);

  g_assert_cmpint (schedule->makespan, ==, 0);
  g_assert_true (schedule->is_least);
}

/* The hands stay idle rather than be in the middle of something when the time is up. */
static void
test_idle_for_maximum (void)
{
  g_autoptr(PawlNetwork) network = pawl_network_new ();
  guint wait = pawl_network_add_wait (network, 10, 12), longer = pawl_network_add_work (network, 20);
  g_autoptr(PawlSchedule) schedule = pawl_schedule_new (network, PAWL_SCHEDULE_EFFORT);

  g_assert_cmpint (schedule->finish[wait], ==, 10);
  g_assert_cmpint (schedule->start[longer], ==, 10);
  g_assert_cmpint (schedule->makespan, ==, 30);
  g_assert_true (schedule->is_least);
}

/* Two jobs want the one tank: the second goes in when the first is out; with two places, both soak at once. */
static void
test_tank (void)
{
  for (guint places = 1; places <= 2; places++)
    {
      g_autoptr(PawlNetwork) network = pawl_network_new ();
      g_autoptr(PawlSchedule) schedule = NULL;
      guint tank = pawl_network_add_resource (network, places);

      for (guint i = 0; i < 2; i++)
        {
          guint work = pawl_network_add_work (network, 5);

          pawl_network_add_use (network, work, tank);
          pawl_network_add_need (network, pawl_network_add_wait (network, 30, 60), work);
        }
      schedule = pawl_schedule_new (network, PAWL_SCHEDULE_EFFORT);
      g_assert_cmpint (schedule->makespan, ==, places == 1 ? 70 : 40);
      g_assert_true (schedule->is_least);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/schedule/empty", test_empty);
  g_test_add_func ("/plan/schedule/idle-for-maximum", test_idle_for_maximum);
  g_test_add_func ("/plan/schedule/tank", test_tank);
  g_test_add_func ("/plan/schedule/against-all", test_against_all);
  g_test_add_func ("/plan/schedule/hours-against-all", test_hours_against_all);
  g_test_add_func ("/plan/schedule/against-bound", test_against_bound);
  return g_test_run ();
}
