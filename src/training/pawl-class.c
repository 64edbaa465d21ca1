#include "training/pawl-class.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

static void
class_job_free (PawlClassJob *self)
{
  g_free (self->procedure);
  g_free (self->unit);
  g_free (self->job);
  g_date_time_unref (self->at);
  g_free (self);
}

static void
learner_free (PawlLearner *self)
{
  g_free (self->name);
  g_clear_pointer (&self->last, g_date_time_unref);
  g_ptr_array_unref (self->jobs);
  g_free (self);
}

static void
class_step_free (PawlClassStep *self)
{
  g_free (self->procedure);
  g_free (self->step);
  g_free (self->number);
  g_free (self->command);
  g_free (self);
}

PawlClass *
pawl_class_new (void)
{
  PawlClass *self = g_new0 (PawlClass, 1);

  self->learners = g_ptr_array_new_with_free_func ((GDestroyNotify) learner_free);
  self->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) class_step_free);
  return self;
}

void
pawl_class_free (PawlClass *self)
{
  g_ptr_array_unref (self->learners);
  g_ptr_array_unref (self->steps);
  g_free (self);
}

const PawlLearner *
pawl_class_lookup (const PawlClass *self, const char *name)
{
  for (guint i = 0; i < self->learners->len; i++)
    if (g_str_equal (((PawlLearner *) self->learners->pdata[i])->name, name))
      return self->learners->pdata[i];
  return NULL;
}

static PawlLearner *
get_learner (PawlClass *self, const char *name)
{
  PawlLearner *learner = (PawlLearner *) pawl_class_lookup (self, name);

  if (learner == NULL)
    {
      learner = g_new0 (PawlLearner, 1);
      learner->name = g_strdup (name);
      learner->jobs = g_ptr_array_new_with_free_func ((GDestroyNotify) class_job_free);
      g_ptr_array_add (self->learners, learner);
    }
  return learner;
}

static PawlClassStep *
get_step (PawlClass *self, const char *procedure, const PawlStep *step)
{
  PawlClassStep *new_step;

  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlClassStep *known = self->steps->pdata[i];

      if (g_str_equal (known->step, step->id) && g_str_equal (known->procedure, procedure))
        return known;
    }
  new_step = g_new0 (PawlClassStep, 1);
  new_step->procedure = g_strdup (procedure);
  new_step->step = g_strdup (step->id);
  new_step->number = g_strdup (step->number);
  new_step->command = g_strdup (step->command);
  g_ptr_array_add (self->steps, new_step);
  return new_step;
}

/* Counts only; shares and intervals are made when all is counted. */
static void
count (PawlRate *rate, gboolean is_right)
{
  rate->n++;
  rate->n_right += is_right ? 1 : 0;
}

/* ---- one job ---- */

/* (nullable): the first attempt that is whole and says something about who made it. */
static const PawlAttempt *
find_first (const PawlAskState *state)
{
  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      if (attempt->is_whole && !attempt->is_void && !attempt->is_derived)
        return attempt;
    }
  return NULL;
}

static guint
count_until_right (const PawlAskState *state)
{
  guint n = 0;

  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      n += attempt->is_whole && !attempt->is_void ? 1 : 0;
      if (attempt->is_accepted)
        return n;
    }
  return 0;
}

static void
add_fit (PawlClass *self, const PawlAskState *state, const PawlAttempt *first, PawlClassStep *step)
{
  PawlLearner *learner = get_learner (self, pawl_entry_get_person (first->entry));

  if (state->ask->rule->kind == PAWL_RULE_EITHER)
    return; /* there is no wrong way, so nothing to be met */
  count (&learner->traps, first->is_accepted);
  count (&learner->traps_of[state->ask->rule->kind], first->is_accepted);
  step->n_wrong += first->is_accepted ? 0 : 1;
}

static void
add_reading (PawlClass *self, const PawlAskState *state, const PawlAttempt *first, PawlClassStep *step)
{
  PawlLearner *learner = get_learner (self, pawl_entry_get_person (first->entry));
  guint n = count_until_right (state);

  if (state->ask->reading->is_as_found)
    return;
  count (&learner->readings, first->is_accepted);
  if (first->is_accepted)
    return;
  step->n_out++;
  if (n > 1)
    {
      learner->attempts = learner->n_loops == 0 ? n : (learner->attempts * learner->n_loops + n) / (learner->n_loops + 1);
      learner->n_loops++;
    }
}

static void
add_asks (PawlClass *self, const PawlStepState *state, PawlClassStep *step)
{
  for (guint i = 0; i < state->asks->len; i++)
    {
      const PawlAskState *ask = state->asks->pdata[i];
      const PawlAttempt *first = find_first (ask);

      if (first != NULL && ask->ask->kind == PAWL_ASK_FIT)
        add_fit (self, ask, first, step);
      else if (first != NULL && ask->ask->kind == PAWL_ASK_READING)
        add_reading (self, ask, first, step);
    }
}

/* (nullable): who finished the step first, as long as that stands. */
static PawlEntry *
find_done (PawlJob *job, const char *step, gboolean *is_reopened)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  PawlEntry *done = NULL;

  *is_reopened = FALSE;
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      PawlEntryKind kind = pawl_entry_get_kind (entry);

      if (g_strcmp0 (pawl_entry_get_subject (entry), step) != 0 || pawl_job_is_undone (job, entry))
        continue;
      if (kind == PAWL_ENTRY_STEP_DONE && done == NULL)
        done = entry;
      else if (kind == PAWL_ENTRY_REOPENED && done != NULL)
        *is_reopened = TRUE;
    }
  return done;
}

static PawlClassJob *
get_job (PawlLearner *learner, PawlJob *job)
{
  PawlClassJob *line = learner->jobs->len > 0 ? learner->jobs->pdata[learner->jobs->len - 1] : NULL;

  if (line != NULL && g_str_equal (line->job, pawl_job_get_id (job)))
    return line;
  line = g_new0 (PawlClassJob, 1);
  line->procedure = g_strdup (pawl_procedure_get_id (pawl_job_get_procedure (job)));
  line->unit = g_strdup (pawl_procedure_get_unit (pawl_job_get_procedure (job)));
  line->job = g_strdup (pawl_job_get_id (job));
  line->at = g_date_time_ref (pawl_entry_peek_at (pawl_job_get_entries (job)->pdata[0]));
  g_ptr_array_add (learner->jobs, line);
  return line;
}

static void
add_step (PawlClass *self, PawlJob *job, const PawlStepState *state)
{
  gboolean is_reopened;
  PawlEntry *done = find_done (job, state->step->id, &is_reopened);
  PawlClassStep *step;
  PawlLearner *learner;
  guint n_before;

  if (done == NULL)
    return;
  learner = get_learner (self, pawl_entry_get_person (done));
  count (&learner->steps, !is_reopened);
  get_job (learner, job)->n_steps++;
  if (learner->last == NULL || g_date_time_compare (pawl_entry_peek_at (done), learner->last) > 0)
    {
      g_clear_pointer (&learner->last, g_date_time_unref);
      learner->last = g_date_time_ref (pawl_entry_peek_at (done));
    }
  step = get_step (self, pawl_procedure_get_id (pawl_job_get_procedure (job)), state->step);
  n_before = step->n_wrong + step->n_out;
  add_asks (self, state, step);
  step->n_reopened += is_reopened ? 1 : 0;
  count (&step->clean, !is_reopened && step->n_wrong + step->n_out == n_before);
}

static void
add_time (PawlClass *self, PawlJob *job)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = 1; i < entries->len; i++)
    {
      PawlEntry *before = entries->pdata[i - 1], *entry = entries->pdata[i];
      double minutes = (double) g_date_time_difference (pawl_entry_peek_at (entry), pawl_entry_peek_at (before)) / G_TIME_SPAN_MINUTE;

      if (minutes > 0 && minutes <= PAWL_CLASS_PAUSE_MINUTES && g_str_equal (pawl_entry_get_person (before), pawl_entry_get_person (entry)))
        get_job (get_learner (self, pawl_entry_get_person (entry)), job)->minutes += minutes;
    }
}

/* Whose guess it was says the entry, whoever finished the step. */
static void
add_guesses (PawlClass *self, PawlJob *job)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = entries->pdata[i];
      const PawlAskState *ask = pawl_entry_get_kind (entry) == PAWL_ENTRY_GUESSED ? pawl_job_lookup_ask (job, pawl_entry_get_subject (entry)) : NULL;
      gboolean is_right = g_strcmp0 (pawl_entry_get (entry, "choice"), "right") == 0;
      PawlLearner *learner;

      if (ask == NULL || ask->ask->kind != PAWL_ASK_FIT || pawl_job_is_undone (job, entry))
        continue;
      learner = get_learner (self, pawl_entry_get_person (entry));
      count (&learner->guesses, is_right);
      count (&learner->guesses_of[ask->ask->rule->kind], is_right);
    }
}

void
pawl_class_add_job (PawlClass *self, PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len; i++)
    add_step (self, job, steps->pdata[i]);
  add_guesses (self, job);
  add_time (self, job);
  self->n_jobs++;
}

/* ---- all of them ---- */

static int
compare_learners (gconstpointer a, gconstpointer b)
{
  return g_utf8_collate ((*(PawlLearner * const *) a)->name, (*(PawlLearner * const *) b)->name);
}

static int
compare_jobs (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare ((*(PawlClassJob * const *) a)->at, (*(PawlClassJob * const *) b)->at);
}

/* By how often at the best a step is clean: one bad of one says less than ten of forty. */
static int
compare_steps (gconstpointer a, gconstpointer b)
{
  double high_a = (*(PawlClassStep * const *) a)->clean.high, high_b = (*(PawlClassStep * const *) b)->clean.high;

  return high_a < high_b ? -1 : high_a > high_b;
}

static void
finish_rate (PawlRate *rate)
{
  *rate = pawl_rate_make (rate->n_right, rate->n);
}

static int
compare_chances (gconstpointer a, gconstpointer b)
{
  double chance_a = (*(PawlClassStep * const *) a)->chance, chance_b = (*(PawlClassStep * const *) b)->chance;

  return chance_a < chance_b ? -1 : chance_a > chance_b;
}

/* @steps: (element-type PawlClassStep): all of one procedure, put in order of their chance. */
static void
compare_with_chance (GPtrArray *steps)
{
  guint n_troubles = 0, n = 0;
  double before = 0;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlRate *clean = &((PawlClassStep *) steps->pdata[i])->clean;

      n_troubles += clean->n - clean->n_right;
      n += clean->n;
    }
  for (guint i = 0; i < steps->len; i++)
    {
      PawlClassStep *step = steps->pdata[i];
      guint troubles = step->clean.n - step->clean.n_right;

      step->chance = troubles > 0 ? gsl_cdf_binomial_Q (troubles - 1, (double) n_troubles / n, step->clean.n) : 1;
    }
  g_ptr_array_sort (steps, compare_chances);
  for (guint i = 0; i < steps->len; i++)
    {
      PawlClassStep *step = steps->pdata[i];

      step->chance = before = CLAMP (step->chance * (steps->len - i), before, 1);
    }
}

static void
find_beyond_chance (PawlClass *self)
{
  g_autoptr(GHashTable) procedures = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_ptr_array_unref);
  GHashTableIter iter;
  gpointer steps;

  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlClassStep *step = self->steps->pdata[i];

      steps = g_hash_table_lookup (procedures, step->procedure);
      if (steps == NULL)
        g_hash_table_insert (procedures, step->procedure, steps = g_ptr_array_new ());
      g_ptr_array_add (steps, step);
    }
  g_hash_table_iter_init (&iter, procedures);
  while (g_hash_table_iter_next (&iter, NULL, &steps))
    compare_with_chance (steps);
}

void
pawl_class_finish (PawlClass *self)
{
  for (guint i = 0; i < self->learners->len; i++)
    {
      PawlLearner *learner = self->learners->pdata[i];

      finish_rate (&learner->steps);
      finish_rate (&learner->traps);
      finish_rate (&learner->guesses);
      finish_rate (&learner->readings);
      for (guint kind = 0; kind < PAWL_N_RULE_KINDS; kind++)
        {
          finish_rate (&learner->traps_of[kind]);
          finish_rate (&learner->guesses_of[kind]);
        }
      if (learner->n_loops == 0)
        learner->attempts = NAN;
      g_ptr_array_sort (learner->jobs, compare_jobs);
    }
  for (guint i = 0; i < self->steps->len; i++)
    finish_rate (&((PawlClassStep *) self->steps->pdata[i])->clean);
  g_ptr_array_sort (self->learners, compare_learners);
  g_ptr_array_sort (self->steps, compare_steps);
  find_beyond_chance (self);
}

/* ---- one learner ---- */

GPtrArray *
pawl_learner_list_procedures (const PawlLearner *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->jobs->len; i++)
    {
      const PawlClassJob *job = self->jobs->pdata[i];

      if (!g_ptr_array_find_with_equal_func (list, job->procedure, g_str_equal, NULL))
        g_ptr_array_add (list, job->procedure);
    }
  return list;
}

/* A job in which somebody did a step or two says nothing of how long the whole takes. */
double *
pawl_learner_list_times (const PawlLearner *self, const char *procedure, guint *n)
{
  double *times = g_new (double, self->jobs->len + 1);
  guint most = 0;

  *n = 0;
  for (guint i = 0; i < self->jobs->len; i++)
    if (g_str_equal (((PawlClassJob *) self->jobs->pdata[i])->procedure, procedure))
      most = MAX (most, ((PawlClassJob *) self->jobs->pdata[i])->n_steps);
  for (guint i = 0; i < self->jobs->len; i++)
    {
      const PawlClassJob *job = self->jobs->pdata[i];

      if (g_str_equal (job->procedure, procedure) && 2 * job->n_steps >= most && job->minutes > 0)
        times[(*n)++] = job->minutes;
    }
  return times;
}

gboolean
pawl_learner_fit_curve (const PawlLearner *self, const char *procedure, PawlLearningCurve *curve)
{
  guint n;
  g_autofree double *times = pawl_learner_list_times (self, procedure, &n);

  return pawl_learning_curve_fit (times, n, curve);
}

static int
compare_times (gconstpointer a, gconstpointer b)
{
  double time_a = *(const double *) a, time_b = *(const double *) b;

  return time_a < time_b ? -1 : time_a > time_b;
}

double
pawl_class_get_median_time (const PawlClass *self, const char *procedure)
{
  g_autoptr(GArray) all = g_array_new (FALSE, FALSE, sizeof (double));
  const double *times;

  for (guint i = 0; i < self->learners->len; i++)
    {
      guint n;
      g_autofree double *own = pawl_learner_list_times (self->learners->pdata[i], procedure, &n);

      g_array_append_vals (all, own, n);
    }
  g_array_sort (all, compare_times);
  times = (const double *) all->data;
  return all->len == 0 ? NAN : (times[(all->len - 1) / 2] + times[all->len / 2]) / 2;
}

gboolean
pawl_learner_has_faded (const PawlLearner *self, GDateTime *now)
{
  g_autoptr(GDateTime) until = self->last != NULL ? g_date_time_add_months (self->last, PAWL_CLASS_FADES_AFTER_MONTHS) : NULL;

  return until != NULL && g_date_time_compare (until, now) < 0;
}
