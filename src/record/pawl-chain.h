/*
 * How the entries of one job hang together. Private to the record and to bundles.
 *
 * An entry names in `previous` the digests of those that it follows: one, as a rule. When two records that both went on with a job are
 * merged, its chain forks; the first entry that is appended after that names the ends of all branches, sorted, with blanks between, and
 * joins them. `number` is how many entries an entry stands on, itself counted: 1 for the opening, one more than the entry before, and in
 * a join all that it joins.
 */
#pragma once

#include "record/pawl-entry-row.h"

G_BEGIN_DECLS

/* What an order is made from. All but @item borrowed from it. */
typedef struct {
  const char *id;
  const char *previous;
  const char *digest;
  gint64      number;
  gint64      written_usec; /* instant, microseconds of the UNIX epoch */
  gpointer    item;
} PawlLink;

/* Brings @links (element-type PawlLink) into the order of the job: see pawl-chain.c. */
void       pawl_chain_sort           (GArray *links);
/* Whether some number is there twice; @links sorted by number. */
gboolean   pawl_chain_is_forked      (GArray *links);

/* Rows: (element-type PawlEntryRow), owned by the array. */
GPtrArray *pawl_chain_new_rows       (void);
void       pawl_chain_sort_rows      (GPtrArray *rows);
/* (transfer container): those of @rows that no other follows, sorted by digest. */
GPtrArray *pawl_chain_list_ends      (GPtrArray *rows);
/* How many entries @row stands on, itself counted, by what it follows; 0 when one of these is not there. @by_digest: stored digest → row. */
gint64     pawl_chain_count_under    (GHashTable *by_digest, const PawlEntryRow *row);
/* Whether @rows, sorted, are one whole chain as Pawl writes it. PAWL_RECORD_ERROR_DAMAGED, with no path in the message. */
gboolean   pawl_chain_check          (GPtrArray *rows, GError **error);

/* (transfer full): what a head with these ends is called: the end's own digest when there is one. @ends: digests, sorted, blanks between. */
char      *pawl_chain_dup_head       (const char *ends);
/* (transfer none): names of the fields of such an entry that hold digests of kept bytes; NULL-terminated. */
const char *const *pawl_chain_peek_kept_fields (PawlEntryKind kind);
gboolean   pawl_chain_is_opening     (const PawlEntryRow *row);

G_END_DECLS
