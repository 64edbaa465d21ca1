#include "app/pawl-pedal.h"

static gboolean
is_repeat (const PawlPedal *self, guint key, gint64 at_usec)
{
  return self->down == key && at_usec - self->seen_usec <= PAWL_PEDAL_REPEAT_USEC;
}

static gboolean
is_bounce (const PawlPedal *self, gint64 at_usec)
{
  return (self->has_released && at_usec - self->released_usec <= PAWL_PEDAL_CONTACT_USEC)
         || (self->has_counted && at_usec - self->counted_usec <= PAWL_PEDAL_BOUNCE_USEC)
         || (self->has_other && at_usec - self->other_usec <= PAWL_PEDAL_APART_USEC);
}

gboolean
pawl_pedal_press (PawlPedal *self, guint key, gint64 at_usec)
{
  gboolean counts;

  if (at_usec < self->seen_usec) /* the display's clock begins anew every 49 days */
    *self = (PawlPedal) { 0 };
  counts = !is_repeat (self, key, at_usec) && !is_bounce (self, at_usec);
  self->down = key;
  self->seen_usec = at_usec;
  if (!counts)
    return FALSE;
  self->has_counted = TRUE;
  self->counted_usec = at_usec;
  return TRUE;
}

void
pawl_pedal_release (PawlPedal *self, guint key, gint64 at_usec)
{
  if (self->down != key)
    return;
  self->down = 0;
  self->has_released = TRUE;
  self->released_usec = at_usec;
}

void
pawl_pedal_pass (PawlPedal *self, gint64 at_usec)
{
  self->has_other = TRUE;
  self->other_usec = at_usec;
}

void
pawl_pedal_forget (PawlPedal *self)
{
  self->down = 0;
}
