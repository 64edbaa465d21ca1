/*
 * How busy the main thread is, and what each frame costs it. The thread counts as busy whenever it does not wait for events.
 *
 * What GTK draws goes to the X server as a list of things to do. For a single change that wait is part of it: each frame ends when the
 * server has done them. In a move the two work side by side, as they do for a user: a frame ends when the thread has done its share, and
 * the time that the server still needs after the last one counts for the frames per second.
 */
#pragma once

#include <gtk/gtk.h>

typedef struct {
  gint64 begin_usec, end_usec;
  gint64 cpu_usec; /* processor time of the thread */
} SpeedFrame;

typedef struct _SpeedWatch SpeedWatch;

gint64      speed_watch_get_cpu_time    (void); /* processor time of this thread so far, microseconds */

/* Watches the frames of @window, which must be realised, and the default main context. One at a time in a process. */
SpeedWatch *speed_watch_new             (GtkWidget *window);
void        speed_watch_free            (SpeedWatch *self);
void        speed_watch_reset           (SpeedWatch *self); /* forgets what was, counts from now on, as for a change */
void        speed_watch_begin_move      (SpeedWatch *self); /* the same, as for a move */
void        speed_watch_end_move        (SpeedWatch *self); /* waits for the server; nothing counts after it until the next of the two above */

guint       speed_watch_get_n_frames    (SpeedWatch *self);
gint64      speed_watch_get_last_frame  (SpeedWatch *self); /* end of the last one, monotonic microseconds; 0 when there was none */
double      speed_watch_get_busy_msec   (SpeedWatch *self); /* in all */
double      speed_watch_get_busy_cpu_msec (SpeedWatch *self); /* processor time of the same: waits for a processor or the X server left out */
double      speed_watch_get_longest_msec (SpeedWatch *self); /* at one stretch */
double      speed_watch_get_fps         (SpeedWatch *self); /* of a move: from the first frame to its end */
double      speed_watch_get_work_p95_msec (SpeedWatch *self); /* work for one frame, that 95 % of the frames stay under */
double      speed_watch_get_work_p95_cpu_msec (SpeedWatch *self); /* the same of their processor time */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpeedWatch, speed_watch_free)
