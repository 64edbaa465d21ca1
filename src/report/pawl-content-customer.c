/* The print for the customer: the same facts in fewer words, and nothing of how often somebody tried. */
#include "report/pawl-bar.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* ---- as found beside as left ---- */

enum { LINE_NAME, LINE_LIMITS, LINE_FOUND, LINE_LEFT, LINE_BAR, LINE_VERDICT, N_LINE_COLUMNS };

static const PawlColumn line_columns[N_LINE_COLUMNS] = {
  { "Characteristic", 35, PAWL_COLUMN_TEXT },
  { "Limits", 26, PAWL_COLUMN_TEXT },
  { "As found", 17, PAWL_COLUMN_NUMBER },
  { "As left", 20, PAWL_COLUMN_NUMBER },
  { "", 19, PAWL_COLUMN_TEXT },
  { "Verdict", 16, PAWL_COLUMN_TEXT },
};

static void
add_line_value (PawlTable *table, guint column, const PawlAttempt *attempt, PawlLetter letter, const char *otherwise)
{
  g_autofree char *reading = attempt ? pawl_words_reading (attempt) : NULL;
  gboolean is_long = attempt && attempt->quantity && pawl_quantity_is_interval (attempt->quantity);

  pawl_table_add (table, column, is_long ? PAWL_LETTER_NOTE : attempt ? letter : PAWL_LETTER_CELL, attempt ? reading : otherwise);
}

static const PawlQuantity *
peek_quantity (const PawlAttempt *attempt)
{
  return attempt && !attempt->values && !attempt->is_void ? attempt->quantity : NULL;
}

static void
add_line (PawlTable *table, const PawlResult *result)
{
  const PawlAskState *state = result->as_left;
  gboolean is_found_only = state->ask->reading->is_as_found;
  const PawlAttempt *judged = result->left ? result->left : is_found_only ? result->found : NULL;
  g_autofree char *limits = pawl_limits_describe (state->limits);
  g_autofree char *word = judged ? pawl_words_verdict (judged) : g_strdup ("not measured");
  PawlLimitsScale scale;

  pawl_table_begin_row (table);
  pawl_table_add (table, LINE_NAME, PAWL_LETTER_CELL_STRONG, state->ask->name);
  pawl_table_add (table, LINE_LIMITS, PAWL_LETTER_CELL, limits);
  add_line_value (table, LINE_FOUND, result->found, PAWL_LETTER_CELL, "–");
  add_line_value (table, LINE_LEFT, result->left, PAWL_LETTER_CELL_STRONG, is_found_only ? "–" : "not measured");
  if ((peek_quantity (result->found) || peek_quantity (result->left))
      && pawl_limits_scale_make (state->limits, peek_quantity (result->found), peek_quantity (result->left), result->left ? &result->left->verdict : NULL, &scale))
    pawl_table_add_bar (table, LINE_BAR, &scale);
  pawl_table_add (table, LINE_VERDICT, judged && judged->verdict.kind == PAWL_VERDICT_IN ? PAWL_LETTER_CELL : PAWL_LETTER_CELL_STRONG, word);
  pawl_table_add (table, LINE_VERDICT, PAWL_LETTER_NOTE, is_found_only && judged ? "as found" : pawl_words_standing (state->status));
}

void
pawl_content_add_found_and_left (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (line_columns, G_N_ELEMENTS (line_columns));
  g_autofree char *policy = pawl_policy_describe (pawl_job_get_policy (content->job));
  g_autofree char *note = g_strdup_printf ("%s Decision rule: %s", pawl_bar_get_legend (), policy);

  if (results->len == 0)
    return;
  for (guint i = 0; i < results->len; i++)
    add_line (table, g_ptr_array_index (results, i));
  pawl_flow_add_heading (content->flow, "As found, as left");
  pawl_table_set_note (table, note);
  pawl_flow_add_table (content->flow, table);
}

/* ---- tests and settings, each in one paragraph ---- */

static void
append_pair (GString *text, const char *name, const char *value)
{
  g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "; " : "", name, value);
}

static void
append_leak (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  const PawlAttempt *last = state->n_current > 0 ? g_ptr_array_index (state->attempts, state->attempts->len - 1) : NULL;
  g_autofree char *outcome = last ? pawl_words_outcome (pawl_entry_get (last->entry, "answer")) : g_strdup ("not confirmed");

  if (state->ask->check->kind == PAWL_CHECK_LEAK)
    append_pair (data, state->ask->name, outcome);
}

void
pawl_content_add_short_tests (const PawlContent *content)
{
  g_autoptr (GString) text = g_string_new (NULL);

  pawl_content_visit_asks (content, PAWL_ASK_CHECK, append_leak, text);
  if (text->len == 0)
    return;
  g_string_append_c (text, '.');
  pawl_flow_add_heading (content->flow, "Tests for leaks");
  pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, text->str);
}

void
pawl_content_add_care (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (GString) text = g_string_new (NULL);
  const char *care = pawl_content_find_said (content, "care", NULL);

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);
      g_autofree char *value = result->left ? pawl_words_reading (result->left) : NULL;

      if (value && pawl_content_is_setting (result->as_left->ask->reading))
        append_pair (text, result->as_left->ask->name, value);
    }
  if (text->len == 0 && !care)
    return;
  pawl_flow_add_heading (content->flow, "Settings as left, and care");
  if (care)
    pawl_flow_add_text (content->flow, PAWL_LETTER_STRONG, care);
  if (text->len > 0)
    {
      g_string_append_c (text, '.');
      pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, text->str);
    }
}

/* ---- parts ---- */

enum { PART_ITEM, PART_NAME, PART_QUANTITY, PART_FATE, PART_ORIGIN, N_PART_COLUMNS };

static const PawlColumn part_columns[N_PART_COLUMNS] = {
  { "Item", 6, PAWL_COLUMN_NUMBER },
  { "Part", 34, PAWL_COLUMN_TEXT },
  { "Qty", 6, PAWL_COLUMN_NUMBER },
  { "What became of it", 30, PAWL_COLUMN_TEXT },
  { "Source, lot, reason", 50, PAWL_COLUMN_TEXT },
};

/* New from the kit without more to say of it: the line of the kit speaks for it. */
static gboolean
is_of_kit (const PawlPartState *state)
{
  return state->place == PAWL_PLACE_SEATED && state->part->is_kit && !state->disposition && !state->arrival;
}

static gboolean
is_as_it_was (const PawlPartState *state)
{
  return !state->disposition && !state->arrival && !is_of_kit (state) && (state->place == PAWL_PLACE_SEATED || state->place == PAWL_PLACE_ON_UNIT);
}

static void
add_part (PawlTable *table, const PawlPartState *state)
{
  g_autofree char *quantity = g_strdup_printf ("%u", state->part->quantity);
  g_autofree char *fate = pawl_words_part (state);
  g_autofree char *origin = state->arrival ? pawl_words_origin (state->arrival) : state->disposition ? pawl_words_origin (state->disposition) : NULL;

  pawl_table_begin_row (table);
  pawl_table_add (table, PART_ITEM, PAWL_LETTER_CELL, state->part->item);
  pawl_table_add (table, PART_NAME, PAWL_LETTER_CELL_STRONG, state->part->name);
  pawl_table_add (table, PART_QUANTITY, PAWL_LETTER_CELL, quantity);
  pawl_table_add (table, PART_FATE, PAWL_LETTER_CELL, fate);
  pawl_table_add (table, PART_ORIGIN, PAWL_LETTER_CELL, origin);
}

/* "New from the SD-3 overhaul kit, lot K3-0417: Bowl cover gasket (item 3); …": by name and item. */
static void
add_kit_line (const PawlContent *content, GPtrArray *parts)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *lots = pawl_words_kit_lots (content->job), *line = NULL;
  const char *kit = pawl_procedure_get_kit (content->procedure);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);

      if (is_of_kit (state))
        g_string_append_printf (text, "%s%s (item %s)", text->len > 0 ? "; " : "", state->part->name, state->part->item);
    }
  if (text->len == 0)
    return;
  line = g_strdup_printf ("New from the %s, lot %s: %s.", *kit ? kit : "kit", *lots ? lots : "not stated", text->str);
  pawl_flow_add_text (content->flow, pawl_flow_is_tight (content->flow) ? PAWL_LETTER_CELL : PAWL_LETTER_BODY, line);
  pawl_flow_add_space (content->flow, 3);
}

void
pawl_content_add_new_parts (const PawlContent *content)
{
  GPtrArray *parts = pawl_job_get_parts (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (part_columns, G_N_ELEMENTS (part_columns));
  guint n_as_it_was = 0;

  if (parts->len == 0)
    return;
  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);

      if (is_as_it_was (state))
        n_as_it_was++;
      else if (!is_of_kit (state))
        add_part (table, state);
    }
  pawl_flow_add_heading (content->flow, "Parts");
  add_kit_line (content, parts);
  pawl_flow_add_table (content->flow, table);
  if (n_as_it_was > 0)
    {
      g_autofree char *rest = g_strdup_printf ("The other %u of %u items are the unit's own, refitted or left in place.", n_as_it_was, parts->len);

      pawl_flow_add_space (content->flow, 3);
      pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, rest);
    }
}

/* ---- photos ---- */

#define MOST_PHOTOS 4
#define PHOTO_HEIGHT_PT 70.0
#define TIGHT_PHOTO_HEIGHT_PT 50.0

/* From the first to the last, as evenly spread as can be: the unit as it came, on its way, and as it left. */
static GPtrArray *
choose (GPtrArray *photos)
{
  GPtrArray *chosen = g_ptr_array_new ();
  guint n = MIN (photos->len, MOST_PHOTOS);

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (chosen, g_ptr_array_index (photos, n > 1 ? i * (photos->len - 1) / (n - 1) : 0));
  return chosen;
}

void
pawl_content_add_chosen_photos (const PawlContent *content)
{
  g_autoptr (GPtrArray) photos = pawl_content_list_photos (content);
  g_autoptr (GPtrArray) chosen = choose (photos);
  g_autofree char *heading = NULL;

  if (photos->len == 0)
    return;
  heading = photos->len > chosen->len ? g_strdup_printf ("Photos: %u of %u, all in the full record", chosen->len, photos->len) : g_strdup ("Photos");
  pawl_flow_add_heading (content->flow, heading);
  pawl_content_add_photo_row (content, chosen, 0, MOST_PHOTOS, pawl_flow_is_tight (content->flow) ? TIGHT_PHOTO_HEIGHT_PT : PHOTO_HEIGHT_PT);
}
