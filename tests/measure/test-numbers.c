/* Rounding against the standards' examples, and ten thousand round trips. */
#include <string.h>

#include "measure/pawl-number-private.h"
#include "testing.h"

/* Half to even: of two nearest, the even digit. */
static const struct {
  const char *id;
  const char *value;
  guint       places;
  const char *expected;
} rounded[] = {
  /* ISO 80000-1:2009 Annex B (rounding of numbers), rule A; from memory */
  { "RND-001", "12.223", 1, "12.2" },
  { "RND-002", "12.251", 1, "12.3" },
  { "RND-003", "12.275", 1, "12.3" },
  { "RND-007", "12.25", 1, "12.2" },
  { "RND-008", "12.35", 1, "12.4" },
  { "RND-009, in tens", "122.50", 0, "122" },
  { "RND-010, in tens", "123.50", 0, "124" },
  /* ISO 80000-1:2009 Annex B.4 (round in one step; two steps would give 12.2); from memory */
  { "RND-011", "12.254", 1, "12.3" },
  /* NIST SP 811 B.7.1; from memory */
  { "RND-012", "6.9749515", 2, "6.97" },
  { "RND-013", "6.9749515", 3, "6.975" },
  /* definitions (ISO 80000-1 rule A); computed with python decimal; binary doubles get some of these wrong */
  { "RND-017", "0.00135", 4, "0.0014" },
  { "RND-018", "2.5", 0, "2" },
  { "RND-019", "3.5", 0, "4" },
  { "RND-020", "0.4375", 3, "0.438" },
  { "RND-021", "0.4385", 3, "0.438" },
  { "RND-022", "-0.0025", 3, "-0.002" },
  { "RND-023", "1.0005", 3, "1.000" },
  /* follows from the rule */
  { "minus zero", "-0.0004", 3, "0.000" },
  { "carry", "9.9996", 3, "10.000" },
  { "small", "0.00049", 3, "0.000" },
  { "third", "1/3", 4, "0.3333" },
  { "two thirds", "-2/3", 4, "-0.6667" },
  { "whole", "1234567", 0, "1234567" },
};

static void
test_rounded (void)
{
  mpq_t value;

  mpq_init (value);
  for (gsize i = 0; i < G_N_ELEMENTS (rounded); i++)
    {
      g_autofree char *text = NULL;

      testing_set (value, rounded[i].value);
      text = pawl_number_format (value, rounded[i].places, FALSE, '.');
      g_assert_cmpstr (text, ==, rounded[i].expected);
    }
  mpq_clear (value);
}

static void
test_trimmed (void)
{
  static const struct { const char *value; guint places; const char *expected; } rows[] = {
    { "12.500", 3, "12,5" }, { "12", 3, "12" }, { "0", 4, "0" }, { "100", 0, "100" }, { "100", 2, "100" }, { "-0.50", 2, "-0,5" },
  };
  mpq_t value;

  mpq_init (value);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = NULL;

      testing_set (value, rows[i].value);
      text = pawl_number_format (value, rows[i].places, TRUE, ',');
      g_assert_cmpstr (text, ==, rows[i].expected);
    }
  mpq_clear (value);
}

static void
test_ends (void)
{
  static const struct { const char *value; gboolean ends; guint places; } rows[] = {
    { "1/64", TRUE, 6 }, { "21/16", TRUE, 4 }, { "1/3", FALSE, 0 }, { "1/7", FALSE, 0 }, { "3/6", TRUE, 1 }, { "12", TRUE, 0 }, { "1/125", TRUE, 3 }, { "-1/640", TRUE, 7 },
  };
  mpq_t value;
  guint places;

  mpq_init (value);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      testing_set (value, rows[i].value);
      g_assert_cmpint (pawl_number_ends (value, &places), ==, rows[i].ends);
      g_assert_cmpuint (places, ==, rows[i].places);
    }
  mpq_clear (value);
}

/* ---- round trips ---- */

#define N_TRIPS 10000
#define SEED 19380412

static const char * const trip_units[] = {
  "mm", "in", "thou", "µm", "ft", "turns", "deg", "arcmin", "s", "min", "h", "g", "oz", "lb", "kg", "N", "lbf", "ozf", "N m", "lbf·ft", "lbf·in", "ozf·in",
  "kgf m", "psi", "kPa", "bar", "inHg", "mmHg", "mL", "fl oz US", "fl oz imp", "kΩ", "mΩ", "MΩ", "µF", "pF", "°C", "°F", "K", "Δ°F", "N/mm", "rpm", "teeth", "%",
};

/* A number made from whole numbers, typed in one of the ways that people type; @value is made beside it, without the parser. */
static char *
make_number (GRand *rand, char decimal_mark, mpq_t value)
{
  guint whole = (guint) g_rand_int_range (rand, 0, 2000);
  guint under = (guint) g_rand_int_range (rand, 2, 129);
  guint over = (guint) g_rand_int_range (rand, 1, (gint32) under);
  guint n_places = (guint) g_rand_int_range (rand, 1, 9);
  guint scale = 1;
  guint places;
  const char *sign = g_rand_int_range (rand, 0, 8) == 0 ? "-" : "";
  g_autofree char *number = NULL;

  for (guint i = 0; i < n_places; i++)
    scale *= 10;
  places = (guint) g_rand_int_range (rand, 0, (gint32) scale);
  switch (g_rand_int_range (rand, 0, 5))
    {
    case 0:
      number = g_strdup_printf ("%u", whole);
      mpq_set_ui (value, whole, 1);
      break;
    case 1:
      number = g_strdup_printf ("%u/%u", over, under);
      mpq_set_ui (value, over, under);
      break;
    case 2:
      number = g_strdup_printf ("%u%c%u/%u", whole, g_rand_boolean (rand) ? ' ' : '-', over, under);
      mpq_set_ui (value, whole * under + over, under);
      break;
    case 3:
      number = g_strdup_printf ("%c%0*u", decimal_mark, (int) n_places, places);
      mpq_set_ui (value, places, scale);
      break;
    default:
      number = g_strdup_printf ("%u%c%0*u", whole, decimal_mark, (int) n_places, places);
      mpq_set_ui (value, (gulong) whole * scale + places, scale);
    }
  mpq_canonicalize (value);
  if (*sign != '\0')
    mpq_neg (value, value);
  return g_strconcat (sign, number, NULL);
}

static void
assert_parses_to (const char *text, char decimal_mark, const mpq_t base)
{
  PawlTyping typing = { .decimal_mark = decimal_mark };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (text, &typing, &error);
  mpq_t low, high;

  if (error != NULL)
    g_test_message ("“%s”: %s", text, error->message);
  g_assert_no_error (error);
  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  g_assert_true (mpq_equal (low, base));
  g_assert_true (mpq_equal (high, base));
  mpq_clears (low, high, NULL);
}

static void
make_trip (GRand *rand, guint *n_rounded)
{
  const char *symbol = trip_units[g_rand_int_range (rand, 0, G_N_ELEMENTS (trip_units))];
  char decimal_mark = g_rand_boolean (rand) ? '.' : ',';
  PawlTyping typing = { .decimal_mark = decimal_mark };
  g_autoptr(PawlQuantity) quantity = NULL;
  g_autofree char *number = NULL;
  g_autofree char *typed = NULL;
  g_autofree char *exact = NULL;
  g_autofree char *printed = NULL;
  mpq_t base;

  mpq_init (base);
  number = make_number (rand, decimal_mark, base);
  pawl_unit_to_base (pawl_unit_lookup (symbol), base, base);
  typed = g_strdup_printf ("%s %s", number, symbol);
  assert_parses_to (typed, decimal_mark, base);

  quantity = pawl_quantity_parse (typed, &typing, NULL);
  g_assert_cmpstr (pawl_quantity_get_typed (quantity), ==, typed);
  exact = pawl_quantity_format_exact (quantity, decimal_mark);
  assert_parses_to (exact, decimal_mark, base);
  /* What is printed without "≈" is whole, and reads back too. */
  printed = pawl_quantity_format (quantity, decimal_mark);
  if (g_str_has_prefix (printed, "≈"))
    (*n_rounded)++;
  else
    assert_parses_to (printed, decimal_mark, base);
  mpq_clear (base);
}

static void
test_round_trips (void)
{
  GRand *rand = g_rand_new_with_seed (SEED);
  guint n_rounded = 0;

  for (guint i = 0; i < N_TRIPS; i++)
    make_trip (rand, &n_rounded);
  g_rand_free (rand);
  /* Both kinds have come by. */
  g_assert_cmpuint (n_rounded, >, N_TRIPS / 10);
  g_assert_cmpuint (n_rounded, <, N_TRIPS - N_TRIPS / 10);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/numbers/rounded", test_rounded);
  g_test_add_func ("/numbers/trimmed", test_trimmed);
  g_test_add_func ("/numbers/ends", test_ends);
  g_test_add_func ("/numbers/round-trips", test_round_trips);
  return g_test_run ();
}
