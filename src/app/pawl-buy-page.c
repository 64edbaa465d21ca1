#include "app/pawl-buy-page.h"

#include <glib/gi18n.h>
#include "app/pawl-buy-line.h"
#include "app/pawl-list-line.h"
#include "app/pawl-printing.h"
#include "app/pawl-work.h"
#include "bench/pawl-bench.h"
#include "report/pawl-buy-list.h"

struct _PawlBuyPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *problem, *status, *jobs, *others, *table, *empty, *tools;

  /* owned */
  PawlRecord *record;            /* (nullable) */
  GListStore *lines;             /* of PawlBuyLine, those of the jobs that are chosen */
  GtkFileChooserNative *chooser; /* (nullable) while it is open */

  const PawlShop * const *shop;  /* borrowed */
};

enum { JOB_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlBuyPage, pawl_buy_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* ---- which jobs ---- */

static PawlJob *
get_job (GtkWidget *choice)
{
  return g_object_get_data (G_OBJECT (choice), "job");
}

/* (transfer container) (element-type PawlJob): those that are chosen. */
static GPtrArray *
list_chosen (PawlBuyPage *self)
{
  GPtrArray *jobs = g_ptr_array_new_with_free_func (g_object_unref);

  for (GtkWidget *choice = gtk_widget_get_first_child (self->jobs); choice != NULL; choice = gtk_widget_get_next_sibling (choice))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (choice)))
      g_ptr_array_add (jobs, g_object_ref (get_job (choice)));
  return jobs;
}

static void
show_chosen (PawlBuyPage *self)
{
  g_autoptr(GPtrArray) jobs = list_chosen (self);

  set_text (self->status, NULL);
  g_list_store_remove_all (self->lines);
  for (guint i = 0; i < jobs->len; i++)
    {
      g_autoptr(GPtrArray) wants = pawl_job_list_wants (jobs->pdata[i]);

      for (guint j = 0; j < wants->len; j++)
        {
          g_autoptr(PawlBuyLine) line = pawl_buy_line_new (jobs->pdata[i], wants->pdata[j]);

          g_list_store_append (self->lines, line);
        }
    }
  gtk_widget_set_sensitive (self->tools, g_list_model_get_n_items (G_LIST_MODEL (self->lines)) > 0);
}

static void
add_choice (PawlBuyPage *self, PawlJob *job, guint n_wants)
{
  g_autofree char *name = pawl_buy_describe_job (job);
  g_autofree char *text = g_strdup_printf (g_dngettext (NULL, "%s: %u line", "%s: %u lines", n_wants), name, n_wants);
  GtkWidget *choice = gtk_check_button_new_with_label (text);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (choice), TRUE);
  g_object_set_data_full (G_OBJECT (choice), "job", g_object_ref (job), g_object_unref);
  g_signal_connect_object (choice, "toggled", G_CALLBACK (show_chosen), self, G_CONNECT_SWAPPED);
  gtk_box_append (GTK_BOX (self->jobs), choice);
}

/* Those that want nothing are only counted; one that can't be read is named, and the others go on. */
static void
load_jobs (PawlBuyPage *self, GPtrArray *lines, const char *language)
{
  g_autoptr(GString) problems = g_string_new (NULL);
  guint n_content = 0;

  for (guint i = lines->len; i > 0; i--) /* the longest untouched first, as the command has them */
    {
      const PawlJobLine *line = lines->pdata[i - 1];
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlBench) bench = line->is_signed ? NULL : pawl_bench_resume (self->record, line->id, language, &error);
      g_autoptr(GPtrArray) wants = bench != NULL ? pawl_job_list_wants (pawl_bench_get_job (bench)) : NULL;

      if (error != NULL)
        g_string_append_printf (problems, "%s%s: %s", problems->len > 0 ? "\n" : "", line->unit, error->message);
      if (wants != NULL && wants->len > 0)
        add_choice (self, pawl_bench_get_job (bench), wants->len);
      else if (wants != NULL)
        n_content++;
    }
  set_text (self->problem, problems->len > 0 ? problems->str : NULL);
  if (n_content > 0)
    {
      g_autofree char *text = g_strdup_printf (g_dngettext (NULL, "%u more open job wants nothing.", "%u more open jobs want nothing.", n_content), n_content);

      set_text (self->others, text);
    }
}

void
pawl_buy_page_apply (PawlBuyPage *self, PawlRecord *record, const char *language)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) lines = record != NULL ? pawl_record_list_jobs (record, &error) : NULL;
  gboolean is_any;
  GtkWidget *choice;

  g_set_object (&self->record, record);
  while ((choice = gtk_widget_get_first_child (self->jobs)) != NULL)
    gtk_box_remove (GTK_BOX (self->jobs), choice);
  set_text (self->others, NULL);
  set_text (self->problem, error != NULL ? error->message : NULL);
  if (lines != NULL)
    load_jobs (self, lines, language);
  is_any = gtk_widget_get_first_child (self->jobs) != NULL;
  gtk_widget_set_visible (self->empty, !is_any && error == NULL);
  gtk_widget_set_visible (self->table, is_any);
  gtk_widget_set_visible (self->tools, is_any);
  show_chosen (self);
}

void
pawl_buy_page_set_shop (PawlBuyPage *self, const PawlShop * const *shop)
{
  self->shop = shop;
}

void
pawl_buy_page_go (PawlBuyPage *self)
{
  GtkWidget *first = gtk_widget_get_first_child (self->jobs);

  if (first != NULL)
    gtk_widget_grab_focus (first);
}

/* ---- the table ---- */

static void
set_up_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer column)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), GPOINTER_TO_UINT (column) == PAWL_BUY_QUANTITY ? 1 : 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (GPOINTER_TO_UINT (column) == PAWL_BUY_WHAT)
    gtk_widget_add_css_class (label, "strong");
  gtk_list_item_set_child (item, label);
}

static void
bind_cb (GtkSignalListItemFactory *factory, GtkListItem *item, gpointer column)
{
  gtk_label_set_label (GTK_LABEL (gtk_list_item_get_child (item)), pawl_buy_line_get_text (gtk_list_item_get_item (item), GPOINTER_TO_UINT (column)));
}

static int
compare_texts (gconstpointer a, gconstpointer b, gpointer column)
{
  PawlBuyLine *left = PAWL_BUY_LINE ((gpointer) a), *right = PAWL_BUY_LINE ((gpointer) b);
  g_autofree char *one = g_utf8_collate_key_for_filename (pawl_buy_line_get_text (left, GPOINTER_TO_UINT (column)), -1);
  g_autofree char *other = g_utf8_collate_key_for_filename (pawl_buy_line_get_text (right, GPOINTER_TO_UINT (column)), -1);

  return g_strcmp0 (one, other);
}

static void
add_column (PawlBuyPage *self, PawlBuyColumn number, const char *title, gboolean is_wide)
{
  GtkListItemFactory *factory = gtk_signal_list_item_factory_new ();
  GtkColumnViewColumn *column = gtk_column_view_column_new (title, factory);
  GtkSorter *sorter = GTK_SORTER (gtk_custom_sorter_new (compare_texts, GUINT_TO_POINTER (number), NULL));

  g_signal_connect (factory, "setup", G_CALLBACK (set_up_cb), GUINT_TO_POINTER (number));
  g_signal_connect (factory, "bind", G_CALLBACK (bind_cb), GUINT_TO_POINTER (number));
  gtk_column_view_column_set_expand (column, is_wide);
  gtk_column_view_column_set_sorter (column, sorter);
  gtk_column_view_append_column (GTK_COLUMN_VIEW (self->table), column);
  g_object_unref (sorter);
  g_object_unref (column);
}

static void
fill_table (PawlBuyPage *self)
{
  GtkSortListModel *sorted = gtk_sort_list_model_new (g_object_ref (G_LIST_MODEL (self->lines)), g_object_ref (gtk_column_view_get_sorter (GTK_COLUMN_VIEW (self->table))));
  GtkSingleSelection *selection = gtk_single_selection_new (G_LIST_MODEL (sorted));

  add_column (self, PAWL_BUY_JOB, _("Job"), TRUE);
  add_column (self, PAWL_BUY_WHAT, _("What"), TRUE);
  add_column (self, PAWL_BUY_QUANTITY, _("Quantity"), FALSE);
  add_column (self, PAWL_BUY_WHY, _("Why"), TRUE);
  add_column (self, PAWL_BUY_FROM, _("From"), TRUE);
  add_column (self, PAWL_BUY_EXPECTED, _("Expected"), FALSE);
  gtk_column_view_set_model (GTK_COLUMN_VIEW (self->table), GTK_SELECTION_MODEL (selection));
  g_object_unref (selection);
}

static void
activated_cb (GtkColumnView *table, guint position, PawlBuyPage *self)
{
  g_autoptr(PawlBuyLine) line = g_list_model_get_item (G_LIST_MODEL (gtk_column_view_get_model (table)), position);

  g_signal_emit (self, signals[JOB_WANTED], 0, pawl_buy_line_get_job (line));
}

/* ---- as CSV ---- */

static void
file_chosen_cb (GtkNativeDialog *chooser, int response, PawlBuyPage *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  g_autoptr(GPtrArray) jobs = list_chosen (self);
  g_autofree char *csv = pawl_buy_list_make_csv (jobs);
  g_autoptr(GError) error = NULL;

  g_clear_object (&self->chooser);
  if (file == NULL)
    return;
  g_file_replace_contents (file, csv, strlen (csv), NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL, &error);
  set_text (self->status, error != NULL ? error->message : _("The list is saved."));
}

static void
save_cb (PawlBuyPage *self)
{
  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (_("Save the list as a table"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), GTK_FILE_CHOOSER_ACTION_SAVE,
                                               _("Save"), _("Never mind"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), _("to-buy.csv"));
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (file_chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* ---- on paper ---- */

typedef struct {
  GPtrArray *jobs;
  PawlShop  *shop;
  GDateTime *issued;
} Input;

static void
input_free (gpointer data)
{
  Input *input = data;

  g_ptr_array_unref (input->jobs);
  pawl_shop_free (input->shop);
  g_date_time_unref (input->issued);
  g_free (input);
}

static void
lay_out_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  const Input *input = data;
  const PawlBuyListOptions options = { .paper = input->shop->paper, .shop = input->shop, .issued = input->issued };
  g_autoptr(PawlPages) pages = pawl_buy_list_new (input->jobs, &options);

  g_task_return_pointer (task, pawl_sheaf_new (pages), (GDestroyNotify) pawl_sheaf_free);
}

static void
printed_cb (const char *words, gpointer data)
{
  g_autoptr(PawlBuyPage) self = data;

  set_text (self->status, words);
}

static void
laid_out_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlSheaf *sheaf = g_task_propagate_pointer (G_TASK (result), NULL);

  set_text (PAWL_BUY_PAGE (source)->status, NULL);
  pawl_printing_ask (sheaf, GTK_WIDGET (source), printed_cb, g_object_ref (source));
}

static void
print_cb (PawlBuyPage *self)
{
  g_autoptr(GTask) task = g_task_new (self, NULL, laid_out_cb, NULL);
  Input *input = g_new0 (Input, 1);

  input->jobs = list_chosen (self);
  input->shop = pawl_shop_copy (*self->shop);
  input->issued = pawl_record_dup_now (self->record);
  g_task_set_task_data (task, input, input_free);
  set_text (self->status, _("The pages are being laid out…"));
  pawl_work_start (task, GTK_WIDGET (self), lay_out_in_thread);
}

/* ---- widget ---- */

static void
pawl_buy_page_dispose (GObject *object)
{
  PawlBuyPage *self = PAWL_BUY_PAGE (object);

  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->record);
  g_clear_object (&self->lines);
  G_OBJECT_CLASS (pawl_buy_page_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlBuyPage, child)

static void
pawl_buy_page_class_init (PawlBuyPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_buy_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-buy-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (box);
  BIND (problem);
  BIND (status);
  BIND (jobs);
  BIND (others);
  BIND (table);
  BIND (empty);
  BIND (tools);
  gtk_widget_class_bind_template_callback (widget_class, activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
  gtk_widget_class_bind_template_callback (widget_class, print_cb);
  signals[JOB_WANTED] = g_signal_new ("job-wanted", PAWL_TYPE_BUY_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

#undef BIND

static void
pawl_buy_page_init (PawlBuyPage *self)
{
  self->lines = g_list_store_new (PAWL_TYPE_BUY_LINE);
  gtk_widget_init_template (GTK_WIDGET (self));
  fill_table (self);
}
