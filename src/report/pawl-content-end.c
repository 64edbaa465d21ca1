/* The end: settings as left, who signed, what the report does not say, and the head of the record's chain. */
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* ---- settings ---- */

static const PawlColumn setting_columns[] = {
  { "Setting", 37, PAWL_COLUMN_TEXT },
  { "As left", 29, PAWL_COLUMN_NUMBER },
  { "How it was measured", 50, PAWL_COLUMN_TEXT },
};

gboolean
pawl_content_is_setting (const PawlReading *reading)
{
  const PawlUnit *unit = pawl_limits_get_unit (reading->limits);
  PawlDimension dimension = unit ? pawl_unit_get_dimension (unit) : PAWL_DIMENSION_NONE;

  return dimension == PAWL_DIMENSION_ANGLE || dimension == PAWL_DIMENSION_TORQUE;
}

void
pawl_content_add_settings (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (setting_columns, G_N_ELEMENTS (setting_columns));
  const char *care = pawl_content_find_said (content, "care", NULL);

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);
      const PawlAsk *ask = result->as_left->ask;
      g_autofree char *value = NULL, *conditions = NULL;

      if (!pawl_content_is_setting (ask->reading) || !result->left)
        continue;
      conditions = pawl_words_conditions (ask->reading);
      value = pawl_words_reading (result->left);
      pawl_table_begin_row (table);
      pawl_table_add (table, 0, PAWL_LETTER_CELL, ask->name);
      pawl_table_add (table, 1, PAWL_LETTER_CELL_STRONG, value);
      pawl_table_add (table, 2, PAWL_LETTER_NOTE, conditions);
    }
  if (pawl_table_get_n_rows (table) == 0 && !care)
    return;
  pawl_flow_add_heading (content->flow, care ? "Settings as left, and care" : "Settings as left");
  if (care)
    pawl_flow_add_lead_in (content->flow, PAWL_LETTER_BODY, care);
  pawl_flow_add_table (content->flow, table);
}

/* ---- sign-off ---- */

static const PawlColumn sign_columns[] = {
  { "Who", 24, PAWL_COLUMN_TEXT },
  { "Role", 18, PAWL_COLUMN_TEXT },
  { "Statement", 66, PAWL_COLUMN_TEXT },
  { "When", 18, PAWL_COLUMN_TEXT },
};

/* "trainer, by PIN": whether the record has more than a name for it. */
static char *
describe_role (const PawlEntry *entry)
{
  const char *role = pawl_entry_get (entry, "role");

  return g_strconcat (role ? role : "role not stated", pawl_entry_get (entry, "by-pin") ? ", by PIN" : NULL, NULL);
}

static void
add_sign_row (const PawlContent *content, PawlTable *table, const PawlEntry *entry, const char *statement)
{
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (entry), content->opened);
  g_autofree char *role = describe_role (entry);
  const char *name = pawl_entry_get (entry, "name");

  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL_STRONG, name ? name : pawl_entry_get_person (entry));
  pawl_table_add (table, 1, PAWL_LETTER_CELL, role);
  pawl_table_add (table, 2, PAWL_LETTER_CELL, statement);
  pawl_table_add (table, 3, PAWL_LETTER_CELL, time);
}

/* Who released holds, witnessed and reviewed, each once, for a reader who needs no list of them; "" when nobody did. */
static char *
list_checkers (const PawlContent *content)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);
  GString *text = g_string_new (NULL);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      const char *name = state->release ? pawl_entry_get_person (state->release) : NULL;

      if (!name || g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        continue;
      g_ptr_array_add (names, (gpointer) name);
      g_string_append_printf (text, "%s%s, %s", text->len > 0 ? "; " : " Checked on the way by: ", name,
                              pawl_entry_get (state->release, "role") ? pawl_entry_get (state->release, "role") : "role not stated");
    }
  if (text->len > 0)
    g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

static void
add_releases (const PawlContent *content, PawlTable *table)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      g_autofree char *statement = NULL;

      if (!state->release)
        continue;
      statement = g_strdup_printf ("%s step %s, %s", pawl_words_release (state->step->hold), state->step->number, state->step->command);
      add_sign_row (content, table, state->release, statement);
    }
}

/* "Performed by": everybody who finished a step, in the order of their first. */
static char *
list_people (const PawlContent *content)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);
  g_autoptr (GPtrArray) names = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      const char *person = state->done ? pawl_entry_get_person (state->done) : "";

      if (*person && !g_ptr_array_find_with_equal_func (names, person, g_str_equal, NULL))
        g_ptr_array_add (names, (gpointer) person);
    }
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **) names->pdata);
}

static const char *
get_statement (const PawlEntry *signature)
{
  const char *statement = pawl_entry_get (signature, "statement");

  return statement ? statement : "Signed.";
}

/* One line for each who has a part in it. */
static void
add_short_signature (const PawlContent *content, const PawlEntry *signature)
{
  g_autofree char *time = signature ? pawl_words_time (pawl_entry_peek_at (signature)) : NULL, *line = NULL;
  const char *name = signature ? pawl_entry_get (signature, "name") : NULL, *role = signature ? pawl_entry_get (signature, "role") : NULL;

  if (!signature)
    return;
  line = g_strdup_printf ("Signed by: %s, %s, %s: “%s”", name ? name : pawl_entry_get_person (signature), role ? role : "role not stated", time,
                          get_statement (signature));
  pawl_flow_add_text (content->flow, PAWL_LETTER_STRONG, line);
}

void
pawl_content_add_signature (const PawlContent *content)
{
  PawlEntry *signature = pawl_job_peek_signature (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (sign_columns, G_N_ELEMENTS (sign_columns));
  g_autofree char *people = list_people (content);
  gboolean is_short = pawl_content_is_for_customer (content);
  g_autofree char *checkers = is_short ? list_checkers (content) : g_strdup ("");
  g_autofree char *performed = g_strdup_printf ("Performed by: %s.%s", *people ? people : "nobody yet", checkers);

  pawl_flow_add_heading (content->flow, "Sign-off");
  if (!signature)
    pawl_flow_add_text (content->flow, PAWL_LETTER_STRONG, "Not signed.");
  pawl_flow_add_lead_in (content->flow, PAWL_LETTER_BODY, performed);
  if (is_short)
    {
      add_short_signature (content, signature);
      return;
    }
  add_releases (content, table);
  if (signature)
    add_sign_row (content, table, signature, get_statement (signature));
  pawl_flow_add_table (content->flow, table);
}

/* ---- limits of what is said ---- */

static void
add_head (const PawlContent *content)
{
  GPtrArray *entries = pawl_job_get_entries (content->job);
  g_autofree char *count = g_strdup_printf ("Entries in the record, chained by SHA-256: %u. Job %s. The digest of the last entry:", entries->len,
                                            pawl_job_get_id (content->job));

  pawl_flow_add_lead_in (content->flow, PAWL_LETTER_NOTE, count);
  pawl_flow_add_lead_in (content->flow, PAWL_LETTER_DIGEST, content->options->head ? content->options->head : "not stated");
}

static void
add_end_mark (const PawlContent *content)
{
  double width = pawl_flow_get_width (content->flow);
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);
  const PawlRowStyle style = { .space_before = 10, .padding = 3, .rule_above = 0.9, .rule_grey = 0 };
  const double x = 0;

  pawl_cell_add_right (cell, PAWL_LETTER_NOTE, "End of report");
  pawl_flow_take_cells (content->flow, &cell, &x, 1, &style);
}

/* The shop's own words: Pawl adds none to them. */
static void
add_shop_texts (const PawlContent *content, PawlLetter letter)
{
  const PawlShop *shop = content->options->shop;

  if (shop && *shop->warranty)
    {
      g_autofree char *warranty = g_strdup_printf ("Warranty, in the shop's own words: %s", shop->warranty);

      pawl_flow_add_text (content->flow, letter, warranty);
    }
  if (shop && shop->keep_years > 0)
    {
      g_autofree char *keep = g_strdup_printf ("The shop keeps this report and its record for %u %s.", shop->keep_years, shop->keep_years == 1 ? "year" : "years");

      pawl_flow_add_text (content->flow, letter, keep);
    }
}

void
pawl_content_add_limits (const PawlContent *content)
{
  gboolean is_short = pawl_content_is_for_customer (content);
  PawlLetter letter = is_short ? PAWL_LETTER_NOTE : PAWL_LETTER_BODY;

  /* On one page with the end mark: whoever holds the last page can check the whole record against it. */
  pawl_flow_set_together (content->flow, TRUE);
  pawl_flow_add_heading (content->flow, "Limits of this report");
  pawl_flow_add_text (content->flow, letter,
                      "Results relate only to this unit, as it was when they were taken. This report is not to be copied except in full. "
                      "Not an airworthiness, roadworthiness or pressure-vessel release.");
  if (!is_short) /* it stands under the title */
    pawl_flow_add_text (content->flow, letter, pawl_procedure_get_statement (content->procedure));
  add_shop_texts (content, letter);
  add_head (content);
  add_end_mark (content);
  pawl_flow_set_together (content->flow, FALSE);
}
