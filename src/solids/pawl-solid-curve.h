/* Lines that may have to be drawn: creases, outlines, strokes, and where two shapes meet. Still without asking what hides them. */
#pragma once

#include "solids/pawl-solid-shape.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_CURVE_OUTLINE, /* the surface turns away from the viewer */
  PAWL_CURVE_CREASE,  /* two faces of one shape meet */
  PAWL_CURVE_MEET,    /* faces of two shapes meet */
  PAWL_CURVE_STROKE,  /* a narrow line on a face */
} PawlSolidCurveKind;

/* A point of a curve, with the normals (unit, out of the shape) of its faces and the direction in which each face lies. */
typedef struct {
  PawlVec p;
  PawlVec n1, n2; /* the same for outlines and strokes */
  PawlVec t1, t2; /* creases: into the face, unit; meetings: into the face or away from it */
} PawlSolidCurvePoint;

typedef struct {
  PawlSolidCurveKind    kind;
  GArray               *points; /* of PawlSolidCurvePoint, open line */
  const PawlSolidShape *s1, *s2;
} PawlSolidCurve;

PawlSolidCurve *pawl_solid_curve_new   (PawlSolidCurveKind kind, const PawlSolidShape *s1, const PawlSolidShape *s2);
void            pawl_solid_curve_free  (PawlSolidCurve *curve);
void            pawl_solid_shape_curves (const PawlSolidShape *shape, GPtrArray *curves);
void            pawl_solid_shapes_meet (const PawlSolidShape *a, const PawlSolidShape *b, GPtrArray *curves);

G_END_DECLS
