/* Whole chains out of a record, and into another one: what bundles are made of. Rows are as the file holds them, digests included. */
#pragma once

#include "record/pawl-chain.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

/* ---- out ---- */

/* One unchanging view of the record for all that is read until it is freed. */
PawlTransaction *pawl_record_begin_view (PawlRecord *self, GError **error);
/* (transfer full) (element-type utf8): of jobs and instruments, sorted by id. */
GPtrArray *pawl_record_list_chains  (PawlRecord *self, GError **error);
/* (transfer full) (element-type PawlEntryRow): in the order of the job. PAWL_RECORD_ERROR_DAMAGED when it is not sound and whole. */
GPtrArray *pawl_record_load_rows    (PawlRecord *self, const char *job_id, GError **error);
/* (transfer full): digests of the job's ends, sorted, blanks between. */
char      *pawl_record_dup_ends     (PawlRecord *self, const char *job_id, GError **error);
/* (transfer full) (element-type utf8): digests of the kept bytes that an entry names; none of one that can't be understood. */
GPtrArray *pawl_entry_row_list_kept (const PawlEntryRow *row);
/* (transfer full) (nullable): what the bytes are said to be. */
char      *pawl_record_dup_media_type (PawlRecord *self, const char *digest, GError **error);

/* ---- in ---- */

/* What a merge brought. */
typedef struct {
  guint n_jobs;        /* that were in it, instruments too */
  guint n_new_jobs;
  guint n_new_entries;
  guint n_entries;     /* that were in it */
  guint n_forked;      /* jobs that now have more than one end */
  guint n_new_kept;
} PawlMergeCount;

/* Set union, in one transaction: what was added and not committed is as if it had never come. */
typedef struct _PawlMerge PawlMerge;

PawlMerge *pawl_merge_begin     (PawlRecord *record, GError **error);
/* Takes bytes whose digest is @digest; that is checked. */
gboolean   pawl_merge_add_kept  (PawlMerge *self, const char *digest, const char *media_type, GBytes *bytes, GError **error);
/*
 * Takes the whole chain of one job, sorted here. PAWL_RECORD_ERROR_DAMAGED, with no path in the message, when @rows are no whole chain, or an
 * entry has the id of one that the record knows otherwise; with the record's path when the record itself is damaged there.
 */
gboolean   pawl_merge_add_chain (PawlMerge *self, GPtrArray *rows, GError **error);
/*
 * Takes entries of one job that follow, in any number of places, what the record has of it or one another; @rows: at least one, all of one job,
 * those that others follow first. FALSE with @error when the record can't be read or written. TRUE with @refusal, and nothing taken, when they
 * don't make a whole chain together, don't fit their digests, or name kept bytes that are not in the record.
 */
gboolean   pawl_merge_add_part  (PawlMerge *self, GPtrArray *rows, GError **refusal, GError **error);
/* (transfer full) @self. DAMAGED when bytes that the entries name are neither in the record nor were added. On stable storage when TRUE. */
gboolean   pawl_merge_commit    (PawlMerge *self, PawlMergeCount *count, GError **error);
void       pawl_merge_free      (PawlMerge *self); /* takes all back */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlMerge, pawl_merge_free)

G_END_DECLS
