/* Shared by the files of the sketch. */
#pragma once

#include <pango/pangocairo.h>

#include "drawing/pawl-figure-private.h"
#include "drawing/pawl-sketch.h"

G_BEGIN_DECLS

/* A pen in millimetres of the part: where they come to lie, and how wide lines are. */
typedef struct {
  cairo_t *cr;
  PawlInks inks;
  double   text;    /* font size, surface units */
  double   scale;   /* surface units per millimetre */
  double   x, y;    /* where the part's origin lies */
  double   width;   /* of the pane, that words must stay in */
} PawlSketchPen;

PawlPoint    pawl_sketch_pen_place   (const PawlSketchPen *pen, PawlPoint mm);
/* A stroke by its kind, without its label. Differences are not drawn by this. */
void         pawl_sketch_pen_stroke  (const PawlSketchPen *pen, const PawlStroke *stroke);
void         pawl_sketch_pen_narrow  (const PawlSketchPen *pen, double alpha); /* a continuous narrow line follows */
void         pawl_sketch_pen_head    (const PawlSketchPen *pen, PawlPoint from, PawlPoint tip); /* filled arrowhead, surface units */
/* Dimension from @p to @q (surface units), its line clear of @outline: above or left of it (@sign -1), below or right (1). @text may be "". */
void         pawl_sketch_pen_dimension (const PawlSketchPen *pen, PawlPoint p, PawlPoint q, PawlBox outline, int sign, const char *text);
/* The same along an arc about @middle, outside @radius: for gaps round a ring. */
void         pawl_sketch_pen_arc_dimension (const PawlSketchPen *pen, PawlPoint middle, double radius, PawlPoint p, PawlPoint q, const char *text);
/* TRUE when the words of the dimension of p to q stand above or below, not beside. */
gboolean     pawl_sketch_lies_flat   (PawlPoint p, PawlPoint q);
PangoLayout *pawl_sketch_new_text    (cairo_t *cr, const char *text, double size, gboolean is_bold);
void         pawl_sketch_get_text_size (PangoLayout *layout, double *width, double *height);
void         pawl_sketch_draw_sign   (const PawlSketchPen *pen, double x, double y, double size, gboolean is_right);

G_END_DECLS
