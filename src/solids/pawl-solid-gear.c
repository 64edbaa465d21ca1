#include "solids/pawl-solid-gear.h"

/* The usual basic rack: pressure angle 20°, addendum 1 module, dedendum 1.25 modules, no profile shift, no backlash.
   Source of these and of the formulas below: T. Eritenel, "Geometry of spur gears", notebook, tables of basic gear geometry
   (tip diameter d + 2 m, root diameter d - 2.5 m, base diameter d cos α, tooth thickness at a diameter). */
#define PRESSURE_ANGLE (20.0 * G_PI / 180.0)
#define ADDENDUM 1.0
#define DEDENDUM 1.25

/* Sides into which one flank is chopped: neighbours turn by well under PAWL_SOLID_SMOOTH_DEG, so no line is drawn along it. */
#define FLANK_STEPS 5

/* A tooth that would end in an edge is cut off where it is this wide, in modules. */
#define LEAST_TIP 0.1

double
pawl_solid_gear_pitch_radius (const PawlSolidGear *gear)
{
  return gear->module * gear->teeth / 2.0;
}

double
pawl_solid_gear_tip_radius (const PawlSolidGear *gear)
{
  return pawl_solid_gear_pitch_radius (gear) + ADDENDUM * gear->module;
}

double
pawl_solid_gear_root_radius (const PawlSolidGear *gear)
{
  return pawl_solid_gear_pitch_radius (gear) - DEDENDUM * gear->module;
}

static double
involute (double angle)
{
  return tan (angle) - angle;
}

/**
 * pawl_solid_gear_tooth_half_angle:
 * @radius: mm, from root to tip
 *
 * Half the angle that a tooth fills at @radius, radians: s / d + inv 20° - inv α(r), where s = π m / 2 is its thickness on the
 * pitch circle and cos α(r) = base radius / r. Under the base circle the flank runs straight to the centre.
 */
double
pawl_solid_gear_tooth_half_angle (const PawlSolidGear *gear, double radius)
{
  double base = pawl_solid_gear_pitch_radius (gear) * cos (PRESSURE_ANGLE);
  double half = G_PI / (2.0 * gear->teeth) + involute (PRESSURE_ANGLE);

  return radius > base ? half - involute (acos (base / radius)) : half;
}

static void
add_corner (GArray *corners, double radius, double angle)
{
  PawlSolidCorner corner = { radius * cos (angle), radius * sin (angle), 0 };

  g_array_append_val (corners, corner);
}

/* The points of an arc between its ends, without them. */
static void
add_arc (GArray *corners, double radius, double from, double to)
{
  guint steps = pawl_solid_arc_steps (radius, to - from);

  for (guint i = 1; i < steps; i++)
    add_corner (corners, radius, from + (to - from) * i / steps);
}

/* One flank, outward on the side of the smaller angle, inward on the other. */
static void
add_flank (GArray *corners, const PawlSolidGear *gear, double middle, int side, double tip)
{
  double root = pawl_solid_gear_root_radius (gear);
  double base = pawl_solid_gear_pitch_radius (gear) * cos (PRESSURE_ANGLE);
  double foot = MAX (root, base);

  if (side < 0 && root < base)
    add_corner (corners, root, middle - pawl_solid_gear_tooth_half_angle (gear, root));
  for (guint i = 0; i <= FLANK_STEPS; i++)
    {
      double share = (double) (side < 0 ? i : FLANK_STEPS - i) / FLANK_STEPS;
      double radius = foot + (tip - foot) * share * share; /* closer where the involute turns most */

      add_corner (corners, radius, middle + side * pawl_solid_gear_tooth_half_angle (gear, radius));
    }
  if (side > 0 && root < base)
    add_corner (corners, root, middle + pawl_solid_gear_tooth_half_angle (gear, root));
}

/**
 * pawl_solid_gear_outline:
 * @gear: at least PAWL_SOLID_GEAR_MIN_TEETH teeth, module > 0 mm
 *
 * The outside of a spur gear in the plane, its axis through the origin.
 *
 * Returns: (transfer full): free with pawl_solid_outline_free().
 */
PawlSolidOutline *
pawl_solid_gear_outline (const PawlSolidGear *gear)
{
  g_autoptr(GArray) corners = g_array_new (FALSE, FALSE, sizeof (PawlSolidCorner));
  double root = pawl_solid_gear_root_radius (gear), tip = pawl_solid_gear_tip_radius (gear), pitch = 2.0 * G_PI / gear->teeth;

  while (2.0 * tip * pawl_solid_gear_tooth_half_angle (gear, tip) < LEAST_TIP * gear->module)
    tip -= 0.01 * gear->module;
  for (guint i = 0; i < gear->teeth; i++)
    {
      double middle = gear->start_deg * G_PI / 180.0 + i * pitch;
      double at_tip = pawl_solid_gear_tooth_half_angle (gear, tip), at_root = pawl_solid_gear_tooth_half_angle (gear, root);

      add_flank (corners, gear, middle, -1, tip);
      add_arc (corners, tip, middle - at_tip, middle + at_tip);
      add_flank (corners, gear, middle, 1, tip);
      add_arc (corners, root, middle + at_root, middle + pitch - at_root);
    }
  return pawl_solid_outline_new ((const PawlSolidCorner *) (gpointer) corners->data, corners->len, FALSE);
}
