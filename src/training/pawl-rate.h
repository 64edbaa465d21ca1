/* How often something was right, and how sure that is: 3 of 3 is not 100 %. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
  guint  n_right, n;
  double share;     /* NAN when n is 0 */
  double low, high; /* of a 95 % interval; 0 and 1 when n is 0 */
} PawlRate;

/* Wilson's score interval without continuity correction. E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209, from memory. */
PawlRate pawl_rate_make       (guint n_right, guint n);
/* Clopper and Pearson's exact interval, by GSL's beta distribution; Biometrika 26 (1934) 404, from memory. Never narrower than stated, often wider. */
PawlRate pawl_rate_make_exact (guint n_right, guint n);
/* (transfer full): "7 of 12, 58 % (32 to 81 %)"; "none yet" when n is 0 */
char    *pawl_rate_format     (const PawlRate *self);
/* So many in a row without a fault, before a share of at least @reliability is likely by @confidence: ln (1 - C) / ln R, rounded up; from memory. */
guint    pawl_rate_get_clean_run (double confidence, double reliability);

G_END_DECLS
