/* The projection, and the pictures of solids with a closed form. */
#include <string.h>

#include "small-figures.h"

static void
test_axis_scales (void)
{
  static const struct { double scale[3]; double u[3], v[3]; } cases[] = {
    /* Isometric: x and y fall at 30 degrees, all axes at full length (ISO 5456-3; the angles from memory, computed again here). */
    { { 1, 1, 1 }, { 0.866025404, -0.866025404, 0 }, { -0.5, -0.5, -1 } },
    /* Dimetric 1 : 1/2 : 1, the 7° / 42° axes of ISO 5456-3 (from memory); exact 7.18° and 41.41° (computed). */
    { { 1, 0.5, 1 }, { 0.992156742, -0.375, 0 }, { -0.125, -0.330718914, -1 } },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const int sign[3] = { -1, -1, 1 };
      PawlSolidView view = { 0 };

      g_assert_true (pawl_solid_view_set (&view, cases[i].scale, sign));
      for (guint k = 0; k < 3; k++)
        {
          PawlFlat p = pawl_solid_view_point (&view, vec (k == 0, k == 1, k == 2));

          g_assert_cmpfloat_with_epsilon (hypot (p.x, p.y), cases[i].scale[k], 1e-9);
          g_assert_cmpfloat_with_epsilon (p.x, cases[i].u[k], 1e-8);
          g_assert_cmpfloat_with_epsilon (p.y, cases[i].v[k], 1e-8);
        }
    }
}

static void
test_no_such_view (void)
{
  static const double bad[][3] = { { 1, 0.2, 3 }, { 0, 1, 1 }, { -1, 1, 1 }, { 1, NAN, 1 } };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      const int sign[3] = { -1, -1, 1 };
      PawlSolidView view = { 0 };

      g_assert_false (pawl_solid_view_set (&view, bad[i], sign));
    }
}

static void
test_lift (void)
{
  const double scale[3] = { 1, 0.75, 1 };
  const int sign[3] = { -1, -1, 1 };
  PawlSolidView view = { 0 };
  PawlFlat p;

  g_assert_true (pawl_solid_view_set (&view, scale, sign));
  p = pawl_solid_view_point (&view, pawl_solid_view_lift (&view, (PawlFlat) { 12.5, -3.25 }));
  g_assert_cmpfloat_with_epsilon (p.x, 12.5, 1e-9);
  g_assert_cmpfloat_with_epsilon (p.y, -3.25, 1e-9);
}

/* A circle of radius r in parallel projection is an ellipse: half-axes r and r k, times the scale; k = |n · v| for its normal n
   and the direction of view v. A disc of height h is that much wider across: h sqrt (1 - k²). For isometric |n · v| = 1 / sqrt (3) for a circle square to any axis. (Elementary; computed.) */
static void
test_ellipse_of_a_circle (void)
{
  static const struct { const char *scale; const char *axis; double ratio; } cases[] = {
    { "1,1,1", "x", 0.577350269 }, { "1,1,1", "y", 0.577350269 }, { "1,1,1", "z", 0.577350269 },
    { "1,0.5,1", "y", 0.881917104 }, { "1,0.5,1", "x", 0.333333333 },
    { "1,0.75,1", "x", 0.468521286 }, { "1,0.75,1", "y", 0.748983080 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *disc = g_strdup_printf ("<plate axis=\"%s\" circle=\"0,0,10\" height=\"1\"/>", cases[i].axis);
      g_autoptr(PawlSolids) solids = load_one (cases[i].scale, disc);
      g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
      double large, small, k = cases[i].ratio, half;

      measure_widths (picture->wide, &large, &small);
      g_assert_cmpfloat_with_epsilon (large, 10.0 * solids->view.scale, 0.03);
      half = solids->view.scale * (10.0 * k + 0.5 * sqrt (1.0 - k * k));
      g_assert_cmpfloat_with_epsilon (small, half, 0.03);
      measure_widths (picture->area[0], &large, &small); /* the filled area has the same outline */
      g_assert_cmpfloat_with_epsilon (large, 10.0 * solids->view.scale, 0.06);
      g_assert_cmpfloat_with_epsilon (small, half, 0.06);
    }
}

/* The outline of a cylinder lies r from its axis on the sheet, times the scale, whatever its direction. */
static void
test_outline_of_a_cylinder (void)
{
  static const char *const axes[] = { "x", "y", "z", "-x", "-y", "-z" };

  for (guint i = 0; i < G_N_ELEMENTS (axes); i++)
    {
      g_autofree char *rod = g_strdup_printf ("<turned axis=\"%s\" points=\"-30,0 -30,4 30,4 30,0\"/>", axes[i]);
      g_autoptr(PawlSolids) solids = load_one ("1,1,1", rod);
      g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
      double large, small;

      measure_widths (picture->wide, &large, &small);
      g_assert_cmpfloat_with_epsilon (small, 4.0 * solids->view.scale, 0.02);
    }
}

/* A sphere's outline is a circle of its own radius, times the scale. */
static void
test_outline_of_a_ball (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,0.75,1", "<turned axis=\"x\" points=\"-10,0 -10,10,9.999 10,10,9.999 10,0\"/>");
  g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
  double large, small;

  measure_widths (picture->wide, &large, &small);
  g_assert_cmpfloat_with_epsilon (large, 10.0 * solids->view.scale, 0.02);
  g_assert_cmpfloat_with_epsilon (small, 10.0 * solids->view.scale, 0.02);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/view/axis-scales", test_axis_scales);
  g_test_add_func ("/solids/view/no-such-view", test_no_such_view);
  g_test_add_func ("/solids/view/lift", test_lift);
  g_test_add_func ("/solids/view/ellipse-of-a-circle", test_ellipse_of_a_circle);
  g_test_add_func ("/solids/view/outline-of-a-cylinder", test_outline_of_a_cylinder);
  g_test_add_func ("/solids/view/outline-of-a-ball", test_outline_of_a_ball);
  return g_test_run ();
}
