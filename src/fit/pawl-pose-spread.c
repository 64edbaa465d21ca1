/* Poses of the kind spread: rings seen along their axis, one inside the other, each with its gap; and the arcs that gaps keep clear of. */
#include "fit/pawl-pose-private.h"

#include <math.h>

#include "fit/pawl-mistake.h"

/* Half the width of a gap as drawn, degrees; what it is on the part does not matter to the rule. */
#define GAP_HALF_DEG 5.0
/* Of a ring's share of the band, what it fills itself. */
#define RING_SHARE 0.9

typedef struct {
  double outer, inner; /* radii */
  double band;         /* of one ring with its clearance */
} Rings;

static Rings
get_rings (const PawlRule *rule)
{
  Rings rings = { .outer = rule->outside > 0 ? rule->outside / 2 : rule->radius };

  rings.inner = MIN (rule->outside > 0 ? rule->inside / 2 : 0.7 * rings.outer, 0.9 * rings.outer);
  rings.band = (rings.outer - rings.inner) / rule->n_angles;
  return rings;
}

static PawlPoint
get_polar (double radius, double angle_deg)
{
  return (PawlPoint) { radius * cos (angle_deg * G_PI / 180), -radius * sin (angle_deg * G_PI / 180) };
}

static void
draw_open_ring (GPtrArray *pose, const Rings *rings, guint n, double gap_deg)
{
  PawlStroke *ring = pawl_pose_begin (pose, PAWL_STROKE_OUTLINE, NULL);
  double outer = rings->outer - n * rings->band, inner = outer - RING_SHARE * rings->band;

  pawl_stroke_arc (ring, 0, 0, outer, gap_deg + GAP_HALF_DEG, gap_deg + 360 - GAP_HALF_DEG);
  pawl_stroke_arc (ring, 0, 0, inner, gap_deg + 360 - GAP_HALF_DEG, gap_deg + GAP_HALF_DEG);
  ring->is_closed = ring->is_filled = TRUE;
}

static void
draw_keep_clear (GPtrArray *pose, const PawlRule *rule, double inner, double outer)
{
  for (guint i = 0; i + 1 < rule->n_forbidden; i += 2)
    {
      double from = rule->forbidden[i], to = rule->forbidden[i + 1];
      PawlStroke *sector = pawl_pose_begin (pose, PAWL_STROKE_NEIGHBOUR, i == 0 ? rule->datum : NULL);

      to = from + fmod (fmod (to - from, 360) + 360, 360);
      pawl_stroke_arc (sector, 0, 0, outer, from, to);
      pawl_stroke_arc (sector, 0, 0, inner, to, from);
      sector->is_closed = TRUE;
    }
}

/* ---- what the gaps keep from each other ---- */

/* The two gaps that are closest, as it is right. FALSE with one gap only. */
static gboolean
find_closest (const PawlRule *rule, double *from, double *between)
{
  *between = INFINITY;
  for (guint i = 0; i < rule->n_angles; i++)
    for (guint j = 0; j < rule->n_angles; j++)
      {
        double way = fmod (fmod (rule->angles[j] - rule->angles[i], 360) + 360, 360);

        /* Two that lie opposite are as far one way as the other: then the way that is clear. */
        if (i != j && way <= 180 && (way < *between - 1e-6 || (way < *between + 1e-6 && sin (rule->angles[i] * G_PI / 180) < -1e-6)))
          {
            *between = way;
            *from = rule->angles[i];
          }
      }
  return isfinite (*between);
}

static void
draw_arc (GPtrArray *pose, PawlStrokeKind kind, double radius, double from, double to)
{
  PawlStroke *arc = pawl_pose_begin (pose, kind, NULL);
  PawlPoint p = get_polar (radius, from), q = get_polar (radius, to);

  pawl_stroke_line_to (arc, p.x, p.y);
  pawl_stroke_line_to (arc, q.x, q.y);
  pawl_stroke_line_to (arc, 0, 0);
  arc->says = PAWL_SAYS_ANGLE;
  arc->value = fabs (to - from);
}

static void
draw_measures (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  double from, to, between, radius = pawl_mistake_get_ring_radius (rule);

  if (!is_wrong && find_closest (rule, &from, &between))
    draw_arc (pose, PAWL_STROKE_DIMENSION, radius, from, from + between);
  if (is_wrong && pawl_mistake_get_shortfall_deg (rule, &from, &to) > 0)
    draw_arc (pose, PAWL_STROKE_DIFFERENCE, radius, from, to);
}

void
pawl_pose_spread (GPtrArray *pose, const PawlRule *rule, gboolean is_wrong)
{
  Rings rings = get_rings (rule);

  draw_keep_clear (pose, rule, 1.05 * rings.outer, 1.2 * rings.outer);
  pawl_pose_cross (pose, (PawlPoint) { 0, 0 }, MAX (0.3 * rings.outer, 0.8 * rings.inner));
  for (guint i = 0; i < rule->n_angles; i++)
    {
      g_autofree char *number = rule->n_angles > 1 ? g_strdup_printf ("%u", i + 1) : NULL;
      double gap = is_wrong ? pawl_mistake_get_gap_deg (rule, i) : rule->angles[i];
      double middle = rings.outer - (i + 0.5 * RING_SHARE) * rings.band;
      PawlPoint by = get_polar (middle, gap - GAP_HALF_DEG - 8), p, q;

      draw_open_ring (pose, &rings, i, gap);
      /* The number belongs to the ring: it points at it beside the gap, where nothing else is. */
      if (number)
        pawl_pose_line (pose, PAWL_STROKE_DETAIL, by.x, by.y, by.x, by.y, number);
      if (!is_wrong || fabs (remainder (rule->angles[i] - gap, 360)) < 0.5)
        continue;
      p = get_polar (middle - 0.7 * rings.band, rule->angles[i]);
      q = get_polar (middle + 0.7 * rings.band, rule->angles[i]);
      pawl_pose_line (pose, PAWL_STROKE_GHOST, p.x, p.y, q.x, q.y, NULL);
    }
  draw_measures (pose, rule, is_wrong);
}
