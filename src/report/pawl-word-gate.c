#include "report/pawl-word-gate.h"

static void
clause_finding_free (gpointer data)
{
  PawlClauseFinding *finding = data;

  g_ptr_array_unref (finding->lacks);
  g_free (finding);
}

static void
word_finding_free (gpointer data)
{
  PawlWordFinding *finding = data;

  g_ptr_array_unref (finding->findings);
  g_free (finding);
}

static PawlClauseFinding *
judge_clause (const PawlClause *clause, PawlJob *job)
{
  PawlClauseFinding *finding = g_new0 (PawlClauseFinding, 1);

  finding->clause = clause;
  finding->lacks = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < clause->evidence->len; i++)
    pawl_evidence_add_lacks (g_ptr_array_index (clause->evidence, i), job, finding->lacks);
  return finding;
}

/* Two words may stand with the same third. */
static gboolean
has_clause (const PawlWordFinding *finding, const PawlClause *clause)
{
  for (guint i = 0; i < finding->findings->len; i++)
    if (((PawlClauseFinding *) g_ptr_array_index (finding->findings, i))->clause == clause)
      return TRUE;
  return FALSE;
}

static void
add_clauses (PawlWordFinding *finding, const PawlClauseWord *word, PawlJob *job)
{
  for (guint i = 0; i < word->with->len; i++)
    add_clauses (finding, g_ptr_array_index (word->with, i), job);
  for (guint i = 0; i < word->clauses->len; i++)
    if (!has_clause (finding, g_ptr_array_index (word->clauses, i)))
      {
        PawlClauseFinding *judged = judge_clause (g_ptr_array_index (word->clauses, i), job);

        finding->n_lacking += judged->lacks->len > 0;
        g_ptr_array_add (finding->findings, judged);
      }
}

PawlWordGate *
pawl_word_gate_judge (const PawlClauses *clauses, PawlJob *job)
{
  PawlWordGate *self = g_new0 (PawlWordGate, 1);

  self->words = g_ptr_array_new_with_free_func (word_finding_free);
  for (guint i = 0; i < clauses->words->len; i++)
    {
      PawlWordFinding *finding = g_new0 (PawlWordFinding, 1);

      finding->word = g_ptr_array_index (clauses->words, i);
      finding->findings = g_ptr_array_new_with_free_func (clause_finding_free);
      add_clauses (finding, finding->word, job);
      if (finding->n_lacking == 0)
        self->earned = finding;
      g_ptr_array_add (self->words, finding);
    }
  return self;
}

void
pawl_word_gate_free (PawlWordGate *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->words);
  g_free (self);
}

char *
pawl_word_gate_dup_title (const PawlWordGate *self)
{
  return g_strdup (self->earned ? self->earned->word->title : "Record of work");
}

const PawlWordFinding *
pawl_word_gate_peek_highest (const PawlWordGate *self)
{
  const PawlWordFinding *highest = g_ptr_array_index (self->words, self->words->len - 1);

  return highest == self->earned ? NULL : highest;
}

char *
pawl_clause_finding_describe (const PawlClauseFinding *self, guint most)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < self->lacks->len && i < most; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", (const char *) g_ptr_array_index (self->lacks, i));
  if (self->lacks->len > most)
    g_string_append_printf (text, "; and %u more", self->lacks->len - most);
  return g_string_free (text, FALSE);
}
