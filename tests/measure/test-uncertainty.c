/* Uncertainty and decisions against figures from outside, each with its source in its file; repeats, policies, budgets. */
#include <stdio.h>

#include "check-values.h"
#include "measure/pawl-formula.h"
#include "measure/pawl-statistics.h"
#include "measure/pawl-verdict.h"
#include "testing.h"

static gboolean
leave (const CheckRow *row, const char * const *others)
{
  for (; *others != NULL; others++)
    if (g_str_has_prefix (row->id, *others))
      return FALSE;
  g_error ("%s: %s: nothing checks this row", row->id, row->inputs);
}

/* ---- uncertainty.csv ---- */

static gboolean
check_distribution (const CheckRow *row)
{
  double p, nu;

  if (sscanf (row->inputs, "standard normal CDF at z = %lf", &p) == 1)
    check_near_double (row, row->expected, pawl_normal_probability (p));
  else if (sscanf (row->inputs, "two-sided normal coverage factor for p = %lf", &p) == 1)
    check_near_double (row, row->expected, pawl_normal_quantile ((1 + p) / 2));
  else if (sscanf (row->inputs, "one-sided: z such that conformance probability = %lf", &p) == 1)
    check_near_double (row, row->expected, pawl_normal_quantile (p));
  else if (sscanf (row->inputs, "t_p(nu) two-sided, p = %lf, nu = %lf", &p, &nu) == 2)
    check_near_double (row, row->expected, pawl_t_quantile ((1 + p) / 2, nu));
  else
    return FALSE;
  return TRUE;
}

/* Named values with their uncertainties into a formula, as a derived reading has them. */
typedef struct {
  const char *names[9], *values[9];
  double      u[9]; /* in the value's own unit */
} Named;

static PawlQuantity *
derive (const CheckRow *row, const char *text, const Named *named, const PawlUnit *unit, double *u)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse (text, named->names, &error);
  PawlFormulaInput inputs[9];
  PawlQuantity *quantity;
  const char * const *names;
  double base_u;

  g_assert_no_error (error);
  names = pawl_formula_peek_names (formula);
  for (guint i = 0; names[i] != NULL; i++)
    for (guint j = 0; named->names[j] != NULL; j++)
      if (g_str_equal (names[i], named->names[j]))
        {
          PawlQuantity *value = testing_parse (named->values[j], NULL);
          const PawlUnit *own = pawl_quantity_get_unit (value);
          mpq_t factor, zero;

          mpq_inits (factor, zero, NULL);
          mpq_set_ui (factor, 1, 1);
          pawl_unit_to_base (own, factor, factor);
          pawl_unit_to_base (own, zero, zero);
          mpq_sub (factor, factor, zero);
          inputs[i] = (PawlFormulaInput) { value, named->u[j] * mpq_get_d (factor) };
          mpq_clears (factor, zero, NULL);
        }
  quantity = pawl_formula_evaluate (formula, inputs, unit, &base_u, NULL, &error);
  if (quantity == NULL)
    g_error ("%s: %s", row->id, error->message);
  if (u != NULL)
    {
      mpq_t one, zero;

      mpq_inits (one, zero, NULL);
      mpq_set_ui (one, 1, 1);
      pawl_unit_to_base (unit, one, one);
      pawl_unit_to_base (unit, zero, zero);
      mpq_sub (one, one, zero);
      *u = base_u / mpq_get_d (one);
      mpq_clears (one, zero, NULL);
    }
  for (guint i = 0; names[i] != NULL; i++)
    pawl_quantity_unref (inputs[i].quantity);
  return quantity;
}

/* The end gauge of GUM H.1: the model and its figures stand in each row. */
static void
check_end_gauge (const CheckRow *row)
{
  static const Named named = {
    { "ls", "d", "dalpha", "theta", "alphas", "dtheta", NULL },
    { "50000623 nm", "215 nm", "0 ppm/K", "-0.1 ΔK", "11.5 ppm/K", "0 ΔK", NULL },
    { 25, 0, 0.58, 0, 0, 0.029 },
  };
  static const double parts[] = { 5.8, 3.9, 6.7 }, parts_nu[] = { 24, 5, 8 };
  const PawlUnit *unit = pawl_unit_lookup ("µm");
  double d = sqrt (5.8 * 5.8 + 3.9 * 3.9 + 6.7 * 6.7), d_nu = pawl_effective_degrees (parts, parts_nu, 3), u, nu;
  double by_alpha = 50000623 * 0.1 * 0.58e-6, by_theta = 50000623 * 11.5e-6 * 0.029;
  const double all[] = { 25, d, by_alpha, by_theta }, all_nu[] = { 18, d_nu, 50, 2 };
  Named with_d = named;
  g_autoptr(PawlQuantity) length = NULL;

  with_d.values[0] = "50000.623 µm";
  with_d.values[1] = "0.215 µm";
  with_d.u[0] = 0.025;
  with_d.u[1] = d / 1000;
  length = derive (row, "ls + d - ls * (dalpha * theta + alphas * dtheta)", &with_d, unit, &u);
  u *= 1000;
  nu = pawl_effective_degrees (all, all_nu, 4);
  if (g_str_has_suffix (row->inputs, ": l"))
    check_near_double (row, row->expected, pawl_quantity_get_double (length, unit) * 1000);
  else if (g_str_has_suffix (row->inputs, ": u(d)"))
    check_near_double (row, row->expected, d);
  else if (strstr (row->inputs, "effective dof of u(d)") != NULL)
    check_near_double (row, row->expected, d_nu);
  else if (g_str_has_suffix (row->inputs, "contribution of dalpha"))
    check_near_double (row, row->expected, by_alpha);
  else if (g_str_has_suffix (row->inputs, "contribution of dtheta"))
    check_near_double (row, row->expected, by_theta);
  else if (strstr (row->inputs, ": combined standard uncertainty") != NULL || g_str_has_suffix (row->inputs, ": u_c as printed"))
    check_near_double (row, row->expected, u);
  else if (strstr (row->inputs, "effective degrees of freedom (16") != NULL)
    check_near_double (row, row->expected, floor (nu));
  else
    {
      g_assert_nonnull (strstr (row->inputs, "U99 = t99(16)*u_c with the printed 32 nm"));
      check_near_double (row, row->expected, pawl_t_quantile (0.995, floor (nu)) * round (u));
    }
}

static void
check_clearance (const CheckRow *row, const char *unit_name)
{
  char bore[32], shaft[32];
  g_autofree char *bore_text = NULL, *shaft_text = NULL;
  const PawlUnit *unit = pawl_unit_lookup (unit_name);
  g_autoptr(PawlQuantity) clearance = NULL;
  double u_bore, u_shaft, u;
  Named named = { { "bore", "shaft", NULL }, { NULL }, { 0 } };

  g_assert_cmpint (sscanf (row->inputs, "clearance = bore %31[0-9.] (u %lf) - shaft %31[0-9.] (u %lf)", bore, &u_bore, shaft, &u_shaft), ==, 4);
  named.values[0] = bore_text = g_strdup_printf ("%s %s", bore, unit_name);
  named.values[1] = shaft_text = g_strdup_printf ("%s %s", shaft, unit_name);
  named.u[0] = u_bore;
  named.u[1] = u_shaft;
  clearance = derive (row, "bore - shaft", &named, unit, &u);
  if (g_str_has_suffix (row->inputs, ": value"))
    check_near_quantity (row, row->expected, clearance, unit);
  else
    check_near_double (row, row->expected, u);
}

/* NIST TN 1900's thermal expansion, in the row. */
static void
check_expansion (const CheckRow *row)
{
  static const Named named = {
    { "l0", "t0", "l1", "t1", NULL }, { "1.4999 m", "288.15 K", "1.5021 m", "373.10 K", NULL }, { 0.0001, 0.02, 0.0002, 0.05 },
  };
  const PawlUnit *unit = pawl_unit_lookup ("ppm/K");
  double u;
  g_autoptr(PawlQuantity) alpha = derive (row, "(l1 - l0) / (l0 * (t1 - t0))", &named, unit, &u);

  if (g_str_has_suffix (row->inputs, ": estimate"))
    check_near_double (row, row->expected, pawl_quantity_get_double (alpha, unit) * 1e-6);
  else
    check_near_double (row, row->expected, u * 1e-6);
}

/* One reading with an instrument that is known by error and step. */
static double
get_standard (const char *reading, const char *max_error, const char *step, const char *unit)
{
  g_autoptr(PawlQuantity) value = testing_parse (reading, NULL), error_value = max_error != NULL ? testing_parse (max_error, NULL) : NULL;
  g_autoptr(PawlQuantity) step_value = step != NULL ? testing_parse (step, NULL) : NULL;
  PawlInstrument instrument = { .name = "instrument", .max_error = error_value, .step = step_value };
  g_autoptr(GError) error = NULL;
  PawlBudget budget;

  g_assert_true (pawl_budget_make (&value, 1, &instrument, pawl_unit_lookup (unit), &budget, &error));
  return budget.combined;
}

/* The twenty temperatures of GUM 4.4.3, in the row. */
static void
check_twenty (const CheckRow *row)
{
  g_auto(GStrv) words = g_strsplit (row->inputs + strlen ("20 readings "), " ", 21);
  PawlQuantity *readings[20];
  g_autoptr(PawlQuantity) mean = NULL;
  g_autoptr(GError) error = NULL;
  const PawlUnit *unit = pawl_unit_lookup ("°C");
  PawlBudget budget;

  for (guint i = 0; i < 20; i++)
    {
      g_autofree char *text = g_strdup_printf ("%s °C", g_strdelimit (words[i], ":", ' '));

      readings[i] = testing_parse (text, NULL);
    }
  g_assert_true (pawl_budget_make (readings, 20, NULL, unit, &budget, &error));
  mean = pawl_readings_get_mean (readings, 20);
  if (strstr (row->inputs, "deviation of the mean") != NULL)
    check_near_double (row, row->expected, budget.repeats);
  else if (strstr (row->inputs, "experimental standard deviation") != NULL)
    check_near_double (row, row->expected, budget.deviation);
  else
    check_near_double (row, row->expected, pawl_quantity_get_double (mean, unit));
  for (guint i = 0; i < 20; i++)
    pawl_quantity_unref (readings[i]);
}

static gboolean
check_uncertainty (const CheckRow *row)
{
  /* the exact interval of a sum of rectangles, triangular and U-shaped bounds: instruments state none of them */
  static const char * const others[] = { "UNC-053", "UNC-062", "UNC-063", NULL };
  static const double four[] = { 1, 1, 1, 1 }, ten[] = { 10, 10, 10, 10 };
  static const double u[] = { 0.1 * 1, 0.3 * 2, 0.2 * 3, 1.1 * 0.5 }, nu[] = { INFINITY, 6, 8, 3 };

  if (check_distribution (row))
    return TRUE;
  if (g_str_has_prefix (row->inputs, "GUM H.1"))
    check_end_gauge (row);
  else if (g_str_has_prefix (row->inputs, "clearance = bore"))
    check_clearance (row, row->unit);
  else if (g_str_has_prefix (row->inputs, "alpha=(L1-L0)"))
    check_expansion (row);
  else if (g_str_has_prefix (row->inputs, "20 readings"))
    check_twenty (row);
  else if (g_str_equal (row->id, "UNC-052"))
    {
      static const Named named = { { "a", "b", "c", "d", NULL }, { "1 mm", "1 mm", "1 mm", "1 mm", NULL }, { 1, 1, 1, 1 } };
      double sum_u;
      g_autoptr(PawlQuantity) sum = derive (row, "a + b + c + d", &named, pawl_unit_lookup ("mm"), &sum_u);

      check_near_double (row, row->expected, sum_u);
    }
  else if (g_str_equal (row->id, "UNC-054"))
    check_near_double (row, row->expected, pawl_effective_degrees (four, ten, 4));
  else if (g_str_equal (row->id, "UNC-055"))
    check_near_double (row, row->expected, pawl_effective_degrees (u, nu, 4));
  else if (g_str_equal (row->id, "UNC-056"))
    check_near_double (row, row->expected, get_standard ("16.52 ppm/K", "0.40 ppm/K", NULL, "ppm/K") * 1e-6);
  else if (g_str_equal (row->id, "UNC-057")) /* 14e-6 of 0.928571 V and 2e-6 of 1 V make 15 µV, as the row's note has it */
    check_near_double (row, row->expected, get_standard ("928.571 mV", "0.015 mV", NULL, "mV") * 1000);
  else if (g_str_equal (row->id, "UNC-061"))
    check_near_double (row, row->expected, get_standard ("1 in", NULL, "0.0001 in", "in"));
  else
    return leave (row, others);
  return TRUE;
}

/* ---- decision.csv ---- */

static PawlVerdict
judge (const char *limits_text, const char *reading_text, double u, PawlPolicy policy)
{
  PawlTyping typing = { .decimal_mark = '.', .default_unit = pawl_unit_lookup ("mm") };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse (limits_text, &typing, &error);
  g_autoptr(PawlQuantity) reading = pawl_quantity_parse (reading_text, &typing, &error), step = NULL;
  PawlInstrument instrument = { .name = "instrument" };
  PawlVerdict verdict;
  mpq_t exact, square;

  g_assert_no_error (error);
  /* A step whose rectangle has the standard uncertainty wanted, u √12: what a square is taken of has to be exact, so √12 is put in to 30 places. */
  mpq_inits (exact, square, NULL);
  mpq_set_str (exact, "3464101615137754587054892683011/1000000000000000000000000000000", 10);
  mpq_canonicalize (exact);
  mpq_set_d (square, u);
  mpq_mul (exact, exact, square);
  step = pawl_quantity_new (exact, pawl_unit_lookup ("mm"));
  mpq_clears (exact, square, NULL);
  instrument.step = u > 0 ? step : NULL;
  g_assert_true (pawl_verdict_of (limits, reading, NULL, &instrument, policy, &verdict, &error));
  return verdict;
}

/* "0.0015 to 0.0035", "-inf to 0.0160", "1.3740 to inf" */
static char *
make_limits (const char *low, const char *high)
{
  if (g_str_equal (low, "-inf"))
    return g_strdup_printf ("max %s mm", high);
  return g_str_equal (high, "inf") ? g_strdup_printf ("min %s mm", low) : g_strdup_printf ("%s..%s mm", low, high);
}

static void
check_reading (const CheckRow *row, const char *low, const char *high, const char *reading, double u)
{
  static const struct { PawlVerdictKind kind; const char *word; } words[] = {
    { PAWL_VERDICT_IN, "conforming" }, { PAWL_VERDICT_OUT, "nonconforming" }, { PAWL_VERDICT_TOO_CLOSE, "undecided" },
  };
  g_autofree char *limits = make_limits (low, high);

  if (strstr (row->inputs, "conformance probability") != NULL)
    check_near_double (row, row->expected, judge (limits, reading, u, PAWL_POLICY_SIMPLE).probability);
  else
    {
      /* "exactly U inside" is decided on exact numbers in tests/measure/test-verdict.c; here √12 leaves 1e-30 of doubt */
      PawlVerdict verdict = judge (limits, reading, u * (1 - 1e-15), PAWL_POLICY_GUARD_BAND);

      for (guint i = 0; i < G_N_ELEMENTS (words); i++)
        if (words[i].kind == verdict.kind)
          g_assert_cmpstr (row->expected, ==, words[i].word);
    }
}

static gboolean
check_decision (const CheckRow *row)
{
  /* what a lot of parts does, and guard bands that no policy here has: risks over a distribution of the process, RSS and managed bands, Cpk */
  static const char * const others[] = { "DEC-003", "DEC-004", "DEC-005", "DEC-012", "DEC-013", "DEC-016", "DEC-017", "DEC-018", "DEC-020", "DEC-022",
                                         "DEC-024", "DEC-028", "DEC-029", NULL };
  char low[32], high[32], reading[32];
  double u, mean, sigma;

  if (g_str_equal (row->id, "DEC-001"))
    check_near_double (row, row->expected, judge ("max -5.40 mm", "-5.47 mm", 0.05, PAWL_POLICY_SIMPLE).probability);
  else if (g_str_equal (row->id, "DEC-002"))
    check_near_double (row, row->expected, judge ("12.5..16.3 mm", "13.6 mm", 1.8, PAWL_POLICY_SIMPLE).probability);
  else if (g_str_equal (row->id, "DEC-035")) /* on the acceptance limit: U inside */
    check_near_double (row, row->expected, 1 - judge ("max 10 mm", "9.8 mm", 0.1, PAWL_POLICY_GUARD_BAND).probability);
  else if (g_str_equal (row->id, "DEC-036"))
    check_near_double (row, row->expected, 1 - judge ("max 10 mm", "10 mm", 0.1, PAWL_POLICY_SIMPLE).probability);
  else if (sscanf (row->inputs, "limits %31[-0-9.] to %31[0-9.], mean %lf, sigma %lf: probability outside", low, high, &mean, &sigma) == 4
           && strstr (row->inputs, "probability outside") != NULL)
    {
      g_autofree char *limits = make_limits (low, high), *value = g_strdup_printf ("%g mm", mean);

      check_near_double (row, row->expected, 1 - judge (limits, value, sigma, PAWL_POLICY_SIMPLE).probability);
    }
  else if (sscanf (row->inputs, "limits %31[^ ] to %31[^,], reading %31[0-9.], standard uncertainty %lf", low, high, reading, &u) == 4)
    {
      g_autofree char *value = g_strdup_printf ("%s mm", reading);

      check_reading (row, low, high, value, u);
    }
  else
    return leave (row, others);
  return TRUE;
}

/* ---- rounding.csv: a value with its uncertainty ---- */

static gboolean
check_result (const CheckRow *row)
{
  double value, expanded;
  g_autofree char *text = NULL;
  g_auto(GStrv) expected = NULL;

  if (sscanf (row->inputs, "value %lf, expanded uncertainty %lf: report with two significant digits", &value, &expanded) != 2)
    return FALSE;
  text = pawl_result_format (value, expanded, pawl_unit_lookup ("mm"), '.');
  expected = g_strsplit (row->expected, " +/- ", 2);
  {
    g_autofree char *wanted = g_strdup_printf ("%s ± %s mm", expected[0], expected[1]);

    g_assert_cmpstr (text, ==, wanted);
  }
  return TRUE;
}

static void test_uncertainty (void) { check_values ("uncertainty.csv", check_uncertainty); }
static void test_decision (void)    { check_values ("decision.csv", check_decision); }
static void test_result (void)      { check_values ("rounding.csv", check_result); }

/* ---- policies ---- */

static void
test_policies (void)
{
  static const struct { const char *text; PawlPolicyKind kind; guint risk; } good[] = {
    { "simple", PAWL_DECIDES_SIMPLY, 0 }, { "guard-band", PAWL_DECIDES_BY_U, 0 }, { "proof", PAWL_DECIDES_BY_PROOF, 0 },
    { "risk 5 %", PAWL_DECIDES_BY_RISK, 50 }, { "risk 0.5 %", PAWL_DECIDES_BY_RISK, 5 }, { "risk 49.9 %", PAWL_DECIDES_BY_RISK, 499 },
  };
  static const char * const bad[] = { NULL, "", "Simple", "risk", "risk 5", "risk 0 %", "risk 50 %", "risk -5 %", "risk 0.05 %", "risk 5 % of it", "risk nan %" };

  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      PawlPolicy policy;
      g_autofree char *text = NULL, *sentence = NULL;

      g_assert_true (pawl_policy_parse (good[i].text, &policy));
      g_assert_cmpint (policy.kind, ==, good[i].kind);
      g_assert_cmpuint (policy.risk, ==, good[i].risk);
      text = pawl_policy_format (policy);
      g_assert_cmpstr (text, ==, good[i].text);
      sentence = pawl_policy_describe (policy);
      g_assert_true (g_str_has_suffix (sentence, "."));
    }
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      PawlPolicy policy;

      g_assert_false (pawl_policy_parse (bad[i], &policy));
      g_assert_cmpint (policy.kind, ==, PAWL_DECIDES_SIMPLY);
    }
}

/* One reading, u 0.1 mm, against a maximum of 10 mm, by every rule. */
static void
test_rules (void)
{
  static const struct { const char *reading; const char *policy; PawlVerdictKind kind; } cases[] = {
    { "9.99 mm", "simple", PAWL_VERDICT_IN },          { "10.01 mm", "simple", PAWL_VERDICT_OUT },
    { "9.81 mm", "guard-band", PAWL_VERDICT_TOO_CLOSE }, { "9.79 mm", "guard-band", PAWL_VERDICT_IN }, { "10.19 mm", "guard-band", PAWL_VERDICT_TOO_CLOSE },
    { "10.21 mm", "guard-band", PAWL_VERDICT_OUT },
    { "9.84 mm", "proof", PAWL_VERDICT_TOO_CLOSE },      { "9.834 mm", "proof", PAWL_VERDICT_IN },     { "10.166 mm", "proof", PAWL_VERDICT_OUT },
    /* Φ (1.645) = 0.95 */
    { "9.836 mm", "risk 5 %", PAWL_VERDICT_TOO_CLOSE },  { "9.835 mm", "risk 5 %", PAWL_VERDICT_IN },  { "10.165 mm", "risk 5 %", PAWL_VERDICT_OUT },
    { "10.0 mm", "risk 49.9 %", PAWL_VERDICT_TOO_CLOSE }, { "9.99 mm", "risk 49.9 %", PAWL_VERDICT_IN },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlPolicy policy;
      PawlVerdict verdict;

      g_assert_true (pawl_policy_parse (cases[i].policy, &policy));
      verdict = judge ("max 10 mm", cases[i].reading, 0.1, policy);
      if (verdict.kind != cases[i].kind)
        g_error ("%s by %s: %s", cases[i].reading, cases[i].policy, pawl_verdict_get_word (verdict.kind));
      g_assert_cmpint (verdict.side, ==, verdict.kind == PAWL_VERDICT_IN ? PAWL_SIDE_NEITHER : PAWL_SIDE_ABOVE);
    }
}

/* ---- repeats ---- */

static PawlVerdict
judge_set (const char *limits_text, const char * const *texts, PawlPolicy policy, PawlBudget *budget)
{
  g_autoptr(GPtrArray) readings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse (limits_text, NULL, &error);
  PawlVerdict verdict;

  for (; *texts != NULL; texts++)
    g_ptr_array_add (readings, testing_parse (*texts, "mm"));
  g_assert_true (pawl_verdict_of_set (limits, (PawlQuantity **) readings->pdata, readings->len, NULL, policy, &verdict, &error));
  g_assert_true (pawl_budget_make ((PawlQuantity **) readings->pdata, readings->len, NULL, pawl_limits_get_unit (limits), budget, &error));
  return verdict;
}

/* The mean is judged, exactly; its spread is in its uncertainty, and a few readings widen it by Student's t. */
static void
test_repeats (void)
{
  static const char * const thirds[] = { "1/3 mm", "1/3 mm", "1/3 mm", NULL }, * const three[] = { "9.9", "10.0", "10.1", NULL };
  static const char * const mixed[] = { "1 in", "25.4 mm", NULL }, * const brackets[] = { "9.9..10.1 mm", "10.1..10.3 mm", NULL };
  PawlBudget budget;
  PawlVerdict verdict = judge_set ("0.3..1/3 mm", thirds, PAWL_POLICY_GUARD_BAND, &budget);

  g_assert_cmpint (verdict.kind, ==, PAWL_VERDICT_IN); /* no spread, so on the limit */
  verdict = judge_set ("max 10.4 mm", three, PAWL_POLICY_GUARD_BAND, &budget);
  g_assert_cmpfloat_with_epsilon (budget.deviation, 0.1, 1e-12);
  g_assert_cmpfloat_with_epsilon (budget.repeats, 0.1 / sqrt (3), 1e-12);
  g_assert_cmpfloat_with_epsilon (budget.degrees, 2, 1e-9);
  g_assert_cmpfloat_with_epsilon (budget.coverage, 4.53, 0.005); /* GUM Table G.2, 95.45 %, 2 degrees of freedom, from memory */
  g_assert_cmpint (verdict.kind, ==, PAWL_VERDICT_IN);
  g_assert_cmpint (judge_set ("max 10.2 mm", three, PAWL_POLICY_GUARD_BAND, &budget).kind, ==, PAWL_VERDICT_TOO_CLOSE);
  g_assert_cmpint (judge_set ("25.4 mm ± 0", mixed, PAWL_POLICY_GUARD_BAND, &budget).kind, ==, PAWL_VERDICT_IN);
  g_assert_cmpint (judge_set ("9.95..10.25 mm", brackets, PAWL_POLICY_SIMPLE, &budget).kind, ==, PAWL_VERDICT_IN); /* 10.0..10.2 */
}

/* A bracket is as likely anywhere within: half of it inside is a half. */
static void
test_bracket (void)
{
  g_assert_cmpfloat_with_epsilon (judge ("max 10 mm", "9..11 mm", 0, PAWL_POLICY_SIMPLE).probability, 0.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (judge ("max 10 mm", "9..11 mm", 0.2, PAWL_POLICY_SIMPLE).probability, 0.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (judge ("9.5..10.5 mm", "9..11 mm", 0, PAWL_POLICY_SIMPLE).probability, 0.5, 1e-12);
  g_assert_cmpfloat (judge ("min 10 mm", "10 mm", 0, PAWL_POLICY_SIMPLE).probability, ==, 1);
  g_assert_cmpfloat (judge ("max 10 mm; wear max 12 mm", "11 mm", 0, PAWL_POLICY_SIMPLE).probability, ==, 1);
}

/* ---- instruments as typed ---- */

static void
test_instruments (void)
{
  static const char * const bad[][2] = {
    { "caliper; error some", "error of the instrument, “some”" }, { "caliper; colour red", "“colour red” is not understood of an instrument" },
    { "caliper; step -0.1 mm", "not below zero" }, { "caliper; reference 1..2 mm", "one value" },
  };
  PawlInstrument instrument;
  g_autoptr(GError) error = NULL;

  g_assert_true (pawl_instrument_parse ("bore gauge; error ±0.004 mm; step 0.002 mm; reference 0.0015 mm", NULL, &instrument, &error));
  g_assert_cmpstr (instrument.name, ==, "bore gauge");
  testing_assert_value (instrument.max_error, "mm", "0.004");
  testing_assert_value (instrument.step, "mm", "0.002");
  testing_assert_value (instrument.reference, "mm", "0.0015");
  pawl_instrument_clear (&instrument);
  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr(GError) problem = NULL;

      g_assert_false (pawl_instrument_parse (bad[i][0], NULL, &instrument, &problem));
      if (strstr (problem->message, bad[i][1]) == NULL)
        g_error ("“%s”: %s", bad[i][0], problem->message);
      g_assert_null (instrument.name);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/uncertainty/check-values/uncertainty", test_uncertainty);
  g_test_add_func ("/uncertainty/check-values/decision", test_decision);
  g_test_add_func ("/uncertainty/check-values/result", test_result);
  g_test_add_func ("/uncertainty/policies", test_policies);
  g_test_add_func ("/uncertainty/rules", test_rules);
  g_test_add_func ("/uncertainty/repeats", test_repeats);
  g_test_add_func ("/uncertainty/bracket", test_bracket);
  g_test_add_func ("/uncertainty/instruments", test_instruments);
  return g_test_run ();
}
