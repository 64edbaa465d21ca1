/* Poses of the kind order: the stack drawn apart along its axis, the first layer at the bottom, every thickness to scale. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* Between layers, as a share of the mean thickness. */
#define APART 0.5
/* Few layers are drawn wider. */
#define FEW_LAYERS 4
/* A shape is drawn for a layer when it is as long as the layer is thick, within this share. */
#define SAME_LENGTH_SHARE 0.05

static const PawlCandidate *
get_layer (const PawlRule *rule, guint n)
{
  return g_ptr_array_index (rule->candidates, n);
}

static double
get_height (const PawlRule *rule)
{
  double height = 0;

  for (guint i = 0; i < rule->candidates->len; i++)
    height += get_layer (rule, i)->dimension;
  return height;
}

static gboolean
has_own_shape (const PawlCandidate *layer)
{
  PawlBounds bounds;

  if (!layer->shape || !layer->shape->is_turned)
    return FALSE;
  bounds = pawl_shape_get_bounds (layer->shape);
  return fabs (bounds.x1 - bounds.x0 - layer->dimension) <= SAME_LENGTH_SHARE * layer->dimension;
}

static double
get_half_width (const PawlRule *rule)
{
  double widest = 0;

  for (guint i = 0; i < rule->candidates->len; i++)
    if (get_layer (rule, i)->shape && get_layer (rule, i)->shape->is_turned)
      widest = MAX (widest, pawl_shape_get_bounds (get_layer (rule, i)->shape).y1);
  return widest > 0 ? widest : (rule->candidates->len <= FEW_LAYERS ? 0.6 : 0.4) * get_height (rule);
}

/* The half-profile stood on end, +x up, and its mirror image: a cut through the layer. */
static void
draw_section (GPtrArray *pose, const PawlShape *shape, PawlStrokeKind kind, double y)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);

  for (int side = -1; side <= 1; side += 2)
    {
      PawlStroke *half = pawl_pose_begin (pose, kind, NULL);

      for (guint i = 0; i < shape->n_points; i++)
        pawl_stroke_line_to (half, side * shape->points[i].y, y - (shape->points[i].x - bounds.x0));
      half->is_closed = TRUE;
      half->is_filled = kind == PAWL_STROKE_OUTLINE;
    }
}

static void
draw_layer (GPtrArray *pose, const PawlCandidate *layer, PawlStrokeKind kind, double y, double half_width)
{
  if (has_own_shape (layer))
    draw_section (pose, layer->shape, kind, y);
  else
    {
      if (layer->shape && layer->shape->is_turned)
        half_width = pawl_shape_get_bounds (layer->shape).y1;
      pawl_pose_box (pose, kind, -half_width, y, half_width, y - layer->dimension, kind == PAWL_STROKE_OUTLINE, NULL);
    }
}

static void
label_layer (GPtrArray *pose, const PawlCandidate *layer, double x, double y, int verdict)
{
  g_autofree char *label = g_strdup_printf ("%s%s%s", layer->item ? layer->item : "", layer->item ? " " : "", layer->name ? layer->name : "");
  PawlStroke *row = pawl_pose_begin (pose, PAWL_STROKE_ROW, label);

  pawl_stroke_line_to (row, x, y - layer->dimension / 2);
  row->says = PAWL_SAYS_LENGTH;
  row->value = layer->dimension;
  row->verdict = verdict;
}

/* ---- the mistake ---- */

typedef struct {
  GArray  *stack;   /* what is drawn: indexes of layers, bottom first; a layer left out is among them */
  guint    from, to; /* rows that are wrong */
  gboolean is_missing, is_swapped;
} Stack;

static Stack
plan_stack (const PawlRule *rule, gboolean is_wrong)
{
  g_autoptr(GArray) mistake = pawl_mistake_dup_stack (rule);
  guint n = rule->candidates->len, at = 0;
  Stack plan = { .stack = g_array_new (FALSE, FALSE, sizeof (guint)), .from = G_MAXUINT, .to = 0 };

  for (guint i = 0; i < n; i++)
    g_array_append_val (plan.stack, i);
  if (!is_wrong)
    return plan;
  while (at < MIN (mistake->len, n) && g_array_index (mistake, guint, at) == at)
    at++;
  plan.is_missing = mistake->len < n;
  plan.is_swapped = mistake->len == n;
  plan.from = at;
  plan.to = plan.is_swapped ? at + 1 : at;
  if (!plan.is_missing)
    {
      g_array_set_size (plan.stack, 0);
      g_array_append_vals (plan.stack, mistake->data, mistake->len);
    }
  return plan;
}

static void
draw_mistake (GPtrArray *pose, const Stack *plan, double half_width, double y, double thickness, guint row, double *swapped_from)
{
  double edge = -1.08 * half_width, middle = y - thickness / 2;

  if (row == plan->from && !plan->is_swapped)
    pawl_pose_line (pose, PAWL_STROKE_DIFFERENCE, -half_width, y, -half_width, y - thickness, NULL);
  if (row == plan->from)
    *swapped_from = middle;
  else if (row == plan->to && plan->is_swapped)
    {
      PawlStroke *swap = pawl_pose_begin (pose, PAWL_STROKE_SWAP, NULL);
      double span = *swapped_from - middle, bow = MIN (0.45 * span, 0.3 * half_width);

      for (int i = 0; i <= 12; i++)
        pawl_stroke_line_to (swap, edge - bow * sin (i * G_PI / 12), *swapped_from - span * i / 12);
    }
}

void
pawl_pose_order (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  Stack plan = plan_stack (rule, is_wrong);
  g_autoptr(GArray) stack = plan.stack;
  double height = get_height (rule), half_width = get_half_width (rule), apart = APART * height / rule->candidates->len;
  double y = -apart, base = 0.16 * height + 0.04 * half_width, swapped_from = 0, above;

  pawl_pose_box (pose, PAWL_STROKE_NEIGHBOUR, -1.12 * half_width, 0, 1.12 * half_width, base, FALSE, NULL);
  for (guint i = 0; i < stack->len; i++)
    {
      const PawlCandidate *layer = get_layer (rule, g_array_index (stack, guint, i));
      gboolean is_mistake = i >= plan.from && i <= plan.to;

      draw_layer (pose, layer, is_mistake && plan.is_missing ? PAWL_STROKE_GHOST : PAWL_STROKE_OUTLINE, y, half_width);
      label_layer (pose, layer, half_width, y, is_mistake ? -1 : 0);
      draw_mistake (pose, &plan, half_width, y, layer->dimension, i, &swapped_from);
      y -= layer->dimension + apart;
    }
  above = y - 0.1 * height;
  pawl_pose_line (pose, PAWL_STROKE_AXIS, 0, 1.2 * base, 0, above, NULL);
  pawl_pose_line (pose, PAWL_STROKE_ARROW, 0, above - 0.35 * height, 0, above, rule->datum);
}
