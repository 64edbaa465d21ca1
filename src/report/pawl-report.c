#include "report/pawl-report.h"

#include <cairo-pdf.h>
#include <glib/gstdio.h>

#include "report/pawl-content.h"
#include "report/pawl-words.h"

G_DEFINE_QUARK (pawl-report-error-quark, pawl_report_error)

/* ISO 216 A4 and ANSI/ASME Y14.1 A, in points of 1/72 inch. */
static const struct { double width, height; } papers[] = {
  [PAWL_PAPER_A4]     = { 210 / 25.4 * 72, 297 / 25.4 * 72 },
  [PAWL_PAPER_LETTER] = { 8.5 * 72, 11 * 72 },
};

/* Margins, points: wider at the left, where it is stapled. */
#define MARGIN_LEFT   54.0
#define MARGIN_RIGHT  42.0
#define MARGIN_TOP    48.0
#define MARGIN_BOTTOM 38.0
#define RUNNING_HEAD_Y 26.0

struct _PawlReport {
  GObject parent_instance;

  PawlFlow      *flow;
  PawlPageFrame  frame;
  char          *title;
  char          *running; /* head of each page, left */
  char          *author;
  GDateTime     *issued;

  PawlJob       *job;
  PawlFigure    *figure;
};

G_DEFINE_TYPE (PawlReport, pawl_report, G_TYPE_OBJECT)

static void
pawl_report_dispose (GObject *object)
{
  PawlReport *self = PAWL_REPORT (object);

  g_clear_pointer (&self->flow, pawl_flow_free);
  g_clear_object (&self->job);
  g_clear_object (&self->figure);
  G_OBJECT_CLASS (pawl_report_parent_class)->dispose (object);
}

static void
pawl_report_finalize (GObject *object)
{
  PawlReport *self = PAWL_REPORT (object);

  g_free (self->title);
  g_free (self->running);
  g_free (self->author);
  g_date_time_unref (self->issued);
  G_OBJECT_CLASS (pawl_report_parent_class)->finalize (object);
}

static void
pawl_report_class_init (PawlReportClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_report_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_report_finalize;
}

static void
pawl_report_init (PawlReport *self)
{
}

static void
add_blocks (const PawlContent *content)
{
  pawl_content_add_front (content);
  pawl_content_add_figure (content);
  pawl_content_add_readings (content);
  pawl_content_add_fits (content);
  pawl_content_add_checks (content);
  pawl_content_add_parts (content);
  pawl_content_add_deviations (content);
  pawl_content_add_missing (content);
  pawl_content_add_waits (content);
  pawl_content_add_notes (content);
  pawl_content_add_photos (content);
  pawl_content_add_history (content);
  pawl_content_add_settings (content);
  pawl_content_add_signature (content);
  pawl_content_add_limits (content);
}

static PawlPageFrame
make_frame (PawlPaper paper)
{
  return (PawlPageFrame) {
    .width = papers[paper].width,
    .height = papers[paper].height,
    .left = MARGIN_LEFT,
    .right = papers[paper].width - MARGIN_RIGHT,
    .top = MARGIN_TOP,
    .bottom = papers[paper].height - MARGIN_BOTTOM,
  };
}

PawlReport *
pawl_report_new (PawlJob *job, PawlFigure *figure, const PawlReportOptions *options, PawlReportLoadKept load_kept, gpointer data)
{
  PawlReport *self;
  PawlProcedure *procedure;
  g_autofree char *id = NULL;
  PawlContent content;

  g_return_val_if_fail (PAWL_IS_JOB (job), NULL);
  g_return_val_if_fail (options && options->issued, NULL);

  self = g_object_new (PAWL_TYPE_REPORT, NULL);
  procedure = pawl_job_get_procedure (job);
  id = pawl_words_short_id (pawl_job_get_id (job));
  self->job = g_object_ref (job);
  g_set_object (&self->figure, figure);
  self->frame = make_frame (options->paper);
  self->flow = pawl_flow_new (&self->frame);
  self->title = g_strdup_printf ("Record of work: %s", pawl_procedure_get_unit (procedure));
  self->running = g_strdup_printf ("%s · job %s", self->title, id);
  self->author = g_strdup (options->shop_name ? options->shop_name : pawl_job_get_field (job, "shop"));
  self->issued = g_date_time_ref (options->issued);
  content = (PawlContent) {
    .flow = self->flow, .job = job, .procedure = procedure, .figure = figure, .options = options,
    .load_kept = load_kept, .load_data = data,
    .opened = pawl_job_get_entries (job)->len > 0 ? pawl_entry_peek_at (g_ptr_array_index (pawl_job_get_entries (job), 0)) : NULL,
  };
  add_blocks (&content);
  return self;
}

guint
pawl_report_get_n_pages (PawlReport *self)
{
  return pawl_flow_get_n_pages (self->flow);
}

void
pawl_report_get_page_size (PawlReport *self, double *width_pt, double *height_pt)
{
  if (width_pt)
    *width_pt = self->frame.width;
  if (height_pt)
    *height_pt = self->frame.height;
}

/* ---- drawing ---- */

static void
draw_running_line (PawlReport *self, cairo_t *cr, PangoAlignment alignment, const char *text)
{
  double width = self->frame.right - self->frame.left;
  double grey = pawl_lettering_get_grey (PAWL_LETTER_NOTE);
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (pawl_flow_get_context (self->flow), PAWL_LETTER_NOTE, text, width);

  pango_layout_set_alignment (layout, alignment);
  pango_layout_set_height (layout, -1); /* one line, shortened when the unit's name is too long for it */
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_MIDDLE);
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_move_to (cr, self->frame.left, RUNNING_HEAD_Y);
  pango_cairo_show_layout (cr, layout);
}

void
pawl_report_draw_page (PawlReport *self, guint n, cairo_t *cr)
{
  g_autofree char *page = g_strdup_printf ("Page %u of %u", n + 1, pawl_report_get_n_pages (self));

  g_return_if_fail (n < pawl_report_get_n_pages (self));

  cairo_save (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, self->frame.width, self->frame.height);
  cairo_fill (cr);
  draw_running_line (self, cr, PANGO_ALIGN_LEFT, self->running);
  draw_running_line (self, cr, PANGO_ALIGN_RIGHT, page);
  pawl_flow_draw_page (self->flow, n, cr);
  cairo_restore (cr);
}

/* ---- writing ---- */

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* The dates come from the options, so that the same job gives the same bytes. */
static void
set_metadata (PawlReport *self, cairo_surface_t *surface)
{
  g_autofree char *issued = g_date_time_format_iso8601 (self->issued);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, self->author);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Pawl");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, issued);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, issued);
}

static GBytes *
make_pdf (PawlReport *self, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_bytes, bytes, self->frame.width, self->frame.height);
  cairo_t *cr = cairo_create (surface);
  cairo_status_t status;

  set_metadata (self, surface);
  for (guint i = 0; i < pawl_report_get_n_pages (self); i++)
    {
      pawl_report_draw_page (self, i, cr);
      cairo_show_page (cr);
    }
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
  g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "the pages can't be drawn: %s", cairo_status_to_string (status));
  return NULL;
}

gboolean
pawl_report_write_pdf (PawlReport *self, const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = make_pdf (self, error);
  g_autoptr (GError) local_error = NULL;

  if (!bytes)
    return FALSE;
  if (g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_REGULAR))
    {
      g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "%s is not an ordinary file; give the name of a file to write", path);
      return FALSE;
    }
  if (g_file_set_contents_full (path, g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, &local_error))
    return TRUE;
  g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "the report can't be written: %s", local_error->message);
  return FALSE;
}
