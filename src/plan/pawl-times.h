/*
 * Moments that come again with each period, a week for instance: closed intervals of whole seconds. What is done with them is what a plan asks: the next such
 * moment, the last, and from which moments one of them can be reached in time.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _PawlTimes PawlTimes;

/* None. @period: seconds, above 0 */
PawlTimes *pawl_times_new         (gint64 period);
void       pawl_times_free        (PawlTimes *self);
/* Both ends belong to it; anywhere in time. @until: not before @from */
void       pawl_times_add         (PawlTimes *self, gint64 from, gint64 until);
gint64     pawl_times_get_period  (const PawlTimes *self);
gboolean   pawl_times_is_empty    (const PawlTimes *self);
gboolean   pawl_times_is_whole    (const PawlTimes *self); /* every moment */
/* At @at or next after it, at @at or last before it. @self has any. */
gint64     pawl_times_find_next   (const PawlTimes *self, gint64 at);
gint64     pawl_times_find_last   (const PawlTimes *self, gint64 at);
/* The first interval that ends after @at, as long as it is. FALSE: it is whole, or empty. */
gboolean   pawl_times_find_interval (const PawlTimes *self, gint64 at, gint64 *from, gint64 *until);
/* Keeps what is in @other as well, of the same period. */
void       pawl_times_intersect   (PawlTimes *self, const PawlTimes *other);
/* (transfer full): all of it later by @seconds, which may be below 0. */
PawlTimes *pawl_times_shift       (const PawlTimes *self, gint64 seconds);
/* (transfer full): the moments from which one of @self is so far ahead: @min to @max seconds. */
PawlTimes *pawl_times_spread_back (const PawlTimes *self, gint64 min, gint64 max);
/* (transfer full): the moments at which something that takes @seconds without a break can be finished within an interval. */
PawlTimes *pawl_times_fit         (const PawlTimes *self, gint64 seconds);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTimes, pawl_times_free)

G_END_DECLS
