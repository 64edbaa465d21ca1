/* Readings that stand on others, places, tables, corrections: what can be known before anybody measures. */
#include <string.h>

#include "procedure/pawl-proof-private.h"
#include "sums/pawl-sum.h"

/* (nullable): the reading of "bore" or "bore.top", and its place in the file. */
static const PawlAsk *
find_reading (PawlProof *self, const char *name, int *index)
{
  const char *point = strchr (name, '.');
  g_autofree char *id = point != NULL ? g_strndup (name, (gsize) (point - name)) : g_strdup (name);
  const PawlStep *step = NULL;
  const PawlAsk *ask = pawl_procedure_lookup_ask (self->procedure, id, &step);

  if (ask != NULL)
    *index = pawl_procedure_get_step_index (self->procedure, step->id);
  return ask;
}

/* ---- what follows from other readings ---- */

static void
check_comes_before (PawlProof *self, const PawlStep *step, const PawlAsk *ask, const char *name)
{
  int own = pawl_procedure_get_step_index (self->procedure, step->id), other = own;

  if (find_reading (self, name, &other) != NULL && other > own)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "follows-later", ask->line,
                    "reading \"%s\" follows from \"%s\", which is taken in a later step; take it before, or move this one", ask->id, name);
}

/* (transfer full) (nullable): all that a reading, or one of its places, may be within its limits; NULL where they leave one end open. */
static PawlQuantity *
make_range (PawlProof *self, const char *name)
{
  const char *point = strchr (name, '.');
  int index;
  const PawlAsk *ask = find_reading (self, name, &index);
  const PawlLimits *limits = ask != NULL && ask->kind == PAWL_ASK_READING ? ask->reading->limits : NULL;
  PawlQuantity *low, *high, *range = NULL;
  mpq_t ends[2], other;

  for (guint i = 0; limits != NULL && point != NULL && i < ask->reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = ask->reading->spots->pdata[i];

      if (spot->limits != NULL && g_str_equal (spot->id, point + 1))
        limits = spot->limits;
    }
  low = limits != NULL ? pawl_limits_peek_low (limits) : NULL;
  high = limits != NULL ? pawl_limits_peek_high (limits) : NULL;
  if (low == NULL || high == NULL)
    return NULL;
  mpq_inits (ends[0], ends[1], other, NULL);
  pawl_quantity_get_base (low, ends[0], other);
  pawl_quantity_get_base (high, other, ends[1]);
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    pawl_unit_from_base (pawl_quantity_get_unit (low), ends[i], ends[i]);
  range = pawl_quantity_new_interval (ends[0], ends[1], pawl_quantity_get_unit (low));
  mpq_clears (ends[0], ends[1], other, NULL);
  return range;
}

/* With readings that are all within limits there has to be a value: no division by what may be zero, no root of what may be negative. */
static void
check_has_value (PawlProof *self, const PawlAsk *ask, const PawlWorkedOut *worked_out, const PawlUnit *unit)
{
  const char * const *names = pawl_formula_peek_names (worked_out->formula);
  g_autoptr(GPtrArray) ranges = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  g_autoptr(PawlQuantity) value = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree PawlFormulaInput *inputs = g_new0 (PawlFormulaInput, g_strv_length ((char **) names) + 1);

  for (guint i = 0; names[i] != NULL; i++)
    {
      if (!(inputs[i].quantity = make_range (self, names[i])))
        return;
      g_ptr_array_add (ranges, inputs[i].quantity);
    }
  value = pawl_formula_evaluate (worked_out->formula, inputs, unit, NULL, NULL, &error);
  if (value == NULL && g_error_matches (error, PAWL_FORMULA_ERROR, PAWL_FORMULA_ERROR_VALUE))
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "follows-from-nothing", ask->line,
                    "reading \"%s\" has no value for some readings that are within their limits: %s; write the formula so that it has one", ask->id, error->message);
}

static void
check_formula (PawlProof *self, const PawlStep *step, const PawlAsk *ask, const PawlWorkedOut *worked_out)
{
  const char * const *names;

  if (worked_out == NULL)
    return;
  for (names = pawl_formula_peek_names (worked_out->formula); *names != NULL; names++)
    {
      if (g_str_equal (*names, ask->id))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "follows-itself", ask->line, "reading \"%s\" follows from itself; name another reading", ask->id);
      check_comes_before (self, step, ask, *names);
    }
  check_has_value (self, ask, worked_out, pawl_limits_get_unit (ask->reading->limits));
}

static void
check_rows (PawlProof *self, const PawlAsk *ask, const PawlLimitsTable *table)
{
  const PawlTableRow *before = NULL;

  for (guint i = 0; i < table->rows->len; i++)
    {
      const PawlTableRow *row = table->rows->pdata[i];

      if (pawl_unit_get_dimension (pawl_limits_get_unit (row->limits)) != pawl_unit_get_dimension (pawl_limits_get_unit (ask->reading->limits)))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "table-mixed", row->line, "this row's limits \"%s\" are of another kind than those before it; give one kind",
                        pawl_limits_get_text (row->limits));
      if (before != NULL && (before->at != NULL) != (row->at != NULL))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "table-mixed", row->line, "a table goes by numbers or by outcomes; use at=\"…\" in all rows, or outcome=\"…\"");
      else if (before != NULL && row->at != NULL
               && pawl_unit_get_dimension (pawl_quantity_get_unit (before->at)) == pawl_unit_get_dimension (pawl_quantity_get_unit (row->at))
               && pawl_quantity_compare (before->at, row->at) >= 0)
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "table-order", row->line, "row \"%s\" does not rise above \"%s\" before it; sort the rows, smallest first",
                        pawl_quantity_get_typed (row->at), pawl_quantity_get_typed (before->at));
      before = row;
    }
}

static void
check_table (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  const PawlLimitsTable *table = ask->reading->table;
  int index;

  if (table == NULL)
    return;
  if (find_reading (self, table->by, &index) == NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "table-unknown", table->line, "the table goes by \"%s\", which nothing asks; name a reading or a check", table->by);
  else
    check_comes_before (self, step, ask, table->by);
  check_rows (self, ask, table);
}

/* ---- values ---- */

static void
check_values (PawlProof *self, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;
  gboolean is_several = reading->spots->len > 1;

  if ((reading->of != PAWL_OF_EACH || reading->judgements->len > 0) && !is_several)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "judge-without-spots", ask->line,
                    "reading \"%s\" judges several values together and has one; name its places by <spot>", ask->id);
  if (is_several && reading->repeats > 1)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "spots-with-repeats", ask->line,
                    "reading \"%s\" has places and repeats; take the places once, or write the repeats as places", ask->id);
  if (reading->derived != NULL && (reading->spots->len > 0 || reading->repeats > 1))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "derived-with-places", ask->line,
                    "reading \"%s\" is worked out, so it has neither places nor repeats; take them out", ask->id);
  for (guint i = 0; i < reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = reading->spots->pdata[i];

      if (spot->part != NULL && pawl_procedure_lookup_part (self->procedure, spot->part) == NULL)
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "part-unknown", spot->line, "place \"%s\" is on part \"%s\", which is not in the parts list; name one that is", spot->id,
                        spot->part);
    }
  for (guint i = 0; i < reading->spots->len; i++)
    for (guint j = 0; j < i; j++)
      if (g_str_equal (((PawlReadingSpot *) reading->spots->pdata[i])->id, ((PawlReadingSpot *) reading->spots->pdata[j])->id))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "spot-twice", ((PawlReadingSpot *) reading->spots->pdata[i])->line,
                        "reading \"%s\" has two places \"%s\"; give each an id of its own", ask->id, ((PawlReadingSpot *) reading->spots->pdata[i])->id);
}

/* What is void can't be in limits: then a good part would be measured for ever. */
static void
check_valid_of (PawlProof *self, const PawlAsk *ask, const PawlLimits *limits)
{
  const PawlLimits *valid = ask->reading->valid;
  PawlQuantity *ends[] = { pawl_limits_peek_low (limits), pawl_limits_peek_high (limits) };

  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    {
      PawlVerdict verdict;

      if (ends[i] != NULL && pawl_verdict_of (valid, ends[i], NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, NULL) && verdict.kind == PAWL_VERDICT_OUT)
        {
          pawl_proof_add (self, PAWL_SEVERITY_ERROR, "void-inside-limits", ask->line,
                          "reading \"%s\" is void outside of %s, and its limits %s reach out of that; widen valid=\"…\"", ask->id, pawl_limits_get_text (valid),
                          pawl_limits_get_text (limits));
          return;
        }
    }
}

static void
check_valid (PawlProof *self, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;

  if (reading->valid == NULL)
    return;
  check_valid_of (self, ask, reading->limits);
  for (guint i = 0; i < reading->by_variant->len; i++)
    check_valid_of (self, ask, ((PawlVariantLimits *) reading->by_variant->pdata[i])->limits);
  if (reading->void_reason == NULL)
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "void-without-reason", ask->line, "reading \"%s\" can be void and doesn't say why; add <void>", ask->id);
}

/* ---- corrections ---- */

static gboolean
has_input (const PawlSumInput *inputs, guint n, const char *name)
{
  for (guint i = 0; i < n; i++)
    if (g_str_equal (inputs[i].name, name))
      return TRUE;
  return FALSE;
}

static gboolean
is_let (const PawlAdvice *advice, const char *input)
{
  for (guint i = 0; i < advice->lets->len; i++)
    if (g_str_equal (((PawlLet *) advice->lets->pdata[i])->input, input))
      return TRUE;
  return FALSE;
}

static void
check_let (PawlProof *self, const PawlAsk *ask, const PawlSum *sum, const PawlLet *let)
{
  static const char * const own[] = { "this", "limits", "middle", NULL };
  const PawlAdvice *advice = ask->reading->advice;
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);
  int index;

  if (!has_input (inputs, n, let->input))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "advice-input-unknown", advice->line, "the sum \"%s\" has no input \"%s\"; see \"pawl solve %s\"", advice->sum,
                    let->input, advice->sum);
  if (let->from != NULL && !g_strv_contains (own, let->from) && find_reading (self, let->from, &index) == NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "advice-from-unknown", advice->line,
                    "the advice takes \"%s\" from \"%s\", which is no reading; name one, or this, limits or middle", let->input, let->from);
}

static void
check_advice (PawlProof *self, const PawlAsk *ask)
{
  const PawlAdvice *advice = ask->reading->advice;
  const PawlSum *sum = advice != NULL ? pawl_sum_lookup (advice->sum) : NULL;
  guint n = 0;
  const PawlSumInput *inputs = sum != NULL ? pawl_sum_peek_inputs (sum, &n) : NULL;

  if (advice == NULL)
    return;
  if (sum == NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "advice-unknown", advice->line, "there is no sum \"%s\"; \"pawl solve\" lists them", advice->sum);
  for (guint i = 0; sum != NULL && i < advice->lets->len; i++)
    check_let (self, ask, sum, advice->lets->pdata[i]);
  for (guint i = 0; i < n; i++)
    if (inputs[i].fallback == NULL && inputs[i].from == NULL && !is_let (advice, inputs[i].name))
      pawl_proof_add (self, PAWL_SEVERITY_ERROR, "advice-input-missing", advice->line, "the sum \"%s\" needs \"%s\", for instance %s; add <let input=\"%s\" …/>",
                      advice->sum, inputs[i].name, inputs[i].example, inputs[i].name);
}

void
pawl_proof_check_reading (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  check_formula (self, step, ask, ask->reading->derived);
  check_formula (self, step, ask, ask->reading->low);
  check_formula (self, step, ask, ask->reading->high);
  check_table (self, step, ask);
  check_values (self, ask);
  check_valid (self, ask);
  check_advice (self, ask);
  pawl_proof_check_variant_limits (self, step, ask);
}
