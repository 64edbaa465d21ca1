#include "speed-stage.h"

#include "app/pawl-figure-canvas.h"

#define QUIET_USEC 60000 /* without a frame for that long, nothing moves any more */
#define WAKE_MSEC 5
#define LIMIT_USEC (120 * G_USEC_PER_SEC)

static gboolean
keep_going_cb (gpointer unused)
{
  return G_SOURCE_CONTINUE;
}

SpeedStage *
speed_stage_new (int width, int height, const char *cache_folder)
{
  SpeedStage *self = g_new0 (SpeedStage, 1);

  self->width = width;
  self->height = height;
  self->window = gtk_window_new ();
  self->canvas = pawl_figure_canvas_new ();
  pawl_figure_canvas_set_store (PAWL_FIGURE_CANVAS (self->canvas), cache_folder);
  gtk_window_set_decorated (GTK_WINDOW (self->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (self->window), width, height);
  gtk_window_set_child (GTK_WINDOW (self->window), self->canvas);
  gtk_widget_realize (self->window);
  self->watch = speed_watch_new (self->window);
  gtk_window_present (GTK_WINDOW (self->window));
  while (speed_watch_get_n_frames (self->watch) == 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpint (gtk_widget_get_width (self->canvas), ==, width);
  g_assert_cmpint (gtk_widget_get_height (self->canvas), ==, height);
  return self;
}

void
speed_stage_free (SpeedStage *self)
{
  speed_watch_free (self->watch);
  speed_stage_close (self);
  gtk_window_destroy (GTK_WINDOW (self->window));
  g_free (self);
}

void
speed_stage_close (SpeedStage *self)
{
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (self->canvas), NULL);
  g_clear_object (&self->scene);
}

void
speed_stage_open (SpeedStage *self, PawlFigure *figure)
{
  speed_stage_close (self);
  self->scene = pawl_scene_new (figure);
  pawl_scene_set_device_scale (self->scene, gtk_widget_get_scale_factor (self->canvas));
  pawl_scene_set_number_size (self->scene, 0);
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (self->canvas), self->scene);
}

void
speed_stage_refresh (SpeedStage *self)
{
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
}

gint64
speed_stage_settle (SpeedStage *self)
{
  gint64 begin = g_get_monotonic_time (), last = begin;
  guint wake_id = g_timeout_add (WAKE_MSEC, keep_going_cb, NULL);

  do
    {
      g_main_context_iteration (NULL, TRUE);
      if (g_get_monotonic_time () - begin > LIMIT_USEC)
        g_error ("The figure did not come to rest");
      if (self->scene != NULL && !pawl_figure_canvas_is_sharp (PAWL_FIGURE_CANVAS (self->canvas)))
        last = g_get_monotonic_time ();
      last = MAX (last, speed_watch_get_last_frame (self->watch));
    }
  while (g_get_monotonic_time () - last < QUIET_USEC);
  g_source_remove (wake_id);
  return speed_watch_get_last_frame (self->watch);
}

typedef struct {
  SpeedStage *stage;
  void      (*step) (SpeedStage *stage, double t);
  gint64      begin_usec, length_usec;
  gboolean    is_done;
} Move;

static gboolean
move_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  Move *move = data;
  gint64 now = gdk_frame_clock_get_frame_time (clock);
  double t;

  if (move->begin_usec == 0)
    move->begin_usec = now;
  t = MIN ((double) (now - move->begin_usec) / move->length_usec, 1);
  move->step (move->stage, t);
  speed_stage_refresh (move->stage);
  move->is_done = t >= 1;
  return move->is_done ? G_SOURCE_REMOVE : G_SOURCE_CONTINUE;
}

void
speed_stage_move (SpeedStage *self, guint length_msec, void (*step) (SpeedStage *self, double t))
{
  Move move = { .stage = self, .step = step, .length_usec = 1000 * (gint64) length_msec };

  speed_watch_begin_move (self->watch);
  gtk_widget_add_tick_callback (self->canvas, move_cb, &move, NULL);
  while (!move.is_done)
    g_main_context_iteration (NULL, TRUE);
  speed_watch_end_move (self->watch);
}

cairo_surface_t *
speed_stage_take_picture (SpeedStage *self)
{
  g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new (self->canvas);
  g_autoptr(GtkSnapshot) snapshot = gtk_snapshot_new ();
  g_autoptr(GskRenderNode) node = NULL;
  g_autoptr(GdkTexture) texture = NULL;
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, self->width, self->height);

  gdk_paintable_snapshot (paintable, snapshot, self->width, self->height);
  node = gtk_snapshot_to_node (snapshot);
  g_assert_nonnull (node);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (self->window)), node,
                                         &GRAPHENE_RECT_INIT (0, 0, self->width, self->height));
  gdk_texture_download (texture, cairo_image_surface_get_data (image), cairo_image_surface_get_stride (image));
  cairo_surface_mark_dirty (image);
  return image;
}
