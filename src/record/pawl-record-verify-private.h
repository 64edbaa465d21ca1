/* What verifying a job and verifying a record share. */
#pragma once

#include "record/pawl-record-private.h"

G_BEGIN_DECLS

typedef struct {
  PawlRecord *record;
  GPtrArray  *findings;
  GHashTable *kept; /* digest → PawlKeptState, so that bytes are hashed once */
} PawlCheck;

/* @entry_id: (nullable); @number: 0 when it is about no entry. */
void     pawl_check_add          (PawlCheck *check, const char *job, const char *entry_id, gint64 number, const char *format, ...) G_GNUC_PRINTF (5, 6);
gboolean pawl_check_look_up_kept (PawlCheck *check, const char *digest, PawlKeptState *state, GError **error);
/* One job, or an instrument. PAWL_RECORD_ERROR_NO_SUCH_JOB when there is nothing of it. */
gboolean pawl_check_chain        (PawlCheck *check, const char *job_id, GError **error);

G_END_DECLS
