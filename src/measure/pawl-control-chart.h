/*
 * Run charts of individuals and moving range: what a reading does from job to job when nothing but chance is at work, and what stands out of that.
 *
 * Values are doubles in one unit of the caller's, oldest first. Nothing is judged here against a specification: a point outside the chart's limits is
 * unlike the others, not bad.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Sources differ: books print 2.66 (3/1.128) and 3.267, to three decimals; worked out they are 2.65868 and 3.26653. */
typedef enum {
  PAWL_CHART_AS_PRINTED,
  PAWL_CHART_EXACT,
} PawlChartFactors;

typedef struct {
  gsize  n;          /* values */
  double mean;
  double mean_range; /* of the n - 1 moving ranges |x[i] - x[i-1]| */
  double low, high;  /* limits of a value: mean -/+ 3 mean_range / d2 */
  double range_high; /* limit of a moving range: D4 mean_range; the lower one is 0 */
} PawlControlChart;

/*
 * @values: (array length=n): finite. FALSE for n < 2, of which no chart can be made; @chart has the mean alone then (NAN of nothing).
 * Source: ASTM E2587; NIST/SEMATECH e-Handbook 6.3.2.2 (3 MR/1.128); both factors from memory.
 */
gboolean     pawl_control_chart_make         (const double *values, gsize n, PawlChartFactors factors, PawlControlChart *chart);
/* Strictly outside of the limits; on one it is inside. */
gboolean     pawl_control_chart_is_outside   (const PawlControlChart *chart, double value);
gboolean     pawl_control_chart_is_jump      (const PawlControlChart *chart, double before, double value); /* the moving range is over its limit */

/*
 * The four rules of runs: so many of the last values beyond so many sigmas (a third of the way from the mean to a limit), all on one side.
 * Source: Western Electric Statistical Quality Control Handbook, 1956, from memory.
 */
typedef enum {
  PAWL_CHART_RULE_NONE,
  PAWL_CHART_RULE_BEYOND_3,    /* 1 beyond 3 sigma */
  PAWL_CHART_RULE_2_OF_3,      /* 2 of 3 successive ones beyond 2 sigma */
  PAWL_CHART_RULE_4_OF_5,      /* 4 of 5 successive ones beyond 1 sigma */
  PAWL_CHART_RULE_8_IN_A_ROW,  /* 8 successive ones on one side of the mean; one on the mean breaks the run */
} PawlChartRule;

/* The first of the rules in their order that values[index], itself beyond, completes. */
PawlChartRule pawl_control_chart_find_rule   (const PawlControlChart *chart, const double *values, gsize n, gsize index);
/* How often chance alone meets a rule at a given point, on one given side: the share of normally distributed values. 0 for _NONE */
double        pawl_chart_rule_get_chance     (PawlChartRule rule);

/* Of a longest run, in points: strictly on one side of @centre; strictly rising or strictly falling. 0 of nothing. */
gsize         pawl_run_on_one_side           (const double *values, gsize n, double centre);
gsize         pawl_run_one_way               (const double *values, gsize n);
/*
 * How far values follow from the one before, -1 to 1: Σ (x[i] - m) (x[i+1] - m) / Σ (x[i] - m)², lag-1 autocorrelation as in NIST StRD.
 * Limits from moving ranges are too narrow where it is high. NAN for n < 2 and where all values are equal.
 */
double        pawl_lag_correlation           (const double *values, gsize n);

/* What charts of groups of n readings take: the mean and spread of the range and the mean of s, of a normal distribution with sigma 1. */
typedef struct {
  double d2, d3, c4;
} PawlGroupFactors;

/*
 * @n: 2 to 100. Worked out from the distribution of the range, P (W ≤ w) = n ∫ φ (x) (Φ (x + w) - Φ (x))^(n-1) dx, and
 * c4 = √(2/(n-1)) Γ (n/2) / Γ ((n-1)/2); Montgomery, Introduction to Statistical Quality Control, app. VI, from memory. Good to 1e-9.
 */
void          pawl_group_factors_get         (guint n, PawlGroupFactors *factors);
double        pawl_group_factors_get_a2      (const PawlGroupFactors *factors, guint n); /* limits of a mean, in mean ranges */
double        pawl_group_factors_get_e2      (const PawlGroupFactors *factors);          /* limits of one value, in mean ranges */
double        pawl_group_factors_get_range_low  (const PawlGroupFactors *factors);       /* D3: limits of a range, in mean ranges */
double        pawl_group_factors_get_range_high (const PawlGroupFactors *factors);       /* D4 */

/* How well readings that go on like these would keep to a specification. Source: NIST/SEMATECH e-Handbook 6.1.6, from memory. */
typedef struct {
  double cp;      /* (high - low) / 6 s */
  double upper;   /* (high - mean) / 3 s */
  double lower;   /* (mean - low) / 3 s */
  double cpk;     /* the smaller of the two */
  double off;     /* how far off the middle, of half the width: 0 in the middle, 1 on a limit */
} PawlCapability;

/* @low < @high, @deviation > 0, all in one unit. FALSE when they are not. */
gboolean      pawl_capability_make           (double low, double high, double mean, double deviation, PawlCapability *capability);

G_END_DECLS
