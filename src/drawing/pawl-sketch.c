#include "drawing/pawl-sketch.h"

#include <math.h>
#include <string.h>

#include "drawing/pawl-labels.h"
#include "drawing/pawl-sketch-private.h"

/* A part is never shown larger than this many times its size, in the eye's world: a 2 mm jet need not fill the screen. */
#define LARGEST_SCALE 20.0
/* Of the room for a pose, what the circle with the enlarged difference takes. */
#define CIRCLE_SHARE 0.44
/* The enlarged difference is drawn so many times the least that the eye can be trusted with. */
#define CLEARLY_SEEN 4.0
/* Share of the text's size: closer together than this, the two arrowheads of the dimension hide what they point at. */
#define LEGIBLE_SHARE 0.6
/* Widest column of labels, as a share of a pane. */
#define LABEL_SHARE 0.36

static const PawlSketchOptions plain_options;

typedef struct {
  const PawlRule          *rule;
  const PawlSketchOptions *options;
  PawlDifference           difference;
  GPtrArray               *poses[2]; /* right, wrong */
  PawlBox                  mm;       /* room that both poses take */
  PawlPoint                ends[2];  /* of the difference, mm */
  gboolean                 has_difference;
  double                   text;
  double                   units_per_mm; /* of the eye's world */
  double                   least;        /* least difference that is plain to see, surface units */
  /* layout, all in surface units within a pane */
  double                   pane_width, pane_height;
  gboolean                 is_stacked;
  double                   head, foot;   /* heights */
  double                   label_width;  /* widest; 0: no labels */
  gboolean                 has_column;   /* of labels, right of the pose */
  gboolean                 arrow_above, arrow_below; /* words at arrows */
  gboolean                 has_rows;     /* of labels, above and below, but where the dimension is */
  PawlBox                  area;         /* for the pose itself */
  double                   scale;
  double                   exaggeration;
  double                   circle;       /* radius; 0: none */
  int                      sign;         /* side of the dimension: -1 above or left, 1 below */
} Sketch;

static const char *
choose_word (const char *word, const char *otherwise)
{
  return word ? word : otherwise;
}

/* ---- numbers ---- */

char *
pawl_sketch_format_size (double size_mm, const PawlSketchOptions *options)
{
  char *text, *point;

  options = options ? options : &plain_options;
  if (size_mm < 1e-6)
    return g_strdup (choose_word (options->nothing_word, "nothing to see"));
  if (options->unit == PAWL_LENGTH_INCH)
    text = g_strdup_printf ("%.3f in", size_mm / 25.4);
  else
    text = g_strdup_printf (size_mm < 1 ? "%.2f mm" : "%.1f mm", size_mm);
  /* printf follows the process's locale; the mark wanted is the one handed in. */
  if ((point = strpbrk (text, ".,")))
    *point = options->decimal_mark ? options->decimal_mark : '.';
  return text;
}

/* ---- measuring ---- */

static PawlBox
get_room (GPtrArray * const *poses)
{
  double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY;

  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (poses[i], j);

        for (guint k = 0; k < stroke->n_points; k++)
          {
            x0 = MIN (x0, stroke->points[k].x);
            y0 = MIN (y0, stroke->points[k].y);
            x1 = MAX (x1, stroke->points[k].x);
            y1 = MAX (y1, stroke->points[k].y);
          }
      }
  return (PawlBox) { x0, y0, x1 - x0, y1 - y0 };
}

static void
find_difference (Sketch *self)
{
  for (guint i = 0; i < self->poses[1]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[1], i);

      if (stroke->kind == PAWL_STROKE_DIFFERENCE && stroke->n_points == 2)
        {
          self->ends[0] = stroke->points[0];
          self->ends[1] = stroke->points[1];
          self->has_difference = hypot (self->ends[1].x - self->ends[0].x, self->ends[1].y - self->ends[0].y) > 1e-9;
        }
    }
}

static gboolean
is_upright (const PawlStroke *stroke)
{
  PawlPoint p = stroke->points[0], q = stroke->points[stroke->n_points - 1];

  return fabs (q.y - p.y) > fabs (q.x - p.x);
}

/* An arrow whose words stand right at it. An upright one beside a part has a label with a leader instead. */
static gboolean
has_own_words (const Sketch *self, const PawlStroke *stroke)
{
  return stroke->kind == PAWL_STROKE_ARROW && stroke->label && !(self->rule->kind == PAWL_RULE_SIDE && is_upright (stroke));
}

static double
get_widest_label (const Sketch *self, cairo_t *cr, guint *n_labels)
{
  double widest = 0;

  *n_labels = 0;
  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < self->poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (self->poses[i], j);

        if (stroke->label && !has_own_words (self, stroke))
          {
            g_autoptr(PangoLayout) layout = pawl_sketch_new_text (cr, stroke->label, self->text, FALSE);
            double width;

            pawl_sketch_get_text_size (layout, &width, NULL);
            widest = MAX (widest, width);
            ++*n_labels;
          }
      }
  return widest;
}

/* How tall the words under the poses are. */
static double
get_foot_height (const Sketch *self, cairo_t *cr, double width)
{
  g_autoptr(PangoLayout) layout = NULL;
  double height;

  if (self->rule->kind != PAWL_RULE_EITHER)
    return self->has_difference ? 0.4 * self->text : 1.8 * self->text;
  layout = pawl_sketch_new_text (cr, self->rule->symmetry, self->text, FALSE);
  pango_layout_set_width (layout, (int) (MAX (width - self->text, 1) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, -3);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pawl_sketch_get_text_size (layout, NULL, &height);
  return height + 0.6 * self->text;
}

/* ---- layout ---- */

static void
lay_out_area (Sketch *self, cairo_t *cr)
{
  double text = self->text, left = 0.8 * text, right = 0.8 * text, top = 0.6 * text, bottom = 0.6 * text;
  double dimension_width = 0;

  if (self->has_column)
    right += self->label_width + (self->rule->kind == PAWL_RULE_WHICH ? 1.6 : 0.9) * text; /* two lines stand farther off */
  top += self->arrow_above ? 1.5 * text : 0;
  bottom += self->arrow_below ? 1.5 * text : 0;
  if (self->has_rows)
    {
      top += 1.7 * text;
      bottom += 1.7 * text;
    }
  if (self->has_difference && !self->circle)
    {
      g_autofree char *size = pawl_sketch_format_size (self->difference.size_mm, self->options);
      g_autoptr(PangoLayout) layout = pawl_sketch_new_text (cr, size, text, TRUE);

      pawl_sketch_get_text_size (layout, &dimension_width, NULL);
      if (self->rule->kind == PAWL_RULE_SPREAD) /* along an arc, on whichever side */
        {
          gboolean is_left = self->ends[0].x + self->ends[1].x <= 0;

          left += is_left ? dimension_width + 1.6 * text : 1.2 * text;
          right += is_left ? 1.2 * text : dimension_width + 1.6 * text;
          top += 1.2 * text;
          bottom += 1.2 * text;
        }
      else if (!pawl_sketch_lies_flat (self->ends[0], self->ends[1]))
        left += dimension_width + 1.8 * text;
      else if (self->sign < 0)
        top += (self->has_rows ? 1.4 : 3.1) * text;
      else
        bottom += (self->has_rows || self->arrow_below ? 1.8 : 3.1) * text;
    }
  if (self->circle)
    bottom += 2 * self->circle + 2.6 * text;
  self->area = (PawlBox) { left, self->head + top, MAX (self->pane_width - left - right, 1), MAX (self->pane_height - self->head - top - bottom, 1) };
  self->scale = MIN (self->area.width / self->mm.width, self->area.height / self->mm.height);
  self->scale = MIN (self->scale, LARGEST_SCALE * self->units_per_mm);
}

static double
get_drawn_difference (const Sketch *self)
{
  return self->scale * hypot (self->ends[1].x - self->ends[0].x, self->ends[1].y - self->ends[0].y);
}

/* The words of an arrow stand under it, or above it when it points down. */
static void
find_arrow_labels (Sketch *self)
{
  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < self->poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (self->poses[i], j);

        if (!has_own_words (self, stroke))
          continue;
        if (is_upright (stroke) && stroke->points[0].y < stroke->points[1].y)
          self->arrow_above = TRUE;
        else
          self->arrow_below = TRUE;
      }
}

/* The outlines of a turned part run through its own dimension; other kinds have theirs outside. */
static double
get_legible (const Sketch *self)
{
  return self->rule->kind == PAWL_RULE_SENSE ? MAX (self->least, LEGIBLE_SHARE * self->text) : self->least;
}

/* First without the circle; with it when the difference would be too small, whose drawing is then smaller still. */
static void
lay_out (Sketch *self, cairo_t *cr, double width, double height)
{
  double middle_y = self->mm.y + self->mm.height / 2;
  guint n_labels;

  self->is_stacked = height > 1.15 * width;
  self->pane_width = self->is_stacked ? width : width / 2;
  self->head = 2 * self->text;
  self->foot = get_foot_height (self, cr, width);
  self->pane_height = (height - self->foot) / (self->is_stacked ? 2 : 1);
  self->label_width = MIN (get_widest_label (self, cr, &n_labels), 0.9 * self->pane_width);
  /* One label finds room above or below. The names of a stack stand beside it, in its own order. */
  self->has_column = n_labels > 2 && self->rule->kind != PAWL_RULE_SPREAD;
  find_arrow_labels (self);
  self->has_column |= n_labels > 0 && (self->rule->kind == PAWL_RULE_SENSE || self->arrow_above);
  self->has_rows = n_labels > 0 && !self->arrow_above
                   && self->rule->kind != PAWL_RULE_ORDER && self->rule->kind != PAWL_RULE_WHICH && self->rule->kind != PAWL_RULE_SENSE;
  if (self->has_column)
    self->label_width = MIN (self->label_width, LABEL_SHARE * self->pane_width);
  self->sign = (self->ends[0].y + self->ends[1].y) / 2 > middle_y ? 1 : -1;
  if (self->arrow_below || self->arrow_above) /* keep clear of the arrow's words */
    self->sign = self->arrow_below ? -1 : 1;
  if (self->rule->kind == PAWL_RULE_INDEX && self->has_rows && self->sign < 0 && self->has_difference && pawl_sketch_lies_flat (self->ends[0], self->ends[1])
      && self->rule->index_kind == PAWL_INDEX_ANGLE)
    {
      self->has_rows = FALSE; /* the mark is at the top, where the dimension stands */
      self->has_column = TRUE;
      self->label_width = MIN (self->label_width, LABEL_SHARE * self->pane_width);
    }
  lay_out_area (self, cr);
  if (!self->has_difference || get_drawn_difference (self) >= get_legible (self))
    return;
  self->circle = MAX (1, MIN (CIRCLE_SHARE * (self->pane_height - self->head - 2 * self->text), 0.8 * self->pane_width) / 2);
  lay_out_area (self, cr);
  self->exaggeration = ceil (MAX (CLEARLY_SEEN * self->least, self->text) / get_drawn_difference (self));
}

static Sketch
open_sketch (const PawlRule *rule, const PawlSketchOptions *options)
{
  Sketch self = { .rule = rule, .options = options ? options : &plain_options, .exaggeration = 1 };
  double distance = self.options->distance_mm > 0 ? self.options->distance_mm : PAWL_BENCH_DISTANCE_MM;

  self.text = self.options->text_size > 0 ? self.options->text_size : 13;
  self.units_per_mm = self.options->units_per_mm > 0 ? self.options->units_per_mm : 96 / 25.4;
  self.least = pawl_difference_get_least_mm (distance) * self.units_per_mm;
  self.difference = pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM);
  self.poses[0] = pawl_rule_draw_pose (rule, FALSE);
  self.poses[1] = pawl_rule_draw_pose (rule, TRUE);
  self.mm = get_room (self.poses);
  find_difference (&self);
  return self;
}

static void
close_sketch (Sketch *self)
{
  g_ptr_array_unref (self->poses[0]);
  g_ptr_array_unref (self->poses[1]);
}

/* ---- drawing a pane ---- */

static PawlSketchPen
open_pen (const Sketch *self, cairo_t *cr)
{
  return (PawlSketchPen) {
    .cr = cr, .inks = pawl_palette_get_inks (self->options->palette), .text = self->text, .scale = self->scale,
    .x = self->area.x + self->area.width / 2 - self->scale * (self->mm.x + self->mm.width / 2),
    .y = self->area.y + self->area.height / 2 - self->scale * (self->mm.y + self->mm.height / 2),
    .width = self->pane_width,
  };
}

static void
draw_title (const Sketch *self, const PawlSketchPen *pen, int which)
{
  gboolean is_either = self->rule->kind == PAWL_RULE_EITHER, is_right = which == 0 || is_either;
  const char *word = is_either ? choose_word (self->options->either_word, "Either way")
                     : is_right ? choose_word (self->options->right_word, "Right") : choose_word (self->options->wrong_word, "Wrong");
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (pen->cr, word, 1.1 * self->text, TRUE);
  double height;

  pawl_sketch_get_text_size (layout, NULL, &height);
  pawl_sketch_draw_sign (pen, 0.6 * self->text, 0.4 * self->text, 1.15 * self->text, is_right);
  cairo_move_to (pen->cr, 2.2 * self->text, (0.4 + 0.575) * self->text - height / 2);
  pawl_ink_set_source (is_right ? &pen->inks.good : &pen->inks.bad, pen->cr, 1);
  pango_cairo_show_layout (pen->cr, layout);
}

static void
draw_strokes (const PawlSketchPen *pen, const GPtrArray *pose)
{
  for (guint i = 0; i < pose->len; i++)
    pawl_sketch_pen_stroke (pen, g_ptr_array_index (pose, i));
}

static PawlPoint
get_middle (const PawlStroke *stroke)
{
  double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY;

  for (guint i = 0; i < stroke->n_points; i++)
    {
      x0 = MIN (x0, stroke->points[i].x);
      y0 = MIN (y0, stroke->points[i].y);
      x1 = MAX (x1, stroke->points[i].x);
      y1 = MAX (y1, stroke->points[i].y);
    }
  return (PawlPoint) { (x0 + x1) / 2, (y0 + y1) / 2 };
}

/* Where a leader points: the middle of an area, but of a short line its far end, so that it is not written over. */
static PawlPoint
get_anchor (const PawlStroke *stroke)
{
  return stroke->is_closed || stroke->kind == PAWL_STROKE_ARROW ? get_middle (stroke) : stroke->points[stroke->n_points - 1];
}

/* A label in its column: two lines at most. */
static PangoLayout *
new_label (const Sketch *self, cairo_t *cr, const char *text)
{
  PangoLayout *layout = pawl_sketch_new_text (cr, text, self->text, FALSE);

  pango_layout_set_width (layout, (int) ceil ((self->label_width + 1) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, strchr (text, '\n') ? -1 : -2);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  return layout;
}

static void
draw_arrow_words (const Sketch *self, const PawlSketchPen *pen, const PawlStroke *stroke)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (pen->cr, stroke->label, self->text, FALSE);
  PawlPoint at = pawl_sketch_pen_place (pen, is_upright (stroke) ? stroke->points[0] : get_middle (stroke));
  double most = self->pane_width - 0.6 * self->text, width, height, x, y;

  pango_layout_set_width (layout, (int) (most * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_height (layout, -1);
  pawl_sketch_get_text_size (layout, &width, &height);
  x = CLAMP (at.x - width / 2, 0.3 * self->text, MAX (0.3 * self->text, self->pane_width - width - 0.3 * self->text));
  y = is_upright (stroke) ? (stroke->points[0].y < stroke->points[1].y ? at.y - height - 0.1 * self->text : at.y + 0.1 * self->text) : at.y + 0.35 * self->text;
  cairo_new_path (pen->cr);
  cairo_rectangle (pen->cr, x, y + 0.1 * height, width, 0.8 * height); /* paper, against lines that pass behind */
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 1);
  cairo_fill (pen->cr);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  cairo_move_to (pen->cr, x, y);
  pango_cairo_show_layout (pen->cr, layout);
}

static void
draw_leader (const Sketch *self, const PawlSketchPen *pen, const PawlLabel *label)
{
  cairo_new_path (pen->cr);
  cairo_move_to (pen->cr, label->elbow.x, label->elbow.y);
  cairo_line_to (pen->cr, label->anchor.x, label->anchor.y);
  pawl_sketch_pen_narrow (pen, 0.85);
  cairo_stroke (pen->cr);
  cairo_arc (pen->cr, label->anchor.x, label->anchor.y, 0.13 * self->text, 0, 2 * G_PI);
  cairo_fill (pen->cr);
}

static void
draw_labels (const Sketch *self, const PawlSketchPen *pen, const GPtrArray *pose, PawlBox outline)
{
  g_autoptr(PawlLabels) labels = pawl_labels_new ();
  gboolean is_flat = self->has_difference && !self->circle && pawl_sketch_lies_flat (self->ends[0], self->ends[1]) && self->rule->kind != PAWL_RULE_SPREAD;
  PawlBox sheet = { 0, self->head, self->pane_width, self->pane_height - self->head };

  labels->sides = self->has_column ? PAWL_LABELS_RIGHT : 0;
  if (self->has_rows && !(is_flat && self->sign < 0))
    labels->sides |= PAWL_LABELS_TOP;
  if (self->has_rows && !(is_flat && self->sign > 0))
    labels->sides |= PAWL_LABELS_BOTTOM;
  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);
      g_autoptr(PangoLayout) layout = NULL;
      double width, height;

      if (!stroke->label)
        continue;
      if (has_own_words (self, stroke))
        {
          draw_arrow_words (self, pen, stroke);
          continue;
        }
      layout = new_label (self, pen->cr, stroke->label);
      pawl_sketch_get_text_size (layout, &width, &height);
      pawl_labels_add (labels, stroke->label, pawl_sketch_pen_place (pen, get_anchor (stroke)), MIN (width, self->label_width),
                       MAX (self->text, height - 0.2 * self->text));
    }
  pawl_labels_place (labels, outline, sheet);
  for (guint i = 0; i < labels->items->len; i++)
    {
      const PawlLabel *label = g_ptr_array_index (labels->items, i);
      g_autoptr(PangoLayout) layout = new_label (self, pen->cr, label->text);
      double height;

      /* A label close to its arrow or line needs no leader. */
      if (hypot (label->elbow.x - label->anchor.x, label->elbow.y - label->anchor.y) > 1.4 * self->text)
        draw_leader (self, pen, label);
      pawl_sketch_get_text_size (layout, NULL, &height);
      cairo_move_to (pen->cr, label->place.x - label->width / 2, label->place.y - height / 2);
      pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
      pango_cairo_show_layout (pen->cr, layout);
    }
}

/* Under the circle: the size in the wrong pane, and by what it is enlarged in both. */
static void
draw_circle_words (const Sketch *self, const PawlSketchPen *pen, int which, PawlPoint middle)
{
  g_autofree char *size = pawl_sketch_format_size (self->difference.size_mm, self->options);
  g_autofree char *words = g_strdup_printf ("%s ×%.0f", choose_word (self->options->exaggerated_word, "exaggerated"), self->exaggeration);
  g_autofree char *markup = which ? g_markup_printf_escaped ("<b>%s</b>  %s", size, words) : g_markup_escape_text (words, -1);
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (pen->cr, "", self->text, FALSE);
  double width;

  pango_layout_set_markup (layout, markup, -1);
  pawl_sketch_get_text_size (layout, &width, NULL);
  cairo_move_to (pen->cr, MAX (0.2 * self->text, middle.x - width / 2), middle.y + self->circle + 0.25 * self->text);
  pawl_ink_set_source (&pen->inks.ink, pen->cr, 1);
  pango_cairo_show_layout (pen->cr, layout);
}

/* The spot of the difference once more, larger, in both panes; the dimension in the wrong one. */
static void
draw_circle (const Sketch *self, const PawlSketchPen *pen, int which)
{
  PawlPoint spot = { (self->ends[0].x + self->ends[1].x) / 2, (self->ends[0].y + self->ends[1].y) / 2 };
  PawlPoint at = pawl_sketch_pen_place (pen, spot);
  PawlPoint middle = { self->pane_width / 2, self->pane_height - self->circle - 1.7 * self->text };
  PawlSketchPen larger = *pen;
  double small = MAX (self->circle / self->exaggeration, 0.35 * self->text);

  larger.scale = pen->scale * self->exaggeration;
  larger.x = middle.x - larger.scale * spot.x;
  larger.y = middle.y - larger.scale * spot.y;
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, at.x, at.y, small, 0, 2 * G_PI);
  cairo_move_to (pen->cr, at.x, at.y + small);
  cairo_line_to (pen->cr, middle.x, middle.y - self->circle);
  pawl_sketch_pen_narrow (pen, 0.85);
  cairo_stroke (pen->cr);
  cairo_save (pen->cr);
  cairo_arc (pen->cr, middle.x, middle.y, self->circle, 0, 2 * G_PI);
  pawl_ink_set_source (&pen->inks.paper, pen->cr, 1);
  cairo_fill_preserve (pen->cr);
  cairo_clip (pen->cr);
  draw_strokes (&larger, self->poses[which]);
  if (which == 1)
    {
      PawlPoint p = pawl_sketch_pen_place (&larger, self->ends[0]), q = pawl_sketch_pen_place (&larger, self->ends[1]);
      PawlBox near = { MIN (p.x, q.x), MIN (p.y, q.y), fabs (q.x - p.x), fabs (q.y - p.y) };

      pawl_sketch_pen_dimension (&larger, p, q, near, self->sign, "");
    }
  cairo_restore (pen->cr);
  cairo_new_path (pen->cr);
  cairo_arc (pen->cr, middle.x, middle.y, self->circle, 0, 2 * G_PI);
  pawl_sketch_pen_narrow (pen, 1);
  cairo_stroke (pen->cr);
  draw_circle_words (self, pen, which, middle);
}

static void
draw_pane (const Sketch *self, cairo_t *cr, int which)
{
  PawlSketchPen pen = open_pen (self, cr);
  PawlPoint corner = pawl_sketch_pen_place (&pen, (PawlPoint) { self->mm.x, self->mm.y });
  PawlBox outline = { corner.x, corner.y, self->scale * self->mm.width, self->scale * self->mm.height };

  draw_title (self, &pen, which);
  draw_strokes (&pen, self->poses[which]);
  if (which == 1 && self->has_difference && !self->circle)
    {
      g_autofree char *size = pawl_sketch_format_size (self->difference.size_mm, self->options);

      PawlPoint p = pawl_sketch_pen_place (&pen, self->ends[0]), q = pawl_sketch_pen_place (&pen, self->ends[1]);

      if (self->rule->kind == PAWL_RULE_SPREAD)
        pawl_sketch_pen_arc_dimension (&pen, pawl_sketch_pen_place (&pen, (PawlPoint) { 0, 0 }), MAX (outline.width, outline.height) / 2, p, q, size);
      else
        pawl_sketch_pen_dimension (&pen, p, q, outline, pawl_sketch_lies_flat (p, q) ? self->sign : -1, size);
    }
  if (self->circle)
    draw_circle (self, &pen, which);
  if (self->label_width > 0 || self->arrow_above || self->arrow_below)
    draw_labels (self, &pen, self->poses[which], outline);
}

/* ---- words under and instead of the poses ---- */

static void
draw_words (const Sketch *self, cairo_t *cr, const char *words, double y, double width, double height, gboolean is_centred)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (cr, words, self->text, FALSE);
  PawlInks inks = pawl_palette_get_inks (self->options->palette);

  pango_layout_set_width (layout, (int) (MAX (width - self->text, 1) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_height (layout, (int) (MAX (height, 1) * PANGO_SCALE));
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_alignment (layout, is_centred ? PANGO_ALIGN_CENTER : PANGO_ALIGN_LEFT);
  cairo_move_to (cr, 0.5 * self->text, y);
  pawl_ink_set_source (&inks.ink, cr, 1);
  pango_cairo_show_layout (cr, layout);
}

static void
draw_foot (const Sketch *self, cairo_t *cr, double width, double height)
{
  double y = height - self->foot + 0.2 * self->text;

  if (self->rule->kind == PAWL_RULE_EITHER)
    draw_words (self, cr, self->rule->symmetry, y, width, self->foot, TRUE);
  else if (!self->has_difference)
    {
      g_autofree char *size = pawl_sketch_format_size (self->difference.size_mm, self->options);
      const char *name = self->rule->dimension_name;
      g_autofree char *words = name && *name ? g_strdup_printf ("%s: %s", name, size) : g_strdup (size);

      draw_words (self, cr, words, y, width, self->foot, TRUE);
    }
}

void
pawl_sketch_draw (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height)
{
  g_autofree char *missing = NULL;
  Sketch self;

  g_return_if_fail (rule != NULL && cr != NULL && width > 0 && height > 0);
  self = open_sketch (rule, options);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  if ((missing = pawl_rule_find_missing (rule)))
    {
      g_autofree char *words = g_strdup_printf ("%s %s.", choose_word (self.options->lacks_word, "No sketch. The rule lacks"), missing);

      draw_words (&self, cr, words, 0.5 * self.text, width, height - self.text, FALSE);
    }
  else
    {
      lay_out (&self, cr, width, height);
      for (int which = 0; which < 2; which++)
        {
          cairo_save (cr);
          cairo_translate (cr, which && !self.is_stacked ? self.pane_width : 0, which && self.is_stacked ? self.pane_height : 0);
          draw_pane (&self, cr, which);
          cairo_restore (cr);
        }
      draw_foot (&self, cr, width, height);
    }
  cairo_restore (cr);
  close_sketch (&self);
}

double
pawl_sketch_get_exaggeration (const PawlRule *rule, const PawlSketchOptions *options, double width, double height)
{
  g_autofree char *missing = NULL;
  cairo_surface_t *nowhere;
  cairo_t *cr;
  Sketch self;

  g_return_val_if_fail (rule != NULL && width > 0 && height > 0, 1);
  if ((missing = pawl_rule_find_missing (rule)))
    return 1;
  nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1); /* for measuring text */
  cr = cairo_create (nowhere);
  self = open_sketch (rule, options);
  lay_out (&self, cr, width, height);
  close_sketch (&self);
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
  return self.exaggeration;
}

/* ---- in words ---- */

static void
add_sentence (GString *text, const char *lead, const char *sentence)
{
  if (!sentence || !*sentence)
    return;
  g_string_append_printf (text, "%s%s: %s%s", text->len ? " " : "", lead, sentence, strchr (".!?", sentence[strlen (sentence) - 1]) ? "" : ".");
}

char *
pawl_sketch_describe (const PawlRule *rule, const PawlSketchOptions *options)
{
  GString *text = g_string_new (NULL);
  g_autofree char *size = NULL;

  g_return_val_if_fail (rule != NULL, NULL);
  options = options ? options : &plain_options;
  if (rule->kind == PAWL_RULE_EITHER)
    {
      add_sentence (text, choose_word (options->either_word, "Either way"), rule->symmetry);
      return g_string_free (text, FALSE);
    }
  add_sentence (text, choose_word (options->right_word, "Right"), rule->says);
  add_sentence (text, choose_word (options->wrong_word, "Wrong"), rule->consequence);
  size = pawl_sketch_format_size (pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM).size_mm, options);
  g_string_append_printf (text, "%s%s.", text->len ? " " : "", size);
  return g_string_free (text, FALSE);
}
