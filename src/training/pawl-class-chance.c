/*
 * Which steps trip people more than chance may do. Of each step: who did it, and who of them ever had trouble with it. Were all steps of a procedure
 * alike, the number of those who did would be binomial, with the procedure's average; careless and careful people in one class only make it narrower.
 * So a step stands out when the tail of the binomial is small even for the worst of as many steps as are in the list.
 */
#include "training/pawl-class-private.h"

#include <gsl/gsl_cdf.h>

void
pawl_class_count_clean (PawlClass *self, PawlClassStep *step, PawlLearner *learner, gboolean is_clean)
{
  GHashTable *people = g_hash_table_lookup (self->desk->people, step);

  step->clean.n++;
  step->clean.n_right += is_clean ? 1 : 0;
  if (people == NULL)
    g_hash_table_insert (self->desk->people, step, people = g_hash_table_new (NULL, NULL));
  if (!g_hash_table_contains (people, learner) || !is_clean)
    g_hash_table_insert (people, learner, GINT_TO_POINTER (!is_clean));
}

static int
compare_chances (gconstpointer a, gconstpointer b)
{
  double chance_a = (*(PawlClassStep * const *) a)->chance, chance_b = (*(PawlClassStep * const *) b)->chance;

  return chance_a < chance_b ? -1 : chance_a > chance_b;
}

/* Where chance says the same, by how often at the best a step is clean: one bad of one says less than ten of forty. */
static int
compare_steps (gconstpointer a, gconstpointer b)
{
  double high_a = (*(PawlClassStep * const *) a)->clean.high, high_b = (*(PawlClassStep * const *) b)->clean.high;
  int by_chance = compare_chances (a, b);

  return by_chance != 0 ? by_chance : high_a < high_b ? -1 : high_a > high_b;
}

static void
count_people (PawlClass *self, PawlClassStep *step)
{
  GHashTable *people = g_hash_table_lookup (self->desk->people, step);
  GHashTableIter iter;
  gpointer had_trouble;

  step->n_people = step->n_tripped = 0;
  g_hash_table_iter_init (&iter, people);
  while (g_hash_table_iter_next (&iter, NULL, &had_trouble))
    {
      step->n_people++;
      step->n_tripped += GPOINTER_TO_INT (had_trouble) ? 1 : 0;
    }
}

static double
get_average (PawlClass *self, const char *procedure)
{
  guint n_tripped = 0, n = 0;

  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlClassStep *step = self->steps->pdata[i];

      if (!g_str_equal (step->procedure, procedure))
        continue;
      n_tripped += step->n_tripped;
      n += step->n_people;
    }
  return n > 0 ? (double) n_tripped / n : 0;
}

static void
find_tails (PawlClass *self, const char *procedure)
{
  double average = get_average (self, procedure);

  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlClassStep *step = self->steps->pdata[i];

      if (g_str_equal (step->procedure, procedure))
        step->chance = step->n_tripped > 0 ? gsl_cdf_binomial_Q (step->n_tripped - 1, average, step->n_people) : 1;
    }
}

/* Holm's: the least times all, the next times one less, and never less than the one before. */
static void
allow_for_many (GPtrArray *steps)
{
  double before = 0;

  g_ptr_array_sort (steps, compare_chances);
  for (guint i = 0; i < steps->len; i++)
    {
      PawlClassStep *step = steps->pdata[i];

      step->chance = before = CLAMP (step->chance * (steps->len - i), before, 1);
    }
}

void
pawl_class_settle_chances (PawlClass *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    count_people (self, self->steps->pdata[i]);
  for (guint i = 0; i < self->procedures->len; i++)
    find_tails (self, ((PawlClassProcedure *) self->procedures->pdata[i])->id);
  allow_for_many (self->steps);
  g_ptr_array_sort (self->steps, compare_steps);
}
