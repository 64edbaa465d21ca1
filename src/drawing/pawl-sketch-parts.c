/* What a pane of the sketch is made of: the picture, the lens, the list beside it, dimensions and labels. */
#include <math.h>
#include <stdlib.h>

#include "drawing/pawl-sketch-plan-private.h"

/* Shares of the text's size. */
#define TAIL_BAR 0.45    /* half the bar at the tail of an arrow */
#define SPOT 0.6         /* least radius of the circle round the spot */
#define LARGEST_SPOT 3.0 /* a difference that is drawn larger is not circled */
#define SIGN 0.85
#define LONGEST_LEADER 6.0
#define ROW_GAP 1.3      /* from the picture to the list */
/* Widest words beside and under the picture, as shares of the pane. */
#define LABEL_SHARE 0.6
#define ARROW_SHARE 0.92

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

/* Where a point of a stroke lies on the surface. */
static PawlPoint
place (const PawlSketchDraft *self, int which, const PawlStroke *stroke, PawlPoint mm)
{
  PawlPoint origin = get_origin (self, which, stroke);

  return (PawlPoint) { origin.x + self->scale * mm.x, origin.y + self->scale * mm.y };
}

/* ---- the picture ---- */

/* A bar across the tail: it tells a straight arrow's tail from its tip, and where a curved one begins. */
static void
add_arrow (PawlSketchDraft *self, int which, const PawlStroke *stroke)
{
  PawlSketchPane *pane = self->panes[which];
  guint n = stroke->n_points;
  PawlPoint tail = place (self, which, stroke, stroke->points[0]), next = place (self, which, stroke, stroke->points[1]);
  PawlPoint tip = place (self, which, stroke, stroke->points[n - 1]), before = place (self, which, stroke, stroke->points[n - 2]);
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

  pawl_sketch_pane_add_head (self->panes[which], PAWL_LOOK_HEAD, place (self, which, stroke, stroke->points[n - 2]), place (self, which, stroke, stroke->points[n - 1]));
  if (stroke->kind == PAWL_STROKE_SWAP)
    pawl_sketch_pane_add_head (self->panes[which], PAWL_LOOK_HEAD, place (self, which, stroke, stroke->points[1]), place (self, which, stroke, stroke->points[0]));
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
  PawlPoint p = place (self, which, self->telling, self->telling->points[0]), q = place (self, which, self->telling, self->telling->points[1]);
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

/* ---- the lens ---- */

/* On the side of the telling line where the part is not. */
static int
find_clear_side (const PawlSketchDraft *self)
{
  PawlPoint p = self->telling->points[0], q = self->telling->points[1];
  double mx = self->mm.x + self->mm.width / 2 - (p.x + q.x) / 2, my = self->mm.y + self->mm.height / 2 - (p.y + q.y) / 2;

  return -(q.y - p.y) * mx + (q.x - p.x) * my > 0 ? -1 : 1;
}

static void
add_lens_words (PawlSketchDraft *self, int which)
{
  g_autofree char *size = pawl_sketch_format_difference (self->telling, self->difference.size_mm, &self->options);
  g_autofree char *words = g_strdup_printf ("%s ×%.0f", self->options.exaggerated_word, self->exaggeration);
  g_autofree char *markup = which ? g_markup_printf_escaped ("%s\n<b>%s</b>", words, size) : g_markup_escape_text (words, -1);
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, "", self->text, FALSE);
  PawlBox room = self->rooms[which];
  double width;

  pango_layout_set_markup (layout, markup, -1);
  pawl_sketch_wrap_text (layout, self->lens_words_width, 3);
  pango_layout_set_alignment (layout, self->has_lens_words_below ? PANGO_ALIGN_CENTER : PANGO_ALIGN_LEFT);
  pawl_sketch_get_text_size (layout, &width, NULL);
  pawl_sketch_pane_add_text (self->panes[which], layout,
                             (PawlPoint) { room.x + self->lens_words.x - (self->has_lens_words_below ? width / 2 : 0), room.y + self->lens_words.y }, PAWL_TONE_INK);
}

static double
get_overshoot (PawlBox room, PawlPoint at, double radius)
{
  double beside = MAX (room.x - at.x, at.x - room.x - room.width), above = MAX (room.y - at.y, at.y - room.y - room.height);

  return MAX (0, MAX (beside, above) + radius);
}

/* The spot of the difference once more, larger, in both panes; the dimension in the wrong one. */
void
pawl_sketch_draft_add_lens (PawlSketchDraft *self, int which)
{
  PawlSketchPane *pane = self->panes[which];
  PawlPoint spot = { (self->telling->points[0].x + self->telling->points[1].x) / 2, (self->telling->points[0].y + self->telling->points[1].y) / 2 };
  PawlPoint at = place (self, which, self->telling, spot), middle = { pane->room.x + self->lens.x, pane->room.y + self->lens.y }, origin;
  double larger = self->scale * self->exaggeration, small = MAX (self->lens_radius / self->exaggeration, SPOT * self->text);
  double away = MAX (hypot (middle.x - at.x, middle.y - at.y), 1e-9), dx = (middle.x - at.x) / away, dy = (middle.y - at.y) / away;
  PawlPoint link[] = { { at.x + small * dx, at.y + small * dy }, { middle.x - self->lens_radius * dx, middle.y - self->lens_radius * dy } };

  self->badness += PAWL_SKETCH_BAD_SPOT * (get_overshoot (pane->room, at, small) + MAX (0, small + self->lens_radius - away)) / self->text;
  pane->lens = middle;
  pane->lens_radius = self->lens_radius;
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_THIN, at, small);
  pawl_sketch_pane_add_line (pane, PAWL_LOOK_THIN, link, 2, FALSE);
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_LENS, middle, self->lens_radius);
  origin = (PawlPoint) { middle.x - larger * spot.x, middle.y - larger * spot.y };
  for (guint i = 0; i < self->poses[which]->len; i++)
    pawl_sketch_pane_add_stroke (pane, g_ptr_array_index (self->poses[which], i), larger, origin, TRUE);
  if (which == 1)
    {
      PawlPoint p = self->telling->points[0], q = self->telling->points[1];

      pawl_sketch_pane_add_lens_dimension (pane, (PawlPoint) { origin.x + larger * p.x, origin.y + larger * p.y },
                                           (PawlPoint) { origin.x + larger * q.x, origin.y + larger * q.y }, find_clear_side (self));
    }
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_THIN, middle, self->lens_radius);
  add_lens_words (self, which);
}

/* ---- the list beside the picture ---- */

static PangoLayout *
new_row_with_strong_size (const PawlSketchDraft *self, const char *label, const char *size)
{
  PangoLayout *layout = pawl_sketch_new_text (self->cr, "", self->text, FALSE);
  g_autofree char *markup = self->n_rows <= PAWL_SKETCH_FEW_ROWS ? g_markup_printf_escaped ("%s\n<b>%s</b>", label, size)
                                                                  : g_markup_printf_escaped ("<b>%s</b>  %s", size, label);

  pango_layout_set_markup (layout, markup, -1);
  return layout;
}

PangoLayout *
pawl_sketch_draft_new_row (const PawlSketchDraft *self, const PawlStroke *stroke)
{
  PawlStroke bare = *stroke;
  g_autofree char *size = NULL, *words = NULL;

  bare.label = NULL;
  size = pawl_sketch_format_stroke (&bare, "", &self->options);
  /* A stack of few has room for the size on a line of its own; of many it comes first, as what is last may be cut off. */
  if (self->is_list)
    {
      g_auto(GStrv) lines = g_strsplit (stroke->label, "\n", 2);
      g_autofree char *label = g_strjoinv (self->has_tall_rows ? "\n" : ": ", lines);

      words = g_strdup_printf ("%s%s%s", label, size ? "  " : "", size ? size : "");
    }
  else if (self->n_rows <= PAWL_SKETCH_FEW_ROWS)
    words = g_strdup_printf ("%s\n%s", stroke->label, size ? size : "");
  else
    words = g_strdup_printf ("%s  %s", size, stroke->label);
  /* A layer that makes the stack higher or lower is what tells: its size is set as that of a dimension is. */
  if (self->telling && !self->is_list && stroke->verdict < 0 && size)
    return new_row_with_strong_size (self, stroke->label, size);
  return pawl_sketch_new_text (self->cr, words ? words : "", self->text, FALSE);
}

typedef struct {
  PangoLayout      *layout;
  const PawlStroke *stroke;
  double            wanted, middle, height;
} Row;

static void
clear_row (gpointer data)
{
  g_clear_object (&((Row *) data)->layout);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  double p = ((const Row *) a)->wanted, q = ((const Row *) b)->wanted;

  return (p > q) - (p < q);
}

/* Each as near to where it wants to be as its neighbours let it: pushed down, and where that goes too far, up again. FALSE: too many. */
static gboolean
spread_rows (GArray *rows, double top, double bottom, double gap)
{
  double edge = top;

  for (guint i = 0; i < rows->len; i++)
    {
      Row *row = &g_array_index (rows, Row, i);

      row->middle = MAX (row->wanted, edge + row->height / 2);
      edge = row->middle + row->height / 2 + gap;
    }
  edge = bottom;
  for (guint i = rows->len; i > 0; i--)
    {
      Row *row = &g_array_index (rows, Row, i - 1);

      row->middle = MIN (row->middle, edge - row->height / 2);
      edge = row->middle - row->height / 2 - gap;
    }
  return edge >= top - gap - 0.5;
}

static GArray *
list_rows (const PawlSketchDraft *self, int which)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (Row));
  guint n = 0;

  g_array_set_clear_func (rows, clear_row);
  for (guint i = 0; i < self->poses[which]->len; i++)
    n += ((const PawlStroke *) g_ptr_array_index (self->poses[which], i))->kind == PAWL_STROKE_ROW;
  for (guint i = 0; i < self->poses[which]->len; i++)
    {
      Row row = { .stroke = g_ptr_array_index (self->poses[which], i) };

      if (row.stroke->kind != PAWL_STROKE_ROW)
        continue;
      row.layout = pawl_sketch_draft_new_row (self, row.stroke);
      pawl_sketch_wrap_text (row.layout, self->row_width, n <= PAWL_SKETCH_FEW_ROWS ? 3 : self->rule->kind == PAWL_RULE_WHICH ? 2 : 1);
      pawl_sketch_get_text_size (row.layout, NULL, &row.height);
      row.wanted = place (self, which, row.stroke, row.stroke->points[0]).y;
      g_array_append_val (rows, row);
    }
  g_array_sort (rows, compare_rows);
  return rows;
}

/* The one nearest the middle of the list that is not wrong; FALSE when there is none. */
static gboolean
drop_a_row (GArray *rows)
{
  int middle = rows->len / 2, nearest = -1;

  for (int i = 0; i < (int) rows->len; i++)
    if (g_array_index (rows, Row, i).stroke->verdict >= 0 && (nearest < 0 || abs (i - middle) < abs (nearest - middle)))
      nearest = i;
  if (nearest >= 0)
    g_array_remove_index (rows, nearest);
  return nearest >= 0;
}

/* The tick or cross and the words, with the middle of their height at @middle. */
static void
add_row_words (PawlSketchDraft *self, int which, const PawlStroke *stroke, PangoLayout *layout, PawlPoint middle)
{
  double size = SIGN * self->text, indent = which == 1 && self->has_signs ? 1.5 * size : 0, height;
  PawlPoint corners[] = { { middle.x, middle.y - size / 2 }, { middle.x + size, middle.y + size / 2 } };

  pawl_sketch_get_text_size (layout, NULL, &height);
  if (stroke->verdict != 0)
    pawl_sketch_pane_add_line (self->panes[which], stroke->verdict > 0 ? PAWL_LOOK_TICK : PAWL_LOOK_CROSS, corners, 2, FALSE);
  pawl_sketch_pane_add_text (self->panes[which], layout, (PawlPoint) { middle.x + indent, middle.y - height / 2 }, PAWL_TONE_INK);
}

static void
add_row (PawlSketchDraft *self, int which, const Row *row, double x)
{
  PawlSketchPane *pane = self->panes[which];
  PawlPoint anchor = place (self, which, row->stroke, row->stroke->points[0]);
  PawlPoint leader[] = { anchor, { anchor.x + 0.45 * (x - anchor.x), anchor.y }, { x - 0.45 * self->text, row->middle }, { x - 0.25 * self->text, row->middle } };

  pawl_sketch_pane_add_line (pane, PAWL_LOOK_THIN, leader, G_N_ELEMENTS (leader), FALSE);
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_HEAD, anchor, 0.13 * self->text);
  add_row_words (self, which, row->stroke, row->layout, (PawlPoint) { x, row->middle });
}

static void
add_column (PawlSketchDraft *self, int which)
{
  g_autoptr(GArray) rows = list_rows (self, which);
  PawlBox room = self->rooms[which];
  double x = room.x + self->body.x + self->body.width + ROW_GAP * self->text;
  double bottom = room.y + (self->has_lens ? self->lens.y - self->lens_radius - 0.5 * self->text : room.height);

  while (!spread_rows (rows, room.y, bottom, 0.15 * self->text) && drop_a_row (rows))
    {
      self->badness += PAWL_SKETCH_BAD_LEFT_OUT;
      self->n_left_out++;
    }
  for (guint i = 0; i < rows->len; i++)
    add_row (self, which, &g_array_index (rows, Row, i), x);
}

/* Above each row of a picture that is a list itself. */
static void
add_row_titles (PawlSketchDraft *self, int which)
{
  for (guint i = 0; i < self->poses[which]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[which], i);
      g_autoptr(PangoLayout) layout = NULL;
      PawlBox room = self->rooms[which];
      double height, indent = self->has_signs ? 1.5 * SIGN * self->text : 0;
      PawlPoint corner;

      if (stroke->kind != PAWL_STROKE_ROW)
        continue;
      layout = pawl_sketch_draft_new_row (self, stroke);
      pawl_sketch_wrap_text (layout, room.width - indent - 0.6 * self->text, 1);
      pawl_sketch_get_text_size (layout, NULL, &height);
      corner = place (self, which, stroke, stroke->points[0]);
      /* At the left of the list, however long the rows are. */
      corner.x = MIN (corner.x, room.x + room.width - indent - self->row_width - 0.3 * self->text);
      add_row_words (self, which, stroke, layout, (PawlPoint) { MAX (corner.x, room.x + 0.3 * self->text), corner.y - 0.15 * self->text - height / 2 });
    }
}

void
pawl_sketch_draft_add_rows (PawlSketchDraft *self, int which)
{
  if (self->is_list)
    add_row_titles (self, which);
  else
    add_column (self, which);
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
      p = place (self, which, stroke, stroke->points[0]);
      q = place (self, which, stroke, stroke->points[1]);
      if (stroke->n_points > 2)
        has_room = pawl_sketch_pane_add_arc_dimension (self->panes[which], place (self, which, stroke, stroke->points[2]), p, q, layout);
      else
        has_room = pawl_sketch_pane_add_dimension (self->panes[which], p, q, layout);
      if (has_room)
        continue;
      /* A stack has its sizes in the list as well. */
      self->badness += self->rule->kind == PAWL_RULE_ORDER ? PAWL_SKETCH_BAD_SIZE_IN_LIST : PAWL_SKETCH_BAD_NO_SIZE;
      self->n_left_out += self->rule->kind != PAWL_RULE_ORDER;
    }
}

/* ---- labels ---- */

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
try_to_place (const PawlSketchDraft *self, const Label *label, const PawlSketchSpot *spots, guint n_spots, Terms terms, double share, int most_lines)
{
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, label->words, self->text, FALSE);
  gboolean is_on_spot = label->stroke->kind == PAWL_STROKE_OPEN || label->stroke->kind == PAWL_STROKE_NAME;

  pawl_sketch_wrap_text (layout, share * self->rooms[0].width, most_lines);
  if (!terms.may_cut && pawl_sketch_is_cut (layout))
    return FALSE;
  if (is_on_spot && place_on_spot (spots, n_spots, layout))
    return TRUE;
  return pawl_sketch_place_words (spots, n_spots, layout, terms.leading, terms.longest);
}

/* On one line if it can be, else narrower. */
static gboolean
place_label (const PawlSketchDraft *self, const Label *label, const PawlSketchSpot *spots, guint n_spots, Terms terms)
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
    { self->panes[which], place (self, which, label->stroke, get_anchor (label->stroke)) },
    { self->panes[1], twin ? place (self, 1, twin->stroke, get_anchor (twin->stroke)) : (PawlPoint) { 0, 0 } },
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
