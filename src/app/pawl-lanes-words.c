#include "app/pawl-lanes-words.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

void
pawl_lanes_words_fill (const char *words[PAWL_LANES_N_WORDS])
{
  words[PAWL_LANES_WORD_HANDS] = _("hands");
  words[PAWL_LANES_WORD_DONE] = _("steps done");
  words[PAWL_LANES_WORD_CLOSED] = C_("lanes", "closed");
  words[PAWL_LANES_WORD_LATE] = C_("lanes", "too late");
  words[PAWL_LANES_WORD_READY] = _("can be done now");
  words[PAWL_LANES_WORD_BLOCKED] = C_("lanes", "blocked");
  words[PAWL_LANES_WORD_CRITICAL] = C_("lanes", "critical");
  words[PAWL_LANES_WORD_WAIT] = _("wait to its minimum, ended, to its maximum");
}

static char *
describe_step (const PawlStepState *state)
{
  gsize length = strlen (state->step->command);

  if (length > 0 && state->step->command[length - 1] == '.')
    length--;
  return g_strdup_printf ("%s %.*s", state->step->number, (int) length, state->step->command);
}

char *
pawl_lanes_words_name (const PawlLanesSpot *spot)
{
  return spot->item != NULL ? pawl_work_plan_item_describe (spot->item) : describe_step (spot->state);
}

static char *
describe_over (const PawlWorkPlan *plan, const PawlStepState *state)
{
  const PawlEntry *entry = state->done != NULL ? state->done : state->deviation;
  g_autofree char *status = pawl_phrase_format_outcome (pawl_step_status_get_word (state->status));
  g_autofree char *at = entry != NULL ? pawl_phrase_format_clock (pawl_entry_peek_at (entry), pawl_work_plan_peek_start (plan)) : NULL;

  return at != NULL ? g_strdup_printf (_("%s, %s, by %s"), status, at, pawl_entry_get_person (entry)) : g_steal_pointer (&status);
}

static char *
describe_wait (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *from = pawl_work_plan_format_time (plan, item->min_finish), *by = pawl_work_plan_format_time (plan, item->max_finish);
  g_autofree char *finish = pawl_work_plan_format_time (plan, item->finish), *start = pawl_work_plan_format_time (plan, item->start);
  g_autofree char *limits = item->max_finish != PAWL_NETWORK_NO_MAX ? g_strdup_printf (_("out from %s, by %s at the latest"), from, by) : g_strdup_printf (_("out from %s"), from);

  if (item->is_overdue)
    return g_strdup_printf (_("Runs since %s. It should have been out by %s."), start, by);
  if (item->is_outside)
    return g_strdup_printf (_("%s. It can't be ended within the working hours: somebody has to come for it at %s."), limits, finish);
  if (item->is_running)
    return g_strdup_printf (_("Runs since %s: %s. Planned to be ended at %s."), start, limits, finish);
  return g_strdup_printf (_("Planned to begin at %s: %s."), start, limits);
}

static char *
describe_work (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *start = pawl_work_plan_format_time (plan, item->start), *finish = pawl_work_plan_format_time (plan, item->finish);
  g_autofree char *blocked = pawl_work_plan_item_describe_blocked (item), *spare = pawl_lanes_words_spare (plan, item);

  if (blocked != NULL)
    return g_strdup_printf (_("Blocked by %s. Planned from %s to %s, %s."), blocked, start, finish, spare);
  if (item->state->status == PAWL_STEP_REDO)
    return g_strdup_printf (_("To be done again. Planned from %s to %s, %s."), start, finish, spare);
  return g_strdup_printf (_("Can be done now. Planned from %s to %s, %s."), start, finish, spare);
}

char *
pawl_lanes_words_describe (const PawlWorkPlan *plan, const PawlLanesSpot *spot)
{
  if (spot->item == NULL)
    return describe_over (plan, spot->state);
  return spot->item->wait != NULL ? describe_wait (plan, spot->item) : describe_work (plan, spot->item);
}

char *
pawl_lanes_words_day (const PawlWorkPlan *plan)
{
  const PawlSchedule *schedule = pawl_work_plan_get_schedule (plan);
  g_autofree char *end = pawl_work_plan_format_time (plan, schedule->makespan);

  if (schedule->n == 0)
    return g_strdup (_("Nothing is left to do."));
  if (schedule->is_least)
    return g_strdup_printf (_("All is done at %s by one pair of hands; no order ends sooner."), end);
  return g_strdup_printf (_("All is done at %s by one pair of hands; at most %.1f %% later than any order could end it."), end,
                          100.0 * (double) (schedule->makespan - schedule->bound) / (double) MAX (schedule->bound, 1));
}

/* Of a wait what counts is its maximum. */
static char *
describe_limit (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *by = pawl_work_plan_format_time (plan, item->max_finish);

  if (item->is_overdue)
    return g_strdup_printf (_("should have been out by %s"), by);
  return item->max_finish != PAWL_NETWORK_NO_MAX ? g_strdup_printf (_("by %s at the latest"), by) : g_strdup (_("no longest time"));
}

char *
pawl_lanes_words_spare (const PawlWorkPlan *plan, const PawlWorkPlanItem *item)
{
  g_autofree char *duration = pawl_phrase_format_duration (item->total_float);

  if (item->wait != NULL)
    return describe_limit (plan, item);
  return item->total_float > 0 ? g_strdup_printf (_("%s to spare"), duration) : g_strdup (_("nothing to spare"));
}
