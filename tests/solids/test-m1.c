/* The dimensions of the M-1 that the procedure's traps stand on, read back from the figure's file. Invented unit: each number is the
   unit's own specification, so the checks are of the file against that, and of geometry against its formula. */
#include "unit-figures.h"

#define M1 "m1-magneto"

/* Thicknesses and lengths: from a point inside the metal, both ways along a line. */
static void
test_lengths (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  static const struct { const char *id; PawlVec from, along; double expected; } cases[] = {
    { "shim", { 39.1, 11, 0 }, { 1, 0, 0 }, 0.3 },
    { "rear-bearing", { 35, 11, 0 }, { 1, 0, 0 }, 8.0 },
    { "front-bearing", { -35, 11, 0 }, { 1, 0, 0 }, 8.0 },
    { "wheel-washer", { -30.6, 6, 40.5 }, { 1, 0, 0 }, 0.8 },
    { "wheel-clip", { -29.9, 0, 46 }, { 1, 0, 0 }, 0.9 },
    { "terminal-washer", { -61, -38.3, -8 }, { 0, 1, 0 }, 0.8 },
    { "fibre-outer", { -61, -37, -7 }, { 0, 1, 0 }, 2.0 },
    { "fibre-inner", { -61, -27, -7 }, { 0, 1, 0 }, 1.5 },
    { "contact-arm", { -60.5, -26.2, -9.2 }, { 0, 1, 0 }, 0.5 },
    { "terminal-bush", { -61, -32, -9.2 }, { 0, 1, 0 }, 7.6 },
    { "terminal-nut", { -61, -24, -9.2 }, { 0, 1, 0 }, 3.2 },
    { "pinion", { -40, 0, -6 }, { 1, 0, 0 }, 10.0 },
    { "pinion", { -45, 0, -11 }, { 1, 0, 0 }, 8.0 }, /* the hub is 2 mm high, on the bearing's side */
    { "brush", { -58, 0, 40.5 }, { 1, 0, 0 }, 5.4 },
    { "magnet-near", { -22, -12, 70 }, { 1, 0, 0 }, 10.0 },
    { "magnet-far", { -22, 12, 70 }, { 0, 1, 0 }, 18.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const PawlSolidNode *node = node_of (solids, cases[i].id);

      g_assert_true (pawl_solid_node_holds (node, cases[i].from));
      g_assert_cmpfloat_with_epsilon (reach (node, cases[i].from, cases[i].along) + reach (node, cases[i].from, vec_scale (cases[i].along, -1)),
                                      cases[i].expected, 0.01);
    }
}

/* Under the head: 20 mm behind, 12 mm in front; and how deep each stands in the body's metal when its plate is tight. */
static void
test_screws (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  const PawlSolidNode *rear = node_of (solids, "rear-screw"), *front = node_of (solids, "front-screw"), *body = node_of (solids, "body");

  g_assert_cmpfloat_with_epsilon (reach (rear, vec (37.1, 28.3, 28), vec (-1, 0, 0)), 20.1, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (front, vec (-35.6, 28.3, -28), vec (1, 0, 0)), 12.1, 0.01);
  /* the holes: 15 mm behind before the point of the drill; 7.5 mm in front, so that a long screw would stand 7 mm proud of its head's seat */
  g_assert_cmpfloat_with_epsilon (reach (body, vec (29.9, 28, 28), vec (-1, 0, 0)), 14.9, 0.02);
  g_assert_cmpfloat_with_epsilon (reach (body, vec (-29.9, 28, -28), vec (1, 0, 0)), 8.4, 0.02);
  g_assert_cmpfloat (reach (body, vec (-29.9, 28, -28), vec (1, 0, 0)) - 0.1, <, 20.0 - 5.5);
}

/* From the axis outward: the flat back of the seal inside, its lip toward the engine. */
static void
test_seal (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  const PawlSolidNode *seal = node_of (solids, "seal");
  const PawlVec out = vec (0, 1, 0);

  g_assert_cmpfloat_with_epsilon (reach (seal, vec (44.02, 0, 0), out), 6.6, 0.03);
  g_assert_cmpfloat_with_epsilon (reach (seal, vec (49, 0, 0), out), 4.9, 0.03); /* 5 mm from the back; the shaft is 5.0 */
  g_assert_cmpfloat_with_epsilon (reach (seal, vec (50.5, 0, 0), out), 12.1, 0.03); /* open beyond the lip, but for its case */
  g_assert_cmpfloat_with_epsilon (reach (node_of (solids, "rear-plate"), vec (48, 0, 0), out), 13.0, 0.01);
  g_assert_cmpfloat_with_epsilon (reach (node_of (solids, "rear-plate"), vec (51.5, 15, 0), vec (1, 0, 0)), 0.5, 0.02); /* rim 1 mm below the boss */
}

/* How often a circle about the gear's axis, in the plane x = @x, goes from air into metal. */
static guint
count_teeth (const PawlSolidNode *node, double x, double z, double radius)
{
  guint n = 0;

  for (guint i = 0; i < 3600; i++)
    {
      double a = 2.0 * G_PI * (i + 0.5) / 3600.0, b = 2.0 * G_PI * (i + 1.5) / 3600.0;

      n += !pawl_solid_node_holds (node, vec (x, radius * cos (a), z + radius * sin (a)))
           && pawl_solid_node_holds (node, vec (x, radius * cos (b), z + radius * sin (b)));
    }
  return n;
}

/* 2 : 1; the axes lie half the sum of the pitch diameters apart (27 and 54); the marks lie one tooth, 10 degrees, apart. */
static void
test_gears (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  const PawlSolidNode *pinion = node_of (solids, "pinion"), *wheel = node_of (solids, "wheel");
  double line = 10.0 * G_PI / 180.0;

  g_assert_cmpuint (count_teeth (pinion, -45, 0, 13.5), ==, 18);
  g_assert_cmpuint (count_teeth (wheel, -45, 40.5, 27.0), ==, 36);
  g_assert_false (pawl_solid_node_holds (pinion, vec (-48.9, 0, 9.4))); /* its dimple, on the line to the other axis */
  g_assert_true (pawl_solid_node_holds (pinion, vec (-48.9, 0, -9.4)));
  g_assert_false (pawl_solid_node_holds (wheel, vec (-47.9, 0, 20.0)));
  g_assert_false (pawl_solid_node_holds (wheel, vec (-47.9, 20.5 * sin (line), 40.5 - 20.5 * cos (line))));
  g_assert_true (pawl_solid_node_holds (wheel, vec (-47.9, -20.5 * sin (line), 40.5 - 20.5 * cos (line))));
  g_assert_false (pawl_solid_node_holds (wheel, vec (-45, 0, 40.5 - 26.5))); /* a space below, a tooth of the pinion in it */
  g_assert_true (pawl_solid_node_holds (pinion, vec (-45, 0, 14.0)));
}

/* The same way round or turned end for end, a magnet is the same but for the line in one foot. */
static void
test_magnets (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  static const char *const magnets[] = { "magnet-near", "magnet-far" };

  for (guint i = 0; i < G_N_ELEMENTS (magnets); i++)
    {
      const PawlSolidNode *node = node_of (solids, magnets[i]);
      double y = i == 0 ? -12 : 12;

      g_assert_false (pawl_solid_node_holds (node, vec (-26.8, y, 60.8))); /* breaker end */
      g_assert_true (pawl_solid_node_holds (node, vec (26.8, y, 60.8)));
      for (double x = 0.5; x < 27.0; x += 1.0)
        for (double z = 38.0; z < 103.0; z += 1.3)
          if (fabs (z - 60.8) > 0.9)
            g_assert_true (pawl_solid_node_holds (node, vec (x, y, z)) == pawl_solid_node_holds (node, vec (-x, y, z)));
    }
}

/* Between claw and limb 0.3 mm: half of bore less rotor. The claws lie opposite one another, each at its own end. */
static void
test_rotor (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  const PawlSolidNode *rotor = node_of (solids, "rotor"), *body = node_of (solids, "body");

  for (int side = -1; side <= 1; side += 2)
    {
      PawlVec claw = vec (side * -1.0, side * 20.0, 0), out = vec (0, side, 0);

      g_assert_cmpfloat_with_epsilon (20.0 + reach (rotor, claw, out), 25.7, 0.01);
      g_assert_cmpfloat_with_epsilon (reach (body, vec (0, 0, 0), out), 26.0, 0.01);
    }
  g_assert_true (pawl_solid_node_holds (rotor, vec (-25, -24, 0)));
  g_assert_false (pawl_solid_node_holds (rotor, vec (25, -24, 0)));
  g_assert_true (pawl_solid_node_holds (rotor, vec (25, 24, 0)));
}

/* What is seated touches or fits; a screw in its own thread is left out. */
static void
test_fits (void)
{
  g_autoptr(PawlSolids) solids = load_unit (M1);
  static const struct { const char *id, *other; } pairs[] = {
    { "rotor", "body" }, { "rotor", "front-plate" }, { "rotor", "rear-plate" }, { "rotor", "front-bearing" }, { "rotor", "rear-bearing" },
    { "rotor", "breaker-plate" }, { "rotor", "cam" }, { "rotor", "hub" }, { "rotor", "cup" }, { "rotor", "pinion" },
    { "front-bearing", "front-plate" }, { "rear-bearing", "rear-plate" }, { "shim", "rear-plate" }, { "seal", "rear-plate" },
    { "wheel", "front-plate" }, { "wheel", "pinion" }, { "wheel", "cap" }, { "wheel", "breaker-plate" }, { "wheel-washer", "wheel" },
    { "pinion", "front-plate" }, { "pinion", "breaker-plate" }, { "pinion-key", "rotor" }, { "coupling-key", "rotor" },
    { "magnet-near", "body" }, { "magnet-far", "body" }, { "magnet-near", "coil" }, { "magnet-far", "coil" }, { "magnet-near", "front-plate" },
    { "coil", "body" }, { "tie-bolt", "body" }, { "tie-bolt", "magnet-near" }, { "tie-bolt", "magnet-far" }, { "lead", "coil" }, { "lead", "cap" },
    { "lead", "magnet-near" }, { "contact-arm", "breaker-plate" }, { "contact-arm", "cam" }, { "contact-arm", "contact-fixed" },
    { "contact-arm", "condenser" }, { "contact-fixed", "cam" }, { "contact-fixed", "breaker-plate" }, { "condenser", "breaker-plate" },
    { "terminal-bush", "breaker-plate" }, { "terminal-screw", "breaker-plate" }, { "terminal-screw", "terminal-bush" },
    { "lid", "breaker-plate" }, { "lid", "cap" }, { "lid", "cam-screw" }, { "lid", "condenser" }, { "lid", "contact-arm" }, { "lid-screw", "lid" },
    { "cap", "front-plate" }, { "cap", "breaker-plate" }, { "hub", "rear-plate" }, { "hub", "cup" }, { "impulse-spring", "cup" },
    { "impulse-spring", "hub" }, { "front-screw", "front-plate" }, { "rear-screw", "rear-plate" }, { "plate-screw", "breaker-plate" },
    { "cam-screw", "cam" }, { "cam-screw", "rotor" }, { "coil-screw", "coil" }, { "tie-nut", "magnet-far" },
    { "brush", "cap" }, { "brush", "wheel" }, { "brush-spring", "cap" }, { "cup-nut", "rotor" }, { "cup-washer", "cup" },
    { "terminal-nut", "contact-arm" }, { "terminal-nut", "condenser" }, { "fibre-inner", "contact-arm" }, { "contact-screw", "contact-fixed" },
    { "condenser-screw", "contact-arm" }, { "lid-gasket", "cap" },
    { "lid-gasket", "breaker-plate" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    assert_clear_of (solids, pairs[i].id, pairs[i].other);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/m1/lengths", test_lengths);
  g_test_add_func ("/solids/m1/screws", test_screws);
  g_test_add_func ("/solids/m1/seal", test_seal);
  g_test_add_func ("/solids/m1/gears", test_gears);
  g_test_add_func ("/solids/m1/magnets", test_magnets);
  g_test_add_func ("/solids/m1/rotor", test_rotor);
  g_test_add_func ("/solids/m1/fits", test_fits);
  return g_test_run ();
}
