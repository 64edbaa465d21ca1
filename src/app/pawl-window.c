#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-buy-page.h"
#include "app/pawl-class-page.h"
#include "app/pawl-holds-page.h"
#include "app/pawl-instruments-page.h"
#include "app/pawl-jobs-page.h"
#include "app/pawl-look.h"
#include "app/pawl-people-page.h"
#include "app/pawl-procedures-page.h"
#include "app/pawl-share-line.h"
#include "app/pawl-sums-page.h"
#include "app/pawl-tab-strip.h"
#include "training/pawl-stages.h"

G_DEFINE_FINAL_TYPE (PawlWindow, pawl_window, GTK_TYPE_APPLICATION_WINDOW)

/* ---- bars ---- */

void
pawl_window_show_bar (GtkWidget *bar, GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_revealer_set_reveal_child (GTK_REVEALER (bar), text != NULL);
  gtk_widget_set_visible (bar, text != NULL);
}

void
pawl_window_say (PawlWindow *self, const char *notice)
{
  pawl_window_show_bar (self->notice_bar, self->notice_label, notice);
}

/* ---- pages ---- */

gboolean
pawl_window_is_at_bench (PawlWindow *self)
{
  return self->session != NULL && g_strcmp0 (pawl_job_pages_get_shown (self->job_pages), "bench") == 0
         && g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->views)), "job") == 0;
}

void
pawl_window_apply_person (PawlWindow *self)
{
  const char *person = self->session != NULL ? pawl_session_get_person (self->session) : "";
  g_autofree char *name = g_strdup_printf (_("Who: %s"), person);

  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->person), *person != '\0' ? person : _("Who?"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->person), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
}

static void
set_title (PawlWindow *self)
{
  g_autofree char *title = self->session != NULL
    ? g_strdup_printf ("%s – Pawl", pawl_procedure_get_unit (pawl_bench_get_procedure (pawl_session_get_bench (self->session)))) : g_strdup ("Pawl");

  gtk_window_set_title (GTK_WINDOW (self), title);
}

void
pawl_window_show_view (PawlWindow *self, const char *view)
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
  pawl_window_show_view (self, "job");
  pawl_job_pages_show (self->job_pages, page);
}

/* Sums are done, and instruments looked up, beside a job, which stays open; whoever goes to the jobs or procedures puts it aside. */
static gboolean
is_beside_job (const char *page)
{
  return g_strcmp0 (page, "sums") == 0 || g_strcmp0 (page, "instruments") == 0 || g_strcmp0 (page, "class") == 0 || g_strcmp0 (page, "holds") == 0
         || g_strcmp0 (page, "people") == 0 || g_strcmp0 (page, "buy") == 0;
}

static const char *
peek_person (PawlWindow *self)
{
  return self->session != NULL ? pawl_session_get_person (self->session) : self->setting.settings->person;
}

static void
apply_instruments (PawlWindow *self)
{
  pawl_instruments_page_apply (PAWL_INSTRUMENTS_PAGE (self->instruments), self->record, peek_person (self), self->setting.settings->decimal_mark);
}

/* What a reading is offered is as the register has it now. */
static void
register_changed_cb (PawlWindow *self)
{
  if (self->session != NULL)
    pawl_session_forget_register (self->session);
  pawl_share_line_tell (PAWL_SHARE_LINE (self->share_line));
}

/* Of whichever job: the one in the hand may be it. */
static void
released_cb (PawlWindow *self)
{
  if (self->session != NULL)
    pawl_bench_reload (pawl_session_get_bench (self->session), NULL);
  pawl_share_line_tell (PAWL_SHARE_LINE (self->share_line));
}

/* Another bench went on with this job, or has a new one. */
void
pawl_window_take_note_of_others (PawlWindow *self)
{
  if (self->session != NULL)
    {
      pawl_bench_reload (pawl_session_get_bench (self->session), NULL); /* else it stays as it was, and the next answer says what is wrong */
      pawl_session_forget_register (self->session);
    }
  else
    pawl_jobs_page_apply (PAWL_JOBS_PAGE (self->jobs), self->record);
  pawl_holds_page_refresh (PAWL_HOLDS_PAGE (self->holds));
  pawl_share_line_tell (PAWL_SHARE_LINE (self->share_line));
}

static void
came_cb (PawlWindow *self)
{
  pawl_window_take_note_of_others (self);
}

static void start_page_changed_cb (PawlWindow *self);

void
pawl_window_show_start (PawlWindow *self, const char *page)
{
  if (is_beside_job (page))
    {
      gboolean was_shown = g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->start_pages)), page) == 0;

      gtk_stack_set_visible_child_name (GTK_STACK (self->start_pages), page);
      if (was_shown) /* behind the job, which has gone on since */
        start_page_changed_cb (self);
      pawl_window_show_view (self, "start");
      if (g_str_equal (page, "sums"))
        pawl_sums_page_go (PAWL_SUMS_PAGE (self->sums));
      else if (g_str_equal (page, "class"))
        pawl_class_page_go (PAWL_CLASS_PAGE (self->class_page));
      else if (g_str_equal (page, "holds"))
        pawl_holds_page_go (PAWL_HOLDS_PAGE (self->holds));
      else if (g_str_equal (page, "people"))
        pawl_people_page_go (PAWL_PEOPLE_PAGE (self->people));
      else if (g_str_equal (page, "buy"))
        pawl_buy_page_go (PAWL_BUY_PAGE (self->buy));
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

static void
start_page_changed_cb (PawlWindow *self)
{
  const char *page = gtk_stack_get_visible_child_name (GTK_STACK (self->start_pages));

  if (self->session != NULL && !is_beside_job (page))
    pawl_window_close_job (self);
  if (g_strcmp0 (page, "instruments") == 0)
    apply_instruments (self);
  if (g_strcmp0 (page, "class") == 0)
    pawl_class_page_apply (PAWL_CLASS_PAGE (self->class_page), self->record, peek_person (self), self->setting.settings);
  if (g_strcmp0 (page, "holds") == 0)
    pawl_holds_page_apply (PAWL_HOLDS_PAGE (self->holds), self->record, peek_person (self));
  if (g_strcmp0 (page, "people") == 0)
    pawl_people_page_apply (PAWL_PEOPLE_PAGE (self->people), self->record, peek_person (self));
  if (g_strcmp0 (page, "buy") == 0)
    pawl_buy_page_apply (PAWL_BUY_PAGE (self->buy), self->record, self->setting.language);
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
parts_wanted_cb (GtkWidget *page, const char *job_id, PawlWindow *self)
{
  g_autofree char *id = g_strdup (job_id); /* the list may be made anew */

  if (pawl_window_open_job (self, id))
    pawl_window_show_page (self, "parts");
}

static void
remember_person (PawlWindow *self, const char *person)
{
  pawl_settings_set_person (self->setting.settings, person);
  pawl_settings_save (self->setting.settings, NULL);
  pawl_procedures_page_set_person (PAWL_PROCEDURES_PAGE (self->procedures), person);
  pawl_jobs_page_set_person (PAWL_JOBS_PAGE (self->jobs), person);
}

/* Which revision a job goes by may be an old one by now. */
static void
listed_cb (PawlWindow *self)
{
  pawl_jobs_page_take_revisions (PAWL_JOBS_PAGE (self->jobs), pawl_procedures_page_list_revisions (PAWL_PROCEDURES_PAGE (self->procedures)));
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
  pawl_settings_set_bench (self->setting.settings, intake->bench);
  opening = pawl_answer_new_opening (intake, (PawlHand) { person, now });
  pawl_entry_set (opening, "shop", self->setting.settings->shop->name);
  pawl_entry_set (opening, "policy", self->setting.settings->shop->policy);
  if (pawl_stages_tighten_for (self->record, line->procedure, opening, &error))
    bench = pawl_bench_open (self->record, line->procedure, line->figure, opening, &error);
  if (bench == NULL)
    {
      pawl_procedures_page_say (page, error->message);
      return;
    }
  remember_person (self, person);
  pawl_procedures_page_begun (page);
  pawl_window_take_up (self, bench);
}

static void
person_answered_cb (PawlPromptForm *form, PawlWindow *self)
{
  const char *person = pawl_prompt_form_get_line (form, 0);

  if (*person == '\0' || self->session == NULL)
    return;
  remember_person (self, person);
  pawl_session_set_person (self->session, person);
  pawl_window_apply_lengths (self, self->session);
  gtk_menu_button_popdown (GTK_MENU_BUTTON (self->person));
}

static void
person_shown_cb (GtkWidget *popover, PawlWindow *self)
{
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->person_form), PAWL_PROMPT_PERSON);
}

/* ---- commands ---- */

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
    pawl_window_show_bar (self->taken_bar, self->taken_label, NULL);
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

void
pawl_window_unsay (PawlWindow *self, const char *notice)
{
  if (g_str_equal (gtk_label_get_label (GTK_LABEL (self->notice_label)), notice))
    pawl_window_say (self, NULL);
}

PawlWaitWatch *
pawl_window_get_watch (PawlWindow *self)
{
  return self->watch;
}

PawlStepPanel *
pawl_window_get_panel (PawlWindow *self)
{
  return pawl_bench_page_get_panel (pawl_job_pages_get_bench (self->job_pages));
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

/* ---- the record ---- */

/* A record that can't be written is still worth reading; the bar says what is wrong with it and stays. */
static void
open_record (PawlWindow *self)
{
  PawlShareLine *line = PAWL_SHARE_LINE (self->share_line);
  g_autoptr(GError) error = NULL;

  g_clear_object (&self->record);
  self->record = pawl_share_line_open (line, self->setting.record_path, PAWL_RECORD_OPEN_CREATE, self->setting.host, &error);
  if (self->record == NULL)
    self->record = pawl_share_line_open (line, self->setting.record_path, PAWL_RECORD_OPEN_READ_ONLY, self->setting.host, NULL);
  pawl_window_show_bar (self->record_bar, self->record_label, error != NULL ? error->message : NULL);
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
  pawl_window_apply_palette (PAWL_WINDOW (widget));
}

static void
pawl_window_dispose (GObject *object)
{
  PawlWindow *self = PAWL_WINDOW (object);

  g_clear_handle_id (&self->clock_id, g_source_remove);
  g_clear_handle_id (&self->tick_id, g_source_remove);
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  pawl_window_let_sleep (self);
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
  BIND (job_tabs);
  BIND (start_switcher);
  BIND (start_tabs);
  BIND (start_pages);
  BIND (jobs);
  BIND (procedures);
  BIND (sums);
  BIND (instruments);
  BIND (class_page);
  BIND (holds);
  BIND (people);
  BIND (buy);
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
  BIND (share_line);
}

#undef BIND

static void
ensure_types (void)
{
  g_type_ensure (PAWL_TYPE_JOBS_PAGE);
  g_type_ensure (PAWL_TYPE_PROCEDURES_PAGE);
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  g_type_ensure (PAWL_TYPE_SHARE_LINE);
  g_type_ensure (PAWL_TYPE_SUMS_PAGE);
  g_type_ensure (PAWL_TYPE_CLASS_PAGE);
  g_type_ensure (PAWL_TYPE_INSTRUMENTS_PAGE);
  g_type_ensure (PAWL_TYPE_HOLDS_PAGE);
  g_type_ensure (PAWL_TYPE_PEOPLE_PAGE);
  g_type_ensure (PAWL_TYPE_BUY_PAGE);
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
  gtk_widget_class_bind_template_callback (widget_class, parts_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, job_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_answered_cb);
  gtk_widget_class_bind_template_callback (widget_class, person_shown_cb);
  gtk_widget_class_bind_template_callback (widget_class, start_page_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, register_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, released_cb);
  gtk_widget_class_bind_template_callback (widget_class, came_cb);
}

static void
pawl_window_init (PawlWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->cancellable = g_cancellable_new ();
  pawl_tab_strip_follow (GTK_SCROLLED_WINDOW (self->start_tabs), GTK_STACK_SWITCHER (self->start_switcher));
  pawl_window_install_keys (self);
  pawl_window_install_drop (self);
}

PawlWindow *
pawl_window_new (GtkApplication *application, const PawlWindowSetting *setting)
{
  PawlWindow *self = g_object_new (PAWL_TYPE_WINDOW, "application", application, NULL);

  self->setting = *setting;
  if (!setting->settings->has_dark)
    setting->settings->is_dark = pawl_look_prefers_dark (gtk_widget_get_display (GTK_WIDGET (self)));
  pawl_window_install_actions (self);
  pawl_jobs_page_set_person (PAWL_JOBS_PAGE (self->jobs), setting->settings->person);
  g_signal_connect_object (self->procedures, "listed", G_CALLBACK (listed_cb), self, G_CONNECT_SWAPPED);
  self->watch = pawl_wait_watch_new (GTK_WIDGET (self), G_APPLICATION (application), setting->steady, setting->memory);
  g_signal_connect_object (self->watch, "job-wanted", G_CALLBACK (pawl_window_go_to), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->watch, "said", G_CALLBACK (pawl_window_say), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (self->watch, "unsaid", G_CALLBACK (pawl_window_unsay), self, G_CONNECT_SWAPPED);
  pawl_buy_page_set_shop (PAWL_BUY_PAGE (self->buy), (const PawlShop * const *) &setting->settings->shop);
  open_record (self);
  pawl_window_apply_lengths (self, NULL);
  pawl_procedures_page_set_person (PAWL_PROCEDURES_PAGE (self->procedures), setting->settings->person);
  pawl_procedures_page_set_bench (PAWL_PROCEDURES_PAGE (self->procedures), setting->settings->bench);
  pawl_procedures_page_set_ask_first (PAWL_PROCEDURES_PAGE (self->procedures), setting->settings->is_ask_first);
  pawl_procedures_page_set_shop (PAWL_PROCEDURES_PAGE (self->procedures), (const PawlShop * const *) &setting->settings->shop, setting->host);
  pawl_procedures_page_list (PAWL_PROCEDURES_PAGE (self->procedures), setting->folders, setting->language, setting->trial);
  pawl_window_show_view (self, "start");
  pawl_window_update_actions (self);
  pawl_window_install_look (self);
  pawl_jobs_page_go (PAWL_JOBS_PAGE (self->jobs));
  return self;
}
