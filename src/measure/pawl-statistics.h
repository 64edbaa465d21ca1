/* Statistics of a few readings, and the normal and t distributions. Doubles: exactness ends where a spread begins. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* @values: (array length=n). n >= 1; for the deviation n >= 2 (n - 1 below the root, two passes). */
double pawl_mean                 (const double *values, gsize n);
double pawl_standard_deviation   (const double *values, gsize n);
/* Φ (z), and the z of it; by GSL. */
double pawl_normal_probability   (double z);
double pawl_normal_quantile      (double probability);
/* The t that a share @probability lies below, with @degrees of freedom (INFINITY: normal); by GSL. */
double pawl_t_quantile           (double probability, double degrees);
/*
 * Welch-Satterthwaite, JCGM 100:2008 (GUM) G.4.1, from memory: ν = u⁴ / Σ (uᵢ⁴ / νᵢ). @u: (array length=n): contributions; @degrees: (array length=n):
 * INFINITY for what is known well. INFINITY when none of them counts.
 */
double pawl_effective_degrees    (const double *u, const double *degrees, gsize n);

G_END_DECLS
