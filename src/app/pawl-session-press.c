/* What a press does: the big action, and answers by one key. */
#include "app/pawl-session-private.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "app/pawl-step-state.h"
#include "job/pawl-job-photos.h"

/* ---- what is offered ---- */

void
pawl_offer_clear (PawlOffer *self)
{
  g_free (self->head);
  g_free (self->words);
  g_free (self->about);
  g_free (self->ask);
  *self = (PawlOffer) { 0 };
}

/* @head: (nullable): nothing is offered; all copied */
static void
offer (PawlSession *self, const char *head, const char *words, const char *about, const char *ask)
{
  pawl_offer_clear (&self->offer);
  self->offer = (PawlOffer) { g_strdup (head), g_strdup (words), g_strdup (about), g_strdup (ask) };
  self->n_offered = pawl_job_get_entries (pawl_session_get_job (self))->len;
  if (head != NULL && self->echo_value != NULL)
    pawl_session_echo (self, NULL, NULL);
  g_signal_emit_by_name (self, "offer-changed");
}

const PawlOffer *
pawl_session_peek_offer (PawlSession *self)
{
  return self->offer.head != NULL ? &self->offer : NULL;
}

void
pawl_session_withdraw (PawlSession *self)
{
  if (self->offer.head == NULL)
    return;
  g_clear_pointer (&self->photo_asked_at, g_free);
  offer (self, NULL, NULL, NULL, NULL);
}

void
pawl_session_check_offer (PawlSession *self)
{
  if (pawl_job_get_entries (pawl_session_get_job (self))->len != self->n_offered)
    pawl_session_withdraw (self);
}

/* ---- the big action ---- */

static gboolean
is_over (const PawlStepState *state)
{
  return state->status == PAWL_STEP_DONE || state->status == PAWL_STEP_SKIPPED || state->status == PAWL_STEP_NOT_APPLICABLE;
}

gboolean
pawl_session_go_without_photo (PawlSession *self, const char *reason, GError **error)
{
  const PawlStepState *state = pawl_session_peek_step (self);
  PawlHand hand = pawl_session_make_hand (self);
  g_autoptr(GPtrArray) wanted = state != NULL ? pawl_step_list_photos_wanted (state) : g_ptr_array_new ();
  g_autoptr(PawlEntry) note = NULL;
  g_autofree char *stripped = g_strstrip (g_strdup (reason));

  if (wanted->len == 0)
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, _("this step asks for no photo"));
      return FALSE;
    }
  note = pawl_job_new_no_photo (pawl_session_get_job (self), state, stripped, hand.person, hand.at);
  return pawl_session_take (self, note, _("On without a photo"), error);
}

/* TRUE: the press is used up, by saying that a photo is asked for. Pressed again, it goes on without. */
static gboolean
ask_for_photo (PawlSession *self, const PawlStepState *state, GError **error)
{
  g_autoptr(GPtrArray) wanted = pawl_step_list_photos_wanted (state);

  if (wanted->len == 0)
    return FALSE;
  if (g_strcmp0 (self->photo_asked_at, state->step->id) == 0)
    {
      g_clear_pointer (&self->photo_asked_at, g_free);
      return !pawl_session_go_without_photo (self, "", error);
    }
  g_free (self->photo_asked_at);
  self->photo_asked_at = g_strdup (state->step->id);
  g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNANSWERED, _("a photo first: F2 takes it; F3, or this press again, goes on without"));
  return TRUE;
}

/* One press begins a wait, or ends it; while it runs, it leads to what can be done meanwhile. */
static gboolean
advance_wait (PawlSession *self, PawlAdvance advance, const PawlAsk *ask, GError **error)
{
  gboolean is_start = advance == PAWL_ADVANCE_START_WAIT;
  g_autoptr(PawlEntry) entry = NULL;
  g_autofree char *words = g_strdup_printf (is_start ? _("Started: %s") : _("Ended: %s"), ask->name);

  if (advance == PAWL_ADVANCE_MEANWHILE)
    {
      pawl_session_look_at_next (self);
      return TRUE;
    }
  entry = is_start ? pawl_answer_new_wait_start (ask, pawl_session_make_hand (self)) : pawl_answer_new_wait_end (ask, pawl_session_make_hand (self));
  return pawl_session_take (self, entry, words, error);
}

/* Looking back and pressing on walks forward through what is done, as far as where the work stopped. A step that has just been
 * finished under a hold stays in view, so that the second person can release it there. */
gboolean
pawl_session_advance (PawlSession *self, GError **error)
{
  const PawlStepState *state = pawl_session_peek_step (self);
  const PawlAskState *wait;
  PawlAdvance advance;
  g_autoptr(PawlEntry) entry = NULL;
  g_autofree char *words = NULL;

  if (state != NULL && state->status == PAWL_STEP_WAITING)
    {
      pawl_bench_refresh (self->bench); /* whether it may come out is asked of the clock now */
      state = pawl_session_peek_step (self);
    }
  if (state == NULL)
    return TRUE;
  if (ask_for_photo (self, state, error))
    return FALSE;
  state = pawl_session_peek_step (self);
  advance = pawl_step_advance_wait (pawl_session_get_job (self), state, &wait);
  if (advance != PAWL_ADVANCE_REFUSED)
    return advance_wait (self, advance, wait->ask, error);
  if (is_over (state))
    {
      const PawlStep *next = pawl_job_peek_next (pawl_session_get_job (self));
      PawlProcedure *procedure = pawl_bench_get_procedure (self->bench);

      if (next == NULL || pawl_procedure_get_step_index (procedure, next->id) > pawl_procedure_get_step_index (procedure, state->step->id))
        pawl_session_look_on (self);
      else
        pawl_session_look_at (self, next->id);
      return TRUE;
    }
  entry = pawl_answer_new_done (state->step, pawl_session_make_hand (self));
  words = g_strdup_printf (_("Step %s is done"), state->step->number);
  if (!pawl_session_take (self, entry, words, error))
    return FALSE;
  if (!pawl_step_is_held (pawl_session_peek_step (self)))
    pawl_session_look_at_next (self);
  return TRUE;
}

/* ---- one press ---- */

/* Where the next press leads, for whoever has just pressed. (transfer full) */
static char *
describe_next (PawlSession *self)
{
  const PawlStepState *step = pawl_session_peek_step (self);
  g_autoptr(PawlStepPage) page = pawl_step_page_new (pawl_session_get_job (self), step->step->id);
  g_auto(PawlPress) press = { 0 };
  g_autofree char *title = NULL;

  pawl_press_plan (pawl_session_get_job (self), step, NULL, &press);
  if (press.ask == NULL)
    return g_strdup_printf (_("Next press: %s"), page->advance_label);
  title = pawl_phrase_make_title (press.ask->ask);
  return g_strdup_printf (_("Next: %s"), title);
}

static void
show (PawlSession *self, const PawlPress *press)
{
  g_autofree char *title = pawl_phrase_make_title (press->ask->ask);

  offer (self, _("Press again:"), press->words, title, press->ask->ask->id);
}

/* The sentence that says what would do is for the panel; from two metres it is enough to know which. */
static void
want (PawlSession *self, const PawlPress *press)
{
  g_autofree char *title = press->ask != NULL ? pawl_phrase_make_title (press->ask->ask) : g_strdup (_("Somebody else, to release it"));

  offer (self, _("Wanted:"), title, NULL, NULL);
}

static gboolean
confirm (PawlSession *self, const PawlPress *press, GError **error)
{
  g_autofree char *title = pawl_phrase_make_title (press->ask->ask);
  g_autofree char *words = g_strdup_printf ("%s: %s", title, press->words);
  g_autofree char *head = g_strdup_printf ("✓ %s", press->words);
  g_autofree char *next = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (press->ask->ask, press->outcome, pawl_session_make_hand (self));

  if (!pawl_session_take (self, entry, words, error))
    return FALSE;
  next = describe_next (self);
  offer (self, head, NULL, next, NULL);
  return TRUE;
}

static gboolean
do_press (PawlSession *self, const PawlPress *press, GError **error)
{
  switch (press->kind)
    {
    case PAWL_PRESS_SHOW:
      show (self, press);
      return TRUE;
    case PAWL_PRESS_CONFIRM:
      return confirm (self, press, error);
    case PAWL_PRESS_WANT:
      want (self, press);
      return TRUE;
    case PAWL_PRESS_ADVANCE:
    default:
      if (!pawl_session_advance (self, error))
        return FALSE;
      pawl_session_withdraw (self);
      return TRUE;
    }
}

gboolean
pawl_session_press (PawlSession *self, PawlPressKind *kind, char **wanted, GError **error)
{
  g_autoptr(PawlJob) job = g_object_ref (pawl_session_get_job (self)); /* what is planned borrows from it */
  const PawlStepState *step = pawl_session_peek_step (self);
  g_auto(PawlPress) press = { 0 };
  g_autoptr(GError) local_error = NULL;

  if (step != NULL)
    pawl_press_plan (job, step, self->offer.ask, &press);
  *kind = press.kind;
  if (press.kind == PAWL_PRESS_WANT)
    *wanted = g_strdup (press.words);
  if (do_press (self, &press, &local_error))
    return TRUE;
  if (self->photo_asked_at != NULL)
    offer (self, _("A photo first"), NULL, _("Press again: on without it"), NULL);
  else
    offer (self, _("Not yet"), NULL, NULL, NULL);
  g_propagate_error (error, g_steal_pointer (&local_error));
  return FALSE;
}
