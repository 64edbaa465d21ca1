/*
 * Every unit against GNU units, a program of its own with a table of its own (https://www.gnu.org/software/units/): one of each in the first unit of its
 * dimension. Temperatures on a scale have a zero besides a factor, and are checked elsewhere; so are plain numbers and counts, and mercury as it was
 * measured at a temperature, which GNU units does not have.
 */
#include <float.h>
#include <gio/gio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "measure/pawl-quantity.h"
#include "measure/pawl-unit-private.h"

/* GNU units' word for ours, where it has another. */
static const char *
translate (const char *symbol)
{
  static const struct { const char *ours, *theirs; } words[] = {
    { "µm", "micron" }, { "thou", "mil" }, { "µin", "microinch" }, { "deg", "degree" }, { "turns", "turn" }, { "min", "minute" }, { "h", "hour" }, { "d", "day" },
    { "weeks", "week" }, { "gr", "grain" }, { "lbf·ft", "lbf ft" }, { "lbf·in", "lbf in" }, { "ozf·in", "ounce force in" }, { "ftH2O", "12 inH2O" }, { "kgf/cm²", "kgf/cm^2" },
    { "Torr", "torr" }, { "cm³", "cm^3" }, { "m³", "m^3" }, { "in³", "in^3" }, { "fl oz US", "usfloz" }, { "fl oz imp", "brfloz" }, { "gal US", "usgallon" },
    { "gal imp", "brgallon" }, { "qt US", "usquart" }, { "qt imp", "brquart" }, { "pt US", "uspint" }, { "pt imp", "brpint" },
    { "mΩ", "milliohm" }, { "Ω", "ohm" }, { "kΩ", "kiloohm" }, { "MΩ", "megaohm" }, { "µF", "microfarad" }, { "ΔK", "K" }, { "Δ°C", "degC" }, { "Δ°F", "degF" },
    { "gpm US", "usgallon/minute" }, { "gpm imp", "brgallon/minute" }, { "mL/min", "mL/minute" }, { "L/min", "L/minute" }, { "L/h", "L/hour" },
    { "mm/min", "mm/minute" }, { "in/min", "in/minute" }, { "mm²", "mm^2" }, { "cm²", "cm^2" }, { "in²", "in^2" }, { "PS", "metrichorsepower" },
    { "µA", "microampere" }, { "cc", "cm^3" }, { "ppm/K", "1e-6/K" }, { "/K", "1/K" }, { "/°F", "1/degF" }, { "flats", "turn/6" }, { "ppm/°F", "1e-6/degF" }, { "gf", "gram force" }, { "ozf", "ounce force" }, { "cN m", "centinewton m" }, { "mN m", "millinewton m" }, { "N cm", "N cm" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (words[i].ours, symbol))
      return words[i].theirs;
  return symbol;
}

static const PawlUnit *
find_first (PawlDimension dimension)
{
  for (gsize i = 0; i < pawl_n_units; i++)
    if (pawl_units[i].dimension == dimension)
      return &pawl_units[i];
  g_return_val_if_reached (NULL);
}

static gboolean
is_compared (const PawlUnit *unit)
{
  return strstr (unit->symbol, "inHg at") == NULL && unit->dimension != PAWL_DIMENSION_NONE && unit->dimension != PAWL_DIMENSION_COUNT && unit->dimension != PAWL_DIMENSION_TEMPERATURE;
}

static double
convert (const PawlUnit *from, const PawlUnit *to)
{
  double number;
  mpq_t value;

  mpq_init (value);
  mpq_set_ui (value, 1, 1);
  pawl_unit_to_base (from, value, value);
  pawl_unit_from_base (to, value, value);
  number = mpq_get_d (value);
  mpq_clear (value);
  return number;
}

static void
test_factors (void)
{
  g_autoptr(GString) questions = g_string_new (NULL);
  g_autoptr(GSubprocess) units = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *output = NULL;
  g_auto(GStrv) answers = NULL;
  guint n = 0;

  for (gsize i = 0; i < pawl_n_units; i++)
    if (is_compared (&pawl_units[i]))
      g_string_append_printf (questions, "%s\n%s\n", translate (pawl_units[i].symbol), translate (find_first (pawl_units[i].dimension)->symbol));
  units = g_subprocess_new (G_SUBPROCESS_FLAGS_STDIN_PIPE | G_SUBPROCESS_FLAGS_STDOUT_PIPE | G_SUBPROCESS_FLAGS_STDERR_MERGE, &error, GNU_UNITS, "--quiet",
                            "--one-line", "--strict", "--compact", "--output-format", "%.17g", NULL);
  g_assert_no_error (error);
  g_subprocess_communicate_utf8 (units, questions->str, NULL, &output, NULL, &error);
  g_assert_no_error (error);
  answers = g_strsplit (output, "\n", -1);
  for (gsize i = 0; i < pawl_n_units; i++)
    {
      const PawlUnit *first = find_first (pawl_units[i].dimension);
      const char *answer;
      double theirs, ours;
      char *end;

      if (!is_compared (&pawl_units[i]))
        continue;
      answer = answers[n++];
      g_assert_nonnull (answer);
      theirs = g_ascii_strtod (answer, &end);
      ours = convert (&pawl_units[i], first);
      if (end == answer || *end != '\0' || fabs (ours - theirs) > 4 * DBL_EPSILON * fabs (theirs))
        g_error ("1 %s is %.17g %s, and “%s” by GNU units", pawl_units[i].symbol, ours, first->symbol, answer);
    }
  g_test_message ("%u units compared", n);
  g_assert_cmpuint (n, >, 80);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/gnu-units", test_factors);
  return g_test_run ();
}
