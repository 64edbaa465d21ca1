/* The fold: entries in, state out. Two passes: what was said, in order; then what follows from it. What a redo lays open: pawl-job-reopen.c. */
#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"
#include "procedure/pawl-order.h"

/* ---- first pass: what was said ---- */

/* An entry is taken back by a later one that was not itself taken back, so the last word is known first. */
static void
find_undone (PawlJob *self)
{
  for (guint i = self->entries->len; i > 0; i--)
    {
      PawlEntry *entry = self->entries->pdata[i - 1];

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_UNDONE && !pawl_job_is_undone (self, entry))
        g_hash_table_add (self->undone, (gpointer) pawl_entry_get_subject (entry));
    }
}

static void
add_attempt (PawlJob *self, PawlAskState *state, PawlEntry *entry)
{
  g_autoptr(PawlAttempt) attempt = pawl_attempt_new (self, state, entry, NULL);
  const PawlAttempt *before = pawl_ask_peek_current (state);
  gboolean is_corrected;

  if (attempt == NULL)
    return;
  is_corrected = before != NULL && !before->is_accepted && attempt->is_accepted;
  state->deviation = NULL;
  state->n_current++;
  state->n_out += attempt->is_whole && !attempt->is_void && !attempt->is_accepted;
  g_ptr_array_add (state->attempts, g_steal_pointer (&attempt));
  pawl_ask_pair (state);
  if (is_corrected)
    pawl_job_reopen_coupled (self, state);
}

static void
apply_disposed (PawlJob *self, PawlEntry *entry)
{
  PawlPartState *part = g_hash_table_lookup (self->part_by_id, pawl_entry_get_subject (entry));
  GHashTableIter iter;
  gpointer ask;

  if (part == NULL)
    return;
  part->disposition = entry;
  g_hash_table_iter_init (&iter, self->ask_by_id);
  while (g_hash_table_iter_next (&iter, NULL, &ask))
    {
      PawlAskState *state = ask;

      if (state->ask->kind == PAWL_ASK_DECIDE && g_str_equal (state->ask->decide->part, part->part->id))
        add_attempt (self, state, entry);
    }
}

static void
apply_to_ask (PawlJob *self, PawlAskState *state, PawlEntry *entry)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_ANSWERED:
      add_attempt (self, state, entry);
      break;
    case PAWL_ENTRY_WAIT_STARTED:
      pawl_ask_state_reset (state);
      state->started = g_date_time_ref (pawl_entry_peek_at (entry));
      break;
    case PAWL_ENTRY_WAIT_ENDED:
      g_clear_pointer (&state->ended, g_date_time_unref);
      state->ended = g_date_time_ref (pawl_entry_peek_at (entry));
      break;
    case PAWL_ENTRY_DEVIATED:
      state->deviation = entry;
      break;
    case PAWL_ENTRY_REMEASURED:
      pawl_job_apply_remeasured (self, state, entry);
      break;
    default:
      break;
    }
}

/* The clock was put forward or back while a wait ran: by the clock as it is now, the wait began then. Only steady time counts. */
static void
apply_clock_shift (PawlJob *self, PawlEntry *entry)
{
  const char *wait = pawl_entry_get (entry, "wait"), *shift = pawl_entry_get (entry, "clock-shift");
  PawlAskState *state = wait != NULL ? g_hash_table_lookup (self->ask_by_id, wait) : NULL;
  g_autoptr(GDateTime) before = NULL;

  if (state == NULL || shift == NULL || state->started == NULL || state->ended != NULL)
    return;
  before = g_steal_pointer (&state->started);
  state->started = g_date_time_add_seconds (before, (double) g_ascii_strtoll (shift, NULL, 10));
}

static void
apply_to_step (PawlJob *self, PawlStepState *state, PawlEntry *entry)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_STEP_DONE:
      state->done = entry;
      pawl_step_state_clear_redo (state);
      break;
    case PAWL_ENTRY_DEVIATED:
      if (state->done != NULL && state->redo_reason == NULL)
        state->waiver = entry;
      state->deviation = entry;
      break;
    case PAWL_ENTRY_REOPENED:
      pawl_job_reopen_step (self, state, pawl_entry_get (entry, "reason"));
      break;
    case PAWL_ENTRY_RELEASED:
      state->release = entry;
      break;
    case PAWL_ENTRY_HOLD_CALLED:
      state->called = entry;
      break;
    case PAWL_ENTRY_TIGHTENED:
      state->levelled = entry;
      break;
    case PAWL_ENTRY_PHOTO:
      g_ptr_array_add (state->photos, entry);
      pawl_job_apply_photo (self, state, entry);
      break;
    case PAWL_ENTRY_NOTED:
      g_ptr_array_add (state->notes, entry);
      apply_clock_shift (self, entry);
      pawl_job_apply_photo (self, state, entry);
      break;
    default:
      break;
    }
}

static void
set_variant (PawlJob *self, const char *variant)
{
  g_free (self->variant);
  self->variant = g_strdup (variant != NULL ? variant : "");
}

static void
apply (PawlJob *self, PawlEntry *entry)
{
  const char *subject = pawl_entry_get_subject (entry);
  PawlAskState *ask = g_hash_table_lookup (self->ask_by_id, subject);
  PawlStepState *step = g_hash_table_lookup (self->step_by_id, subject);
  PawlEntryKind kind = pawl_entry_get_kind (entry);

  switch (kind)
    {
    case PAWL_ENTRY_OPENED:
      self->opening = entry;
      set_variant (self, pawl_entry_get (entry, "variant"));
      break;
    case PAWL_ENTRY_IDENTIFIED:
      pawl_job_reopen_for_variant (self, pawl_entry_get (entry, "variant"));
      set_variant (self, pawl_entry_get (entry, "variant"));
      break;
    case PAWL_ENTRY_CORRECTED:
      pawl_job_apply_corrected (self, entry);
      break;
    case PAWL_ENTRY_SIGNED:
      self->signature = entry;
      break;
    case PAWL_ENTRY_DISPOSED:
      apply_disposed (self, entry);
      break;
    case PAWL_ENTRY_LACKED:
    case PAWL_ENTRY_ARRIVED:
      pawl_job_apply_supply (self, entry);
      break;
    default:
      if (kind == PAWL_ENTRY_TIGHTENED && *subject == '\0')
        pawl_job_apply_tightened (self, entry);
      else if (ask != NULL)
        apply_to_ask (self, ask, entry);
      else if (step != NULL)
        apply_to_step (self, step, entry);
      break;
    }
}

/* ---- second pass: what follows ---- */

static void
settle_wait (PawlJob *self, PawlAskState *state)
{
  const PawlWait *wait = state->ask->wait;
  GTimeSpan seconds;

  if (state->started == NULL)
    {
      state->status = PAWL_ASK_PENDING;
      return;
    }
  state->earliest = g_date_time_add_seconds (state->started, (double) wait->min_seconds);
  if (wait->max_seconds > 0)
    {
      state->latest = g_date_time_add_seconds (state->started, (double) wait->max_seconds);
      state->late_seconds = MAX (g_date_time_difference (state->ended != NULL ? state->ended : self->now, state->latest) / G_TIME_SPAN_SECOND, 0);
    }
  if (state->ended == NULL)
    {
      state->status = PAWL_ASK_RUNNING;
      return;
    }
  seconds = g_date_time_difference (state->ended, state->started) / G_TIME_SPAN_SECOND;
  state->status = seconds < wait->min_seconds || (wait->max_seconds > 0 && seconds > wait->max_seconds)
                  ? PAWL_ASK_OUT : PAWL_ASK_ACCEPTED;
}

static void
settle_answers (PawlAskState *state)
{
  const PawlAttempt *last;

  if (state->n_current == 0)
    {
      state->status = state->attempts->len > 0 ? PAWL_ASK_STALE : PAWL_ASK_PENDING;
      return;
    }
  last = state->attempts->pdata[state->attempts->len - 1];
  if (!last->is_whole && !last->is_void)
    state->status = PAWL_ASK_PENDING; /* of a set of repeats some are taken */
  else if (last->is_accepted)
    state->status = PAWL_ASK_ACCEPTED;
  else
    state->status = last->verdict.kind == PAWL_VERDICT_TOO_CLOSE ? PAWL_ASK_TOO_CLOSE : PAWL_ASK_OUT;
}

/* What is worked out from other readings, and limits that follow from them, as those readings stand now. */
static void
settle_followers (PawlJob *self, PawlAskState *state)
{
  const PawlReading *reading = state->ask->reading;
  PawlAttempt *attempt;

  g_clear_pointer (&state->limits, pawl_limits_unref);
  g_clear_pointer (&state->wants, g_free);
  state->limits = pawl_reading_find_limits (self, state->ask, &state->wants, NULL);
  if (state->limits == NULL)
    state->limits = pawl_limits_ref (reading->limits);
  if (reading->derived != NULL && state->n_current == 0)
    {
      if ((attempt = pawl_reading_derive (self, state, &state->wants, NULL)) == NULL)
        return;
      g_ptr_array_add (state->attempts, attempt);
      state->n_current = 1;
    }
  else if (pawl_limits_get_kind (reading->limits) == PAWL_LIMITS_FOLLOWS && state->n_current > 0)
    {
      attempt = state->attempts->pdata[state->attempts->len - 1];
      if (pawl_reading_judge_again (self, state, attempt, NULL))
        attempt->is_accepted = attempt->is_whole && !attempt->is_void && (attempt->verdict.kind == PAWL_VERDICT_IN || reading->is_as_found);
    }
}

static void
settle_ask (PawlJob *self, PawlAskState *state)
{
  if (state->ask->kind == PAWL_ASK_READING)
    settle_followers (self, state);
  if (state->ask->kind == PAWL_ASK_CHECK)
    pawl_kit_judge_again (self, state);
  if (!pawl_job_is_wanted (self, state->ask) || !pawl_job_is_applicable (self, state->step->variant))
    state->status = PAWL_ASK_NOT_APPLICABLE;
  else
    {
      if (state->ask->kind == PAWL_ASK_WAIT)
        settle_wait (self, state);
      else
        settle_answers (state);
      if (state->deviation != NULL && state->status != PAWL_ASK_RUNNING)
        state->status = PAWL_ASK_DEVIATED;
    }
}

static void
add_blocker (PawlStepState *state, PawlBlockerKind kind, const char *id, char *text)
{
  PawlBlocker *blocker = g_new0 (PawlBlocker, 1);

  blocker->kind = kind;
  blocker->id = id;
  blocker->text = text;
  g_ptr_array_add (state->blockers, blocker);
}

/* Over already: what needs no later look at blockers. */
static gboolean
settle_finished_step (PawlJob *self, PawlStepState *state)
{
  const char *what = state->deviation != NULL ? pawl_entry_get (state->deviation, "what") : NULL;

  if (!pawl_job_is_applicable (self, state->step->variant))
    state->status = PAWL_STEP_NOT_APPLICABLE;
  else if (g_strcmp0 (what, "skipped") == 0)
    state->status = PAWL_STEP_SKIPPED;
  else if (state->done != NULL && state->redo_reason == NULL)
    state->status = PAWL_STEP_DONE;
  else
    return FALSE;
  return TRUE;
}

static void
find_step_blockers (PawlJob *self, PawlStepState *state, GPtrArray *needs)
{
  for (guint i = 0; i < needs->len; i++)
    {
      const PawlStep *need = needs->pdata[i];
      const PawlStepState *before = g_hash_table_lookup (self->step_by_id, need->id);

      if (!pawl_step_status_is_over (before->status))
        add_blocker (state, before->status == PAWL_STEP_WAITING ? PAWL_BLOCKED_BY_WAIT : PAWL_BLOCKED_BY_STEP,
                     need->id, pawl_step_describe (need));
      else if (pawl_step_is_held (before))
        add_blocker (state, PAWL_BLOCKED_BY_HOLD, need->id,
                     g_strdup_printf ("the hold at step %s, which nobody has released", need->number));
    }
}

static void
find_ask_blockers (PawlStepState *state)
{
  for (guint i = 0; i < state->covered->len; i++)
    {
      const PawlAskState *covered = state->covered->pdata[i];

      if (!pawl_ask_status_is_settled (covered->status) && !pawl_ask_is_only_late (covered) && !(covered->ask->is_optional && covered->n_current == 0))
        add_blocker (state, PAWL_BLOCKED_BY_ASK, covered->ask->id,
                     g_strdup_printf ("“%s” of step %s, which this step hides (%s)", covered->ask->name,
                                      covered->step->number, pawl_ask_status_get_word (covered->status)));
    }
}

/* A donor's part waits for what proves it. */
static void
find_proof_blockers (PawlJob *self, PawlStepState *state, const PawlPart *part)
{
  for (char **id = part->proofs; *id != NULL; id++)
    {
      const PawlAskState *proof = g_hash_table_lookup (self->ask_by_id, *id);

      if (proof != NULL && proof->step != state->step && !pawl_ask_status_is_settled (proof->status))
        add_blocker (state, PAWL_BLOCKED_BY_ASK, proof->ask->id,
                     g_strdup_printf ("“%s” of step %s, which proves the donor's “%s” (%s)", proof->ask->name, proof->step->number, part->name,
                                      pawl_ask_status_get_word (proof->status)));
    }
}

/* A part that is not there stops what fits it, and nothing else. */
static void
find_part_blockers (PawlJob *self, PawlStepState *state)
{
  for (char **id = state->step->installs; *id != NULL; id++)
    {
      const PawlPartState *part = g_hash_table_lookup (self->part_by_id, *id);

      if (part != NULL && pawl_part_is_from_donor (part))
        find_proof_blockers (self, state, part->part);
      if (part != NULL && part->lack != NULL)
        add_blocker (state, PAWL_BLOCKED_BY_PART, part->part->id, pawl_part_describe_lack (self, part));
    }
}

static gboolean
has_running_wait (const PawlStepState *state)
{
  for (guint i = 0; i < state->asks->len; i++)
    if (((PawlAskState *) state->asks->pdata[i])->status == PAWL_ASK_RUNNING)
      return TRUE;
  return FALSE;
}

static void
settle_open_step (PawlJob *self, PawlStepState *state)
{
  g_autoptr(GPtrArray) needs = pawl_order_list_needs (self->procedure, state->step);
  const PawlStep *earlier = pawl_job_find_earlier (self, state);

  if (earlier != NULL && !g_ptr_array_find (needs, earlier, NULL))
    add_blocker (state, PAWL_BLOCKED_BY_STEP, earlier->id, pawl_step_describe (earlier));
  /* A deviation on the step itself is a person's word that it is done out of order. */
  if (state->deviation == NULL)
    {
      find_step_blockers (self, state, needs);
      find_ask_blockers (state);
      find_part_blockers (self, state);
    }
  if (state->blockers->len > 0)
    state->status = PAWL_STEP_BLOCKED;
  else if (has_running_wait (state))
    state->status = PAWL_STEP_WAITING;
  else
    state->status = state->redo_reason != NULL ? PAWL_STEP_REDO : PAWL_STEP_OPEN;
}

/* Blockers look at the status of other steps, so whatever is over or waits is settled first. */
static void
settle_steps (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStepState *state = self->steps->pdata[i];

      if (!settle_finished_step (self, state))
        state->status = has_running_wait (state) ? PAWL_STEP_WAITING : PAWL_STEP_OPEN;
    }
  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStepState *state = self->steps->pdata[i];

      if (!pawl_step_status_is_over (state->status))
        settle_open_step (self, state);
    }
}

static void
place_parts (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStep *step = ((PawlStepState *) self->steps->pdata[i])->step;

      for (guint j = 0; step->removes[j] != NULL; j++)
        {
          PawlPartState *part = g_hash_table_lookup (self->part_by_id, step->removes[j]);

          if (part != NULL && part->place == PAWL_PLACE_NOT_YET)
            part->place = PAWL_PLACE_ON_UNIT;
        }
    }
}

/* Where each part is: on the unit at first when some step takes it off or none puts it on, then as the finished steps left it. */
static void
settle_parts (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    for (char **id = ((PawlStepState *) self->steps->pdata[i])->step->installs; *id != NULL; id++)
      {
        PawlPartState *part = g_hash_table_lookup (self->part_by_id, *id);

        if (part != NULL)
          part->place = PAWL_PLACE_NOT_YET;
      }
  place_parts (self);
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];
      PawlPartState *part;

      if (state->status != PAWL_STEP_DONE)
        continue;
      for (char **id = state->step->removes; *id != NULL; id++)
        if ((part = g_hash_table_lookup (self->part_by_id, *id)))
          part->place = PAWL_PLACE_OFF;
      for (char **id = state->step->installs; *id != NULL; id++)
        if ((part = g_hash_table_lookup (self->part_by_id, *id)))
          part->place = PAWL_PLACE_SEATED;
    }
}

static void
find_covered (PawlJob *self, PawlStepState *state)
{
  g_autoptr(GPtrArray) asks = pawl_order_list_covered (self->procedure, state->step);

  for (guint i = 0; i < asks->len; i++)
    g_ptr_array_add (state->covered, g_hash_table_lookup (self->ask_by_id, ((PawlAsk *) asks->pdata[i])->id));
}

void
pawl_job_fold_entries (PawlJob *self, const char *corrected)
{
  PawlAskState *ask = corrected != NULL ? g_hash_table_lookup (self->ask_by_id, corrected) : NULL;

  for (guint i = 0; i < self->steps->len; i++)
    find_covered (self, self->steps->pdata[i]);
  pawl_job_find_hidden (self);
  find_undone (self);
  for (guint i = 0; i < self->entries->len; i++)
    {
      PawlEntry *entry = self->entries->pdata[i];

      if (!pawl_job_is_undone (self, entry) && pawl_entry_get_kind (entry) != PAWL_ENTRY_UNDONE)
        {
          self->folding = entry;
          apply (self, entry);
        }
    }
  self->folding = NULL;
  if (ask != NULL)
    pawl_job_reopen_coupled (self, ask);
  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStepState *state = self->steps->pdata[i];

      for (guint j = 0; j < state->asks->len; j++)
        settle_ask (self, state->asks->pdata[j]);
    }
  pawl_job_settle_levels (self);
  settle_steps (self);
  settle_parts (self);
  pawl_job_settle_hidden (self);
  pawl_job_hide (self);
}
