/* How each part stands on the figure while a step is looked at. Pure: job and step in, one line a part out. */
#pragma once

#include "drawing/pawl-scene.h"
#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef struct {
  const PawlPart *part;     /* borrowed */
  PawlState       state;
  double          fraction; /* 0 as drawn, 1 home */
  char           *words;    /* "26 Shaft bushing, drilled: this step" */
} PawlPartView;

void       pawl_part_view_free    (PawlPartView *self);

/* (transfer full) (element-type PawlPartView): parts in item order, illustrated ones only.
 * Parts that the step fits, takes off or asks about stand out; parts on the unit are solid at their seats; what was taken off lies where the
 * figure draws it, and turns pale once fitting has begun, as what comes later is. */
GPtrArray *pawl_figure_state_new  (PawlJob *job, const PawlStep *step);
/* (transfer full): NULL-terminated regions of the parts that the step is about: for the camera. */
char     **pawl_figure_state_list_step_regions (PawlJob *job, const PawlStep *step);
gboolean   pawl_step_has_part     (const PawlStep *step, const PawlPart *part);

G_END_DECLS
