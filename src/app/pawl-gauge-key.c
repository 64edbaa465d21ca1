#include "app/pawl-gauge-key.h"

gunichar
pawl_gauge_key_from_keyval (guint keyval)
{
  gunichar key;

  switch (keyval)
    {
    case GDK_KEY_Return:
    case GDK_KEY_KP_Enter:
    case GDK_KEY_ISO_Enter:
      return '\n';
    case GDK_KEY_Tab:
    case GDK_KEY_KP_Tab:
      return '\t';
    default:
      key = gdk_keyval_to_unicode (keyval);
      return g_unichar_isprint (key) ? key : 0;
    }
}

gint64
pawl_gauge_key_get_time (GtkEventController *keys)
{
  guint32 at_msec = gtk_event_controller_get_current_event_time (keys);

  return at_msec != GDK_CURRENT_TIME ? (gint64) at_msec * 1000 : g_get_monotonic_time ();
}
