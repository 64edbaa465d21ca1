/* Conversions against published factors. Each group of rows names its source, and how that was seen. */
#include <string.h>

#include "testing.h"

/* A printed value that is cut off stands within @tolerance of the exact one; relative where @is_relative. */
static const struct {
  const char *id;
  const char *typed;
  const char *unit;
  const char *expected;
  double      tolerance;
  gboolean    is_relative;
} rows[] = {
  /* NIST SP 811 (2008) App. B.9; seen in a public code base (third-party copy of the SP 811 App. B.9 list; NIST page itself not opened) */
  { "UNI-001", "1 in", "m", "0.0254", 1e-14, TRUE },
  { "UNI-002", "1 mil", "m", "0.0000254", 1e-14, TRUE },
  { "UNI-003", "1 microinch", "m", "0.0000000254", 1e-14, TRUE },
  { "UNI-007", "1 ozf", "N", "0.27801385095378125", 1e-14, TRUE },
  { "UNI-008", "1 kgf", "N", "9.80665", 1e-14, TRUE },
  /* NIST SP 811 (2008) App. B.9; seen in a public code base (third-party comments quoting NIST factors) */
  { "UNI-010", "1 lbf ft", "N m", "1.3558179483314004", 1e-14, TRUE },
  /* NIST SP 811 (2008) App. B.9; seen in a public code base (third-party tests quoting SP 811 App. B.8) */
  { "UNI-011", "1 lbf in", "N m", "0.1129848290276167", 1e-14, TRUE },
  /* NIST SP 811 (2008) App. B.9; seen in a public code base (third-party comments quoting NIST factors) */
  { "UNI-012", "1 ozf in", "N m", "0.0070615518142260437", 1e-14, TRUE },
  { "UNI-013", "1 kgf m", "N m", "9.80665", 1e-14, TRUE },
  /* NIST SP 811 (2008) App. B.9; seen in a public code base (third-party copy of the SP 811 App. B.9 list; NIST page itself not opened) */
  { "UNI-017", "1 inH2O", "Pa", "249.08891", 1e-14, TRUE },
  { "UNI-018", "1 mmH2O", "Pa", "9.80665", 1e-14, TRUE },
  { "UNI-022", "1 kgf/cm2", "Pa", "98066.5", 1e-14, TRUE },
  { "UNI-023", "1 bar", "Pa", "100000", 1e-14, TRUE },
  { "UNI-027", "1 fl oz imp", "mL", "28.4130625", 1e-14, TRUE },
  { "UNI-032", "1 lb", "kg", "0.45359237", 1e-14, TRUE },
  { "UNI-033", "1 oz", "kg", "0.028349523125", 1e-14, TRUE },
  /* exact: (25.4 mm)^n; SP 811 App. B prints 1.638 706 E-05 m3; from memory that SP 811 prints it; value itself follows from in = 25.4 mm */
  { "UNI-047", "1 in3", "cm3", "16.387064", 1e-14, TRUE },
  /* definitions as in SP 811 (in = 25.4 mm, lb = 0.45359237 kg, gn = 9.80665 m/s2); computed with exact rationals; cross-checked with GNU
     units 2.22 here */
  { "UNI-048", "0.0015 in", "mm", "0.0381", 1e-12, TRUE },
  { "UNI-049", "0.4375 in", "mm", "11.1125", 1e-12, TRUE },
  { "UNI-050", "0.0001 in", "micron", "2.54", 1e-12, TRUE },
  { "UNI-051", "0.05 mm", "mil", "1.968503937007874", 1e-12, TRUE },
  { "UNI-052", "12.7 mm", "in", "0.5", 1e-12, TRUE },
  { "UNI-053", "3.175 mm", "in", "0.125", 1e-12, TRUE },
  { "UNI-057", "65 N m", "lbf ft", "47.94153970302225", 1e-12, TRUE },
  { "UNI-058", "1.2 kgf m", "N m", "11.76798", 1e-12, TRUE },
  { "UNI-059", "40 ozf in", "N m", "0.2824620725690417", 1e-12, TRUE },
  { "UNI-060", "7 psi", "kPa", "48.26330105217853", 1e-12, TRUE },
  { "UNI-061", "18 inHg", "kPa", "60.954995526138", 1e-12, TRUE },
  { "UNI-062", "250 kPa", "psi", "36.2594344325523", 1e-12, TRUE },
  { "UNI-063", "5 US fl oz", "mL", "147.8676478125", 1e-12, TRUE },
  /* SP 811 App. B.9: t/C = (t/F - 32)/1.8; seen in a public code base (third-party copy of the SP 811 App. B.9 list; NIST page itself not opened) */
  { "UNI-069", "-40 degF", "degC", "-40", 1e-9, FALSE },
  { "UNI-070", "32 degF", "degC", "0", 1e-9, FALSE },
  { "UNI-071", "68 degF", "degC", "20", 1e-9, FALSE },
  { "UNI-072", "70 degF", "degC", "21.11111111111111", 1e-9, FALSE },
  { "UNI-073", "212 degF", "degC", "100", 1e-9, FALSE },
};

static gboolean
is_near (const mpq_t value, const mpq_t expected, double tolerance, gboolean is_relative)
{
  mpq_t error, bound;
  gboolean is_within;

  mpq_inits (error, bound, NULL);
  mpq_sub (error, value, expected);
  mpq_abs (error, error);
  mpq_set_d (bound, tolerance);
  if (is_relative)
    mpq_mul (bound, bound, expected);
  mpq_abs (bound, bound);
  is_within = mpq_cmp (error, bound) <= 0;
  mpq_clears (error, bound, NULL);
  return is_within;
}

static void
test_factors (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (rows[i].typed, NULL);
      const PawlUnit *unit = pawl_unit_lookup (rows[i].unit);
      mpq_t low, high, expected;

      g_assert_nonnull (unit);
      g_assert_cmpint (pawl_unit_get_dimension (unit), ==, pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)));
      mpq_inits (low, high, expected, NULL);
      testing_set (expected, rows[i].expected);
      pawl_quantity_get_base (quantity, low, high);
      pawl_unit_from_base (unit, low, low);
      if (!is_near (low, expected, rows[i].tolerance, rows[i].is_relative))
        g_test_message ("%s: %s", rows[i].id, rows[i].typed);
      g_assert_true (is_near (low, expected, rows[i].tolerance, rows[i].is_relative));
      mpq_clears (low, high, expected, NULL);
    }
}

/* What is exact by definition is exact here, to the last digit. */
static void
test_exact (void)
{
  static const char * const exact[][3] = {
    { "1 in", "mm", "25.4" }, /* UNI-001, NIST SP 811 (2008) App. B.9, seen in a third-party copy */
    { "1 thou", "µm", "25.4" },
    { "1 5/16 in", "mm", "33.3375" },
    { "1 lbf", "N", "4.4482216152605" }, /* a thousandth of UNI-009, NIST SP 811 (2008) App. B.9, seen in a third-party copy */
    { "1 inHg", "Pa", "3386.388640341" }, /* 13.5951 · 9.80665 · 25.4; an eighteenth of UNI-061, computed with exact rationals */
    { "760 mmHg", "Pa", "101325.0144354" }, /* conventional: not quite the atmosphere of 101 325 Pa that defines the torr */
    { "1 fl oz US", "mL", "29.5735295625" }, /* a sixteenth of UNI-029, the US liquid pint: NIST SP 811, seen in a third-party copy */
    { "70 °F", "°C", "190/9" },
    { "68 °F", "K", "293.15" },
    { "9 Δ°F", "Δ°C", "5" },
    { "1 turn", "deg", "360" },
    { "12°30'15\"", "arcsec", "45015" },
    { "1 N/mm", "N/m", "1000" },
    { "2 d", "s", "172800" },
    { "50 %", "ratio", "1/2" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (exact); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (exact[i][0], NULL);

      testing_assert_value (quantity, exact[i][1], exact[i][2]);
    }
}

/* The conventional inch of mercury is neither of the measured ones: UNI-042 (32 °F, 3386.38 Pa) and UNI-043 (60 °F, 3376.85 Pa),
   NIST SP 811 (2008) App. B.9, seen in a public code base (third-party copy of the list). */
static void
test_mercury (void)
{
  g_autoptr(PawlQuantity) mercury = testing_parse ("1 inHg", NULL);
  double pascals = pawl_quantity_get_double (mercury, pawl_unit_lookup ("Pa"));

  g_assert_cmpfloat (pascals, >, 3386.385);
  g_assert_cmpfloat (pascals, <, 3386.395);
}

static void
test_lookup (void)
{
  static const char * const unknown[] = { "", " ", "furlong", "fl oz", "'", "mm mm", "2 mm", "mm4", "nm", "mpa", "\377", "inlb/" };
  static const char * const known[] = { "in", "mm", "thou", "deg", "turns", "N m", "lbf·ft", "lbf·in", "psi", "g", "°C", "kΩ", "µF", "1", "ratio", "%", "rpm" };

  for (gsize i = 0; i < G_N_ELEMENTS (unknown); i++)
    g_assert_null (pawl_unit_lookup (unknown[i]));
  g_assert_null (pawl_unit_lookup (NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (known); i++)
    g_assert_nonnull (pawl_unit_lookup (known[i]));
  g_assert_true (pawl_unit_lookup ("ft-lb") == pawl_unit_lookup ("lbf·ft"));
  g_assert_true (pawl_unit_lookup ("MΩ") != pawl_unit_lookup ("mΩ"));
  g_assert_true (pawl_unit_lookup ("inches") == pawl_unit_lookup ("\""));
}

static const struct {
  const char *typed;
  const char *format;
  const char *beside; /* (nullable) */
} printed[] = {
  { "1 5/16 in", "1.3125 in", "33.3375 mm" },
  { "33.3375 mm", "33.3375 mm", "1.3125 in" },
  { "10 mm", "10 mm", "≈ 0.3937 in" },
  { "0.05 mm", "0.05 mm", "≈ 0.00197 in" }, /* UNI-051: 1.968503937 thou */
  { "0.002 mm", "0.002 mm", "≈ 0.0000787 in" },
  { "25 thou", "25 thou", "0.635 mm" },
  { "1/128 in", "≈ 0.00781 in", "≈ 0.198 mm" },
  { "1/64 in", "0.015625 in", "0.396875 mm" }, /* FRA-002 */
  { "1/3 turn", "≈ 0.333 turns", "120 deg" },
  { "1 turn", "1 turn", "360 deg" },
  { "1 1/2 turns", "1.5 turns", "540 deg" },
  { "65 N m", "65 N m", "≈ 47.9 lbf·ft" }, /* UNI-057: 47.94153970 */
  { "7 psi", "7 psi", "≈ 48.26 kPa" },     /* UNI-060: 48.26330105 */
  { "250 kPa", "250 kPa", "≈ 36.26 psi" }, /* UNI-062: 36.25943443 */
  { "70 °F", "70 °F", "≈ 21.1 °C" },       /* UNI-072: 21.11111111 */
  { "68 °F", "68 °F", "20 °C" },           /* UNI-071 */
  { "-40 °C", "-40 °C", "-40 °F" },        /* UNI-069 */
  { "#56", "0.0465 in", "1.1811 mm" },
  { "12°30'", "12.5 deg", NULL },
  { "1 h 30 min", "90 min", NULL },
  { "2.5 kΩ", "2.5 kΩ", NULL },
  { "1200 rpm", "1200 rpm", NULL },
  { "1 tooth", "1 tooth", NULL },
  { "0 mm", "0 mm", "0 in" },
  { "-0.002 in", "-0.002 in", "-0.0508 mm" },
  { "10 thou goes, 12 does not", "10 thou to 12 thou", "0.254 mm to 0.3048 mm" },
};

static void
test_printed (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (printed); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (printed[i].typed, NULL);
      g_autofree char *format = pawl_quantity_format (quantity, '.');
      g_autofree char *beside = pawl_quantity_format_beside (quantity, '.');
      g_autofree char *own = pawl_quantity_format_in (quantity, pawl_quantity_get_unit (quantity), '.');

      g_assert_cmpstr (format, ==, printed[i].format);
      g_assert_cmpstr (beside, ==, printed[i].beside);
      g_assert_cmpstr (own, ==, format);
    }
}

static void
test_comma (void)
{
  g_autoptr(PawlQuantity) quantity = testing_parse ("1 1/4 mm", NULL);
  g_autofree char *format = pawl_quantity_format (quantity, ',');
  g_autofree char *beside = pawl_quantity_format_beside (quantity, ',');

  g_assert_cmpstr (format, ==, "1,25 mm");
  g_assert_cmpstr (beside, ==, "≈ 0,0492 in");
}

static void
test_compare (void)
{
  g_autoptr(PawlQuantity) inch = testing_parse ("1 5/16 in", NULL);
  g_autoptr(PawlQuantity) same = testing_parse ("33.3375 mm", NULL);
  g_autoptr(PawlQuantity) more = testing_parse ("33.3375000000000000000001 mm", NULL);
  g_autoptr(PawlQuantity) bracket = testing_parse ("33.3374 mm goes, 33.3376 does not", NULL);

  g_assert_cmpint (pawl_quantity_compare (inch, same), ==, 0);
  g_assert_cmpint (pawl_quantity_compare (inch, more), ==, -1);
  g_assert_cmpint (pawl_quantity_compare (more, inch), ==, 1);
  g_assert_cmpint (pawl_quantity_compare (inch, bracket), ==, 0);
  g_assert_cmpfloat (pawl_quantity_get_double (inch, pawl_unit_lookup ("mm")), ==, 33.3375);
  g_assert_cmpfloat (pawl_quantity_get_double (bracket, pawl_unit_lookup ("mm")), ==, 33.3375);
}

static void
test_made (void)
{
  const PawlUnit *turns = pawl_unit_lookup ("turns");
  g_autoptr(PawlQuantity) third = NULL;
  g_autoptr(PawlQuantity) bracket = NULL;
  PawlQuantity *second_hold;
  mpq_t low, high;

  mpq_inits (low, high, NULL);
  mpq_set_si (low, 4, 3);
  mpq_set_si (high, 3, 2);
  third = pawl_quantity_new (low, turns);
  bracket = pawl_quantity_new_interval (low, high, turns);
  g_assert_cmpstr (pawl_quantity_get_typed (third), ==, "1 1/3 turns");
  g_assert_cmpstr (pawl_quantity_get_typed (bracket), ==, "1 1/3..1.5 turns");
  g_assert_false (pawl_quantity_is_interval (third));
  g_assert_true (pawl_quantity_is_interval (bracket));
  testing_assert_value (third, "deg", "480");
  second_hold = pawl_quantity_ref (third);
  pawl_quantity_unref (second_hold);
  testing_assert_value (third, "deg", "480");
  mpq_clears (low, high, NULL);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/units/factors", test_factors);
  g_test_add_func ("/units/exact", test_exact);
  g_test_add_func ("/units/mercury", test_mercury);
  g_test_add_func ("/units/lookup", test_lookup);
  g_test_add_func ("/units/printed", test_printed);
  g_test_add_func ("/units/comma", test_comma);
  g_test_add_func ("/units/compare", test_compare);
  g_test_add_func ("/units/made", test_made);
  return g_test_run ();
}
