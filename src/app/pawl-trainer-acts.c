#include "app/pawl-trainer-acts.h"

#include <glib/gi18n.h>
#include "app/pawl-answer.h"
#include "app/pawl-trainer-fields.h"

PawlTold *
pawl_told_new (const char *title, const char *large, const char *text)
{
  PawlTold *self = g_new0 (PawlTold, 1);

  *self = (PawlTold) { g_strdup (title), g_strdup (large), g_strdup (text) };
  return self;
}

void
pawl_told_free (PawlTold *self)
{
  g_free (self->title);
  g_free (self->large);
  g_free (self->text);
  g_free (self);
}

char *
pawl_place_describe (const char *unit, const char *serial, const char *bench, const char *number)
{
  GString *text = g_string_new (unit);

  if (*serial != '\0')
    g_string_append_printf (text, ", %s", serial);
  if (*bench != '\0')
    g_string_append_printf (text, _(", bench %s"), bench);
  g_string_append_printf (text, _(": step %s"), number);
  return g_string_free (text, FALSE);
}

/* ---- waiving ---- */

static void
open_waive (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  const PawlStepState *state = pawl_job_lookup_step (pawl_bench_get_job (scene->bench), scene->step);
  g_autofree char *heading = g_strdup_printf (_("Waive the hold of step %s"), state->step->number);

  pawl_field_form_begin (form, heading, _("Waive it"));
  pawl_field_form_add_text (form, _("Nobody else will look at it. The work goes on, and the reason stands on the report."), NULL);
  pawl_field_form_add_line (form, "reason", _("Why"), NULL);
  pawl_trainer_fields_add (form, pawl_bench_get_record (scene->bench), _("Who waives it"), scene->person);
}

static PawlTold *
take_waive (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error)
{
  g_autofree char *trainer = NULL;
  g_autoptr(GDateTime) now = pawl_bench_now (scene->bench);
  g_autoptr(PawlEntry) entry = NULL;

  if (*pawl_field_form_get (form, "reason") == '\0')
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NEEDS_REASON, _("a hold is waived with a reason"));
      return NULL;
    }
  if (!(trainer = pawl_trainer_fields_prove (form, pawl_bench_get_record (scene->bench), error)))
    return NULL;
  entry = pawl_answer_new_deviation (scene->step, "the hold is waived", pawl_field_form_get (form, "reason"), trainer, (PawlHand) { trainer, now });
  pawl_entry_set (entry, "by-pin", "yes");
  return pawl_bench_append_one (scene->bench, entry, error) ? pawl_told_new (_("The hold is waived"), NULL, _("The work goes on.")) : NULL;
}

/* ---- which is which ---- */

void
pawl_trainer_act_open (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene)
{
  switch (act)
    {
    case PAWL_TRAINER_PLANT: pawl_plant_open (form, scene); break;
    case PAWL_TRAINER_OPEN:  pawl_unseal_open (form, scene); break;
    case PAWL_TRAINER_WAIVE: open_waive (form, scene); break;
    case PAWL_TRAINER_MEASURE:
    default:                 pawl_measure_open (form, scene); break;
    }
  pawl_field_form_go (form);
}

void
pawl_trainer_act_choose (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene)
{
  if (act == PAWL_TRAINER_MEASURE)
    pawl_measure_choose (form, scene);
}

PawlTold *
pawl_trainer_act_take (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene, GError **error)
{
  switch (act)
    {
    case PAWL_TRAINER_PLANT: return pawl_plant_take (form, scene, error);
    case PAWL_TRAINER_OPEN:  return pawl_unseal_take (form, scene, error);
    case PAWL_TRAINER_WAIVE: return take_waive (form, scene, error);
    case PAWL_TRAINER_MEASURE:
    default:                 return pawl_measure_take (form, scene, error);
    }
}
