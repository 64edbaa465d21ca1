/* Refusals of what a trainer enters, and of signing while something is still sealed or hidden. */
#include <string.h>

#include "job/pawl-job-private.h"
#include "job/pawl-seal.h"

#define refuse pawl_job_refuse

/* Who a trainer's word is proved by is for window and command; that it was, is said by the entry. */
static gboolean
check_by_trainer (PawlJob *self, PawlEntry *entry, const char *what, GError **error)
{
  const char *learner = pawl_job_get_field (self, "learner");

  if (g_strcmp0 (pawl_entry_get (entry, "by-pin"), "yes") != 0)
    return refuse (error, PAWL_JOB_ERROR_HELD, "%s needs the PIN of a trainer", what);
  if (*learner != '\0' && pawl_person_is_same (pawl_entry_get_person (entry), learner))
    return refuse (error, PAWL_JOB_ERROR_HELD, "%s learns in this job, so %s is somebody else's to enter", learner, what);
  return TRUE;
}

static gboolean
check_hold_called (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlStepState *state = pawl_job_lookup_step (self, pawl_entry_get_subject (entry));

  if (state == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no step “%s”", pawl_entry_get_subject (entry));
  if (state->hold == PAWL_HOLD_NONE)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "nobody has to look at step %s", state->step->number);
  if (state->release != NULL || state->waiver != NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s was looked at already", state->step->number);
  if (state->called != NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "somebody was asked to look at step %s already", state->step->number);
  return TRUE;
}

static gboolean
check_level (const PawlStepState *state, PawlEntry *entry, GError **error)
{
  const char *level = pawl_entry_get (entry, "level");
  PawlHold hold;

  if (level == NULL || !pawl_hold_from_name (level, &hold))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no level; it is hold, witness, review or none", level != NULL ? level : "");
  if (hold < state->hold && pawl_entry_get (entry, "reason") == NULL)
    return refuse (error, PAWL_JOB_ERROR_NEEDS_REASON, "to lower the level of step %s needs a reason", state->step->number);
  return TRUE;
}

static gboolean
check_tightened (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *subject = pawl_entry_get_subject (entry);
  const PawlStepState *state = *subject != '\0' ? pawl_job_lookup_step (self, subject) : NULL;
  guint n = 0;

  if (!check_by_trainer (self, entry, "what is tightened", error))
    return FALSE;
  if (*subject != '\0' && state == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no step “%s”", subject);
  if (state != NULL)
    return check_level (state, entry, error);
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    {
      const char *text = pawl_entry_get (entry, pawl_tighten_get_field ((PawlTighten) i));

      if (text != NULL && !pawl_tighten_check ((PawlTighten) i, text, error))
        return FALSE;
      n += text != NULL;
    }
  return n > 0 || refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "nothing was said of order, ask-first, blind or holds");
}

static gboolean
check_remeasured (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlAskState *state = pawl_job_lookup_ask (self, pawl_entry_get_subject (entry));
  const PawlAttempt *first;
  g_autoptr(PawlAttempt) attempt = NULL;

  if (state == NULL || state->again == NULL || state->ask->reading->derived != NULL || state->status == PAWL_ASK_NOT_APPLICABLE)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "“%s” is no reading that is taken here", pawl_entry_get_subject (entry));
  first = state->attempts->len > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  if (state->paired[0] != NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "both readings of “%s” are in already", state->ask->name);
  if ((first != NULL && pawl_person_is_same (pawl_entry_get_person (first->entry), pawl_entry_get_person (entry)))
      || pawl_person_is_same (pawl_job_get_field (self, "learner"), pawl_entry_get_person (entry)))
    return refuse (error, PAWL_JOB_ERROR_HELD, "the second reading of “%s” is somebody else's; %s answers the first", state->ask->name,
                   pawl_entry_get_person (entry));
  if (!pawl_job_check_not_covered (self, state, error))
    return FALSE;
  attempt = pawl_attempt_new (self, state->again, entry, error);
  return attempt != NULL;
}

static gboolean
check_sealed (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlStepState *state = pawl_job_lookup_step (self, pawl_entry_get_subject (entry));
  const char *digest = pawl_entry_get (entry, "digest");

  if (!check_by_trainer (self, entry, "a fault that is planted", error))
    return FALSE;
  if (state == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no step “%s” at which to open the seal", pawl_entry_get_subject (entry));
  if (state->hold == PAWL_HOLD_NONE)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "step %s has no hold at which the seal would be opened; raise it first", state->step->number);
  if (digest == NULL || strlen (digest) != 64 || strspn (digest, "0123456789abcdef") != 64)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a seal is the SHA-256 of a code and a text, 64 hexadecimal digits");
  return TRUE;
}

static const PawlSeal *
find_seal (GArray *seals, const char *id)
{
  for (guint i = 0; i < seals->len; i++)
    if (g_strcmp0 (pawl_entry_get_id (g_array_index (seals, PawlSeal, i).sealed), id) == 0)
      return &g_array_index (seals, PawlSeal, i);
  return NULL;
}

static gboolean
check_fits (PawlJob *self, const PawlEntry *sealed, PawlEntry *entry, GError **error)
{
  const char *code = pawl_entry_get (entry, "code"), *text = pawl_entry_get (entry, "text"), *found = pawl_entry_get (entry, "found");
  const char *kind = pawl_entry_get (entry, "fault-kind");
  g_autofree char *digest = NULL;
  guint known;

  if (code == NULL || text == NULL)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a seal is opened by its code and its text; when they are lost, by a reason alone");
  digest = pawl_seal_dup_digest (code, text);
  if (g_strcmp0 (digest, pawl_entry_get (sealed, "digest")) != 0)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "that is not what was sealed: code or text differ");
  if (found == NULL || !g_strv_contains ((const char *[]) { "yes", "no", NULL }, found))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "was it found? It is yes or no");
  if (pawl_entry_get (entry, "learner") == NULL)
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "whose finding is it? Name the learner");
  if (kind != NULL && !pawl_planted_kind_from_name (kind, &known))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER,
                   "“%s” is no kind of fault; it is sense, side, index, spread, which, order, mate, reading or statement", kind);
  return TRUE;
}

static gboolean
check_unsealed (PawlJob *self, PawlEntry *entry, GError **error)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (self);
  const PawlSeal *seal = find_seal (seals, pawl_entry_get_subject (entry));

  if (!check_by_trainer (self, entry, "the opening of a seal", error))
    return FALSE;
  if (seal == NULL)
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "nothing was sealed under “%s”", pawl_entry_get_subject (entry));
  if (seal->opened != NULL)
    return refuse (error, PAWL_JOB_ERROR_NOT_OPEN, "that seal was opened already");
  if (pawl_entry_get (entry, "code") == NULL && pawl_entry_get (entry, "text") == NULL && pawl_entry_get (entry, "reason") != NULL)
    return TRUE;
  return check_fits (self, seal->sealed, entry, error);
}

gboolean
pawl_job_check_training (PawlJob *self, PawlEntry *entry, GError **error)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_HOLD_CALLED: return check_hold_called (self, entry, error);
    case PAWL_ENTRY_TIGHTENED:   return check_tightened (self, entry, error);
    case PAWL_ENTRY_REMEASURED:  return check_remeasured (self, entry, error);
    case PAWL_ENTRY_SEALED:      return check_sealed (self, entry, error);
    case PAWL_ENTRY_UNSEALED:    return check_unsealed (self, entry, error);
    default:                     g_return_val_if_reached (FALSE);
    }
}

gboolean
pawl_job_check_sealed (PawlJob *self, GError **error)
{
  if (pawl_job_peek_sealed (self) != NULL)
    return refuse (error, PAWL_JOB_ERROR_HELD, "something was planted in this job, and its seal is not opened; a trainer opens it");
  for (guint i = 0; i < self->steps->len; i++)
    {
      GPtrArray *asks = ((PawlStepState *) self->steps->pdata[i])->asks;

      for (guint j = 0; j < asks->len; j++)
        {
          const PawlAskState *state = asks->pdata[j];

          if (state->is_hidden && state->ask->reading->derived == NULL)
            return refuse (error, PAWL_JOB_ERROR_UNANSWERED, "“%s” was taken blind, and the other reading is not in; a trainer takes it, or lifts that",
                           state->ask->name);
        }
    }
  return TRUE;
}
