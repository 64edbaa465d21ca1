/* What now: the step in hand, what waits, how far the job is. */
#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"

static gboolean
is_doable (const PawlStepState *state)
{
  return state->status == PAWL_STEP_OPEN || state->status == PAWL_STEP_REDO;
}

/* Something was answered in it since it was last opened. */
static gboolean
is_begun (const PawlStepState *state)
{
  for (guint i = 0; i < state->asks->len; i++)
    {
      const PawlAskState *ask = state->asks->pdata[i];

      if (ask->n_current > 0 || ask->status == PAWL_ASK_ACCEPTED)
        return TRUE;
    }
  return FALSE;
}

/* File index of the step that was finished last, or -1. */
static int
find_last_finished (PawlJob *self)
{
  for (guint i = self->entries->len; i > 0; i--)
    {
      PawlEntry *entry = self->entries->pdata[i - 1];

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_STEP_DONE && !pawl_job_is_undone (self, entry))
        return pawl_procedure_get_step_index (self->procedure, pawl_entry_get_subject (entry));
    }
  return -1;
}

static const PawlStep *
find_step (PawlJob *self, guint first, guint end, gboolean must_be_begun)
{
  for (guint i = first; i < end; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      if (is_doable (state) && (!must_be_begun || is_begun (state)))
        return state->step;
    }
  return NULL;
}

/**
 * pawl_job_peek_next:
 *
 * Returns: (transfer none) (nullable): the step to offer: one that was begun, else the first open one after the step
 *   finished last, else the first open one; NULL when nothing can be done now.
 */
const PawlStep *
pawl_job_peek_next (PawlJob *self)
{
  guint after = (guint) (find_last_finished (self) + 1);
  const PawlStep *step = find_step (self, 0, self->steps->len, TRUE);

  if (step == NULL)
    step = find_step (self, after, self->steps->len, FALSE);
  return step != NULL ? step : find_step (self, 0, after, FALSE);
}

static int
compare_limits (gconstpointer a, gconstpointer b)
{
  const PawlAskState *left = *(PawlAskState * const *) a, *right = *(PawlAskState * const *) b;

  return g_date_time_compare (left->latest != NULL ? left->latest : left->earliest,
                              right->latest != NULL ? right->latest : right->earliest);
}

GPtrArray *
pawl_job_list_running (PawlJob *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      for (guint j = 0; j < state->asks->len; j++)
        if (((PawlAskState *) state->asks->pdata[j])->status == PAWL_ASK_RUNNING)
          g_ptr_array_add (list, state->asks->pdata[j]);
    }
  g_ptr_array_sort (list, compare_limits);
  return list;
}

guint
pawl_job_count_done (PawlJob *self, guint *total)
{
  guint done = 0, applicable = 0;

  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      if (state->status == PAWL_STEP_NOT_APPLICABLE)
        continue;
      applicable++;
      if (pawl_step_status_is_over (state->status))
        done++;
    }
  if (total != NULL)
    *total = applicable;
  return done;
}

char *
pawl_job_format_time (PawlJob *self, GDateTime *time)
{
  g_autoptr(GDateTime) local = g_date_time_to_timezone (time, g_date_time_get_timezone (self->now));
  g_autofree char *day = g_date_time_format (local, "%F");
  g_autofree char *today = g_date_time_format (self->now, "%F");

  return g_date_time_format (local, g_str_equal (day, today) ? "%H:%M" : "%F %H:%M");
}

static char *
describe_wait (PawlJob *self, const PawlAskState *wait)
{
  g_autofree char *earliest = pawl_job_format_time (self, wait->earliest);
  g_autofree char *latest = wait->latest != NULL ? pawl_job_format_time (self, wait->latest) : NULL;

  if (wait->latest != NULL && g_date_time_compare (self->now, wait->latest) > 0)
    return g_strdup_printf ("%s: should have been out by %s", wait->ask->name, latest);
  if (latest != NULL)
    return g_strdup_printf ("%s: out from %s, by %s at the latest", wait->ask->name, earliest, latest);
  return g_strdup_printf ("%s: out from %s", wait->ask->name, earliest);
}

/* The first hold that somebody else has to look at before the work behind it goes on. */
static char *
describe_held (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      if (pawl_step_is_held (state))
        return g_strdup_printf ("The hold at step %s waits to be released", state->step->number);
    }
  return NULL;
}

static char *
join (const char *first, const char *second)
{
  return second != NULL ? g_strdup_printf ("%s. %s", first, second) : g_strdup (first);
}

/* @wait: (nullable): the wait that is due first, in words. @waiting: what there is to say when nothing can be done and it waits. */
static char *
describe (PawlJob *self, const char *wait, const char *waiting)
{
  const PawlStep *next = pawl_job_peek_next (self);
  g_autoptr(GPtrArray) lacking = pawl_job_list_lacking (self);
  guint total, done = pawl_job_count_done (self, &total);
  g_autofree char *held = describe_held (self);

  if (self->signature != NULL)
    return g_strdup_printf ("Signed off by %s", pawl_entry_get_person (self->signature));
  if (next != NULL)
    {
      g_autofree char *what = pawl_step_describe (next);
      g_autofree char *about = g_strdup_printf ("You were about to do %s", what);
      g_autofree char *and_wait = join (about, wait);

      return join (and_wait, held);
    }
  if (waiting != NULL)
    return join (waiting, held);
  if (held != NULL)
    return g_steal_pointer (&held);
  if (lacking->len > 0)
    {
      g_autofree char *lack = pawl_part_describe_lack (self, lacking->pdata[0]);

      return lacking->len == 1 ? g_strdup_printf ("Waits for %s", lack) : g_strdup_printf ("Waits for %s, and %u more", lack, lacking->len - 1);
    }
  return g_strdup (done == total ? "All steps are done; the job is ready to be signed" : "Nothing can be done now");
}

/**
 * pawl_job_describe_next:
 *
 * Returns: (transfer full): one sentence to take the job up by.
 */
char *
pawl_job_describe_next (PawlJob *self)
{
  g_autoptr(GPtrArray) running = pawl_job_list_running (self);
  g_autofree char *wait = running->len > 0 ? describe_wait (self, running->pdata[0]) : NULL;

  return describe (self, wait, wait);
}

/**
 * pawl_job_describe_about:
 *
 * Returns: (transfer full): the same without the wait, for where waits are told beside it.
 */
char *
pawl_job_describe_about (PawlJob *self)
{
  g_autoptr(GPtrArray) running = pawl_job_list_running (self);

  return describe (self, NULL, running->len > 0 ? "Nothing can be done before it is out" : NULL);
}
