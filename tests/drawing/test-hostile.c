/* Every hostile figure, all the way in: scan, trial, opening, and one drawing when it is let in. One clear sentence each, and nobody falls. */
#include "drawing/pawl-trial.h"
#include "fixtures.h"
#include "hostile.h"

#define LEAST_FILES 40

static HostileEnd
get_end (const GError *error)
{
  static const HostileEnd figure_ends[] = {
    [PAWL_FIGURE_ERROR_NOT_XML] = HOSTILE_NOT_XML, [PAWL_FIGURE_ERROR_NOT_SVG] = HOSTILE_NOT_SVG, [PAWL_FIGURE_ERROR_SIZE] = HOSTILE_SIZE,
    [PAWL_FIGURE_ERROR_TOO_LARGE] = HOSTILE_TOO_LARGE, [PAWL_FIGURE_ERROR_REFUSED] = HOSTILE_REFUSED, [PAWL_FIGURE_ERROR_RENDER] = HOSTILE_FAILED,
  };
  static const HostileEnd trial_ends[] = {
    [PAWL_TRIAL_ERROR_CRASHED] = HOSTILE_CRASHED, [PAWL_TRIAL_ERROR_TOO_LONG] = HOSTILE_TOO_LONG, [PAWL_TRIAL_ERROR_MEMORY] = HOSTILE_MEMORY,
    [PAWL_TRIAL_ERROR_FAILED] = HOSTILE_FAILED,
  };

  if (!error)
    return HOSTILE_LET_IN;
  if (error->domain == PAWL_FIGURE_ERROR)
    return figure_ends[error->code];
  g_assert_true (error->domain == PAWL_TRIAL_ERROR);
  g_assert_cmpint (error->code, !=, PAWL_TRIAL_ERROR_NOT_TRIED);
  return trial_ends[error->code];
}

/* As the window would. */
static void
draw (PawlFigure *figure)
{
  g_autoptr(PawlScene) scene = pawl_scene_new (figure);
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 640, 400);
  cairo_t *cr = cairo_create (image);

  pawl_scene_draw (scene, cr, 640, 400);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (image);
}

/* One sentence, in one line, that begins with the file's name and offers more than a number. */
static void
assert_sentence (const char *message)
{
  g_assert_true (g_str_has_prefix (message, "figure.svg:"));
  g_assert_null (strchr (message, '\n'));
  g_assert_true (g_utf8_validate (message, -1, NULL));
  g_assert_cmpuint (strlen (message), >, 30);
  g_assert_cmpuint (strlen (message), <, 500);
}

static void
test_file (gconstpointer data)
{
  const HostileFile *file = data;
  g_autoptr(PawlTrial) trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  g_autoptr(GBytes) bytes = hostile_make (file);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_trial_load_bytes (trial, bytes, "figure.svg", PAWL_TRIAL_KEPT, NULL, &error);

  g_test_message ("%s", error ? error->message : "let in");
  g_assert_true ((figure != NULL) == (error == NULL));
  g_assert_cmpint (get_end (error), ==, file->end);
  if (figure)
    draw (figure);
  else
    assert_sentence (error->message);
}

/* Made by code, so that nothing but the code can change what they are. */
static void
test_same_each_time (void)
{
  g_assert_cmpuint (n_hostile_files, >=, LEAST_FILES);
  for (guint i = 0; i < n_hostile_files; i++)
    {
      g_autoptr(GBytes) first = hostile_make (&hostile_files[i]), second = hostile_make (&hostile_files[i]);

      g_assert_true (g_bytes_equal (first, second));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/hostile/same-each-time", test_same_each_time);
  for (guint i = 0; i < n_hostile_files; i++)
    {
      g_autofree char *path = g_strdup_printf ("/drawing/hostile/%s", hostile_files[i].name);

      g_test_add_data_func (path, &hostile_files[i], test_file);
    }
  return g_test_run ();
}
