/* Where the camera is aimed by itself. */
#pragma once

#include "drawing/pawl-scene.h"

G_BEGIN_DECLS

/* All that is shown, but never so close that a closed-up unit would look like another drawing. */
void pawl_figure_aim_at_whole (PawlScene *scene);
/* @regions: (array zero-terminated=1): those of a step's parts, with room round them. */
void pawl_figure_aim_at_step  (PawlScene *scene, const char * const *regions);
/* The sheet is not moved under the reader's eyes for a few millimetres: back to @before unless something would be out of sight there, or most of the
 * room be left empty. */
void pawl_figure_aim_steadily (PawlScene *scene, PawlBox before);

G_END_DECLS
