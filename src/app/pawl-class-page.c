#include "app/pawl-class-page.h"

#include <glib/gi18n.h>
#include "app/pawl-class-figures.h"
#include "app/pawl-pairs-view.h"
#include "app/pawl-phrases.h"
#include "app/pawl-record-work.h"
#include "app/pawl-trainer-fields.h"
#include "record/pawl-people.h"
#include "report/pawl-class-table.h"
#include "report/pawl-log-book.h"
#include "training/pawl-crew.h"

/* In the dialog. */
#define CHOICE "table"

struct _PawlClassPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *people, *pin, *save_table, *save_log_book, *status, *figures;

  /* owned */
  PawlRecord   *record; /* (nullable) */
  char         *person; /* at the bench */
  PawlClass    *class;  /* (nullable) until it is folded */
  GPtrArray    *shown;  /* (element-type PawlLearner): as the list has them, borrowed from @class; NULL is everybody */
  GPtrArray    *pairs;  /* (nullable) (element-type PawlProgress) of those who took readings by two, once they are folded */
  GCancellable *cancellable;
  GtkFileChooserNative *chooser; /* (nullable) while one is open */

  const PawlSettings *settings; /* borrowed */

  gboolean is_proved;   /* whoever is at the bench may see all */
  gboolean is_listing;  /* the list is made anew: no choice of the user's */
  gboolean is_table;    /* what the chooser is open for */
};

G_DEFINE_FINAL_TYPE (PawlClassPage, pawl_class_page, GTK_TYPE_WIDGET)

static void
say (PawlClassPage *self, const char *text)
{
  gtk_label_set_label (GTK_LABEL (self->status), text != NULL ? text : "");
  gtk_widget_set_visible (self->status, text != NULL && *text != '\0');
}

static void
append_text (PawlClassPage *self, const char *text)
{
  gtk_box_append (GTK_BOX (self->figures), pawl_class_text_new (text, NULL));
}

static void
clear_figures (PawlClassPage *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->figures)) != NULL)
    gtk_box_remove (GTK_BOX (self->figures), child);
}

/* ---- who is shown ---- */

static const PawlLearner *
peek_chosen (PawlClassPage *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->people));

  return self->shown != NULL && place < self->shown->len ? self->shown->pdata[place] : NULL;
}

static void
show_pairs (PawlClassPage *self, const char *name)
{
  for (guint i = 0; self->pairs != NULL && i < self->pairs->len; i++)
    if (g_str_equal (((PawlProgress *) self->pairs->pdata[i])->name, name))
      pawl_pairs_view_append (self->figures, self->pairs->pdata[i], NULL, NULL);
}

static void
show_chosen (PawlClassPage *self)
{
  const PawlLearner *learner = peek_chosen (self);
  gboolean has_any = self->shown != NULL && self->shown->len > 0;
  g_autoptr(GDateTime) now = self->record != NULL ? pawl_record_dup_now (self->record) : NULL;

  clear_figures (self);
  say (self, NULL);
  gtk_widget_set_sensitive (self->save_table, has_any);
  gtk_widget_set_sensitive (self->save_log_book, learner != NULL);
  gtk_widget_set_visible (self->people, has_any);
  if (learner != NULL)
    {
      pawl_class_figures_show_learner (GTK_BOX (self->figures), self->class, learner, now);
      show_pairs (self, learner->name);
    }
  else if (has_any)
    pawl_class_figures_show_everybody (GTK_BOX (self->figures), self->class, now);
  else if (self->class != NULL)
    {
      g_autofree char *text = *self->person != '\0' ? g_strdup_printf (_("%s has finished no step in this record yet."), self->person)
                                                    : g_strdup (_("Nobody has said yet who is at the bench; figures are shown to the one whose they are."));

      append_text (self, text);
    }
}

/* ---- who sees what ---- */

static void
list_people (PawlClassPage *self)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);

  self->is_listing = TRUE;
  g_ptr_array_set_size (self->shown, 0);
  if (self->is_proved && self->class->learners->len > 0)
    {
      g_ptr_array_add (self->shown, NULL);
      gtk_string_list_append (names, _("Everybody"));
    }
  for (guint i = 0; i < self->class->learners->len; i++)
    {
      PawlLearner *learner = self->class->learners->pdata[i];

      if (!self->is_proved && !g_str_equal (learner->name, self->person))
        continue;
      g_ptr_array_add (self->shown, learner);
      gtk_string_list_append (names, learner->name);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->people), G_LIST_MODEL (names));
  if (self->shown->len > 0)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->people), 0);
  self->is_listing = FALSE;
  show_chosen (self);
}

/* Those who may see all: with a PIN once it was given, without one at once. */
static void
ask_who_it_is (PawlClassPage *self)
{
  gboolean needs_pin, may_see_all = pawl_trainer_may_see_all (self->record, self->person, &needs_pin);

  self->is_proved = may_see_all && !needs_pin;
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  gtk_widget_set_visible (self->pin, needs_pin);
}

/* Also while the jobs are still being read: what was typed is not lost, and counts once they are. */
static void
pin_activate_cb (GtkPasswordEntry *entry, PawlClassPage *self)
{
  g_autoptr(GError) error = NULL;

  if (self->record == NULL)
    return;
  self->is_proved = pawl_people_check_pin (self->record, self->person, gtk_editable_get_text (GTK_EDITABLE (self->pin)), &error);
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  if (!self->is_proved)
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      say (self, sentence);
      return;
    }
  say (self, NULL);
  gtk_widget_hide (self->pin);
  if (self->class == NULL)
    return;
  list_people (self);
  gtk_widget_grab_focus (self->people);
}

static void
chosen_cb (GtkDropDown *people, GParamSpec *pspec, PawlClassPage *self)
{
  if (!self->is_listing && self->class != NULL)
    show_chosen (self);
}

/* ---- folding ---- */

static void
pairs_loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlClassPage *self = PAWL_CLASS_PAGE (source);
  GPtrArray *pairs = pawl_record_work_finish (result, NULL); /* what keeps them from being folded was said of the class */

  if (pairs == NULL)
    return;
  g_clear_pointer (&self->pairs, g_ptr_array_unref);
  self->pairs = pairs;
  if (pairs->len > 0)
    show_chosen (self);
}

static gpointer
fold_pairs (PawlRecord *record, GError **error)
{
  return pawl_crew_load_pairs (record, error);
}

static gpointer
fold_class (PawlRecord *record, GError **error)
{
  return pawl_class_load (record, NULL, error);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlClassPage *self = PAWL_CLASS_PAGE (source);
  g_autoptr(GError) error = NULL;
  PawlClass *class = pawl_record_work_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  clear_figures (self);
  if (class == NULL)
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      append_text (self, sentence);
      return;
    }
  self->class = class;
  list_people (self);
  pawl_record_work_start (GTK_WIDGET (self), self->record, fold_pairs, (GDestroyNotify) g_ptr_array_unref, self->cancellable, pairs_loaded_cb, NULL);
}

static void
forget (PawlClassPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_ptr_array_set_size (self->shown, 0);
  g_clear_pointer (&self->class, pawl_class_free);
  g_clear_pointer (&self->pairs, g_ptr_array_unref);
}

void
pawl_class_page_apply (PawlClassPage *self, PawlRecord *record, const char *person, const PawlSettings *settings)
{
  forget (self);
  g_set_object (&self->record, record);
  g_free (self->person);
  self->person = g_strdup (person);
  self->settings = settings;
  show_chosen (self);
  gtk_widget_hide (self->pin);
  if (record == NULL)
    {
      append_text (self, _("There is no record to read."));
      return;
    }
  ask_who_it_is (self);
  append_text (self, _("Reading the jobs…"));
  self->cancellable = g_cancellable_new ();
  pawl_record_work_start (GTK_WIDGET (self), record, fold_class, (GDestroyNotify) pawl_class_free, self->cancellable, loaded_cb, NULL);
}

void
pawl_class_page_go (PawlClassPage *self)
{
  gtk_widget_grab_focus (gtk_widget_get_visible (self->pin) ? self->pin : self->people);
}

/* ---- taking it away ---- */

static gboolean
write_table (PawlClassPage *self, const char *path, GError **error)
{
  g_autoptr(GDateTime) now = pawl_record_dup_now (self->record);
  const PawlLearner *only = self->is_proved ? peek_chosen (self) : pawl_class_lookup (self->class, self->person);
  PawlClassTable table = PAWL_CLASS_TABLE_FIGURES;
  g_autofree char *csv = NULL;

  pawl_class_table_from_name (gtk_file_chooser_get_choice (GTK_FILE_CHOOSER (self->chooser), CHOICE), &table);
  csv = pawl_class_make_csv (self->class, only, table, now);
  return g_file_set_contents (path, csv, -1, error);
}

static gboolean
write_log_book (PawlClassPage *self, const char *path, GError **error)
{
  g_autoptr(GDateTime) now = pawl_record_dup_now (self->record);
  const PawlLogBookOptions options = { .paper = self->settings->shop->paper, .shop = self->settings->shop->name, .issued = now };
  g_autoptr(PawlPages) pages = pawl_log_book_new (peek_chosen (self), &options);
  g_autoptr(GBytes) pdf = pawl_pages_make_pdf (pages, error);

  return pdf != NULL && pawl_pages_write (pdf, path, error);
}

static void
file_chosen_cb (GtkNativeDialog *chooser, int response, PawlClassPage *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  const char *path = file != NULL ? g_file_peek_path (file) : NULL;
  g_autoptr(GError) error = NULL;

  if (path != NULL && self->shown->len > 0)
    {
      gboolean is_written = self->is_table ? write_table (self, path, &error) : write_log_book (self, path, &error);
      g_autofree char *text = is_written ? g_strdup_printf (_("Saved as %s."), path) : pawl_phrase_make_sentence (error->message);

      say (self, text);
    }
  g_clear_object (&self->chooser);
}

/* Which table is a choice in the dialog that asks for the file. */
static void
offer_tables (PawlClassPage *self, gboolean is_of_one)
{
  static const char * const words[PAWL_N_CLASS_TABLES] = {
    [PAWL_CLASS_TABLE_FIGURES] = N_("Shares right at once"), [PAWL_CLASS_TABLE_JOBS] = N_("Jobs and attended time"),
    [PAWL_CLASS_TABLE_TIMES] = N_("Time on each step"), [PAWL_CLASS_TABLE_TRIES] = N_("Tries until right"),
    [PAWL_CLASS_TABLE_SKILLS] = N_("Skills, last used"), [PAWL_CLASS_TABLE_STEPS] = N_("Steps that trip people"),
  };
  const char *names[PAWL_N_CLASS_TABLES + 1] = { NULL }, *labels[PAWL_N_CLASS_TABLES + 1] = { NULL };
  guint n = is_of_one ? PAWL_CLASS_TABLE_STEPS : PAWL_N_CLASS_TABLES; /* the last one is everybody's alone */

  for (guint i = 0; i < n; i++)
    {
      names[i] = pawl_class_table_get_name ((PawlClassTable) i);
      labels[i] = _(words[i]);
    }
  gtk_file_chooser_add_choice (GTK_FILE_CHOOSER (self->chooser), CHOICE, _("Table"), names, labels);
  gtk_file_chooser_set_choice (GTK_FILE_CHOOSER (self->chooser), CHOICE, names[0]);
}

static void
choose_file (PawlClassPage *self, gboolean is_table)
{
  if (self->chooser != NULL)
    return;
  self->is_table = is_table;
  self->chooser = gtk_file_chooser_native_new (is_table ? _("Save the figures") : _("Save the log book"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                                               GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"), _("Never mind"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), is_table ? _("figures.csv") : _("log-book.pdf"));
  if (is_table)
    offer_tables (self, peek_chosen (self) != NULL);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (file_chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

static void
save_table_cb (GtkButton *button, PawlClassPage *self)
{
  choose_file (self, TRUE);
}

static void
save_log_book_cb (GtkButton *button, PawlClassPage *self)
{
  choose_file (self, FALSE);
}

/* ---- widget ---- */

static void
pawl_class_page_dispose (GObject *object)
{
  PawlClassPage *self = PAWL_CLASS_PAGE (object);

  forget (self);
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_class_page_parent_class)->dispose (object);
}

static void
pawl_class_page_finalize (GObject *object)
{
  PawlClassPage *self = PAWL_CLASS_PAGE (object);

  g_ptr_array_unref (self->shown);
  g_free (self->person);
  G_OBJECT_CLASS (pawl_class_page_parent_class)->finalize (object);
}

static void
pawl_class_page_class_init (PawlClassPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_class_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_class_page_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-class-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, people);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, pin);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, save_table);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, save_log_book);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, status);
  gtk_widget_class_bind_template_child (widget_class, PawlClassPage, figures);
  gtk_widget_class_bind_template_callback (widget_class, chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, pin_activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_table_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_log_book_cb);
}

static void
pawl_class_page_init (PawlClassPage *self)
{
  self->shown = g_ptr_array_new ();
  self->person = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
}
