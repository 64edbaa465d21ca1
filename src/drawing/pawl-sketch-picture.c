/* The picture of a pane: the strokes of its pose with their arrows, and the dimensions. */
#include <math.h>

#include "drawing/pawl-sketch-plan-private.h"

/* Shares of the text's size. */
#define TAIL_BAR 0.45    /* half the bar at the tail of an arrow */
#define SPOT 0.6         /* of the circle round the spot beyond the difference */
#define LARGEST_SPOT 3.0 /* a difference that is drawn larger is not circled */

double
pawl_sketch_draft_get_offset (const PawlSketchDraft *self, guint row)
{
  if (!self->is_list)
    return 0;
  return (row + 1) * self->row_gap + (row > self->telling_row ? self->telling_gap : 0);
}

static PawlPoint
get_origin (const PawlSketchDraft *self, int which, const PawlStroke *stroke)
{
  return (PawlPoint) { self->origins[which].x, self->origins[which].y + pawl_sketch_draft_get_offset (self, stroke->row) };
}

PawlPoint
pawl_sketch_draft_place_mm (const PawlSketchDraft *self, int which, const PawlStroke *stroke, PawlPoint mm)
{
  PawlPoint origin = get_origin (self, which, stroke);

  return (PawlPoint) { origin.x + self->scale * mm.x, origin.y + self->scale * mm.y };
}

PawlPoint
pawl_sketch_draft_place (const PawlSketchDraft *self, int which, const PawlStroke *stroke, guint n)
{
  return pawl_sketch_draft_place_mm (self, which, stroke, stroke->points[n]);
}

/* ---- the picture ---- */

/* A bar across the tail: it tells a straight arrow's tail from its tip, and where a curved one begins. */
static void
add_arrow (PawlSketchDraft *self, int which, const PawlStroke *stroke)
{
  PawlSketchPane *pane = self->panes[which];
  guint n = stroke->n_points;
  PawlPoint tail = pawl_sketch_draft_place (self, which, stroke, 0), next = pawl_sketch_draft_place (self, which, stroke, 1);
  PawlPoint tip = pawl_sketch_draft_place (self, which, stroke, n - 1), before = pawl_sketch_draft_place (self, which, stroke, n - 2);
  double length = MAX (hypot (next.x - tail.x, next.y - tail.y), 1e-9), half = TAIL_BAR * self->text;
  PawlPoint normal = { -(next.y - tail.y) / length * half, (next.x - tail.x) / length * half };
  PawlStroke bar = { .kind = PAWL_STROKE_ARROW, .n_points = 2 };
  PawlPoint ends[] = { { tail.x - normal.x, tail.y - normal.y }, { tail.x + normal.x, tail.y + normal.y } };

  bar.points = ends;
  pawl_sketch_pane_add_stroke (pane, &bar, 1, (PawlPoint) { 0, 0 }, FALSE);
  pawl_sketch_pane_add_head (pane, PAWL_LOOK_STRONG_HEAD, before, tip);
}

static void
add_end_heads (PawlSketchDraft *self, int which, const PawlStroke *stroke)
{
  guint n = stroke->n_points;

  pawl_sketch_pane_add_head (self->panes[which], PAWL_LOOK_HEAD, pawl_sketch_draft_place (self, which, stroke, n - 2), pawl_sketch_draft_place (self, which, stroke, n - 1));
  if (stroke->kind == PAWL_STROKE_SWAP)
    pawl_sketch_pane_add_head (self->panes[which], PAWL_LOOK_HEAD, pawl_sketch_draft_place (self, which, stroke, 1), pawl_sketch_draft_place (self, which, stroke, 0));
}

/* An arrow's line ends inside its head, whose tip would else be blunt. */
static void
add_shortened (PawlSketchDraft *self, int which, const PawlStroke *stroke)
{
  PawlStroke shorter = *stroke;
  guint n = stroke->n_points;
  PawlPoint tip = stroke->points[n - 1], before = stroke->points[n - 2];
  double length = hypot (tip.x - before.x, tip.y - before.y) * self->scale, share = CLAMP (1 - 0.7 * self->text / MAX (length, 1e-9), 0.1, 1);

  shorter.points = g_memdup2 (stroke->points, n * sizeof (PawlPoint));
  shorter.points[n - 1] = (PawlPoint) { before.x + share * (tip.x - before.x), before.y + share * (tip.y - before.y) };
  pawl_sketch_pane_add_stroke (self->panes[which], &shorter, self->scale, get_origin (self, which, stroke), FALSE);
  g_free (shorter.points);
}

/* A small difference of one part is circled in both panes, so that the eye goes there in the right one as well. */
static void
add_spot (PawlSketchDraft *self, int which)
{
  g_autoptr(GPtrArray) spot = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_stroke_free);
  double drawn = self->scale * self->telling_mm, radius = 0.5 * drawn + SPOT * self->text;
  PawlPoint p = pawl_sketch_draft_place (self, which, self->tellings[which], 0), q = pawl_sketch_draft_place (self, which, self->tellings[which], 1);
  PawlStroke *circle;

  if (self->rule->kind != PAWL_RULE_SENSE || drawn > LARGEST_SPOT * self->text)
    return;
  circle = g_new0 (PawlStroke, 1);
  circle->kind = PAWL_STROKE_SPOT;
  circle->is_closed = TRUE;
  circle->n_points = 60;
  circle->points = g_new (PawlPoint, circle->n_points);
  for (guint i = 0; i < circle->n_points; i++)
    circle->points[i] = (PawlPoint) { (p.x + q.x) / 2 + radius * cos (i * G_PI / 30), (p.y + q.y) / 2 + radius * sin (i * G_PI / 30) };
  g_ptr_array_add (spot, circle);
  pawl_sketch_pane_add_stroke (self->panes[which], circle, 1, (PawlPoint) { 0, 0 }, FALSE);
}

void
pawl_sketch_draft_add_picture (PawlSketchDraft *self, int which)
{
  for (guint i = 0; i < self->poses[which]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[which], i);

      if (stroke->kind == PAWL_STROKE_ARROW && stroke->n_points > 1)
        {
          add_shortened (self, which, stroke);
          add_arrow (self, which, stroke);
          continue;
        }
      pawl_sketch_pane_add_stroke (self->panes[which], stroke, self->scale, get_origin (self, which, stroke), FALSE);
      if ((stroke->kind == PAWL_STROKE_TRAVEL || stroke->kind == PAWL_STROKE_SWAP) && stroke->n_points > 1)
        add_end_heads (self, which, stroke);
    }
  if (self->telling && !self->has_lens)
    add_spot (self, which);
}

/* ---- dimensions ---- */

void
pawl_sketch_draft_add_dimensions (PawlSketchDraft *self, int which)
{
  for (guint i = 0; i < self->poses[which]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[which], i);
      gboolean is_difference = stroke->kind == PAWL_STROKE_DIFFERENCE;
      g_autofree char *words = NULL;
      g_autoptr(PangoLayout) layout = NULL;
      PawlPoint p, q;
      gboolean has_room;

      if (stroke->kind != PAWL_STROKE_DIMENSION && (stroke != self->telling || self->has_lens))
        continue;
      words = is_difference ? pawl_sketch_format_difference (stroke, self->difference.size_mm, &self->options) : pawl_sketch_format_stroke (stroke, "  ", &self->options);
      layout = pawl_sketch_new_text (self->cr, words, self->text, is_difference);
      p = pawl_sketch_draft_place (self, which, stroke, 0);
      q = pawl_sketch_draft_place (self, which, stroke, 1);
      if (stroke->n_points > 2)
        has_room = pawl_sketch_pane_add_arc_dimension (self->panes[which], pawl_sketch_draft_place (self, which, stroke, 2), p, q, layout);
      else
        has_room = pawl_sketch_pane_add_dimension (self->panes[which], p, q, layout);
      if (has_room)
        continue;
      /* A stack has its sizes in the list as well. */
      self->badness += self->rule->kind == PAWL_RULE_ORDER ? PAWL_SKETCH_BAD_SIZE_IN_LIST : PAWL_SKETCH_BAD_NO_SIZE;
      self->n_left_out += self->rule->kind != PAWL_RULE_ORDER;
    }
}
