/*
 * Readings in another unit than the book's: converted exactly (1 in = 25.4 mm: NIST SP 811 (2008) App. B.9, see UNI-001 in test-units.c), and rounded so
 * that the verdict read off the screen is the exact one.
 */
#include "testing.h"

#include "measure/pawl-shown.h"

static const struct {
  const char *typed, *limits, *unit, *value, *shown_limits;
} rows[] = {
  { "1.00 mm", "1.00 mm ± 0.05 mm", "in", "≈ 0.0394 in", "≈ 0.0374..0.0413 in" },
  { "25.4 mm", "max 25.4 mm", "in", "1 in", "max 1 in" },           /* on the limit: the same figures */
  { "25.4001 mm", "max 25.4 mm", "in", "≈ 1.000004 in", "max 1 in" }, /* over it by less than four places show */
  { "33.3375 mm", "33.3375..33.4 mm", "in", "1.3125 in", "≈ 1.3125..1.3150 in" }, /* 1 5/16 in, exactly */
  { "0.0509 mm", "0.02..0.05 mm; wear max 0.06 mm", "in", "≈ 0.002004 in", "≈ 0.000787..0.001969; wear max 0.002362 in" },
  { ".025 in", "25..31 thou", "mm", "0.635 mm", "0.635..0.7874 mm" }, /* PRA-101: facts of the trade, limits converted exactly with 1 in = 25.4 mm; common practice, no source */
  { "27/32 in", "min 27/32 in", "mm", "21.43125 mm", "min 21.43125 mm" },
  { "0.1 mm goes, 0.15 mm does not", "max 0.15 mm", "in", "≈ 0.00394 to 0.00591 in", "≈ max 0.00591 in" },
};

static void
test_table (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const PawlTyping typing = testing_typing ("mm", '.');
      g_autoptr(PawlQuantity) quantity = testing_parse (rows[i].typed, NULL);
      g_autoptr(PawlLimits) limits = pawl_limits_parse (rows[i].limits, &typing, NULL);
      g_auto(PawlShown) shown = { NULL };

      g_assert_nonnull (limits);
      pawl_shown_make (quantity, limits, pawl_unit_lookup (rows[i].unit), '.', &shown);
      g_test_message ("%s: %s, %s", rows[i].typed, shown.value, shown.limits);
      g_assert_cmpstr (shown.value, ==, rows[i].value);
      g_assert_cmpstr (shown.limits, ==, rows[i].shown_limits);
    }
}

/* What is printed, read again: without the mark for rounding. */
static PawlQuantity *
read_printed (const char *text)
{
  return testing_parse (g_str_has_prefix (text, "≈ ") ? text + strlen ("≈ ") : text, NULL);
}

/* Values that lie on, beside and far from limits, by the tenth of a micrometre: what is printed compares as what is meant. */
static void
test_never_across (void)
{
  g_autoptr(GRand) rand = g_rand_new_with_seed (20261126);
  guint n_equal = 0;

  for (guint i = 0; i < 600; i++)
    {
      gboolean is_inch = g_rand_boolean (rand);
      const PawlTyping typing = testing_typing (is_inch ? "in" : "mm", '.');
      int low_ticks = g_rand_int_range (rand, 1, 400000), high_ticks = low_ticks + g_rand_int_range (rand, 1, 1000);
      int ticks = g_rand_boolean (rand) ? g_rand_int_range (rand, low_ticks - 1, low_ticks + 2) : g_rand_int_range (rand, high_ticks - 1, high_ticks + 2);
      g_autofree char *typed = g_strdup_printf ("%d/10000 %s", ticks, is_inch ? "in" : "mm");
      g_autofree char *text = g_strdup_printf ("%d.%04d..%d.%04d %s", low_ticks / 10000, low_ticks % 10000, high_ticks / 10000, high_ticks % 10000, is_inch ? "in" : "mm");
      g_autoptr(PawlQuantity) quantity = testing_parse (typed, NULL);
      g_autoptr(PawlLimits) limits = pawl_limits_parse (text, &typing, NULL);
      g_auto(PawlShown) shown = { NULL };
      g_autoptr(PawlQuantity) value = NULL, low = NULL, high = NULL;

      g_assert_nonnull (limits);
      pawl_shown_make (quantity, limits, pawl_unit_lookup (is_inch ? "mm" : "in"), '.', &shown);
      value = read_printed (shown.value);
      low = read_printed (shown.low);
      high = read_printed (shown.high);
      g_test_message ("%s in %s: %s in %s, %s", typed, text, shown.value, shown.low, shown.high);
      g_assert_cmpint (pawl_quantity_compare (value, low), ==, pawl_quantity_compare (quantity, pawl_limits_peek_low (limits)));
      g_assert_cmpint (pawl_quantity_compare (value, high), ==, pawl_quantity_compare (quantity, pawl_limits_peek_high (limits)));
      n_equal += ticks == low_ticks || ticks == high_ticks;
    }
  g_assert_cmpuint (n_equal, >, 50);
}

static const struct {
  const char *typed, *unit, *limits;
  gboolean    is_mixed;
  PawlBare    bare;
  const char *other;
} bare_rows[] = {
  { ".0394", "mm", "1.00 mm ± 0.05 mm", FALSE, PAWL_BARE_ELSEWHERE, "in" },
  { "1.02", "mm", "1.00 mm ± 0.05 mm", FALSE, PAWL_BARE_CLEAR, NULL },
  { "0.5", "mm", "1.00 mm ± 0.05 mm", FALSE, PAWL_BARE_CLEAR, NULL }, /* out, either way */
  { ".0394 in", "mm", "1.00 mm ± 0.05 mm", FALSE, PAWL_BARE_CLEAR, NULL },
  { ".0394 mm", "mm", "1.00 mm ± 0.05 mm", FALSE, PAWL_BARE_CLEAR, NULL }, /* it says so */
  { ".001", "mm", "max 0.05 mm", FALSE, PAWL_BARE_EITHER, "in" },
  { "33.34", "in", "1 5/16 in ± 1/64 in", FALSE, PAWL_BARE_ELSEWHERE, "mm" },
  { ".0394", "mm", "1.00 mm ± 0.05 mm", TRUE, PAWL_BARE_CLEAR, NULL }, /* asked back by itself */
  { "6", "N m", "6 N m ± 1 N m", FALSE, PAWL_BARE_CLEAR, NULL },
  { "no number", "mm", "max 0.05 mm", FALSE, PAWL_BARE_CLEAR, NULL },
};

static void
test_bare (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bare_rows); i++)
    {
      PawlTyping typing = testing_typing (bare_rows[i].unit, '.');
      g_autoptr(PawlLimits) limits = pawl_limits_parse (bare_rows[i].limits, &typing, NULL);
      const PawlUnit *other = NULL;

      typing.is_mixed = bare_rows[i].is_mixed;
      g_test_message ("%s", bare_rows[i].typed);
      g_assert_cmpint (pawl_reading_check_bare (bare_rows[i].typed, &typing, limits, &other), ==, bare_rows[i].bare);
      g_assert_cmpstr (other != NULL ? pawl_unit_get_symbol (other) : NULL, ==, bare_rows[i].other);
    }
}

static void
test_system (void)
{
  g_assert_true (pawl_unit_in_system (pawl_unit_lookup ("mm"), TRUE) == pawl_unit_lookup ("in"));
  g_assert_true (pawl_unit_in_system (pawl_unit_lookup ("thou"), FALSE) == pawl_unit_lookup ("mm"));
  g_assert_null (pawl_unit_in_system (pawl_unit_lookup ("thou"), TRUE));
  g_assert_null (pawl_unit_in_system (pawl_unit_lookup ("mm"), FALSE));
  g_assert_null (pawl_unit_in_system (pawl_unit_lookup ("N m"), TRUE));
  g_assert_null (pawl_unit_in_system (NULL, TRUE));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/shown/table", test_table);
  g_test_add_func ("/measure/shown/never-across", test_never_across);
  g_test_add_func ("/measure/shown/bare", test_bare);
  g_test_add_func ("/measure/shown/system", test_system);
  return g_test_run ();
}
