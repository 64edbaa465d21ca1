#include "app/pawl-step-state.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "app/pawl-tray-words.h"
#include "procedure/pawl-kit.h"
#include "procedure/pawl-mirror.h"

#define MOST_BLOCKERS 3

void
pawl_step_page_free (PawlStepPage *self)
{
  g_free (self->place);
  g_free (self->status);
  g_ptr_array_unref (self->cautions);
  g_free (self->fits);
  g_free (self->takes_off);
  g_free (self->tools);
  g_free (self->banner);
  g_free (self->hold);
  g_free (self->advance_label);
  g_free (self->why_not);
  g_free (self);
}

gboolean
pawl_ask_is_open (const PawlAskState *state)
{
  switch (state->status)
    {
    case PAWL_ASK_PENDING:
    case PAWL_ASK_OUT:
    case PAWL_ASK_TOO_CLOSE:
    case PAWL_ASK_STALE:
      return TRUE;
    case PAWL_ASK_ACCEPTED:
    case PAWL_ASK_DEVIATED:
    case PAWL_ASK_RUNNING:
    case PAWL_ASK_NOT_APPLICABLE:
    default:
      return FALSE;
    }
}

static gboolean
is_over (const PawlStepState *step)
{
  return step->status == PAWL_STEP_DONE || step->status == PAWL_STEP_SKIPPED || step->status == PAWL_STEP_NOT_APPLICABLE;
}

static char *
describe_place (PawlJob *job, const PawlStep *step)
{
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  const PawlPhase *phase = pawl_procedure_lookup_phase (procedure, step->phase);

  return g_strdup_printf (_("%s · step %s of %u"), phase != NULL ? phase->title : "", step->number, pawl_procedure_get_steps (procedure)->len);
}

static GPtrArray *
list_cautions (PawlProcedure *procedure, const PawlStep *step)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; step->cautions != NULL && step->cautions[i] != NULL; i++)
    {
      const PawlCaution *caution = pawl_procedure_lookup_caution (procedure, step->cautions[i]);

      if (caution != NULL)
        g_ptr_array_add (list, (gpointer) caution);
    }
  return list;
}

static char *
describe_blockers (const PawlStepState *step)
{
  GString *text = g_string_new (_("First: "));

  for (guint i = 0; i < step->blockers->len && i < MOST_BLOCKERS; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", ((PawlBlocker *) step->blockers->pdata[i])->text);
  if (step->blockers->len > MOST_BLOCKERS)
    g_string_append_printf (text, _("; and %u more"), step->blockers->len - MOST_BLOCKERS);
  return g_string_free (text, FALSE);
}

static char *
describe_banner (const PawlStepState *step)
{
  if (step->status == PAWL_STEP_BLOCKED)
    return describe_blockers (step);
  if (step->redo_reason != NULL)
    return g_strdup_printf (_("To be done again: %s"), step->redo_reason);
  if (step->deviation != NULL)
    return g_strdup_printf (_("Not as the book has it: %s"), pawl_entry_get (step->deviation, "reason"));
  if (step->step->cant_undo != NULL && !is_over (step))
    return g_strdup_printf (_("This can’t be undone: %s"), step->step->cant_undo);
  return g_strdup ("");
}

static const char *
get_hold_word (PawlHold hold)
{
  switch (hold)
    {
    case PAWL_HOLD_HOLD:    return _("Hold point: somebody else looks before the work goes on");
    case PAWL_HOLD_WITNESS: return _("Witness point: call the person who wants to see this");
    case PAWL_HOLD_REVIEW:  return _("Review point: somebody else looks at the answers later");
    case PAWL_HOLD_NONE:
    default:                return "";
    }
}

/* (transfer full): "Morwenna Pascoe is called, since 10:32: the gauge lies ready"; "" when nobody is */
static char *
describe_call (PawlJob *job, const PawlStepState *step)
{
  const char *whom, *note;
  g_autofree char *time = NULL, *text = NULL;

  if (step->called == NULL || step->release != NULL || step->waiver != NULL)
    return g_strdup ("");
  whom = pawl_entry_get (step->called, "whom");
  note = pawl_entry_get (step->called, "note");
  time = pawl_phrase_format_clock (pawl_entry_peek_at (step->called), pawl_job_peek_now (job));
  text = g_strdup_printf (_("%s is called, since %s"), whom != NULL ? whom : _("Somebody"), time);
  return note != NULL ? g_strdup_printf ("%s: %s", text, note) : g_steal_pointer (&text);
}

/* What was planted at this hold, once it is shown. (transfer full) */
static char *
describe_planted (PawlJob *job, const PawlStepState *step)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (job);

  for (guint i = 0; i < seals->len; i++)
    {
      const PawlSeal *seal = &g_array_index (seals, PawlSeal, i);
      const char *text = seal->opened != NULL ? pawl_entry_get (seal->opened, "text") : NULL;

      if (text == NULL || g_strcmp0 (pawl_entry_get_subject (seal->sealed), step->step->id) != 0)
        continue;
      return g_strdup_printf (g_strcmp0 (pawl_entry_get (seal->opened, "found"), "yes") == 0 ? _("Planted here by %s: %s. It was found.")
                                                                                             : _("Planted here by %s: %s. It was not found before it was shown."),
                              pawl_entry_get_person (seal->sealed), text);
    }
  return g_strdup ("");
}

/* (transfer full) */
static char *
describe_level (const PawlStepState *step)
{
  if (step->hold == PAWL_HOLD_NONE)
    return g_strdup ("");
  if (step->release != NULL)
    return g_strdup_printf (_("Released by %s"), pawl_entry_get_person (step->release));
  if (step->waiver != NULL)
    return g_strdup_printf (_("Waived by %s: %s"), pawl_entry_get_person (step->waiver), pawl_entry_get (step->waiver, "reason"));
  if (step->step->hold_reason != NULL)
    return g_strdup_printf ("%s. %s", get_hold_word (step->hold), step->step->hold_reason);
  return g_strdup (get_hold_word (step->hold));
}

static char *
describe_hold (PawlJob *job, const PawlStepState *step)
{
  g_autofree char *level = describe_level (step), *call = describe_call (job, step), *planted = describe_planted (job, step);
  const char *lines[] = { level, call, planted };
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (lines); i++)
    if (*lines[i] != '\0')
      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", lines[i]);
  return g_string_free (text, FALSE);
}

/* Not what is worked out, and not what is named. */
static gboolean
is_typed (const PawlAsk *ask)
{
  return ask->kind == PAWL_ASK_READING && ask->reading->derived == NULL && pawl_limits_peek_outcomes (ask->reading->limits) == NULL;
}

static void
find_open_asks (PawlStepPage *self)
{
  for (guint i = 0; i < self->step->asks->len; i++)
    {
      const PawlAskState *ask = self->step->asks->pdata[i];

      if (!pawl_ask_is_open (ask))
        continue;
      if (self->first_open == NULL)
        self->first_open = ask;
      if (self->first_reading == NULL && is_typed (ask->ask))
        self->first_reading = ask;
      if (self->first_count == NULL && pawl_kit_takes_count (ask->ask))
        self->first_count = ask;
    }
}

static gboolean
asks_first (PawlJob *job, const PawlStepState *step)
{
  for (guint i = 0; i < step->asks->len; i++)
    if (pawl_job_asks_first (job, step->asks->pdata[i]))
      return TRUE;
  return FALSE;
}

static gboolean
is_last (PawlJob *job, const PawlStepState *step)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  return pawl_job_peek_next (job) == NULL && steps->pdata[steps->len - 1] == step;
}

static gboolean
wants_teardown (PawlJob *job)
{
  GPtrArray *parts = pawl_job_get_parts (job);

  for (guint i = 0; i < parts->len; i++)
    if (((PawlPartState *) parts->pdata[i])->place == PAWL_PLACE_SEATED)
      return FALSE;
  return !pawl_mirror_is_stated (pawl_job_get_procedure (job), pawl_job_get_variant (job));
}

const PawlAskState *
pawl_step_find_keeping (const PawlStepState *step)
{
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAskState *ask = step->asks->pdata[i];

      if (ask->status == PAWL_ASK_RUNNING)
        return ask;
      if (pawl_ask_is_open (ask) && !pawl_ask_is_only_late (ask) && !(ask->status == PAWL_ASK_PENDING && ask->ask->is_optional))
        return ask;
    }
  return NULL;
}

PawlAdvance
pawl_step_advance_wait (PawlJob *job, const PawlStepState *step, const PawlAskState **wait)
{
  const PawlStep *next = pawl_job_peek_next (job);

  *wait = step->status == PAWL_STEP_OPEN || step->status == PAWL_STEP_WAITING || step->status == PAWL_STEP_REDO ? pawl_step_find_keeping (step) : NULL;
  if (*wait == NULL || (*wait)->ask->kind != PAWL_ASK_WAIT)
    return PAWL_ADVANCE_REFUSED;
  if ((*wait)->status != PAWL_ASK_RUNNING)
    return PAWL_ADVANCE_START_WAIT;
  if (g_date_time_compare (pawl_job_peek_now (job), (*wait)->earliest) >= 0)
    return PAWL_ADVANCE_END_WAIT;
  return next != NULL && next != step->step ? PAWL_ADVANCE_MEANWHILE : PAWL_ADVANCE_REFUSED;
}

static gboolean
wants_reading (PawlJob *job, const PawlStepState *step)
{
  g_autoptr(PawlStepPage) page = NULL;

  if (step == NULL || (step->status != PAWL_STEP_OPEN && step->status != PAWL_STEP_REDO && step->status != PAWL_STEP_WAITING))
    return FALSE;
  page = pawl_step_page_new (job, step->step->id);
  return page->first_reading != NULL;
}

const PawlStepState *
pawl_step_find_reading (PawlJob *job, const PawlStepState *looked_at)
{
  const PawlStep *next = pawl_job_peek_next (job);
  const PawlStepState *there = next != NULL ? pawl_job_lookup_step (job, next->id) : NULL;

  return wants_reading (job, looked_at) ? looked_at : wants_reading (job, there) ? there : NULL;
}

/* (transfer full) */
static char *
make_advance_label (PawlJob *job, PawlAdvance advance)
{
  switch (advance)
    {
    case PAWL_ADVANCE_START_WAIT:
      return g_strdup (_("Start the wait"));
    case PAWL_ADVANCE_END_WAIT:
      return g_strdup (_("End the wait"));
    case PAWL_ADVANCE_MEANWHILE:
      return g_strdup_printf (_("Meanwhile: step %s"), pawl_job_peek_next (job)->number);
    case PAWL_ADVANCE_WALK:
      return g_strdup (_("Go on"));
    case PAWL_ADVANCE_END:
      return g_strdup (_("All steps seen"));
    case PAWL_ADVANCE_FINISH:
    case PAWL_ADVANCE_REFUSED:
    default:
      return g_strdup (_("Done: next"));
    }
}

static void
settle_advance (PawlStepPage *self, PawlJob *job)
{
  g_autoptr(GError) error = NULL;
  const PawlAskState *wait;

  if (self->is_over)
    self->advance = is_last (job, self->step) ? PAWL_ADVANCE_END : PAWL_ADVANCE_WALK;
  else if (pawl_job_check_done (job, self->step->step->id, &error))
    self->advance = PAWL_ADVANCE_FINISH;
  else
    self->advance = pawl_step_advance_wait (job, self->step, &wait);
  self->advance_label = make_advance_label (job, self->advance);
  self->why_not = error != NULL ? pawl_phrase_make_sentence (error->message) : g_strdup ("");
}

/**
 * pawl_step_page_new:
 * @step_id: a step of the job's procedure
 *
 * Returns: (transfer full) (nullable): what the panel shows, valid while @job is held; NULL when there is no such step.
 */
PawlStepPage *
pawl_step_page_new (PawlJob *job, const char *step_id)
{
  const PawlStepState *step = pawl_job_lookup_step (job, step_id);
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  g_autoptr(PawlTrays) trays = NULL;
  PawlStepPage *self;
  gboolean is_asking;

  if (step == NULL)
    return NULL;
  trays = pawl_trays_new (procedure, pawl_job_get_variant (job));
  self = g_new0 (PawlStepPage, 1);
  self->step = step;
  self->is_over = is_over (step);
  self->place = describe_place (job, step->step);
  self->status = pawl_phrase_format_outcome (pawl_step_status_get_word (step->status));
  self->cautions = list_cautions (procedure, step->step);
  self->fits = pawl_tray_words_list_fetched (job, trays, step->step);
  self->takes_off = pawl_tray_words_list_laid (job, trays, step->step);
  self->tools = pawl_phrase_list_tools (procedure, step->step);
  is_asking = !self->is_over && asks_first (job, step);
  self->info = is_asking ? "" : step->step->info;
  self->expect = is_asking ? "" : step->step->expect;
  self->banner = describe_banner (step);
  self->hold = describe_hold (job, step);
  self->needs_release = step->hold != PAWL_HOLD_NONE && step->status == PAWL_STEP_DONE && step->release == NULL && step->waiver == NULL;
  self->can_call = step->hold != PAWL_HOLD_NONE && step->release == NULL && step->waiver == NULL && step->called == NULL
                   && step->status != PAWL_STEP_SKIPPED && step->status != PAWL_STEP_NOT_APPLICABLE;
  self->wants_teardown = wants_teardown (job);
  self->can_skip = !self->is_over;
  self->can_redo = step->status == PAWL_STEP_DONE || step->status == PAWL_STEP_SKIPPED;
  find_open_asks (self);
  settle_advance (self, job);
  return self;
}
