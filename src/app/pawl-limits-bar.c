#include "app/pawl-limits-bar.h"

#include <glib/gi18n.h>
#include <math.h>

struct _PawlLimitsBar {
  GtkWidget parent_instance;
  PawlLimitsScale scale;
};

G_DEFINE_FINAL_TYPE (PawlLimitsBar, pawl_limits_bar, GTK_TYPE_WIDGET)

#define INSET 8.0

static void
fill (GtkSnapshot *snapshot, const GdkRGBA *color, double alpha, double x, double y, double width, double height)
{
  GdkRGBA faded = *color;

  faded.alpha *= (float) alpha;
  gtk_snapshot_append_color (snapshot, &faded, &GRAPHENE_RECT_INIT ((float) x, (float) y, (float) width, (float) height));
}

static double
place (const GtkWidget *widget, double fraction)
{
  return INSET + fraction * (gtk_widget_get_width ((GtkWidget *) widget) - 2 * INSET);
}

/* A diamond: filled for as left, open for as found. */
static void
draw_mark (GtkWidget *widget, GtkSnapshot *snapshot, const GdkRGBA *color, double fraction, gboolean is_filled)
{
  double x = place (widget, fraction), y = gtk_widget_get_height (widget) / 2.0, r = 7;
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT ((float) (x - r - 2), (float) (y - r - 2), (float) (2 * r + 4), (float) (2 * r + 4)));

  gdk_cairo_set_source_rgba (cr, color);
  cairo_move_to (cr, x, y - r);
  cairo_line_to (cr, x + r, y);
  cairo_line_to (cr, x, y + r);
  cairo_line_to (cr, x - r, y);
  cairo_close_path (cr);
  cairo_set_line_width (cr, 2);
  if (is_filled)
    cairo_fill (cr);
  else
    cairo_stroke (cr);
  cairo_destroy (cr);
}

static void
pawl_limits_bar_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  const PawlLimitsScale *scale = &PAWL_LIMITS_BAR (widget)->scale;
  double y = gtk_widget_get_height (widget) / 2.0;
  double low = place (widget, isnan (scale->low) ? 0 : scale->low), high = place (widget, isnan (scale->high) ? 1 : scale->high);
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  fill (snapshot, &ink, 0.35, INSET, y - 0.5, gtk_widget_get_width (widget) - 2 * INSET, 1);
  fill (snapshot, &ink, 0.20, low, y - 6, high - low, 12);
  if (!isnan (scale->low))
    fill (snapshot, &ink, 1, low - 1, y - 10, 2, 20);
  if (!isnan (scale->high))
    fill (snapshot, &ink, 1, high - 1, y - 10, 2, 20);
  if (!isnan (scale->low_uncertainty))
    fill (snapshot, &ink, 1, place (widget, scale->low_uncertainty), y - 1, place (widget, scale->high_uncertainty) - place (widget, scale->low_uncertainty), 2);
  if (!isnan (scale->found))
    draw_mark (widget, snapshot, &ink, scale->found, FALSE);
  if (!isnan (scale->left))
    draw_mark (widget, snapshot, &ink, scale->left, TRUE);
}

static void
pawl_limits_bar_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : 26;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : 26;
  *minimum_baseline = *natural_baseline = -1;
}

static void
pawl_limits_bar_class_init (PawlLimitsBarClass *klass)
{
  GTK_WIDGET_CLASS (klass)->snapshot = pawl_limits_bar_snapshot;
  GTK_WIDGET_CLASS (klass)->measure = pawl_limits_bar_measure;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_IMG);
}

static void
pawl_limits_bar_init (PawlLimitsBar *self)
{
}

GtkWidget *
pawl_limits_bar_new (const PawlLimitsScale *scale, const char *words)
{
  PawlLimitsBar *self = g_object_new (PAWL_TYPE_LIMITS_BAR, NULL);

  self->scale = *scale;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Reading on its limits"),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  return GTK_WIDGET (self);
}
