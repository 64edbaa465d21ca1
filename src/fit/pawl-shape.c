#include "fit/pawl-shape.h"

#include <math.h>

/* Lengths under this are drawing noise, not dimensions: a tenth of a micrometre. */
#define SAME_MM 1e-4
/* A collar takes up no more than this share of the part's length, and its edges no more than that. */
#define COLLAR_SHARE 0.25
#define COLLAR_EDGE_SHARE 0.02

static void
clear_feature (gpointer data)
{
  PawlFeature *feature = data;

  g_free (feature->label);
}

PawlShape *
pawl_shape_new (void)
{
  PawlShape *self = g_new0 (PawlShape, 1);

  self->features = g_array_new (FALSE, TRUE, sizeof (PawlFeature));
  g_array_set_clear_func (self->features, clear_feature);
  return self;
}

void
pawl_shape_free (PawlShape *self)
{
  if (!self)
    return;
  g_array_unref (self->features);
  g_free (self->points);
  g_free (self);
}

PawlShape *
pawl_shape_dup (const PawlShape *self)
{
  PawlShape *copy;

  g_return_val_if_fail (self != NULL, NULL);
  copy = pawl_shape_new ();
  copy->is_turned = self->is_turned;
  copy->is_on_shaft = self->is_on_shaft;
  copy->points = g_memdup2 (self->points, self->n_points * sizeof (PawlPoint));
  copy->n_points = self->n_points;
  copy->seat = self->seat;
  for (guint i = 0; i < self->features->len; i++)
    {
      PawlFeature feature = g_array_index (self->features, PawlFeature, i);

      feature.label = g_strdup (feature.label);
      g_array_append_val (copy->features, feature);
    }
  return copy;
}

PawlBounds
pawl_shape_get_bounds (const PawlShape *self)
{
  PawlBounds bounds = { 0 };

  g_return_val_if_fail (self != NULL, bounds);
  for (guint i = 0; i < self->n_points; i++)
    {
      PawlPoint p = self->points[i];

      if (i == 0)
        bounds = (PawlBounds) { p.x, p.y, p.x, p.y };
      bounds = (PawlBounds) { MIN (bounds.x0, p.x), MIN (bounds.y0, p.y), MAX (bounds.x1, p.x), MAX (bounds.y1, p.y) };
    }
  return bounds;
}

double
pawl_shape_get_flip_x (const PawlShape *self)
{
  PawlBounds bounds = pawl_shape_get_bounds (self);

  if (fabs (self->seat - bounds.x0) < SAME_MM || fabs (self->seat - bounds.x1) < SAME_MM)
    return (bounds.x0 + bounds.x1) / 2;
  return self->seat;
}

PawlShape *
pawl_shape_flip (const PawlShape *self, gboolean is_spin)
{
  PawlShape *flipped = pawl_shape_dup (self);
  PawlBounds bounds = pawl_shape_get_bounds (self);
  double twice = is_spin ? bounds.y0 + bounds.y1 : 2 * pawl_shape_get_flip_x (self);

  for (guint i = 0; i < flipped->n_points; i++)
    if (is_spin)
      flipped->points[i].y = twice - flipped->points[i].y;
    else
      flipped->points[i].x = twice - flipped->points[i].x;
  for (guint i = 0; i < flipped->features->len; i++)
    {
      PawlFeature *feature = &g_array_index (flipped->features, PawlFeature, i);

      if (is_spin)
        feature->y = twice - feature->y;
      else
        feature->x = twice - feature->x;
    }
  return flipped;
}

void
pawl_shape_get_radii (const PawlShape *self, double x, double *inner, double *outer)
{
  double low = INFINITY, high = -INFINITY;

  for (guint i = 0; i < self->n_points; i++)
    {
      PawlPoint a = self->points[i], b = self->points[(i + 1) % self->n_points];
      double t;

      if (x < MIN (a.x, b.x) || x > MAX (a.x, b.x))
        continue;
      if (a.x == b.x)
        {
          low = MIN (low, MIN (a.y, b.y));
          high = MAX (high, MAX (a.y, b.y));
          continue;
        }
      t = (x - a.x) / (b.x - a.x);
      low = MIN (low, a.y + t * (b.y - a.y));
      high = MAX (high, a.y + t * (b.y - a.y));
    }
  *inner = isfinite (low) ? low : 0;
  *outer = isfinite (high) ? high : 0;
}

gboolean
pawl_shape_needs_section (const PawlShape *self)
{
  PawlBounds bounds = pawl_shape_get_bounds (self);
  double low = INFINITY, high = -INFINITY;

  if (!self->is_turned || self->is_on_shaft)
    return self->is_turned;
  /* Just inside the ends and on both sides of each corner, so that a step in the bore is met. */
  for (guint i = 0; i < self->n_points; i++)
    for (int side = -1; side <= 1; side += 2)
      {
        double x = self->points[i].x + side * 10 * SAME_MM;
        double inner, outer;

        if (x <= bounds.x0 || x >= bounds.x1)
          continue;
        pawl_shape_get_radii (self, x, &inner, &outer);
        low = MIN (low, inner);
        high = MAX (high, inner);
      }
  return high - low > 20 * SAME_MM;
}

double
pawl_shape_feature_shift (const PawlShape *self, const PawlShape *flipped, PawlPoint *from, PawlPoint *to)
{
  double largest = 0;

  for (guint i = 0; i < self->features->len; i++)
    {
      PawlFeature a = g_array_index (self->features, PawlFeature, i);
      PawlFeature nearest = a;
      double least = INFINITY;

      for (guint j = 0; j < flipped->features->len; j++)
        {
          PawlFeature b = g_array_index (flipped->features, PawlFeature, j);

          if (b.kind == a.kind && fabs (b.size - a.size) < SAME_MM && hypot (b.x - a.x, b.y - a.y) < least)
            {
              least = hypot (b.x - a.x, b.y - a.y);
              nearest = b;
            }
        }
      if (isfinite (least) && least > largest)
        {
          largest = least;
          if (from)
            *from = (PawlPoint) { a.x, a.y };
          if (to)
            *to = (PawlPoint) { nearest.x, nearest.y };
        }
    }
  return largest;
}

gboolean
pawl_shape_has_shoulder (const PawlShape *shape)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double tiny = 1e-3 * (bounds.x1 - bounds.x0), inner, before, behind;

  if (shape->seat <= bounds.x0 + tiny || shape->seat >= bounds.x1 - tiny)
    return FALSE;
  pawl_shape_get_radii (shape, shape->seat - tiny, &inner, &before);
  pawl_shape_get_radii (shape, shape->seat + tiny, &inner, &behind);
  return before > behind + tiny;
}

/* The narrow band in which the part is thickest: where it begins and ends, and by how much it stands out; FALSE when that is no narrow one. */
static gboolean
find_collar (const PawlShape *self, double *from, double *to, double *height)
{
  PawlBounds bounds = pawl_shape_get_bounds (self);
  double length = bounds.x1 - bounds.x0, next = 0;

  *from = INFINITY;
  *to = -INFINITY;
  for (guint i = 0; i < self->n_points; i++)
    if (self->points[i].y > bounds.y1 - SAME_MM)
      {
        *from = MIN (*from, self->points[i].x);
        *to = MAX (*to, self->points[i].x);
      }
  for (guint i = 0; i < self->n_points; i++)
    if (self->points[i].x < *from - COLLAR_EDGE_SHARE * length || self->points[i].x > *to + COLLAR_EDGE_SHARE * length)
      next = MAX (next, self->points[i].y);
  *height = bounds.y1 - next;
  return *to - *from <= COLLAR_SHARE * length;
}

double
pawl_shape_collar_shift (const PawlShape *self, double least_mm, PawlPoint *from, PawlPoint *to)
{
  PawlBounds bounds = pawl_shape_get_bounds (self);
  double begin, end, height, middle, other;

  if (!self->is_turned || !find_collar (self, &begin, &end, &height) || height < least_mm)
    return 0;
  middle = (begin + end) / 2;
  other = 2 * pawl_shape_get_flip_x (self) - middle;
  if (from)
    *from = (PawlPoint) { middle, bounds.y1 };
  if (to)
    *to = (PawlPoint) { other, bounds.y1 };
  return fabs (other - middle);
}
