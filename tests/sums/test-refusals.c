/* Bad input: each a sentence that names the input and says what would be right. And every sum of the table is sound. */
#include "testing-sums.h"

static void
test_refusals (void)
{
  static const struct { const char *sum, *inputs; PawlSumError code; const char *words; } cases[] = {
    { "bend", "", PAWL_SUM_ERROR_MISSING, "reading: Reading now is needed, for instance 35 mm" },
    { "bend", "reading=35 mm; wanted=33 deg; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_INPUT, "wanted: “33 deg” is an angle, and should be a length" },
    { "bend", "reading=35; wanted=33 mm; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_INPUT, "reading: “35”" },
    { "bend", "reading=35 mm; wanted=33 mm; pivot-to-tang=10 mm; pivot-to-point=0 mm", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "bend", "reading=90 mm; wanted=0 mm; pivot-to-tang=10 mm; pivot-to-point=40 mm", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "turns", "pitch=1.25 mm", PAWL_SUM_ERROR_MISSING, "nothing to work out yet: give some of change, turned" },
    { "turns", "pitch=0 mm; change=1 mm", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "torque", "wrench=300 mm; adapter=300 mm; angle=180 deg; torque=20 N m", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "torque", "wrench=300 mm; torque=20 lb", PAWL_SUM_ERROR_INPUT, "torque: “20 lb” is a" },
    { "stages", "torque=27 N m; stages=2.5", PAWL_SUM_ERROR_INPUT, "stages: a whole number from 2 to 6" },
    { "stages", "torque=27 N m; stages=-3", PAWL_SUM_ERROR_INPUT, "stages: a whole number from 2 to 6" },
    { "shim", "gap=1 mm; limits=max 0.1 mm", PAWL_SUM_ERROR_INPUT, "limits: “max 0.1 mm” should be a length between two limits" },
    { "shim", "gap=1 mm; limits=0.2..0.1 mm", PAWL_SUM_ERROR_INPUT, "limits: “0.2..0.1 mm”" },
    { "shim", "gap=0.02 mm; limits=0.05..0.1 mm", PAWL_SUM_ERROR_NO_ANSWER, "The measurement is void" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm, 0 mm", PAWL_SUM_ERROR_INPUT, "sizes: each is one thickness above zero" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm x0", PAWL_SUM_ERROR_INPUT, "sizes: “0.1 mm x0”: how many there are is written x4" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1 mm x many", PAWL_SUM_ERROR_INPUT, "written x4, or x any" },
    { "shim", "gap=1 mm; limits=0.05..0.1 mm; sizes=0.1, 0.2 in, 0.0000001 mm", PAWL_SUM_ERROR_NO_ANSWER, "sizes: they have no common measure" },
    { "blades", "gap=-1 mm; sizes=0.1 mm", PAWL_SUM_ERROR_INPUT, "gap: a gap is not below zero" },
    { "select", "parts=1 mm, 2 mm; places=3 mm; limits=0..1 mm", PAWL_SUM_ERROR_INPUT, "parts: 2 parts and 1 places" },
    { "overlap", "port=0 mm; hole=1 mm; pitch-radius=4 mm; turned=4 deg", PAWL_SUM_ERROR_INPUT, "port: diameters are above zero" },
    { "plate", "bore=32 mm; shut-angle=95 deg", PAWL_SUM_ERROR_INPUT, "the shut angle is from 0°" },
    { "plate", "bore=32 mm; shut-angle=7 deg; angle=3 deg", PAWL_SUM_ERROR_INPUT, "angle: it is from the shut angle to 90°" },
    { "plate", "bore=6 mm; shaft=6 mm; shut-angle=7 deg; angle=30 deg", PAWL_SUM_ERROR_INPUT, "wider than the shaft" },
    { "heat", "diameter=47 mm; interference=0.025 mm; start=20 Δ°C", PAWL_SUM_ERROR_INPUT, "start: “20 Δ°C” is a temperature difference, and should be a temperature" },
    { "press", "diameter=25 mm; interference=0.02 mm; outside=25 mm", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
    { "leak-down", "supply=0 psi; held=0 psi", PAWL_SUM_ERROR_NO_ANSWER, "has no value" },
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

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sums/refusals", test_refusals);
  g_test_add_func ("/sums/examples", test_examples);
  g_test_add_func ("/sums/typing", test_typing);
  return g_test_run ();
}
