/*
 * Every form that a mechanic or a gauge types, good beside bad, with a point and with a comma. The values follow from the text and from the
 * units' definitions (NIST SP 811); the sizes of drills are held to tables in test-fractions.c.
 */
#include <string.h>

#include "testing.h"

typedef struct {
  const char *typed;        /* with a decimal point */
  const char *default_unit; /* (nullable) */
  const char *unit;         /* that it is understood in */
  const char *value;        /* in @unit */
} Good;

static const Good good[] = {
  /* fractions and decimals of an inch */
  { "1 5/16", "in", "in", "21/16" }, { "1 5/16 in", NULL, "in", "21/16" }, { "1-5/16\"", NULL, "in", "21/16" },
  { "27/32 in", "mm", "in", "27/32" }, { "12/64 in", NULL, "in", "3/16" }, { "1 51/64\"", NULL, "in", "115/64" }, { "1½ in", NULL, "in", "3/2" },
  { ".025", "in", "in", "1/40" }, { ".0005\"", NULL, "in", "1/2000" }, { "25 thou", NULL, "thou", "25" }, { "3 mil", NULL, "thou", "3" },
  { "3 ft 4 in", NULL, "in", "40" }, { "0.018 inches", NULL, "in", "9/500" },
  /* metric lengths */
  { "0.635mm", NULL, "mm", "127/200" }, { "33.34 mm", "in", "mm", "1667/50" }, { "33.34", "mm", "mm", "1667/50" }, { "3 µm", NULL, "µm", "3" },
  { "3 microns", NULL, "µm", "3" }, { "2.5 cm", NULL, "cm", "5/2" }, { "+0.02 mm", NULL, "mm", "1/50" }, { "−0.02 mm", NULL, "mm", "-1/50" },
  { "1.25E-03 mm", NULL, "mm", "1/800" }, { "Ø25.01 mm", NULL, "mm", "2501/100" }, { "⌀ 25 mm", NULL, "mm", "25" },
  { ".005 in TIR", NULL, "in", "1/200" }, { "0.05 TIR", "mm", "mm", "1/20" },
  /* drills: by number, letter and fraction */
  { "#56", NULL, "in", "93/2000" }, { "No. 68", NULL, "in", "31/1000" }, { "#56 drill", "mm", "in", "93/2000" }, { "letter F", NULL, "in", "257/1000" },
  { "F drill", NULL, "in", "257/1000" }, { "1/8 drill", "mm", "in", "1/8" }, { "1/8 in drill", NULL, "in", "1/8" }, { "5 mm drill", "in", "mm", "5" },
  { "2.5 mm drill", NULL, "mm", "5/2" },
  /* angles, turns from a light seat, flats of a nut */
  { "12°30'", NULL, "deg", "25/2" }, { "12° 30′ 15″", NULL, "deg", "3001/240" }, { "12.5 deg", NULL, "deg", "25/2" }, { "12 1/2°", NULL, "deg", "25/2" },
  { "15'", "deg", "arcmin", "15" }, { "1 1/2 turns", NULL, "turns", "3/2" }, { "1½ turns", NULL, "turns", "3/2" }, { "⅛ turn", NULL, "turns", "1/8" },
  { "1 1/4", "turns", "turns", "5/4" }, { "1 1/2 turns out", NULL, "turns", "3/2" }, { "1 1/2 turns out from a light seat", NULL, "turns", "3/2" },
  { "1.5 turns from light seat", NULL, "turns", "3/2" }, { "1 flat", NULL, "deg", "60" }, { "2 flats", NULL, "deg", "120" },
  /* torque, force, stiffness, mass */
  { "35 lbf·ft", NULL, "lbf·ft", "35" }, { "35 ft-lb", NULL, "lbf·ft", "35" }, { "28 in-lb", NULL, "lbf·in", "28" }, { "48 N m", NULL, "N m", "48" },
  { "48 Nm", NULL, "N m", "48" }, { "0.49 kgf·m", NULL, "kgf m", "49/100" }, { "120 gf", NULL, "gf", "120" }, { "16 oz", "ozf", "ozf", "16" },
  { "1.2 N/mm", NULL, "N/mm", "6/5" }, { "4.2 lbf/in", NULL, "lbf/in", "21/5" }, { "6.7 g", NULL, "g", "67/10" }, { "2 lb 3 oz", NULL, "oz", "35" },
  /* pressure, flow, speed, volume, area, stress */
  { "14.7 psi", NULL, "psi", "147/10" }, { "1.2 bar", NULL, "bar", "6/5" }, { "30 in Hg", NULL, "inHg", "30" }, { "40 L/min", NULL, "L/min", "40" },
  { "10 gpm US", NULL, "gpm US", "10" }, { "10 US gal/min", NULL, "gpm US", "10" }, { "10 imperial gallons/min", NULL, "gpm imp", "10" }, { "10 gpm", "gpm imp", "gpm imp", "10" },
  { "2.5 mm/min", NULL, "mm/min", "5/2" }, { "30 cc", NULL, "cc", "30" }, { "58 mm²", NULL, "mm²", "58" }, { "0.09 sq in", NULL, "in²", "9/100" },
  { "210 GPa", NULL, "GPa", "210" }, { "11.5 ppm/K", NULL, "ppm/K", "23/2" }, { "11.5e-6 /K", NULL, "ppm/K", "23/2" }, { "11.5 µm/m/K", NULL, "ppm/K", "23/2" },
  { "1e-6 /°F", NULL, "ppm/K", "9/5" },
  /* electricity; milli is not mega */
  { "2.5 kΩ", NULL, "Ω", "2500" }, { "2.5 kohm", NULL, "Ω", "2500" }, { "9 MΩ", NULL, "Ω", "9000000" }, { "9 mΩ", NULL, "Ω", "9/1000" }, { "0.18 µF", NULL, "µF", "9/50" },
  { "0.18 mfd", NULL, "µF", "9/50" }, { "12.6 V", NULL, "V", "63/5" }, { "20 mA", NULL, "mA", "20" }, { "9 kV", NULL, "V", "9000" },
  /* time, rate, count, share, ratio */
  { "45 s", NULL, "s", "45" }, { "1 h 30 min", NULL, "min", "90" }, { "1.5 h", NULL, "min", "90" }, { "1200 rpm", NULL, "rpm", "1200" }, { "31 teeth", NULL, "teeth", "31" },
  { "75 %", NULL, "%", "75" }, { "7.5 per cent", NULL, "%", "15/2" }, { "1:2", NULL, "ratio", "1/2" }, { "3 : 4", NULL, "%", "75" }, { "3:4", "mm", "ratio", "3/4" },
  { "1.5:2.5", NULL, "ratio", "3/5" },
  /* temperature and its difference are two kinds */
  { "70 °F", NULL, "°F", "70" }, { "21.5 °C", NULL, "°C", "43/2" }, { "10 °C difference", NULL, "Δ°C", "10" }, { "Δ10 °C", NULL, "Δ°C", "10" }, { "Δ 18 °F", NULL, "Δ°C", "10" },
  { "10 Δ°C", NULL, "Δ°C", "10" },
};

/* Feelers and crush strips: from the lower end to the upper, in inches. */
static const struct {
  const char *typed, *default_unit, *low, *high;
} brackets[] = {
  { ".010 goes, .012 does not", "in", "1/100", "3/250" }, { ".010 in goes, .012 in doesn't", NULL, "1/100", "3/250" },
  { ".012 does not go, .010 goes", "in", "1/100", "3/250" }, { "0.254 mm goes, 0.508 mm no-go", NULL, "1/100", "1/50" },
  { ".001 .. .003 in", NULL, "1/1000", "3/1000" }, { ".001 to .003 in", NULL, "1/1000", "3/1000" }, { "between .001 and .003 in", NULL, "1/1000", "3/1000" },
  { "between .001 in and .003", "mm", "1/1000", "3/1000" }, { "10..12 thou", NULL, "1/100", "3/250" }, { "1/64 to 1/32 in", NULL, "1/64", "1/32" },
};

/* What has a point in a comma's country. */
static char *
swap_marks (const char *typed)
{
  g_autoptr(GRegex) regex = g_regex_new ("(?<!\\.)\\.(?=\\d)", 0, 0, NULL);

  return g_regex_replace_literal (regex, typed, -1, 0, ",", 0, NULL);
}

static void
check_end (const char *typed, const PawlUnit *unit, const mpq_t base, const char *expected)
{
  mpq_t value, wanted;

  mpq_inits (value, wanted, NULL);
  testing_set (wanted, expected);
  pawl_unit_from_base (unit, base, value);
  if (!mpq_equal (value, wanted))
    g_error ("“%s” is %.17g %s, not %s", typed, mpq_get_d (value), pawl_unit_get_symbol (unit), expected);
  mpq_clears (value, wanted, NULL);
}

static PawlQuantity *
parse (const char *typed, const char *default_unit, char mark)
{
  const PawlTyping typing = testing_typing (default_unit, mark);
  g_autoptr(GError) error = NULL;
  PawlQuantity *quantity = pawl_quantity_parse (typed, &typing, &error);

  if (quantity == NULL)
    g_error ("“%s”: %s", typed, error->message);
  g_assert_cmpstr (pawl_quantity_get_typed (quantity), ==, typed);
  return quantity;
}

static void
check_value (const char *typed, const char *default_unit, char mark, const char *symbol, const char *low_wanted, const char *high_wanted)
{
  const PawlUnit *unit = pawl_unit_lookup (symbol);
  g_autoptr(PawlQuantity) quantity = parse (typed, default_unit, mark);
  mpq_t low, high;

  g_assert_cmpint (pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)), ==, pawl_unit_get_dimension (unit));
  g_assert_cmpint (pawl_quantity_is_interval (quantity), ==, low_wanted != high_wanted);
  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  check_end (typed, unit, low, low_wanted);
  check_end (typed, unit, high, high_wanted);
  mpq_clears (low, high, NULL);
}

/* A mark of the other habit is never taken, nor passed over. */
static void
check_refused (const char *typed, const char *default_unit, char mark)
{
  const PawlTyping typing = testing_typing (default_unit, mark);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (typed, &typing, &error);

  if (quantity != NULL)
    g_error ("“%s” is taken where the decimal mark is %c", typed, mark);
  g_assert_true (error->domain == PAWL_READING_ERROR && g_str_has_prefix (error->message, "at character "));
}

/* With a point, and with a comma where there is one to put; and either refused by the other. */
static void
check_both (const char *typed, const char *default_unit, const char *unit, const char *low, const char *high)
{
  g_autofree char *swapped = swap_marks (typed);

  check_value (typed, default_unit, '.', unit, low, high);
  check_value (swapped, default_unit, ',', unit, low, high);
  if (g_str_equal (swapped, typed))
    return;
  check_refused (typed, default_unit, ',');
  check_refused (swapped, default_unit, '.');
}

static void
test_good (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    check_both (good[i].typed, good[i].default_unit, good[i].unit, good[i].value, good[i].value);
}

static void
test_brackets (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (brackets); i++)
    check_both (brackets[i].typed, brackets[i].default_unit, "in", brackets[i].low, brackets[i].high);
}

static const struct {
  const char      *typed;
  const char      *default_unit;
  PawlReadingError code;
  guint            place;
  const char      *cure; /* what the sentence would have written instead */
} bad[] = {
  /* two readings could be meant */
  { "1.125", NULL, PAWL_READING_ERROR_AMBIGUOUS, 1, "1.125 in, 1.125 mm" }, { "27/32", "mm", PAWL_READING_ERROR_AMBIGUOUS, 1, "27/32 in" },
  { "10 gpm", NULL, PAWL_READING_ERROR_AMBIGUOUS, 4, "gpm US or gpm imp" }, { "1 pint", NULL, PAWL_READING_ERROR_AMBIGUOUS, 3, "pt US or pt imp" },
  { "68 drill", "mm", PAWL_READING_ERROR_AMBIGUOUS, 4, "#68" }, { "3 to 4", "ratio", PAWL_READING_ERROR_AMBIGUOUS, 1, "3:4" },
  { "1:30", "min", PAWL_READING_ERROR_AMBIGUOUS, 2, "1 h 30 min" }, { "0.1...5 mm", NULL, PAWL_READING_ERROR_AMBIGUOUS, 4, ".010 .. .012 in" },
  { "1⁵⁄16 in", NULL, PAWL_READING_ERROR_UNKNOWN_UNIT, 2, "1 5/16 in" }, { "3 in 5/16", NULL, PAWL_READING_ERROR_AMBIGUOUS, 6, "1 5/16 in" },
  /* no number, or more than one */
  { "about 25 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 1, "0.635 mm" }, { "one inch", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 1, "1 5/16 in" },
  { "1'250 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 2, "1200" }, { "1 250 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 2, "1200" },
  { "1.2.3 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 4, "1234.5" }, { "1/2/3 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 4, "1 5/16" },
  { "5/0 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 3, "5/16" }, { "1:0", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 3, "3:4" }, { "1:", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 3, "12.5" },
  { "1 mm:2 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 5, "1 5/16 in" }, { "1 7/5 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 6, "1 5/16" },
  { "#81", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 2, "#56" }, { "5 psi drill", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 7, "1 5/16 in" },
  { "Δ10 mm", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 2, "Δ10 °C" }, { "5 lbf at 1 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 7, "1 5/16 in" },
  { "10° BTDC", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 5, "33.34 mm" }, { "5 psi TIR", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 7, "33.34 mm" },
  { "1 turn from here", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 8, "33.34 mm" }, { "", NULL, PAWL_READING_ERROR_EMPTY, 0, "0.635 mm" },
  /* a unit that is none */
  { "25 furlongs", NULL, PAWL_READING_ERROR_UNKNOWN_UNIT, 4, "0.635 mm" }, { "5 tenths", "in", PAWL_READING_ERROR_UNKNOWN_UNIT, 3, ".025 in" },
  /* brackets that are none */
  { "12..10 thou", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 5, "10..12 thou" }, { ".003 to .001 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 9, "10..12 thou" },
  { "between .001 in", NULL, PAWL_READING_ERROR_NOT_A_NUMBER, 16, "between .001 and .003 in" }, { ".010 goes", "in", PAWL_READING_ERROR_EMPTY, 10, ".025 in" },
  { ".012 goes, .010 does not", "in", PAWL_READING_ERROR_NOT_A_NUMBER, 12, ".010 goes, .012 does not" }, { "1 in..25 N", NULL, PAWL_READING_ERROR_WRONG_DIMENSION, 7, "one kind" },
};

static void
test_bad (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      const PawlTyping typing = testing_typing (bad[i].default_unit, '.');
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_quantity_parse (bad[i].typed, &typing, &error));
      testing_assert_error (error, bad[i].code, bad[i].place, bad[i].typed);
      if (strstr (error->message, bad[i].cure) == NULL)
        g_error ("“%s”: %s", bad[i].typed, error->message);
    }
}

/* In a procedure that mixes inch and metric every bare number is asked back, whatever its default. */
static void
test_mixed (void)
{
  const PawlTyping typing = { .decimal_mark = '.', .default_unit = pawl_unit_lookup ("mm"), .is_mixed = TRUE };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) quantity = NULL;

  g_assert_null (pawl_quantity_parse ("1.125", &typing, &error));
  g_assert_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_AMBIGUOUS);
  g_clear_error (&error);
  quantity = pawl_quantity_parse ("1.125 in", &typing, &error);
  g_assert_no_error (error);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/forms/good", test_good);
  g_test_add_func ("/forms/brackets", test_brackets);
  g_test_add_func ("/forms/bad", test_bad);
  g_test_add_func ("/forms/mixed", test_mixed);
  return g_test_run ();
}
