/* The scan in two files: the walk over the elements, and what the values of their attributes mean. */
#pragma once

#include <libxml/xmlreader.h>

#include "drawing/pawl-figure-links.h"
#include "drawing/pawl-figure-scan.h"

G_BEGIN_DECLS

typedef struct {
  const char     *name;
  xmlTextReader  *reader;
  PawlFigureScan *scan;
  PawlLinks      *links;
  const char     *element; /* in hand */
  int             line; /* of the node in hand; of a start tag over several lines, its last one */
  guint           n_elements;
  guint           n_segments;
  gsize           n_text;
  guint           n_selectors;
  int             sheet_line; /* of the last style sheet */
  gboolean        is_sheet;   /* the declarations in hand are a style sheet's */
  double          n_pixels;
  char           *xml_fault; /* what the XML reader said first */
  int             xml_line;
  int             xml_code;
  GError        **error;
} PawlScanner;

/* Always FALSE, with the error set: "NAME:LINE: …". */
gboolean pawl_scan_refuse          (PawlScanner *self, PawlFigureError code, const char *format, ...) G_GNUC_PRINTF (3, 4);
/* FALSE when refused. */
gboolean pawl_scan_check_view_box  (PawlScanner *self, const char *view_box, const char *width, const char *height);
gboolean pawl_scan_check_attribute (PawlScanner *self, const char *attribute, const char *value);
/* What the element costs to draw, apart from its attributes. */
void     pawl_scan_weigh_element   (PawlScanner *self);
gboolean pawl_scan_check_sheet     (PawlScanner *self, const char *text);

G_END_DECLS
