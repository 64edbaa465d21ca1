/* The bar that runs through the job: what it tells, and that it never leaves the film's ends. On a display, without animations. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app/pawl-build-up-bar.h"
#include "procedure/pawl-reader.h"

typedef struct {
  GtkWidget      *window;
  PawlBuildUpBar *bar;
  guint           length;
  GArray         *moves; /* (element-type double) */
  guint           n_rests;
  char           *chosen;
} Fixture;

static void
moved_cb (PawlBuildUpBar *bar, double position, Fixture *self)
{
  g_array_append_val (self->moves, position);
}

static void
rested_cb (PawlBuildUpBar *bar, Fixture *self)
{
  self->n_rests++;
}

static void
chosen_cb (PawlBuildUpBar *bar, const char *step_id, Fixture *self)
{
  g_free (self->chosen);
  self->chosen = g_strdup (step_id);
}

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autofree char *path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", "sd3-carburetor.xml", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);

  g_assert_no_error (error);
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  self->moves = g_array_new (FALSE, FALSE, sizeof (double));
  self->window = gtk_window_new ();
  self->bar = g_object_new (PAWL_TYPE_BUILD_UP_BAR, NULL);
  self->length = pawl_procedure_get_steps (procedure)->len;
  gtk_window_set_child (GTK_WINDOW (self->window), GTK_WIDGET (self->bar));
  pawl_build_up_bar_set_film (self->bar, pawl_build_up_new (procedure, NULL));
  g_signal_connect (self->bar, "moved", G_CALLBACK (moved_cb), self);
  g_signal_connect (self->bar, "rested", G_CALLBACK (rested_cb), self);
  g_signal_connect (self->bar, "chosen", G_CALLBACK (chosen_cb), self);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  g_array_unref (self->moves);
  g_free (self->chosen);
}

static double
get_last (Fixture *self)
{
  g_assert_cmpuint (self->moves->len, >, 0);
  return g_array_index (self->moves, double, self->moves->len - 1);
}

static GtkWidget *
find (GtkWidget *within, GType type, const char *label)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (within, type) && (label == NULL || g_strcmp0 (gtk_button_get_label (GTK_BUTTON (within)), label) == 0))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
test_steps (Fixture *self, gconstpointer data)
{
  g_autofree char *first = NULL;

  pawl_build_up_bar_rest_at (self->bar, 12);
  g_assert_cmpuint (self->moves->len, ==, 0);
  g_assert_true (pawl_build_up_bar_is_at_rest (self->bar));
  pawl_build_up_bar_step (self->bar, 1);
  g_assert_cmpfloat (get_last (self), ==, 13);
  g_assert_false (pawl_build_up_bar_is_at_rest (self->bar));
  pawl_build_up_bar_step (self->bar, -2);
  g_assert_cmpfloat (get_last (self), ==, 11);
  pawl_build_up_bar_step (self->bar, -1000);
  g_assert_cmpfloat (get_last (self), ==, 0);
  first = pawl_build_up_bar_describe (self->bar);
  g_assert_true (g_str_has_prefix (first, "1  "));
  pawl_build_up_bar_step (self->bar, 1000);
  g_assert_cmpfloat (get_last (self), ==, self->length);
}

static void
test_leave (Fixture *self, gconstpointer data)
{
  pawl_build_up_bar_leave (self->bar);
  g_assert_cmpuint (self->n_rests, ==, 0); /* it was at rest */
  pawl_build_up_bar_rest_at (self->bar, 12);
  pawl_build_up_bar_step (self->bar, 3);
  pawl_build_up_bar_leave (self->bar);
  g_assert_cmpuint (self->n_rests, ==, 1);
  pawl_build_up_bar_step (self->bar, 1);
  g_assert_cmpfloat (get_last (self), ==, 13); /* from where the job stands, not from where the look ended */
  pawl_build_up_bar_rest_at (self->bar, 12);
  g_assert_cmpuint (self->n_rests, ==, 1);     /* the job went on by itself */
}

/* The pointer stops between steps; what is chosen there is the step under way. */
static void
test_drag_and_choose (Fixture *self, gconstpointer data)
{
  GtkWidget *scale = find (GTK_WIDGET (self->bar), GTK_TYPE_SCALE, NULL);
  gboolean is_handled = FALSE;

  g_signal_emit_by_name (scale, "change-value", GTK_SCROLL_JUMP, 20.25, &is_handled);
  g_assert_true (is_handled);
  g_assert_cmpfloat (get_last (self), ==, 20.25);
  g_assert_cmpfloat (gtk_range_get_value (GTK_RANGE (scale)), ==, 20.25);
  pawl_build_up_bar_step (self->bar, 1);
  g_assert_cmpfloat (get_last (self), ==, 21); /* what had begun is ended */
  g_signal_emit_by_name (scale, "change-value", GTK_SCROLL_JUMP, 20.25, &is_handled);
  pawl_build_up_bar_step (self->bar, -1);
  g_assert_cmpfloat (get_last (self), ==, 20);
  g_signal_emit_by_name (find (GTK_WIDGET (self->bar), GTK_TYPE_BUTTON, "See this step"), "clicked");
  g_assert_cmpstr (self->chosen, ==, pawl_build_up_peek_step (pawl_build_up_bar_peek_film (self->bar), 20)->id);
  g_assert_true (pawl_build_up_bar_is_at_rest (self->bar));
}

/* Without animations a film is a row of pictures: whole positions only. */
static void
test_play (Fixture *self, gconstpointer data)
{
  gtk_window_present (GTK_WINDOW (self->window));
  pawl_build_up_bar_rest_at (self->bar, self->length - 2.0);
  pawl_build_up_bar_toggle (self->bar);
  while (self->moves->len == 0 || get_last (self) < self->length)
    g_main_context_iteration (NULL, TRUE);
  for (guint i = 0; i < self->moves->len; i++)
    g_assert_cmpfloat (g_array_index (self->moves, double, i), ==, self->length - 2.0 + i);
  g_assert_cmpuint (self->moves->len, ==, 3);
  pawl_build_up_bar_toggle (self->bar); /* from the start again */
  g_assert_cmpfloat (get_last (self), ==, 0);
  pawl_build_up_bar_toggle (self->bar);
  g_assert_false (pawl_build_up_bar_is_at_rest (self->bar));
}

static void
test_no_film (Fixture *self, gconstpointer data)
{
  pawl_build_up_bar_set_film (self->bar, NULL);
  pawl_build_up_bar_toggle (self->bar);
  pawl_build_up_bar_step (self->bar, 1);
  g_assert_cmpuint (self->moves->len, ==, 0);
  g_assert_true (pawl_build_up_bar_is_at_rest (self->bar));
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_test_add ("/build-up-bar/steps", Fixture, NULL, set_up, test_steps, tear_down);
  g_test_add ("/build-up-bar/leave", Fixture, NULL, set_up, test_leave, tear_down);
  g_test_add ("/build-up-bar/drag-and-choose", Fixture, NULL, set_up, test_drag_and_choose, tear_down);
  g_test_add ("/build-up-bar/play", Fixture, NULL, set_up, test_play, tear_down);
  g_test_add ("/build-up-bar/no-film", Fixture, NULL, set_up, test_no_film, tear_down);
  return g_test_run ();
}
