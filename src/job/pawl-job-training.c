/* What a trainer does to a job: what is tightened, levels of steps, readings taken by two, and what was planted. */
#include <math.h>
#include <string.h>

#include "job/pawl-job-private.h"

/* ---- tightened ---- */

/* The newest word counts; "-" takes it back, also what the opening said. */
void
pawl_job_apply_tightened (PawlJob *self, PawlEntry *entry)
{
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    {
      const char *text = pawl_entry_get (entry, pawl_tighten_get_field ((PawlTighten) i));

      if (text != NULL)
        self->tightened[i] = g_str_equal (text, "-") ? "" : text;
    }
}

const char *
pawl_job_get_tightening (PawlJob *self, PawlTighten what)
{
  g_return_val_if_fail (what < PAWL_N_TIGHTENINGS, "");
  return self->tightened[what] != NULL ? self->tightened[what] : pawl_job_get_field (self, pawl_tighten_get_field (what));
}

static void
add_raised (GString *raised_by, const char *skill)
{
  if (strstr (raised_by->str, skill) == NULL)
    g_string_append_printf (raised_by, "%s%s", raised_by->len > 0 ? ", " : "", skill);
}

static void
settle_level (PawlJob *self, PawlStepState *state)
{
  const char *holds = pawl_job_get_tightening (self, PAWL_TIGHTEN_HOLDS);
  g_autoptr(GString) raised_by = g_string_new (NULL);

  state->hold = state->step->hold;
  if (state->levelled != NULL && pawl_hold_from_name (pawl_entry_get (state->levelled, "level"), &state->hold))
    return;
  for (guint i = 0; *holds != '\0' && i < state->asks->len; i++)
    {
      const PawlAskState *ask = state->asks->pdata[i];
      g_autofree char *skill = pawl_ask_dup_skill (ask->ask);
      PawlHold raised = pawl_tighten_raise (holds, skill, state->step->hold);

      if (raised > state->step->hold && pawl_job_is_applicable (self, ask->ask->variant))
        add_raised (raised_by, skill);
      if (pawl_job_is_applicable (self, ask->ask->variant))
        state->hold = MAX (state->hold, raised);
    }
  if (raised_by->len > 0)
    state->raised_by = g_strdup (raised_by->str);
}

void
pawl_job_settle_levels (PawlJob *self)
{
  for (guint i = 0; i < self->steps->len; i++)
    settle_level (self, self->steps->pdata[i]);
}

/* Who learns can't lift the order by a deviation of their own. A soak that runs stops nothing: the day would be lost. */
const PawlStep *
pawl_job_find_earlier (PawlJob *self, const PawlStepState *state)
{
  if (!g_str_equal (pawl_job_get_tightening (self, PAWL_TIGHTEN_ORDER), "fixed"))
    return NULL;
  if (state->deviation != NULL && !pawl_person_is_same (pawl_entry_get_person (state->deviation), pawl_job_get_field (self, "learner")))
    return NULL;
  for (guint i = 0; i < self->steps->len && self->steps->pdata[i] != state; i++)
    {
      const PawlStepState *before = self->steps->pdata[i];

      if (!pawl_step_status_is_over (before->status) && before->status != PAWL_STEP_WAITING)
        return before->step;
    }
  return NULL;
}

/* ---- readings by two ---- */

void
pawl_ask_pair (PawlAskState *state)
{
  if (state->again == NULL || state->paired[0] != NULL)
    return;
  state->paired[0] = pawl_ask_peek_current (state);
  state->paired[1] = pawl_ask_peek_current (state->again);
  if (state->paired[0] == NULL || state->paired[1] == NULL)
    state->paired[0] = state->paired[1] = NULL;
}

void
pawl_job_apply_remeasured (PawlJob *self, PawlAskState *state, PawlEntry *entry)
{
  PawlAttempt *attempt = state->again != NULL ? pawl_attempt_new (self, state->again, entry, NULL) : NULL;

  if (attempt == NULL)
    return;
  attempt->is_accepted = FALSE; /* it judges nothing */
  g_ptr_array_add (state->again->attempts, attempt);
  state->again->n_current++;
  pawl_ask_pair (state);
}

gboolean
pawl_job_is_blind (PawlJob *self, const PawlAskState *ask)
{
  g_autofree char *skill = ask->ask->kind == PAWL_ASK_READING ? pawl_ask_dup_skill (ask->ask) : NULL;

  return ask->paired[0] == NULL && pawl_tighten_lists (pawl_job_get_tightening (self, PAWL_TIGHTEN_BLIND), skill);
}

gboolean
pawl_job_has_hidden (PawlJob *self)
{
  return self->has_hidden;
}

static gboolean
is_taken_blind (const PawlEntry *entry)
{
  return g_strcmp0 (pawl_entry_get (entry, "blind"), "yes") == 0;
}

static gboolean
has_blind (const PawlAskState *state)
{
  for (guint i = 0; i < state->attempts->len; i++)
    if (((PawlAttempt *) state->attempts->pdata[i])->entry != NULL && is_taken_blind (((PawlAttempt *) state->attempts->pdata[i])->entry))
      return TRUE;
  return FALSE;
}

/* What the eye must not get, with the words that stand in its place. */
static void
hide_attempt (PawlAttempt *attempt)
{
  g_clear_pointer (&attempt->taken, pawl_quantity_unref);
  g_clear_pointer (&attempt->quantity, pawl_quantity_unref);
  g_clear_pointer (&attempt->values, g_ptr_array_unref);
  pawl_attempt_clear_judged (attempt);
  attempt->verdict = (PawlVerdict) { .kind = attempt->verdict.kind };
  attempt->u = 0;
}

/* A name in a formula: a reading's, or READING.SPOT. */
static gboolean
stands_on_hidden (PawlJob *self, const PawlWorkedOut *worked_out)
{
  const char * const *names = worked_out != NULL ? pawl_formula_peek_names (worked_out->formula) : NULL;

  for (guint i = 0; names != NULL && names[i] != NULL; i++)
    {
      g_autofree char *id = g_strndup (names[i], strcspn (names[i], "."));
      const PawlAskState *state = pawl_job_lookup_ask (self, id);

      if (state != NULL && state->is_hidden)
        return TRUE;
    }
  return FALSE;
}

static gboolean
has_hidden_limits (PawlJob *self, const PawlReading *reading)
{
  const PawlAskState *by = reading->table != NULL ? pawl_job_lookup_ask (self, reading->table->by) : NULL;

  return stands_on_hidden (self, reading->low) || stands_on_hidden (self, reading->high) || (by != NULL && by->is_hidden);
}

/* What is worked out from what is hidden would tell it. Returns whether one more was found. */
static gboolean
hide_follower (PawlJob *self, PawlAskState *state)
{
  const PawlReading *reading = state->ask->reading;

  if (state->is_hidden || !stands_on_hidden (self, reading->derived))
    return FALSE;
  state->is_hidden = TRUE;
  return TRUE;
}

static void
find_hidden (PawlJob *self)
{
  gboolean is_more = TRUE;
  GHashTableIter iter;
  gpointer value;

  g_hash_table_iter_init (&iter, self->ask_by_id);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      PawlAskState *state = value;

      state->is_hidden = state->ask->kind == PAWL_ASK_READING && pawl_job_is_blind (self, state) && (has_blind (state) || has_blind (state->again));
      self->has_hidden |= state->is_hidden;
    }
  while (self->has_hidden && is_more)
    {
      is_more = FALSE;
      g_hash_table_iter_init (&iter, self->ask_by_id);
      while (g_hash_table_iter_next (&iter, NULL, &value))
        if (((PawlAskState *) value)->ask->kind == PAWL_ASK_READING)
          is_more |= hide_follower (self, value);
    }
}

static void
hide_attempts (GPtrArray *attempts)
{
  for (guint i = 0; i < attempts->len; i++)
    hide_attempt (attempts->pdata[i]);
}

static void
point_at (GPtrArray *attempts, const PawlEntry *entry, PawlEntry *masked)
{
  for (guint i = 0; i < attempts->len; i++)
    if (((PawlAttempt *) attempts->pdata[i])->entry == entry)
      ((PawlAttempt *) attempts->pdata[i])->entry = masked;
}

/* The entry too: exports and reports go by what is in it. */
static void
mask_entry (PawlJob *self, guint place)
{
  PawlEntry *entry = self->entries->pdata[place], *masked;
  PawlAskState *state = g_hash_table_lookup (self->ask_by_id, pawl_entry_get_subject (entry));
  GHashTableIter iter;
  gpointer value;

  if (state == NULL || !state->is_hidden || pawl_entry_get (entry, "answer") == NULL || pawl_entry_get_id (entry) == NULL)
    return;
  masked = pawl_entry_dup_masked (entry, "answer", PAWL_HIDDEN_READING);
  g_hash_table_iter_init (&iter, self->ask_by_id);
  while (g_hash_table_iter_next (&iter, NULL, &value)) /* derived attempts name the newest that they stand on */
    {
      PawlAskState *other = value;

      point_at (other->attempts, entry, masked);
      if (other->again != NULL)
        point_at (other->again->attempts, entry, masked);
    }
  self->entries->pdata[place] = masked;
  pawl_entry_unref (entry);
}

void
pawl_job_hide (PawlJob *self)
{
  GHashTableIter iter;
  gpointer value;

  find_hidden (self);
  if (!self->has_hidden || self->is_in_sight)
    return;
  g_hash_table_iter_init (&iter, self->ask_by_id);
  while (g_hash_table_iter_next (&iter, NULL, &value))
    {
      PawlAskState *state = value;

      if (state->ask->kind == PAWL_ASK_READING && state->limits != NULL && has_hidden_limits (self, state->ask->reading))
        {
          pawl_limits_unref (state->limits);
          state->limits = pawl_limits_ref (state->ask->reading->limits);
          for (guint i = 0; i < state->attempts->len; i++)
            pawl_attempt_clear_judged (state->attempts->pdata[i]);
        }
      if (!state->is_hidden)
        continue;
      hide_attempts (state->attempts);
      hide_attempts (state->again->attempts);
    }
  for (guint i = 0; i < self->entries->len; i++)
    mask_entry (self, i);
}

/* ---- the difference of two ---- */

static double
get_base (const PawlQuantity *quantity)
{
  mpq_t low, high;
  double base;

  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  base = (mpq_get_d (low) + mpq_get_d (high)) / 2;
  mpq_clears (low, high, NULL);
  return base;
}

gboolean
pawl_ask_compare_pair (const PawlAskState *ask, PawlPairDifference *difference)
{
  const PawlAttempt *first = ask->paired[0], *other = ask->paired[1];

  if (first == NULL || first->quantity == NULL || other->quantity == NULL || first->values != NULL || ask->is_hidden)
    return FALSE;
  difference->unit = pawl_quantity_get_unit (first->quantity);
  difference->difference = get_base (other->quantity) - get_base (first->quantity);
  difference->expanded = first->u > 0 && other->u > 0 ? 2 * hypot (first->u, other->u) : 0;
  difference->is_beyond = difference->expanded > 0 && fabs (difference->difference) > difference->expanded;
  return TRUE;
}

char *
pawl_pair_describe (const PawlPairDifference *difference)
{
  double scale = pawl_unit_get_scale (difference->unit);
  const char *symbol = pawl_unit_get_symbol (difference->unit);
  double shown = difference->difference / scale;

  if (difference->expanded <= 0)
    return g_strdup_printf ("differs by %+.4g %s; nothing is known of the uncertainty", shown + 0.0, symbol);
  return g_strdup_printf ("differs by %+.4g %s, %s its U of %.2g %s", shown + 0.0, symbol, difference->is_beyond ? "more than" : "within",
                          difference->expanded / scale, symbol);
}

/* ---- what was planted ---- */

static PawlEntry *
find_opened (PawlJob *self, const char *id)
{
  for (guint i = 0; i < self->entries->len; i++)
    {
      PawlEntry *entry = self->entries->pdata[i];

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_UNSEALED && g_strcmp0 (pawl_entry_get_subject (entry), id) == 0 && !pawl_job_is_undone (self, entry))
        return entry;
    }
  return NULL;
}

GArray *
pawl_job_list_seals (PawlJob *self)
{
  GArray *seals = g_array_new (FALSE, FALSE, sizeof (PawlSeal));

  for (guint i = 0; i < self->entries->len; i++)
    {
      PawlEntry *entry = self->entries->pdata[i];
      PawlSeal seal = { entry, NULL };

      if (pawl_entry_get_kind (entry) != PAWL_ENTRY_SEALED || pawl_job_is_undone (self, entry))
        continue;
      seal.opened = pawl_entry_get_id (entry) != NULL ? find_opened (self, pawl_entry_get_id (entry)) : NULL;
      g_array_append_val (seals, seal);
    }
  return seals;
}

PawlEntry *
pawl_job_peek_sealed (PawlJob *self)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (self);

  for (guint i = 0; i < seals->len; i++)
    if (g_array_index (seals, PawlSeal, i).opened == NULL)
      return g_array_index (seals, PawlSeal, i).sealed;
  return NULL;
}
