/* A class as a whole: who and what is in it, and what is asked of it. */
#include "training/pawl-class-private.h"

#include <gsl/gsl_sort_double.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

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
skill_free (PawlClassSkill *self)
{
  g_free (self->skill);
  g_date_time_unref (self->last);
  g_free (self);
}

static void
learner_free (PawlLearner *self)
{
  g_free (self->name);
  g_clear_pointer (&self->last, g_date_time_unref);
  g_ptr_array_unref (self->jobs);
  g_ptr_array_unref (self->times);
  g_ptr_array_unref (self->skills);
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

static void
procedure_free (PawlClassProcedure *self)
{
  g_free (self->id);
  g_free (self);
}

static void
source_free (PawlClassSource *self)
{
  g_free (self->id);
  g_free (self->unit);
  g_date_time_unref (self->at);
  g_free (self);
}

static PawlClassDesk *
desk_new (void)
{
  PawlClassDesk *self = g_new0 (PawlClassDesk, 1);

  self->by_name = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->by_step = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->people = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_hash_table_unref);
  self->moments = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_array_unref);
  self->sources = g_ptr_array_new_with_free_func ((GDestroyNotify) source_free);
  return self;
}

static void
desk_free (PawlClassDesk *self)
{
  g_hash_table_unref (self->by_name);
  g_hash_table_unref (self->by_step);
  g_hash_table_unref (self->people);
  g_hash_table_unref (self->moments);
  g_ptr_array_unref (self->sources);
  g_free (self);
}

PawlClass *
pawl_class_new (void)
{
  PawlClass *self = g_new0 (PawlClass, 1);

  self->learners = g_ptr_array_new_with_free_func ((GDestroyNotify) learner_free);
  self->steps = g_ptr_array_new_with_free_func ((GDestroyNotify) class_step_free);
  self->procedures = g_ptr_array_new_with_free_func ((GDestroyNotify) procedure_free);
  self->desk = desk_new ();
  return self;
}

void
pawl_class_free (PawlClass *self)
{
  g_ptr_array_unref (self->learners);
  g_ptr_array_unref (self->steps);
  g_ptr_array_unref (self->procedures);
  desk_free (self->desk);
  g_free (self);
}

/* ---- who and what is in it ---- */

char *
pawl_class_dup_key (const char *name)
{
  g_autofree char *plain = g_strstrip (g_strdup (name));

  return g_utf8_casefold (plain, -1);
}

const PawlLearner *
pawl_class_lookup (const PawlClass *self, const char *name)
{
  g_autofree char *key = pawl_class_dup_key (name);

  return g_hash_table_lookup (self->desk->by_name, key);
}

PawlLearner *
pawl_class_get_learner (PawlClass *self, const char *name)
{
  PawlLearner *learner = (PawlLearner *) pawl_class_lookup (self, name);

  if (learner == NULL)
    {
      learner = g_new0 (PawlLearner, 1);
      learner->name = g_strdup (name);
      learner->jobs = g_ptr_array_new_with_free_func ((GDestroyNotify) class_job_free);
      learner->times = g_ptr_array_new_with_free_func (g_free);
      learner->skills = g_ptr_array_new_with_free_func ((GDestroyNotify) skill_free);
      g_ptr_array_add (self->learners, learner);
      g_hash_table_insert (self->desk->by_name, pawl_class_dup_key (name), learner);
    }
  return learner;
}

PawlClassStep *
pawl_class_get_step (PawlClass *self, const char *procedure, const PawlStep *step)
{
  g_autofree char *key = g_strconcat (procedure, "\n", step->id, NULL);
  PawlClassStep *known = g_hash_table_lookup (self->desk->by_step, key);

  if (known == NULL)
    {
      known = g_new0 (PawlClassStep, 1);
      known->procedure = g_strdup (procedure);
      known->step = g_strdup (step->id);
      known->number = g_strdup (step->number);
      known->command = g_strdup (step->command);
      known->median = NAN;
      g_ptr_array_add (self->steps, known);
      g_hash_table_insert (self->desk->by_step, g_steal_pointer (&key), known);
    }
  return known;
}

PawlClassJob *
pawl_learner_add_job (PawlLearner *learner, const PawlClassSource *source)
{
  PawlClassJob *line = g_new0 (PawlClassJob, 1);

  line->procedure = g_strdup (source->procedure->id);
  line->unit = g_strdup (source->unit);
  line->job = g_strdup (source->id);
  line->at = g_date_time_ref (source->at);
  line->ratio = NAN;
  g_ptr_array_add (learner->jobs, line);
  return line;
}

const PawlClassProcedure *
pawl_class_lookup_procedure (const PawlClass *self, const char *id)
{
  for (guint i = 0; i < self->procedures->len; i++)
    if (g_str_equal (((PawlClassProcedure *) self->procedures->pdata[i])->id, id))
      return self->procedures->pdata[i];
  return NULL;
}

static void
add_source (PawlClass *self, PawlJob *job)
{
  const char *id = pawl_procedure_get_id (pawl_job_get_procedure (job));
  PawlClassSource *source = g_new0 (PawlClassSource, 1);

  source->procedure = (PawlClassProcedure *) pawl_class_lookup_procedure (self, id);
  if (source->procedure == NULL)
    {
      source->procedure = g_new0 (PawlClassProcedure, 1);
      source->procedure->id = g_strdup (id);
      source->procedure->median = NAN;
      g_ptr_array_add (self->procedures, source->procedure);
    }
  source->id = g_strdup (pawl_job_get_id (job));
  source->unit = g_strdup (pawl_procedure_get_unit (pawl_job_get_procedure (job)));
  source->at = g_date_time_ref (pawl_entry_peek_at (pawl_job_get_entries (job)->pdata[0]));
  g_ptr_array_add (self->desk->sources, source);
}

void
pawl_class_add_job (PawlClass *self, PawlJob *job)
{
  add_source (self, job);
  pawl_class_count_job (self, job);
  pawl_class_note_moments (self, job);
  self->n_jobs++;
}

/* ---- all of them ---- */

/* As names of files are, so that person 2 comes before person 10. */
static int
compare_learners (gconstpointer a, gconstpointer b)
{
  g_autofree char *key_a = g_utf8_collate_key_for_filename ((*(PawlLearner * const *) a)->name, -1);
  g_autofree char *key_b = g_utf8_collate_key_for_filename ((*(PawlLearner * const *) b)->name, -1);

  return strcmp (key_a, key_b);
}

static int
compare_jobs (gconstpointer a, gconstpointer b)
{
  return g_date_time_compare ((*(PawlClassJob * const *) a)->at, (*(PawlClassJob * const *) b)->at);
}

static int
compare_skills (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(PawlClassSkill * const *) a)->skill, (*(PawlClassSkill * const *) b)->skill);
}

static void
finish_rate (PawlRate *rate)
{
  *rate = pawl_rate_make (rate->n_right, rate->n);
}

static void
finish_learner (PawlClass *self, PawlLearner *learner)
{
  PawlRate *rates[] = { &learner->steps, &learner->traps, &learner->guesses, &learner->readings, &learner->holds, &learner->planted };

  for (guint i = 0; i < G_N_ELEMENTS (rates); i++)
    finish_rate (rates[i]);
  for (guint kind = 0; kind < PAWL_N_RULE_KINDS; kind++)
    {
      finish_rate (&learner->traps_of[kind]);
      finish_rate (&learner->guesses_of[kind]);
    }
  for (guint kind = 0; kind < PAWL_N_PLANTED_KINDS; kind++)
    finish_rate (&learner->planted_of[kind]);
  if (learner->n_loops > 0)
    {
      self->attempts = (self->attempts * self->n_loops + learner->attempts * learner->n_loops) / (self->n_loops + learner->n_loops);
      self->n_loops += learner->n_loops;
    }
  else
    learner->attempts = NAN;
  g_ptr_array_sort (learner->jobs, compare_jobs);
  g_ptr_array_sort (learner->skills, compare_skills);
}

void
pawl_class_finish (PawlClass *self)
{
  pawl_class_settle_times (self);
  for (guint i = 0; i < self->learners->len; i++)
    finish_learner (self, self->learners->pdata[i]);
  if (self->n_loops == 0)
    self->attempts = NAN;
  for (guint i = self->steps->len; i > 0; i--)
    {
      PawlClassStep *step = self->steps->pdata[i - 1];

      if (step->clean.n > 0)
        finish_rate (&step->clean);
      else /* worked on, and finished by nobody */
        g_ptr_array_remove_index (self->steps, i - 1);
    }
  g_ptr_array_sort (self->learners, compare_learners);
  pawl_class_settle_chances (self);
}

double
pawl_class_get_median_time (const PawlClass *self, const char *procedure)
{
  const PawlClassProcedure *known = pawl_class_lookup_procedure (self, procedure);

  return known != NULL ? known->median : NAN;
}

gboolean
pawl_class_has_faded (GDateTime *last, GDateTime *now)
{
  g_autoptr(GDateTime) until = last != NULL ? g_date_time_add_months (last, PAWL_CLASS_FADES_AFTER_MONTHS) : NULL;

  return until != NULL && g_date_time_compare (until, now) < 0;
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

  *n = 0;
  for (guint i = 0; i < self->jobs->len; i++)
    {
      const PawlClassJob *job = self->jobs->pdata[i];

      if (job->is_whole && g_str_equal (job->procedure, procedure))
        times[(*n)++] = job->minutes;
    }
  return times;
}

double
pawl_learner_get_median_time (const PawlLearner *self, const char *procedure, guint *n)
{
  g_autofree double *times = pawl_learner_list_times (self, procedure, n);

  gsl_sort (times, 1, *n);
  return *n > 0 ? gsl_stats_median_from_sorted_data (times, 1, *n) : NAN;
}

gboolean
pawl_learner_fit_curve (const PawlLearner *self, const char *procedure, PawlLearningCurve *curve)
{
  guint n;
  g_autofree double *times = pawl_learner_list_times (self, procedure, &n);

  return pawl_learning_curve_fit (times, n, curve);
}

gboolean
pawl_learner_has_faded (const PawlLearner *self, GDateTime *now)
{
  return pawl_class_has_faded (self->last, now);
}
