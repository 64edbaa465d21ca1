/* Which instruments of the register a reading is offered, and what is said of one before the reading is taken. Pure. */
#pragma once

#include "job/pawl-job.h"
#include "register/pawl-register.h"

G_BEGIN_DECLS

/* What a draft says for "another, or not stated"; no mark is that short. */
#define PAWL_INSTRUMENT_OTHER "-"

/**
 * pawl_instrument_offer_list:
 * @instruments: (nullable)
 * @draft: mark, PAWL_INSTRUMENT_OTHER, or "" as long as nobody chose
 * @chosen: (out): place in the list; its length for another, or not stated
 *
 * The instruments in use of the kind that @ask wants, the one used last with that tool in this job first, then those in date; one that was chosen
 * although it is of another kind stands at the end. Unless somebody chose: the one used last, or the only one there is. Of several that none was
 * used of nothing is assumed, because what stands in the record has to be what was in the hand.
 *
 * Returns: (transfer container) (element-type PawlGauge)
 */
GPtrArray *pawl_instrument_offer_list     (const PawlRegister *instruments, PawlJob *job, const PawlAsk *ask, const char *draft, guint *chosen);

/* (transfer full): "✗ Out of date: was due 2026-10-01. The report will say so." and more, as the job's policy wants it said. */
char      *pawl_instrument_offer_describe (const PawlGauge *gauge, PawlJob *job, const PawlAsk *ask, GDateTime *at);
/* Whether it is something to stop at: out of date where that is to be said, due soon, or another kind than is asked for. */
gboolean   pawl_instrument_offer_is_doubtful (const PawlGauge *gauge, PawlJob *job, const PawlAsk *ask, GDateTime *at);

/* (transfer full) (nullable): that the limits are too tight for it: for @gauge when its error is stated, else for the procedure's tool. */
char      *pawl_instrument_offer_warn_coarse (const PawlGauge *gauge, PawlJob *job, const PawlAskState *state);

G_END_DECLS
