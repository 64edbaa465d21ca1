/* Tracing backwards: which jobs did this instrument, this lot, this revision, this person touch? */
#pragma once

#include "recall/pawl-find.h"

G_BEGIN_DECLS

typedef struct {
  PawlTouchedBy by;
  const char   *name;
  const char   *procedure; /* (nullable): only jobs of this one */
  const char   *from, *to; /* (nullable): days, 2026-05-04, both of them in it */
} PawlTraceQuestion;

/* (transfer full) (element-type PawlTouched) */
GPtrArray *pawl_trace              (PawlRecord *record, const PawlTraceQuestion *question, GError **error);

/* One entry that touched a job. */
typedef struct {
  const PawlOpening *opening; /* borrowed */
  PawlEntry         *entry;
  gboolean           is_undone;
} PawlTraceEntry;

/* (transfer full) (element-type PawlTraceEntry): of the jobs in @touched, which pawl_trace() gave and which must outlive it. */
GPtrArray *pawl_trace_list_entries (PawlRecord *record, const PawlTraceQuestion *question, GPtrArray *touched, GError **error);

G_END_DECLS
