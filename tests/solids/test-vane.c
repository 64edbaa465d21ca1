/* Vanes and volutes: angles, thickness and areas against the formulas of their spirals. */
#include <string.h>

#include "solids/pawl-solid-vane.h"
#include "small-figures.h"

static const PawlSolidVane vanes[] = {
  { 14.0, 42.0, -32.0, 3.0, 20.0 },
  { 14.0, 42.0, 32.0, 3.0, 20.0 },
  { 20.0, 60.0, 15.0, 2.0, -70.0 },
  { 20.0, 60.0, 90.0, 4.0, 200.0 },
};

static double
area_of (const PawlSolidOutline *outline)
{
  double area = 0.0;

  for (guint i = 0; i < outline->n; i++)
    {
      PawlFlat a = outline->at[i], b = outline->at[(i + 1) % outline->n];

      area += (a.x * b.y - a.y * b.x) / 2.0;
    }
  return fabs (area);
}

/* At every radius the middle line lies where r = r1 exp (φ tan β) has it, and half the thickness of metal is on either side of it,
   square to the direction that makes the angle β with the circle. Source: definition of the logarithmic spiral. */
static void
test_angle (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (vanes); i++)
    {
      const PawlSolidVane *vane = &vanes[i];
      PawlSolidOutline *outline = pawl_solid_vane_outline (vane);
      double beta = vane->angle_deg * G_PI / 180.0, half = vane->thick / 2.0;

      for (double r = vane->inner + vane->thick; r < vane->outer - vane->thick; r += 1.0)
        {
          double phi = vane->start_deg * G_PI / 180.0 + log (r / vane->inner) / tan (beta), x = r * cos (phi), y = r * sin (phi);
          double nx = cos (phi) * cos (beta) + sin (phi) * sin (beta); /* square to the vane: radial for β = 0 */
          double ny = sin (phi) * cos (beta) - cos (phi) * sin (beta);

          for (int side = -1; side <= 1; side += 2)
            {
              g_assert_true (pawl_solid_outline_holds (outline, x + side * 0.98 * half * nx, y + side * 0.98 * half * ny));
              g_assert_false (pawl_solid_outline_holds (outline, x + side * 1.02 * half * nx, y + side * 1.02 * half * ny));
            }
        }
      pawl_solid_outline_free (outline);
    }
}

/* Thickness times the length of the spiral, (r2 - r1) / sin β (from dr = ds sin β), less what rounds the nose. */
static void
test_vane_area (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (vanes); i++)
    {
      const PawlSolidVane *vane = &vanes[i];
      PawlSolidOutline *outline = pawl_solid_vane_outline (vane);
      double length = (vane->outer - vane->inner) / sin (fabs (vane->angle_deg) * G_PI / 180.0), radius = 0.45 * vane->thick;
      double expected = vane->thick * length - (4.0 - G_PI) / 2.0 * radius * radius;

      g_assert_cmpfloat_with_epsilon (area_of (outline), expected, 0.003 * expected);
      pawl_solid_outline_free (outline);
    }
}

/* The metal ends on a line from the axis at a radius that grows evenly with the angle. */
static void
test_volute_grows (void)
{
  PawlSolidVolute volute = { 45.0, 62.0, 180.0, 0.0 };
  PawlSolidOutline *outline = pawl_solid_volute_outline (&volute);

  for (guint turn = 5; turn < 360; turn += 5)
    {
      double angle = (180.0 + turn) * G_PI / 180.0, radius = 45.0 + 17.0 * turn / 360.0;

      g_assert_true (pawl_solid_outline_holds (outline, (radius - 0.02) * cos (angle), (radius - 0.02) * sin (angle)));
      g_assert_false (pawl_solid_outline_holds (outline, (radius + 0.02) * cos (angle), (radius + 0.02) * sin (angle)));
    }
  pawl_solid_outline_free (outline);
}

/* ½ ∫ r² dφ over one turn of r = a + (b - a) φ / 2π is π (a² + ab + b²) / 3; the neck adds a strip b - a wide, and the sliver
   between its inner side and the turn before the tongue goes: the turn's area there less the triangle under the straight side. */
static void
test_volute_area (void)
{
  static const PawlSolidVolute volutes[] = { { 45, 62, 180, 0 }, { 45, 62, 180, 90 }, { 56, 73, 0, 13 }, { 20, 50, 77, 40 } };

  for (guint i = 0; i < G_N_ELEMENTS (volutes); i++)
    {
      const PawlSolidVolute *v = &volutes[i];
      PawlSolidOutline *outline = pawl_solid_volute_outline (v);
      double a = v->inner, b = v->outer, t = pawl_solid_volute_tongue (v), k = (b - a) / (2.0 * G_PI), c = a + k * t;
      double sliver = (c * c * c - a * a * a) / (6.0 * k) - a * a * tan (t) / 2.0;
      double expected = G_PI * (a * a + a * b + b * b) / 3.0 + (b - a) * v->neck - (v->neck > 0.0 ? sliver : 0.0);

      if (v->neck > 0.0)
        g_assert_cmpfloat_with_epsilon (c * cos (t), a, 1e-6); /* the tongue lies on both lines */
      else
        g_assert_cmpfloat (t, ==, 0.0);
      g_assert_cmpfloat_with_epsilon (area_of (outline), expected, 0.001 * expected);
      pawl_solid_outline_free (outline);
    }
}

/* Five vanes on a disc, read from a file: all there, and none where another hand would have them. */
static void
test_impeller (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,0.75,1", "<group copies=\"5\"><vane inner=\"14\" outer=\"42\" angle=\"-32\" thick=\"3\" height=\"14\"/></group>");
  const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);

  for (guint k = 0; k < 5; k++)
    for (int hand = -1; hand <= 1; hand += 2)
      {
        double turn = log (26.0 / 14.0) / tan (32.0 * G_PI / 180.0), angle = 2.0 * G_PI * k / 5.0 + hand * turn;
        gboolean holds = pawl_solid_node_holds (part->node, vec (26 * cos (angle), 26 * sin (angle), 7));

        g_assert_cmpint (holds, ==, hand < 0);
      }
}

/* A conical spring is as wide at each end as it says. */
static void
test_cone (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,0.75,1", "<helix radius=\"12\" end-radius=\"16\" wire=\"1.6\" turns=\"6\" length=\"20\"/>");
  const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);

  g_assert_true (pawl_solid_node_holds (part->node, vec (12, 0, 0.8)));
  g_assert_true (pawl_solid_node_holds (part->node, vec (16, 0, 19.2)));
  g_assert_cmpfloat_with_epsilon (part->node->high.x, 16.8, 0.01);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/vane/angle", test_angle);
  g_test_add_func ("/solids/vane/area", test_vane_area);
  g_test_add_func ("/solids/vane/impeller", test_impeller);
  g_test_add_func ("/solids/volute/grows", test_volute_grows);
  g_test_add_func ("/solids/volute/area", test_volute_area);
  g_test_add_func ("/solids/helix/cone", test_cone);
  return g_test_run ();
}
