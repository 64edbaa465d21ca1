/* Units, fractions, drills and rounding against figures from outside: each row names its source in its file. */
#include <stdio.h>

#include "check-values.h"
#include "measure/pawl-drill.h"
#include "measure/pawl-formula.h"
#include "measure/pawl-number-private.h"
#include "measure/pawl-verdict.h"

/* Rows of another part, by their id; a row that is neither checked nor named here fails. */
static gboolean
leave (const CheckRow *row, const char * const *others)
{
  if (g_strv_contains (others, row->id))
    return FALSE;
  g_error ("%s: %s: nothing checks this row", row->id, row->inputs);
}

/* ---- units ---- */

/* What the figures call a unit, and what is typed here; the others go by one name. */
static const char *
find_unit_name (const char *name)
{
  static const struct { const char *name, *typed; } names[] = {
    { "mil (thou, 0.001 in)", "thou" }, { "microinch", "µin" }, { "micron", "µm" }, { "um", "µm" }, { "ounce-force (avoirdupois)", "ozf" },
    { "kilogram-force", "kgf" }, { "pound-force foot", "lbf·ft" }, { "pound-force inch", "lbf·in" }, { "ounce-force inch", "ozf·in" },
    { "ounce force inch", "ozf·in" }, { "kilogram-force metre", "kgf m" }, { "inch of water, conventional", "inH2O" },
    { "millimetre of water, conventional", "mmH2O" }, { "inch of mercury (32 degF)", "inHg at 32 °F" },
    { "inch of mercury (60 degF)", "inHg at 60 °F" }, { "foot of water, conventional", "ftH2O" }, { "standard atmosphere", "atm" },
    { "technical atmosphere (kgf/cm2)", "kgf/cm²" }, { "Imperial fluid ounce", "fl oz imp" }, { "US liquid quart", "qt US" },
    { "US liquid pint", "pt US" }, { "usfloz", "fl oz US" }, { "pound (avoirdupois)", "lb" }, { "ounce (avoirdupois)", "oz" },
    { "horsepower (550 ft lbf/s)", "hp" }, { "horsepower", "hp" }, { "horsepower (metric)", "PS" }, { "cubic inch", "in³" }, { "grain", "gr" },
    { "lbf ft", "lbf·ft" }, { "degF", "°F" }, { "degC", "°C" }, { "minute of arc", "arcmin" }, { "second of arc", "arcsec" }, { "revolution", "turns" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (names[i].name, name))
      return names[i].typed;
  return name;
}

static PawlQuantity *
make (const CheckRow *row, const char *number, const char *name)
{
  const PawlUnit *unit = pawl_unit_lookup (find_unit_name (name));
  PawlQuantity *quantity;
  mpq_t value;

  if (unit == NULL)
    g_error ("%s: no unit “%s”", row->id, name);
  mpq_init (value);
  g_assert_true (check_set_number (value, number));
  quantity = pawl_quantity_new (value, unit);
  mpq_clear (value);
  return quantity;
}

/* An angle as its plain number is a function of formulas. */
static void
check_radians (const CheckRow *row, const char *name)
{
  static const char * const none[] = { NULL };
  g_autofree char *text = g_strdup_printf ("rad(1 %s)", g_str_equal (name, "revolution") ? "turn" : find_unit_name (name));
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse (text, none, &error);
  g_autoptr(PawlQuantity) quantity = NULL;

  g_assert_no_error (error);
  quantity = pawl_formula_evaluate (formula, NULL, pawl_unit_lookup ("ratio"), NULL, NULL, &error);
  g_assert_no_error (error);
  check_near_quantity (row, row->expected, quantity, pawl_unit_lookup ("ratio"));
}

static gboolean
check_unit (const CheckRow *row)
{
  /* a spoon is no measure of the bench */
  static const char * const others[] = { "UNI-030", "UNI-031", NULL };
  g_autoptr(GRegex) regex = g_regex_new ("^([-0-9.]+) (.*?) (?:->|in) ([^ ]+|N m|lbf ft)$", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_autofree char *number = NULL, *from = NULL, *to = NULL;

  if (g_strv_contains (others, row->id) || !g_regex_match (regex, row->inputs, 0, &match))
    return leave (row, others);
  number = g_match_info_fetch (match, 1);
  from = g_match_info_fetch (match, 2);
  to = g_match_info_fetch (match, 3);
  if (g_str_equal (to, "rad"))
    check_radians (row, from);
  else
    {
      g_autoptr(PawlQuantity) quantity = make (row, number, from);

      check_near_quantity (row, row->expected, quantity, pawl_unit_lookup (find_unit_name (to)));
    }
  return TRUE;
}

/* ---- fractions ---- */

static PawlQuantity *
parse (const CheckRow *row, const char *typed)
{
  g_autoptr(GError) error = NULL;
  PawlQuantity *quantity = pawl_quantity_parse (typed, NULL, &error);

  if (quantity == NULL)
    g_error ("%s: “%s”: %s", row->id, typed, error->message);
  return quantity;
}

/* Parts of an inch, 2 to the power @power of them, by the rounding that is used everywhere. */
static void
set_nearest (const PawlQuantity *quantity, guint power, mpq_t fraction)
{
  mpq_t inches, unused;
  mpz_t rounded;

  mpq_inits (inches, unused, NULL);
  mpz_init (rounded);
  pawl_quantity_get_base (quantity, inches, unused);
  pawl_unit_from_base (pawl_unit_lookup ("in"), inches, inches);
  mpq_mul_2exp (inches, inches, power);
  pawl_number_round (rounded, inches, 0);
  mpq_set_z (fraction, rounded);
  mpq_div_2exp (fraction, fraction, power);
  mpq_clears (inches, unused, NULL);
  mpz_clear (rounded);
}

static void
check_nearest (const CheckRow *row, const char *typed, gboolean wants_error)
{
  g_autoptr(PawlQuantity) quantity = parse (row, typed);
  mpq_t fraction, low, high;

  mpq_inits (fraction, low, high, NULL);
  set_nearest (quantity, strstr (row->inputs, "1/32") != NULL ? 5 : 6, fraction);
  if (wants_error)
    {
      pawl_quantity_get_base (quantity, low, high);
      pawl_unit_from_base (pawl_unit_lookup ("in"), low, low);
      mpq_sub (fraction, low, fraction);
    }
  check_near (row, row->expected, fraction);
  mpq_clears (fraction, low, high, NULL);
}

static void
check_formula_in (const CheckRow *row, const char *text, const PawlUnit *unit)
{
  static const char * const none[] = { NULL };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse (text, none, &error);
  g_autoptr(PawlQuantity) quantity = NULL;

  if (formula == NULL || !pawl_formula_check (formula, NULL, unit, &error) || !(quantity = pawl_formula_evaluate (formula, NULL, unit, NULL, NULL, &error)))
    g_error ("%s: “%s”: %s", row->id, text, error->message);
  check_near_quantity (row, row->expected, quantity, unit);
}

/* (transfer full) (nullable): @inputs by @pattern, its groups put in for $1… of @text. */
static char *
rewrite (const char *inputs, const char *pattern, const char *text)
{
  g_autoptr(GRegex) regex = g_regex_new (pattern, 0, 0, NULL);

  return g_regex_match (regex, inputs, 0, NULL) ? g_regex_replace (regex, inputs, -1, 0, text, 0, NULL) : NULL;
}

static gboolean
check_fraction (const CheckRow *row)
{
  static const char * const others[] = { NULL };
  static const struct { const char *pattern, *text; } formulas[] = {
    { "^(?:mixed number )?(?:([0-9]+) )?([0-9]+)/([0-9]+) in ([-+/]) ([0-9.]+)( mm)?$", "(\\2/\\3) * 1 in \\4 \\5\\6" },
    { "^mean of ([0-9.]+), ([0-9.]+), ([0-9.]+) in$", "mean(\\1 in, \\2 in, \\3 in)" },
    { "^inch micrometer: sleeve ([0-9.]+), ([0-9]+) quarter marks \\(0.025\\), thimble ([0-9]+), vernier ([0-9]+)$",
      "\\1 in + \\2 * 0.025 in + \\3 * 0.001 in + \\4 * 0.0001 in" },
    { "^metric micrometer: sleeve ([0-9]+) mm, half-mm line visible ([01]), thimble ([0-9]+)$", "\\1 mm + \\2 * 0.5 mm + \\3 * 0.01 mm" },
  };
  g_autofree char *typed = rewrite (row->inputs, "^(?:mixed number )?([0-9 ]+/[0-9]+ in) as (?:decimal inch.*|mm)$", "\\1");
  g_autofree char *nearest = rewrite (row->inputs, "^(?:decimal )?([0-9.]+ (?:in|mm)) to nearest 1/(?:64|32) in(?:: fraction in lowest terms)?$", "\\1");
  g_autofree char *off = rewrite (row->inputs, "^decimal ([0-9.]+ in) to nearest 1/(?:64|32) in: signed error.*$", "\\1");

  if (typed != NULL)
    {
      g_autoptr(PawlQuantity) quantity = parse (row, typed);

      check_near_quantity (row, row->expected, quantity, pawl_unit_lookup (row->unit));
      return TRUE;
    }
  if (nearest != NULL || off != NULL)
    {
      check_nearest (row, nearest != NULL ? nearest : off, off != NULL);
      return TRUE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (formulas); i++)
    {
      g_autofree char *text = rewrite (row->inputs, formulas[i].pattern, formulas[i].text);

      if (text == NULL)
        continue;
      check_formula_in (row, text, pawl_unit_lookup (row->unit));
      return TRUE;
    }
  return leave (row, others);
}

/* ---- drills ---- */

static void
check_largest_drill (const CheckRow *row, const char *most)
{
  g_autofree char *name = NULL;
  const char *plain;
  mpq_t bound, size;

  mpq_inits (bound, size, NULL);
  g_assert_true (check_set_number (bound, most));
  name = pawl_drill_find_largest (bound, size);
  g_assert_nonnull (name);
  plain = g_str_has_prefix (name, "letter ") ? name + strlen ("letter ") : name;
  if (!g_str_equal (plain, row->expected) || mpq_cmp (size, bound) > 0)
    g_error ("%s: %s: %s, not %s (source: %s)", row->id, row->inputs, name, row->expected, row->source);
  mpq_clears (bound, size, NULL);
}

static gboolean
check_drill (const CheckRow *row)
{
  static const char * const others[] = { NULL };
  g_autofree char *most = rewrite (row->inputs, "^largest number/letter/fraction.* not larger than ([0-9.]+) in$", "\\1");
  g_autofree char *typed = rewrite (row->inputs, "^(?:number drill (#[0-9]+)|letter drill ([A-Z])) diameter$", "\\1\\2");
  g_autofree char *drill = typed != NULL && *typed != '#' ? g_strdup_printf ("letter %s", typed) : g_strdup (typed);
  g_autoptr(PawlQuantity) quantity = NULL;

  if (most != NULL)
    {
      check_largest_drill (row, most);
      return TRUE;
    }
  if (typed == NULL)
    return leave (row, others);
  quantity = parse (row, drill);
  check_near_quantity (row, row->expected, quantity, pawl_unit_lookup (row->unit));
  return TRUE;
}

/* ---- rounding ---- */

/* Half to even, to a multiple of @range. */
static void
check_rounded (const CheckRow *row, const char *number, const char *range, const char *expected)
{
  mpq_t value, step;
  mpz_t rounded;

  mpq_inits (value, step, NULL);
  mpz_init (rounded);
  g_assert_true (check_set_number (value, number) && check_set_number (step, range));
  mpq_div (value, value, step);
  pawl_number_round (rounded, value, 0);
  mpq_set_z (value, rounded);
  mpq_mul (value, value, step);
  check_near (row, expected, value);
  mpq_clears (value, step, NULL);
  mpz_clear (rounded);
}

static gboolean
check_rounding (const CheckRow *row)
{
  static const char * const others[] = { NULL };
  g_autoptr(GRegex) regex = g_regex_new ("^(?:round )?(-?[0-9.]+) (?:rounded in one step )?to (?:the last digit of |range )?([0-9.]+)", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_autofree char *number = NULL, *range = NULL;
  g_auto(GStrv) expected = g_strsplit (row->expected, " / ", 2); /* half to even / half away from zero, which is done nowhere */

  if (g_str_has_prefix (row->inputs, "value "))
    return FALSE; /* a value with its uncertainty */
  if (!g_regex_match (regex, row->inputs, 0, &match))
    return leave (row, others);
  number = g_match_info_fetch (match, 1);
  range = g_match_info_fetch (match, 2);
  check_rounded (row, number, range, expected[0]);
  return TRUE;
}

/* ---- practice: verdicts, and what a feeler tells ---- */

static void
check_verdict (const CheckRow *row, const char *bore, const char *piston, const char *low, const char *high)
{
  static const char * const names[] = { "bore", "piston", NULL };
  g_autoptr(PawlQuantity) outer = make (row, bore, "mm"), inner = make (row, piston, "mm"), clearance = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse ("bore - piston", names, NULL);
  g_autofree char *text = g_strdup_printf ("%s..%s mm", low, high);
  g_autoptr(PawlLimits) limits = pawl_limits_parse (text, NULL, NULL);
  const PawlFormulaInput inputs[] = { { outer, 0 }, { inner, 0 } };
  PawlVerdict verdict;

  clearance = pawl_formula_evaluate (formula, inputs, pawl_unit_lookup ("mm"), NULL, NULL, NULL);
  g_assert_true (pawl_verdict_of (limits, clearance, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, NULL));
  g_assert_cmpstr (verdict.kind == PAWL_VERDICT_IN ? "within" : verdict.side == PAWL_SIDE_ABOVE ? "above" : "below", ==, row->expected);
}

static void
check_feeler (const CheckRow *row, const char *goes, const char *does_not)
{
  g_autofree char *typed = g_strdup_printf ("%s in goes, %s in does not", goes, does_not);
  g_autoptr(PawlQuantity) quantity = parse (row, typed);
  g_auto(GStrv) expected = g_strsplit (row->expected, " ", -1); /* 0.006 <= c < 0.007 */
  mpq_t low, high;

  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  pawl_unit_from_base (pawl_unit_lookup ("in"), low, low);
  pawl_unit_from_base (pawl_unit_lookup ("in"), high, high);
  check_near (row, expected[0], low);
  check_near (row, expected[4], high);
  mpq_clears (low, high, NULL);
}

/* The other rows are sums of the bench. */
static gboolean
check_practice (const CheckRow *row)
{
  char a[16], b[16], c[16], d[16];

  if (sscanf (row->inputs, "bore %15s mm, piston %15s mm against %15[0-9.]-%15[0-9.] mm: verdict", a, b, c, d) == 4)
    check_verdict (row, a, b, c, d);
  else if (sscanf (row->inputs, "feeler goes at %15s in, next blade %15s in does not", a, b) == 2)
    check_feeler (row, a, b);
  else
    return FALSE;
  return TRUE;
}

/* ---- gauges: what a reading is corrected by, and U against the tolerance ---- */

/* An instrument whose U is @expanded: 2 e / √3. It has no exact form, so the ratio is held to 12 digits. */
static void
check_uncertainty_ratio (const CheckRow *row, const char *tolerance, const char *expanded)
{
  g_autofree char *text = g_strdup_printf ("0 mm ± %s", tolerance);
  g_autofree char *error = g_strdup_printf ("%.17f mm", g_ascii_strtod (expanded, NULL) * sqrt (3) / 2);
  g_autoptr(PawlLimits) limits = pawl_limits_parse (text, NULL, NULL);
  g_autoptr(PawlQuantity) max_error = parse (row, error);
  PawlInstrument instrument = { .max_error = max_error };
  double share, expected = g_ascii_strtod (row->expected, NULL);
  /* the usual line of the note, 4 to 1 */
  gboolean is_coarse = pawl_instrument_is_too_coarse (&instrument, limits, &share);

  g_assert_cmpfloat_with_epsilon (1 / share, expected, 1e-12 * expected);
  g_assert_true (is_coarse == (expected < 4));
}

/* Rows of tables that this program has not: what a standard or a maker permits an instrument is typed from its certificate. And of a gauge study. */
static gboolean
is_left (const CheckRow *row)
{
  static const char * const beginnings[] = { "gauge block grade ", "external micrometer, ", "caliper, ", "plug gauge gagemaker ", "AIAG ", "total tolerance " };

  for (gsize i = 0; i < G_N_ELEMENTS (beginnings); i++)
    if (g_str_has_prefix (row->inputs, beginnings[i]))
      return TRUE;
  return FALSE;
}

static gboolean
check_gauge (const CheckRow *row)
{
  static const char * const none[] = { NULL };
  g_autofree char *corrected = rewrite (row->inputs, "^reading ([0-9.]+), gauge reads (-?[0-9.]+) with the anvils closed: corrected value$", "\\1 mm - (\\2 mm)");
  g_autofree char *between = rewrite (row->inputs, "^calibration: true ([0-9.]+) read ([0-9.]+), true ([0-9.]+) read ([0-9.]+); a reading of ([0-9.]+) by linear "
                                      "interpolation$", "(\\1 + (\\5 - \\2) / (\\4 - \\2) * (\\3 - \\1)) * 1 mm");
  char tolerance[16], expanded[16];

  if (sscanf (row->inputs, "tolerance +/-%15[0-9.], expanded uncertainty %15[0-9.]: test uncertainty ratio", tolerance, expanded) == 2)
    check_uncertainty_ratio (row, tolerance, expanded);
  else if (corrected != NULL || between != NULL)
    check_formula_in (row, corrected != NULL ? corrected : between, pawl_unit_lookup ("mm"));
  else
    return is_left (row) ? FALSE : leave (row, none);
  return TRUE;
}

static void test_gauges (void)    { check_values ("gauges.csv", check_gauge); }
static void test_practice (void)  { check_values ("practice.csv", check_practice); }
static void test_units (void)     { check_values ("units.csv", check_unit); }
static void test_fractions (void) { check_values ("fractions.csv", check_fraction); }
static void test_drills (void)    { check_values ("drills.csv", check_drill); }
static void test_rounding (void)  { check_values ("rounding.csv", check_rounding); }

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/check-values/units", test_units);
  g_test_add_func ("/measure/check-values/fractions", test_fractions);
  g_test_add_func ("/measure/check-values/drills", test_drills);
  g_test_add_func ("/measure/check-values/practice", test_practice);
  g_test_add_func ("/measure/check-values/gauges", test_gauges);
  g_test_add_func ("/measure/check-values/rounding", test_rounding);
  return g_test_run ();
}
