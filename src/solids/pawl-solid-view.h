/* The one projection of a figure: parallel, axonometric (ISO 5456-3 names the isometric and dimetric cases). */
#pragma once

#include "solids/pawl-solid-math.h"

G_BEGIN_DECLS

typedef struct {
  PawlVec right;  /* unit, to the right on the sheet */
  PawlVec up;     /* unit, up the sheet */
  PawlVec toward; /* unit, from the object to the viewer */
  double  scale;  /* sheet units per millimetre at right angles to the view */
} PawlSolidView;

gboolean pawl_solid_view_set   (PawlSolidView *view, const double scale[3], const int sign[3]);
PawlFlat pawl_solid_view_point (const PawlSolidView *view, PawlVec p);
PawlVec  pawl_solid_view_lift  (const PawlSolidView *view, PawlFlat sheet);

G_END_DECLS
