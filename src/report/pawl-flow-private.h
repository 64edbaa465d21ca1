/* What cells, rows and pages are made of. */
#pragma once

#include "report/pawl-flow.h"

G_BEGIN_DECLS

/* A picture; shared by the cell that it came in and the row that it went to. */
typedef struct {
  double         width;
  PawlArtDraw    draw;
  gpointer       data;
  GDestroyNotify free_data;
} PawlArt;

void pawl_art_clear (PawlArt *art);

/* One line of type, one picture, or a gap when it has neither. */
typedef struct {
  double       x, height, baseline, grey;
  PangoLayout *layout; /* (nullable) */
  int          index;  /* of the line in its layout */
  PawlArt     *art;    /* (nullable) */
} PawlLine;

struct _PawlCell {
  PangoContext *context;
  double        width;
  GArray       *lines; /* (element-type PawlLine) */
};

/* ---- how full pages are, for who judges them ---- */
/* Where the last row of a page ends, in points from the top of the frame. */
double      pawl_flow_get_filled    (PawlFlow *self, guint page);
PawlRowKind pawl_flow_get_last_kind (PawlFlow *self, guint page);

G_END_DECLS
