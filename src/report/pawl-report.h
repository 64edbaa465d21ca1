/* The report: what leaves the bench, as pages that draw themselves on any cairo surface. */
#pragma once

#include <cairo.h>
#include "drawing/pawl-figure.h"
#include "job/pawl-results.h"
#include "report/pawl-clauses.h"
#include "report/pawl-logo.h"
#include "report/pawl-pages.h"
#include "report/pawl-shop.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_PRINT_FULL,     /* the whole record of the work */
  PAWL_PRINT_CUSTOMER, /* what goes with the invoice: two pages where it fits, and nothing of how often somebody tried */
} PawlPrint;

/* "full", "customer". FALSE when it is neither. */
gboolean    pawl_print_parse    (const char *text, PawlPrint *print);
const char *pawl_print_get_name (PawlPrint print);

typedef struct {
  PawlPrint          print;
  PawlPaper          paper;
  const PawlShop    *shop;    /* (nullable) */
  PawlLogo          *logo;    /* (nullable) */
  const PawlClauses *clauses; /* (nullable): those that come with the program */
  GDateTime  *issued;  /* printed as the date of issue */
  const char *figure_problem; /* (nullable): why the job's figure is not drawn, one sentence; copied */
  const char *head;    /* (nullable): digest of the job's last entry, printed on the last page */
  GPtrArray  *histories; /* (nullable) (element-type PawlHistory): to be printed as run charts; a reference is kept as long as needed */
  guint       version; /* of the report, from 1 */
  const char * const *changes; /* (nullable): what changed since the version before, a sentence each */
} PawlReportOptions;

#define PAWL_TYPE_REPORT (pawl_report_get_type ())
G_DECLARE_FINAL_TYPE (PawlReport, pawl_report, PAWL, REPORT, GObject)

/* Called for the bytes of a photo. (transfer full) (nullable). */
typedef GBytes *(*PawlReportLoadKept) (const char *digest, gpointer data);

/**
 * pawl_report_new:
 * @figure: (nullable): drawn on about half a page, with the item numbers of the parts table round it
 * @options: read here only; issued must be set
 * @load_kept: (nullable): called here only, never later; without it photos are named but not shown
 *
 * Lays the pages out once, in points; they draw the same on any surface. The same job and options give the same file, byte for byte.
 * What the job does not know is said ("not stated", "not measured"); nothing is left out because it is bad.
 *
 * Returns: (transfer full)
 */
PawlReport *pawl_report_new         (PawlJob *job, PawlFigure *figure, const PawlReportOptions *options, PawlReportLoadKept load_kept, gpointer data);
/* As they are drawn and written; they go with the report. */
PawlPages  *pawl_report_get_pages   (PawlReport *self);
guint       pawl_report_get_n_pages (PawlReport *self);
void        pawl_report_get_page_size (PawlReport *self, double *width_pt, double *height_pt);
/* Draws page @n, from 0, in points, paper white included. */
void        pawl_report_draw_page   (PawlReport *self, guint n, cairo_t *cr);
/* (transfer full) (nullable): as pawl_report_write_pdf() would write it. */
GBytes     *pawl_report_make_pdf    (PawlReport *self, GError **error);
/**
 * pawl_report_write_pdf:
 * @path: a new file, or an ordinary one to replace
 * @error: PAWL_REPORT_ERROR_IO; the message names the file
 *
 * Writes beside the file, then renames, so that a failed write leaves the old one. May run in another thread, as long as nothing else draws
 * the same report or figure meanwhile.
 */
gboolean    pawl_report_write_pdf   (PawlReport *self, const char *path, GError **error);

G_END_DECLS
