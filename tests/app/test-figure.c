/* The figure's place at the bench while it is tried, when it is refused, and when the job is closed meanwhile. On a display. */
#include <errno.h>
#include <gtk/gtk.h>
#include <locale.h>
#include <sys/wait.h>

#include "app-fixture.h"
#include "app/pawl-look.h"
#include "app/pawl-window-private.h"
#include "bench/pawl-bench.h"

#define SVG(body) "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1000 1000\">\n" body "</svg>\n"
#define PARTS "<g id=\"body\"><rect width=\"9\" height=\"9\"/></g>\n<g id=\"plug\"/>\n<g id=\"washer\"/>\n<g id=\"nut\"/>\n"
/* Passes the scan; librsvg 2.54 aborts on letters of this size. */
#define CRASHES SVG (PARTS "<text id=\"t\" y=\"9\" font-size=\"1e30\" letter-spacing=\"1e30\">a b</text>\n")

typedef struct {
  Fixture         base;
  PawlSettings   *settings;
  PawlTrial      *trial;
  GtkApplication *application;
  GPtrArray      *windows;
  const char     *folders[2];
} BenchFixture;

static void
iterate_a_little (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

static PawlWindow *
add_window (BenchFixture *self)
{
  PawlWindowSetting setting = { .record_path = self->base.record_path, .host = &self->base.host, .settings = self->settings, .trial = self->trial,
                                .folders = self->folders };
  PawlWindow *window = pawl_window_new (self->application, &setting);

  g_ptr_array_add (self->windows, window);
  gtk_window_present (GTK_WINDOW (window));
  iterate_a_little ();
  return window;
}

/* @data: (nullable): path of the helper; NULL: the real one. */
static void
set_up (BenchFixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  fixture_set_up (&self->base, NULL);
  self->settings = pawl_settings_load (NULL);
  self->trial = pawl_trial_new (data != NULL ? data : g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  self->folders[0] = self->base.folder;
  self->windows = g_ptr_array_new ();
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_application_register (G_APPLICATION (self->application), NULL, &error);
  g_assert_no_error (error);
  pawl_look_install (gdk_display_get_default ());
  add_window (self);
}

/* Ends as the program does: after its last window, and not before what its pages have under way. No helper is left. */
static void
tear_down (BenchFixture *self, gconstpointer data)
{
  for (guint i = 0; i < self->windows->len; i++)
    gtk_window_destroy (GTK_WINDOW (self->windows->pdata[i]));
  g_signal_connect (self->application, "activate", G_CALLBACK (iterate_a_little), NULL);
  g_application_run (G_APPLICATION (self->application), 0, NULL);
  g_assert_cmpint (waitpid (-1, NULL, WNOHANG), ==, -1);
  g_assert_cmpint (errno, ==, ECHILD);
  g_object_unref (self->application);
  g_object_unref (self->trial);
  pawl_settings_free (self->settings);
  g_ptr_array_unref (self->windows);
  fixture_tear_down (&self->base, NULL);
}

/* A job of the small procedure with another figure. */
static char *
make_job (BenchFixture *self, const char *figure)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = g_bytes_new (figure, strlen (figure));
  g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&(PawlIntake) { .serial = "DC1-8" }, (PawlHand) { FIXTURE_PERSON, self->base.now });
  g_autoptr(PawlBench) bench = pawl_bench_open (self->base.record, self->base.procedure, bytes, opening, &error);

  g_assert_no_error (error);
  return g_strdup (pawl_job_get_id (pawl_bench_get_job (bench)));
}

/* A visible label that has @words, anywhere below. */
static GtkWidget *
find_words (GtkWidget *within, const char *words)
{
  if (GTK_IS_LABEL (within) && gtk_widget_get_visible (within) && strstr (gtk_label_get_label (GTK_LABEL (within)), words) != NULL)
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = gtk_widget_get_visible (child) ? find_words (child, words) : NULL;

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
says (PawlWindow *window, const char *words)
{
  return find_words (GTK_WIDGET (pawl_window_get_bench_page (window)), words) != NULL;
}

static void
open_job (PawlWindow *window, const char *id)
{
  g_assert_true (pawl_window_open_job (window, id));
  g_assert_true (says (window, "Checking the figure…"));
}

static void
wait_for_figure (PawlWindow *window)
{
  while (says (window, "Checking the figure…"))
    g_main_context_iteration (NULL, TRUE);
}

/* The first step of the procedure is answered and finished, figure or none. */
static void
do_first_step (PawlWindow *window)
{
  PawlSession *session = pawl_window_get_session (window);
  g_autoptr(GError) error = NULL;
  const PawlAsk *mark = pawl_procedure_lookup_ask (pawl_bench_get_procedure (pawl_session_get_bench (session)), "mark", NULL);
  g_autoptr(PawlEntry) entry = pawl_answer_new_outcome (mark, "to the flange", pawl_session_make_hand (session));

  g_assert_true (pawl_session_take (session, entry, NULL, &error));
  g_action_group_activate_action (G_ACTION_GROUP (window), "advance", NULL);
  g_assert_cmpstr (pawl_session_peek_step (session)->step->id, !=, "drain");
}

static void
test_let_in (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  g_autofree char *id = make_job (self, SVG (PARTS));

  open_job (window, id);
  do_first_step (window); /* nothing waits for the figure */
  wait_for_figure (window);
  g_assert_false (says (window, "Check the figure again"));
  g_assert_false (says (window, "figure.svg"));
}

static void
test_crashed (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  g_autofree char *id = make_job (self, CRASHES);

  open_job (window, id);
  wait_for_figure (window);
  g_assert_true (says (window, "minimal.svg:6: the drawing library crashed on what begins here (signal "));
  g_assert_false (says (window, "Check the figure again")); /* it would come to the same */
  do_first_step (window);
}

static void
test_refused_by_scan (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  g_autofree char *id = make_job (self, SVG (PARTS "<image href=\"http://example.org/a.png\" width=\"9\" height=\"9\"/>\n"));

  open_job (window, id);
  wait_for_figure (window);
  g_assert_true (says (window, "minimal.svg:6: a picture must lie in the file itself"));
  g_assert_false (says (window, "Check the figure again"));
  do_first_step (window);
}

/* Without its helper the program draws no figure, says so, and tries again when asked. */
static void
test_no_helper (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  GtkWidget *again;
  g_autofree char *id = make_job (self, SVG (PARTS));

  open_job (window, id);
  wait_for_figure (window);
  g_assert_true (says (window, "minimal.svg: can't be tried, so it is not drawn: /nowhere/pawl-trial: "));
  again = find_words (GTK_WIDGET (pawl_window_get_bench_page (window)), "Check the figure again");
  g_assert_nonnull (again);
  g_signal_emit_by_name (gtk_widget_get_ancestor (again, GTK_TYPE_BUTTON), "clicked");
  g_assert_true (says (window, "Checking the figure…"));
  g_assert_false (says (window, "Check the figure again"));
  wait_for_figure (window);
  g_assert_true (says (window, "can't be tried"));
  do_first_step (window);
}

/* Half-transparent groups that take minutes. */
static char *
make_endless (void)
{
  GString *text = g_string_new ("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1000 1000\">\n" PARTS "<g id=\"g\">");

  for (guint i = 0; i < 3500; i++)
    g_string_append (text, "<g opacity=\".9\"><path d=\"M0 0H1000V1000H0z\"/><path d=\"M9 9H900V900H9z\" fill=\"#fff\"/></g>");
  g_string_append (text, "</g></svg>\n");
  return g_string_free (text, FALSE);
}

/* The job is closed, another one opened, the window closed: each ends the helper of the one before; tear_down() sees that none is left. */
static void
test_closed_meanwhile (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  g_autofree char *endless = make_endless (), *id = make_job (self, endless), *other = make_job (self, SVG (PARTS "<g id=\"other\"/>\n"));

  open_job (window, id);
  for (guint i = 0; i < 20; i++)
    {
      g_usleep (10 * 1000); /* so that there is a helper to end */
      iterate_a_little ();
    }
  g_assert_true (says (window, "Checking the figure…"));
  pawl_window_close_job (window);
  open_job (window, other);
  wait_for_figure (window);
  open_job (window, id);
  iterate_a_little ();
}

/* Three windows and one figure. */
static void
test_windows_at_once (BenchFixture *self, gconstpointer data)
{
  g_autofree char *id = make_job (self, CRASHES);

  add_window (self);
  add_window (self);
  for (guint i = 0; i < self->windows->len; i++)
    open_job (self->windows->pdata[i], id);
  for (guint i = 0; i < self->windows->len; i++)
    wait_for_figure (self->windows->pdata[i]);
  for (guint i = 0; i < self->windows->len; i++)
    g_assert_true (says (self->windows->pdata[i], "the drawing library crashed"));
}

/* ---- how long the window stands still ---- */

typedef struct { gint64 last, longest; } Watch;

static gboolean
watch_cb (gpointer data)
{
  Watch *watch = data;
  gint64 now = g_get_monotonic_time ();

  watch->longest = MAX (watch->longest, now - watch->last);
  watch->last = now;
  return G_SOURCE_CONTINUE;
}

/* 400 parts of 50 outlines each. */
static char *
make_large (void)
{
  GString *text = g_string_new ("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 1600 1000\">\n");

  for (guint part = 0; part < 400; part++)
    {
      g_string_append_printf (text, "<g id=\"%s%u\" stroke=\"#223\" fill=\"#ccd\">\n", part == 0 ? "body" : "part-", part);
      for (guint i = 0; i < 50; i++)
        g_string_append_printf (text, "<path d=\"M%u %u c9 4 -3 8 5 9 c-9 8 -2 -7 4 -9 c7 7 3 -1 2 -8 c9 -4 6 2 -5 8 z\"/>\n", part * 397 % 1560 + i * 7 % 40, part * 211 % 960 + i * 13 % 40);
      g_string_append (text, "</g>\n");
    }
  g_string_append (text, "</svg>\n");
  return g_string_free (text, FALSE);
}

/* Measured, not judged: a loaded machine may stand still for reasons of its own. The first frame of the page is not in it, the turn of the loop
 * in which the figure is handed to the canvas is. */
static void
test_stands_still (BenchFixture *self, gconstpointer data)
{
  PawlWindow *window = self->windows->pdata[0];
  g_autofree char *large = make_large (), *id = make_job (self, large);
  Watch watch = { 0 };
  gint64 begun;
  guint source;

  g_assert_true (pawl_window_open_job (window, id));
  begun = g_get_monotonic_time ();
  while (g_main_context_iteration (NULL, FALSE) && g_get_monotonic_time () - begun < 200 * 1000)
    ; /* the page comes up */
  watch.last = g_get_monotonic_time ();
  source = g_timeout_add_full (G_PRIORITY_HIGH, 1, watch_cb, &watch, NULL);
  wait_for_figure (window);
  watch_cb (&watch);
  g_source_remove (source);
  g_test_message ("a figure of 400 parts was tried and opened in %.0f ms, the main loop stood still for %.1f ms at the longest",
                  (g_get_monotonic_time () - begun) / 1000.0, watch.longest / 1000.0);
  g_assert_false (says (window, "minimal.svg"));
}

#define ADD(path, helper, func) g_test_add (path, BenchFixture, helper, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  ADD ("/app/figure/let-in", NULL, test_let_in);
  ADD ("/app/figure/crashed", NULL, test_crashed);
  ADD ("/app/figure/refused-by-scan", NULL, test_refused_by_scan);
  ADD ("/app/figure/no-helper", "/nowhere/pawl-trial", test_no_helper);
  ADD ("/app/figure/closed-meanwhile", NULL, test_closed_meanwhile);
  ADD ("/app/figure/windows-at-once", NULL, test_windows_at_once);
  ADD ("/app/figure/stands-still", NULL, test_stands_still);
  return g_test_run ();
}
