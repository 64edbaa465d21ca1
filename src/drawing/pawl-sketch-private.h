/*
 * Shared by the files of the sketch. A sketch is first planned, then painted: the plan is a list of items in surface units, all words placed where
 * nothing else is; painting only paints. So that a test can look at every box of words and every line.
 */
#pragma once

#include <pango/pangocairo.h>

#include "drawing/pawl-figure-private.h"
#include "drawing/pawl-sketch.h"

G_BEGIN_DECLS

/* ---- items ---- */

typedef enum {
  PAWL_LOOK_STROKE,     /* of a pose, by its kind */
  PAWL_LOOK_THIN,       /* dimension lines, leaders, the circle round a spot */
  PAWL_LOOK_HEAD,       /* filled: an arrowhead of a dimension, the dot of a leader */
  PAWL_LOOK_STRONG_HEAD, /* filled: of the arrow that says which way */
  PAWL_LOOK_LENS,       /* the circle with the enlarged spot: paper in a narrow line */
  PAWL_LOOK_DIVIDER,
  PAWL_LOOK_TICK,       /* one point: the upper left corner; the second one: the lower right */
  PAWL_LOOK_CROSS,
  PAWL_LOOK_TEXT,
} PawlSketchLook;

typedef enum { PAWL_TONE_INK, PAWL_TONE_GOOD, PAWL_TONE_BAD } PawlSketchTone;

typedef struct {
  PawlSketchLook look;
  PawlStrokeKind kind;      /* of a stroke */
  PawlPoint     *points;    /* (array length=n_points) surface units */
  guint          n_points;
  gboolean       is_closed, is_filled;
  gboolean       is_in_lens; /* cut off by the lens of its pane */
  PangoLayout   *layout;    /* text */
  PawlBox        box;       /* of the text, its logical extents */
  PawlSketchTone tone;
} PawlSketchItem;

/* ---- one pane: right or wrong ---- */

/* A pane with what is on it, and where that is, in cells, so that room for words is found. */
typedef struct {
  PawlBox    room;      /* nothing lies outside */
  double     text;      /* font size */
  GPtrArray *items;     /* (element-type PawlSketchItem) in painting order */
  PawlPoint  lens;      /* middle of the lens */
  double     lens_radius; /* 0: none */
  double     cell;      /* size of a cell */
  int        columns, rows;
  guint8    *cells;
} PawlSketchPane;

PawlSketchPane *pawl_sketch_pane_new   (PawlBox room, double text);
void            pawl_sketch_pane_free  (PawlSketchPane *self);
/* A stroke of a pose, without its label. In the lens it takes no room, as the lens has its own. */
void            pawl_sketch_pane_add_stroke (PawlSketchPane *self, const PawlStroke *stroke, double scale, PawlPoint origin, gboolean is_in_lens);
/* (transfer none). @points are copied. */
PawlSketchItem *pawl_sketch_pane_add_line (PawlSketchPane *self, PawlSketchLook look, const PawlPoint *points, guint n_points, gboolean is_closed);
void            pawl_sketch_pane_add_arc (PawlSketchPane *self, PawlSketchLook look, PawlPoint middle, double radius, double from, double to);
void            pawl_sketch_pane_add_circle (PawlSketchPane *self, PawlSketchLook look, PawlPoint middle, double radius);
void            pawl_sketch_pane_add_head (PawlSketchPane *self, PawlSketchLook look, PawlPoint from, PawlPoint tip);
void            pawl_sketch_pane_add_text (PawlSketchPane *self, PangoLayout *layout, PawlPoint corner, PawlSketchTone tone);
/* The box and a margin round it lie in the room, and neither lines nor words are there. The filled area of a part is free. */
gboolean        pawl_sketch_pane_is_free (const PawlSketchPane *self, PawlBox box);
typedef enum {
  PAWL_CLEAR_OF_ALL,
  PAWL_CLEAR_OF_NOTES, /* texts, leaders, dimensions; lines of the picture may be crossed */
  PAWL_CLEAR_OF_TEXT,
} PawlSketchClear;

/* The same along a line. */
gboolean        pawl_sketch_pane_line_is_free (const PawlSketchPane *self, PawlPoint from, PawlPoint to, PawlSketchClear clear);
/* Share of the box that lies on a part, 0..1. */
double          pawl_sketch_pane_get_cover (const PawlSketchPane *self, PawlBox box);
void            pawl_sketch_pane_move  (PawlSketchPane *self, double dx, double dy);

/* Words that want to stand near a point of each pane, at the same place in all that they are in. */
typedef struct {
  PawlSketchPane *pane;
  PawlPoint       anchor;
} PawlSketchSpot;

typedef enum {
  PAWL_LEADING_NEVER,   /* words stand close, or nowhere */
  PAWL_LEADING_IF_FAR,
  PAWL_LEADING_ALWAYS,
} PawlSketchLeading;

/* Puts the words as near as there is room, with leaders no longer than @longest times the text's size. FALSE when there is none: then nothing is added. */
gboolean        pawl_sketch_place_words (const PawlSketchSpot *spots, guint n_spots, PangoLayout *layout, PawlSketchLeading leading, double longest);

/* ---- dimensions ---- */

/* A dimension from @p to @q with its words, as near as there is room; FALSE when there is none. */
gboolean        pawl_sketch_pane_add_dimension (PawlSketchPane *self, PawlPoint p, PawlPoint q, PangoLayout *layout);
/* The same along the arc about @middle, the short way round. */
gboolean        pawl_sketch_pane_add_arc_dimension (PawlSketchPane *self, PawlPoint middle, PawlPoint p, PawlPoint q, PangoLayout *layout);
/* Without words, in the lens; @side: 1 or -1, on which side of pq. */
void            pawl_sketch_pane_add_lens_dimension (PawlSketchPane *self, PawlPoint p, PawlPoint q, int side);

/* ---- words ---- */

PangoLayout    *pawl_sketch_new_text   (cairo_t *cr, const char *text, double size, gboolean is_bold);
void            pawl_sketch_get_text_size (PangoLayout *layout, double *width, double *height);
/* Lets a text be no wider than @width, in @most_lines at most; what is more is cut off with an ellipsis. */
void            pawl_sketch_wrap_text  (PangoLayout *layout, double width, int most_lines);
/* TRUE when a wrapped text has lost something, or had a word broken. */
gboolean        pawl_sketch_is_cut     (PangoLayout *layout);
const char     *pawl_sketch_choose_word (const char *word, const char *otherwise);
/* (transfer full) (nullable): label and number of a stroke, with @between between them; NULL when it has neither. */
char           *pawl_sketch_format_stroke (const PawlStroke *stroke, const char *between, const PawlSketchOptions *options);
char           *pawl_sketch_format_difference (const PawlStroke *stroke, double size_mm, const PawlSketchOptions *options);
/* The options with each 0 replaced by what it means. */
PawlSketchOptions pawl_sketch_complete_options (const PawlSketchOptions *options);

/* ---- the plan ---- */

typedef struct {
  PawlSketchOptions options;
  double            width, height;
  PawlSketchPane   *panes[2];  /* right, wrong; both NULL when the rule lacks something */
  PawlSketchPane   *sheet;     /* what belongs to both: the divider, the words below */
  double            exaggeration; /* of the lenses, 1: none */
  guint             n_left_out;  /* words for which there was no room */
} PawlSketchPlan;

PawlSketchPlan *pawl_sketch_plan_new   (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height);
/* Both panes of a question, each @width by @height at the origin, to one scale; the sheet is empty. */
PawlSketchPlan *pawl_sketch_plan_new_question (const PawlRule *rule, const PawlQuestion *question, const PawlSketchOptions *options, cairo_t *cr,
                                               double width, double height);
void            pawl_sketch_plan_free  (PawlSketchPlan *self);
void            pawl_sketch_pane_paint (const PawlSketchPane *self, cairo_t *cr, PawlPalette palette, gboolean is_text);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSketchPane, pawl_sketch_pane_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSketchPlan, pawl_sketch_plan_free)

G_END_DECLS
