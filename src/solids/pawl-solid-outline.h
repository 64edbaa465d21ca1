/* Closed outlines in a plane: of a plate, or of the half-section of a turned part. */
#pragma once

#include "solids/pawl-solid-math.h"

G_BEGIN_DECLS

/* One corner of an outline as drawn by hand: where, and the radius that rounds it (0: sharp). */
typedef struct { double x, y, radius; } PawlSolidCorner;

/* A closed polygon; arcs are chopped so finely that neighbouring sides turn by less than PAWL_SOLID_SMOOTH_DEG. */
typedef struct {
  guint     n;
  PawlFlat *at;     /* vertices; side i runs from at[i] to at[i + 1] */
  PawlFlat *normal; /* of side i, unit, out of the material */
  PawlFlat *start;  /* normal at the start of side i: shared with its neighbour where the outline is smooth */
  PawlFlat *end;    /* normal at the end of side i */
  gboolean *smooth; /* the outline is smooth at vertex i */
} PawlSolidOutline;

#define PAWL_SOLID_SMOOTH_DEG 14.0

guint             pawl_solid_arc_steps      (double radius, double angle);
PawlSolidOutline *pawl_solid_outline_new    (const PawlSolidCorner *corners, guint n_corners, gboolean is_hole);
PawlSolidOutline *pawl_solid_outline_circle (double x, double y, double rx, double ry, gboolean is_hole);
void              pawl_solid_outline_free   (PawlSolidOutline *outline);
gboolean          pawl_solid_outline_holds  (const PawlSolidOutline *outline, double x, double y);
double            pawl_solid_outline_nearest (const PawlSolidOutline *outline, double x, double y, PawlFlat *normal);

G_END_DECLS
