/* What was found: which way parts went in, checks, parts. */
#include "job/pawl-job-parts.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

void
pawl_content_add_person (const PawlContent *content, PawlTable *table, guint by_column, guint when_column, const PawlEntry *entry)
{
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (entry), content->opened);

  pawl_table_add (table, by_column, PAWL_LETTER_CELL, pawl_entry_get_person (entry));
  pawl_table_add (table, when_column, PAWL_LETTER_NOTE, time);
}

void
pawl_content_visit_asks (const PawlContent *content, PawlAskKind kind, PawlAskVisit visit, gpointer data)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = g_ptr_array_index (step->asks, j);

          if (state->ask->kind == kind && state->status != PAWL_ASK_NOT_APPLICABLE)
            visit (content, state, data);
        }
    }
}

/* The last answer that counts; NULL when there is none, or when it has to be given again. */
static const PawlAttempt *
find_answer (const PawlAskState *state)
{
  return state->n_current > 0 ? g_ptr_array_index (state->attempts, state->attempts->len - 1) : NULL;
}

/* ---- which way round ---- */

enum { FIT_ITEM, FIT_PART, FIT_WAY, FIT_VERIFY, FIT_RESULT, FIT_BY, N_FIT_COLUMNS };

static const PawlColumn fit_columns[N_FIT_COLUMNS] = {
  { "Item", 5, PAWL_COLUMN_TEXT },
  { "Part", 19, PAWL_COLUMN_TEXT },
  { "Right way", 41, PAWL_COLUMN_TEXT },
  { "How verified", 33, PAWL_COLUMN_TEXT },
  { "Result", 13, PAWL_COLUMN_TEXT },
  { "By", 16, PAWL_COLUMN_TEXT },
};

/* Where a fit or a check stands: its answer and, when it took more than one, how many were wrong before. */
static void
add_answer (PawlTable *table, guint column, const PawlAskState *state, const char *accepted)
{
  const PawlAttempt *answer = find_answer (state);
  guint n_wrong = 0;

  for (guint i = 0; i < state->attempts->len; i++)
    if (!((const PawlAttempt *) g_ptr_array_index (state->attempts, i))->is_accepted)
      n_wrong++;
  if (!answer)
    pawl_table_add (table, column, PAWL_LETTER_CELL_STRONG, "not confirmed");
  else if (answer->is_accepted && accepted)
    pawl_table_add (table, column, PAWL_LETTER_CELL_STRONG, accepted);
  else
    {
      g_autofree char *outcome = pawl_words_outcome (pawl_entry_get (answer->entry, "answer"));

      pawl_table_add (table, column, PAWL_LETTER_CELL_STRONG, outcome);
    }
  if (answer && answer->is_accepted && n_wrong > 0)
    {
      g_autofree char *before = n_wrong == 1 ? g_strdup ("found wrong once before, put right")
                                             : g_strdup_printf ("found wrong %u times before, put right", n_wrong);

      pawl_table_add (table, column, PAWL_LETTER_NOTE, before);
    }
  pawl_table_add (table, column, PAWL_LETTER_NOTE, pawl_words_standing (state->status));
}

static void
add_fit_row (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  PawlTable *table = data;
  const PawlRule *rule = state->ask->rule;
  const PawlPart *part = pawl_procedure_lookup_part (content->procedure, rule->part);
  const PawlAttempt *answer = find_answer (state);
  g_autofree char *verify = g_strdup_printf ("%s: %s", pawl_words_verify_by (rule->verify_by), rule->verify ? rule->verify : "");

  pawl_table_begin_row (table);
  pawl_table_add (table, FIT_ITEM, PAWL_LETTER_CELL, part ? part->item : "");
  pawl_table_add (table, FIT_PART, PAWL_LETTER_CELL, part ? part->name : state->ask->name);
  pawl_table_add (table, FIT_WAY, PAWL_LETTER_CELL, rule->says);
  pawl_table_add (table, FIT_VERIFY, PAWL_LETTER_NOTE, verify);
  add_answer (table, FIT_RESULT, state, "right");
  if (answer)
    pawl_content_add_person (content, table, FIT_BY, FIT_BY, answer->entry);
}

void
pawl_content_add_fits (const PawlContent *content)
{
  g_autoptr (PawlTable) table = pawl_table_new (fit_columns, G_N_ELEMENTS (fit_columns));

  pawl_content_visit_asks (content, PAWL_ASK_FIT, add_fit_row, table);
  if (pawl_table_get_n_rows (table) == 0)
    return;
  pawl_flow_add_heading (content->flow, "Which way round");
  pawl_flow_add_table (content->flow, table);
}

/* ---- checks ---- */

enum { CHECK_NAME, CHECK_WHAT, CHECK_RESULT, CHECK_BY, CHECK_WHEN, N_CHECK_COLUMNS };

static const PawlColumn check_columns[N_CHECK_COLUMNS] = {
  { "Check", 27, PAWL_COLUMN_TEXT },
  { "What was tried, what is accepted", 62, PAWL_COLUMN_TEXT },
  { "Result", 16, PAWL_COLUMN_TEXT },
  { "By", 15, PAWL_COLUMN_TEXT },
  { "When", 17, PAWL_COLUMN_TEXT },
};

static char *
say_passage (const PawlCheck *check)
{
  GString *text = g_string_new (NULL);

  if (check->from && check->to)
    g_string_append_printf (text, "from %s to %s", check->from, check->to);
  if (check->with)
    g_string_append_printf (text, "%swith %s", text->len > 0 ? ", " : "", check->with);
  if (check->is_metering)
    g_string_append_printf (text, "%smetering passage: no wire, no drill", text->len > 0 ? "; " : "");
  return g_string_free (text, FALSE);
}

/* (nullable): what the author says of the outcome that was seen. */
static const char *
find_look (const PawlCheck *check, const PawlAttempt *answer)
{
  for (guint i = 0; answer && i < check->pictures->len; i++)
    {
      const PawlOutcomePicture *picture = g_ptr_array_index (check->pictures, i);

      if (g_strcmp0 (picture->outcome, pawl_entry_get (answer->entry, "answer")) == 0)
        return picture->says;
    }
  return NULL;
}

static void
add_check_row (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  PawlTable *table = data;
  const PawlCheck *check = state->ask->check;
  const char * const *acceptable = pawl_limits_peek_acceptable (check->limits);
  g_autofree char *passage = say_passage (check);
  g_autofree char *wanted = acceptable ? pawl_words_outcomes (acceptable) : g_strdup ("not stated");
  const PawlAttempt *answer = find_answer (state);
  g_autofree char *counted = answer ? pawl_kit_describe_count (content->job, state->ask, answer) : NULL;
  g_autofree char *tried = counted ? g_strdup (state->ask->says) : g_strdup_printf ("%s Accepted: %s.", state->ask->says, wanted);

  pawl_table_begin_row (table);
  pawl_table_add (table, CHECK_NAME, PAWL_LETTER_CELL_STRONG, state->ask->name);
  pawl_table_add (table, CHECK_NAME, PAWL_LETTER_NOTE, state->ask->source);
  pawl_table_add (table, CHECK_WHAT, PAWL_LETTER_CELL, tried);
  pawl_table_add (table, CHECK_WHAT, PAWL_LETTER_NOTE, passage);
  add_answer (table, CHECK_RESULT, state, NULL);
  pawl_table_add (table, CHECK_RESULT, PAWL_LETTER_NOTE, counted);
  pawl_table_add (table, CHECK_RESULT, PAWL_LETTER_NOTE, find_look (check, answer));
  if (answer)
    pawl_content_add_person (content, table, CHECK_BY, CHECK_WHEN, answer->entry);
}

void
pawl_content_add_checks (const PawlContent *content)
{
  g_autoptr (PawlTable) table = pawl_table_new (check_columns, G_N_ELEMENTS (check_columns));

  pawl_content_visit_asks (content, PAWL_ASK_CHECK, add_check_row, table);
  if (pawl_table_get_n_rows (table) == 0)
    return;
  pawl_flow_add_heading (content->flow, "Checks");
  pawl_flow_add_table (content->flow, table);
}

/* ---- parts ---- */

enum { PART_ITEM, PART_NAME, PART_QUANTITY, PART_FATE, N_PART_COLUMNS };

static const PawlColumn part_columns[N_PART_COLUMNS] = {
  { "Item", 5, PAWL_COLUMN_NUMBER },
  { "Part", 25, PAWL_COLUMN_TEXT },
  { "Qty", 5, PAWL_COLUMN_NUMBER },
  { "What became of it", 25, PAWL_COLUMN_TEXT },
};

static void
add_part (PawlTable *table, const PawlPartState *state)
{
  g_autofree char *quantity = g_strdup_printf ("%u", state->part->quantity);
  g_autofree char *fate = pawl_words_part (state);
  g_autofree char *origin = state->arrival ? pawl_words_origin (state->arrival) : state->disposition ? pawl_words_origin (state->disposition) : NULL;

  pawl_table_begin_row (table);
  pawl_table_add (table, PART_ITEM, PAWL_LETTER_CELL, state->part->item);
  pawl_table_add (table, PART_NAME, PAWL_LETTER_CELL, state->part->name);
  pawl_table_add (table, PART_QUANTITY, PAWL_LETTER_CELL, quantity);
  pawl_table_add (table, PART_FATE, PAWL_LETTER_CELL, fate);
  pawl_table_add (table, PART_FATE, PAWL_LETTER_NOTE, origin);
}

/* The kit in one line: its name, and the lot that its reconciled lines name. */
static void
add_kit (const PawlContent *content)
{
  const char *kit = pawl_procedure_get_kit (content->procedure);
  g_autofree char *lots = pawl_words_kit_lots (content->job);
  g_autofree char *line = g_strdup_printf ("The kit is the %s, lot %s.", kit, *lots ? lots : "not stated");

  if (*kit)
    pawl_flow_add_lead_in (content->flow, PAWL_LETTER_BODY, line);
}

enum { KIT_NAME, KIT_BROUGHT, KIT_NEEDED, KIT_LEFT, KIT_SAID, N_KIT_COLUMNS };

static const PawlColumn kit_columns[N_KIT_COLUMNS] = {
  { "Line of the kit", 42, PAWL_COLUMN_TEXT },
  { "In hand", 10, PAWL_COLUMN_NUMBER },
  { "Needed", 10, PAWL_COLUMN_NUMBER },
  { "Left over", 11, PAWL_COLUMN_NUMBER },
  { "", 43, PAWL_COLUMN_TEXT },
};

/* What is not as listed, in words. */
static char *
say_kit_line (const PawlKitLine *line)
{
  if (line->state->n_current == 0)
    return g_strdup ("not looked at");
  if (line->shortage > 0)
    return g_strdup_printf ("%u short", line->shortage);
  if (line->in_hand != line->brings)
    return g_strdup_printf ("%u by the list", line->brings);
  return g_strdup (line->state->ask->check->is_unused ? "not for this unit, put aside" : "");
}

static void
add_kit_line (PawlTable *table, const PawlKitLine *line)
{
  g_autofree char *in_hand = g_strdup_printf ("%u", line->in_hand), *need = g_strdup_printf ("%u", line->need), *left = g_strdup_printf ("%u", line->left);
  g_autofree char *said = say_kit_line (line);

  pawl_table_begin_row (table);
  pawl_table_add (table, KIT_NAME, PAWL_LETTER_CELL, line->state->ask->name);
  pawl_table_add (table, KIT_BROUGHT, PAWL_LETTER_CELL, in_hand);
  pawl_table_add (table, KIT_NEEDED, PAWL_LETTER_CELL, need);
  pawl_table_add (table, KIT_LEFT, PAWL_LETTER_CELL, left);
  pawl_table_add (table, KIT_SAID, PAWL_LETTER_CELL, said);
}

/* Each counted line, what should be left over, and what is not as it should be. */
static void
add_kit_lines (const PawlContent *content)
{
  g_autoptr (GPtrArray) kit = pawl_job_list_kit (content->job), remarks = pawl_job_list_kit_remarks (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (kit_columns, N_KIT_COLUMNS);
  g_autofree char *left = pawl_job_describe_left_over (content->job);
  g_autofree char *line = g_strdup_printf ("Left over, by the count: %u pieces%s%s.", pawl_job_count_left_over (content->job), *left ? ": " : "", left);

  for (guint i = 0; i < kit->len; i++)
    add_kit_line (table, g_ptr_array_index (kit, i));
  if (kit->len == 0)
    return;
  pawl_flow_add_space (content->flow, 8);
  pawl_table_set_note (table, line);
  pawl_flow_add_table (content->flow, table);
  for (guint i = 0; i < remarks->len; i++)
    pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, g_ptr_array_index (remarks, i));
}

/* What never came. */
static void
add_lacking (const PawlContent *content)
{
  g_autoptr (GPtrArray) lacking = pawl_job_list_lacking (content->job);

  for (guint i = 0; i < lacking->len; i++)
    {
      const PawlPartState *part = g_ptr_array_index (lacking, i);
      g_autofree char *words = pawl_lack_describe (part->lack, pawl_job_peek_now (content->job));
      g_autofree char *line = g_strdup_printf ("%s %s is not there: %s.", part->part->item, part->part->name, words);

      pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, line);
    }
}

void
pawl_content_add_parts (const PawlContent *content)
{
  GPtrArray *parts = pawl_job_get_parts (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (part_columns, G_N_ELEMENTS (part_columns));

  if (parts->len == 0)
    return;
  for (guint i = 0; i < parts->len; i++)
    add_part (table, g_ptr_array_index (parts, i));
  pawl_flow_add_heading (content->flow, "Parts");
  add_kit (content);
  pawl_flow_add_halves (content->flow, table);
  add_lacking (content);
  add_kit_lines (content);
}
