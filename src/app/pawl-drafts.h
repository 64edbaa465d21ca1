/*
 * What was typed for a job and not yet taken: half a reading, half a reason. One small key file for each job, in a folder that is handed in, so that it is
 * there again after the job was put aside, and after a crash. It is no part of the record: nobody answered anything yet. Secrets never go in.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _PawlDrafts PawlDrafts;

/* @folder: (nullable): kept in memory only. What can't be read is none. */
PawlDrafts *pawl_drafts_load (const char *folder, const char *job_id);
/* Writes what is not written yet. */
void        pawl_drafts_free (PawlDrafts *self);
/* "" when there is none. Lent until the next change. @owner: an ask or a step; @field: which of its lines */
const char *pawl_drafts_peek (PawlDrafts *self, const char *owner, const char *field);
/* It is on disk a moment later, at the first rest of the hand. An empty @text forgets it; with the last one the file goes. */
void        pawl_drafts_set  (PawlDrafts *self, const char *owner, const char *field, const char *text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlDrafts, pawl_drafts_free)

G_END_DECLS
