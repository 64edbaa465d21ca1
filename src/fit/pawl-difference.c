#include "fit/pawl-difference.h"

#include <math.h>

#include "fit/pawl-mistake.h"
#include "fit/pawl-outline.h"
#include "fit/pawl-shape.h"

#define ARC_MINUTE (G_PI / 180 / 60)
/* What a tick-box is worth: five times what the eye resolves. */
#define LEAST_ARC_MINUTES 5
/* Shortest change of a length that is seen without something to compare it with. */
#define SIDE_BY_SIDE_SHARE 0.04
/* Under this nothing differs: a thousandth of a micrometre. */
#define NOTHING_MM 1e-6

/* ---- circles ---- */

double
pawl_hole_overlap (double diameter_mm, double offset_mm)
{
  double k;

  g_return_val_if_fail (diameter_mm > 0, NAN);
  k = fabs (offset_mm) / diameter_mm;
  if (k >= 1)
    return 0;
  return (2 * acos (k) - 2 * k * sqrt (1 - k * k)) / G_PI;
}

double
pawl_lens_area (double r1, double r2, double distance)
{
  double d = fabs (distance);
  double least = MIN (r1, r2);
  double kite;

  g_return_val_if_fail (r1 >= 0 && r2 >= 0, NAN);
  if (d >= r1 + r2)
    return 0;
  if (d <= fabs (r1 - r2))
    return G_PI * least * least;
  kite = (-d + r1 + r2) * (d + r1 - r2) * (d - r1 + r2) * (d + r1 + r2);
  return r1 * r1 * acos (CLAMP ((d * d + r1 * r1 - r2 * r2) / (2 * d * r1), -1, 1))
         + r2 * r2 * acos (CLAMP ((d * d + r2 * r2 - r1 * r1) / (2 * d * r2), -1, 1))
         - sqrt (MAX (kite, 0)) / 2;
}

/* ---- size by kind ---- */

typedef struct {
  double   size_mm;
  double   relative;
  gboolean is_elsewhere; /* the same feature at another place, nothing else */
  double   in_hand_mm;   /* what differs while the part is in the hand, where that is not the same */
} Size;

static double
length_along_x (const PawlShape *shape)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);

  return bounds.x1 - bounds.x0;
}

static Size
size_of_sense (const PawlRule *rule, double least_mm)
{
  g_autoptr(PawlShape) flipped = pawl_shape_flip (rule->shape, rule->is_spin);
  double outline = pawl_outline_distance (rule->shape->points, rule->shape->n_points, flipped->points, flipped->n_points);
  double shift = pawl_shape_feature_shift (rule->shape, flipped, NULL, NULL);
  double collar = rule->is_spin ? 0 : pawl_shape_collar_shift (rule->shape, least_mm, NULL, NULL);
  double size = MAX (MAX (outline, shift), collar);

  return (Size) { size, size / length_along_x (rule->shape), outline < least_mm, size };
}

/* Distance of the feature from the line; how far the shape reaches across it. */
static Size
size_of_side (const PawlRule *rule)
{
  double angle = rule->line_angle * G_PI / 180;
  double nx = sin (angle), ny = -cos (angle);
  double distance = (rule->feature_point.x - rule->line_point.x) * nx + (rule->feature_point.y - rule->line_point.y) * ny;
  double low = MIN (0, distance), high = MAX (0, distance);

  for (guint i = 0; rule->shape && i < rule->shape->n_points; i++)
    {
      double across = (rule->shape->points[i].x - rule->line_point.x) * nx + (rule->shape->points[i].y - rule->line_point.y) * ny;

      low = MIN (low, across);
      high = MAX (high, across);
    }
  return (Size) { 2 * fabs (distance), 2 * fabs (distance) / (high - low), TRUE, 2 * fabs (distance) };
}

static Size
size_of_index (const PawlRule *rule)
{
  double size = fabs (rule->wrong);
  double whole = rule->shape ? length_along_x (rule->shape) : 0;

  if (rule->index_kind == PAWL_INDEX_ANGLE)
    {
      size = 2 * rule->radius * sin (pawl_mistake_get_angle_deg (rule) / 2 * G_PI / 180);
      whole = 2 * rule->radius;
    }
  else if (rule->index_kind == PAWL_INDEX_HOLE && whole <= 0)
    whole = rule->diameter;
  /* A depth on a part of unknown length: nothing to judge it by. */
  return (Size) { size, whole > 0 ? size / whole : 0, TRUE, size };
}

static Size
size_of_spread (const PawlRule *rule)
{
  double radius = pawl_mistake_get_ring_radius (rule);
  double size = radius * pawl_mistake_get_shortfall_deg (rule, NULL, NULL) * G_PI / 180;

  return (Size) { size, size / (2 * radius), TRUE, size };
}

static Size
size_of_which (const PawlRule *rule)
{
  const PawlCandidate *p, *q;
  guint a, b;
  double size;

  if (!pawl_mistake_find_pair (rule, &a, &b))
    return (Size) { 0, 0, FALSE, 0 };
  p = g_ptr_array_index (rule->candidates, a);
  q = g_ptr_array_index (rule->candidates, b);
  size = fabs (p->dimension - q->dimension);
  return (Size) { size, size > 0 ? size / MAX (p->dimension, q->dimension) : 0, TRUE, size };
}

static double
stack_height (const PawlRule *rule, const GArray *stack)
{
  double height = 0;

  for (guint i = 0; i < stack->len; i++)
    height += ((const PawlCandidate *) g_ptr_array_index (rule->candidates, g_array_index (stack, guint, i)))->dimension;
  return height;
}

static Size
size_of_order (const PawlRule *rule)
{
  g_autoptr(GArray) wrong = pawl_mistake_dup_stack (rule);
  double right_height = 0, size, in_hand = 0;

  for (guint i = 0; i < rule->candidates->len; i++)
    right_height += ((const PawlCandidate *) g_ptr_array_index (rule->candidates, i))->dimension;
  size = fabs (stack_height (rule, wrong) - right_height);
  if (size < NOTHING_MM)
    for (guint i = 0; i < wrong->len; i++)
      {
        const PawlCandidate *is = g_ptr_array_index (rule->candidates, g_array_index (wrong, guint, i));
        const PawlCandidate *ought = g_ptr_array_index (rule->candidates, i);

        in_hand = MAX (in_hand, fabs (is->dimension - ought->dimension));
      }
  return (Size) { size, size / right_height, TRUE, MAX (size, in_hand) };
}

static Size
size_of (const PawlRule *rule, double least_mm)
{
  switch (rule->kind)
    {
    case PAWL_RULE_SENSE:
      return size_of_sense (rule, least_mm);
    case PAWL_RULE_SIDE:
      return size_of_side (rule);
    case PAWL_RULE_INDEX:
      return size_of_index (rule);
    case PAWL_RULE_SPREAD:
      return size_of_spread (rule);
    case PAWL_RULE_WHICH:
      return size_of_which (rule);
    case PAWL_RULE_ORDER:
      return size_of_order (rule);
    case PAWL_RULE_MATE:
    case PAWL_RULE_EITHER:
    default:
      return (Size) { 0, 0, FALSE, 0 };
    }
}

/* ---- class ---- */

double
pawl_difference_get_least_mm (double distance_mm)
{
  return distance_mm * tan (LEAST_ARC_MINUTES * ARC_MINUTE);
}

static PawlVisibility
classify (double size_mm, double relative, gboolean is_elsewhere, double least_mm)
{
  if (size_mm < NOTHING_MM)
    return PAWL_VISIBILITY_V0;
  if (size_mm < least_mm)
    return PAWL_VISIBILITY_V1;
  if (is_elsewhere && relative < SIDE_BY_SIDE_SHARE)
    return PAWL_VISIBILITY_V2;
  return PAWL_VISIBILITY_V3;
}

PawlDifference
pawl_difference_of (const PawlRule *rule, double distance_mm)
{
  PawlDifference difference = { 0, 0, NAN, PAWL_VISIBILITY_V0, PAWL_VISIBILITY_V0 };
  g_autofree char *missing = NULL;
  double least_mm = pawl_difference_get_least_mm (distance_mm);
  Size size;

  g_return_val_if_fail (rule != NULL && distance_mm > 0, difference);
  if ((missing = pawl_rule_find_missing (rule)))
    return difference;
  size = size_of (rule, least_mm);
  difference.size_mm = size.size_mm;
  difference.relative = size.relative;
  if (rule->kind == PAWL_RULE_INDEX && rule->index_kind == PAWL_INDEX_HOLE)
    difference.overlap = pawl_hole_overlap (rule->diameter, rule->wrong);
  /* What differs in the hand only (two layers that changed places) is the larger share of the part as well: it is a thickness. */
  difference.in_hand = size.in_hand_mm > size.size_mm
                         ? classify (size.in_hand_mm, 1, FALSE, least_mm)
                         : classify (size.size_mm, size.relative, size.is_elsewhere, least_mm);
  difference.visibility = rule->is_hidden_after ? PAWL_VISIBILITY_V0 : classify (size.size_mm, size.relative, size.is_elsewhere, least_mm);
  return difference;
}

const char *
pawl_visibility_get_name (PawlVisibility visibility)
{
  static const char * const names[] = { "V0", "V1", "V2", "V3" };

  g_return_val_if_fail (visibility < G_N_ELEMENTS (names), NULL);
  return names[visibility];
}

const char *
pawl_visibility_get_advice (PawlVisibility visibility)
{
  static const char * const advice[] = {
    "Nothing to see afterwards: confirm it now, by its mark.",
    "The eye can't tell: use a gauge, a thumbnail or a mark.",
    "Lay the two side by side: it shows only in comparison.",
    "Look: the difference is plain to see.",
  };

  g_return_val_if_fail (visibility < G_N_ELEMENTS (advice), NULL);
  return advice[visibility];
}

gboolean
pawl_difference_suggests_hold (const PawlDifference *difference, const PawlRule *rule)
{
  g_return_val_if_fail (difference != NULL && rule != NULL, FALSE);
  return rule->kind != PAWL_RULE_EITHER && rule->if_wrong != PAWL_IF_WRONG_BLOCKED && difference->visibility <= PAWL_VISIBILITY_V1;
}
