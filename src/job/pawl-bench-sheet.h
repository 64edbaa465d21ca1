/*
 * The bench sheet: answers written by pen, entered later from a CSV file (RFC 4180, UTF-8, a header line).
 * Columns, in any order, only `item` needed: at, step, item, answer, instrument, person, source, lot, deviation, accepted-by, note
 *   step "job"        item names a field of the opening entry (serial, work-order, customer, complaint, …), answer its value
 *   item an ask id    answer: outcome, typed reading, "start"/"end" of a wait, choice of a disposition (note: the reason), or the text;
 *                     of a derived reading: what stands in its place (note: why)
 *   item "done"       the step is finished         item "skip"    left out (deviation: why)
 *   item "reopen"     done again (note: why)       item "undo"    takes the last answer back
 *   item "release"    a hold (answer: the role)    item "photo"   answer: file beside the CSV
 *   item "no-photo"   on without a photo of what the step hides (note: why, may be empty)
 *   item "lacked ID"  a part or supply that is not there (answer: missing, ordered or low, and the day it is expected; source: who was asked; note: why)
 *   item "arrived ID" it came (answer: new, donor, kit or made; source: who it is from; lot)
 *   item "remark"     answer: the text             item "sign"    answer: the role, note: the statement
 *   any item          answer "_": the box was left empty, and the row is passed over
 * A text under `deviation` lets the job go on where it would refuse; `accepted-by` names who took the risk.
 */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

#define PAWL_BENCH_SHEET_ERROR (pawl_bench_sheet_error_quark ())
GQuark pawl_bench_sheet_error_quark (void);
typedef enum { PAWL_BENCH_SHEET_ERROR_NOT_CSV, PAWL_BENCH_SHEET_ERROR_BAD_ROW, PAWL_BENCH_SHEET_ERROR_IO } PawlBenchSheetError;

/* The answer of a row that nobody filled in, as a blank sheet has it. */
#define PAWL_BENCH_SHEET_OPEN "_"

typedef struct {
  int   line;
  char *at, *step, *item, *answer, *instrument, *person, *source, *lot, *deviation, *accepted_by, *note; /* "" when empty */
} PawlSheetRow;

/* (transfer full) (nullable): "2026-11-25T14:30", "2026-11-25T14:30:15+01:00"; without an offset it is a time of @zone. */
GDateTime *pawl_bench_sheet_parse_time  (const char *text, GTimeZone *zone);
/* (transfer full) (element-type PawlSheetRow). Messages begin with "file:line: ". */
GPtrArray *pawl_bench_sheet_load        (const char *path, GError **error);
GPtrArray *pawl_bench_sheet_parse       (const char *text, const char *name, GError **error);
/* (transfer full): the opening entry that the sheet's "job" rows make. */
PawlEntry *pawl_bench_sheet_make_opening (GPtrArray *rows, GDateTime *fallback_at, GError **error);
/* (transfer full) (element-type PawlEntry): what one row appends; empty for "job" rows. Photos carry field "file". */
GPtrArray *pawl_bench_sheet_make_entries (const PawlSheetRow *row, PawlJob *job, const char *name, GError **error);

G_END_DECLS
