/*
 * A figure: the exploded view of a unit, an SVG file whose groups with ids are the regions that a procedure names.
 * Read once, scanned before anything draws it, never changed after. Coordinates are the figure's user units, y down.
 */
#pragma once

#include <cairo.h>
#include <gio/gio.h>

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

#define PAWL_FIGURE_ERROR (pawl_figure_error_quark ())
GQuark pawl_figure_error_quark (void);

typedef enum {
  PAWL_FIGURE_ERROR_IO,        /* the file cannot be read */
  PAWL_FIGURE_ERROR_NOT_XML,   /* not well-formed, not UTF-8, or packed */
  PAWL_FIGURE_ERROR_NOT_SVG,   /* well-formed, but no SVG drawing */
  PAWL_FIGURE_ERROR_SIZE,      /* no viewBox or page size, or one that no sheet has */
  PAWL_FIGURE_ERROR_TOO_LARGE, /* over one of the caps of pawl-figure-scan.h */
  PAWL_FIGURE_ERROR_REFUSED,   /* reaches outside the file, or is made to expand */
  PAWL_FIGURE_ERROR_RENDER,    /* the drawing library gave up */
} PawlFigureError;

typedef struct {
  double x, y, width, height; /* width 0: empty */
} PawlBox;

typedef struct {
  char    *id;
  int      line;   /* in the SVG file */
  guint    order;  /* in document order, which is drawing order: later ones lie on top */
  guint    depth;  /* 1: child of the <svg> element, drawn by the scene as one piece; deeper: part of such a piece */
  char    *within; /* (nullable): the id of the root-level region that holds it; NULL at depth 1 */
  double  *hatch_deg; /* (array length=n_hatch) directions that its cut faces are hatched in, from the x axis towards the y axis: its data-hatch="45 135" */
  guint    n_hatch;
} PawlRegion;

#define PAWL_TYPE_FIGURE (pawl_figure_get_type ())
G_DECLARE_FINAL_TYPE (PawlFigure, pawl_figure, PAWL, FIGURE, GObject)

/*
 * These two scan a figure and open it, in this process. Whoever draws a figure that came from outside uses drawing/pawl-trial.h, which
 * tries it in another process first.
 */

/**
 * pawl_figure_load:
 * @path: an SVG file; nothing else is ever opened for it
 * @error: PAWL_FIGURE_ERROR; the message is one sentence that begins "NAME:LINE: "
 *
 * Reads, scans and opens a figure. Returns: (transfer full) (nullable).
 */
PawlFigure       *pawl_figure_load          (const char *path, GError **error);
/* The same from memory; @name stands for the file in messages. */
PawlFigure       *pawl_figure_load_bytes    (GBytes *bytes, const char *name, GError **error);
/* (transfer full) (nullable): the bytes alone, no more of them than tells that there are too many. PAWL_FIGURE_ERROR_IO. */
GBytes           *pawl_figure_read_file     (const char *path, GError **error);

const char       *pawl_figure_get_name      (PawlFigure *self); /* base name of the file */
const char       *pawl_figure_get_digest    (PawlFigure *self); /* SHA-256 of the file, 64 hex digits */
GBytes           *pawl_figure_peek_bytes    (PawlFigure *self); /* the file as read */
PawlBox           pawl_figure_get_view_box  (PawlFigure *self);
/* (element-type PawlRegion) in drawing order, every element with an id that draws something of its own. */
GPtrArray        *pawl_figure_get_regions   (PawlFigure *self);
/* Axis lines, no part's region: "axes", or "axis-REGION" for the lines that lead to one region. */
#define PAWL_GUIDE_PREFIX "axis-"
gboolean          pawl_figure_is_guide_id   (const char *id);
const PawlRegion *pawl_figure_lookup_region (PawlFigure *self, const char *id); /* (nullable) */
/* (transfer container) (element-type PawlRegion): the regions that parts are drawn by, those at the root but for the axis lines. */
GPtrArray        *pawl_figure_list_part_regions (PawlFigure *self);
/* Ink box of a region as drawn: what its strokes, markers and pictures cover. Empty when it draws nothing. Measured once, kept. */
PawlBox           pawl_figure_get_extents   (PawlFigure *self, const char *id);
/* (element-type utf8): "NAME:LINE: …", what draws otherwise than its author meant (feDropShadow, say). Not errors. */
GPtrArray        *pawl_figure_get_findings  (PawlFigure *self);

G_END_DECLS
