/* The work itself, for the full record: every step, the instruments, what was tried for leaks and under pressure. */
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* ---- steps ---- */

enum { STEP_NUMBER, STEP_COMMAND, STEP_STATE, STEP_BY, STEP_WHEN, N_STEP_COLUMNS };

static const PawlColumn step_columns[N_STEP_COLUMNS] = {
  { "Step", 6, PAWL_COLUMN_NUMBER },
  { "What was to be done", 66, PAWL_COLUMN_TEXT },
  { "State", 20, PAWL_COLUMN_TEXT },
  { "By", 20, PAWL_COLUMN_TEXT },
  { "When", 18, PAWL_COLUMN_TEXT },
};

static const char *
say_step (const PawlStepState *state)
{
  switch (state->status)
    {
    case PAWL_STEP_DONE:
      return "done";
    case PAWL_STEP_SKIPPED:
      return "left out";
    case PAWL_STEP_REDO:
      return "to be done again";
    case PAWL_STEP_NOT_APPLICABLE:
      return "not for this variant";
    case PAWL_STEP_BLOCKED:
    case PAWL_STEP_OPEN:
    case PAWL_STEP_WAITING:
    default:
      return "not done";
    }
}

static const char *
find_phase_title (const PawlContent *content, const PawlStep *step)
{
  const PawlPhase *phase = pawl_procedure_lookup_phase (content->procedure, step->phase);

  return phase ? phase->title : "";
}

static void
add_step_row (const PawlContent *content, PawlTable *table, const PawlStepState *state, gboolean is_first_of_phase)
{
  const PawlEntry *entry = state->done ? state->done : state->deviation;

  pawl_table_begin_row (table);
  /* The phase stands over its first command, with room left over the other cells of the row. */
  for (guint i = 0; is_first_of_phase && i < N_STEP_COLUMNS; i++)
    pawl_table_add (table, i, PAWL_LETTER_NOTE, i == STEP_COMMAND ? find_phase_title (content, state->step) : "\u00a0");
  pawl_table_add (table, STEP_NUMBER, PAWL_LETTER_CELL, state->step->number);
  pawl_table_add (table, STEP_COMMAND, PAWL_LETTER_CELL, state->step->command);
  pawl_table_add (table, STEP_STATE, state->status == PAWL_STEP_DONE ? PAWL_LETTER_CELL : PAWL_LETTER_CELL_STRONG, say_step (state));
  if (state->status == PAWL_STEP_SKIPPED && state->deviation)
    pawl_table_add (table, STEP_STATE, PAWL_LETTER_NOTE, pawl_entry_get (state->deviation, "reason"));
  if (entry && (state->status == PAWL_STEP_DONE || state->status == PAWL_STEP_SKIPPED))
    pawl_content_add_person (content, table, STEP_BY, STEP_WHEN, entry);
}

void
pawl_content_add_steps (const PawlContent *content)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (step_columns, G_N_ELEMENTS (step_columns));
  const char *phase = NULL;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);

      add_step_row (content, table, state, g_strcmp0 (phase, state->step->phase) != 0);
      phase = state->step->phase;
    }
  pawl_flow_add_heading (content->flow, "Steps");
  pawl_flow_add_table (content->flow, table);
}

/* ---- instruments ---- */

enum { TOOL_NAME, TOOL_MARK, TOOL_ERROR, TOOL_CALIBRATED, TOOL_DUE, TOOL_FOR, N_TOOL_COLUMNS };

static const PawlColumn tool_columns[N_TOOL_COLUMNS] = {
  { "Instrument", 32, PAWL_COLUMN_TEXT },
  { "Mark", 16, PAWL_COLUMN_TEXT },
  { "Error ±", 14, PAWL_COLUMN_TEXT },
  { "Calibrated", 16, PAWL_COLUMN_TEXT },
  { "Due", 20, PAWL_COLUMN_TEXT },
  { "Used for", 50, PAWL_COLUMN_TEXT },
};

/* Readings that were taken with one instrument. */
typedef struct {
  const char      *id;    /* of the tool */
  const char      *mark;  /* (nullable) */
  const PawlEntry *entry; /* the newest answer, which carries what the register knew then */
  GPtrArray       *names; /* of readings */
} Use;

static void
use_free (gpointer data)
{
  g_ptr_array_unref (((Use *) data)->names);
  g_free (data);
}

static Use *
find_use (GPtrArray *uses, const char *id, const char *mark)
{
  Use *use;

  for (guint i = 0; i < uses->len; i++)
    {
      use = g_ptr_array_index (uses, i);
      if (g_str_equal (use->id, id) && g_strcmp0 (use->mark, mark) == 0)
        return use;
    }
  use = g_new0 (Use, 1);
  use->id = id;
  use->mark = mark;
  use->names = g_ptr_array_new ();
  g_ptr_array_add (uses, use);
  return use;
}

/* The instrument that was named, else the one that the procedure wants: as under the readings. */
static void
note_use (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = g_ptr_array_index (state->attempts, i);
      const char *named = pawl_entry_get (attempt->entry, "instrument");
      const char *id = named ? named : state->ask->reading->tool;
      Use *use = id && !attempt->is_derived ? find_use (data, id, pawl_entry_get (attempt->entry, "tool-serial")) : NULL;

      if (!use)
        continue;
      use->entry = attempt->entry;
      if (!g_ptr_array_find (use->names, state->ask->name, NULL))
        g_ptr_array_add (use->names, state->ask->name);
    }
}

static void
add_use_row (const PawlContent *content, PawlTable *table, const Use *use)
{
  const PawlTool *tool = pawl_procedure_lookup_tool (content->procedure, use->id);
  const char *error = pawl_entry_get (use->entry, "error"), *calibrated = pawl_entry_get (use->entry, "calibrated"), *due = pawl_entry_get (use->entry, "due");
  g_autofree char *names = NULL;

  if (!error && tool && tool->is_measuring && tool->instrument.max_error)
    error = pawl_quantity_get_typed (tool->instrument.max_error);
  g_ptr_array_add (use->names, NULL);
  names = g_strjoinv (", ", (char **) use->names->pdata);
  pawl_table_begin_row (table);
  pawl_table_add (table, TOOL_NAME, PAWL_LETTER_CELL_STRONG, tool ? tool->name : use->id);
  pawl_table_add (table, TOOL_MARK, PAWL_LETTER_CELL, use->mark ? use->mark : "not stated");
  pawl_table_add (table, TOOL_ERROR, PAWL_LETTER_CELL, error ? error : "not stated");
  pawl_table_add (table, TOOL_CALIBRATED, PAWL_LETTER_CELL, calibrated ? calibrated : "not stated");
  pawl_table_add (table, TOOL_DUE, PAWL_LETTER_CELL, due ? due : "not stated");
  if (pawl_entry_get (use->entry, "overdue"))
    pawl_table_add (table, TOOL_DUE, PAWL_LETTER_CELL_STRONG, "out of date when used");
  pawl_table_add (table, TOOL_FOR, PAWL_LETTER_NOTE, names);
}

void
pawl_content_add_instruments (const PawlContent *content)
{
  g_autoptr (GPtrArray) uses = g_ptr_array_new_with_free_func (use_free);
  g_autoptr (PawlTable) table = pawl_table_new (tool_columns, G_N_ELEMENTS (tool_columns));

  pawl_content_visit_asks (content, PAWL_ASK_READING, note_use, uses);
  if (uses->len == 0)
    return;
  for (guint i = 0; i < uses->len; i++)
    add_use_row (content, table, g_ptr_array_index (uses, i));
  pawl_flow_add_heading (content->flow, "Instruments");
  pawl_flow_add_table (content->flow, table);
}

/* ---- tests ---- */

enum { TEST_NAME, TEST_WANTED, TEST_FOUND, TEST_LEFT, TEST_WHEN, N_TEST_COLUMNS };

static const PawlColumn test_columns[N_TEST_COLUMNS] = {
  { "Test", 44, PAWL_COLUMN_TEXT },
  { "Accepted", 28, PAWL_COLUMN_TEXT },
  { "As found", 18, PAWL_COLUMN_TEXT },
  { "As left", 20, PAWL_COLUMN_TEXT },
  { "When", 18, PAWL_COLUMN_TEXT },
};

static void
add_when (const PawlContent *content, PawlTable *table, const PawlEntry *entry)
{
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (entry), content->opened);

  pawl_table_add (table, TEST_WHEN, PAWL_LETTER_NOTE, time);
}

static void
add_leak_row (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  PawlTable *table = data;
  const PawlAttempt *last = state->n_current > 0 ? g_ptr_array_index (state->attempts, state->attempts->len - 1) : NULL;
  const char * const *acceptable = pawl_limits_peek_acceptable (state->ask->check->limits);
  g_autofree char *wanted = acceptable ? pawl_words_outcomes (acceptable) : NULL;
  g_autofree char *outcome = last ? pawl_words_outcome (pawl_entry_get (last->entry, "answer")) : NULL;

  if (state->ask->check->kind != PAWL_CHECK_LEAK)
    return;
  pawl_table_begin_row (table);
  pawl_table_add (table, TEST_NAME, PAWL_LETTER_CELL_STRONG, state->ask->name);
  pawl_table_add (table, TEST_NAME, PAWL_LETTER_NOTE, state->ask->says);
  pawl_table_add (table, TEST_WANTED, PAWL_LETTER_CELL, wanted);
  pawl_table_add (table, TEST_FOUND, PAWL_LETTER_CELL, "–");
  pawl_table_add (table, TEST_LEFT, PAWL_LETTER_CELL_STRONG, outcome ? outcome : "not confirmed");
  pawl_table_add (table, TEST_LEFT, PAWL_LETTER_NOTE, pawl_words_standing (state->status));
  if (last)
    add_when (content, table, last->entry);
}

static gboolean
is_pressure (const PawlAsk *ask)
{
  const PawlUnit *unit = pawl_limits_get_unit (ask->reading->limits);

  return unit && pawl_unit_get_dimension (unit) == PAWL_DIMENSION_PRESSURE;
}

static void
add_pressure_row (const PawlContent *content, PawlTable *table, const PawlResult *result)
{
  const PawlAskState *state = result->as_left;
  const PawlAttempt *last = result->left ? result->left : result->found;
  g_autofree char *limits = pawl_limits_describe (state->limits);
  g_autofree char *conditions = pawl_words_conditions (state->ask->reading);

  pawl_table_begin_row (table);
  pawl_table_add (table, TEST_NAME, PAWL_LETTER_CELL_STRONG, state->ask->name);
  pawl_table_add (table, TEST_NAME, PAWL_LETTER_NOTE, conditions);
  pawl_table_add (table, TEST_WANTED, PAWL_LETTER_CELL, limits);
  if (result->found)
    pawl_content_add_value (table, TEST_FOUND, result->found, PAWL_LETTER_CELL);
  else
    pawl_table_add (table, TEST_FOUND, PAWL_LETTER_CELL, "–");
  if (result->left)
    pawl_content_add_value (table, TEST_LEFT, result->left, PAWL_LETTER_CELL_STRONG);
  else
    pawl_table_add (table, TEST_LEFT, PAWL_LETTER_CELL, state->ask->reading->is_as_found ? "–" : "not measured");
  if (last)
    add_when (content, table, last->entry);
}

void
pawl_content_add_tests (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (test_columns, G_N_ELEMENTS (test_columns));

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);

      if (is_pressure (result->as_left->ask))
        add_pressure_row (content, table, result);
    }
  pawl_content_visit_asks (content, PAWL_ASK_CHECK, add_leak_row, table);
  if (pawl_table_get_n_rows (table) == 0)
    return;
  pawl_flow_add_heading (content->flow, "Tests for leaks and pressure");
  pawl_flow_add_table (content->flow, table);
}
