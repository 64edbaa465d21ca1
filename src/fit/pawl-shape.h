/* Shapes: a part's section as it was written, the other way round, and as the eye sees it. Millimetres. */
#pragma once

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

typedef struct {
  double x0, y0, x1, y1;
} PawlBounds;

/* Room that the points take. A turned part's y is its radius. */
PawlBounds pawl_shape_get_bounds   (const PawlShape *self);
PawlShape *pawl_shape_dup          (const PawlShape *self);
/* The x about which the part is turned end for end when it goes in the wrong way. That is the seating shoulder; but a part that seats on
 * one of its end faces then seats on the other one, and stays where it was: its middle. */
double     pawl_shape_get_flip_x   (const PawlShape *self);
/* (transfer full): the part turned end for end about that x, or, for a spin, mirrored to the other hand. Features go with it. */
PawlShape *pawl_shape_flip         (const PawlShape *self, gboolean is_spin);
/* Inner and outer radius of a turned part at @x, from its half-profile; both 0 beyond its ends. */
void       pawl_shape_get_radii    (const PawlShape *self, double x, double *inner, double *outer);
/* TRUE when the bore of a turned part is not one plain cylinder, so that only a section shows it. */
gboolean   pawl_shape_needs_section (const PawlShape *self);
/* TRUE when the part is thicker before its seat than behind it, so that something stops it there. */
gboolean   pawl_shape_has_shoulder (const PawlShape *self);
/* How far the collar of a turned part ends up from where it belongs, when the part is turned end for end; 0 when it has none, or one that stands out by
 * less than @least_mm. A collar is a narrow band in which the part is thickest: a rim, a head, a lip. @from, @to: (out) (optional) its middle, at its
 * outside, right and wrong. */
double     pawl_shape_collar_shift (const PawlShape *self, double least_mm, PawlPoint *from, PawlPoint *to);
/* Largest shift of a feature to the nearest one of its kind after the flip, 0 without features. @from, @to: (out) (optional). */
double     pawl_shape_feature_shift (const PawlShape *self, const PawlShape *flipped, PawlPoint *from, PawlPoint *to);

G_END_DECLS
