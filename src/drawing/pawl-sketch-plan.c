/* The plan of a sketch: two panes to one scale, as large as the words leave room for. */
#include <math.h>

#include "drawing/pawl-sketch-plan-private.h"

/* A part is never shown larger than this many times its size, in the eye's world: a 2 mm jet need not fill the screen. */
#define LARGEST_SCALE 20.0
/* The enlarged difference is drawn so many times the least that the eye can be trusted with, and takes up this share of the lens. */
#define CLEARLY_SEEN 4.0
#define LENS_FILLED 0.3
/* Beyond that an enlargement shows nothing of the part that it is of. */
#define MOST_EXAGGERATION 999.0
/* Share of the text's size: closer together than this, the two arrowheads of the dimension hide what they point at. */
#define LEGIBLE_SHARE 1.5
/* Blocks that stand for pieces leave room for what is said of them. */
#define BLOCKS_SHARE 0.78
/* When there is no room for the words the picture is made smaller by steps. */
#define SMALLER 0.93
#define MOST_STEPS 22
#define MOST_TRIES 500
/* Panes stand above each other on a surface so much taller than wide, or for a part so much longer than high when it then is so much larger. */
#define TALL 1.15
#define LONG 1.25
#define STACKED_GAIN 1.35
/* Of the text's size. */
#define LEAST_PICTURE 2.0     /* beside a lens */
#define TITLE 2.0

/* ---- what is known before any layout ---- */

PawlBox
pawl_sketch_get_room_of (GPtrArray * const *poses)
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
find_telling (PawlSketchDraft *self)
{
  for (guint i = 0; i < self->poses[1]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[1], i);
      double length;

      if (stroke->kind != PAWL_STROKE_DIFFERENCE || stroke->n_points < 2)
        continue;
      length = hypot (stroke->points[1].x - stroke->points[0].x, stroke->points[1].y - stroke->points[0].y);
      if (length > 1e-9 && !self->telling)
        {
          self->telling = self->tellings[0] = self->tellings[1] = stroke;
          self->telling_mm = length;
        }
    }
}

/* What the words between its rows add to the height of a list. */
static double
get_row_heights (const PawlSketchDraft *self)
{
  return self->is_list ? pawl_sketch_draft_get_offset (self, self->n_rows - 1) : 0;
}

/* What is left of a room for the poses themselves, from its corner. */
static PawlBox
get_area (const PawlSketchDraft *self)
{
  PawlBox room = self->rooms[0];
  double edge = PAWL_SKETCH_EDGE * self->text;
  PawlBox area = { edge, edge, room.width - 2 * edge, room.height - 2 * edge };

  if (self->row_width > 0 && !self->is_list)
    area.width -= self->row_width + (1.4 + (self->has_signs ? 1.1 : 0)) * self->text;
  if (self->has_lens && !self->is_lens_below)
    area.width = MIN (self->lens.x - self->lens_radius, self->lens.x - self->lens_words_width / 2) - 1.5 * edge;
  else if (self->has_lens)
    area.height = self->lens.y - self->lens_radius - 1.5 * edge;
  area.height -= get_row_heights (self);
  area.width = MAX (area.width, 1);
  area.height = MAX (area.height, 1);
  return area;
}

/* By what the lens has to enlarge at a scale, a whole number as it is written. */
static double
get_exaggeration (const PawlSketchDraft *self, double scale)
{
  double wanted = MAX (MAX (CLEARLY_SEEN * self->least, self->text), LENS_FILLED * self->lens_radius);

  return ceil (MAX (wanted / (scale * self->telling_mm), self->lens_radius / (PAWL_SKETCH_LARGEST_SPOT * self->text)));
}

static double
get_largest_scale (const PawlSketchDraft *self)
{
  PawlBox area = get_area (self);
  double scale = MIN (area.width / MAX (self->mm.width, 1e-9), area.height / MAX (self->mm.height, 1e-9));
  /* Bars that stand for sizes are no picture of a part. */
  gboolean is_limited = self->rule->kind != PAWL_RULE_WHICH && self->rule->kind != PAWL_RULE_MATE;

  if (self->rule->kind == PAWL_RULE_MATE)
    scale *= BLOCKS_SHARE;
  return is_limited ? MIN (scale, LARGEST_SCALE * self->options.units_per_mm) : scale;
}

/* ---- attempts ---- */

static void
clear_attempt (PawlSketchDraft *self)
{
  for (int i = 0; i < 2; i++)
    g_clear_pointer (&self->panes[i], pawl_sketch_pane_free);
  self->badness = 0;
  self->n_left_out = 0;
}

/* @shift: where in the area that is left over, -1..1. */
static void
attempt (PawlSketchDraft *self, double scale, PawlPoint shift)
{
  PawlBox area = get_area (self);
  double width = scale * self->mm.width, height = scale * self->mm.height;

  clear_attempt (self);
  self->scale = scale;
  self->body = (PawlBox) { area.x + (1 + shift.x) / 2 * (area.width - width), area.y + (1 + shift.y) / 2 * (area.height - height), width, height };
  if (self->has_lens)
    self->exaggeration = MIN (get_exaggeration (self, scale), MOST_EXAGGERATION);
  for (int i = 0; i < 2; i++)
    {
      self->panes[i] = pawl_sketch_pane_new (self->rooms[i], self->text);
      self->origins[i] = (PawlPoint) { self->rooms[i].x + self->body.x - scale * self->mm.x, self->rooms[i].y + self->body.y - scale * self->mm.y };
      pawl_sketch_draft_add_picture (self, i);
      if (self->has_lens)
        pawl_sketch_draft_add_lens (self, i);
      if (self->row_width > 0)
        pawl_sketch_draft_add_rows (self, i);
      pawl_sketch_draft_add_dimensions (self, i);
    }
  pawl_sketch_draft_add_labels (self);
}

/* As large as may be, and with as little amiss: each step smaller counts as much as the rest of what is bad. */
static void
find_best_attempt (PawlSketchDraft *self)
{
  static const PawlPoint shifts[] = { { 0, 0 }, { -1, 0 }, { 1, 0 }, { 0, -1 }, { 0, 1 } };
  double scale = get_largest_scale (self), best_scale = scale, least = INFINITY;
  PawlPoint best_shift = shifts[0];

  self->is_trial = !self->is_thorough;
  self->n_tries = 0;
  for (int step = 0; step < MOST_STEPS && step < least && self->n_tries < MOST_TRIES; step++, scale *= SMALLER)
    for (guint i = 0; i < G_N_ELEMENTS (shifts); i++)
      {
        self->most_bad = least - step;
        attempt (self, scale, shifts[i]);
        if (self->badness + step < least)
          {
            least = self->badness + step;
            best_scale = scale;
            best_shift = shifts[i];
          }
        if (self->badness <= 0)
          break;
      }
  self->is_trial = FALSE;
  attempt (self, best_scale, best_shift);
}

static gboolean
is_too_small (const PawlSketchDraft *self)
{
  /* The outlines of a turned part run through its own dimension; other kinds have theirs outside. */
  double legible = self->rule->kind == PAWL_RULE_SENSE ? MAX (self->least, LEGIBLE_SHARE * self->text) : self->least;

  return self->telling && self->scale * self->telling_mm < legible;
}

/* Where both picture and lens are larger. A list takes the room beside the picture for itself. */
static void
lay_out_lens (PawlSketchDraft *self)
{
  double beside;

  self->has_lens = TRUE;
  pawl_sketch_draft_measure_lens_words (self);
  pawl_sketch_draft_put_lens_beside (self);
  beside = get_largest_scale (self) * self->lens_radius;
  pawl_sketch_draft_put_lens_below (self);
  if (self->row_width <= 0 && beside > get_largest_scale (self) * self->lens_radius)
    pawl_sketch_draft_put_lens_beside (self);
}

/* First without the lens; with it when the difference would be too small, whose drawing is then smaller still. */
static void
lay_out (PawlSketchDraft *self)
{
  PawlBox area;

  pawl_sketch_draft_measure_rows (self);
  find_best_attempt (self);
  if (!is_too_small (self))
    return;
  lay_out_lens (self);
  area = get_area (self);
  /* A sketch so small has no room for both; and a difference so small is none to look at. */
  if (MIN (area.width, area.height) < LEAST_PICTURE * self->text || get_exaggeration (self, get_largest_scale (self)) > MOST_EXAGGERATION)
    self->has_lens = FALSE;
  find_best_attempt (self);
}

/* ---- around the panes ---- */

static void
get_extent (const PawlSketchPane *pane, PawlBox *extent, gboolean is_first)
{
  double x0 = INFINITY, y0 = INFINITY, x1 = -INFINITY, y1 = -INFINITY;

  for (guint i = 0; i < pane->items->len; i++)
    {
      const PawlSketchItem *item = g_ptr_array_index (pane->items, i);

      for (guint j = 0; j < item->n_points && !item->is_in_lens; j++)
        {
          x0 = MIN (x0, item->points[j].x);
          y0 = MIN (y0, item->points[j].y);
          x1 = MAX (x1, item->points[j].x + item->box.width);
          y1 = MAX (y1, item->points[j].y + item->box.height);
        }
    }
  x0 -= pane->room.x;
  y0 -= pane->room.y;
  x1 -= pane->room.x;
  y1 -= pane->room.y;
  if (!is_first)
    {
      x0 = MIN (x0, extent->x);
      y0 = MIN (y0, extent->y);
      x1 = MAX (x1, extent->x + extent->width);
      y1 = MAX (y1, extent->y + extent->height);
    }
  *extent = (PawlBox) { x0, y0, x1 - x0, y1 - y0 };
}

/* Picture and words together in the middle, both panes alike. */
static void
centre (PawlSketchDraft *self)
{
  PawlBox extent = { 0 }, room = self->rooms[0];

  get_extent (self->panes[0], &extent, TRUE);
  get_extent (self->panes[1], &extent, FALSE);
  for (int i = 0; i < 2; i++)
    pawl_sketch_pane_move (self->panes[i], (room.width - extent.width) / 2 - extent.x, (room.height - extent.height) / 2 - extent.y);
}

static void
add_title (PawlSketchPlan *plan, const PawlSketchDraft *self, int which)
{
  gboolean is_either = self->rule->kind == PAWL_RULE_EITHER, is_right = which == 0 || is_either;
  const char *word = is_either ? self->options.either_word : is_right ? self->options.right_word : self->options.wrong_word;
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, word, 1.1 * self->text, TRUE);
  double text = self->text, x = self->rooms[which].x + 0.6 * text, y = self->rooms[which].y - TITLE * text + 0.4 * text, height;
  PawlPoint corners[] = { { x, y }, { x + 1.15 * text, y + 1.15 * text } };

  pawl_sketch_wrap_text (layout, self->rooms[which].width - 2.6 * text, 1);
  pawl_sketch_get_text_size (layout, NULL, &height);
  pawl_sketch_pane_add_line (plan->sheet, is_right ? PAWL_LOOK_TICK : PAWL_LOOK_CROSS, corners, 2, FALSE);
  pawl_sketch_pane_add_text (plan->sheet, layout, (PawlPoint) { x + 1.6 * text, y + 0.575 * text - height / 2 }, is_right ? PAWL_TONE_GOOD : PAWL_TONE_BAD);
}

static void
add_divider (PawlSketchPlan *plan, const PawlSketchDraft *self, gboolean is_stacked)
{
  const PawlBox *one = &self->rooms[0], *two = &self->rooms[1];
  double inset = 0.6 * self->text;
  PawlPoint line[] = {
    { is_stacked ? one->x + inset : (one->x + one->width + two->x) / 2, is_stacked ? one->y + one->height : one->y - TITLE * self->text + inset },
    { is_stacked ? one->x + one->width - inset : (one->x + one->width + two->x) / 2, is_stacked ? one->y + one->height : one->y + one->height },
  };

  pawl_sketch_pane_add_line (plan->sheet, PAWL_LOOK_DIVIDER, line, 2, FALSE);
}

/* (transfer full) (nullable): what stands under both panes. */
static char *
dup_foot (const PawlSketchDraft *self)
{
  const char *name = self->rule->dimension_name;
  g_autofree char *size = pawl_sketch_format_size (self->difference.size_mm, &self->options);

  if (self->rule->kind == PAWL_RULE_EITHER)
    return g_strdup (self->rule->symmetry);
  if (self->rule->kind == PAWL_RULE_MATE || (self->rule->kind == PAWL_RULE_WHICH && self->difference.size_mm < 1e-6))
    return g_strdup (self->options.mark_word);
  if (self->rule->kind == PAWL_RULE_WHICH && name && *name)
    return g_strdup_printf ("%s: %s", name, size);
  if (self->rule->kind == PAWL_RULE_ORDER && !self->telling)
    return g_strdup (self->options.closed_word);
  return self->telling ? NULL : g_steal_pointer (&size);
}

static PangoLayout *
new_foot (const PawlSketchDraft *self, double width)
{
  g_autofree char *words = dup_foot (self);
  PangoLayout *layout;

  if (!words)
    return NULL;
  layout = pawl_sketch_new_text (self->cr, words, self->text, FALSE);
  pawl_sketch_wrap_text (layout, width - self->text, 3);
  pango_layout_set_alignment (layout, PANGO_ALIGN_CENTER);
  return layout;
}

static void
set_rooms (PawlSketchDraft *self, double width, double height, gboolean is_stacked)
{
  double text = self->text, pane_width = is_stacked ? width : width / 2, pane_height = is_stacked ? height / 2 : height, edge = 0.3 * text;

  for (int i = 0; i < 2; i++)
    self->rooms[i] = (PawlBox) { edge + (i && !is_stacked ? pane_width : 0), TITLE * text + (i && is_stacked ? pane_height : 0),
                                 MAX (pane_width - 2 * edge, text), MAX (pane_height - TITLE * text - edge, text) };
}

/* Side by side; above each other on a tall surface, and where a long thin part gains by it. */
static gboolean
lay_out_panes (PawlSketchDraft *self, double width, double height)
{
  PawlSketchDraft other = *self;
  gboolean is_stacked = height > TALL * width;

  set_rooms (self, width, height, is_stacked);
  lay_out (self);
  if (is_stacked || self->mm.width < LONG * self->mm.height)
    return is_stacked;
  set_rooms (&other, width, height, TRUE);
  lay_out (&other);
  if (other.scale > STACKED_GAIN * self->scale && other.badness <= self->badness + PAWL_SKETCH_BAD_FAR && other.has_lens <= self->has_lens)
    {
      clear_attempt (self);
      *self = other;
      return TRUE;
    }
  clear_attempt (&other);
  return FALSE;
}

static void
plan_panes (PawlSketchPlan *plan, PawlSketchDraft *self)
{
  gboolean is_stacked;
  g_autoptr(PangoLayout) foot = new_foot (self, plan->width);
  double foot_width = 0, foot_height = 0;

  if (foot)
    {
      pawl_sketch_get_text_size (foot, &foot_width, &foot_height);
      pawl_sketch_pane_add_text (plan->sheet, foot, (PawlPoint) { (plan->width - foot_width) / 2, plan->height - foot_height - 0.3 * self->text }, PAWL_TONE_INK);
    }
  is_stacked = lay_out_panes (self, plan->width, plan->height - (foot ? foot_height + 0.5 * self->text : 0));
  centre (self);
  add_divider (plan, self, is_stacked);
  for (int i = 0; i < 2; i++)
    {
      add_title (plan, self, i);
      plan->panes[i] = g_steal_pointer (&self->panes[i]);
    }
  plan->exaggeration = self->has_lens ? self->exaggeration : 1;
  plan->n_left_out = self->n_left_out;
}

/* A pane of its own for each, as they are shown apart; they are planned together, so that scale and words are alike. */
static void
plan_question (PawlSketchPlan *plan, PawlSketchDraft *self)
{
  double edge = 0.3 * self->text;

  for (int i = 0; i < 2; i++)
    self->rooms[i] = (PawlBox) { edge, edge, MAX (plan->width - 2 * edge, self->text), MAX (plan->height - 2 * edge, self->text) };
  lay_out (self);
  /* A picture without the words at its arrow asks nothing. */
  if (self->n_left_out > 0)
    {
      self->is_thorough = TRUE;
      lay_out (self);
    }
  centre (self);
  for (int i = 0; i < 2; i++)
    plan->panes[i] = g_steal_pointer (&self->panes[i]);
  plan->exaggeration = self->has_lens ? self->exaggeration : 1;
  plan->n_left_out = self->n_left_out;
}

static void
plan_missing (PawlSketchPlan *plan, const PawlSketchDraft *self, const char *missing)
{
  g_autofree char *words = g_strdup_printf ("%s %s.", self->options.lacks_word, missing);
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, words, self->text, FALSE);

  pawl_sketch_wrap_text (layout, plan->width - self->text, MAX (1, (int) (plan->height / (1.5 * self->text)) - 1));
  pawl_sketch_pane_add_text (plan->sheet, layout, (PawlPoint) { 0.5 * self->text, 0.5 * self->text }, PAWL_TONE_INK);
}

static PawlSketchPlan *
begin (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height, PawlSketchDraft *draft)
{
  PawlSketchPlan *plan = g_new0 (PawlSketchPlan, 1);

  *draft = (PawlSketchDraft) { .rule = rule, .options = pawl_sketch_complete_options (options), .cr = cr };
  draft->text = draft->options.text_size;
  draft->least = pawl_difference_get_least_mm (draft->options.distance_mm) * draft->options.units_per_mm;
  *plan = (PawlSketchPlan) { .options = draft->options, .width = width, .height = height, .exaggeration = 1 };
  plan->sheet = pawl_sketch_pane_new ((PawlBox) { 0, 0, width, height }, draft->text);
  return plan;
}

PawlSketchPlan *
pawl_sketch_plan_new (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height)
{
  PawlSketchDraft draft;
  PawlSketchPlan *plan = begin (rule, options, cr, width, height, &draft);
  g_autofree char *missing = pawl_rule_find_missing (rule);

  if (missing)
    {
      plan_missing (plan, &draft, missing);
      return plan;
    }
  draft.difference = pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM);
  for (int i = 0; i < 2; i++)
    draft.poses[i] = pawl_rule_draw_pose (rule, i == 1);
  draft.mm = pawl_sketch_get_room_of (draft.poses);
  find_telling (&draft);
  plan_panes (plan, &draft);
  for (int i = 0; i < 2; i++)
    g_ptr_array_unref (draft.poses[i]);
  return plan;
}

PawlSketchPlan *
pawl_sketch_plan_new_question (const PawlRule *rule, const PawlQuestion *question, const PawlSketchOptions *options, cairo_t *cr, double width, double height)
{
  PawlSketchDraft draft;
  PawlSketchPlan *plan = begin (rule, options, cr, width, height, &draft);
  g_auto(PawlQuestionPoses) poses = { 0 };

  pawl_question_draw (question, rule, &poses);
  draft.is_question = TRUE;
  for (int i = 0; i < 2; i++)
    {
      draft.poses[i] = poses.poses[i];
      draft.tellings[i] = poses.tellings[i];
    }
  draft.mm = pawl_sketch_get_room_of (draft.poses);
  draft.telling = draft.tellings[1];
  if (draft.telling)
    draft.telling_mm = hypot (draft.telling->points[1].x - draft.telling->points[0].x, draft.telling->points[1].y - draft.telling->points[0].y);
  plan_question (plan, &draft);
  return plan;
}

void
pawl_sketch_plan_free (PawlSketchPlan *self)
{
  if (!self)
    return;
  for (int i = 0; i < 2; i++)
    pawl_sketch_pane_free (self->panes[i]);
  pawl_sketch_pane_free (self->sheet);
  g_free (self);
}
