#include "app/pawl-press.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "app/pawl-step-state.h"
#include "job/pawl-job-parts.h"
#include "job/pawl-job-photos.h"

/* ---- what a press may answer ---- */

/* (nullable): the one outcome that is right, when there is no other that is right as well. What is told by pictures is chosen by eye. */
static const char *
find_only_right (const PawlCheck *check)
{
  const char * const *acceptable = pawl_limits_peek_acceptable (check->limits);

  return check->pictures->len == 0 && acceptable != NULL && acceptable[0] != NULL && acceptable[1] == NULL ? acceptable[0] : NULL;
}

static const char *
find_outcome (PawlJob *job, const PawlAskState *state)
{
  if (state->status != PAWL_ASK_PENDING && state->status != PAWL_ASK_STALE)
    return NULL; /* it was wrong: that it is right now is said by hand */
  if (state->ask->kind == PAWL_ASK_FIT)
    return pawl_job_asks_first (job, state) ? NULL : "right";
  if (state->ask->kind == PAWL_ASK_CHECK && state->ask->check->kind != PAWL_CHECK_LEFT_OVER)
    return find_only_right (state->ask->check);
  return NULL;
}

static char *
describe_outcome (const PawlAsk *ask, const char *outcome)
{
  if (ask->kind != PAWL_ASK_FIT)
    return pawl_phrase_format_outcome (outcome);
  return g_strdup (ask->rule->kind == PAWL_RULE_EITHER ? _("Fitted, either way") : _("Right way round"));
}

/* ---- what it wants instead ---- */

static const char *
get_wish_for_reading (const PawlAskState *state)
{
  if (state->wants != NULL)
    return _("it follows from another reading: measure that first");
  if (pawl_limits_peek_outcomes (state->ask->reading->limits) != NULL)
    return _("choose what you found");
  return _("type the reading, or let the gauge type it");
}

static const char *
get_wish (const PawlAskState *state)
{
  if (state->status == PAWL_ASK_OUT || state->status == PAWL_ASK_TOO_CLOSE)
    return state->ask->kind == PAWL_ASK_READING ? _("not right yet: correct it and measure again, or accept it with a reason")
                                                : _("was not right: put it right and choose what you find, or accept it with a reason");
  switch (state->ask->kind)
    {
    case PAWL_ASK_READING: return get_wish_for_reading (state);
    case PAWL_ASK_FIT:     return _("choose a picture, 1 or 2");
    case PAWL_ASK_NOTE:    return _("write it down");
    case PAWL_ASK_DECIDE:  return _("choose what becomes of it");
    case PAWL_ASK_CHECK:   return pawl_kit_takes_count (state->ask) ? _("count, and type how many") : _("choose what you found");
    case PAWL_ASK_WAIT:
    default:               return "";
    }
}

static char *
describe_wanted (const PawlAskState *state)
{
  g_autofree char *title = pawl_phrase_make_title (state->ask);

  return g_strdup_printf (_("“%s”: %s"), title, get_wish (state));
}

/* ---- the plan ---- */

static void
plan_ask (PawlJob *job, const PawlAskState *state, const char *shown, PawlPress *press)
{
  press->ask = state;
  press->outcome = find_outcome (job, state);
  if (press->outcome == NULL)
    press->kind = PAWL_PRESS_WANT;
  else
    press->kind = g_strcmp0 (shown, state->ask->id) == 0 ? PAWL_PRESS_CONFIRM : PAWL_PRESS_SHOW;
  press->words = press->outcome != NULL ? describe_outcome (state->ask, press->outcome) : describe_wanted (state);
}

void
pawl_press_plan (PawlJob *job, const PawlStepState *step, const char *shown, PawlPress *press)
{
  gboolean is_open = step->status == PAWL_STEP_OPEN || step->status == PAWL_STEP_REDO || step->status == PAWL_STEP_WAITING;
  g_autoptr(GPtrArray) photos = pawl_step_list_photos_wanted (step);
  const PawlAskState *keeping = is_open ? pawl_step_find_keeping (step) : NULL;

  *press = (PawlPress) { .kind = PAWL_PRESS_ADVANCE };
  if (photos->len > 0)
    return; /* before anything that the step does: it is about to hide something */
  if (keeping != NULL && keeping->ask->kind != PAWL_ASK_WAIT)
    plan_ask (job, keeping, shown, press);
  else if (pawl_step_is_held (step) && pawl_job_peek_next (job) == NULL)
    {
      press->kind = PAWL_PRESS_WANT;
      press->words = g_strdup_printf (_("Step %s waits for somebody else, who looks and releases it by name"), step->step->number);
    }
}

void
pawl_press_clear (PawlPress *press)
{
  g_clear_pointer (&press->words, g_free);
}
