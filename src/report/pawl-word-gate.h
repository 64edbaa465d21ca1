/* The word gate: the title of a report is the highest word that the job's entries support; of every other word it is known what is lacking. */
#pragma once

#include "report/pawl-clauses.h"

G_BEGIN_DECLS

typedef struct {
  const PawlClause *clause; /* borrowed from the clauses */
  GPtrArray        *lacks;  /* (element-type utf8): what the record does not show, sentences without their full stop; empty: it stands */
} PawlClauseFinding;

typedef struct {
  const PawlClauseWord *word;
  GPtrArray            *findings; /* (element-type PawlClauseFinding): those of the words that it stands with first, each clause once */
  guint                 n_lacking; /* clauses that lack something */
} PawlWordFinding;

typedef struct {
  GPtrArray             *words;  /* (element-type PawlWordFinding), lowest first */
  const PawlWordFinding *earned; /* (nullable): the highest without a lack */
} PawlWordGate;

/* Pure. @clauses and @job have to outlive the result. */
PawlWordGate *pawl_word_gate_judge (const PawlClauses *clauses, PawlJob *job);
void          pawl_word_gate_free  (PawlWordGate *self);
/* (transfer full): "Rebuilt"; "Record of work" when no word is earned. */
char         *pawl_word_gate_dup_title (const PawlWordGate *self);
/* (nullable): the highest word of all, when it is not the one that was earned. */
const PawlWordFinding *pawl_word_gate_peek_highest (const PawlWordGate *self);
/* (transfer full): what a clause lacks, the first @most, in one line: "step 26 is left out; and 3 more". */
char         *pawl_clause_finding_describe (const PawlClauseFinding *self, guint most);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWordGate, pawl_word_gate_free)

G_END_DECLS
