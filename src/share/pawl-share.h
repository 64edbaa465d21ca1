/*
 * Sharing: a bench's copy and the shop's store become the same, as far as both are sound and in reach.
 *
 * The copy is a whole record, so a bench never waits for the store, and forks, joins and the order of a job are what they are after any
 * merge (record/pawl-chain.h). What comes is checked as a bundle's content is. A job or instrument of which something does not hold is
 * refused whole, by name, and asked for again each time that the store is opened; everything else goes on.
 */
#pragma once

#include "record/pawl-copy.h"
#include "share/pawl-store.h"

G_BEGIN_DECLS

typedef struct {
  guint n_came;    /* entries that are new here */
  guint n_sent;    /* entries that were new there */
  guint n_refused; /* jobs and instruments that are refused now */
} PawlShareCount;

typedef struct _PawlShare PawlShare; /* used by one thread, the copy's */

PawlShare *pawl_share_new  (PawlRecord *copy, PawlStore *store);
void       pawl_share_free (PawlShare *self);

/**
 * pawl_share_sync:
 * @count: (out) (optional)
 * @error: %PAWL_STORE_ERROR, and then everything is as it was or further; %PAWL_RECORD_ERROR when the copy can't be read or written, or has
 *   an entry in it that was changed, which is not sent
 *
 * Opens the store where it is not open, takes what is new there, and sends what waits here, in batches, each whole or not at all on either
 * side. It may be broken off anywhere and done again. Since when it can't be done is noted in the copy, and forgotten once it could.
 */
gboolean   pawl_share_sync    (PawlShare *self, PawlShareCount *count, GError **error);
/* Forgets what is known of the store, also which one it was, so that the next sync compares everything. */
gboolean   pawl_share_start_over (PawlShare *self, GError **error);
/* (transfer full) (element-type PawlRecordFinding): every entry of the store, by its digest and beside the one that is here. */
GPtrArray *pawl_share_compare (PawlShare *self, GError **error);
PawlStore *pawl_share_get_store (PawlShare *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlShare, pawl_share_free)

G_END_DECLS
