/* A row of tabs that may be wider than its place: the tab of the page on show is kept in sight. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* @scroller: has @switcher in it; both of one template. Once the switcher has its stack. */
void pawl_tab_strip_follow (GtkScrolledWindow *scroller, GtkStackSwitcher *switcher);

G_END_DECLS
