/* Drawing the lanes. */
#include <math.h>
#include <pango/pangocairo.h>

#include "plan/pawl-lanes-private.h"

/* Narrower boxes than this, in heights of the lettering, have no words; narrower than a pixel or so, no frame either. */
#define WORDED 2.2
#define FRAMED 0.35
/* More items than this, and lines from one to another would only be a tangle. */
#define MAX_JOINED 160

typedef struct {
  cairo_t             *cr;
  const PawlLanes     *lanes;
  const PawlLanesView *view;
  PawlLanesField       field;
  PawlInks             inks;
  double               text, width, height;
  PangoLayout         *layout;
} Pen;

static const char *
get_word (const Pen *pen, PawlLanesWord word)
{
  static const char *const words[PAWL_LANES_N_WORDS] = {
    [PAWL_LANES_WORD_HANDS] = "hands",
    [PAWL_LANES_WORD_DONE] = "steps done",
    [PAWL_LANES_WORD_CLOSED] = "closed",
    [PAWL_LANES_WORD_LATE] = "too late",
    [PAWL_LANES_WORD_READY] = "can be done now",
    [PAWL_LANES_WORD_BLOCKED] = "blocked",
    [PAWL_LANES_WORD_CRITICAL] = "critical",
    [PAWL_LANES_WORD_WAIT] = "wait to its minimum, ended, to its maximum",
  };

  return (pen->view->words != NULL ? pen->view->words : words)[word];
}

/* ---- words ---- */

static PangoLayout *
make_layout (const Pen *pen)
{
  PangoLayout *layout = pango_cairo_create_layout (pen->cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans");

  pango_font_description_set_absolute_size (font, pen->text * PANGO_SCALE);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  return layout;
}

/* @align: 0 from @x to the right, 0.5 about it, 1 to the left of it; @y: the middle. Cut short at @room. Returns how wide it is. */
static double
write_words (const Pen *pen, const PawlInk *ink, const char *text, double x, double y, double align, double room)
{
  int width, height;

  pango_layout_set_width (pen->layout, (int) (MAX (room, 1) * PANGO_SCALE));
  pango_layout_set_text (pen->layout, text, -1);
  pango_layout_get_pixel_size (pen->layout, &width, &height);
  pawl_ink_set_source (ink, pen->cr, 1);
  cairo_move_to (pen->cr, x - align * width, y - height / 2.0);
  pango_cairo_show_layout (pen->cr, pen->layout);
  cairo_new_path (pen->cr);
  return width;
}

static double
measure_words (const Pen *pen, const char *text)
{
  int width;

  pango_layout_set_width (pen->layout, -1);
  pango_layout_set_text (pen->layout, text, -1);
  pango_layout_get_pixel_size (pen->layout, &width, NULL);
  return width;
}

static void
set_bold (const Pen *pen, gboolean is_bold)
{
  PangoAttrList *attributes = is_bold ? pango_attr_list_new () : NULL;

  if (attributes != NULL)
    pango_attr_list_insert (attributes, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  pango_layout_set_attributes (pen->layout, attributes);
  g_clear_pointer (&attributes, pango_attr_list_unref);
}

/* ---- shapes ---- */

static void
draw_frame (const Pen *pen, double x, double y, double width, double height, double line)
{
  cairo_set_line_width (pen->cr, line);
  cairo_rectangle (pen->cr, x + line / 2, y + line / 2, MAX (width - line, 0), height - line);
  cairo_stroke (pen->cr);
}

static void
draw_tick (const Pen *pen, double x, double y)
{
  cairo_set_line_width (pen->cr, 0.12 * pen->text);
  pawl_ink_set_source (&pen->inks.good, pen->cr, 1);
  cairo_move_to (pen->cr, x, y);
  cairo_rel_line_to (pen->cr, 0.25 * pen->text, 0.3 * pen->text);
  cairo_rel_line_to (pen->cr, 0.45 * pen->text, -0.7 * pen->text);
  cairo_stroke (pen->cr);
}

static void
draw_hatch (const Pen *pen, double x, double y, double width, double height)
{
  double step = 0.5 * pen->text, left = MAX (x, pen->field.left), right = MIN (x + width, pen->field.right);

  if (right <= left)
    return;
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, left, y, right - left, height);
  cairo_clip (pen->cr);
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_set_line_width (pen->cr, 0.09 * pen->text);
  for (double at = left - fmod (left - x, step) - height; at < right; at += step)
    {
      cairo_move_to (pen->cr, at, y + height);
      cairo_line_to (pen->cr, at + height, y);
    }
  cairo_stroke (pen->cr);
  cairo_restore (pen->cr);
}

/* Points down on the row, at the moment in which the wait is ended. */
static void
draw_wedge (const Pen *pen, double x, double y)
{
  double t = pen->text;

  cairo_move_to (pen->cr, x, y + 0.55 * t);
  cairo_line_to (pen->cr, x - 0.35 * t, y - 0.1 * t);
  cairo_line_to (pen->cr, x + 0.35 * t, y - 0.1 * t);
  cairo_close_path (pen->cr);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_fill (pen->cr);
}

static void
draw_bar (const Pen *pen, double x, double y, double width, double height)
{
  cairo_rectangle (pen->cr, x, y, width, height);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_fill (pen->cr);
}

static void
draw_work_box (const Pen *pen, double x, double y, double width, double height, gboolean is_open, gboolean is_critical)
{
  if (width < FRAMED * pen->text)
    {
      cairo_rectangle (pen->cr, x, y, MAX (width, 0.5), height);
      pawl_ink_set_source (is_open ? &pen->inks.highlight : &pen->inks.faint, pen->cr, 1);
      cairo_fill (pen->cr);
      if (is_critical)
        draw_bar (pen, x, y + height - 0.3 * pen->text, MAX (width, 0.5), 0.3 * pen->text);
      return;
    }
  cairo_rectangle (pen->cr, x, y, width, height);
  pawl_ink_set_source (is_open ? &pen->inks.paper : &pen->inks.fill, pen->cr, 1);
  cairo_fill (pen->cr);
  if (is_critical)
    draw_bar (pen, x, y + height - 0.3 * pen->text, width, 0.3 * pen->text);
  pawl_ink_set_source (is_open ? &pen->inks.highlight : &pen->inks.faint, pen->cr, 1);
  draw_frame (pen, x, y, width, height, (is_open ? 0.2 : 0.07) * pen->text);
}

static void
draw_selection (const Pen *pen, double x, double y, double width, double height)
{
  double t = pen->text;

  pawl_ink_set_source (&pen->inks.highlight, pen->cr, 1);
  draw_frame (pen, x - 0.3 * t, y - 0.25 * t, width + 0.6 * t, height + 0.5 * t, 0.14 * t);
}

/* ---- items ---- */

static void
draw_words_of (const Pen *pen, const PawlWorkPlanItem *item, double x, double y, double width)
{
  double left = MAX (x, pen->field.left) + 0.35 * pen->text, room = MIN (x + width, pen->field.right) - left - 0.2 * pen->text;
  g_autofree char *words = NULL;

  if (room < WORDED * pen->text - 0.55 * pen->text)
    return;
  words = room > 5 * pen->text || item->wait != NULL ? pawl_work_plan_item_describe (item) : g_strdup (item->state->step->number);
  write_words (pen, &pen->inks.ink, words, left, y, 0, room);
}

static void
draw_work (const Pen *pen, const PawlWorkPlanItem *item, double x, double y, double width, double height)
{
  draw_work_box (pen, x, y, width, height, pawl_work_plan_item_is_open (item), item->total_float == 0);
  draw_words_of (pen, item, x, y + height / 2 - 0.1 * pen->text, width);
}

static void
draw_wait_frame (const Pen *pen, double x, double y, double width, double height, gboolean has_max)
{
  const double dashes[] = { 0.4 * pen->text, 0.3 * pen->text };

  cairo_set_dash (pen->cr, dashes, 2, 0);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  draw_frame (pen, x, y, width, height, 0.07 * pen->text);
  cairo_set_dash (pen->cr, NULL, 0, 0);
  if (has_max)
    draw_bar (pen, x + width - 0.1 * pen->text, y - 0.1 * pen->text, 0.2 * pen->text, height + 0.2 * pen->text);
}

static void
draw_wait (const Pen *pen, const PawlWorkPlanItem *item, double x, double y, double width, double height)
{
  double ripe = MIN (pawl_lanes_get_x (&pen->field, item->min_finish), pen->field.right), t = pen->text;
  gboolean has_max = item->max_finish != PAWL_NETWORK_NO_MAX && pawl_lanes_get_x (&pen->field, item->max_finish) <= x + width + 1;
  double label = MAX (ripe, pen->field.left) + 0.5 * t;
  g_autofree char *what = pawl_work_plan_item_describe (item);
  g_autofree char *words = item->is_overdue ? g_strdup_printf ("%s: %s", get_word (pen, PAWL_LANES_WORD_LATE), what) : g_strdup (what);

  draw_hatch (pen, x, y, ripe - x, height);
  draw_wait_frame (pen, x, y, MIN (width, pen->field.right - x), height, has_max);
  draw_wedge (pen, pawl_lanes_get_x (&pen->field, item->finish), y);
  if (item->total_float == 0)
    draw_bar (pen, x, y + height - 0.2 * t, ripe - x, 0.2 * t);
  /* The name stands on clear paper: behind the hatched part where it fits in before the maximum, else behind the whole. */
  label = MAX (label, pawl_lanes_get_x (&pen->field, item->finish) + 0.6 * t);
  if (has_max && label + measure_words (pen, words) > x + width - 0.4 * t)
    label = x + width + 0.5 * t;
  if (pen->field.right - label > 4 * t)
    write_words (pen, item->is_overdue ? &pen->inks.bad : &pen->inks.ink, words, label, y + height / 2, 0, MIN (pen->field.right - label, 22 * t));
}

static void
draw_item (const Pen *pen, const PawlWorkPlanItem *item)
{
  double x, y, width, height;

  pawl_lanes_get_box (pen->lanes, &pen->field, item, &x, &y, &width, &height);
  if (x > pen->field.right || (item->wait == NULL && x + width < pen->field.left))
    return;
  if (item->wait != NULL)
    draw_wait (pen, item, x, y, width, height);
  else
    draw_work (pen, item, x, y, width, height);
  if ((int) item->node == pen->view->selected)
    draw_selection (pen, x, y, width, height);
}

/* The need that is finished last, when it lies in another lane; or NULL. */
static const PawlWorkPlanItem *
find_holding_up (const Pen *pen, const PawlWorkPlanItem *item)
{
  const GPtrArray *items = pawl_work_plan_get_items (pen->lanes->plan);
  const GArray *needs = pawl_network_peek_needs (pawl_work_plan_get_network (pen->lanes->plan), item->node);
  const PawlWorkPlanItem *last = NULL;

  for (guint i = 0; item->wait == NULL && i < needs->len; i++)
    {
      const PawlWorkPlanItem *need = items->pdata[g_array_index (needs, guint, i)];

      if (last == NULL || need->finish > last->finish)
        last = need;
    }
  return last != NULL && pen->lanes->lane_of[last->node] != pen->lanes->lane_of[item->node] ? last : NULL;
}

static void
draw_join (const Pen *pen, const PawlWorkPlanItem *item)
{
  const PawlWorkPlanItem *need = find_holding_up (pen, item);
  double x, y, width, height, from_x, from_y, from_width, from_height, t = pen->text, end;

  if (need == NULL)
    return;
  pawl_lanes_get_box (pen->lanes, &pen->field, item, &x, &y, &width, &height);
  pawl_lanes_get_box (pen->lanes, &pen->field, need, &from_x, &from_y, &from_width, &from_height);
  from_x = pawl_lanes_get_x (&pen->field, need->finish);
  if (x < pen->field.left || x > pen->field.right || from_x < pen->field.left)
    return;
  from_y += from_y < y ? from_height : 0;
  end = from_y < y ? y : y + height;
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_set_line_width (pen->cr, 0.08 * t);
  cairo_move_to (pen->cr, from_x, from_y);
  cairo_line_to (pen->cr, x + 0.15 * t, end);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, x + 0.15 * t, end, 0.18 * t, 0, 2 * G_PI);
  cairo_fill (pen->cr);
}

/* ---- lanes ---- */

static void
draw_head (const Pen *pen, guint job)
{
  const PawlWorkPlanJob *planned = g_ptr_array_index (pawl_work_plan_get_jobs (pen->lanes->plan), job);
  double t = pen->text, y = pen->field.top - pen->field.scroll + pen->lanes->heads[job];
  g_autofree char *words = g_strdup_printf ("%s, %u/%u %s", planned->title, planned->n_done, planned->n_steps, get_word (pen, PAWL_LANES_WORD_DONE));

  if (y > pen->field.bottom || y + 2 * t < pen->field.top)
    return;
  cairo_set_line_width (pen->cr, 0.05 * t);
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_move_to (pen->cr, 0.8 * t, y + 0.2 * t);
  cairo_line_to (pen->cr, pen->field.right, y + 0.2 * t);
  cairo_stroke (pen->cr);
  set_bold (pen, TRUE);
  cairo_rectangle (pen->cr, 0.8 * t, y + 0.4 * t, MIN (measure_words (pen, words) + 0.4 * t, pen->width), 1.4 * t); /* no line goes through it */
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 1);
  cairo_fill (pen->cr);
  write_words (pen, &pen->inks.ink, words, 0.8 * t, y + 1.1 * t, 0, pen->width - 1.6 * t);
  set_bold (pen, FALSE);
}

/* The name of the lane, and how many of its steps are done. */
static void
draw_label (const Pen *pen, const PawlLane *lane)
{
  const PawlWorkPlanJob *planned = g_ptr_array_index (pawl_work_plan_get_jobs (pen->lanes->plan), lane->job);
  double t = pen->text, y = pen->field.top - pen->field.scroll + lane->y + lane->work_height / 2, right = pen->field.labels - 0.6 * t;
  g_autofree char *count = g_strdup_printf ("%u", lane->over->len);

  if (lane->over->len > 0)
    {
      right -= write_words (pen, &pen->inks.ink, count, right, y, 1, 4 * t) + 0.9 * t;
      draw_tick (pen, right, y);
      right -= 0.4 * t;
    }
  write_words (pen, &pen->inks.ink, g_ptr_array_index (planned->lanes, lane->lane), 1.2 * t, y, 0, right - 1.2 * t);
}

/* A step that was done has a tick, one that was left out a dash. */
static void
draw_over (const Pen *pen, const PawlLane *lane, guint index, guint place)
{
  const PawlStepState *state = lane->over->pdata[index];
  double x, y, width, height, t = pen->text;

  pawl_lanes_get_over_box (pen->lanes, &pen->field, lane, place, &x, &y, &width, &height);
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  draw_frame (pen, x, y, width, height, 0.05 * t);
  if (state->status == PAWL_STEP_DONE)
    draw_tick (pen, x + 0.3 * t, y + height / 2);
  else
    draw_bar (pen, x + 0.3 * t, y + height / 2 - 0.06 * t, 0.7 * t, 0.12 * t);
  write_words (pen, &pen->inks.ink, state->step->number, x + 1.2 * t, y + height / 2, 0, width - 1.4 * t);
  if (pen->view->selected == (int) (lane->first_over + index))
    draw_selection (pen, x, y, width, height);
}

static void
draw_all_over (const Pen *pen, const PawlLane *lane)
{
  guint first, n = pawl_lanes_list_over (lane, &pen->field, pen->view, pen->text, &first);

  for (guint place = 0; place < n; place++)
    draw_over (pen, lane, first + n - 1 - place, place);
}

static void
draw_lane (const Pen *pen, const PawlLane *lane)
{
  double y = pen->field.top - pen->field.scroll + lane->y;

  if (y > pen->field.bottom || y + lane->height < pen->field.top)
    return;
  draw_label (pen, lane);
  draw_all_over (pen, lane);
  cairo_save (pen->cr);
  cairo_rectangle (pen->cr, pen->field.left, pen->field.top, pen->width - pen->field.left, pen->field.bottom - pen->field.top);
  cairo_clip (pen->cr);
  for (guint i = 0; i < lane->items->len; i++)
    draw_item (pen, lane->items->pdata[i]);
  cairo_restore (pen->cr);
}

/* ---- time above, key below ---- */

static gint64
choose_step (const Pen *pen)
{
  static const gint64 steps[] = { 60, 300, 600, 900, 1800, 3600, 7200, 10800, 21600, 43200, 86400, 172800, 604800 };

  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    if (steps[i] * pen->field.per_second >= 6.5 * pen->text)
      return steps[i];
  return steps[G_N_ELEMENTS (steps) - 1] * (gint64) ceil (6.5 * pen->text / (604800 * pen->field.per_second));
}

static void
draw_axis (const Pen *pen)
{
  GDateTime *start = pawl_work_plan_peek_start (pen->lanes->plan);
  gint64 step = choose_step (pen), since_midnight = g_date_time_get_hour (start) * 3600 + g_date_time_get_minute (start) * 60 + g_date_time_get_second (start);
  gint64 at = (pen->field.from + since_midnight) / step * step - since_midnight;
  double t = pen->text;

  for (; pawl_lanes_get_x (&pen->field, at) <= pen->field.right; at += step)
    {
      double x = pawl_lanes_get_x (&pen->field, at);
      g_autofree char *words = pawl_work_plan_format_time (pen->lanes->plan, at);

      if (x < pen->field.left)
        continue;
      pawl_ink_set_source (&pen->inks.faint, pen->cr, 0.5);
      cairo_set_line_width (pen->cr, 0.05 * t);
      cairo_move_to (pen->cr, x, 1.7 * t);
      cairo_line_to (pen->cr, x, pen->field.bottom);
      cairo_stroke (pen->cr);
      if (x + 3 * t < pen->width)
        write_words (pen, &pen->inks.ink, words, x, 0.9 * t, 0.5, 8 * t);
    }
}

/* Outside of the working hours the field has a tint, and says so where there is room. */
static void
draw_closed (const Pen *pen)
{
  gint64 from = pen->field.from, open, close;

  while (pawl_work_plan_find_hours (pen->lanes->plan, from, &open, &close))
    {
      double left = MAX (pawl_lanes_get_x (&pen->field, from), pen->field.left), right = MIN (pawl_lanes_get_x (&pen->field, open), pen->field.right);

      if (left > pen->field.right)
        return;
      if (right > left)
        {
          cairo_rectangle (pen->cr, left, pen->field.top - 1.3 * pen->text, right - left, pen->field.bottom - pen->field.top + 1.3 * pen->text);
          pawl_ink_set_source (&pen->inks.fill, pen->cr, 0.55);
          cairo_fill (pen->cr);
          if (right - left > 5 * pen->text)
            write_words (pen, &pen->inks.faint, get_word (pen, PAWL_LANES_WORD_CLOSED), (left + right) / 2, pen->field.top - 0.8 * pen->text, 0.5, right - left);
        }
      from = close;
    }
}

/* When the hands are busy, and when they are not. */
static void
draw_hands (const Pen *pen)
{
  const GPtrArray *items = pawl_work_plan_get_items (pen->lanes->plan);
  double t = pen->text, y = 2.1 * t;

  write_words (pen, &pen->inks.ink, get_word (pen, PAWL_LANES_WORD_HANDS), 1.2 * t, y + 0.4 * t, 0, pen->field.left - 2 * t);
  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = items->pdata[i];
      double left = MAX (pawl_lanes_get_x (&pen->field, item->start), pen->field.left), right = MIN (pawl_lanes_get_x (&pen->field, item->finish), pen->field.right);

      if (item->wait == NULL && right > left)
        cairo_rectangle (pen->cr, left, y, right - left, 0.8 * t);
    }
  pawl_ink_set_source (&pen->inks.faint, pen->cr, 1);
  cairo_fill (pen->cr);
}

/* The moment: a thick line through everything, and a foot on the time. */
static void
draw_now (const Pen *pen)
{
  double t = pen->text, x = pawl_lanes_get_x (&pen->field, pen->view->now);

  if (x < pen->field.left || x > pen->field.right)
    return;
  draw_bar (pen, x - 0.08 * t, pen->field.top - 1.3 * t, 0.16 * t, pen->field.bottom - pen->field.top + 1.3 * t);
  cairo_move_to (pen->cr, x, pen->field.top - 0.7 * t);
  cairo_line_to (pen->cr, x - 0.5 * t, pen->field.top - 1.5 * t);
  cairo_line_to (pen->cr, x + 0.5 * t, pen->field.top - 1.5 * t);
  cairo_close_path (pen->cr);
  cairo_fill (pen->cr);
}

static double
draw_key_words (const Pen *pen, const char *words, double x, double y)
{
  return x + write_words (pen, &pen->inks.ink, words, x, y, 0, MAX (pen->width - x - pen->text, 1)) + 1.4 * pen->text;
}

static void
draw_key (const Pen *pen)
{
  double t = pen->text, y = pen->field.bottom + 0.5 * t, x = 1.2 * t, middle = y + 0.6 * t;

  draw_work_box (pen, x, y, 2.4 * t, 1.2 * t, TRUE, FALSE);
  x = draw_key_words (pen, get_word (pen, PAWL_LANES_WORD_READY), x + 2.9 * t, middle);
  draw_work_box (pen, x, y, 2.4 * t, 1.2 * t, FALSE, FALSE);
  x = draw_key_words (pen, get_word (pen, PAWL_LANES_WORD_BLOCKED), x + 2.9 * t, middle);
  draw_work_box (pen, x, y, 2.4 * t, 1.2 * t, FALSE, TRUE);
  x = draw_key_words (pen, get_word (pen, PAWL_LANES_WORD_CRITICAL), x + 2.9 * t, middle);
  cairo_save (pen->cr);
  draw_hatch (pen, x, y, 2 * t, 1.2 * t);
  cairo_restore (pen->cr);
  draw_wait_frame (pen, x, y, 4 * t, 1.2 * t, TRUE);
  draw_wedge (pen, x + 3 * t, y);
  draw_key_words (pen, get_word (pen, PAWL_LANES_WORD_WAIT), x + 4.5 * t, middle);
}

void
pawl_lanes_draw (const PawlLanes *self, const PawlLanesView *view, cairo_t *cr, double width, double height)
{
  Pen pen = { cr, self, view, pawl_lanes_get_field (self, view, width, height), pawl_palette_get_inks (view->palette), self->text, width, height, NULL };
  const GPtrArray *items = pawl_work_plan_get_items (self->plan);

  cairo_save (cr);
  pawl_ink_set_source (&pen.inks.paper, cr, 1);
  cairo_paint (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER);
  pen.layout = make_layout (&pen);
  draw_closed (&pen);
  draw_axis (&pen);
  draw_hands (&pen);
  draw_now (&pen);
  cairo_save (cr);
  cairo_rectangle (cr, 0, pen.field.top, width, MAX (pen.field.bottom - pen.field.top, 0));
  cairo_clip (cr);
  for (guint i = 0; i < pawl_work_plan_get_jobs (self->plan)->len; i++)
    draw_head (&pen, i);
  for (guint i = 0; items->len <= MAX_JOINED && i < items->len; i++)
    draw_join (&pen, items->pdata[i]);
  for (guint i = 0; i < self->lanes->len; i++)
    draw_lane (&pen, self->lanes->pdata[i]);
  cairo_restore (cr);
  draw_key (&pen);
  g_object_unref (pen.layout);
  cairo_restore (cr);
}
