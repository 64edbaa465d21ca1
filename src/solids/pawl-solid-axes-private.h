#pragma once

#include "solids/pawl-solids.h"

G_BEGIN_DECLS

/* The chain lines that lead to one part, so that a viewer can leave them away once it is home. */
typedef struct {
  const PawlSolidPart *part;
  GPtrArray           *lines; /* of two points each, sheet units */
} PawlSolidGuide;

GPtrArray *pawl_solids_guides (const PawlSolids *solids);

G_END_DECLS
