/*
 * The picture of a history: individuals above, moving ranges below, on any cairo surface and in any palette.
 *
 * Nothing is told by colour alone: as left are dots on a line, as found are open squares, values beyond chance stand in a ring, those that end a run
 * that chance seldom makes in a diamond, the procedure's limits are
 * chain lines, the limits of chance are dashed, the mean is a thin line; each line has its value at its end.
 */
#pragma once

#include <cairo.h>
#include "drawing/pawl-palette.h"
#include "history/pawl-history.h"

G_BEGIN_DECLS

/* What stands on the chart. Texts are borrowed. */
typedef struct {
  const char *limit, *chance, *mean;         /* before a number */
  const char *as_left, *as_found, *beyond, *run; /* of the key */
  const char *serial;                        /* ", serial " */
  const char *ranges, *nothing;
} PawlRunChartWords;

typedef struct {
  PawlPalette palette;
  double      text;         /* height of the lettering, user units; 0: from the size */
  char        decimal_mark; /* 0: a point */
  const PawlRunChartWords *words; /* (nullable): English */
  const char *job;          /* (nullable): id of the job that is looked at: its value is marked by an arrow */
} PawlRunChartOptions;

/* Fills 0, 0 to @width, @height with the paper of the palette and draws the chart on it. */
void pawl_run_chart_draw (const PawlHistory *history, const PawlRunChartOptions *options, cairo_t *cr, double width, double height);

G_END_DECLS
