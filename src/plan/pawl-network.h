/*
 * A network of work and waits: what comes after what, how long each takes, and what each holds on to.
 *
 * A node is work, which needs the hands from its start to its finish, or a wait, which runs by itself. A wait begins in the moment in which the one node that
 * it needs is finished; a wait that needs none runs already. It may be ended once its minimum is over, and has to be before its maximum is; ending it
 * takes no time, but hands that are free in that moment. Times are whole seconds from the beginning, or any other unit that the caller keeps to.
 */
#pragma once

#include "plan/pawl-times.h"

G_BEGIN_DECLS

typedef struct _PawlNetwork PawlNetwork;

#define PAWL_NETWORK_NO_MAX ((gint64) -1)

PawlNetwork *pawl_network_new          (void);
void         pawl_network_free         (PawlNetwork *self);

/* Each returns the index of the new node: 0, 1, 2, … @seconds, @min: 0 or more. */
guint        pawl_network_add_work     (PawlNetwork *self, gint64 seconds);
/* @max: at least @min, or PAWL_NETWORK_NO_MAX. */
guint        pawl_network_add_wait     (PawlNetwork *self, gint64 min, gint64 max);
/* @node comes after @before. Said twice, it counts once. */
void         pawl_network_add_need     (PawlNetwork *self, guint node, guint before);
/* Something with so many places: a tank, a press. Returns its index. @places: 1 or more */
guint        pawl_network_add_resource (PawlNetwork *self, guint places);
/* @node, work or a wait that runs already, takes one place of @resource from its start until it is finished, and with it all waits that begin one behind the other. */
void         pawl_network_add_use      (PawlNetwork *self, guint node, guint resource);

/* When the hands are there, by the seconds of the network; @hours: (transfer full) (nullable): always, as when nothing is said. Work is begun and finished within, and
 * waits are ended then. */
void         pawl_network_take_hours   (PawlNetwork *self, PawlTimes *hours);
const PawlTimes *pawl_network_peek_hours (const PawlNetwork *self); /* (nullable) */

guint        pawl_network_get_n_nodes  (const PawlNetwork *self);
gboolean     pawl_network_is_wait      (const PawlNetwork *self, guint node);
gint64       pawl_network_get_duration (const PawlNetwork *self, guint node); /* of a wait: the minimum */
gint64       pawl_network_get_max      (const PawlNetwork *self, guint node); /* or PAWL_NETWORK_NO_MAX */
/* (element-type guint): as they were added; lent. */
const GArray *pawl_network_peek_needs     (const PawlNetwork *self, guint node);
const GArray *pawl_network_peek_followers (const PawlNetwork *self, guint node);

/* (transfer full) (nullable) (element-type guint): nodes that each need the one that follows, the first again last; NULL: no cycle. */
GArray      *pawl_network_find_cycle   (const PawlNetwork *self);
/* Whether that @node comes after @before follows from its other needs. The network has no cycle. */
gboolean     pawl_network_is_redundant (const PawlNetwork *self, guint node, guint before);

/* ---- critical path: as if there were hands and places for everything at once ---- */

/* Each array has one value for each node. */
typedef struct {
  guint   n;
  gint64  duration;   /* of the whole */
  gint64 *earliest;   /* start */
  gint64 *latest;     /* start that doesn't delay the end */
  gint64 *total_float; /* latest less earliest; 0: critical */
  gint64 *free_float; /* what it may be late without delaying a follower; of a last node, the end */
  gint64 *tail;       /* from its finish to the end, at least */
} PawlCriticalPath;

/**
 * pawl_critical_path_new:
 * @network: without a cycle
 *
 * Longest paths forwards and backwards. Maxima of waits don't count.
 * Source: the critical path method as in Levy, Thompson, Wiest, "The ABCs of the Critical Path Method", Harvard Business Review, Sept-Oct 1963.
 */
PawlCriticalPath *pawl_critical_path_new  (const PawlNetwork *network);
void              pawl_critical_path_free (PawlCriticalPath *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlNetwork, pawl_network_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCriticalPath, pawl_critical_path_free)

G_END_DECLS
