#include "app/pawl-readings-state.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

void
pawl_reading_line_free (PawlReadingLine *self)
{
  g_free (self->id);
  g_free (self->step);
  g_free (self->name);
  g_free (self->conditions);
  g_free (self->limits);
  g_free (self->found);
  g_free (self->left);
  g_free (self->verdict);
  g_free (self->attempts);
  g_free (self);
}

static PawlReadingLine *
new_line (PawlJob *job, const PawlResult *result, PawlLengths lengths)
{
  PawlReadingLine *line = g_new0 (PawlReadingLine, 1);
  const PawlAsk *ask = result->as_left->ask;
  const PawlAttempt *last = result->left != NULL ? result->left : result->found;

  line->id = g_strdup (ask->id);
  line->step = g_strdup (result->as_left->step->id);
  line->name = g_strdup (ask->name);
  line->conditions = pawl_phrase_describe_conditions (pawl_job_get_procedure (job), ask);
  line->limits = pawl_own_unit_describe_limits (lengths, ask, result->as_left->limits, last != NULL ? last->quantity : NULL, '.');
  line->found = result->found != NULL ? pawl_own_unit_describe_value (lengths, result->found, '.') : g_strdup (_("not taken"));
  if (ask->reading->is_as_found) /* there will be no as-left: what was found is what is judged */
    {
      line->left = g_strdup ("");
      line->verdict = result->found != NULL ? pawl_phrase_describe_verdict (ask, result->found) : g_strdup ("");
    }
  else
    {
      line->left = result->left != NULL ? pawl_own_unit_describe_value (lengths, result->left, '.') : g_strdup (_("not measured"));
      line->verdict = result->left != NULL ? pawl_phrase_describe_verdict (ask, result->left) : g_strdup ("");
    }
  line->attempts = result->n_attempts > 1 ? g_strdup_printf (_("%u attempts"), result->n_attempts) : g_strdup ("");
  line->has_history = pawl_limits_get_kind (result->as_left->ask->reading->limits) != PAWL_LIMITS_CHOICE;
  line->has_bar = pawl_limits_scale_make (result->left != NULL && result->left->limits != NULL ? result->left->limits : result->as_left->limits, result->found != NULL ? result->found->quantity : NULL,
                                          result->left != NULL ? result->left->quantity : NULL, result->left != NULL ? &result->left->verdict : NULL, &line->scale);
  return line;
}

GPtrArray *
pawl_readings_state_new (PawlJob *job, PawlLengths lengths)
{
  g_autoptr(GPtrArray) results = pawl_results_of_readings (job);
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_reading_line_free);

  for (guint i = 0; i < results->len; i++)
    g_ptr_array_add (lines, new_line (job, results->pdata[i], lengths));
  return lines;
}
