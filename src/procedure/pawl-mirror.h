/*
 * Teardown as the mirror of assembly: what goes on last comes off first. It serves a file that has no steps for taking apart. It follows from what
 * the assembly says and nothing else: what is pressed, staked or glued comes off otherwise than it went on, and nobody has tried this order.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

typedef struct {
  const PawlStep *step;     /* that fits them; borrowed */
  GPtrArray      *parts;    /* (element-type PawlPart): that come off here, the last one fitted first */
  GPtrArray      *first;    /* (element-type PawlAsk): readings to take and marks to look at before it, for the way in: readings but torques, and fits by this job's own mark */
  char           *warning;  /* (nullable): why it can't be undone, what is spoilt by it */
} PawlMirrorStep;

/**
 * pawl_mirror_list:
 * @variant: "" for none
 *
 * Each step for @variant that fits parts, turned round: no step comes off before all that stands on it by precedence, and of those that
 * may the last one of the file is first. A part tried on and taken off meanwhile is listed once, where it is fitted for good.
 *
 * Returns: (transfer full) (element-type PawlMirrorStep)
 */
GPtrArray *pawl_mirror_list     (PawlProcedure *procedure, const char *variant);
/* Whether the file itself has steps that take parts off, for @variant. */
gboolean   pawl_mirror_is_stated (PawlProcedure *procedure, const char *variant);

G_END_DECLS
