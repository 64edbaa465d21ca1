/*
 * The build-up: a whole job as the procedure has it, from the unit as it comes in to the unit as it goes out, as something to scrub through.
 * Position 0 is before the first step, n after the n-th; between n and n + 1 the parts of the step between are on their way, one a little
 * after the other in the order that the step names them. Pure: procedure, variant and position in, one view a part out. Never changed after.
 */
#pragma once

#include "procedure/pawl-mirror.h"
#include "view/pawl-job-view.h"

G_BEGIN_DECLS

typedef struct _PawlBuildUp PawlBuildUp;

/* @variant: "" or (nullable): steps of every variant but those that are tied to one. Holds @procedure. */
PawlBuildUp    *pawl_build_up_new         (PawlProcedure *procedure, const char *variant);
/* The whole unit taken apart as the mirror of its assembly has it: position 0 is the whole unit, and between n and n + 1 the parts of the n-th step
 * of the mirror come off. Advice, as the mirror is: see procedure/pawl-mirror.h. Its steps are those that are undone. */
PawlBuildUp    *pawl_build_up_new_mirrored (PawlProcedure *procedure, const char *variant);
void            pawl_build_up_free        (PawlBuildUp *self);

const char     *pawl_build_up_get_variant (PawlBuildUp *self);
/* (nullable) (element-type PawlMirrorStep): in the order in which they come off; NULL: it builds up. */
GPtrArray      *pawl_build_up_get_mirror  (PawlBuildUp *self);
/* Steps that apply: positions run from 0 to this. */
guint           pawl_build_up_get_length  (PawlBuildUp *self);
/* (nullable): the step that is under way at @position: the one about to begin when it is whole, none at the very end. */
const PawlStep *pawl_build_up_peek_step   (PawlBuildUp *self, double position);
/* Where @step begins, or -1 when it doesn't apply. */
double          pawl_build_up_find        (PawlBuildUp *self, const char *step_id);
/* (transfer full) (element-type PawlPartView): illustrated parts in item order, as pawl_job_view_new() gives them. */
GPtrArray      *pawl_build_up_view        (PawlBuildUp *self, double position);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlBuildUp, pawl_build_up_free)

G_END_DECLS
