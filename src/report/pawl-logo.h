/* The shop's logo: a picture or a drawing that nobody vouches for, bounded and tried like any other. */
#pragma once

#include "drawing/pawl-trial.h"

G_BEGIN_DECLS

typedef struct _PawlLogo PawlLogo;

/**
 * pawl_logo_load:
 * @path: PNG or JPEG, or SVG by its name's ending
 * @error: what the file is and why it can't serve; G_IO_ERROR, PAWL_FIGURE_ERROR or PAWL_TRIAL_ERROR
 *
 * At most 4 MiB. An SVG is scanned and tried like a figure. May block for as long as a trial takes.
 */
PawlLogo *pawl_logo_load       (PawlTrial *trial, const char *path, GCancellable *cancellable, GError **error);
PawlLogo *pawl_logo_ref        (PawlLogo *self);
void      pawl_logo_unref      (PawlLogo *self);
/* Of the picture: width by height. */
double    pawl_logo_get_aspect (PawlLogo *self);
/* Draws it into the box, as large as fits. */
void      pawl_logo_draw       (PawlLogo *self, cairo_t *cr, double x, double y, double width, double height);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLogo, pawl_logo_unref)

G_END_DECLS
