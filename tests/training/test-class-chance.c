/*
 * How often a step is called troublesome when none is: at most as often as is said, PAWL_CLASS_LEAST_CHANCE, whatever the people are like. By
 * simulation, with a seed. Two other ways to reckon stand beside it, to show that the simulation would notice: the worst of many steps looked at alone,
 * and troubles counted as if each were somebody else's.
 */
#include <gsl/gsl_cdf.h>

#include "training/pawl-class-private.h"

#define PEOPLE 12
#define JOBS 5
#define CLASSES 1000

typedef struct {
  const char *name;
  guint  n_procedures, n_steps; /* steps of each */
  double careful, careless;     /* how likely trouble is with a step: of the first person, and of the last; those between in between */
  double habits;                /* how likely somebody always gets one step wrong, and one step alone */
  double worst;                 /* how likely trouble is with the first step; 0: as with any */
  gboolean finds_worst_alone, finds_by_trouble; /* that the other two ways cry too often here */
} Shop;

static const Shop NO_EFFECT[] = {
  { "all alike", 1, 20, 0.1, 0.1, 0, 0, TRUE, FALSE },
  { "rare troubles", 1, 20, 0.01, 0.01, 0, 0, TRUE, FALSE },
  { "careful and careless people", 1, 20, 0.01, 0.4, 0, 0, TRUE, FALSE },
  { "people with habits", 1, 20, 0.02, 0.02, 0.2, 0, TRUE, TRUE },
  { "three procedures", 3, 8, 0.05, 0.15, 0, 0, TRUE, FALSE },
};

/* What was found in a class, one flag a way. */
typedef struct { gboolean is_found, is_found_alone, is_found_by_trouble, has_worst; } Finding;

static gboolean
draw_trouble (GRand *rand, const Shop *shop, guint person, guint step, gboolean has_habit)
{
  double share = shop->careful + (shop->careless - shop->careful) * person / (PEOPLE - 1);

  return has_habit || g_rand_double (rand) < (step == 0 && shop->worst > 0 ? shop->worst : share);
}

static void
fill (PawlClass *class, GRand *rand, const Shop *shop, const char *procedure)
{
  for (guint i = 0; i < shop->n_steps; i++)
    {
      g_autofree char *id = g_strdup_printf ("s%u", i);
      const PawlStep step = { .id = id, .number = id, .command = id };
      PawlClassStep *line = pawl_class_get_step (class, procedure, &step);

      for (guint person = 0; person < PEOPLE; person++)
        {
          g_autofree char *name = g_strdup_printf ("Person %u", person);
          PawlLearner *learner = pawl_class_get_learner (class, name);
          gboolean has_habit = g_rand_double (rand) < shop->habits;

          for (guint job = 0; job < JOBS; job++)
            pawl_class_count_clean (class, line, learner, !draw_trouble (rand, shop, person, i, has_habit));
        }
    }
}

static double
get_tail (guint n_bad, guint n, double average)
{
  return n_bad > 0 ? gsl_cdf_binomial_Q (n_bad - 1, average, n) : 1;
}

/* The same tail without Holm's rule; and by troubles instead of people, with it in Bonferroni's simpler form, which is never milder. */
static void
look_otherwise (const PawlClass *class, const char *procedure, Finding *finding)
{
  guint n_tripped = 0, n_people = 0, n_bad = 0, n = 0;

  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; i < class->steps->len; i++)
      {
        const PawlClassStep *step = class->steps->pdata[i];

        if (!g_str_equal (step->procedure, procedure))
          continue;
        if (pass == 0)
          {
            n_tripped += step->n_tripped;
            n_people += step->n_people;
            n_bad += step->clean.n - step->clean.n_right;
            n += step->clean.n;
            continue;
          }
        finding->is_found_alone |= get_tail (step->n_tripped, step->n_people, (double) n_tripped / n_people) < PAWL_CLASS_LEAST_CHANCE;
        finding->is_found_by_trouble |= class->steps->len * get_tail (step->clean.n - step->clean.n_right, step->clean.n, (double) n_bad / n) < PAWL_CLASS_LEAST_CHANCE;
      }
}

static Finding
look (GRand *rand, const Shop *shop)
{
  static const char * const procedures[] = { "pump", "magneto", "hub" };
  g_autoptr(PawlClass) class = pawl_class_new ();
  Finding finding = { FALSE };

  for (guint i = 0; i < shop->n_procedures; i++)
    {
      PawlClassProcedure *procedure = g_new0 (PawlClassProcedure, 1);

      procedure->id = g_strdup (procedures[i]);
      g_ptr_array_add (class->procedures, procedure);
      fill (class, rand, shop, procedures[i]);
    }
  pawl_class_finish (class);
  for (guint i = 0; i < class->steps->len; i++)
    {
      const PawlClassStep *step = class->steps->pdata[i];

      finding.is_found |= step->chance < PAWL_CLASS_LEAST_CHANCE;
      finding.has_worst |= step->chance < PAWL_CLASS_LEAST_CHANCE && g_str_equal (step->step, "s0");
    }
  for (guint i = 0; i < shop->n_procedures; i++)
    look_otherwise (class, procedures[i], &finding);
  return finding;
}

/* So many of CLASSES would be a chance of one in a thousand, were the true share the one that is allowed. */
static gboolean
is_too_many (guint n)
{
  return n > 0 && gsl_cdf_binomial_Q (n - 1, PAWL_CLASS_LEAST_CHANCE, CLASSES) < 0.001;
}

static void
test_false_alarms (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (NO_EFFECT); i++)
    {
      g_autoptr(GRand) rand = g_rand_new_with_seed (20261126 + i);
      guint n_found = 0, n_alone = 0, n_by_trouble = 0;

      for (guint j = 0; j < CLASSES; j++)
        {
          Finding finding = look (rand, &NO_EFFECT[i]);

          n_found += finding.is_found;
          n_alone += finding.is_found_alone;
          n_by_trouble += finding.is_found_by_trouble;
        }
      g_test_message ("%s: %u of %u false alarms; the worst looked at alone %u, by troubles %u", NO_EFFECT[i].name, n_found, CLASSES, n_alone, n_by_trouble);
      g_assert_false (is_too_many (n_found));
      g_assert_cmpint (is_too_many (n_alone), ==, NO_EFFECT[i].finds_worst_alone);
      g_assert_cmpint (is_too_many (n_by_trouble), ==, NO_EFFECT[i].finds_by_trouble);
    }
}

/* A step that does trip people is found nearly always, and no other with it more often than is said. */
static void
test_found (void)
{
  static const Shop shop = { "one bad step", 1, 20, 0.02, 0.1, 0, 0.4, FALSE, FALSE };
  g_autoptr(GRand) rand = g_rand_new_with_seed (20261126);
  guint n = 0;

  for (guint i = 0; i < CLASSES / 10; i++)
    n += look (rand, &shop).has_worst;
  g_test_message ("found in %u of %u", n, CLASSES / 10);
  g_assert_cmpuint (n, >=, 90);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/training/class-chance/false-alarms", test_false_alarms);
  g_test_add_func ("/training/class-chance/found", test_found);
  return g_test_run ();
}
