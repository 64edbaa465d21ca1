#include "app/pawl-procedures-page.h"

#include <glib/gi18n.h>
#include "app/pawl-intake-form.h"
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"
#include "app/pawl-sheet-bar.h"
#include "app/pawl-work.h"

#define MOST_FINDINGS 12

struct _PawlProceduresPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *stack, *list, *empty, *title, *facts, *statement, *problem, *findings, *findings_box;
  GtkWidget *intake, *begin, *sheet;

  /* owned */
  GPtrArray    *lines;       /* (element-type PawlProcedureLine) */
  char         *language;    /* (nullable) */
  GCancellable *cancellable; /* of the folder that is read now */
  GCancellable *opening;     /* of the file that is opened now */
  GCancellable *proofing;    /* of figures that are being tried */

  PawlTrial         *trial;  /* borrowed */
  PawlProcedureLine *chosen; /* borrowed from lines */
};

enum { JOB_WANTED, LISTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlProceduresPage, pawl_procedures_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

/* ---- the form ---- */

static char *
join_findings (GPtrArray *findings)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < findings->len && i < MOST_FINDINGS; i++)
    {
      g_autofree char *line = pawl_finding_format (findings->pdata[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", line);
    }
  if (findings->len > MOST_FINDINGS)
    g_string_append_printf (text, _("\nand %u more"), findings->len - MOST_FINDINGS);
  return g_string_free (text, FALSE);
}

/* What changes when the figure has been tried. */
static void
apply_proof (PawlProceduresPage *self)
{
  const PawlProcedureLine *line = self->chosen;
  g_autofree char *facts = line->procedure != NULL ? pawl_procedure_line_describe (line) : NULL;
  g_autofree char *findings = join_findings (line->findings);

  set_text (self->facts, facts);
  gtk_label_set_label (GTK_LABEL (self->findings), findings);
  gtk_widget_set_visible (self->findings_box, line->findings->len > 0);
  set_text (self->problem, line->problem);
}

static void
show_form (PawlProceduresPage *self, PawlProcedureLine *line)
{
  gboolean is_usable = line->procedure != NULL;

  self->chosen = line;
  set_text (self->title, is_usable ? pawl_procedure_get_title (line->procedure) : _("This procedure can’t be used"));
  apply_proof (self);
  set_text (self->statement, is_usable ? pawl_procedure_get_statement (line->procedure) : NULL);
  gtk_widget_set_visible (self->intake, is_usable);
  gtk_widget_set_visible (self->begin, is_usable);
  pawl_sheet_bar_set_procedure (PAWL_SHEET_BAR (self->sheet), line->procedure, line->figure);
  if (is_usable)
    pawl_intake_form_set_procedure (PAWL_INTAKE_FORM (self->intake), line->procedure);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "form");
  if (is_usable)
    pawl_intake_form_go (PAWL_INTAKE_FORM (self->intake));
}

static void
back_cb (GtkWidget *widget, PawlProceduresPage *self)
{
  pawl_procedures_page_show_list (self);
}

static void
begin_cb (GtkWidget *widget, PawlProceduresPage *self)
{
  PawlIntakeForm *form = PAWL_INTAKE_FORM (self->intake);
  g_autofree char *person = g_strstrip (g_strdup (pawl_intake_form_get_person (form)));
  PawlIntake intake;

  if (self->chosen == NULL || self->chosen->procedure == NULL)
    return;
  if (*person == '\0')
    {
      pawl_procedures_page_say (self, _("say who is at the bench: every entry carries a name"));
      pawl_intake_form_go (form);
      return;
    }
  intake = pawl_intake_form_get (form);
  g_signal_emit (self, signals[JOB_WANTED], 0, self->chosen, &intake, person);
}

/* ---- the list ---- */

static GtkWidget *
make_line (PawlProcedureLine *procedure)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *name = g_path_get_basename (procedure->path);
  const char *title = procedure->procedure != NULL ? pawl_procedure_get_title (procedure->procedure) : name;

  pawl_list_line_append (line, title, "row-title");
  if (procedure->procedure != NULL)
    {
      g_autofree char *facts = pawl_procedure_line_describe (procedure);

      pawl_list_line_append (line, pawl_procedure_get_unit (procedure->procedure), NULL);
      pawl_list_line_append (line, facts, "secondary");
      pawl_list_line_append (line, pawl_phrase_get_verified (pawl_procedure_get_verified (procedure->procedure)), "secondary");
    }
  pawl_list_line_append (line, procedure->problem, "problem");
  return line;
}

static GtkWidget *
make_row (PawlProcedureLine *procedure)
{
  g_autofree char *name = g_path_get_basename (procedure->path);
  GtkWidget *row = pawl_list_line_wrap (make_line (procedure), procedure->procedure != NULL ? pawl_procedure_get_title (procedure->procedure) : name,
                                        procedure->problem != NULL ? procedure->problem : "");

  g_object_set_data (G_OBJECT (row), "line", procedure);
  return row;
}

/* The row stays, with the focus that it may have; what it says is made anew. */
static void
apply_row (PawlProceduresPage *self, PawlProcedureLine *line)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->list); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (g_object_get_data (G_OBJECT (row), "line") == line)
      {
        gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), make_line (line));
        gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, line->problem != NULL ? line->problem : "", -1);
      }
}

/* ---- trying their figures off the main loop ---- */

typedef struct {
  PawlProcedure *procedure;
  GBytes        *figure;
  PawlTrial     *trial;
} Proofing;

static void
proofing_free (gpointer data)
{
  Proofing *proofing = data;

  g_object_unref (proofing->procedure);
  g_bytes_unref (proofing->figure);
  g_object_unref (proofing->trial);
  g_free (proofing);
}

static void
proof_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Proofing *proofing = data;

  g_task_return_pointer (task, pawl_figure_proof_new (proofing->procedure, proofing->figure, proofing->trial, cancellable),
                         (GDestroyNotify) pawl_figure_proof_free);
}

/* A line lives as long as its proof is not cancelled. */
static void
proofed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlProceduresPage *self = PAWL_PROCEDURES_PAGE (source);
  PawlFigureProof *proof = g_task_propagate_pointer (G_TASK (result), NULL);
  PawlProcedureLine *line = data;

  if (proof == NULL)
    return;
  pawl_procedure_line_take_proof (line, proof);
  apply_row (self, line);
  if (self->chosen == line)
    apply_proof (self);
}

static void
start_proofing (PawlProceduresPage *self, PawlProcedureLine *line)
{
  g_autoptr(GTask) task = g_task_new (self, self->proofing, proofed_cb, line);
  Proofing *proofing = g_new0 (Proofing, 1);

  proofing->procedure = g_object_ref (line->procedure);
  proofing->figure = g_bytes_ref (line->figure);
  proofing->trial = g_object_ref (self->trial);
  g_task_set_task_data (task, proofing, proofing_free);
  pawl_work_start (task, GTK_WIDGET (self), proof_in_thread);
}

static void
add_line (PawlProceduresPage *self, PawlProcedureLine *line)
{
  if (pawl_procedure_line_wants_proof (line))
    start_proofing (self, line);
  g_ptr_array_add (self->lines, line);
  gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (line));
  gtk_widget_hide (self->empty);
}

static void
clear (PawlProceduresPage *self)
{
  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  self->chosen = NULL;
  g_cancellable_cancel (self->proofing);
  g_clear_object (&self->proofing);
  self->proofing = g_cancellable_new ();
  g_ptr_array_set_size (self->lines, 0);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlProceduresPage *self)
{
  show_form (self, g_object_get_data (G_OBJECT (row), "line"));
}

/* ---- reading files off the main loop ---- */

typedef struct {
  char **paths;
  char  *language;
} Reading;

static void
reading_free (gpointer data)
{
  Reading *reading = data;

  g_strfreev (reading->paths);
  g_free (reading->language);
  g_free (reading);
}

static void
read_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Reading *reading = data;
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_procedure_line_free);

  for (guint i = 0; reading->paths[i] != NULL && !g_cancellable_is_cancelled (cancellable); i++)
    g_ptr_array_add (lines, pawl_procedure_line_load (reading->paths[i], reading->language));
  g_task_return_pointer (task, lines, (GDestroyNotify) g_ptr_array_unref);
}

static void
start_reading (PawlProceduresPage *self, char **paths, GCancellable *cancellable, GAsyncReadyCallback done)
{
  g_autoptr(GTask) task = g_task_new (self, cancellable, done, NULL);
  Reading *reading = g_new0 (Reading, 1);

  reading->paths = paths;
  reading->language = g_strdup (self->language);
  g_task_set_task_data (task, reading, reading_free);
  pawl_work_start (task, GTK_WIDGET (self), read_in_thread);
}

/* (transfer full) (nullable): NULL when the result is stale. */
static GPtrArray *
finish_reading (GAsyncResult *result)
{
  GPtrArray *lines = g_task_propagate_pointer (G_TASK (result), NULL);

  if (lines != NULL)
    g_ptr_array_set_free_func (lines, NULL); /* the page takes them one by one */
  return lines;
}

static void
folder_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlProceduresPage *self = PAWL_PROCEDURES_PAGE (source);
  g_autoptr(GPtrArray) lines = finish_reading (result);

  if (lines == NULL)
    return;
  for (guint i = 0; i < lines->len; i++)
    add_line (self, lines->pdata[i]);
  gtk_widget_set_visible (self->empty, self->lines->len == 0);
  g_signal_emit (self, signals[LISTED], 0);
}

static void
file_read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlProceduresPage *self = PAWL_PROCEDURES_PAGE (source);
  g_autoptr(GPtrArray) lines = finish_reading (result);

  if (lines == NULL || lines->len == 0)
    return;
  add_line (self, lines->pdata[0]);
  show_form (self, lines->pdata[0]);
}

GHashTable *
pawl_procedures_page_list_revisions (PawlProceduresPage *self)
{
  GHashTable *revisions = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  for (guint i = 0; i < self->lines->len; i++)
    {
      const PawlProcedureLine *line = self->lines->pdata[i];

      if (line->procedure != NULL)
        g_hash_table_insert (revisions, g_strdup (pawl_procedure_get_id (line->procedure)), g_strdup (pawl_procedure_get_revision (line->procedure)));
    }
  return revisions;
}

void
pawl_procedures_page_list (PawlProceduresPage *self, const char * const *folders, const char *language, PawlTrial *trial)
{
  g_autoptr(GPtrArray) paths = g_ptr_array_new ();

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  self->cancellable = g_cancellable_new ();
  self->trial = trial;
  pawl_sheet_bar_set_trial (PAWL_SHEET_BAR (self->sheet), trial);
  g_free (self->language);
  self->language = g_strdup (language);
  clear (self);
  for (guint i = 0; folders[i] != NULL; i++)
    {
      g_autofree char **files = pawl_procedure_line_list_folder (folders[i]);

      for (guint j = 0; files[j] != NULL; j++)
        g_ptr_array_add (paths, files[j]);
    }
  g_ptr_array_add (paths, NULL);
  start_reading (self, (char **) g_ptr_array_steal (paths, NULL), self->cancellable, folder_read_cb);
}

void
pawl_procedures_page_open (PawlProceduresPage *self, const char *path)
{
  char **paths = g_new0 (char *, 2);

  paths[0] = g_strdup (path);
  g_cancellable_cancel (self->opening);
  g_clear_object (&self->opening);
  self->opening = g_cancellable_new ();
  start_reading (self, paths, self->opening, file_read_cb);
}

void
pawl_procedures_page_set_person (PawlProceduresPage *self, const char *person)
{
  pawl_intake_form_set_person (PAWL_INTAKE_FORM (self->intake), person);
}

void
pawl_procedures_page_set_bench (PawlProceduresPage *self, const char *bench)
{
  pawl_intake_form_set_bench (PAWL_INTAKE_FORM (self->intake), bench);
}

void
pawl_procedures_page_set_ask_first (PawlProceduresPage *self, gboolean is_ask_first)
{
  pawl_intake_form_set_ask_first (PAWL_INTAKE_FORM (self->intake), is_ask_first);
}

void
pawl_procedures_page_set_shop (PawlProceduresPage *self, const PawlShop * const *shop, const PawlRecordHost *host)
{
  pawl_sheet_bar_set_shop (PAWL_SHEET_BAR (self->sheet), shop, host);
}

void
pawl_procedures_page_say (PawlProceduresPage *self, const char *problem)
{
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  set_text (self->problem, sentence);
}

void
pawl_procedures_page_show_list (PawlProceduresPage *self)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  gtk_widget_grab_focus (self->list);
}

void
pawl_procedures_page_begun (PawlProceduresPage *self)
{
  pawl_intake_form_clear (PAWL_INTAKE_FORM (self->intake));
  pawl_procedures_page_show_list (self);
}

/* ---- widget ---- */

static void
pawl_procedures_page_dispose (GObject *object)
{
  PawlProceduresPage *self = PAWL_PROCEDURES_PAGE (object);

  g_cancellable_cancel (self->cancellable);
  g_cancellable_cancel (self->opening);
  g_cancellable_cancel (self->proofing);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->opening);
  g_clear_object (&self->proofing);
  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_pointer (&self->lines, g_ptr_array_unref);
  g_clear_pointer (&self->language, g_free);
  G_OBJECT_CLASS (pawl_procedures_page_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlProceduresPage, child)

static void
pawl_procedures_page_class_init (PawlProceduresPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_procedures_page_dispose;
  g_type_ensure (PAWL_TYPE_INTAKE_FORM);
  g_type_ensure (PAWL_TYPE_SHEET_BAR);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-procedures-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (stack);
  BIND (list);
  BIND (empty);
  BIND (title);
  BIND (facts);
  BIND (statement);
  BIND (problem);
  BIND (findings);
  BIND (findings_box);
  BIND (intake);
  BIND (begin);
  BIND (sheet);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, begin_cb);
  signals[JOB_WANTED] = g_signal_new ("job-wanted", PAWL_TYPE_PROCEDURES_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 3,
                                      G_TYPE_POINTER, G_TYPE_POINTER, G_TYPE_STRING);
  signals[LISTED] = g_signal_new ("listed", PAWL_TYPE_PROCEDURES_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

#undef BIND

static void
pawl_procedures_page_init (PawlProceduresPage *self)
{
  self->lines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_procedure_line_free);
  gtk_widget_init_template (GTK_WIDGET (self));
}
