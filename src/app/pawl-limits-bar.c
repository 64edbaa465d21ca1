#include "app/pawl-limits-bar.h"

#include <glib/gi18n.h>
#include <math.h>

struct _PawlLimitsBar {
  GtkWidget parent_instance;
  PawlLimitsScale scale;
  char *low, *high; /* (nullable) what stands under the marks */
};

G_DEFINE_FINAL_TYPE (PawlLimitsBar, pawl_limits_bar, GTK_TYPE_WIDGET)

#define INSET 8.0
#define BAR_HEIGHT 26
#define STRIPE_STEP 4.0

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

/* Strokes across where a reading is too close to call. */
static void
stripe (GtkWidget *widget, GtkSnapshot *snapshot, const GdkRGBA *ink, PawlZone zone)
{
  if (isnan (zone.from))
    return;
  for (double x = place (widget, zone.from), end = place (widget, zone.to); x < end; x += STRIPE_STEP)
    fill (snapshot, ink, 0.6, x, BAR_HEIGHT / 2.0 - 6, 1, 12);
}

/* A diamond: filled for as left, open for as found. */
static void
draw_mark (GtkWidget *widget, GtkSnapshot *snapshot, const GdkRGBA *color, double fraction, gboolean is_filled)
{
  double x = place (widget, fraction), y = BAR_HEIGHT / 2.0, r = 7;
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

/* Under its mark, as far as there is room; @least: where the one before it ends. Returns where it ends. */
static double
write_end (GtkWidget *widget, GtkSnapshot *snapshot, const GdkRGBA *ink, const char *text, double fraction, double least)
{
  g_autoptr(PangoLayout) layout = NULL;
  double x;
  int width;

  if (text == NULL || isnan (fraction))
    return least;
  layout = gtk_widget_create_pango_layout (widget, text);
  pango_layout_get_pixel_size (layout, &width, NULL);
  x = CLAMP (place (widget, fraction) - width / 2.0, least, MAX (least, gtk_widget_get_width (widget) - width));
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &GRAPHENE_POINT_INIT ((float) x, BAR_HEIGHT));
  gtk_snapshot_append_layout (snapshot, layout, ink);
  gtk_snapshot_restore (snapshot);
  return x + width + INSET;
}

static void
write_ends (PawlLimitsBar *self, GtkSnapshot *snapshot, const GdkRGBA *ink)
{
  double end = write_end (GTK_WIDGET (self), snapshot, ink, self->low, self->scale.low, 0);

  write_end (GTK_WIDGET (self), snapshot, ink, self->high, self->scale.high, end);
}

static void
pawl_limits_bar_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  const PawlLimitsScale *scale = &PAWL_LIMITS_BAR (widget)->scale;
  double y = BAR_HEIGHT / 2.0;
  double low = place (widget, isnan (scale->low) ? 0 : scale->low), high = place (widget, isnan (scale->high) ? 1 : scale->high);
  GdkRGBA ink;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  fill (snapshot, &ink, 0.35, INSET, y - 0.5, gtk_widget_get_width (widget) - 2 * INSET, 1);
  fill (snapshot, &ink, 0.20, low, y - 6, high - low, 12);
  stripe (widget, snapshot, &ink, scale->low_zone);
  stripe (widget, snapshot, &ink, scale->high_zone);
  if (!isnan (scale->low))
    fill (snapshot, &ink, 1, low - 1, y - 10, 2, 20);
  if (!isnan (scale->high))
    fill (snapshot, &ink, 1, high - 1, y - 10, 2, 20);
  if (!isnan (scale->wear_low))
    fill (snapshot, &ink, 0.7, place (widget, scale->wear_low), y - 6, 1, 12);
  if (!isnan (scale->wear_high))
    fill (snapshot, &ink, 0.7, place (widget, scale->wear_high) - 1, y - 6, 1, 12);
  if (!isnan (scale->low_uncertainty))
    fill (snapshot, &ink, 1, place (widget, scale->low_uncertainty), y - 1, place (widget, scale->high_uncertainty) - place (widget, scale->low_uncertainty), 2);
  if (!isnan (scale->found))
    draw_mark (widget, snapshot, &ink, scale->found, FALSE);
  if (!isnan (scale->left))
    draw_mark (widget, snapshot, &ink, scale->left, TRUE);
  write_ends (PAWL_LIMITS_BAR (widget), snapshot, &ink);
}

static void
pawl_limits_bar_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  PawlLimitsBar *self = PAWL_LIMITS_BAR (widget);
  int text_height = 0;

  if (orientation == GTK_ORIENTATION_VERTICAL && (self->low != NULL || self->high != NULL))
    {
      g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout (widget, self->low != NULL ? self->low : self->high);

      pango_layout_get_pixel_size (layout, NULL, &text_height);
    }
  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? 120 : BAR_HEIGHT + text_height;
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? 260 : BAR_HEIGHT + text_height;
  *minimum_baseline = *natural_baseline = -1;
}

static void
pawl_limits_bar_finalize (GObject *object)
{
  PawlLimitsBar *self = PAWL_LIMITS_BAR (object);

  g_free (self->low);
  g_free (self->high);
  G_OBJECT_CLASS (pawl_limits_bar_parent_class)->finalize (object);
}

static void
pawl_limits_bar_class_init (PawlLimitsBarClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_limits_bar_finalize;
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

void
pawl_limits_bar_set_ends (PawlLimitsBar *self, const char *low, const char *high)
{
  g_return_if_fail (PAWL_IS_LIMITS_BAR (self));
  g_free (self->low);
  g_free (self->high);
  self->low = g_strdup (low);
  self->high = g_strdup (high);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}
