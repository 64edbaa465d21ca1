/* A window on a shared record: what another bench does comes by itself, what is done here goes, and what waits is said and stays said. */
#include <glib/gstdio.h>

#include "app-fixture.h"
#include "app/pawl-look.h"
#include "app/pawl-share-line.h"
#include "app/pawl-window-private.h"

/* The fixture's own record is the shop's: a file of SQLite, in a folder that can be taken away. Its session is the other bench. */
typedef struct {
  Fixture         base;
  char           *shop, *elsewhere; /* folders */
  char           *address;
  PawlSettings   *settings;
  PawlTrial      *trial;
  GtkApplication *application;
  PawlWindow     *window;
  const char     *folders[2];
} ShopFixture;

static void
move_record (ShopFixture *self)
{
  g_autofree char *path = g_build_filename (self->shop, "shop.db", NULL);

  g_assert_cmpint (g_mkdir (self->shop, 0700), ==, 0);
  g_clear_object (&self->base.session);
  g_clear_object (&self->base.bench);
  g_clear_object (&self->base.record);
  g_assert_cmpint (g_rename (self->base.record_path, path), ==, 0);
  g_free (self->base.record_path);
  self->base.record_path = g_steal_pointer (&path);
}

/* The other bench takes the job up again. */
static void
open_other (ShopFixture *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) jobs = NULL;

  self->base.record = pawl_record_open (self->base.record_path, PAWL_RECORD_OPEN_CREATE, &self->base.host, &error);
  g_assert_no_error (error);
  jobs = pawl_record_list_jobs (self->base.record, &error);
  g_assert_no_error (error);
  self->base.bench = pawl_bench_resume (self->base.record, ((PawlJobLine *) jobs->pdata[0])->id, NULL, &error);
  g_assert_no_error (error);
  self->base.session = pawl_session_new (self->base.bench, FIXTURE_PERSON);
}

static void
set_up (ShopFixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  PawlWindowSetting setting;

  fixture_set_up (&self->base, data);
  self->shop = g_build_filename (self->base.folder, "shop", NULL);
  self->elsewhere = g_build_filename (self->base.folder, "elsewhere", NULL);
  move_record (self);
  open_other (self);
  self->address = g_strconcat ("sqlite://", self->base.record_path, NULL);
  self->settings = pawl_settings_load (NULL);
  self->trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  self->folders[0] = self->base.folder;
  /* The system's clock: a thread asks it, too. */
  setting = (PawlWindowSetting) { .record_path = self->address, .host = pawl_record_host_get_system (), .settings = self->settings, .trial = self->trial,
                                  .folders = self->folders };
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (self->application), NULL, &error);
  g_assert_no_error (error);
  pawl_look_install (gdk_display_get_default ());
  self->window = pawl_window_new (self->application, &setting);
  gtk_window_present (GTK_WINDOW (self->window));
}

static void
tear_down (ShopFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  g_signal_connect (self->application, "activate", G_CALLBACK (g_get_real_time), NULL);
  g_application_run (G_APPLICATION (self->application), 0, NULL);
  g_object_unref (self->application);
  g_object_unref (self->trial);
  pawl_settings_free (self->settings);
  g_clear_object (&self->base.session);
  g_clear_object (&self->base.bench);
  g_clear_object (&self->base.record);
  g_assert_cmpint (g_unlink (self->base.record_path), ==, 0);
  g_assert_cmpint (g_rmdir (self->shop), ==, 0);
  fixture_tear_down (&self->base, NULL);
  g_free (self->shop);
  g_free (self->elsewhere);
  g_free (self->address);
}

/* ---- waiting ---- */

static gboolean
give_up (gpointer data)
{
  g_error ("it did not come to “%s”", (const char *) data);
  return G_SOURCE_REMOVE;
}

static PawlShareLine *
get_line (ShopFixture *self)
{
  return PAWL_SHARE_LINE (self->window->share_line);
}

static void
wait_for_words (ShopFixture *self, const char *words)
{
  guint id = g_timeout_add_seconds (60, give_up, (gpointer) words);

  while (strstr (pawl_share_line_get_text (get_line (self)), words) == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (get_line (self))));
}

static guint
count_here (ShopFixture *self)
{
  return pawl_job_get_entries (pawl_session_get_job (pawl_window_get_session (self->window)))->len;
}

static void
wait_for_entries (ShopFixture *self, guint n)
{
  guint id = g_timeout_add_seconds (60, give_up, "more entries");

  while (count_here (self) != n)
    g_main_context_iteration (NULL, TRUE);
  g_source_remove (id);
}

static void
note (PawlSession *session, const char *text)
{
  g_autoptr(PawlEntry) entry = pawl_answer_new_note (NULL, text, pawl_session_make_hand (session));
  g_autoptr(GError) error = NULL;

  pawl_session_take (session, entry, NULL, &error);
  g_assert_no_error (error);
}

static guint
count_there (ShopFixture *self)
{
  g_autoptr(GPtrArray) entries = pawl_record_load_entries (self->base.record, pawl_job_get_id (pawl_session_get_job (self->base.session)), NULL);

  return entries->len;
}

static void
test_shop (ShopFixture *self, gconstpointer data)
{
  const char *job = pawl_job_get_id (pawl_session_get_job (self->base.session));
  guint n;

  /* The job of the other bench comes; nothing was waited for before. */
  wait_for_words (self, "the server has all of it");
  g_assert_true (pawl_window_open_job (self->window, job));
  n = count_here (self);
  g_assert_cmpuint (n, ==, count_there (self));

  note (self->base.session, "from the other bench");
  wait_for_entries (self, n + 1);
  note (pawl_window_get_session (self->window), "from this window");
  wait_for_words (self, "the server has all of it");
  while (count_there (self) != n + 2)
    g_main_context_iteration (NULL, TRUE);

  /* The shop's folder goes away under an open window. */
  g_assert_cmpint (g_rename (self->shop, self->elsewhere), ==, 0);
  note (pawl_window_get_session (self->window), "while it is away");
  wait_for_words (self, "Server away since");
  g_assert_nonnull (strstr (pawl_share_line_get_text (get_line (self)), "1 entry waits"));
  g_assert_cmpuint (count_here (self), ==, n + 3);
  g_assert_cmpint (g_rename (self->elsewhere, self->shop), ==, 0);
  wait_for_words (self, "the server has all of it");
  g_assert_cmpuint (count_there (self), ==, n + 3);
}

int
main (int argc, char **argv)
{
  g_autofree char *home = g_dir_make_tmp ("pawl-home-XXXXXX", NULL);
  const char *const remove[] = { "/bin/rm", "-rf", home, NULL };
  int code;

  g_setenv ("XDG_DATA_HOME", home, TRUE);
  gtk_test_init (&argc, &argv, NULL);
  g_test_add ("/share-line/shop", ShopFixture, NULL, set_up, test_shop, tear_down);
  code = g_test_run ();
  g_assert_true (g_spawn_sync (NULL, (char **) remove, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, NULL, NULL));
  return code;
}
