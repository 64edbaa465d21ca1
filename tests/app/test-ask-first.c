/* Asked first, through the window: two pictures and no word of the answer, a choice that is on disk before anything is shown, and Undo. */
#include <gtk/gtk.h>

#include "window-fixture.h"
#include "app/pawl-ask-row.h"
#include "app/pawl-look.h"
#include "app/pawl-procedures-page.h"
#include "app/pawl-question-view.h"
#include "register/pawl-burst.h"

#define SAYS "The small end enters first."
#define TELL "The taper is plain to see."
#define EXPECT "It turns by hand."
#define USUAL_GAP (2 * PAWL_BURST_PAUSE_USEC)

/* ---- a job that asks first, at the step with a fit ---- */

static void
skip (WindowFixture *self, const char *step)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlEntry) entry = pawl_answer_new_deviation (step, "skipped", "not part of this test", NULL, pawl_session_make_hand (self->base.session));

  pawl_session_take (self->base.session, entry, NULL, &error);
  g_assert_no_error (error);
}

static void
set_up (WindowFixture *self, gconstpointer is_ask_first)
{
  self->base.is_ask_first = is_ask_first != NULL;
  fixture_set_up (&self->base, NULL);
  skip (self, "drain");
  skip (self, "lift");
  skip (self, "clean");
  window_fixture_open (self);
  self->clock = USUAL_GAP;
  window_fixture_open_job (self);
  pawl_session_look_at (pawl_window_get_session (self->window), "seat");
  fixture_iterate ();
}

/* ---- what is there ---- */

static GtkWidget *
get_panel (WindowFixture *self)
{
  return GTK_WIDGET (pawl_bench_page_get_panel (pawl_window_get_bench_page (self->window)));
}

static GtkWidget *
find_view (WindowFixture *self)
{
  return fixture_find (get_panel (self), PAWL_TYPE_QUESTION_VIEW);
}

static GtkWidget *
find_picture (WindowFixture *self, gboolean is_second)
{
  GtkWidget *first = fixture_find (find_view (self), GTK_TYPE_BUTTON);

  return is_second ? gtk_widget_get_next_sibling (first) : first;
}

static PawlJob *
get_job (WindowFixture *self)
{
  return pawl_session_get_job (pawl_window_get_session (self->window));
}

/* Is the picture at that place, as it is put now, the right one? */
static gboolean
is_right (WindowFixture *self, gboolean is_second)
{
  PawlQuestion question = pawl_job_make_question (get_job (self), pawl_job_lookup_ask (get_job (self), "plug-way"));

  return pawl_question_is_right (&question, is_second);
}

static void
assert_asked (WindowFixture *self)
{
  g_assert_true (gtk_widget_get_mapped (find_view (self)));
  g_assert_false (fixture_shows (get_panel (self), SAYS));
  g_assert_false (fixture_shows (get_panel (self), TELL));
  g_assert_false (fixture_shows (get_panel (self), EXPECT));
  g_assert_false (fixture_shows (get_panel (self), "picture.")); /* neither "right picture." nor "wrong picture." */
  g_assert_false (fixture_shows (get_panel (self), "Wrong way round found"));
  g_assert_false (fixture_shows (get_panel (self), "The difference is"));
}

static void
assert_shown (WindowFixture *self)
{
  g_assert_false (gtk_widget_get_mapped (find_view (self)));
  g_assert_true (fixture_shows (get_panel (self), SAYS));
  g_assert_true (fixture_shows (get_panel (self), TELL));
  g_assert_true (fixture_shows (get_panel (self), EXPECT));
  g_assert_true (fixture_shows (get_panel (self), "Wrong way round found"));
}

/* As another program would find it. */
static void
assert_on_disk (WindowFixture *self, const char *choice)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (self->base.record_path, PAWL_RECORD_OPEN_READ_ONLY, &self->base.host, &error);
  g_autoptr(PawlBench) bench = record != NULL ? pawl_bench_resume (record, pawl_job_get_id (get_job (self)), NULL, &error) : NULL;
  const PawlEntry *guess;

  g_assert_no_error (error);
  guess = pawl_job_peek_guess (pawl_bench_get_job (bench), "plug-way");
  if (choice == NULL)
    {
      g_assert_null (guess);
      return;
    }
  g_assert_nonnull (guess);
  g_assert_cmpstr (pawl_entry_get (guess, "choice"), ==, choice);
  g_assert_cmpstr (pawl_entry_get_person (guess), ==, pawl_session_get_person (pawl_window_get_session (self->window)));
}

/* Whether the view has its answer already when it is told: by then it must be on disk. */
static void
changed_cb (PawlSession *session, WindowFixture *self)
{
  if (pawl_job_peek_guess (pawl_session_get_job (session), "plug-way") != NULL)
    assert_on_disk (self, "wrong");
}

static void
choose (WindowFixture *self, gboolean is_wanted_right)
{
  g_signal_emit_by_name (find_picture (self, is_right (self, TRUE) == is_wanted_right), "clicked");
  fixture_iterate ();
}

static void
undo (WindowFixture *self)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), "undo", NULL);
  fixture_iterate ();
}

/* ---- the tests ---- */

static void
test_wrong_and_undo (WindowFixture *self, gconstpointer data)
{
  gulong handler;

  assert_asked (self);
  gtk_test_accessible_assert_property (find_picture (self, FALSE), GTK_ACCESSIBLE_PROPERTY_LABEL, "First picture: Plug: which way round");
  gtk_test_accessible_assert_property (find_picture (self, TRUE), GTK_ACCESSIBLE_PROPERTY_LABEL, "Second picture: Plug: which way round");
  handler = g_signal_connect (pawl_window_get_session (self->window), "changed", G_CALLBACK (changed_cb), self);
  choose (self, FALSE);
  g_signal_handler_disconnect (pawl_window_get_session (self->window), handler);
  assert_on_disk (self, "wrong");
  assert_shown (self);
  g_assert_true (fixture_shows (get_panel (self), "That was the wrong picture. How to tell: " TELL));
  undo (self);
  assert_on_disk (self, NULL);
  assert_asked (self);
}

/* Asked once: what is shown stays shown, and the fit is answered as it always is. */
static void
test_right (WindowFixture *self, gconstpointer data)
{
  g_autoptr(PawlEntry) again = pawl_entry_new (PAWL_ENTRY_GUESSED, "plug-way", FIXTURE_PERSON, self->base.now);
  g_autoptr(GError) error = NULL;

  choose (self, TRUE);
  assert_on_disk (self, "right");
  assert_shown (self);
  g_assert_true (fixture_shows (get_panel (self), "That was the right picture."));
  pawl_entry_set (again, "choice", "right");
  g_assert_false (pawl_job_check (get_job (self), again, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (pawl_job_lookup_ask (get_job (self), "plug-way")->status, ==, PAWL_ASK_PENDING); /* a guess is no answer */
}

static gboolean
stop_cb (gpointer is_over)
{
  *(gboolean *) is_over = TRUE;
  return G_SOURCE_REMOVE;
}

static void
wait_for_a_pause (void)
{
  gboolean is_over = FALSE;

  g_timeout_add (2 * PAWL_BURST_PAUSE_USEC / 1000, stop_cb, &is_over);
  while (!is_over)
    g_main_context_iteration (NULL, TRUE);
}

static gboolean
press (WindowFixture *self, guint keyval, gint64 after_usec)
{
  self->clock += after_usec;
  return pawl_window_press (self->window, keyval, 0, self->clock);
}

/* Done, too early, leads to the question; arrows go from picture to picture; a digit chooses; what a gauge types does not. */
static void
test_keys (WindowFixture *self, gconstpointer data)
{
  static const char gauge[] = "12.21";
  guint right_key;

  g_assert_true (press (self, GDK_KEY_Page_Down, USUAL_GAP));
  fixture_iterate ();
  g_assert_true (gtk_widget_is_ancestor (find_view (self), gtk_window_get_focus (GTK_WINDOW (self->window))));
  g_assert_true (press (self, GDK_KEY_Down, USUAL_GAP));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (self->window)) == find_picture (self, TRUE));
  g_assert_true (press (self, GDK_KEY_Left, USUAL_GAP));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (self->window)) == find_picture (self, FALSE));
  for (guint i = 0; i < strlen (gauge); i++)
    press (self, (guint) gauge[i], i == 0 ? USUAL_GAP : PAWL_BURST_GAP_USEC / 2);
  wait_for_a_pause ();
  assert_on_disk (self, NULL);
  assert_asked (self);
  right_key = is_right (self, TRUE) ? GDK_KEY_2 : GDK_KEY_1;
  g_assert_true (press (self, right_key, USUAL_GAP));
  assert_on_disk (self, NULL);
  wait_for_a_pause ();
  assert_on_disk (self, "right");
  assert_shown (self);
}

/* What was answered elsewhere, from a bench sheet say, is not asked any more. */
static void
test_answered (WindowFixture *self, gconstpointer data)
{
  fixture_answer (&self->base, "plug-way", "right");
  g_assert_true (pawl_window_open_job (self->window, pawl_job_get_id (get_job (self))));
  pawl_session_look_at (pawl_window_get_session (self->window), "seat");
  fixture_iterate ();
  g_assert_false (gtk_widget_get_mapped (find_view (self)));
  g_assert_true (fixture_shows (get_panel (self), SAYS));
}

static void
test_not_asked (WindowFixture *self, gconstpointer data)
{
  assert_shown (self);
  assert_on_disk (self, NULL);
}

/* The tick of the form makes it the job's, and is there again the next time. */
static void
test_form (WindowFixture *self, gconstpointer data)
{
  PawlProceduresPage *page = PAWL_PROCEDURES_PAGE (fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_PROCEDURES_PAGE));
  g_autofree char *path = fixture_dup_data_path ("good/minimal.xml");
  GtkWidget *tick = fixture_find (GTK_WIDGET (page), GTK_TYPE_CHECK_BUTTON), *begin;
  g_autofree char *before = g_strdup (pawl_job_get_id (get_job (self)));

  g_action_group_activate_action (G_ACTION_GROUP (self->window), "show-jobs", NULL);
  g_assert_false (gtk_check_button_get_active (GTK_CHECK_BUTTON (tick)));
  pawl_procedures_page_set_person (page, FIXTURE_PERSON);
  pawl_procedures_page_open (page, path);
  while (!gtk_widget_get_visible (gtk_widget_get_parent (tick)) || !fixture_shows (GTK_WIDGET (page), "Begin a job"))
    {
      g_main_context_iteration (NULL, TRUE);
      gtk_stack_set_visible_child (GTK_STACK (gtk_widget_get_ancestor (GTK_WIDGET (page), GTK_TYPE_STACK)), GTK_WIDGET (page));
    }
  gtk_check_button_set_active (GTK_CHECK_BUTTON (tick), TRUE);
  begin = fixture_find (GTK_WIDGET (page), GTK_TYPE_ENTRY);
  g_signal_emit_by_name (begin, "activate");
  fixture_iterate ();
  g_assert_cmpstr (pawl_job_get_id (get_job (self)), !=, before);
  g_assert_cmpstr (pawl_job_get_field (get_job (self), "ask-first"), ==, "yes");
  g_assert_true (self->settings->is_ask_first);
}

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
#define ADD(name, function) g_test_add ("/app/ask-first/" name, WindowFixture, "yes", set_up, function, window_fixture_tear_down)
  ADD ("wrong-and-undo", test_wrong_and_undo);
  ADD ("right", test_right);
  ADD ("keys", test_keys);
  ADD ("answered", test_answered);
  g_test_add ("/app/ask-first/not-asked", WindowFixture, NULL, set_up, test_not_asked, window_fixture_tear_down);
  g_test_add ("/app/ask-first/form", WindowFixture, NULL, set_up, test_form, window_fixture_tear_down);
  return g_test_run ();
}
