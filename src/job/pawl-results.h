/* Results: as-found beside as-left, and what was not measured, for the report and the readings page. */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

/* One characteristic. A reading taken as found and the one that it is same-as make one line. */
typedef struct {
  const PawlAskState *as_left;   /* the reading itself */
  const PawlAskState *as_found;  /* (nullable) its as-found twin, when the procedure has one */
  const PawlAttempt  *found;     /* (nullable): of the twin, else the first attempt of the reading itself when there were several */
  const PawlAttempt  *left;      /* (nullable): the last attempt that counts; NULL: not measured */
  guint               n_attempts;
} PawlResult;

GPtrArray *pawl_results_of_readings (PawlJob *job); /* (transfer full) (element-type PawlResult), procedure order */
/* (transfer full) (element-type char*): sentences naming each reading, check and fit that was not answered. */
GPtrArray *pawl_results_list_missing (PawlJob *job);

G_END_DECLS
