#include "fit/pawl-rule.h"

#include <math.h>

#include "fit/pawl-outline.h"

static const char * const kind_names[] = { "sense", "side", "index", "spread", "which", "order", "mate", "either" };

PawlRule *
pawl_rule_new (PawlRuleKind kind)
{
  PawlRule *self = g_new0 (PawlRule, 1);

  self->kind = kind;
  self->candidates = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_candidate_free);
  self->shown_by = g_new0 (char *, 1);
  return self;
}

void
pawl_rule_free (PawlRule *self)
{
  if (!self)
    return;
  pawl_shape_free (self->shape);
  g_ptr_array_unref (self->candidates);
  g_strfreev (self->shown_by);
  g_free (self->angles);
  g_free (self->wrong_angles);
  g_free (self->forbidden);
  g_free (self->id);
  g_free (self->part);
  g_free (self->says);
  g_free (self->datum);
  g_free (self->datum_note);
  g_free (self->consequence);
  g_free (self->tell);
  g_free (self->verify);
  g_free (self->source);
  g_free (self->variant);
  g_free (self->dimension_name);
  g_free (self->symmetry);
  g_free (self);
}

PawlCandidate *
pawl_candidate_new (void)
{
  return g_new0 (PawlCandidate, 1);
}

void
pawl_candidate_free (PawlCandidate *self)
{
  if (!self)
    return;
  pawl_shape_free (self->shape);
  g_free (self->part);
  g_free (self->item);
  g_free (self->name);
  g_free (self->place);
  g_free (self);
}

const char *
pawl_rule_kind_get_name (PawlRuleKind kind)
{
  g_return_val_if_fail (kind < G_N_ELEMENTS (kind_names), NULL);
  return kind_names[kind];
}

gboolean
pawl_rule_kind_from_name (const char *name, PawlRuleKind *kind)
{
  for (guint i = 0; name && i < G_N_ELEMENTS (kind_names); i++)
    if (g_str_equal (name, kind_names[i]))
      {
        *kind = i;
        return TRUE;
      }
  return FALSE;
}

/* ---- what is missing, kind by kind: a noun phrase, or NULL ---- */

static const char *
find_shape_fault (const PawlShape *shape)
{
  if (!shape)
    return "the part's outline (turned or outline)";
  if (shape->n_points < 3)
    return "at least three points in the part's outline";
  for (guint i = 0; i < shape->n_points; i++)
    {
      if (!isfinite (shape->points[i].x) || !isfinite (shape->points[i].y))
        return "finite numbers in the part's outline";
      if (shape->is_turned && shape->points[i].y < 0)
        return "radii of zero or more in the turned profile";
    }
  if (pawl_outline_area (shape->points, shape->n_points) <= 0)
    return "an outline that encloses an area (a solid turned part begins and ends on its axis)";
  return NULL;
}

static const char *
find_side_fault (const PawlRule *self)
{
  double angle = self->line_angle * G_PI / 180;
  double distance = (self->feature_point.x - self->line_point.x) * sin (angle) - (self->feature_point.y - self->line_point.y) * cos (angle);

  if (!isfinite (distance))
    return "finite numbers for the line and the feature";
  if (fabs (distance) < 1e-9)
    return "a feature that lies to one side of the line";
  if (!(self->pin >= 0) || !isfinite (self->pin) || !isfinite (self->sweep) || !isfinite (self->pivot.x) || !isfinite (self->pivot.y))
    return "a pin of a diameter of zero or more, and finite numbers for pivot and sweep";
  if (fabs (self->sweep) > 360)
    return "a sweep of no more than a full turn";
  return self->shape ? find_shape_fault (self->shape) : NULL;
}

static const char *
find_index_fault (const PawlRule *self)
{
  if (!isfinite (self->wrong) || self->wrong == 0)
    return "the offset of the usual mistake (wrong)";
  if (!(self->tolerance >= 0))
    return "a tolerance of zero or more";
  if (fabs (self->wrong) <= self->tolerance)
    return "a usual mistake (wrong) larger than the tolerance";
  if (self->index_kind == PAWL_INDEX_HOLE && !(self->diameter > 0))
    return "the diameter of the holes";
  if (self->index_kind == PAWL_INDEX_ANGLE && !(self->radius > 0))
    return "the radius at which the marks lie";
  return self->shape ? find_shape_fault (self->shape) : NULL;
}

static const char *
find_spread_fault (const PawlRule *self)
{
  if (self->n_angles < 1)
    return "the angles of the gaps (right)";
  if (self->n_wrong_angles && self->n_wrong_angles != self->n_angles)
    return "as many wrong angles as right ones";
  if (!(self->outside > 0) && !(self->radius > 0))
    return "the outside diameter of the ring";
  if (self->outside > 0 && !(self->inside >= 0 && self->inside < self->outside))
    return "an inside diameter smaller than the outside one";
  if (self->n_angles > 1 && !(self->min_separation > 0) && !self->n_forbidden)
    return "the least angle between gaps (apart), or arcs to keep clear of";
  if (self->n_angles == 1 && !self->n_forbidden)
    return "a second gap, or an arc to keep clear of";
  return NULL;
}

/* A look-alike may lack the very feature that tells it apart, a bush without the cross hole: then its size is 0, and its shape must be given. */
static gboolean
has_dimension (const PawlRule *rule, const PawlCandidate *candidate)
{
  if (rule->kind == PAWL_RULE_WHICH && candidate->shape && candidate->dimension == 0)
    return TRUE;
  return candidate->dimension > 0 && isfinite (candidate->dimension);
}

static const char *
find_candidates_fault (const PawlRule *self, const char *too_few, const char *dimension)
{
  if (self->candidates->len < 2)
    return too_few;
  for (guint i = 0; i < self->candidates->len; i++)
    {
      const PawlCandidate *candidate = g_ptr_array_index (self->candidates, i);
      const char *fault;

      if (dimension && !has_dimension (self, candidate))
        return dimension;
      if (candidate->shape && (fault = find_shape_fault (candidate->shape)))
        return fault;
    }
  return NULL;
}

char *
pawl_rule_find_missing (const PawlRule *self)
{
  const char *fault = NULL;

  g_return_val_if_fail (self != NULL, NULL);
  switch (self->kind)
    {
    case PAWL_RULE_SENSE:
      fault = find_shape_fault (self->shape);
      break;
    case PAWL_RULE_SIDE:
      fault = find_side_fault (self);
      break;
    case PAWL_RULE_INDEX:
      fault = find_index_fault (self);
      break;
    case PAWL_RULE_SPREAD:
      fault = find_spread_fault (self);
      break;
    case PAWL_RULE_WHICH:
      fault = find_candidates_fault (self, "two candidates or more", "the size of each candidate");
      break;
    case PAWL_RULE_ORDER:
      fault = find_candidates_fault (self, "two layers or more", "the thickness of each layer");
      break;
    case PAWL_RULE_MATE:
      fault = find_candidates_fault (self, "two pieces or more", NULL);
      break;
    case PAWL_RULE_EITHER:
      if (!self->symmetry || !*self->symmetry)
        fault = "the reason why either way is right (symmetry)";
      else if (self->shape)
        fault = find_shape_fault (self->shape);
      break;
    default:
      g_return_val_if_reached (NULL);
    }
  return g_strdup (fault);
}
