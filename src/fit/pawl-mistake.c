#include "fit/pawl-mistake.h"

#include <math.h>

#include "fit/pawl-shape.h"

/* A turned-round hole counts as the stated mistake when it lands within this share of the stated offset. */
#define SAME_OFFSET_SHARE 0.1

/* Angle from 0 (same) to 180 (opposite). */
static double
separate (double a_deg, double b_deg)
{
  double between = fmod (fabs (a_deg - b_deg), 360);

  return between > 180 ? 360 - between : between;
}

double
pawl_mistake_get_angle_deg (const PawlRule *rule)
{
  return separate (rule->wrong, 0);
}

PawlShape *
pawl_mistake_dup_index_shape (const PawlRule *rule)
{
  g_autoptr(PawlShape) flipped = NULL;
  PawlShape *shifted;

  if (!rule->shape)
    return NULL;
  flipped = pawl_shape_flip (rule->shape, FALSE);
  if (rule->index_kind == PAWL_INDEX_HOLE)
    for (guint i = 0; i < flipped->features->len; i++)
      {
        PawlFeature was = g_array_index (rule->shape->features, PawlFeature, i);
        PawlFeature is = g_array_index (flipped->features, PawlFeature, i);

        if (was.kind == PAWL_FEATURE_HOLE && fabs (fabs (is.x - was.x) - fabs (rule->wrong)) <= SAME_OFFSET_SHARE * fabs (rule->wrong))
          return g_steal_pointer (&flipped);
      }
  shifted = pawl_shape_dup (rule->shape);
  for (guint i = 0; i < shifted->n_points; i++)
    shifted->points[i].x += rule->wrong;
  for (guint i = 0; i < shifted->features->len; i++)
    g_array_index (shifted->features, PawlFeature, i).x += rule->wrong;
  return shifted;
}

double
pawl_mistake_get_ring_radius (const PawlRule *rule)
{
  return rule->radius > 0 ? rule->radius : rule->outside / 2;
}

double
pawl_mistake_get_gap_deg (const PawlRule *rule, guint n)
{
  g_return_val_if_fail (n < rule->n_angles, 0);
  if (n < rule->n_wrong_angles)
    return rule->wrong_angles[n];
  return rule->n_forbidden ? (rule->forbidden[0] + rule->forbidden[1]) / 2 : rule->angles[0];
}

/* How far inside a forbidden arc @angle is, to the nearer end; 0 outside. */
static double
depth_in_arc (double angle, double from, double to, double *way_out)
{
  double width = fmod (fmod (to - from, 360) + 360, 360);
  double into = fmod (fmod (angle - from, 360) + 360, 360);

  if (into >= width)
    return 0;
  *way_out = into < width - into ? from : to;
  return MIN (into, width - into);
}

double
pawl_mistake_get_shortfall_deg (const PawlRule *rule, double *from_deg, double *to_deg)
{
  double largest = 0, from = 0, to = 0;

  for (guint i = 0; i < rule->n_angles; i++)
    {
      double angle = pawl_mistake_get_gap_deg (rule, i);

      for (guint j = 0; j < i; j++)
        {
          double other = pawl_mistake_get_gap_deg (rule, j);
          double short_of = rule->min_separation - separate (angle, other);

          if (short_of > largest)
            {
              /* Away from the other gap, on the side where it already is. */
              double sign = fmod (fmod (angle - other, 360) + 360, 360) <= 180 ? 1 : -1;

              largest = short_of;
              from = angle;
              to = angle + sign * short_of;
            }
        }
      for (guint k = 0; k + 1 < rule->n_forbidden; k += 2)
        {
          double way_out = angle;
          double depth = depth_in_arc (angle, rule->forbidden[k], rule->forbidden[k + 1], &way_out);

          if (depth > largest)
            {
              largest = depth;
              from = angle;
              to = way_out;
            }
        }
    }
  if (from_deg)
    *from_deg = from;
  if (to_deg)
    *to_deg = to;
  return largest;
}

gboolean
pawl_mistake_find_pair (const PawlRule *rule, guint *a, guint *b)
{
  double least = INFINITY;

  for (guint i = 0; i < rule->candidates->len; i++)
    for (guint j = i + 1; j < rule->candidates->len; j++)
      {
        const PawlCandidate *p = g_ptr_array_index (rule->candidates, i), *q = g_ptr_array_index (rule->candidates, j);

        if (fabs (p->dimension - q->dimension) < least)
          {
            least = fabs (p->dimension - q->dimension);
            *a = i;
            *b = j;
          }
      }
  return isfinite (least);
}

static double
get_thickness (const PawlRule *rule, guint n)
{
  const PawlCandidate *layer = g_ptr_array_index (rule->candidates, n);

  return layer->dimension;
}

GArray *
pawl_mistake_dup_stack (const PawlRule *rule)
{
  GArray *stack = g_array_new (FALSE, FALSE, sizeof (guint));
  guint n = rule->candidates->len;
  guint at = 0;

  for (guint i = 0; i < n; i++)
    g_array_append_val (stack, i);
  if (n < 2)
    return stack;
  for (guint i = 0; i < n; i++)
    switch (((PawlCandidate *) g_ptr_array_index (rule->candidates, i))->mistake)
      {
      case PAWL_LAYER_TWICE:
        g_array_insert_val (stack, i, i);
        return stack;
      case PAWL_LAYER_LEFT_OUT:
        g_array_remove_index (stack, i);
        return stack;
      case PAWL_LAYER_IN_PLACE:
      default:
        break;
      }
  /* The two neighbours that differ most: the mistake that matters. */
  for (guint i = 1; i + 1 < n; i++)
    if (fabs (get_thickness (rule, i + 1) - get_thickness (rule, i)) > fabs (get_thickness (rule, at + 1) - get_thickness (rule, at)))
      at = i;
  g_array_index (stack, guint, at) = at + 1;
  g_array_index (stack, guint, at + 1) = at;
  return stack;
}
