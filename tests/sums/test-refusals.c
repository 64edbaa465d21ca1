/* Bad input: each a sentence that names the input and says what would be right. And every sum of the table is sound. */
#include <math.h>

#include "testing-sums.h"

static void
test_refusals (void)
{
  static const struct { const char *sum, *inputs; PawlSumError code; const char *words; } cases[] = {
    { "bend", "", PAWL_SUM_ERROR_MISSING, "reading: Reading now is needed, for instance 35 mm" },
    { "bend", "reading=35 mm; wanted=33 deg; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_INPUT, "wanted: “33 deg” is an angle, and should be a length" },
    { "bend", "reading=35; wanted=33 mm; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_INPUT, "reading: “35”" },
    { "bend", "reading=35 mm; wanted=33 mm; pivot-to-tang=10 mm; pivot-to-point=0 mm", PAWL_SUM_ERROR_INPUT, "pivot-to-point: “0 mm” should be above zero" },
    { "bend", "reading=90 mm; wanted=0 mm; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "turns", "pitch=1.25 mm", PAWL_SUM_ERROR_MISSING, "nothing to work out yet: give some of change, turned" },
    { "turns", "pitch=0 mm; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “0 mm” should be above zero" },
    { "turns", "pitch=M6.1; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “M6.1” has no coarse pitch that is known; say its pitch" },
    { "turns", "pitch=M6x0; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “M6x0” is no thread" },
    { "turns", "pitch=0 tpi; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “0 tpi” is no thread" },
    { "turns", "pitch=1/4 UNEF; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “1/4 UNEF” leaves the pitch open" },
    { "thread", "thread=20 tpi", PAWL_SUM_ERROR_MISSING, "diameter: Thread diameter is needed" },
    { "turns", "pitch=30 deg; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “30 deg” is an angle, and should be a length" },
    { "press", "diameter=25 mm; interference=0.02 mm; outside=45 mm; hub=cheese", PAWL_SUM_ERROR_INPUT, "hub: “cheese” is not among the materials" },
    { "torque", "wrench=300 mm; torque=20 N m; scale=0 N m", PAWL_SUM_ERROR_INPUT, "scale: “0 N m” should be above zero" },
    { "plate", "bore=32 mm; shut-angle=7 deg; thickness=-1 mm", PAWL_SUM_ERROR_INPUT, "thickness: “-1 mm” should not be below zero" },
    { "torque", "wrench=300 mm; adapter=300 mm; angle=180 deg; torque=20 N m", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "torque", "wrench=300 mm; torque=20 lb", PAWL_SUM_ERROR_INPUT, "torque: “20 lb” is a" },
    { "stages", "torque=27 N m; stages=2.5", PAWL_SUM_ERROR_INPUT, "stages: a whole number from 2 to 6" },
    { "stages", "torque=27 N m; stages=-3", PAWL_SUM_ERROR_INPUT, "stages: “-3” should be above zero" },
    { "stages", "torque=27 N m; stages=7", PAWL_SUM_ERROR_INPUT, "stages: a whole number from 2 to 6" },
    { "shim", "gap=1 mm; limits=max 0.1 mm", PAWL_SUM_ERROR_INPUT, "limits: “max 0.1 mm” should be a length between two limits" },
    { "shim", "gap=1 mm; limits=0.2..0.1 mm", PAWL_SUM_ERROR_INPUT, "limits: “0.2..0.1 mm”" },
    { "shim", "gap=0.02 mm; limits=0.05..0.1 mm", PAWL_SUM_ERROR_NO_ANSWER, "The measurement is void" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm, 0 mm", PAWL_SUM_ERROR_INPUT, "sizes: “0 mm” should be above zero" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm x0", PAWL_SUM_ERROR_INPUT, "sizes: “0.1 mm x0”: how many there are is written x4" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm x many", PAWL_SUM_ERROR_INPUT, "written x4, or x any" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1, 0.2 in, 0.0000001 mm", PAWL_SUM_ERROR_NO_ANSWER, "sizes: they have no common measure" },
    { "restack", "play=0.9 mm; stack=0.2 mm; limits=0.05..0.15 mm", PAWL_SUM_ERROR_NO_ANSWER, "too much of it with no shim at all" },
    { "blades", "gap=-1 mm; sizes=0.1 mm", PAWL_SUM_ERROR_INPUT, "gap: “-1 mm” should be above zero" },
    { "select", "parts=1 mm, 2 mm; places=3 mm; limits=0..1 mm", PAWL_SUM_ERROR_INPUT, "parts: 2 parts and 1 places" },
    { "select", "parts=1 mm x any; places=3 mm; limits=0..1 mm", PAWL_SUM_ERROR_INPUT, "parts: “x any” can't be shared out; write how many there are" },
    { "lash", "shim=1 mm; measured=0 mm; wanted=2 mm", PAWL_SUM_ERROR_NO_ANSWER, "wanted: no shim is thin enough" },
    { "overlap", "port=0 mm; hole=1 mm; pitch-radius=4 mm; turned=4 deg", PAWL_SUM_ERROR_INPUT, "port: “0 mm” should be above zero" },
    { "plate", "bore=32 mm; shut-angle=95 deg", PAWL_SUM_ERROR_INPUT, "shut-angle: it is from 0° to less than 90°" },
    { "plate", "bore=32 mm; shut-angle=7 deg; angle=3 deg", PAWL_SUM_ERROR_INPUT, "shut-angle: Angle when shut should be at most Angle asked about" },
    { "plate", "bore=32 mm; shut-angle=7 deg; angle=93 deg", PAWL_SUM_ERROR_INPUT, "angle: it is from the shut angle to 90°" },
    { "plate", "bore=6 mm; shaft=6 mm; shut-angle=7 deg; angle=30 deg", PAWL_SUM_ERROR_INPUT, "shaft: Shaft should be less than Bore" },
    { "heat", "diameter=47 mm; interference=0.025 mm; start=20 Δ°C", PAWL_SUM_ERROR_INPUT, "start: “20 Δ°C” is a temperature difference, and should be a temperature" },
    { "press", "diameter=25 mm; interference=0.02 mm; outside=25 mm", PAWL_SUM_ERROR_INPUT, "diameter: Diameter of the fit should be less than Outside diameter of the hub" },
    { "leak-down", "supply=0 psi; held=0 psi", PAWL_SUM_ERROR_INPUT, "supply: “0 psi” should be above zero" },
    { "leak-down", "supply=80 psi; held=81 psi", PAWL_SUM_ERROR_INPUT, "held: Held should be at most Supplied" },
    { "compression", "lowest=130 psi; highest=125 psi", PAWL_SUM_ERROR_INPUT, "lowest: Lowest cylinder should be at most Highest cylinder" },
    { "gasket", "thickness=1 mm; crush=110 %", PAWL_SUM_ERROR_INPUT, "crush: “110 %” should be from 0 to 100 %" },
    { "torque", "wrench=300 m; torque=20 N m", PAWL_SUM_ERROR_INPUT, "wrench: “300 m” is longer than anything on a bench; is its unit right?" },
    { "torque", "wrench=-300 mm; torque=20 N m", PAWL_SUM_ERROR_INPUT, "wrench: “-300 mm” should be above zero" },
    { "heat", "diameter=47 mm; interference=0.025 mm; start=-300 °C", PAWL_SUM_ERROR_INPUT, "start: “-300 °C” is colder than anything can be" },
    { "overlap", "port=1..2 mm; hole=1 mm; pitch-radius=4 mm; turned=4 deg", PAWL_SUM_ERROR_INPUT, "port: “1..2 mm” is an interval" },
    { "shim", "gap=1..1.1 mm; limits=0.05..0.1 mm", PAWL_SUM_ERROR_INPUT, "gap: “1..1.1 mm” is an interval" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1..0.2 mm", PAWL_SUM_ERROR_INPUT, "sizes: “0.1..0.2 mm” is an interval" },
    { "piston", "stroke=54 mm; rod=20 mm; crank=90 deg", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "turns", "pitch=-0.1..0.1 mm; change=1 mm", PAWL_SUM_ERROR_INPUT, "pitch: “-0.1..0.1 mm” should be above zero" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = ask (cases[i].sum, cases[i].inputs, &error);

      if (result != NULL)
        g_error ("%s, %s: %s", cases[i].sum, cases[i].inputs, ((PawlSumAnswer *) result->answers->pdata[0])->text);
      if (strstr (error->message, cases[i].words) == NULL || error->code != (int) cases[i].code)
        g_error ("%s, %s: “%s” (%d)", cases[i].sum, cases[i].inputs, error->message, error->code);
    }
}

/* Whatever is typed into whichever input: an answer, or a sentence that begins with the name of an input. */
static void
test_anything (void)
{
  static const char * const texts[] = { "0 mm", "-1 mm", "1e300 mm", "1e-300 mm", "0..0 mm", "-1..1 mm", "max 1 mm", "±", "inf", "nan mm", "x4", "1 mm x any",
                                        "0 deg", "90 deg", "-1e9 deg", "0 N m", "0", "-1", "1e30", "0 %", "200 %", "M", "M6x", "-273.15 °C", "steel", "∞ mm", " ",
                                        "1 mm, 2 mm", "goes .010, .012 does not", "0 psi", "1 psi", "0 cc", "1 kN", "0 L/min" };
  const PawlSum *sum;
  guint n_answers = 0, n_refusals = 0;

  for (guint i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    {
      guint n;
      const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

      for (guint j = 0; j < n * G_N_ELEMENTS (texts); j++)
        {
          g_autoptr(GHashTable) typed = g_hash_table_new (g_str_hash, g_str_equal);
          g_autoptr(GError) error = NULL;
          g_autoptr(PawlSumResult) result = NULL;

          for (guint k = 0; k < n; k++)
            g_hash_table_insert (typed, (gpointer) inputs[k].name, (gpointer) (k == j / G_N_ELEMENTS (texts) ? texts[j % G_N_ELEMENTS (texts)] : inputs[k].example));
          result = pawl_sum_solve (sum, typed, NULL, &error);
          g_assert_true ((result == NULL) == (error != NULL));
          g_assert_true (result == NULL || result->answers->len > 0);
          g_assert_true (error == NULL || (error->domain == PAWL_SUM_ERROR && strlen (error->message) > 10));
          n_answers += result != NULL;
          n_refusals += error != NULL;
        }
    }
  g_assert_cmpuint (n_answers, >, 100);
  g_assert_cmpuint (n_refusals, >, 1000);
}

/* The examples that a sum gives are an input that it takes, and all its answers come of them. */
static void
test_examples (void)
{
  const PawlSum *sum;

  for (guint i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    {
      g_autoptr(GString) inputs = g_string_new (NULL);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = NULL;
      guint n;
      const PawlSumInput *input = pawl_sum_peek_inputs (sum, &n);

      for (guint j = 0; j < n; j++)
        g_string_append_printf (inputs, "%s%s=%s", j > 0 ? "; " : "", input[j].name, input[j].example);
      result = ask (pawl_sum_get_id (sum), inputs->str, &error);
      if (result == NULL)
        g_error ("%s, %s: %s", pawl_sum_get_id (sum), inputs->str, error->message);
      g_assert_cmpuint (result->answers->len, >, 0);
      g_assert_cmpuint (result->working->len, >, 0);
      g_assert_cmpstr (pawl_sum_get_source (sum), !=, "");
      g_assert_cmpstr (pawl_sum_get_validity (sum), !=, "");
      for (guint j = 0; j < i; j++)
        g_assert_cmpstr (pawl_sum_get_id (pawl_sum_peek_nth (j)), !=, pawl_sum_get_id (sum));
    }
}

/* A comma for a decimal mark; sizes are parted by ; then. A bare number has the typist's unit where that fits. */
static void
test_typing (void)
{
  g_autoptr(GHashTable) typed = g_hash_table_new (g_str_hash, g_str_equal);
  PawlTyping typing = { .decimal_mark = ',', .default_unit = pawl_unit_lookup ("mm") };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlSumResult) result = NULL;

  g_hash_table_insert (typed, (gpointer) "gap", (gpointer) "1,27");
  g_hash_table_insert (typed, (gpointer) "limits", (gpointer) "0,05..0,15 mm");
  g_hash_table_insert (typed, (gpointer) "sizes", (gpointer) "0,10 x4; 0,50 x any");
  result = pawl_sum_solve (pawl_sum_lookup ("shim"), typed, &typing, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (find_answer (result, "Take")->text, ==, "2 × 0,5 mm + 2 × 0,1 mm");
}

/* Answers that no figure from outside tells, as words or in full. */
static void
test_answers (void)
{
  static const struct { const char *sum, *inputs, *title, *text; } cases[] = {
    { "turns", "pitch=M8x1.25; change=0.25 mm", "Turn by", "0.2 turns (72 deg)" },
    { "turns", "pitch=M 8 × 1,25; change=0.25 mm", "Turn by", "0.2 turns (72 deg)" },
    { "turns", "pitch=1/4-20 UNC; change=0.0125 in", "Turn by", "0.25 turns (90 deg)" },
    { "turns", "pitch=#10-32; turned=1 turn", "Changes by", "0.03125 in (0.79375 mm)" },
    { "turns", "pitch=1 1/2-6; turned=3 turns", "Changes by", "0.5 in (12.7 mm)" },
    { "turns", "pitch=40 tpi; turned=1 turn", "Changes by", "0.025 in (0.635 mm)" },
    { "turns", "pitch=11.5 threads per inch; turned=11.5 turns", "Changes by", "1 in (25.4 mm)" },
    { "turns", "pitch=1/20 in; turned=1 turn", "Changes by", "0.05 in (1.27 mm)" },
    { "torque", "wrench=300 mm; torque=12 N m; scale=100 N m", "On its scale", "12 %: too near the bottom of it; take a smaller wrench" },
    { "torque", "wrench=300 mm; torque=20 N m; scale=100 N m", "On its scale", "20 %: within its range" },
    { "torque", "wrench=300 mm; setting=120 N m; scale=100 N m", "On its scale", "120 %: more than it can do; take a larger wrench" },
    { "shim", "gap=0.30 mm; fitted=0.97 mm; limits=0.05..0.15 mm", "The stack may be", "1.12 mm (≈ 0.0441 in) to 1.22 mm (≈ 0.0480 in)" },
    { "shim", "gap=0.30 mm; fitted=0.97 mm; limits=0.05..0.15 mm", "Best would be", "1.17 mm (≈ 0.0461 in)" },
    /* of two as near the thinner: common practice, no source */
    { "lash", "shim=2.95 mm; measured=0.10 mm; wanted=0.15 mm; sizes=2.95, 2.85 mm", "Nearest at hand", "2.85 mm (≈ 0.1122 in)" },
    { "overlap", "port=2 mm; hole=3 mm; pitch-radius=0 mm; turned=30 deg", "Largest wire that still passes", "2 mm (≈ 0.0787 in)" },
    { "overlap", "port=2 mm; hole=3 mm; pitch-radius=9 mm; turned=30 deg", "Largest wire that still passes", "0 mm (0 in)" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSumResult) result = ask (cases[i].sum, cases[i].inputs, &error);

      g_assert_no_error (error);
      g_assert_nonnull (find_answer (result, cases[i].title));
      g_assert_cmpstr (find_answer (result, cases[i].title)->text, ==, cases[i].text);
    }
}

static double
get_answer (const char *sum, const char *inputs, const char *title, const char *unit)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlSumResult) result = ask (sum, inputs, &error);

  g_assert_no_error (error);
  return pawl_quantity_get_double (find_answer (result, title)->quantity, pawl_unit_lookup (unit));
}

/*
 * For one material the general form comes down to p = E δ / (2 d³) · (D² - d²)(d² - i²) / (D² - i²), with δ on the diameter: J. E. Shigley, Mechanical
 * Engineering Design, press fits, from memory. A material that is named, and its constants typed, are the same.
 */
static void
test_press (void)
{
  static const struct { double d, i, D, delta; } fits[] = { { 25, 0, 45, 0.02 }, { 25, 10, 45, 0.02 }, { 60, 59, 61, 0.1 }, { 0.5, 0.1, 20, 0.001 } };

  for (guint k = 0; k < G_N_ELEMENTS (fits); k++)
    {
      double d = fits[k].d, i = fits[k].i, D = fits[k].D;
      double expected = 207000 * fits[k].delta / (2 * d * d * d) * (D * D - d * d) * (d * d - i * i) / (D * D - i * i);
      g_autofree char *inputs = g_strdup_printf ("diameter=%g mm; inside=%g mm; outside=%g mm; interference=%g mm", d, i, D, fits[k].delta);

      g_assert_cmpfloat_with_epsilon (get_answer ("press", inputs, "Pressure in the fit", "MPa"), expected, expected * 1e-12);
    }
  g_assert_cmpfloat_with_epsilon (get_answer ("press", "diameter=25 mm; outside=45 mm; interference=0.02 mm; hub=Bronze", "Pressure in the fit", "MPa"),
                                  get_answer ("press", "diameter=25 mm; outside=45 mm; interference=0.02 mm; hub-modulus=111 GPa; hub-poisson=0.35",
                                              "Pressure in the fit", "MPa"), 1e-12);
}

/* Two ways to the plate that is turned over: its far corners bear on the bore. */
static void
test_turned_over (void)
{
  const double D = 32, t = 1.5, phi = 7 * G_PI / 180, along = D / cos (phi) + t * tan (phi);
  double psi = get_answer ("plate", "bore=32 mm; shut-angle=7 deg; thickness=1.5 mm", "Put in the other way round it stops at", "deg") * G_PI / 180;

  g_assert_cmpfloat_with_epsilon (along * cos (psi) + t * sin (psi), D, 1e-12);
  g_assert_cmpfloat (psi, >, phi);
  /* a plate of no thickness has no other way round */
  g_assert_cmpfloat_with_epsilon (get_answer ("plate", "bore=32 mm; shut-angle=7 deg; thickness=0 mm", "Put in the other way round it stops at", "deg"), 7, 1e-9);
}

/* What the program writes of its own accord is read with a point, whatever the typist's mark. */
static void
test_fallbacks (void)
{
  g_autoptr(GHashTable) typed = g_hash_table_new (g_str_hash, g_str_equal);
  PawlTyping typing = { .decimal_mark = ',' };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlSumResult) result = NULL;

  g_hash_table_insert (typed, (gpointer) "diameter", (gpointer) "47 mm");
  g_hash_table_insert (typed, (gpointer) "interference", (gpointer) "0,025 mm");
  result = pawl_sum_solve (pawl_sum_lookup ("heat"), typed, &typing, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (result->working->pdata[0], ==, "Expansion of the hub: 11.5 ppm/K, of steel, from memory");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sums/refusals", test_refusals);
  g_test_add_func ("/sums/anything", test_anything);
  g_test_add_func ("/sums/examples", test_examples);
  g_test_add_func ("/sums/typing", test_typing);
  g_test_add_func ("/sums/answers", test_answers);
  g_test_add_func ("/sums/press", test_press);
  g_test_add_func ("/sums/turned-over", test_turned_over);
  g_test_add_func ("/sums/fallbacks", test_fallbacks);
  return g_test_run ();
}
