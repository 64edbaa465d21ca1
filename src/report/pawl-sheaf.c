#include "report/pawl-sheaf.h"

#include <cairo-pdf.h>
#include <math.h>

struct _PawlSheaf {
  GPtrArray *pages; /* (element-type cairo_surface_t) */
  char      *title;
  PawlPaper  paper;
  double     width, height; /* of a page, points */
};

/* @like: a PDF, so that letters are as wide as there and words find the same places; what is similar to one is a recording. */
static cairo_surface_t *
record_page (PawlPages *pages, guint n, cairo_surface_t *like, double width, double height)
{
  cairo_surface_t *surface = cairo_surface_create_similar (like, CAIRO_CONTENT_COLOR_ALPHA, (int) ceil (width), (int) ceil (height));
  cairo_t *cr = cairo_create (surface);

  pawl_pages_draw (pages, n, cr);
  cairo_destroy (cr);
  return surface;
}

PawlSheaf *
pawl_sheaf_new (PawlPages *pages)
{
  PawlSheaf *self = g_new0 (PawlSheaf, 1);

  cairo_surface_t *like;

  self->pages = g_ptr_array_new_with_free_func ((GDestroyNotify) cairo_surface_destroy);
  self->title = g_strdup (pawl_pages_get_title (pages));
  self->paper = pawl_pages_get_paper (pages);
  pawl_pages_get_size (pages, &self->width, &self->height);
  like = cairo_pdf_surface_create (NULL, self->width, self->height);
  for (guint i = 0; i < pawl_pages_get_n (pages); i++)
    g_ptr_array_add (self->pages, record_page (pages, i, like, self->width, self->height));
  cairo_surface_destroy (like);
  return self;
}

void
pawl_sheaf_free (PawlSheaf *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->pages);
  g_free (self->title);
  g_free (self);
}

guint
pawl_sheaf_get_n (PawlSheaf *self)
{
  return self->pages->len;
}

const char *
pawl_sheaf_get_title (PawlSheaf *self)
{
  return self->title;
}

PawlPaper
pawl_sheaf_get_paper (PawlSheaf *self)
{
  return self->paper;
}

void
pawl_sheaf_draw (PawlSheaf *self, guint n, cairo_t *cr, double width_pt, double height_pt)
{
  /* Printers know paper to the millimetre or the point, not to our fraction of one. */
  const double slack = 1.5;
  double scale = MIN (width_pt / self->width, height_pt / self->height);

  g_return_if_fail (n < self->pages->len && width_pt > 0 && height_pt > 0);

  if (width_pt > self->width - slack && height_pt > self->height - slack)
    scale = 1;
  cairo_save (cr);
  cairo_translate (cr, (width_pt - scale * self->width) / 2, (height_pt - scale * self->height) / 2);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, g_ptr_array_index (self->pages, n), 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
}
