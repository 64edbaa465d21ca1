/* Many jobs out of a record, folded one after another, each by the edition of its procedure that it keeps. */
#pragma once

#include "job/pawl-job.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

typedef struct _PawlJobLoader PawlJobLoader;

/* Holds @record. An edition is read once, not once a job. */
PawlJobLoader *pawl_job_loader_new  (PawlRecord *record);
void           pawl_job_loader_free (PawlJobLoader *self);
/* (transfer full) (nullable). Errors are those of the record and of the procedure's reader. */
PawlJob       *pawl_job_loader_fold (PawlJobLoader *self, const char *job_id, GError **error);
/* (transfer full) (element-type PawlJob) (nullable): all of @record, oldest first */
GPtrArray     *pawl_job_loader_fold_all (PawlRecord *record, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlJobLoader, pawl_job_loader_free)

G_END_DECLS
