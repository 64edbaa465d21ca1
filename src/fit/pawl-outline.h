/* Closed outlines as polylines: area, distance, difference. Any one unit of length. */
#pragma once

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

/* Area by the even-odd rule, >= 0: an outline that crosses itself counts as it is painted. */
double pawl_outline_area (const PawlPoint *points, guint n_points);
/* Area covered by exactly one of the two, even-odd. */
double pawl_outline_xor_area (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b);
/* As pawl_outline_distance(), and where: the point on one outline and the nearest one on the other. @on_a: (out) (optional), @on_b likewise. */
double pawl_outline_find_distance (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b, PawlPoint *on_a, PawlPoint *on_b);
/* The point of the closed outline that is nearest to @p. @n_points > 0. */
PawlPoint pawl_outline_find_nearest (const PawlPoint *points, guint n_points, PawlPoint p);

G_END_DECLS
