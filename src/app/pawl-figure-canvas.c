#include "app/pawl-figure-canvas.h"

#include <math.h>

#include "app/pawl-figure-nodes.h"
#include "app/pawl-figure-wishes.h"
#include "drawing/pawl-chunk-worker.h"
#include "drawing/pawl-scene-chunks.h"

/* A camera that has not moved for so long is at rest, and one that begins to move after so long may do so once only. */
#define SETTLE_MSEC 25
#define LONG_REST_MSEC 300
/* How long the picture as it was stands in for the new one as a whole, when all that is highlighted is there and when it is not; after that the new
 * one shows as far as it is there. That picture is right, with the old images scaled one by one, but takes longer to paint. */
#define STAND_IN_LEAST_USEC 400000
#define STAND_IN_USEC 2000000
#define STAND_IN_LOOK_MSEC 100
/* What has been sharp for so long is kept on disk. */
#define KEEP_MSEC 1500

struct _PawlFigureCanvas {
  GtkWidget parent_instance;

  /* owned */
  PawlScene       *scene;  /* (nullable) */
  PawlChunkWorker *worker; /* (nullable): when there is a scene */
  PawlFigureNodes *nodes;  /* (nullable): when there is a scene */
  char            *store;  /* (nullable) */

  GApplication    *application; /* (nullable), borrowed: waits for the worker's end */

  gboolean is_measuring; /* boxes first */
  gboolean is_sharp;
  gboolean has_all;      /* something to show of all that is in view */
  gboolean has_wishes;   /* the worker has been asked for something */
  gboolean is_sliding;
  guint    settle_id, keep_id, stand_in_id;
  gint64   moved_at;     /* when the camera last moved */
  double   spare_x, spare_y; /* of a pan: less than a pixel */
};

enum { PROP_IS_SHARP = 1, N_PROPS };
static GParamSpec *properties[N_PROPS];
enum { MEASURED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlFigureCanvas, pawl_figure_canvas, GTK_TYPE_WIDGET)

static double
get_width (PawlFigureCanvas *self)
{
  return MAX (gtk_widget_get_width (GTK_WIDGET (self)), 1);
}

static double
get_height (PawlFigureCanvas *self)
{
  return MAX (gtk_widget_get_height (GTK_WIDGET (self)), 1);
}

/* ---- what is kept ---- */

static void
keep (PawlFigureCanvas *self)
{
  pawl_chunk_worker_keep (self->worker, pawl_figure_wishes_list_kept (self->scene, get_width (self), get_height (self)));
}

static gboolean
keep_cb (gpointer data)
{
  PawlFigureCanvas *self = data;

  self->keep_id = 0;
  keep (self);
  return G_SOURCE_REMOVE;
}

static void
set_is_sharp (PawlFigureCanvas *self, gboolean is_sharp)
{
  if (self->is_sharp == is_sharp)
    return;
  self->is_sharp = is_sharp;
  g_clear_handle_id (&self->keep_id, g_source_remove);
  if (is_sharp && self->store != NULL)
    self->keep_id = g_timeout_add (KEEP_MSEC, keep_cb, self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_IS_SHARP]);
}

static gboolean
has_size (PawlFigureCanvas *self)
{
  return gtk_widget_get_width (GTK_WIDGET (self)) > 1 && gtk_widget_get_height (GTK_WIDGET (self)) > 1;
}

/* ---- standing in ---- */

/* FALSE as well when nothing in view is highlighted. */
static gboolean
is_highlight_sharp (PawlFigureCanvas *self)
{
  PawlChunkPlace place;
  gboolean has_any = FALSE;

  for (guint n = 0; n < pawl_scene_get_n_chunks (self->scene); n++)
    if (pawl_scene_is_highlighted (self->scene, n) && pawl_scene_get_place (self->scene, n, get_width (self), get_height (self), &place))
      {
        if (!pawl_scene_is_sharp (self->scene, n, &place))
          return FALSE;
        has_any = TRUE;
      }
  return has_any;
}

static gboolean
stand_in_cb (gpointer data)
{
  PawlFigureCanvas *self = data;
  gint64 rest = g_get_monotonic_time () - self->moved_at;

  if (pawl_figure_nodes_is_frozen (self->nodes) && rest < STAND_IN_USEC && !(rest > STAND_IN_LEAST_USEC && is_highlight_sharp (self)))
    return G_SOURCE_CONTINUE;
  self->stand_in_id = 0;
  pawl_figure_nodes_thaw (self->nodes);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

/* Asks the worker for what is missing, unless the camera is still on its way. */
static void
ask (PawlFigureCanvas *self)
{
  GArray *jobs;
  gboolean is_sharp;

  if (self->scene == NULL || (!self->is_measuring && !has_size (self)))
    return;
  jobs = self->is_measuring ? pawl_figure_wishes_list_measures (self->scene)
                            : pawl_figure_wishes_list (self->scene, get_width (self), get_height (self), self->settle_id == 0, &self->has_all);
  is_sharp = !self->is_measuring && jobs->len == 0;
  if (is_sharp)
    pawl_figure_wishes_add_spares (self->scene, get_width (self), get_height (self), jobs);
  if (self->settle_id != 0)
    g_array_set_size (jobs, 0);
  if (jobs->len > 0 || self->has_wishes)
    {
      self->has_wishes = jobs->len > 0;
      pawl_chunk_worker_want (self->worker, jobs);
    }
  else
    g_array_unref (jobs);
  if (is_sharp)
    pawl_figure_nodes_thaw (self->nodes);
  else if (self->stand_in_id == 0 && pawl_figure_nodes_is_frozen (self->nodes))
    self->stand_in_id = g_timeout_add (STAND_IN_LOOK_MSEC, stand_in_cb, self);
  set_is_sharp (self, is_sharp);
}

/* ---- what the worker brings ---- */

static void
end_measuring (PawlFigureCanvas *self)
{
  self->is_measuring = FALSE;
  g_signal_emit (self, signals[MEASURED], 0);
}

static void
apply_result (PawlFigureCanvas *self, PawlChunkResult *result)
{
  PawlFigure *figure = pawl_scene_get_figure (self->scene);

  if (result->is_measured)
    pawl_figure_set_chunk_extents (figure, result->n, result->extents);
  if (result->silhouette != NULL)
    pawl_figure_take_silhouette (figure, result->n, g_steal_pointer (&result->silhouette));
  if (result->image != NULL)
    pawl_scene_take_image (self->scene, result->n, g_steal_pointer (&result->image));
}

static void
brought_cb (GPtrArray *results, gpointer data)
{
  PawlFigureCanvas *self = data;
  gboolean was_sharp = self->is_sharp;

  for (guint i = 0; i < results->len; i++)
    apply_result (self, results->pdata[i]);
  if (self->is_measuring && pawl_scene_is_measured (self->scene))
    end_measuring (self);
  if (self->scene == NULL)
    return; /* whoever heard of the end of measuring took it away */
  ask (self);
  if (!was_sharp && !pawl_figure_nodes_is_frozen (self->nodes))
    gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* ---- the camera ---- */

static gboolean
settled_cb (gpointer data)
{
  PawlFigureCanvas *self = data;

  self->settle_id = 0;
  ask (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  return G_SOURCE_REMOVE;
}

/* The first move of several is answered at once: it may be the only one. */
static void
note_move (PawlFigureCanvas *self)
{
  gint64 now = g_get_monotonic_time ();
  gboolean is_first = self->settle_id == 0 && now - self->moved_at > LONG_REST_MSEC * 1000;

  self->moved_at = now;
  g_clear_handle_id (&self->settle_id, g_source_remove);
  if (!is_first)
    self->settle_id = g_timeout_add (SETTLE_MSEC, settled_cb, self);
}

void
pawl_figure_canvas_settle (PawlFigureCanvas *self)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  g_clear_handle_id (&self->settle_id, g_source_remove);
  ask (self);
}

void
pawl_figure_canvas_update (PawlFigureCanvas *self)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  if (self->scene == NULL)
    return;
  if (pawl_figure_nodes_follow_camera (self->nodes, get_width (self), get_height (self)))
    note_move (self);
  if (!self->is_sliding)
    pawl_figure_nodes_forget_numbers (self->nodes);
  ask (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
pawl_figure_canvas_pan (PawlFigureCanvas *self, double dx, double dy)
{
  double unit = 1.0 / gtk_widget_get_scale_factor (GTK_WIDGET (self));
  cairo_matrix_t matrix;
  double whole_x, whole_y;

  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  if (self->scene == NULL)
    return;
  whole_x = round ((self->spare_x + dx) / unit) * unit;
  whole_y = round ((self->spare_y + dy) / unit) * unit;
  self->spare_x += dx - whole_x;
  self->spare_y += dy - whole_y;
  pawl_scene_get_matrix (self->scene, get_width (self), get_height (self), &matrix);
  pawl_scene_pan (self->scene, -whole_x / matrix.xx, -whole_y / matrix.yy);
  pawl_figure_canvas_update (self);
}

void
pawl_figure_canvas_set_sliding (PawlFigureCanvas *self, gboolean is_sliding)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  if (self->is_sliding == is_sliding || self->scene == NULL)
    return;
  if (is_sliding && self->has_all)
    pawl_figure_nodes_place_numbers (self->nodes, get_width (self), get_height (self));
  self->is_sliding = is_sliding;
  if (!is_sliding)
    pawl_figure_canvas_update (self);
}

/* ---- scene ---- */

static void
set_renderer (PawlFigureCanvas *self)
{
  pawl_figure_nodes_set_renderer (self->nodes, gtk_native_get_renderer (gtk_widget_get_native (GTK_WIDGET (self))));
}

static void
ended_cb (gpointer data)
{
  g_application_release (G_APPLICATION (data));
}

/* A thread that is still drawing when main returns would read what the libraries' exit handlers have freed: the application waits for it. */
static void
stop_worker (PawlFigureCanvas *self)
{
  PawlChunkWorker *worker = g_steal_pointer (&self->worker);

  if (worker == NULL)
    return;
  if (self->application != NULL)
    g_application_hold (self->application);
  pawl_chunk_worker_stop (worker, self->application != NULL ? ended_cb : NULL, self->application);
}

static void
drop_scene (PawlFigureCanvas *self)
{
  g_clear_handle_id (&self->settle_id, g_source_remove);
  g_clear_handle_id (&self->stand_in_id, g_source_remove);
  if (self->keep_id != 0)
    {
      g_clear_handle_id (&self->keep_id, g_source_remove);
      keep (self);
    }
  stop_worker (self);
  g_clear_pointer (&self->nodes, pawl_figure_nodes_free);
  g_clear_object (&self->scene);
  self->is_measuring = self->is_sliding = self->has_wishes = self->has_all = FALSE;
  self->moved_at = 0;
}

/* (nullable) */
static PawlChunkStore *
open_store (PawlFigureCanvas *self)
{
  PawlFigure *figure = pawl_scene_get_figure (self->scene);

  return self->store != NULL ? pawl_chunk_store_new (self->store, pawl_figure_get_digest (figure), pawl_scene_get_n_chunks (self->scene),
                                                     pawl_figure_get_view_box (figure)) : NULL;
}

void
pawl_figure_canvas_set_scene (PawlFigureCanvas *self, PawlScene *scene)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  if (self->scene == scene)
    return;
  drop_scene (self);
  if (scene != NULL)
    {
      self->scene = g_object_ref (scene);
      pawl_scene_set_waits (scene, TRUE);
      pawl_scene_set_device_scale (scene, gtk_widget_get_scale_factor (GTK_WIDGET (self)));
      self->nodes = pawl_figure_nodes_new (scene, gtk_widget_get_scale_factor (GTK_WIDGET (self)));
      if (gtk_widget_get_realized (GTK_WIDGET (self)))
        set_renderer (self);
      self->worker = pawl_chunk_worker_new (pawl_scene_get_figure (scene), open_store (self), brought_cb, self);
    }
  set_is_sharp (self, FALSE);
  ask (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

PawlScene *
pawl_figure_canvas_get_scene (PawlFigureCanvas *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE_CANVAS (self), NULL);
  return self->scene;
}

void
pawl_figure_canvas_set_store (PawlFigureCanvas *self, const char *folder)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self));
  g_free (self->store);
  self->store = g_strdup (folder);
}

void
pawl_figure_canvas_measure (PawlFigureCanvas *self)
{
  g_return_if_fail (PAWL_IS_FIGURE_CANVAS (self) && self->scene != NULL);
  self->is_measuring = TRUE;
  if (pawl_scene_is_measured (self->scene))
    end_measuring (self);
  ask (self);
}

gboolean
pawl_figure_canvas_is_measured (PawlFigureCanvas *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE_CANVAS (self), FALSE);
  return self->scene != NULL && pawl_scene_is_measured (self->scene);
}

gboolean
pawl_figure_canvas_is_sharp (PawlFigureCanvas *self)
{
  g_return_val_if_fail (PAWL_IS_FIGURE_CANVAS (self), FALSE);
  return self->is_sharp;
}

const char *
pawl_figure_canvas_pick (PawlFigureCanvas *self, double x, double y, double ring)
{
  g_return_val_if_fail (PAWL_IS_FIGURE_CANVAS (self), NULL);
  return self->scene != NULL ? pawl_scene_pick (self->scene, x, y, ring, get_width (self), get_height (self)) : NULL;
}

/* ---- widget ---- */

static void
pawl_figure_canvas_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PawlFigureCanvas *self = PAWL_FIGURE_CANVAS (widget);

  if (self->scene == NULL)
    return;
  if (pawl_figure_nodes_follow_camera (self->nodes, width, height))
    note_move (self);
  pawl_figure_nodes_forget_numbers (self->nodes);
  ask (self);
}

static void
pawl_figure_canvas_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  PawlFigureCanvas *self = PAWL_FIGURE_CANVAS (widget);

  if (self->scene != NULL && !self->is_measuring)
    pawl_figure_nodes_snapshot (self->nodes, snapshot, get_width (self), get_height (self), self->has_all);
}

static void
pawl_figure_canvas_realize (GtkWidget *widget)
{
  PawlFigureCanvas *self = PAWL_FIGURE_CANVAS (widget);

  GTK_WIDGET_CLASS (pawl_figure_canvas_parent_class)->realize (widget);
  if (self->nodes != NULL)
    set_renderer (self);
}

static void
pawl_figure_canvas_root (GtkWidget *widget)
{
  PawlFigureCanvas *self = PAWL_FIGURE_CANVAS (widget);
  GtkRoot *root;

  GTK_WIDGET_CLASS (pawl_figure_canvas_parent_class)->root (widget);
  root = gtk_widget_get_root (widget);
  self->application = GTK_IS_WINDOW (root) ? G_APPLICATION (gtk_window_get_application (GTK_WINDOW (root))) : NULL;
}

/* Whoever still holds the canvas, as a load that has not come back does, may let go of it when the application is no more. */
static void
pawl_figure_canvas_unroot (GtkWidget *widget)
{
  PawlFigureCanvas *self = PAWL_FIGURE_CANVAS (widget);

  drop_scene (self);
  self->application = NULL;
  GTK_WIDGET_CLASS (pawl_figure_canvas_parent_class)->unroot (widget);
}

static void
scale_changed_cb (PawlFigureCanvas *self)
{
  if (self->scene == NULL)
    return;
  pawl_scene_set_device_scale (self->scene, gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  pawl_figure_nodes_set_device_scale (self->nodes, gtk_widget_get_scale_factor (GTK_WIDGET (self)));
  pawl_figure_canvas_update (self);
}

static void
pawl_figure_canvas_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  if (id == PROP_IS_SHARP)
    g_value_set_boolean (value, PAWL_FIGURE_CANVAS (object)->is_sharp);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
pawl_figure_canvas_dispose (GObject *object)
{
  drop_scene (PAWL_FIGURE_CANVAS (object));
  G_OBJECT_CLASS (pawl_figure_canvas_parent_class)->dispose (object);
}

static void
pawl_figure_canvas_finalize (GObject *object)
{
  g_free (PAWL_FIGURE_CANVAS (object)->store);
  G_OBJECT_CLASS (pawl_figure_canvas_parent_class)->finalize (object);
}

static void
pawl_figure_canvas_class_init (PawlFigureCanvasClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = pawl_figure_canvas_get_property;
  object_class->dispose = pawl_figure_canvas_dispose;
  object_class->finalize = pawl_figure_canvas_finalize;
  widget_class->size_allocate = pawl_figure_canvas_size_allocate;
  widget_class->snapshot = pawl_figure_canvas_snapshot;
  widget_class->realize = pawl_figure_canvas_realize;
  widget_class->root = pawl_figure_canvas_root;
  widget_class->unroot = pawl_figure_canvas_unroot;
  gtk_widget_class_set_css_name (widget_class, "canvas");
  /* Its parts are accessible items of the view round it. */
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_PRESENTATION);
  properties[PROP_IS_SHARP] = g_param_spec_boolean ("is-sharp", NULL, NULL, FALSE, G_PARAM_READABLE | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);
  signals[MEASURED] = g_signal_new ("measured", PAWL_TYPE_FIGURE_CANVAS, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_figure_canvas_init (PawlFigureCanvas *self)
{
  g_signal_connect (self, "notify::scale-factor", G_CALLBACK (scale_changed_cb), NULL);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
}

GtkWidget *
pawl_figure_canvas_new (void)
{
  return g_object_new (PAWL_TYPE_FIGURE_CANVAS, NULL);
}
