/* What the readers of the elements share. */
#pragma once

#include "solids/pawl-solid-reader-private.h"

G_BEGIN_DECLS

/* The attributes that every solid may have. */
#define PAWL_SOLID_PLACE "do at axis turn copies tilt outside hatch pitch"

/* Where an element stands, and what it belongs to. */
typedef struct {
  const PawlSolidReader *reader;
  const xmlNode         *node;
  PawlFrame              frame;
  gboolean               is_cavity;
  PawlSolidHatch         hatch;
  PawlSolidPart         *part;
} PawlSolidPlace;

double          pawl_solid_group_number (const GArray *groups, guint i, guint k, double otherwise);
PawlVec         pawl_solid_group_vector (const GArray *groups, guint i);
PawlSolidShape *pawl_solid_place_shape  (const PawlSolidPlace *place, PawlSolidShapeKind kind);

/* Each returns NULL when the reader's error is set. */
PawlSolidShape *pawl_solid_place_helix  (const PawlSolidPlace *place);
PawlSolidShape *pawl_solid_place_wire   (const PawlSolidPlace *place);

G_END_DECLS
