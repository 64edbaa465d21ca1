/* Poses of several pieces: gaps spread, look-alikes, stacks, matched pieces; and the part that goes either way. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* ---- spread: rings seen from above, one inside the other, each with its gap ---- */

static void
draw_open_ring (GPtrArray *pose, double inner, double outer, double gap_deg, double half_width_deg, const char *label)
{
  PawlStroke *ring = pawl_pose_begin (pose, PAWL_STROKE_OUTLINE, label);

  pawl_stroke_arc (ring, 0, 0, outer, gap_deg + half_width_deg, gap_deg + 360 - half_width_deg);
  pawl_stroke_arc (ring, 0, 0, inner, gap_deg + 360 - half_width_deg, gap_deg + half_width_deg);
  ring->is_closed = ring->is_filled = TRUE;
}

static void
draw_keep_clear (GPtrArray *pose, const PawlRule *rule, double inner, double outer)
{
  for (guint i = 0; i + 1 < rule->n_forbidden; i += 2)
    {
      double from = rule->forbidden[i], to = rule->forbidden[i + 1];
      PawlStroke *sector = pawl_pose_begin (pose, PAWL_STROKE_NEIGHBOUR, NULL);

      to = from + fmod (fmod (to - from, 360) + 360, 360);
      pawl_stroke_arc (sector, 0, 0, outer, from, to);
      pawl_stroke_arc (sector, 0, 0, inner, to, from);
      sector->is_closed = TRUE;
    }
}

void
pawl_pose_spread (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  double outer = rule->outside > 0 ? rule->outside / 2 : rule->radius;
  double inner = rule->outside > 0 ? rule->inside / 2 : 0.7 * outer;
  double from, to, radius = pawl_mistake_get_ring_radius (rule);
  double band;

  inner = MIN (inner, 0.9 * outer);
  band = (outer - inner) / rule->n_angles;
  draw_keep_clear (pose, rule, 1.06 * outer, 1.22 * outer);
  pawl_pose_line (pose, PAWL_STROKE_AXIS, -1.1 * outer, 0, 1.1 * outer, 0, NULL);
  pawl_pose_line (pose, PAWL_STROKE_AXIS, 0, -1.1 * outer, 0, 1.1 * outer, NULL);
  for (guint i = 0; i < rule->n_angles; i++)
    {
      g_autofree char *number = rule->n_angles > 1 ? g_strdup_printf ("%u", i + 1) : NULL;
      double gap = is_wrong ? pawl_mistake_get_gap_deg (rule, i) : rule->angles[i];
      double angle = gap * G_PI / 180;
      PawlStroke *lead;

      draw_open_ring (pose, outer - (i + 0.93) * band, outer - i * band, gap, 7, NULL);
      lead = pawl_pose_line (pose, PAWL_STROKE_DETAIL, (outer - (i + 0.5) * band) * cos (angle), -(outer - (i + 0.5) * band) * sin (angle),
                             (1.3 + 0.14 * i) * outer * cos (angle), -(1.3 + 0.14 * i) * outer * sin (angle), number);
      lead->is_closed = FALSE;
      if (is_wrong && fabs (rule->angles[i] - gap) > 0.5)
        {
          double right = rule->angles[i] * G_PI / 180;

          pawl_pose_line (pose, PAWL_STROKE_GHOST, 0.55 * inner * cos (right), -0.55 * inner * sin (right),
                          1.12 * outer * cos (right), -1.12 * outer * sin (right), NULL);
        }
    }
  if (is_wrong && pawl_mistake_get_shortfall_deg (rule, &from, &to) > 0)
    {
      PawlStroke *difference = pawl_pose_begin (pose, PAWL_STROKE_DIFFERENCE, NULL);

      pawl_stroke_line_to (difference, radius * cos (from * G_PI / 180), -radius * sin (from * G_PI / 180));
      pawl_stroke_line_to (difference, radius * cos (to * G_PI / 180), -radius * sin (to * G_PI / 180));
    }
}

/* ---- which: each look-alike in a place that is made for one of them; labelled with the place, and under it with what lies there ---- */

static void
draw_moved_shape (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind, double dx, double dy)
{
  g_autoptr(GPtrArray) part = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_stroke_free);

  pawl_pose_shape (part, shape, kind, pawl_shape_needs_section (shape));
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

/* What a row of the picture says: the place, and what lies in it. */
static void
label_row (GPtrArray *pose, const PawlCandidate *place, const PawlCandidate *is, double x, double y)
{
  g_autofree char *label = g_strdup_printf ("%s\n%s", place->place ? place->place : "", is->name ? is->name : "");

  pawl_pose_line (pose, PAWL_STROKE_DETAIL, x, y, x, y, g_strstrip (label));
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

/* TRUE when the size that tells them apart is the length beyond the seat, as of screws under their heads: then places are pockets of that depth. */
static gboolean
is_length_from_seat (const PawlCandidate *candidate)
{
  PawlBounds bounds;

  if (!candidate->shape || candidate->dimension <= 0)
    return FALSE;
  bounds = pawl_shape_get_bounds (candidate->shape);
  return fabs (bounds.x1 - candidate->shape->seat - candidate->dimension) < 0.02 * candidate->dimension;
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
draw_in_pockets (GPtrArray *pose, const PawlCandidate * const two[2], gboolean is_wrong)
{
  double longest = MAX (two[0]->dimension, two[1]->dimension);
  double radius = MAX (get_reach (two[0]->shape, two[0]->shape->seat), get_reach (two[1]->shape, two[1]->shape->seat));
  double wall = MAX (1.1 * radius, 0.07 * longest), row = 2 * radius + 2 * wall + 0.22 * longest;

  for (guint i = 0; i < 2; i++)
    {
      const PawlCandidate *place = two[i], *is = two[is_wrong ? 1 - i : i];
      /* Too long for its place: it stands on the bottom and proud of the face. */
      double proud = MIN (0, place->dimension - is->dimension), y = i * row;

      draw_pocket (pose, place->dimension, radius, y, wall, longest + wall);
      draw_moved_shape (pose, is->shape, PAWL_STROKE_OUTLINE, proud - is->shape->seat, y);
      label_row (pose, place, is, longest + wall, y);
      if (is_wrong && proud < 0)
        pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, proud, y - radius, 0, y - radius, NULL);
    }
}

/* Shapes that differ in something else than their length: the parts as they are, each by its place. */
static void
draw_in_places (GPtrArray *pose, const PawlCandidate * const two[2], gboolean is_wrong)
{
  double reach = MAX (get_reach (two[0]->shape, -INFINITY), get_reach (two[1]->shape, -INFINITY));
  double right = MAX (pawl_shape_get_bounds (two[0]->shape).x1, pawl_shape_get_bounds (two[1]->shape).x1);

  for (guint i = 0; i < 2; i++)
    {
      const PawlCandidate *place = two[i], *is = two[is_wrong ? 1 - i : i];
      double y = i * 2.7 * reach;

      draw_moved_shape (pose, is->shape, PAWL_STROKE_OUTLINE, 0, y);
      label_row (pose, place, is, right, y);
    }
}

/* No shapes: a gap as wide as the place needs, and what lies in it. It serves for lengths, diameters and thicknesses alike. */
static void
draw_in_gaps (GPtrArray *pose, const PawlCandidate * const two[2], gboolean is_wrong)
{
  double longest = MAX (two[0]->dimension, two[1]->dimension), half = 0.16 * longest, wall = 0.14 * longest;

  for (guint i = 0; i < 2; i++)
    {
      const PawlCandidate *place = two[i], *is = two[is_wrong ? 1 - i : i];
      double y = i * 4 * half;

      pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, -wall, y - 1.3 * half, 0, y + 1.3 * half, FALSE, NULL);
      pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, place->dimension, y - 1.3 * half, place->dimension + wall, y + 1.3 * half, FALSE, NULL);
      if (is->dimension > 0)
        pawl_pose_box (pose, PAWL_STROKE_OUTLINE, 0, y - half, is->dimension, y + half, TRUE, NULL);
      label_row (pose, place, is, longest + wall, y);
      if (is_wrong && i == 0 && is->dimension != place->dimension)
        pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, place->dimension, y - half, is->dimension, y - half, NULL);
    }
}

void
pawl_pose_which (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  guint pair[2];
  const PawlCandidate *two[2];

  if (!pawl_mistake_find_pair (rule, &pair[0], &pair[1]))
    return;
  for (guint i = 0; i < 2; i++)
    two[i] = g_ptr_array_index (rule->candidates, pair[i]);
  if (is_length_from_seat (two[0]) && is_length_from_seat (two[1]))
    draw_in_pockets (pose, two, is_wrong);
  else if (two[0]->shape && two[1]->shape)
    draw_in_places (pose, two, is_wrong);
  else
    draw_in_gaps (pose, two, is_wrong);
}

/* ---- order: the stack, first at the bottom ---- */

static double
draw_layer (GPtrArray *pose, const PawlCandidate *layer, PawlStrokeKind kind, double from, double half_width, gboolean is_named)
{
  double to = from - layer->dimension;

  if (layer->shape && layer->shape->is_turned)
    half_width = pawl_shape_get_bounds (layer->shape).y1;
  pawl_pose_box (pose, kind, -half_width, from, half_width, to, kind == PAWL_STROKE_OUTLINE, is_named ? layer->name : NULL);
  return to;
}

static double
get_stack_half_width (const PawlRule *rule, double height)
{
  double widest = 0;

  for (guint i = 0; i < rule->candidates->len; i++)
    {
      const PawlCandidate *layer = g_ptr_array_index (rule->candidates, i);

      if (layer->shape && layer->shape->is_turned)
        widest = MAX (widest, pawl_shape_get_bounds (layer->shape).y1);
    }
  return widest > 0 ? widest : 0.7 * height;
}

void
pawl_pose_order (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(GArray) stack = pawl_mistake_dup_stack (rule);
  guint n = is_wrong ? stack->len : rule->candidates->len;
  double right_height = 0, half_width, y = 0;

  for (guint i = 0; i < rule->candidates->len; i++)
    right_height += ((const PawlCandidate *) g_ptr_array_index (rule->candidates, i))->dimension;
  half_width = get_stack_half_width (rule, right_height);
  pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, -1.25 * half_width, 0, 1.25 * half_width, 0.16 * right_height, FALSE, NULL);
  for (guint i = 0; i < n; i++)
    y = draw_layer (pose, g_ptr_array_index (rule->candidates, is_wrong ? g_array_index (stack, guint, i) : i), PAWL_STROKE_OUTLINE, y, half_width, TRUE);
  pawl_pose_line (pose, PAWL_STROKE_AXIS, 0, 0.2 * right_height, 0, -1.15 * right_height, NULL);
  if (is_wrong)
    {
      pawl_pose_line (pose, PAWL_STROKE_GHOST, -1.2 * half_width, -right_height, 1.2 * half_width, -right_height, NULL);
      if (fabs (y + right_height) > 1e-6)
        pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, -0.9 * half_width, -right_height, -0.9 * half_width, y, NULL);
    }
}

/* ---- mate: each set keeps its own pieces; the sets are told apart by their marks alone ---- */

/* A piece of set @set: its mark is as many dots. The upper piece has a tongue, the lower one the groove for it. */
static void
draw_piece (GPtrArray *pose, double x, gboolean is_upper, guint set, const char *label)
{
  double side = is_upper ? -1 : 1;
  PawlStroke *piece = pawl_pose_begin (pose, PAWL_STROKE_OUTLINE, label);

  pawl_stroke_line_to (piece, x - 5, 0);
  pawl_stroke_line_to (piece, x - 2, 0);
  pawl_stroke_line_to (piece, x - 1.2, 1.6);
  pawl_stroke_line_to (piece, x + 1.2, 1.6);
  pawl_stroke_line_to (piece, x + 2, 0);
  pawl_stroke_line_to (piece, x + 5, 0);
  pawl_stroke_line_to (piece, x + 5, side * 6);
  pawl_stroke_line_to (piece, x - 5, side * 6);
  piece->is_closed = piece->is_filled = TRUE;
  for (guint i = 0; i < set; i++)
    pawl_pose_circle (pose, PAWL_STROKE_OUTLINE, x + 3.7 - 1.7 * i, side * 1.7, 0.55, TRUE, NULL);
}

void
pawl_pose_mate (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  const PawlCandidate *upper = g_ptr_array_index (rule->candidates, 0), *lower = g_ptr_array_index (rule->candidates, 1);

  for (guint set = 1; set <= 2; set++)
    {
      double x = (set - 1) * 14;

      draw_piece (pose, x, FALSE, is_wrong ? 3 - set : set, set == 1 ? lower->name : NULL);
      draw_piece (pose, x, TRUE, set, set == 1 ? upper->name : NULL);
    }
}

/* ---- either ---- */

void
pawl_pose_either (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) flipped = NULL;

  if (!rule->shape)
    {
      /* Nothing is known of it but that it has no wrong way: a plain bar, with one end told from the other by an arrow. */
      pawl_pose_box (pose, PAWL_STROKE_OUTLINE, -10, -3, 10, 3, TRUE, NULL);
      pawl_pose_line (pose, PAWL_STROKE_AXIS, -12, 0, 12, 0, NULL);
      pawl_pose_line (pose, PAWL_STROKE_ARROW, is_wrong ? 6 : -6, 6, is_wrong ? -6 : 6, 6, NULL);
      return;
    }
  flipped = pawl_shape_flip (rule->shape, FALSE);
  if (rule->shape->is_turned)
    pawl_pose_walls (pose, rule->shape, 0, 0, 0);
  pawl_pose_shape (pose, is_wrong ? flipped : rule->shape, PAWL_STROKE_OUTLINE, pawl_shape_needs_section (rule->shape));
  {
    PawlBounds bounds = pawl_shape_get_bounds (rule->shape);
    double y = bounds.y1 * 1.36 + 0.08 * (bounds.x1 - bounds.x0), middle = (bounds.x0 + bounds.x1) / 2, half = 0.3 * (bounds.x1 - bounds.x0);

    pawl_pose_line (pose, PAWL_STROKE_ARROW, is_wrong ? middle + half : middle - half, y, is_wrong ? middle - half : middle + half, y, NULL);
  }
}
