/* The kit against what is fitted: how many are in hand, needed, left over. */
#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"

/* ---- counts that were typed ---- */

gboolean
pawl_kit_read_count (const PawlAsk *ask, const char *answer, guint *count)
{
  g_autofree char *text = g_strstrip (g_strdup (answer));
  guint64 number;

  if (!pawl_kit_takes_count (ask) || !g_ascii_string_to_unsigned (text, 10, 0, 10000, &number, NULL))
    return FALSE;
  *count = (guint) number;
  return TRUE;
}

/* Of the answers that count the last one; "missing" is none of it. FALSE when nobody looked, or it was another word. */
static gboolean
find_count (const PawlAskState *state, guint *count)
{
  const PawlAttempt *last = pawl_ask_peek_current (state);
  const char *answer = last != NULL && last->entry != NULL ? pawl_entry_get (last->entry, "answer") : NULL;

  if (answer == NULL)
    return FALSE;
  if (g_str_equal (answer, "missing"))
    {
      *count = 0;
      return TRUE;
    }
  return pawl_kit_read_count (state->ask, answer, count);
}

/* ---- one line ---- */

/* Some step that fits it is for this variant and was not left out. */
static gboolean
is_to_be_fitted (PawlJob *self, const char *part_id)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *state = self->steps->pdata[i];
      const char *what = state->deviation != NULL ? pawl_entry_get (state->deviation, "what") : NULL;

      if (pawl_job_is_applicable (self, state->step->variant) && g_strcmp0 (what, "skipped") != 0
          && g_strv_contains ((const char * const *) state->step->installs, part_id))
        return TRUE;
    }
  return FALSE;
}

/* Whether the one that is fitted is the kit's. */
static gboolean
is_from_kit (const PawlPartState *part)
{
  if (part->arrival != NULL && pawl_entry_get (part->arrival, "source") != NULL)
    return pawl_source_is (part->arrival, "kit");
  if (part->disposition == NULL)
    return part->part->is_kit;
  return g_strcmp0 (pawl_entry_get (part->disposition, "choice"), "replace") == 0 && pawl_source_is (part->disposition, "kit");
}

/* @elsewhere: pieces that are fitted, or on their way, from elsewhere. */
static guint
count_need (PawlJob *self, const PawlCheck *check, guint *elsewhere)
{
  guint need = 0;

  *elsewhere = 0;
  for (char **id = check->parts; !check->is_unused && *id != NULL; id++)
    {
      const PawlPartState *part = pawl_job_lookup_part (self, *id);

      if (part == NULL || !is_to_be_fitted (self, *id))
        continue;
      if (is_from_kit (part))
        need += part->part->quantity;
      if (part->lack != NULL)
        *elsewhere += part->part->quantity;
    }
  return need;
}

static PawlKitLine *
make_line (PawlJob *self, const PawlAskState *state)
{
  PawlKitLine *line = g_new0 (PawlKitLine, 1);
  guint elsewhere;

  line->state = state;
  line->brings = line->in_hand = state->ask->check->quantity;
  find_count (state, &line->in_hand);
  line->need = count_need (self, state->ask->check, &elsewhere);
  line->left = line->in_hand > line->need ? line->in_hand - line->need : 0;
  line->shortage = line->need > line->in_hand + elsewhere ? line->need - line->in_hand - elsewhere : 0;
  return line;
}

GPtrArray *
pawl_job_list_kit (PawlJob *self)
{
  g_autoptr(GPtrArray) asks = pawl_kit_list_lines (self->procedure, pawl_job_get_variant (self));
  GPtrArray *lines = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < asks->len; i++)
    g_ptr_array_add (lines, make_line (self, pawl_job_lookup_ask (self, ((PawlAsk *) asks->pdata[i])->id)));
  return lines;
}

guint
pawl_job_count_left_over (PawlJob *self)
{
  g_autoptr(GPtrArray) lines = pawl_job_list_kit (self);
  guint n = 0;

  for (guint i = 0; i < lines->len; i++)
    n += ((PawlKitLine *) lines->pdata[i])->left;
  return n;
}

char *
pawl_job_describe_left_over (PawlJob *self)
{
  g_autoptr(GPtrArray) lines = pawl_job_list_kit (self);
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < lines->len; i++)
    {
      const PawlKitLine *line = lines->pdata[i];

      if (line->left > 0)
        g_string_append_printf (text, "%s%u × %s", text->len > 0 ? ", " : "", line->left, line->state->ask->name);
    }
  return g_strdup (text->str);
}

char *
pawl_kit_line_describe (const PawlKitLine *line)
{
  g_autoptr(GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%u in hand", line->in_hand);
  if (line->in_hand != line->brings)
    g_string_append_printf (text, " of %u", line->brings);
  if (line->state->ask->check->is_unused)
    g_string_append (text, ", not for this unit");
  else
    g_string_append_printf (text, ", %u needed", line->need);
  if (line->shortage > 0)
    g_string_append_printf (text, ", %u short", line->shortage);
  if (line->left > 0)
    g_string_append_printf (text, ", %u left over", line->left);
  return g_strdup (text->str);
}

/* ---- judging ---- */

/* Of a line, enough is right; of what is left over, only the number that should be. */
void
pawl_kit_judge_count (PawlJob *self, const PawlAsk *ask, guint count, PawlAttempt *attempt)
{
  guint elsewhere;
  gboolean is_right = ask->check->kind == PAWL_CHECK_LEFT_OVER ? count == pawl_job_count_left_over (self) : count >= count_need (self, ask->check, &elsewhere);

  attempt->verdict.kind = is_right ? PAWL_VERDICT_IN : PAWL_VERDICT_OUT;
}

void
pawl_kit_judge_again (PawlJob *self, PawlAskState *state)
{
  PawlAttempt *last = state->n_current > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  guint count;

  if (last == NULL || !pawl_kit_read_count (state->ask, pawl_entry_get (last->entry, "answer"), &count))
    return;
  pawl_kit_judge_count (self, state->ask, count, last);
  last->is_accepted = last->verdict.kind == PAWL_VERDICT_IN;
}

gboolean
pawl_kit_get_count (PawlJob *self, const PawlAsk *ask, const PawlAttempt *attempt, guint *count, guint *wanted)
{
  const char *answer = attempt->entry != NULL ? pawl_entry_get (attempt->entry, "answer") : NULL;
  guint elsewhere;

  if (answer == NULL || !pawl_kit_read_count (ask, answer, count))
    return FALSE;
  *wanted = ask->check->kind == PAWL_CHECK_LEFT_OVER ? pawl_job_count_left_over (self) : count_need (self, ask->check, &elsewhere);
  return TRUE;
}

char *
pawl_kit_describe_count (PawlJob *self, const PawlAsk *ask, const PawlAttempt *attempt)
{
  guint count, need;

  if (!pawl_kit_get_count (self, ask, attempt, &count, &need))
    return NULL;
  if (ask->check->kind == PAWL_CHECK_LEFT_OVER)
    return g_strdup_printf ("%u left, %u expected", count, need);
  if (count < need)
    return g_strdup_printf ("%u in hand, %u needed: %u short", count, need, need - count);
  return g_strdup_printf ("%u in hand, %u needed", count, need);
}

/* ---- what is not as it should be ---- */

static void
add_line_remark (GPtrArray *remarks, const PawlKitLine *line)
{
  g_autofree char *words = pawl_kit_line_describe (line);

  if (line->shortage > 0 || line->in_hand != line->brings)
    g_ptr_array_add (remarks, g_strdup_printf ("%s, of the kit: %s", line->state->ask->name, words));
}

/* Counted, or judged in a word; nothing to say while it is as it should be. */
static void
add_left_over_remark (PawlJob *self, GPtrArray *remarks, const PawlAskState *state)
{
  const PawlAttempt *last = pawl_ask_peek_current (state);
  g_autofree char *counted = last != NULL ? pawl_kit_describe_count (self, state->ask, last) : NULL;
  const char *answer = last != NULL && last->entry != NULL ? pawl_entry_get (last->entry, "answer") : NULL;

  if (answer == NULL || last->is_accepted)
    return;
  if (counted == NULL)
    counted = g_strdup_printf ("%s than expected", answer);
  g_ptr_array_add (remarks, g_strdup_printf ("%s: %s", state->ask->name, counted));
}

GPtrArray *
pawl_job_list_kit_remarks (PawlJob *self)
{
  g_autoptr(GPtrArray) lines = pawl_job_list_kit (self);
  GPtrArray *remarks = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < lines->len; i++)
    add_line_remark (remarks, lines->pdata[i]);
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *step = self->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = step->asks->pdata[j];

          if (state->ask->kind == PAWL_ASK_CHECK && state->ask->check->kind == PAWL_CHECK_LEFT_OVER && state->status != PAWL_ASK_NOT_APPLICABLE)
            add_left_over_remark (self, remarks, state);
        }
    }
  return remarks;
}
