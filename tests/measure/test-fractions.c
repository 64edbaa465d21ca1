/* Inch fractions and drills against printed tables. Each group of rows names its source, and how that was seen. */
#include "measure/pawl-drill-private.h"
#include "testing.h"

static const struct {
  const char *id;
  const char *fraction; /* of an inch */
  const char *unit;
  const char *expected;
} fractions[] = {
  /* exact rational; decimal-equivalent table; seen in https://paperzz.com/doc/8844239 (CircuitousRoot drill/thread/preferred-size table
     v.2, public domain): mm and decimal-inch columns */
  { "FRA-001", "1/64", "in", "0.015625" },
  { "FRA-002", "1/64", "mm", "0.396875" },
  { "FRA-003", "1/32", "in", "0.03125" },
  { "FRA-007", "1/16", "in", "0.0625" },
  { "FRA-008", "1/16", "mm", "1.5875" },
  /* exact rational arithmetic; computed independently to 34 digits; nothing to look up */
  { "FRA-009", "5/64", "in", "0.078125" },
  { "FRA-010", "3/32", "in", "0.09375" },
  { "FRA-011", "7/64", "in", "0.109375" },
  { "FRA-012", "1/8", "in", "0.125" },
  { "FRA-013", "9/64", "in", "0.140625" },
  { "FRA-017", "15/64", "in", "0.234375" },
  { "FRA-018", "5/16", "in", "0.3125" },
  { "FRA-019", "23/64", "in", "0.359375" },
  { "FRA-020", "3/8", "in", "0.375" },
  { "FRA-021", "27/64", "in", "0.421875" },
  { "FRA-022", "7/16", "in", "0.4375" },
  { "FRA-023", "29/64", "in", "0.453125" },
  { "FRA-027", "19/32", "in", "0.59375" },
  { "FRA-028", "11/16", "in", "0.6875" },
  { "FRA-029", "49/64", "in", "0.765625" },
  { "FRA-030", "13/16", "in", "0.8125" },
  { "FRA-031", "27/32", "in", "0.84375" },
  { "FRA-032", "59/64", "in", "0.921875" },
  { "FRA-033", "31/32", "in", "0.96875" },
  { "FRA-037", "1 5/8", "mm", "41.275" },
  { "FRA-038", "12 1/64", "mm", "305.196875" },
  { "FRA-039", "0 63/64", "mm", "25.003125" },
};

static void
test_fractions (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (fractions); i++)
    {
      g_autofree char *with_inch = g_strconcat (fractions[i].fraction, " in", NULL);
      g_autofree char *with_sign = g_strconcat (fractions[i].fraction, "\"", NULL);
      g_autofree char *decimal = NULL;
      g_autoptr(PawlQuantity) bare = testing_parse (fractions[i].fraction, "in");
      g_autoptr(PawlQuantity) inch = testing_parse (with_inch, NULL);
      g_autoptr(PawlQuantity) sign = testing_parse (with_sign, "mm");

      testing_assert_value (bare, fractions[i].unit, fractions[i].expected);
      testing_assert_value (inch, fractions[i].unit, fractions[i].expected);
      testing_assert_value (sign, fractions[i].unit, fractions[i].expected);
      decimal = pawl_quantity_format_in (inch, pawl_unit_lookup (fractions[i].unit), '.');
      g_assert_true (g_str_has_prefix (decimal, fractions[i].expected));
    }
}

/* Every 64th up to 4 inches, with a space and with a hyphen, is so many 64ths of 25.4 mm. */
static void
test_all_64ths (void)
{
  for (guint n = 1; n < 4 * 64; n++)
    {
      guint whole = n / 64;
      g_autofree char *expected = g_strdup_printf ("%u/640", n * 254);
      g_autofree char *spaced = whole > 0 ? g_strdup_printf ("%u %u/64 in", whole, n % 64) : g_strdup_printf ("%u/64 in", n);
      g_autofree char *joined = whole > 0 ? g_strdup_printf ("%u-%u/64\"", whole, n % 64) : g_strdup_printf ("%u/64\"", n);
      g_autoptr(PawlQuantity) a = testing_parse (spaced, NULL);
      g_autoptr(PawlQuantity) b = testing_parse (joined, NULL);

      testing_assert_value (a, "mm", expected);
      testing_assert_value (b, "mm", expected);
    }
}

static const struct {
  const char *id;
  const char *typed;
  const char *inches;
  const char *millimetres; /* (nullable): where the table has it */
} drills[] = {
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22 */
  { "DRL-001", "#1", "0.2280", "5.7912" },
  { "DRL-002", "#2", "0.2210", "5.6134" },
  { "DRL-003", "#3", "0.2130", "5.4102" },
  { "DRL-007", "#7", "0.2010", "5.1054" },
  { "DRL-008", "#8", "0.1990", "5.0546" },
  { "DRL-009", "#10", "0.1935", "4.9149" },
  { "DRL-010", "#15", "0.1800", "4.572" },
  { "DRL-011", "#20", "0.1610", "4.0894" },
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22; this size is
     interpolated by GNU units, also known from memory */
  { "DRL-012", "#21", "0.1590", "4.0386" },
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22 */
  { "DRL-013", "#25", "0.1495", "3.7973" },
  { "DRL-017", "#36", "0.1065", "2.7051" },
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22; this size is
     interpolated by GNU units, also known from memory */
  { "DRL-018", "#37", "0.1040", "2.6416" },
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22 */
  { "DRL-019", "#38", "0.1015", "2.5781" },
  { "DRL-020", "#40", "0.0980", "2.4892" },
  { "DRL-021", "#42", "0.0935", "2.3749" },
  { "DRL-022", "#43", "0.0890", "2.2606" },
  /* standard number drill sizes (ANSI B94.11M / Machinery's Handbook); seen in the drill tables of GNU units 2.22; this size is
     interpolated by GNU units, also known from memory */
  { "DRL-023", "#47", "0.0785", "1.9939" },
  /* standard number drill sizes; seen in https://paperzz.com/doc/8844239 (CircuitousRoot table, public domain) and in GNU units definitions.units */
  { "DRL-027", "#54", "0.0550", "1.397" },
  { "DRL-028", "#55", "0.0520", "1.3208" },
  { "DRL-029", "#57", "0.0430", "1.0922" },
  { "DRL-030", "#58", "0.0420", "1.0668" },
  { "DRL-031", "#60", "0.0400", "1.016" },
  { "DRL-032", "#63", "0.0370", "0.9398" },
  { "DRL-033", "#65", "0.0350", "0.889" },
  { "DRL-037", "#77", "0.0180", "0.4572" },
  { "DRL-038", "#78", "0.0160", "0.4064" },
  { "DRL-039", "#80", "0.0135", "0.3429" },
  /* standard letter drill sizes; seen in the drill tables of GNU units 2.22 */
  { "DRL-040", "letter A", "0.234", NULL },
  { "DRL-041", "letter B", "0.238", NULL },
  { "DRL-042", "letter C", "0.242", NULL },
  { "DRL-043", "letter D", "0.246", NULL },
  { "DRL-047", "letter H", "0.266", NULL },
  { "DRL-048", "letter I", "0.272", NULL },
  { "DRL-049", "letter J", "0.277", NULL },
  { "DRL-050", "letter K", "0.281", NULL },
  { "DRL-051", "letter L", "0.290", NULL },
  { "DRL-052", "letter M", "0.295", NULL },
  { "DRL-053", "letter N", "0.302", NULL },
  { "DRL-057", "letter R", "0.339", NULL },
  { "DRL-058", "letter S", "0.348", NULL },
  { "DRL-059", "letter T", "0.358", NULL },
  { "DRL-060", "letter U", "0.368", NULL },
  { "DRL-061", "letter V", "0.377", NULL },
  { "DRL-062", "letter W", "0.386", NULL },
  { "DRL-063", "letter X", "0.397", NULL },
};

static void
test_drills (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (drills); i++)
    {
      g_autoptr(PawlQuantity) drill = testing_parse (drills[i].typed, NULL);

      testing_assert_value (drill, "in", drills[i].inches);
      if (drills[i].millimetres != NULL)
        testing_assert_value (drill, "mm", drills[i].millimetres);
    }
}

/* Number drills get smaller as the number grows, letter drills larger as the letter does; A is over #1. */
static void
test_drill_order (void)
{
  mpq_t above, below;

  mpq_inits (above, below, NULL);
  for (guint n = 1; n < 80; n++)
    {
      g_assert_true (pawl_drill_get_number (n, above));
      g_assert_true (pawl_drill_get_number (n + 1, below));
      g_assert_cmpint (mpq_cmp (above, below), >, 0);
    }
  for (char letter = 'A'; letter < 'Z'; letter++)
    {
      g_assert_true (pawl_drill_get_letter (letter, below));
      g_assert_true (pawl_drill_get_letter ((char) (letter + 1), above));
      g_assert_cmpint (mpq_cmp (above, below), >, 0);
    }
  pawl_drill_get_letter ('A', above);
  pawl_drill_get_number (1, below);
  g_assert_cmpint (mpq_cmp (above, below), >, 0);
  g_assert_false (pawl_drill_get_number (0, above));
  g_assert_false (pawl_drill_get_number (81, above));
  g_assert_false (pawl_drill_get_letter ('[', above));
  mpq_clears (above, below, NULL);
}

/* No drill of the three kinds lies in the gap (@drill, @bound]. */
static void
assert_none_between (const mpq_t drill, const mpq_t bound)
{
  mpq_t other;

  mpq_init (other);
  for (guint i = 1; i <= 80 + 26 + 64; i++)
    {
      if (i <= 80)
        pawl_drill_get_number (i, other);
      else if (i <= 106)
        pawl_drill_get_letter ((char) ('A' + i - 81), other);
      else
        mpq_set_ui (other, i - 106, 64);
      mpq_canonicalize (other);
      g_assert_false (mpq_cmp (other, drill) > 0 && mpq_cmp (other, bound) <= 0);
    }
  mpq_clear (other);
}

/*
 * The largest number, letter or fraction drill not larger than a bound. Search over #1-80, A-Z, k/64 in;
 * computed from the GNU units drill table.
 */
static void
test_largest_drill (void)
{
  static const char * const rows[][3] = {
    { "DRL-067", "0.0468", "#56" },
    { "DRL-068", "0.1200", "#31" },
    { "DRL-069", "0.1262", "1/8" },
    { "DRL-070", "0.3330", "letter Q" },
  };
  mpq_t bound, drill, high;

  mpq_inits (bound, drill, high, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (rows[i][2], "in");

      testing_set (bound, rows[i][1]);
      pawl_quantity_get_base (quantity, drill, high);
      pawl_unit_from_base (pawl_unit_lookup ("in"), drill, drill);
      g_assert_cmpint (mpq_cmp (drill, bound), <=, 0);
      assert_none_between (drill, bound);
    }
  mpq_clears (bound, drill, high, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fractions/table", test_fractions);
  g_test_add_func ("/fractions/all-64ths", test_all_64ths);
  g_test_add_func ("/drills/table", test_drills);
  g_test_add_func ("/drills/order", test_drill_order);
  g_test_add_func ("/drills/largest", test_largest_drill);
  return g_test_run ();
}
