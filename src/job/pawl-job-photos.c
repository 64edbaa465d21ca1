#include "job/pawl-job-photos.h"

#include "job/pawl-job-private.h"
#include "procedure/pawl-hidden.h"

/* The ids that the note of going on without a photo is about. */
#define NO_PHOTO "no-photo"

/* ---- the fold ---- */

void
pawl_job_find_hidden (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStepState *state = self->steps->pdata[i];
      g_autoptr(GPtrArray) traps = pawl_hidden_list_traps (self->procedure, state->step);

      for (guint j = 0; j < traps->len; j++)
        g_ptr_array_add (state->hides, g_hash_table_lookup (self->ask_by_id, ((PawlAsk *) traps->pdata[j])->id));
    }
}

/* By what was entered so far: of no use once a step that hides it is done. */
static gboolean
is_hidden_already (PawlJob *self, PawlAskState *ask)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      if (state->done != NULL && state->redo_reason == NULL && g_ptr_array_find (state->hides, ask, NULL))
        return TRUE;
    }
  return FALSE;
}

static void
show_all (PawlJob *self, GPtrArray *asks, PawlEntry *photo)
{
  for (guint i = 0; i < asks->len; i++)
    {
      PawlAskState *ask = asks->pdata[i];

      if (ask->ask->kind == PAWL_ASK_FIT && pawl_hidden_is_trap (self->procedure, ask->ask) && !is_hidden_already (self, ask))
        ask->photo = photo;
    }
}

static void
apply_no_photo (PawlJob *self, PawlEntry *note)
{
  const char *ids = pawl_entry_get (note, NO_PHOTO);
  g_auto(GStrv) list = g_strsplit (ids != NULL ? ids : "", " ", -1);

  for (char **id = list; *id != NULL; id++)
    {
      PawlAskState *ask = g_hash_table_lookup (self->ask_by_id, *id);

      if (ask != NULL)
        ask->no_photo = note;
    }
}

void
pawl_job_apply_photo (PawlJob *self, PawlStepState *state, PawlEntry *entry)
{
  if (pawl_entry_get_kind (entry) == PAWL_ENTRY_PHOTO)
    {
      show_all (self, state->asks, entry);
      show_all (self, state->hides, entry);
    }
  else
    apply_no_photo (self, entry);
}

void
pawl_job_settle_hidden (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      for (guint j = 0; state->status == PAWL_STEP_DONE && j < state->hides->len; j++)
        {
          PawlAskState *ask = state->hides->pdata[j];

          if (ask->covered_by == NULL)
            ask->covered_by = state->step;
        }
    }
}

/* ---- what is wanted ---- */

static gboolean
is_fitted (const PawlAskState *ask)
{
  return ask->status == PAWL_ASK_ACCEPTED || ask->status == PAWL_ASK_DEVIATED;
}

GPtrArray *
pawl_step_list_photos_wanted (const PawlStepState *step)
{
  GPtrArray *list = g_ptr_array_new ();
  gboolean is_open = step->status == PAWL_STEP_OPEN || step->status == PAWL_STEP_WAITING || step->status == PAWL_STEP_REDO;

  for (guint i = 0; is_open && i < step->hides->len; i++)
    {
      PawlAskState *ask = step->hides->pdata[i];

      if (is_fitted (ask) && ask->photo == NULL && ask->no_photo == NULL && ask->covered_by == NULL)
        g_ptr_array_add (list, ask);
    }
  return list;
}

char *
pawl_photos_describe (PawlJob *self, GPtrArray *asks)
{
  g_autoptr(GPtrArray) traps = g_ptr_array_new ();

  for (guint i = 0; i < asks->len; i++)
    g_ptr_array_add (traps, (gpointer) ((PawlAskState *) asks->pdata[i])->ask);
  return pawl_hidden_describe (self->procedure, traps);
}

PawlEntry *
pawl_job_new_no_photo (PawlJob *self, const PawlStepState *step, const char *reason, const char *person, GDateTime *at)
{
  g_autoptr(GPtrArray) wanted = pawl_step_list_photos_wanted (step);
  g_autofree char *what = pawl_photos_describe (self, wanted);
  g_autofree char *text = g_strdup_printf ("No photo of %s before step %s hides it%s%s", what, step->step->number,
                                           reason != NULL && *reason != '\0' ? ": " : "", reason != NULL ? reason : "");
  g_autoptr(GString) ids = g_string_new (NULL);
  PawlEntry *note = pawl_entry_new (PAWL_ENTRY_NOTED, step->step->id, person, at);

  for (guint i = 0; i < wanted->len; i++)
    g_string_append_printf (ids, "%s%s", i > 0 ? " " : "", ((PawlAskState *) wanted->pdata[i])->ask->id);
  pawl_entry_set (note, "text", text);
  pawl_entry_set (note, NO_PHOTO, ids->str);
  pawl_entry_set (note, "reason", reason);
  return note;
}

gboolean
pawl_job_check_no_photo (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *ids = pawl_entry_get (entry, NO_PHOTO);
  const PawlStepState *state = ids != NULL ? pawl_job_lookup_step (self, pawl_entry_get_subject (entry)) : NULL;
  g_autoptr(GPtrArray) wanted = state != NULL ? pawl_step_list_photos_wanted (state) : NULL;
  g_auto(GStrv) list = g_strsplit (ids != NULL ? ids : "", " ", -1);

  if (ids != NULL && state == NULL)
    return pawl_job_refuse (error, PAWL_JOB_ERROR_UNKNOWN, "going on without a photo is said of a step, and the procedure has no step “%s”",
                            pawl_entry_get_subject (entry));
  for (char **id = list; *id != NULL; id++)
    if (!g_ptr_array_find (wanted, g_hash_table_lookup (self->ask_by_id, *id), NULL))
      return pawl_job_refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s asks for no photo of “%s” now", state->step->number, *id);
  return TRUE;
}

/* ---- what went without ---- */

GPtrArray *
pawl_job_list_unphotographed (PawlJob *self, guint *n_hidden)
{
  GPtrArray *list = g_ptr_array_new ();
  guint n = 0;

  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      for (guint j = 0; j < state->asks->len; j++)
        {
          PawlAskState *ask = state->asks->pdata[j];

          if (ask->covered_by == NULL || !is_fitted (ask))
            continue;
          n++;
          if (ask->photo == NULL)
            g_ptr_array_add (list, ask);
        }
    }
  if (n_hidden != NULL)
    *n_hidden = n;
  return list;
}
