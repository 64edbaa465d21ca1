/*
 * The picture of a plan: along time one lane for each sub-assembly of each job, with the hands above them all.
 *
 * Nothing is told by colour alone. What may be done now stands in a thick frame on paper, what is blocked in a thin one on a tint; what is critical has a bar at its
 * foot. A wait is hatched to its minimum and a dashed frame to its maximum, which ends in a bar; a wedge shows where it is ended. A thin line with an arrow leads to a
 * piece of work from the one in another lane that it waits for longest. A thick line stands where it is now; to the left of the time are the steps that were done
 * last, each with a tick.
 *
 * What is in the picture goes by an index: the items of the plan by theirs, and behind them the steps that are done or left out.
 */
#pragma once

#include <cairo.h>
#include "drawing/pawl-palette.h"
#include "plan/pawl-work-plan.h"

G_BEGIN_DECLS

typedef struct _PawlLanes PawlLanes;

/* The words that are the picture's own. */
typedef enum {
  PAWL_LANES_WORD_HANDS,
  PAWL_LANES_WORD_DONE, /* behind "25/62" */
  PAWL_LANES_WORD_CLOSED,
  PAWL_LANES_WORD_LATE,
  PAWL_LANES_WORD_READY,
  PAWL_LANES_WORD_BLOCKED,
  PAWL_LANES_WORD_CRITICAL,
  PAWL_LANES_WORD_WAIT,
} PawlLanesWord;

#define PAWL_LANES_N_WORDS (PAWL_LANES_WORD_WAIT + 1)

/* What of it is looked at. */
typedef struct {
  PawlPalette palette;
  gint64      from, until; /* seconds of the plan at the left and the right edge; both 0: all of it */
  double      top;         /* how far the lanes are scrolled up, user units */
  int         selected;    /* index of what is looked at, which stands in a double frame; -1: none */
  gint64      now;         /* seconds of the plan: where the line of the moment stands */
  const char *const *words; /* (nullable) (array): by PawlLanesWord, in the language of whoever looks; NULL: English */
} PawlLanesView;

typedef struct {
  guint                   job;   /* index of the job */
  const PawlStepState    *state; /* its step */
  const PawlWorkPlanItem *item;  /* (nullable): none of a step that is over */
} PawlLanesSpot;

typedef enum { PAWL_LANES_BEFORE, PAWL_LANES_BEHIND, PAWL_LANES_ABOVE, PAWL_LANES_BELOW } PawlLanesWay;

/* @plan: worked out, and kept by the caller as long as the lanes. @text: height of the lettering, user units */
PawlLanes *pawl_lanes_new        (const PawlWorkPlan *plan, double text);
void       pawl_lanes_free       (PawlLanes *self);
/* How high all of it is, with time above and key below. */
double     pawl_lanes_get_height (const PawlLanes *self);
/* Fills 0, 0 to @width, @height with the paper of the palette, and draws what of the lanes is in view. */
void       pawl_lanes_draw       (const PawlLanes *self, const PawlLanesView *view, cairo_t *cr, double width, double height);
/* The index of what is at a place of that picture, or -1. */
int        pawl_lanes_pick       (const PawlLanes *self, const PawlLanesView *view, double width, double height, double x, double y);

/* All of the time that there is to be seen, seconds of the plan. */
void       pawl_lanes_get_range  (const PawlLanes *self, gint64 *first, gint64 *last);
guint      pawl_lanes_get_n      (const PawlLanes *self); /* how many indices there are */
PawlLanesSpot pawl_lanes_get_spot (const PawlLanes *self, guint index);
/* The index of @state's work, or of what else is there of its step; -1: nothing. */
int        pawl_lanes_find       (const PawlLanes *self, guint job, const char *step_id);
/* Where one comes to from @index by an arrow key, @index itself when there is nothing farther on. -1 as @index comes to what is to be done first. */
int        pawl_lanes_move       (const PawlLanes *self, int index, PawlLanesWay way);
/* Its box in the picture. FALSE: it is over, and not among the steps that are seen. */
gboolean   pawl_lanes_get_spot_box (const PawlLanes *self, const PawlLanesView *view, double width, double height, guint index,
                                    double *x, double *y, double *across, double *down);
/* How high the part of @height is that lanes are seen in. */
double     pawl_lanes_get_field_height (const PawlLanes *self, double height);
/* What second of the plan is at @x. */
gint64     pawl_lanes_get_seconds (const PawlLanes *self, const PawlLanesView *view, double width, double x);
/* Where it stands: seconds of the plan, and from the top of the lanes, user units. FALSE: it is over, and has no place in time. */
gboolean   pawl_lanes_locate     (const PawlLanes *self, guint index, gint64 *from, gint64 *until, double *top, double *bottom);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLanes, pawl_lanes_free)

G_END_DECLS
