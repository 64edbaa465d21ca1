#include "app/pawl-report-page.h"

#include <glib/gi18n.h>
#include "app/pawl-prompt-form.h"
#include "app/pawl-report-task.h"
#include "app/pawl-phrases.h"
#include "app/pawl-printing.h"
#include "app/pawl-signature.h"
#include "job/pawl-job-parts.h"
#include "job/pawl-results.h"
#include "report/pawl-issue.h"
#include "report/pawl-word-gate.h"

#define PIXELS_PER_POINT 1.5
#define MOST_MISSING 40

struct _PawlReportPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *pages, *status, *word, *word_box, *missing, *missing_box, *print, *histories, *paper, *sign, *form;

  /* owned */
  PawlSession  *session;
  GCancellable *cancellable;    /* of the layout that is under way */
  GtkFileChooserNative *chooser; /* (nullable) while it is open */
  char         *issued_path;    /* (nullable): where a report is being written that is issued */
  PawlPrint     issued_print;
  gboolean      is_issue;       /* what the chooser is open for */
  guint         n_shown;        /* entries of the state that is on the pages; 0: none */
  PawlPaper     shown_paper;
  PawlPrint     shown_print;
  gboolean      shown_histories;

  PawlSettings *settings;       /* borrowed */
  PawlTrial    *trial;          /* borrowed */
};

G_DEFINE_FINAL_TYPE (PawlReportPage, pawl_report_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
}

/* ---- preview ---- */

static void
remove_pages (PawlReportPage *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->pages)) != NULL)
    gtk_box_remove (GTK_BOX (self->pages), child);
}

static void
append_page (PawlReportPage *self, GdkTexture *page, guint n, guint total, double width, double height)
{
  GtkWidget *picture = gtk_picture_new_for_paintable (GDK_PAINTABLE (page));
  g_autofree char *name = g_strdup_printf (_("Page %u of %u"), n + 1, total);

  gtk_widget_set_size_request (picture, 320, (int) (320 * height / width));
  gtk_picture_set_can_shrink (GTK_PICTURE (picture), TRUE);
  gtk_widget_add_css_class (picture, "paper");
  gtk_widget_set_halign (picture, GTK_ALIGN_CENTER);
  gtk_picture_set_alternative_text (GTK_PICTURE (picture), name);
  gtk_accessible_update_property (GTK_ACCESSIBLE (picture), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_box_append (GTK_BOX (self->pages), picture);
}

static void
laid_out_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlReportPage) self = data;
  g_autoptr(GError) error = NULL;
  PawlReportPages *pages = pawl_report_preview_finish (result, &error);

  if (pages == NULL)
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        set_text (self->status, error->message);
      return;
    }
  remove_pages (self);
  for (guint i = 0; i < pages->pages->len; i++)
    append_page (self, pages->pages->pdata[i], i, pages->pages->len, pages->width, pages->height);
  {
    g_autofree char *text = g_strdup_printf (g_dngettext (NULL, "%u page", "%u pages", pages->pages->len), pages->pages->len);

    set_text (self->status, pages->problem != NULL ? pages->problem : text);
  }
  pawl_report_pages_free (pages);
}

static void
lay_out (PawlReportPage *self)
{
  PawlJob *job = pawl_session_get_job (self->session);

  if (self->n_shown == pawl_job_get_entries (job)->len && self->shown_paper == self->settings->shop->paper
      && self->shown_print == self->settings->print && self->shown_histories == self->settings->has_histories)
    return;
  self->n_shown = pawl_job_get_entries (job)->len;
  self->shown_paper = self->settings->shop->paper;
  self->shown_print = self->settings->print;
  self->shown_histories = self->settings->has_histories;
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  set_text (self->status, _("The pages are being laid out…"));
  pawl_report_preview_async (GTK_WIDGET (self), self->session, self->settings, self->trial, PIXELS_PER_POINT * gtk_widget_get_scale_factor (GTK_WIDGET (self)),
                             self->cancellable, laid_out_cb, g_object_ref (self));
}

static void
list_missing (PawlReportPage *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  g_autoptr(GPtrArray) missing = pawl_results_list_missing (job), remarks = pawl_job_list_kit_remarks (job), lacking = pawl_job_list_lacking (job);
  g_autoptr(GString) text = g_string_new (NULL);
  g_autofree char *title = missing->len == 0 ? g_strdup (_("Nothing is missing"))
    : g_strdup_printf (g_dngettext (NULL, "%u answer is missing", "%u answers are missing", missing->len), missing->len);

  for (guint i = 0; i < missing->len && i < MOST_MISSING; i++)
    g_string_append_printf (text, "%s• %s", i > 0 ? "\n" : "", (char *) missing->pdata[i]);
  if (missing->len > MOST_MISSING)
    g_string_append_printf (text, _("\nand %u more"), missing->len - MOST_MISSING);
  for (guint i = 0; i < remarks->len; i++)
    g_string_append_printf (text, "%s• %s", text->len > 0 ? "\n" : "", (char *) remarks->pdata[i]);
  for (guint i = 0; i < lacking->len; i++)
    g_string_append_printf (text, _("%s• Not there: %s"), text->len > 0 ? "\n" : "", ((PawlPartState *) lacking->pdata[i])->part->name);
  if (missing->len == 0 && text->len > 0)
    {
      g_free (title);
      title = g_strdup (_("All is answered; of the parts not all is as it should be"));
    }
  gtk_expander_set_label (GTK_EXPANDER (self->missing_box), title);
  set_text (self->missing, text->len > 0 ? text->str : _("Nothing is missing: every reading, check and fit was answered."));
}

/* ---- the word ---- */

/* So many lacks of a clause are listed; how many more there are is said. */
#define MOST_LACKS 4

static void
append_lacks (GString *text, const PawlWordFinding *word)
{
  g_string_append_printf (text, _("For “%s” the record lacks:"), word->word->title);
  for (guint i = 0; i < word->findings->len; i++)
    {
      const PawlClauseFinding *finding = word->findings->pdata[i];
      g_autofree char *lacks = pawl_clause_finding_describe (finding, MOST_LACKS);

      if (finding->lacks->len == 0)
        continue;
      g_string_append_printf (text, "\n• %s\n    %s", finding->clause->says, lacks);
      if (finding->clause->source != NULL)
        g_string_append_printf (text, "\n    (%s)", finding->clause->source);
    }
}

/* Which word the title is, and what is lacking for the highest. */
static void
apply_word (PawlReportPage *self)
{
  const char *file = self->settings->shop->clauses;
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlClauses) clauses = *file != '\0' ? pawl_clauses_load (file, &error) : pawl_clauses_load_default ();
  g_autoptr(PawlWordGate) gate = clauses != NULL ? pawl_word_gate_judge (clauses, pawl_session_get_job (self->session)) : NULL;
  const PawlWordFinding *highest = gate != NULL ? pawl_word_gate_peek_highest (gate) : NULL;
  g_autofree char *word = gate != NULL ? pawl_word_gate_dup_title (gate) : NULL;
  g_autofree char *label = word != NULL ? g_strdup_printf (_("Title: %s"), word) : g_strdup (_("No title: the clauses can't be read"));
  g_autoptr(GString) text = g_string_new (error != NULL ? error->message : NULL);

  if (highest != NULL)
    append_lacks (text, highest);
  else if (gate != NULL)
    g_string_append (text, _("It is the highest word, and the record shows every clause of it."));
  if (clauses != NULL)
    g_string_append_printf (text, "\n\n%s: %s", clauses->name, clauses->source);
  gtk_expander_set_label (GTK_EXPANDER (self->word_box), label);
  set_text (self->word, text->str);
}

static void
apply_sign (PawlReportPage *self)
{
  PawlEntry *signature = pawl_job_peek_signature (pawl_session_get_job (self->session));
  g_autofree char *label = signature != NULL ? g_strdup_printf (_("Signed by %s"), pawl_entry_get_person (signature)) : g_strdup (_("Sign off…"));

  gtk_button_set_label (GTK_BUTTON (self->sign), label);
}

void
pawl_report_page_apply (PawlReportPage *self)
{
  if (self->session == NULL || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  apply_word (self);
  list_missing (self);
  apply_sign (self);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->print), self->settings->print);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->histories), self->settings->has_histories);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->paper), self->settings->shop->paper);
  lay_out (self);
}

void
pawl_report_page_refresh (PawlReportPage *self)
{
  self->n_shown = 0;
  pawl_report_page_apply (self);
}

void
pawl_report_page_set_session (PawlReportPage *self, PawlSession *session, PawlSettings *settings, PawlTrial *trial)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->n_shown = 0;
  g_set_object (&self->session, session);
  self->settings = settings;
  self->trial = trial;
  remove_pages (self);
  set_text (self->status, NULL);
  gtk_widget_hide (self->form);
  pawl_report_page_apply (self);
}

static void
paper_changed_cb (GtkDropDown *drop_down, GParamSpec *pspec, PawlReportPage *self)
{
  PawlPaper paper = (PawlPaper) gtk_drop_down_get_selected (drop_down);
  g_autoptr(GError) error = NULL;

  if (self->settings == NULL || self->settings->shop->paper == paper)
    return;
  self->settings->shop->paper = paper;
  pawl_report_page_apply (self);
  if (!pawl_settings_save_shop (self->settings, &error))
    set_text (self->status, error->message);
}

static void
print_changed_cb (GtkDropDown *drop_down, GParamSpec *pspec, PawlReportPage *self)
{
  PawlPrint print = (PawlPrint) gtk_drop_down_get_selected (drop_down);

  if (self->settings == NULL || self->settings->print == print)
    return;
  self->settings->print = print;
  pawl_settings_save (self->settings, NULL);
  pawl_report_page_apply (self);
}

static void
histories_toggled_cb (GtkCheckButton *button, PawlReportPage *self)
{
  gboolean has_histories = gtk_check_button_get_active (button);

  if (self->settings == NULL || self->settings->has_histories == has_histories)
    return;
  self->settings->has_histories = has_histories;
  pawl_settings_save (self->settings, NULL);
  pawl_report_page_apply (self);
}

/* ---- saving ---- */

/* What was written is kept as it is, and entered. */
static gboolean
enter_issue (PawlReportPage *self, const char *path, guint n_pages, GError **error)
{
  PawlRecord *record = pawl_bench_get_record (pawl_session_get_bench (self->session));
  PawlHand hand = pawl_session_make_hand (self->session);
  PawlPrint print = self->issued_print;
  g_autofree char *contents = NULL, *digest = NULL;
  g_autoptr(GBytes) pdf = NULL;
  g_autoptr(PawlEntry) entry = NULL;
  gsize length;

  if (!g_file_get_contents (path, &contents, &length, error))
    return FALSE;
  pdf = g_bytes_new_take (g_steal_pointer (&contents), length);
  digest = pawl_record_keep (record, pdf, "application/pdf", error);
  if (digest == NULL)
    return FALSE;
  entry = pawl_issue_new_entry (print, pawl_issue_next_version (pawl_session_get_job (self->session), print), n_pages, digest, hand.person, hand.at);
  return pawl_session_take (self->session, entry, _("The report is issued"), error);
}

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlReportPage) self = data;
  g_autofree char *issued_path = g_steal_pointer (&self->issued_path);
  g_autoptr(GError) error = NULL;
  guint n_pages;

  n_pages = pawl_report_save_finish (result, &error);
  if (n_pages == 0)
    set_text (self->status, error->message);
  else if (issued_path == NULL || self->session == NULL)
    set_text (self->status, _("The report is saved."));
  else if (enter_issue (self, issued_path, n_pages, &error))
    set_text (self->status, _("The report is saved, and entered as issued."));
  else
    {
      g_autofree char *text = g_strdup_printf (_("The report is saved, but not entered as issued: %s"), error->message);

      set_text (self->status, text);
    }
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, PawlReportPage *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  const char *path = file != NULL ? g_file_peek_path (file) : NULL;

  if (path != NULL && self->session != NULL)
    {
      set_text (self->status, _("The report is being written…"));
      g_free (self->issued_path);
      self->issued_path = self->is_issue ? g_strdup (path) : NULL;
      self->issued_print = self->settings->print;
      pawl_report_save_async (GTK_WIDGET (self), self->session, self->settings, self->trial, path, NULL, saved_cb, g_object_ref (self));
    }
  g_clear_object (&self->chooser);
}

static char *
make_file_name (PawlJob *job)
{
  const char *name = pawl_job_get_field (job, "work-order");
  g_autofree char *stem = g_strdup (*name != '\0' ? name : pawl_job_get_id (job));

  g_strcanon (stem, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", '-');
  return g_strdup_printf (_("report-%s.pdf"), stem);
}

static void
choose_file (PawlReportPage *self, gboolean is_issue)
{
  g_autofree char *name = NULL;

  if (self->session == NULL || self->chooser != NULL)
    return;
  self->is_issue = is_issue;
  name = make_file_name (pawl_session_get_job (self->session));
  self->chooser = gtk_file_chooser_native_new (is_issue ? _("Issue the report") : _("Save the report"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                                               GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"), _("Never mind"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), name);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

void
pawl_report_page_save (PawlReportPage *self)
{
  choose_file (self, FALSE);
}

void
pawl_report_page_issue (PawlReportPage *self)
{
  choose_file (self, TRUE);
}

/* ---- printing ---- */

static void
printed_cb (const char *words, gpointer data)
{
  g_autoptr(PawlReportPage) self = data;

  set_text (self->status, words);
}

static void
ready_to_print_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlReportPage) self = data;
  g_autoptr(GError) error = NULL;
  PawlSheaf *sheaf = pawl_report_sheaf_finish (result, &error);

  set_text (self->status, error != NULL ? error->message : NULL);
  if (sheaf != NULL)
    pawl_printing_ask (sheaf, GTK_WIDGET (self), printed_cb, g_object_ref (self));
}

void
pawl_report_page_print (PawlReportPage *self)
{
  if (self->session == NULL)
    return;
  set_text (self->status, _("The pages are being laid out…"));
  pawl_report_sheaf_async (GTK_WIDGET (self), self->session, self->settings, self->trial, NULL, ready_to_print_cb, g_object_ref (self));
}

/* ---- signing ---- */

void
pawl_report_page_sign (PawlReportPage *self)
{
  PawlPromptForm *form = PAWL_PROMPT_FORM (self->form);

  if (self->session == NULL)
    return;
  pawl_prompt_form_open (form, PAWL_PROMPT_SIGN);
  if (*pawl_prompt_form_get_line (form, 0) == '\0')
    pawl_prompt_form_set_line (form, 0, pawl_session_get_person (self->session));
}

static void
form_answered_cb (PawlPromptForm *form, PawlReportPage *self)
{
  g_autoptr(GError) error = NULL;
  PawlHand hand = { pawl_prompt_form_get_line (form, 0), pawl_session_make_hand (self->session).at };
  g_autoptr(PawlEntry) entry = pawl_answer_new_signature (pawl_prompt_form_get_line (form, 1), pawl_prompt_form_get_line (form, 2), hand);

  if (!pawl_signature_prove (form, pawl_bench_get_record (pawl_session_get_bench (self->session)), entry))
    return;
  if (!pawl_session_take (self->session, entry, _("The job is signed"), &error))
    pawl_prompt_form_say (form, error->message);
  else
    pawl_prompt_form_close (form);
}

/* ---- widget ---- */

static void
map_cb (PawlReportPage *self)
{
  pawl_report_page_apply (self);
}

static void
pawl_report_page_dispose (GObject *object)
{
  PawlReportPage *self = PAWL_REPORT_PAGE (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_object (&self->session);
  g_clear_pointer (&self->issued_path, g_free);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_report_page_parent_class)->dispose (object);
}

static void
pawl_report_page_class_init (PawlReportPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_report_page_dispose;
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-report-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, box);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, pages);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, status);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, word);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, word_box);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, missing);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, missing_box);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, print);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, histories);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, paper);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, sign);
  gtk_widget_class_bind_template_child (widget_class, PawlReportPage, form);
  gtk_widget_class_bind_template_callback (widget_class, print_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, histories_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, paper_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, form_answered_cb);
}

static void
pawl_report_page_init (PawlReportPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
}
