/* The size of the difference, against figures from outside the project. GEO- rows carry their source and where it was seen. */
#include "fixtures.h"

#include <math.h>

#include "fit/pawl-difference.h"
#include "fit/pawl-outline.h"

#define DEG (G_PI / 180)

static void
assert_near (double value, double expected, double tolerance, const char *id)
{
  if (!(fabs (value - expected) <= tolerance))
    g_error ("%s: %.12g, wanted %.12g within %g", id, value, expected, tolerance);
}

/* ---- circles ---- */

static void
test_lens_area (void)
{
  static const struct { const char *id; double r1, r2, distance, expected, tolerance; } cases[] = {
    /* Circle-circle intersection formula; seen in https://zoliqua.github.io/Venn-Diagram-Lab/r/reference/circle_intersection_area.html */
    { "GEO-001", 1, 1, 1, 1.22837, 0.000005 },
    { "GEO-002", 1, 1, 3, 0, 0 },
    /* MathWorld "Circle-Circle Intersection", OEIS A133741; value from memory, the page seen says it must be solved numerically */
    { "GEO-003", 1, 1, 0.8079455066, G_PI / 2, 1e-9 },
    /* Circle-circle intersection formula; formula seen in http://mathhand.com/science/mathematics/math%20word/math/c/c308.htm and
     * https://engineeringtoolbox.com/area-intersecting-circles-d_1571.html; value computed */
    { "GEO-007", 1, 2, 1, 3.1415926535898, 1e-10 * 3.14 },
    { "GEO-008", 1, 2, 1.5, 2.3925498682458, 1e-10 * 2.39 },
    { "GEO-009", 3, 3, 5.9, 0.07284682757617, 1e-10 * 0.0728 },
    { "GEO-010", 2, 5, 3, 12.566370614359, 1e-10 * 12.5 },
    { "GEO-011", 0.8, 0.8, 1.6, 0, 0 },
    { "GEO-012", 1.25, 1.25, 0, 4.9087385212341, 1e-10 * 4.9 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      assert_near (pawl_lens_area (cases[i].r1, cases[i].r2, cases[i].distance), cases[i].expected, cases[i].tolerance, cases[i].id);
      assert_near (pawl_lens_area (cases[i].r2, cases[i].r1, cases[i].distance), cases[i].expected, cases[i].tolerance, cases[i].id);
    }
}

/* Port and bushing hole on one pitch radius, bushing turned: lens area with d = 2 R sin(theta/2) (flat-face model); computed independently to 34
 * digits, nothing to look up. The distance is the size that an index rule by angle gives. */
static void
test_turned_bushing (void)
{
  static const struct { const char *id; double port, hole, pitch, turned_deg, area, share; } cases[] = {
    { "GEO-013/014", 0.5, 0.5, 4, 0, 0.78539816339745, 1 },
    { "GEO-021/022", 0.030, 0.040, 0.250, 8, 0.0014771320294938, 0.522428586874 },
    { "GEO-023/024", 1.2, 1.5, 9, 12, 1.0831194920056, 0.239421973767 },
    { "GEO-025/026", 0.75, 0.75, 6, 90, 0, 0 },
    { "GEO-027/028", 2, 2, 12.5, 3, 9.9604010540113, 0.792623531462 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlRule) rule = new_index_angle (cases[i].pitch, cases[i].turned_deg, 0);
      double distance = pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM).size_mm;
      double area = pawl_lens_area (cases[i].port, cases[i].hole, distance);
      double smaller = MIN (cases[i].port, cases[i].hole);

      assert_near (area, cases[i].area, 1e-10 * cases[i].area, cases[i].id);
      assert_near (area / (G_PI * smaller * smaller), cases[i].share, 1e-10, cases[i].id);
      if (cases[i].port == cases[i].hole)
        assert_near (pawl_hole_overlap (2 * cases[i].port, distance), cases[i].share, 1e-10, cases[i].id);
    }
  /* Note of GEO-021: centre distance 0.03487823687. */
  {
    g_autoptr(PawlRule) rule = new_index_angle (0.250, 8, 0);

    assert_near (pawl_difference_of (rule, 350).size_mm, 0.03487823687, 1e-11, "GEO-021 note");
  }
}

/* Rotation that leaves half of equal holes open, and that closes them: GEO-029, GEO-030, computed independently to 34 digits. */
static void
test_half_open (void)
{
  g_autoptr(PawlRule) half = new_index_angle (4, 5.788945441, 0);
  g_autoptr(PawlRule) closed = new_index_angle (4, 14.36151156, 0);

  assert_near (pawl_hole_overlap (1, pawl_difference_of (half, 350).size_mm), 0.5, 1e-8, "GEO-029");
  assert_near (pawl_difference_of (closed, 350).size_mm, 1, 1e-8, "GEO-030");
}

/* (2 acos k - 2k sqrt (1 - k^2)) / pi: arithmetic, and two shares as the trade says them: a 3 mm hole 0.5 mm off keeps 79 %, 1.0 mm off 58 %
 * (common practice, no source). */
static void
test_hole_overlap (void)
{
  g_assert_cmpint (lround (100 * pawl_hole_overlap (3, 0.5)), ==, 79);
  g_assert_cmpint (lround (100 * pawl_hole_overlap (3, 1.0)), ==, 58);
  g_assert_cmpfloat (pawl_hole_overlap (3, 0), ==, 1);
  g_assert_cmpfloat (pawl_hole_overlap (3, 3), ==, 0);
  g_assert_cmpfloat (pawl_hole_overlap (3, -1), ==, pawl_hole_overlap (3, 1));
}

/* ---- outlines ---- */

#define N_ROUND 720

static void
draw_ellipse (PawlPoint *points, double a, double b)
{
  for (guint i = 0; i < N_ROUND; i++)
    points[i] = (PawlPoint) { a * cos (2 * G_PI * i / N_ROUND), b * sin (2 * G_PI * i / N_ROUND) };
}

/* A throttle plate without its shaft: bore and plate as outlines, the plate an ellipse whose projection is R cos psi / cos psi0 high. Open area:
 * closed form (Heywood, Internal Combustion Engine Fundamentals, eq. 7.18) from memory; value computed and confirmed by direct integration of the
 * projection. Gap at the edge: R(1 - cos(psi)/cos(psi0)), computed independently to 34 digits. */
static void
test_throttle_plate (void)
{
  PawlPoint bore[N_ROUND], plate[N_ROUND];
  static const struct { const char *id; double bore, closed_deg, deg, gap; } gaps[] = {
    { "GEO-045", 32, 7, 8, 0.036723054 },
    { "GEO-046", 32, 7, 10, 0.1247442 },
    { "GEO-047", 25, 5, 6, 0.020989907 },
  };
  /* Bore and plate are the same polygon but for a stretch, so that both lose the same share of their area to the chords. */
  double polygon = N_ROUND / (2 * G_PI) * sin (2 * G_PI / N_ROUND);

  draw_ellipse (bore, 12.5, 12.5);
  draw_ellipse (plate, 12.5, 12.5 * cos (10 * DEG));
  assert_near (pawl_outline_xor_area (bore, N_ROUND, plate, N_ROUND) / polygon, 7.457476801, 1e-7 * 7.46, "GEO-031");
  assert_near (pawl_outline_area_difference (bore, N_ROUND, plate, N_ROUND), 1 - cos (10 * DEG), 1e-9, "GEO-031 share");
  for (guint i = 0; i < G_N_ELEMENTS (gaps); i++)
    {
      double r = gaps[i].bore / 2;

      draw_ellipse (bore, r, r);
      draw_ellipse (plate, r, r * cos (gaps[i].deg * DEG) / cos (gaps[i].closed_deg * DEG));
      /* The rows are given to eight digits; distances are found to 1e-7 of the outline's size. */
      assert_near (pawl_outline_distance (bore, N_ROUND, plate, N_ROUND), gaps[i].gap, 1e-7 * gaps[i].bore, gaps[i].id);
    }
}

/* Squares whose distance and area need no book. */
static void
test_outlines (void)
{
  PawlPoint square[] = { { 0, 0 }, { 2, 0 }, { 2, 2 }, { 0, 2 } };
  PawlPoint moved[] = { { 1, 0 }, { 3, 0 }, { 3, 2 }, { 1, 2 } };
  PawlPoint bow_tie[] = { { 0, 0 }, { 2, 2 }, { 2, 0 }, { 0, 2 } };
  /* A comb: the farthest point of the square's right edge from it lies between corners. */
  PawlPoint bay[] = { { 0, 0 }, { 2, 0 }, { 2, 0.4 }, { 1, 0.4 }, { 1, 1.6 }, { 2, 1.6 }, { 2, 2 }, { 0, 2 } };

  assert_near (pawl_outline_area (square, 4), 4, 0, "square");
  assert_near (pawl_outline_area (bow_tie, 4), 2, 1e-12, "bow tie");
  assert_near (pawl_outline_distance (square, 4, square, 4), 0, 0, "itself");
  assert_near (pawl_outline_distance (square, 4, moved, 4), 1, 1e-6, "moved");
  assert_near (pawl_outline_area_difference (square, 4, moved, 4), 1, 1e-12, "moved area");
  assert_near (pawl_outline_distance (square, 4, bay, 8), 1, 1e-6, "bay, corners of the bay");
  assert_near (pawl_outline_distance (bay, 8, square, 4), pawl_outline_distance (square, 4, bay, 8), 1e-6, "both ways");
}

/* ---- sizes and classes by kind ---- */

typedef struct {
  const char    *name;
  PawlRule      *rule;
  double         size_mm, tolerance;
  PawlVisibility visibility;
} SizeCase;

static PawlShape *
new_plain_bushing (void)
{
  return SHAPE (TRUE, 0, 0, 3.975, 0, 4.7, 0.8, 5.5, 15.2, 5.5, 16, 4.7, 16, 3.975);
}

/* Two bushings, told apart by a cross hole that one of them lacks. */
static PawlRule *
new_which_hole (void)
{
  PawlRule *rule = new_which (1.6, 0);

  ((PawlCandidate *) g_ptr_array_index (rule->candidates, 0))->shape = new_bushing (TRUE);
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, 1))->shape = new_plain_bushing ();
  return rule;
}

/* Expected sizes by arithmetic from the dimensions in fixtures.h. */
static void
test_sizes (void)
{
  SizeCase cases[] = {
    { "hole 5 from one end, 11 from the other", new_sense (new_bushing (TRUE)), 6, 1e-9, PAWL_VISIBILITY_V3 },
    { "chamfer 0.8 x 45 deg: corner to slope", new_sense (new_bushing (FALSE)), 0.8 / sqrt (2), 1e-5, PAWL_VISIBILITY_V3 },
    { "the same both ways", new_sense (new_plain_bushing ()), 0, 1e-5, PAWL_VISIBILITY_V0 },
    { "side: twice the distance to the line", new_side (), 18, 1e-9, PAWL_VISIBILITY_V3 },
    { "holes 6 apart", new_index_hole (1.6, 6), 6, 0, PAWL_VISIBILITY_V3 },
    { "holes 0.5 apart: under 5 minutes of arc", new_index_hole (3, 0.5), 0.5, 0, PAWL_VISIBILITY_V1 },
    { "180 deg at radius 7", new_index_angle (7, 180, 0), 14, 1e-9, PAWL_VISIBILITY_V3 },
    { "one tooth of 60 at radius 30: 2 r sin (3 deg)", new_index_angle (30, 6, 6), 60 * sin (3 * DEG), 1e-9, PAWL_VISIBILITY_V3 },
    { "270 deg is 90 deg the other way", new_index_angle (7, 270, 0), 14 * sin (45 * DEG), 1e-9, PAWL_VISIBILITY_V3 },
    { "1 deg at radius 40: under 4 % of it", new_index_angle (40, 1, 0), 80 * sin (0.5 * DEG), 1e-9, PAWL_VISIBILITY_V2 },
    { "depth, no size known to judge it by", new_index_depth (1.5), 1.5, 0, PAWL_VISIBILITY_V2 },
    { "gaps in line, 120 deg wanted: r x arc", new_spread (), 6.5 * 120 * DEG, 1e-9, PAWL_VISIBILITY_V3 },
    { "screws", new_which (12.7, 22.225), 9.525, 1e-9, PAWL_VISIBILITY_V3 },
    { "a hole of 1.6, and none", new_which_hole (), 1.6, 1e-9, PAWL_VISIBILITY_V3 },
    { "jets No. 68 and No. 56", new_which (0.031 * 25.4, 0.0465 * 25.4), 0.3937, 1e-9, PAWL_VISIBILITY_V1 },
    { "lengths 25.0 and 25.9: under 4 %", new_which (25.0, 25.9), 0.9, 1e-9, PAWL_VISIBILITY_V2 },
    { "lengths 25.0 and 26.1: over 4 %", new_which (25.0, 26.1), 1.1, 1e-9, PAWL_VISIBILITY_V3 },
    { "two layers changed places", new_order (PAWL_LAYER_IN_PLACE, 0), 0, 1e-12, PAWL_VISIBILITY_V0 },
    { "a washer too many", new_order (PAWL_LAYER_TWICE, 2), 1.6, 1e-12, PAWL_VISIBILITY_V3 },
    { "a retainer left out", new_order (PAWL_LAYER_LEFT_OUT, 1), 1, 1e-12, PAWL_VISIBILITY_V3 },
    { "mate", new_mate (), 0, 0, PAWL_VISIBILITY_V0 },
    { "either", new_either (new_plain_bushing ()), 0, 0, PAWL_VISIBILITY_V0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlDifference difference = pawl_difference_of (cases[i].rule, PAWL_BENCH_DISTANCE_MM);

      assert_near (difference.size_mm, cases[i].size_mm, cases[i].tolerance, cases[i].name);
      if (difference.visibility != cases[i].visibility)
        g_error ("%s: %s, wanted %s", cases[i].name, pawl_visibility_get_name (difference.visibility), pawl_visibility_get_name (cases[i].visibility));
      pawl_rule_free (cases[i].rule);
    }
}

/* 5 minutes of arc at 350 mm: 350 tan (5/60 deg) = 0.509. US Army TM 1-1500-335-23 has 0.0029 in (0.074 mm) at 10 in for 1 minute. */
static void
test_limits_of_the_eye (void)
{
  assert_near (pawl_difference_get_least_mm (350), 0.5091, 0.0001, "bench");
  assert_near (pawl_difference_get_least_mm (254) / 5, 0.074, 0.0005, "military table");
}

static void
test_both_sides_of_the_eye (void)
{
  double least = pawl_difference_get_least_mm (350);
  g_autoptr(PawlRule) under = new_index_hole (3, least - 1e-6);
  g_autoptr(PawlRule) over = new_index_hole (3, least + 1e-6);

  g_assert_cmpint (pawl_difference_of (under, 350).visibility, ==, PAWL_VISIBILITY_V1);
  g_assert_cmpint (pawl_difference_of (over, 350).visibility, ==, PAWL_VISIBILITY_V3);
  /* From farther away the same difference is smaller. */
  g_assert_cmpint (pawl_difference_of (over, 700).visibility, ==, PAWL_VISIBILITY_V1);
}

static void
test_hidden_after (void)
{
  g_autoptr(PawlRule) rule = new_index_hole (1.6, 6);
  PawlDifference difference;

  rule->is_hidden_after = TRUE;
  rule->if_wrong = PAWL_IF_WRONG_HIDES;
  difference = pawl_difference_of (rule, 350);
  g_assert_cmpint (difference.in_hand, ==, PAWL_VISIBILITY_V3);
  g_assert_cmpint (difference.visibility, ==, PAWL_VISIBILITY_V0);
  g_assert_cmpfloat (difference.overlap, ==, 0);
  g_assert_true (pawl_difference_suggests_hold (&difference, rule));
  rule->if_wrong = PAWL_IF_WRONG_BLOCKED;
  g_assert_false (pawl_difference_suggests_hold (&difference, rule));
}

static void
test_no_hold_for_either (void)
{
  g_autoptr(PawlRule) rule = new_either (NULL);
  PawlDifference difference = pawl_difference_of (rule, 350);

  rule->if_wrong = PAWL_IF_WRONG_HIDES;
  g_assert_false (pawl_difference_suggests_hold (&difference, rule));
}

/* Two layers that changed places: nothing in the height, but in the hand 3 mm and 1 mm are told apart. */
static void
test_order_in_hand (void)
{
  g_autoptr(PawlRule) rule = new_order (PAWL_LAYER_IN_PLACE, 0);
  PawlDifference difference = pawl_difference_of (rule, 350);

  g_assert_cmpint (difference.visibility, ==, PAWL_VISIBILITY_V0);
  g_assert_cmpint (difference.in_hand, ==, PAWL_VISIBILITY_V3);
}

/* A gap in a forbidden arc: 20 deg into 40, at radius 6.5. Angles wrap at 360. */
static void
test_keep_clear (void)
{
  g_autoptr(PawlRule) rule = new_spread ();

  rule->n_forbidden = 2;
  rule->forbidden = g_memdup2 ((const double[]) { 340, 20 }, 2 * sizeof (double));
  rule->min_separation = 0;
  rule->wrong_angles[0] = 0;
  rule->wrong_angles[1] = 180;
  assert_near (pawl_difference_of (rule, 350).size_mm, 6.5 * 20 * DEG, 1e-9, "in the arc");
  rule->wrong_angles[0] = 20;
  assert_near (pawl_difference_of (rule, 350).size_mm, 0, 1e-9, "at its end");
}

/* A flange that seats on a shoulder is turned about the shoulder: its far end then stands where nothing was. Lip 1.5, length 30, about x = 1.5. */
static void
test_about_the_shoulder (void)
{
  g_autoptr(PawlRule) rule = new_sense (SHAPE (TRUE, 1.5, 0, 14, 0, 16.75, 1.5, 16.75, 1.5, 16, 30, 16, 30, 14));

  /* right 0..30, wrong -27..3: either end is 27 from the other outline, or nearly, as the lip is wider */
  assert_near (pawl_difference_of (rule, 350).size_mm, 27, 0.01, "about the shoulder");
}

static void
test_incomplete (void)
{
  g_autoptr(PawlRule) rule = new_sense (NULL);
  PawlDifference difference = pawl_difference_of (rule, 350);

  g_assert_cmpfloat (difference.size_mm, ==, 0);
  g_assert_cmpint (difference.visibility, ==, PAWL_VISIBILITY_V0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/difference/lens-area", test_lens_area);
  g_test_add_func ("/fit/difference/turned-bushing", test_turned_bushing);
  g_test_add_func ("/fit/difference/half-open", test_half_open);
  g_test_add_func ("/fit/difference/hole-overlap", test_hole_overlap);
  g_test_add_func ("/fit/difference/throttle-plate", test_throttle_plate);
  g_test_add_func ("/fit/difference/outlines", test_outlines);
  g_test_add_func ("/fit/difference/sizes", test_sizes);
  g_test_add_func ("/fit/difference/limits-of-the-eye", test_limits_of_the_eye);
  g_test_add_func ("/fit/difference/both-sides-of-the-eye", test_both_sides_of_the_eye);
  g_test_add_func ("/fit/difference/hidden-after", test_hidden_after);
  g_test_add_func ("/fit/difference/no-hold-for-either", test_no_hold_for_either);
  g_test_add_func ("/fit/difference/order-in-hand", test_order_in_hand);
  g_test_add_func ("/fit/difference/keep-clear", test_keep_clear);
  g_test_add_func ("/fit/difference/about-the-shoulder", test_about_the_shoulder);
  g_test_add_func ("/fit/difference/incomplete", test_incomplete);
  return g_test_run ();
}
