/* That what is called the best is the best: every stack of shims and every way to match parts is tried, on random cases. */
#include <math.h>
#include <stdio.h>
#include <stdlib.h>

#include "testing-sums.h"

#define N_CASES 1000

/* ---- shims, in hundredths of a millimetre ---- */

#define MOST_KINDS 5
#define MOST_PIECES 4

typedef struct {
  guint n_kinds;
  int   sizes[MOST_KINDS], counts[MOST_KINDS];
  int   low, high; /* of the stack */
} Rack;

typedef struct {
  gboolean is_inside;
  guint    n_pieces;
  int      twice_miss; /* from twice the middle inside; twice the way to the nearer end outside */
} Stack;

static Stack
weigh (const Rack *rack, int height, guint n_pieces)
{
  gboolean is_inside = height >= rack->low && height <= rack->high;
  int miss = is_inside ? abs (2 * height - rack->low - rack->high) : 2 * (height < rack->low ? rack->low - height : height - rack->high);

  return (Stack) { is_inside, n_pieces, miss };
}

/* Inside before outside; inside the fewest, then the nearest to the middle; outside the nearest, then the fewest. */
static gboolean
is_better (Stack a, Stack b)
{
  if (a.is_inside != b.is_inside)
    return a.is_inside;
  if (a.is_inside ? a.n_pieces != b.n_pieces : a.twice_miss == b.twice_miss)
    return a.n_pieces < b.n_pieces;
  return a.twice_miss < b.twice_miss;
}

static void
try_all (const Rack *rack, guint kind, int height, guint n_pieces, Stack *best)
{
  if (kind == rack->n_kinds)
    {
      Stack stack = weigh (rack, height, n_pieces);

      if (is_better (stack, *best))
        *best = stack;
      return;
    }
  for (int n = 0; n <= rack->counts[kind]; n++)
    try_all (rack, kind + 1, height + n * rack->sizes[kind], n_pieces + (guint) n, best);
}

static Rack
make_rack (GRand *random)
{
  Rack rack = { .n_kinds = (guint) g_rand_int_range (random, 1, MOST_KINDS + 1) };

  for (guint i = 0; i < rack.n_kinds; i++)
    {
      rack.sizes[i] = (i > 0 ? rack.sizes[i - 1] : 1) + g_rand_int_range (random, 1, 15); /* each size once */
      rack.counts[i] = g_rand_int_range (random, 1, MOST_PIECES + 1);
    }
  rack.low = g_rand_int_range (random, 0, 150);
  rack.high = rack.low + g_rand_int_range (random, 0, 15);
  return rack;
}

/* The gap is 10 mm, so that the play is what the stack leaves of it. */
static char *
describe_rack (const Rack *rack)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "gap=10 mm; limits=%d.%02d..%d.%02d mm; sizes=", (1000 - rack->high) / 100, (1000 - rack->high) % 100,
                          (1000 - rack->low) / 100, (1000 - rack->low) % 100);
  for (guint i = 0; i < rack->n_kinds; i++)
    g_string_append_printf (text, "%s0.%02d mm x%d", i > 0 ? ", " : "", rack->sizes[i], rack->counts[i]);
  return g_string_free (text, FALSE);
}

/* What the answer says that it takes, counted again; no piece that is not on the rack. */
static Stack
read_stack (const Rack *rack, const char *text)
{
  g_auto(GStrv) parts = g_strsplit (text, " + ", -1);
  guint n_pieces = 0;
  int height = 0;

  for (guint i = 0; parts[i] != NULL && !g_str_equal (text, "none"); i++)
    {
      const char *cross = strstr (parts[i], " × ");
      int n = cross != NULL ? atoi (parts[i]) : 1;
      int size = (int) lround (100 * g_ascii_strtod (cross != NULL ? cross + strlen (" × ") : parts[i], NULL));
      gboolean is_there = FALSE;

      for (guint kind = 0; kind < rack->n_kinds; kind++)
        is_there |= rack->sizes[kind] == size && rack->counts[kind] >= n;
      if (!is_there)
        g_error ("“%s” is not on the rack", parts[i]);
      n_pieces += (guint) n;
      height += n * size;
    }
  return weigh (rack, height, n_pieces);
}

static void
test_shims (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (20);
  guint n_inside = 0;

  for (guint i = 0; i < N_CASES; i++)
    {
      Rack rack = make_rack (random);
      Stack best = weigh (&rack, 0, 0), found;
      g_autofree char *inputs = describe_rack (&rack);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = ask ("shim", inputs, &error);
      const PawlSumAnswer *take;

      g_assert_no_error (error);
      try_all (&rack, 0, 0, 0, &best);
      take = find_answer (result, "Take");
      g_assert_cmpint (take != NULL, ==, best.is_inside);
      found = read_stack (&rack, (take != NULL ? take : find_answer (result, "Nothing lands within the limits. The nearest is"))->text);
      if (found.is_inside != best.is_inside || found.n_pieces != best.n_pieces || found.twice_miss != best.twice_miss)
        g_error ("%s: %u pieces %d/200 mm off, but there is one of %u pieces %d/200 mm off", inputs, found.n_pieces, found.twice_miss, best.n_pieces,
                 best.twice_miss);
      n_inside += best.is_inside;
    }
  g_test_message ("%u of %u racks have a stack within the limits", n_inside, N_CASES);
  g_assert_cmpuint (n_inside, >, N_CASES / 5);
  g_assert_cmpuint (n_inside, <, N_CASES);
}

/* ---- parts and places, in thousandths ---- */

#define MOST_PARTS 7

typedef struct {
  guint n;
  int   parts[MOST_PARTS], places[MOST_PARTS], low, high;
} Set;

typedef struct {
  guint n_inside;
  int   twice_miss;
} Way;

static void
add_pair (const Set *set, guint part, guint place, Way *way)
{
  int clearance = set->places[place] - set->parts[part];

  way->n_inside += clearance >= set->low && clearance <= set->high;
  way->twice_miss += abs (2 * clearance - set->low - set->high);
}

static void
try_ways (const Set *set, guint place, guint used, Way way, Way *best)
{
  if (place == set->n)
    {
      if (way.n_inside > best->n_inside || (way.n_inside == best->n_inside && way.twice_miss < best->twice_miss))
        *best = way;
      return;
    }
  for (guint part = 0; part < set->n; part++)
    if ((used & 1u << part) == 0)
      {
        Way longer = way;

        add_pair (set, part, place, &longer);
        try_ways (set, place + 1, used | 1u << part, longer, best);
      }
}

static char *
describe_set (const Set *set)
{
  GString *text = g_string_new ("parts=");

  for (guint i = 0; i < set->n; i++)
    g_string_append_printf (text, "%s%d.%03d mm", i > 0 ? ", " : "", set->parts[i] / 1000, set->parts[i] % 1000);
  g_string_append (text, "; places=");
  for (guint i = 0; i < set->n; i++)
    g_string_append_printf (text, "%s%d.%03d mm", i > 0 ? ", " : "", set->places[i] / 1000, set->places[i] % 1000);
  g_string_append_printf (text, "; limits=0.%03d..0.%03d mm", set->low, set->high);
  return g_string_free (text, FALSE);
}

static void
test_select (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (21);

  for (guint i = 0; i < N_CASES; i++)
    {
      Set set = { .n = (guint) g_rand_int_range (random, 1, i % 10 == 0 ? MOST_PARTS + 1 : MOST_PARTS - 1) };
      Way best = { 0, G_MAXINT }, found = { 0, 0 };
      g_autofree char *inputs = NULL;
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = NULL;
      guint used = 0;

      for (guint j = 0; j < set.n; j++)
        {
          set.parts[j] = 78900 + g_rand_int_range (random, 0, 60);
          set.places[j] = 78970 + g_rand_int_range (random, 0, 60);
        }
      set.low = 60;
      set.high = 80;
      inputs = describe_set (&set);
      result = ask ("select", inputs, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (result->answers->len, ==, set.n);
      for (guint place = 0; place < set.n; place++)
        {
          guint part;

          g_assert_cmpint (sscanf (((PawlSumAnswer *) result->answers->pdata[place])->text, "part %u,", &part), ==, 1);
          g_assert_cmpuint (used & 1u << part, ==, 0);
          used |= 1u << part;
          add_pair (&set, part - 1, place, &found);
        }
      try_ways (&set, 0, 0, (Way) { 0, 0 }, &best);
      if (found.n_inside != best.n_inside || found.twice_miss != best.twice_miss)
        g_error ("%s: %u inside, %d off in all, but %u and %d are possible", inputs, found.n_inside, found.twice_miss, best.n_inside, best.twice_miss);
    }
}

/* A hub and a shaft of one material: the shorter formula of the books, J. E. Shigley, Mechanical Engineering Design, eq. 3-57 (from memory),
 * E δ (ro² - R²)(R² - ri²) / (2 R³ (ro² - ri²)), δ being radial. */
static void
test_press_of_one_material (void)
{
  static const struct { double d, interference, outside, inside; } cases[] = { { 25, 0.02, 45, 0 }, { 60, 0.055, 90, 20 }, { 12, 0.011, 40, 6 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double r = cases[i].d / 2, ro = cases[i].outside / 2, ri = cases[i].inside / 2;
      double expected = 207000 * cases[i].interference / 2 / (2 * r * r * r) * (ro * ro - r * r) * (r * r - ri * ri) / (ro * ro - ri * ri);
      g_autofree char *inputs = g_strdup_printf ("diameter=%g mm; interference=%g mm; outside=%g mm; inside=%g mm", cases[i].d, cases[i].interference,
                                                 cases[i].outside, cases[i].inside);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = ask ("press", inputs, &error);

      g_assert_no_error (error);
      g_assert_cmpfloat_with_epsilon (pawl_quantity_get_double (find_answer (result, "Pressure in the fit")->quantity, pawl_unit_lookup ("MPa")), expected,
                                      1e-9 * expected);
    }
}

/* The far corners of a plate that is turned over lie on the bore where it stops: worked out here from the corners themselves. */
static void
test_plate_turned_over (void)
{
  for (double shut = 0; shut < 20; shut += 2.5)
    for (double thickness = 0.5; thickness < 4; thickness += 0.7)
      {
        g_autofree char *inputs = g_strdup_printf ("bore=32 mm; shut-angle=%g deg; thickness=%g mm", shut, thickness);
        g_autoptr(GError) error = NULL;
        g_autoptr(PawlSumResult) result = ask ("plate", inputs, &error);
        double angle, phi = shut * G_PI / 180, half, x;

        g_assert_no_error (error);
        angle = pawl_quantity_get_double (find_answer (result, "Put in the other way round it stops at")->quantity, pawl_unit_lookup ("deg")) * G_PI / 180;
        /* one face is shifted along the plate by t tan φ against the other: the corners furthest apart */
        half = (32 / cos (phi) + thickness * tan (phi)) / 2;
        x = half * cos (angle) + thickness / 2 * sin (angle);
        g_assert_cmpfloat_with_epsilon (x, 16, 1e-9);
        g_assert_cmpfloat (angle, >=, phi);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sums/best/shims", test_shims);
  g_test_add_func ("/sums/best/select", test_select);
  g_test_add_func ("/sums/press-of-one-material", test_press_of_one_material);
  g_test_add_func ("/sums/plate-turned-over", test_plate_turned_over);
  return g_test_run ();
}
