/* Drawing a run chart. */
#include <math.h>
#include <pango/pangocairo.h>

#include "history/pawl-run-chart.h"

/* More values than this per height of lettering run into one another: then a line alone, and only what is beyond chance is marked. */
#define MARKED_STEP 0.55
#define MAX_TEXT 18.0
#define MIN_TEXT 9.0

static const PawlRunChartWords english = {
  .limit = "limit", .chance = "chance", .mean = "mean", .as_left = "as left", .as_found = "as found", .beyond = "beyond chance", .run = "end of a run",
  .serial = ", serial ", .ranges = "from one job to the next", .nothing = "Not measured in any job.",
};

typedef struct {
  cairo_t           *cr;
  const PawlHistory *history;
  PawlInks           inks;
  double             text;
  char               mark;
  const PawlRunChartWords *words;
} Pen;

/* One of the two fields; values run upwards from low to high. */
typedef struct {
  double left, right, top, bottom;
  double low, high;
  guint  n; /* points along it */
} Field;

/* ---- places ---- */

static double
get_x (const Field *field, guint index)
{
  return field->n < 2 ? (field->left + field->right) / 2 : field->left + (field->right - field->left) * (index + 0.5) / field->n;
}

static double
get_y (const Field *field, double value)
{
  return field->bottom - (field->bottom - field->top) * (value - field->low) / (field->high - field->low);
}

static void
take_in (Field *field, double value)
{
  if (isnan (value))
    return;
  field->low = MIN (field->low, value);
  field->high = MAX (field->high, value);
}

/* Room above and below, and some height even where all values are equal. */
static void
widen (Field *field)
{
  double room = 0.08 * (field->high - field->low);

  if (!(room > 0))
    room = MAX (fabs (field->high) * 0.01, 1e-6);
  field->low -= room;
  field->high += room;
}

/* ---- words ---- */

static PangoLayout *
make_layout (const Pen *pen, const char *text, gboolean is_bold)
{
  PangoLayout *layout = pango_cairo_create_layout (pen->cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_absolute_size (font, pen->text * PANGO_SCALE);
  pango_font_description_set_weight (font, is_bold ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static double
measure (const Pen *pen, const char *text)
{
  g_autoptr(PangoLayout) layout = make_layout (pen, text, FALSE);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

/* @align: 0 from @x to the right, 1 to the left of it; @y: its middle. Cut short at @room, which has to hold something. */
static void
write_words (const Pen *pen, const char *text, double x, double y, double align, double room, gboolean is_bold)
{
  g_autoptr(PangoLayout) layout = make_layout (pen, text, is_bold);
  int width, height;

  pango_layout_set_width (layout, (int) (MAX (room, pen->text) * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_get_pixel_size (layout, &width, &height);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_move_to (pen->cr, x - align * width, y - height / 2.0);
  pango_cairo_show_layout (pen->cr, layout);
}

/* ---- lines across ---- */

typedef enum { LINE_MEAN, LINE_CHANCE, LINE_LIMIT } LineKind;

typedef struct {
  LineKind kind;
  double   value;
  double   label_y;
  char    *text;
} Line;

static void
set_line (const Pen *pen, LineKind kind)
{
  const double dashed[] = { 0.6 * pen->text, 0.35 * pen->text };
  const double chain[] = { 1.3 * pen->text, 0.25 * pen->text, 0.15 * pen->text, 0.25 * pen->text };

  cairo_set_dash (pen->cr, kind == LINE_CHANCE ? dashed : chain, kind == LINE_MEAN ? 0 : kind == LINE_CHANCE ? 2 : 4, 0);
  cairo_set_line_width (pen->cr, (kind == LINE_LIMIT ? 0.14 : 0.07) * pen->text);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, kind == LINE_MEAN ? 0.7 : 1);
}

static void
clear_line (Line *line)
{
  g_free (line->text);
}

static void
add_line (const Pen *pen, GArray *lines, LineKind kind, const char *word, double value)
{
  g_autofree char *number = NULL;
  Line line = { kind, value, 0, NULL };

  if (isnan (value))
    return;
  number = pawl_history_format (pen->history, value, pen->mark);
  line.text = g_strdup_printf ("%s %s", word, number);
  g_array_append_val (lines, line);
}

static int
compare_lines (gconstpointer a, gconstpointer b)
{
  double first = ((const Line *) a)->value, second = ((const Line *) b)->value;

  return (first < second) - (first > second);
}

/* Labels stand at their lines, or below the one above where that is too near; what then runs over the foot moves all up. */
static void
place_labels (const Pen *pen, const Field *field, GArray *lines)
{
  double step = 1.3 * pen->text, above = field->top - step, below = field->bottom + step;

  g_array_sort (lines, compare_lines);
  for (guint i = 0; i < lines->len; i++)
    {
      Line *line = &g_array_index (lines, Line, i);

      above = line->label_y = MAX (get_y (field, line->value), above + step);
    }
  for (guint i = lines->len; i > 0; i--)
    {
      Line *line = &g_array_index (lines, Line, i - 1);

      below = line->label_y = MIN (line->label_y, below - step);
    }
}

static void
draw_lines (const Pen *pen, const Field *field, GArray *lines, double width)
{
  place_labels (pen, field, lines);
  for (guint i = 0; i < lines->len; i++)
    {
      const Line *line = &g_array_index (lines, Line, i);
      double y = get_y (field, line->value);

      set_line (pen, line->kind);
      cairo_move_to (pen->cr, field->left, y);
      cairo_line_to (pen->cr, field->right, y);
      cairo_stroke (pen->cr);
      cairo_set_dash (pen->cr, NULL, 0, 0);
      cairo_set_line_width (pen->cr, 0.05 * pen->text);
      cairo_move_to (pen->cr, field->right, y);
      cairo_line_to (pen->cr, field->right + 0.5 * pen->text, line->label_y);
      cairo_stroke (pen->cr);
      write_words (pen, line->text, field->right + 0.7 * pen->text, line->label_y, 0, width - field->right - 0.9 * pen->text, FALSE);
    }
}

static void
draw_frame (const Pen *pen, const Field *field)
{
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, 0.05 * pen->text);
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_rectangle (pen->cr, field->left, field->top, field->right - field->left, field->bottom - field->top);
  cairo_stroke (pen->cr);
}

/* ---- values ---- */

static gboolean
has_marks (const Pen *pen, const Field *field)
{
  return field->n < 2 || (field->right - field->left) / field->n > MARKED_STEP * pen->text;
}

static void
draw_run (const Pen *pen, const Field *field, const double *values)
{
  gboolean is_down = FALSE;

  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, (has_marks (pen, field) ? 0.09 : 0.05) * pen->text);
  cairo_set_line_join (pen->cr, CAIRO_LINE_JOIN_ROUND);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  for (guint i = 0; i < field->n; i++)
    {
      if (isnan (values[i]))
        continue;
      if (is_down)
        cairo_line_to (pen->cr, get_x (field, i), get_y (field, values[i]));
      else
        cairo_move_to (pen->cr, get_x (field, i), get_y (field, values[i]));
      is_down = TRUE;
    }
  cairo_stroke (pen->cr);
}

static void
draw_dots (const Pen *pen, const Field *field, const double *values)
{
  if (!has_marks (pen, field))
    return;
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  for (guint i = 0; i < field->n; i++)
    if (!isnan (values[i]))
      {
        cairo_new_path (pen->cr);
        cairo_arc (pen->cr, get_x (field, i), get_y (field, values[i]), 0.22 * pen->text, 0, 2 * G_PI);
        cairo_fill (pen->cr);
      }
}

static void
draw_square (const Pen *pen, double x, double y, double size)
{
  cairo_rectangle (pen->cr, x - size / 2, y - size / 2, size, size);
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 1);
  cairo_fill_preserve (pen->cr);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_stroke (pen->cr);
}

static void
draw_found (const Pen *pen, const Field *field)
{
  double size = (has_marks (pen, field) ? 0.42 : 0.26) * pen->text;

  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, 0.07 * pen->text);
  for (guint i = 0; i < field->n; i++)
    {
      const PawlHistoryPoint *point = pen->history->points->pdata[i];

      if (!isnan (point->found))
        draw_square (pen, get_x (field, i), get_y (field, point->found), size);
    }
}

static void
draw_ring (const Pen *pen, double x, double y)
{
  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, 0.12 * pen->text);
  pawl_ink_set_source (&pen->inks.bad, pen->cr, 1);
  cairo_new_path (pen->cr); /* words leave a point behind */
  cairo_arc (pen->cr, x, y, 0.5 * pen->text, 0, 2 * G_PI);
  cairo_stroke (pen->cr);
}

static void
draw_diamond (const Pen *pen, double x, double y)
{
  double reach = 0.55 * pen->text;

  cairo_set_dash (pen->cr, NULL, 0, 0);
  cairo_set_line_width (pen->cr, 0.12 * pen->text);
  pawl_ink_set_source (&pen->inks.bad, pen->cr, 1);
  cairo_move_to (pen->cr, x - reach, y);
  cairo_line_to (pen->cr, x, y - reach);
  cairo_line_to (pen->cr, x + reach, y);
  cairo_line_to (pen->cr, x, y + reach);
  cairo_close_path (pen->cr);
  cairo_stroke (pen->cr);
}

/* The job that is looked at. */
static void
draw_arrow (const Pen *pen, const Field *field, const char *job)
{
  for (guint i = 0; job != NULL && i < field->n; i++)
    {
      const PawlHistoryPoint *point = pen->history->points->pdata[i];
      double x = get_x (field, i), y = field->bottom;

      if (!g_str_equal (point->job, job))
        continue;
      cairo_move_to (pen->cr, x, y - 0.8 * pen->text);
      cairo_line_to (pen->cr, x - 0.4 * pen->text, y);
      cairo_line_to (pen->cr, x + 0.4 * pen->text, y);
      cairo_close_path (pen->cr);
      pawl_ink_set_source (&pen->inks.highlight, pen->cr, 1);
      cairo_fill (pen->cr);
    }
}

/* ---- the two fields ---- */

static double *
list_values (const PawlHistory *history)
{
  double *values = g_new (double, history->points->len + 1);

  for (guint i = 0; i < history->points->len; i++)
    values[i] = ((const PawlHistoryPoint *) history->points->pdata[i])->left;
  return values;
}

/* Each from the last value that there is. */
static double *
list_ranges (const double *values, guint n)
{
  double *ranges = g_new (double, n + 1), before = NAN;

  for (guint i = 0; i < n; i++)
    {
      ranges[i] = isnan (values[i]) ? NAN : fabs (values[i] - before);
      before = isnan (values[i]) ? before : values[i];
    }
  return ranges;
}

static void
draw_individuals (const Pen *pen, Field *field, const double *values, const char *job, double width)
{
  const PawlHistory *history = pen->history;
  g_autoptr(GArray) lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_autofree PawlChartRule *rules = pawl_history_list_rules (history);

  g_array_set_clear_func (lines, (GDestroyNotify) clear_line);
  add_line (pen, lines, LINE_LIMIT, pen->words->limit, history->high);
  add_line (pen, lines, LINE_LIMIT, pen->words->limit, history->low);
  if (history->has_chart)
    {
      add_line (pen, lines, LINE_CHANCE, pen->words->chance, history->chart.high);
      add_line (pen, lines, LINE_MEAN, pen->words->mean, history->chart.mean);
      add_line (pen, lines, LINE_CHANCE, pen->words->chance, history->chart.low);
    }
  for (guint i = 0; i < lines->len; i++)
    take_in (field, g_array_index (lines, Line, i).value);
  for (guint i = 0; i < field->n; i++)
    {
      take_in (field, values[i]);
      take_in (field, ((const PawlHistoryPoint *) history->points->pdata[i])->found);
    }
  widen (field);
  draw_frame (pen, field);
  draw_lines (pen, field, lines, width);
  draw_run (pen, field, values);
  draw_found (pen, field);
  draw_dots (pen, field, values);
  for (guint i = 0; i < field->n; i++)
    if (rules[i] == PAWL_CHART_RULE_BEYOND_3)
      draw_ring (pen, get_x (field, i), get_y (field, values[i]));
    else if (rules[i] != PAWL_CHART_RULE_NONE)
      draw_diamond (pen, get_x (field, i), get_y (field, values[i]));
  draw_arrow (pen, field, job);
}

static void
draw_ranges (const Pen *pen, Field *field, const double *values, double width)
{
  const PawlHistory *history = pen->history;
  g_autoptr(GArray) lines = g_array_new (FALSE, FALSE, sizeof (Line));
  g_autofree double *ranges = list_ranges (values, field->n);

  g_array_set_clear_func (lines, (GDestroyNotify) clear_line);
  add_line (pen, lines, LINE_CHANCE, pen->words->chance, history->chart.range_high);
  add_line (pen, lines, LINE_MEAN, pen->words->mean, history->chart.mean_range);
  take_in (field, history->chart.range_high);
  for (guint i = 0; i < field->n; i++)
    take_in (field, ranges[i]);
  widen (field);
  field->low = 0;
  draw_frame (pen, field);
  draw_lines (pen, field, lines, width);
  draw_run (pen, field, ranges);
  draw_dots (pen, field, ranges);
  for (guint i = 0; i < field->n; i++)
    if (!isnan (ranges[i]) && ranges[i] > history->chart.range_high)
      draw_ring (pen, get_x (field, i), get_y (field, ranges[i]));
}

/* First and last day below. */
static void
draw_days (const Pen *pen, const Field *field, double y)
{
  g_autofree char *first = NULL, *last = NULL;

  if (field->n == 0)
    return;
  first = g_date_time_format (((PawlHistoryPoint *) pen->history->points->pdata[0])->at, "%Y-%m-%d");
  last = g_date_time_format (((PawlHistoryPoint *) pen->history->points->pdata[field->n - 1])->at, "%Y-%m-%d");
  if (field->n > 1)
    {
      write_words (pen, first, field->left, y, 0, field->right - field->left, FALSE);
      write_words (pen, last, field->right, y, 1, field->right - field->left, FALSE);
    }
  else
    write_words (pen, first, (field->left + field->right) / 2, y, 0.5, field->right - field->left, FALSE);
}

static void
draw_key (const Pen *pen, double x, double y, double right)
{
  double t = pen->text;

  cairo_set_dash (pen->cr, NULL, 0, 0);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, x + 0.4 * t, y, 0.22 * t, 0, 2 * G_PI);
  cairo_fill (pen->cr);
  write_words (pen, pen->words->as_left, x + t, y, 0, right - x, FALSE);
  x += 1.6 * t + measure (pen, pen->words->as_left);
  cairo_set_line_width (pen->cr, 0.07 * t);
  draw_square (pen, x + 0.4 * t, y, 0.42 * t);
  write_words (pen, pen->words->as_found, x + t, y, 0, right - x, FALSE);
  x += 1.6 * t + measure (pen, pen->words->as_found);
  draw_ring (pen, x + 0.5 * t, y);
  write_words (pen, pen->words->beyond, x + 1.4 * t, y, 0, right - x - 1.4 * t, FALSE);
  x += 2.0 * t + measure (pen, pen->words->beyond);
  if (x + 3 * t > right) /* its words would be cut away: the text below has them */
    return;
  draw_diamond (pen, x + 0.6 * t, y);
  write_words (pen, pen->words->run, x + 1.5 * t, y, 0, right - x - 1.5 * t, FALSE);
}

/* How wide the widest label to the right can be. */
static double
measure_labels (const Pen *pen)
{
  const PawlHistory *history = pen->history;
  const double values[] = { history->low, history->high, history->has_chart ? history->chart.low : NAN, history->has_chart ? history->chart.high : NAN };
  double widest = 0;

  for (guint i = 0; i < G_N_ELEMENTS (values); i++)
    if (!isnan (values[i]))
      {
        g_autofree char *number = pawl_history_format (history, values[i], pen->mark);
        const char * const names[] = { pen->words->limit, pen->words->chance };

        for (guint j = 0; j < G_N_ELEMENTS (names); j++)
          {
            g_autofree char *text = g_strdup_printf ("%s %s", names[j], number);

            widest = MAX (widest, measure (pen, text));
          }
      }
  return widest;
}

void
pawl_run_chart_draw (const PawlHistory *history, const PawlRunChartOptions *options, cairo_t *cr, double width, double height)
{
  double text = options->text > 0 ? options->text : CLAMP (MIN (width / 55, height / 26), MIN_TEXT, MAX_TEXT);
  const Pen pen = { cr, history, pawl_palette_get_inks (options->palette), text, options->decimal_mark != 0 ? options->decimal_mark : '.',
                    options->words != NULL ? options->words : &english };
  g_autofree double *values = list_values (history);
  double right = MAX (width - measure_labels (&pen) - 1.6 * text, 0.5 * width), foot = height - 2 * text;
  double split = history->has_chart ? text * 4 + (foot - text * 4) * 0.66 : foot;
  Field individuals = { text, right, 4.6 * text, split, INFINITY, -INFINITY, history->points->len };
  Field ranges = { text, right, split + 2.2 * text, foot, 0, 0, history->points->len };
  g_autofree char *title = *history->serial != '\0' ? g_strdup_printf ("%s%s%s", history->name, pen.words->serial, history->serial) : g_strdup (history->name);

  cairo_save (cr);
  pawl_ink_set_source (&pen.inks.paper, cr, 1);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  write_words (&pen, title, text, 1.2 * text, 0, width - 2 * text, TRUE);
  if (history->points->len == 0)
    write_words (&pen, pen.words->nothing, text, 3 * text, 0, width - 2 * text, FALSE);
  else
    {
      draw_key (&pen, text, 3 * text, width - text);
      draw_individuals (&pen, &individuals, values, options->job, width);
      if (history->has_chart)
        {
          write_words (&pen, pen.words->ranges, text, split + 1.2 * text, 0, right - text, FALSE);
          draw_ranges (&pen, &ranges, values, width);
        }
      draw_days (&pen, &individuals, height - text);
    }
  cairo_restore (cr);
}
