/* Limits in the styles of books; the values follow from the text. */
#include "measure/pawl-limits.h"
#include "testing.h"

typedef struct {
  const char    *text;
  const char    *default_unit;
  PawlLimitsKind kind;
  const char    *unit;
  const char    *low;      /* (nullable), all in @unit */
  const char    *high;
  const char    *nominal;
  const char    *wear_low;
  const char    *wear_high;
  gboolean       is_mixed;
} Good;

static const Good good[] = {
  { "25..31 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, NULL, FALSE },
  { "25 thou..31", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, NULL, FALSE },
  { "25 thou..31 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, NULL, FALSE },
  { "25 to 31 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, NULL, FALSE },
  { "25…31 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, NULL, FALSE },
  { ".010 .. .012 in", NULL, PAWL_LIMITS_RANGE, "in", "0.010", "0.012", NULL, NULL, NULL, FALSE },
  { "0.010..0.012", "in", PAWL_LIMITS_RANGE, "in", "0.010", "0.012", NULL, NULL, NULL, FALSE },
  { "12 in..13 in", NULL, PAWL_LIMITS_RANGE, "in", "12", "13", NULL, NULL, NULL, FALSE },
  { "0.0..0.3 mm", NULL, PAWL_LIMITS_RANGE, "mm", "0", "0.3", NULL, NULL, NULL, FALSE },
  { "-5..5 deg", NULL, PAWL_LIMITS_RANGE, "deg", "-5", "5", NULL, NULL, NULL, FALSE },
  { "3/8..1 1/2 in", NULL, PAWL_LIMITS_RANGE, "in", "3/8", "3/2", NULL, NULL, NULL, FALSE },
  { "25..25 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "25", NULL, NULL, NULL, FALSE },
  { "1 h 30 min..2 h", NULL, PAWL_LIMITS_RANGE, "h", "3/2", "2", NULL, NULL, NULL, FALSE },
  { "15..25 °C", NULL, PAWL_LIMITS_RANGE, "°C", "15", "25", NULL, NULL, NULL, FALSE },
  { "29..33 teeth", NULL, PAWL_LIMITS_RANGE, "teeth", "29", "33", NULL, NULL, NULL, FALSE },
  { "1 5/16 in ± 1/64", NULL, PAWL_LIMITS_NOMINAL, "in", "83/64", "85/64", "21/16", NULL, NULL, FALSE },
  { "1 5/16 in ± 1/64 in", NULL, PAWL_LIMITS_NOMINAL, "in", "83/64", "85/64", "21/16", NULL, NULL, FALSE },
  { "1 5/16 +/- 1/64 in", NULL, PAWL_LIMITS_NOMINAL, "in", "83/64", "85/64", "21/16", NULL, NULL, FALSE },
  { "1 5/16 +- 1/64 in", NULL, PAWL_LIMITS_NOMINAL, "in", "83/64", "85/64", "21/16", NULL, NULL, FALSE },
  { "33.3375 mm ± 0", NULL, PAWL_LIMITS_NOMINAL, "mm", "33.3375", "33.3375", "33.3375", NULL, NULL, FALSE },
  { "1 1/2 ± 1/8 turns", NULL, PAWL_LIMITS_NOMINAL, "turns", "11/8", "13/8", "3/2", NULL, NULL, FALSE },
  { "1½ ± ⅛ turns", NULL, PAWL_LIMITS_NOMINAL, "turns", "11/8", "13/8", "3/2", NULL, NULL, FALSE },
  { "6.0 N m ± 1.0 N m", NULL, PAWL_LIMITS_NOMINAL, "N m", "5", "7", "6", NULL, NULL, FALSE },
  { "28 lbf·in ± 4 lbf·in", NULL, PAWL_LIMITS_NOMINAL, "lbf·in", "24", "32", "28", NULL, NULL, FALSE },
  { "78 deg ± 3 deg", NULL, PAWL_LIMITS_NOMINAL, "deg", "75", "81", "78", NULL, NULL, FALSE },
  { "20 °C ± 2 °C", NULL, PAWL_LIMITS_NOMINAL, "°C", "18", "22", "20", NULL, NULL, FALSE },
  { "20 °C ± 2 Δ°C", NULL, PAWL_LIMITS_NOMINAL, "°C", "18", "22", "20", NULL, NULL, FALSE },
  { "68 ± 9 °F", NULL, PAWL_LIMITS_NOMINAL, "°C", "15", "25", "20", NULL, NULL, FALSE },
  { "1 in ± 0.5 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "24.9", "25.9", "25.4", .is_mixed = TRUE },
  { "10 +0.1/-0.2 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "9.8", "10.1", "10", NULL, NULL, FALSE },
  { "10 -0.2/+0.1 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "9.8", "10.1", "10", NULL, NULL, FALSE },
  { "10 mm +0.1 −0.2", NULL, PAWL_LIMITS_NOMINAL, "mm", "9.8", "10.1", "10", NULL, NULL, FALSE },
  { "10 +0.1/-0 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "10", "10.1", "10", NULL, NULL, FALSE },
  { "10 +0.1/0 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "10", "10.1", "10", NULL, NULL, FALSE },
  { "10 +0.3/+0.1 mm", NULL, PAWL_LIMITS_NOMINAL, "mm", "10.1", "10.3", "10", NULL, NULL, FALSE },
  { "1 5/16 +1/64/-1/32 in", NULL, PAWL_LIMITS_NOMINAL, "in", "82/64", "85/64", "21/16", NULL, NULL, FALSE },
  { "max 0.05 mm", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, NULL, FALSE },
  { "Max. 0.05 mm", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, NULL, FALSE },
  { "maximum .005", "in", PAWL_LIMITS_MAX, "in", NULL, "0.005", NULL, NULL, NULL, FALSE },
  { "≤ 0.05 mm", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, NULL, FALSE },
  { "≥12 mm", NULL, PAWL_LIMITS_MIN, "mm", "12", NULL, NULL, NULL, NULL, FALSE },
  { "0.05 mm max", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, NULL, FALSE },
  { ".005 max.", "in", PAWL_LIMITS_MAX, "in", NULL, "0.005", NULL, NULL, NULL, FALSE },
  { "0.05 mm max.; wear max 0.08", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, "0.08", FALSE },
  { "12 mm min", NULL, PAWL_LIMITS_MIN, "mm", "12", NULL, NULL, NULL, NULL, FALSE },
  { "30 min min", NULL, PAWL_LIMITS_MIN, "min", "30", NULL, NULL, NULL, NULL, FALSE },
  { "min 12 mm", NULL, PAWL_LIMITS_MIN, "mm", "12", NULL, NULL, NULL, NULL, FALSE },
  { "min 30 min", NULL, PAWL_LIMITS_MIN, "min", "30", NULL, NULL, NULL, NULL, FALSE },
  { "25..31 thou; wear max 35 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, "35", FALSE },
  { "25..31 thou; wear max 35", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, "35", FALSE },
  { "25..31 thou; wear max 31 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, "31", FALSE },
  { "25..31; wear max 35 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, "35", FALSE },
  { "new 25..31 thou, wear limit 35 thou", NULL, PAWL_LIMITS_RANGE, "thou", "25", "31", NULL, NULL, "35", FALSE },
  { "0.3115..0.3125 in; wear min 0.3105 in", NULL, PAWL_LIMITS_RANGE, "in", "0.3115", "0.3125", NULL, "0.3105", NULL, FALSE },
  { "0.3115..0.3125 in; wear limit 0.3105 in", NULL, PAWL_LIMITS_RANGE, "in", "0.3115", "0.3125", NULL, "0.3105", NULL, FALSE },
  { "max 0.05 mm; wear max 0.08 mm", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, "0.08", FALSE },
  { "min 12 mm; wear min 11.5 mm", NULL, PAWL_LIMITS_MIN, "mm", "12", NULL, NULL, "11.5", NULL, FALSE },
  { "max .005 in TIR", NULL, PAWL_LIMITS_MAX, "in", NULL, "0.005", NULL, NULL, NULL, FALSE },
  { "1 1/2 ± 1/8 turns from a light seat", NULL, PAWL_LIMITS_NOMINAL, "turns", "11/8", "13/8", "3/2", NULL, NULL, FALSE },
  { "min 3:4", NULL, PAWL_LIMITS_MIN, "ratio", "3/4", NULL, NULL, NULL, NULL, FALSE },
  { "#68..#56", NULL, PAWL_LIMITS_RANGE, "in", "0.031", "0.0465", NULL, NULL, NULL, FALSE },
  { "1/16 drill max", NULL, PAWL_LIMITS_MAX, "in", NULL, "1/16", NULL, NULL, NULL, FALSE },
  { "40 ± 2 L/min", NULL, PAWL_LIMITS_NOMINAL, "L/min", "38", "42", "40", NULL, NULL, FALSE },
  { "max 2 mm/min", NULL, PAWL_LIMITS_MAX, "mm/min", NULL, "2", NULL, NULL, NULL, FALSE },
  { "max Δ10 °C", NULL, PAWL_LIMITS_MAX, "Δ°C", NULL, "10", NULL, NULL, NULL, FALSE },
  { "  max 0.05 mm ", NULL, PAWL_LIMITS_MAX, "mm", NULL, "0.05", NULL, NULL, NULL, FALSE },
};

static void
check_value (const PawlQuantity *quantity, const char *unit, const char *expected)
{
  g_assert_true ((quantity == NULL) == (expected == NULL));
  if (quantity != NULL)
    testing_assert_value (quantity, unit, expected);
}

static void
test_good (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      const Good *row = &good[i];
      PawlTyping typing = testing_typing (row->default_unit, '.');
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlLimits) limits = pawl_limits_parse (row->text, &typing, &error);
      g_autofree char *text = g_strstrip (g_strdup (row->text));

      if (error != NULL)
        g_test_message ("“%s”: %s", row->text, error->message);
      g_assert_no_error (error);
      g_assert_cmpint (pawl_limits_get_kind (limits), ==, row->kind);
      g_assert_cmpstr (pawl_limits_get_text (limits), ==, text);
      g_assert_nonnull (pawl_limits_get_unit (limits));
      check_value (pawl_limits_peek_low (limits), row->unit, row->low);
      check_value (pawl_limits_peek_high (limits), row->unit, row->high);
      check_value (pawl_limits_peek_nominal (limits), row->unit, row->nominal);
      check_value (pawl_limits_peek_wear_low (limits), row->unit, row->wear_low);
      check_value (pawl_limits_peek_wear_high (limits), row->unit, row->wear_high);
      g_assert_cmpint (pawl_limits_mixes_systems (limits), ==, row->is_mixed);
      g_assert_null (pawl_limits_peek_outcomes (limits));
    }
}

static const struct {
  const char      *text;
  PawlReadingError code;
  guint            place;
} bad[] = {
  { "", PAWL_READING_ERROR_EMPTY, 0 },
  { "31..25 thou", PAWL_READING_ERROR_BAD_LIMITS, 5 },
  { "1 in..25 mm", PAWL_READING_ERROR_BAD_LIMITS, 7 },
  { "25 thou", PAWL_READING_ERROR_BAD_LIMITS, 8 },
  { "0.1...5 mm", PAWL_READING_ERROR_AMBIGUOUS, 4 },
  { "12-15 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "1.0–1.7 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 4 },
  { "25 thou - 31 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 9 },
  { "30 min", PAWL_READING_ERROR_BAD_LIMITS, 7 },
  { "min 5 mm max", PAWL_READING_ERROR_NOT_A_NUMBER, 10 },
  { "25..", PAWL_READING_ERROR_EMPTY, 5 },
  { "25..31", PAWL_READING_ERROR_AMBIGUOUS, 1 },
  { "1 1/2 ± 1/8", PAWL_READING_ERROR_AMBIGUOUS, 1 },
  { "max", PAWL_READING_ERROR_EMPTY, 4 },
  { "max thou", PAWL_READING_ERROR_NOT_A_NUMBER, 5 },
  { "10 mm ± -1", PAWL_READING_ERROR_BAD_LIMITS, 9 },
  { "10 mm ± 1 N", PAWL_READING_ERROR_WRONG_DIMENSION, 9 },
  { "10..12 mm; wear max 13 N", PAWL_READING_ERROR_WRONG_DIMENSION, 21 },
  { "10 +0.1 mm", PAWL_READING_ERROR_BAD_LIMITS, 11 },
  { "10 +0.1/0.2 mm", PAWL_READING_ERROR_BAD_LIMITS, 9 },
  { "25..31 thou; wear max 30 thou", PAWL_READING_ERROR_BAD_LIMITS, 23 },
  { "25..31 thou; wear min 30 thou", PAWL_READING_ERROR_BAD_LIMITS, 23 },
  { "25..31 thou; wear limit 30 thou", PAWL_READING_ERROR_BAD_LIMITS, 25 },
  { "max 31 thou; wear min 10 thou", PAWL_READING_ERROR_BAD_LIMITS, 23 },
  { "25..31 thou; wear 35 thou", PAWL_READING_ERROR_BAD_LIMITS, 19 },
  { "25..31 thou or so", PAWL_READING_ERROR_NOT_A_NUMBER, 13 },
  { "25..31 furlong", PAWL_READING_ERROR_UNKNOWN_UNIT, 8 },
  { "25..31..35 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 7 },
  { "about 25 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 1 },
  { "25,0..31,0 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "1/0..2 in", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
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

static void
test_comma (void)
{
  PawlTyping typing = testing_typing (NULL, ',');
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("24,5..25,5 mm", &typing, &error);
  g_autofree char *high = NULL;

  g_assert_no_error (error);
  testing_assert_value (pawl_limits_peek_low (limits), "mm", "24.5");
  testing_assert_value (pawl_limits_peek_high (limits), "mm", "25.5");
  g_assert_cmpstr (pawl_quantity_get_typed (pawl_limits_peek_high (limits)), ==, "25,5 mm");
}

static void
test_choice (void)
{
  static const char * const outcomes[] = { "free", "drags", "binds", NULL };
  static const char * const acceptable[] = { "free", NULL };
  g_autoptr(PawlLimits) limits = pawl_limits_new_choice (outcomes, acceptable);

  g_assert_cmpint (pawl_limits_get_kind (limits), ==, PAWL_LIMITS_CHOICE);
  g_assert_cmpstr (pawl_limits_get_text (limits), ==, "free");
  g_assert_true (g_strv_equal (pawl_limits_peek_outcomes (limits), outcomes));
  g_assert_true (g_strv_equal (pawl_limits_peek_acceptable (limits), acceptable));
  g_assert_null (pawl_limits_get_unit (limits));
  g_assert_null (pawl_limits_peek_high (limits));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/limits/good", test_good);
  g_test_add_func ("/limits/bad", test_bad);
  g_test_add_func ("/limits/comma", test_comma);
  g_test_add_func ("/limits/choice", test_choice);
  return g_test_run ();
}
