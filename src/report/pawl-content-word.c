/* Which word the report has as its title and why it is no higher one; what changed since the version before. */
#include "report/pawl-content.h"

/* So many lacks of a clause are printed; how many more there are is said. */
#define MOST_LACKS 4

enum { WORD_WORD, WORD_CLAUSE, WORD_SHOWN, N_WORD_COLUMNS };

static const PawlColumn word_columns[N_WORD_COLUMNS] = {
  { "Word", 14, PAWL_COLUMN_TEXT },
  { "What it wants", 48, PAWL_COLUMN_TEXT },
  { "What the record shows", 56, PAWL_COLUMN_TEXT },
};

static const PawlClauseFinding *
find_finding (const PawlWordFinding *word, const PawlClause *clause)
{
  for (guint i = 0; i < word->findings->len; i++)
    if (((PawlClauseFinding *) g_ptr_array_index (word->findings, i))->clause == clause)
      return g_ptr_array_index (word->findings, i);
  return NULL;
}

static void
add_clause (const PawlContent *content, PawlTable *table, const char *word, const PawlClauseFinding *finding)
{
  const char *source = finding->clause->source;
  g_autofree char *lacks = pawl_clause_finding_describe (finding, MOST_LACKS);
  g_autofree char *sentence = g_strdup_printf ("Lacking: %s.", lacks);

  pawl_table_begin_row (table);
  pawl_table_add (table, WORD_WORD, PAWL_LETTER_CELL_STRONG, word);
  pawl_table_add (table, WORD_CLAUSE, PAWL_LETTER_CELL, finding->clause->says);
  pawl_table_add (table, WORD_CLAUSE, PAWL_LETTER_NOTE, source);
  if (finding->lacks->len == 0)
    pawl_table_add (table, WORD_SHOWN, PAWL_LETTER_CELL, "shown");
  else
    pawl_table_add (table, WORD_SHOWN, PAWL_LETTER_CELL_STRONG, sentence);
}

void
pawl_content_add_word (const PawlContent *content)
{
  g_autoptr (PawlTable) table = pawl_table_new (word_columns, G_N_ELEMENTS (word_columns));
  g_autofree char *source = g_strdup_printf ("Clauses: %s. Source: %s.", content->clauses->name, content->clauses->source);

  for (guint i = 0; i < content->gate->words->len; i++)
    {
      const PawlWordFinding *word = g_ptr_array_index (content->gate->words, i);

      for (guint j = 0; j < word->word->clauses->len; j++)
        add_clause (content, table, j == 0 ? word->word->title : NULL, find_finding (word, g_ptr_array_index (word->word->clauses, j)));
    }
  pawl_flow_add_heading (content->flow, "Word");
  pawl_flow_add_lead_in (content->flow, PAWL_LETTER_BODY,
                         "The title of this report is the highest of these words whose clauses, and those of the words that it stands on, are all shown by the record.");
  pawl_table_set_note (table, source);
  pawl_flow_add_table (content->flow, table);
}

void
pawl_content_add_changes (const PawlContent *content)
{
  const char * const *changes = content->options->changes;
  g_autofree char *title = NULL;

  if (!changes || !*changes)
    return;
  title = g_strdup_printf ("Changed since version %u", content->options->version - 1);
  pawl_flow_add_heading (content->flow, title);
  for (guint i = 0; changes[i]; i++)
    pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, changes[i]);
}
