#include "view/pawl-job-view.h"

#include <math.h>

#include "procedure/pawl-variant.h"

static gboolean
contains (char **ids, const char *id)
{
  return g_strv_contains ((const char * const *) ids, id);
}

static gboolean
step_has_part (const PawlStep *step, const char *part)
{
  if (contains (step->installs, part) || contains (step->removes, part))
    return TRUE;
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAsk *ask = step->asks->pdata[i];

      /* The look-alike and the mate are not in the hand: the sketch shows them. */
      if ((ask->kind == PAWL_ASK_FIT && g_str_equal (ask->rule->part, part))
          || (ask->kind == PAWL_ASK_DECIDE && g_str_equal (ask->decide->part, part)))
        return TRUE;
    }
  return FALSE;
}

static gboolean
is_home (PawlPlace place)
{
  return place == PAWL_PLACE_SEATED || place == PAWL_PLACE_ON_UNIT;
}

static gboolean
has_fitting_begun (PawlJob *job)
{
  GPtrArray *parts = pawl_job_get_parts (job);

  for (guint i = 0; i < parts->len; i++)
    if (((PawlPartState *) parts->pdata[i])->place == PAWL_PLACE_SEATED)
      return TRUE;
  return FALSE;
}

static gboolean
is_fitting (PawlJob *job, const PawlStep *step)
{
  return has_fitting_begun (job) || (step != NULL && step->installs[0] != NULL);
}

/* What was taken off lies where the figure draws it, and turns pale from the first step that fits a part, as what comes later is. */
static PawlState
find_state (const PawlPartView *view, gboolean has_begun)
{
  if (view->is_in_hand)
    return PAWL_STATE_HIGHLIGHT;
  if (is_home (view->place))
    return PAWL_STATE_SEATED;
  return view->place == PAWL_PLACE_OFF && !has_begun ? PAWL_STATE_OUT : PAWL_STATE_LATER;
}

static PawlPartView *
part_view_new (PawlJob *job, const PawlPartState *part, const PawlStep *step, gboolean has_begun)
{
  PawlPartView *view = g_new0 (PawlPartView, 1);

  view->part = part->part;
  if (!g_str_equal (part->part->group, part->part->id))
    view->carrier = pawl_procedure_lookup_part (pawl_job_get_procedure (job), part->part->group);
  view->place = part->place;
  view->is_in_hand = step != NULL && step_has_part (step, part->part->id);
  view->state = pawl_variant_matches (part->part->variant, pawl_job_get_variant (job)) ? find_state (view, has_begun) : PAWL_STATE_HIDDEN;
  view->fraction = is_home (view->place) ? 1 : 0;
  return view;
}

GPtrArray *
pawl_job_view_new (PawlJob *job, const PawlStep *step)
{
  GPtrArray *parts = pawl_job_get_parts (job);
  GPtrArray *views = g_ptr_array_new_with_free_func (g_free);
  gboolean has_begun = is_fitting (job, step);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *part = parts->pdata[i];

      if (part->part->regions[0] != NULL)
        g_ptr_array_add (views, part_view_new (job, part, step, has_begun));
    }
  return views;
}

char **
pawl_job_view_list_in_hand (GPtrArray *views)
{
  g_autoptr(GStrvBuilder) regions = g_strv_builder_new ();

  for (guint i = 0; i < views->len; i++)
    {
      const PawlPartView *view = views->pdata[i];

      if (view->is_in_hand)
        g_strv_builder_addv (regions, (const char **) view->part->regions);
    }
  return g_strv_builder_end (regions);
}

void
pawl_job_view_mark (GPtrArray *views, char **parts)
{
  for (guint i = 0; i < views->len; i++)
    {
      PawlPartView *view = views->pdata[i];

      if (!contains (parts, view->part->id))
        continue;
      view->is_in_hand = TRUE;
      view->state = PAWL_STATE_HIGHLIGHT;
    }
}

double
pawl_part_view_get_carried (const PawlPartView *self, GPtrArray *views)
{
  for (guint i = 0; i < views->len && self->carrier != NULL; i++)
    if (((PawlPartView *) views->pdata[i])->part == self->carrier)
      return ((PawlPartView *) views->pdata[i])->fraction;
  return 1;
}

/* What is left of each leg of @part's way home when it is @fraction of the way's length along. */
static PawlPoint *
dup_rest_of_way (const PawlPart *part, double fraction)
{
  PawlPoint *rest = g_new0 (PawlPoint, part->n_slide);
  double whole = 0, gone;

  for (guint i = 0; i < part->n_slide; i++)
    whole += hypot (part->slide[i].x, part->slide[i].y);
  gone = whole * fraction;
  for (guint i = 0; i < part->n_slide; i++)
    {
      double length = hypot (part->slide[i].x, part->slide[i].y), share = length > 0 ? CLAMP (1 - gone / length, 0, 1) : 0;

      rest[i] = (PawlPoint) { share * part->slide[i].x, share * part->slide[i].y };
      gone -= MIN (gone, length);
    }
  return rest;
}

/*
 * A part of a sub-assembly sits on its carrier. While the carrier is not home, home for the part is as far from its own last
 * place as the carrier is from its: what is left of the carrier's way, taken off leg by leg from the last, which run along the
 * same axes.
 */
void
pawl_part_view_place (const PawlPartView *self, PawlScene *scene, double fraction, double carried)
{
  guint n_legs = MAX (self->part->n_slide, 1);
  g_autofree PawlPoint *legs = g_new0 (PawlPoint, n_legs);
  g_autofree PawlPoint *rest = self->carrier != NULL ? dup_rest_of_way (self->carrier, carried) : NULL;

  for (guint i = 0; i < self->part->n_slide; i++)
    legs[i] = self->part->slide[i];
  for (guint i = 0; self->carrier != NULL && i < self->carrier->n_slide; i++)
    {
      guint after = MIN (self->carrier->n_slide - 1 - i, n_legs - 1);

      legs[n_legs - 1 - after].x -= rest[i].x;
      legs[n_legs - 1 - after].y -= rest[i].y;
    }
  for (char **region = self->part->regions; *region != NULL; region++)
    {
      pawl_scene_set_slide (scene, *region, legs, n_legs);
      pawl_scene_set_fraction (scene, *region, fraction);
    }
}

void
pawl_job_view_apply (GPtrArray *views, PawlScene *scene)
{
  pawl_scene_clear_items (scene);
  for (guint i = 0; i < views->len; i++)
    {
      const PawlPartView *view = views->pdata[i];

      for (char **region = view->part->regions; *region != NULL; region++)
        pawl_scene_set_state (scene, *region, view->state);
      pawl_part_view_place (view, scene, view->fraction, pawl_part_view_get_carried (view, views));
      if (view->is_in_hand)
        pawl_scene_add_item (scene, view->part->item, (const char * const *) view->part->regions);
    }
}

void
pawl_view_hide_pictures (PawlProcedure *procedure, PawlScene *scene)
{
  g_autoptr(GPtrArray) pictures = pawl_procedure_list_pictures (procedure);

  for (guint i = 0; i < pictures->len; i++)
    pawl_scene_set_state (scene, ((PawlOutcomePicture *) pictures->pdata[i])->region, PAWL_STATE_HIDDEN);
}

void
pawl_view_apply_exploded (PawlProcedure *procedure, PawlScene *scene)
{
  GPtrArray *parts = pawl_procedure_get_parts (procedure);

  pawl_view_hide_pictures (procedure, scene);
  pawl_scene_clear_items (scene);
  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = parts->pdata[i];

      if (part->regions[0] != NULL)
        pawl_scene_add_item (scene, part->item, (const char * const *) part->regions);
    }
}
