/*
 * The day: a network worked off by one pair of hands, with unattended waits beside it, so that all is finished soonest.
 *
 * Hands do one thing at a time and don't leave it half done. Every wait is ended within its minimum and maximum: that can always be kept, because hands may
 * stay idle for it. Places of tanks and presses are never given twice.
 *
 * With working hours (pawl_network_take_hours()) work is begun so that it is finished within them, and that waits behind it can be ended within them. What can't be,
 * a wait whose minimum and maximum leave it no such moment, or work that is longer than any day, is done outside of them and told by is_outside. Then, too, the search
 * is exact; the bound is looser.
 */
#pragma once

#include "plan/pawl-network.h"

G_BEGIN_DECLS

typedef struct {
  guint    n;
  gboolean *is_outside; /* of each node: a wait that is ended whenever it is time, work that goes on after hours */
  gint64  *start;     /* of each node */
  gint64  *finish;    /* of each node; of a wait: when it is ended */
  guint   *order;     /* nodes as they are finished by hand: work done, waits ended */
  gint64   makespan;  /* when the last is finished */
  gint64   bound;     /* no schedule of this network is finished before */
  gboolean is_least;  /* proven: no schedule is finished sooner than this one */
  guint64  n_visited; /* how many beginnings of a day the search has looked at */
} PawlSchedule;

/* Beginnings that pawl_schedule_new() looks at before it is content with the best day that it has. Nothing depends on the clock. */
#define PAWL_SCHEDULE_EFFORT 20000

/**
 * pawl_schedule_new:
 * @network: without a cycle
 * @effort: how many beginnings of a day to look at, at most; 0: none, lists by rules only
 *
 * Lists by several rules, the best of them taken; where it doesn't meet the bound, branch and bound over all orders of what the hands do, as far as @effort goes.
 * The bound is that of a pair of hands that may leave off and take up work at will, each piece of work between the longest path to it and from it.
 *
 * Source of the bound: Jackson's preemptive schedule, Carlier, "The one-machine sequencing problem", EJOR 11 (1982), from memory.
 */
PawlSchedule *pawl_schedule_new  (const PawlNetwork *network, guint64 effort);
void          pawl_schedule_free (PawlSchedule *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSchedule, pawl_schedule_free)

G_END_DECLS
