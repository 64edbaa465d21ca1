/* How different wrong looks: the size of the difference, and what the eye makes of it. */
#pragma once

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

/* Distance at which a fitter looks at the part in hand. */
#define PAWL_BENCH_DISTANCE_MM 350.0

typedef enum {
  PAWL_VISIBILITY_V0, /* hidden after closing, or nothing to see at all */
  PAWL_VISIBILITY_V1, /* needs a gauge, a thumb or a mark */
  PAWL_VISIBILITY_V2, /* seen side by side only */
  PAWL_VISIBILITY_V3, /* obvious */
} PawlVisibility;

typedef struct {
  double         size_mm;    /* largest distance between the right and the wrong outline, or of the feature */
  double         relative;   /* size against the part's own size along it, 0..; side by side or not */
  double         overlap;    /* index hole: share of the hole still open in the usual wrong pose, 0..1; else NaN */
  PawlVisibility in_hand;    /* class while the part is still in the hand */
  PawlVisibility visibility; /* class once fitted: V0 when hidden after the step */
} PawlDifference;

PawlDifference pawl_difference_of     (const PawlRule *rule, double distance_mm);
const char    *pawl_visibility_get_name (PawlVisibility visibility);   /* "V0" … */
const char    *pawl_visibility_get_advice (PawlVisibility visibility); /* one sentence for the fitter */
/* V0 or V1 and a wrong part that goes together: a hold and a photo are suggested. */
gboolean       pawl_difference_suggests_hold (const PawlDifference *difference, const PawlRule *rule);

/* Share of a circle of @diameter that a second equal circle @offset away leaves open: (2 acos k − 2k √(1−k²))/π, k = offset/diameter. */
double         pawl_hole_overlap      (double diameter_mm, double offset_mm);
/* Area common to two circles of radii @r1, @r2, centres @distance apart. */
double         pawl_lens_area         (double r1, double r2, double distance);
/* Largest distance from a point of either outline to the other (both closed polylines). */
double         pawl_outline_distance  (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b);
/* area(P xor P′) / area(P), by an even sampling or exactly. */
double         pawl_outline_area_difference (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b);

G_END_DECLS
