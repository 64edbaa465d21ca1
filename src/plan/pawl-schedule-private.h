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
  guint             *limited; /* waits that have a maximum */
  guint              n, n_waits_in_all, n_limited;
  PawlTimes        **allowed;    /* (nullable) of each node: when it may be finished; NULL: always */
  gboolean          *is_outside; /* of each node */
  gboolean           is_any_outside, is_any_long; /* long: work that goes on after hours */
} PawlTask;

/* ---- hours: pawl-schedule-hours.c ---- */
void    pawl_task_find_allowed (PawlTask *self);
/* At @at or as soon after it as @node may be finished; at @at or as late before it. */
gint64  pawl_task_find_finish  (const PawlTask *self, guint node, gint64 at);
gint64  pawl_task_find_last    (const PawlTask *self, guint node, gint64 at);
/* When the hands are there for the first time at @at or after it, and until when. */
void    pawl_task_find_hours   (const PawlTask *self, gint64 at, gint64 *from, gint64 *until);

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
void    pawl_day_copy     (PawlDay *self, const PawlDay *from);
void    pawl_day_clear    (PawlDay *self);
/* Whether what @node needs is told, and for work, whether there are places for it. */
gboolean pawl_day_can_tell (const PawlDay *self, guint node);
/* Tells @node, or takes the last one back; the times are the caller's. */
void    pawl_day_tell     (PawlDay *self, guint node);
void    pawl_day_take_back (PawlDay *self);
/* When the last need of @node is finished; 0 when there is none. All are told. */
gint64  pawl_day_get_ready (const PawlDay *self, guint node);

/* When the hands have to be free at the latest for the waits that run; G_MAXINT64: whenever. */
gint64  pawl_day_get_limit (const PawlDay *self);

/* Of what may be done, that with the largest rank is done first. */
typedef gint64 (*PawlRule) (const PawlTask *task, guint node);
gint64  pawl_rank_by_tail (const PawlTask *task, guint node);
gint64  pawl_rank_by_order (const PawlTask *task, guint node);
/* Tells the day on by a rule, until @n_end are told: whenever hands are free, the next. @now: when they are first. Returns when the last is finished. */
gint64  pawl_day_list     (PawlDay *day, PawlRule rule, gint64 now, guint n_end);

/* No continuation of @day is finished before this. @now: when the hands are free. */
gint64  pawl_day_get_bound (const PawlDay *day, gint64 now);

/* Fills @best with what is better than its makespan, if anything is found with so much effort: pawl-schedule-search.c. */
void    pawl_schedule_search (PawlSchedule *best, const PawlTask *task, guint64 effort);
/* Keeps to the order in which the nodes were added wherever the day ends no later for it: pawl-schedule-smooth.c. */
void    pawl_schedule_smooth (PawlSchedule *self, const PawlTask *task);
/* Takes a day that is told to its end over into @self. */
void    pawl_schedule_take  (PawlSchedule *self, const PawlDay *day);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlDay, pawl_day_clear)

G_END_DECLS
