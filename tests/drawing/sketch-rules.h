/* Every kind of rule in every form that its sketch takes. All parts and dimensions are invented. */
#pragma once

#include "../fit/fixtures.h"

typedef struct {
  const char *name;
  PawlRule   *rule;
} SketchCase;

static inline void
free_sketch_case (gpointer data)
{
  pawl_rule_free (((SketchCase *) data)->rule);
  g_free (data);
}

static inline PawlRule *
add_case (GPtrArray *cases, const char *name, PawlRule *rule, const char *datum)
{
  SketchCase *one = g_new0 (SketchCase, 1);

  one->name = name;
  one->rule = rule;
  if (datum)
    {
      g_free (rule->datum);
      rule->datum = g_strdup (datum);
    }
  g_ptr_array_add (cases, one);
  return rule;
}

/* ---- shapes ---- */

/* Edge-on: 1.5 thick, 32 across, bevelled by 0.3. */
static inline PawlShape *
new_bevelled_plate (void)
{
  return SHAPE (FALSE, 0.75, 0, -16.2, 1.5, -15.9, 1.5, 16.2, 0, 15.9);
}

/* A lip seal, cut: the lip's spring side to +x. */
static inline PawlShape *
new_lip_seal (void)
{
  return SHAPE (TRUE, 0, 0, 9, 0, 15, 7, 15, 7, 13.8, 1.4, 13.8, 1.4, 10, 4, 8, 6.4, 9.4, 6.8, 8.2, 3.4, 6.6, 0.6, 8);
}

static inline PawlShape *
new_headed_pin (void)
{
  return SHAPE (TRUE, 34, 0, 0, 0, 1.3, 0.4, 1.6, 34, 1.6, 34, 2.5, 35.6, 2.5, 35.6, 0);
}

/* A pawl that drives one way only. */
static inline PawlShape *
new_hooked_lever (void)
{
  return SHAPE (FALSE, 0, -14, 3, -4, 5, 4, 5, 10, -1, 15, -9, 11, -10, 6, -4, 0, -3, -14, -3);
}

static inline PawlShape *
new_gasket (double hole_x)
{
  PawlShape *shape = SHAPE (FALSE, 0, -20, -14, 20, -14, 20, 14, -20, 14);

  add_feature (shape, PAWL_FEATURE_HOLE, hole_x, -8, 4, "vent");
  add_feature (shape, PAWL_FEATURE_HOLE, 0, 9, 3, NULL);
  return shape;
}

static inline PawlShape *
new_screw (double length)
{
  return SHAPE (TRUE, 0, -3, 0, -3, 3.4, -2.4, 4, 0, 4, 0, 2.4, length - 0.6, 2.4, length, 1.8, length, 0);
}

/* ---- rules ---- */

static inline void
add_sense_cases (GPtrArray *cases)
{
  PawlRule *rule;
  PawlShape *shape;

  add_case (cases, "sense: cross hole", new_sense (new_bushing (TRUE)), "insertion");
  add_case (cases, "sense: chamfer", new_sense (new_bushing (FALSE)), "insertion");
  add_case (cases, "sense: bevel", new_sense (new_bevelled_plate ()), "engine flange");
  add_case (cases, "sense: lip, section", new_sense (new_lip_seal ()), "the side of the oil that it keeps in");
  shape = new_lip_seal ();
  shape->is_on_shaft = TRUE;
  add_case (cases, "sense: over a shaft", new_sense (shape), "the way it comes on");
  add_case (cases, "sense: collar", new_sense (new_headed_pin ()), "boss");
  rule = add_case (cases, "sense: spin", new_sense (new_hooked_lever ()), "rotation of the shaft");
  rule->is_spin = TRUE;
  rule = add_case (cases, "sense: spin, clockwise", new_sense (new_hooked_lever ()), "rotation of the shaft");
  rule->is_spin = rule->is_clockwise = TRUE;
  shape = new_hooked_lever ();
  add_feature (shape, PAWL_FEATURE_MARK, -9, 1, 3, "dot");
  add_case (cases, "sense: outline, polar", new_sense (shape), "front");
  shape = SHAPE (FALSE, 0, -0.6, -18, 0.6, -18, 0.6, 18, -0.6, 18);
  add_feature (shape, PAWL_FEATURE_MARK, -0.6, 8, 3, "own mark");
  add_feature (shape, PAWL_FEATURE_HOLE, 0, 11, 3, "relief hole");
  add_case (cases, "sense: mark on an edge", new_sense (shape), "this job's own mark");
  shape = SHAPE (TRUE, 6, 0, 3, 0, 8, 6, 8, 6, 5, 20, 5, 20, 3);
  add_feature (shape, PAWL_FEATURE_NOTCH, 20, 5, 2, "notch");
  add_feature (shape, PAWL_FEATURE_BEVEL, 0, 8, 1, "bevel");
  add_case (cases, "sense: notch", new_sense (shape), "insertion");
}

static inline void
add_side_cases (GPtrArray *cases)
{
  PawlRule *rule;

  add_case (cases, "side: pin, no outline", new_side (), "stop pin");
  rule = add_case (cases, "side: turned", new_side (), "inlet boss");
  rule->shape = new_headed_pin ();
  rule->line_point = (PawlPoint) { 17, 0 };
  rule->feature_point = (PawlPoint) { 34.8, 0 };
  rule = add_case (cases, "side: sweep", new_side (), "stop pin");
  rule->shape = SHAPE (FALSE, 0, 0, -8, 15, -8, 15, -4, 6.93, -4, 8, 0, 6.1, 5.2, 0, 8, -8, 8, -18.8, 15, -22, 9.6, -24, 0, -22, -9.6, -18.8, -15, -8, -8);
  rule->line_point = (PawlPoint) { 3, -13 };
  rule->line_angle = -77;
  rule->pin = 3;
  rule->feature_point = (PawlPoint) { 10.6, -8 };
  rule->sweep = -78;
}

static inline PawlRule *
new_index_with (PawlRule *rule, PawlShape *shape)
{
  rule->shape = shape;
  return rule;
}

static inline void
add_index_cases (GPtrArray *cases)
{
  add_case (cases, "index: hole, half off", new_index_hole (3, 0.5), "passage");
  add_case (cases, "index: hole, nearly closed", new_index_hole (3, 2.6), "passage");
  add_case (cases, "index: hole, far off", new_index_hole (4, -18), "vent hole of the cover");
  add_case (cases, "index: hole of a bush", new_index_with (new_index_hole (1.6, 6), new_bushing (TRUE)), "passage");
  add_case (cases, "index: hole of a gasket", new_index_with (new_index_hole (4, 18), new_gasket (-9)), "vent hole of the cover");
  add_case (cases, "index: hole of a gasket, shifted", new_index_with (new_index_hole (4, 1.5), new_gasket (-9)), "vent");
  add_case (cases, "index: angle, opposite", new_index_angle (7, 180, 0), "engine flange");
  add_case (cases, "index: angle, a quarter", new_index_angle (7, -90, 0), "stud");
  add_case (cases, "index: tooth", new_index_angle (24, 10, 10), "mark on the case");
  add_case (cases, "index: notch", new_index_angle (12, 30, 30), "lug of the quadrant");
  add_case (cases, "index: fine tooth", new_index_angle (30, 4, 4), "painted tooth");
  add_case (cases, "index: angle with an outline", new_index_with (new_index_angle (16, -60, 0), new_hooked_lever ()), "scribed line");
  add_case (cases, "index: depth, short", new_index_depth (-1.5), "end of the race");
  add_case (cases, "index: depth, too far", new_index_with (new_index_depth (2), new_bushing (FALSE)), "face of the boss");
  add_case (cases, "index: depth, fine", new_index_with (new_index_depth (0.3), new_bushing (FALSE)), "face of the boss");
}

static inline PawlRule *
new_gaps (guint n, const double *right, const double *wrong, double apart)
{
  PawlRule *rule = new_spread ();

  g_free (rule->angles);
  g_free (rule->wrong_angles);
  rule->n_angles = n;
  rule->n_wrong_angles = wrong ? n : 0;
  rule->angles = g_memdup2 (right, n * sizeof (double));
  rule->wrong_angles = wrong ? g_memdup2 (wrong, n * sizeof (double)) : NULL;
  rule->min_separation = apart;
  rule->inside = 54;
  rule->outside = 62;
  return rule;
}

static inline void
keep_clear (PawlRule *rule, double from, double to)
{
  rule->forbidden = g_renew (double, rule->forbidden, rule->n_forbidden + 2);
  rule->forbidden[rule->n_forbidden++] = from;
  rule->forbidden[rule->n_forbidden++] = to;
}

static inline void
add_spread_cases (GPtrArray *cases)
{
  static const double two[] = { 180, 0 }, three[] = { 90, 210, 330 }, five[] = { 20, 92, 164, 236, 308 }, one[] = { 270 }, top[] = { 90 }, top2[] = { 90, 90 };
  static const double near[] = { 90, 80, 100 }, slight[] = { 90, 195, 330 };
  PawlRule *rule;

  rule = add_case (cases, "spread: two, keep clear", new_gaps (2, two, top2, 150), "the idle passage, at the top");
  rule->inside = 7.9;
  rule->outside = 13;
  keep_clear (rule, 60, 120);
  add_case (cases, "spread: three in line", new_gaps (3, three, NULL, 110), NULL);
  add_case (cases, "spread: three, near", new_gaps (3, three, near, 110), NULL);
  add_case (cases, "spread: three, slightly", new_gaps (3, three, slight, 110), NULL);
  add_case (cases, "spread: five", new_gaps (5, five, NULL, 60), NULL);
  rule = add_case (cases, "spread: one, port", new_gaps (1, one, top, 0), "exhaust port");
  keep_clear (rule, 50, 130);
  rule = add_case (cases, "spread: two windows", new_gaps (1, one, top, 0), "transfer ports");
  keep_clear (rule, 60, 120);
  keep_clear (rule, 160, 220);
}

static inline void
add_which_cases (GPtrArray *cases)
{
  PawlRule *rule;
  PawlCandidate *candidate;

  rule = add_case (cases, "which: two sizes", new_which (12.7, 22.225), NULL);
  rule->dimension_name = g_strdup ("length under the head");
  rule = add_case (cases, "which: two screws", new_which (12.7, 22.225), NULL);
  rule->dimension_name = g_strdup ("length under the head");
  for (guint i = 0; i < 2; i++)
    {
      candidate = g_ptr_array_index (rule->candidates, i);
      candidate->shape = new_screw (candidate->dimension);
    }
  rule = add_case (cases, "which: three jets", pawl_rule_new (PAWL_RULE_WHICH), NULL);
  add_candidate (rule, "Main, 56", "main well", 1.1811);
  add_candidate (rule, "Idle, 68", "idle well", 0.7874);
  add_candidate (rule, "Power, 62", "power well", 0.9652);
  rule->dimension_name = g_strdup ("bore of the jet");
  rule = add_case (cases, "which: five screws", pawl_rule_new (PAWL_RULE_WHICH), NULL);
  for (guint i = 0; i < 5; i++)
    {
      static const double lengths[] = { 12, 16, 20, 22, 30 };
      static const char * const names[] = { "A", "B", "C", "D", "E" }, * const places[] = { "rim", "inlet boss", "float side", "vent", "bracket" };

      candidate = add_candidate (rule, names[i], places[i], lengths[i]);
      candidate->shape = new_screw (lengths[i]);
    }
  rule = add_case (cases, "which: mark only", new_which (14, 14), NULL);
  rule = add_case (cases, "which: hole or none", pawl_rule_new (PAWL_RULE_WHICH), NULL);
  add_candidate (rule, "Drilled", "near boss", 1.6)->shape = new_bushing (TRUE);
  add_candidate (rule, "Plain", "far boss", 0)->shape = new_bushing (FALSE);
  rule->dimension_name = g_strdup ("cross hole");
}

static inline PawlRule *
new_stack (guint n, PawlLayerMistake mistake, guint layer)
{
  static const struct { const char *item, *name; double thickness; } layers[] = {
    { "12", "Fibre washer", 0.8 }, { "13", "Insulator", 2.4 }, { "14", "Contact strip", 0.6 }, { "15", "Insulator sleeve", 3 },
    { "16", "Steel washer", 1.2 }, { "17", "Spring washer", 1.4 }, { "18", "Nut", 3.2 }, { "19", "Lock nut", 2 },
  };
  PawlRule *rule = pawl_rule_new (PAWL_RULE_ORDER);

  for (guint i = 0; i < n; i++)
    add_candidate (rule, layers[i].name, NULL, layers[i].thickness)->item = g_strdup (layers[i].item);
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, layer))->mistake = mistake;
  return rule;
}

static inline void
add_order_cases (GPtrArray *cases)
{
  PawlRule *rule;

  add_case (cases, "order: two, swapped", new_stack (2, PAWL_LAYER_IN_PLACE, 0), "insertion");
  add_case (cases, "order: three, twice", new_stack (3, PAWL_LAYER_TWICE, 1), "insertion");
  add_case (cases, "order: four, left out", new_stack (4, PAWL_LAYER_LEFT_OUT, 2), "onto the stud");
  add_case (cases, "order: eight, swapped", new_stack (8, PAWL_LAYER_IN_PLACE, 0), "onto the stud");
  add_case (cases, "order: eight, twice", new_stack (8, PAWL_LAYER_TWICE, 4), "onto the stud");
  rule = add_case (cases, "order: shapes", new_order (PAWL_LAYER_IN_PLACE, 0), "insertion");
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, 0))->shape = SHAPE (TRUE, 0, 0, 4, 0, 9, 3, 9, 3, 4);
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, 1))->shape = SHAPE (TRUE, 0, 0, 4, 0, 8, 0.4, 8, 0.4, 9.4, 1, 9.4, 1, 4);
  ((PawlCandidate *) g_ptr_array_index (rule->candidates, 2))->shape = SHAPE (TRUE, 0, 0, 5, 0, 7, 1.6, 7, 1.6, 5);
}

/* (transfer full) (element-type SketchCase) */
static inline GPtrArray *
new_sketch_cases (void)
{
  GPtrArray *cases = g_ptr_array_new_with_free_func (free_sketch_case);
  PawlRule *rule;

  add_sense_cases (cases);
  add_side_cases (cases);
  add_index_cases (cases);
  add_spread_cases (cases);
  add_which_cases (cases);
  add_order_cases (cases);
  add_case (cases, "mate: two pieces", new_mate (), "this job's own match mark");
  rule = add_case (cases, "mate: three pieces", new_mate (), "scribed line");
  add_candidate (rule, "Plate", NULL, 0);
  add_case (cases, "either: turned", new_either (new_bushing (FALSE)), "the end that enters first");
  add_case (cases, "either: outline", new_either (SHAPE (FALSE, 0, -12, -5, 12, -5, 12, 5, -12, 5)), NULL);
  add_case (cases, "either: no shape", new_either (NULL), NULL);
  return cases;
}
