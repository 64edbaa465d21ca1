/*
 * A procedure file as the list of procedures shows it: what it is for, how far it is verified, what the proof-reader found. No widgets.
 *
 * It is read in two goes, so that a list never waits for a figure: the file first, and its figure's bytes; then the figure is tried and compared
 * with the file, which may take seconds. A job may begin between the two. Its figure is kept with it whatever the trial says: the bench tries it
 * again, and what can't be drawn here and now may be drawn by the next edition of the drawing library.
 */
#pragma once

#include "drawing/pawl-trial.h"
#include "procedure/pawl-reader.h"

G_BEGIN_DECLS

typedef struct {
  char          *path;
  PawlProcedure *procedure;     /* (nullable): NULL when the strict reader refuses it */
  GBytes        *figure;        /* (nullable): the figure's bytes, when it has one that can be read */
  gboolean       is_proofed;    /* the figure was tried, and the findings are about both */
  GPtrArray     *findings;      /* (element-type PawlFinding) */
  char          *problem;       /* (nullable): "file:line: …", why it can't be used, or why its figure can't */
} PawlProcedureLine;

/* Reads everything; never fails: what is wrong is in the line. May be slow: call it off the main loop. @language: (nullable). */
PawlProcedureLine *pawl_procedure_line_load   (const char *path, const char *language);
void               pawl_procedure_line_free   (PawlProcedureLine *self);

/* What came of the second go. */
typedef struct {
  GPtrArray *findings; /* (nullable) (element-type PawlFinding): of procedure and figure together; NULL when the figure is refused */
  char      *problem;  /* (nullable): why it is refused, one sentence */
} PawlFigureProof;

/* Tries the figure, opens it, and proof-reads the procedure with it. Slow, in a worker; what it is handed does not change. */
PawlFigureProof   *pawl_figure_proof_new      (PawlProcedure *procedure, GBytes *bytes, PawlTrial *trial, GCancellable *cancellable);
void               pawl_figure_proof_free     (PawlFigureProof *self);
/* TRUE: it has a figure, and the second go is still to come. */
gboolean           pawl_procedure_line_wants_proof (const PawlProcedureLine *self);
/* Takes @proof. */
void               pawl_procedure_line_take_proof (PawlProcedureLine *self, PawlFigureProof *proof);

/* (transfer full): "2 findings of the proof-reader · 7 cautions" */
char              *pawl_procedure_line_describe (const PawlProcedureLine *self);
/* (transfer full) NULL-terminated: paths of the procedure files of @folder, by name; none when there is no such folder. */
char             **pawl_procedure_line_list_folder (const char *folder);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlProcedureLine, pawl_procedure_line_free)

G_END_DECLS
