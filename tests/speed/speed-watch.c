#include "speed-watch.h"

#include <time.h>

struct _SpeedWatch {
  GtkWidget     *window;      /* borrowed */
  GdkFrameClock *clock;       /* owned */
  GArray        *frames;      /* (element-type SpeedFrame) */
  gint64         frame_begin, frame_begin_cpu; /* of the one that is being made */
  gint64         busy_since, busy_since_cpu;
  gint64         busy_usec, busy_cpu_usec, longest_usec;
  gboolean       is_move;
  gint64         move_end; /* 0 before it */
};

gint64
speed_watch_get_cpu_time (void)
{
  struct timespec now;

  clock_gettime (CLOCK_THREAD_CPUTIME_ID, &now);
  return now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

/* A poll function is not handed any data. */
static SpeedWatch *watching;

static int
poll_and_note (GPollFD *fds, guint n_fds, int timeout)
{
  gint64 now = g_get_monotonic_time ();
  int n_ready;

  watching->busy_usec += now - watching->busy_since;
  watching->busy_cpu_usec += speed_watch_get_cpu_time () - watching->busy_since_cpu;
  watching->longest_usec = MAX (watching->longest_usec, now - watching->busy_since);
  n_ready = g_poll (fds, n_fds, timeout);
  watching->busy_since = g_get_monotonic_time ();
  watching->busy_since_cpu = speed_watch_get_cpu_time ();
  return n_ready;
}

static void
frame_begins_cb (GdkFrameClock *clock, SpeedWatch *self)
{
  self->frame_begin = g_get_monotonic_time ();
  self->frame_begin_cpu = speed_watch_get_cpu_time ();
}

static void
frame_ends_cb (GdkFrameClock *clock, SpeedWatch *self)
{
  SpeedFrame frame = { .begin_usec = self->frame_begin };

  if (self->move_end != 0)
    return;
  if (!self->is_move)
    gdk_display_sync (gtk_widget_get_display (self->window));
  frame.end_usec = g_get_monotonic_time ();
  frame.cpu_usec = speed_watch_get_cpu_time () - self->frame_begin_cpu;
  g_array_append_val (self->frames, frame);
}

SpeedWatch *
speed_watch_new (GtkWidget *window)
{
  SpeedWatch *self = g_new0 (SpeedWatch, 1);

  g_assert (watching == NULL);
  watching = self;
  self->window = window;
  self->clock = g_object_ref (gtk_widget_get_frame_clock (window));
  self->frames = g_array_new (FALSE, FALSE, sizeof (SpeedFrame));
  self->busy_since = g_get_monotonic_time ();
  self->busy_since_cpu = speed_watch_get_cpu_time ();
  g_signal_connect (self->clock, "before-paint", G_CALLBACK (frame_begins_cb), self);
  g_signal_connect_after (self->clock, "after-paint", G_CALLBACK (frame_ends_cb), self);
  g_main_context_set_poll_func (NULL, poll_and_note);
  return self;
}

void
speed_watch_free (SpeedWatch *self)
{
  g_main_context_set_poll_func (NULL, NULL);
  g_signal_handlers_disconnect_by_data (self->clock, self);
  g_object_unref (self->clock);
  g_array_unref (self->frames);
  g_free (self);
  watching = NULL;
}

void
speed_watch_reset (SpeedWatch *self)
{
  g_array_set_size (self->frames, 0);
  self->busy_usec = self->busy_cpu_usec = self->longest_usec = self->move_end = 0;
  self->is_move = FALSE;
  self->busy_since = g_get_monotonic_time ();
  self->busy_since_cpu = speed_watch_get_cpu_time ();
}

void
speed_watch_begin_move (SpeedWatch *self)
{
  speed_watch_reset (self);
  self->is_move = TRUE;
}

void
speed_watch_end_move (SpeedWatch *self)
{
  gdk_display_sync (gtk_widget_get_display (self->window));
  self->move_end = g_get_monotonic_time ();
}

guint
speed_watch_get_n_frames (SpeedWatch *self)
{
  return self->frames->len;
}

gint64
speed_watch_get_last_frame (SpeedWatch *self)
{
  return self->frames->len > 0 ? g_array_index (self->frames, SpeedFrame, self->frames->len - 1).end_usec : 0;
}

double
speed_watch_get_busy_msec (SpeedWatch *self)
{
  return self->busy_usec / 1000.0;
}

double
speed_watch_get_busy_cpu_msec (SpeedWatch *self)
{
  return self->busy_cpu_usec / 1000.0;
}

double
speed_watch_get_longest_msec (SpeedWatch *self)
{
  return self->longest_usec / 1000.0;
}

double
speed_watch_get_fps (SpeedWatch *self)
{
  g_return_val_if_fail (self->move_end != 0, 0);
  if (self->frames->len < 2)
    return 0;
  return (self->frames->len - 1) * (double) G_USEC_PER_SEC / (self->move_end - g_array_index (self->frames, SpeedFrame, 0).end_usec);
}

static int
compare_doubles (const void *a, const void *b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return (first > second) - (first < second);
}

static double
get_p95 (SpeedWatch *self, gboolean is_cpu)
{
  guint n = self->frames->len;
  g_autofree double *work = g_new (double, MAX (n, 1));

  if (n == 0)
    return 0;
  for (guint i = 0; i < n; i++)
    {
      const SpeedFrame *frame = &g_array_index (self->frames, SpeedFrame, i);

      work[i] = (is_cpu ? frame->cpu_usec : frame->end_usec - frame->begin_usec) / 1000.0;
    }
  qsort (work, n, sizeof *work, compare_doubles);
  return work[MIN (n - 1, (guint) (0.95 * n))];
}

double
speed_watch_get_work_p95_msec (SpeedWatch *self)
{
  return get_p95 (self, FALSE);
}

double
speed_watch_get_work_p95_cpu_msec (SpeedWatch *self)
{
  return get_p95 (self, TRUE);
}
