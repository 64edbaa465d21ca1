#include "solids/pawl-solid-vane.h"

/* How much of its thickness rounds each corner of a vane's inner end. */
#define NOSE 0.45

static double
radians (double degrees)
{
  return degrees * G_PI / 180.0;
}

/**
 * pawl_solid_vane_wrap:
 *
 * The angle about the axis from the vane's inner to its outer end, radians, clockwise below 0. A line that meets every circle
 * at the angle β is r = r1 exp (φ tan β), so φ = ln (r2 / r1) / tan β. Source: definition of the logarithmic (equiangular) spiral.
 */
double
pawl_solid_vane_wrap (const PawlSolidVane *vane)
{
  return log (vane->outer / vane->inner) / tan (radians (vane->angle_deg));
}

/* A corner of the vane at @share of its wrap, @side (-1 or 1) half a thickness to the right or left of its middle line. */
static PawlSolidCorner
vane_corner (const PawlSolidVane *vane, double share, int side)
{
  double turn = share * pawl_solid_vane_wrap (vane), angle = radians (vane->start_deg) + turn;
  double radius = vane->inner * pow (vane->outer / vane->inner, share);
  double lean = radians (vane->angle_deg) + (vane->angle_deg < 0.0 ? G_PI : 0.0);     /* from the circle, anticlockwise, outward */
  double ahead = angle + G_PI / 2.0 - lean, half = side * vane->thick / 2.0;          /* the way the middle line goes */
  gboolean is_nose = share == 0.0;

  return (PawlSolidCorner) { radius * cos (angle) - half * sin (ahead), radius * sin (angle) + half * cos (ahead),
                             is_nose ? NOSE * vane->thick : 0.0 };
}

/**
 * pawl_solid_vane_outline:
 * @vane: its angle at least PAWL_SOLID_VANE_MIN_DEG either way
 *
 * The vane in the plane, of one thickness from a round nose to ends cut square to it.
 *
 * Returns: (transfer full): free with pawl_solid_outline_free().
 */
PawlSolidOutline *
pawl_solid_vane_outline (const PawlSolidVane *vane)
{
  guint steps = pawl_solid_arc_steps (vane->outer, pawl_solid_vane_wrap (vane));
  g_autofree PawlSolidCorner *corners = g_new (PawlSolidCorner, 2 * (steps + 1));

  for (guint i = 0; i <= steps; i++)
    {
      corners[i] = vane_corner (vane, (double) i / steps, -1);
      corners[2 * steps + 1 - i] = vane_corner (vane, (double) i / steps, 1);
    }
  return pawl_solid_outline_new (corners, 2 * (steps + 1), FALSE);
}

/* The radius after @turn radians from the start. */
static double
volute_radius (const PawlSolidVolute *volute, double turn)
{
  return volute->inner + (volute->outer - volute->inner) * turn / (2.0 * G_PI);
}

/**
 * pawl_solid_volute_tongue:
 *
 * How far after the start the tongue stands, radians: where the inner side of the neck, the straight line that touches the
 * circle of the inner radius at the start, meets the turn. 0 without a neck.
 */
double
pawl_solid_volute_tongue (const PawlSolidVolute *volute)
{
  double low = 1e-6, high = G_PI / 3.0;

  if (volute->neck <= 0.0)
    return 0.0;
  for (guint i = 0; i < 60; i++)
    {
      double middle = (low + high) / 2.0;

      if (volute_radius (volute, middle) * cos (middle) > volute->inner)
        low = middle;
      else
        high = middle;
    }
  return low;
}

static PawlSolidCorner
polar (double radius, double angle, double ahead)
{
  return (PawlSolidCorner) { radius * cos (angle) - ahead * sin (angle), radius * sin (angle) + ahead * cos (angle), 0 };
}

/**
 * pawl_solid_volute_outline:
 * @volute: 0 < inner < outer; the neck, if any, reaches beyond the tongue
 *
 * The volute in the plane: the turn, then the neck.
 *
 * Returns: (transfer full): free with pawl_solid_outline_free().
 */
PawlSolidOutline *
pawl_solid_volute_outline (const PawlSolidVolute *volute)
{
  g_autoptr(GArray) corners = g_array_new (FALSE, FALSE, sizeof (PawlSolidCorner));
  double start = radians (volute->start_deg), tongue = pawl_solid_volute_tongue (volute), sweep = 2.0 * G_PI - tongue;
  guint steps = pawl_solid_arc_steps (volute->outer, sweep);
  PawlSolidCorner corner;

  for (guint i = 0; i <= steps; i++)
    {
      double turn = tongue + sweep * i / steps;

      corner = polar (volute_radius (volute, turn), start + turn, 0.0);
      g_array_append_val (corners, corner);
    }
  if (volute->neck > 0.0)
    {
      corner = polar (volute->outer, start, volute->neck);
      g_array_append_val (corners, corner);
      corner = polar (volute->inner, start, volute->neck);
      g_array_append_val (corners, corner);
    }
  else
    {
      corner = polar (volute->inner, start, 0.0);
      g_array_append_val (corners, corner);
    }
  return pawl_solid_outline_new ((const PawlSolidCorner *) (gpointer) corners->data, corners->len, FALSE);
}
