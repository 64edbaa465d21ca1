/* What wheel, fingers and keys do to the camera. On a display, since the keys' share is of a widget's size. */
#include "app/pawl-figure-steer.h"

#define WIDTH 600
#define HEIGHT 400

/* A camera: a point p of the sheet is at scale * p + (x, y) of the widget. */
static struct { double scale, x, y; } camera;

static void
zoom (GtkWidget *widget, double factor, double x, double y)
{
  camera.x = x + factor * (camera.x - x);
  camera.y = y + factor * (camera.y - y);
  camera.scale *= factor;
}

static void
pan (GtkWidget *widget, double dx, double dy)
{
  camera.x += dx;
  camera.y += dy;
}

static const PawlFigureSteering steering = { zoom, pan };

/* What lies under each of two fingers stays under it, however they move, as long as they don't turn. */
static void
test_pinch (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (3);

  for (guint round = 0; round < 50; round++)
    {
      double x = g_rand_double_range (random, 0, WIDTH), y = g_rand_double_range (random, 0, HEIGHT), apart = g_rand_double_range (random, 20, 200);
      double apart_first = apart, left_of, right_of, height_of;
      PawlPinch pinch = { 1, x, y };

      camera.scale = g_rand_double_range (random, 0.2, 5);
      camera.x = g_rand_double_range (random, -500, 500);
      camera.y = g_rand_double_range (random, -500, 500);
      left_of = (x - apart / 2 - camera.x) / camera.scale;
      right_of = (x + apart / 2 - camera.x) / camera.scale;
      height_of = (y - camera.y) / camera.scale;
      for (guint i = 0; i < 20; i++)
        {
          x += g_rand_double_range (random, -30, 30);
          y += g_rand_double_range (random, -30, 30);
          apart *= g_rand_double_range (random, 0.8, 1.25);
          pawl_figure_steer_pinch (NULL, &steering, &pinch, apart / apart_first, x, y);
          g_assert_cmpfloat_with_epsilon (camera.scale * left_of + camera.x, x - apart / 2, 1e-6);
          g_assert_cmpfloat_with_epsilon (camera.scale * right_of + camera.x, x + apart / 2, 1e-6);
          g_assert_cmpfloat_with_epsilon (camera.scale * height_of + camera.y, y, 1e-6);
        }
    }
}

/* Fingers upon one another have no scale: nothing is lost by it. */
static void
test_pinch_of_nothing (void)
{
  PawlPinch pinch = { 1, 10, 10 };

  camera.scale = 2;
  camera.x = camera.y = 0;
  pawl_figure_steer_pinch (NULL, &steering, &pinch, 0, 10, 10);
  pawl_figure_steer_pinch (NULL, &steering, &pinch, 1.5, 10, 10);
  g_assert_cmpfloat_with_epsilon (camera.scale, 3, 1e-12);
}

static void
test_wheel (void)
{
  double factor = 1;

  g_assert_cmpfloat_with_epsilon (pawl_figure_steer_wheel_factor (-1), 1.2, 1e-12);
  g_assert_cmpfloat_with_epsilon (pawl_figure_steer_wheel_factor (3) * pawl_figure_steer_wheel_factor (-3), 1, 1e-12);
  for (guint i = 0; i < 8; i++)
    factor *= pawl_figure_steer_wheel_factor (-0.125);
  g_assert_cmpfloat_with_epsilon (factor, 1.2, 1e-12);
}

/* The way is the same in however many frames it is gone. */
static void
test_coast (void)
{
  static const guint frames[] = { 1, 10, 600 };

  for (guint i = 0; i < G_N_ELEMENTS (frames); i++)
    {
      double speed = -800, way = 0;

      for (guint n = 0; n < frames[i]; n++)
        way += pawl_figure_steer_coast (&speed, 10.0 / frames[i]);
      g_assert_cmpfloat_with_epsilon (way, -200, 1e-9);
      g_assert_cmpfloat_with_epsilon (speed, 0, 1e-9);
    }
}

static void
test_keys (void)
{
  static const struct { guint key; GdkModifierType state; gboolean is_taken; double x, y; } cases[] = {
    { GDK_KEY_Right, GDK_SHIFT_MASK, TRUE, -0.1 * WIDTH, 0 }, { GDK_KEY_Left, GDK_SHIFT_MASK, TRUE, 0.1 * WIDTH, 0 },
    { GDK_KEY_Up, GDK_SHIFT_MASK, TRUE, 0, 0.1 * HEIGHT },    { GDK_KEY_Down, GDK_SHIFT_MASK, TRUE, 0, -0.1 * HEIGHT },
    { GDK_KEY_Down, GDK_SHIFT_MASK | GDK_LOCK_MASK, TRUE, 0, -0.1 * HEIGHT },
    { GDK_KEY_Down, 0, FALSE, 0, 0 }, { GDK_KEY_Down, GDK_SHIFT_MASK | GDK_CONTROL_MASK, FALSE, 0, 0 }, { GDK_KEY_a, GDK_SHIFT_MASK, FALSE, 0, 0 },
  };
  GtkWidget *widget = g_object_ref_sink (gtk_drawing_area_new ());

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_allocate (widget, WIDTH, HEIGHT, -1, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      camera.x = camera.y = 0;
      g_assert_cmpint (pawl_figure_steer_key (widget, &steering, cases[i].key, cases[i].state), ==, cases[i].is_taken);
      g_assert_cmpfloat_with_epsilon (camera.x, cases[i].x, 1e-9);
      g_assert_cmpfloat_with_epsilon (camera.y, cases[i].y, 1e-9);
    }
  g_object_unref (widget);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  g_test_add_func ("/figure-steer/pinch", test_pinch);
  g_test_add_func ("/figure-steer/pinch-of-nothing", test_pinch_of_nothing);
  g_test_add_func ("/figure-steer/wheel", test_wheel);
  g_test_add_func ("/figure-steer/coast", test_coast);
  g_test_add_func ("/figure-steer/keys", test_keys);
  return g_test_run ();
}
