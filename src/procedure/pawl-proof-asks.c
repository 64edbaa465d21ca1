/* Asks: rules that lack a dimension, limits without a source, tools too coarse, waits without an end. */
#include <string.h>

#include "procedure/pawl-proof-private.h"

/* ---- fit rules ---- */

static void
check_rule_words (PawlProof *self, const PawlRule *rule)
{
  const struct { const char *words, *element, *what; } wanted[] = {
    { rule->datum, "datum", "by what function it is told which way it goes" },
    { rule->consequence, "wrong", "what happens if it is fitted wrong" },
    { rule->tell, "tell", "how to tell on the real part" },
    { rule->verify, "verify", "how to verify it once fitted" },
  };

  if (rule->kind == PAWL_RULE_EITHER)
    return;
  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    if (wanted[i].words == NULL || wanted[i].words[0] == '\0')
      pawl_proof_add (self, PAWL_SEVERITY_WARNING, "rule-incomplete", rule->line, "fit rule \"%s\" does not say %s; add <%s>", rule->id, wanted[i].what,
                      wanted[i].element);
}

static void
check_rule (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  const PawlRule *rule = ask->rule;
  g_autofree char *missing = pawl_rule_find_missing (rule);

  check_rule_words (self, rule);
  if (missing != NULL)
    {
      pawl_proof_add (self, PAWL_SEVERITY_ERROR, "rule-incomplete", rule->line,
                      "fit rule \"%s\" of kind %s can't be drawn nor its difference measured: it lacks %s; add it", rule->id,
                      pawl_rule_kind_get_name (rule->kind), missing);
      return;
    }
  pawl_proof_check_hold (self, step, ask);
}

/* ---- readings ---- */

static gboolean
is_said (const char *words)
{
  return words != NULL && words[0] != '\0';
}

static void
check_sources (PawlProof *self, const PawlAsk *ask)
{
  if (!is_said (ask->source))
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "limits-without-source", ask->line,
                    "the limits of reading \"%s\" have no source; add source=\"book and page\", or \"common practice, no source\"", ask->id);
  if (ask->reading->other_limits != NULL && !is_said (ask->reading->other_source))
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "limits-without-source", ask->line,
                    "the other-limits of reading \"%s\" have no source; add other-source=\"book and page\"", ask->id);
}

static PawlDimension
get_dimension (const PawlLimits *limits)
{
  const PawlUnit *unit = pawl_limits_get_unit (limits);

  return unit != NULL ? pawl_unit_get_dimension (unit) : PAWL_DIMENSION_NONE;
}

/* U over a quarter of the tolerance is too much (4 to 1: common practice, no source). */
#define COARSE 0.25

/* A difference of two readings is uncertain by √2 of one (JCGM 100:2008, 5.1.2, uncorrelated); of a ratio the tool's own limits say nothing. */
static void
check_coarse (PawlProof *self, const PawlAsk *ask, const PawlTool *tool, PawlOf of, const PawlLimits *limits, int line)
{
  double ratio = 0;

  if (of == PAWL_OF_RATIO)
    return;
  pawl_instrument_is_too_coarse (&tool->instrument, limits, &ratio);
  if (of == PAWL_OF_SPREAD)
    ratio *= G_SQRT2;
  if (ratio > COARSE)
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "tool-too-coarse", line,
                    "tool \"%s\" is too coarse for the limits %s of %sreading \"%s\": its uncertainty is %.0f %% of the tolerance to either side; name one of under 25 %%",
                    tool->id, pawl_limits_get_text (limits), of == PAWL_OF_SPREAD ? "the spread of " : "", ask->id, 100 * ratio);
}

static void
check_tool (PawlProof *self, const PawlAsk *ask)
{
  const PawlTool *tool = pawl_procedure_lookup_tool (self->procedure, ask->reading->tool);
  PawlDimension wanted = get_dimension (ask->reading->limits);
  PawlDimension given;

  if (tool == NULL || !tool->is_measuring)
    return;
  given = pawl_unit_get_dimension (pawl_quantity_get_unit (tool->instrument.max_error));
  if (given != wanted)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "tool-mismatch", ask->line, "reading \"%s\" is of %s, but tool \"%s\" measures %s; name another tool",
                    ask->id, pawl_dimension_get_name (wanted), tool->id, pawl_dimension_get_name (given));
  else
    {
      check_coarse (self, ask, tool, ask->reading->of, ask->reading->limits, ask->line);
      for (guint i = 0; i < ask->reading->by_variant->len; i++)
        {
          const PawlVariantLimits *one = g_ptr_array_index (ask->reading->by_variant, i);

          check_coarse (self, ask, tool, ask->reading->of, one->limits, one->line);
        }
      for (guint i = 0; i < ask->reading->judgements->len; i++)
        {
          const PawlJudgement *judgement = g_ptr_array_index (ask->reading->judgements, i);

          check_coarse (self, ask, tool, judgement->of, judgement->limits, judgement->line);
        }
    }
}

static void
check_reading (PawlProof *self, const PawlAsk *ask)
{
  check_sources (self, ask);
  if (ask->reading->tool != NULL)
    check_tool (self, ask);
}

/* ---- the rest ---- */

static void
check_wait (PawlProof *self, const PawlAsk *ask)
{
  const PawlWait *wait = ask->wait;

  if (wait->is_limited_by_agent && wait->max_seconds == 0)
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "wait-without-max", ask->line,
                    "wait \"%s\" has no maximum, though its agent has one; add max=\"…\" from the agent's own sheet", ask->id);
  if (wait->max_seconds > 0 && wait->min_seconds > wait->max_seconds)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "wait-reversed", ask->line,
                    "wait \"%s\" has a minimum longer than its maximum; swap min and max", ask->id);
}

static void
check_outcomes (PawlProof *self, const PawlAsk *ask)
{
  const char * const *outcomes = pawl_limits_peek_outcomes (ask->check->limits);
  const char * const *acceptable = pawl_limits_peek_acceptable (ask->check->limits);
  g_autofree char *all = g_strjoinv (" ", (char **) outcomes);

  for (; *acceptable != NULL; acceptable++)
    if (!g_strv_contains (outcomes, *acceptable))
      pawl_proof_add (self, PAWL_SEVERITY_ERROR, "choice-accept-unknown", ask->line,
                      "check \"%s\" accepts \"%s\", which is none of its outcomes; take from: %s", ask->id, *acceptable, all);
}

static void
check_pictures (PawlProof *self, const PawlAsk *ask)
{
  const char * const *outcomes = pawl_limits_peek_outcomes (ask->check->limits);
  g_autofree char *all = g_strjoinv (" ", (char **) outcomes);

  for (guint i = 0; i < ask->check->pictures->len; i++)
    {
      const PawlOutcomePicture *picture = ask->check->pictures->pdata[i];

      if (!g_strv_contains (outcomes, picture->outcome))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "picture-of-nothing", picture->line,
                        "check \"%s\" has a picture of \"%s\", which is none of its outcomes; take from: %s", ask->id, picture->outcome, all);
    }
}

/* Metering passages are proved by light or air: a wire or a drill changes their size. */
static void
check_metering (PawlProof *self, const PawlAsk *ask)
{
  const char *tool = NULL;

  if (!ask->check->is_metering)
    return;
  if (ask->check->with != NULL && g_regex_match_simple ("\\bwires?\\b", ask->check->with, G_REGEX_CASELESS, 0))
    tool = "wire";
  else if (ask->check->with != NULL && g_regex_match_simple ("\\bdrills?\\b", ask->check->with, G_REGEX_CASELESS, 0))
    tool = "drill";
  else
    tool = pawl_words_ask_for_wire (ask->says);
  if (tool != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "wire-in-metering", ask->line,
                    "check \"%s\" is of a metering passage and asks for a %s, which would change its size; prove it with light or air", ask->id, tool);
}

static void
check_decide (PawlProof *self, const PawlAsk *ask)
{
  const PawlPart *part = pawl_procedure_lookup_part (self->procedure, ask->decide->part);

  if (part != NULL && part->is_one_way && g_strv_contains ((const char * const *) ask->decide->choices, "reuse"))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "one-way-reused", ask->line,
                    "\"%s\" offers to reuse part \"%s\", which is spoilt by removal; take reuse out of choices", ask->id, part->id);
}

void
pawl_proof_check_asks (PawlProof *self)
{
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);

          switch (ask->kind)
            {
            case PAWL_ASK_FIT:
              check_rule (self, step, ask);
              break;
            case PAWL_ASK_CHECK:
              check_outcomes (self, ask);
              check_metering (self, ask);
              check_pictures (self, ask);
              break;
            case PAWL_ASK_READING:
              check_reading (self, ask);
              pawl_proof_check_reading (self, step, ask);
              break;
            case PAWL_ASK_WAIT:
              check_wait (self, ask);
              break;
            case PAWL_ASK_DECIDE:
              check_decide (self, ask);
              break;
            case PAWL_ASK_NOTE:
            default:
              break;
            }
        }
    }
}
