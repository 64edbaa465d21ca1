/*
 * The bar under the figure that runs through the whole job: the unit comes apart and builds itself up again under the pointer, the arrow
 * keys or the Play button. It only looks; nothing of the job changes. At rest it has the figure's zoom buttons.
 *
 * At rest the slider stands where the job stands.
 *
 * Signals
 *   moved (double position)   show the film at this position
 *   rested                    back to the job as it stands
 *   chosen (char *step_id)    somebody wants to see this step's page
 */
#pragma once

#include <gtk/gtk.h>
#include "view/pawl-build-up.h"

G_BEGIN_DECLS

#define PAWL_TYPE_BUILD_UP_BAR (pawl_build_up_bar_get_type ())
G_DECLARE_FINAL_TYPE (PawlBuildUpBar, pawl_build_up_bar, PAWL, BUILD_UP_BAR, GtkWidget)

/* @film: (nullable) (transfer full): there is nothing to run through. */
void         pawl_build_up_bar_set_film   (PawlBuildUpBar *self, PawlBuildUp *film);
PawlBuildUp *pawl_build_up_bar_peek_film  (PawlBuildUpBar *self); /* (nullable) */
/* Where the job stands, and so where the slider rests. Ends a look through the job without a signal. */
void         pawl_build_up_bar_rest_at    (PawlBuildUpBar *self, double position);
gboolean     pawl_build_up_bar_is_at_rest (PawlBuildUpBar *self);
char        *pawl_build_up_bar_describe   (PawlBuildUpBar *self); /* (transfer full): which step is under way */

/* Commands. */
void         pawl_build_up_bar_toggle     (PawlBuildUpBar *self); /* play, or pause; from the start when it stands at the end */
void         pawl_build_up_bar_step       (PawlBuildUpBar *self, int n_steps); /* there in one slide, or at once without animations */
void         pawl_build_up_bar_go_to      (PawlBuildUpBar *self, double position);
void         pawl_build_up_bar_leave      (PawlBuildUpBar *self); /* "rested", when it is not */

G_END_DECLS
