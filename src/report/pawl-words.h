/* Words: facts of a job as they are said on paper. Pure; all results are (transfer full) unless const. */
#pragma once

#include "job/pawl-results.h"

G_BEGIN_DECLS

/* "2026-11-25 14:05 +00:00"; (nullable) @time gives "". */
char       *pawl_words_time        (GDateTime *time);
/* The same without its offset, when that is the offset of @reference: "2026-11-25 14:05". */
char       *pawl_words_time_beside (GDateTime *time, GDateTime *reference);
/* "45 s", "30 min", "4 h", "1 h 30 min", "2 d 4 h". */
char       *pawl_words_duration    (gint64 seconds);
/* "30 min to 4 h"; "at least 30 min" when @max_seconds is 0. */
char       *pawl_words_wait_limits (const PawlWait *wait);
/* "out 40 min after its maximum"; of a wait that is late */
char       *pawl_words_late        (const PawlAskState *wait);
/* First eight characters of an id, for people to compare. */
char       *pawl_words_short_id    (const char *id);
/* "not-needed" → "not needed". */
char       *pawl_words_outcome     (const char *outcome);
/* Several outcomes: "used or not needed". */
char       *pawl_words_outcomes    (const char * const *outcomes);

/* An answer as typed, with its unit when none was typed; of more than two values of one kind the smallest and the largest. */
char       *pawl_words_reading     (const PawlAttempt *attempt);
/* The conversion beside it; (nullable). */
char       *pawl_words_conversion  (const PawlAttempt *attempt);
/* "in", "out", "too close to call", "in, worn". */
char       *pawl_words_verdict     (const PawlAttempt *attempt);
/* Where an ask stands when that is more than its verdict: "accepted as a deviation", "to be taken again"; "" else. */
const char *pawl_words_standing    (PawlAskStatus status);
/* "inverted, gasket on, from the gasket face to the highest point"; "" when nothing is stated. */
char       *pawl_words_conditions  (const PawlReading *reading);
/* "U = 0.0058 mm", in the unit of the limits; "" when nothing is known of it. */
char       *pawl_words_uncertainty (const PawlAttempt *attempt);
/* Each value at its place, and what they come to: "top 88.01 mm; low 88.02 mm; spread 0.01 mm, limits max 0.02 mm: in"; "" of a single value. */
char       *pawl_words_places      (const PawlReading *reading, const PawlAttempt *attempt);
/* All attempts in order: "1 1/4 in: out; 1 5/16 in: in". */
char       *pawl_words_attempts    (const PawlAskState *state);
/* "Depth gauge, ± 0.03 mm", or that none was stated. */
char       *pawl_words_instrument  (PawlProcedure *procedure, const PawlReading *reading, const PawlAttempt *attempt);

/* What became of a part: "new from the kit", "reused", "repaired", "replaced", "left in place", "not refitted". */
char       *pawl_words_part        (const PawlPartState *part);
/* Where a part came from, when that is more than the kit; its lot; why: "donor SD-3; lot D-12; scored". */
char       *pawl_words_origin      (const PawlEntry *disposition);
/* The lots that the reconciled lines of the kit name, each once: "K3-0417"; "" when none does. */
char       *pawl_words_kit_lots    (PawlJob *job);
const char *pawl_words_verify_by   (PawlVerifyBy by);
/* What releasing a step of this kind means: "Released the hold at", "Witnessed", "Reviewed". */
const char *pawl_words_release     (PawlHold hold);
const char *pawl_words_verified    (PawlVerified verified);
/* "Step 12, Press in the bushing" or the name of an ask; the subject itself when the procedure does not know it. */
char       *pawl_words_subject     (PawlJob *job, const char *subject);

/* "38 of 41 steps done; 1 left out with a reason; 2 not done; 1 not for this variant." */
char       *pawl_words_count_steps    (PawlJob *job);
/* "14 characteristics: 12 in, 1 out, 1 not measured." */
char       *pawl_words_count_readings (GPtrArray *results);

G_END_DECLS
