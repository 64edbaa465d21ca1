/*
 * The flow: rows set under each other, page after page. A row is never split, and may be kept on the page of the next one.
 * It knows nothing of jobs: text, cells and pictures go in, numbered pages come out.
 */
#pragma once

#include "report/pawl-lettering.h"

G_BEGIN_DECLS

typedef struct _PawlFlow PawlFlow;
typedef struct _PawlRow  PawlRow;
typedef struct _PawlCell PawlCell;

/* The page and the frame inside it that rows may fill. Points, from the upper left corner. */
typedef struct {
  double width, height;
  double left, right, top, bottom; /* edges of the frame, not margins */
} PawlPageFrame;

/* Draws a picture into the box @x, @y, @width, @height of @cr. */
typedef void (*PawlArtDraw) (cairo_t *cr, double x, double y, double width, double height, gpointer data);

/* ---- cells: lines of type and pictures under each other ---- */
PawlCell *pawl_cell_new        (PangoContext *context, double width_pt);
void      pawl_cell_free       (PawlCell *self);
/* Adds a paragraph, moved right by @indent_pt; NULL or "" adds nothing. */
void      pawl_cell_add_text   (PawlCell *self, PawlLetter letter, const char *text, double indent_pt);
/* As above, set against the right edge. */
void      pawl_cell_add_right  (PawlCell *self, PawlLetter letter, const char *text);
void      pawl_cell_add_gap    (PawlCell *self, double height_pt);
/* Takes @data, freed with @free_data. */
void      pawl_cell_add_art    (PawlCell *self, double width_pt, double height_pt, PawlArtDraw draw, gpointer data, GDestroyNotify free_data);
double    pawl_cell_get_height (PawlCell *self);
/* Width of one unbroken line of @text, points. */
double    pawl_text_width      (PangoContext *context, PawlLetter letter, const char *text, gssize n_bytes);
/* The widest piece of @text that no line may break within, in points. */
double    pawl_text_word_width (PangoContext *context, PawlLetter letter, const char *text);

/* ---- rows ---- */

/* What a row is, for whoever has the PDF read out: by the structure types of ISO 32000-1, 14.8.4 (from memory). */
typedef enum {
  PAWL_ROW_PARAGRAPHS, /* each cell is a paragraph, or a figure */
  PAWL_ROW_TITLE,
  PAWL_ROW_HEADING,
  PAWL_ROW_TABLE_HEAD, /* each cell heads a column */
  PAWL_ROW_TABLE,      /* each cell is one of a table, which goes on as long as rows of this kind do */
} PawlRowKind;

typedef struct {
  double   space_before; /* not used at the top of a page */
  double   padding;      /* above and below the cells */
  double   rule_above;   /* thickness of a line across the frame, 0 for none */
  double   rule_below;
  double   rule_grey;    /* 0 black … 1 white */
  gboolean keep_next;    /* not at the foot of a page without the row after it */
  PawlRowKind kind;
  guint    paragraph;    /* rows of one paragraph have the same, and no other paragraph on the page has; 0: the row is whole */
} PawlRowStyle;

/* ---- the flow ---- */
PawlFlow     *pawl_flow_new          (const PawlPageFrame *frame);
void          pawl_flow_free         (PawlFlow *self);
PangoContext *pawl_flow_get_context  (PawlFlow *self);
double        pawl_flow_get_width    (PawlFlow *self);  /* of the frame */
double        pawl_flow_get_height   (PawlFlow *self);  /* of the frame */
double        pawl_flow_get_room     (PawlFlow *self);  /* left on this page, for a row of this height at most */
/* Less air round headings and in tables, from here on: for what would otherwise spill over on to another page. */
void          pawl_flow_set_tight    (PawlFlow *self, gboolean is_tight);
gboolean      pawl_flow_is_tight     (PawlFlow *self);
/* Between TRUE and FALSE all rows are kept on one page, if one can hold them. No table may stand there. */
void          pawl_flow_set_together (PawlFlow *self, gboolean is_together);
/* Begins a page unless so much is left on this one; rows that are kept with the next go along. G_MAXDOUBLE: begins one. */
void          pawl_flow_ensure_room  (PawlFlow *self, double height);

/*
 * Sets @cells side by side, cell i at @x[i] from the left edge of the frame. Takes the cells. Cells higher than a page become several rows.
 * Returns (transfer none): the last row set, for pawl_flow_set_repeated().
 */
PawlRow      *pawl_flow_take_cells   (PawlFlow *self, PawlCell **cells, const double *x, guint n_cells, const PawlRowStyle *style);
/* From here on each new page begins with @row, which is set already; NULL: no more. */
void          pawl_flow_set_repeated (PawlFlow *self, PawlRow *row);
/* The same with a line that is set nowhere else: "7, continued". */
void          pawl_flow_set_continued (PawlFlow *self, const char *text);

void          pawl_flow_add_heading  (PawlFlow *self, const char *text);
/* The title of the document, set across the page. */
void          pawl_flow_add_title    (PawlFlow *self, const char *text);
void          pawl_flow_add_text     (PawlFlow *self, PawlLetter letter, const char *text);
/* A short paragraph that is kept on the page of what follows it. */
void          pawl_flow_add_lead_in  (PawlFlow *self, PawlLetter letter, const char *text);
/* A paragraph behind a dash. */
void          pawl_flow_add_item     (PawlFlow *self, PawlLetter letter, const char *text);
void          pawl_flow_add_space    (PawlFlow *self, double height_pt);
void          pawl_flow_add_rule     (PawlFlow *self, double thickness, double grey);

guint         pawl_flow_get_n_pages  (PawlFlow *self);
void          pawl_flow_draw_page    (PawlFlow *self, guint n, cairo_t *cr);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlFlow, pawl_flow_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCell, pawl_cell_free)

G_END_DECLS
