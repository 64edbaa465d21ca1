/* Formulas of derived readings: read, checked, exact, and their uncertainty against published examples. */
#include <math.h>
#include <string.h>

#include "measure/pawl-formula.h"
#include "testing.h"

typedef struct {
  const char *name;
  const char *typed;
  double      uncertainty; /* standard, in the unit of @typed */
} Input;

#define MOST 5 /* the last one ends the list */

static const char * const no_names[] = { NULL };

static double
get_base_per_unit (const PawlUnit *unit)
{
  mpq_t one, base;
  double factor;

  mpq_inits (one, base, NULL);
  mpq_set_ui (one, 1, 1);
  pawl_unit_to_base (unit, one, base);
  factor = mpq_get_d (base);
  mpq_clears (one, base, NULL);
  return factor;
}

/* Checks, evaluates; @inputs ends with a NULL name. The uncertainty comes back in @symbol. */
static PawlQuantity *
work_out (const char *text, const Input *inputs, const char *symbol, double *uncertainty, GError **error)
{
  g_autoptr(PawlFormula) formula = NULL;
  g_autoptr(GPtrArray) quantities = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  const PawlUnit *unit = pawl_unit_lookup (symbol);
  const char *names[MOST + 1] = { NULL };
  PawlFormulaInput given[MOST] = { { NULL, 0 } };
  PawlDimension dimensions[MOST] = { PAWL_DIMENSION_NONE };
  PawlQuantity *result;
  double base = 0;

  for (guint i = 0; inputs[i].name != NULL; i++)
    names[i] = inputs[i].name;
  if ((formula = pawl_formula_parse (text, names, error)) == NULL)
    return NULL;
  for (guint i = 0; pawl_formula_peek_names (formula)[i] != NULL; i++)
    for (guint j = 0; inputs[j].name != NULL; j++)
      if (g_str_equal (inputs[j].name, pawl_formula_peek_names (formula)[i]))
        {
          PawlQuantity *quantity = testing_parse (inputs[j].typed, NULL);

          g_ptr_array_add (quantities, quantity);
          given[i].quantity = quantity;
          given[i].standard_uncertainty = inputs[j].uncertainty * get_base_per_unit (pawl_quantity_get_unit (quantity));
          dimensions[i] = pawl_unit_get_dimension (pawl_quantity_get_unit (quantity));
        }
  if (!pawl_formula_check (formula, dimensions, unit, error))
    return NULL;
  result = pawl_formula_evaluate (formula, given, unit, &base, NULL, error);
  if (uncertainty != NULL)
    *uncertainty = base / get_base_per_unit (unit);
  return result;
}

/* ---- exact values ---- */

typedef struct {
  const char *formula;
  Input       inputs[MOST];
  const char *symbol;
  const char *low, *high; /* high NULL: no interval */
} Row;

static const Row exact[] = {
  { "bore - piston", { { "bore", "79.010 mm", 0 }, { "piston", "78.935 mm", 0 } }, "mm", "0.075", NULL }, /* practice PRA-018 */
  { "bore - piston", { { "bore", "3 in", 0 }, { "piston", "76 mm", 0 } }, "mm", "0.2", NULL },
  { "float-drop - float-height", { { "float-drop", "1 15/16 in", 0 }, { "float-height", "1 5/16 in", 0 } }, "in", "5/8", NULL }, /* PRA-102 */
  { "(p1 - p2) / p1", { { "p1", "80 psi", 0 }, { "p2", "72 psi", 0 } }, "%", "10", NULL }, /* practice PRA-059 */
  { "spread(a, b, c)", { { "a", "10 mm", 0 }, { "b", "12 mm", 0 }, { "c", "11 mm", 0 } }, "mm", "2", NULL },
  { "max(a, b) - min(a, b)", { { "a", "-3 mm", 0 }, { "b", "4 mm", 0 } }, "mm", "7", NULL },
  { "mean(a, b, c)", { { "a", "1 mm", 0 }, { "b", "1 mm", 0 }, { "c", "2 mm", 0 } }, "mm", "4/3", NULL },
  { "sum(a, b) / 2", { { "a", "1 in", 0 }, { "b", "25.4 mm", 0 } }, "in", "1", NULL },
  { "abs(a - b)", { { "a", "1 mm", 0 }, { "b", "4 mm", 0 } }, "mm", "3", NULL },
  { "a - b + gasket", { { "a", "12.5 mm", 0 }, { "b", "12 mm", 0 }, { "gasket", "0.2 mm", 0 } }, "mm", "0.7", NULL },
  { "2 · 3 × a ÷ 4 − 1 mm", { { "a", "2 mm", 0 } }, "mm", "2", NULL },
  { "-a^2 / (1 mm)", { { "a", "3 mm", 0 } }, "mm", "-9", NULL },
  { "(-a)^2 / 1 mm", { { "a", "3 mm", 0 } }, "mm", "9", NULL },
  { "- -a", { { "a", "3 mm", 0 } }, "mm", "3", NULL },
  { "a - b - b", { { "a", "10 mm", 0 }, { "b", "3 mm", 0 } }, "mm", "4", NULL },
  { "a / b / b", { { "a", "18 mm", 0 }, { "b", "3 ratio", 0 } }, "mm", "2", NULL },
  { "force * 0.2 m", { { "force", "15 N", 0 } }, "N m", "3", NULL },
  { "pull * radius", { { "pull", "2 kgf", 0 }, { "radius", "10 cm", 0 } }, "kgf cm", "20", NULL },
  { "rate * 10 mm + 1 N", { { "rate", "2 N/mm", 0 } }, "N", "21", NULL },
  { "sqrt(a * b)", { { "a", "4 mm", 0 }, { "b", "9 mm", 0 } }, "mm", "6", NULL },
  { "sqrt(a * b)", { { "a", "0 mm", 0 }, { "b", "9 mm", 0 } }, "mm", "0", NULL },
  { "hot - cold", { { "hot", "212 °F", 0 }, { "cold", "32 °F", 0 } }, "Δ°C", "100", NULL },
  { "cold + rise", { { "cold", "20 °C", 0 }, { "rise", "15 Δ°C", 0 } }, "°C", "35", NULL },
  { "12.5 %", { { NULL, NULL, 0 } }, "ratio", "1/8", NULL },
  { "angle * 4", { { "angle", "1/4 turn", 0 } }, "deg", "360", NULL },
  /* A feeler is an interval, and stays one. practice PRA-031 */
  { "gap - 2 thou", { { "gap", "6..7 thou", 0 } }, "thou", "4", "5" },
  { "2 mm - gap", { { "gap", "0.2..0.25 mm", 0 } }, "mm", "1.75", "1.8" },
  /* The same reading twice is one reading: plain interval sums would give -1 .. 1, and 1/4 .. 3/2 for the last one. */
  { "gap - gap", { { "gap", "6..7 thou", 0 } }, "thou", "0", NULL },
  { "(a - b) / a", { { "a", "10..20 mm", 0 }, { "b", "5 mm", 0 } }, "ratio", "1/2", "3/4" },
  { "abs(gap)", { { "gap", "-2..1 mm", 0 } }, "mm", "0", "2" },
  { "min(a, b)", { { "a", "1..3 mm", 0 }, { "b", "2 mm", 0 } }, "mm", "1", "2" },
};

static void
test_exact (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (exact); i++)
    {
      const Row *row = &exact[i];
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) result = work_out (row->formula, row->inputs, row->symbol, NULL, &error);
      mpq_t low, high, want_low, want_high;

      g_test_message ("%s", row->formula);
      g_assert_no_error (error);
      mpq_inits (low, high, want_low, want_high, NULL);
      pawl_quantity_get_base (result, low, high);
      pawl_unit_from_base (pawl_unit_lookup (row->symbol), low, low);
      pawl_unit_from_base (pawl_unit_lookup (row->symbol), high, high);
      testing_set (want_low, row->low);
      testing_set (want_high, row->high != NULL ? row->high : row->low);
      g_assert_true (mpq_equal (low, want_low));
      g_assert_true (mpq_equal (high, want_high));
      mpq_clears (low, high, want_low, want_high, NULL);
    }
}

/* ---- functions that round: against values worked out independently ---- */

static const struct {
  const char *formula;
  Input       inputs[MOST];
  const char *symbol;
  double      expected, tolerance;
} rounded[] = {
  { "arc(radius, mark)", { { "radius", "3.25 in", 0 }, { "mark", "25 deg", 0 } }, "in", 1.41808001725, 1e-11 }, /* geometry GEO-075 */
  { "arc(radius, mark)", { { "radius", "45 mm", 0 }, { "mark", "7 deg", 0 } }, "mm", 5.49778714378, 1e-11 },    /* GEO-076 */
  { "length * sin(angle)", { { "length", "5 in", 0 }, { "angle", "15 deg", 0 } }, "in", 1.294095226, 1e-9 },    /* GEO-060, a sine bar */
  { "2 * atan(taper / 2)", { { "taper", "1/24 ratio", 0 } }, "deg", 2.386978848, 2e-9 },                        /* GEO-065, 0.5 in per foot */
  { "d / 2 / tan(cone / 2)", { { "d", "0.3 mm", 0 }, { "cone", "60 deg", 0 } }, "mm", 0.2598076211, 1e-10 },    /* GEO-068 */
  { "asin(rise / arm)", { { "rise", "3 mm", 0 }, { "arm", "60 mm", 0 } }, "deg", 2.865983983, 1e-9 },           /* GEO-049 */
  { "r - sqrt(r^2 - (c / 2)^2)", { { "r", "25 mm", 0 }, { "c", "12 mm", 0 } }, "mm", 0.730677801, 1e-9 },       /* GEO-071, a sagitta */
  { "acos(0.5)", { { NULL, NULL, 0 } }, "deg", 60, 1e-12 },
  { "asin(a)", { { "a", "1 ratio", 0 } }, "deg", 90, 1e-12 },
  { "acos(a)", { { "a", "-1 ratio", 0 } }, "deg", 180, 1e-12 },
  { "cos(angle)", { { "angle", "60 deg", 0 } }, "ratio", 0.5, 1e-14 },
  { "pi * d", { { "d", "10 mm", 0 } }, "mm", 31.4159265358979, 1e-12 },
};

static void
test_rounded (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (rounded); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) result = work_out (rounded[i].formula, rounded[i].inputs, rounded[i].symbol, NULL, &error);

      g_test_message ("%s", rounded[i].formula);
      g_assert_no_error (error);
      g_assert_cmpfloat_with_epsilon (pawl_quantity_get_double (result, pawl_unit_lookup (rounded[i].symbol)), rounded[i].expected, rounded[i].tolerance);
    }
}

/* ---- uncertainty ---- */

static const struct {
  const char *formula;
  Input       inputs[MOST];
  const char *symbol;
  double      value, uncertainty, tolerance; /* relative */
  const char *source;
} propagated[] = {
  { "bore - shaft", { { "bore", "0.50050 in", 0.00010 }, { "shaft", "0.49880 in", 0.00010 } }, "in", 0.0017, 0.0001414213562, 1e-8,
    "JCGM 100:2008 5.1.2 (uncorrelated); computed independently to 34 digits; nothing to look up (UNC-067, UNC-068)" },
  { "bore - shaft", { { "bore", "1.3765 in", 0.0003 }, { "shaft", "1.3740 in", 0.0002 } }, "in", 0.0025, 0.0003605551275, 1e-8, "as above (UNC-069, UNC-070)" },
  { "bore - shaft", { { "bore", "62.012 mm", 0.004 }, { "shaft", "61.962 mm", 0.003 } }, "mm", 0.05, 0.005, 1e-8, "as above (UNC-071, UNC-072)" },
  { "(l1 - l0) / (l0 * (t1 - t0)) * 1 Δ°C", { { "l0", "1.4999 m", 0.0001 }, { "t0", "288.15 K", 0.02 }, { "l1", "1.5021 m", 0.0002 }, { "t1", "373.10 K", 0.05 } },
    "ratio", 0.00001726620896, 0.0000017554773, 1e-6,
    "NIST TN 1900 example E13 (inputs seen in a public code base; result computed there and recomputed independently) (UNC-076, UNC-077)" },
  { "a + b", { { "a", "1 mm", 1 }, { "b", "1 mm", 1 } }, "mm", 2, M_SQRT2, 1e-12, "definition" },
  /* One reading in two places is fully correlated with itself: 2u, not √2 u; and a difference with itself has none. */
  { "a + a", { { "a", "1 mm", 0.25 } }, "mm", 2, 0.5, 1e-12, "JCGM 100:2008 5.2.2, note 1 (r = 1), from memory" },
  { "a - a + b", { { "a", "1 mm", 0.25 }, { "b", "1 mm", 0.1 } }, "mm", 1, 0.1, 1e-12, "as above" },
  { "max(a, b)", { { "a", "1 mm", 0.25 }, { "b", "2 mm", 0.1 } }, "mm", 2, 0.1, 1e-12, "the smaller one does not count" },
  { "r * sin(x)", { { "r", "2 mm", 0 }, { "x", "60 deg", 1 } }, "mm", 1.7320508075688772, 0.017453292519943295, 1e-12, "r cos x, 1° = pi/180" },
};

static void
test_uncertainty (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (propagated); i++)
    {
      double uncertainty = -1;
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) result = work_out (propagated[i].formula, propagated[i].inputs, propagated[i].symbol, &uncertainty, &error);

      g_test_message ("%s: %s", propagated[i].formula, propagated[i].source);
      g_assert_no_error (error);
      g_assert_cmpfloat_with_epsilon (pawl_quantity_get_double (result, pawl_unit_lookup (propagated[i].symbol)), propagated[i].value,
                                      1e-9 * fabs (propagated[i].value) + 1e-15);
      g_assert_cmpfloat_with_epsilon (uncertainty, propagated[i].uncertainty, propagated[i].tolerance * propagated[i].uncertainty);
    }
}

/* Interval bounds hold every value in between: a thousand formulas drawn at random, fifty points in each. */
static char *
draw_formula (GRand *random, int depth)
{
  static const char * const leaves[] = { "a", "b", "c", "2", "0.5" };
  g_autofree char *left = NULL, *right = NULL;

  if (depth == 0 || g_rand_int_range (random, 0, 5) == 0)
    return g_strdup (leaves[g_rand_int_range (random, 0, G_N_ELEMENTS (leaves))]);
  left = draw_formula (random, depth - 1);
  right = draw_formula (random, depth - 1);
  switch (g_rand_int_range (random, 0, 11))
    {
    case 0: case 1: return g_strdup_printf ("(%s + %s)", left, right);
    case 2: case 3: return g_strdup_printf ("(%s - %s)", left, right);
    case 4: return g_strdup_printf ("%s * %s", left, right);
    case 5: return g_strdup_printf ("%s / (%s)", left, right);
    case 6: return g_strdup_printf ("max(%s, %s)", left, right);
    case 7: return g_strdup_printf ("spread(%s, %s)", left, right);
    case 8: return g_strdup_printf ("abs(%s)", left);
    case 9: return g_strdup_printf ("sin(%s * 40 deg)", left);
    default: return g_strdup_printf ("(%s)^2", left);
    }
}

static PawlQuantity *
make_ratio (double low, double high)
{
  PawlQuantity *quantity;
  mpq_t a, b;

  mpq_inits (a, b, NULL);
  mpq_set_d (a, low);
  mpq_set_d (b, high);
  quantity = pawl_quantity_new_interval (a, b, pawl_unit_lookup ("ratio"));
  mpq_clears (a, b, NULL);
  return quantity;
}

static void
test_intervals_hold (void)
{
  static const char * const names[] = { "a", "b", "c", NULL };
  const PawlUnit *ratio = pawl_unit_lookup ("ratio");
  g_autoptr(GRand) random = g_rand_new_with_seed (20261125);
  guint n_held = 0;

  for (guint i = 0; i < 1000; i++)
    {
      g_autofree char *text = draw_formula (random, 4);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlFormula) formula = pawl_formula_parse (text, names, &error);
      double ends[3][2];
      g_autoptr(GPtrArray) boxes = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
      PawlFormulaInput inputs[3] = { { NULL, 0 } };
      g_autoptr(PawlQuantity) whole = NULL;
      guint n = 0;
      mpq_t low, high;

      g_assert_no_error (error);
      for (; pawl_formula_peek_names (formula)[n] != NULL; n++)
        {
          ends[n][0] = g_rand_double_range (random, -3, 3);
          ends[n][1] = ends[n][0] + g_rand_double_range (random, 0, 2);
          g_ptr_array_add (boxes, inputs[n].quantity = make_ratio (ends[n][0], ends[n][1]));
        }
      if ((whole = pawl_formula_evaluate (formula, inputs, ratio, NULL, NULL, NULL)) == NULL)
        continue; /* a divisor that may be zero */
      mpq_inits (low, high, NULL);
      pawl_quantity_get_base (whole, low, high);
      for (guint j = 0; j < 50; j++)
        {
          g_autoptr(GPtrArray) points = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
          g_autoptr(PawlQuantity) inside = NULL;

          for (guint k = 0; k < n; k++)
            {
              double share = j < 8 ? (j >> k) & 1 : g_rand_double (random), at = ends[k][0] + share * (ends[k][1] - ends[k][0]);

              g_ptr_array_add (points, inputs[k].quantity = make_ratio (CLAMP (at, ends[k][0], ends[k][1]), CLAMP (at, ends[k][0], ends[k][1])));
            }
          inside = pawl_formula_evaluate (formula, inputs, ratio, NULL, NULL, &error);
          g_assert_no_error (error);
          if (pawl_quantity_get_double (inside, ratio) < mpq_get_d (low) - 1e-9 * MAX (1, fabs (mpq_get_d (low)))
              || pawl_quantity_get_double (inside, ratio) > mpq_get_d (high) + 1e-9 * MAX (1, fabs (mpq_get_d (high))))
            g_error ("%s: %.17g is outside %.17g .. %.17g", text, pawl_quantity_get_double (inside, ratio), mpq_get_d (low), mpq_get_d (high));
          n_held++;
        }
      mpq_clears (low, high, NULL);
    }
  g_assert_cmpuint (n_held, >, 20000);
}

/* ---- refusals ---- */

static const struct {
  const char      *formula;
  Input            inputs[MOST];
  const char      *symbol;
  PawlFormulaError code;
  const char      *words;
} refused[] = {
  { "", { { NULL, NULL, 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 1: a name or a number should follow" },
  { "a +", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 4: a name or a number should follow" },
  { "(a", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 3: a bracket should close here" },
  { "a b", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 3: an operator should stand here" },
  { "a)", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 2: an operator should stand here" },
  { "a ^ b", { { "a", "1 mm", 0 }, { "b", "2 ratio", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "whole number from 1 to 8" },
  { "a ^ 9", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "whole number from 1 to 8" },
  { "min()", { { NULL, NULL, 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "at character 5" },
  { "spread(a)", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "spread() takes at least 2 arguments, not 1" },
  { "abs(a, a)", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_SYNTAX, "abs() takes 1 argument, not 2" },
  { "lg(a)", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_NAME, "no function “lg”" },
  { "bore-piston", { { "bore", "1 mm", 0 }, { "piston", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_NAME, "a minus between two names has spaces round it" },
  { "bore - x", { { "bore", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_NAME, "at character 8: “x” is no reading" },
  { "a + b", { { "a", "1 mm", 0 }, { "b", "1 deg", 0 } }, "mm", PAWL_FORMULA_ERROR_DIMENSION, "at character 3: a length and an angle don't go together" },
  { "a * b", { { "a", "1 mm", 0 }, { "b", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_DIMENSION, "and should give a length" },
  { "a", { { "a", "1 mm", 0 } }, "N", PAWL_FORMULA_ERROR_DIMENSION, "“a” gives a length, and should give a force" },
  { "sin(a)", { { "a", "1 mm", 0 } }, "ratio", PAWL_FORMULA_ERROR_DIMENSION, "this is a length, and should be an angle" },
  { "sqrt(a)", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_DIMENSION, "should be a square" },
  { "a + 1", { { "a", "1 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_DIMENSION, "a length and a plain number" },
  { "a + b", { { "a", "20 °C", 0 }, { "b", "20 °C", 0 } }, "°C", PAWL_FORMULA_ERROR_DIMENSION, "two temperatures can't be added" },
  { "a - b", { { "a", "20 °C", 0 }, { "b", "20 °C", 0 } }, "°C", PAWL_FORMULA_ERROR_DIMENSION, "gives a temperature difference, and should give a temperature" },
  { "a / b", { { "a", "1 mm", 0 }, { "b", "0 mm", 0 } }, "ratio", PAWL_FORMULA_ERROR_VALUE, "at character 3: with these readings the divisor is zero" },
  { "a / (b - a)", { { "a", "1 mm", 0.01 }, { "b", "1.02 mm", 0.01 } }, "ratio", PAWL_FORMULA_ERROR_VALUE, "can't be told from zero" },
  { "a / b", { { "a", "1 mm", 0 }, { "b", "-1..1 mm", 0 } }, "ratio", PAWL_FORMULA_ERROR_VALUE, "divisor is zero" },
  { "sqrt(a * a - b * b)", { { "a", "1 mm", 0 }, { "b", "2 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_VALUE, "root" },
  { "sqrt(a * b)", { { "a", "0 mm", 0.01 }, { "b", "2 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_VALUE, "root" },
  { "sqrt(a * b)", { { "a", "0..1 mm", 0 }, { "b", "2 mm", 0 } }, "mm", PAWL_FORMULA_ERROR_VALUE, "root" },
  { "asin(a)", { { "a", "1 ratio", 0.01 } }, "deg", PAWL_FORMULA_ERROR_VALUE, "between -1 and 1" },
  { "tan(a)", { { "a", "90 deg", 0 } }, "ratio", PAWL_FORMULA_ERROR_VALUE, "right angle" },
  { "asin(a)", { { "a", "1.5 ratio", 0 } }, "deg", PAWL_FORMULA_ERROR_VALUE, "between -1 and 1" },
};

static void
test_refused (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) result = work_out (refused[i].formula, refused[i].inputs, refused[i].symbol, NULL, &error);

      g_test_message ("%s", refused[i].formula);
      g_assert_null (result);
      g_assert_error (error, PAWL_FORMULA_ERROR, (int) refused[i].code);
      if (strstr (error->message, refused[i].words) == NULL)
        g_error ("“%s” should say “%s”, and says “%s”", refused[i].formula, refused[i].words, error->message);
    }
}

static void
test_hostile (void)
{
  g_autofree char *deep = g_strnfill (1000, '(');
  g_autofree char *signs = g_strnfill (1000, '-');
  g_autofree char *digits = g_strnfill (500, '9');
  g_autofree char *longest = g_strnfill (3000, '1');
  const char *texts[] = { deep, signs, digits, longest, "\xff\xfe", "1..2", ".", "1e5 mm", "a$b", "min(", "2^", "“a”", "½" };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_formula_parse (texts[i], no_names, &error));
      g_assert_true (error != NULL && error->domain == PAWL_FORMULA_ERROR);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/formula/exact", test_exact);
  g_test_add_func ("/formula/rounded", test_rounded);
  g_test_add_func ("/formula/uncertainty", test_uncertainty);
  g_test_add_func ("/formula/intervals-hold", test_intervals_hold);
  g_test_add_func ("/formula/refused", test_refused);
  g_test_add_func ("/formula/hostile", test_hostile);
  return g_test_run ();
}
