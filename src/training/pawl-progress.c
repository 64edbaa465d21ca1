#include "training/pawl-progress.h"

#include <math.h>
#include <string.h>

/* All readings by two that were taken with one instrument. */
typedef struct {
  GArray *differences; /* (element-type double): this person's less the other's */
  GArray *trials;      /* (element-type double): [part][person][trial] of those with as many trials as @n_trials */
  guint   n_trials;    /* of the first that was measured more than once */
} Pairs;

static void
pairs_free (Pairs *self)
{
  g_array_unref (self->differences);
  g_array_unref (self->trials);
  g_free (self);
}

static void
skill_run_free (PawlSkillRun *self)
{
  g_free (self->skill);
  g_free (self);
}

static void
pair_figures_free (PawlPairFigures *self)
{
  g_free (self->instrument);
  g_free (self);
}

void
pawl_progress_free (PawlProgress *self)
{
  g_free (self->name);
  g_ptr_array_unref (self->runs);
  g_ptr_array_unref (self->pairs);
  g_free (self);
}

/* ---- clean jobs ---- */

const PawlSkillRun *
pawl_progress_lookup (const PawlProgress *self, const char *skill)
{
  for (guint i = 0; i < self->runs->len; i++)
    if (g_str_equal (((PawlSkillRun *) self->runs->pdata[i])->skill, skill))
      return self->runs->pdata[i];
  return NULL;
}

static PawlSkillRun *
get_run (PawlProgress *self, const char *skill)
{
  PawlSkillRun *run = (PawlSkillRun *) pawl_progress_lookup (self, skill);

  if (run != NULL)
    return run;
  run = g_new0 (PawlSkillRun, 1);
  run->skill = g_strdup (skill);
  g_ptr_array_add (self->runs, run);
  return run;
}

static gboolean
has_person (const PawlEntry *entry, const char *name)
{
  g_autofree char *person = g_strstrip (g_strdup (pawl_entry_get_person (entry)));
  g_autofree char *folded = g_utf8_casefold (person, -1), *key = g_utf8_casefold (name, -1);

  return g_str_equal (folded, key);
}

/* (nullable): the first whole answer, when this person gave it. As found says how the unit came, nothing of who measured. */
static const PawlAttempt *
find_first (const PawlAskState *state, const char *name)
{
  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      if (attempt->is_whole && !attempt->is_void && !attempt->is_derived)
        return has_person (attempt->entry, name) ? attempt : NULL;
    }
  return NULL;
}

/* What was guessed wrong, asked first, is not clean either. */
static gboolean
is_clean (PawlJob *job, const PawlAskState *state, const PawlAttempt *first)
{
  const PawlEntry *guess = state->ask->kind == PAWL_ASK_FIT ? pawl_job_peek_guess (job, state->ask->id) : NULL;

  return first->is_accepted && (guess == NULL || g_strcmp0 (pawl_entry_get (guess, "choice"), "right") == 0);
}

static void
count_ask (PawlJob *job, const PawlAskState *state, const char *name, GHashTable *clean)
{
  const PawlAttempt *first = find_first (state, name);
  g_autofree char *skill = first != NULL ? pawl_ask_dup_skill (state->ask) : NULL;
  gboolean is_so_far;

  if (skill == NULL || (state->ask->kind == PAWL_ASK_READING && state->ask->reading->is_as_found))
    return;
  is_so_far = !g_hash_table_contains (clean, skill) || GPOINTER_TO_INT (g_hash_table_lookup (clean, skill));
  g_hash_table_insert (clean, g_steal_pointer (&skill), GINT_TO_POINTER (is_so_far && is_clean (job, state, first)));
}

static gboolean
is_since (const PawlStages *stages, const char *skill, PawlJob *job)
{
  const PawlSkillStage *line = pawl_stages_lookup (stages, skill);

  return line == NULL || g_date_time_compare (pawl_entry_peek_at (pawl_job_get_entries (job)->pdata[0]), line->since) >= 0;
}

static void
count_job (PawlProgress *self, const PawlStages *stages, PawlJob *job)
{
  g_autoptr(GHashTable) clean = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GPtrArray *steps = pawl_job_get_steps (job);
  GHashTableIter iter;
  gpointer skill, value;

  for (guint i = 0; i < steps->len; i++)
    {
      GPtrArray *asks = ((PawlStepState *) steps->pdata[i])->asks;

      for (guint j = 0; j < asks->len; j++)
        count_ask (job, asks->pdata[j], self->name, clean);
    }
  g_hash_table_iter_init (&iter, clean);
  while (g_hash_table_iter_next (&iter, &skill, &value))
    {
      PawlSkillRun *run;

      if (!is_since (stages, skill, job))
        continue;
      run = get_run (self, skill);
      run->n_jobs++;
      run->clean_run = GPOINTER_TO_INT (value) ? run->clean_run + 1 : 0;
    }
}

gboolean
pawl_progress_suggests (const PawlProgress *self, const PawlStages *stages, const char *skill, PawlStage *next)
{
  const PawlSkillRun *run = pawl_progress_lookup (self, skill);
  const PawlSkillStage *line = pawl_stages_lookup (stages, skill);

  if (run == NULL || line == NULL || line->stage == PAWL_STAGE_INDEPENDENT || run->clean_run < stages->clean_run)
    return FALSE;
  *next = (PawlStage) (line->stage + 1);
  return TRUE;
}

/* ---- readings by two ---- */

static double
get_base (const PawlQuantity *quantity)
{
  mpq_t low, high;
  double base;

  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  base = (mpq_get_d (low) + mpq_get_d (high)) / 2;
  mpq_clears (low, high, NULL);
  return base;
}

/* The single values of the set of repeats that ends with @last. FALSE when it isn't whole. */
static gboolean
list_trials (const GPtrArray *attempts, const PawlAttempt *last, guint n, double *trials)
{
  guint end, found = 0;

  if (!g_ptr_array_find ((GPtrArray *) attempts, last, &end))
    return FALSE;
  for (guint i = end + 1; i > 0 && found < n; i--)
    {
      const PawlAttempt *attempt = attempts->pdata[i - 1];

      if (!attempt->is_void && attempt->taken != NULL)
        trials[n - ++found] = get_base (attempt->taken);
    }
  return found == n;
}

static void
add_trials (Pairs *pairs, const PawlAskState *ask, guint own)
{
  guint n = ask->ask->reading->repeats;
  g_autofree double *trials = g_new (double, 2 * n);
  const GPtrArray *attempts[2] = { ask->attempts, ask->again->attempts };

  if (n < 2 || (pairs->n_trials != 0 && pairs->n_trials != n) || !list_trials (attempts[own], ask->paired[own], n, trials)
      || !list_trials (attempts[1 - own], ask->paired[1 - own], n, trials + n))
    return;
  pairs->n_trials = n;
  g_array_append_vals (pairs->trials, trials, 2 * n);
}

static PawlPairFigures *
get_figures (PawlProgress *self, const char *instrument, const PawlUnit *unit)
{
  PawlPairFigures *figures;

  for (guint i = 0; i < self->pairs->len; i++)
    {
      figures = self->pairs->pdata[i];
      if (g_str_equal (figures->instrument, instrument) && pawl_unit_get_dimension (figures->unit) == pawl_unit_get_dimension (unit))
        return figures;
    }
  figures = g_new0 (PawlPairFigures, 1);
  figures->instrument = g_strdup (instrument);
  figures->unit = unit;
  g_ptr_array_add (self->pairs, figures);
  return figures;
}

static void
add_pair (PawlProgress *self, const PawlAskState *ask, GHashTable *all)
{
  PawlPairDifference difference;
  g_autofree char *skill = ask->ask->kind == PAWL_ASK_READING ? pawl_ask_dup_skill (ask->ask) : NULL;
  gboolean is_first;
  PawlPairFigures *figures;
  Pairs *pairs;
  double own;

  if (skill == NULL || !pawl_ask_compare_pair (ask, &difference))
    return;
  is_first = has_person (ask->paired[0]->entry, self->name);
  if (!is_first && !has_person (ask->paired[1]->entry, self->name))
    return;
  figures = get_figures (self, skill, difference.unit);
  if ((pairs = g_hash_table_lookup (all, figures)) == NULL)
    {
      pairs = g_new0 (Pairs, 1);
      pairs->differences = g_array_new (FALSE, FALSE, sizeof (double));
      pairs->trials = g_array_new (FALSE, FALSE, sizeof (double));
      g_hash_table_insert (all, figures, pairs);
    }
  own = is_first ? -difference.difference : difference.difference;
  g_array_append_val (pairs->differences, own);
  figures->n_beyond += difference.is_beyond;
  add_trials (pairs, ask, is_first ? 0 : 1);
}

static void
settle_pairs (PawlPairFigures *figures, const Pairs *pairs)
{
  const double *differences = (const double *) (const void *) pairs->differences->data;
  guint n_parts = pairs->n_trials > 0 ? pairs->trials->len / (2 * pairs->n_trials) : 0;
  PawlGaugeSquares squares;
  double squared = 0;

  figures->n = pairs->differences->len;
  for (guint i = 0; i < figures->n; i++)
    figures->bias += differences[i] / figures->n;
  for (guint i = 0; i < figures->n; i++)
    squared += (differences[i] - figures->bias) * (differences[i] - figures->bias);
  figures->spread = figures->n > 1 ? sqrt (squared / (figures->n - 1)) : NAN;
  if (n_parts < PAWL_GAUGE_LEAST_PARTS || !pawl_gauge_squares_make ((const double *) (const void *) pairs->trials->data, n_parts, 2, pairs->n_trials, &squares))
    return;
  pawl_gauge_study_of_squares (&squares, n_parts, 2, pairs->n_trials, &figures->study);
  figures->has_study = TRUE;
}

static void
add_pairs (PawlProgress *self, GPtrArray *jobs)
{
  g_autoptr(GHashTable) all = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) pairs_free);

  for (guint i = 0; i < jobs->len; i++)
    {
      GPtrArray *steps = pawl_job_get_steps (jobs->pdata[i]);

      for (guint j = 0; j < steps->len; j++)
        {
          GPtrArray *asks = ((PawlStepState *) steps->pdata[j])->asks;

          for (guint k = 0; k < asks->len; k++)
            add_pair (self, asks->pdata[k], all);
        }
    }
  for (guint i = 0; i < self->pairs->len; i++)
    settle_pairs (self->pairs->pdata[i], g_hash_table_lookup (all, self->pairs->pdata[i]));
}

/* ---- planted faults ---- */

static void
count_found (PawlProgress *self, PawlJob *job)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (job);

  for (guint i = 0; i < seals->len; i++)
    {
      const PawlEntry *opened = g_array_index (seals, PawlSeal, i).opened;
      const char *learner = opened != NULL ? pawl_entry_get (opened, "learner") : NULL;
      g_autofree char *folded = learner != NULL ? g_utf8_casefold (learner, -1) : NULL, *key = g_utf8_casefold (self->name, -1);

      if (learner == NULL || !g_str_equal (folded, key))
        continue;
      self->found.n++;
      self->found.n_right += g_strcmp0 (pawl_entry_get (opened, "found"), "yes") == 0;
    }
}

static int
compare_runs (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(PawlSkillRun *const *) a)->skill, (*(PawlSkillRun *const *) b)->skill);
}

static int
compare_pairs (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(PawlPairFigures *const *) a)->instrument, (*(PawlPairFigures *const *) b)->instrument);
}

PawlProgress *
pawl_progress_make (const PawlStages *stages, GPtrArray *jobs)
{
  PawlProgress *self = g_new0 (PawlProgress, 1);

  self->name = g_strdup (stages->name);
  self->runs = g_ptr_array_new_with_free_func ((GDestroyNotify) skill_run_free);
  self->pairs = g_ptr_array_new_with_free_func ((GDestroyNotify) pair_figures_free);
  for (guint i = 0; i < jobs->len; i++)
    {
      count_job (self, stages, jobs->pdata[i]);
      count_found (self, jobs->pdata[i]);
    }
  add_pairs (self, jobs);
  self->found = pawl_rate_make (self->found.n_right, self->found.n);
  g_ptr_array_sort (self->runs, compare_runs);
  g_ptr_array_sort (self->pairs, compare_pairs);
  return self;
}
