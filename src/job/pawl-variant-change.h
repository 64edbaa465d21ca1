/*
 * What a correction of the variant changes, before it is made: which steps, asks and parts come and go, whose limits are others, and what is to be done
 * again. Pure, and no second reckoning: the job is folded once more with the correction in it, as in pawl-redo.h, and the two are compared.
 */
#pragma once

#include "job/pawl-redo.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_CHANGE_COMES,  /* is of the new variant alone */
  PAWL_CHANGE_GOES,   /* is of the old one alone */
  PAWL_CHANGE_LIMITS, /* an ask of both that is held against other limits */
} PawlChangeKind;

/* One of them: a step, an ask of a step that both have, or a part. */
typedef struct {
  PawlChangeKind      kind;
  const PawlStep     *step;   /* (nullable): the step, or that of the ask */
  const PawlAskState *ask;    /* (nullable): as it will be, or as it was when it goes */
  const PawlPart     *part;   /* (nullable) */
  char               *before, *after; /* (nullable): limits, of an ask that has some */
} PawlVariantChangeLine;

typedef struct {
  PawlRedoPlan *redo;
  GPtrArray    *lines; /* (element-type PawlVariantChangeLine): steps and their asks in file order, then parts */
} PawlVariantChange;

/**
 * pawl_variant_change_new:
 * @variant: the whole list of ids, as the entry would have it
 * @error: PAWL_JOB_ERROR: no such variant, it is that already, or the job is signed
 *
 * Returns: (transfer full) (nullable): borrows from @job, which has to outlive it.
 */
PawlVariantChange *pawl_variant_change_new  (PawlJob *job, const char *variant, GError **error);
void               pawl_variant_change_free (PawlVariantChange *self);

/* (transfer full): "step 12, Fit the spring of this hand", "“Condenser” of step 31, 0.18..0.22 µF", "part 49, Impulse spring" */
char              *pawl_variant_change_line_describe (const PawlVariantChangeLine *self);
const char        *pawl_change_kind_get_word (PawlChangeKind kind); /* "comes", "goes", "limits" */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlVariantChange, pawl_variant_change_free)

G_END_DECLS
