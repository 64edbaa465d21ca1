/* One closed primitive: turned about an axis, a plate with holes, or a bent wire. */
#pragma once

#include "solids/pawl-solid-outline.h"
#include "solids/pawl-solid-view.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_SHAPE_TURNED, /* outline in the half-plane (axial, radius), turned about the local z axis */
  PAWL_SHAPE_PLATE,  /* outline in the local x, y plane, from z0 to z1 */
  PAWL_SHAPE_WIRE,   /* round wire along a line of points in the part's frame */
} PawlSolidShapeKind;

typedef enum {
  PAWL_STROKE_THREAD, /* one helix on the surface of a turned shape */
  PAWL_STROKE_KNURL,  /* two families of helices that cross: knurl, gauze */
  PAWL_STROKE_RING,   /* one circle, at @from */
  PAWL_STROKE_SOFT,   /* the inner line of a rounded edge on the end face of a plate, @pitch mm inside */
} PawlSolidStrokeKind;

/* Narrow lines on a surface that suggest what is too fine to model. */
typedef struct {
  PawlSolidStrokeKind kind;
  double from, to; /* along the axis, mm */
  double pitch;    /* thread: mm a turn as drawn; knurl: mm between neighbours along the axis */
} PawlSolidStroke;

/* How the faces that a section leaves are hatched: ISO 128-3, continuous narrow lines at 45° to the main outlines (from memory). */
typedef struct {
  gboolean is_section; /* the shape takes away what stands before a cut face */
  double   angle_deg;  /* of the lines on the sheet, clockwise from the right, 0 up to 180; NAN: left plain, as thin parts are */
  double   pitch;      /* from line to line, sheet units */
} PawlSolidHatch;

typedef struct {
  PawlSolidShapeKind kind;
  PawlFrame          frame;    /* turned, plate: of the shape, in the part's frame */
  GPtrArray         *outlines; /* of PawlSolidOutline: one for turned; for a plate the outside and its holes */
  double             z0, z1;
  PawlVec           *along;    /* wire: its middle line */
  guint              n_along;
  double             radius;   /* wire */
  GArray            *strokes;  /* of PawlSolidStroke */
  gboolean           is_cavity; /* its surface is the inside of a cavity */
  PawlSolidHatch     hatch;     /* of the faces that it leaves when it is a section */
  /* set by pawl_solid_shape_prepare() */
  PawlVec            low, high;           /* box that holds it, part's frame */
  PawlFlat           sheet_low, sheet_high; /* box that holds its picture */
  PawlVec            local_toward;        /* direction to the viewer in the shape's frame */
  PawlSolidView      view;
} PawlSolidShape;

/* A stretch of a line of sight inside a solid, in mm toward the viewer from the line's origin, and whose surfaces end it. */
typedef struct {
  double                from, to;
  const PawlSolidShape *enters, *leaves;
} PawlSolidSpan;

/* Stretches in order, not touching. Begin with pawl_solid_spans_init(), end with pawl_solid_spans_clear(). */
typedef struct {
  PawlSolidSpan *at;
  guint          n, room;
  PawlSolidSpan  few[12];
} PawlSolidSpans;

void            pawl_solid_spans_init   (PawlSolidSpans *spans);
void            pawl_solid_spans_add    (PawlSolidSpans *spans, PawlSolidSpan span);
void            pawl_solid_spans_clear  (PawlSolidSpans *spans);

PawlSolidShape *pawl_solid_shape_new    (PawlSolidShapeKind kind);
void            pawl_solid_shape_free   (PawlSolidShape *shape);
void            pawl_solid_shape_prepare (PawlSolidShape *shape, const PawlSolidView *view);
gboolean        pawl_solid_shape_holds  (const PawlSolidShape *shape, PawlVec p);
PawlVec         pawl_solid_shape_normal (const PawlSolidShape *shape, PawlVec p);
void            pawl_solid_shape_sight  (const PawlSolidShape *shape, PawlVec origin, PawlSolidSpans *spans);

G_END_DECLS
