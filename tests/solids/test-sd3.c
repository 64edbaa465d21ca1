/* The dimensions of the SD-3 that the procedure's traps stand on, read back from the figure's file. Invented unit: each number
   is the unit's own specification, so the checks are of the file against that, and of geometry against its formula. */
#include "unit-figures.h"

static PawlSolids *
load_sd3 (void)
{
  return load_unit ("sd3-carburetor");
}

static void
test_drilled_bushing (void)
{
  g_autoptr(PawlSolids) solids = load_sd3 ();
  const PawlSolidNode *node = node_of (solids, "bushing-drilled"), *plain = node_of (solids, "bushing-plain");
  const PawlSolidPart *part = pawl_solids_find_part (solids, "bushing-drilled");
  double lead, tail;

  /* from the middle of a cross hole, in the wall of the bushing, to the hole's sides, and on to both ends */
  for (int side = -1; side <= 1; side += 2)
    {
      PawlVec hole = vec (46, -21, side * 4.3);

      g_assert_false (pawl_solid_node_holds (node, hole));
      g_assert_cmpfloat_with_epsilon (reach (node, hole, vec (0, 1, 0)) + reach (node, hole, vec (0, -1, 0)), 1.6, 0.01);
      g_assert_true (pawl_solid_node_holds (node, vec (46 + side * 4.3, -21, 0))); /* two holes, not four */
    }
  lead = reach (node, vec (46, -20, 4.3), vec (0, 1, 0)) + 1.0;
  tail = reach (node, vec (46, -22, 4.3), vec (0, -1, 0)) + 1.0;
  g_assert_cmpfloat_with_epsilon (lead, 5.0, 0.01);
  g_assert_cmpfloat_with_epsilon (tail, 11.0, 0.01);
  /* outside and bore, and the lead chamfer: 0.8 */
  g_assert_cmpfloat_with_epsilon (2.0 * (46 - 41.0 + reach (node, vec (41, -28, 0), vec (-1, 0, 0))), 11.0, 0.01);
  g_assert_cmpfloat_with_epsilon (2.0 * reach (node, vec (46, -28, 0), vec (1, 0, 0)), 7.95, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (node, vec (46 + 4.7, -24, 0), vec (0, 1, 0)), 8.0, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (node, vec (46 + 5.4, -24, 0), vec (0, 1, 0)), 8.0 - 0.7, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (plain, vec (46 + 5.4, 24, 0), vec (0, -1, 0)), 8.0 - 0.7, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (plain, vec (46 + 5.4, 24, 0), vec (0, 1, 0)), 8.0 - 0.7, 0.01);
  g_assert_cmpuint (part->profile->len, ==, 5);
}

/* A plate for bore d, closed at angle a from square, is an ellipse d by d / cos a on its middle plane (elementary; computed),
   and its edges lie on the bore when closed. */
static void
test_plate (void)
{
  g_autoptr(PawlSolids) solids = load_sd3 ();
  const PawlSolidNode *node = node_of (solids, "plate");
  double angle = 12.0 * G_PI / 180.0, up, down;
  PawlVec along = vec (sin (angle), 0, cos (angle)); /* in the plate, square to the shaft */

  up = reach (node, vec (46, 0, 0), along);
  down = reach (node, vec (46, 0, 0), vec_scale (along, -1));
  g_assert_cmpfloat_with_epsilon (up + down, 32.0 / cos (angle), 0.02);
  g_assert_cmpfloat_with_epsilon (2.0 * (9.9 + reach (node, vec (46, 9.9, 0), vec (0, 1, 0))), 32.0, 0.02);
  g_assert_cmpfloat_with_epsilon (reach (node, vec (46, 0, 0), vec (cos (angle), 0, -sin (angle)))
                                  + reach (node, vec (46, 0, 0), vec (-cos (angle), 0, sin (angle))), 1.5, 0.001);
  for (int face = -1; face <= 1; face += 2) /* bevel: on each face the top edge lies on z = 16 */
    {
      PawlVec in_face = vec_step (vec (46, 0, 0), face * 0.7, vec (cos (angle), 0, -sin (angle)));
      PawlVec edge = vec_step (in_face, reach (node, in_face, along), along);

      g_assert_cmpfloat_with_epsilon (edge.z, 16.0, 0.02);
    }
}

static void
test_venturi (void)
{
  g_autoptr(PawlSolids) solids = load_sd3 ();
  const PawlSolidNode *node = node_of (solids, "venturi");
  double least = INFINITY, first = 0, last = 0;

  for (guint i = 1; i < 600; i++)
    {
      double x = 0.05 * i, r = reach (node, vec (-38 + x, 0, 0), vec (0, 1, 0));

      if (r < least - 1e-4)
        {
          least = r;
          first = x;
        }
      if (r < least + 1e-4)
        last = x;
    }
  g_assert_cmpfloat_with_epsilon (2.0 * least, 21.0, 0.02);
  g_assert_cmpfloat (first, <, 10.0);
  g_assert_cmpfloat (last, >, 10.0);
  g_assert_cmpfloat_with_epsilon ((first + last) / 2.0, 10.0, 0.15); /* throat 10.0 from the air end */
  g_assert_cmpfloat_with_epsilon (16.5 + reach (node, vec (-37.5, 16.5, 0), vec (0, 1, 0)), 33.5 / 2, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (node, vec (-37.9, 16.4, 0), vec (1, 0, 0)) + 0.1, 1.5, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (node, vec (-37, 15.9, 0), vec (1, 0, 0)) + 1.0, 30.0, 0.01);
}

static void
test_lengths (void)
{
  g_autoptr(PawlSolids) solids = load_sd3 ();
  static const struct { const char *id; PawlVec from, d; double back, expected; } cases[] = {
    { "screw-short", { 16.8, -80.5, 15.7 }, { 0, 0, -1 }, 0.1, 12.7 },     /* 1/2 in under the head */
    { "screw-long", { -50.2, -80.5, 25.225 }, { 0, 0, -1 }, 0.1, 22.225 }, /* 7/8 in under the head */
    { "shaft", { 46, 25, 0 }, { 0, 0, 1 }, 0, 3.96875 }, /* 5/16 in across */
    { "float-pin", { -20, -30, -1 }, { 0, 0, 1 }, 0, 1.6 },
    { "seat-washer", { -11, -41, 10 }, { 0, 0, 1 }, 0.8, 1.6 },
    { "felt", { 46, -34, 5.5 }, { 0, 1, 0 }, 1, 3.0 },
    { "felt-retainer", { 46, -35.5, -5.5 }, { 0, 1, 0 }, 0.5, 1.0 },
    { "cover-gasket", { 15.5, -50, 10.4 }, { 0, 0, 1 }, 0.4, 0.8 },
    { "flange-gasket", { 62.5, 0, 22 }, { 1, 0, 0 }, 0.5, 1.0 },
    { "stop-pin", { 49, -30, 13 }, { 0, 0, 1 }, 0, 1.5 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (reach (node_of (solids, cases[i].id), cases[i].from, cases[i].d) + cases[i].back,
                                    cases[i].expected, 0.01);
}

/* Seated parts touch or fit, they do not bite into the body: no point of their middle lines lies in its metal. */
static void
test_fits_body (void)
{
  g_autoptr(PawlSolids) solids = load_sd3 ();
  static const char *const inside[] = { "float", "venturi", "plate", "shaft", "choke-shaft", "choke-plate", "cover", "cover-gasket", "quadrant", "float-pin", "return-spring" };

  for (guint i = 0; i < G_N_ELEMENTS (inside); i++)
    assert_clear_of (solids, inside[i], "body");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/sd3/drilled-bushing", test_drilled_bushing);
  g_test_add_func ("/solids/sd3/plate", test_plate);
  g_test_add_func ("/solids/sd3/venturi", test_venturi);
  g_test_add_func ("/solids/sd3/lengths", test_lengths);
  g_test_add_func ("/solids/sd3/fits-body", test_fits_body);
  return g_test_run ();
}
