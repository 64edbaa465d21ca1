/* Rules as data: names, and what is missing from each kind. */
#include "fixtures.h"

#include <math.h>

static void
test_names (void)
{
  PawlRuleKind kind;

  for (guint i = 0; i <= PAWL_RULE_EITHER; i++)
    {
      g_assert_true (pawl_rule_kind_from_name (pawl_rule_kind_get_name (i), &kind));
      g_assert_cmpint (kind, ==, i);
    }
  g_assert_false (pawl_rule_kind_from_name ("Sense", &kind));
  g_assert_false (pawl_rule_kind_from_name ("", &kind));
  g_assert_false (pawl_rule_kind_from_name (NULL, &kind));
}

static void
assert_missing (PawlRule *rule_take, const char *word)
{
  g_autoptr(PawlRule) rule = rule_take;
  g_autofree char *missing = pawl_rule_find_missing (rule);

  if (!word)
    g_assert_cmpstr (missing, ==, NULL);
  else if (!missing || !strstr (missing, word))
    g_error ("wanted a word on \"%s\", found \"%s\"", word, missing ? missing : "nothing missing");
}

static void
test_complete (void)
{
  assert_missing (new_sense (new_bushing (TRUE)), NULL);
  assert_missing (new_side (), NULL);
  assert_missing (new_index_hole (1.6, 6), NULL);
  assert_missing (new_index_angle (7, 180, 0), NULL);
  assert_missing (new_index_depth (1.5), NULL);
  assert_missing (new_spread (), NULL);
  assert_missing (new_which (12.7, 22.225), NULL);
  assert_missing (new_order (PAWL_LAYER_IN_PLACE, 0), NULL);
  assert_missing (new_mate (), NULL);
  assert_missing (new_either (NULL), NULL);
}

static void
test_incomplete (void)
{
  PawlRule *rule;

  assert_missing (new_sense (NULL), "outline");
  assert_missing (new_sense (SHAPE (FALSE, 0, 0, 0, 1, 1)), "three points");
  assert_missing (new_sense (SHAPE (FALSE, 0, 0, 0, 1, 1, 2, 2)), "encloses");
  assert_missing (new_sense (SHAPE (TRUE, 0, 0, 0, 1, -1, 2, 0)), "radii");
  assert_missing (new_sense (SHAPE (FALSE, 0, 0, 0, 1, NAN, 2, 0)), "finite");
  rule = new_side ();
  rule->feature_point.x = 0;
  assert_missing (rule, "to one side");
  rule = new_side ();
  rule->pin = -1;
  assert_missing (rule, "a pin of");
  rule = new_side ();
  rule->sweep = -361;
  assert_missing (rule, "full turn");
  assert_missing (new_index_hole (1.6, 0), "usual mistake");
  assert_missing (new_index_hole (0, 6), "diameter");
  assert_missing (new_index_angle (0, 180, 0), "radius");
  assert_missing (new_index_depth (0.2), "larger than the tolerance");
  assert_missing (new_index_depth (0.2001), NULL);
  rule = new_spread ();
  rule->n_angles = rule->n_wrong_angles = 0;
  assert_missing (rule, "angles of the gaps");
  rule = new_spread ();
  rule->n_wrong_angles = 1;
  assert_missing (rule, "as many");
  rule = new_spread ();
  rule->outside = 0;
  assert_missing (rule, "outside diameter");
  rule = new_spread ();
  rule->inside = 13;
  assert_missing (rule, "inside diameter");
  rule = new_spread ();
  rule->min_separation = 0;
  assert_missing (rule, "apart");
  rule = pawl_rule_new (PAWL_RULE_WHICH);
  add_candidate (rule, "One", "here", 1);
  assert_missing (rule, "two candidates");
  assert_missing (new_which (12.7, -1), "size of each");
  assert_missing (new_which (12.7, 0), "size of each");
  rule = pawl_rule_new (PAWL_RULE_ORDER);
  assert_missing (rule, "two layers");
  rule = pawl_rule_new (PAWL_RULE_MATE);
  assert_missing (rule, "two pieces");
  rule = new_either (NULL);
  g_clear_pointer (&rule->symmetry, g_free);
  assert_missing (rule, "reason");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fit/rule/names", test_names);
  g_test_add_func ("/fit/rule/complete", test_complete);
  g_test_add_func ("/fit/rule/incomplete", test_incomplete);
  return g_test_run ();
}
