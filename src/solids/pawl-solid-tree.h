/* Solids joined, cut and kept: what a part is made of. */
#pragma once

#include "solids/pawl-solid-shape.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_SOLID_ADD,  /* joined to what stands before it */
  PAWL_SOLID_CUT,  /* taken away from it */
  PAWL_SOLID_KEEP, /* only what lies in both stays */
} PawlSolidDo;

/* A shape, or a group whose children are taken in order, beginning with nothing. */
typedef struct PawlSolidNode {
  PawlSolidDo     act;
  PawlSolidShape *shape;    /* NULL for a group */
  GPtrArray      *children; /* of PawlSolidNode */
  /* set by pawl_solid_node_prepare() */
  PawlFlat        sheet_low, sheet_high; /* box that holds the picture of what it adds */
  PawlVec         low, high;             /* box that holds what it adds */
} PawlSolidNode;

PawlSolidNode *pawl_solid_node_new_group (PawlSolidDo act);
PawlSolidNode *pawl_solid_node_new_shape (PawlSolidDo act, PawlSolidShape *take_shape);
void           pawl_solid_node_free      (PawlSolidNode *node);
void           pawl_solid_node_prepare   (PawlSolidNode *node, const PawlSolidView *view);
void           pawl_solid_node_list      (const PawlSolidNode *node, GPtrArray *shapes);
gboolean       pawl_solid_node_holds     (const PawlSolidNode *node, PawlVec p);
void           pawl_solid_node_sight     (const PawlSolidNode *node, PawlVec origin, PawlSolidSpans *spans);
gboolean       pawl_solid_node_hides     (const PawlSolidNode *node, PawlVec p, double grace);

G_END_DECLS
