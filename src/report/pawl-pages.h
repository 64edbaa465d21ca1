/* Pages: a flow with its running head and foot, drawn on any surface or written as PDF. Reports and blank bench sheets are pages. */
#pragma once

#include "report/pawl-flow.h"
#include "report/pawl-paper.h"

G_BEGIN_DECLS

#define PAWL_REPORT_ERROR (pawl_report_error_quark ())
GQuark pawl_report_error_quark (void);
typedef enum { PAWL_REPORT_ERROR_IO } PawlReportError;

typedef struct {
  PawlPaper   paper;
  const char *title;    /* of the document */
  const char *running;  /* head of each page, left; the page's number stands at the right */
  const char *footer;   /* (nullable): at the foot of each page */
  const char *author;
  const char *language; /* as in xml:lang; of all text */
  GDateTime  *issued;   /* stands in the file as its date, so that the same pages give the same bytes */
} PawlPagesSetting;

typedef struct _PawlPages PawlPages;

PawlPages *pawl_pages_new       (const PawlPagesSetting *setting); /* copied */
void       pawl_pages_free      (PawlPages *self);
PawlFlow  *pawl_pages_get_flow  (PawlPages *self); /* to be filled */
const char *pawl_pages_get_title (PawlPages *self);
PawlPaper  pawl_pages_get_paper (PawlPages *self);
guint      pawl_pages_get_n     (PawlPages *self);
void       pawl_pages_get_size  (PawlPages *self, double *width_pt, double *height_pt);
/* Draws page @n, from 0, in points, paper white included. */
void       pawl_pages_draw      (PawlPages *self, guint n, cairo_t *cr);
/* (transfer full) (nullable): a tagged PDF. @error: PAWL_REPORT_ERROR_IO. */
GBytes    *pawl_pages_make_pdf  (PawlPages *self, GError **error);
/* Writes beside the file, then renames. @error: PAWL_REPORT_ERROR_IO; the message names the file. */
gboolean   pawl_pages_write     (GBytes *pdf, const char *path, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlPages, pawl_pages_free)

G_END_DECLS
