/* The job that is open in the window: taken up, followed, put aside. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-jobs-page.h"
#include "app/pawl-phrases.h"
#include "app/pawl-share-line.h"
#include "app/pawl-tab-strip.h"

/* Waits are told in minutes, so this is often enough. */
#define CLOCK_SECONDS 20
/* Between two ticks that are to be heard as two. */
#define TICK_MS 220

static gboolean
clock_cb (gpointer data)
{
  PawlWindow *self = data;

  pawl_bench_refresh (pawl_session_get_bench (self->session));
  return G_SOURCE_CONTINUE;
}

/* Nothing ticks while nothing waits. */
static void
run_clock (PawlWindow *self)
{
  g_autoptr(GPtrArray) running = self->session != NULL ? pawl_job_list_running (pawl_session_get_job (self->session)) : NULL;

  if (running == NULL || running->len == 0)
    g_clear_handle_id (&self->clock_id, g_source_remove);
  else if (self->clock_id == 0)
    self->clock_id = g_timeout_add_seconds (CLOCK_SECONDS, clock_cb, self);
}

static void
keep_awake (PawlWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));

  if (application != NULL && self->inhibit_cookie == 0)
    self->inhibit_cookie = gtk_application_inhibit (application, GTK_WINDOW (self), GTK_APPLICATION_INHIBIT_IDLE, _("A job is open on the bench"));
}

void
pawl_window_let_sleep (PawlWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));

  if (application != NULL && self->inhibit_cookie != 0)
    gtk_application_uninhibit (application, self->inhibit_cookie);
  self->inhibit_cookie = 0;
}

static void
save_failed_changed_cb (PawlWindow *self)
{
  const char *problem = pawl_session_get_save_problem (self->session);
  g_autofree char *text = problem != NULL ? g_strdup_printf (_("Not saved: %s"), problem) : NULL;

  pawl_window_show_bar (self->save_bar, self->save_label, text);
  pawl_window_update_actions (self);
}

static void
taken_cb (PawlWindow *self, const char *words)
{
  pawl_window_show_bar (self->taken_bar, self->taken_label, words);
}

/* One tick when a reading is taken, a second when it is not in: an ear tells them apart, and without the setting there is none. */
static gboolean
second_tick_cb (gpointer data)
{
  PawlWindow *self = data;

  self->tick_id = 0;
  gdk_display_beep (gtk_widget_get_display (GTK_WIDGET (self)));
  return G_SOURCE_REMOVE;
}

static void
echo_changed_cb (PawlWindow *self)
{
  const char *verdict;

  pawl_session_peek_echo (self->session, &verdict);
  if (verdict == NULL || !self->setting.settings->has_sound)
    return;
  gdk_display_beep (gtk_widget_get_display (GTK_WIDGET (self)));
  if (!g_str_has_prefix (verdict, pawl_phrase_get_verdict_sign (PAWL_VERDICT_IN)) && self->tick_id == 0)
    self->tick_id = g_timeout_add (TICK_MS, second_tick_cb, self);
}

static void
session_changed_cb (PawlWindow *self)
{
  run_clock (self);
  pawl_job_pages_apply (self->job_pages);
  pawl_window_apply_person (self);
  pawl_window_update_actions (self);
  pawl_share_line_tell (PAWL_SHARE_LINE (self->share_line));
}

static void
step_wanted_cb (GtkWidget *pages, const char *job, const char *step, PawlWindow *self)
{
  if (!g_str_equal (job, pawl_job_get_id (pawl_session_get_job (self->session))) && !pawl_window_open_job (self, job))
    return;
  pawl_window_show_page (self, "bench");
  pawl_bench_page_leave_apart (pawl_window_get_bench_page (self));
  pawl_session_look_at (self->session, step);
  pawl_step_panel_rest (pawl_window_get_panel (self));
}

void
pawl_window_go_to (PawlWindow *self, const char *job, const char *step)
{
  gboolean is_open = self->session != NULL && g_str_equal (job, pawl_job_get_id (pawl_session_get_job (self->session)));

  if (is_open || pawl_window_open_job (self, job))
    step_wanted_cb (NULL, job, step, self);
  gtk_window_present (GTK_WINDOW (self));
}

static void
bring_cb (gpointer data)
{
  pawl_window_bring_reading (data);
}

static void
ensure_job_pages (PawlWindow *self)
{
  if (self->job_pages != NULL)
    return;
  self->job_pages = PAWL_JOB_PAGES (pawl_job_pages_new ());
  g_signal_connect_object (self->job_pages, "step-wanted", G_CALLBACK (step_wanted_cb), self, 0);
  gtk_stack_add_named (GTK_STACK (self->views), GTK_WIDGET (self->job_pages), "job");
  pawl_figure_view_set_store (pawl_bench_page_get_figure (pawl_job_pages_get_bench (self->job_pages)), self->setting.drawn);
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (self->job_switcher), pawl_job_pages_get_stack (self->job_pages));
  pawl_tab_strip_follow (GTK_SCROLLED_WINDOW (self->job_tabs), GTK_STACK_SWITCHER (self->job_switcher));
  self->typing = pawl_gauge_typing_new (pawl_window_get_panel (self), bring_cb, self);
  pawl_window_apply_bench_size (self);
  pawl_window_apply_palette (self);
}

void
pawl_window_set_session (PawlWindow *self, PawlSession *session)
{
  g_clear_handle_id (&self->clock_id, g_source_remove);
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_set_object (&self->session, session);
  if (session != NULL)
    ensure_job_pages (self);
  if (self->job_pages != NULL)
    {
      pawl_job_pages_set_session (self->job_pages, session, self->setting.settings, self->setting.trial, self->setting.language);
      pawl_gauge_typing_set_session (self->typing, session);
    }
  pawl_window_show_bar (self->save_bar, self->save_label, NULL);
  pawl_window_show_bar (self->taken_bar, self->taken_label, NULL);
  pawl_wait_watch_set_bench (self->watch, session != NULL ? pawl_session_get_bench (session) : NULL);
  if (session == NULL)
    {
      pawl_window_let_sleep (self);
      return;
    }
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "echo-changed", G_CALLBACK (echo_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "taken", G_CALLBACK (taken_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "save-failed-changed", G_CALLBACK (save_failed_changed_cb), self, G_CONNECT_SWAPPED);
  keep_awake (self);
}

/* Who worked last; whoever came to look, or to tighten something, has gone on to another bench. "" when there is none. */
static const char *
find_last_hand (GPtrArray *entries)
{
  for (guint i = entries->len; i > 0; i--)
    switch (pawl_entry_get_kind (entries->pdata[i - 1]))
      {
      case PAWL_ENTRY_RELEASED:
      case PAWL_ENTRY_TIGHTENED:
      case PAWL_ENTRY_REMEASURED:
      case PAWL_ENTRY_SEALED:
      case PAWL_ENTRY_UNSEALED:
        break;
      default:
        return pawl_entry_get_person (entries->pdata[i - 1]);
      }
  return "";
}

void
pawl_window_take_up (PawlWindow *self, PawlBench *bench)
{
  const char *person = self->setting.settings->person;
  g_autoptr(PawlSession) session = NULL;

  if (*person == '\0')
    person = find_last_hand (pawl_job_get_entries (pawl_bench_get_job (bench)));
  session = pawl_session_new (bench, person);
  pawl_session_keep_drafts_in (session, self->setting.drafts);
  pawl_window_apply_lengths (self, session);
  pawl_window_set_session (self, session);
  pawl_window_say (self, NULL);
  pawl_job_pages_show (self->job_pages, "bench");
  pawl_window_show_view (self, "job");
  session_changed_cb (self);
  pawl_step_panel_rest (pawl_window_get_panel (self));
}

gboolean
pawl_window_open_job (PawlWindow *self, const char *job_id)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = NULL;

  if (self->record == NULL)
    return FALSE;
  bench = pawl_bench_resume (self->record, job_id, self->setting.language, &error);
  if (bench == NULL)
    {
      pawl_window_say (self, error->message);
      return FALSE;
    }
  pawl_window_take_up (self, bench);
  return TRUE;
}

void
pawl_window_close_job (PawlWindow *self)
{
  pawl_window_set_session (self, NULL);
  pawl_jobs_page_apply (PAWL_JOBS_PAGE (self->jobs), self->record);
  pawl_window_show_view (self, "start");
  pawl_window_update_actions (self);
}
