#include "report/pawl-pages.h"

#include <cairo-pdf.h>
#include <gio/gio.h>

#include "report/pawl-pdf-catalog.h"

G_DEFINE_QUARK (pawl-report-error-quark, pawl_report_error)

/* Margins, points: wider at the left, where it is stapled. */
#define MARGIN_LEFT   54.0
#define MARGIN_RIGHT  42.0
#define MARGIN_TOP    48.0
#define MARGIN_BOTTOM 38.0
#define RUNNING_HEAD_Y 26.0
#define FOOTER_HEIGHT  12.0

struct _PawlPages {
  PawlFlow      *flow;
  PawlPageFrame  frame;
  PawlPaper      paper;
  char          *title, *running, *footer, *author, *language;
  GDateTime     *issued;
};

static PawlPageFrame
make_frame (const PawlPagesSetting *setting)
{
  PawlPageFrame frame = { .left = MARGIN_LEFT, .top = MARGIN_TOP };

  pawl_paper_get_size (setting->paper, &frame.width, &frame.height);
  frame.right = frame.width - MARGIN_RIGHT;
  frame.bottom = frame.height - MARGIN_BOTTOM - (setting->footer && *setting->footer ? FOOTER_HEIGHT : 0);
  return frame;
}

PawlPages *
pawl_pages_new (const PawlPagesSetting *setting)
{
  PawlPages *self = g_new0 (PawlPages, 1);

  self->frame = make_frame (setting);
  self->flow = pawl_flow_new (&self->frame);
  self->paper = setting->paper;
  self->title = g_strdup (setting->title);
  self->running = g_strdup (setting->running);
  self->footer = g_strdup (setting->footer);
  self->author = g_strdup (setting->author);
  self->language = g_strdup (setting->language);
  self->issued = g_date_time_ref (setting->issued);
  return self;
}

void
pawl_pages_free (PawlPages *self)
{
  if (!self)
    return;
  pawl_flow_free (self->flow);
  g_free (self->title);
  g_free (self->running);
  g_free (self->footer);
  g_free (self->author);
  g_free (self->language);
  g_date_time_unref (self->issued);
  g_free (self);
}

PawlFlow *
pawl_pages_get_flow (PawlPages *self)
{
  return self->flow;
}

const char *
pawl_pages_get_title (PawlPages *self)
{
  return self->title;
}

PawlPaper
pawl_pages_get_paper (PawlPages *self)
{
  return self->paper;
}

guint
pawl_pages_get_n (PawlPages *self)
{
  return pawl_flow_get_n_pages (self->flow);
}

void
pawl_pages_get_size (PawlPages *self, double *width_pt, double *height_pt)
{
  if (width_pt)
    *width_pt = self->frame.width;
  if (height_pt)
    *height_pt = self->frame.height;
}

/* ---- drawing ---- */

/* One line, shortened when it is too long. Without a tag: it is furniture of the page, nothing to be read out on each. */
static void
draw_running_line (PawlPages *self, cairo_t *cr, double y, double width, PangoAlignment alignment, const char *text)
{
  double grey = pawl_lettering_get_grey (PAWL_LETTER_NOTE);
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (pawl_flow_get_context (self->flow), PAWL_LETTER_NOTE, text, width);

  pango_layout_set_alignment (layout, alignment);
  pango_layout_set_height (layout, -1);
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_MIDDLE);
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_move_to (cr, alignment == PANGO_ALIGN_RIGHT ? self->frame.right - width : self->frame.left, y);
  pango_cairo_show_layout (cr, layout);
}

void
pawl_pages_draw (PawlPages *self, guint n, cairo_t *cr)
{
  const double number_share = 0.18;
  double width = self->frame.right - self->frame.left;
  g_autofree char *page = g_strdup_printf ("Page %u of %u", n + 1, pawl_pages_get_n (self));

  g_return_if_fail (n < pawl_pages_get_n (self));

  cairo_save (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_rectangle (cr, 0, 0, self->frame.width, self->frame.height);
  cairo_fill (cr);
  draw_running_line (self, cr, RUNNING_HEAD_Y, width * (1 - number_share), PANGO_ALIGN_LEFT, self->running);
  draw_running_line (self, cr, RUNNING_HEAD_Y, width * number_share, PANGO_ALIGN_RIGHT, page);
  if (self->footer && *self->footer)
    draw_running_line (self, cr, self->frame.height - MARGIN_BOTTOM + 2, width, PANGO_ALIGN_LEFT, self->footer);
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

/* The dates are handed in, so that the same pages give the same bytes. */
static void
set_metadata (PawlPages *self, cairo_surface_t *surface)
{
  g_autofree char *issued = g_date_time_format_iso8601 (self->issued);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, self->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, self->author);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Pawl");
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, issued);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, issued);
}

GBytes *
pawl_pages_make_pdf (PawlPages *self, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_bytes, bytes, self->frame.width, self->frame.height);
  cairo_t *cr = cairo_create (surface);
  cairo_status_t status;

  set_metadata (self, surface);
  for (guint i = 0; i < pawl_pages_get_n (self); i++)
    {
      pawl_pages_draw (self, i, cr);
      cairo_show_page (cr);
    }
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    {
      pawl_pdf_catalog_complete (bytes, self->language);
      return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
    }
  g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "the pages can't be drawn: %s", cairo_status_to_string (status));
  return NULL;
}

gboolean
pawl_pages_write (GBytes *pdf, const char *path, GError **error)
{
  g_autoptr (GError) local_error = NULL;

  if (g_file_test (path, G_FILE_TEST_EXISTS) && !g_file_test (path, G_FILE_TEST_IS_REGULAR))
    {
      g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "%s is not an ordinary file; give the name of a file to write", path);
      return FALSE;
    }
  if (g_file_set_contents_full (path, g_bytes_get_data (pdf, NULL), (gssize) g_bytes_get_size (pdf),
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, &local_error))
    return TRUE;
  g_set_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO, "the report can't be written: %s", local_error->message);
  return FALSE;
}
