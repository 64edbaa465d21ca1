/* The dimensions of the BP-2 that the procedure's traps stand on, read back from the figure's file. Invented unit: each number is
   the unit's own specification, so the checks are of the file against that. Housing and lip seal are cut open between the far and the near
   upper quarter: all places asked about lie in what is left, y > 0 or z < 0. */
#include "unit-figures.h"

#define FAR { 0, 1, 0 }

static PawlSolids *
load_bp2 (void)
{
  return load_unit ("bp2-bilge-pump");
}

/* What is seated touches or fits. */
static void
test_fits (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();
  static const struct { const char *id, *other; } pairs[] = {
    { "front-bearing", "housing" }, { "rear-bearing", "housing" }, { "front-bearing", "shaft" }, { "rear-bearing", "shaft" },
    { "shaft-circlip", "shaft" }, { "shaft-circlip", "rear-bearing" }, { "bore-circlip", "housing" }, { "end-shim", "housing" },
    { "lip-seal", "housing" }, { "slinger", "shaft" }, { "slinger", "housing" }, { "slinger", "volute" }, { "seat", "volute" }, { "seat", "shaft" },
    { "seal-head", "shaft" }, { "seal-head", "volute" }, { "seal-spring", "impeller" }, { "impeller", "shaft" }, { "impeller", "volute" },
    { "impeller", "wear-plate" }, { "impeller-key", "shaft" }, { "impeller-key", "impeller" }, { "tab-washer", "impeller" }, { "impeller-nut", "tab-washer" },
    { "impeller-nut", "cover" }, { "gasket-thick", "volute" }, { "wear-plate", "gasket-thick" }, { "gasket-thin", "wear-plate" }, { "cover", "gasket-thin" },
    { "cover-screw", "cover" }, { "cover-screw-long", "cover" }, { "housing-gasket", "volute" },
    { "housing", "volute" }, { "housing-screw", "housing" }, { "drain-plug", "drain-washer" }, { "coupling", "shaft" }, { "coupling-key", "shaft" },
    { "coupling-key", "coupling" }, { "spider", "coupling" }, { "coupling", "housing" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (pairs); i++)
    assert_clear_of (solids, pairs[i].id, pairs[i].other);
}

static void
test_lengths (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();
  static const struct { const char *what, *id; PawlVec from, d; double back, expected; } cases[] = {
    { "long screw under its head", "cover-screw-long", { -44.2, 17.18, 52.88 }, { 1, 0, 0 }, 0.1, 22.0 },
    { "short screw under its head", "cover-screw", { -38.2, -26.67, 46.19 }, { 1, 0, 0 }, 0.1, 16.0 },
    { "slinger: disc, radius", "slinger", { 35, 10, 0 }, FAR, 10, 19.0 },
    { "slinger: hub, radius", "slinger", { 38, 10, 0 }, FAR, 10, 12.5 },
    { "slinger: hub toward the bearing", "slinger", { 38, 0, -10 }, { 1, 0, 0 }, 4, 6.0 },
    { "seat: lapped face toward the impeller, ring", "seat", { 20.2, 10, 0 }, FAR, 10, 15.0 },
    { "head: carbon nose, radius", "seal-head", { 16.5, 11, 0 }, FAR, 11, 13.0 },
    { "head: steel tail, radius", "seal-head", { 6, 9, 0 }, FAR, 9, 11.5 },
    { "wear plate", "wear-plate", { -28.5, 30, 0 }, { -1, 0, 0 }, 0.1, 2.5 },
    { "gasket under the plate", "gasket-thick", { -27.7, 62.5, 0 }, { -1, 0, 0 }, 0.1, 0.8 },
    { "gasket on the plate", "gasket-thin", { -31.0, 62.5, 0 }, { -1, 0, 0 }, 0.1, 0.4 },
    { "impeller key across", "impeller-key", { -14, 0, 7 }, FAR, 2, 4.0 },
    { "coupling key across", "coupling-key", { 143, 0, 7 }, FAR, 2.5, 5.0 },
    { "coupling: hub, radius", "coupling", { 140, 9, 3 }, { 0, 1, 0 }, 9, 15.72 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double length = reach (node_of (solids, cases[i].id), cases[i].from, cases[i].d) + cases[i].back;

      if (fabs (length - cases[i].expected) > 0.02)
        g_error ("%s: %.3f, not %.3f", cases[i].what, length, cases[i].expected);
    }
}

/* From the end of the slinger's hub, at 40, to the face round the seal bore: the 4.0 mm of the rule. */
static void
test_slinger_place (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();
  double hub_end = 38 + reach (node_of (solids, "slinger"), vec (38, 0, -11), vec (1, 0, 0));
  double face = hub_end + reach (node_of (solids, "housing"), vec (hub_end + 0.1, 0, -18), vec (1, 0, 0)) + 0.1;

  g_assert_cmpfloat_with_epsilon (face - hub_end, 4.0, 0.02);
}

/* The front bearing's shield stands toward the water; through its other side the balls are seen. The lip looks at the water. */
static void
test_sides (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();
  const PawlSolidNode *bearing = node_of (solids, "front-bearing"), *seal = node_of (solids, "lip-seal");

  g_assert_true (pawl_solid_node_holds (bearing, vec (60.7, 15, 0)));
  g_assert_false (pawl_solid_node_holds (bearing, vec (71.3, 15, 0)));
  g_assert_true (pawl_solid_node_holds (seal, vec (52.3, 13, 0)));
  g_assert_false (pawl_solid_node_holds (seal, vec (46.3, 13.9, 0)));
}

/* Open from outside into the lantern, straight down; a third of a turn on there is metal (the next third is cut away for the picture). */
static void
test_weep_hole (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();

  for (guint turn = 0; turn < 240; turn += 120)
    {
      double angle = (turn - 90) * G_PI / 180.0;
      gboolean is_open = TRUE;

      for (double r = 31; r < 37; r += 0.25)
        is_open &= !pawl_solid_node_holds (node_of (solids, "housing"), vec (24, r * cos (angle), r * sin (angle)));
      g_assert_cmpint (is_open, ==, turn == 0);
    }
}

/* What a feeler goes into: from the vanes to the wear plate, less than the thin gasket and more than nothing, alike at three places. */
static void
test_impeller_clearance (void)
{
  g_autoptr(PawlSolids) solids = load_bp2 ();
  const PawlSolidNode *impeller = node_of (solids, "impeller"), *plate = node_of (solids, "wear-plate");
  double outermost = impeller->low.x, face = -29.0 + reach (plate, vec (-29.0, 30, 0), vec (1, 0, 0));

  g_assert_cmpfloat_with_epsilon (face, -28.4, 1e-3);
  g_assert_cmpfloat (outermost, >, face);
  g_assert_cmpfloat (outermost - face, <, 0.8);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/bp2/fits", test_fits);
  g_test_add_func ("/solids/bp2/lengths", test_lengths);
  g_test_add_func ("/solids/bp2/slinger-place", test_slinger_place);
  g_test_add_func ("/solids/bp2/sides", test_sides);
  g_test_add_func ("/solids/bp2/weep-hole", test_weep_hole);
  g_test_add_func ("/solids/bp2/impeller-clearance", test_impeller_clearance);
  return g_test_run ();
}
