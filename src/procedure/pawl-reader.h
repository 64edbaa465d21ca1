/* Reading procedure files: the strict reader refuses, the proof-reader lists findings. */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

#define PAWL_PROCEDURE_ERROR (pawl_procedure_error_quark ())
GQuark pawl_procedure_error_quark (void);

typedef enum {
  PAWL_PROCEDURE_ERROR_IO,
  PAWL_PROCEDURE_ERROR_NOT_XML,      /* not well-formed */
  PAWL_PROCEDURE_ERROR_NOT_ALLOWED,  /* a DOCTYPE with entities, an include, over the caps */
  PAWL_PROCEDURE_ERROR_SCHEMA,       /* breaks the schema */
  PAWL_PROCEDURE_ERROR_BAD_QUANTITY, /* limits, a time or a dimension that can't be understood */
} PawlProcedureError;

#define PAWL_PROCEDURE_MAX_BYTES (4 * 1024 * 1024)

typedef enum { PAWL_SEVERITY_ERROR, PAWL_SEVERITY_WARNING, PAWL_SEVERITY_ADVICE } PawlSeverity;

/* Something in a file that is not as it should be: "sample.xml:41: error: … (region-unknown)". */
typedef struct {
  PawlSeverity severity;
  char        *code;    /* stable word: "region-unknown" */
  char        *file;
  int          line;
  char        *message; /* what is wrong, and what would be right */
} PawlFinding;

void        pawl_finding_free   (PawlFinding *self);
char       *pawl_finding_format (const PawlFinding *self); /* (transfer full) */

/* The figure's region ids, handed in because this folder does not draw. */
typedef struct {
  const char * const *ids;   /* NULL-terminated */
  const int          *lines; /* (nullable) line of each */
  const char         *file;
} PawlRegionList;

/* Loads and validates. Messages begin with "file:line: ". @language: (nullable) wanted language of texts. */
PawlProcedure *pawl_procedure_load       (const char *path, const char *language, GError **error);
PawlProcedure *pawl_procedure_load_bytes (GBytes *bytes, const char *name, const char *language, GError **error);
/* (transfer full): the bytes it was loaded from, and their SHA-256. */
GBytes        *pawl_procedure_get_bytes  (PawlProcedure *self);
const char    *pawl_procedure_get_digest (PawlProcedure *self);
const char    *pawl_procedure_get_name   (PawlProcedure *self); /* file name for messages */
/* (transfer full): path of the figure, or NULL with an error when it would leave the procedure's folder's parent. */
char          *pawl_procedure_dup_figure_path (PawlProcedure *self, GError **error);

/* (transfer full) (element-type PawlFinding), sorted by line. @regions: (nullable) when there is no figure to compare with. */
GPtrArray     *pawl_procedure_proof_read (PawlProcedure *self, const PawlRegionList *regions);
/* Loads and proof-reads in one go; what the strict reader refuses becomes one finding, so that one call lists everything. */
GPtrArray     *pawl_procedure_check_file (const char *path, const PawlRegionList *regions, PawlProcedure **procedure);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlFinding, pawl_finding_free)

G_END_DECLS
