#include "fit/pawl-question.h"

#include <math.h>
#include <string.h>

#include "fit/pawl-mistake.h"
#include "fit/pawl-pose-private.h"

/* Points closer than this are the same, mm. */
#define SAME_MM 1e-6
/* What no two pictures side by side show plainly is not asked: of the diameter, of the part's length, and degrees. Our own choice, by looking. */
#define PLAIN_HOLE_SHARE 0.1
#define PLAIN_DEPTH_SHARE 0.05
#define PLAIN_ANGLE_DEG 3.0
#define PLAIN_SPREAD_DEG 15.0

/* ---- what may be mirrored or turned ---- */

static guint
fill_views (PawlView views[4], PawlView a, PawlView b, PawlView c)
{
  PawlView more[] = { a, b, c };
  guint n = 1;

  views[0] = PAWL_VIEW_AS_DRAWN;
  for (guint i = 0; i < G_N_ELEMENTS (more); i++)
    if (more[i] != PAWL_VIEW_AS_DRAWN)
      views[n++] = more[i];
  return n;
}

guint
pawl_rule_list_views (const PawlRule *rule, PawlView views[4])
{
  gboolean is_outline = rule->shape && !rule->shape->is_turned;

  switch (rule->kind)
    {
    case PAWL_RULE_SENSE:
      if (rule->is_spin)
        return fill_views (views, 0, 0, 0);
      break;
    case PAWL_RULE_INDEX:
      if (rule->index_kind == PAWL_INDEX_ANGLE)
        return fill_views (views, is_outline ? 0 : PAWL_VIEW_MIRRORED, 0, 0);
      break;
    case PAWL_RULE_SPREAD:
    case PAWL_RULE_MATE:
      return fill_views (views, PAWL_VIEW_MIRRORED, 0, 0);
    case PAWL_RULE_SIDE:
    case PAWL_RULE_WHICH:
    case PAWL_RULE_ORDER:
    case PAWL_RULE_EITHER:
    default:
      return fill_views (views, 0, 0, 0);
    }
  return is_outline ? fill_views (views, PAWL_VIEW_TURNED, 0, 0) : fill_views (views, PAWL_VIEW_MIRRORED, PAWL_VIEW_UPSIDE_DOWN, PAWL_VIEW_TURNED);
}

const char *
pawl_view_get_name (PawlView view)
{
  static const char * const names[] = { "as-drawn", "mirrored", "upside-down", "turned" };

  g_return_val_if_fail (view < G_N_ELEMENTS (names), NULL);
  return names[view];
}

/* ---- chance that is handed in ---- */

/* FNV-1a, 32 bits. The texts are kept apart by the zero at their end. */
static guint32
hash_bytes (guint32 hash, gconstpointer bytes, gsize n)
{
  for (gsize i = 0; i < n; i++)
    hash = (hash ^ ((const guint8 *) bytes)[i]) * 16777619u;
  return hash;
}

guint32
pawl_question_make_seed (const char *job, const char *ask, guint n_asked)
{
  guint8 n[] = { n_asked & 0xff, (n_asked >> 8) & 0xff };
  guint32 hash = hash_bytes (2166136261u, job, strlen (job) + 1);

  return hash_bytes (hash_bytes (hash, ask, strlen (ask) + 1), n, sizeof n);
}

/* The finisher of MurmurHash3: each bit of what comes out hangs on all bits of the seed. */
static guint32
draw_number (guint32 *state)
{
  guint32 x = *state += 0x9e3779b9u;

  x = (x ^ (x >> 16)) * 0x85ebca6bu;
  x = (x ^ (x >> 13)) * 0xc2b2ae35u;
  return x ^ (x >> 16);
}

PawlQuestion
pawl_question_make (const PawlRule *rule, guint32 seed)
{
  PawlView views[4];
  guint n = pawl_rule_list_views (rule, views);
  PawlQuestion self = { .is_right_first = draw_number (&seed) & 1 };

  for (int i = 0; i < 2; i++)
    self.views[i] = views[draw_number (&seed) % n];
  return self;
}

gboolean
pawl_question_is_right (const PawlQuestion *self, gboolean is_second)
{
  return self->is_right_first ? !is_second : is_second;
}

/* ---- the poses without what tells ---- */

/* The stack as it is wrong, drawn like one that is right: no gap where a layer is missing, no sign at what has changed places. */
static GPtrArray *
draw_wrong_stack (const PawlRule *rule)
{
  GPtrArray *pose = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_stroke_free);
  g_autoptr(GArray) stack = pawl_mistake_dup_stack (rule);
  g_autoptr(GPtrArray) layers = g_ptr_array_new ();
  PawlRule wrong = *rule;

  for (guint i = 0; i < stack->len; i++)
    g_ptr_array_add (layers, g_ptr_array_index (rule->candidates, g_array_index (stack, guint, i)));
  wrong.candidates = layers;
  pawl_pose_order (pose, &wrong, FALSE);
  return pose;
}

static gboolean
gives_away (const PawlRule *rule, const PawlStroke *stroke)
{
  switch (stroke->kind)
    {
    case PAWL_STROKE_DIFFERENCE:
    case PAWL_STROKE_DIMENSION:
    case PAWL_STROKE_SWAP:
    case PAWL_STROKE_TRAVEL: /* the wrong part goes less far */
      return TRUE;
    case PAWL_STROKE_GHOST:
      return rule->kind != PAWL_RULE_MATE; /* there the stranger itself is drawn so */
    case PAWL_STROKE_NEIGHBOUR:
    case PAWL_STROKE_HIDDEN:
      return rule->kind == PAWL_RULE_WHICH; /* a place as deep as what belongs there is long */
    default:
      return FALSE;
    }
}

static void
strip (GPtrArray *pose, const PawlRule *rule)
{
  for (guint i = pose->len; i > 0; i--)
    {
      PawlStroke *stroke = g_ptr_array_index (pose, i - 1);

      if (gives_away (rule, stroke))
        {
          g_ptr_array_remove_index (pose, i - 1);
          continue;
        }
      /* A passage that is not met shows the metal that stands before it, as the eye sees it. */
      if (stroke->kind == PAWL_STROKE_GHOST || stroke->kind == PAWL_STROKE_BLOCKED)
        stroke->kind = PAWL_STROKE_OUTLINE;
      if (stroke->kind != PAWL_STROKE_ROW)
        stroke->says = PAWL_SAYS_NOTHING;
    }
}

/* Without their places, what lies in them begins at one line: what stands proud in its place does not. */
static void
align_row (GPtrArray *pose, guint row)
{
  double from = INFINITY, to = INFINITY;

  for (guint i = 0; i < pose->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (pose, i);

      if (stroke->row != row)
        continue;
      for (guint j = 0; j < stroke->n_points; j++)
        if (stroke->kind == PAWL_STROKE_ROW)
          to = MIN (to, stroke->points[j].x);
        else if (stroke->kind == PAWL_STROKE_OUTLINE)
          from = MIN (from, stroke->points[j].x);
    }
  for (guint i = 0; i < pose->len && isfinite (from) && isfinite (to); i++)
    {
      PawlStroke *stroke = g_ptr_array_index (pose, i);

      for (guint j = 0; stroke->row == row && stroke->kind != PAWL_STROKE_ROW && j < stroke->n_points; j++)
        stroke->points[j].x += to - from;
    }
}

static void
align_rows (GPtrArray *pose)
{
  guint last = 0;

  for (guint i = 0; i < pose->len; i++)
    last = MAX (last, ((const PawlStroke *) g_ptr_array_index (pose, i))->row);
  for (guint row = 0; row <= last; row++)
    align_row (pose, row);
}

static GPtrArray *
draw_bare (const PawlRule *rule, gboolean is_wrong)
{
  GPtrArray *pose = rule->kind == PAWL_RULE_ORDER && is_wrong ? draw_wrong_stack (rule) : pawl_rule_draw_pose (rule, is_wrong);

  strip (pose, rule);
  if (rule->kind == PAWL_RULE_WHICH)
    align_rows (pose);
  return pose;
}

static PawlStroke *
dup_stroke (const PawlStroke *stroke)
{
  PawlStroke *copy = g_memdup2 (stroke, sizeof *stroke);

  copy->points = g_memdup2 (stroke->points, stroke->n_points * sizeof (PawlPoint));
  copy->label = g_strdup (stroke->label);
  return copy;
}

/* An arrow stands clear of its own pose, ghost and all: so the one of the wrong pose, in both, or it would tell by its place and length. */
static void
share_arrows (GPtrArray *right, GPtrArray *wrong)
{
  for (guint i = right->len; i > 0; i--)
    if (((const PawlStroke *) g_ptr_array_index (right, i - 1))->kind == PAWL_STROKE_ARROW)
      g_ptr_array_remove_index (right, i - 1);
  for (guint i = 0; i < wrong->len; i++)
    if (((const PawlStroke *) g_ptr_array_index (wrong, i))->kind == PAWL_STROKE_ARROW)
      g_ptr_array_add (right, dup_stroke (g_ptr_array_index (wrong, i)));
}

static PawlStroke *
find_row (GPtrArray *pose, guint n)
{
  for (guint i = 0; i < pose->len; i++)
    {
      PawlStroke *stroke = g_ptr_array_index (pose, i);

      if (stroke->kind == PAWL_STROKE_ROW && n-- == 0)
        return stroke;
    }
  return NULL;
}

/* Where there is no room for the words of all layers, those of the layers that differ are kept: as rows that are wrong are. No sign is drawn at them. */
static void
mark_rows (GPtrArray *right, GPtrArray *wrong)
{
  PawlStroke *p, *q;

  for (guint i = 0; (p = find_row (right, i)) || find_row (wrong, i); i++)
    {
      q = find_row (wrong, i);
      if (p && q && g_strcmp0 (p->label, q->label) == 0)
        continue;
      if (p)
        p->verdict = -1;
      if (q)
        q->verdict = -1;
    }
}

/* Where a lens looks: of a part that is turned round its ends show which it is. Elsewhere an enlarged spot says nothing without what is round it. */
static PawlStroke *
find_telling (const PawlRule *rule)
{
  g_autoptr(GPtrArray) wrong = NULL;

  if (rule->kind != PAWL_RULE_SENSE)
    return NULL;
  wrong = pawl_rule_draw_pose (rule, TRUE);
  for (guint i = 0; i < wrong->len; i++)
    {
      const PawlStroke *stroke = g_ptr_array_index (wrong, i);

      if (stroke->kind == PAWL_STROKE_DIFFERENCE && stroke->n_points > 1
          && hypot (stroke->points[1].x - stroke->points[0].x, stroke->points[1].y - stroke->points[0].y) > 1e-9)
        return dup_stroke (stroke);
    }
  return NULL;
}

static void
draw_as_drawn (const PawlRule *rule, PawlQuestionPoses *poses)
{
  for (int i = 0; i < 2; i++)
    poses->poses[i] = draw_bare (rule, i == 1);
  if (rule->kind == PAWL_RULE_ORDER)
    mark_rows (poses->poses[0], poses->poses[1]);
  else
    share_arrows (poses->poses[0], poses->poses[1]);
  poses->tellings[0] = find_telling (rule);
  poses->tellings[1] = poses->tellings[0] ? dup_stroke (poses->tellings[0]) : NULL;
}

/* ---- is there anything to choose? ---- */

static gboolean
is_same_stroke (const PawlStroke *p, const PawlStroke *q)
{
  if (p->kind != q->kind || p->n_points != q->n_points || g_strcmp0 (p->label, q->label) != 0 || p->says != q->says || fabs (p->value - q->value) > SAME_MM)
    return FALSE;
  for (guint i = 0; i < p->n_points; i++)
    if (fabs (p->points[i].x - q->points[i].x) > SAME_MM || fabs (p->points[i].y - q->points[i].y) > SAME_MM)
      return FALSE;
  return TRUE;
}

static gboolean
has_stroke (GPtrArray *pose, const PawlStroke *stroke)
{
  for (guint i = 0; i < pose->len; i++)
    if (is_same_stroke (g_ptr_array_index (pose, i), stroke))
      return TRUE;
  return FALSE;
}

static gboolean
is_plain (const PawlRule *rule)
{
  PawlBounds bounds = { 0 };

  if (rule->kind == PAWL_RULE_SPREAD)
    return pawl_mistake_get_shortfall_deg (rule, NULL, NULL) >= PLAIN_SPREAD_DEG;
  if (rule->kind != PAWL_RULE_INDEX)
    return TRUE;
  if (rule->index_kind == PAWL_INDEX_HOLE)
    return fabs (rule->wrong) >= PLAIN_HOLE_SHARE * rule->diameter;
  if (rule->index_kind == PAWL_INDEX_ANGLE)
    return pawl_mistake_get_angle_deg (rule) >= PLAIN_ANGLE_DEG;
  if (rule->shape)
    bounds = pawl_shape_get_bounds (rule->shape);
  return fabs (rule->wrong) >= PLAIN_DEPTH_SHARE * (bounds.x1 - bounds.x0);
}

gboolean
pawl_rule_can_be_asked (const PawlRule *rule)
{
  g_auto(PawlQuestionPoses) poses = { 0 };
  g_autofree char *missing = pawl_rule_find_missing (rule);

  if (rule->kind == PAWL_RULE_EITHER || missing || !is_plain (rule))
    return FALSE;
  draw_as_drawn (rule, &poses);
  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses.poses[i]->len; j++)
      if (!has_stroke (poses.poses[1 - i], g_ptr_array_index (poses.poses[i], j)))
        return TRUE;
  return FALSE;
}

/* ---- from another side ---- */

static void
add_to_frame (const PawlStroke *stroke, PawlBounds *frame)
{
  for (guint i = 0; i < stroke->n_points; i++)
    *frame = (PawlBounds) { MIN (frame->x0, stroke->points[i].x), MIN (frame->y0, stroke->points[i].y),
                            MAX (frame->x1, stroke->points[i].x), MAX (frame->y1, stroke->points[i].y) };
}

static void
see_stroke (PawlStroke *stroke, PawlView view, const PawlBounds *frame)
{
  for (guint i = 0; i < stroke->n_points; i++)
    {
      if (view & PAWL_VIEW_MIRRORED)
        stroke->points[i].x = frame->x0 + frame->x1 - stroke->points[i].x;
      if (view & PAWL_VIEW_UPSIDE_DOWN)
        stroke->points[i].y = frame->y0 + frame->y1 - stroke->points[i].y;
    }
}

/* About the middle of both together, so that they keep their frame. */
void
pawl_question_draw (const PawlQuestion *self, const PawlRule *rule, PawlQuestionPoses *poses)
{
  PawlBounds frame = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  draw_as_drawn (rule, poses);
  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses->poses[i]->len; j++)
      add_to_frame (g_ptr_array_index (poses->poses[i], j), &frame);
  for (int i = 0; i < 2; i++)
    {
      for (guint j = 0; j < poses->poses[i]->len; j++)
        see_stroke (g_ptr_array_index (poses->poses[i], j), self->views[i], &frame);
      if (poses->tellings[i])
        see_stroke (poses->tellings[i], self->views[i], &frame);
    }
}

void
pawl_question_poses_clear (PawlQuestionPoses *self)
{
  for (int i = 0; i < 2; i++)
    {
      g_clear_pointer (&self->poses[i], g_ptr_array_unref);
      g_clear_pointer (&self->tellings[i], pawl_stroke_free);
    }
}
