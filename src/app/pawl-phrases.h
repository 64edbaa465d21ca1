/* Phrases: sentences that a page shows about an ask, a part, a caution. Pure; all results (transfer full) unless const. */
#pragma once

#include "drawing/pawl-sketch.h"
#include "job/pawl-job.h"

G_BEGIN_DECLS

/* "Inverted · gasket on · from gasket face to highest point of the float · with Depth gauge (± 0.03 mm)"; "" when nothing is stated. */
char       *pawl_phrase_describe_conditions (PawlProcedure *procedure, const PawlAsk *ask);
/* "Limits 1 5/16 in ± 1/64 in (manual p. 40)" */
char       *pawl_phrase_describe_limits     (const PawlAsk *ask, const PawlLimits *limits); /* (nullable) @limits: those that apply now */
/* Two sources that disagree stand side by side: "Another source: 32..34 mm (…)"; NULL when there is only one. */
char       *pawl_phrase_describe_other_limits (const PawlAsk *ask);
/* (nullable): said before the reading, when the instrument's uncertainty eats more than a quarter of the tolerance. */
char       *pawl_phrase_warn_coarse         (PawlProcedure *procedure, const PawlAskState *state);
/* "33.3 mm · 1.311 in" */
char       *pawl_phrase_describe_value      (const PawlAttempt *attempt, char decimal_mark);
/* " · worked out", behind a value; "" for what was measured. */
const char *pawl_phrase_get_origin          (const PawlAttempt *attempt);
/* "In", "Out: 0.2 mm above the limit 33.5 mm", "Too close to call …"; for outcomes the outcome itself with in or out. */
char       *pawl_phrase_describe_verdict    (const PawlAsk *ask, const PawlAttempt *attempt);
/* (nullable): "Depth gauge (± 0.03 mm)" */
char       *pawl_phrase_describe_instrument (PawlProcedure *procedure, const PawlReading *reading);
/* "✓", "✗" or "≈": beside the word, never instead of it. */
const char *pawl_phrase_get_verdict_sign    (PawlVerdictKind kind);
/* "which way round" */
const char *pawl_phrase_get_rule_title      (PawlRuleKind kind);
/* What a row is headed by: the ask's name, and for a fit what about the part is meant: "Shaft bushing, drilled: which end leads". */
char       *pawl_phrase_make_title            (const PawlAsk *ask);
/* "The difference is 6.0 mm. Look at the part: …" */
char       *pawl_phrase_describe_difference (const PawlRule *rule, const PawlSketchOptions *lengths);
/* "open-ended" for "open-ended": hyphens of an outcome become spaces, first letter large. */
char       *pawl_phrase_format_outcome      (const char *outcome);
/* "Soak, body half: out from 14:20, by 16:40 at the latest" */
char       *pawl_phrase_describe_wait       (PawlJob *job, const PawlAskState *state);
/* "30 min", "1 h 30 min", "2 d 4 h" */
char       *pawl_phrase_format_duration     (gint64 seconds);
char       *pawl_phrase_format_clock        (GDateTime *time, GDateTime *now);
const char *pawl_phrase_get_signal          (PawlSignal signal);
/* How to avoid it, ending in "Follow your local rules." unless the author's own words defer to local or national rules already. */
char       *pawl_phrase_describe_avoiding   (const PawlCaution *caution);
const char *pawl_phrase_get_place           (PawlPlace place);
const char *pawl_phrase_get_verified        (PawlVerified verified);
/* "26 Shaft bushing, drilled; 29 Felt ring (2)" */
char       *pawl_phrase_list_parts          (PawlProcedure *procedure, char **ids);
char       *pawl_phrase_list_tools          (PawlProcedure *procedure, const PawlStep *step);
/* First letter large. */
char       *pawl_phrase_capitalise         (const char *text);
/* A message of the job, begun with a capital and ended with a full stop, as a line on screen. */
char       *pawl_phrase_make_sentence       (const char *message);

G_END_DECLS
