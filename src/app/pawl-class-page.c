#include "app/pawl-class-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/pawl-class-charts.h"
#include "app/pawl-class-task.h"
#include "app/pawl-phrases.h"
#include "record/pawl-people.h"
#include "report/pawl-log-book.h"

/* A step that most people do right is no news. */
#define MOST_STEPS 10

struct _PawlClassPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *people, *pin, *save_table, *save_log_book, *status, *figures;

  /* owned */
  PawlRecord   *record; /* (nullable) */
  char         *person; /* at the bench */
  PawlClass    *class;  /* (nullable) until it is folded */
  GPtrArray    *shown;  /* (element-type PawlLearner): as the list has them, borrowed from @class; NULL is everybody */
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

static GtkWidget *
append_text (PawlClassPage *self, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (self->figures), label);
  return label;
}

static void
clear_figures (PawlClassPage *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->figures)) != NULL)
    gtk_box_remove (GTK_BOX (self->figures), child);
}

/* ---- one person ---- */

/* (transfer full) */
static char *
name_figure (const char *figure)
{
  if (g_str_equal (figure, "steps"))
    return g_strdup (_("Steps right at once"));
  if (g_str_equal (figure, "traps"))
    return g_strdup (_("Traps met"));
  if (g_str_equal (figure, "readings"))
    return g_strdup (_("Readings right at once"));
  if (g_str_equal (figure, "asked-first"))
    return g_strdup (_("Asked first, right"));
  return g_strdup_printf (_("of kind %s"), strchr (figure, ':') + 1);
}

static void
add_rate (const char *name, const char *figure, const PawlRate *rate, gpointer chart)
{
  g_autofree char *title = name_figure (figure);
  g_autofree char *label = strchr (figure, ':') != NULL ? g_strdup_printf ("    %s", title) : g_strdup (title);

  pawl_rate_chart_add (chart, label, rate, g_str_has_prefix (figure, "asked-first"));
}

static void
show_curve (PawlClassPage *self, const PawlLearner *learner, const char *procedure)
{
  PawlLearningCurve curve;
  gboolean has_curve = pawl_learner_fit_curve (learner, procedure, &curve);
  double median = pawl_class_get_median_time (self->class, procedure);
  guint n;
  g_autofree double *minutes = pawl_learner_list_times (learner, procedure, &n);
  g_autofree char *title = g_strdup_printf (_("Attended time of %s"), procedure), *words = NULL;

  if (n == 0)
    return;
  append_text (self, title, "row-title");
  gtk_box_append (GTK_BOX (self->figures), pawl_curve_chart_new (title, minutes, n, has_curve ? &curve : NULL, median));
  if (has_curve)
    words = g_strdup_printf (_("Twice as many jobs take %.0f %% of the time (%.0f to %.0f %%), by Wright’s law fitted to %u jobs; the band is where that line lies in 95 of 100 cases. "
                               "Half of all such jobs in this record took longer than %.0f min."),
                             100 * curve.rate, 100 * curve.rate_low, 100 * curve.rate_high, curve.n, median);
  else
    words = g_strdup_printf (_("No learning curve: it takes %d whole jobs. Half of all such jobs in this record took longer than %.0f min."), PAWL_LEARNING_LEAST_JOBS, median);
  append_text (self, words, NULL);
}

static void
show_learner (PawlClassPage *self, const PawlLearner *learner)
{
  g_autoptr(GPtrArray) procedures = pawl_learner_list_procedures (learner);
  g_autoptr(GDateTime) now = pawl_record_dup_now (self->record);
  g_autofree char *last = learner->last != NULL ? g_date_time_format (learner->last, "%Y-%m-%d") : NULL, *jobs = NULL;
  GtkWidget *chart = pawl_rate_chart_new (learner->name);

  jobs = g_strdup_printf (g_dngettext (NULL, "%u job", "%u jobs", learner->jobs->len), learner->jobs->len);
  if (last != NULL)
    {
      g_autofree char *line = g_strdup_printf (pawl_learner_has_faded (learner, now) ? _("%s, last step finished %s: over a year ago, so no longer sure")
                                                                                      : _("%s, last step finished %s"), jobs, last);

      append_text (self, line, NULL);
    }
  pawl_learner_visit_rates (learner, add_rate, chart);
  gtk_box_append (GTK_BOX (self->figures), chart);
  if (learner->guesses.n > 0)
    append_text (self, _("Asked first: of two pictures, so half is right by chance; the mark stands there."), "secondary");
  if (learner->n_loops > 0)
    {
      g_autofree char *line = g_strdup_printf (_("What was out at first came right in %.1f tries on average (%u readings)."), learner->attempts, learner->n_loops);

      append_text (self, line, NULL);
    }
  for (guint i = 0; i < procedures->len; i++)
    show_curve (self, learner, procedures->pdata[i]);
}

/* ---- everybody ---- */

static void
show_step (PawlClassPage *self, const PawlClassStep *step)
{
  g_autofree char *clean = pawl_class_words_of_rate (&step->clean);
  g_autofree char *title = g_strdup_printf (_("%s, step %s: %s"), step->procedure, step->number, step->command);
  g_autofree char *evidence = g_strdup_printf (_("Without trouble %s: wrong way %u, reading out %u, done again %u. %s"), clean, step->n_wrong, step->n_out, step->n_reopened,
                                               step->chance < PAWL_CLASS_LEAST_CHANCE ? _("More than the other steps of its procedure, beyond chance.")
                                                                                      : _("Not more than chance may do."));

  append_text (self, title, "strong");
  append_text (self, evidence, NULL);
}

static void
show_everybody (PawlClassPage *self)
{
  GtkWidget *steps = pawl_rate_chart_new (_("Steps right at once")), *traps = pawl_rate_chart_new (_("Traps met"));
  guint n = 0;

  for (guint i = 0; i < self->class->learners->len; i++)
    {
      const PawlLearner *learner = self->class->learners->pdata[i];

      pawl_rate_chart_add (steps, learner->name, &learner->steps, FALSE);
      pawl_rate_chart_add (traps, learner->name, &learner->traps, FALSE);
    }
  append_text (self, _("Steps right at once"), "row-title");
  gtk_box_append (GTK_BOX (self->figures), steps);
  append_text (self, _("Traps met"), "row-title");
  gtk_box_append (GTK_BOX (self->figures), traps);
  append_text (self, _("Steps that trip most people"), "row-title");
  for (guint i = 0; i < self->class->steps->len && n < MOST_STEPS; i++)
    {
      const PawlClassStep *step = self->class->steps->pdata[i];

      if (step->clean.n_right == step->clean.n)
        continue;
      show_step (self, step);
      n++;
    }
  if (n == 0)
    append_text (self, _("None so far."), NULL);
}

static const PawlLearner *
peek_chosen (PawlClassPage *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->people));

  return self->shown != NULL && place < self->shown->len ? self->shown->pdata[place] : NULL;
}

static void
show_chosen (PawlClassPage *self)
{
  const PawlLearner *learner = peek_chosen (self);
  gboolean has_any = self->shown != NULL && self->shown->len > 0;

  clear_figures (self);
  say (self, NULL);
  gtk_widget_set_sensitive (self->save_table, has_any);
  gtk_widget_set_sensitive (self->save_log_book, learner != NULL);
  gtk_widget_set_visible (self->people, has_any);
  if (learner != NULL)
    show_learner (self, learner);
  else if (has_any)
    show_everybody (self);
  else if (self->class != NULL)
    {
      g_autofree char *text = *self->person != '\0' ? g_strdup_printf (_("%s has finished no step in this record yet."), self->person)
                                                    : g_strdup (_("Nobody has said yet who is at the bench; figures are shown to the one whose they are."));

      append_text (self, text, NULL);
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
  g_autoptr(PawlPerson) person = *self->person != '\0' ? pawl_people_lookup (self->record, self->person, NULL) : NULL;
  gboolean may_see_all = person != NULL && !person->is_retired && (person->role == PAWL_ROLE_TRAINER || person->role == PAWL_ROLE_OWNER);

  self->is_proved = may_see_all && !person->has_pin;
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  gtk_widget_set_visible (self->pin, may_see_all && person->has_pin);
}

static void
pin_activate_cb (GtkPasswordEntry *entry, PawlClassPage *self)
{
  g_autoptr(GError) error = NULL;

  if (self->class == NULL)
    return;
  self->is_proved = pawl_people_check_pin (self->record, self->person, gtk_editable_get_text (GTK_EDITABLE (self->pin)), &error);
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  if (self->is_proved)
    {
      gtk_widget_hide (self->pin);
      list_people (self);
      gtk_widget_grab_focus (self->people);
    }
  else
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      say (self, sentence);
    }
}

static void
chosen_cb (GtkDropDown *people, GParamSpec *pspec, PawlClassPage *self)
{
  if (!self->is_listing && self->class != NULL)
    show_chosen (self);
}

/* ---- folding ---- */

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlClassPage *self = PAWL_CLASS_PAGE (source);
  g_autoptr(GError) error = NULL;
  PawlClass *class = pawl_class_load_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  clear_figures (self);
  if (class == NULL)
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      append_text (self, sentence, NULL);
      return;
    }
  self->class = class;
  list_people (self);
}

static void
forget (PawlClassPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_ptr_array_set_size (self->shown, 0);
  g_clear_pointer (&self->class, pawl_class_free);
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
      append_text (self, _("There is no record to read."), NULL);
      return;
    }
  ask_who_it_is (self);
  append_text (self, _("Reading the jobs…"), NULL);
  self->cancellable = g_cancellable_new ();
  pawl_class_load_async (GTK_WIDGET (self), record, self->cancellable, loaded_cb, NULL);
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
  g_autofree char *csv = pawl_class_make_csv (self->class, self->is_proved ? peek_chosen (self) : pawl_class_lookup (self->class, self->person));

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

static void
choose_file (PawlClassPage *self, gboolean is_table)
{
  if (self->chooser != NULL)
    return;
  self->is_table = is_table;
  self->chooser = gtk_file_chooser_native_new (is_table ? _("Save the figures") : _("Save the log book"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))),
                                               GTK_FILE_CHOOSER_ACTION_SAVE, _("Save"), _("Never mind"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), is_table ? _("figures.csv") : _("log-book.pdf"));
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
