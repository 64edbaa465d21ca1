/*
 * Attended time, out of when entries were made.
 *
 * A person's entries, of all jobs together, in the order of their time: the time between one and the next belongs to the job, and the step, of the
 * later one, which is what it took to get there. Of all jobs together, so that whoever goes to and fro between two benches isn't counted twice. What is
 * no work:
 *
 * - a gap of over PAWL_CLASS_PAUSE_MINUTES, or where the procedure says that the step takes longer than half of that, of over twice what it says. It is
 *   left out whole, because nobody knows how much of it was work: a long dinner and a long honing look alike;
 * - what is before the end of a wait: the soak works, not the fitter;
 * - what is before the opening of a job, which belongs to no job.
 *
 * An entry that was taken back took its time all the same. A note that the clock was put forward is nobody's entry. Middle values, not means, are
 * compared, so that one afternoon with the telephone changes little.
 */
#include "training/pawl-class-private.h"

#include <gsl/gsl_sort_double.h>
#include <gsl/gsl_statistics_double.h>
#include <math.h>
#include <string.h>

/* So many times what a step is said to take is no pause yet: beginners are slow. */
#define SLOWEST 2

/* ---- noting ---- */

/* (nullable): where it is asked what becomes of the part */
static const PawlStep *
find_decision (PawlJob *job, const char *part)
{
  GPtrArray *steps = pawl_procedure_get_steps (pawl_job_get_procedure (job));

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = step->asks->pdata[j];

          if (ask->kind == PAWL_ASK_DECIDE && g_strcmp0 (ask->decide->part, part) == 0)
            return step;
        }
    }
  return NULL;
}

/* (nullable) */
static const PawlStep *
find_step (PawlJob *job, const PawlEntry *entry)
{
  const char *subject = pawl_entry_get_subject (entry);
  const PawlStepState *step = pawl_job_lookup_step (job, subject);
  const PawlAskState *ask = step == NULL ? pawl_job_lookup_ask (job, subject) : NULL;

  if (pawl_entry_get_kind (entry) == PAWL_ENTRY_DISPOSED)
    return find_decision (job, subject);
  return step != NULL ? step->step : ask != NULL ? ask->step : NULL;
}

static float
get_pause (const PawlEntry *entry, const PawlStep *step)
{
  PawlEntryKind kind = pawl_entry_get_kind (entry);
  float said = step != NULL ? (float) step->attended_seconds / 60 : 0;

  return kind == PAWL_ENTRY_OPENED || kind == PAWL_ENTRY_WAIT_ENDED ? 0 : MAX (PAWL_CLASS_PAUSE_MINUTES, SLOWEST * said);
}

static GArray *
get_moments (PawlClass *self, const char *person)
{
  g_autofree char *key = pawl_class_dup_key (person);
  GArray *moments = g_hash_table_lookup (self->desk->moments, key);

  if (moments == NULL)
    g_hash_table_insert (self->desk->moments, g_steal_pointer (&key), moments = g_array_new (FALSE, FALSE, sizeof (PawlMoment)));
  return moments;
}

void
pawl_class_note_moments (PawlClass *self, PawlJob *job)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  const char *procedure = pawl_procedure_get_id (pawl_job_get_procedure (job));

  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      const PawlStep *step = find_step (job, entry);
      PawlMoment moment = { .job = self->desk->sources->len - 1, .pause = get_pause (entry, step) };

      if (pawl_entry_get (entry, "clock-shift") != NULL)
        continue;
      moment.at = g_date_time_to_unix (pawl_entry_peek_at (entry)) * G_USEC_PER_SEC + g_date_time_get_microsecond (pawl_entry_peek_at (entry));
      moment.step = step != NULL ? pawl_class_get_step (self, procedure, step) : NULL;
      moment.is_done = pawl_entry_get_kind (entry) == PAWL_ENTRY_STEP_DONE && !pawl_job_is_undone (job, entry);
      g_array_append_val (get_moments (self, pawl_entry_get_person (entry)), moment);
    }
}

/* ---- adding up ---- */

/* One person's time on one step of one job. */
typedef struct {
  guint          job;
  PawlClassStep *step;
  double         minutes;
  gboolean       is_done;
} Share;

static guint
share_hash (gconstpointer share)
{
  return ((const Share *) share)->job * 31 + g_direct_hash (((const Share *) share)->step);
}

static gboolean
share_equal (gconstpointer a, gconstpointer b)
{
  return ((const Share *) a)->job == ((const Share *) b)->job && ((const Share *) a)->step == ((const Share *) b)->step;
}

static Share *
get_share (GHashTable *shares, const PawlMoment *moment)
{
  const Share wanted = { .job = moment->job, .step = moment->step };
  Share *share = g_hash_table_lookup (shares, &wanted);

  if (share == NULL)
    g_hash_table_add (shares, share = g_memdup2 (&wanted, sizeof wanted));
  return share;
}

static int
compare_moments (gconstpointer a, gconstpointer b)
{
  gint64 at_a = ((const PawlMoment *) a)->at, at_b = ((const PawlMoment *) b)->at;

  return at_a < at_b ? -1 : at_a > at_b;
}

/* @minutes: for each job of the class. The lines that there are stand in the order of the jobs. */
static void
set_minutes (PawlClass *self, PawlLearner *learner, const double *minutes)
{
  guint n = learner->jobs->len, next = 0;

  for (guint i = 0; i < self->desk->sources->len; i++)
    {
      const PawlClassSource *source = self->desk->sources->pdata[i];
      PawlClassJob *line = next < n && g_str_equal (((PawlClassJob *) learner->jobs->pdata[next])->job, source->id) ? learner->jobs->pdata[next++] : NULL;

      if (line == NULL && minutes[i] > 0) /* worked on, and no step of it finished */
        line = pawl_learner_add_job (learner, source);
      if (line != NULL)
        line->minutes = minutes[i];
    }
}

/* (transfer full) (element-type Share): each a key of its own */
static GHashTable *
add_up (PawlClass *self, PawlLearner *learner, GArray *moments)
{
  GHashTable *shares = g_hash_table_new_full (share_hash, share_equal, g_free, NULL);
  g_autofree double *minutes = g_new0 (double, self->desk->sources->len);

  g_array_sort (moments, compare_moments);
  for (guint i = 0; i < moments->len; i++)
    {
      const PawlMoment *moment = &g_array_index (moments, PawlMoment, i);
      double gap = i > 0 ? (double) (moment->at - moment[-1].at) / G_TIME_SPAN_MINUTE : 0;
      Share *share = moment->step != NULL ? get_share (shares, moment) : NULL;

      if (share != NULL)
        share->is_done |= moment->is_done;
      if (gap > moment->pause)
        continue;
      minutes[moment->job] += gap;
      if (share != NULL)
        share->minutes += gap;
    }
  set_minutes (self, learner, minutes);
  return shares;
}

/* ---- medians ---- */

static double
find_median (GArray *times)
{
  double *values = (double *) (void *) times->data;

  if (times->len == 0)
    return NAN;
  gsl_sort (values, 1, times->len);
  return gsl_stats_median_from_sorted_data (values, 1, times->len);
}

static GArray *
get_times (GHashTable *all, gpointer of)
{
  GArray *times = g_hash_table_lookup (all, of);

  if (times == NULL)
    g_hash_table_insert (all, of, times = g_array_new (FALSE, FALSE, sizeof (double)));
  return times;
}

static GHashTable *
times_new (void)
{
  return g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) g_array_unref);
}

/* @everybody: (element-type PawlClassStep GArray) */
static void
settle_own_steps (PawlLearner *learner, GHashTable *shares, GHashTable *everybody)
{
  g_autoptr(GHashTable) own = times_new ();
  GHashTableIter iter;
  gpointer key, times;

  g_hash_table_iter_init (&iter, shares);
  while (g_hash_table_iter_next (&iter, &key, NULL))
    {
      const Share *share = key;

      if (!share->is_done || !(share->minutes > 0))
        continue;
      g_array_append_val (get_times (own, share->step), share->minutes);
      g_array_append_val (get_times (everybody, share->step), share->minutes);
    }
  g_hash_table_iter_init (&iter, own);
  while (g_hash_table_iter_next (&iter, &key, &times))
    {
      PawlStepTime *time = g_new0 (PawlStepTime, 1);

      time->step = key;
      time->n = ((GArray *) times)->len;
      time->median = find_median (times);
      ((PawlClassStep *) key)->n_timed++;
      g_ptr_array_add (learner->times, time);
    }
}

static int
compare_step_times (gconstpointer a, gconstpointer b)
{
  const PawlStepTime *first = *(PawlStepTime * const *) a, *second = *(PawlStepTime * const *) b;

  if (isnan (first->ratio) != isnan (second->ratio))
    return isnan (first->ratio) ? 1 : -1;
  if (isnan (first->ratio) || first->ratio == second->ratio)
    return strcmp (first->step->step, second->step->step);
  return first->ratio > second->ratio ? -1 : 1;
}

static void
settle_ratios (PawlLearner *learner)
{
  for (guint i = 0; i < learner->times->len; i++)
    {
      PawlStepTime *time = learner->times->pdata[i];

      time->ratio = time->n >= PAWL_CLASS_LEAST_TIMES && time->step->n_timed > 1 ? time->median / time->step->median : NAN;
    }
  g_ptr_array_sort (learner->times, compare_step_times);
}

static void
settle_procedure (PawlClass *self, PawlClassProcedure *procedure)
{
  g_autoptr(GPtrArray) whole = g_ptr_array_new ();
  g_autoptr(GArray) times = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < self->learners->len; i++)
    {
      GPtrArray *jobs = ((PawlLearner *) self->learners->pdata[i])->jobs;

      for (guint j = 0; j < jobs->len; j++)
        {
          PawlClassJob *job = jobs->pdata[j];

          job->is_whole |= g_str_equal (job->procedure, procedure->id) && 2 * job->n_steps >= procedure->most_steps && job->minutes > 0;
          if (job->is_whole && g_str_equal (job->procedure, procedure->id))
            {
              g_ptr_array_add (whole, job);
              g_array_append_val (times, job->minutes);
            }
        }
    }
  procedure->n_whole = whole->len;
  procedure->median = find_median (times);
  for (guint i = 0; i < whole->len && whole->len >= PAWL_CLASS_LEAST_TIMES; i++)
    ((PawlClassJob *) whole->pdata[i])->ratio = ((PawlClassJob *) whole->pdata[i])->minutes / procedure->median;
}

/* Whoever only looked, and neither did a step nor answered, is nobody of whom there are figures. */
void
pawl_class_settle_times (PawlClass *self)
{
  g_autoptr(GHashTable) everybody = times_new ();
  GHashTableIter iter;
  gpointer key, value;

  g_hash_table_iter_init (&iter, self->desk->moments);
  while (g_hash_table_iter_next (&iter, &key, &value))
    {
      PawlLearner *learner = g_hash_table_lookup (self->desk->by_name, key);
      g_autoptr(GHashTable) shares = learner != NULL ? add_up (self, learner, value) : NULL;

      if (shares != NULL)
        settle_own_steps (learner, shares, everybody);
    }
  g_hash_table_iter_init (&iter, everybody);
  while (g_hash_table_iter_next (&iter, &key, &value))
    {
      ((PawlClassStep *) key)->n_times = ((GArray *) value)->len;
      ((PawlClassStep *) key)->median = find_median (value);
    }
  for (guint i = 0; i < self->learners->len; i++)
    settle_ratios (self->learners->pdata[i]);
  for (guint i = 0; i < self->procedures->len; i++)
    settle_procedure (self, self->procedures->pdata[i]);
}
