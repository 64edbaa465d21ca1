/*
 * The picture of a history: individuals above, moving ranges below, on any cairo surface and in any palette.
 *
 * Nothing is told by colour alone: as left are dots on a line, as found are open squares, values beyond chance stand in a ring, the procedure's limits are
 * chain lines, the limits of chance are dashed, the mean is a thin line; each line has its value at its end.
 */
#pragma once

#include <cairo.h>
#include "drawing/pawl-palette.h"
#include "history/pawl-history.h"

G_BEGIN_DECLS

typedef struct {
  PawlPalette palette;
  double      text;         /* height of the lettering, user units; 0: from the size */
  char        decimal_mark; /* 0: a point */
  const char *job;          /* (nullable): id of the job that is looked at: its value is marked by an arrow */
} PawlRunChartOptions;

/* Fills 0, 0 to @width, @height with the paper of the palette and draws the chart on it. */
void pawl_run_chart_draw (const PawlHistory *history, const PawlRunChartOptions *options, cairo_t *cr, double width, double height);

G_END_DECLS
