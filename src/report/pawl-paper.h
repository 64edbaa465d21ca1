/* Sheets of paper. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum { PAWL_PAPER_A4, PAWL_PAPER_LETTER } PawlPaper;

/* "a4", "letter", whatever the case. FALSE when it is neither. */
gboolean    pawl_paper_parse    (const char *text, PawlPaper *paper);
const char *pawl_paper_get_name (PawlPaper paper);
/* In points of 1/72 inch: ISO 216 A4, ANSI/ASME Y14.1 A. */
void        pawl_paper_get_size (PawlPaper paper, double *width_pt, double *height_pt);

G_END_DECLS
