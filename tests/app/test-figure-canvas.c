/* The canvas shows a figure as its author drew it. On a display. */
#include <gtk/gtk.h>

#include "app/pawl-figure-canvas.h"

#define WIDTH 400
#define HEIGHT 300

typedef struct {
  GtkWidget *window, *canvas;
} Fixture;

static gboolean
count_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  guint *n_frames = data;

  gtk_widget_queue_draw (widget);
  return ++*n_frames < 3;
}

static void
wait_for_frames (Fixture *self)
{
  guint n_frames = 0;

  gtk_widget_add_tick_callback (self->canvas, count_cb, &n_frames, NULL);
  while (n_frames < 3)
    g_main_context_iteration (NULL, TRUE);
}

static PawlScene *
make_scene (const char *body)
{
  g_autofree char *text = g_strdup_printf ("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %d\">%s</svg>", WIDTH, HEIGHT, body);
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load_bytes (bytes, "canvas.svg", &error);

  g_assert_no_error (error);
  return pawl_scene_new (figure);
}

static void
set_up (Fixture *self, gconstpointer body)
{
  g_autoptr(PawlScene) scene = make_scene (body);

  self->canvas = pawl_figure_canvas_new ();
  self->window = gtk_window_new ();
  gtk_window_set_decorated (GTK_WINDOW (self->window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (self->window), WIDTH, HEIGHT);
  gtk_window_set_child (GTK_WINDOW (self->window), self->canvas);
  pawl_scene_set_number_size (scene, 0);
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (self->canvas), scene);
  gtk_window_present (GTK_WINDOW (self->window));
  while (!pawl_figure_canvas_is_sharp (PAWL_FIGURE_CANVAS (self->canvas)))
    g_main_context_iteration (NULL, TRUE);
  wait_for_frames (self);
}

static void
tear_down (Fixture *self, gconstpointer body)
{
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (self->canvas), NULL);
  gtk_window_destroy (GTK_WINDOW (self->window));
}

/* 0xaarrggbb, of what the canvas shows. */
static guint32
look_at (Fixture *self, int x, int y)
{
  g_autoptr(GdkPaintable) paintable = gtk_widget_paintable_new (self->canvas);
  g_autoptr(GtkSnapshot) snapshot = gtk_snapshot_new ();
  g_autoptr(GskRenderNode) node = NULL;
  g_autoptr(GdkTexture) texture = NULL;
  guint32 pixel = 0;

  gdk_paintable_snapshot (paintable, snapshot, WIDTH, HEIGHT);
  node = gtk_snapshot_to_node (snapshot);
  g_assert_nonnull (node);
  texture = gsk_renderer_render_texture (gtk_native_get_renderer (GTK_NATIVE (self->window)), node, &GRAPHENE_RECT_INIT ((float) x, (float) y, 1, 1));
  gdk_texture_download (texture, (guchar *) &pixel, sizeof pixel);
  return pixel;
}

/* A part whose picture begins in the corner of the canvas is moved by nothing. */
static void
test_part_in_the_corner (Fixture *self, gconstpointer body)
{
  g_assert_cmphex (look_at (self, 0, 0), ==, 0xffff0000);
  g_assert_cmphex (look_at (self, WIDTH - 1, HEIGHT - 1), ==, 0xffffffff);
}

/* The left half of the part is red, the right half blue, from the hundredth column on. */
#define HALVES "<g id=\"part\"><rect x=\"50\" y=\"50\" width=\"50\" height=\"50\" fill=\"#f00\"/><rect x=\"100\" y=\"50\" width=\"50\" height=\"50\" fill=\"#00f\"/></g>"
#define N_VEILS 3000

/* A part that takes seconds to draw. */
static char *
make_slow_body (void)
{
  GString *text = g_string_new ("<g id=\"slow\">");

  for (guint i = 0; i < N_VEILS; i++)
    g_string_append (text, "<rect width=\"400\" height=\"300\" fill=\"#fff\" opacity=\".9\"/>");
  g_string_append (text, "</g>" HALVES);
  return g_string_free (text, FALSE);
}

static gboolean
shows_sharp_halves (Fixture *self)
{
  return look_at (self, 99, 75) == look_at (self, 80, 75) && look_at (self, 100, 75) == look_at (self, 120, 75);
}

/* What is highlighted is seen sharp while another part is still being drawn, which takes much longer than that here. */
static void
test_highlight_first (Fixture *self, gconstpointer unused)
{
  g_autofree char *body = make_slow_body ();
  PawlScene *scene;

  set_up (self, body);
  scene = pawl_figure_canvas_get_scene (PAWL_FIGURE_CANVAS (self->canvas));
  pawl_scene_set_state (scene, "part", PAWL_STATE_HIGHLIGHT);
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
  wait_for_frames (self);
  pawl_scene_zoom (scene, 4, 100, 75); /* which stays where it is */
  pawl_figure_canvas_update (PAWL_FIGURE_CANVAS (self->canvas));
  wait_for_frames (self);
  g_assert_false (shows_sharp_halves (self));
  while (!shows_sharp_halves (self))
    wait_for_frames (self);
  g_assert_false (pawl_figure_canvas_is_sharp (PAWL_FIGURE_CANVAS (self->canvas)));
  while (!pawl_figure_canvas_is_sharp (PAWL_FIGURE_CANVAS (self->canvas)))
    g_main_context_iteration (NULL, TRUE);
  wait_for_frames (self);
  g_assert_true (shows_sharp_halves (self));
}

static void
no_set_up (Fixture *self, gconstpointer unused)
{
}

static void
activate_cb (GApplication *application, gpointer data)
{
}

/* Whoever holds the canvas may give it another figure, or let go of it, when window and application are gone. */
static void
test_held_for_longer (void)
{
  g_autoptr(PawlScene) scene = make_scene ("<rect id=\"part\" width=\"100\" height=\"100\" fill=\"#f00\"/>");
  g_autoptr(GError) error = NULL;
  GtkApplication *application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  GtkWidget *canvas = g_object_ref_sink (pawl_figure_canvas_new ()), *window;

  g_application_register (G_APPLICATION (application), NULL, &error);
  g_assert_no_error (error);
  window = gtk_application_window_new (application);
  gtk_window_set_child (GTK_WINDOW (window), canvas);
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (canvas), scene);
  gtk_window_destroy (GTK_WINDOW (window));
  g_signal_connect (application, "activate", G_CALLBACK (activate_cb), NULL);
  g_application_run (G_APPLICATION (application), 0, NULL);
  g_object_add_weak_pointer (G_OBJECT (application), (gpointer *) &application);
  g_object_unref (application);
  g_assert_null (application);
  pawl_figure_canvas_set_scene (PAWL_FIGURE_CANVAS (canvas), scene);
  g_object_unref (canvas);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add ("/figure-canvas/part-in-the-corner", Fixture, "<rect id=\"part\" x=\"-100\" y=\"-100\" width=\"300\" height=\"250\" fill=\"#f00\"/>",
              set_up, test_part_in_the_corner, tear_down);
  g_test_add ("/figure-canvas/part-that-begins-in-the-corner", Fixture, "<rect id=\"part\" x=\"1\" y=\"1\" width=\"100\" height=\"100\" fill=\"#f00\"/>"
              "<rect id=\"other\" width=\"1\" height=\"1\" fill=\"#f00\"/>", set_up, test_part_in_the_corner, tear_down);
  g_test_add ("/figure-canvas/highlight-first", Fixture, NULL, no_set_up, test_highlight_first, tear_down);
  g_test_add_func ("/figure-canvas/held-for-longer", test_held_for_longer);
  return g_test_run ();
}
