/*
 * What the list, the search and the bound of a schedule share. A day is told as a sequence of nodes: work where it is done, a wait where it is ended. From the
 * sequence the times follow: each as soon as what it needs and what stands before it allow.
 */
#pragma once

#include "plan/pawl-network-private.h"
#include "plan/pawl-schedule.h"

G_BEGIN_DECLS

/* What never changes while schedules are looked for. */
typedef struct {
  const PawlNetwork *network;
  PawlCriticalPath  *path;
  guint             *topological;
  guint             *root;    /* of each node: pawl_network_find_root() */
  guint             *n_waits; /* of each root: how many waits hold on to its places */
  guint              n, n_waits_in_all;
} PawlTask;

/* A day as far as it is told. */
typedef struct {
  const PawlTask *task;
  guint          *sequence;
  guint           n_told;
  gint64         *finish;    /* of each node told: of a wait, when it is ended */
  guint          *n_missing; /* of each node: needs that are not told */
  guint          *n_held;    /* of each root that has begun: waits not ended */
  guint          *n_used;    /* of each resource */
  gboolean       *is_told;
} PawlDay;

void    pawl_day_init     (PawlDay *self, const PawlTask *task);
void    pawl_day_clear    (PawlDay *self);
/* Whether what @node needs is told, and for work, whether there are places for it. */
gboolean pawl_day_can_tell (const PawlDay *self, guint node);
/* Tells @node, or takes the last one back; the times are the caller's. */
void    pawl_day_tell     (PawlDay *self, guint node);
void    pawl_day_take_back (PawlDay *self);
/* When the last need of @node is finished; 0 when there is none. All are told. */
gint64  pawl_day_get_ready (const PawlDay *self, guint node);

/* No continuation of @day is finished before this. @now: when the hands are free. */
gint64  pawl_day_get_bound (const PawlDay *day, gint64 now);

/* Fills @best with what is better than its makespan, if anything is found with so much effort: pawl-schedule-search.c. */
void    pawl_schedule_search (PawlSchedule *best, const PawlTask *task, guint64 effort);
/* Takes a day that is told to its end over into @self. */
void    pawl_schedule_take  (PawlSchedule *self, const PawlDay *day);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlDay, pawl_day_clear)

G_END_DECLS
