/*
 * Jobs without people's names, to compare how people learn in two places. For figures alone: an entry's digest covers who did it, so what is left is
 * no entry of the record any more, and no record takes it in.
 *
 * Nothing is taken over but what is known to hold no name: times; subjects that the procedure knows; outcomes and readings that the job understood;
 * choices out of a closed list; numbers of an instrument; ids that the procedure has. Everything else is left out, whatever it may be. People are
 * "person 1", "person 2", … in an order drawn by lot for each file, so that a number tells neither who came first nor who it was in another file. Who
 * is named in a procedure's text and in the record is "somebody" there.
 */
#pragma once

#include "bundle/pawl-bundle.h"
#include "job/pawl-job.h"
#include "training/pawl-class.h"

G_BEGIN_DECLS

#define PAWL_NAMELESS_ERROR (pawl_nameless_error_quark ())
GQuark pawl_nameless_error_quark (void);

typedef enum {
  PAWL_NAMELESS_ERROR_PROCEDURE, /* can't be read once names are left out of it */
  PAWL_NAMELESS_ERROR_JOB,       /* in a file: no job that could be folded */
} PawlNamelessError;

/* ---- who is who ---- */
typedef struct _PawlPseudonyms PawlPseudonyms;

PawlPseudonyms *pawl_pseudonyms_new    (void);
void            pawl_pseudonyms_free   (PawlPseudonyms *self);
void            pawl_pseudonyms_add    (PawlPseudonyms *self, const char *name); /* (nullable); capitals and blanks around it don't matter */
/* Once all are added: numbers them in the order of SHA-256 of @salt and name. @salt: random, and nowhere kept */
void            pawl_pseudonyms_number (PawlPseudonyms *self, const char *salt);
const char     *pawl_pseudonyms_get    (const PawlPseudonyms *self, const char *name); /* "person 3"; "" for who was not added */
guint           pawl_pseudonyms_get_n  (const PawlPseudonyms *self);

/* ---- one job ---- */
/* All names that the entries of @job have. */
void            pawl_nameless_add_names (PawlJob *job, PawlPseudonyms *people);
/**
 * pawl_nameless_make_rows:
 * @id: of the job in the file, "job-3"
 * @procedure: digest of the procedure in the file
 *
 * Returns: (transfer full) (element-type PawlEntryRow): as many as the job has entries
 */
GPtrArray      *pawl_nameless_make_rows (PawlJob *job, const char *id, const char *procedure, const PawlPseudonyms *people);

/* ---- files ---- */
/**
 * pawl_nameless_write:
 * @jobs: (nullable): ids; %NULL for all
 * @salt: random text, for the order of people
 * @n_people: (out)
 * @error: PAWL_NAMELESS_ERROR_PROCEDURE; of the record, the procedures' reader, the bundle
 */
gboolean        pawl_nameless_write      (PawlRecord *record, const char * const *jobs, const char *path, const char *salt, PawlBundleCount *count, guint *n_people,
                                          GError **error);
/**
 * pawl_nameless_load_class:
 * @procedure: (nullable): only jobs by the procedure of this id
 * @error: PAWL_NAMELESS_ERROR_JOB; of the bundle and the procedures' reader
 *
 * Returns: (transfer full): finished
 */
PawlClass      *pawl_nameless_load_class (const char *path, const char *procedure, GDateTime *now, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlPseudonyms, pawl_pseudonyms_free)

G_END_DECLS
