#include "job/pawl-variant-change.h"

#include "job/pawl-job-private.h"
#include "procedure/pawl-variant.h"

static void
line_free (gpointer data)
{
  PawlVariantChangeLine *self = data;

  g_free (self->before);
  g_free (self->after);
  g_free (self);
}

void
pawl_variant_change_free (PawlVariantChange *self)
{
  g_ptr_array_unref (self->lines);
  pawl_redo_plan_free (self->redo);
  g_free (self);
}

static PawlVariantChangeLine *
add (PawlVariantChange *self, PawlChangeKind kind)
{
  PawlVariantChangeLine *line = g_new0 (PawlVariantChangeLine, 1);

  line->kind = kind;
  g_ptr_array_add (self->lines, line);
  return line;
}

/* ---- an ask ---- */

static char *
describe_limits (const PawlAskState *ask)
{
  return ask->limits != NULL ? pawl_limits_describe (ask->limits) : NULL;
}

static void
compare_ask (PawlVariantChange *self, const PawlAskState *before, const PawlAskState *after)
{
  gboolean was = before->status != PAWL_ASK_NOT_APPLICABLE, is = after->status != PAWL_ASK_NOT_APPLICABLE;
  g_autofree char *then = was ? describe_limits (before) : NULL, *now = is ? describe_limits (after) : NULL;
  PawlVariantChangeLine *line;

  if (was == is && (!is || g_strcmp0 (then, now) == 0))
    return;
  line = add (self, was == is ? PAWL_CHANGE_LIMITS : is ? PAWL_CHANGE_COMES : PAWL_CHANGE_GOES);
  line->step = after->step;
  line->ask = is ? after : before;
  line->before = g_steal_pointer (&then);
  line->after = g_steal_pointer (&now);
}

/* ---- a step: when it comes or goes, so do its asks, and nothing is said of them ---- */

static void
compare_step (PawlVariantChange *self, const PawlStepState *before, const PawlStepState *after)
{
  gboolean was = before->status != PAWL_STEP_NOT_APPLICABLE, is = after->status != PAWL_STEP_NOT_APPLICABLE;

  if (was != is)
    add (self, is ? PAWL_CHANGE_COMES : PAWL_CHANGE_GOES)->step = after->step;
  for (guint i = 0; was && is && i < before->asks->len; i++)
    compare_ask (self, before->asks->pdata[i], after->asks->pdata[i]);
}

static void
compare_parts (PawlVariantChange *self, PawlJob *before, PawlJob *after)
{
  GPtrArray *parts = pawl_procedure_get_parts (pawl_job_get_procedure (before));

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = parts->pdata[i];
      gboolean was = pawl_variant_matches (part->variant, pawl_job_get_variant (before)), is = pawl_variant_matches (part->variant, pawl_job_get_variant (after));

      if (was != is)
        add (self, is ? PAWL_CHANGE_COMES : PAWL_CHANGE_GOES)->part = part;
    }
}

PawlVariantChange *
pawl_variant_change_new (PawlJob *job, const char *variant, GError **error)
{
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_IDENTIFIED, "", "-", pawl_job_peek_now (job));
  g_autoptr(PawlJob) after = NULL;
  GPtrArray *then = pawl_job_get_steps (job), *now;
  PawlVariantChange *self;

  pawl_entry_set (entry, "variant", variant);
  pawl_entry_set (entry, "reason", "-");
  if (!pawl_job_check (job, entry, error))
    return NULL;
  after = pawl_job_imagine (job, entry, NULL);
  now = pawl_job_get_steps (after);
  self = g_new0 (PawlVariantChange, 1);
  self->redo = pawl_redo_plan_compare (job, after); /* holds @after */
  self->lines = g_ptr_array_new_with_free_func (line_free);
  for (guint i = 0; i < then->len; i++)
    compare_step (self, then->pdata[i], now->pdata[i]);
  compare_parts (self, job, after);
  return self;
}

/* ---- words ---- */

static char *
describe_ask (const PawlVariantChangeLine *self)
{
  const char *name = self->ask->ask->name, *number = self->step->number;

  if (self->kind == PAWL_CHANGE_LIMITS)
    return g_strdup_printf ("“%s” of step %s: %s in place of %s", name, number, self->after != NULL ? self->after : "no limits",
                            self->before != NULL ? self->before : "none");
  if (self->before != NULL || self->after != NULL)
    return g_strdup_printf ("“%s” of step %s, %s", name, number, self->after != NULL ? self->after : self->before);
  return g_strdup_printf ("“%s” of step %s: %s", name, number, self->ask->ask->says);
}

char *
pawl_variant_change_line_describe (const PawlVariantChangeLine *self)
{
  if (self->ask != NULL)
    return describe_ask (self);
  if (self->part != NULL)
    return g_strdup_printf ("part %s, %s", self->part->item, self->part->name);
  return g_strdup_printf ("step %s, %s", self->step->number, self->step->command);
}

const char *
pawl_change_kind_get_word (PawlChangeKind kind)
{
  switch (kind)
    {
    case PAWL_CHANGE_COMES:  return "comes";
    case PAWL_CHANGE_GOES:   return "goes";
    case PAWL_CHANGE_LIMITS: return "limits";
    default:                 g_return_val_if_reached ("");
    }
}
