/* Poses of the kinds mate and either: matched pieces, which only their mark tells from a stranger; and the part that has no wrong way. */
#include "fit/pawl-pose-private.h"

#include <math.h>

/* ---- mate: nothing is known of the pieces but that they belong together: blocks with tongue and groove. Any unit of length ---- */

#define PIECE_HALF_WIDTH 8.0
#define PIECE_HEIGHT 5.0
#define TONGUE 1.2
/* Where the mark crosses the joint, and where a stranger has its own. */
#define MARK_X 4.2
#define OTHER_MARK_X 5.4
#define MARK_LENGTH 1.7
/* The circle that leads the eye there. */
#define SPOT_X 4.9
#define SPOT_RADIUS 2.3

static void
trace_joint (PawlStroke *piece, double y, gboolean is_leftward)
{
  static const double xs[] = { -PIECE_HALF_WIDTH, -3.2, -2.2, 1.0, 2.0, PIECE_HALF_WIDTH }, deep[] = { 0, 0, TONGUE, TONGUE, 0, 0 };

  for (guint i = 0; i < G_N_ELEMENTS (xs); i++)
    {
      guint n = is_leftward ? G_N_ELEMENTS (xs) - 1 - i : i;

      pawl_stroke_line_to (piece, xs[n], y + deep[n]);
    }
}

/* Piece @n of @n_pieces, the first on top; each has the tongue that goes into the next. A stranger is drawn as one: in chain line. */
static void
draw_piece (GPtrArray *pose, guint n, guint n_pieces, gboolean is_stranger, const char *label)
{
  double top = n * PIECE_HEIGHT, bottom = top + PIECE_HEIGHT;
  PawlStroke *piece = pawl_pose_begin (pose, is_stranger ? PAWL_STROKE_GHOST : PAWL_STROKE_OUTLINE, NULL);

  if (n == 0)
    {
      pawl_stroke_line_to (piece, -PIECE_HALF_WIDTH, top);
      pawl_stroke_line_to (piece, PIECE_HALF_WIDTH, top);
    }
  else
    trace_joint (piece, top, FALSE);
  if (n + 1 == n_pieces)
    {
      pawl_stroke_line_to (piece, PIECE_HALF_WIDTH, bottom);
      pawl_stroke_line_to (piece, -PIECE_HALF_WIDTH, bottom);
    }
  else
    trace_joint (piece, bottom, TRUE);
  piece->is_closed = TRUE;
  piece->is_filled = TRUE;
  pawl_pose_name (pose, -0.35 * PIECE_HALF_WIDTH, top + (n == 0 ? 0.5 : 0.62) * PIECE_HEIGHT, label);
}

/* The mark's half on one piece, up to the joint at @y. */
static void
draw_mark (GPtrArray *pose, double x, double y, int side)
{
  pawl_pose_line (pose, PAWL_STROKE_OUTLINE, x, y, x, y + side * MARK_LENGTH, NULL);
}

void
pawl_pose_mate (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  guint n = rule->candidates->len;

  for (guint i = 0; i < n; i++)
    {
      const PawlCandidate *candidate = g_ptr_array_index (rule->candidates, i);
      g_autofree char *label = g_strdup_printf ("%s%s%s", candidate->item ? candidate->item : "", candidate->item ? " " : "", candidate->name ? candidate->name : "");

      draw_piece (pose, i, n, is_wrong && i + 1 == n, label);
    }
  for (guint i = 1; i < n; i++)
    {
      gboolean is_strange = is_wrong && i + 1 == n;
      double y = i * PIECE_HEIGHT;

      draw_mark (pose, MARK_X, y, -1);
      /* A stranger has a mark of another set: two strokes, and not in line. */
      draw_mark (pose, is_strange ? OTHER_MARK_X : MARK_X, y, 1);
      if (is_strange)
        draw_mark (pose, OTHER_MARK_X + 0.7, y, 1);
      if (i + 1 == n)
        pawl_pose_circle (pose, PAWL_STROKE_SPOT, SPOT_X, y, SPOT_RADIUS, FALSE, rule->datum);
    }
}

/* ---- either: both ways, with one end lettered so that the turn is seen, and the middle plane about which it is the same ---- */

static void
draw_middle_plane (GPtrArray *pose, PawlBounds bounds, double reach)
{
  double middle = (bounds.x0 + bounds.x1) / 2, more = 0.16 * (bounds.x1 - bounds.x0) + 0.1 * reach, half = 0.03 * (bounds.x1 - bounds.x0) + 0.02 * reach;

  pawl_pose_line (pose, PAWL_STROKE_AXIS, middle, -reach - more, middle, reach + more, NULL);
  /* The sign for symmetry: two short strokes across each end of the axis; ISO 128, from memory. */
  for (int end = -1; end <= 1; end += 2)
    for (int i = 0; i < 2; i++)
      {
        double y = end * (reach + more - half * (0.6 + 0.7 * i));

        pawl_pose_line (pose, PAWL_STROKE_DETAIL, middle - half, y, middle + half, y, NULL);
      }
}

static void
draw_ends (GPtrArray *pose, PawlBounds bounds, double reach, gboolean is_turned_round)
{
  double inset = 0.14 * (bounds.x1 - bounds.x0), y = -0.4 * reach;

  pawl_pose_name (pose, bounds.x0 + inset, y, is_turned_round ? "B" : "A");
  pawl_pose_name (pose, bounds.x1 - inset, y, is_turned_round ? "A" : "B");
}

void
pawl_pose_either (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(PawlShape) shape = NULL;
  PawlBounds bounds = { -10, -3, 10, 3 };
  double low = 3, reach = 3, middle, half;

  if (rule->shape)
    {
      shape = is_wrong ? pawl_shape_flip (rule->shape, FALSE) : pawl_shape_dup (rule->shape);
      bounds = pawl_shape_get_bounds (rule->shape);
      reach = shape->is_turned ? bounds.y1 : (bounds.y1 - bounds.y0) / 2;
      low = bounds.y1;
      if (shape->is_turned)
        {
          pawl_pose_walls (pose, rule->shape, 0, 0, 0);
          low *= 1.4;
        }
      pawl_pose_shape (pose, shape, PAWL_STROKE_OUTLINE, pawl_shape_needs_section (shape));
    }
  else
    {
      /* Nothing is known of it but that it has no wrong way: a plain bar. */
      pawl_pose_box (pose, PAWL_STROKE_OUTLINE, -10, -3, 10, 3, TRUE, NULL);
      pawl_pose_line (pose, PAWL_STROKE_AXIS, -12, 0, 12, 0, NULL);
    }
  middle = (bounds.x0 + bounds.x1) / 2;
  half = 0.3 * (bounds.x1 - bounds.x0);
  draw_middle_plane (pose, bounds, low);
  draw_ends (pose, bounds, reach, is_wrong);
  low += 0.3 * (bounds.x1 - bounds.x0);
  pawl_pose_line (pose, PAWL_STROKE_ARROW, middle - half, low, middle + half, low, rule->datum);
}
