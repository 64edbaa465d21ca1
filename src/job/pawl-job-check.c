/* Refusals: would the job accept this entry now, and if not, what would make it. */
#include "job/pawl-job-private.h"
#include "procedure/pawl-order.h"
#include "procedure/pawl-variant.h"

typedef gboolean (*CheckFunc) (PawlJob *self, PawlEntry *entry, GError **error);

gboolean
pawl_job_refuse (GError **error, PawlJobError code, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  if (error != NULL)
    *error = g_error_new_valist (PAWL_JOB_ERROR, (int) code, format, arguments);
  va_end (arguments);
  return FALSE;
}

#define refuse pawl_job_refuse

static gboolean
require_field (PawlEntry *entry, const char *field, PawlJobError code, const char *what, GError **error)
{
  const char *value = pawl_entry_get (entry, field);

  if (value != NULL && *value != '\0')
    return TRUE;
  return refuse (error, code, "%s", what);
}

static const PawlStepState *
require_step (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlStepState *state = pawl_job_lookup_step (self, pawl_entry_get_subject (entry));

  if (state == NULL)
    refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no step “%s”", pawl_entry_get_subject (entry));
  return state;
}

static const PawlAskState *
require_ask (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = pawl_job_lookup_ask (self, pawl_entry_get_subject (entry));

  if (state == NULL)
    refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure asks nothing called “%s”", pawl_entry_get_subject (entry));
  else if (state->status == PAWL_ASK_NOT_APPLICABLE)
    {
      if (state->ask->donor != NULL)
        refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is asked of a part from a donor only, and none was taken", state->ask->name);
      else
        refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is not asked for this variant", state->ask->name);
      return NULL;
    }
  return state;
}

static gboolean
check_unblocked (const PawlStepState *state, GError **error)
{
  g_autoptr(GString) texts = g_string_new (NULL);

  if (state->blockers->len == 0)
    return TRUE;
  for (guint i = 0; i < state->blockers->len && i < 3; i++)
    g_string_append_printf (texts, "%s%s", i > 0 ? "; " : "", ((PawlBlocker *) state->blockers->pdata[i])->text);
  if (state->blockers->len > 3)
    g_string_append_printf (texts, "; and %u more", state->blockers->len - 3);
  return refuse (error, ((PawlBlocker *) state->blockers->pdata[0])->kind == PAWL_BLOCKED_BY_HOLD ? PAWL_JOB_ERROR_HELD : PAWL_JOB_ERROR_BLOCKED,
                 "step %s has to come after %s", state->step->number, texts->str);
}

/* May anything be answered in this step now? */
static gboolean
check_step_open (PawlJob *self, const PawlStepState *state, GError **error)
{
  if (state->status == PAWL_STEP_NOT_APPLICABLE)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s is not for this variant", state->step->number);
  if (pawl_step_status_is_over (state->status))
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s is %s; to change what was answered, do the step again with a reason",
                   state->step->number, pawl_step_status_get_word (state->status));
  return check_unblocked (state, error);
}

gboolean
pawl_job_check_not_covered (PawlJob *self, const PawlAskState *state, GError **error)
{
  const PawlStep *cover = pawl_order_find_cover (self->procedure, state->ask->id);
  const PawlStepState *cover_state = cover != NULL ? pawl_job_lookup_step (self, cover->id) : NULL;

  if (cover_state == NULL || cover_state->status != PAWL_STEP_DONE)
    return TRUE;
  return refuse (error, PAWL_JOB_ERROR_COVERED, "“%s” can't be seen any more: step %s hides it; do that step again first",
                 state->ask->name, cover->number);
}

static gboolean
check_answered (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = require_ask (self, entry, error);
  g_autoptr(PawlAttempt) attempt = NULL;

  if (state == NULL || !pawl_job_check_not_covered (self, state, error)
      || !check_step_open (self, pawl_job_lookup_step (self, state->step->id), error))
    return FALSE;
  if (state->ask->kind == PAWL_ASK_DECIDE)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is decided for a part, with a choice and a reason", state->ask->name);
  if (state->ask->kind == PAWL_ASK_READING && state->ask->reading->derived != NULL
      && (g_strcmp0 (pawl_entry_get (entry, "typed-over"), "yes") != 0 || pawl_entry_get (entry, "remark") == NULL))
    return refuse (error, PAWL_JOB_ERROR_NEEDS_REASON, "“%s” is worked out: %s; a value of your own in its place needs the reason why", state->ask->name,
                   state->ask->reading->derived->text);
  attempt = pawl_attempt_new (self, state, entry, error);
  return attempt != NULL;
}

static const PawlAskState *
require_wait (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = require_ask (self, entry, error);

  if (state != NULL && state->ask->kind != PAWL_ASK_WAIT)
    {
      refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no wait", state->ask->name);
      return NULL;
    }
  return state;
}

static gboolean
check_wait_started (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = require_wait (self, entry, error);

  if (state == NULL || !check_step_open (self, pawl_job_lookup_step (self, state->step->id), error))
    return FALSE;
  if (state->status == PAWL_ASK_RUNNING)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is running already", state->ask->name);
  return TRUE;
}

static gboolean
check_wait_ended (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = require_wait (self, entry, error);
  g_autofree char *earliest = NULL;

  if (state == NULL)
    return FALSE;
  if (state->status != PAWL_ASK_RUNNING)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is not running: start it first", state->ask->name);
  if (g_date_time_compare (pawl_entry_peek_at (entry), state->started) < 0)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” can't end before it started", state->ask->name);
  if (state->deviation != NULL || g_date_time_compare (pawl_entry_peek_at (entry), state->earliest) >= 0)
    return TRUE;
  earliest = pawl_job_format_time (self, state->earliest);
  return refuse (error, PAWL_JOB_ERROR_TOO_EARLY, "“%s” runs until %s at least; to end it sooner, record a deviation with the reason",
                 state->ask->name, earliest);
}

static gboolean
check_disposed (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *part = pawl_entry_get_subject (entry);
  const char *choice = pawl_entry_get (entry, "choice");
  GHashTableIter iter;
  gpointer value;

  if (pawl_job_lookup_part (self, part) == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no part “%s”", part);
  if (choice == NULL || !g_strv_contains ((const char *[]) { "reuse", "repair", "replace", NULL }, choice))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no disposition; it is reuse, repair or replace", choice != NULL ? choice : "");
  if (!g_str_equal (choice, "reuse") && !require_field (entry, "reason", PAWL_JOB_ERROR_NEEDS_REASON, "a part that is repaired or replaced needs a reason", error))
    return FALSE;
  if (g_str_equal (choice, "replace") && !require_field (entry, "source", PAWL_JOB_ERROR_NEEDS_REASON, "a replacement needs its source: kit, new, donor or made", error))
    return FALSE;
  if (!pawl_job_check_donor (self, entry, error))
    return FALSE;
  g_hash_table_iter_init (&iter, self->ask_by_id);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      const PawlAskState *state = value;

      if (state->ask->kind != PAWL_ASK_DECIDE || !g_str_equal (state->ask->decide->part, part))
        continue;
      if (!g_strv_contains ((const char * const *) state->ask->decide->choices, choice))
        return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is not offered for “%s”", choice, state->ask->name);
      if (!check_step_open (self, pawl_job_lookup_step (self, state->step->id), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
check_ask_settled (PawlJob *self, const PawlStepState *step, const PawlAskState *state, GError **error)
{
  g_autofree char *earliest = NULL;

  switch (state->status)
    {
    case PAWL_ASK_PENDING:
      if (state->ask->is_optional)
        return TRUE;
      if (state->wants != NULL && state->ask->reading->derived != NULL)
        return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "step %s works out “%s” from “%s”, which is not measured yet", step->step->number, state->ask->name,
                       state->wants);
      if (state->n_current > 0)
        return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "step %s asks “%s” %u times, and it was taken %u", step->step->number, state->ask->name,
                       state->ask->reading->repeats, ((PawlAttempt *) state->attempts->pdata[state->attempts->len - 1])->n_in_set);
      return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "step %s still asks “%s”", step->step->number, state->ask->name);
    case PAWL_ASK_STALE:
      return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "“%s” of step %s has to be answered again", state->ask->name, step->step->number);
    case PAWL_ASK_OUT:
      if (pawl_ask_is_only_late (state))
        return TRUE; /* it can't be made good by waiting again: it stands in the record, with a reason or without */
      return refuse (error, PAWL_JOB_ERROR_OUT_OF_LIMITS, "“%s” of step %s is not right yet; correct it and answer again, or record a deviation with the reason",
                     state->ask->name, step->step->number);
    case PAWL_ASK_TOO_CLOSE:
      return refuse (error, PAWL_JOB_ERROR_OUT_OF_LIMITS,
                     "“%s” of step %s is too close to call; measure with a finer instrument, or let a named person decide by a deviation",
                     state->ask->name, step->step->number);
    case PAWL_ASK_RUNNING:
      earliest = pawl_job_format_time (self, state->earliest);
      return refuse (error, PAWL_JOB_ERROR_TOO_EARLY, "“%s” is running, until %s at least; end it when it is out", state->ask->name, earliest);
    case PAWL_ASK_ACCEPTED:
    case PAWL_ASK_DEVIATED:
    case PAWL_ASK_NOT_APPLICABLE:
    default:
      return TRUE;
    }
}

/**
 * pawl_job_check_done:
 * @error: PAWL_JOB_ERROR_UNKNOWN, _NOT_OPEN, _BLOCKED, _HELD, _UNANSWERED, _OUT_OF_LIMITS or _TOO_EARLY
 *
 * Whether the step may be finished now. The message says what is missing first.
 */
gboolean
pawl_job_check_done (PawlJob *self, const char *step_id, GError **error)
{
  const PawlStepState *state = pawl_job_lookup_step (self, step_id);

  if (state == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no step “%s”", step_id);
  if (!check_step_open (self, state, error))
    return FALSE;
  for (guint i = 0; i < state->asks->len; i++)
    if (!check_ask_settled (self, state, state->asks->pdata[i], error))
      return FALSE;
  return TRUE;
}

static gboolean
check_step_done (PawlJob *self, PawlEntry *entry, GError **error)
{
  return pawl_job_check_done (self, pawl_entry_get_subject (entry), error);
}

/* A hold is waived by a deviation; who learns has it looked at, because a hold that its own learner lifts holds nothing. */
static gboolean
check_waiver (PawlJob *self, const PawlStepState *state, PawlEntry *entry, GError **error)
{
  const char *learner = pawl_job_get_field (self, "learner");

  if (state == NULL || !pawl_step_is_held (state) || *learner == '\0' || !pawl_person_is_same (pawl_entry_get_person (entry), learner))
    return TRUE;
  return refuse (error, PAWL_JOB_ERROR_HELD, "%s learns in this job, so the hold of step %s is released or waived by somebody else", learner, state->step->number);
}

static gboolean
check_deviated (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *subject = pawl_entry_get_subject (entry);
  const PawlStepState *state = pawl_job_lookup_step (self, subject);

  if ((state == NULL && require_ask (self, entry, error) == NULL) || !check_waiver (self, state, entry, error))
    return FALSE;
  return require_field (entry, "reason", PAWL_JOB_ERROR_NEEDS_REASON, "a deviation needs its reason", error);
}

static gboolean
check_reopened (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlStepState *state = require_step (self, entry, error);

  if (state == NULL)
    return FALSE;
  if (state->status != PAWL_STEP_DONE && state->status != PAWL_STEP_SKIPPED)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s is %s; only what was done can be done again",
                   state->step->number, pawl_step_status_get_word (state->status));
  return require_field (entry, "reason", PAWL_JOB_ERROR_NEEDS_REASON, "doing a step again needs a reason", error);
}

static gboolean
is_of_pair (PawlJob *self, const PawlEntry *entry)
{
  const PawlAskState *state = pawl_job_lookup_ask (self, pawl_entry_get_subject (entry));

  return state != NULL && state->paired[0] != NULL && state->paired[0]->entry == entry && g_strcmp0 (pawl_entry_get (entry, "blind"), "yes") == 0;
}

/* Only the newest answer can be taken back, and a taking-back never: then the order of what is left is the order it was done in. */
static gboolean
check_undone (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *subject = pawl_entry_get_subject (entry);
  PawlEntry *undoable = pawl_job_peek_undoable (self);

  if (undoable != NULL && is_of_pair (self, undoable))
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "both readings are in and known, so this one can't be taken again unseen; to change it, do its step again");
  if (undoable != NULL && g_strcmp0 (subject, pawl_entry_get_id (undoable)) == 0)
    return TRUE;
  if (undoable == NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "there is nothing to undo");
  return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "only the newest answer can be undone; to change an earlier one, do its step again");
}

/* A clock that was put forward or back: by how much, and which wait ran. */
static gboolean
check_clock_shift (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *wait = pawl_entry_get (entry, "wait"), *shift = pawl_entry_get (entry, "clock-shift");
  const PawlAskState *state = wait != NULL ? pawl_job_lookup_ask (self, wait) : NULL;
  gint64 seconds;

  if (shift == NULL)
    return TRUE;
  if (state == NULL || state->status != PAWL_ASK_RUNNING)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is no wait that runs, so no clock can have been changed in it", wait != NULL ? wait : "");
  if (!g_ascii_string_to_signed (shift, 10, G_MININT32, G_MAXINT32, &seconds, NULL))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no number of seconds by which a clock was changed", shift);
  return TRUE;
}

static gboolean
check_noted (PawlJob *self, PawlEntry *entry, GError **error)
{
  if (!check_clock_shift (self, entry, error) || !pawl_job_check_no_photo (self, entry, error))
    return FALSE;
  return require_field (entry, "text", PAWL_JOB_ERROR_BAD_ANSWER, "a note needs its text", error);
}

static gboolean
check_photo (PawlJob *self, PawlEntry *entry, GError **error)
{
  return require_field (entry, "digest", PAWL_JOB_ERROR_BAD_ANSWER, "a photo needs its picture", error);
}

gboolean
pawl_person_is_same (const char *a, const char *b)
{
  g_autofree char *stripped_a = g_strstrip (g_strdup (a));
  g_autofree char *stripped_b = g_strstrip (g_strdup (b));
  g_autofree char *folded_a = g_utf8_casefold (stripped_a, -1);
  g_autofree char *folded_b = g_utf8_casefold (stripped_b, -1);

  return g_str_equal (folded_a, folded_b);
}

static gboolean
check_released (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlStepState *state = require_step (self, entry, error);

  if (state == NULL)
    return FALSE;
  if (state->hold == PAWL_HOLD_NONE)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s has no hold", state->step->number);
  if (state->status != PAWL_STEP_DONE)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s is %s; its hold is released when it is done",
                   state->step->number, pawl_step_status_get_word (state->status));
  if (pawl_person_is_same (pawl_entry_get_person (entry), pawl_entry_get_person (state->done)))
    return refuse (error, PAWL_JOB_ERROR_HELD,
                   "%s did step %s, so somebody else looks and releases its hold; working alone, record a deviation on this step with the reason",
                   pawl_entry_get_person (entry), state->step->number);
  return TRUE;
}

static gboolean
check_signed (PawlJob *self, PawlEntry *entry, GError **error)
{
  guint total, done = pawl_job_count_done (self, &total);

  if (!require_field (entry, "role", PAWL_JOB_ERROR_BAD_ANSWER, "a signature needs the role of who signs", error))
    return FALSE;
  if (pawl_person_is_same (pawl_entry_get_person (entry), pawl_job_get_field (self, "learner")))
    return refuse (error, PAWL_JOB_ERROR_HELD, "%s learns in this job, and nobody signs their own learning; a trainer signs it",
                   pawl_entry_get_person (entry));
  if (done < total)
    return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "%u of %u steps are still open; do them, or leave them out with a reason", total - done, total);
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];

      if (pawl_step_is_held (state))
        return refuse (error, PAWL_JOB_ERROR_HELD, "the hold at step %s was never released", state->step->number);
    }
  return pawl_job_check_sealed (self, error);
}

/* A guess is worth something only while nothing was shown. */
static gboolean
check_guessed (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = require_ask (self, entry, error);
  const char *choice = pawl_entry_get (entry, "choice");

  if (state == NULL || !check_step_open (self, pawl_job_lookup_step (self, state->step->id), error))
    return FALSE;
  if (state->ask->kind != PAWL_ASK_FIT || !pawl_rule_can_be_asked (state->ask->rule))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” has no two pictures to choose between", state->ask->name);
  if (choice == NULL || !g_strv_contains ((const char *[]) { "right", "wrong", NULL }, choice))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no guess; it is right or wrong, as the picture was that was taken for right", choice != NULL ? choice : "");
  if (pawl_job_peek_guess (self, state->ask->id) != NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” was guessed already; it is asked once", state->ask->name);
  if (state->attempts->len > 0)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "“%s” was answered already, so there is nothing to guess", state->ask->name);
  return TRUE;
}

static gboolean
check_identified (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *variant = pawl_entry_get (entry, "variant");
  g_autofree char *problem = NULL;

  if (variant == NULL || !pawl_variant_check (self->procedure, variant, &problem))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "%s", problem != NULL ? problem : "a correction of the variant names the right one");
  if (pawl_variant_matches (variant, self->variant) && pawl_variant_matches (self->variant, variant))
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "the job is for “%s” already", variant);
  return require_field (entry, "reason", PAWL_JOB_ERROR_NEEDS_REASON, "another variant than was taken needs the reason: how it is known now", error);
}

static CheckFunc
find_check (PawlEntryKind kind)
{
  switch (kind)
    {
    case PAWL_ENTRY_ANSWERED:     return check_answered;
    case PAWL_ENTRY_WAIT_STARTED: return check_wait_started;
    case PAWL_ENTRY_WAIT_ENDED:   return check_wait_ended;
    case PAWL_ENTRY_DISPOSED:     return check_disposed;
    case PAWL_ENTRY_STEP_DONE:    return check_step_done;
    case PAWL_ENTRY_DEVIATED:     return check_deviated;
    case PAWL_ENTRY_REOPENED:     return check_reopened;
    case PAWL_ENTRY_UNDONE:       return check_undone;
    case PAWL_ENTRY_NOTED:        return check_noted;
    case PAWL_ENTRY_PHOTO:        return check_photo;
    case PAWL_ENTRY_RELEASED:     return check_released;
    case PAWL_ENTRY_SIGNED:       return check_signed;
    case PAWL_ENTRY_GUESSED:      return check_guessed;
    case PAWL_ENTRY_LACKED:       return pawl_job_check_lacked;
    case PAWL_ENTRY_ARRIVED:      return pawl_job_check_arrived;
    case PAWL_ENTRY_HOLD_CALLED:
    case PAWL_ENTRY_TIGHTENED:
    case PAWL_ENTRY_REMEASURED:
    case PAWL_ENTRY_SEALED:
    case PAWL_ENTRY_UNSEALED:     return pawl_job_check_training;
    case PAWL_ENTRY_IDENTIFIED:   return check_identified;
    case PAWL_ENTRY_CORRECTED:    return pawl_job_check_corrected;
    case PAWL_ENTRY_OPENED:
    default:                      return NULL;
    }
}

/**
 * pawl_job_check:
 * @entry: need not be stored yet
 * @error: PAWL_JOB_ERROR; the message says what would be right
 *
 * Whether the job would accept the entry now. After the signature only notes, photos and undoing the signature are.
 */
gboolean
pawl_job_check (PawlJob *self, PawlEntry *entry, GError **error)
{
  PawlEntryKind kind = pawl_entry_get_kind (entry);
  CheckFunc check = find_check (kind);

  if (check == NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "the job is open already");
  if (*pawl_entry_get_person (entry) == '\0')
    return refuse (error, PAWL_JOB_ERROR_NEEDS_REASON, "every entry needs the name of who made it");
  if (self->signature != NULL && kind != PAWL_ENTRY_UNDONE && kind != PAWL_ENTRY_NOTED && kind != PAWL_ENTRY_PHOTO)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "the job is signed; undo the signature to go on");
  return check (self, entry, error);
}
