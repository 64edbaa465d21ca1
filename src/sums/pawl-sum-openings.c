/* Openings: two holes that don't quite meet, and a throttle plate in its bore. */
#include <math.h>

#include "fit/pawl-difference.h"
#include "sums/pawl-sum-private.h"

static double
get_in (PawlSumRun *run, const char *name, const PawlUnit *unit)
{
  return pawl_quantity_get_double (pawl_sum_run_get (run, name), unit);
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, message);
  return FALSE;
}

static void
answer (PawlSumRun *run, const char *title, double value, const PawlUnit *unit)
{
  mpq_t exact;

  mpq_init (exact);
  mpq_set_d (exact, value);
  pawl_sum_run_answer (run, title, pawl_quantity_new (exact, unit), TRUE, NULL);
  mpq_clear (exact);
}

/*
 * How far the middles are apart, 2R sin (θ/2), and the wire, the largest circle in the lens, are formulas of the table; the area of the lens is
 * pawl_lens_area(), as the rule of a hole out of line has it.
 */
gboolean
pawl_sum_solve_overlap (PawlSumRun *run, GError **error)
{
  const PawlUnit *unit = pawl_quantity_get_unit (pawl_sum_run_get (run, "port"));
  double port = get_in (run, "port", unit) / 2, hole = get_in (run, "hole", unit) / 2, apart = get_in (run, "apart", unit);
  double open = pawl_lens_area (port, hole, apart), whole = G_PI * MIN (port, hole) * MIN (port, hole);
  gboolean is_square = unit == pawl_unit_lookup ("mm") || unit == pawl_unit_lookup ("in"); /* other lengths have no square among the units */
  const char *square = unit == pawl_unit_lookup ("in") ? "in²" : "mm²";

  if (is_square)
    {
      answer (run, "Open area", open, pawl_unit_lookup (square));
      pawl_sum_run_work (run, "Open area = r² acos ((d² + r² - R²) / 2dr) + R² acos ((d² + R² - r²) / 2dR) - ½ √((r + R - d)(d + r - R)(d - r + R)(d + r + R))");
      pawl_sum_run_work (run, "  with r = %.4g, R = %.4g, d = %.4g: %.4g %s of the smaller hole's %.4g %s", port, hole, apart, open, square, whole, square);
    }
  answer (run, "Open share of the smaller hole", 100 * open / whole, pawl_unit_lookup ("%"));
  return TRUE;
}

/* Beyond square to the bore or along it a plate has no meaning. */
gboolean
pawl_sum_check_plate (PawlSumRun *run, GError **error)
{
  const PawlUnit *deg = pawl_unit_lookup ("deg");
  double shut = get_in (run, "shut-angle", deg);

  if (shut < 0 || shut >= 90)
    return refuse (error, "shut-angle: it is from 0° to less than 90°, from square across the bore");
  if (pawl_sum_run_get (run, "angle") != NULL && get_in (run, "angle", deg) > 90)
    return refuse (error, "angle: it is from the shut angle to 90°");
  return TRUE;
}
