/* What doing a step again upsets by moving its parts. Runs of a part's removals and installations: see pawl-order.h. */
#include "procedure/pawl-order.h"
#include "procedure/pawl-procedure-private.h"

static gboolean
has (char **ids, const char *id)
{
  return g_strv_contains ((const char * const *) ids, id);
}

static gboolean
asks_about (const PawlAsk *ask, const char *part)
{
  if (ask->kind == PAWL_ASK_FIT)
    return g_strcmp0 (ask->rule->part, part) == 0;
  for (guint i = 0; ask->kind == PAWL_ASK_READING && i < ask->reading->spots->len; i++)
    if (g_strcmp0 (((PawlReadingSpot *) ask->reading->spots->pdata[i])->part, part) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
step_asks_about (const PawlStep *step, const char *part)
{
  for (guint i = 0; i < step->asks->len; i++)
    if (asks_about (step->asks->pdata[i], part))
      return TRUE;
  return FALSE;
}

/* Goes through the file from @step on, as long as @part stays as @step leaves it; then all that moves it is of a later run. */
static void
mark_disturbed (PawlProcedure *procedure, guint start, const PawlPart *part, const PawlPart **moved)
{
  const PawlStep *step = procedure->steps->pdata[start];
  gboolean is_seated = has (step->installs, part->id), is_on = is_seated, is_later = FALSE;

  for (guint i = start + 1; i < procedure->steps->len; i++)
    {
      const PawlStep *other = procedure->steps->pdata[i];
      gboolean removes = has (other->removes, part->id), installs = has (other->installs, part->id);

      is_later |= is_on ? removes : installs;
      if (removes || installs)
        is_on = installs;
      if (moved[i] == NULL && ((is_later && (removes || installs)) || (is_seated && !is_later && !installs && step_asks_about (other, part->id))))
        moved[i] = part;
    }
}

GPtrArray *
pawl_order_list_disturbed (PawlProcedure *procedure, const PawlStep *step)
{
  int start = pawl_procedure_get_step_index (procedure, step->id);
  g_autofree const PawlPart **moved = g_new0 (const PawlPart *, procedure->steps->len);
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (start >= 0, list);

  for (guint i = 0; i < procedure->parts->len; i++)
    {
      const PawlPart *part = procedure->parts->pdata[i];

      if (has (step->installs, part->id) || has (step->removes, part->id))
        mark_disturbed (procedure, (guint) start, part, moved);
    }
  for (guint i = 0; i < procedure->steps->len; i++)
    if (moved[i] != NULL)
      {
        PawlDisturbed *one = g_new (PawlDisturbed, 1);

        *one = (PawlDisturbed) { procedure->steps->pdata[i], moved[i] };
        g_ptr_array_add (list, one);
      }
  return list;
}
