/* The usual mistake of a rule: what goes wrong at the bench, as numbers. Shared by the size of the difference and by the drawing of it. */
#pragma once

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

/* index angle: by how much the marks end up apart, 0..180. (The period is the step from one tooth or notch to the next: one step off is wrong.) */
double    pawl_mistake_get_angle_deg (const PawlRule *rule);
/* index hole or depth: the part as it then lies. A shape whose holes end up @wrong away when it is turned end for end is turned, others are shifted
 * along x. (transfer full) (nullable): NULL without a shape. */
PawlShape *pawl_mistake_dup_index_shape (const PawlRule *rule);
/* spread: angle of gap @n in the usual mistake. */
double    pawl_mistake_get_gap_deg   (const PawlRule *rule, guint n);
/* spread: how far the worst gap is from where it would be right, degrees; 0 when nothing is wrong with it. @from_deg: (out) (optional) where the
 * gap is, @to_deg: (out) (optional) the nearest angle that would do. */
double    pawl_mistake_get_shortfall_deg (const PawlRule *rule, double *from_deg, double *to_deg);
/* which: the two candidates nearest to each other in size, as they are the ones mixed up; @a < @b. FALSE with fewer than two. */
gboolean  pawl_mistake_find_pair     (const PawlRule *rule, guint *a, guint *b);
/* order: the stack as it then is: (transfer full) (element-type guint): indexes into candidates. */
GArray   *pawl_mistake_dup_stack     (const PawlRule *rule);
/* spread: radius at which gaps are compared, mm: the outside of the ring unless a radius is stated. */
double    pawl_mistake_get_ring_radius (const PawlRule *rule);

G_END_DECLS
