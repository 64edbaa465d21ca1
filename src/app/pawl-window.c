#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-gauge-key.h"
#include "app/pawl-gauge-typing.h"
#include "app/pawl-instruments-page.h"
#include "app/pawl-job-pages.h"
#include "app/pawl-jobs-page.h"
#include "app/pawl-key-plan.h"
#include "app/pawl-look.h"
#include "app/pawl-photo-file.h"
#include "app/pawl-procedures-page.h"
#include "app/pawl-sums-page.h"

/* Waits are told in minutes, so this is often enough. */
#define CLOCK_SECONDS 20

struct _PawlWindow {
  GtkApplicationWindow parent_instance;

  /* template children */
  GtkWidget *views, *titles, *job_switcher, *start_pages, *jobs, *procedures, *sums, *instruments;
  GtkWidget *all_jobs, *back_to_job, *undo, *person, *person_form;
  GtkWidget *record_bar, *record_label, *save_bar, *save_label, *notice_bar, *notice_label, *taken_bar, *taken_label;

  /* the window's children, too */
  PawlJobPages *job_pages; /* (nullable) until the first job is opened: a start should not wait for what it doesn't show */

  /* owned */
  PawlRecord  *record;  /* (nullable) when it can't be opened */
  PawlSession *session; /* (nullable) */
  PawlWaitWatch *watch;    /* (nullable) after the window was closed */
  PawlGaugeTyping *typing; /* (nullable) until the first job is opened */
  GtkFileChooserNative *chooser; /* (nullable) while one is open */
  GCancellable *cancellable;     /* of photos that are being read */

  PawlWindowSetting setting; /* its members borrowed */
  guint clock_id, inhibit_cookie;
};

G_DEFINE_FINAL_TYPE (PawlWindow, pawl_window, GTK_TYPE_APPLICATION_WINDOW)

/* ---- bars ---- */

static void
show_bar (GtkWidget *bar, GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_revealer_set_reveal_child (GTK_REVEALER (bar), text != NULL);
  gtk_widget_set_visible (bar, text != NULL);
}

void
pawl_window_say (PawlWindow *self, const char *notice)
{
  show_bar (self->notice_bar, self->notice_label, notice);
}

static void
save_failed_changed_cb (PawlWindow *self)
{
  const char *problem = pawl_session_get_save_problem (self->session);
  g_autofree char *text = problem != NULL ? g_strdup_printf (_("Not saved: %s"), problem) : NULL;

  show_bar (self->save_bar, self->save_label, text);
  pawl_window_update_actions (self);
}

static void
taken_cb (PawlWindow *self, const char *words)
{
  show_bar (self->taken_bar, self->taken_label, words);
}

/* ---- pages ---- */

static PawlStepPanel *
get_panel (PawlWindow *self)
{
  return pawl_bench_page_get_panel (pawl_job_pages_get_bench (self->job_pages));
}

/* Size and colours of what no style sheet reaches. */
static void
apply_bench_size (PawlWindow *self)
{
  if (self->job_pages != NULL)
    pawl_bench_page_set_bench_size (pawl_job_pages_get_bench (self->job_pages), self->setting.settings->is_bench_size);
}

static void
apply_lengths (PawlWindow *self, PawlSession *session)
{
  const PawlSettings *settings = self->setting.settings;

  pawl_sums_page_set_settings (PAWL_SUMS_PAGE (self->sums), settings);
  if (session != NULL)
    pawl_session_set_lengths (session, settings->is_inch ? PAWL_LENGTH_INCH : PAWL_LENGTH_MM, settings->decimal_mark);
}

static void
apply_dark (PawlWindow *self)
{
  if (self->job_pages != NULL)
    pawl_bench_page_set_dark (pawl_job_pages_get_bench (self->job_pages), pawl_look_is_dark (GTK_WIDGET (self)));
}

gboolean
pawl_window_is_at_bench (PawlWindow *self)
{
  return self->session != NULL && g_strcmp0 (pawl_job_pages_get_shown (self->job_pages), "bench") == 0
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->views)), "job") == 0;
}

static void
apply_person (PawlWindow *self)
{
  const char *person = self->session != NULL ? pawl_session_get_person (self->session) : "";
  g_autofree char *name = g_strdup_printf (_("Who: %s"), person);

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->person), *person != '\0' ? person : _("Who?"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->person), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void run_clock (PawlWindow *self);

static void
session_changed_cb (PawlWindow *self)
{
  run_clock (self);
  pawl_job_pages_apply (self->job_pages);
  apply_person (self);
  pawl_window_update_actions (self);
}

static void
set_title (PawlWindow *self)
{
  g_autofree char *title = self->session != NULL
    ? g_strdup_printf ("%s – Pawl", pawl_procedure_get_unit (pawl_bench_get_procedure (pawl_session_get_bench (self->session)))) : g_strdup ("Pawl");

  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
show_view (PawlWindow *self, const char *view)
{
  gboolean is_job = g_str_equal (view, "job");

  gtk_stack_set_visible_child_name (GTK_STACK (self->views), view);
  gtk_stack_set_visible_child_name (GTK_STACK (self->titles), view);
  gtk_widget_set_visible (self->all_jobs, is_job);
  gtk_widget_set_visible (self->back_to_job, !is_job && self->session != NULL);
  gtk_widget_set_visible (self->undo, is_job);
  gtk_widget_set_visible (self->person, is_job);
  set_title (self);
}

void
pawl_window_show_page (PawlWindow *self, const char *page)
{
  if (self->session == NULL)
    return;
  show_view (self, "job");
  pawl_job_pages_show (self->job_pages, page);
}

/* Sums are done, and instruments looked up, beside a job, which stays open; whoever goes to the jobs or procedures puts it aside. */
static gboolean
is_beside_job (const char *page)
{
  return g_strcmp0 (page, "sums") == 0 || g_strcmp0 (page, "instruments") == 0;
}

static void
apply_instruments (PawlWindow *self)
{
  const char *person = self->session != NULL ? pawl_session_get_person (self->session) : self->setting.settings->person;

  pawl_instruments_page_apply (PAWL_INSTRUMENTS_PAGE (self->instruments), self->record, person, self->setting.settings->decimal_mark);
}

/* What a reading is offered is as the register has it now. */
static void
register_changed_cb (PawlWindow *self)
{
  if (self->session != NULL)
    pawl_session_forget_register (self->session);
}

void
pawl_window_show_start (PawlWindow *self, const char *page)
{
  if (is_beside_job (page))
    {
      gtk_stack_set_visible_child_name (GTK_STACK (self->start_pages), page);
      show_view (self, "start");
      if (g_str_equal (page, "sums"))
        pawl_sums_page_go (PAWL_SUMS_PAGE (self->sums));
      else
        pawl_instruments_page_go (PAWL_INSTRUMENTS_PAGE (self->instruments));
      return;
    }
  pawl_window_close_job (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->start_pages), page);
  if (g_str_equal (page, "jobs"))
    pawl_jobs_page_go (PAWL_JOBS_PAGE (self->jobs));
}

void
pawl_window_find_job (PawlWindow *self)
{
  pawl_window_show_start (self, "jobs");
  pawl_jobs_page_search (PAWL_JOBS_PAGE (self->jobs));
}

/* ---- a job ---- */

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

static void
let_sleep (PawlWindow *self)
{
  GtkApplication *application = gtk_window_get_application (GTK_WINDOW (self));

  if (application != NULL && self->inhibit_cookie != 0)
    gtk_application_uninhibit (application, self->inhibit_cookie);
  self->inhibit_cookie = 0;
}

static void
step_wanted_cb (GtkWidget *pages, const char *job, const char *step, PawlWindow *self)
{
  if (!g_str_equal (job, pawl_job_get_id (pawl_session_get_job (self->session))) && !pawl_window_open_job (self, job))
    return;
  pawl_window_show_page (self, "bench");
  pawl_session_look_at (self->session, step);
  pawl_step_panel_rest (get_panel (self));
}

/* Somebody clicked on what the desktop was told. */
static void
waiting_job_wanted_cb (PawlWindow *self, const char *job, const char *step)
{
  gboolean is_open = self->session != NULL && g_str_equal (job, pawl_job_get_id (pawl_session_get_job (self->session)));

  if (is_open || pawl_window_open_job (self, job))
    step_wanted_cb (NULL, job, step, self);
  gtk_window_present (GTK_WINDOW (self));
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
  self->typing = pawl_gauge_typing_new (get_panel (self));
  apply_bench_size (self);
  apply_dark (self);
}

static void
set_session (PawlWindow *self, PawlSession *session)
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
  show_bar (self->save_bar, self->save_label, NULL);
  show_bar (self->taken_bar, self->taken_label, NULL);
  pawl_wait_watch_set_bench (self->watch, session != NULL ? pawl_session_get_bench (session) : NULL);
  if (session == NULL)
    {
      let_sleep (self);
      return;
    }
  g_signal_connect_object (session, "changed", G_CALLBACK (session_changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "taken", G_CALLBACK (taken_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "save-failed-changed", G_CALLBACK (save_failed_changed_cb), self, G_CONNECT_SWAPPED);
  keep_awake (self);
}

static void
take_up (PawlWindow *self, PawlBench *bench)
{
  const char *person = self->setting.settings->person;
  GPtrArray *entries = pawl_job_get_entries (pawl_bench_get_job (bench));
  g_autoptr(PawlSession) session = NULL;

  if (*person == '\0' && entries->len > 0)
    person = pawl_entry_get_person (entries->pdata[entries->len - 1]);
  session = pawl_session_new (bench, person);
  apply_lengths (self, session);
  set_session (self, session);
  pawl_window_say (self, NULL);
  pawl_job_pages_show (self->job_pages, "bench");
  show_view (self, "job");
  session_changed_cb (self);
  pawl_step_panel_rest (get_panel (self));
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
  take_up (self, bench);
  return TRUE;
}

void
pawl_window_close_job (PawlWindow *self)
{
  set_session (self, NULL);
  pawl_jobs_page_apply (PAWL_JOBS_PAGE (self->jobs), self->record);
  show_view (self, "start");
  pawl_window_update_actions (self);
}

static void
start_page_changed_cb (PawlWindow *self)
{
  const char *page = gtk_stack_get_visible_child_name (GTK_STACK (self->start_pages));

  if (self->session != NULL && !is_beside_job (page))
    pawl_window_close_job (self);
  if (g_strcmp0 (page, "instruments") == 0)
    apply_instruments (self);
}

static void
job_opened_cb (PawlJobsPage *page, const char *job_id, PawlWindow *self)
{
  pawl_window_open_job (self, job_id);
}

static void
history_wanted_cb (PawlJobsPage *page, const char *job_id, PawlWindow *self)
{
  g_autofree char *id = g_strdup (job_id); /* the list may be made anew */

  if (pawl_window_open_job (self, id))
    pawl_window_show_page (self, "history");
}

static void
remember_person (PawlWindow *self, const char *person)
{
  pawl_settings_set_person (self->setting.settings, person);
  pawl_settings_save (self->setting.settings, NULL);
  pawl_procedures_page_set_person (PAWL_PROCEDURES_PAGE (self->procedures), person);
}

static void
job_wanted_cb (PawlProceduresPage *page, PawlProcedureLine *line, const PawlIntake *intake, const char *person, PawlWindow *self)
{
  g_autoptr(GDateTime) now = NULL;
  g_autoptr(PawlEntry) opening = NULL;
  g_autoptr(PawlBench) bench = NULL;
  g_autoptr(GError) error = NULL;

  if (self->record == NULL)
    {
      pawl_procedures_page_say (page, gtk_label_get_label (GTK_LABEL (self->record_label)));
      return;
    }
  now = pawl_record_dup_now (self->record);
  self->setting.settings->is_ask_first = intake->is_ask_first;
  opening = pawl_answer_new_opening (intake, (PawlHand) { person, now });
  pawl_entry_set (opening, "shop", self->setting.settings->shop->name);
  pawl_entry_set (opening, "policy", self->setting.settings->shop->policy);
  bench = pawl_bench_open (self->record, line->procedure, line->figure, opening, &error);
  if (bench == NULL)
    {
      pawl_procedures_page_say (page, error->message);
      return;
    }
  remember_person (self, person);
  pawl_procedures_page_show_list (page);
  take_up (self, bench);
}

static void
person_answered_cb (PawlPromptForm *form, PawlWindow *self)
{
  const char *person = pawl_prompt_form_get_line (form, 0);

  if (*person == '\0' || self->session == NULL)
    return;
  remember_person (self, person);
  pawl_session_set_person (self->session, person);
  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->person));
}

static void
person_shown_cb (GtkWidget *popover, PawlWindow *self)
{
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->person_form), PAWL_PROMPT_PERSON);
}

/* ---- commands ---- */

void
pawl_window_advance (PawlWindow *self)
{
  g_autoptr(GError) error = NULL;

  if (pawl_session_advance (self->session, &error))
    return;
  pawl_step_panel_say (get_panel (self), error->message);
  pawl_step_panel_go_to_question (get_panel (self));
}

void
pawl_window_look_back (PawlWindow *self)
{
  pawl_session_look_back (self->session);
}

void
pawl_window_undo (PawlWindow *self)
{
  g_autoptr(GError) error = NULL;

  if (pawl_session_undo (self->session, &error))
    show_bar (self->taken_bar, self->taken_label, NULL);
  else
    pawl_window_say (self, error->message);
}

void
pawl_window_retry_save (PawlWindow *self)
{
  pawl_session_retry (self->session);
}

PawlSettings *
pawl_window_get_settings (PawlWindow *self)
{
  return self->setting.settings;
}

gboolean
pawl_window_zoom_run_by (PawlWindow *self, double factor)
{
  return pawl_job_pages_zoom_by (self->job_pages, factor);
}

PawlWaitWatch *
pawl_window_get_watch (PawlWindow *self)
{
  return self->watch;
}

PawlBenchPage *
pawl_window_get_bench_page (PawlWindow *self)
{
  return pawl_job_pages_get_bench (self->job_pages);
}

PawlReportPage *
pawl_window_get_report_page (PawlWindow *self)
{
  return pawl_job_pages_get_report (self->job_pages);
}

PawlSession *
pawl_window_get_session (PawlWindow *self)
{
  return self->session;
}

void
pawl_window_set_bench_size (PawlWindow *self, gboolean is_bench_size)
{
  self->setting.settings->is_bench_size = is_bench_size;
  pawl_settings_save (self->setting.settings, NULL);
  pawl_look_set_bench_size (GTK_WINDOW (self), is_bench_size);
  apply_bench_size (self);
}

void
pawl_window_set_dark (PawlWindow *self, gboolean is_dark)
{
  self->setting.settings->is_dark = is_dark;
  self->setting.settings->has_dark = TRUE;
  pawl_settings_save (self->setting.settings, NULL);
  pawl_look_set_dark (gtk_widget_get_display (GTK_WIDGET (self)), is_dark);
}

void
pawl_window_set_inch (PawlWindow *self, gboolean is_inch)
{
  self->setting.settings->is_inch = is_inch;
  pawl_settings_save (self->setting.settings, NULL);
  apply_lengths (self, self->session);
}

/* ---- files: procedures and photos ---- */

void
pawl_window_open_file (PawlWindow *self, const char *path)
{
  pawl_window_show_start (self, "procedures");
  pawl_procedures_page_open (PAWL_PROCEDURES_PAGE (self->procedures), path);
}

static void
attached_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlWindow) self = data;
  g_autoptr(GError) error = NULL;

  if (!pawl_photo_file_attach_finish (result, &error) && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    pawl_window_say (self, error->message);
}

void
pawl_window_attach_photo (PawlWindow *self, GFile *file)
{
  pawl_photo_file_attach_async (file, self->session, self->cancellable, attached_cb, g_object_ref (self));
}

static void
procedure_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;

  if (file != NULL && g_file_peek_path (file) != NULL)
    pawl_window_open_file (self, g_file_peek_path (file));
  g_clear_object (&self->chooser);
}

static void
photo_chosen_cb (GtkNativeDialog *chooser, int response, PawlWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;

  if (file != NULL && self->session != NULL)
    pawl_window_attach_photo (self, file);
  g_clear_object (&self->chooser);
}

static void
choose (PawlWindow *self, const char *title, const char *filter_name, const char *media_type, GCallback chosen)
{
  g_autoptr(GtkFileFilter) filter = gtk_file_filter_new ();

  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (title, GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_OPEN, _("Open"), _("Never mind"));
  gtk_file_filter_set_name (filter, filter_name);
  gtk_file_filter_add_mime_type (filter, media_type);
  if (g_str_has_suffix (media_type, "xml"))
    gtk_file_filter_add_suffix (filter, "xml");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (self->chooser), filter);
  g_signal_connect_object (self->chooser, "response", chosen, self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
pawl_window_choose_file (PawlWindow *self)
{
  choose (self, _("Open a procedure"), _("Procedures (XML)"), "application/xml", G_CALLBACK (procedure_chosen_cb));
}

void
pawl_window_choose_photo (PawlWindow *self)
{
  choose (self, _("Keep a photo with this step"), _("Pictures"), "image/*", G_CALLBACK (photo_chosen_cb));
}

static gboolean
dropped_cb (GtkDropTarget *target, const GValue *value, double x, double y, PawlWindow *self)
{
  GSList *files = g_value_get_boxed (value);

  for (; files != NULL; files = files->next)
    {
      const char *path = g_file_peek_path (files->data);

      if (path != NULL && g_str_has_suffix (path, ".xml"))
        pawl_window_open_file (self, path);
      else if (self->session != NULL)
        pawl_window_attach_photo (self, files->data);
    }
  return TRUE;
}

/* ---- keys ---- */

static PawlFocus
find_focus (PawlWindow *self)
{
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (pawl_window_get_bench_page (self))))
    return focus != NULL && GTK_IS_TEXT (focus) ? PAWL_FOCUS_TEXT : PAWL_FOCUS_CONTROL;
  if (GTK_IS_TEXT_VIEW (focus))
    return PAWL_FOCUS_LONG_TEXT;
  if (GTK_IS_EDITABLE (focus))
    return *gtk_editable_get_text (GTK_EDITABLE (focus)) == '\0' ? PAWL_FOCUS_EMPTY_TEXT : PAWL_FOCUS_TEXT;
  if (GTK_IS_BUTTON (focus))
    return g_strcmp0 (gtk_actionable_get_action_name (GTK_ACTIONABLE (focus)), "win.advance") == 0 ? PAWL_FOCUS_NOWHERE : PAWL_FOCUS_CONTROL;
  return GTK_IS_TOGGLE_BUTTON (focus) || GTK_IS_DROP_DOWN (focus) ? PAWL_FOCUS_CONTROL : PAWL_FOCUS_NOWHERE;
}

static gboolean
type_reading (PawlWindow *self, guint keyval)
{
  char text[8] = { 0 };
  gunichar letter = gdk_keyval_to_unicode (keyval);

  if (letter == 0)
    return FALSE;
  g_unichar_to_utf8 (letter, text);
  return pawl_step_panel_type_reading (get_panel (self), text);
}

/* One key takes back what a gauge has just typed; anything else is taken back by the undo that is meant for it. */
static gboolean
reject_reading (PawlWindow *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  PawlEntry *newest = pawl_job_peek_undoable (job);
  const PawlAskState *ask = newest != NULL && pawl_entry_get_kind (newest) == PAWL_ENTRY_ANSWERED ? pawl_job_lookup_ask (job, pawl_entry_get_subject (newest)) : NULL;

  if (ask == NULL || ask->ask->kind != PAWL_ASK_READING)
    return FALSE;
  g_action_group_activate_action (G_ACTION_GROUP (self), "undo", NULL);
  return TRUE;
}

gboolean
pawl_window_press (PawlWindow *self, guint keyval, GdkModifierType state, gint64 at_usec)
{
  gboolean has_modifiers = (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SUPER_MASK)) != 0;

  if (!pawl_window_is_at_bench (self))
    return FALSE;
  if (has_modifiers)
    pawl_gauge_typing_reset (self->typing);
  else if (pawl_gauge_typing_press (self->typing, keyval, at_usec, gtk_window_get_focus (GTK_WINDOW (self))))
    return TRUE;
  else if (pawl_step_panel_press (get_panel (self), gtk_window_get_focus (GTK_WINDOW (self)), keyval, at_usec))
    return TRUE;
  switch (pawl_key_plan (keyval, has_modifiers, find_focus (self)))
    {
    case PAWL_KEY_ADVANCE:
      pawl_window_advance (self);
      return TRUE;
    case PAWL_KEY_BACK:
      pawl_window_look_back (self);
      return TRUE;
    case PAWL_KEY_READING:
      return type_reading (self, keyval);
    case PAWL_KEY_REJECT:
      return reject_reading (self);
    case PAWL_KEY_PASS:
    default:
      return FALSE;
    }
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlWindow *self)
{
  return pawl_window_press (self, keyval, state, pawl_gauge_key_get_time (GTK_EVENT_CONTROLLER (controller)));
}

/* ---- the record ---- */

/* A record that can't be written is still worth reading; the bar says what is wrong with it and stays. */
static void
open_record (PawlWindow *self)
{
  g_autoptr(GError) error = NULL;

  g_clear_object (&self->record);
  self->record = pawl_record_open (self->setting.record_path, PAWL_RECORD_OPEN_CREATE, self->setting.host, &error);
  if (self->record == NULL)
    self->record = pawl_record_open (self->setting.record_path, PAWL_RECORD_OPEN_READ_ONLY, self->setting.host, NULL);
  show_bar (self->record_bar, self->record_label, error != NULL ? error->message : NULL);
  pawl_jobs_page_apply (PAWL_JOBS_PAGE (self->jobs), self->record);
  pawl_wait_watch_set_record (self->watch, self->record, self->setting.language);
}

void
pawl_window_retry_record (PawlWindow *self)
{
  pawl_window_close_job (self);
  open_record (self);
}

/* ---- window ---- */

static void
pawl_window_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  GTK_WIDGET_CLASS (pawl_window_parent_class)->css_changed (widget, change);
  apply_dark (PAWL_WINDOW (widget));
}

static void
pawl_window_dispose (GObject *object)
{
  PawlWindow *self = PAWL_WINDOW (object);

  g_clear_handle_id (&self->clock_id, g_source_remove);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  let_sleep (self);
  if (self->watch != NULL)
    g_object_run_dispose (G_OBJECT (self->watch)); /* a list that is still being read holds it */
  g_clear_object (&self->watch);
  g_clear_pointer (&self->typing, pawl_gauge_typing_free);
  self->job_pages = NULL; /* goes with the other children */
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_window_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlWindow, child)

static void
bind_children (GtkWidgetClass *widget_class)
{
  BIND (views);
  BIND (titles);
  BIND (job_switcher);
  BIND (start_pages);
  BIND (jobs);
  BIND (procedures);
  BIND (sums);
  BIND (instruments);
  BIND (all_jobs);
  BIND (back_to_job);
  BIND (undo);
  BIND (person);
  BIND (person_form);
  BIND (record_bar);
  BIND (record_label);
  BIND (save_bar);
  BIND (save_label);
  BIND (notice_bar);
  BIND (notice_label);
  BIND (taken_bar);
  BIND (taken_label);
}

#undef BIND

static void
ensure_types (void)
{
  g_type_ensure (PAWL_TYPE_JOBS_PAGE);
  g_type_ensure (PAWL_TYPE_PROCEDURES_PAGE);
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  g_type_ensure (PAWL_TYPE_SUMS_PAGE);
  g_type_ensure (PAWL_TYPE_INSTRUMENTS_PAGE);
}

static void
pawl_window_class_init (PawlWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_window_dispose;
  widget_class->css_changed = pawl_window_css_changed;
  ensure_types ();
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-window.ui");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, job_opened_cb);
  gtk_widget_class_bind_template_callback (widget_class, history_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, job_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_answered_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_shown_cb);
  gtk_widget_class_bind_template_callback (widget_class, start_page_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, register_changed_cb);
}

static void
pawl_window_init (PawlWindow *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (drop, "drop", G_CALLBACK (dropped_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
}

PawlWindow *
pawl_window_new (GtkApplication *application, const PawlWindowSetting *setting)
{
  PawlWindow *self = g_object_new (PAWL_TYPE_WINDOW, "application", application, NULL);

  self->setting = *setting;
  if (!setting->settings->has_dark)
    setting->settings->is_dark = pawl_look_prefers_dark (gtk_widget_get_display (GTK_WIDGET (self)));
  pawl_window_install_actions (self);
  self->watch = pawl_wait_watch_new (GTK_WIDGET (self), G_APPLICATION (application), setting->steady, setting->memory);
  g_signal_connect_object (self->watch, "job-wanted", G_CALLBACK (waiting_job_wanted_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->watch, "said", G_CALLBACK (pawl_window_say), self, G_CONNECT_SWAPPED);
  open_record (self);
  apply_lengths (self, NULL);
  pawl_procedures_page_set_person (PAWL_PROCEDURES_PAGE (self->procedures), setting->settings->person);
  pawl_procedures_page_set_ask_first (PAWL_PROCEDURES_PAGE (self->procedures), setting->settings->is_ask_first);
  pawl_procedures_page_list (PAWL_PROCEDURES_PAGE (self->procedures), setting->folders, setting->language, setting->trial);
  show_view (self, "start");
  pawl_window_update_actions (self);
  pawl_look_set_dark (gtk_widget_get_display (GTK_WIDGET (self)), setting->settings->is_dark);
  pawl_look_set_bench_size (GTK_WINDOW (self), setting->settings->is_bench_size);
  pawl_jobs_page_go (PAWL_JOBS_PAGE (self->jobs));
  return self;
}
