#include "view/pawl-build-up.h"

#include <math.h>

/* A part sets off when the one before it is this far on its way. */
#define LEAD 0.35

struct _PawlBuildUp {
  PawlProcedure *procedure;
  char          *variant;
  GPtrArray     *steps;  /* (element-type PawlStep) those that apply */
  GPtrArray     *mirror; /* (nullable) (element-type PawlMirrorStep): it takes apart */
  PawlJob       *job;    /* (nullable) the fold of the first @n_done of them */
  guint          n_done;
};

/* The job that somebody would have who has finished the first @n steps, without a word about readings. */
static PawlJob *
fold (PawlBuildUp *self, guint n)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr(GDateTime) now = g_date_time_new_from_unix_utc (0);
  PawlEntry *opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "", now);

  pawl_entry_set (opened, "variant", self->variant);
  g_ptr_array_add (entries, opened);
  for (guint i = 0; i < n; i++)
    g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_STEP_DONE, ((PawlStep *) self->steps->pdata[i])->id, "", now));
  return pawl_job_fold (self->procedure, entries, now);
}

static PawlJob *
get_job (PawlBuildUp *self, guint n)
{
  if (self->job == NULL || self->n_done != n)
    {
      g_clear_object (&self->job);
      self->job = fold (self, n);
      self->n_done = n;
    }
  return self->job;
}

PawlBuildUp *
pawl_build_up_new (PawlProcedure *procedure, const char *variant)
{
  PawlBuildUp *self = g_new0 (PawlBuildUp, 1);
  GPtrArray *states;

  self->procedure = g_object_ref (procedure);
  self->variant = g_strdup (variant != NULL ? variant : "");
  self->steps = g_ptr_array_new ();
  states = pawl_job_get_steps (get_job (self, 0));
  for (guint i = 0; i < states->len; i++)
    {
      const PawlStepState *state = states->pdata[i];

      if (state->status != PAWL_STEP_NOT_APPLICABLE)
        g_ptr_array_add (self->steps, (gpointer) state->step);
    }
  return self;
}

PawlBuildUp *
pawl_build_up_new_mirrored (PawlProcedure *procedure, const char *variant)
{
  PawlBuildUp *self = pawl_build_up_new (procedure, variant);

  self->mirror = pawl_mirror_list (procedure, self->variant);
  return self;
}

void
pawl_build_up_free (PawlBuildUp *self)
{
  g_clear_object (&self->job);
  g_clear_pointer (&self->mirror, g_ptr_array_unref);
  g_ptr_array_unref (self->steps);
  g_object_unref (self->procedure);
  g_free (self->variant);
  g_free (self);
}

const char *
pawl_build_up_get_variant (PawlBuildUp *self)
{
  return self->variant;
}

GPtrArray *
pawl_build_up_get_mirror (PawlBuildUp *self)
{
  return self->mirror;
}

guint
pawl_build_up_get_length (PawlBuildUp *self)
{
  return self->mirror != NULL ? self->mirror->len : self->steps->len;
}

static const PawlStep *
peek_nth (PawlBuildUp *self, guint n)
{
  return self->mirror != NULL ? ((PawlMirrorStep *) self->mirror->pdata[n])->step : self->steps->pdata[n];
}

const PawlStep *
pawl_build_up_peek_step (PawlBuildUp *self, double position)
{
  guint n = (guint) MAX (position, 0);

  return n < pawl_build_up_get_length (self) ? peek_nth (self, n) : NULL;
}

double
pawl_build_up_find (PawlBuildUp *self, const char *step_id)
{
  for (guint i = 0; i < pawl_build_up_get_length (self); i++)
    if (g_str_equal (peek_nth (self, i)->id, step_id))
      return i;
  return -1;
}

static PawlPartView *
find_view (GPtrArray *views, const char *part_id)
{
  for (guint i = 0; i < views->len; i++)
    if (g_str_equal (((PawlPartView *) views->pdata[i])->part->id, part_id))
      return views->pdata[i];
  return NULL;
}

/* The @i-th of @n parts when @t of the step's time is over: each takes the same time, and sets off once the one before is LEAD on its way. */
static double
stagger (double t, guint i, guint n)
{
  double whole = 1 + LEAD * (n - 1);

  return CLAMP (t * whole - LEAD * i, 0, 1);
}

static void
move_parts (GPtrArray *views, char **ids, double t, gboolean is_coming)
{
  guint n = g_strv_length (ids);

  for (guint i = 0; i < n; i++)
    {
      PawlPartView *view = find_view (views, ids[i]);
      double done = stagger (t, i, n);

      if (view != NULL)
        view->fraction = is_coming ? done : 1 - done;
    }
}

static GPtrArray *
view_assembly (PawlBuildUp *self, double place)
{
  const PawlStep *step = pawl_build_up_peek_step (self, place);
  GPtrArray *views = pawl_job_view_new (get_job (self, (guint) place), step);

  if (step != NULL && place > floor (place))
    {
      move_parts (views, step->removes, place - floor (place), FALSE);
      move_parts (views, step->installs, place - floor (place), TRUE);
    }
  return views;
}

/* Parts that are all the way off lie where the figure draws them; those on their way are in the hand. */
static void
take_off (GPtrArray *views, const PawlMirrorStep *step, double t)
{
  for (guint i = 0; i < step->parts->len; i++)
    {
      PawlPartView *view = find_view (views, ((PawlPart *) step->parts->pdata[i])->id);

      if (view == NULL || view->state == PAWL_STATE_HIDDEN)
        continue;
      view->fraction = 1 - stagger (t, i, step->parts->len);
      view->is_in_hand = t < 1;
      view->place = t < 1 ? view->place : PAWL_PLACE_OFF;
      view->state = t < 1 ? PAWL_STATE_HIGHLIGHT : PAWL_STATE_OUT;
    }
}

static GPtrArray *
view_mirror (PawlBuildUp *self, double place)
{
  GPtrArray *views = pawl_job_view_new (get_job (self, self->steps->len), NULL);

  for (guint i = 0; i < self->mirror->len && i <= place; i++)
    take_off (views, self->mirror->pdata[i], MIN (place - i, 1));
  return views;
}

GPtrArray *
pawl_build_up_view (PawlBuildUp *self, double position)
{
  double place = CLAMP (position, 0, pawl_build_up_get_length (self));

  return self->mirror != NULL ? view_mirror (self, place) : view_assembly (self, place);
}
