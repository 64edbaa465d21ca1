/* Openings: two holes that don't quite meet, and a throttle plate in its bore. Areas, so doubles. */
#include <math.h>

#include "fit/pawl-difference.h"
#include "sums/pawl-sum-private.h"

#define DEGREE (G_PI / 180)

static double
get_mm (PawlSumRun *run, const char *name)
{
  return pawl_quantity_get_double (pawl_sum_run_get (run, name), pawl_unit_lookup ("mm"));
}

static double
get_degrees (PawlSumRun *run, const char *name)
{
  return pawl_quantity_get_double (pawl_sum_run_get (run, name), pawl_unit_lookup ("deg"));
}

static gboolean
refuse (GError **error, const char *message)
{
  g_set_error_literal (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, message);
  return FALSE;
}

/* @value in @unit, rounded to what an area by doubles is good for. */
static PawlQuantity *
make (double value, const PawlUnit *unit)
{
  PawlQuantity *quantity;
  mpq_t exact;

  mpq_init (exact);
  mpq_set_d (exact, value);
  quantity = pawl_quantity_new (exact, unit);
  mpq_clear (exact);
  return quantity;
}

static void
answer (PawlSumRun *run, const char *title, double value, const PawlUnit *unit)
{
  pawl_sum_run_answer (run, title, make (value, unit), TRUE, NULL);
}

static void
answer_mm (PawlSumRun *run, const char *title, double value_mm, const char *like)
{
  const PawlUnit *unit = pawl_quantity_get_unit (pawl_sum_run_get (run, like));
  g_autoptr(PawlQuantity) in_mm = make (value_mm, pawl_unit_lookup ("mm"));

  answer (run, title, pawl_quantity_get_double (in_mm, unit), unit);
}

static void
answer_area (PawlSumRun *run, const char *title, double value_mm2, const char *like)
{
  const PawlUnit *unit = pawl_unit_lookup (pawl_unit_is_inch (pawl_quantity_get_unit (pawl_sum_run_get (run, like))) ? "in²" : "mm²");
  g_autoptr(PawlQuantity) in_mm2 = make (value_mm2, pawl_unit_lookup ("mm²"));

  answer (run, title, pawl_quantity_get_double (in_mm2, unit), unit);
}

/* Two holes on one pitch circle, turned against each other: chord 2R sin (θ/2) between their middles. The wire is the largest circle in the lens. */
gboolean
pawl_sum_solve_overlap (PawlSumRun *run, GError **error)
{
  double port = get_mm (run, "port") / 2, hole = get_mm (run, "hole") / 2, radius = get_mm (run, "pitch-radius");
  double offset = 2 * radius * fabs (sin (get_degrees (run, "turned") / 2 * DEGREE)), small = MIN (port, hole), wire;

  if (port <= 0 || hole <= 0 || radius < 0)
    return refuse (error, "port: diameters are above zero, and the pitch radius is not below");
  wire = CLAMP (port + hole - offset, 0, 2 * small);
  answer_mm (run, "Middles apart", offset, "port");
  answer_area (run, "Open area", pawl_lens_area (port, hole, offset), "port");
  answer (run, "Open share of the smaller hole", 100 * pawl_lens_area (port, hole, offset) / (G_PI * small * small), pawl_unit_lookup ("%"));
  answer_mm (run, "Largest wire that still passes", wire, "port");
  pawl_sum_run_work (run, "Middles apart = 2 × pitch radius × sin (turned / 2)");
  pawl_sum_run_work (run, "Open = area common to both circles / area of the smaller");
  pawl_sum_run_work (run, "Wire = (port + hole) / 2 - middles apart, not over the smaller hole");
  return TRUE;
}

/*
 * Share of the bore that a thin plate at angle @psi leaves open, shut at @psi0, angles from square across the bore; its shaft, @a times the bore,
 * blocks a strip. What is seen along the bore is a circle, an ellipse within it that is @ratio of it high, and the strip across both. While the
 * ellipse lies behind the strip the strip alone blocks.
 *
 * In closed form from the areas of segments; J. B. Heywood, Internal Combustion Engine Fundamentals (1988), has the same, from memory.
 */
static double
get_plate_open (double a, double psi, double psi0)
{
  double ratio = cos (psi) / cos (psi0), q;

  if (ratio <= a)
    return 1 - 2 / G_PI * (a * sqrt (1 - a * a) + asin (a));
  q = a / ratio;
  return 2 / G_PI * ((G_PI / 2 - a * sqrt (1 - a * a) - asin (a)) - ratio * (G_PI / 2 - q * sqrt (1 - q * q) - asin (q)));
}

/*
 * Turned over, a plate whose edges are bevelled for @shut stands on its far corners: they are A along the plate and t across it from one another, and
 * bear on the bore when √(A² + t²) cos (ψ - atan (t/A)) is the bore, A = D/cos φ + t tan φ.
 */
static double
get_flipped_angle (double bore, double shut, double thickness)
{
  double along = bore / cos (shut) + thickness * tan (shut);

  return atan2 (thickness, along) + acos (bore / hypot (along, thickness));
}

static void
answer_flipped (PawlSumRun *run, double bore, double shut)
{
  double angle = get_flipped_angle (bore, shut, get_mm (run, "thickness"));

  answer (run, "Put in the other way round it stops at", angle / DEGREE, pawl_unit_lookup ("deg"));
  answer_mm (run, "and leaves a gap of about", bore / 2 * (1 - cos (angle) / cos (shut)), "bore");
  pawl_sum_run_work (run, "Stops at = atan (t / A) + acos (bore / √(A² + t²)), A = bore / cos (shut-angle) + t tan (shut-angle)");
}

gboolean
pawl_sum_solve_plate (PawlSumRun *run, GError **error)
{
  double bore = get_mm (run, "bore"), shaft = get_mm (run, "shaft"), shut = get_degrees (run, "shut-angle") * DEGREE, angle;

  if (bore <= 0 || shaft < 0 || shaft >= bore || shut < 0 || shut >= G_PI / 2)
    return refuse (error, "bore: it is above zero and wider than the shaft, and the shut angle is from 0° to less than 90°");
  if (pawl_sum_run_get (run, "thickness") != NULL)
    answer_flipped (run, bore, shut);
  if (pawl_sum_run_get (run, "angle") == NULL)
    return TRUE;
  angle = get_degrees (run, "angle") * DEGREE;
  if (angle < shut || angle > G_PI / 2)
    return refuse (error, "angle: it is from the shut angle to 90°");
  answer_area (run, "Open area", get_plate_open (shaft / bore, angle, shut) * G_PI / 4 * bore * bore, "bore");
  answer (run, "Open share of the bore", 100 * get_plate_open (shaft / bore, angle, shut), pawl_unit_lookup ("%"));
  pawl_sum_run_work (run, "Open = bore - (plate as seen along the bore) - (shaft where the plate does not hide it), by areas of segments");
  return TRUE;
}
