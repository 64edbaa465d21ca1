/* What is typed or printed wrong, and can be known to be: readings that can hardly be, and limits whose two systems disagree. */
#include <string.h>

#include "measure/pawl-doubt.h"
#include "measure/pawl-limits.h"
#include "testing.h"

static const struct {
  const char *limits, *typed;
  const char *doubt; /* (nullable): words of the sentence */
} readings[] = {
  { "24.5..25.5 mm", "25 mm", NULL },
  { "24.5..25.5 mm", "30 mm", NULL }, /* out, and nothing odd about it */
  { "24.5..25.5 mm", "250 mm", NULL },
  { "24.5..25.5 mm", "0.985 mm", "in in would be inside" },
  { "24.5..25.5 mm", "985 mm", "in thou would be inside" },
  { "24.5..25.5 mm", "25 m", "in mm would be inside" },
  { "24.5..25.5 mm", "2.5 mm", "in cm would be inside" },
  { "0.95..1.05 kPa", "1 psi", "in kPa would be inside" },
  { "24.5..25.5 mm", "40 m", "over 1000 times the limit 25.5 mm" },
  { "24.5..25.5 mm", "3000000 m", "over 1000000 times the limit" },
  { "24.5..25.5 mm", "0.01 mm", "the limit 24.5 mm is over 1000 times 0.01 mm" },
  { "24.5..25.5 mm", "0 mm", "nothing at all" },
  { "24.5..25.5 mm", "-25 mm", "below zero" },
  { "max 0.05 mm", "0 mm", NULL },
  { "max 0.05 mm", "0.00001 mm", NULL },
  { "max 0.05 mm", "-0.02 mm", "below zero" },
  { "max 0.05 mm", "0.3 mm", NULL }, /* worn: below a maximum alone any smaller unit would do */
  { "max 0.05 mm", "1.5 mm", "in thou would be inside" },
  { "min 25 mm", "1 mm", "in in would be inside" },
  { "-0.05..0.05 mm", "-0.02 mm", NULL },
  { "max 0 mm", "5 mm", NULL }, /* no ratio to nothing */
  { "15..25 °C", "-20 °C", NULL },
  { "15..25 °C", "20000 °C", NULL },
  { "15..25 °C", "-300 °C", "colder than anything can be" },
  { "min 9 MΩ", "9 mΩ", "in MΩ would be inside" },
  { "25..31 thou; wear max 35 thou", "34 thou", NULL },
  { "25..31 thou; wear max 35 thou", "34 in", "in thou would be inside" },
  { "29..33 teeth", "0 teeth", "nothing at all" },
  { "1200 ± 75 rpm", "120 rpm", NULL },
};

static void
test_absurd (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (readings); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlLimits) limits = pawl_limits_parse (readings[i].limits, NULL, &error);
      g_autoptr(PawlQuantity) quantity = NULL;
      g_autofree char *sentence = NULL;
      gboolean is_absurd;

      g_assert_no_error (error);
      quantity = pawl_quantity_parse (readings[i].typed, NULL, &error);
      g_assert_no_error (error);
      is_absurd = pawl_reading_is_absurd (limits, quantity, &sentence);
      if (is_absurd != (readings[i].doubt != NULL) || (is_absurd && strstr (sentence, readings[i].doubt) == NULL))
        g_error ("%s for %s: %s", readings[i].typed, readings[i].limits, is_absurd ? sentence : "not absurd");
      g_assert_true (is_absurd == pawl_reading_is_absurd (limits, quantity, NULL));
    }
}

/* Nothing to be said of words, or of another dimension. */
static void
test_not_asked (void)
{
  static const char * const outcomes[] = { "free", "binds", NULL };
  g_autoptr(PawlLimits) choice = pawl_limits_new_choice (outcomes, outcomes);
  g_autoptr(PawlLimits) lengths = pawl_limits_parse ("24.5..25.5 mm", NULL, NULL);
  g_autoptr(PawlQuantity) quantity = testing_parse ("2500 psi", NULL);

  g_assert_false (pawl_reading_is_absurd (choice, quantity, NULL));
  g_assert_false (pawl_reading_is_absurd (lengths, quantity, NULL));
}

/* 1 in is 25.4 mm exactly; half of the coarser last place is what rounding may have changed. */
static const struct {
  const char *text;
  const char *low, *high, *wear_high; /* mm */
} both[] = {
  { "25.4..25.6 mm (1.000..1.008 in)", "25.4", "25.6", NULL },
  { "25.4..25.6 mm ( 1.000 .. 1.008 in )", "25.4", "25.6", NULL },
  { "0.25..0.36 mm (.010 .. .014 in)", "0.25", "0.36", NULL },
  { "25.4 ± 0.1 mm (1.000 ± .004 in)", "25.3", "25.5", NULL },
  { "33.34 mm ± 0.4 (1 5/16 in ± 1/64)", "32.94", "33.74", NULL },
  { "max 25.4 mm (1.000 in)", NULL, "25.4", NULL },
  { "max 25.4 mm (max 1.000 in)", NULL, "25.4", NULL },
  { "min 25.4 mm (1.000 in)", "25.4", NULL, NULL },
  { "25.4 mm max (1 in)", NULL, "25.4", NULL },
  { "25..31 thou (0.635..0.787 mm); wear max 35 thou (0.889 mm)", "0.635", "0.7874", "0.889" },
  { "25..31 thou (0.635..0.787 mm); wear max 35 thou", "0.635", "0.7874", "0.889" },
};

static void
check_value (const PawlQuantity *quantity, const char *expected)
{
  g_assert_true ((quantity == NULL) == (expected == NULL));
  if (quantity != NULL)
    testing_assert_value (quantity, "mm", expected);
}

static void
test_both (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (both); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlLimits) limits = pawl_limits_parse (both[i].text, NULL, &error);

      if (error != NULL)
        g_test_message ("“%s”: %s", both[i].text, error->message);
      g_assert_no_error (error);
      check_value (pawl_limits_peek_low (limits), both[i].low);
      check_value (pawl_limits_peek_high (limits), both[i].high);
      check_value (pawl_limits_peek_wear_high (limits), both[i].wear_high);
      g_assert_true (pawl_limits_mixes_systems (limits));
      g_assert_cmpstr (pawl_limits_get_text (limits), ==, both[i].text);
    }
}

static void
test_comma (void)
{
  const PawlTyping typing = testing_typing (NULL, ',');
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("max 0,05 mm (0,002 in)", &typing, &error);
  g_autoptr(PawlLimits) wrong = NULL;

  g_assert_no_error (error);
  testing_assert_value (pawl_limits_peek_high (limits), "mm", "0.05");
  wrong = pawl_limits_parse ("max 0,05 mm (0,003 in)", &typing, &error);
  g_assert_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_BAD_LIMITS);
}

static const struct {
  const char      *text;
  PawlReadingError code;
  guint            place;
} bad[] = {
  { "max 25.4 mm (1.010 in)", PAWL_READING_ERROR_BAD_LIMITS, 13 },
  { "max 25.4 mm (1.003 in)", PAWL_READING_ERROR_BAD_LIMITS, 13 }, /* 0.08 mm off; half a tenth is the most */
  { "25.4..25.6 mm (1.000..1.010 in)", PAWL_READING_ERROR_BAD_LIMITS, 15 },
  { "25.4..25.6 mm (1.000 in)", PAWL_READING_ERROR_BAD_LIMITS, 15 },
  { "25.4..25.6 mm (max 1.008 in)", PAWL_READING_ERROR_BAD_LIMITS, 15 },
  { "25.4..25.6 mm (1.000..1.008)", PAWL_READING_ERROR_AMBIGUOUS, 15 },
  { "25.4..25.6 mm (1.000..1.008 N)", PAWL_READING_ERROR_BAD_LIMITS, 15 },
  { "25.4..25.6 mm (1.000..1.008 in", PAWL_READING_ERROR_BAD_LIMITS, 15 },
  { "25.4..25.6 mm (((1 in)))", PAWL_READING_ERROR_NOT_A_NUMBER, 23 },
  { "25.4..25.6 mm ()", PAWL_READING_ERROR_EMPTY, 15 },
  { "25.4 mm (1.000 in) ± 0.1 mm", PAWL_READING_ERROR_BAD_LIMITS, 9 },
  { "25..31 thou (0.635..0.787 mm); wear max 35 thou (0.989 mm)", PAWL_READING_ERROR_BAD_LIMITS, 13 },
  { "25..31 thou; wear max 35 thou (0.889 mm)", PAWL_READING_ERROR_BAD_LIMITS, 31 },
  { "25.4..25.6 mm (1.000..1.008 in) (1 in)", PAWL_READING_ERROR_NOT_A_NUMBER, 33 },
  /* reversed, and a wear limit inside the limits of a new part */
  { "0.36..0.25 mm", PAWL_READING_ERROR_BAD_LIMITS, 7 },
  { "0.36..0.25 mm (.014 .. .010 in)", PAWL_READING_ERROR_BAD_LIMITS, 7 },
  { "88.000..88.030 mm; wear max 88.020 mm", PAWL_READING_ERROR_BAD_LIMITS, 29 },
};

static void
test_bad (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_limits_parse (bad[i].text, NULL, &error));
      testing_assert_error (error, bad[i].code, bad[i].place, bad[i].text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bad-input/absurd", test_absurd);
  g_test_add_func ("/bad-input/not-asked", test_not_asked);
  g_test_add_func ("/bad-input/both-systems", test_both);
  g_test_add_func ("/bad-input/comma", test_comma);
  g_test_add_func ("/bad-input/bad", test_bad);
  return g_test_run ();
}
