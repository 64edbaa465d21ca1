/* The words at a picture: led to, close to what they speak of, or on it; the same in both panes where they can be. */
#include <math.h>
#include <string.h>

#include "drawing/pawl-sketch-plan-private.h"

/* Longest leader that is not far, of the text's size. */
#define LONGEST_LEADER 6.0
/* Widest words beside and under the picture, as shares of the pane. */
#define LABEL_SHARE 0.6
#define ARROW_SHARE 0.92

typedef struct {
  const PawlStroke *stroke;
  char             *words;
  gboolean          is_done;
} Label;

static void
clear_label (gpointer data)
{
  g_free (((Label *) data)->words);
}

static GArray *
list_labels (const PawlSketchDraft *self, int which)
{
  GArray *labels = g_array_new (FALSE, FALSE, sizeof (Label));

  g_array_set_clear_func (labels, clear_label);
  for (guint i = 0; i < self->poses[which]->len; i++)
    {
      Label label = { .stroke = g_ptr_array_index (self->poses[which], i) };

      if (label.stroke->kind == PAWL_STROKE_DIFFERENCE || label.stroke->kind == PAWL_STROKE_DIMENSION || label.stroke->kind == PAWL_STROKE_ROW)
        continue;
      if ((label.words = pawl_sketch_format_stroke (label.stroke, "  ", &self->options)))
        g_array_append_val (labels, label);
    }
  return labels;
}

/* Where a leader points: into an area, which may be bent; but of a short line at its far end, so that it is not written over. */
static PawlPoint
get_anchor (const PawlStroke *stroke)
{
  guint n = stroke->n_points;
  PawlPoint p = stroke->points[n / 4], q = stroke->points[3 * n / 4];

  if (stroke->kind == PAWL_STROKE_BLOCKED) /* a dimension may begin at its middle */
    return (PawlPoint) { (p.x + q.x) / 4 + stroke->points[5 * n / 8].x / 2, (p.y + q.y) / 4 + stroke->points[5 * n / 8].y / 2 };
  if (stroke->kind == PAWL_STROKE_SPOT) /* at its upper right, not into it */
    return stroke->points[n / 8];
  if (stroke->is_closed)
    return (PawlPoint) { (p.x + q.x) / 2, (p.y + q.y) / 2 };
  /* The words of an upright arrow stand at its tail, where it comes from, of a level one at its middle. */
  if (stroke->kind == PAWL_STROKE_ARROW && n == 2 && fabs (stroke->points[1].y - stroke->points[0].y) > fabs (stroke->points[1].x - stroke->points[0].x))
    return stroke->points[0];
  if (stroke->kind == PAWL_STROKE_ARROW && n == 2)
    return (PawlPoint) { (stroke->points[0].x + stroke->points[1].x) / 2, (stroke->points[0].y + stroke->points[1].y) / 2 };
  if (stroke->kind == PAWL_STROKE_ARROW || stroke->kind == PAWL_STROKE_TRAVEL)
    return stroke->points[n / 2];
  return stroke->points[n - 1];
}

static gboolean
wants_leader (const PawlStroke *stroke)
{
  return stroke->kind != PAWL_STROKE_ARROW && stroke->kind != PAWL_STROKE_TRAVEL && stroke->kind != PAWL_STROKE_NAME;
}

/* Right over the point, where the words fit into the hole or onto the part. */
static gboolean
place_on_spot (const PawlSketchSpot *spots, guint n_spots, PangoLayout *layout)
{
  double width, height;

  pawl_sketch_get_text_size (layout, &width, &height);
  for (guint i = 0; i < n_spots; i++)
    if (!pawl_sketch_pane_is_free (spots[i].pane, (PawlBox) { spots[i].anchor.x - width / 2, spots[i].anchor.y - height / 2, width, height }))
      return FALSE;
  for (guint i = 0; i < n_spots; i++)
    pawl_sketch_pane_add_text (spots[i].pane, layout, (PawlPoint) { spots[i].anchor.x - width / 2, spots[i].anchor.y - height / 2 }, PAWL_TONE_INK);
  return TRUE;
}

typedef struct {
  PawlSketchLeading leading;
  double            longest; /* leader */
  gboolean          may_cut; /* words may be broken or cut off */
} Terms;

static gboolean
try_to_place (PawlSketchDraft *self, const Label *label, const PawlSketchSpot *spots, guint n_spots, Terms terms, double share, int most_lines)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, label->words, self->text, FALSE);
  gboolean is_on_spot = label->stroke->kind == PAWL_STROKE_OPEN || label->stroke->kind == PAWL_STROKE_NAME;

  self->n_tries += 1 + strlen (label->words) / 50;
  pawl_sketch_wrap_text (layout, share * self->rooms[0].width, most_lines);
  if (!terms.may_cut && pawl_sketch_is_cut (layout))
    return FALSE;
  if (is_on_spot && place_on_spot (spots, n_spots, layout))
    return TRUE;
  return pawl_sketch_place_words (spots, n_spots, layout, terms.leading, terms.longest);
}

/* On one line if it can be, else narrower. */
static gboolean
place_label (PawlSketchDraft *self, const Label *label, const PawlSketchSpot *spots, guint n_spots, Terms terms)
{
  gboolean is_arrow = label->stroke->kind == PAWL_STROKE_ARROW;

  return try_to_place (self, label, spots, n_spots, terms, is_arrow ? ARROW_SHARE : LABEL_SHARE, 2)
         || try_to_place (self, label, spots, n_spots, terms, LABEL_SHARE * 0.7, 3)
         || try_to_place (self, label, spots, n_spots, terms, LABEL_SHARE * 0.45, 4);
}

static Terms
get_terms (const Label *label)
{
  return (Terms) { wants_leader (label->stroke) ? PAWL_LEADING_ALWAYS : PAWL_LEADING_NEVER, LONGEST_LEADER, FALSE };
}

static void
place_alone (PawlSketchDraft *self, const Label *label, const PawlSketchSpot *spot)
{
  Terms any = { wants_leader (label->stroke) ? PAWL_LEADING_ALWAYS : PAWL_LEADING_IF_FAR, INFINITY, TRUE };

  if (place_label (self, label, spot, 1, get_terms (label)))
    return;
  if (self->is_trial)
    {
      self->badness += PAWL_SKETCH_BAD_FAR;
      return;
    }
  if (place_label (self, label, spot, 1, any))
    {
      self->badness += PAWL_SKETCH_BAD_FAR;
      return;
    }
  self->badness += PAWL_SKETCH_BAD_LEFT_OUT;
  self->n_left_out++;
}

static Label *
find_twin (GArray *labels, const Label *label)
{
  for (guint i = 0; i < labels->len; i++)
    {
      Label *other = &g_array_index (labels, Label, i);

      if (!other->is_done && other->stroke->kind == label->stroke->kind && g_str_equal (other->words, label->words))
        return other;
    }
  return NULL;
}

/* Words that both panes have stand at the same place in both, if they can. */
static void
add_label (PawlSketchDraft *self, Label *label, Label *twin, int which)
{
  PawlSketchSpot spots[] = {
    { self->panes[which], pawl_sketch_draft_place_mm (self, which, label->stroke, get_anchor (label->stroke)) },
    { self->panes[1], twin ? pawl_sketch_draft_place_mm (self, 1, twin->stroke, get_anchor (twin->stroke)) : (PawlPoint) { 0, 0 } },
  };

  label->is_done = TRUE;
  if (twin)
    twin->is_done = TRUE;
  if (twin && place_label (self, label, spots, 2, get_terms (label)))
    return;
  for (guint i = 0; i < (twin ? 2 : 1); i++)
    place_alone (self, label, &spots[i]);
}

static gboolean
is_hopeless (const PawlSketchDraft *self)
{
  return self->is_trial && self->badness >= self->most_bad;
}

void
pawl_sketch_draft_add_labels (PawlSketchDraft *self)
{
  g_autoptr(GArray) right = list_labels (self, 0);
  g_autoptr(GArray) wrong = list_labels (self, 1);

  /* First what stands close, then what can be led to. */
  for (int is_led = 0; is_led <= 1; is_led++)
    {
      for (guint i = 0; i < right->len; i++)
        {
          Label *label = &g_array_index (right, Label, i);

          if (wants_leader (label->stroke) == is_led && !is_hopeless (self))
            add_label (self, label, find_twin (wrong, label), 0);
        }
      for (guint i = 0; i < wrong->len; i++)
        {
          Label *label = &g_array_index (wrong, Label, i);

          if (!label->is_done && wants_leader (label->stroke) == is_led && !is_hopeless (self))
            add_label (self, label, NULL, 1);
        }
    }
}
