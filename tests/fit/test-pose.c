/* Poses: every kind draws right and wrong, with a ghost of the right in the wrong, and the two ends of the dimension that tells. */
#include "fixtures.h"

#include <math.h>

#include "fit/pawl-pose.h"
#include "fit/pawl-shape.h"

static guint
count_kind (GPtrArray *pose, PawlStrokeKind kind)
{
  guint n = 0;

  for (guint i = 0; i < pose->len; i++)
    n += ((PawlStroke *) g_ptr_array_index (pose, i))->kind == kind;
  return n;
}

static double
get_difference_length (GPtrArray *pose)
{
  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);

      if (stroke->kind == PAWL_STROKE_DIFFERENCE)
        {
          g_assert_true (stroke->n_points == 2 || stroke->n_points == 3); /* with the middle of an arc */
          return hypot (stroke->points[1].x - stroke->points[0].x, stroke->points[1].y - stroke->points[0].y);
        }
    }
  return 0;
}

static void
assert_finite (GPtrArray *pose)
{
  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);

      g_assert_cmpuint (stroke->n_points, >, 0);
      for (guint j = 0; j < stroke->n_points; j++)
        g_assert_true (isfinite (stroke->points[j].x) && isfinite (stroke->points[j].y));
    }
}

static void
test_kinds (void)
{
  struct { const char *name; PawlRule *rule; gboolean has_ghost; double length, tolerance; } cases[] = {
    { "sense", new_sense (new_bushing (TRUE)), TRUE, 6, 1e-9 },
    { "sense, chamfer", new_sense (new_bushing (FALSE)), TRUE, 0.8 / sqrt (2), 1e-4 },
    { "side", new_side (), TRUE, 18, 1e-9 },
    { "hole", new_index_hole (3, 1), FALSE, 1, 1e-9 },
    { "angle", new_index_angle (7, 90, 0), TRUE, 14 * sin (G_PI / 4), 1e-9 },
    { "depth", new_index_depth (1.5), TRUE, 1.5, 1e-9 },
    { "spread", new_spread (), TRUE, 2 * 6.5 * sin (G_PI / 3), 1e-9 }, /* chord of the arc */
    { "which", new_which (12.7, 22.225), FALSE, 9.525, 1e-9 },
    { "order, swapped", new_order (PAWL_LAYER_IN_PLACE, 0), FALSE, 0, 0 },
    { "order, doubled", new_order (PAWL_LAYER_TWICE, 2), FALSE, 1.6, 1e-9 },
    { "order, left out", new_order (PAWL_LAYER_LEFT_OUT, 2), TRUE, 1.6, 1e-9 },
    { "mate", new_mate (), TRUE, 0, 0 },
    { "either", new_either (new_bushing (FALSE)), FALSE, 0, 0 },
    { "either, no shape", new_either (NULL), FALSE, 0, 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GPtrArray) right = pawl_rule_draw_pose (cases[i].rule, FALSE);
      g_autoptr(GPtrArray) wrong = pawl_rule_draw_pose (cases[i].rule, TRUE);
      double length = get_difference_length (wrong);

      g_test_message ("%s", cases[i].name);
      assert_finite (right);
      assert_finite (wrong);
      g_assert_cmpuint (count_kind (right, PAWL_STROKE_OUTLINE), >, 0);
      g_assert_cmpuint (count_kind (wrong, PAWL_STROKE_OUTLINE), >, 0);
      g_assert_cmpuint (count_kind (right, PAWL_STROKE_GHOST), ==, 0);
      g_assert_cmpuint (count_kind (right, PAWL_STROKE_DIFFERENCE), ==, 0);
      g_assert_cmpint (count_kind (wrong, PAWL_STROKE_GHOST) > 0, ==, cases[i].has_ghost);
      if (fabs (length - cases[i].length) > cases[i].tolerance)
        g_error ("%s: the dimension is %g long, wanted %g", cases[i].name, length, cases[i].length);
      pawl_rule_free (cases[i].rule);
    }
}

static void
test_incomplete (void)
{
  g_autoptr(PawlRule) rule = new_sense (NULL);
  g_autoptr(GPtrArray) pose = pawl_rule_draw_pose (rule, FALSE);

  g_assert_cmpuint (pose->len, ==, 0);
}

/* The hole that is 5 from the leading end lies 5 from the other end when the bushing is wrong, inside the same bore. */
static void
test_bushing_stays_in_bore (void)
{
  g_autoptr(PawlRule) rule = new_sense (new_bushing (TRUE));
  g_autoptr(GPtrArray) wrong = pawl_rule_draw_pose (rule, TRUE);

  for (guint i = 0; i < wrong->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (wrong, i);

      for (guint j = 0; stroke->kind == PAWL_STROKE_OUTLINE && j < stroke->n_points; j++)
        {
          g_assert_cmpfloat (stroke->points[j].x, >=, -1e-9);
          g_assert_cmpfloat (stroke->points[j].x, <=, 16 + 1e-9);
        }
    }
}

static const PawlStroke *
find_kind (GPtrArray *pose, PawlStrokeKind kind)
{
  for (guint i = 0; i < pose->len; i++)
    if (((PawlStroke *) g_ptr_array_index (pose, i))->kind == kind)
      return g_ptr_array_index (pose, i);
  return NULL;
}

/* A rim 2 wide at one end of a thimble 22 long, turned end for end about its middle, is 20 off: that tells, not where the bottoms are farthest apart. A rim
 * that stands out by less than the eye can be trusted with tells nothing. */
static void
test_collar (void)
{
  static const struct { double rim, length, tolerance; gboolean is_level; } cases[] = { { 5.6, 20, 1e-9, TRUE }, { 4.6, 3.5, 0.1, FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlRule) rule = new_sense (SHAPE (TRUE, 0, 20, 0, 20, 3.4, 1, 3.4, 1, 4.2, 0, 4.2, 0, cases[i].rim, 2, cases[i].rim, 2, 4.4, 22, 4.4, 22, 0));
      g_autoptr(GPtrArray) wrong = pawl_rule_draw_pose (rule, TRUE);
      const PawlStroke *difference = find_kind (wrong, PAWL_STROKE_DIFFERENCE);

      g_assert_cmpfloat_with_epsilon (get_difference_length (wrong), cases[i].length, cases[i].tolerance);
      g_assert_cmpfloat_with_epsilon (pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM).size_mm, get_difference_length (wrong), 1e-6);
      g_assert_cmpint (fabs (difference->points[0].y - difference->points[1].y) < 1e-9, ==, cases[i].is_level);
    }
}

/* Of many places where a dished plug differs as much, its middle: there the dimension lies all but level, all but on the axis. */
static void
test_telling_is_level (void)
{
  g_autoptr(PawlRule) rule = new_sense (SHAPE (TRUE, 0, 0, 7, 1.2, 7, 1.8, 6.4, 2.8, 3, 3, 0, 1.8, 0, 1.5, 3, 0.6, 6.2, 0, 6.4));
  g_autoptr(GPtrArray) wrong = pawl_rule_draw_pose (rule, TRUE);
  const PawlStroke *difference = find_kind (wrong, PAWL_STROKE_DIFFERENCE);

  for (guint i = 0; i < 2; i++)
    g_assert_cmpfloat_with_epsilon (difference->points[i].y, 0, 0.2);
  g_assert_cmpfloat_with_epsilon (get_difference_length (wrong), 1.8, 0.02);
}

/* A lug at 0 degrees, a pin at 90, both 10 from the pivot, and 60 degrees of travel away from the pin. On the other side of the pin, at 180, the lug turns
 * the same way and meets it after 90 less the half pin: sin⁻¹ (1/10) = 5.739 degrees, which is more than the 60 it is to turn; with 100 it is stopped. */
static void
test_travel (void)
{
  static const struct { double sweep, right, wrong; } cases[] = { { -60, 60, 60 }, { -100, 100, 84.261 } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlRule) rule = new_side ();
      g_autoptr(GPtrArray) right = NULL;
      g_autoptr(GPtrArray) wrong = NULL;

      rule->feature_point = (PawlPoint) { 10, 0 };
      rule->line_point = (PawlPoint) { 0, -10 };
      rule->pin = 2;
      rule->sweep = cases[i].sweep;
      right = pawl_rule_draw_pose (rule, FALSE);
      wrong = pawl_rule_draw_pose (rule, TRUE);
      g_assert_cmpfloat_with_epsilon (find_kind (right, PAWL_STROKE_TRAVEL)->value, cases[i].right, 1e-9);
      g_assert_cmpfloat_with_epsilon (find_kind (wrong, PAWL_STROKE_TRAVEL)->value, cases[i].wrong, 5e-4);
    }
}

/* The share that is written beside a hole is that of the area in white. */
static void
test_open_share (void)
{
  static const double offsets[] = { 0.5, 1, 2.6, -1 };

  for (guint i = 0; i < G_N_ELEMENTS (offsets); i++)
    {
      g_autoptr(PawlRule) rule = new_index_hole (3, offsets[i]);
      g_autoptr(GPtrArray) wrong = pawl_rule_draw_pose (rule, TRUE);
      const PawlStroke *open = find_kind (wrong, PAWL_STROKE_OPEN);
      double area = 0;

      for (guint j = 0; j < open->n_points; j++)
        {
          PawlPoint p = open->points[j], q = open->points[(j + 1) % open->n_points];

          area += (p.x * q.y - q.x * p.y) / 2;
        }
      /* Arcs drawn in steps of 5 degrees at most lose under one part in a hundred to their chords. */
      g_assert_cmpfloat_with_epsilon (fabs (area) / (G_PI * 1.5 * 1.5), open->value, 0.01 * open->value);
    }
}

/* A screw is as long whichever way its profile is written: its place is a pocket, and what is too long stands proud by the difference. */
static void
test_length_either_way (void)
{
  for (int sense = -1; sense <= 1; sense += 2)
    {
      g_autoptr(PawlRule) rule = new_which (12, 16);
      g_autoptr(GPtrArray) wrong = NULL;
      double left = 0;

      for (guint i = 0; i < 2; i++)
        {
          PawlCandidate *candidate = g_ptr_array_index (rule->candidates, i);

          candidate->shape = SHAPE (TRUE, 0, -3, 0, -3, 4, 0, 4, 0, 2.4, candidate->dimension, 2.4, candidate->dimension, 0);
          for (guint j = 0; j < candidate->shape->n_points; j++)
            candidate->shape->points[j].x *= sense;
        }
      wrong = pawl_rule_draw_pose (rule, TRUE);
      for (guint i = 0; i < wrong->len; i++)
        {
          const PawlStroke *stroke = g_ptr_array_index (wrong, i);

          for (guint j = 0; stroke->kind == PAWL_STROKE_OUTLINE && j < stroke->n_points; j++)
            left = MIN (left, stroke->points[j].x);
        }
      g_assert_cmpfloat_with_epsilon (left, -3 - 4, 1e-9);
      g_assert_cmpfloat_with_epsilon (get_difference_length (wrong), 4, 1e-9);
      g_assert_cmpuint (count_kind (wrong, PAWL_STROKE_NEIGHBOUR), ==, 2);
    }
}

/* Swapped, doubled, left out: the rows say which layers are wrong, and only those; of two as thick as one another, the one that is meant. */
static void
test_wrong_rows (void)
{
  static const struct { PawlLayerMistake mistake; guint n_rows, n_wrong, first; gboolean is_swap; } cases[] = {
    { PAWL_LAYER_IN_PLACE, 4, 2, 0, TRUE }, { PAWL_LAYER_TWICE, 5, 1, 3, FALSE }, { PAWL_LAYER_LEFT_OUT, 4, 1, 2, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlRule) rule = new_order (cases[i].mistake, 2);
      g_autoptr(GPtrArray) pose = NULL;
      guint n_rows = 0, n_wrong = 0, first = 0;

      add_candidate (rule, "Last", NULL, 1);
      ((PawlCandidate *) g_ptr_array_index (rule->candidates, 1))->dimension = 1.6;
      pose = pawl_rule_draw_pose (rule, TRUE);
      for (guint j = 0; j < pose->len; j++)
        {
          const PawlStroke *stroke = g_ptr_array_index (pose, j);

          if (stroke->verdict < 0 && n_wrong++ == 0)
            first = n_rows;
          n_rows += stroke->kind == PAWL_STROKE_ROW;
        }
      g_assert_cmpuint (count_kind (pose, PAWL_STROKE_ROW), ==, cases[i].n_rows);
      g_assert_cmpuint (n_wrong, ==, cases[i].n_wrong);
      g_assert_cmpuint (first, ==, cases[i].first);
      g_assert_cmpint (count_kind (pose, PAWL_STROKE_SWAP) > 0, ==, cases[i].is_swap);
    }
}

/* A part that goes over a shaft has the shaft within it, as thick as its bore and longer than it; no walls round it. */
static void
test_on_shaft (void)
{
  g_autoptr(PawlShape) shape = new_bushing (FALSE);
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  g_autoptr(PawlRule) rule = NULL;

  shape->is_on_shaft = TRUE;
  rule = new_sense (g_steal_pointer (&shape));
  for (guint is_wrong = 0; is_wrong < 2; is_wrong++)
    {
      g_autoptr(GPtrArray) pose = pawl_rule_draw_pose (rule, is_wrong);
      double half = 0, left = INFINITY, right = -INFINITY;

      g_assert_cmpuint (count_kind (pose, PAWL_STROKE_NEIGHBOUR), ==, 1);
      for (guint i = 0; i < pose->len; i++)
        {
          const PawlStroke *stroke = g_ptr_array_index (pose, i);

          for (guint j = 0; stroke->kind == PAWL_STROKE_NEIGHBOUR && j < stroke->n_points; j++)
            {
              half = MAX (half, stroke->points[j].y);
              left = MIN (left, stroke->points[j].x);
              right = MAX (right, stroke->points[j].x);
            }
        }
      g_assert_cmpfloat_with_epsilon (half, bounds.y0, 1e-9);
      g_assert_cmpfloat (left, <, bounds.x0);
      g_assert_cmpfloat (right, >, bounds.x1);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/pose/kinds", test_kinds);
  g_test_add_func ("/fit/pose/incomplete", test_incomplete);
  g_test_add_func ("/fit/pose/bushing-stays-in-bore", test_bushing_stays_in_bore);
  g_test_add_func ("/fit/pose/collar", test_collar);
  g_test_add_func ("/fit/pose/telling-is-level", test_telling_is_level);
  g_test_add_func ("/fit/pose/travel", test_travel);
  g_test_add_func ("/fit/pose/open-share", test_open_share);
  g_test_add_func ("/fit/pose/length-either-way", test_length_either_way);
  g_test_add_func ("/fit/pose/wrong-rows", test_wrong_rows);
  g_test_add_func ("/fit/pose/on-shaft", test_on_shaft);
  return g_test_run ();
}
