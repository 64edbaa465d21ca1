/* The figure under keys and wheel: which part is picked, and where the camera goes. On a display. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-figure-canvas.h"
#include "app/pawl-figure-view.h"

/* Item 1 to 4 are body, plug, washer, nut; read from the top they are nut, body, plug, washer, where they are at first: the plug home by 40, the
 * washer by 70. */
#define FIGURE "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 600 400\">" \
  "<rect id=\"body\" x=\"100\" y=\"150\" width=\"100\" height=\"100\"/><rect id=\"plug\" x=\"400\" y=\"160\" width=\"100\" height=\"100\"/>" \
  "<rect id=\"washer\" x=\"10\" y=\"250\" width=\"50\" height=\"50\"/><rect id=\"nut\" x=\"500\" y=\"10\" width=\"50\" height=\"50\"/></svg>"

typedef struct {
  Fixture    base;
  GtkWidget *window;
  PawlFigureView *view;
  PawlScene *scene; /* borrowed */
} ViewFixture;

static PawlFigureCanvas *
find_canvas (ViewFixture *self)
{
  GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self->view));

  while (!PAWL_IS_FIGURE_CANVAS (child))
    child = gtk_widget_get_next_sibling (child);
  return PAWL_FIGURE_CANVAS (child);
}

static void
show (ViewFixture *self, const char *step, gboolean is_animated)
{
  PawlJob *job = pawl_session_get_job (self->base.session);

  pawl_figure_view_apply (self->view, job, pawl_procedure_lookup_step (self->base.procedure, step), is_animated);
}

static void
set_up (ViewFixture *self, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (FIGURE, strlen (FIGURE));
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load_bytes (bytes, "view.svg", &error);

  g_assert_no_error (error);
  fixture_set_up (&self->base, NULL);
  self->view = g_object_new (PAWL_TYPE_FIGURE_VIEW, NULL);
  self->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (self->window), 600, 400);
  gtk_window_set_child (GTK_WINDOW (self->window), GTK_WIDGET (self->view));
  pawl_figure_view_set_figure (self->view, figure, NULL);
  self->scene = pawl_figure_canvas_get_scene (find_canvas (self));
  show (self, "drain", FALSE);
  gtk_window_present (GTK_WINDOW (self->window));
  while (!pawl_figure_canvas_is_sharp (find_canvas (self)))
    g_main_context_iteration (NULL, TRUE);
}

static void
tear_down (ViewFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  fixture_tear_down (&self->base, NULL);
}

/* As a controller of that kind would say it; the first that takes it ends it. */
static gboolean
emit (ViewFixture *self, GType type, const char *signal, guint keyval, GdkModifierType state, double dx, double dy)
{
  g_autoptr(GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (self->view));
  gboolean is_taken = FALSE;

  for (guint i = 0; i < g_list_model_get_n_items (controllers) && !is_taken; i++)
    {
      g_autoptr(GObject) controller = g_list_model_get_item (controllers, i);

      if (!G_TYPE_CHECK_INSTANCE_TYPE (controller, type))
        continue;
      if (type == GTK_TYPE_EVENT_CONTROLLER_KEY)
        g_signal_emit_by_name (controller, signal, keyval, 0, state, &is_taken);
      else
        g_signal_emit_by_name (controller, signal, dx, dy, &is_taken);
    }
  return is_taken;
}

static gboolean
press (ViewFixture *self, guint keyval, GdkModifierType state)
{
  return emit (self, GTK_TYPE_EVENT_CONTROLLER_KEY, "key-pressed", keyval, state, 0, 0);
}

static void
check_picks (ViewFixture *self, guint keyval, const char * const *parts, guint n_parts)
{
  pawl_figure_view_pick_part (self->view, NULL);
  for (guint i = 0; i < n_parts; i++)
    {
      g_assert_true (press (self, keyval, 0));
      g_assert_cmpstr (pawl_figure_view_get_picked (self->view), ==, parts[i]);
    }
}

/* Round and round, in both orders and both ways. */
static void
test_picks (ViewFixture *self, gconstpointer data)
{
  static const char * const right[] = { "body", "plug", "washer", "nut", "body" }, * const left[] = { "nut", "washer", "plug", "body", "nut" };
  static const char * const down[] = { "nut", "body", "plug", "washer", "nut" }, * const up[] = { "washer", "plug", "body", "nut", "washer" };

  check_picks (self, GDK_KEY_Right, right, G_N_ELEMENTS (right));
  check_picks (self, GDK_KEY_Left, left, G_N_ELEMENTS (left));
  check_picks (self, GDK_KEY_Down, down, G_N_ELEMENTS (down));
  check_picks (self, GDK_KEY_Up, up, G_N_ELEMENTS (up));
  g_assert_true (press (self, GDK_KEY_Escape, 0));
  g_assert_null (pawl_figure_view_get_picked (self->view));
  g_assert_false (press (self, GDK_KEY_Escape, 0)); /* for whoever is behind */
  g_assert_false (press (self, GDK_KEY_Right, GDK_ALT_MASK));
}

static PawlBox
find_box (ViewFixture *self, const char *region)
{
  return pawl_scene_get_region_box (self->scene, region, gtk_widget_get_width (GTK_WIDGET (self->view)), gtk_widget_get_height (GTK_WIDGET (self->view)));
}

static void
check_view (ViewFixture *self, PawlBox expected)
{
  PawlBox view = pawl_scene_get_view (self->scene);

  g_assert_cmpfloat_with_epsilon (view.x, expected.x, 1e-6);
  g_assert_cmpfloat_with_epsilon (view.y, expected.y, 1e-6);
  g_assert_cmpfloat_with_epsilon (view.width, expected.width, 1e-6);
  g_assert_cmpfloat_with_epsilon (view.height, expected.height, 1e-6);
}

/* Keys bring closer what is picked; what is picked out of sight comes into sight; Home goes back. */
static void
test_camera (ViewFixture *self, gconstpointer data)
{
  PawlBox at_first = pawl_scene_get_view (self->scene), before, after;
  double width = gtk_widget_get_width (GTK_WIDGET (self->view)), height = gtk_widget_get_height (GTK_WIDGET (self->view));

  pawl_figure_view_pick_part (self->view, "washer");
  before = find_box (self, "washer");
  for (guint i = 0; i < 6; i++)
    pawl_figure_view_zoom_by (self->view, 1.25);
  after = find_box (self, "washer");
  g_assert_cmpfloat (after.width, >, 3 * before.width);
  g_assert_cmpfloat_with_epsilon (after.x + after.width / 2, before.x + before.width / 2, 1e-6);
  g_assert_cmpfloat_with_epsilon (after.y + after.height / 2, before.y + before.height / 2, 1e-6);

  after = find_box (self, "nut");
  g_assert_true (after.x > width || after.y + after.height < 0);
  g_assert_true (press (self, GDK_KEY_Right, 0));
  g_assert_cmpstr (pawl_figure_view_get_picked (self->view), ==, "nut");
  after = find_box (self, "nut");
  g_assert_true (after.x >= 0 && after.y >= 0 && after.x + after.width <= width && after.y + after.height <= height);

  before = after;
  g_assert_true (press (self, GDK_KEY_Left, GDK_SHIFT_MASK));
  after = find_box (self, "nut");
  g_assert_cmpfloat_with_epsilon (after.x - before.x, 0.1 * width, 1); /* by whole pixels */

  g_assert_true (press (self, GDK_KEY_Home, 0));
  check_view (self, at_first);
}

/* A figure that somebody has moved stays when the next step comes, until Home. */
static void
test_step_comes (ViewFixture *self, gconstpointer data)
{
  PawlBox moved;

  pawl_figure_view_set_follows_step (self->view, TRUE);
  g_assert_true (emit (self, GTK_TYPE_EVENT_CONTROLLER_SCROLL, "scroll", 0, 0, 0, -3));
  moved = pawl_scene_get_view (self->scene);
  show (self, "lift", FALSE);
  check_view (self, moved);
  g_assert_true (press (self, GDK_KEY_Home, 0));
  g_assert_cmpfloat (fabs (pawl_scene_get_view (self->scene).width - moved.width), >, 1);
}

/* A wheel keeps what is under the pointer there: at first that is the corner. */
static void
test_wheel (ViewFixture *self, gconstpointer data)
{
  PawlBox before = find_box (self, "body"), after;

  g_assert_true (emit (self, GTK_TYPE_EVENT_CONTROLLER_SCROLL, "scroll", 0, 0, 0, -1));
  after = find_box (self, "body");
  g_assert_cmpfloat_with_epsilon (after.width, 1.2 * before.width, 1e-6);
  g_assert_cmpfloat_with_epsilon (after.x, 1.2 * before.x, 1e-6);
  g_assert_cmpfloat_with_epsilon (after.y, 1.2 * before.y, 1e-6);
  g_assert_true (emit (self, GTK_TYPE_EVENT_CONTROLLER_SCROLL, "scroll", 0, 0, 0, 1));
  after = find_box (self, "body");
  g_assert_cmpfloat_with_epsilon (after.x, before.x, 1e-6);
}

/* The first step takes the washer off. Who wants no animations sees it there at once; else it is on its way first. */
static void
test_slide (ViewFixture *self, gconstpointer is_animated)
{
  g_assert_cmpfloat (pawl_scene_get_fraction (self->scene, "washer"), ==, 1);
  fixture_finish_first (&self->base);
  g_object_set (gtk_widget_get_settings (self->window), "gtk-enable-animations", is_animated != NULL, NULL);
  show (self, "lift", TRUE);
  g_object_set (gtk_widget_get_settings (self->window), "gtk-enable-animations", FALSE, NULL);
  g_assert_cmpfloat (pawl_scene_get_fraction (self->scene, "washer"), ==, is_animated != NULL ? 1 : 0);
  while (pawl_scene_get_fraction (self->scene, "washer") > 0)
    g_main_context_iteration (NULL, TRUE);
}

#define ADD(path, data, func) g_test_add (path, ViewFixture, data, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  ADD ("/figure-view/picks", NULL, test_picks);
  ADD ("/figure-view/camera", NULL, test_camera);
  ADD ("/figure-view/step-comes", NULL, test_step_comes);
  ADD ("/figure-view/wheel", NULL, test_wheel);
  ADD ("/figure-view/slide", "animated", test_slide);
  ADD ("/figure-view/slide-without-motion", NULL, test_slide);
  return g_test_run ();
}
