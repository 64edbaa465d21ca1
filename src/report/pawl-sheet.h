/*
 * The blank bench sheet: a procedure, or a phase of it, to be filled in by pen beside a wet sink, and typed in later by "pawl work --answers". Each box has
 * beside it the item that the answers file calls it by.
 */
#pragma once

#include "drawing/pawl-figure.h"
#include "procedure/pawl-procedure.h"
#include "report/pawl-pages.h"
#include "report/pawl-shop.h"

G_BEGIN_DECLS

typedef struct {
  PawlPaper        paper;
  const PawlPhase *phase;  /* (nullable): this one alone */
  const PawlShop  *shop;   /* (nullable) */
  GDateTime       *issued; /* stands in the file as its date */
} PawlSheetOptions;

/**
 * pawl_sheet_new:
 * @figure: (nullable): drawn on the first page, with its item numbers
 *
 * Steps in file order with their cautions, right-and-wrong sketches, limits, waits and boxes. What is for another variant says for which.
 * @procedure and @figure have to outlive the pages.
 *
 * Returns: (transfer full)
 */
PawlPages *pawl_sheet_new      (PawlProcedure *procedure, PawlFigure *figure, const PawlSheetOptions *options);

/**
 * pawl_sheet_make_csv:
 * @phase: (nullable): this one alone
 *
 * The answers file that goes with the sheet: a row for each box, in the order of the sheet, its answer PAWL_BENCH_SHEET_OPEN, which "pawl work" passes over.
 *
 * Returns: (transfer full): RFC 4180, UTF-8
 */
char      *pawl_sheet_make_csv (PawlProcedure *procedure, const PawlPhase *phase);

G_END_DECLS
