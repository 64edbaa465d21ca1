/* The jobs page: all jobs, and those that words leave. */
#include <glib/gstdio.h>

#include "app/pawl-jobs-page.h"
#include "many-jobs.h"

#define N_JOBS 210
#define N_LISTED 200

typedef struct {
  char         *folder, *path;
  PawlRecord   *record;
  GtkWidget    *window;
  PawlJobsPage *page;
  char         *opened; /* (nullable): the job that was opened last */
} Bench;

static void
job_opened_cb (PawlJobsPage *page, const char *job, Bench *bench)
{
  g_free (bench->opened);
  bench->opened = g_strdup (job);
}

static void
set_up (Bench *bench, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  bench->folder = g_dir_make_tmp ("pawl-jobs-page-XXXXXX", &error);
  g_assert_no_error (error);
  bench->path = g_build_filename (bench->folder, "record.db", NULL);
  many_jobs_make (bench->path, N_JOBS, 1);
  bench->record = pawl_record_open (bench->path, PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_assert_no_error (error);
  bench->page = g_object_new (PAWL_TYPE_JOBS_PAGE, NULL);
  bench->window = gtk_window_new ();
  gtk_window_set_child (GTK_WINDOW (bench->window), GTK_WIDGET (bench->page));
  g_signal_connect (bench->page, "job-opened", G_CALLBACK (job_opened_cb), bench);
  pawl_jobs_page_apply (bench->page, bench->record);
}

static void
tear_down (Bench *bench, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (bench->window));
  g_clear_object (&bench->record);
  g_remove (bench->path);
  g_rmdir (bench->folder);
  g_free (bench->path);
  g_free (bench->folder);
  g_free (bench->opened);
}

static GtkWidget *
get_child (Bench *bench, const char *name)
{
  return GTK_WIDGET (gtk_widget_get_template_child (GTK_WIDGET (bench->page), PAWL_TYPE_JOBS_PAGE, name));
}

static guint
count_rows (Bench *bench, gboolean is_activatable)
{
  guint n = 0;

  for (GtkWidget *row = gtk_widget_get_first_child (get_child (bench, "list")); row != NULL; row = gtk_widget_get_next_sibling (row))
    n += gtk_list_box_row_get_activatable (GTK_LIST_BOX_ROW (row)) == is_activatable;
  return n;
}

/* As after the pause that a search entry makes, without waiting for it. */
static void
search (Bench *bench, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (get_child (bench, "search")), text);
  g_signal_emit_by_name (get_child (bench, "search"), "search-changed");
}

static gboolean
says (GtkWidget *widget, const char *text)
{
  if (GTK_IS_LABEL (widget) && strstr (gtk_label_get_label (GTK_LABEL (widget)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (says (child, text))
      return TRUE;
  return FALSE;
}

static void
test_all (Bench *bench, gconstpointer data)
{
  g_assert_cmpuint (count_rows (bench, TRUE), ==, N_LISTED);
  g_assert_cmpuint (count_rows (bench, FALSE), ==, 1);
  g_assert_true (says (get_child (bench, "list"), "And 10 more"));
}

static void
test_search (Bench *bench, gconstpointer data)
{
  search (bench, "sn-00042");
  g_assert_cmpuint (count_rows (bench, TRUE), ==, 1);
  g_assert_true (says (get_child (bench, "list"), "Serial: SN-00042"));

  search (bench, "punch zen"); /* each word somewhere in the job */
  g_assert_cmpuint (count_rows (bench, TRUE), ==, 4);
  g_assert_true (says (get_child (bench, "list"), "Note: Two punch marks on the flange, toward the inlet"));
  g_assert_true (says (get_child (bench, "list"), "Customer: Zennor Quarry"));

  search (bench, "strainer");
  g_assert_cmpuint (count_rows (bench, TRUE), ==, 50);
  g_assert_true (says (get_child (bench, "list"), "And 160 more"));

  search (bench, "nowhere");
  g_assert_cmpuint (count_rows (bench, TRUE), ==, 0);
  g_assert_true (says (get_child (bench, "list"), "Nothing found"));

  search (bench, "\" -"); /* no word yet */
  g_assert_cmpuint (count_rows (bench, TRUE), ==, N_LISTED);
}

static void
test_open (Bench *bench, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *wanted = pawl_record_find_job (bench->record, "SN-00042", &error);

  g_assert_no_error (error);
  gtk_editable_set_text (GTK_EDITABLE (get_child (bench, "search")), "sn-00042");
  g_signal_emit_by_name (get_child (bench, "search"), "activate"); /* quicker than the pause */
  g_assert_cmpstr (bench->opened, ==, wanted);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (get_child (bench, "search"))), ==, "");

  g_clear_pointer (&bench->opened, g_free);
  gtk_editable_set_text (GTK_EDITABLE (get_child (bench, "search")), "nowhere");
  g_signal_emit_by_name (get_child (bench, "search"), "activate");
  g_assert_null (bench->opened);
}

static void
test_stop (Bench *bench, gconstpointer data)
{
  search (bench, "nowhere");
  g_signal_emit_by_name (get_child (bench, "search"), "stop-search");
  g_assert_cmpuint (count_rows (bench, TRUE), ==, N_LISTED);
}

static void
test_no_record (Bench *bench, gconstpointer data)
{
  search (bench, "sn-00042");
  pawl_jobs_page_apply (bench->page, NULL);
  g_assert_cmpuint (count_rows (bench, TRUE), ==, 0);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Bench, NULL, set_up, test, tear_down)
  ADD ("/jobs-page/all", test_all);
  ADD ("/jobs-page/search", test_search);
  ADD ("/jobs-page/open", test_open);
  ADD ("/jobs-page/stop", test_stop);
  ADD ("/jobs-page/no-record", test_no_record);

  return g_test_run ();
}
