#include "report/pawl-bar.h"

#include <math.h>

#define HEIGHT_PT 11.0
#define INSET_PT  4.0 /* a diamond at the end has room */
#define BAND_PT   3.0 /* half the height of the inside */
#define TICK_PT   4.6
#define RADIUS_PT 3.0
#define STRIPE_PT 1.7

typedef struct {
  double left, width, y;
} Axis;

static double
place (const Axis *axis, double fraction)
{
  return axis->left + fraction * axis->width;
}

static void
stroke_across (cairo_t *cr, double x, double y, double half)
{
  cairo_move_to (cr, x, y - half);
  cairo_line_to (cr, x, y + half);
}

/* From a limit of new parts to the wear limit: an open box. */
static void
draw_wear (const Axis *axis, cairo_t *cr, double limit, double wear)
{
  if (isnan (wear))
    return;
  cairo_set_source_rgb (cr, 0.3, 0.3, 0.3);
  cairo_set_line_width (cr, 0.5);
  cairo_rectangle (cr, limit, axis->y - BAND_PT, place (axis, wear) - limit, 2 * BAND_PT);
  cairo_stroke (cr);
}

static void
draw_band (const PawlLimitsScale *scale, const Axis *axis, cairo_t *cr)
{
  double low = place (axis, isnan (scale->low) ? 0 : scale->low), high = place (axis, isnan (scale->high) ? 1 : scale->high);

  draw_wear (axis, cr, low, scale->wear_low);
  draw_wear (axis, cr, high, scale->wear_high);
  cairo_set_source_rgb (cr, 0.84, 0.84, 0.84);
  cairo_rectangle (cr, low, axis->y - BAND_PT, high - low, 2 * BAND_PT);
  cairo_fill (cr);
  cairo_set_source_rgb (cr, 0.45, 0.45, 0.45);
  cairo_set_line_width (cr, 0.4);
  cairo_move_to (cr, axis->left, axis->y);
  cairo_line_to (cr, axis->left + axis->width, axis->y);
  cairo_stroke (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, 0.9);
  if (!isnan (scale->low))
    stroke_across (cr, low, axis->y, TICK_PT);
  if (!isnan (scale->high))
    stroke_across (cr, high, axis->y, TICK_PT);
  cairo_stroke (cr);
}

static void
draw_zone (const Axis *axis, cairo_t *cr, PawlZone zone)
{
  if (isnan (zone.from))
    return;
  cairo_set_source_rgb (cr, 0.25, 0.25, 0.25);
  cairo_set_line_width (cr, 0.5);
  for (double x = place (axis, zone.from) + STRIPE_PT / 2, end = place (axis, zone.to); x < end; x += STRIPE_PT)
    stroke_across (cr, x, axis->y, BAND_PT);
  cairo_stroke (cr);
}

static void
draw_diamond (const Axis *axis, cairo_t *cr, double fraction, gboolean is_full)
{
  double x = place (axis, fraction), y = axis->y;

  cairo_move_to (cr, x, y - RADIUS_PT);
  cairo_line_to (cr, x + RADIUS_PT, y);
  cairo_line_to (cr, x, y + RADIUS_PT);
  cairo_line_to (cr, x - RADIUS_PT, y);
  cairo_close_path (cr);
  cairo_set_line_width (cr, 0.8);
  cairo_set_source_rgb (cr, is_full ? 0 : 1, is_full ? 0 : 1, is_full ? 0 : 1);
  cairo_fill_preserve (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_stroke (cr);
}

static void
draw_bar (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const PawlLimitsScale *scale = data;
  const Axis axis = { x + INSET_PT, width - 2 * INSET_PT, y + height / 2 };

  cairo_set_line_cap (cr, CAIRO_LINE_CAP_BUTT);
  draw_band (scale, &axis, cr);
  draw_zone (&axis, cr, scale->low_zone);
  draw_zone (&axis, cr, scale->high_zone);
  if (!isnan (scale->low_uncertainty))
    {
      cairo_set_source_rgb (cr, 0, 0, 0);
      cairo_set_line_width (cr, 1.1);
      cairo_move_to (cr, place (&axis, scale->low_uncertainty), axis.y);
      cairo_line_to (cr, place (&axis, scale->high_uncertainty), axis.y);
      cairo_stroke (cr);
    }
  if (!isnan (scale->found))
    draw_diamond (&axis, cr, scale->found, FALSE);
  if (!isnan (scale->left))
    draw_diamond (&axis, cr, scale->left, TRUE);
}

void
pawl_table_add_bar (PawlTable *table, guint column, const PawlLimitsScale *scale)
{
  pawl_table_add_art (table, column, HEIGHT_PT, draw_bar, g_memdup2 (scale, sizeof *scale), g_free);
}

const char *
pawl_bar_get_legend (void)
{
  return "Bars: inside the limits grey, up to a wear limit a box, striped where a reading is too close to call; as found ◇, as left ◆ with its uncertainty.";
}
