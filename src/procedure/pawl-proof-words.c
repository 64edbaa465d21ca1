/*
 * Words: sizes said twice, commands, dangers that no caution names.
 *
 * A caution guards the step that names it and the steps after it in the file: what was said once about fuel holds for the rest of
 * the job. A caution that no step names is never shown before anything, so it guards nothing, and is reported itself.
 */
#include <string.h>

#include "procedure/pawl-proof-private.h"

/* ---- sizes ---- */

static void
check_sizes (PawlProof *self, const PawlText *text)
{
  g_autofree char *pair = pawl_words_find_inch_metric (text->words);
  g_autofree char *drill = pawl_words_find_drill (text->words);

  if (pair != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "inch-metric-disagree", text->line, "%s; correct one of the two", pair);
  if (drill != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "drill-disagree", text->line, "%s; correct one of the two", drill);
}

static gboolean
is_inch (const PawlUnit *unit)
{
  static const char * const symbols[] = { "in", "thou", "mil", NULL };

  return g_strv_contains (symbols, pawl_unit_get_symbol (unit));
}

/*
 * Two sources may disagree, and stand side by side until a person chooses. One source that prints inch and metric means one
 * thing: limits and other-limits of the same source (or of none said), in the two systems, must agree within their rounding.
 */
static void
check_limits_pair (PawlProof *self, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;
  const PawlUnit *unit = pawl_limits_get_unit (reading->limits);
  const PawlUnit *other_unit = reading->other_limits != NULL ? pawl_limits_get_unit (reading->other_limits) : NULL;

  if (unit == NULL || other_unit == NULL || (reading->other_source != NULL && g_strcmp0 (reading->other_source, ask->source) != 0))
    return;
  if (pawl_unit_get_dimension (unit) != PAWL_DIMENSION_LENGTH || pawl_unit_get_dimension (other_unit) != PAWL_DIMENSION_LENGTH
      || is_inch (unit) == is_inch (other_unit) || pawl_limits_agree (reading->limits, reading->other_limits))
    return;
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "inch-metric-disagree", ask->line,
                  "the limits \"%s\" and \"%s\" of reading \"%s\" are of one source and disagree; correct one of the two, or give other-source",
                  pawl_limits_get_text (reading->limits), pawl_limits_get_text (reading->other_limits), ask->id);
}

/* ---- commands ---- */

static void
check_command (PawlProof *self, const PawlText *text)
{
  if (strcmp (text->name, "do") == 0 && pawl_words_are_two_sentences (text->words))
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "two-commands", text->line,
                    "<do> holds more than one sentence; keep one command, and make the rest a step of its own or <info>");
}

/* ---- cautions ---- */

static gboolean
step_cautions (PawlProof *self, const PawlStep *step, const char *topic)
{
  for (char **id = step->cautions; *id != NULL; id++)
    {
      const PawlCaution *caution = pawl_procedure_lookup_caution (self->procedure, *id);

      if (caution != NULL && strcmp (caution->topic, topic) == 0)
        return TRUE;
    }
  return FALSE;
}

/* Index of the first step that cautions about @topic, or G_MAXINT. */
static int
find_first_caution (PawlProof *self, const char *topic)
{
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < steps->len; i++)
    if (step_cautions (self, g_ptr_array_index (steps, i), topic))
      return i;
  return G_MAXINT;
}

/* One finding for a topic: when its caution is added there, the later steps are guarded as well. */
static void
check_topic (PawlProof *self, const PawlTopicWords *topic)
{
  GPtrArray *texts = self->procedure->texts;
  g_autoptr(GRegex) regex = pawl_topic_words_compile (topic);
  int first_caution = find_first_caution (self, topic->topic);

  for (guint i = 0; i < texts->len; i++)
    {
      const PawlText *text = g_ptr_array_index (texts, i);
      g_autofree char *word = text->step != NULL ? pawl_words_find_topic (text->words, regex) : NULL;

      if (word == NULL)
        continue;
      if (pawl_procedure_get_step_index (self->procedure, text->step->id) < first_caution)
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "caution-missing", text->line,
                        "step \"%s\" speaks of \"%s\", and no caution of the topic %s stands before it; name one in its cautions=\"…\"", text->step->id,
                        word, topic->topic);
      return;
    }
}

static void
check_unused_cautions (PawlProof *self)
{
  g_autoptr(GHashTable) named = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *steps = self->procedure->steps;
  GPtrArray *cautions = self->procedure->cautions;

  for (guint i = 0; i < steps->len; i++)
    for (char **id = ((PawlStep *) g_ptr_array_index (steps, i))->cautions; *id != NULL; id++)
      g_hash_table_add (named, *id);
  for (guint i = 0; i < cautions->len; i++)
    {
      const PawlCaution *caution = g_ptr_array_index (cautions, i);

      if (!g_hash_table_contains (named, caution->id))
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "caution-unused", caution->line,
                        "no step names the caution \"%s\", so it is never shown; name it in the cautions=\"…\" of the steps that it guards", caution->id);
    }
}

void
pawl_proof_check_words (PawlProof *self)
{
  GPtrArray *texts = self->procedure->texts;
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < texts->len; i++)
    {
      const PawlText *text = g_ptr_array_index (texts, i);

      check_sizes (self, text);
      check_command (self, text);
    }
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);

          if (ask->kind == PAWL_ASK_READING)
            check_limits_pair (self, ask);
        }
    }
  for (const PawlTopicWords *topic = pawl_topic_words; topic->topic != NULL; topic++)
    check_topic (self, topic);
  check_unused_cautions (self);
}
