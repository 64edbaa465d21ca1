/* Which instrument of the register typed a run of keys, and what it said. Pure. */
#pragma once

#include "procedure/pawl-procedure.h"
#include "register/pawl-register.h"

G_BEGIN_DECLS

typedef struct {
  PawlBurst   burst;
  char       *value; /* (nullable) as the reading's line takes it: "24.97 mm" */
  char       *mark;  /* (nullable) of the one that typed it; of several that may have, all of them: "CAL-1, CAL-2" */
  gboolean    is_bare; /* nothing but figures, without prefix, suffix and decimal mark: a scanner of bar codes types the same */
} PawlGaugeMatch;

/**
 * pawl_gauge_match_make:
 * @ask: (nullable): the reading that is open
 * @chosen: (nullable): mark of what it is taken with, as it stands there
 *
 * The chosen instrument is believed first, then those of the kind that the reading wants, then all that type. So two of one make are told apart by
 * what stands on the screen, and where that says nothing they stay several.
 */
void pawl_gauge_match_make  (const PawlKeyPress *keys, guint n, gint64 now_usec, const PawlRegister *instruments, PawlProcedure *procedure,
                             const PawlAsk *ask, const char *chosen, PawlGaugeMatch *match);
void pawl_gauge_match_clear (PawlGaugeMatch *match);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlGaugeMatch, pawl_gauge_match_clear)

G_END_DECLS
