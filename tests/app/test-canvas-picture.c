/*
 * The canvas against the same scene drawn in one go (which tests/drawing/test-composed.c holds against the drawing library): states, bands, numbers,
 * slides, zooming in and back, panning, palettes, and a second opening from what was kept. On a display.
 */
#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <stdlib.h>

#include "app/pawl-figure-canvas.h"

#define WIDTH 500
#define HEIGHT 400
#define TOLERANCE 4 /* of 255: bands are blended in another order */

typedef struct {
  GtkWidget        *window;
  PawlFigureCanvas *canvas;
  PawlScene        *scene; /* the canvas's */
  PawlScene        *twin;  /* drawn here */
  char             *folder;
} Fixture;

static PawlFigure *
load (void)
{
  g_autofree char *path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "svg", "sd3-carburetor.svg", NULL);
  g_autoptr(GError) error = NULL;
  PawlFigure *figure = pawl_figure_load (path, &error);

  g_assert_no_error (error);
  return figure;
}

static PawlScene *
new_scene (void)
{
  g_autoptr(PawlFigure) figure = load ();
  PawlScene *scene = pawl_scene_new (figure);

  pawl_scene_set_number_size (scene, 12);
  return scene;
}

static void
open_figure (Fixture *self)
{
  g_clear_object (&self->scene);
  self->scene = new_scene ();
  pawl_figure_canvas_set_scene (self->canvas, self->scene);
}

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  self->folder = g_dir_make_tmp ("pawl-canvas-XXXXXX", &error);
  g_assert_no_error (error);
  self->canvas = PAWL_FIGURE_CANVAS (pawl_figure_canvas_new ());
  pawl_figure_canvas_set_store (self->canvas, self->folder);
  self->window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (self->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (self->window), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (self->window), GTK_WIDGET (self->canvas));
  open_figure (self);
  self->twin = new_scene ();
  gtk_window_present (GTK_WINDOW (self->window));
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_autoptr(GDir) folder = NULL;
  const char *name;

  gtk_window_destroy (GTK_WINDOW (self->window));
  g_object_unref (self->scene);
  g_object_unref (self->twin);
  folder = g_dir_open (self->folder, 0, NULL);
  while ((name = g_dir_read_name (folder)))
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      g_assert_cmpint (g_unlink (path), ==, 0);
    }
  g_assert_cmpint (g_rmdir (self->folder), ==, 0);
  g_free (self->folder);
}

static gboolean
count_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  guint *n_frames = data;

  gtk_widget_queue_draw (widget);
  return ++*n_frames < 3;
}

static void
wait_until_sharp (Fixture *self)
{
  guint n_frames = 0;

  while (!pawl_figure_canvas_is_sharp (self->canvas))
    g_main_context_iteration (NULL, TRUE);
  gtk_widget_add_tick_callback (GTK_WIDGET (self->canvas), count_cb, &n_frames, NULL);
  while (n_frames < 3)
    g_main_context_iteration (NULL, TRUE);
}

static cairo_surface_t *
take_picture (Fixture *self)
{
  g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new (GTK_WIDGET (self->canvas));
  g_autoptr(GtkSnapshot) snapshot = gtk_snapshot_new ();
  g_autoptr(GskRenderNode) node = NULL;
  g_autoptr(GdkTexture) texture = NULL;
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);

  gdk_paintable_snapshot (paintable, snapshot, WIDTH, HEIGHT);
  node = gtk_snapshot_to_node (snapshot);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (self->window)), node, &GRAPHENE_RECT_INIT (0, 0, WIDTH, HEIGHT));
  gdk_texture_download (texture, cairo_image_surface_get_data (image), cairo_image_surface_get_stride (image));
  cairo_surface_mark_dirty (image);
  return image;
}

static cairo_surface_t *
draw_twin (Fixture *self)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (image);

  pawl_scene_draw (self->twin, cr, WIDTH, HEIGHT);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

/* Pixels that differ by more than @tolerance in any channel. */
static guint
count_differences (Fixture *self, int tolerance)
{
  cairo_surface_t *shown = take_picture (self), *right = draw_twin (self);
  int stride = cairo_image_surface_get_stride (shown);
  guint n = 0;

  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        int most = 0;

        for (int i = 0; i < 3; i++)
          most = MAX (most, abs (cairo_image_surface_get_data (shown)[y * stride + 4 * x + i] - cairo_image_surface_get_data (right)[y * stride + 4 * x + i]));
        n += most > tolerance;
      }
  cairo_surface_destroy (shown);
  cairo_surface_destroy (right);
  return n;
}

/* The same to both scenes; then they must look the same. Boxes are measured on other pixels, so a camera that is aimed at them is given by numbers. */
static void
assert_same (Fixture *self)
{
  pawl_figure_canvas_update (self->canvas);
  wait_until_sharp (self);
  g_assert_cmpuint (count_differences (self, TOLERANCE), ==, 0);
}

static void
set_view (Fixture *self, double x, double y, double width, double height)
{
  pawl_scene_set_view (self->scene, (PawlBox) { x, y, width, height });
  pawl_scene_set_view (self->twin, (PawlBox) { x, y, width, height });
}

static void
set_state (Fixture *self, const char *region, PawlState state)
{
  g_assert_true (pawl_scene_set_state (self->scene, region, state));
  g_assert_true (pawl_scene_set_state (self->twin, region, state));
}

static void
test_states (Fixture *self, gconstpointer data)
{
  assert_same (self);
  pawl_scene_set_all (self->scene, PAWL_STATE_LATER);
  pawl_scene_set_all (self->twin, PAWL_STATE_LATER);
  assert_same (self);
  set_state (self, "float", PAWL_STATE_HIGHLIGHT);
  set_state (self, "cover-front", PAWL_STATE_OUT);
  assert_same (self);
  set_state (self, "cover-front", PAWL_STATE_HIDDEN);
  set_state (self, "float", PAWL_STATE_OUT);
  assert_same (self);
}

/* What stands in while the camera moves is no more than that: all is sharp again afterwards, and as it was when the camera comes back. */
static void
test_camera (Fixture *self, gconstpointer data)
{
  PawlBox sheet = pawl_figure_get_view_box (pawl_scene_get_figure (self->twin));

  wait_until_sharp (self);
  for (guint i = 1; i <= 8; i++)
    {
      set_view (self, sheet.x + i * sheet.width / 25, sheet.y + i * sheet.height / 25, sheet.width - i * sheet.width / 12, sheet.height - i * sheet.height / 12);
      pawl_figure_canvas_update (self->canvas);
      g_assert_false (pawl_figure_canvas_is_sharp (self->canvas));
      g_main_context_iteration (NULL, FALSE);
    }
  assert_same (self);
  pawl_scene_set_number_size (self->scene, 0);
  pawl_scene_set_number_size (self->twin, 0);
  assert_same (self);
  set_view (self, sheet.x, sheet.y, sheet.width, sheet.height);
  assert_same (self);
}

static void
test_pan (Fixture *self, gconstpointer data)
{
  cairo_matrix_t matrix;

  wait_until_sharp (self);
  pawl_scene_get_matrix (self->scene, WIDTH, HEIGHT, &matrix);
  pawl_figure_canvas_pan (self->canvas, 30.4, -10.3);
  pawl_figure_canvas_pan (self->canvas, 30.4, -10.3);
  /* 60.8 and 20.6 pixels, of which whole ones are gone: the rest waits. */
  pawl_scene_pan (self->twin, -61 / matrix.xx, 21 / matrix.yy);
  g_assert_true (pawl_figure_canvas_is_sharp (self->canvas)); /* what was in view is as sharp as it was */
  assert_same (self);
}

static void
test_slide (Fixture *self, gconstpointer data)
{
  static const PawlPoint legs[] = { { 40.3, -20.7 }, { 0, 61.2 } };

  for (double t = 0; t <= 1; t += 0.25)
    {
      pawl_scene_set_slide (self->scene, "float", legs, G_N_ELEMENTS (legs));
      pawl_scene_set_slide (self->twin, "float", legs, G_N_ELEMENTS (legs));
      pawl_scene_set_fraction (self->scene, "float", t);
      pawl_scene_set_fraction (self->twin, "float", t);
      pawl_figure_canvas_update (self->canvas);
      wait_until_sharp (self);
      /* On its way it lies on whole pixels. */
      g_assert_cmpuint (count_differences (self, TOLERANCE), <=, t > 0 && t < 1 ? 3000 : 0);
    }
}

static void
test_palette (Fixture *self, gconstpointer data)
{
  wait_until_sharp (self);
  pawl_scene_set_palette (self->scene, PAWL_PALETTE_DARK);
  pawl_scene_set_palette (self->twin, PAWL_PALETTE_DARK);
  set_state (self, "float", PAWL_STATE_HIGHLIGHT);
  assert_same (self);
  set_state (self, "float", PAWL_STATE_LATER);
  assert_same (self);
}

static void
test_numbers (Fixture *self, gconstpointer data)
{
  static const char * const parts[] = { "float", NULL };

  pawl_scene_add_item (self->scene, "17", parts);
  pawl_scene_add_item (self->twin, "17", parts);
  pawl_figure_canvas_update (self->canvas);
  wait_until_sharp (self);
  /* Anchors are looked for on the images that are there, not on finer ones: the number may stand a little aside. */
  g_assert_cmpuint (count_differences (self, TOLERANCE), <, 3000);
  pawl_scene_clear_items (self->scene);
  pawl_scene_clear_items (self->twin);
  assert_same (self);
}

static void
test_second_opening (Fixture *self, gconstpointer data)
{
  wait_until_sharp (self);
  pawl_figure_canvas_set_scene (self->canvas, NULL); /* and all is put away */
  open_figure (self);
  assert_same (self);
  g_assert_cmpstr (pawl_figure_canvas_pick (self->canvas, -1, -1, 0), ==, NULL);
}

/* Whatever it is at: measuring, drawing, standing in, or just shown. */
static void
test_closed_at_any_time (Fixture *self, gconstpointer data)
{
  for (guint i = 0; i < 24; i++)
    {
      open_figure (self);
      if (i % 2)
        pawl_figure_canvas_measure (self->canvas);
      for (guint k = 0; k < i; k++)
        g_main_context_iteration (NULL, k % 3 == 0);
      if (i % 5 == 0)
        pawl_scene_zoom (self->scene, 1.3, 100, 100);
      pawl_figure_canvas_update (self->canvas);
      pawl_figure_canvas_set_scene (self->canvas, NULL);
    }
  g_assert_false (pawl_figure_canvas_is_sharp (self->canvas));
  open_figure (self);
  assert_same (self);
}

static void
measured_cb (PawlFigureCanvas *canvas, gpointer data)
{
  g_assert_true (pawl_figure_canvas_is_measured (canvas));
  (*(guint *) data)++;
}

static void
test_measure (Fixture *self, gconstpointer data)
{
  guint n_signals = 0;

  pawl_figure_canvas_set_scene (self->canvas, NULL);
  open_figure (self);
  g_signal_connect (self->canvas, "measured", G_CALLBACK (measured_cb), &n_signals);
  pawl_figure_canvas_measure (self->canvas);
  g_assert_false (pawl_figure_canvas_is_measured (self->canvas));
  wait_until_sharp (self);
  g_assert_cmpuint (n_signals, ==, 1);
  assert_same (self);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add ("/app/canvas-picture/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("states", test_states);
  ADD ("camera", test_camera);
  ADD ("pan", test_pan);
  ADD ("slide", test_slide);
  ADD ("palette", test_palette);
  ADD ("numbers", test_numbers);
  ADD ("second-opening", test_second_opening);
  ADD ("closed-at-any-time", test_closed_at_any_time);
  ADD ("measure", test_measure);
  return g_test_run ();
}
