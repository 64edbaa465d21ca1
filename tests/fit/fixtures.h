/* Rules as a procedure would state them, for the tests. Dimensions are of an invented carburetor. */
#pragma once

#include <string.h>

#include "fit/pawl-rule.h"

static inline PawlShape *
new_shape (gboolean is_turned, double seat, const double *numbers, guint n_numbers)
{
  PawlShape *shape = pawl_shape_new ();

  shape->is_turned = is_turned;
  shape->seat = seat;
  shape->n_points = n_numbers / 2;
  shape->points = g_memdup2 (numbers, n_numbers * sizeof (double));
  return shape;
}

#define SHAPE(is_turned, seat, ...) \
  new_shape (is_turned, seat, (const double[]) { __VA_ARGS__ }, G_N_ELEMENTS (((const double[]) { __VA_ARGS__ })))

static inline void
add_feature (PawlShape *shape, PawlFeatureKind kind, double x, double y, double size, const char *label)
{
  PawlFeature feature = { kind, x, y, size, g_strdup (label) };

  g_array_append_val (shape->features, feature);
}

/* Bushing 11 x 7.95 x 16, the end at x = 16 leads: chamfer 0.8, cross hole 1.6 dia. 5.0 from it. Pressed flush: it seats on its end face. */
static inline PawlShape *
new_bushing (gboolean has_hole)
{
  PawlShape *shape = SHAPE (TRUE, 0, 0, 3.975, 0, 5.5, 15.2, 5.5, 16, 4.7, 16, 3.975);

  if (has_hole)
    add_feature (shape, PAWL_FEATURE_HOLE, 11, 5.5, 1.6, "cross hole");
  return shape;
}

static inline PawlRule *
new_sense (PawlShape *shape)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_SENSE);

  rule->shape = shape;
  rule->datum = g_strdup ("enters first");
  return rule;
}

static inline PawlRule *
new_side (void)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_SIDE);

  rule->line_angle = 90;
  rule->feature_point = (PawlPoint) { 9, 4 };
  return rule;
}

static inline PawlRule *
new_index_hole (double diameter, double wrong)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_INDEX);

  rule->index_kind = PAWL_INDEX_HOLE;
  rule->diameter = diameter;
  rule->wrong = wrong;
  return rule;
}

static inline PawlRule *
new_index_angle (double radius, double wrong_deg, double period_deg)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_INDEX);

  rule->index_kind = PAWL_INDEX_ANGLE;
  rule->radius = radius;
  rule->wrong = wrong_deg;
  rule->period = period_deg;
  return rule;
}

static inline PawlRule *
new_index_depth (double wrong)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_INDEX);

  rule->index_kind = PAWL_INDEX_DEPTH;
  rule->wrong = wrong;
  rule->tolerance = 0.2;
  return rule;
}

static inline PawlRule *
new_spread (void)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_SPREAD);

  rule->inside = 7.9;
  rule->outside = 13;
  rule->n_angles = rule->n_wrong_angles = 2;
  rule->angles = g_memdup2 ((const double[]) { 90, 270 }, 2 * sizeof (double));
  rule->wrong_angles = g_memdup2 ((const double[]) { 90, 90 }, 2 * sizeof (double));
  rule->min_separation = 120;
  return rule;
}

static inline PawlCandidate *
add_candidate (PawlRule *rule, const char *name, const char *place, double dimension)
{
  PawlCandidate *candidate = pawl_candidate_new ();

  candidate->part = g_strdup (name);
  candidate->name = g_strdup (name);
  candidate->place = g_strdup (place);
  candidate->dimension = dimension;
  g_ptr_array_add (rule->candidates, candidate);
  return candidate;
}

static inline PawlRule *
new_which (double a, double b)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_WHICH);

  add_candidate (rule, "Short", "cover edge", a);
  add_candidate (rule, "Long", "inlet boss", b);
  return rule;
}

static inline PawlRule *
new_order (PawlLayerMistake mistake, guint layer)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_ORDER);

  add_candidate (rule, "Felt ring", NULL, 3);
  add_candidate (rule, "Felt retainer", NULL, 1);
  add_candidate (rule, "Washer", NULL, 1.6);
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, layer))->mistake = mistake;
  return rule;
}

static inline PawlRule *
new_mate (void)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_MATE);

  add_candidate (rule, "Cover", NULL, 0);
  add_candidate (rule, "Body", NULL, 0);
  return rule;
}

static inline PawlRule *
new_either (PawlShape *shape)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_EITHER);

  rule->shape = shape;
  rule->symmetry = g_strdup ("chamfered at both ends");
  return rule;
}
