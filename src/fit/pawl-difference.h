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

/**
 * pawl_difference_of:
 * @rule: complete: pawl_rule_find_missing() says NULL. Of an incomplete one nothing is known: all zero, V0
 * @distance_mm: from the eye to the part, PAWL_BENCH_DISTANCE_MM unless known better; > 0
 *
 * Size of the difference between right and the usual mistake, by kind:
 * sense: the largest of pawl_outline_distance() of the part and itself turned end for end about its seating shoulder, of the
 *   shift of a feature to its like, and of a collar that is plain to see; side: 2 × distance of the feature to the line; index: the offset, at an angle δ the chord 2 r sin (δ/2);
 * spread: r × the angle by which the worst gap falls short, as an arc; which: the least difference of two candidates' sizes;
 * order: change of the stack's height (0 when two layers have changed places; in hand they are told apart by their thickness); mate, either: 0.
 *
 * Classes: the eye resolves 1 minute of arc (0.10 mm at 350 mm), and a tick-box is worth nothing under 5 (0.51 mm): V1 below that. From there, where the
 * same feature is only at another place (not a chamfer where there was none), under 4 % of the part's size along it it takes a comparison: V2.
 * Else V3. V0 when nothing differs; @visibility is V0 also when the rule is hidden after its step.
 * Sources: 1 minute of arc agrees with US Army TM 1-1500-335-23 (.0029 in at 10 in); 4 % for a length judged without reference: 3 to 5 %, from memory.
 */
PawlDifference pawl_difference_of     (const PawlRule *rule, double distance_mm);
/* Least size that the eye can be trusted with at a distance: distance × tan (5′), mm. */
double         pawl_difference_get_least_mm (double distance_mm);
const char    *pawl_visibility_get_name (PawlVisibility visibility);   /* "V0" … */
const char    *pawl_visibility_get_advice (PawlVisibility visibility); /* one sentence for the fitter */
/* V0 or V1 and a wrong part that goes together: a hold and a photo are suggested. */
gboolean       pawl_difference_suggests_hold (const PawlDifference *difference, const PawlRule *rule);

/* Share of a circle of @diameter (> 0) that a second equal circle @offset away leaves open, 0..1: (2 acos k − 2k √(1−k²))/π, k = offset/diameter.
 * The lens area of two equal circles over the area of one. */
double         pawl_hole_overlap      (double diameter_mm, double offset_mm);
/* Area common to two circles of radii @r1, @r2 (>= 0), centres @distance apart. Circle-circle intersection (MathWorld, "Circle-Circle Intersection"):
 * r1² acos ((d²+r1²−r2²)/2dr1) + r2² acos ((d²+r2²−r1²)/2dr2) − ½ √((−d+r1+r2)(d+r1−r2)(d−r1+r2)(d+r1+r2)). */
double         pawl_lens_area         (double r1, double r2, double distance);
/* Largest distance from a point of either outline to the other (both closed polylines): the Hausdorff distance, to 1e-7 of their size. */
double         pawl_outline_distance  (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b);
/* area(P xor P′) / area(P), exactly, by the even-odd rule; 0 when P has no area. */
double         pawl_outline_area_difference (const PawlPoint *a, guint n_a, const PawlPoint *b, guint n_b);

G_END_DECLS
