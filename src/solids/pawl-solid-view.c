#include "solids/pawl-solid-view.h"

/**
 * pawl_solid_view_set:
 * @scale: length on the sheet of one millimetre along x, y and z (1, 1, 1 is isometric; 1, 0.75, 1 a dimetric)
 * @sign: which end of each axis points toward the viewer, -1 or 1
 *
 * Finds the parallel projection at right angles to the sheet that has these axis scales. z points up the sheet.
 *
 * An axis with direction cosine d toward the viewer is shortened to f = sqrt (1 - d²); the three d² add to 1, so the three
 * f² add to 2, and f = scale · sqrt (2 / sum of scale²). (Elementary geometry; nothing to look up.)
 *
 * Returns: FALSE if no such view exists: an f would be 1 or more, or an axis has no length.
 */
gboolean
pawl_solid_view_set (PawlSolidView *view, const double scale[3], const int sign[3])
{
  double sum = scale[0] * scale[0] + scale[1] * scale[1] + scale[2] * scale[2];
  double d[3];
  PawlVec z = vec (0, 0, 1);

  for (guint i = 0; i < 3; i++)
    {
      double f_squared = 2.0 * scale[i] * scale[i] / sum;

      if (!(scale[i] > 0.0) || !(f_squared < 1.0))
        return FALSE;
      d[i] = sign[i] * sqrt (1.0 - f_squared);
    }
  view->toward = vec (d[0], d[1], d[2]);
  view->right = vec_unit (vec_cross (z, view->toward));
  view->up = vec_cross (view->toward, view->right);
  view->scale = sqrt (sum / 2.0);
  return TRUE;
}

/* Where @p falls on the sheet: x to the right, y down, sheet units. */
PawlFlat
pawl_solid_view_point (const PawlSolidView *view, PawlVec p)
{
  return (PawlFlat) { vec_dot (p, view->right) * view->scale, -vec_dot (p, view->up) * view->scale };
}

/* A point in space that falls on @sheet: the one in the plane through the origin at right angles to the view. */
PawlVec
pawl_solid_view_lift (const PawlSolidView *view, PawlFlat sheet)
{
  return vec_add (vec_scale (view->right, sheet.x / view->scale), vec_scale (view->up, -sheet.y / view->scale));
}
