/* Readings, judged: one value, a set of repeats, values at several places and what they come to. */
#include <math.h>
#include <string.h>

#include "job/pawl-job-private.h"

/* What the register said of it when the reading was taken stands in the entry, so that the fold needs no register. */
static PawlQuantity *
take_stated (PawlEntry *entry, const char *field, PawlQuantity *otherwise)
{
  const char *text = pawl_entry_get (entry, field);
  const PawlTyping typing = { .decimal_mark = '.' };
  PawlQuantity *stated = text != NULL ? pawl_quantity_parse (text, &typing, NULL) : NULL;

  if (stated != NULL)
    return stated;
  return otherwise != NULL ? pawl_quantity_ref (otherwise) : NULL;
}

/* The instrument of a reading: what the entry names, else what the procedure asks for. */
static const PawlInstrument *
find_tool (PawlJob *job, const PawlReading *reading, PawlEntry *entry)
{
  const char *id = pawl_entry_get (entry, "instrument");
  const PawlTool *tool = pawl_procedure_lookup_tool (job->procedure, id ? id : (reading->tool ? reading->tool : ""));

  return tool != NULL && tool->is_measuring ? &tool->instrument : NULL;
}

/* To be cleared by clear_instrument(); one of which nothing is known has no parts. */
static void
find_instrument (PawlJob *job, const PawlReading *reading, PawlEntry *entry, PawlInstrument *instrument)
{
  const PawlInstrument *tool = find_tool (job, reading, entry);

  *instrument = tool != NULL ? *tool : (PawlInstrument) { 0 };
  instrument->max_error = take_stated (entry, "error", instrument->max_error);
  instrument->step = take_stated (entry, "step", instrument->step);
  instrument->reference = take_stated (entry, "reference", instrument->reference);
}

static void
clear_instrument (PawlInstrument *instrument)
{
  g_clear_pointer (&instrument->max_error, pawl_quantity_unref);
  g_clear_pointer (&instrument->step, pawl_quantity_unref);
  g_clear_pointer (&instrument->reference, pawl_quantity_unref);
}

/* ---- what was typed ---- */

/* Counts from 1 and starts again after a whole set; what was void is no part of one. */
static guint
count_in_set (const PawlAskState *state)
{
  if (state->ask->reading->repeats < 2)
    return 1;
  for (guint i = 0; i < state->n_current; i++)
    {
      const PawlAttempt *before = state->attempts->pdata[state->attempts->len - 1 - i];

      if (!before->is_void)
        return before->is_whole ? 1 : before->n_in_set + 1;
    }
  return 1;
}

static PawlQuantity *
parse_value (const PawlTyping *stated, const char *mark, const char *text, GError **error)
{
  PawlTyping typing = *stated;

  if (mark != NULL)
    typing.decimal_mark = *mark;
  return pawl_quantity_parse (text, &typing, error);
}

static char *
list_spots (const PawlReading *reading)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < reading->spots->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", ((PawlReadingSpot *) reading->spots->pdata[i])->name);
  return g_string_free (text, FALSE);
}

/* "88.01; 88.02; 88.00", in the order of the places. */
static gboolean
parse_spots (const PawlReading *reading, const char *mark, const char *answer, PawlAttempt *attempt, GError **error)
{
  g_auto(GStrv) texts = g_strsplit (answer, ";", -1);

  if (g_strv_length (texts) != reading->spots->len)
    {
      g_autofree char *names = list_spots (reading);

      g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is %u of %u values; write them parted by ; in this order: %s", answer,
                   g_strv_length (texts), reading->spots->len, names);
      return FALSE;
    }
  attempt->values = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  for (guint i = 0; i < reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = reading->spots->pdata[i];
      PawlQuantity *value = parse_value (spot->limits != NULL ? &spot->typing : &reading->typing, mark, g_strstrip (texts[i]), error);

      if (value == NULL)
        {
          g_prefix_error (error, "%s: ", spot->name);
          return FALSE;
        }
      g_ptr_array_add (attempt->values, value);
    }
  return TRUE;
}

/* ---- what several values come to ---- */

static const char *
get_name (PawlOf of)
{
  static const char * const names[] = {
    [PAWL_OF_EACH] = "", [PAWL_OF_MEAN] = "mean", [PAWL_OF_MIN] = "smallest", [PAWL_OF_MAX] = "largest", [PAWL_OF_SPREAD] = "spread", [PAWL_OF_RATIO] = "smallest by largest",
  };

  return names[of];
}

/* As formulas, so that brackets stay brackets and the uncertainty goes along. */
static const char *
get_formula (PawlOf of)
{
  switch (of)
    {
    case PAWL_OF_MEAN:   return "mean(%s)";
    case PAWL_OF_MIN:    return "min(%s)";
    case PAWL_OF_MAX:    return "max(%s)";
    case PAWL_OF_SPREAD: return "spread(%s)";
    case PAWL_OF_RATIO:
    case PAWL_OF_EACH:
    default:             return "min(%s) / max(%s)";
    }
}

/* (transfer full) (nullable): "max(v0, v1, v2)" over the places without limits of their own */
static PawlFormula *
make_formula (const PawlReading *reading, PawlOf of, GError **error)
{
  g_autoptr(GString) list = g_string_new (NULL), text = g_string_new (get_formula (of));
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();
  g_auto(GStrv) names = NULL;

  for (guint i = 0; i < reading->spots->len; i++)
    if (((PawlReadingSpot *) reading->spots->pdata[i])->limits == NULL)
      {
        g_autofree char *name = g_strdup_printf ("v%u", i);

        g_strv_builder_add (builder, name);
        g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", name);
      }
  names = g_strv_builder_end (builder);
  g_string_replace (text, "%s", list->str, 0);
  return pawl_formula_parse (text->str, (const char * const *) names, error);
}

static gboolean
judge_together (PawlJob *job, const PawlReading *reading, PawlOf of, PawlLimits *limits, PawlAttempt *attempt, GError **error)
{
  g_autoptr(PawlFormula) formula = make_formula (reading, of, error);
  g_autoptr(PawlQuantity) quantity = NULL;
  g_autofree PawlFormulaInput *inputs = NULL;
  const char * const *names;
  const PawlUnit *unit = pawl_limits_get_unit (limits);
  double u = 0;

  if (formula == NULL)
    return FALSE;
  names = pawl_formula_peek_names (formula);
  inputs = g_new0 (PawlFormulaInput, g_strv_length ((char **) names) + 1);
  for (guint i = 0; names[i] != NULL; i++)
    inputs[i] = (PawlFormulaInput) { attempt->values->pdata[g_ascii_strtoull (names[i] + 1, NULL, 10)], attempt->u };
  if (!(quantity = pawl_formula_evaluate (formula, inputs, unit, &u, NULL, error)))
    return FALSE;
  return pawl_verdict_of_worked_out (limits, quantity, u, pawl_job_get_policy (job), &pawl_attempt_add_judged (attempt, get_name (of), quantity, limits)->verdict, error);
}

static gboolean
judge_each (PawlJob *job, const PawlReading *reading, const PawlInstrument *instrument, PawlLimits *limits, PawlAttempt *attempt, GError **error)
{
  for (guint i = 0; i < reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = reading->spots->pdata[i];
      PawlLimits *own = spot->limits != NULL ? spot->limits : limits;
      PawlQuantity *value = attempt->values->pdata[i];

      if (spot->limits == NULL && reading->of != PAWL_OF_EACH)
        continue;
      /* a torque's wrench does not tell the time */
      if (!pawl_verdict_of (own, value, NULL, spot->limits == NULL ? instrument : NULL, pawl_job_get_policy (job),
                            &pawl_attempt_add_judged (attempt, spot->name, value, own)->verdict, error))
        {
          g_prefix_error (error, "%s: ", spot->name);
          return FALSE;
        }
    }
  return TRUE;
}

/* ---- one attempt ---- */

static void
set_uncertainty (const PawlInstrument *instrument, PawlQuantity * const *readings, guint n, PawlAttempt *attempt)
{
  const PawlUnit *unit = pawl_quantity_get_unit (readings[0]);
  PawlBudget budget;

  attempt->u = pawl_budget_make (readings, n, instrument, unit, &budget, NULL) ? budget.combined * pawl_unit_get_scale (unit) : 0;
}

static gboolean
judge_spots (PawlJob *job, const PawlReading *reading, const PawlInstrument *instrument, PawlLimits *limits, PawlAttempt *attempt, GError **error)
{
  PawlQuantity *first = attempt->values->pdata[0];

  set_uncertainty (instrument, &first, 1, attempt);
  if (!judge_each (job, reading, instrument, limits, attempt, error)
      || (reading->of != PAWL_OF_EACH && !judge_together (job, reading, reading->of, limits, attempt, error)))
    return FALSE;
  for (guint i = 0; i < reading->judgements->len; i++)
    {
      const PawlJudgement *judgement = reading->judgements->pdata[i];

      if (!judge_together (job, reading, judgement->of, judgement->limits, attempt, error))
        return FALSE;
    }
  return TRUE;
}

/* The set so far, this one last. */
static GPtrArray *
list_set (const PawlAskState *state, const PawlAttempt *attempt)
{
  GPtrArray *set = g_ptr_array_new ();
  guint n = attempt->n_in_set;

  g_ptr_array_add (set, attempt->taken);
  for (guint i = 0; i < state->attempts->len && set->len < n; i++)
    {
      const PawlAttempt *before = state->attempts->pdata[state->attempts->len - 1 - i];

      if (before != attempt && !before->is_void && before->taken != NULL)
        g_ptr_array_add (set, before->taken);
    }
  return set;
}

static gboolean
judge_value (PawlJob *job, const PawlAskState *state, const PawlInstrument *instrument, PawlLimits *limits, PawlAttempt *attempt, GError **error)
{
  g_autoptr(GPtrArray) set = list_set (state, attempt);
  PawlQuantity **readings = (PawlQuantity **) set->pdata;
  guint n = attempt->is_whole ? set->len : 1;
  g_autoptr(PawlQuantity) mean = pawl_readings_get_mean (readings, n);

  set_uncertainty (instrument, readings, n, attempt);
  return pawl_verdict_of_set (limits, readings, n, instrument, pawl_job_get_policy (job), &pawl_attempt_add_judged (attempt, "", mean, limits)->verdict, error);
}

static gboolean
is_outside (const PawlLimits *valid, const PawlQuantity *value)
{
  PawlVerdict verdict;

  return pawl_verdict_of (valid, value, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, NULL) && verdict.kind == PAWL_VERDICT_OUT;
}

static gboolean
find_void (const PawlReading *reading, const PawlAttempt *attempt)
{
  if (reading->valid == NULL)
    return FALSE;
  if (attempt->values == NULL)
    return is_outside (reading->valid, attempt->taken);
  for (guint i = 0; i < attempt->values->len; i++)
    if (((PawlReadingSpot *) reading->spots->pdata[i])->limits == NULL && is_outside (reading->valid, attempt->values->pdata[i]))
      return TRUE;
  return FALSE;
}

static int
get_rank (const PawlVerdict *verdict)
{
  return verdict->kind == PAWL_VERDICT_OUT ? 2 : verdict->kind == PAWL_VERDICT_TOO_CLOSE ? 1 : 0;
}

/* The worst decides; of several alike the first. */
static void
take_worst (PawlAttempt *attempt)
{
  const PawlJudged *worst = attempt->judged->pdata[0];

  for (guint i = 1; i < attempt->judged->len; i++)
    if (get_rank (&((PawlJudged *) attempt->judged->pdata[i])->verdict) > get_rank (&worst->verdict))
      worst = attempt->judged->pdata[i];
  attempt->verdict = worst->verdict;
  g_clear_pointer (&attempt->quantity, pawl_quantity_unref);
  attempt->quantity = pawl_quantity_ref (worst->quantity);
  g_clear_pointer (&attempt->limits, pawl_limits_unref);
  attempt->limits = pawl_limits_ref (worst->limits);
}

static gboolean
judge_by (PawlJob *job, const PawlAskState *state, PawlLimits *limits, PawlAttempt *attempt, GError **error)
{
  const PawlReading *reading = state->ask->reading;
  PawlInstrument instrument;
  gboolean is_judged;

  find_instrument (job, reading, attempt->entry, &instrument);
  pawl_attempt_clear_judged (attempt);
  attempt->is_void = find_void (reading, attempt);
  is_judged = attempt->values != NULL ? judge_spots (job, reading, &instrument, limits, attempt, error)
                                      : judge_value (job, state, &instrument, limits, attempt, error);
  clear_instrument (&instrument);
  if (is_judged)
    take_worst (attempt);
  return is_judged;
}

static gboolean
judge_with_limits (PawlJob *job, const PawlAskState *state, PawlAttempt *attempt, GError **error)
{
  g_autofree char *wants = NULL;
  g_autoptr(PawlLimits) limits = pawl_reading_find_limits (job, state->ask, &wants, error);

  if (limits == NULL && wants != NULL)
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BLOCKED, "the limits of “%s” follow from “%s”, which is not measured yet; take that first",
                 state->ask->name, wants);
  return limits != NULL && judge_by (job, state, limits, attempt, error);
}

gboolean
pawl_reading_judge (PawlJob *job, const PawlAskState *state, const char *answer, PawlAttempt *attempt, GError **error)
{
  const PawlReading *reading = state->ask->reading;
  const char *mark = pawl_entry_get (attempt->entry, "decimal-mark");

  attempt->n_in_set = count_in_set (state);
  attempt->is_whole = reading->repeats < 2 || attempt->n_in_set >= reading->repeats;
  if (pawl_limits_get_kind (reading->limits) == PAWL_LIMITS_CHOICE)
    {
      attempt->limits = pawl_limits_ref (reading->limits);
      return pawl_verdict_of (reading->limits, NULL, answer, NULL, PAWL_POLICY_SIMPLE, &attempt->verdict, error);
    }
  if (reading->spots->len > 0 ? !parse_spots (reading, mark, answer, attempt, error)
                              : !(attempt->taken = parse_value (&reading->typing, mark, answer, error)))
    return FALSE;
  return judge_with_limits (job, state, attempt, error);
}

gboolean
pawl_reading_judge_again (PawlJob *job, const PawlAskState *state, PawlAttempt *attempt, GError **error)
{
  return judge_with_limits (job, state, attempt, error);
}
