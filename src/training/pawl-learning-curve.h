/*
 * The learning curve: each doubling of the number of jobs takes the same share of the time. T. P. Wright, J. Aeronaut. Sci. 3 (1936) 122, and the
 * unit form of J. R. Crawford, from memory: t(n) = t(1) n^b, rate = 2^b.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Fewer jobs than this have no curve: two points fit any line, and three leave one degree of freedom. */
#define PAWL_LEARNING_LEAST_JOBS 4

typedef struct {
  guint  n;
  double first;             /* fitted time of the first job, in the unit of the times */
  double slope;             /* b */
  double rate;              /* 2^b: 0.8 says that the second job takes 80 % of the first, the fourth 80 % of the second */
  double rate_low, rate_high; /* 95 %, by the slope's standard error and t with n - 2 degrees of freedom */
  double deviation;         /* standard deviation of ln (time) about the line */
} PawlLearningCurve;

double   pawl_learning_get_slope   (double rate);
double   pawl_learning_get_rate    (double slope);
/* Of the nth job, after one that took @time as the @known-th. */
double   pawl_learning_get_time    (double time, guint known, guint n, double slope);
/* Of all jobs from the @from-th to the @to-th, summed. @first: the first job's */
double   pawl_learning_get_total   (double first, guint from, guint to, double slope);
/**
 * pawl_learning_curve_fit:
 * @times: (array length=n): attended time of each job, above 0, in the order they were done
 *
 * Least squares of ln (time) on ln (number). Returns: FALSE with fewer than PAWL_LEARNING_LEAST_JOBS, or a time that is not above 0
 */
gboolean pawl_learning_curve_fit   (const double *times, guint n, PawlLearningCurve *curve);
/* The fitted time of the @nth job, and the 95 % interval of that line there: of the mean of ln (time), not of single jobs. */
double   pawl_learning_curve_get   (const PawlLearningCurve *self, guint n, double *low, double *high);

G_END_DECLS
