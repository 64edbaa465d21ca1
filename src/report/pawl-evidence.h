/* Evidence: what a record can show for a clause. Each kind is a function from the folded job to what is lacking. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef struct _PawlEvidence PawlEvidence;

/**
 * pawl_evidence_new:
 * @kind: "steps-done", "readings-in", …; data/clauses/README.md lists them
 * @of: (nullable): words with blanks between: what it is narrowed to
 * @problem: (out): when there is no such evidence, a sentence that says what would be right
 *
 * Returns: (transfer full) (nullable)
 */
PawlEvidence *pawl_evidence_new      (const char *kind, const char *of, char **problem);
void          pawl_evidence_free     (PawlEvidence *self);
/* Adds a sentence without its full stop (transfer full) to @lacks for each thing that the job does not show; none: it is shown. */
void          pawl_evidence_add_lacks (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlEvidence, pawl_evidence_free)

G_END_DECLS
