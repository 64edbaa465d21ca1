/* The small forms of the step panel: a note, a deviation, a step left out or done again, a hold released. */
#include "app/pawl-step-panel-private.h"

#include <glib/gi18n.h>
#include "app/pawl-photo-ask.h"
#include "app/pawl-signature.h"

/* ---- what was typed into them ---- */

/* The small form is one for all steps and kinds: what was typed belongs to the step that was on show. */
void
pawl_step_panel_keep_form (PawlStepPanel *self)
{
  PawlPromptForm *form = PAWL_PROMPT_FORM (self->form);

  for (guint i = 0; self->step_id != NULL && i < PAWL_PROMPT_N_LINES; i++)
    {
      g_autofree char *field = g_strdup_printf ("form-%d-%u", pawl_prompt_form_get_kind (form), i);

      pawl_session_keep_draft (self->session, self->step_id, field, pawl_prompt_form_get_line (form, i));
    }
}

void
pawl_step_panel_restore_form (PawlStepPanel *self)
{
  PawlPromptForm *form = PAWL_PROMPT_FORM (self->form);

  for (guint i = 0; self->step_id != NULL && i < PAWL_PROMPT_N_LINES; i++)
    {
      g_autofree char *field = g_strdup_printf ("form-%d-%u", pawl_prompt_form_get_kind (form), i);

      pawl_prompt_form_set_line (form, i, pawl_session_peek_draft (self->session, self->step_id, field));
    }
}

/* ---- the small forms ---- */

void
pawl_step_panel_prompt (PawlStepPanel *self, PawlPromptKind kind)
{
  pawl_step_panel_keep_form (self);
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->form), kind);
  pawl_step_panel_restore_form (self);
  pawl_step_panel_apply_opens (self);
}

const char *
pawl_step_panel_get_photo_reason (PawlStepPanel *self)
{
  return pawl_photo_ask_get_reason (PAWL_PHOTO_ASK (self->photo_ask));
}

static PawlEntry *
make_entry (PawlStepPanel *self, PawlPromptForm *form, const PawlStepState *state)
{
  const PawlStep *step = state->step;
  PawlHand hand = pawl_session_make_hand (self->session);
  const char *first = pawl_prompt_form_get_line (form, 0), *second = pawl_prompt_form_get_line (form, 1);

  switch (pawl_prompt_form_get_kind (form))
    {
    case PAWL_PROMPT_NOTE:
      return pawl_answer_new_note (step, first, hand);
    case PAWL_PROMPT_DEVIATE:
      return pawl_answer_new_deviation (step->id, first, second, pawl_prompt_form_get_line (form, 2), hand);
    case PAWL_PROMPT_SKIP:
      return pawl_answer_new_deviation (step->id, "skipped", first, second, hand);
    case PAWL_PROMPT_REDO:
      return pawl_answer_new_reopening (step, first, hand);
    case PAWL_PROMPT_RELEASE:
      return pawl_answer_new_release (state, (PawlHand) { first, hand.at });
    case PAWL_PROMPT_CALL:
      return pawl_answer_new_call (step, first, second, hand);
    case PAWL_PROMPT_SIGN:
    case PAWL_PROMPT_PERSON:
    default:
      return NULL;
    }
}

static const char *
get_taken_words (PawlPromptKind kind)
{
  switch (kind)
    {
    case PAWL_PROMPT_NOTE:    return _("The note is kept");
    case PAWL_PROMPT_DEVIATE: return _("The deviation is recorded");
    case PAWL_PROMPT_SKIP:    return _("The step is left out");
    case PAWL_PROMPT_REDO:    return _("The step is open again");
    case PAWL_PROMPT_RELEASE: return _("The hold is released");
    case PAWL_PROMPT_CALL:    return _("Somebody is called");
    case PAWL_PROMPT_SIGN:
    case PAWL_PROMPT_PERSON:
    default:                  return NULL;
    }
}

void
pawl_step_panel_form_answered_cb (PawlPromptForm *form, PawlStepPanel *self)
{
  const PawlStepState *state = pawl_session_peek_step (self->session);
  PawlPromptKind kind = pawl_prompt_form_get_kind (form);
  gboolean goes_on = kind == PAWL_PROMPT_SKIP || kind == PAWL_PROMPT_RELEASE || (kind == PAWL_PROMPT_CALL && state->status == PAWL_STEP_DONE);
  g_autoptr(PawlEntry) entry = make_entry (self, form, state);
  g_autoptr(GError) error = NULL;

  if (entry == NULL)
    return;
  if (kind == PAWL_PROMPT_RELEASE && !pawl_signature_prove (form, pawl_bench_get_record (pawl_session_get_bench (self->session)), entry))
    return;
  if (!pawl_session_take (self->session, entry, get_taken_words (kind), &error))
    {
      pawl_prompt_form_say (form, error->message);
      return;
    }
  pawl_prompt_form_close (form);
  pawl_step_panel_keep_form (self);
  if (goes_on)
    pawl_session_look_at_next (self->session);
  gtk_widget_grab_focus (self->advance);
}
