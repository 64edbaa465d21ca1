#include "app/pawl-printing.h"

#include <glib/gi18n.h>

/* ---- the operation ---- */

static void
begin_cb (GtkPrintOperation *operation, GtkPrintContext *context, PawlSheaf *sheaf)
{
  gtk_print_operation_set_n_pages (operation, (int) pawl_sheaf_get_n (sheaf));
}

static void
draw_page_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, PawlSheaf *sheaf)
{
  pawl_sheaf_draw (sheaf, (guint) page, gtk_print_context_get_cairo_context (context), gtk_print_context_get_width (context),
                   gtk_print_context_get_height (context));
}

static GtkPageSetup *
make_page_setup (PawlPaper paper)
{
  GtkPageSetup *setup = gtk_page_setup_new ();
  GtkPaperSize *size = gtk_paper_size_new (paper == PAWL_PAPER_LETTER ? GTK_PAPER_NAME_LETTER : GTK_PAPER_NAME_A4);

  gtk_page_setup_set_paper_size_and_default_margins (setup, size);
  gtk_paper_size_free (size);
  return setup;
}

/* Our pages have their own margins, wider than those of any printer, so that they are laid on the full paper. */
GtkPrintOperation *
pawl_printing_new_operation (PawlSheaf *sheaf)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_autoptr(GtkPageSetup) setup = make_page_setup (pawl_sheaf_get_paper (sheaf));

  gtk_print_operation_set_default_page_setup (operation, setup);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_job_name (operation, pawl_sheaf_get_title (sheaf));
  g_object_set_data_full (G_OBJECT (operation), "sheaf", sheaf, (GDestroyNotify) pawl_sheaf_free);
  g_signal_connect (operation, "begin-print", G_CALLBACK (begin_cb), sheaf);
  g_signal_connect (operation, "draw-page", G_CALLBACK (draw_page_cb), sheaf);
  return operation;
}

/* ---- the dialog ---- */

#define SETTINGS_KEY "pawl-print-settings"

typedef struct {
  GtkWindow       *window; /* (nullable) weak */
  PawlPrintingSaid said;
  gpointer         data;
} Asking;

/* The printer and its ways are asked for again next time, the pages of this document are not. */
static void
remember_settings (GtkWindow *window, GtkPrintOperation *operation)
{
  GtkPrintSettings *used = gtk_print_operation_get_print_settings (operation);
  GtkPrintSettings *kept = used != NULL ? gtk_print_settings_copy (used) : NULL;

  if (kept == NULL)
    return;
  gtk_print_settings_unset (kept, GTK_PRINT_SETTINGS_PRINT_PAGES);
  gtk_print_settings_unset (kept, GTK_PRINT_SETTINGS_PAGE_RANGES);
  gtk_print_settings_unset (kept, GTK_PRINT_SETTINGS_N_COPIES);
  gtk_print_settings_unset (kept, GTK_PRINT_SETTINGS_OUTPUT_URI);
  g_object_set_data_full (G_OBJECT (window), SETTINGS_KEY, kept, g_object_unref);
}

static void
done_cb (GtkPrintOperation *operation, GtkPrintOperationResult result, Asking *asking)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *problem = NULL;

  if (result == GTK_PRINT_OPERATION_RESULT_ERROR)
    {
      gtk_print_operation_get_error (operation, &error);
      problem = g_strdup_printf (_("Not printed: %s"), error->message);
    }
  if (result == GTK_PRINT_OPERATION_RESULT_APPLY && asking->window != NULL)
    remember_settings (asking->window, operation);
  asking->said (result == GTK_PRINT_OPERATION_RESULT_CANCEL ? NULL : problem != NULL ? problem : _("The pages are handed to the printer."), asking->data);
  g_clear_weak_pointer (&asking->window);
  g_free (asking);
}

/* (transfer full): the title as a file may be called, without what parts folders and without a colon: "Rebuilt SD-3 carburetor". */
static char *
make_file_name (const char *title)
{
  g_auto(GStrv) parts = g_strsplit_set (title, ":/\\", -1);

  for (guint i = 0; parts[i] != NULL; i++)
    g_strstrip (parts[i]);
  return g_strjoinv (" ", parts);
}

/* (transfer full): what was chosen last time in this window; whoever prints to a file is offered one by the name of the document. */
static GtkPrintSettings *
make_settings (GtkWindow *window, const char *title)
{
  GtkPrintSettings *kept = window != NULL ? g_object_get_data (G_OBJECT (window), SETTINGS_KEY) : NULL;
  GtkPrintSettings *settings = kept != NULL ? gtk_print_settings_copy (kept) : gtk_print_settings_new ();
  g_autofree char *name = make_file_name (title);

  gtk_print_settings_set (settings, GTK_PRINT_SETTINGS_OUTPUT_BASENAME, name);
  return settings;
}

void
pawl_printing_ask (PawlSheaf *sheaf, GtkWidget *page, PawlPrintingSaid said, gpointer data)
{
  g_autoptr(GtkPrintOperation) operation = pawl_printing_new_operation (sheaf);
  g_autoptr(GtkPrintSettings) settings = NULL;
  GtkRoot *root = gtk_widget_get_root (page);
  Asking *asking = g_new0 (Asking, 1);

  asking->said = said;
  asking->data = data;
  g_set_weak_pointer (&asking->window, GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL);
  settings = make_settings (asking->window, pawl_sheaf_get_title (sheaf));
  gtk_print_operation_set_print_settings (operation, settings);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect (operation, "done", G_CALLBACK (done_cb), asking);
  /* What goes wrong at once is told to "done" as well. */
  gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, asking->window, NULL);
}
