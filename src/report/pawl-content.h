/* The blocks of a report, in the order in which they are printed. Each sets itself into the flow, or nothing when it has nothing to say. */
#pragma once

#include "report/pawl-report.h"
#include "report/pawl-table.h"
#include "report/pawl-word-gate.h"

G_BEGIN_DECLS

/* What every block draws from. All borrowed. */
typedef struct {
  PawlFlow                *flow;
  PawlJob                 *job;
  PawlProcedure           *procedure;
  PawlFigure              *figure; /* (nullable) */
  const PawlReportOptions *options;
  const PawlClauses       *clauses;
  const PawlWordGate      *gate;
  const char              *title;
  PawlReportLoadKept       load_kept; /* (nullable) */
  gpointer                 load_data;
  GDateTime               *opened;    /* (nullable): its offset is the one that the tables' times have */
} PawlContent;

/* Who, what, by which procedure, and what came of it. */
void pawl_content_add_front    (const PawlContent *content);
/* Of the first page: what was corrected of it, and what it was. */
void pawl_content_add_corrections (const PawlContent *content);
void pawl_content_add_figure   (const PawlContent *content);
/* The exploded view with its item numbers, as a picture of that size in @cell. */
void pawl_content_add_exploded (PawlCell *cell, PawlProcedure *procedure, PawlFigure *figure, double width_pt, double height_pt);
/* What changed since the version before. */
void pawl_content_add_changes  (const PawlContent *content);
/* Which word is earned, and what each clause lacks. */
void pawl_content_add_word     (const PawlContent *content);
/* Instruments that readings were taken with, and until when they were good. */
void pawl_content_add_instruments (const PawlContent *content);
/* What was tried for leaks and under pressure. */
void pawl_content_add_tests    (const PawlContent *content);
/* Every step: done by whom, left out, not of this variant. */
void pawl_content_add_steps    (const PawlContent *content);
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
/* Fits that can be wrong unseen, and were hidden without a photo. */
void pawl_content_add_unphotographed (const PawlContent *content);
void pawl_content_add_history  (const PawlContent *content);
void pawl_content_add_settings (const PawlContent *content);
void pawl_content_add_signature (const PawlContent *content);
void pawl_content_add_limits   (const PawlContent *content);

/* ---- of the print for the customer alone ---- */
void pawl_content_add_found_and_left (const PawlContent *content);
void pawl_content_add_short_tests    (const PawlContent *content);
void pawl_content_add_care           (const PawlContent *content);
void pawl_content_add_new_parts      (const PawlContent *content);
void pawl_content_add_chosen_photos  (const PawlContent *content);

/* Adds who gave an answer and when; in one column the time stands under the name. */
void pawl_content_add_person   (const PawlContent *content, PawlTable *table, guint by_column, guint when_column, const PawlEntry *entry);
/* Whether the first page has shown the answer to this note already. */
gboolean pawl_content_is_on_front (const PawlAsk *ask);

/* A note that the procedure asks for, or what was said of it when the job was opened; @otherwise when nobody did. */
const char *pawl_content_find_said (const PawlContent *content, const char *id, const char *otherwise);
/* What is set by turning: turns and degrees of a screw or lever, the torque of a nut. The rest was only measured. */
gboolean pawl_content_is_setting (const PawlReading *reading);
gboolean pawl_content_is_for_customer (const PawlContent *content);
/* Readings of one value as typed, with the conversion under it. */
void     pawl_content_add_value  (PawlTable *table, guint column, const PawlAttempt *attempt, PawlLetter letter);
/* Photos that were not taken back: (transfer container) (element-type PawlEntry). */
GPtrArray *pawl_content_list_photos (const PawlContent *content);
/* A row of @n photos from @first on, in the width of @per_row. */
void     pawl_content_add_photo_row (const PawlContent *content, GPtrArray *photos, guint first, guint per_row, double height_pt);

typedef void (*PawlAskVisit) (const PawlContent *content, const PawlAskState *state, gpointer data);
/* Visits each ask of @kind that belongs to this variant, in procedure order. */
void pawl_content_visit_asks   (const PawlContent *content, PawlAskKind kind, PawlAskVisit visit, gpointer data);

G_END_DECLS
