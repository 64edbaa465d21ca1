/*
 * Callouts: item numbers round a figure. Rules of ISO 6433 and ISO 128 (both from memory): numbers outside the parts, in rows and columns, all of
 * one height; leaders straight and short, crossing neither each other nor a number, at more than 15 degrees to hatching; they end in a dot on a
 * surface and in an arrow on a line.
 *
 * Pure geometry: the same input gives the same places, in any unit. Nothing here knows a scene; what is drawn where is told by a map.
 *
 * The cost of a placement, in heights of the figures:
 *
 *   forbidden, 1000 each       two leaders cross; a leader crosses a number; two numbers overlap; a leader lies within 15 degrees of a hatching it
 *                              passes over
 *   5 for each row or column   that numbers stand in: fewer of them are tidier, more of them are nearer
 *   the leader's length        + 0.6 of the length over other parts, + 0.7 for each other part, + 2.5 for a small one (under 3 heights squared)
 *   up to 3                    for passing within 0.6 of another number's anchor
 *   up to 0.6                  for a leader within 10 degrees of level or plumb, like the axis lines and edges that it must not be taken for
 *   1                          for a leader within 25 degrees of the row or column that its number stands in
 *   up to 2                    for a leader shorter than 1
 *   1.5                        for a number on an axis line
 *   up to 1 / 3                for an anchor less deep inside its part than 0.6 / on another of the item's regions than the first that is seen
 *   up to 6                    for moving away from the last placement: none where the number stays on the sheet or goes with its part, the whole
 *                              from 1.4 heights on. A number jumps only where that gains more than this.
 */
#pragma once

#include "drawing/pawl-id-map.h"

G_BEGIN_DECLS

typedef struct {
  guint     who;       /* on the map */
  PawlPoint at;
  double    depth;     /* to the edge of what is seen of the part */
  gboolean  is_second; /* not the region of the item that is first seen */
} PawlAnchor;

typedef struct {
  char     *number;      /* text to show */
  double    width;       /* of the text */
  GArray   *anchors;     /* (element-type PawlAnchor) points it may point at, one at least */
  gboolean  is_hidden;   /* nothing of the part can be seen: the leader is dashed, the anchor its middle */
  gboolean  is_strong;   /* the part in hand: bold */
  /* set by pawl_callouts_place */
  PawlPoint anchor;      /* the dot, or the arrow's tip */
  guint     who;         /* that it lies on */
  gboolean  is_on_line;  /* an arrow: what is seen of the part there is no wider than a dot */
  PawlPoint place;       /* middle of the text */
  PawlPoint elbow;       /* where the leader leaves the text */
  /* the caller's */
  char     *region;      /* (nullable) (owned) */
} PawlCallout;

typedef struct {
  GPtrArray *items;       /* (element-type PawlCallout) in the order given */
  double     height;      /* of the figures */
  double     dot_radius;  /* a seventh of it */
  double     clearance;   /* from a number to ink, in heights: 0.4, unless set before placing; less where there is no room for that */
  double     width;       /* of the drawing they were placed in; 0 at first */
  double     tallness;    /* its height */
  double     cost;        /* as above */
  guint      n_forbidden; /* how often something forbidden was left: 0 but where nothing else is possible */
  guint      n_lines;     /* rows and columns */
} PawlCallouts;

PawlCallouts *pawl_callouts_new        (double height);
void          pawl_callouts_free       (PawlCallouts *self);
/* @number is copied. Returns: (transfer none), without an anchor. */
PawlCallout  *pawl_callouts_add        (PawlCallouts *self, const char *number, double width);
/* Takes the newest back: it has nothing to point at. */
void          pawl_callouts_drop_last  (PawlCallouts *self);
void          pawl_callout_add_anchor  (PawlCallout *self, PawlAnchor anchor);
/* Takes out the anchor that pawl_callouts_place() chose; another must be left. For one that proves to be wrong, before placing again. */
void          pawl_callout_drop_anchor (PawlCallout *self);
/**
 * pawl_callouts_place:
 * @map: finished; what is drawn, and the sheet that numbers must stay on
 * @last: (nullable): an earlier placement, whose numbers shall not jump
 *
 * Finds a place for each number and the best of its anchors. Places are those of a lattice over the drawing, which depends on the drawing's size and
 * the widest number alone; a row or column of it is a row or column of numbers. Those on ink, or too near to it, are left out. Begun from the
 * shortest total length of all leaders, where no two cross, and from where each stood, or its own best place; made better as long as the cost falls by moving
 * one number, by moving one and what it pushes away, by giving up or taking up a row or column, and by shaking loose a few neighbours. The work is
 * counted, not timed, so the same input always gives the same result; where something forbidden is left, it is begun again with four times the work.
 * Meant for up to 60; more numbers than there are places stand closer.
 */
void          pawl_callouts_place      (PawlCallouts *self, const PawlIdMap *map, const PawlCallouts *last);
/* (nullable): the callout of that number. */
const PawlCallout *pawl_callouts_lookup (const PawlCallouts *self, const char *number);
/* Whether @now stands where @before did: on the sheet, or with its part, to within one height. For placements in drawings of one size. */
gboolean      pawl_callout_has_stayed  (const PawlCallout *now, const PawlCallout *before, double height);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCallouts, pawl_callouts_free)

G_END_DECLS
