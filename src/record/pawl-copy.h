/*
 * A record that is a bench's copy of a set that a shop shares: how far it has come with that set, and what of it still has to be sent.
 *
 * The set gives each entry a place, counted up as entries arrive. A copy knows the place up to which it has everything, the entry that
 * stood there, and which of its own entries the set does not have yet. Nothing of this is evidence: pawl_copy_start_over() forgets it, and
 * all is compared anew.
 */
#pragma once

#include "record/pawl-merge.h"

G_BEGIN_DECLS

typedef struct {
  char  *address;   /* (nullable): as it is shown; NULL: the record is no copy */
  char  *set_id;    /* "" until the set was reached */
  gint64 place;     /* 0: nothing came yet */
  char  *mark;      /* id of the entry at @place */
  gint64 away_usec; /* since when the set can't be reached, microseconds of the UNIX epoch; 0 when it was reached last time */
  guint  n_waiting; /* entries that the set does not have yet */
} PawlCopyState;

/* A job or instrument of which the set had something that is not sound, and which was not taken from there. */
typedef struct {
  char *job;
  char *reason;
} PawlCopyRefusal;

void       pawl_copy_state_clear  (PawlCopyState *self);
void       pawl_copy_refusal_free (PawlCopyRefusal *self);

/* Makes @record a copy of the set at @address; what it has already waits. Changes nothing when it is one already. */
gboolean   pawl_copy_begin        (PawlRecord *record, const char *address, GError **error);
/* @state: cleared first. Works on a record opened for reading. */
gboolean   pawl_copy_load_state   (PawlRecord *record, PawlCopyState *state, GError **error);
/* (transfer full) (element-type PawlCopyRefusal): by job. */
GPtrArray *pawl_copy_list_refused (PawlRecord *record, GError **error);
/* (transfer full) (element-type PawlEntryRow): the first @limit of those that wait, in the order in which they came into this record. */
GPtrArray *pawl_copy_list_waiting (PawlRecord *record, guint limit, GError **error);
/* (transfer full) (nullable) without @error when it isn't here: the digest of an entry. */
char      *pawl_copy_dup_digest   (PawlRecord *record, const char *entry_id, GError **error);

/* The set was reached (0), or can't be since @away_usec. */
gboolean   pawl_copy_note_away    (PawlRecord *record, gint64 away_usec, GError **error);
/* The set has @rows (element-type PawlEntryRow) now. @mark: (nullable): and it is at @place, as far as the copy is now. */
gboolean   pawl_copy_note_sent    (PawlRecord *record, GPtrArray *rows, gint64 place, const char *mark, GError **error);
/* The set calls itself @set_id, and nothing is known of what it has: everything here waits, everything there is looked at. */
gboolean   pawl_copy_start_over   (PawlRecord *record, const char *set_id, GError **error);

/* ---- inside a merge: what it takes and how far that is are stored together ---- */
/* The set has @rows, so they don't wait. */
gboolean   pawl_copy_merge_there   (PawlRecord *record, GPtrArray *rows, GError **error);
gboolean   pawl_copy_merge_place   (PawlRecord *record, gint64 place, const char *mark, GError **error);
/* @reason: (nullable): taken after all. */
gboolean   pawl_copy_merge_refused (PawlRecord *record, const char *job_id, const char *reason, GError **error);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlCopyState, pawl_copy_state_clear)

G_END_DECLS
