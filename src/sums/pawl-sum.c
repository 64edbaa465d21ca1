/* Bench sums: the answers by formula, and the working. */
#include <string.h>

#include "sums/pawl-sum-private.h"
#include "sums/pawl-sum-read.h"

G_DEFINE_QUARK (pawl-sum-error, pawl_sum_error)

const char *pawl_sum_get_id (const PawlSum *self)       { return self->id; }
const char *pawl_sum_get_title (const PawlSum *self)    { return self->title; }
const char *pawl_sum_get_says (const PawlSum *self)     { return self->says; }
const char *pawl_sum_get_source (const PawlSum *self)   { return self->source; }
const char *pawl_sum_get_validity (const PawlSum *self) { return self->validity; }

const PawlSumInput *
pawl_sum_peek_inputs (const PawlSum *self, guint *n)
{
  for (*n = 0; *n < PAWL_SUM_MAX_INPUTS && self->inputs[*n].name != NULL; ++*n)
    ;
  return self->inputs;
}

const char *
pawl_sum_peek_formula (const PawlSum *self, guint n, const char **name, const char **title)
{
  if (n >= PAWL_SUM_MAX_OUTPUTS)
    return NULL;
  *name = self->outputs[n].name;
  *title = self->outputs[n].title;
  return self->outputs[n].formula;
}

const PawlSum *
pawl_sum_lookup (const char *id)
{
  for (guint i = 0; i < pawl_n_sums; i++)
    if (g_strcmp0 (pawl_sums[i].id, id) == 0)
      return &pawl_sums[i];
  return NULL;
}

const PawlSum *
pawl_sum_peek_nth (guint n)
{
  return n < pawl_n_sums ? &pawl_sums[n] : NULL;
}

/* ---- results ---- */

static void
answer_free (PawlSumAnswer *self)
{
  g_clear_pointer (&self->quantity, pawl_quantity_unref);
  g_free (self->title);
  g_free (self->text);
  g_free (self);
}

static PawlSumResult *
result_new (void)
{
  PawlSumResult *self = g_new0 (PawlSumResult, 1);

  self->answers = g_ptr_array_new_with_free_func ((GDestroyNotify) answer_free);
  self->working = g_ptr_array_new_with_free_func (g_free);
  return self;
}

void
pawl_sum_result_free (PawlSumResult *self)
{
  g_ptr_array_unref (self->answers);
  g_ptr_array_unref (self->working);
  g_free (self);
}

void
pawl_sum_run_work (PawlSumRun *self, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_ptr_array_add (self->result->working, g_strdup_vprintf (format, arguments));
  va_end (arguments);
}

/* In its own unit; a plain number without any. */
static char *
format_own (PawlSumRun *self, const PawlQuantity *quantity)
{
  g_autofree char *text = pawl_quantity_format (quantity, self->typing.decimal_mark);
  char *ratio = g_str_has_suffix (text, " ratio") ? g_strrstr (text, " ratio") : NULL;

  if (ratio != NULL)
    *ratio = '\0';
  return g_steal_pointer (&text);
}

char *
pawl_sum_run_format (PawlSumRun *self, const PawlQuantity *quantity)
{
  g_autofree char *own = format_own (self, quantity);
  g_autofree char *beside = pawl_quantity_format_beside (quantity, self->typing.decimal_mark);

  return beside != NULL ? g_strdup_printf ("%s (%s)", own, beside) : g_steal_pointer (&own);
}

void
pawl_sum_run_answer (PawlSumRun *self, const char *title, PawlQuantity *quantity, gboolean is_rounded, char *text)
{
  PawlSumAnswer *answer = g_new0 (PawlSumAnswer, 1);

  answer->title = g_strdup (title);
  answer->quantity = quantity;
  answer->is_rounded = is_rounded;
  answer->text = text != NULL ? text : pawl_sum_run_format (self, quantity);
  g_ptr_array_add (self->result->answers, answer);
}

/* ---- inputs by name ---- */

static int
find_input (const PawlSum *sum, const char *name)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (inputs[i].name, name))
      return (int) i;
  return -1;
}

PawlQuantity *
pawl_sum_run_get (PawlSumRun *self, const char *name)
{
  int input = find_input (self->sum, name);

  if (input >= 0)
    return self->quantities[input];
  for (guint i = 0; i < PAWL_SUM_MAX_OUTPUTS; i++)
    if (g_strcmp0 (self->sum->outputs[i].name, name) == 0)
      return self->answers[i];
  g_return_val_if_reached (NULL);
}

PawlLimits *
pawl_sum_run_get_limits (PawlSumRun *self, const char *name)
{
  return self->limits[find_input (self->sum, name)];
}

GPtrArray *
pawl_sum_run_get_list (PawlSumRun *self, const char *name)
{
  return self->lists[find_input (self->sum, name)];
}

PawlQuantity *
pawl_sum_run_make (PawlSumRun *self, const mpq_t base, const char *like)
{
  const PawlUnit *unit = pawl_quantity_get_unit (pawl_sum_run_get (self, like));
  PawlQuantity *quantity;
  mpq_t value;

  mpq_init (value);
  pawl_unit_from_base (unit, base, value);
  quantity = pawl_quantity_new (value, unit);
  mpq_clear (value);
  return quantity;
}

/* ---- formulas ---- */

/* An input as typed; an answer before it with so many digits that the next line can be worked out by hand. */
static char *
format_for_formula (PawlSumRun *run, const char *name)
{
  PawlQuantity *quantity = pawl_sum_run_get (run, name);
  const PawlUnit *unit = pawl_quantity_get_unit (quantity);
  char digits[G_ASCII_DTOSTR_BUF_SIZE];

  if (find_input (run->sum, name) >= 0)
    return format_own (run, quantity);
  g_ascii_formatd (digits, sizeof digits, "%.7g", pawl_quantity_get_double (quantity, unit));
  if (run->typing.decimal_mark == ',')
    g_strdelimit (digits, ".", ',');
  return unit == pawl_unit_lookup ("ratio") ? g_strdup (digits) : g_strdup_printf ("%s %s", digits, pawl_unit_get_symbol (unit));
}

/* The formula with what was typed in the place of its names. */
static char *
fill_in (PawlSumRun *run, const char *formula, const char * const *names)
{
  GString *text = g_string_new (NULL);

  for (const char *at = formula; *at != '\0';)
    {
      const char *end = at;
      g_autofree char *word = NULL;

      while (g_ascii_isalnum (*end) || *end == '_' || (*end == '-' && end > at && g_ascii_isalnum (end[1])))
        end++;
      if (end == at)
        {
          g_string_append_c (text, *at++);
          continue;
        }
      word = g_strndup (at, (gsize) (end - at));
      if (g_strv_contains (names, word))
        {
          g_autofree char *shown = format_for_formula (run, word);
          const char *value = g_str_has_prefix (shown, "≈ ") ? shown + strlen ("≈ ") : shown;
          gboolean is_alone = *end != '^' && *value != '-';

          g_string_append_printf (text, is_alone ? "%s" : "(%s)", value);
        }
      else
        g_string_append (text, word);
      at = end;
    }
  g_string_replace (text, "*", "×", 0);
  return g_string_free (text, FALSE);
}

/* "=name²": the area of that input's measures */
static const PawlUnit *
find_unit (PawlSumRun *run, const PawlSumOutput *output)
{
  g_autofree char *name = *output->unit == '=' ? g_strdup (output->unit + 1) : NULL;
  gboolean is_area = name != NULL && g_str_has_suffix (name, "²");
  const PawlUnit *unit;

  if (name == NULL)
    return pawl_unit_lookup (output->unit);
  if (is_area)
    name[strlen (name) - strlen ("²")] = '\0';
  unit = pawl_quantity_get_unit (pawl_sum_run_get (run, name));
  return is_area ? pawl_unit_lookup (pawl_unit_is_inch (unit) ? "in²" : "mm²") : unit;
}

static gboolean
is_for (PawlSumRun *run, const PawlSumOutput *output)
{
  if (output->measures == PAWL_SUM_ANY_MEASURES)
    return TRUE;
  return pawl_unit_is_inch (pawl_quantity_get_unit (run->quantities[0])) == (output->measures == PAWL_SUM_INCH);
}

static gboolean
has_all (PawlSumRun *run, const char * const *names)
{
  for (; *names != NULL; names++)
    if (pawl_sum_run_get (run, *names) == NULL)
      return FALSE;
  return TRUE;
}

static gboolean
evaluate (PawlSumRun *run, const PawlSumOutput *output, const PawlFormula *formula, GError **error)
{
  const char * const *names = pawl_formula_peek_names (formula);
  PawlFormulaInput inputs[PAWL_SUM_MAX_INPUTS + PAWL_SUM_MAX_OUTPUTS] = { { NULL, 0 } };
  PawlDimension dimensions[PAWL_SUM_MAX_INPUTS + PAWL_SUM_MAX_OUTPUTS] = { PAWL_DIMENSION_NONE };
  g_autofree char *text = NULL, *filled = NULL;
  g_autoptr(GError) problem = NULL;
  PawlQuantity *quantity;
  gboolean is_rounded;

  for (guint i = 0; names[i] != NULL; i++)
    {
      inputs[i].quantity = pawl_sum_run_get (run, names[i]);
      dimensions[i] = pawl_unit_get_dimension (pawl_quantity_get_unit (inputs[i].quantity));
    }
  if (!pawl_formula_check (formula, dimensions, find_unit (run, output), error))
    return FALSE;
  if ((quantity = pawl_formula_evaluate (formula, inputs, find_unit (run, output), NULL, &is_rounded, &problem)) == NULL)
    {
      g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_NO_ANSWER, "%s = %s has no value: %s", output->title, output->formula, problem->message);
      return FALSE;
    }
  run->answers[output - run->sum->outputs] = quantity;
  text = format_own (run, quantity);
  filled = fill_in (run, output->formula, names);
  pawl_sum_run_work (run, "%s = %s", output->title, output->formula);
  pawl_sum_run_work (run, "  = %s %s%s", filled, g_str_has_prefix (text, "≈") ? "" : "= ", text);
  if (!output->is_step)
    pawl_sum_run_answer (run, output->title, pawl_quantity_ref (quantity), is_rounded, NULL);
  return TRUE;
}

/* Of inputs and outputs; NULL-terminated. */
static void
list_names (const PawlSum *sum, const char **names)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

  for (guint i = 0; i < n; i++)
    *names++ = inputs[i].name;
  for (guint i = 0; i < PAWL_SUM_MAX_OUTPUTS; i++)
    if (sum->outputs[i].name != NULL)
      *names++ = sum->outputs[i].name;
  *names = NULL;
}

static gboolean
solve_outputs (PawlSumRun *run, GError **error)
{
  const char *names[PAWL_SUM_MAX_INPUTS + PAWL_SUM_MAX_OUTPUTS + 1];
  const PawlSumOutput *output = run->sum->outputs;

  list_names (run->sum, names);
  for (; output < run->sum->outputs + PAWL_SUM_MAX_OUTPUTS && output->title != NULL; output++)
    {
      g_autoptr(PawlFormula) formula = pawl_formula_parse (output->formula, names, error);

      if (formula == NULL)
        return FALSE;
      if (is_for (run, output) && has_all (run, pawl_formula_peek_names (formula)) && !evaluate (run, output, formula, error))
        return FALSE;
    }
  return TRUE;
}

/* Every answer wants something that may be left out, and all of it was. */
static gboolean
check_any (PawlSumRun *run, GError **error)
{
  g_autoptr(GString) names = g_string_new (NULL);
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (run->sum, &n);

  if (run->result->answers->len > 0)
    return TRUE;
  for (guint i = 0; i < n; i++)
    if (g_strcmp0 (inputs[i].fallback, "") == 0)
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", inputs[i].name);
  g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_MISSING, "nothing to work out yet: give some of %s", names->str);
  return FALSE;
}

PawlSumResult *
pawl_sum_solve (const PawlSum *self, GHashTable *typed, const PawlTyping *typing, GError **error)
{
  PawlSumRun run = { .sum = self, .result = result_new () };
  gboolean is_solved;

  g_return_val_if_fail (self != NULL && typed != NULL, NULL);
  if (typing != NULL)
    run.typing = *typing;
  if (run.typing.decimal_mark == 0)
    run.typing.decimal_mark = '.';
  is_solved = pawl_sum_read (&run, typed, error) && (self->check == NULL || self->check (&run, error)) && solve_outputs (&run, error)
              && (self->solve == NULL || self->solve (&run, error))
              && check_any (&run, error);
  pawl_sum_forget (&run);
  if (!is_solved)
    g_clear_pointer (&run.result, pawl_sum_result_free);
  return run.result;
}
