/*
 * A small gauge study: several people measure the same parts several times. How much of the spread is the instrument in one hand (repeatability), how
 * much is who holds it (reproducibility), how much the parts themselves. By the averages and ranges of books, and by analysis of variance.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define PAWL_GAUGE_LEAST_PARTS 2
#define PAWL_GAUGE_MOST_PARTS 10
#define PAWL_GAUGE_MOST_TRIALS 3
#define PAWL_GAUGE_MOST_PEOPLE 3

/* Standard deviations, in the unit of the values. */
typedef struct {
  guint  n_parts, n_people, n_trials;
  double repeatability;   /* EV, equipment */
  double reproducibility; /* AV, appraisers */
  double gauge;           /* both, in quadrature */
  double parts;           /* PV */
  double total;           /* TV */
  double share;           /* gauge / total */
  guint  n_categories;    /* that it can tell apart: 1.41 parts / gauge, rounded down, at least 1 */
} PawlGaugeStudy;

/* Analysis of variance, two ways with interaction, all random: mean squares. */
typedef struct {
  double parts, people, interaction, repeatability;
  double interaction_probability; /* of so large an F by chance */
} PawlGaugeSquares;

/**
 * pawl_gauge_study_of_ranges:
 * @mean_range: of the trials of one part by one person, over all of them
 * @people_range: largest less smallest of the people's means
 * @parts_range: largest less smallest of the parts' means
 *
 * By averages and ranges with the factors K1, K2, K3 = 1/d2* of books (2 or 3 trials, 1 to 3 people, 2 to 10 parts; from memory). One person has no
 * reproducibility.
 *
 * Returns: FALSE outside of these numbers
 */
gboolean pawl_gauge_study_of_ranges  (double mean_range, double people_range, double parts_range, guint n_parts, guint n_people, guint n_trials,
                                      PawlGaugeStudy *study);
/* @values: (array): [part][person][trial], one after the other. The ranges of these, then as above. */
gboolean pawl_gauge_study_make       (const double *values, guint n_parts, guint n_people, guint n_trials, PawlGaugeStudy *study);
/* Two of each at least. */
gboolean pawl_gauge_squares_make     (const double *values, guint n_parts, guint n_people, guint n_trials, PawlGaugeSquares *squares);
/* Components of variance out of the mean squares, the interaction pooled with repeatability when its probability is over 0.25; none below 0. */
void     pawl_gauge_study_of_squares (const PawlGaugeSquares *squares, guint n_parts, guint n_people, guint n_trials, PawlGaugeStudy *study);

G_END_DECLS
