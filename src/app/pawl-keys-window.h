/* A window that lists the keys. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Shown beside @parent; it goes with Escape, or when @parent does. */
void pawl_keys_window_show (GtkWindow *parent);

G_END_DECLS
