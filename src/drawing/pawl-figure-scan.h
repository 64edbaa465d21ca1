/*
 * The scan: reads an SVG as plain XML before anything draws it, and refuses what reaches outside the file or is made to expand. The drawing
 * library can crash or hang on small valid files (chains of <use>, noise filters, markers on long paths), so these caps are ours.
 */
#pragma once

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

#define PAWL_FIGURE_MAX_BYTES      (16 * 1024 * 1024)
#define PAWL_FIGURE_MAX_ELEMENTS   100000
#define PAWL_FIGURE_MAX_DEPTH      64
#define PAWL_FIGURE_MAX_CHAIN      16      /* a <use>, fill, mask, … of one that itself uses another, and so on */
#define PAWL_FIGURE_MAX_EXPANSION  200000  /* shapes drawn when every reference has been followed, long paths and effects counted as several */
#define PAWL_FIGURE_MAX_SEGMENTS   20000   /* of one path */
#define PAWL_FIGURE_MAX_ALL_SEGMENTS 1000000
#define PAWL_FIGURE_MAX_TEXT       20000   /* characters of one text */
#define PAWL_FIGURE_MAX_ALL_TEXT   200000  /* characters of all texts together */
#define PAWL_FIGURE_MAX_MATCHES    20000000.0 /* parts of style sheets' selectors times elements: each is tried on each */
#define PAWL_FIGURE_MAX_PIXELS     (4096.0 * 4096.0) /* of all pictures together */
#define PAWL_FIGURE_MAX_EXTENT     100000.0 /* of the viewBox, user units */
#define PAWL_FIGURE_MIN_EXTENT     1.0
#define PAWL_FIGURE_MAX_BLUR       200.0
#define PAWL_FIGURE_MAX_RADIUS     10.0    /* of feMorphology, whose work grows with its square */
#define PAWL_FIGURE_MAX_OCTAVES    6
#define PAWL_FIGURE_MAX_DASHES     20000.0 /* dashes across the sheet */
#define PAWL_FIGURE_MAX_DASH_NUMBERS 64
#define PAWL_FIGURE_MAX_ATTRIBUTE  65536   /* characters of one attribute, but for outlines and pictures */
#define PAWL_FIGURE_MAX_ID         200     /* bytes */

/* Ids of the groups that are put round art without ids. */
#define PAWL_FILLER_PREFIX "pawl-filler-"

typedef struct {
  PawlBox    view_box;
  gboolean   has_view_box; /* FALSE: made from width and height */
  GPtrArray *findings;     /* (element-type utf8) */
} PawlFigureScan;

/* TRUE when the file may be drawn; @scan is then filled, its findings are owned by the caller. */
gboolean    pawl_figure_scan        (GBytes *bytes, const char *name, PawlFigureScan *scan, GError **error);
/* (transfer full) (nullable): opens what the scan let through. Takes @scan's findings. In pawl-figure.c. */
PawlFigure *pawl_figure_new_scanned (GBytes *bytes, const char *name, PawlFigureScan *scan, GError **error);

G_END_DECLS
