/* Inside the figure's view: pawl-figure-view.c shows a job and lets parts slide, -hand.c has what a hand does to it. */
#pragma once

#include "app/pawl-figure-steer.h"
#include "app/pawl-figure-view.h"
#include "app/pawl-part-items.h"

G_BEGIN_DECLS

struct _PawlFigureView {
  GtkWidget parent_instance;

  /* owned */
  PawlScene  *scene;    /* (nullable) */
  GtkWidget  *canvas;   /* shows the scene */
  GtkWidget  *message;  /* label, when there is no scene */
  PawlPartItems *items; /* children of this widget */
  GPtrArray  *views;    /* (nullable) (element-type PawlPartView) */
  PawlJob    *job;      /* holds what the views borrow */
  double     *from, *to; /* (nullable) (array length=views->len): fractions at both ends of a slide that is under way */
  char      **step_regions;
  char      **marked;       /* (nullable) ids of parts marked beside those of the step */
  char       *picked;   /* (nullable) part id */
  char       *mark_region; /* (nullable) */
  PawlPoint   mark;        /* where to measure, as drawn */
  gboolean    has_mark;

  gboolean    follows_step;
  gboolean    is_placed;  /* the camera was set at least once */
  gboolean    is_filming; /* shows the build-up instead of the job */
  gboolean    is_steered; /* the user moved it: it stays where it was put until one of its buttons is pressed */
  guint       tick_id;
  gint64      slide_begin;
};

double              pawl_figure_view_get_width     (PawlFigureView *self); /* pixels, never less than 1 */
double              pawl_figure_view_get_height    (PawlFigureView *self);
const PawlPartView *pawl_figure_view_find_view     (PawlFigureView *self, const char *part_id); /* (nullable) */
gboolean            pawl_figure_view_is_measured   (PawlFigureView *self); /* how large what is drawn is, is known */
void                pawl_figure_view_redraw        (PawlFigureView *self);
/* Parts in hand are numbered by the view; the picked one too. */
void                pawl_figure_view_number_picked (PawlFigureView *self);
/* To where it would look had nobody steered. */
void                pawl_figure_view_aim_anew      (PawlFigureView *self);

/* ---- pawl-figure-view-hand.c ---- */
extern const PawlFigureSteering pawl_figure_view_steering;
void                pawl_figure_view_pressed_cb     (GtkGestureClick *gesture, int n_press, double x, double y, PawlFigureView *self);
gboolean            pawl_figure_view_key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlFigureView *self);

G_END_DECLS
