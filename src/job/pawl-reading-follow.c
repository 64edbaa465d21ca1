/* What follows from other readings: limits by formula and table, derived readings, corrections by a bench sum. */
#include <string.h>

#include "job/pawl-job-private.h"
#include "procedure/pawl-variant.h"

/* A derived reading may stand on another, and that on another; a ring of them ends here. */
#define MOST_DEPTH 16

typedef struct {
  PawlJob  *job;
  char    **wants;  /* what is not measured yet */
  GError  **error;
  PawlEntry *newest; /* (nullable): of all that was used */
  guint     depth;
} Follow;

static PawlAttempt *derive (Follow *self, const PawlAskState *state);

const PawlAttempt *
pawl_ask_peek_current (const PawlAskState *state)
{
  for (guint i = 0; i < state->n_current; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[state->attempts->len - 1 - i];

      if (attempt->is_whole && !attempt->is_void)
        return attempt;
    }
  return NULL;
}

static void
use_entry (Follow *self, PawlEntry *entry)
{
  if (entry != NULL && (self->newest == NULL || pawl_entry_get_number (entry) > pawl_entry_get_number (self->newest)))
    self->newest = entry;
}

/* FALSE: not measured yet, or no value; @quantity (transfer full). */
static gboolean
take_value (Follow *self, const char *name, PawlQuantity **quantity, double *u)
{
  const char *point = strchr (name, '.');
  g_autofree char *id = point != NULL ? g_strndup (name, (gsize) (point - name)) : g_strdup (name);
  const PawlAskState *state = g_hash_table_lookup (self->job->ask_by_id, id);
  g_autoptr(PawlAttempt) derived = NULL;
  const PawlAttempt *attempt = state != NULL ? pawl_ask_peek_current (state) : NULL;

  if (attempt == NULL && state != NULL && state->ask->kind == PAWL_ASK_READING && state->ask->reading->derived != NULL)
    attempt = derived = derive (self, state);
  if (attempt == NULL)
    {
      if (*self->wants == NULL && *self->error == NULL)
        *self->wants = g_strdup (state != NULL ? state->ask->name : id);
      return FALSE;
    }
  use_entry (self, attempt->entry);
  *u = attempt->u;
  *quantity = attempt->quantity;
  for (guint i = 0; point != NULL && attempt->values != NULL && i < attempt->values->len; i++)
    if (g_str_equal (((PawlReadingSpot *) state->ask->reading->spots->pdata[i])->id, point + 1))
      *quantity = attempt->values->pdata[i];
  if (*quantity != NULL)
    pawl_quantity_ref (*quantity);
  return *quantity != NULL;
}

/* (transfer full) (nullable) */
static PawlQuantity *
work_out (Follow *self, const PawlWorkedOut *worked_out, const PawlUnit *unit, double *u)
{
  const char * const *names = pawl_formula_peek_names (worked_out->formula);
  guint n = g_strv_length ((char **) names);
  g_autofree PawlFormulaInput *inputs = g_new0 (PawlFormulaInput, n + 1);
  PawlQuantity *quantity = NULL;
  gboolean is_known = TRUE;

  for (guint i = 0; i < n && is_known; i++)
    is_known = take_value (self, names[i], &inputs[i].quantity, &inputs[i].standard_uncertainty);
  if (is_known)
    quantity = pawl_formula_evaluate (worked_out->formula, inputs, unit, u, NULL, self->error);
  for (guint i = 0; i < n; i++)
    g_clear_pointer (&inputs[i].quantity, pawl_quantity_unref);
  return quantity;
}

/* ---- limits ---- */

static PawlLimits *
limits_by_formula (Follow *self, const PawlReading *reading)
{
  const PawlUnit *unit = pawl_limits_get_unit (reading->limits);
  g_autoptr(PawlQuantity) low = NULL, high = NULL;
  g_autofree char *low_text = NULL, *high_text = NULL, *text = NULL;

  if ((reading->low != NULL && !(low = work_out (self, reading->low, unit, NULL)))
      || (reading->high != NULL && !(high = work_out (self, reading->high, unit, NULL))))
    return NULL;
  low_text = low != NULL ? pawl_quantity_format (low, '.') : NULL;
  high_text = high != NULL ? pawl_quantity_format (high, '.') : NULL;
  text = low == NULL ? g_strdup_printf ("max %s (%s)", high_text, reading->high->text)
         : high == NULL ? g_strdup_printf ("min %s (%s)", low_text, reading->low->text)
                        : g_strdup_printf ("%s to %s (%s)", low_text, high_text, pawl_limits_get_text (reading->limits));
  return pawl_limits_new_worked_out (text, low, high);
}

/* (transfer full) (nullable): on the straight line from @a at 0 to @b at @share 1; NULL when either has no such limit */
static PawlQuantity *
between (PawlQuantity *a, PawlQuantity *b, const mpq_t share)
{
  PawlQuantity *quantity;
  mpq_t from, to, unused;

  if (a == NULL || b == NULL)
    return NULL;
  mpq_inits (from, to, unused, NULL);
  pawl_quantity_get_base (a, from, unused);
  pawl_quantity_get_base (b, to, unused);
  mpq_sub (to, to, from);
  mpq_mul (to, to, share);
  mpq_add (from, from, to);
  pawl_unit_from_base (pawl_quantity_get_unit (a), from, from);
  quantity = pawl_quantity_new (from, pawl_quantity_get_unit (a));
  mpq_clears (from, to, unused, NULL);
  return quantity;
}

static PawlLimits *
limits_on_line (const PawlTableRow *before, const PawlTableRow *after, const PawlQuantity *value)
{
  g_autoptr(PawlQuantity) low = NULL, high = NULL;
  g_autofree char *low_text = NULL, *high_text = NULL, *text = NULL;
  mpq_t at, from, to, unused;

  mpq_inits (at, from, to, unused, NULL);
  pawl_quantity_get_base (value, at, unused);
  pawl_quantity_get_base (before->at, from, unused);
  pawl_quantity_get_base (after->at, to, unused);
  mpq_sub (at, at, from);
  mpq_sub (to, to, from);
  mpq_div (at, at, to);
  low = between (pawl_limits_peek_low (before->limits), pawl_limits_peek_low (after->limits), at);
  high = between (pawl_limits_peek_high (before->limits), pawl_limits_peek_high (after->limits), at);
  mpq_clears (at, from, to, unused, NULL);
  low_text = low != NULL ? pawl_quantity_format (low, '.') : NULL;
  high_text = high != NULL ? pawl_quantity_format (high, '.') : NULL;
  text = low == NULL ? g_strdup_printf ("max %s", high_text) : high == NULL ? g_strdup_printf ("min %s", low_text)
                                                                            : g_strdup_printf ("%s to %s", low_text, high_text);
  return pawl_limits_new_worked_out (text, low, high);
}

static PawlLimits *
refuse_table (Follow *self, const PawlReading *reading, const char *value)
{
  const PawlTableRow *first = reading->table->rows->pdata[0], *last = reading->table->rows->pdata[reading->table->rows->len - 1];
  const char *from = first->at != NULL ? pawl_quantity_get_typed (first->at) : first->outcome;
  const char *to = last->at != NULL ? pawl_quantity_get_typed (last->at) : last->outcome;

  g_set_error (self->error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is outside of the table of limits, which goes from %s to %s; look the reading over", value,
               from, to);
  return NULL;
}

static PawlLimits *
limits_by_number (Follow *self, const PawlReading *reading, const PawlQuantity *value)
{
  GPtrArray *rows = reading->table->rows;
  guint n = 0;

  while (n < rows->len && pawl_quantity_compare (((PawlTableRow *) rows->pdata[n])->at, value) <= 0)
    n++;
  if (n == 0 || (reading->table->is_line && n == rows->len && pawl_quantity_compare (((PawlTableRow *) rows->pdata[n - 1])->at, value) < 0))
    return refuse_table (self, reading, pawl_quantity_get_typed (value));
  if (!reading->table->is_line || n == rows->len)
    return pawl_limits_ref (((PawlTableRow *) rows->pdata[n - 1])->limits);
  return limits_on_line (rows->pdata[n - 1], rows->pdata[n], value);
}

static PawlLimits *
limits_by_outcome (Follow *self, const PawlReading *reading, const char *outcome)
{
  for (guint i = 0; i < reading->table->rows->len; i++)
    {
      const PawlTableRow *row = reading->table->rows->pdata[i];

      if (g_ascii_strcasecmp (row->outcome, outcome) == 0)
        return pawl_limits_ref (row->limits);
    }
  return refuse_table (self, reading, outcome);
}

/* By a number, or by the outcome of a check or a reading that is named and not measured. */
static PawlLimits *
limits_by_table (Follow *self, const PawlReading *reading)
{
  const PawlTableRow *first = reading->table->rows->pdata[0];
  const PawlAskState *by = g_hash_table_lookup (self->job->ask_by_id, reading->table->by);
  const PawlAttempt *attempt = by != NULL ? pawl_ask_peek_current (by) : NULL;
  g_autoptr(PawlQuantity) value = NULL;
  double u;

  if (first->at != NULL)
    return take_value (self, reading->table->by, &value, &u) ? limits_by_number (self, reading, value) : NULL;
  if (attempt != NULL)
    return limits_by_outcome (self, reading, pawl_entry_get (attempt->entry, "answer"));
  *self->wants = g_strdup (by != NULL ? by->ask->name : reading->table->by);
  return NULL;
}

static PawlLimits *
limits_by_variant (Follow *self, const PawlReading *reading)
{
  PawlLimits *limits = pawl_variant_peek_limits (reading, self->job->variant);

  if (limits != NULL)
    return pawl_limits_ref (limits);
  g_set_error (self->error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BLOCKED, "they differ by variant (%s), and which one the unit is, is not known; correct the variant first",
               pawl_limits_get_text (reading->limits));
  return NULL;
}

static PawlLimits *
find_limits (Follow *self, const PawlReading *reading)
{
  if (reading->by_variant->len > 0)
    return limits_by_variant (self, reading);
  if (reading->table != NULL)
    return limits_by_table (self, reading);
  return reading->low != NULL || reading->high != NULL ? limits_by_formula (self, reading) : pawl_limits_ref (reading->limits);
}

PawlLimits *
pawl_reading_find_limits (PawlJob *job, const PawlAsk *ask, char **wants, GError **error)
{
  g_autoptr(GError) problem = NULL;
  Follow follow = { job, wants, &problem, NULL, 0 };
  PawlLimits *limits = find_limits (&follow, ask->reading);

  if (problem != NULL)
    g_propagate_prefixed_error (error, g_steal_pointer (&problem), "the limits of “%s”: ", ask->name);
  return limits;
}

/* ---- derived readings ---- */

static PawlAttempt *
derive (Follow *self, const PawlAskState *state)
{
  const PawlReading *reading = state->ask->reading;
  g_autoptr(PawlAttempt) attempt = pawl_attempt_new_empty (NULL);
  g_autoptr(PawlLimits) limits = NULL;
  PawlJudged *judged;
  PawlVerdict valid;

  if (++self->depth > MOST_DEPTH)
    {
      g_set_error (self->error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BLOCKED, "“%s” is worked out from itself", state->ask->name);
      return NULL;
    }
  if (!(attempt->quantity = work_out (self, reading->derived, pawl_limits_get_unit (reading->limits), &attempt->u))
      || !(limits = find_limits (self, reading)))
    return NULL;
  self->depth--;
  judged = pawl_attempt_add_judged (attempt, "", attempt->quantity, limits);
  attempt->limits = g_steal_pointer (&limits);
  attempt->entry = self->newest;
  attempt->n_in_set = 1;
  attempt->is_derived = TRUE;
  if (!pawl_verdict_of_worked_out (attempt->limits, attempt->quantity, attempt->u, pawl_job_get_policy (self->job), &judged->verdict, self->error))
    return NULL;
  attempt->verdict = judged->verdict;
  attempt->is_void = reading->valid != NULL && pawl_verdict_of (reading->valid, attempt->quantity, NULL, NULL, PAWL_POLICY_SIMPLE, &valid, NULL)
                     && valid.kind == PAWL_VERDICT_OUT;
  attempt->is_accepted = !attempt->is_void && (attempt->verdict.kind == PAWL_VERDICT_IN || reading->is_as_found);
  return g_steal_pointer (&attempt);
}

PawlAttempt *
pawl_reading_derive (PawlJob *job, const PawlAskState *state, char **wants, GError **error)
{
  g_autoptr(GError) problem = NULL;
  Follow follow = { job, wants, &problem, NULL, 0 };
  PawlAttempt *attempt = derive (&follow, state);

  if (problem != NULL)
    g_propagate_prefixed_error (error, g_steal_pointer (&problem), "“%s”: ", state->ask->name);
  return attempt;
}

/* ---- corrections ---- */

/* The middle of the limits; of one alone, that one. */
static char *
format_middle (const PawlLimits *limits)
{
  g_autoptr(PawlQuantity) middle = NULL;
  PawlQuantity *low = pawl_limits_peek_low (limits), *high = pawl_limits_peek_high (limits);
  mpq_t half;

  if (pawl_limits_peek_nominal (limits) != NULL)
    return pawl_quantity_format_exact (pawl_limits_peek_nominal (limits), '.');
  if (low == NULL || high == NULL)
    return low != NULL || high != NULL ? pawl_quantity_format_exact (low != NULL ? low : high, '.') : NULL;
  mpq_init (half);
  mpq_set_ui (half, 1, 2);
  middle = between (low, high, half);
  mpq_clear (half);
  return pawl_quantity_format_exact (middle, '.');
}

/* "0.05 mm..0.15 mm": what the limits say in numbers, wherever they come from. */
static char *
format_limits (const PawlLimits *limits)
{
  PawlQuantity *low = pawl_limits_peek_low (limits), *high = pawl_limits_peek_high (limits);
  g_autofree char *from = low != NULL ? pawl_quantity_format_exact (low, '.') : NULL, *to = high != NULL ? pawl_quantity_format_exact (high, '.') : NULL;

  return low != NULL && high != NULL ? g_strdup_printf ("%s..%s", from, to) : g_strdup (pawl_limits_get_text (limits));
}

/* (transfer full) (nullable) */
static char *
find_let (Follow *self, const PawlAskState *state, const PawlLet *let)
{
  const PawlAttempt *current = pawl_ask_peek_current (state);
  g_autoptr(PawlQuantity) quantity = NULL;
  double u;

  if (let->value != NULL)
    return g_strdup (let->value);
  if (g_str_equal (let->from, "limits"))
    return state->limits != NULL ? format_limits (state->limits) : NULL;
  if (g_str_equal (let->from, "middle"))
    return state->limits != NULL ? format_middle (state->limits) : NULL;
  if (g_str_equal (let->from, "this"))
    return current != NULL && current->quantity != NULL ? pawl_quantity_format_exact (current->quantity, '.') : NULL;
  return take_value (self, let->from, &quantity, &u) ? pawl_quantity_format_exact (quantity, '.') : NULL;
}

PawlSumResult *
pawl_job_advise (PawlJob *self, const PawlAskState *ask, GError **error)
{
  const PawlAdvice *advice = ask->ask->kind == PAWL_ASK_READING ? ask->ask->reading->advice : NULL;
  g_autoptr(GHashTable) typed = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  g_autofree char *wants = NULL;
  g_autoptr(GError) problem = NULL;
  Follow follow = { self, &wants, &problem, NULL, 0 };
  PawlSumResult *result;

  if (advice == NULL || pawl_sum_lookup (advice->sum) == NULL)
    {
      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNKNOWN, "“%s” has no correction that is worked out", ask->ask->name);
      return NULL;
    }
  for (guint i = 0; i < advice->lets->len; i++)
    {
      const PawlLet *let = advice->lets->pdata[i];
      char *text = find_let (&follow, ask, let);

      if (text == NULL)
        {
          g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BLOCKED, "the correction stands on “%s”, which is not measured yet", wants != NULL ? wants : let->from);
          return NULL;
        }
      g_hash_table_insert (typed, let->input, text);
    }
  result = pawl_sum_solve (pawl_sum_lookup (advice->sum), typed, NULL, &problem);
  if (result == NULL)
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "the correction of “%s”: %s", ask->ask->name, problem->message);
  return result;
}

gboolean
pawl_ask_is_looping (const PawlAskState *ask)
{
  return ask->ask->kind == PAWL_ASK_READING && ask->ask->reading->tries > 0 && ask->n_out >= ask->ask->reading->tries;
}
