/* What was measured: limits, as found, as left, verdict, and how it is known. */
#include "report/pawl-bar.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

#include <string.h>

enum { READING_NAME, READING_LIMITS, READING_FOUND, READING_LEFT, READING_VERDICT, READING_INSTRUMENT, READING_BY, N_READING_COLUMNS };

static const PawlColumn reading_columns[N_READING_COLUMNS] = {
  { "Characteristic", 30, PAWL_COLUMN_TEXT },
  { "Limits, source", 22, PAWL_COLUMN_TEXT },
  { "As found", 14, PAWL_COLUMN_NUMBER },
  { "As left", 14, PAWL_COLUMN_NUMBER },
  { "Verdict", 13, PAWL_COLUMN_TEXT },
  { "Instrument", 17, PAWL_COLUMN_TEXT },
  { "By", 16, PAWL_COLUMN_TEXT },
};

void
pawl_content_add_value (PawlTable *table, guint column, const PawlAttempt *attempt, PawlLetter letter)
{
  g_autofree char *reading = pawl_words_reading (attempt);
  g_autofree char *conversion = pawl_words_conversion (attempt);
  gboolean is_long = attempt->quantity && pawl_quantity_is_interval (attempt->quantity);

  pawl_table_add (table, column, is_long ? PAWL_LETTER_NOTE : letter, reading);
  pawl_table_add (table, column, PAWL_LETTER_NOTE, conversion);
}

static const PawlQuantity *
peek_single (const PawlAttempt *attempt)
{
  return attempt && !attempt->values && !attempt->is_void ? attempt->quantity : NULL;
}

/* Limits and one value: a set of places has a line of its own instead. */
static void
add_bar (PawlTable *table, const PawlResult *result)
{
  PawlLimitsScale scale;

  if ((peek_single (result->found) || peek_single (result->left))
      && pawl_limits_scale_make (result->as_left->limits, peek_single (result->found), peek_single (result->left), result->left ? &result->left->verdict : NULL, &scale))
    pawl_table_add_bar (table, READING_LIMITS, &scale);
}

static void
add_reading_limits (PawlTable *table, const PawlAskState *state)
{
  const PawlAsk *ask = state->ask;
  const PawlReading *reading = ask->reading;
  g_autofree char *limits = pawl_limits_describe (state->limits);

  pawl_table_add (table, READING_LIMITS, PAWL_LETTER_CELL, limits);
  pawl_table_add (table, READING_LIMITS, PAWL_LETTER_NOTE, ask->source ? ask->source : "no source stated");
  if (reading->other_limits)
    {
      g_autofree char *other_limits = pawl_limits_describe (reading->other_limits);
      g_autofree char *other = g_strdup_printf ("another source: %s, %s", other_limits,
                                                reading->other_source ? reading->other_source : "not named");

      pawl_table_add (table, READING_LIMITS, PAWL_LETTER_NOTE, other);
    }
}

/* The verdict on what was left, or on what was found where nothing more was taken. */
static void
add_reading_verdict (PawlTable *table, const PawlResult *result)
{
  const PawlAttempt *judged = result->left ? result->left : result->as_left->ask->reading->is_as_found ? result->found : NULL;
  g_autofree char *word = judged ? pawl_words_verdict (judged) : g_strdup ("not measured");

  pawl_table_add (table, READING_VERDICT, PAWL_LETTER_CELL_STRONG, word);
  if (judged && judged->verdict.kind == PAWL_VERDICT_IN && judged->verdict.is_worn)
    pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, "within the wear limit, outside the limits for new parts");
  if (judged && judged->is_typed_over)
    {
      g_autofree char *why = g_strdup_printf ("typed over what was worked out: %s", pawl_entry_get (judged->entry, "remark"));

      pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, why);
    }
  if (judged && judged->verdict.kind != PAWL_VERDICT_IN && judged->quantity)
    {
      g_autofree char *detail = pawl_attempt_describe_verdict (result->as_left->ask, judged);
      const char *colon = strstr (detail, ": "); /* the word before it stands above already */

      pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, colon ? colon + strlen (": ") : detail);
    }
  if (judged && !result->left && judged == result->found)
    pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, "as found");
  else if (result->found && result->found->verdict.kind != PAWL_VERDICT_IN)
    {
      g_autofree char *found_word = pawl_words_verdict (result->found);
      g_autofree char *before = g_strdup_printf ("as found: %s", found_word);

      pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, before);
    }
  pawl_table_add (table, READING_VERDICT, PAWL_LETTER_NOTE, pawl_words_standing (result->as_left->status));
}

static void
add_reading_instrument (const PawlContent *content, PawlTable *table, const PawlReading *reading, const PawlAttempt *attempt)
{
  g_autofree char *instrument = pawl_words_instrument (content->procedure, reading, attempt);
  g_autofree char *uncertainty = pawl_words_uncertainty (attempt);

  pawl_table_add (table, READING_INSTRUMENT, PAWL_LETTER_NOTE, instrument);
  pawl_table_add (table, READING_INSTRUMENT, PAWL_LETTER_NOTE, uncertainty);
}

static void
add_places (PawlTable *table, const char *label, const PawlReading *reading, const PawlAttempt *attempt)
{
  g_autofree char *places = attempt ? pawl_words_places (reading, attempt) : NULL;
  g_autofree char *line = places && *places ? g_strdup_printf ("%s: %s", label, places) : NULL;

  if (line)
    pawl_table_add_wide (table, PAWL_LETTER_NOTE, line);
}

/* What has no room in a column: each place, each attempt, and what it usually is when there were too many. */
static void
add_reading_lines (PawlTable *table, const PawlResult *result)
{
  const PawlReading *reading = result->as_left->ask->reading;

  add_places (table, "As found", result->as_found ? result->as_found->ask->reading : reading, result->found);
  add_places (table, "As left", reading, result->left);
  if (result->n_attempts > 1)
    {
      g_autofree char *attempts = pawl_words_attempts (result->as_left);
      g_autofree char *line = g_strdup_printf ("%u attempts: %s", result->n_attempts, attempts);

      pawl_table_add_wide (table, PAWL_LETTER_NOTE, line);
    }
  if (pawl_ask_is_looping (result->as_left))
    {
      g_autofree char *line = g_strdup_printf ("Not right in %u tries. What it usually is: %s", reading->tries, reading->cause);

      pawl_table_add_wide (table, PAWL_LETTER_NOTE, line);
    }
}

/* (transfer full): "Cylinder 2", the outer one of two; "" of a reading that is there once. */
static char *
find_group (const PawlResult *result)
{
  const char *which = result->as_left->ask->which;
  g_autofree char *outer = which ? g_strndup (which, strcspn (which, ",")) : g_strdup ("");

  if (*outer)
    *outer = g_ascii_toupper (*outer);
  return g_steal_pointer (&outer);
}

/* (transfer container): what is there once in its order, then one cylinder after the other, as they first come in the procedure. */
static GPtrArray *
group_results (GPtrArray *results)
{
  GPtrArray *grouped = g_ptr_array_new ();
  g_autoptr (GPtrArray) groups = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (groups, g_strdup (""));
  for (guint i = 0; i < results->len; i++)
    {
      g_autofree char *group = find_group (g_ptr_array_index (results, i));

      if (!g_ptr_array_find_with_equal_func (groups, group, g_str_equal, NULL))
        g_ptr_array_add (groups, g_steal_pointer (&group));
    }
  for (guint i = 0; i < groups->len; i++)
    for (guint j = 0; j < results->len; j++)
      {
        g_autofree char *group = find_group (g_ptr_array_index (results, j));

        if (g_str_equal (group, g_ptr_array_index (groups, i)))
          g_ptr_array_add (grouped, g_ptr_array_index (results, j));
      }
  return grouped;
}

/* Over its first row, with room left over the other cells. */
static void
add_group (PawlTable *table, const char *group)
{
  for (guint i = 0; *group && i < N_READING_COLUMNS; i++)
    pawl_table_add (table, i, PAWL_LETTER_NOTE, i == READING_NAME ? group : "\u00a0");
}

static void
add_reading_row (const PawlContent *content, PawlTable *table, const PawlResult *result, const char *group)
{
  const PawlAsk *ask = result->as_left->ask;
  const PawlAttempt *last = result->left ? result->left : result->found;
  g_autofree char *conditions = pawl_words_conditions (ask->reading);

  pawl_table_begin_row (table);
  add_group (table, group);
  pawl_table_add (table, READING_NAME, PAWL_LETTER_CELL_STRONG, ask->name);
  pawl_table_add (table, READING_NAME, PAWL_LETTER_NOTE, conditions);
  add_reading_limits (table, result->as_left);
  add_bar (table, result);
  if (result->found)
    pawl_content_add_value (table, READING_FOUND, result->found, PAWL_LETTER_CELL);
  else
    pawl_table_add (table, READING_FOUND, PAWL_LETTER_CELL, "–");
  if (result->left)
    pawl_content_add_value (table, READING_LEFT, result->left, PAWL_LETTER_CELL_STRONG);
  else
    pawl_table_add (table, READING_LEFT, PAWL_LETTER_CELL, ask->reading->is_as_found ? "–" : "not measured");
  add_reading_verdict (table, result);
  if (last)
    {
      add_reading_instrument (content, table, ask->reading, last);
      pawl_content_add_person (content, table, READING_BY, READING_BY, last->entry);
    }
  add_reading_lines (table, result);
}

void
pawl_content_add_readings (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (GPtrArray) grouped = NULL;
  g_autoptr (PawlTable) table = pawl_table_new (reading_columns, G_N_ELEMENTS (reading_columns));
  g_autofree char *statement = pawl_policy_describe (pawl_job_get_policy (content->job)), *policy = NULL;

  if (results->len == 0)
    return;
  grouped = group_results (results);
  for (guint i = 0; i < grouped->len; i++)
    {
      g_autofree char *group = find_group (g_ptr_array_index (grouped, i));
      g_autofree char *above = i > 0 ? find_group (g_ptr_array_index (grouped, i - 1)) : g_strdup ("");

      add_reading_row (content, table, g_ptr_array_index (grouped, i), g_str_equal (group, above) ? "" : group);
    }
  pawl_flow_add_heading (content->flow, "Readings");
  policy = g_strdup_printf ("%s Decision rule: %s Readings stand as they were typed; a conversion beside one is for information. "
                            "A limit met exactly is inside. U is the expanded uncertainty of a reading, about 95 %%.",
                            pawl_bar_get_legend (), statement);
  pawl_table_set_note (table, policy);
  pawl_flow_add_table (content->flow, table);
}
