#include "app/pawl-figure-state.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

void
pawl_part_view_free (PawlPartView *self)
{
  g_free (self->words);
  g_free (self);
}

static gboolean
contains (char **ids, const char *id)
{
  return ids != NULL && g_strv_contains ((const char * const *) ids, id);
}

static gboolean
asks_about (const PawlAsk *ask, const char *part)
{
  if (ask->kind == PAWL_ASK_FIT)
    {
      if (g_strcmp0 (ask->rule->part, part) == 0)
        return TRUE;
      for (guint i = 0; ask->rule->candidates != NULL && i < ask->rule->candidates->len; i++)
        if (g_strcmp0 (((PawlCandidate *) ask->rule->candidates->pdata[i])->part, part) == 0)
          return TRUE;
    }
  return ask->kind == PAWL_ASK_DECIDE && g_strcmp0 (ask->decide->part, part) == 0;
}

gboolean
pawl_step_has_part (const PawlStep *step, const PawlPart *part)
{
  if (contains (step->installs, part->id) || contains (step->removes, part->id))
    return TRUE;
  for (guint i = 0; i < step->asks->len; i++)
    if (asks_about (step->asks->pdata[i], part->id))
      return TRUE;
  return FALSE;
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

static PawlState
find_state (PawlPlace place, gboolean is_fitting)
{
  switch (place)
    {
    case PAWL_PLACE_ON_UNIT:
    case PAWL_PLACE_SEATED:
      return PAWL_STATE_SEATED;
    case PAWL_PLACE_OFF:
      return is_fitting ? PAWL_STATE_LATER : PAWL_STATE_OUT;
    case PAWL_PLACE_NOT_YET:
    default:
      return PAWL_STATE_LATER;
    }
}

/* A part in hand that is on the unit stays there, highlighted, until the step is done: then it comes off. */
static PawlPartView *
new_part_view (const PawlPartState *part, const PawlStepState *step, gboolean is_fitting)
{
  PawlPartView *view = g_new0 (PawlPartView, 1);
  gboolean is_of_step = step != NULL && pawl_step_has_part (step->step, part->part);
  gboolean is_home = part->place == PAWL_PLACE_SEATED || part->place == PAWL_PLACE_ON_UNIT;

  view->part = part->part;
  view->state = is_of_step ? PAWL_STATE_HIGHLIGHT : find_state (part->place, is_fitting);
  view->fraction = is_home ? 1 : 0;
  view->words = g_strdup_printf (is_of_step ? _("%s %s: in this step, %s") : "%s %s: %s", part->part->item, part->part->name,
                                 pawl_phrase_get_place (part->place));
  return view;
}

GPtrArray *
pawl_figure_state_new (PawlJob *job, const PawlStep *step)
{
  GPtrArray *parts = pawl_job_get_parts (job);
  GPtrArray *views = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_part_view_free);
  const PawlStepState *state = step != NULL ? pawl_job_lookup_step (job, step->id) : NULL;
  gboolean is_fitting = has_fitting_begun (job);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *part = parts->pdata[i];

      if (part->part->regions != NULL && part->part->regions[0] != NULL)
        g_ptr_array_add (views, new_part_view (part, state, is_fitting));
    }
  return views;
}

char **
pawl_figure_state_list_step_regions (PawlJob *job, const PawlStep *step)
{
  GPtrArray *parts = pawl_job_get_parts (job);
  GPtrArray *regions = g_ptr_array_new ();

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = ((PawlPartState *) parts->pdata[i])->part;

      if (!pawl_step_has_part (step, part))
        continue;
      for (guint j = 0; part->regions != NULL && part->regions[j] != NULL; j++)
        g_ptr_array_add (regions, g_strdup (part->regions[j]));
    }
  g_ptr_array_add (regions, NULL);
  return (char **) g_ptr_array_free (regions, FALSE);
}
