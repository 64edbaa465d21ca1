/* What is wanted of the worker for a scene in a drawing of some size. Lists of jobs and images to be kept: (transfer full). */
#pragma once

#include "drawing/pawl-chunk-worker.h"
#include "drawing/pawl-scene-chunks.h"

G_BEGIN_DECLS

/**
 * pawl_figure_wishes_list:
 * @is_at_rest: the camera stays at this scale: images of another one that nobody looks at are let go of
 * @has_all: (out): there is something to show of all that is in view, sharp or not
 *
 * What is missing, highlighted parts first.
 */
GArray *pawl_figure_wishes_list          (PawlScene *scene, double width, double height, gboolean is_at_rest, gboolean *has_all);
/* When all is sharp: the pale look of what is shown in ink, because one step may turn a whole unit pale. */
void    pawl_figure_wishes_add_spares    (PawlScene *scene, double width, double height, GArray *jobs);
/* The ink boxes of all that has none yet. */
GArray *pawl_figure_wishes_list_measures (PawlScene *scene);
/* All that is sharp and in view, to be kept on disk. */
GArray *pawl_figure_wishes_list_kept     (PawlScene *scene, double width, double height);

G_END_DECLS
