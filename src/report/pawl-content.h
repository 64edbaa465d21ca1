/* The blocks of a report, in the order in which they are printed. Each sets itself into the flow, or nothing when it has nothing to say. */
#pragma once

#include "report/pawl-report.h"
#include "report/pawl-table.h"

G_BEGIN_DECLS

/* What every block draws from. All borrowed. */
typedef struct {
  PawlFlow                *flow;
  PawlJob                 *job;
  PawlProcedure           *procedure;
  PawlFigure              *figure; /* (nullable) */
  const PawlReportOptions *options;
  PawlReportLoadKept       load_kept; /* (nullable) */
  gpointer                 load_data;
  GDateTime               *opened;    /* (nullable): its offset is the one that the tables' times have */
} PawlContent;

/* Who, what, by which procedure, and what came of it. */
void pawl_content_add_front    (const PawlContent *content);
void pawl_content_add_figure   (const PawlContent *content);
/* Readings, fits, checks, parts. */
void pawl_content_add_readings (const PawlContent *content);
void pawl_content_add_fits     (const PawlContent *content);
void pawl_content_add_checks   (const PawlContent *content);
void pawl_content_add_parts    (const PawlContent *content);
/* What differs from the book, what was not done, and the rest of the story. */
void pawl_content_add_deviations (const PawlContent *content);
void pawl_content_add_missing  (const PawlContent *content);
void pawl_content_add_waits    (const PawlContent *content);
void pawl_content_add_notes    (const PawlContent *content);
void pawl_content_add_photos   (const PawlContent *content);
void pawl_content_add_history  (const PawlContent *content);
void pawl_content_add_settings (const PawlContent *content);
void pawl_content_add_signature (const PawlContent *content);
void pawl_content_add_limits   (const PawlContent *content);

/* Adds who gave an answer and when; in one column the time stands under the name. */
void pawl_content_add_person   (const PawlContent *content, PawlTable *table, guint by_column, guint when_column, const PawlEntry *entry);
/* Whether the first page has shown the answer to this note already. */
gboolean pawl_content_is_on_front (const PawlAsk *ask);

typedef void (*PawlAskVisit) (const PawlContent *content, const PawlAskState *state, gpointer data);
/* Visits each ask of @kind that belongs to this variant, in procedure order. */
void pawl_content_visit_asks   (const PawlContent *content, PawlAskKind kind, PawlAskVisit visit, gpointer data);

G_END_DECLS
