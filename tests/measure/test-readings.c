/* Readings as typed: what is understood, and as what; what is refused, where, and why. The values follow from the text. */
#include <string.h>

#include "testing.h"

typedef struct {
  const char *text;
  const char *default_unit; /* (nullable) */
  const char *unit;         /* the unit it is understood in */
  const char *value;        /* in that unit */
  char        decimal_mark;
} Good;

static const Good good[] = {
  /* inches, as books and rules print them */
  { "1 5/16 in", NULL, "in", "21/16", '.' },
  { "1 5/16", "in", "in", "21/16", '.' },
  { "1-5/16\"", NULL, "in", "21/16", '.' },
  { "1 5/16″", NULL, "in", "21/16", '.' },
  { "1-5/16''", NULL, "in", "21/16", '.' },
  { "27/32 in", NULL, "in", "27/32", '.' },
  { "27/32 in.", NULL, "in", "27/32", '.' },
  { "5/4 in", NULL, "in", "5/4", '.' },
  { ".025", "in", "in", "1/40", '.' },
  { "0.025 inch", NULL, "in", "1/40", '.' },
  { "2.5 inches", NULL, "in", "5/2", '.' },
  { "1⅝ in", NULL, "in", "13/8", '.' },
  { "1 ⅝ in", NULL, "in", "13/8", '.' },
  { "½\"", NULL, "in", "1/2", '.' },
  { "1 5⁄16 in", NULL, "in", "21/16", '.' },
  { "-1 1/2 in", NULL, "in", "-3/2", '.' },
  { "−0.002 in", NULL, "in", "-1/500", '.' },
  { "+.002 in", NULL, "in", "1/500", '.' },
  { "1\302\2405/16\302\240in", NULL, "in", "21/16", '.' },
  { "  12.5   mm  ", NULL, "mm", "25/2", '.' },
  { "5 ft 3 1/2 in", NULL, "in", "63.5", '.' },
  { "5 ft 3\"", NULL, "in", "63", '.' },
  { "1.25E-02 in", NULL, "in", "1/80", '.' },
  { "1e2 mm", NULL, "mm", "100", '.' },
  /* thou and mil are one */
  { "25 thou", NULL, "thou", "25", '.' },
  { "25 mil", NULL, "thou", "25", '.' },
  { "25 mils", NULL, "thou", "25", '.' },
  /* metric */
  { "0.635mm", NULL, "mm", "0.635", '.' },
  { "33,34 mm", NULL, "mm", "33.34", ',' },
  { "33,34", "mm", "mm", "33.34", ',' },
  { ",5", "mm", "mm", "0.5", ',' },
  { "12 MM", NULL, "mm", "12", '.' },
  { "8 µm", NULL, "µm", "8", '.' },
  { "8 μm", NULL, "µm", "8", '.' },
  { "8 um", NULL, "µm", "8", '.' },
  { "8 microns", NULL, "µm", "8", '.' },
  { "12 millimetres", NULL, "mm", "12", '.' },
  { "0", "mm", "mm", "0", '.' },
  /* angles and turns */
  { "1 1/2 turns", NULL, "turns", "3/2", '.' },
  { "1 turn", NULL, "turns", "1", '.' },
  { "1 1/2", "turns", "turns", "3/2", '.' },
  { "1½ turns", NULL, "turns", "3/2", '.' },
  { "12°30'", NULL, "deg", "12.5", '.' },
  { "12° 30′", NULL, "deg", "12.5", '.' },
  { "12°30′15″", NULL, "deg", "15005/1200", '.' },
  { "-12°30'", NULL, "deg", "-12.5", '.' },
  { "-0°30'", NULL, "deg", "-0.5", '.' },
  { "12 deg 30 min", NULL, "deg", "12.5", '.' },
  { "12.5 deg", NULL, "deg", "12.5", '.' },
  { "12.5°", NULL, "deg", "12.5", '.' },
  { "30'", "deg", "arcmin", "30", '.' },
  /* time */
  { "45 s", NULL, "s", "45", '.' },
  { "45 sec", NULL, "s", "45", '.' },
  { "1 h 30 min", NULL, "min", "90", '.' },
  { "1h30m", NULL, "min", "90", '.' },
  { "2 d", NULL, "d", "2", '.' },
  { "2 days 4 hours", NULL, "h", "52", '.' },
  { "1.5 h", NULL, "h", "3/2", '.' },
  { "1 min 20.5 s", NULL, "s", "80.5", '.' },
  /* torque, written every way round */
  { "35 lbf·ft", NULL, "lbf·ft", "35", '.' },
  { "35 lbf ft", NULL, "lbf·ft", "35", '.' },
  { "35 ft-lb", NULL, "lbf·ft", "35", '.' },
  { "35 ft-lbs", NULL, "lbf·ft", "35", '.' },
  { "35 ft lb", NULL, "lbf·ft", "35", '.' },
  { "35 ft.lb", NULL, "lbf·ft", "35", '.' },
  { "35 lb-ft", NULL, "lbf·ft", "35", '.' },
  { "35 lb.ft.", NULL, "lbf·ft", "35", '.' },
  { "28 in-lb", NULL, "lbf·in", "28", '.' },
  { "28 in-lbf", NULL, "lbf·in", "28", '.' },
  { "28 lbf·in", NULL, "lbf·in", "28", '.' },
  { "28 IN. LB", NULL, "lbf·in", "28", '.' },
  { "40 ozf·in", NULL, "ozf·in", "40", '.' },
  { "48 N m", NULL, "N m", "48", '.' },
  { "48 N·m", NULL, "N m", "48", '.' },
  { "48 N⋅m", NULL, "N m", "48", '.' },
  { "48 Nm", NULL, "N m", "48", '.' },
  { "48 N.m", NULL, "N m", "48", '.' },
  { "1.2 kgf m", NULL, "kgf m", "1.2", '.' },
  { "1.2 kg-m", NULL, "kgf m", "1.2", '.' },
  { "55 N cm", NULL, "N cm", "55", '.' },
  /* pressure */
  { "14.7 psi", NULL, "psi", "14.7", '.' },
  { "14.7 PSI", NULL, "psi", "14.7", '.' },
  { "101 kPa", NULL, "kPa", "101", '.' },
  { "1.01 bar", NULL, "bar", "1.01", '.' },
  { "1013 mbar", NULL, "mbar", "1013", '.' },
  { "18 inHg", NULL, "inHg", "18", '.' },
  { "18 in. Hg", NULL, "inHg", "18", '.' },
  { "18 \"Hg", NULL, "inHg", "18", '.' },
  { "760 mmHg", NULL, "mmHg", "760", '.' },
  { "12 Pa", NULL, "Pa", "12", '.' },
  { "1.2 MPa", NULL, "MPa", "1.2", '.' },
  { "2 kgf/cm²", NULL, "kgf/cm²", "2", '.' },
  { "4 in H2O", NULL, "inH2O", "4", '.' },
  /* volume; the two fluid ounces are kept apart */
  { "30 cc", NULL, "cc", "30", '.' },
  { "30 cm³", NULL, "cm³", "30", '.' },
  { "30 cm^3", NULL, "cm³", "30", '.' },
  { "30 ml", NULL, "mL", "30", '.' },
  { "1.5 L", NULL, "L", "1.5", '.' },
  { "2 fl oz US", NULL, "fl oz US", "2", '.' },
  { "2 US fl. oz.", NULL, "fl oz US", "2", '.' },
  { "2 fl oz imp", NULL, "fl oz imp", "2", '.' },
  { "2 fl oz", "fl oz imp", "fl oz imp", "2", '.' },
  { "3 cu in", NULL, "in³", "3", '.' },
  /* mass and force; a pull scale is marked in ounces and pounds */
  { "31.6 g", NULL, "g", "31.6", '.' },
  { "1 1/8 oz", NULL, "oz", "9/8", '.' },
  { "2 lb 3 oz", NULL, "oz", "35", '.' },
  { "2 lbs", NULL, "lb", "2", '.' },
  { "1.2 kg", NULL, "kg", "1.2", '.' },
  { "4.5 N", NULL, "N", "4.5", '.' },
  { "16 ozf", NULL, "ozf", "16", '.' },
  { "1 lbf", NULL, "lbf", "1", '.' },
  { "0.5 kgf", NULL, "kgf", "0.5", '.' },
  { "18 oz", "N", "ozf", "18", '.' },
  { "18 oz", "ozf", "ozf", "18", '.' },
  { "2 lb", "lbf", "lbf", "2", '.' },
  /* electric */
  { "2.5 kΩ", NULL, "kΩ", "2.5", '.' },
  { "2.5 kΩ", NULL, "kΩ", "2.5", '.' },
  { "2.5 kohm", NULL, "kΩ", "2.5", '.' },
  { "0.8 ohms", NULL, "Ω", "0.8", '.' },
  { "2 MΩ", NULL, "MΩ", "2", '.' },
  { "2 mΩ", NULL, "mΩ", "2", '.' },
  { "2 megohms", NULL, "MΩ", "2", '.' },
  { "0.18 µF", NULL, "µF", "0.18", '.' },
  { "0.18 μF", NULL, "µF", "0.18", '.' },
  { "0.18 uF", NULL, "µF", "0.18", '.' },
  { "180 nF", NULL, "nF", "180", '.' },
  { "220 pF", NULL, "pF", "220", '.' },
  /* temperature: points and differences */
  { "70 °F", NULL, "°F", "70", '.' },
  { "70°F", NULL, "°F", "70", '.' },
  { "70 F", NULL, "°F", "70", '.' },
  { "70 deg F", NULL, "°F", "70", '.' },
  { "-40 °C", NULL, "°C", "-40", '.' },
  { "20 ℃", NULL, "°C", "20", '.' },
  { "70°", "°F", "°F", "70", '.' },
  { "293.15 K", NULL, "K", "293.15", '.' },
  { "10 Δ°F", NULL, "Δ°F", "10", '.' },
  { "10 delta F", NULL, "Δ°F", "10", '.' },
  { "10 °F difference", NULL, "Δ°F", "10", '.' },
  { "10 °C rise", NULL, "Δ°C", "10", '.' },
  /* the rest */
  { "1.2 N/mm", NULL, "N/mm", "1.2", '.' },
  { "6.8 lb/in", NULL, "lbf/in", "6.8", '.' },
  { "1200 rpm", NULL, "rpm", "1200", '.' },
  { "1200 r/min", NULL, "rpm", "1200", '.' },
  { "31 teeth", NULL, "teeth", "31", '.' },
  { "1 tooth", NULL, "teeth", "1", '.' },
  { "4 pieces", NULL, "pieces", "4", '.' },
  { "10 %", NULL, "%", "10", '.' },
  { "10%", NULL, "%", "10", '.' },
  { "8", "%", "%", "8", '.' },
  { "0.75", "ratio", "ratio", "3/4", '.' },
  /* drills */
  { "#56", NULL, "in", "0.0465", '.' },
  { "# 56", NULL, "in", "0.0465", '.' },
  { "No. 56", NULL, "in", "0.0465", '.' },
  { "no 56", NULL, "in", "0.0465", '.' },
  { "No. 56 drill", NULL, "in", "0.0465", '.' },
  { "number 56", "mm", "in", "0.0465", '.' },
  { "F drill", NULL, "in", "0.257", '.' },
  { "letter F", "mm", "in", "0.257", '.' },
  { "letter f drill", NULL, "in", "0.257", '.' },
};

static void
test_good (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      PawlTyping typing = testing_typing (good[i].default_unit, good[i].decimal_mark);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (good[i].text, &typing, &error);

      if (error != NULL)
        g_test_message ("“%s”: %s", good[i].text, error->message);
      g_assert_no_error (error);
      g_assert_cmpstr (pawl_quantity_get_typed (quantity), ==, good[i].text);
      g_assert_cmpstr (pawl_unit_get_symbol (pawl_quantity_get_unit (quantity)), ==, good[i].unit);
      g_assert_false (pawl_quantity_is_interval (quantity));
      testing_assert_value (quantity, good[i].unit, good[i].value);
    }
}

/* Every fraction that has a sign of its own, alone and close after a whole number. */
static void
test_vulgar (void)
{
  static const char * const signs[][2] = {
    { "¼", "1/4" }, { "½", "1/2" }, { "¾", "3/4" }, { "⅐", "1/7" }, { "⅑", "1/9" }, { "⅒", "1/10" }, { "⅓", "1/3" }, { "⅔", "2/3" }, { "⅕", "1/5" },
    { "⅖", "2/5" }, { "⅗", "3/5" }, { "⅘", "4/5" }, { "⅙", "1/6" }, { "⅚", "5/6" }, { "⅛", "1/8" }, { "⅜", "3/8" }, { "⅝", "5/8" }, { "⅞", "7/8" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      g_autofree char *mixed = g_strconcat ("2", signs[i][0], NULL);
      g_autofree char *plain = g_strconcat ("2 ", signs[i][1], " turns", NULL);
      g_autoptr(PawlQuantity) alone = testing_parse (signs[i][0], "turns");
      g_autoptr(PawlQuantity) after = testing_parse (mixed, "turns");
      g_autoptr(PawlQuantity) spelled = testing_parse (plain, NULL);

      testing_assert_value (alone, "turns", signs[i][1]);
      g_assert_cmpint (pawl_quantity_compare (after, spelled), ==, 0);
      g_assert_cmpint (pawl_quantity_compare (after, alone), >, 0);
    }
}

typedef struct {
  const char      *text;
  PawlReadingError code;
  guint            place;        /* 0: the whole of it */
  const char      *default_unit; /* (nullable) */
  char             decimal_mark;
  gboolean         is_mixed;
} Bad;

static const Bad bad[] = {
  { "", PAWL_READING_ERROR_EMPTY, 0, NULL, '.', FALSE },
  { "   ", PAWL_READING_ERROR_EMPTY, 0, "mm", '.', FALSE },
  { "abc", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "-", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "12 mm 5", PAWL_READING_ERROR_NOT_A_NUMBER, 7, NULL, '.', FALSE },
  { "12 mm mm", PAWL_READING_ERROR_NOT_A_NUMBER, 7, NULL, '.', FALSE },
  { "12 furlong", PAWL_READING_ERROR_UNKNOWN_UNIT, 4, NULL, '.', FALSE },
  { "12 nm", PAWL_READING_ERROR_UNKNOWN_UNIT, 4, NULL, '.', FALSE },
  { "12 mpa", PAWL_READING_ERROR_UNKNOWN_UNIT, 4, NULL, '.', FALSE },
  { "12 MOHM", PAWL_READING_ERROR_UNKNOWN_UNIT, 4, NULL, '.', FALSE },
  { "≈ 12 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "nan", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "inf mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "0x12 mm", PAWL_READING_ERROR_UNKNOWN_UNIT, 2, NULL, '.', FALSE },
  { "٣ mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  /* a bare number that could be two things */
  { "1.125", PAWL_READING_ERROR_AMBIGUOUS, 1, NULL, '.', FALSE },
  { "1 5/16", PAWL_READING_ERROR_AMBIGUOUS, 1, NULL, '.', FALSE },
  { "1 5/16", PAWL_READING_ERROR_AMBIGUOUS, 1, "mm", '.', FALSE },
  { "1.125", PAWL_READING_ERROR_AMBIGUOUS, 1, "mm", '.', TRUE },
  { "2 fl oz", PAWL_READING_ERROR_AMBIGUOUS, 3, NULL, '.', FALSE },
  { "30'", PAWL_READING_ERROR_AMBIGUOUS, 3, NULL, '.', FALSE },
  { "70°", PAWL_READING_ERROR_AMBIGUOUS, 3, "K", '.', FALSE },
  { "1 h 30", PAWL_READING_ERROR_AMBIGUOUS, 5, NULL, '.', FALSE },
  /* marks of the other habit, thousands */
  { "33,34 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  { "33.34 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, ',', FALSE },
  { ".5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, ',', FALSE },
  { ",5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "1,234 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "1.234,5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, ',', FALSE },
  { "1,234.5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "1.234.567 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 6, NULL, '.', FALSE },
  { "1 234 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "1\342\200\257234 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "1'234 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "12. mm", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { ".", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  /* fractions */
  { "1/0 in", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  { "1 5/0 in", PAWL_READING_ERROR_NOT_A_NUMBER, 5, NULL, '.', FALSE },
  { "1/ in", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "3/8/2 in", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { "1 9/8 in", PAWL_READING_ERROR_NOT_A_NUMBER, 6, NULL, '.', FALSE },
  { "1 8/8 in", PAWL_READING_ERROR_NOT_A_NUMBER, 6, NULL, '.', FALSE },
  { "1/2.5 in", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { "1.5 1/2 in", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { "12-15 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  { "12–15 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  { "--5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "1 - 5/16 in", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  { "≤ 5 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "5 ± 1 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 3, NULL, '.', FALSE },
  /* units in a row */
  { "1 h 90 min", PAWL_READING_ERROR_NOT_A_NUMBER, 5, NULL, '.', FALSE },
  { "1.5 h 30 min", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "30 min 1 h", PAWL_READING_ERROR_NOT_A_NUMBER, 8, NULL, '.', FALSE },
  { "12°60'", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { "5 ft 3 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 6, NULL, '.', FALSE },
  /* drills */
  { "#0", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "#81", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "#5.6", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "# drill", PAWL_READING_ERROR_NOT_A_NUMBER, 1, NULL, '.', FALSE },
  { "#99999999999999999999999", PAWL_READING_ERROR_NOT_A_NUMBER, 2, NULL, '.', FALSE },
  { "5²", PAWL_READING_ERROR_NOT_A_NUMBER, 2, "mm", '.', FALSE },
};

static void
test_bad (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      PawlTyping typing = testing_typing (bad[i].default_unit, bad[i].decimal_mark);
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlQuantity) quantity = NULL;

      typing.is_mixed = bad[i].is_mixed;
      quantity = pawl_quantity_parse (bad[i].text, &typing, &error);
      g_assert_true ((quantity == NULL) == (error != NULL));
      testing_assert_error (error, bad[i].code, bad[i].place, bad[i].text);
    }
}

/* What a refusal quotes is what was typed, and not what it was folded to. */
static void
test_quoted (void)
{
  static const char * const rows[][2] = {
    { "5 ±1 mm", "“±1”" }, { "5²", "“²”" }, { "≈ 12 mm", "“≈”" }, { "12 µfurlongs per day", "“µfurlongs”" },
    { "12 abcdefghijklmnopqrstuvwxyz", "“abcdefghijklmnopqrst”" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_quantity_parse (rows[i][0], NULL, &error));
      if (strstr (error->message, rows[i][1]) == NULL)
        g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, rows[i][1]));
    }
}

/* A refusal shows what would do, and that does. */
static void
test_examples (void)
{
  static const char * const units[] = { "mm", "deg", "s", "g", "N", "N m", "psi", "mL", "Ω", "µF", "°C", "Δ°C", "N/mm", "rpm", "teeth", "%" };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    {
      PawlTyping typing = testing_typing (units[i], '.');
      g_autoptr(GError) error = NULL;
      g_autofree char *example = NULL;
      g_auto(GStrv) examples = NULL;

      g_assert_null (pawl_quantity_parse ("?", &typing, &error));
      g_assert_nonnull (strstr (error->message, "write for example "));
      example = g_strdup (strstr (error->message, "write for example ") + strlen ("write for example "));
      examples = g_regex_split_simple (", | or ", example, 0, 0);
      for (char **one = examples; *one != NULL; one++)
        {
          g_autoptr(PawlQuantity) quantity = testing_parse (*one, units[i]);

          g_assert_cmpint (pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)), ==, pawl_unit_get_dimension (typing.default_unit));
        }
    }
}

static const struct {
  const char *text;
  const char *default_unit;
  const char *unit;
  const char *low;
  const char *high;
} brackets[] = {
  { ".010 goes, .012 does not", "in", "in", "0.010", "0.012" },
  { ".010 in goes, .012 in does not go", NULL, "in", "0.010", "0.012" },
  { "10 thou goes, 12 does not", NULL, "thou", "10", "12" },
  { ".010 goes; .012 in doesn't", NULL, "in", "0.010", "0.012" },
  { ".012 does not, .010 goes", "in", "in", "0.010", "0.012" },
  { "0.25 mm goes but 0.30 mm won't", NULL, "mm", "0.25", "0.30" },
  { ".010 goes .012 no go", "in", "in", "0.010", "0.012" },
  { "#57 goes, #56 does not", NULL, "in", "0.043", "0.0465" },
  { ".002 .. .003 in", NULL, "in", "0.002", "0.003" },
  { "2..3 thou", NULL, "thou", "2", "3" },
  { "2…3 thou", NULL, "thou", "2", "3" },
};

static void
test_brackets (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (brackets); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (brackets[i].text, brackets[i].default_unit);
      mpq_t low, high, wanted;

      g_assert_true (pawl_quantity_is_interval (quantity));
      g_assert_cmpstr (pawl_unit_get_symbol (pawl_quantity_get_unit (quantity)), ==, brackets[i].unit);
      mpq_inits (low, high, wanted, NULL);
      pawl_quantity_get_base (quantity, low, high);
      pawl_unit_from_base (pawl_quantity_get_unit (quantity), low, low);
      pawl_unit_from_base (pawl_quantity_get_unit (quantity), high, high);
      testing_set (wanted, brackets[i].low);
      g_assert_true (mpq_equal (low, wanted));
      testing_set (wanted, brackets[i].high);
      g_assert_true (mpq_equal (high, wanted));
      mpq_clears (low, high, wanted, NULL);
    }
}

static const Bad bad_brackets[] = {
  { ".012 goes, .010 does not", PAWL_READING_ERROR_NOT_A_NUMBER, 12, "in", '.', FALSE },
  { ".010 goes, .010 does not", PAWL_READING_ERROR_NOT_A_NUMBER, 12, "in", '.', FALSE },
  { ".010 goes", PAWL_READING_ERROR_EMPTY, 10, "in", '.', FALSE },
  { ".010 goes, .012", PAWL_READING_ERROR_NOT_A_NUMBER, 16, "in", '.', FALSE },
  { ".010 goes, .012 goes", PAWL_READING_ERROR_NOT_A_NUMBER, 17, "in", '.', FALSE },
  { ".010 goes, .012 does not", PAWL_READING_ERROR_AMBIGUOUS, 1, NULL, '.', FALSE },
  { ".010 in goes, 12 deg does not", PAWL_READING_ERROR_WRONG_DIMENSION, 15, NULL, '.', FALSE },
  { ".002...003 in", PAWL_READING_ERROR_AMBIGUOUS, 5, NULL, '.', FALSE },
  { "3..2 thou", PAWL_READING_ERROR_NOT_A_NUMBER, 4, NULL, '.', FALSE },
  { ".010 goes, .012 does not, .013", PAWL_READING_ERROR_NOT_A_NUMBER, 25, "in", '.', FALSE },
};

static void
test_bad_brackets (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (bad_brackets); i++)
    {
      PawlTyping typing = testing_typing (bad_brackets[i].default_unit, '.');
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_quantity_parse (bad_brackets[i].text, &typing, &error));
      testing_assert_error (error, bad_brackets[i].code, bad_brackets[i].place, bad_brackets[i].text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/readings/good", test_good);
  g_test_add_func ("/readings/vulgar", test_vulgar);
  g_test_add_func ("/readings/bad", test_bad);
  g_test_add_func ("/readings/quoted", test_quoted);
  g_test_add_func ("/readings/examples", test_examples);
  g_test_add_func ("/readings/brackets", test_brackets);
  g_test_add_func ("/readings/bad-brackets", test_bad_brackets);
  return g_test_run ();
}
