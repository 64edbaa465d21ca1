/*
 * The figure in the window: draws a scene, slides parts home, zooms, and lets a part be picked by pointer or keyboard. Each part is an
 * accessible item. Without a figure it says why instead.
 *
 * Signal "part-picked" (char *part_id): "" when nothing is picked any more.
 */
#pragma once

#include <gtk/gtk.h>
#include "view/pawl-build-up.h"

G_BEGIN_DECLS

#define PAWL_TYPE_FIGURE_VIEW (pawl_figure_view_get_type ())
G_DECLARE_FINAL_TYPE (PawlFigureView, pawl_figure_view, PAWL, FIGURE_VIEW, GtkWidget)

/* @folder: (nullable): where what was drawn is kept from one time to the next. Before set_figure. */
void       pawl_figure_view_set_store  (PawlFigureView *self, const char *folder);
/* @figure: (nullable); @message: shown when there is none. */
void       pawl_figure_view_set_figure (PawlFigureView *self, PawlFigure *figure, const char *message);
/* Shows the job as it stands while @step is looked at. Parts that came home since the last call slide there when @is_animated and the desktop
 * wants animations. The camera stays on the whole unless zoomed to the step, and then follows it. */
void       pawl_figure_view_apply      (PawlFigureView *self, PawlJob *job, const PawlStep *step, gboolean is_animated);
/* Parts (NULL-terminated ids, or NULL) that pawl_figure_view_apply() marks as if they were in hand as well. */
void       pawl_figure_view_set_marked (PawlFigureView *self, char **parts);
/* Shows @film at @position instead, until the next pawl_figure_view_apply(). @film outlives that. */
void       pawl_figure_view_show_film  (PawlFigureView *self, PawlBuildUp *film, double position);
void       pawl_figure_view_set_palette (PawlFigureView *self, PawlPalette palette);
void       pawl_figure_view_set_number_size (PawlFigureView *self, double pixels);

/* ---- camera ---- */
void       pawl_figure_view_zoom_by    (PawlFigureView *self, double factor);
void       pawl_figure_view_set_follows_step (PawlFigureView *self, gboolean follows); /* zoom to the step, or the whole unit */
gboolean   pawl_figure_view_get_follows_step (PawlFigureView *self);

/* ---- where to measure ---- */
/* A ring at @at of the figure as drawn, gone along with @region (nullable) where that has slid; NULL: none. */
void       pawl_figure_view_set_mark   (PawlFigureView *self, const PawlPoint *at, const char *region);

/* ---- picking ---- */
void        pawl_figure_view_pick_part (PawlFigureView *self, const char *part_id); /* NULL: none */
const char *pawl_figure_view_get_picked (PawlFigureView *self);                     /* (nullable) */

G_END_DECLS
