#include "app/pawl-steady.h"

#include <time.h>

#define BOOT_ID "/proc/sys/kernel/random/boot_id"

static gint64
read_boot_time (gpointer data)
{
  struct timespec now;

  if (clock_gettime (CLOCK_BOOTTIME, &now) != 0)
    return 0;
  return now.tv_sec * G_USEC_PER_SEC + now.tv_nsec / 1000;
}

static char *
read_boot_id (gpointer data)
{
  char *id = NULL;

  if (!g_file_get_contents (BOOT_ID, &id, NULL, NULL))
    return g_strdup ("");
  return g_strstrip (id);
}

const PawlSteady *
pawl_steady_get_system (void)
{
  static const PawlSteady system = { read_boot_time, read_boot_id, NULL };

  return &system;
}

void
pawl_clock_sample_take (PawlClockSample *self, const PawlSteady *steady, GDateTime *wall)
{
  pawl_clock_sample_clear (self);
  self->boot = steady->dup_boot (steady->data);
  self->steady_usec = steady->now_usec (steady->data);
  self->wall_usec = g_date_time_to_unix (wall) * G_USEC_PER_SEC + g_date_time_get_microsecond (wall);
}

void
pawl_clock_sample_clear (PawlClockSample *self)
{
  g_clear_pointer (&self->boot, g_free);
}

gint64
pawl_clock_find_jump (const PawlClockSample *before, const PawlClockSample *now)
{
  gint64 jump = (now->wall_usec - before->wall_usec) - (now->steady_usec - before->steady_usec);
  gint64 seconds = (jump + (jump < 0 ? -1 : 1) * (gint64) G_USEC_PER_SEC / 2) / (gint64) G_USEC_PER_SEC;

  if (before->boot == NULL || *before->boot == '\0' || g_strcmp0 (before->boot, now->boot) != 0)
    return 0;
  return ABS (seconds) >= PAWL_CLOCK_JUMP_SECONDS ? seconds : 0;
}
