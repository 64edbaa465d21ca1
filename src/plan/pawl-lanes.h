/*
 * The picture of a plan: along time one lane for each sub-assembly of each job, with the hands above them all.
 *
 * Nothing is told by colour alone. What may be done now stands in a thick frame on paper, what is blocked in a thin one on a tint; what is critical has a bar at its
 * foot. A wait is hatched to its minimum and a dashed frame to its maximum, which ends in a bar; a wedge shows where it is ended. A thin line with an arrow leads to a
 * piece of work from the one in another lane that it waits for longest.
 */
#pragma once

#include <cairo.h>
#include "drawing/pawl-palette.h"
#include "plan/pawl-work-plan.h"

G_BEGIN_DECLS

typedef struct _PawlLanes PawlLanes;

/* What of it is looked at. */
typedef struct {
  PawlPalette palette;
  gint64      from, until; /* seconds of the plan at the left and the right edge; both 0: all of it */
  double      top;         /* how far the lanes are scrolled up, user units */
  int         selected;    /* item that is looked at, which stands in a double frame; -1: none */
} PawlLanesView;

/* @plan: worked out, and kept by the caller as long as the lanes. @text: height of the lettering, user units */
PawlLanes *pawl_lanes_new        (const PawlWorkPlan *plan, double text);
void       pawl_lanes_free       (PawlLanes *self);
/* How high all of it is, with time above and key below. */
double     pawl_lanes_get_height (const PawlLanes *self);
/* Fills 0, 0 to @width, @height with the paper of the palette, and draws what of the lanes is in view. */
void       pawl_lanes_draw       (const PawlLanes *self, const PawlLanesView *view, cairo_t *cr, double width, double height);
/* The item at a place of that picture, or -1. */
int        pawl_lanes_pick       (const PawlLanes *self, const PawlLanesView *view, double width, double height, double x, double y);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLanes, pawl_lanes_free)

G_END_DECLS
