/* Printing, into a file: each page that the operation asks for is that of the PDF, to the point. Read back by poppler, which knows nothing of how they were made. */
#include <gtk/gtk.h>
#include <locale.h>
#include <math.h>
#include <poppler.h>

#include "app-fixture.h"
#include "app/pawl-printing.h"
#include "report/pawl-report.h"
#include "report/pawl-sheet.h"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PopplerPage, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PopplerDocument, g_object_unref)

/* GTK writes its paper in millimetres of two decimals, or in points of one. */
#define SLACK_PT 0.6

static PawlReport *
new_report (Fixture *self, PawlPaper paper)
{
  const PawlReportOptions options = { .paper = paper, .issued = self->now, .version = 1 };

  return pawl_report_new (pawl_session_get_job (self->session), NULL, &options, NULL, NULL);
}

static PopplerDocument *
open_pdf (GBytes *bytes)
{
  g_autoptr(GError) error = NULL;
  PopplerDocument *document = poppler_document_new_from_bytes (bytes, NULL, &error);

  g_assert_no_error (error);
  return document;
}

static PopplerDocument *
make_pdf (PawlPages *pages)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = pawl_pages_make_pdf (pages, &error);

  g_assert_no_error (error);
  return open_pdf (bytes);
}

/* What would come out of a printer. @paper: (nullable): another than the document's, by its PWG name. */
static PopplerDocument *
export (Fixture *self, PawlPages *pages, const char *paper)
{
  g_autoptr(GtkPrintOperation) operation = pawl_printing_new_operation (pawl_sheaf_new (pages));
  g_autofree char *path = g_build_filename (self->folder, "exported.pdf", NULL);
  g_autofree char *contents = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;
  gsize length;

  if (paper != NULL)
    {
      g_autoptr(GtkPageSetup) setup = gtk_page_setup_new ();
      GtkPaperSize *size = gtk_paper_size_new (paper);

      gtk_page_setup_set_paper_size_and_default_margins (setup, size);
      gtk_print_operation_set_default_page_setup (operation, setup);
      gtk_paper_size_free (size);
    }
  gtk_print_operation_set_export_filename (operation, path);
  g_assert_cmpint (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_EXPORT, NULL, &error), ==, GTK_PRINT_OPERATION_RESULT_APPLY);
  g_assert_no_error (error);
  g_file_get_contents (path, &contents, &length, &error);
  g_assert_no_error (error);
  bytes = g_bytes_new_take (g_steal_pointer (&contents), length);
  return open_pdf (bytes);
}

typedef struct {
  gunichar        letter;
  PopplerRectangle box;
} Letter;

/* (element-type Letter): what ink there is, in whatever order poppler takes it to be read: a hair's breadth changes that. */
static GArray *
list_letters (PopplerDocument *document, int n)
{
  g_autoptr(PopplerPage) page = poppler_document_get_page (document, n);
  g_autofree char *text = poppler_page_get_text (page);
  g_autofree PopplerRectangle *boxes = NULL;
  GArray *letters = g_array_new (FALSE, FALSE, sizeof (Letter));
  const char *p = text;
  guint n_boxes;

  g_assert_true (poppler_page_get_text_layout (page, &boxes, &n_boxes));
  g_assert_cmpint (n_boxes, ==, g_utf8_strlen (text, -1));
  for (guint i = 0; i < n_boxes; i++, p = g_utf8_next_char (p))
    if (!g_unichar_isspace (g_utf8_get_char (p)))
      g_array_append_vals (letters, &(Letter) { g_utf8_get_char (p), boxes[i] }, 1);
  return letters;
}

static gboolean
is_near (double a, double b)
{
  return fabs (a - b) < SLACK_PT;
}

static gboolean
has_letter (const GArray *letters, gunichar letter, double x1, double y1, double x2, double y2)
{
  for (guint i = 0; i < letters->len; i++)
    {
      const Letter *other = &g_array_index (letters, Letter, i);

      if (other->letter == letter && is_near (other->box.x1, x1) && is_near (other->box.y1, y1) && is_near (other->box.x2, x2) && is_near (other->box.y2, y2))
        return TRUE;
    }
  return FALSE;
}

/* Every letter of one page stands on the other, both its ways scaled by @scale and then moved by @dx and @dy, and no others do. */
static void
assert_same_page (PopplerDocument *pdf, int n_pdf, PopplerDocument *printed, int n_printed, double scale, double dx, double dy)
{
  g_autoptr(GArray) letters = list_letters (pdf, n_pdf);
  g_autoptr(GArray) printed_letters = list_letters (printed, n_printed);

  g_assert_cmpuint (letters->len, >, 100);
  g_assert_cmpuint (printed_letters->len, ==, letters->len);
  for (guint i = 0; i < letters->len; i++)
    {
      const Letter *one = &g_array_index (letters, Letter, i);

      g_assert_true (has_letter (printed_letters, one->letter, one->box.x1 * scale + dx, one->box.y1 * scale + dy, one->box.x2 * scale + dx,
                                 one->box.y2 * scale + dy));
    }
}

static void
get_size (PopplerDocument *document, double *width, double *height)
{
  g_autoptr(PopplerPage) page = poppler_document_get_page (document, 0);

  poppler_page_get_size (page, width, height);
}

static void
assert_prints_as_pdf (Fixture *self, PawlPages *pages)
{
  g_autoptr(PopplerDocument) pdf = make_pdf (pages);
  g_autoptr(PopplerDocument) printed = export (self, pages, NULL);
  double width, height, printed_width, printed_height;

  get_size (pdf, &width, &height);
  get_size (printed, &printed_width, &printed_height);
  g_assert_cmpfloat_with_epsilon (printed_width, width, 1);
  g_assert_cmpfloat_with_epsilon (printed_height, height, 1);
  g_assert_cmpint (poppler_document_get_n_pages (printed), ==, poppler_document_get_n_pages (pdf));
  for (int i = 0; i < poppler_document_get_n_pages (pdf); i++)
    assert_same_page (pdf, i, printed, i, 1, 0, 0);
}

static void
test_report (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlReport) a4 = new_report (self, PAWL_PAPER_A4);
  g_autoptr(PawlReport) letter = new_report (self, PAWL_PAPER_LETTER);

  assert_prints_as_pdf (self, pawl_report_get_pages (a4));
  assert_prints_as_pdf (self, pawl_report_get_pages (letter));
}

static void
test_bench_sheet (Fixture *self, gconstpointer data)
{
  const PawlSheetOptions options = { .paper = PAWL_PAPER_A4, .issued = self->now };
  g_autoptr(PawlPages) pages = pawl_sheet_new (self->procedure, NULL, &options);

  assert_prints_as_pdf (self, pages);
}

/* Smaller, narrower and larger paper: the page keeps its proportions, is never enlarged, and stands in the middle. */
static void
test_other_paper (Fixture *self, gconstpointer data)
{
  static const char * const papers[] = { GTK_PAPER_NAME_A5, GTK_PAPER_NAME_LETTER, GTK_PAPER_NAME_A3 };
  g_autoptr(PawlReport) report = new_report (self, PAWL_PAPER_A4);
  PawlPages *pages = pawl_report_get_pages (report);
  g_autoptr(PopplerDocument) pdf = make_pdf (pages);
  double width, height;

  get_size (pdf, &width, &height);
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      g_autoptr(PopplerDocument) printed = export (self, pages, papers[i]);
      double paper_width, paper_height, scale;

      get_size (printed, &paper_width, &paper_height);
      scale = fmin (1, fmin (paper_width / width, paper_height / height));
      assert_same_page (pdf, 0, printed, 0, scale, (paper_width - scale * width) / 2, (paper_height - scale * height) / 2);
    }
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv);
  setlocale (LC_ALL, "C.UTF-8");
  g_test_add ("/printing/report", Fixture, NULL, fixture_set_up, test_report, fixture_tear_down);
  g_test_add ("/printing/bench-sheet", Fixture, NULL, fixture_set_up, test_bench_sheet, fixture_tear_down);
  g_test_add ("/printing/other-paper", Fixture, NULL, fixture_set_up, test_other_paper, fixture_tear_down);
  return g_test_run ();
}
