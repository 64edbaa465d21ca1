/* A procedure file as the list of procedures shows it: what it is for, how far it is verified, what the proof-reader found. No widgets. */
#pragma once

#include "drawing/pawl-figure.h"
#include "procedure/pawl-reader.h"

G_BEGIN_DECLS

typedef struct {
  char          *path;
  PawlProcedure *procedure;     /* (nullable): NULL when the strict reader refuses it */
  GBytes        *figure;        /* (nullable): the figure's bytes, when it has one that can be drawn */
  GPtrArray     *findings;      /* (element-type PawlFinding) */
  char          *problem;       /* (nullable): "file:line: …", why it can't be used, or why its figure can't */
} PawlProcedureLine;

/* Reads everything; never fails: what is wrong is in the line. May be slow: call it off the main loop. @language: (nullable). */
PawlProcedureLine *pawl_procedure_line_load   (const char *path, const char *language);
void               pawl_procedure_line_free   (PawlProcedureLine *self);
/* (transfer full): "2 findings of the proof-reader · 7 cautions" */
char              *pawl_procedure_line_describe (const PawlProcedureLine *self);
/* (transfer full) NULL-terminated: paths of the procedure files of @folder, by name; none when there is no such folder. */
char             **pawl_procedure_line_list_folder (const char *folder);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlProcedureLine, pawl_procedure_line_free)

G_END_DECLS
