/*
 * Clauses: the words that a report may have as its title ("Repaired", "Rebuilt"), and what the record has to show for each. They come from a small XML file,
 * because what a word means is law in some places and custom in others; data/clauses/clauses.rng describes it for editors.
 */
#pragma once

#include "report/pawl-evidence.h"

G_BEGIN_DECLS

#define PAWL_CLAUSES_ERROR (pawl_clauses_error_quark ())
GQuark pawl_clauses_error_quark (void);
typedef enum {
  PAWL_CLAUSES_ERROR_IO,
  PAWL_CLAUSES_ERROR_NOT_XML,
  PAWL_CLAUSES_ERROR_BAD, /* XML, but no clauses: the message has file and line, and what would be right */
} PawlClausesError;

typedef struct {
  char      *id, *says;
  char      *source;   /* (nullable): the file's own */
  GPtrArray *evidence; /* (element-type PawlEvidence), not empty */
  int        line;
} PawlClause;

typedef struct {
  char      *id, *title;
  GPtrArray *with;    /* (element-type PawlClauseWord), borrowed: lower words whose clauses it wants as well */
  GPtrArray *clauses; /* (element-type PawlClause), its own */
} PawlClauseWord;

typedef struct {
  char      *name, *source;
  GPtrArray *words; /* (element-type PawlClauseWord), lowest first */
} PawlClauses;

/* Reads a file of at most 1 MiB. @error: PAWL_CLAUSES_ERROR_*; a message about its content begins with "file:line: ". */
PawlClauses *pawl_clauses_load         (const char *path, GError **error);
/* @name: of the file, for messages. */
PawlClauses *pawl_clauses_parse        (const char *text, gssize length, const char *name, GError **error);
/* (transfer full): those that come with the program, data/clauses/us-ftc.xml as it was when it was built. */
PawlClauses *pawl_clauses_load_default (void);
void         pawl_clauses_free         (PawlClauses *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlClauses, pawl_clauses_free)

G_END_DECLS
