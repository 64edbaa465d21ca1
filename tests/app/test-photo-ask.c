/* The photo that is asked for before a step hides something, through the window: one press says so, F2 takes the newest picture, F3 goes on without. */
#include <gtk/gtk.h>
#include <locale.h>

#include "window-fixture.h"
#include "app/pawl-photo-ask.h"
#include "app/pawl-photo-folder.h"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  fixture_set_up (&self->base, "good/hidden.xml");
  g_assert_true (pawl_session_advance (self->base.session, &error));
  fixture_answer (&self->base, "disc-mate", "right");
  g_assert_true (pawl_session_advance (self->base.session, &error));
  g_assert_no_error (error);
  window_fixture_open (self);
  window_fixture_open_job (self);
  pawl_session_look_at (pawl_window_get_session (self->window), "cap-on");
  fixture_iterate ();
}

static GtkWidget *
find_ask (WindowFixture *self)
{
  return fixture_find (GTK_WIDGET (pawl_window_get_panel (self->window)), PAWL_TYPE_PHOTO_ASK);
}

static const PawlStepState *
peek_step (WindowFixture *self)
{
  return pawl_job_lookup_step (pawl_session_get_job (pawl_window_get_session (self->window)), "cap-on");
}

/* Fills a folder with two pictures, written at these times, and a text that is newer. */
static void
make_pictures (WindowFixture *self, const char *first, const char *second)
{
  const char * const names[] = { "first.png", "second.png", "notes.txt" };
  const char * const times[] = { first, second, "2026-11-25T12:00:00Z" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autofree char *path = g_build_filename (self->base.folder, names[i], NULL);
      g_autoptr(GdkPixbuf) picture = gdk_pixbuf_new (GDK_COLORSPACE_RGB, FALSE, 8, 4 + (int) i, 4);
      g_autoptr(GDateTime) time = g_date_time_new_from_iso8601 (times[i], NULL);
      g_autoptr(GFile) file = g_file_new_for_path (path);
      g_autoptr(GError) error = NULL;

      gdk_pixbuf_fill (picture, 0x808080ff);
      if (g_str_has_suffix (path, ".png"))
        gdk_pixbuf_save (picture, path, "png", &error, NULL);
      else
        g_file_set_contents (path, "x", -1, &error);
      g_assert_no_error (error);
      g_file_set_attribute_uint64 (file, G_FILE_ATTRIBUTE_TIME_MODIFIED, (guint64) g_date_time_to_unix (time), G_FILE_QUERY_INFO_NONE, NULL, &error);
      g_assert_no_error (error);
    }
}

static void
press (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

/* Pressed once it is asked for, pressed again the work goes on; what was not said is noted with the name. */
static void
test_press_twice (WindowFixture *self, gconstpointer data)
{
  const PawlStepState *step;

  g_assert_true (gtk_widget_get_mapped (find_ask (self)));
  g_assert_true (fixture_shows (find_ask (self), "“Disc and seat” (step 2)"));
  press (self, "advance");
  g_assert_cmpint (peek_step (self)->status, ==, PAWL_STEP_OPEN);
  g_assert_true (fixture_shows (GTK_WIDGET (pawl_window_get_panel (self->window)), "F2 takes it"));
  press (self, "advance");
  step = peek_step (self);
  g_assert_cmpint (step->status, ==, PAWL_STEP_DONE);
  g_assert_cmpuint (step->notes->len, ==, 1);
  g_assert_cmpstr (pawl_entry_get_person (step->notes->pdata[0]), ==, FIXTURE_PERSON);
  g_assert_false (gtk_widget_get_visible (find_ask (self)));
}

/* And why, when it is written; Undo asks again. */
static void
test_without (WindowFixture *self, gconstpointer data)
{
  GtkWidget *reason = fixture_find (find_ask (self), GTK_TYPE_ENTRY);

  gtk_editable_set_text (GTK_EDITABLE (reason), " Lens full of grease ");
  press (self, "no-photo");
  g_assert_cmpstr (pawl_entry_get (peek_step (self)->notes->pdata[0], "reason"), ==, "Lens full of grease");
  g_assert_false (gtk_widget_get_visible (find_ask (self)));
  press (self, "undo");
  g_assert_true (gtk_widget_get_visible (find_ask (self)));
  g_assert_cmpuint (peek_step (self)->notes->len, ==, 0);
}

static void
test_newest (WindowFixture *self, gconstpointer data)
{
  make_pictures (self, "2026-11-25T09:05:00Z", "2026-11-25T09:30:00Z");
  pawl_settings_set_photo_folder (self->settings, self->base.folder);
  press (self, "photo-newest");
  while (peek_step (self)->photos->len == 0)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (pawl_entry_get (peek_step (self)->photos->pdata[0], "caption"), ==, "“Disc and seat” (step 2)");
  g_assert_cmpstr (pawl_entry_get (peek_step (self)->photos->pdata[0], "media-type"), ==, "image/png");
  g_assert_false (gtk_widget_get_visible (find_ask (self)));
  press (self, "advance");
  g_assert_cmpint (peek_step (self)->status, ==, PAWL_STEP_DONE);
}

/* The folder itself: the newest picture, nothing that is older than the work, and no folder at all. */
static void
test_folder (WindowFixture *self, gconstpointer data)
{
  g_autoptr(GDateTime) since = g_date_time_new_from_iso8601 ("2026-11-25T09:00:00Z", NULL), later = g_date_time_new_from_iso8601 ("2026-11-25T10:00:00Z", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GFile) newest = NULL, none = NULL, nowhere = NULL;
  g_autofree char *name = NULL;

  make_pictures (self, "2026-11-25T09:40:00Z", "2026-11-25T09:30:00Z");
  newest = pawl_photo_folder_find_newest (self->base.folder, since, NULL, &error);
  g_assert_no_error (error);
  name = g_file_get_basename (newest);
  g_assert_cmpstr (name, ==, "first.png");
  none = pawl_photo_folder_find_newest (self->base.folder, later, NULL, &error);
  g_assert_no_error (error);
  g_assert_null (none);
  nowhere = pawl_photo_folder_find_newest ("/nonexistent", NULL, NULL, &error);
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_null (nowhere);
}

#define ADD(path, function) g_test_add ("/app/photo-ask/" path, WindowFixture, NULL, set_up, function, window_fixture_tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  ADD ("press-twice", test_press_twice);
  ADD ("without", test_without);
  ADD ("newest", test_newest);
  ADD ("folder", test_folder);
  return g_test_run ();
}
