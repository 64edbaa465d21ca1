#include "app/pawl-alarm.h"

#include <glib-unix.h>
#include <sys/timerfd.h>
#include <unistd.h>

struct _PawlAlarm {
  PawlAlarmFunc func;
  gpointer      data;
  int           fd;     /* -1: the system has no more; then nobody is called, and what is due is seen at the next look */
  guint         source;
  GDateTime    *at;     /* (nullable) */
};

static void
arm (PawlAlarm *self)
{
  struct itimerspec when = { { 0, 0 }, { 0, 0 } };

  if (self->at != NULL)
    {
      when.it_value.tv_sec = g_date_time_to_unix (self->at);
      when.it_value.tv_nsec = MAX (g_date_time_get_microsecond (self->at) * 1000, 1); /* all 0 would mean never */
    }
  if (self->fd >= 0)
    timerfd_settime (self->fd, TFD_TIMER_ABSTIME | TFD_TIMER_CANCEL_ON_SET, &when, NULL);
}

/* Reading says how often it went off, or that the clock was set; either way somebody has to look. A moment that has passed is not set again by itself. */
static gboolean
went_off_cb (int fd, GIOCondition condition, gpointer data)
{
  PawlAlarm *self = data;
  guint64 n;

  if (read (fd, &n, sizeof n) < 0)
    arm (self);
  self->func (self->data);
  return G_SOURCE_CONTINUE;
}

PawlAlarm *
pawl_alarm_new (PawlAlarmFunc func, gpointer data)
{
  PawlAlarm *self = g_new0 (PawlAlarm, 1);

  self->func = func;
  self->data = data;
  self->fd = timerfd_create (CLOCK_REALTIME, TFD_NONBLOCK | TFD_CLOEXEC);
  if (self->fd >= 0)
    self->source = g_unix_fd_add (self->fd, G_IO_IN, went_off_cb, self);
  return self;
}

void
pawl_alarm_free (PawlAlarm *self)
{
  g_clear_handle_id (&self->source, g_source_remove);
  if (self->fd >= 0)
    close (self->fd);
  g_clear_pointer (&self->at, g_date_time_unref);
  g_free (self);
}

void
pawl_alarm_set (PawlAlarm *self, GDateTime *at, GDateTime *now)
{
  g_autoptr(GDateTime) system = g_date_time_new_now_utc ();

  g_clear_pointer (&self->at, g_date_time_unref);
  self->at = at != NULL ? g_date_time_add (system, g_date_time_difference (at, now)) : NULL;
  arm (self);
}
