/* The list of a sketch: the layers of a stack beside it, led to; or the look-alikes, whose picture is a list itself, with words above each row. */
#include <math.h>
#include <stdlib.h>

#include "drawing/pawl-sketch-plan-private.h"

/* Widest list beside the picture, as a share of a pane, when it is of few rows or many. */
#define FEW_ROWS_SHARE 0.38
#define MANY_ROWS_SHARE 0.66
#define MANY_ROWS_AND_SIZE_SHARE 0.5 /* with a dimension on the other side */
/* Of the text's size. */
#define SIGN 0.85
#define ROW_GAP 1.3          /* from the picture to the list */
#define LEAST_ROW 3.2        /* of a row with its words */
#define ROW_HEIGHT 1.55      /* of words above a row */
#define TELLING_HEIGHT 2.4   /* of a dimension below one */
#define MOST_ROWS 16

/* ---- how much room it takes ---- */

static PangoLayout *
new_row_with_strong_size (const PawlSketchDraft *self, const char *label, const char *size)
{
  PangoLayout *layout = pawl_sketch_new_text (self->cr, "", self->text, FALSE);
  g_autofree char *markup = self->n_rows <= PAWL_SKETCH_FEW_ROWS ? g_markup_printf_escaped ("%s\n<b>%s</b>", label, size)
                                                                  : g_markup_printf_escaped ("<b>%s</b>  %s", size, label);

  pango_layout_set_markup (layout, markup, -1);
  return layout;
}

/* (transfer full): a line of the list. */
static PangoLayout *
new_row (const PawlSketchDraft *self, const PawlStroke *stroke)
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

static double
get_widest_row (const PawlSketchDraft *self)
{
  double widest = 0;

  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < self->poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (self->poses[i], j);
        g_autoptr(PangoLayout) layout = NULL;
        double width;

        if (stroke->kind != PAWL_STROKE_ROW)
          continue;
        layout = new_row (self, stroke);
        pawl_sketch_get_text_size (layout, &width, NULL);
        widest = MAX (widest, width + 1);
      }
  return widest;
}

static gboolean
is_row_wrong (const GPtrArray *pose, guint row)
{
  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);

      if (stroke->kind == PAWL_STROKE_ROW && stroke->row == row && stroke->verdict < 0)
        return TRUE;
    }
  return FALSE;
}

/* A list of more rows than there is room for keeps the two that are mixed up. */
static void
keep_wrong_rows (PawlSketchDraft *self)
{
  guint moved_to[MOST_ROWS], n_kept = 0;
  double first = 0, second = 0;

  g_return_if_fail (self->n_rows <= G_N_ELEMENTS (moved_to));
  for (guint i = 0; i < self->poses[0]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[0], i);

      if (stroke->kind == PAWL_STROKE_ROW && stroke->row <= 1)
        *(stroke->row ? &second : &first) = stroke->points[0].y;
    }
  for (guint row = 0; row < self->n_rows; row++)
    moved_to[row] = is_row_wrong (self->poses[1], row) ? n_kept++ : G_MAXUINT;
  for (int which = 0; which < 2; which++)
    for (guint i = self->poses[which]->len; i > 0; i--)
      {
        PawlStroke *stroke = g_ptr_array_index (self->poses[which], i - 1);
        guint to = moved_to[stroke->row];

        if (to == G_MAXUINT)
          {
            g_ptr_array_remove_index (self->poses[which], i - 1);
            continue;
          }
        for (guint j = 0; j < stroke->n_points; j++)
          stroke->points[j].y -= (stroke->row - to) * (second - first);
        stroke->row = to;
      }
  self->n_rows = n_kept;
}

static void
count_rows (PawlSketchDraft *self)
{
  self->n_rows = 0;
  for (guint i = 0; i < self->poses[1]->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (self->poses[1], i);

      self->n_rows += stroke->kind == PAWL_STROKE_ROW;
      self->has_signs |= stroke->verdict != 0 && !self->is_question;
    }
}

/* What the rows need: beside the picture of a stack, a share of the pane; in a list, a line above each. */
void
pawl_sketch_draft_measure_rows (PawlSketchDraft *self)
{
  double share, width;

  count_rows (self);
  width = self->rooms[0].width - (self->has_signs ? 2 : 0.7) * self->text; /* beside a sign, and within its margins */
  self->is_list = self->rule->kind == PAWL_RULE_WHICH;
  if (self->is_list && self->n_rows > 2 && self->rooms[0].height < self->n_rows * LEAST_ROW * self->text)
    keep_wrong_rows (self);
  self->mm = pawl_sketch_get_room_of (self->poses); /* another draft of the same poses may have dropped rows already */
  self->has_tall_rows = FALSE;
  self->has_tall_rows = self->is_list && self->rooms[0].height > self->n_rows * (LEAST_ROW + ROW_HEIGHT) * self->text && get_widest_row (self) > width;
  share = self->is_list ? 1 : self->n_rows <= PAWL_SKETCH_FEW_ROWS ? FEW_ROWS_SHARE : self->telling ? MANY_ROWS_AND_SIZE_SHARE : MANY_ROWS_SHARE;
  self->row_width = MIN (get_widest_row (self), share * self->rooms[0].width);
  self->row_gap = (self->has_tall_rows ? 2 : 1) * ROW_HEIGHT * self->text;
  self->telling_row = self->telling ? self->telling->row : G_MAXUINT;
  self->telling_gap = TELLING_HEIGHT * self->text;
}

/* ---- beside the picture ---- */

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
      row.layout = new_row (self, row.stroke);
      pawl_sketch_wrap_text (row.layout, self->row_width, n <= PAWL_SKETCH_FEW_ROWS ? 3 : self->rule->kind == PAWL_RULE_WHICH ? 2 : 1);
      pawl_sketch_get_text_size (row.layout, NULL, &row.height);
      row.wanted = pawl_sketch_draft_place (self, which, row.stroke, 0).y;
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
  if (stroke->verdict != 0 && self->has_signs)
    pawl_sketch_pane_add_line (self->panes[which], stroke->verdict > 0 ? PAWL_LOOK_TICK : PAWL_LOOK_CROSS, corners, 2, FALSE);
  pawl_sketch_pane_add_text (self->panes[which], layout, (PawlPoint) { middle.x + indent, middle.y - height / 2 }, PAWL_TONE_INK);
}

static void
add_row (PawlSketchDraft *self, int which, const Row *row, double x)
{
  PawlSketchPane *pane = self->panes[which];
  PawlPoint anchor = pawl_sketch_draft_place (self, which, row->stroke, 0);
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

  self->n_tries += rows->len / 4;
  while (!spread_rows (rows, room.y, bottom, 0.15 * self->text) && drop_a_row (rows))
    {
      self->badness += PAWL_SKETCH_BAD_LEFT_OUT;
      self->n_left_out++;
    }
  for (guint i = 0; i < rows->len; i++)
    add_row (self, which, &g_array_index (rows, Row, i), x);
}

/* ---- above each row ---- */

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
      layout = new_row (self, stroke);
      pawl_sketch_wrap_text (layout, room.width - indent - 0.6 * self->text, 1);
      pawl_sketch_get_text_size (layout, NULL, &height);
      corner = pawl_sketch_draft_place (self, which, stroke, 0);
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
