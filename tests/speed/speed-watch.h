/*
 * How busy the main thread is, and what each frame costs it: from when the frame clock begins the frame until the X server has drawn
 * it. The thread counts as busy whenever it does not wait for events.
 */
#pragma once

#include <gtk/gtk.h>

typedef struct {
  gint64 begin_usec, end_usec;
} SpeedFrame;

typedef struct _SpeedWatch SpeedWatch;

/* Watches the frames of @window, which must be realised, and the default main context. One at a time in a process. */
SpeedWatch *speed_watch_new             (GtkWidget *window);
void        speed_watch_free            (SpeedWatch *self);
void        speed_watch_reset           (SpeedWatch *self); /* forgets what was, counts from now on */

guint       speed_watch_get_n_frames    (SpeedWatch *self);
gint64      speed_watch_get_last_frame  (SpeedWatch *self); /* end of the last one, monotonic microseconds; 0 when there was none */
double      speed_watch_get_busy_msec   (SpeedWatch *self); /* in all */
double      speed_watch_get_longest_msec (SpeedWatch *self); /* at one stretch */
double      speed_watch_get_fps         (SpeedWatch *self); /* from the first frame to the last */
double      speed_watch_get_work_p95_msec (SpeedWatch *self); /* work for one frame, that 95 % of the frames stay under */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpeedWatch, speed_watch_free)
