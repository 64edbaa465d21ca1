/* Asked first: what was guessed before the right way round was shown, and how the next question is put. */
#include "job/pawl-job-private.h"

static gboolean
is_guess_of (const PawlEntry *entry, const char *ask_id)
{
  return pawl_entry_get_kind (entry) == PAWL_ENTRY_GUESSED && g_str_equal (pawl_entry_get_subject (entry), ask_id);
}

PawlEntry *
pawl_job_peek_guess (PawlJob *self, const char *ask_id)
{
  for (guint i = self->entries->len; i > 0; i--)
    if (is_guess_of (self->entries->pdata[i - 1], ask_id) && !pawl_job_is_undone (self, self->entries->pdata[i - 1]))
      return self->entries->pdata[i - 1];
  return NULL;
}

gboolean
pawl_job_asks_first (PawlJob *self, const PawlAskState *ask)
{
  g_autofree char *skill = ask->ask->kind == PAWL_ASK_FIT ? pawl_ask_dup_skill (ask->ask) : NULL;

  return pawl_tighten_lists (pawl_job_get_tightening (self, PAWL_TIGHTEN_ASK_FIRST), skill) && ask->status == PAWL_ASK_PENDING
         && ask->attempts->len == 0 && pawl_job_peek_guess (self, ask->ask->id) == NULL && pawl_rule_can_be_asked (ask->ask->rule);
}

PawlQuestion
pawl_job_make_question (PawlJob *self, const PawlAskState *ask)
{
  guint n_before = 0;

  for (guint i = 0; i < self->entries->len; i++)
    n_before += is_guess_of (self->entries->pdata[i], ask->ask->id);
  return pawl_question_make (ask->ask->rule, pawl_question_make_seed (pawl_job_get_id (self), ask->ask->id, n_before));
}
