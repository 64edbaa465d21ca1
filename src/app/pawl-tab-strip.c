#include "app/pawl-tab-strip.h"

static GtkWidget *
find_active (GtkStackSwitcher *switcher)
{
  for (GtkWidget *tab = gtk_widget_get_first_child (GTK_WIDGET (switcher)); tab != NULL; tab = gtk_widget_get_next_sibling (tab))
    if (GTK_IS_TOGGLE_BUTTON (tab) && gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (tab)))
      return tab;
  return NULL;
}

/* In a frame, when the tabs have their places. */
static gboolean
show_active_cb (GtkWidget *scroller, GdkFrameClock *clock, gpointer switcher)
{
  GtkAdjustment *across = gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (scroller));
  GtkWidget *tab = find_active (switcher);
  graphene_rect_t bounds;

  if (tab != NULL && gtk_widget_compute_bounds (tab, switcher, &bounds))
    gtk_adjustment_clamp_page (across, bounds.origin.x, bounds.origin.x + bounds.size.width);
  return G_SOURCE_REMOVE;
}

static void
changed_cb (GtkWidget *scroller)
{
  GtkWidget *switcher = g_object_get_data (G_OBJECT (scroller), "switcher");

  gtk_widget_add_tick_callback (scroller, show_active_cb, g_object_ref (switcher), g_object_unref);
}

void
pawl_tab_strip_follow (GtkScrolledWindow *scroller, GtkStackSwitcher *switcher)
{
  GtkAdjustment *across = gtk_scrolled_window_get_hadjustment (scroller);

  g_object_set_data (G_OBJECT (scroller), "switcher", switcher);
  g_signal_connect_object (gtk_stack_switcher_get_stack (switcher), "notify::visible-child", G_CALLBACK (changed_cb), scroller, G_CONNECT_SWAPPED);
  g_signal_connect_object (across, "notify::page-size", G_CALLBACK (changed_cb), scroller, G_CONNECT_SWAPPED);
}
