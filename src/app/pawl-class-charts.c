#include "app/pawl-class-charts.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/pawl-look.h"
#include "drawing/pawl-palette.h"

/* In heights of the text. */
#define ROW_HIGH 1.9
#define AXIS_HIGH 2.0
#define CURVE_HIGH 16.0
#define LABELS_WIDE 15.0 /* at least, as are the words, so that several charts stand under each other */
#define WORDS_WIDE 15.5
#define SCALE_WIDE 12.0
#define LEAST_WIDTH 300

typedef enum { AT_START, AT_MIDDLE, AT_END } Align;

typedef struct {
  GtkWidget *area; /* borrowed */
  cairo_t   *cr;
  PawlInks   inks;
  double     text;
} Pen;

static Pen
take_pen (GtkDrawingArea *area, cairo_t *cr)
{
  GtkWidget *widget = GTK_WIDGET (area);

  return (Pen) { widget, cr, pawl_palette_get_inks (pawl_look_get_palette (widget)), pawl_look_get_text_pixels (widget) };
}

/* @y: the middle of the line. Cut short at @room. */
static void
write_words (const Pen *pen, const char *words, double x, double y, Align align, double room)
{
  g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout (pen->area, words);
  int width, height;

  pango_layout_set_width (layout, (int) (room * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_pixel_size (layout, &width, &height);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_move_to (pen->cr, x - (align == AT_END ? width : align == AT_MIDDLE ? width / 2.0 : 0), y - height / 2.0);
  pango_cairo_show_layout (pen->cr, layout);
}

static void
draw_line (const Pen *pen, double x1, double y1, double x2, double y2, double wide)
{
  cairo_set_line_width (pen->cr, wide);
  cairo_move_to (pen->cr, x1, y1);
  cairo_line_to (pen->cr, x2, y2);
  cairo_stroke (pen->cr);
}

static void
draw_dot (const Pen *pen, double x, double y)
{
  cairo_arc (pen->cr, x, y, 0.3 * pen->text, 0, 2 * G_PI);
  cairo_fill (pen->cr);
}

static GtkWidget *
make_area (const char *name, GtkDrawingAreaDrawFunc draw, gpointer data, GDestroyNotify free_data)
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), LEAST_WIDTH);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw, data, free_data);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return area;
}

/* ---- rates ---- */

char *
pawl_class_words_of_rate (const PawlRate *rate)
{
  if (rate->n == 0)
    return g_strdup (_("none yet"));
  return g_strdup_printf (_("%u of %u, %.0f %% (%.0f to %.0f %%)"), rate->n_right, rate->n, 100 * rate->share, 100 * rate->low, 100 * rate->high);
}

typedef struct {
  char    *label, *words;
  PawlRate rate;
  gboolean has_chance;
} Row;

static void
clear_row (gpointer row)
{
  g_free (((Row *) row)->label);
  g_free (((Row *) row)->words);
}

static void
draw_scale (const Pen *pen, double left, double wide, double bottom)
{
  const char * const percents[] = { "0 %", "50 %", "100 %" };

  for (guint i = 0; i < G_N_ELEMENTS (percents); i++)
    {
      double x = floor (left + wide * i / 2) + 0.5;

      pawl_ink_set_source (&pen->inks.faint, pen->cr, 0.6);
      draw_line (pen, x, 0, x, bottom, 1);
      write_words (pen, percents[i], x, bottom + pen->text, AT_MIDDLE, 6 * pen->text);
    }
}

static void
draw_rate (const Pen *pen, const PawlRate *rate, double left, double wide, double y)
{
  double end = 0.32 * pen->text;

  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  draw_line (pen, left + rate->low * wide, y, left + rate->high * wide, y, 0.12 * pen->text);
  draw_line (pen, left + rate->low * wide, y - end, left + rate->low * wide, y + end, 0.12 * pen->text);
  draw_line (pen, left + rate->high * wide, y - end, left + rate->high * wide, y + end, 0.12 * pen->text);
  pawl_ink_set_source (&pen->inks.highlight, pen->cr, 1);
  draw_dot (pen, left + rate->share * wide, y);
}

static double
measure_words (const Pen *pen, const char *words)
{
  g_autoptr(PangoLayout) layout = gtk_widget_create_pango_layout (pen->area, words);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width + 1;
}

/* Where there is no room for figures in words, the scale alone stays; the words are the description, and in the table. */
static void
draw_rates_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer rows)
{
  const GArray *all = rows;
  const Pen pen = take_pen (area, cr);
  double labels = LABELS_WIDE * pen.text, words = WORDS_WIDE * pen.text, left, wide;

  for (guint i = 0; i < all->len; i++)
    {
      labels = MAX (labels, measure_words (&pen, g_array_index (all, Row, i).label));
      words = MAX (words, measure_words (&pen, g_array_index (all, Row, i).words));
    }
  labels = MIN (labels, width * 0.38);
  if (labels + words + SCALE_WIDE * pen.text > width)
    words = 0;
  left = labels + 1.5 * pen.text;
  wide = width - left - words - 2.5 * pen.text;
  draw_scale (&pen, left, wide, all->len * ROW_HIGH * pen.text);
  for (guint i = 0; i < all->len; i++)
    {
      const Row *row = &g_array_index (all, Row, i);
      double y = (i + 0.5) * ROW_HIGH * pen.text;

      write_words (&pen, row->label, 0, y, AT_START, labels);
      if (words > 0)
        write_words (&pen, row->words, width, y, AT_END, words);
      if (row->has_chance)
        {
          pawl_ink_set_source (&pen.inks.ink, cr, 1);
          draw_line (&pen, left + wide / 2, y - 0.6 * pen.text, left + wide / 2, y + 0.6 * pen.text, 0.15 * pen.text);
        }
      if (row->rate.n > 0)
        draw_rate (&pen, &row->rate, left, wide, y);
    }
}

static void
size_rates_cb (GtkWidget *area, GArray *rows)
{
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) ((rows->len * ROW_HIGH + AXIS_HIGH) * pawl_look_get_text_pixels (area)));
}

GtkWidget *
pawl_rate_chart_new (const char *name)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (Row));
  GtkWidget *area = make_area (name, draw_rates_cb, rows, (GDestroyNotify) g_array_unref);

  g_array_set_clear_func (rows, clear_row);
  g_object_set_data (G_OBJECT (area), "rows", rows);
  g_signal_connect (area, "map", G_CALLBACK (size_rates_cb), rows);
  return area;
}

void
pawl_rate_chart_add (GtkWidget *chart, const char *label, const PawlRate *rate, gboolean has_chance)
{
  GArray *rows = g_object_get_data (G_OBJECT (chart), "rows");
  Row row = { g_strdup (label), pawl_class_words_of_rate (rate), *rate, has_chance };
  g_autoptr(GString) all = g_string_new (NULL);

  g_array_append_val (rows, row);
  for (guint i = 0; i < rows->len; i++)
    g_string_append_printf (all, "%s%s: %s", i > 0 ? "; " : "", g_array_index (rows, Row, i).label, g_array_index (rows, Row, i).words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (chart), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, all->str, -1);
  if (gtk_widget_get_mapped (chart))
    size_rates_cb (chart, rows);
}

/* ---- a curve ---- */

typedef struct {
  double           *minutes;
  guint             n;
  gboolean          has_curve;
  PawlLearningCurve curve;
  double            median, highest;
  double            left, right, top, bottom; /* of the field, while it is drawn */
} Curve;

static void
curve_free (gpointer data)
{
  g_free (((Curve *) data)->minutes);
  g_free (data);
}

static double
get_x (const Curve *self, guint n)
{
  return self->n < 2 ? (self->left + self->right) / 2 : self->left + (self->right - self->left) * (n - 1) / (self->n - 1);
}

static double
get_y (const Curve *self, double minutes)
{
  return self->bottom - (self->bottom - self->top) * MIN (minutes, self->highest) / self->highest;
}

/* A round step, so that there are three to seven lines. */
static double
choose_step (double highest)
{
  double step = pow (10, floor (log10 (highest / 3)));

  return highest / step > 15 ? 5 * step : highest / step > 7 ? 2 * step : step;
}

static void
draw_grid (const Pen *pen, const Curve *self)
{
  double step = choose_step (self->highest);
  guint every = 1 + self->n / 12;

  for (double minutes = 0; minutes <= self->highest; minutes += step)
    {
      g_autofree char *words = g_strdup_printf (_("%.0f min"), minutes);
      double y = floor (get_y (self, minutes)) + 0.5;

      pawl_ink_set_source (&pen->inks.faint, pen->cr, 0.6);
      draw_line (pen, self->left - 0.5 * pen->text, y, self->right + 0.5 * pen->text, y, 1);
      write_words (pen, words, self->left - pen->text, y, AT_END, 6 * pen->text);
    }
  for (guint n = 1; n <= self->n; n += every)
    {
      g_autofree char *words = g_strdup_printf (_("job %u"), n);

      write_words (pen, words, get_x (self, n), self->bottom + 1.2 * pen->text, AT_MIDDLE, 6 * pen->text);
    }
}

static void
draw_fit (const Pen *pen, const Curve *self)
{
  double low, high;

  cairo_new_path (pen->cr); /* words leave a point behind */
  for (guint n = 1; n <= self->n; n++)
    {
      pawl_learning_curve_get (&self->curve, n, &low, &high);
      cairo_line_to (pen->cr, get_x (self, n), get_y (self, high));
    }
  for (guint n = self->n; n > 0; n--)
    {
      pawl_learning_curve_get (&self->curve, n, &low, &high);
      cairo_line_to (pen->cr, get_x (self, n), get_y (self, low));
    }
  cairo_close_path (pen->cr);
  pawl_ink_set_source (&pen->inks.highlight, pen->cr, 0.18);
  cairo_fill (pen->cr);
  for (guint n = 1; n <= self->n; n++)
    cairo_line_to (pen->cr, get_x (self, n), get_y (self, pawl_learning_curve_get (&self->curve, n, &low, &high)));
  pawl_ink_set_source (&pen->inks.highlight, pen->cr, 1);
  cairo_set_line_width (pen->cr, 0.14 * pen->text);
  cairo_stroke (pen->cr);
}

static void
draw_median (const Pen *pen, const Curve *self)
{
  const double dashed[] = { 0.6 * pen->text, 0.35 * pen->text };
  double y = get_y (self, self->median);

  cairo_set_dash (pen->cr, dashed, 2, 0);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  draw_line (pen, self->left - 0.5 * pen->text, y, self->right + 0.5 * pen->text, y, 0.09 * pen->text);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  write_words (pen, _("median"), self->right + pen->text, y, AT_START, 6 * pen->text);
}

static void
draw_curve_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  Curve *self = data;
  const Pen pen = take_pen (area, cr);

  self->left = 6 * pen.text;
  self->right = MIN (width - 6 * pen.text, self->left + MAX (20, self->n * 6) * pen.text);
  self->top = 0.8 * pen.text;
  self->bottom = height - 2.4 * pen.text;
  draw_grid (&pen, self);
  if (self->has_curve)
    draw_fit (&pen, self);
  if (!isnan (self->median))
    draw_median (&pen, self);
  pawl_ink_set_source (&pen.inks.ink, cr, 1);
  for (guint i = 0; i < self->n; i++)
    draw_dot (&pen, get_x (self, i + 1), get_y (self, self->minutes[i]));
}

static void
size_curve_cb (GtkWidget *area)
{
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) (CURVE_HIGH * pawl_look_get_text_pixels (area)));
}

GtkWidget *
pawl_curve_chart_new (const char *name, const double *minutes, guint n, const PawlLearningCurve *curve, double median)
{
  Curve *self = g_new0 (Curve, 1);
  g_autoptr(GString) words = g_string_new (NULL);
  GtkWidget *area;
  double low, high = 0;

  self->minutes = g_memdup2 (minutes, n * sizeof (double));
  self->n = n;
  self->median = median;
  self->highest = isnan (median) ? 1 : MAX (median, 1);
  self->has_curve = curve != NULL;
  if (curve != NULL)
    {
      self->curve = *curve;
      pawl_learning_curve_get (curve, 1, &low, &high);
    }
  for (guint i = 0; i < n; i++)
    {
      self->highest = MAX (self->highest, minutes[i]);
      g_string_append_printf (words, _("%sjob %u: %.0f min"), i > 0 ? "; " : "", i + 1, minutes[i]);
    }
  self->highest = 1.05 * MAX (self->highest, MIN (high, 2 * self->highest)); /* an interval that says nothing must not squeeze all else */
  area = make_area (name, draw_curve_cb, self, curve_free);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words->str, -1);
  g_signal_connect (area, "map", G_CALLBACK (size_curve_cb), NULL);
  return area;
}
