/*
 * Bundles: jobs, or a whole record, as one file that another record takes in.
 *
 * A zip, written so that other programs can read it too. Members, in this order:
 *   manifest.json      what this is, and name, size and SHA-256 of each member after the next
 *   manifest.sha256    SHA-256 of manifest.json, as sha256sum prints it
 *   README.txt         what this is and how digests are computed, for whoever finds it in thirty years
 *   kept/DIGEST        procedures, figures and photos that the entries name
 *   entries/JOB.jsonl  the entries of a job or instrument, a JSON object on each line, every column just as it is digested
 *
 * People's PINs are in no bundle, nor is anything else that is not an entry.
 */
#pragma once

#include "record/pawl-merge.h"

G_BEGIN_DECLS

#define PAWL_BUNDLE_ERROR (pawl_bundle_error_quark ())
GQuark pawl_bundle_error_quark (void);

typedef enum {
  PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, /* some other file, or the beginning of a bundle only */
  PAWL_BUNDLE_ERROR_NEWER,        /* made by a later version of Pawl */
  PAWL_BUNDLE_ERROR_DAMAGED,      /* not as it was written */
  PAWL_BUNDLE_ERROR_TOO_LARGE,
  PAWL_BUNDLE_ERROR_IO,
} PawlBundleError;

#define PAWL_BUNDLE_FORMAT 1

/* What is in one. */
typedef struct {
  guint   n_chains; /* jobs and instruments */
  guint   n_entries;
  guint   n_kept;
  guint64 size;     /* of the members together, bytes */
} PawlBundleCount;

/**
 * pawl_bundle_write:
 * @chains: (nullable): ids of jobs or instruments, each once; NULL for all that the record has
 * @path: written beside and then put in its place, synced; what was there before is replaced
 * @count: (out) (optional): what was written
 * @error: PAWL_BUNDLE_ERROR_TOO_LARGE or _IO; PAWL_RECORD_ERROR: a damaged job is not bundled
 *
 * The same entries make the same bytes, whatever else the record holds, wherever and whenever it is done, by the same libarchive and zlib.
 */
gboolean pawl_bundle_write (PawlRecord *record, const char *const *chains, const char *path, PawlBundleCount *count, GError **error);

/**
 * pawl_bundle_merge:
 * @count: (out) (optional): what was in it, and what of it was new
 * @error: PAWL_BUNDLE_ERROR, PAWL_RECORD_ERROR; then nothing was taken
 *
 * Takes a bundle into @record as a set union, in one transaction. It is read through and compared with its digests before the record is
 * touched, and nothing of it is unpacked to disk.
 */
gboolean pawl_bundle_merge (PawlRecord *record, const char *path, PawlMergeCount *count, GError **error);

/*
 * Jobs without people's names: a zip of the same shape that no record takes in, because an entry's digest covers who did it, so that what is left
 * is another entry. What is left out is for src/training/pawl-nameless.h to say; here it is written and read.
 */

/**
 * pawl_bundle_write_nameless:
 * @jobs: (element-type GPtrArray of PawlEntryRow): rows of each job, with its id; digests and what they follow are ""
 * @procedures: (element-type GBytes): what the openings name by digest
 * @count: (out) (optional)
 * @error: PAWL_BUNDLE_ERROR_TOO_LARGE or _IO
 */
gboolean pawl_bundle_write_nameless (GPtrArray *jobs, GPtrArray *procedures, const char *path, PawlBundleCount *count, GError **error);

/**
 * pawl_bundle_read_nameless:
 * @jobs: (out) (transfer full) (element-type GPtrArray of PawlEntryRow)
 * @procedures: (out) (transfer full) (element-type utf8 GBytes): by digest
 * @error: PAWL_BUNDLE_ERROR; _NOT_A_BUNDLE for a bundle with names as well
 */
gboolean pawl_bundle_read_nameless  (const char *path, GPtrArray **jobs, GHashTable **procedures, GError **error);

G_END_DECLS
