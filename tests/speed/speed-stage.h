/* A window with nothing but a figure in it, to be measured. */
#pragma once

#include "drawing/pawl-scene.h"
#include "speed-watch.h"

typedef struct {
  GtkWidget  *window;
  GtkWidget  *canvas;
  SpeedWatch *watch;
  PawlScene  *scene;  /* (nullable): what the canvas shows */
  int         width, height;
} SpeedStage;

/* Shows the window, and returns when it stands. @cache_folder: where drawn parts may be kept from one opening to the next. */
SpeedStage *speed_stage_new     (int width, int height, const char *cache_folder);
void        speed_stage_free    (SpeedStage *self);
/* Shows all of a figure as its author drew it. Returns at once, before it is drawn. */
void        speed_stage_open    (SpeedStage *self, PawlFigure *figure);
void        speed_stage_close   (SpeedStage *self); /* shows nothing */
void        speed_stage_refresh (SpeedStage *self); /* to be called when the scene was changed */
/* Runs until all is sharp and nothing moves any more. Returns the time when the last frame was on the screen, monotonic microseconds. */
gint64      speed_stage_settle  (SpeedStage *self);
/* Calls @step with 0 to 1 before every frame for so long, and draws each. The watch has counted this move when it returns. */
void        speed_stage_move    (SpeedStage *self, guint length_msec, void (*step) (SpeedStage *self, double t));
/* (transfer full): what the window shows. */
cairo_surface_t *speed_stage_take_picture (SpeedStage *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpeedStage, speed_stage_free)
