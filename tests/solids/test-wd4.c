/* The dimensions of the WD-4 that the procedure's traps stand on, read back from the figure's file. Invented unit: each number
   is the unit's own specification, so the checks are of the file against that, and of geometry against its formula. Drum, cups
   and seal are cut open between the far and the near upper quarter: all places asked about lie in what is left, y > 0 or z < 0. */
#include "unit-figures.h"

#define FAR { 0, 1, 0 }

static PawlSolids *
load_wd4 (void)
{
  return load_unit ("wd4-winch-hub");
}

/* The radius of the bore at @axial, along +y, from the axis outward. */
static double
bore_at (const PawlSolids *solids, const char *id, double axial)
{
  return reach (node_of (solids, id), vec (axial, 0, 0), vec (0, 1, 0));
}

/* Both tapers run small toward the middle, and the drum's shoulders stand behind the thick ends. */
static void
test_cups (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();

  g_assert_cmpfloat_with_epsilon (bore_at (solids, "inner-cup", -18.02), 29.6, 0.02);
  g_assert_cmpfloat_with_epsilon (bore_at (solids, "inner-cup", -31.98), 26.0, 0.02);
  g_assert_cmpfloat_with_epsilon (bore_at (solids, "outer-cup", -89.98), 23.4, 0.02);
  g_assert_cmpfloat_with_epsilon (bore_at (solids, "outer-cup", -79.02), 20.6, 0.02);
  g_assert_cmpfloat_with_epsilon (bore_at (solids, "drum", -25), 33.0, 0.02); /* 66 mm bore */
  g_assert_cmpfloat_with_epsilon (bore_at (solids, "drum", -85), 26.0, 0.02); /* 52 mm bore */
  g_assert_cmpfloat (bore_at (solids, "drum", -32.1), <, 33.0 - 4.0);
  g_assert_cmpfloat (bore_at (solids, "drum", -78.9), <, 26.0 - 3.0);
}

/* The wall by which a cup's two ends are told apart: 7 mm and 5.4 mm at the thick ends. */
static void
test_walls (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  static const struct { const char *id; double axial, inside, wall; } cases[] = {
    { "inner-cup", -31.3, 26.19, 6.81 }, { "inner-cup", -18.7, 29.42, 3.58 },
    { "outer-cup", -79.6, 20.75, 5.25 }, { "outer-cup", -89.4, 23.25, 2.75 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpfloat_with_epsilon (reach (node_of (solids, cases[i].id), vec (cases[i].axial, cases[i].inside + 0.02, 0), (PawlVec) FAR) + 0.02,
                                    cases[i].wall, 0.03);
}

/* What is seated touches or fits. */
static void
test_fits (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  static const struct { const char *id, *other; } pairs[] = {
    { "inner-cup", "drum" }, { "outer-cup", "drum" }, { "lip-seal", "drum" }, { "dust-ring-inner", "drum" }, { "dust-ring-outer", "drum" },
    { "inner-cone", "inner-cup" }, { "outer-cone", "outer-cup" }, { "inner-cone", "spindle" }, { "outer-cone", "spindle" },
    { "inner-cone", "drum" }, { "outer-cone", "drum" }, { "spacer", "drum" }, { "spacer", "spindle" }, { "spacer", "inner-cone" },
    { "wear-sleeve", "spindle" }, { "lip-seal", "wear-sleeve" }, { "dust-ring-outer", "wear-sleeve" }, { "lip-seal", "inner-cone" },
    { "tongue-washer", "spindle" }, { "tongue-washer", "outer-cone" }, { "castle-nut", "tongue-washer" }, { "cap", "castle-nut" },
    { "cap", "spindle" }, { "cap", "split-pin" }, { "cap-gasket", "drum" }, { "cap", "cap-gasket" }, { "ratchet", "drum" },
    { "ratchet", "spindle" }, { "ratchet-bolt", "ratchet" }, { "ratchet-bolt", "spindle" }, { "pawl", "ratchet" }, { "pawl", "drum" },
    { "pawl", "spindle" }, { "pawl-pin", "spindle" }, { "pawl-pin", "pawl" }, { "pawl-clip", "spindle" }, { "brake-lining", "drum" },
    { "brake-shoe", "brake-lining" }, { "brake-shoe", "drum" }, { "lining-screw", "brake-lining" }, { "split-pin", "castle-nut" },
    { "split-pin", "spindle" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    assert_clear_of (solids, pairs[i].id, pairs[i].other);
}

/* Thicknesses add up from the spacer to the cone. */
static void
test_stack (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  static const struct { const char *id; double from, thick; } shims[] = {
    { "shim-050", -76.4, 0.5 }, { "shim-020", -76.6, 0.2 }, { "shim-010", -76.7, 0.1 }, { "shim-030", -77.0, 0.3 },
  };
  double sum = 0.0;

  for (guint i = 0; i < G_N_ELEMENTS (shims); i++)
    {
      const PawlSolidNode *node = node_of (solids, shims[i].id);
      PawlVec middle = vec (shims[i].from + shims[i].thick / 2.0, 15, 0);
      double thick = reach (node, middle, vec (1, 0, 0)) + reach (node, middle, vec (-1, 0, 0));

      g_assert_cmpfloat_with_epsilon (thick, shims[i].thick, 1e-3);
      sum += thick;
    }
  g_assert_cmpfloat_with_epsilon (sum, 1.10, 2e-3);
  g_assert_cmpfloat_with_epsilon (-76.5 + reach (node_of (solids, "spacer"), vec (-76.5, 15, 0), vec (1, 0, 0)), -75.9, 1e-3);
  g_assert_cmpfloat_with_epsilon (-76.5 - reach (node_of (solids, "outer-cone"), vec (-76.5, 15, 0), vec (-1, 0, 0)), -77.0, 1e-3);
}

static void
test_lengths (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  static const struct { const char *what, *id; PawlVec from, d; double back, expected; } cases[] = {
    { "long bolt under its head", "ratchet-bolt", { 7.9, 47, 0.2 }, { -1, 0, 0 }, 0.1, 16.0 },
    { "short bolt under its head", "cap-bolt", { -106.5, 9.58, 35.74 }, { 1, 0, 0 }, 0.1, 12.0 },
    { "sleeve: lands 1.0 back from the shoulder", "wear-sleeve", { -14, 0, -22.3 }, { 1, 0, 0 }, 0, 1.0 },
    { "sleeve: chamfer of 0.8 along", "wear-sleeve", { -13.5, 0, -23.49 }, { 1, 0, 0 }, -0.5, 0.8 },
    { "sleeve: no chamfer at the other end", "wear-sleeve", { -6, 0, -23.4 }, { 1, 0, 0 }, 6.0 - 4.0, 10.0 },
    { "seal below the end of the drum", "lip-seal", { 1, 0, -30 }, { -1, 0, 0 }, 0, 5.0 },
    { "seal: lip on the sleeve", "lip-seal", { -8.8, 0, -22 }, { 0, 0, -1 }, 22, 23.5 },
    { "spacer: wide end", "spacer", { -36, 17.5, 0 }, FAR, 17.5, 20.0 },
    { "spacer: narrow end", "spacer", { -70, 15, 0 }, FAR, 15, 17.2 },
    { "inner cone: large rib", "inner-cone", { -12.5, 24.3, 0 }, { -1, 0, 0 }, 0, 1.5 + 0.3 },
    { "washer: tongue", "tongue-washer", { -94, 0, 9 }, FAR, 0, 1.8 },
    { "pin: head", "pawl-pin", { -7, -35.1, -67.8 }, FAR, 0, 7.0 },
    { "lining", "brake-lining", { -91.75, 0, 49 }, { 0, 0, 1 }, 3.0, 6.0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double length = reach (node_of (solids, cases[i].id), cases[i].from, cases[i].d) + cases[i].back;

      if (fabs (length - cases[i].expected) > 0.02)
        g_error ("%s: %.3f, not %.3f", cases[i].what, length, cases[i].expected);
    }
}

/* A long bolt under the cap would stand on the bottom of its hole before its head is down. */
static void
test_long_bolt_bottoms (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  const double under_head = -106.6, y = 9.58, z = 35.74;
  double deep = reach (node_of (solids, "drum"), vec (-100.5, y + 2.4, z), vec (1, 0, 0)) - 100.5 - under_head;

  g_assert_cmpfloat (deep, >, 12.0);
  g_assert_cmpfloat (deep, <, 16.0);
}

/* The open side of the seal looks at the grease (-x), its closed face outward; so the garter spring. */
static void
test_seal (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  const PawlSolidNode *node = node_of (solids, "lip-seal");

  g_assert_true (pawl_solid_node_holds (node, vec (-4.7, 0, -30)));
  g_assert_false (pawl_solid_node_holds (node, vec (-10.3, 0, -30)));
  g_assert_true (pawl_solid_node_holds (node, vec (-8.9, 0, -26.9)));
}

/* The radius of the ratchet ring at @degrees from y toward z. */
static double
ring_radius (const PawlSolidNode *ring, double degrees)
{
  double c = cos (degrees * G_PI / 180.0), s = sin (degrees * G_PI / 180.0);

  return 55.0 + reach (ring, vec (4.5, 55 * c, 55 * s), vec (0, c, s));
}

/* 24 teeth, 7 high, each rising over 15° and falling at once; the pawl's nose stands against a steep face. */
static void
test_ratchet (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  const PawlSolidNode *ring = node_of (solids, "ratchet"), *pawl = node_of (solids, "pawl");
  PawlVec toward_tooth = vec (0, -0.5148, 0.8573); /* along the pawl, from pin to nose: from (-35.1, -67.8) to (-55.7, -33.5) */

  for (guint k = 0; k < 24; k++)
    {
      double steep = 1.0 + 15.0 * k;

      g_assert_cmpfloat_with_epsilon (ring_radius (ring, steep - 0.05), 66.0, 0.1);
      g_assert_cmpfloat_with_epsilon (ring_radius (ring, steep + 0.05), 59.0, 0.1);
      g_assert_cmpfloat (ring_radius (ring, steep + 5), <, ring_radius (ring, steep + 10));
    }
  /* from within the nose along the pawl: out of the pawl, then at once into the tooth */
  {
    PawlVec inside = vec (4.5, -35.1 + 38 * toward_tooth.y, -67.8 + 38 * toward_tooth.z);
    double nose = reach (pawl, inside, toward_tooth);

    g_assert_true (pawl_solid_node_holds (pawl, inside));
    g_assert_cmpfloat_with_epsilon (38.0 + nose, 39.4, 0.05);
    g_assert_cmpfloat (reach (ring, vec_step (inside, nose, toward_tooth), toward_tooth), <, 1.0);
  }
}

/* The gaps of the two dust rings, 3 mm wide, lie opposite one another and not below. */
static void
test_gaps (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();
  static const struct { const char *id; double axial, gap; } rings[] = { { "dust-ring-inner", -2.5, 160 }, { "dust-ring-outer", -0.5, 340 } };

  for (guint i = 0; i < G_N_ELEMENTS (rings); i++)
    for (guint a = 0; a < 360; a += 5)
      {
        double angle = a * G_PI / 180.0;
        gboolean holds = pawl_solid_node_holds (node_of (solids, rings[i].id), vec (rings[i].axial, 33 * cos (angle), 33 * sin (angle)));

        g_assert_cmpint (holds, ==, fabs (remainder (a - rings[i].gap, 360)) > 2.7); /* 1.5 mm at 33 mm: 2.6° */
      }
}

/* A slot of the nut, the hole of the spindle, the slot across: one line, free from end to end. */
static void
test_pin_hole (void)
{
  g_autoptr(PawlSolids) solids = load_wd4 ();

  for (double y = -15; y <= 15; y += 0.25)
    {
      g_assert_false (pawl_solid_node_holds (node_of (solids, "castle-nut"), vec (-109, y, 0.0)));
      g_assert_false (pawl_solid_node_holds (node_of (solids, "spindle"), vec (-109, y, 0.0)));
    }
  g_assert_true (pawl_solid_node_holds (node_of (solids, "castle-nut"), vec (-109, 9.9 * cos (G_PI / 6), 9.9 * sin (G_PI / 6) + 1.0)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/wd4/cups", test_cups);
  g_test_add_func ("/solids/wd4/walls", test_walls);
  g_test_add_func ("/solids/wd4/fits", test_fits);
  g_test_add_func ("/solids/wd4/stack", test_stack);
  g_test_add_func ("/solids/wd4/lengths", test_lengths);
  g_test_add_func ("/solids/wd4/long-bolt-bottoms", test_long_bolt_bottoms);
  g_test_add_func ("/solids/wd4/seal", test_seal);
  g_test_add_func ("/solids/wd4/ratchet", test_ratchet);
  g_test_add_func ("/solids/wd4/gaps", test_gaps);
  g_test_add_func ("/solids/wd4/pin-hole", test_pin_hole);
  return g_test_run ();
}
