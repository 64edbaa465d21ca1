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

/* Share of the ink of @part that @others (NULL-terminated part ids; itself doesn't count) lie over when all are home, 0 to 1; negative when it has none. */
typedef double (*PawlHiddenShare) (const char *part, const char * const *others, gpointer data);

/* The figure's region ids, and who lies over whom, handed in because this folder does not draw. */
typedef struct {
  const char * const *ids;   /* NULL-terminated */
  const int          *lines; /* (nullable) line of each */
  const char         *file;
  PawlHiddenShare     get_hidden; /* (nullable): without it no cover is suggested */
  gpointer            hidden_data;
} PawlRegionList;

/**
 * pawl_procedure_load:
 * @path: of the file; messages and the way to its figure begin with it
 * @language: (nullable): wanted language of texts, "cy"; what is not said in it stays as it was first said
 * @error: the domain %PAWL_PROCEDURE_ERROR; messages read "file:line: what is wrong; what would be right", and "file: …" for _IO
 *
 * Reads strictly: nothing is taken from a file that is refused. No network, no other file, no entities; at most 4 MiB, 64 deep, 100,000
 * elements, 2,000 steps, 2,000 parts. May be called from any thread; it does not print.
 *
 * Returns: (transfer full) (nullable): %NULL with @error set.
 */
PawlProcedure *pawl_procedure_load       (const char *path, const char *language, GError **error);

/**
 * pawl_procedure_load_bytes:
 * @bytes: what the file held
 * @name: its name for messages; when it is a path, the figure is looked for from there
 *
 * As pawl_procedure_load().
 */
PawlProcedure *pawl_procedure_load_bytes (GBytes *bytes, const char *name, const char *language, GError **error);

/* (transfer full): the bytes it was loaded from, and their SHA-256 in lower-case hexadecimal. */
GBytes        *pawl_procedure_get_bytes  (PawlProcedure *self);
const char    *pawl_procedure_get_digest (PawlProcedure *self);
/* File name for messages, as handed in. */
const char    *pawl_procedure_get_name   (PawlProcedure *self);

/**
 * pawl_procedure_dup_figure_path:
 * @error: _IO when it names no figure; _NOT_ALLOWED when a link leads out of the two folders that a figure may lie in
 *
 * Where the figure should be: in the procedure's folder, or in the folder svg beside that folder. Whether it is there, whoever
 * opens it will see.
 *
 * Returns: (transfer full) (nullable): %NULL with @error set.
 */
char          *pawl_procedure_dup_figure_path (PawlProcedure *self, GError **error);

/**
 * pawl_procedure_proof_read:
 * @regions: (nullable): when there is no figure to compare with
 *
 * Lists what is not as it should be, one finding for a fault. Advice does not make a file faulty; errors and warnings do. At most 1000,
 * then "too-many". Cautions: one guards the step that names it and all later steps of the file; a caution that no step names guards nothing.
 * Two limits of a reading may disagree when their sources differ; inch and metric of one source must agree within their rounding.
 *
 * Codes of errors: region-unknown, part-unknown, tool-unknown, caution-unknown, need-unknown, covers-unknown, during-unknown, variant-unknown,
 * same-as-unknown, start-unknown, datum-note-unknown, proof-unknown, proof-too-late, kit-count, kit-line-uncounted, kit-part-twice, left-over-of-nothing, alike-incomplete,
 * limits-gap, limits-overlap, limits-mixed, leaves-unknown, covers-and-leaves, shown-by-unknown, shown-too-early, shown-optional, donor-elsewhere, noted-too-late, start-too-late, reopens-unknown, reopens-derived, id-duplicate, item-duplicate, part-never-installed, install-before-remove, rule-incomplete, cycle,
 * reading-after-cover, check-hidden, inch-metric-disagree, drill-disagree, tool-mismatch, wait-reversed, choice-accept-unknown,
 * wire-in-metering, one-way-reused, too-many. Of warnings: region-unused, part-without-rule, stays-removed, kit-part-without-kit, kit-part-without-line,
 * alike-undeclared, interchange-unproven, own-mark-without-note,
 * limits-never, rule-incomplete (words), limits-without-source, tool-too-coarse, wait-without-max, caution-missing, caution-unused, two-commands.
 * Of advice: covers-suggested, hold-suggested, command-tells, verified-not.
 *
 * Returns: (transfer full) (element-type PawlFinding): by line, those about the figure last.
 */
GPtrArray     *pawl_procedure_proof_read (PawlProcedure *self, const PawlRegionList *regions);

/**
 * pawl_procedure_check_file:
 * @procedure: (out) (optional) (nullable) (transfer full): the procedure, when it could be loaded
 *
 * Loads and proof-reads in one go. What the strict reader refuses becomes one finding, so that one call lists everything; its code is
 * not-readable, not-xml, not-allowed, schema or bad-quantity.
 *
 * Returns: (transfer full) (element-type PawlFinding)
 */
GPtrArray     *pawl_procedure_check_file (const char *path, const PawlRegionList *regions, PawlProcedure **procedure);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlFinding, pawl_finding_free)

G_END_DECLS
