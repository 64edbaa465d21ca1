/* Gauges and what they may be off by, against figures from outside, each with its source in its file. */
#include <stdio.h>

#include "check-values.h"
#include "measure/pawl-formula.h"
#include "measure/pawl-gauge.h"
#include "measure/pawl-verdict.h"
#include "testing.h"

static void
check_gauge (const CheckRow *row, const char *text)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) limit = pawl_gauge_parse (text, NULL, &error);

  if (limit == NULL)
    g_error ("%s: “%s”: %s", row->id, text, error->message);
  check_near_quantity (row, row->expected, limit, pawl_unit_lookup (g_str_equal (row->unit, "um") ? "µm" : row->unit));
}

/* Both ends of a row where it has two: the lower one belongs to the row before, so a thousandth more than it. */
static gboolean
check_table (const CheckRow *row)
{
  char name[16], low[16], high[16];
  g_autofree char *from = NULL, *to = NULL;

  if (sscanf (row->inputs, "gauge block grade %15[^,], nominal over %15s up to %15s mm", name, low, high) == 3)
    {
      from = g_strdup_printf ("gauge block grade %s %s.001 mm", name, low);
      to = g_strdup_printf ("gauge block grade %s %s mm", name, high);
    }
  else if (sscanf (row->inputs, "plug gauge gagemaker tolerance class %15[^,], size above %15s to %15s in", name, low, high) == 3)
    {
      from = g_strdup_printf ("plug gauge class %s %s1 in", name, low);
      to = g_strdup_printf ("plug gauge class %s %s in", name, high);
    }
  else if (sscanf (row->inputs, "external micrometer, range %15[0-9]-%15[0-9] mm", low, high) == 2)
    {
      from = g_strdup_printf ("micrometer %s.001 mm", low);
      to = g_strdup_printf ("micrometer %s mm", high);
    }
  else if (sscanf (row->inputs, "caliper, measured length %15s mm, scale %15s", high, name) == 2)
    to = g_strdup_printf ("caliper %s mm %s mm", name, high);
  else
    return FALSE;
  if (from != NULL)
    check_gauge (row, from);
  check_gauge (row, to);
  return TRUE;
}

/* ---- coarse or not ---- */

/* An instrument of which nothing but the step is known has U = 2 step/√12; √12 is put in to 30 places. */
static void
check_ratio (const CheckRow *row, const char *tolerance, double expanded)
{
  g_autofree char *text = g_strdup_printf ("10 mm ± %s mm", tolerance);
  g_autoptr(PawlLimits) limits = pawl_limits_parse (text, NULL, NULL);
  g_autoptr(PawlQuantity) step = NULL;
  PawlInstrument instrument = { .name = "instrument" };
  double share;
  gboolean is_coarse;
  mpq_t root, half;

  mpq_inits (root, half, NULL);
  mpq_set_str (root, "3464101615137754587054892683011/1000000000000000000000000000000", 10);
  mpq_canonicalize (root);
  mpq_set_d (half, expanded / 2);
  mpq_mul (root, root, half);
  instrument.step = step = pawl_quantity_new (root, pawl_unit_lookup ("mm"));
  mpq_clears (root, half, NULL);
  is_coarse = pawl_instrument_is_too_coarse (&instrument, limits, &share);
  g_assert_cmpint (is_coarse, ==, g_ascii_strtod (row->expected, NULL) < 4);
  /* a root is a double, so that the ratio is known to 15 figures; 12 are asked for */
  check_near_double (row, row->expected, round (1e12 / share) / 1e12);
}

static void
check_division (const CheckRow *row, const char *width, const char *step)
{
  g_autofree char *limits_text = g_strdup_printf ("1 mm +%s/-0 mm", width), *step_text = g_strdup_printf ("%s mm", step);
  g_autoptr(PawlLimits) limits = pawl_limits_parse (limits_text, NULL, NULL);
  g_autoptr(PawlQuantity) quantity = testing_parse (step_text, NULL);
  const PawlInstrument instrument = { .name = "gauge", .step = quantity };

  g_assert_nonnull (limits);
  g_assert_cmpstr (pawl_instrument_is_coarsely_divided (&instrument, limits) ? "no" : "yes", ==, row->expected);
}

static gboolean
check_coarse (const CheckRow *row)
{
  char tolerance[16], step[16];
  double expanded;

  if (sscanf (row->inputs, "tolerance +/-%15[0-9.], expanded uncertainty %lf", tolerance, &expanded) == 2)
    check_ratio (row, tolerance, expanded);
  else if (sscanf (row->inputs, "total tolerance %15[0-9.], gauge reads to %15[0-9.]:", tolerance, step) == 2)
    check_division (row, tolerance, step);
  else
    return FALSE;
  return TRUE;
}

/* ---- corrections: derived readings of a procedure ---- */

static void
check_formula (const CheckRow *row, const char *text)
{
  static const char * const none[] = { NULL };
  const PawlUnit *unit = pawl_unit_lookup ("mm");
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse (text, none, &error);
  g_autoptr(PawlQuantity) quantity = NULL;

  if (formula == NULL || !(quantity = pawl_formula_evaluate (formula, NULL, unit, NULL, NULL, &error)))
    g_error ("%s: “%s”: %s", row->id, text, error->message);
  check_near_quantity (row, row->expected, quantity, unit);
}

static gboolean
check_correction (const CheckRow *row)
{
  char a[16], at_a[16], b[16], at_b[16], reading[16];
  g_autofree char *text = NULL;

  if (sscanf (row->inputs, "reading %15[0-9.], gauge reads %15[-0-9.] with the anvils closed", reading, a) == 2)
    text = g_strdup_printf ("%s mm - (%s mm)", reading, a);
  else if (sscanf (row->inputs, "calibration: true %15s read %15[0-9.], true %15s read %15[0-9.]; a reading of %15s", a, at_a, b, at_b, reading) == 5)
    text = g_strdup_printf ("%s mm + (%s mm - %s mm) * (%s mm - %s mm) / (%s mm - %s mm)", a, b, a, reading, at_a, at_b, at_a);
  else
    return FALSE;
  check_formula (row, text);
  return TRUE;
}

static gboolean
check_row (const CheckRow *row)
{
  /* GAU-023 to 038: a study of parts, appraisers and trials, which the training of apprentices is to be held to */
  guint64 number = g_ascii_strtoull (row->id + strlen ("GAU-"), NULL, 10);

  if (check_table (row) || check_coarse (row) || check_correction (row))
    return TRUE;
  if (number >= 23 && number <= 38)
    return FALSE;
  g_error ("%s: %s: nothing checks this row", row->id, row->inputs);
}

static void test_rows (void) { check_values ("gauges.csv", check_row); }

/* ---- what rows don't say ---- */

static void
test_bad (void)
{
  static const struct { const char *text; PawlReadingError code; } cases[] = {
    { "yardstick 20 mm", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "gauge block grade 7 20 mm", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "gauge block grade 1 150.001 mm", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "gauge block grade 1 0 mm", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "gauge block grade 1 -5 mm", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "plug gauge class X 0.029 in", PAWL_READING_ERROR_NOT_A_NUMBER }, /* over it, not at it */
    { "micrometer 20 N m", PAWL_READING_ERROR_WRONG_DIMENSION },
    { "micrometer 20", PAWL_READING_ERROR_AMBIGUOUS },
    { "caliper 0.05 mm 9 m", PAWL_READING_ERROR_NOT_A_NUMBER },
    { "micrometer ", PAWL_READING_ERROR_EMPTY },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_gauge_parse (cases[i].text, NULL, &error));
      if (!g_error_matches (error, PAWL_READING_ERROR, (int) cases[i].code))
        g_error ("“%s”: %s", cases[i].text, error->message);
    }
}

/* The name of an instrument is no table, and a table stands wherever an error does; inches and millimetres go by one table. */
static void
test_instrument (void)
{
  g_autoptr(GError) error = NULL;
  PawlInstrument instrument;

  g_assert_true (pawl_instrument_parse ("micrometer; error micrometer 20 mm; step 0.001 mm; reference gauge block grade 1 1 in", NULL, &instrument, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (instrument.name, ==, "micrometer");
  testing_assert_value (instrument.max_error, "mm", "0.004");
  testing_assert_value (instrument.reference, "µm", "0.4"); /* 25.4 mm is over 25 */
  pawl_instrument_clear (&instrument);
  g_assert_false (pawl_instrument_parse ("micrometer; error micrometer 900 mm", NULL, &instrument, &error));
  g_assert_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER);
  g_assert_nonnull (strstr (error->message, "900 mm"));
}

/* Exactly a tenth will do; a minimum alone and an unknown step say nothing. */
static void
test_division (void)
{
  static const struct { const char *limits, *step; gboolean is_coarse; } cases[] = {
    { "1..1.1 mm", "0.01 mm", FALSE },
    { "1..1.1 mm", "0.0101 mm", TRUE },
    { "1..1.1 mm", "0.001 in", TRUE },
    { "min 5 mm", "1 mm", FALSE },
    { "1..1.1 mm", "1 N m", FALSE },
  };
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("1..1.1 mm", NULL, NULL);
  const PawlInstrument unknown = { .name = "gauge" };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlLimits) own = pawl_limits_parse (cases[i].limits, NULL, NULL);
      g_autoptr(PawlQuantity) step = testing_parse (cases[i].step, NULL);
      const PawlInstrument instrument = { .name = "gauge", .step = step };

      g_assert_cmpint (pawl_instrument_is_coarsely_divided (&instrument, own), ==, cases[i].is_coarse);
    }
  g_assert_false (pawl_instrument_is_coarsely_divided (&unknown, limits));
  g_assert_false (pawl_instrument_is_coarsely_divided (NULL, limits));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/gauge/rows", test_rows);
  g_test_add_func ("/measure/gauge/bad", test_bad);
  g_test_add_func ("/measure/gauge/instrument", test_instrument);
  g_test_add_func ("/measure/gauge/division", test_division);
  return g_test_run ();
}
