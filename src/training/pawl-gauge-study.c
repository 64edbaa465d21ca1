#include "training/pawl-gauge-study.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

/* Above this the interaction is taken for chance; the usual choice of books, from memory. */
#define POOLED_ABOVE 0.25
/* √2: two categories that overlap no more than they must; from memory. */
#define CATEGORIES 1.41

/* 1/d2* for one subgroup of 2, 3, … ; from memory. K1 is for many subgroups. */
static const double k1[] = { 0.8862, 0.5908 };
static const double k2[] = { 0.7071, 0.5231 };
static const double k3[] = { 0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146 };

static void
combine (PawlGaugeStudy *self)
{
  double ratio;

  self->gauge = hypot (self->repeatability, self->reproducibility);
  self->total = hypot (self->gauge, self->parts);
  self->share = self->total > 0 ? self->gauge / self->total : NAN;
  ratio = self->gauge > 0 ? CATEGORIES * self->parts / self->gauge : G_MAXUINT16;
  self->n_categories = MAX (1, (guint) MIN (ratio, G_MAXUINT16));
}

gboolean
pawl_gauge_study_of_ranges (double mean_range, double people_range, double parts_range, guint n_parts, guint n_people, guint n_trials, PawlGaugeStudy *study)
{
  if (n_trials < 2 || n_trials > PAWL_GAUGE_MOST_TRIALS || n_people < 1 || n_people > PAWL_GAUGE_MOST_PEOPLE || n_parts < PAWL_GAUGE_LEAST_PARTS
      || n_parts > PAWL_GAUGE_MOST_PARTS)
    return FALSE;
  *study = (PawlGaugeStudy) { .n_parts = n_parts, .n_people = n_people, .n_trials = n_trials };
  study->repeatability = mean_range * k1[n_trials - 2];
  if (n_people > 1)
    {
      double people = people_range * k2[n_people - 2];

      /* what repeatability alone makes of the means is not the people's; nothing is left where that is more */
      study->reproducibility = sqrt (MAX (0, people * people - study->repeatability * study->repeatability / (n_parts * n_trials)));
    }
  study->parts = parts_range * k3[n_parts - 2];
  combine (study);
  return TRUE;
}

/* ---- out of the values ---- */

typedef struct {
  const double *values;
  guint n_parts, n_people, n_trials;
} Table;

static double
get_value (const Table *self, guint part, guint person, guint trial)
{
  return self->values[(part * self->n_people + person) * self->n_trials + trial];
}

static double
get_cell_mean (const Table *self, guint part, guint person)
{
  double sum = 0;

  for (guint k = 0; k < self->n_trials; k++)
    sum += get_value (self, part, person, k);
  return sum / self->n_trials;
}

static double
get_part_mean (const Table *self, guint part)
{
  double sum = 0;

  for (guint j = 0; j < self->n_people; j++)
    sum += get_cell_mean (self, part, j);
  return sum / self->n_people;
}

static double
get_person_mean (const Table *self, guint person)
{
  double sum = 0;

  for (guint i = 0; i < self->n_parts; i++)
    sum += get_cell_mean (self, i, person);
  return sum / self->n_parts;
}

static double
get_cell_range (const Table *self, guint part, guint person)
{
  double low = INFINITY, high = -INFINITY;

  for (guint k = 0; k < self->n_trials; k++)
    {
      low = MIN (low, get_value (self, part, person, k));
      high = MAX (high, get_value (self, part, person, k));
    }
  return high - low;
}

static double
get_range_of (const Table *self, double (*get) (const Table *, guint), guint n)
{
  double low = INFINITY, high = -INFINITY;

  for (guint i = 0; i < n; i++)
    {
      low = MIN (low, get (self, i));
      high = MAX (high, get (self, i));
    }
  return high - low;
}

gboolean
pawl_gauge_study_make (const double *values, guint n_parts, guint n_people, guint n_trials, PawlGaugeStudy *study)
{
  const Table table = { values, n_parts, n_people, n_trials };
  double ranges = 0;

  if (n_parts == 0 || n_people == 0 || n_trials == 0)
    return FALSE;
  for (guint i = 0; i < n_parts; i++)
    for (guint j = 0; j < n_people; j++)
      ranges += get_cell_range (&table, i, j);
  return pawl_gauge_study_of_ranges (ranges / (n_parts * n_people), get_range_of (&table, get_person_mean, n_people),
                                     get_range_of (&table, get_part_mean, n_parts), n_parts, n_people, n_trials, study);
}

/* ---- analysis of variance ---- */

static double
square (double value)
{
  return value * value;
}

gboolean
pawl_gauge_squares_make (const double *values, guint n_parts, guint n_people, guint n_trials, PawlGaugeSquares *squares)
{
  const Table table = { values, n_parts, n_people, n_trials };
  double mean = 0, parts = 0, people = 0, cells = 0, within = 0;
  guint n_both = (n_parts - 1) * (n_people - 1);

  if (n_parts < 2 || n_people < 2 || n_trials < 2)
    return FALSE;
  for (guint i = 0; i < n_parts; i++)
    mean += get_part_mean (&table, i) / n_parts;
  for (guint i = 0; i < n_parts; i++)
    parts += square (get_part_mean (&table, i) - mean);
  for (guint j = 0; j < n_people; j++)
    people += square (get_person_mean (&table, j) - mean);
  for (guint i = 0; i < n_parts; i++)
    for (guint j = 0; j < n_people; j++)
      {
        double cell = get_cell_mean (&table, i, j);

        cells += square (cell - get_part_mean (&table, i) - get_person_mean (&table, j) + mean);
        for (guint k = 0; k < n_trials; k++)
          within += square (get_value (&table, i, j, k) - cell);
      }
  squares->parts = parts * n_people * n_trials / (n_parts - 1);
  squares->people = people * n_parts * n_trials / (n_people - 1);
  squares->interaction = cells * n_trials / n_both;
  squares->repeatability = within / (n_parts * n_people * (n_trials - 1));
  squares->interaction_probability = squares->repeatability > 0
    ? gsl_cdf_fdist_Q (squares->interaction / squares->repeatability, n_both, n_parts * n_people * (n_trials - 1)) : 0;
  return TRUE;
}

void
pawl_gauge_study_of_squares (const PawlGaugeSquares *squares, guint n_parts, guint n_people, guint n_trials, PawlGaugeStudy *study)
{
  double n_both = (n_parts - 1) * (n_people - 1), n_within = n_parts * n_people * (n_trials - 1);
  gboolean is_pooled = squares->interaction_probability > POOLED_ABOVE;
  double within = is_pooled ? (n_both * squares->interaction + n_within * squares->repeatability) / (n_both + n_within) : squares->repeatability;
  double base = is_pooled ? within : squares->interaction; /* what parts and people are tested against */
  double both = is_pooled ? 0 : MAX (0, (squares->interaction - within) / n_trials);
  double people = MAX (0, (squares->people - base) / (n_parts * n_trials)), parts = MAX (0, (squares->parts - base) / (n_people * n_trials));

  *study = (PawlGaugeStudy) { .n_parts = n_parts, .n_people = n_people, .n_trials = n_trials };
  study->repeatability = sqrt (within);
  study->reproducibility = sqrt (people + both);
  study->parts = sqrt (parts);
  combine (study);
}
