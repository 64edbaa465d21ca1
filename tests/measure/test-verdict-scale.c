/* The numbers of a verdict, held to the verdicts themselves: what lies in a zone is too close to call, what lies outside of all is decided. */
#include <math.h>

#include "measure/pawl-verdict-scale.h"
#include "testing.h"

static PawlVerdictScale
make_scale (const char *limits_text, const char *reading_text, const char *error_text, const char *policy_text, PawlVerdict *verdict)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse (limits_text, NULL, &error);
  g_autoptr(PawlQuantity) reading = testing_parse (reading_text, NULL), max_error = error_text != NULL ? testing_parse (error_text, NULL) : NULL;
  const PawlInstrument instrument = { .name = "caliper", .max_error = max_error };
  PawlPolicy policy;
  PawlVerdictScale scale;

  g_assert_no_error (error);
  g_assert_true (pawl_policy_parse (policy_text, &policy));
  g_assert_true (pawl_verdict_of (limits, reading, NULL, &instrument, policy, verdict, &error));
  g_assert_true (pawl_verdict_scale_make (limits, reading, verdict, &scale));
  return scale;
}

static gboolean
is_within (PawlZone zone, double value)
{
  return zone.from < value && value < zone.to;
}

/* ±0.03 mm is u 0.01732 mm; readings every 0.005 mm from well below to well above, under each policy. */
static void
test_zones (void)
{
  static const char * const policies[] = { "simple", "guard-band", "proof", "risk 5 %", "risk 1 %", NULL };
  static const char * const limits[] = { "10..11 mm", "max 11 mm", "min 10 mm", "10.2..10.8 mm; wear max 11 mm", NULL };

  for (guint i = 0; policies[i] != NULL; i++)
    for (guint j = 0; limits[j] != NULL; j++)
      for (int step = -30; step <= 230; step++)
        {
          g_autofree char *reading = g_strdup_printf ("%.3f mm", 9.9025 + step * 0.005);
          PawlVerdict verdict;
          PawlVerdictScale scale = make_scale (limits[j], reading, "0.03 mm", policies[i], &verdict);
          gboolean is_close = is_within (scale.low_zone, scale.reading_low) || is_within (scale.high_zone, scale.reading_low);

          if (is_close != (verdict.kind == PAWL_VERDICT_TOO_CLOSE))
            g_error ("%s of %s by %s: %s", reading, limits[j], policies[i], pawl_verdict_get_word (verdict.kind));
          g_assert_cmpfloat_with_epsilon (scale.expanded, 2 * 0.03 / sqrt (3), 1e-12);
        }
}

static void
test_numbers (void)
{
  PawlVerdict verdict;
  PawlVerdictScale scale = make_scale ("1..2 in; wear max 2.5 in", "25.4 mm", NULL, "guard-band", &verdict);

  g_assert_cmpfloat (scale.low, ==, 1);
  g_assert_cmpfloat (scale.high, ==, 2.5);
  g_assert_true (isnan (scale.new_low));
  g_assert_cmpfloat (scale.new_high, ==, 2);
  g_assert_cmpfloat (scale.reading_low, ==, 1); /* in the unit of the limits */
  g_assert_cmpfloat (scale.reading_high, ==, 1);
  g_assert_true (isnan (scale.expanded) && isnan (scale.low_zone.from) && isnan (scale.high_zone.to)); /* of an instrument that nothing is known of */
  scale = make_scale ("max 0.012 in", ".010 in goes, .012 in does not", "0.001 in", "guard-band", &verdict);
  g_assert_true (isnan (scale.low) && isnan (scale.low_zone.to));
  g_assert_cmpfloat_with_epsilon (scale.reading_low, 0.010, 1e-15);
  g_assert_cmpfloat_with_epsilon (scale.reading_high, 0.012, 1e-15);
  g_assert_cmpfloat_with_epsilon (scale.high_zone.to - scale.high, verdict.guard, 1e-15);
}

static void
test_nothing (void)
{
  static const char * const outcomes[] = { "free", "binds", NULL }, * const acceptable[] = { "free", NULL };
  g_autoptr(PawlLimits) choice = pawl_limits_new_choice (outcomes, acceptable);
  g_autoptr(PawlLimits) later = pawl_limits_new_follows ("0.003 × bore", pawl_unit_lookup ("mm")), limits = pawl_limits_parse ("1..2 mm", NULL, NULL);
  PawlVerdictScale scale;

  g_assert_false (pawl_verdict_scale_make (choice, NULL, NULL, &scale));
  g_assert_false (pawl_verdict_scale_make (later, NULL, NULL, &scale));
  g_assert_true (pawl_verdict_scale_make (limits, NULL, NULL, &scale));
  g_assert_cmpfloat (scale.high, ==, 2);
  g_assert_true (isnan (scale.reading_low) && isnan (scale.expanded) && isnan (scale.low_zone.from));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/verdict-scale/zones", test_zones);
  g_test_add_func ("/measure/verdict-scale/numbers", test_numbers);
  g_test_add_func ("/measure/verdict-scale/nothing", test_nothing);
  return g_test_run ();
}
