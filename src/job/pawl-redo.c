#include "job/pawl-redo.h"

#include "job/pawl-job-private.h"

static void
redo_line_free (gpointer data)
{
  PawlRedoLine *self = data;

  g_ptr_array_unref (self->chain);
  g_free (self);
}

void
pawl_redo_plan_free (PawlRedoPlan *self)
{
  g_ptr_array_unref (self->opens);
  g_ptr_array_unref (self->stays);
  g_object_unref (self->after);
  g_free (self);
}

/* A cause may itself have opened long ago; the chain ends there, and a step in it stands once. */
static PawlRedoLine *
redo_line_new (PawlJob *after, const PawlStepState *state)
{
  PawlRedoLine *self = g_new0 (PawlRedoLine, 1);
  const PawlStep *cause = state->redo.step;

  self->state = state;
  self->chain = g_ptr_array_new ();
  while (cause != NULL)
    {
      const PawlStepState *before = pawl_job_lookup_step (after, cause->id);

      if (before == state || g_ptr_array_find (self->chain, before, NULL))
        break;
      g_ptr_array_insert (self->chain, 0, (gpointer) before);
      cause = before->redo.step;
    }
  return self;
}

PawlRedoPlan *
pawl_redo_plan_compare (PawlJob *before, PawlJob *after)
{
  PawlRedoPlan *self = g_new0 (PawlRedoPlan, 1);
  GPtrArray *steps = pawl_job_get_steps (before);

  self->after = g_object_ref (after);
  self->opens = g_ptr_array_new_with_free_func (redo_line_free);
  self->stays = g_ptr_array_new ();
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *then = steps->pdata[i];
      const PawlStepState *now = pawl_job_lookup_step (after, then->step->id);
      gboolean was_finished = then->status == PAWL_STEP_DONE || then->status == PAWL_STEP_SKIPPED;

      if (was_finished && now != NULL && !pawl_step_status_is_over (now->status))
        g_ptr_array_add (self->opens, redo_line_new (after, now));
      else if (was_finished)
        g_ptr_array_add (self->stays, (gpointer) now);
    }
  return self;
}

static PawlRedoPlan *
compare_with (PawlJob *job, PawlEntry *entry, const char *corrected)
{
  g_autoptr(PawlJob) after = pawl_job_imagine (job, entry, corrected);

  return pawl_redo_plan_compare (job, after);
}

PawlRedoPlan *
pawl_redo_plan_new_for_step (PawlJob *job, const char *step_id, GError **error)
{
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_REOPENED, step_id, "-", job->now);

  pawl_entry_set (entry, "reason", "-");
  return pawl_job_check (job, entry, error) ? compare_with (job, entry, NULL) : NULL;
}

PawlRedoPlan *
pawl_redo_plan_new_for_correction (PawlJob *job, const PawlAskState *ask)
{
  return compare_with (job, NULL, ask->ask->id);
}

PawlRedoPlan *
pawl_redo_plan_new_for_undo (PawlJob *job)
{
  PawlEntry *undoable = pawl_job_peek_undoable (job);
  g_autoptr(PawlEntry) entry = undoable != NULL ? pawl_entry_new (PAWL_ENTRY_UNDONE, pawl_entry_get_id (undoable), "-", job->now) : NULL;

  return entry != NULL ? compare_with (job, entry, NULL) : NULL;
}

const char *
pawl_redo_kind_get_word (PawlRedoKind kind)
{
  switch (kind)
    {
    case PAWL_REDO_ASKED:     return "asked";
    case PAWL_REDO_COVERS:    return "covers";
    case PAWL_REDO_DISTURBED: return "disturbed";
    case PAWL_REDO_VARIANT:   return "variant";
    case PAWL_REDO_COUPLED:   return "coupled";
    case PAWL_REDO_NONE:
    default:                  return "";
    }
}

char *
pawl_redo_line_describe_chain (const PawlRedoLine *self)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; self->chain->len > 1 && i < self->chain->len; i++)
    g_string_append_printf (text, "%s → ", ((PawlStepState *) self->chain->pdata[i])->step->number);
  if (text->len > 0)
    g_string_append (text, self->state->step->number);
  return g_string_free (text, FALSE);
}

/* Numbers are places in the file, so those of a row of steps follow each other. */
char *
pawl_redo_plan_describe_stays (const PawlRedoPlan *self)
{
  GString *text = g_string_new (NULL);
  guint first = 0;

  for (guint i = 0; i < self->stays->len; i++)
    {
      const PawlStepState *state = self->stays->pdata[i];
      const PawlStepState *next = i + 1 < self->stays->len ? self->stays->pdata[i + 1] : NULL;
      PawlProcedure *procedure = pawl_job_get_procedure (self->after);
      int index = pawl_procedure_get_step_index (procedure, state->step->id);

      if (next != NULL && pawl_procedure_get_step_index (procedure, next->step->id) == index + 1)
        continue;
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", ((PawlStepState *) self->stays->pdata[first])->step->number);
      if (i > first)
        g_string_append_printf (text, "–%s", state->step->number);
      first = i + 1;
    }
  return g_string_free (text, FALSE);
}

static void
add_parts (GPtrArray *ids, PawlProcedure *procedure, char **parts)
{
  for (; *parts != NULL; parts++)
    if (pawl_procedure_lookup_part (procedure, *parts) != NULL && !g_ptr_array_find_with_equal_func (ids, *parts, g_str_equal, NULL))
      g_ptr_array_add (ids, g_strdup (*parts));
}

char **
pawl_redo_plan_list_parts (const PawlRedoPlan *self)
{
  GPtrArray *ids = g_ptr_array_new ();
  PawlProcedure *procedure = pawl_job_get_procedure (self->after);

  for (guint i = 0; i < self->opens->len; i++)
    {
      const PawlStepState *state = ((PawlRedoLine *) self->opens->pdata[i])->state;

      add_parts (ids, procedure, state->step->installs);
      add_parts (ids, procedure, state->step->removes);
      for (guint j = 0; j < state->step->asks->len; j++)
        {
          const PawlAsk *ask = state->step->asks->pdata[j];

          if (ask->kind == PAWL_ASK_FIT)
            add_parts (ids, procedure, (char *[]) { ask->rule->part, NULL });
        }
    }
  g_ptr_array_add (ids, NULL);
  return (char **) g_ptr_array_free (ids, FALSE);
}
