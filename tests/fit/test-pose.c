/* Poses: every kind draws right and wrong, with a ghost of the right in the wrong, and the two ends of the dimension that tells. */
#include "fixtures.h"

#include <math.h>

#include "fit/pawl-pose.h"

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
          g_assert_cmpuint (stroke->n_points, ==, 2);
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
    { "order, swapped", new_order (0), TRUE, 0, 0 },
    { "order, doubled", new_order (1.6), TRUE, 1.6, 1e-9 },
    { "mate", new_mate (), FALSE, 0, 0 },
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

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/pose/kinds", test_kinds);
  g_test_add_func ("/fit/pose/incomplete", test_incomplete);
  g_test_add_func ("/fit/pose/bushing-stays-in-bore", test_bushing_stays_in_bore);
  return g_test_run ();
}
