/* Keys as a gauge presses them. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The character that a key stands for in a burst: Enter of either pad '\n', Tab '\t'; 0 for what a gauge doesn't type: arrows, Escape, Shift alone. */
gunichar pawl_gauge_key_from_keyval (guint keyval);
/* When the key that @keys tells of now was pressed: by the display's clock, which does not wait for the program. Microseconds, any zero. */
gint64   pawl_gauge_key_get_time    (GtkEventController *keys);

G_END_DECLS
