#include "app/pawl-jobs-page.h"

#include <glib/gi18n.h>
#include "app/pawl-found-line.h"
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"
#include "bench/pawl-bench.h"
#include "plan/pawl-resume.h"
#include "training/pawl-waiting-holds.h"

/* A job is folded for its line only as long as the list is short enough to be read; older ones say what the record itself knows. */
#define MOST_FOLDED 24
/* Nobody reads on after so many lines; who looks for an older job looks for it by a word. */
#define MOST_LISTED 200
#define MOST_FOUND 50

struct _PawlJobsPage {
  GtkWidget parent_instance;
  GtkWidget *stack, *list, *search, *problem;
  PawlRecord *record;    /* (nullable) */
  char       *person;    /* (nullable) who comes back */
  GHashTable *revisions; /* (nullable) (element-type utf8 utf8): of each procedure on the shelf, by its id */
};

enum { JOB_OPENED, HISTORY_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlJobsPage, pawl_jobs_page, GTK_TYPE_WIDGET)

static char *
describe_facts (const PawlJobLine *line, GDateTime *now)
{
  GString *text = g_string_new (NULL);
  g_autofree char *last = pawl_phrase_format_clock (line->last, now);

  if (*line->work_order != '\0')
    g_string_append_printf (text, _("Work order %s · "), line->work_order);
  if (*line->serial != '\0')
    g_string_append_printf (text, _("serial %s · "), line->serial);
  if (*line->customer != '\0')
    g_string_append_printf (text, "%s · ", line->customer);
  g_string_append_printf (text, _("last touched %s"), last);
  return g_string_free (text, FALSE);
}

/* One line for each wait, with when it must be out. */
static void
append_waits (GtkWidget *line, PawlJob *job, const PawlResume *resume)
{
  for (guint i = 0; i < resume->waits->len; i++)
    {
      const PawlWaiting *wait = resume->waits->pdata[i];
      g_autofree char *clock = pawl_phrase_describe_wait (job, pawl_job_lookup_ask (job, wait->ask));
      g_autofree char *text = g_strdup_printf ("%s: %s", wait->name, clock);

      pawl_list_line_append (line, text, "wait-line");
    }
}

static void
append_changes (GtkWidget *line, const PawlResume *resume)
{
  g_autofree char *changes = NULL, *text = NULL;

  if (resume->changes->len == 0)
    return;
  g_ptr_array_add (resume->changes, NULL);
  changes = g_strjoinv (" · ", (char **) resume->changes->pdata);
  g_ptr_array_set_size (resume->changes, (int) resume->changes->len - 1);
  text = g_strdup_printf (_("Since you were here: %s"), changes);
  pawl_list_line_append (line, text, "change-line");
}

static void
append_progress (GtkWidget *line, const PawlResume *resume)
{
  g_autofree char *text = g_strdup_printf (_("%u of %u steps"), resume->n_done, resume->n_steps);

  pawl_list_line_append_end (line, text, "status-word");
}

static void
history_clicked_cb (GtkButton *button)
{
  GtkWidget *page = gtk_widget_get_ancestor (GTK_WIDGET (button), PAWL_TYPE_JOBS_PAGE);

  g_signal_emit (page, signals[HISTORY_WANTED], 0, g_object_get_data (G_OBJECT (button), "job"));
}

static void
append_history (GtkWidget *line, const PawlJobLine *job)
{
  GtkWidget *button = gtk_button_new_with_label (_("History"));
  g_autofree char *name = g_strdup_printf (_("History of the readings: %s"), job->title);

  gtk_button_set_has_frame (GTK_BUTTON (button), FALSE);
  gtk_widget_add_css_class (button, "small");
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_widget_set_tooltip_text (button, _("The readings of this job in all jobs of its procedure"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data_full (G_OBJECT (button), "job", g_strdup (job->id), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (history_clicked_cb), NULL);
  pawl_list_line_append_end_widget (line, button);
}

/* A job of the list, folded when it is one of the first. */
typedef struct {
  const PawlJobLine *line;
  PawlBench         *bench;   /* (nullable) */
  PawlResume        *resume;  /* (nullable) with the bench */
  char              *problem; /* (nullable): why it can't be folded */
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;

  g_clear_pointer (&row->resume, pawl_resume_free);
  g_clear_object (&row->bench);
  g_free (row->problem);
  g_free (row);
}

static Row *
load_row (PawlJobsPage *self, const PawlJobLine *line, gboolean is_folded, const PawlRegister *instruments)
{
  Row *row = g_new0 (Row, 1);
  g_autoptr(GError) error = NULL;

  row->line = line;
  if (!is_folded)
    return row;
  row->bench = pawl_bench_resume (self->record, line->id, NULL, &error);
  if (row->bench != NULL)
    row->resume = pawl_resume_new (pawl_bench_get_job (row->bench), self->person, instruments,
                                   self->revisions != NULL ? g_hash_table_lookup (self->revisions, line->procedure) : NULL);
  else
    row->problem = pawl_phrase_make_sentence (error->message);
  return row;
}

/* What is due first is first; what is signed is last; else as they were touched. */
static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const Row *left = *(const Row *const *) a, *right = *(const Row *const *) b;
  int by_due;

  if (left->line->is_signed != right->line->is_signed)
    return left->line->is_signed - right->line->is_signed;
  by_due = pawl_resume_compare (left->resume != NULL ? left->resume->due : NULL, right->resume != NULL ? right->resume->due : NULL);
  return by_due != 0 ? by_due : g_date_time_compare (right->line->last, left->line->last);
}

/* Who is called to look, and since when; that a hold waits at all is said with what comes next. */
static void
append_calls (GtkWidget *line, PawlJob *job, GDateTime *now)
{
  g_autoptr(GPtrArray) holds = pawl_waiting_holds_new ();

  pawl_waiting_holds_add (holds, job);
  for (guint i = 0; i < holds->len; i++)
    {
      const PawlWaitingHold *hold = holds->pdata[i];
      g_autofree char *time = hold->is_called ? pawl_phrase_format_clock (hold->since, now) : NULL, *text = NULL;

      if (time == NULL)
        continue;
      text = g_strdup_printf (_("Step %s: %s is called, since %s"), hold->number, *hold->whom != '\0' ? hold->whom : _("somebody"), time);
      pawl_list_line_append (line, text, "wait-line");
    }
}

static GtkWidget *
make_row (PawlRecord *record, const Row *what)
{
  const PawlJobLine *job = what->line;
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autoptr(GDateTime) now = pawl_record_dup_now (record);
  g_autofree char *facts = describe_facts (job, now);
  const char *next = what->resume != NULL ? what->resume->next : what->problem != NULL ? what->problem : job->is_signed ? _("Signed off") : _("Open");

  pawl_list_line_append (line, job->unit, "row-title");
  if (what->resume != NULL)
    {
      append_waits (line, pawl_bench_get_job (what->bench), what->resume);
      append_calls (line, pawl_bench_get_job (what->bench), now);
      append_progress (line, what->resume);
      append_history (line, job);
    }
  pawl_list_line_append (line, next, NULL);
  if (what->resume != NULL)
    append_changes (line, what->resume);
  pawl_list_line_append (line, facts, "secondary");
  row = pawl_list_line_wrap (line, job->unit, next);
  g_object_set_data_full (G_OBJECT (row), "job", g_strdup (job->id), g_free);
  return row;
}

/* ---- what is listed ---- */

static void
add_remark (PawlJobsPage *self, const char *text)
{
  gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_make_heading (text));
}

/* Everything. Gives back whether there is any. */
static gboolean
list_all (PawlJobsPage *self, GError **error)
{
  g_autoptr(GPtrArray) lines = self->record != NULL ? pawl_record_list_jobs (self->record, error) : NULL;
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func (row_free);
  g_autoptr(PawlRegister) instruments = lines != NULL ? pawl_register_load (self->record, NULL) : NULL;
  guint n = lines != NULL ? MIN (lines->len, MOST_LISTED) : 0;

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (rows, load_row (self, lines->pdata[i], i < MOST_FOLDED, instruments));
  g_ptr_array_sort (rows, compare_rows);
  for (guint i = 0; i < n; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (self->record, rows->pdata[i]));
  if (lines != NULL && lines->len > n)
    {
      guint n_more = lines->len - n;
      g_autofree char *text = g_strdup_printf (g_dngettext (NULL, "And %u more: look for it by a word", "And %u more: look for them by a word", n_more), n_more);

      add_remark (self, text);
    }
  return n > 0;
}

static void
list_found (PawlJobsPage *self, const char *text, GError **error)
{
  g_autoptr(PawlFound) found = pawl_find (self->record, text, MOST_FOUND, error);

  for (guint i = 0; found != NULL && i < found->hits->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_found_line_make (found->hits->pdata[i]));
  if (found != NULL && found->n_jobs == 0)
    add_remark (self, _("Nothing found: each word must stand somewhere in a job"));
  else if (found != NULL && found->n_jobs > found->hits->len)
    {
      guint n_more = found->n_jobs - found->hits->len;
      g_autofree char *more = g_strdup_printf (g_dngettext (NULL, "And %u more: one more word makes them fewer", "And %u more: one more word makes them fewer", n_more), n_more);

      add_remark (self, more);
    }
}

/* A sign by itself is no word yet, and no mistake. */
static gboolean
is_searching (PawlJobsPage *self)
{
  for (const char *c = gtk_editable_get_text (GTK_EDITABLE (self->search)); self->record != NULL && *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_isalnum (g_utf8_get_char (c)))
      return TRUE;
  return FALSE;
}

static void
refresh (PawlJobsPage *self)
{
  g_autoptr(GError) error = NULL;
  gboolean is_any = TRUE;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  if (is_searching (self))
    {
      list_found (self, gtk_editable_get_text (GTK_EDITABLE (self->search)), &error);
      if (error != NULL)
        add_remark (self, error->message); /* here, so that the search can be taken back */
      return;
    }
  is_any = list_all (self, &error);
  gtk_label_set_label (GTK_LABEL (self->problem), error != NULL ? error->message : "");
  gtk_widget_set_visible (self->problem, error != NULL);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), is_any && error == NULL ? "list" : "empty");
}

void
pawl_jobs_page_apply (PawlJobsPage *self, PawlRecord *record)
{
  g_set_object (&self->record, record);
  refresh (self);
}

void
pawl_jobs_page_set_person (PawlJobsPage *self, const char *person)
{
  g_free (self->person);
  self->person = g_strdup (person);
}

void
pawl_jobs_page_take_revisions (PawlJobsPage *self, GHashTable *revisions)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;
  gboolean had_focus = focus != NULL && gtk_widget_is_ancestor (focus, self->list);

  g_clear_pointer (&self->revisions, g_hash_table_unref);
  self->revisions = revisions;
  if (self->record == NULL || is_searching (self))
    return;
  refresh (self);
  if (had_focus)
    pawl_jobs_page_go (self);
}

void
pawl_jobs_page_go (PawlJobsPage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

void
pawl_jobs_page_search (PawlJobsPage *self)
{
  gtk_widget_grab_focus (self->search);
}

/* ---- what is done ---- */

/* Whoever comes back from the job wants to see all of them again. */
static void
open_row (PawlJobsPage *self, GtkListBoxRow *row)
{
  g_autofree char *job = g_strdup (g_object_get_data (G_OBJECT (row), "job"));

  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  g_signal_emit (self, signals[JOB_OPENED], 0, job);
}

static void
search_changed_cb (PawlJobsPage *self)
{
  refresh (self);
}

/* Enter takes up the first that was found: a serial typed or scanned, and the job is on the bench. */
static void
search_activated_cb (PawlJobsPage *self)
{
  GtkListBoxRow *row;

  refresh (self); /* what was typed last may not be looked for yet */
  row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);
  if (row != NULL && gtk_list_box_row_get_activatable (row))
    open_row (self, row);
}

static void
search_stopped_cb (PawlJobsPage *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->search), "");
  refresh (self);
  pawl_jobs_page_go (self);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlJobsPage *self)
{
  open_row (self, row);
}

static void
pawl_jobs_page_dispose (GObject *object)
{
  PawlJobsPage *self = PAWL_JOBS_PAGE (object);

  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->record);
  g_clear_pointer (&self->person, g_free);
  g_clear_pointer (&self->revisions, g_hash_table_unref);
  G_OBJECT_CLASS (pawl_jobs_page_parent_class)->dispose (object);
}

static void
pawl_jobs_page_class_init (PawlJobsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_jobs_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-jobs-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlJobsPage, stack);
  gtk_widget_class_bind_template_child (widget_class, PawlJobsPage, list);
  gtk_widget_class_bind_template_child (widget_class, PawlJobsPage, search);
  gtk_widget_class_bind_template_child (widget_class, PawlJobsPage, problem);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, search_stopped_cb);
  signals[HISTORY_WANTED] = g_signal_new ("history-wanted", PAWL_TYPE_JOBS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[JOB_OPENED] = g_signal_new ("job-opened", PAWL_TYPE_JOBS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_jobs_page_init (PawlJobsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
