/* Poses of the kind which: a list of places, in each the look-alike that belongs there; in the wrong pose the two that are nearest in size
 * have changed places. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* So many rows at most; of more, only the two that are mixed up. */
#define MOST_ROWS 5

typedef struct {
  const PawlCandidate *place; /* whose place it is */
  const PawlCandidate *is;    /* what lies there */
  gboolean             is_mixed_up;
} Row;

static const PawlCandidate *
get_candidate (const PawlRule *rule, guint n)
{
  return g_ptr_array_index (rule->candidates, n);
}

/* (element-type Row) */
static GArray *
list_rows (const PawlRule *rule, guint a, guint b, gboolean is_wrong)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (Row));
  gboolean is_all = rule->candidates->len <= MOST_ROWS;

  for (guint i = 0; i < rule->candidates->len; i++)
    {
      gboolean is_mixed_up = i == a || i == b;
      Row row = { get_candidate (rule, i), get_candidate (rule, !is_wrong || !is_mixed_up ? i : i == a ? b : a), is_mixed_up };

      if (is_all || is_mixed_up)
        g_array_append_val (rows, row);
    }
  return rows;
}

/* Under the last row that is wrong there is most room for the dimension; -1 when none is. */
static int
find_last_mixed_up (GArray *rows)
{
  for (int i = (int) rows->len - 1; i >= 0; i--)
    if (g_array_index (rows, Row, i).is_mixed_up)
      return i;
  return -1;
}

/* All strokes from the @first on are of row @n. */
static void
number_row (GPtrArray *pose, guint first, guint n)
{
  for (guint i = first; i < pose->len; i++)
    ((PawlStroke *) g_ptr_array_index (pose, i))->row = n;
}

/* What a row of the picture says: the place, and what lies in it. */
static void
label_row (GPtrArray *pose, const Row *row, double x, double y, gboolean is_wrong)
{
  const char *place = row->place->place ? row->place->place : "", *name = row->is->name ? row->is->name : "";
  g_autofree char *label = g_strdup_printf ("%s%s%s", place, *place && *name ? "\n" : "", name);
  PawlStroke *stroke = pawl_pose_begin (pose, PAWL_STROKE_ROW, label);

  pawl_stroke_line_to (stroke, x, y);
  stroke->says = row->is->dimension > 0 ? PAWL_SAYS_LENGTH : PAWL_SAYS_NOTHING;
  stroke->value = row->is->dimension;
  stroke->verdict = is_wrong ? (row->is == row->place ? 1 : -1) : 0;
}

static void
draw_moved_shape (GPtrArray *pose, const PawlShape *shape, double dx, double dy)
{
  g_autoptr(GPtrArray) part = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_stroke_free);

  pawl_pose_shape (part, shape, PAWL_STROKE_OUTLINE, pawl_shape_needs_section (shape));
  while (part->len)
    {
      PawlStroke *stroke = g_ptr_array_steal_index (part, 0);

      for (guint i = 0; i < stroke->n_points; i++)
        {
          stroke->points[i].x += dx;
          stroke->points[i].y += dy;
        }
      g_clear_pointer (&stroke->label, g_free); /* the row has its own */
      g_ptr_array_add (pose, stroke);
    }
}

/* How far a shape reaches from its axis, beyond x. */
static double
get_reach (const PawlShape *shape, double x)
{
  double reach = 0;

  for (guint i = 0; i < shape->n_points; i++)
    if (shape->points[i].x > x + 1e-6)
      reach = MAX (reach, fabs (shape->points[i].y));
  return reach;
}

/* ---- lengths beyond the seat, as of screws under their heads: places are pockets of that depth ---- */

/* 1 when the length lies along +x of the seat, -1 when the shape is written the other way round, 0 when it is no such length. */
static int
get_length_sense (const PawlCandidate *candidate)
{
  PawlBounds bounds;
  double slack = 0.02 * candidate->dimension;

  if (!candidate->shape || candidate->dimension <= 0)
    return 0;
  bounds = pawl_shape_get_bounds (candidate->shape);
  if (fabs (bounds.x1 - candidate->shape->seat - candidate->dimension) < slack)
    return 1;
  return fabs (candidate->shape->seat - bounds.x0 - candidate->dimension) < slack ? -1 : 0;
}

/* (transfer full): its seat at 0, its length along +x. */
static PawlShape *
dup_along_x (const PawlCandidate *candidate)
{
  PawlShape *shape = pawl_shape_dup (candidate->shape);
  int sense = get_length_sense (candidate);

  for (guint i = 0; i < shape->n_points; i++)
    shape->points[i].x = sense * (shape->points[i].x - candidate->shape->seat);
  for (guint i = 0; i < shape->features->len; i++)
    {
      PawlFeature *feature = &g_array_index (shape->features, PawlFeature, i);

      feature->x = sense * (feature->x - candidate->shape->seat);
    }
  shape->seat = 0;
  return shape;
}

/* A pocket as deep as the right candidate is long, open on the left. */
static void
draw_pocket (GPtrArray *pose, double depth, double radius, double y, double wall, double to)
{
  PawlStroke *pocket = pawl_pose_begin (pose, PAWL_STROKE_NEIGHBOUR, NULL);

  pawl_stroke_line_to (pocket, 0, y - radius - wall);
  pawl_stroke_line_to (pocket, to, y - radius - wall);
  pawl_stroke_line_to (pocket, to, y + radius + wall);
  pawl_stroke_line_to (pocket, 0, y + radius + wall);
  pawl_stroke_line_to (pocket, 0, y + radius);
  pawl_stroke_line_to (pocket, depth, y + radius);
  pawl_stroke_line_to (pocket, depth, y - radius);
  pawl_stroke_line_to (pocket, 0, y - radius);
  pocket->is_closed = TRUE;
}

static void
draw_in_pockets (GPtrArray *pose, GArray *rows, gboolean is_wrong)
{
  double longest = 0, radius = 0, left = 0, wall, pitch;

  for (guint i = 0; i < rows->len; i++)
    {
      const PawlCandidate *is = g_array_index (rows, Row, i).is;

      g_autoptr(PawlShape) shape = dup_along_x (is);

      left = MIN (left, pawl_shape_get_bounds (shape).x0);

      longest = MAX (longest, is->dimension);
      radius = MAX (radius, get_reach (shape, 0));
    }
  wall = MAX (1.1 * radius, 0.07 * longest);
  pitch = 2 * radius + 2 * wall + 0.06 * longest;
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = &g_array_index (rows, Row, i);
      /* Too long for its place: it stands on the bottom and proud of the face. */
      double depth = row->place->dimension, length = row->is->dimension, proud = MIN (0, depth - length), y = i * pitch;
      g_autoptr(PawlShape) shape = dup_along_x (row->is);
      guint first = pose->len;

      draw_pocket (pose, depth, radius, y, wall, longest + wall);
      draw_moved_shape (pose, shape, proud, y);
      label_row (pose, row, left, y - radius - wall, is_wrong);
      if (is_wrong && (int) i == find_last_mixed_up (rows) && length != depth)
        pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, proud < 0 ? proud : length, y + radius, proud < 0 ? 0 : depth, y + radius, NULL);
      number_row (pose, first, i);
    }
}

/* ---- shapes that differ in something else: the parts as they are, each by its place ---- */

static void
draw_in_places (GPtrArray *pose, GArray *rows, gboolean is_wrong)
{
  double reach = 0, left = INFINITY;

  for (guint i = 0; i < rows->len; i++)
    {
      reach = MAX (reach, get_reach (g_array_index (rows, Row, i).is->shape, -INFINITY));
      left = MIN (left, pawl_shape_get_bounds (g_array_index (rows, Row, i).is->shape).x0);
    }
  for (guint i = 0; i < rows->len; i++)
    {
      double y = i * 2.2 * reach;
      guint first = pose->len;

      draw_moved_shape (pose, g_array_index (rows, Row, i).is->shape, 0, y);
      label_row (pose, &g_array_index (rows, Row, i), left, y - reach, is_wrong);
      number_row (pose, first, i);
    }
}

/* ---- no shapes: a gap as wide as the place needs, and what lies in it. It serves for lengths, diameters and thicknesses alike ---- */

static void
draw_in_gaps (GPtrArray *pose, GArray *rows, gboolean is_wrong)
{
  double longest = 0, half, wall;

  for (guint i = 0; i < rows->len; i++)
    longest = MAX (longest, g_array_index (rows, Row, i).is->dimension);
  half = MIN (0.16, 0.4 / rows->len) * longest;
  wall = 0.14 * longest;
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = &g_array_index (rows, Row, i);
      double y = i * 2.8 * half, place = row->place->dimension, is = row->is->dimension;
      guint first = pose->len;

      pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, -wall, y - 1.3 * half, 0, y + 1.3 * half, FALSE, NULL);
      pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, place, y - 1.3 * half, place + wall, y + 1.3 * half, FALSE, NULL);
      pawl_pose_box (pose, PAWL_STROKE_OUTLINE, 0, y - half, is, y + half, TRUE, NULL);
      /* What does not go in covers the edge that stops it: shown once more over it. */
      if (is > place)
        pawl_pose_line (pose, PAWL_STROKE_HIDDEN, place, y - half, place, y + half, NULL);
      label_row (pose, row, -wall, y - 1.3 * half, is_wrong);
      if (is_wrong && (int) i == find_last_mixed_up (rows) && is != place)
        pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, place, y + half, is, y + half, NULL);
      number_row (pose, first, i);
    }
}

void
pawl_pose_which (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(GArray) rows = NULL;
  gboolean is_from_seat = TRUE, has_shapes = TRUE;
  guint a, b;

  if (!pawl_mistake_find_pair (rule, &a, &b))
    return;
  rows = list_rows (rule, a, b, is_wrong);
  for (guint i = 0; i < rows->len; i++)
    {
      is_from_seat &= get_length_sense (g_array_index (rows, Row, i).is) != 0;
      has_shapes &= g_array_index (rows, Row, i).is->shape != NULL;
    }
  if (is_from_seat)
    draw_in_pockets (pose, rows, is_wrong);
  else if (has_shapes)
    draw_in_places (pose, rows, is_wrong);
  else
    draw_in_gaps (pose, rows, is_wrong);
}
