/* An alarm by the wall clock: it also goes off when its moment passed in sleep, and when the clock is set. Nothing ticks until then. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _PawlAlarm PawlAlarm;

typedef void (*PawlAlarmFunc) (gpointer data);

/* @func is called on the main loop. */
PawlAlarm *pawl_alarm_new  (PawlAlarmFunc func, gpointer data);
void       pawl_alarm_free (PawlAlarm *self);
/* @at: (nullable): never. @now: by the same clock as @at, which in tests stands still. In place of what was set before. */
void       pawl_alarm_set  (PawlAlarm *self, GDateTime *at, GDateTime *now);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlAlarm, pawl_alarm_free)

G_END_DECLS
