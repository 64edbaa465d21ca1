/* Typed, understood, shown, understood again: the same rational, ten thousand times over; and the value is the one that was meant. */
#include <string.h>

#include "measure/pawl-unit-private.h"
#include "testing.h"

#define N_TRIPS 10000

/* A reading as somebody types it, and what it means in its own unit, worked out by GMP and not by the reader under test. */
static char *
draw (GRand *random, char mark, const PawlUnit **unit, mpq_t value)
{
  int whole = g_rand_int_range (random, 0, 200), below = 1 << g_rand_int_range (random, 1, 7), above = g_rand_int_range (random, 1, below);
  guint places = (guint) g_rand_int_range (random, 0, 9), digits = (guint) g_rand_int (random) % 1000000000u;
  g_autofree char *decimals = g_strdup_printf ("%09u", digits);
  const char *sign = g_rand_int_range (random, 0, 5) == 0 ? "-" : "";
  g_autofree char *exact = NULL;

  do
    *unit = &pawl_units[g_rand_int_range (random, 0, (int) pawl_n_units)];
  while (g_str_equal ((*unit)->symbol, "ratio") || (*unit)->dimension == PAWL_DIMENSION_TEMPERATURE);
  decimals[places] = '\0';
  switch (g_rand_int_range (random, 0, 4))
    {
    case 0: /* 1 5/16 in */
      exact = g_strdup_printf ("%s%d/%d", sign, whole * below + above, below);
      testing_set (value, exact);
      return g_strdup_printf ("%s%d %d/%d %s", sign, whole, above, below, (*unit)->symbol);
    case 1: /* 27/32 in */
      exact = g_strdup_printf ("%s%d/%d", sign, above, below);
      testing_set (value, exact);
      return g_strdup_printf ("%s%d/%d %s", sign, above, below, (*unit)->symbol);
    case 2: /* .0253 in */
      if (places == 0)
        strcpy (decimals, "5");
      exact = g_strdup_printf ("%s0.%s", sign, decimals);
      testing_set (value, exact);
      return g_strdup_printf ("%s%c%s %s", sign, mark, decimals, (*unit)->symbol);
    default: /* 33.3375 mm */
      exact = g_strdup_printf ("%s%d.%s", sign, whole, places > 0 ? decimals : "0");
      testing_set (value, exact);
      return places > 0 ? g_strdup_printf ("%s%d%c%s %s", sign, whole, mark, decimals, (*unit)->symbol)
                        : g_strdup_printf ("%s%d %s", sign, whole, (*unit)->symbol);
    }
}

static void
get_low (const PawlQuantity *quantity, mpq_t low)
{
  mpq_t high;

  mpq_init (high);
  pawl_quantity_get_base (quantity, low, high);
  g_assert_true (mpq_equal (low, high));
  mpq_clear (high);
}

static void
test_round_trips (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (20261125);

  for (guint i = 0; i < N_TRIPS; i++)
    {
      PawlTyping typing = { .decimal_mark = i % 2 == 0 ? '.' : ',' };
      const PawlUnit *unit;
      mpq_t meant, low, again_low;
      g_autofree char *typed = NULL, *shown = NULL;
      g_autoptr(PawlQuantity) quantity = NULL, again = NULL;
      g_autoptr(GError) error = NULL;

      mpq_inits (meant, low, again_low, NULL);
      typed = draw (random, typing.decimal_mark, &unit, meant);
      quantity = pawl_quantity_parse (typed, &typing, &error);
      if (quantity == NULL)
        g_error ("“%s”: %s", typed, error->message);
      get_low (quantity, low);
      pawl_unit_to_base (unit, meant, meant);
      shown = pawl_quantity_format_exact (quantity, typing.decimal_mark);
      again = pawl_quantity_parse (shown, &typing, &error);
      if (again == NULL)
        g_error ("“%s” is shown as “%s”: %s", typed, shown, error->message);
      get_low (again, again_low);
      if (!mpq_equal (low, meant) || !mpq_equal (again_low, low))
        g_error ("“%s” is shown as “%s”, which is another value", typed, shown);
      g_assert_true (pawl_quantity_get_unit (again) == pawl_quantity_get_unit (quantity));
      mpq_clears (meant, low, again_low, NULL);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/round-trips", test_round_trips);
  return g_test_run ();
}
